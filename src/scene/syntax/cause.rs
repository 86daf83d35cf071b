//! Where a text that the syntax refuses is to be mended, which is often not where reading stopped.

use super::super::problem::{Lines, Position};
use super::super::split::{Sort, Token, skip_space, tokens};
use super::fault::SyntaxFault;

/// What a place may be found to suffer from, and where that stands.
type Cause<'s> = fn(&Place<'s>) -> Option<(usize, SyntaxFault)>;

/// The fault as the author of the text would see it, and the byte offset where it stands.
///
/// `stopped` is where reading stopped.
pub fn look<'s>(source: &'s str, stopped: usize, fault: SyntaxFault) -> (usize, SyntaxFault) {
    if let SyntaxFault::Unclosed { .. } = fault {
        return (start_of_last(source).unwrap_or(stopped), fault);
    }
    let causes: [Cause<'s>; 8] = [
        Place::bare_scene,
        Place::semicolon,
        Place::text_without_end,
        Place::fraction,
        Place::number_with_unit,
        Place::end_within_bracket,
        Place::other_bracket,
        Place::missing_value,
    ];
    let place = Place::new(source, stopped);
    let cause = causes.iter().find_map(|cause| cause(&place));
    cause.unwrap_or((stopped, fault))
}

/// Start of the last token of the text: of what is not closed.
fn start_of_last(source: &str) -> Option<usize> {
    tokens(source).last().map(|token| token.start)
}

/// The place where reading stopped.
struct Place<'s> {
    source: &'s str,
    stopped: usize,
    /// Brackets still open there, each with its byte offset.
    open: Vec<(char, usize)>,
    /// The last whole token before it that is no white space.
    last: Option<Token>,
    /// What follows.
    rest: &'s str,
}

impl<'s> Place<'s> {
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
        let is_word = |c: char| c.is_alphanumeric() || c == '_';
        let word = &self.source[start..];
        let after = skip_space(word.trim_start_matches(is_word));
        (word.starts_with(is_word) && after.starts_with(':')).then_some((start, SyntaxFault::Bare))
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
        let is_word = |c: char| c.is_alphanumeric() || c == '_';
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

fn is_number(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'))
        && text.parse::<f64>().is_ok()
}

/// The bracket that closes another.
pub fn closing(bracket: char) -> char {
    match bracket {
        '(' => ')',
        '[' => ']',
        _ => '}',
    }
}
