//! Where a text that the syntax refuses is to be mended, which is often not where reading stopped.

use super::super::problem::{Lines, Position};
use super::super::split::{Sort, Token, skip_space, tokens};
use super::clipped;
use super::fault::{SyntaxFault, closing};

/// What a place may be found to suffer from, and where that stands.
type FaultCause<'s> = fn(&FaultPlace<'s>) -> Option<(usize, SyntaxFault)>;

/// The fault as the author of the text would see it, and the byte offset where it stands.
///
/// `stopped` is where reading stopped.
pub(crate) fn look<'s>(
    source: &'s str,
    stopped: usize,
    fault: SyntaxFault,
) -> (usize, SyntaxFault) {
    if let SyntaxFault::Unclosed { .. } = fault {
        return (start_of_last(source).unwrap_or(stopped), fault);
    }
    let causes: [FaultCause<'s>; 13] = [
        FaultPlace::comment_of_another_language,
        FaultPlace::equals_sign,
        FaultPlace::bare_scene,
        FaultPlace::field_in_list,
        FaultPlace::signed_word,
        FaultPlace::semicolon,
        FaultPlace::text_without_end,
        FaultPlace::fraction,
        FaultPlace::word_for_space,
        FaultPlace::number_with_unit,
        FaultPlace::end_within_bracket,
        FaultPlace::other_bracket,
        FaultPlace::missing_value,
    ];
    let place = FaultPlace::new(source, stopped);
    let cause = causes.iter().find_map(|cause| cause(&place));
    cause.unwrap_or((stopped, fault))
}

/// Start of the last token of the text: of what is not closed.
fn start_of_last(source: &str) -> Option<usize> {
    tokens(source).last().map(|token| token.start)
}

/// The place where reading stopped.
struct FaultPlace<'s> {
    source: &'s str,
    stopped: usize,
    /// Brackets still open there, each with its byte offset.
    open: Vec<(char, usize)>,
    /// The last whole token before it that is no white space.
    last: Option<Token>,
    /// What follows.
    rest: &'s str,
}

impl<'s> FaultPlace<'s> {
    fn new(source: &'s str, stopped: usize) -> Self {
        let (mut open, mut last) = (Vec::new(), None);
        for token in tokens(source).take_while(|token| token.end <= stopped) {
            match token.sort {
                Sort::Space => continue,
                Sort::Open => {
                    let bracket = char::from(source.as_bytes()[token.start]);
                    open.push((bracket, token.start));
                }
                Sort::Close => {
                    open.pop();
                }
                Sort::Comma | Sort::Colon | Sort::Other => {}
            }
            last = Some(token);
        }
        Self {
            source,
            stopped,
            open,
            last,
            rest: &source[stopped..],
        }
    }

    /// `format: 1` without parentheses: the word is taken for the whole scene.
    fn bare_scene(&self) -> Option<(usize, SyntaxFault)> {
        let start = self.source.len() - skip_space(self.source).len();
        let word = &self.source[start..];
        let after = skip_space(word.trim_start_matches(is_word));
        (word.starts_with(is_word) && after.starts_with(':')).then_some((start, SyntaxFault::Bare))
    }

    /// `# …`, `% …` or `-- …`, which begin comments elsewhere.
    fn comment_of_another_language(&self) -> Option<(usize, SyntaxFault)> {
        let hash = tokens(self.source)
            .take_while(|token| token.start <= self.stopped)
            .find(|token| self.source[token.start..].starts_with('#'))
            .filter(|token| !self.source[token.start..].starts_with("#!["));
        if let Some(Token { start, .. }) = hash {
            return Some((start, SyntaxFault::OtherComment { mark: "#" }));
        }
        let marks = ["%", "--"].into_iter();
        let mut found = marks.filter(|mark| self.rest.starts_with(mark));
        let fault = |mark| SyntaxFault::OtherComment { mark };
        found.next().map(|mark| (self.stopped, fault(mark)))
    }

    /// `name = value`.
    fn equals_sign(&self) -> Option<(usize, SyntaxFault)> {
        let at = self.source.len() - skip_space(self.rest).len();
        let is_word = |text: &str| text.starts_with(|c: char| c.is_alphabetic() || c == '_');
        let after_field = self
            .last
            .is_some_and(|last| is_word(&self.source[last.start..]));
        let is_equals = self.source[at..].starts_with('=');
        (is_equals && after_field).then_some((at, SyntaxFault::EqualsSign))
    }

    /// `field:` where an element of a list is due: the list is not closed before it, or the item has no parentheses.
    fn field_in_list(&self) -> Option<(usize, SyntaxFault)> {
        let (bracket, opened) = self.innermost()?;
        let next = skip_space(self.rest);
        let start = match self.last {
            // A word may be several tokens.
            Some(last) if next.starts_with(':') => {
                let before = self.source[..last.end].trim_end_matches(is_word);
                before.len()
            }
            _ => self.source.len() - next.len(),
        };
        let field = word(&self.source[start..]);
        let is_field = skip_space(&self.source[start + field.len()..]).starts_with(':');
        let fault = SyntaxFault::FieldInList {
            field: clipped(field).into_owned(),
            opened,
        };
        (bracket == '[' && !field.is_empty() && is_field).then_some((start, fault))
    }

    /// `-x` where a number or a value is due.
    fn signed_word(&self) -> Option<(usize, SyntaxFault)> {
        let name = word(self.rest);
        let sign = self.source[..self.stopped].chars().next_back()?;
        let fault = SyntaxFault::SignedWord {
            sign,
            word: clipped(name).into_owned(),
        };
        let is_signed = matches!(sign, '-' | '+') && name.starts_with(char::is_alphabetic);
        is_signed.then_some((self.stopped - 1, fault))
    }

    /// `space: 2d`, which begins with a digit and so is no word.
    fn word_for_space(&self) -> Option<(usize, SyntaxFault)> {
        let (start, _) = self.number_with_unit()?;
        let before = self.source[..start].trim_end().strip_suffix(':')?;
        let is_space = before.trim_end().ends_with("space");
        let written = word(&self.source[start..]);
        let fault = SyntaxFault::WordForSpace {
            word: clipped(written).into_owned(),
        };
        is_space.then_some((start, fault))
    }

    fn semicolon(&self) -> Option<(usize, SyntaxFault)> {
        let fault = SyntaxFault::UnexpectedCharacter { character: ';' };
        self.rest.starts_with(';').then_some((self.stopped, fault))
    }

    /// A text whose closing quote was meant to open the next one: it goes over the end of a line, and the words of what
    /// was to be the next text touch it.
    fn text_without_end(&self) -> Option<(usize, SyntaxFault)> {
        let last = self.last.filter(|last| last.end == self.stopped)?;
        let text = self.source[last.start..last.end].strip_prefix('"')?;
        // A field after a text that is legal: there, a comma is missing.
        let after_word = skip_space(self.rest.trim_start_matches(is_word));
        let touches = self.rest.starts_with(is_word) && !after_word.starts_with(':');
        let what = "a text in quotes";
        (text.contains('\n') && touches).then_some((last.start, SyntaxFault::Unclosed { what }))
    }

    /// A number that a slash follows, which reading has taken for the start of a comment.
    fn fraction(&self) -> Option<(usize, SyntaxFault)> {
        let number = self.number()?;
        let slash = self.source[number.end..self.stopped].trim_start();
        let is_comment = slash.starts_with("//") || slash.starts_with("/*");
        (slash.starts_with('/') && !is_comment).then_some((number.start, SyntaxFault::Fraction))
    }

    /// `48 mm`, `48mm`, `30°`: what follows on the same line is no field and no value.
    fn number_with_unit(&self) -> Option<(usize, SyntaxFault)> {
        let is_unit = |c: char| c.is_alphabetic() || matches!(c, '°' | '%');
        let start = match self.number() {
            Some(number) if !self.source[number.end..self.stopped].contains('\n') => number.start,
            _ => self.number_within_token()?,
        };
        let after_word = skip_space(self.rest.trim_start_matches(is_unit));
        let is_unit = self.rest.starts_with(is_unit) && !after_word.starts_with([':', '(']);
        is_unit.then_some((start, SyntaxFault::NumberWithUnit))
    }

    /// The number that is the last token.
    fn number(&self) -> Option<Token> {
        self.last
            .filter(|last| is_number(&self.source[last.start..last.end]))
    }

    /// Start of the number with which the token begins in which reading stopped.
    fn number_within_token(&self) -> Option<usize> {
        let mut around = tokens(self.source).skip_while(|token| token.end <= self.stopped);
        let start = around.next()?.start;
        is_number(&self.source[start..self.stopped]).then_some(start)
    }

    fn end_within_bracket(&self) -> Option<(usize, SyntaxFault)> {
        let (bracket, opened) = self.innermost()?;
        let ends = skip_space(self.rest).is_empty();
        ends.then_some((self.stopped, SyntaxFault::EndsWithin { bracket, opened }))
    }

    fn other_bracket(&self) -> Option<(usize, SyntaxFault)> {
        let (bracket, opened) = self.innermost()?;
        let found = self
            .closing_next()
            .filter(|found| *found != closing(bracket))?;
        let fault = SyntaxFault::OtherBracket {
            found,
            bracket,
            opened,
        };
        Some((self.stopped, fault))
    }

    /// A comma or closing bracket where a value is due.
    fn missing_value(&self) -> Option<(usize, SyntaxFault)> {
        let next = skip_space(self.rest);
        let is_due = match self.last?.sort {
            Sort::Colon => next.starts_with([',', ')', ']', '}']),
            Sort::Comma | Sort::Open => next.starts_with(','),
            Sort::Space | Sort::Close | Sort::Other => false,
        };
        is_due.then_some((self.stopped, SyntaxFault::MissingValue))
    }

    fn innermost(&self) -> Option<(char, Position)> {
        let (bracket, at) = *self.open.last()?;
        Some((bracket, Lines::new(self.source).position(at)))
    }

    fn closing_next(&self) -> Option<char> {
        let next = skip_space(self.rest).chars().next();
        next.filter(|next| matches!(next, ')' | ']' | '}'))
    }
}

/// The letters, digits and underscores with which a text begins.
fn word(text: &str) -> &str {
    &text[..text.len() - text.trim_start_matches(is_word).len()]
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

fn is_number(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'))
        && text.parse::<f64>().is_ok()
}
