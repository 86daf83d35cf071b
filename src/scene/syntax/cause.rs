//! Where a text that the syntax refuses is to be mended, which is often not where reading stopped.

use super::super::problem::Lines;
use super::super::split::{Sort, Token, tokens};
use super::fault::SyntaxFault;

/// The fault as the author of the text would see it, and the byte offset where it stands.
///
/// `stopped` is where reading stopped.
pub fn look(source: &str, stopped: usize, fault: SyntaxFault) -> (usize, SyntaxFault) {
    let before = Before::new(source, stopped);
    if let Some(start) = before.runaway_text(source, stopped) {
        let what = "a text in quotes";
        return (start, SyntaxFault::Unclosed { what });
    }
    if let Some(start) = before.fraction(source, stopped) {
        return (start, SyntaxFault::Fraction);
    }
    let inside = before
        .open
        .last()
        .map(|(bracket, at)| (*bracket, Lines::new(source).position(*at)));
    let fault = match (fault, inside) {
        (
            SyntaxFault::UnexpectedCharacter {
                character: found @ (')' | ']' | '}'),
            },
            Some((bracket, opened)),
        ) => SyntaxFault::OtherBracket {
            found,
            bracket,
            opened,
        },
        (SyntaxFault::UnexpectedEnd, Some((bracket, opened))) => {
            SyntaxFault::EndsWithin { bracket, opened }
        }
        (SyntaxFault::MissingComma, _)
            if before.number(source).is_some()
                && source[stopped..].starts_with(char::is_alphabetic) =>
        {
            SyntaxFault::UnitOfNumber
        }
        (fault, _) => fault,
    };
    (stopped, fault)
}

/// What stands before the place where reading stopped.
#[derive(Default)]
struct Before {
    /// Brackets still open, each with its byte offset.
    open: Vec<(char, usize)>,
    /// The last token that is no white space.
    last: Option<Token>,
}

impl Before {
    fn new(source: &str, stopped: usize) -> Self {
        let mut before = Self::default();
        for token in tokens(source).take_while(|token| token.end <= stopped) {
            match token.sort {
                Sort::Space => continue,
                Sort::Open => {
                    let bracket = char::from(source.as_bytes()[token.start]);
                    before.open.push((bracket, token.start));
                }
                Sort::Close => {
                    before.open.pop();
                }
                Sort::Comma | Sort::Colon | Sort::Other => {}
            }
            before.last = Some(token);
        }
        before
    }

    /// Start of a text whose closing quote was meant to open the next one: it goes over a line's end, and what follows
    /// it touches it.
    fn runaway_text(&self, source: &str, stopped: usize) -> Option<usize> {
        let last = self.last.filter(|last| last.end == stopped)?;
        let text = source[last.start..last.end].strip_prefix('"')?;
        let touches = source[stopped..].starts_with(|next: char| !next.is_whitespace());
        (text.contains('\n') && touches).then_some(last.start)
    }

    /// Start of a number that a slash follows, which reading has taken for the start of a comment.
    fn fraction(&self, source: &str, stopped: usize) -> Option<usize> {
        let number = self.number(source)?;
        let slash = source[number.end..stopped].trim_start();
        (slash.starts_with('/') && !slash.starts_with("//") && !slash.starts_with("/*"))
            .then_some(number.start)
    }

    fn number(&self, source: &str) -> Option<Token> {
        self.last
            .filter(|last| source[last.start..last.end].parse::<f64>().is_ok())
    }
}
