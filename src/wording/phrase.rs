//! Sentences with structure: what is said is a list of spans, each of which knows what it is.
//!
//! Outputs set every kind of span in their own way, by ISO 80000-1 and -2: symbols of quantities italic, labels in their
//! subscripts, numbers and units upright. [`Phrase`]'s `Display` is the plain text.

use std::fmt;

use super::number::{Number, Quantity};
use crate::statics::Symbol;

/// A phrase of parts one behind the other: words, symbols, quantities, names, other phrases.
macro_rules! phrase {
    ($($part:expr),* $(,)?) => {{
        let mut phrase = $crate::wording::Phrase::new();
        $($crate::wording::Say::say(&$part, &mut phrase);)*
        phrase
    }};
}
pub(crate) use phrase;

/// A part of a sentence, or all of it.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
#[must_use]
pub struct Phrase {
    spans: Vec<Span>,
}

/// A part of a phrase.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Span {
    /// Words and punctuation.
    Words(String),
    /// The symbol of a quantity: `A_x`, `n`.
    Symbol(Symbol),
    /// A number or a vector with its unit, if it has one: `12 N`, `(0, 1, 0) m`, `0.5`.
    Quantity(Quantity),
    /// A direction along an axis: `x`, `−z`.
    Axis(AxisDirection),
    /// The name of a support, point or load case, as its author wrote it.
    Name(String),
    /// A sign between the parts of an equation.
    Operator(Operator),
}

/// A direction along an axis of the scene.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct AxisDirection {
    /// `x`, `y` or `z`.
    pub letter: &'static str,
    /// Whether it is the opposite direction.
    pub is_negative: bool,
}

/// Letters of the axes.
const LETTERS: [&str; 3] = ["x", "y", "z"];

/// A sign of an equation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Operator {
    /// Between summands.
    Plus,
    /// Between summands.
    Minus,
    /// In front of the first summand.
    Negative,
    /// Between factors.
    Times,
    /// Between the sides of an equation.
    Equals,
    /// Between the sides of an equation that does not hold.
    Differs,
    /// Opening parenthesis.
    Open,
    /// Closing parenthesis.
    Close,
}

impl Operator {
    /// The sign itself.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Plus => "+",
            Self::Minus | Self::Negative => "\u{2212}",
            Self::Times => "·",
            Self::Equals => "=",
            Self::Differs => "\u{2260}",
            Self::Open => "(",
            Self::Close => ")",
        }
    }

    /// With spaces at which no line may end; in a long formula one may end behind it.
    fn unbroken(self, is_short: bool) -> String {
        match (self.is_spaced(), is_short) {
            (false, _) => self.sign().to_owned(),
            (true, true) => format!("\u{a0}{}\u{a0}", self.sign()),
            (true, false) => format!("\u{a0}{} ", self.sign()),
        }
    }

    /// Whether there is a space on both sides of it.
    pub fn is_spaced(self) -> bool {
        matches!(
            self,
            Self::Plus | Self::Minus | Self::Equals | Self::Differs
        )
    }
}

impl Phrase {
    /// Nothing yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// A name that the author of the scene gave.
    pub fn name(name: impl Into<String>) -> Self {
        Span::Name(name.into()).into()
    }

    /// Its parts in order.
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.spans.is_empty()
    }

    /// Adds to the end.
    pub fn push(&mut self, more: impl Into<Self>) {
        more.into().say(self);
    }

    /// Adds a span; words join words.
    fn add(&mut self, span: Span) {
        match (self.spans.last_mut(), span) {
            (_, Span::Words(words)) if words.is_empty() => {}
            (Some(Span::Words(before)), Span::Words(words)) => before.push_str(&words),
            (_, span) => self.spans.push(span),
        }
    }

    /// The same with a capital letter in front, where it begins with a word.
    pub fn capitalised(mut self) -> Self {
        if let Some(Span::Words(words)) = self.spans.first_mut() {
            let mut letters = words.chars();
            if let Some(first) = letters.next() {
                *words = first.to_uppercase().chain(letters).collect();
            }
        }
        self
    }

    /// The same as a sentence: with a capital letter in front and a full stop behind.
    pub fn sentence(self) -> Self {
        let mut sentence = self.capitalised();
        sentence.push(".");
        sentence
    }

    /// Phrases one behind the other, with something between each two.
    pub fn joined(parts: impl IntoIterator<Item = Self>, between: &str) -> Self {
        let mut all = Self::new();
        for (index, part) in parts.into_iter().enumerate() {
            if index > 0 {
                all.push(between);
            }
            all.push(part);
        }
        all
    }

    /// The same with another count of significant digits in values, where its reader may ask for that.
    pub fn with_digits(&self, digits: i32) -> Self {
        let spans = self.spans.iter().map(|span| match span {
            Span::Quantity(quantity) => Span::Quantity(quantity.with_digits(digits)),
            other => other.clone(),
        });
        Self {
            spans: spans.collect(),
        }
    }

    /// The plain text, with no-break spaces inside of quantities and short formulas, and in front of every sign.
    pub fn unbroken(&self) -> String {
        let plain = |(span, is_short): (&Span, bool)| match span {
            Span::Quantity(quantity) => quantity.to_string().replace(' ', "\u{a0}"),
            Span::Operator(operator) => operator.unbroken(is_short),
            other => other.to_string(),
        };
        self.in_formulas().map(plain).collect()
    }

    /// What is written, piece by piece, in letters that are alike; spaces at which no line may end are no-break spaces.
    pub fn pieces(&self) -> Vec<TextPiece> {
        let pieces = |(span, is_short): (&Span, bool)| match span {
            Span::Operator(operator) => vec![TextPiece::upright(operator.unbroken(is_short))],
            other => other.pieces(),
        };
        self.in_formulas().flat_map(pieces).collect()
    }

    /// Its parts, each with whether it belongs to a formula that is short enough for one line.
    ///
    /// Lines of longer ones end behind a sign, as ISO 80000-2 has it.
    fn in_formulas(&self) -> impl Iterator<Item = (&Span, bool)> {
        let ends = |span: &Span| matches!(span, Span::Words(text) | Span::Name(text) if text.contains(' '));
        let letters = |span: &Span| span.to_string().chars().count();
        let mut is_short = Vec::new();
        for formula in self.spans.chunk_by(|one, next| !ends(one) && !ends(next)) {
            let length: usize = formula.iter().map(letters).sum();
            is_short.extend(formula.iter().map(|_| length <= SHORT_FORMULA));
        }
        self.spans.iter().zip(is_short)
    }
}

/// Letters of a formula that is never broken.
const SHORT_FORMULA: usize = 24;

/// Letters that are written alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextPiece {
    /// The letters.
    pub text: String,
    /// Whether they slant, as symbols of quantities do.
    pub is_italic: bool,
    /// Where they stand.
    pub height: Height,
}

/// Where letters stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Height {
    /// On the base line.
    Line,
    /// Small and below: a subscript.
    Below,
    /// Small and above: an exponent.
    Above,
}

impl TextPiece {
    fn upright(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            is_italic: false,
            height: Height::Line,
        }
    }

    fn italic(text: impl Into<String>) -> Self {
        Self {
            is_italic: true,
            ..Self::upright(text)
        }
    }

    fn at(self, height: Height) -> Self {
        Self { height, ..self }
    }
}

impl Span {
    fn pieces(&self) -> Vec<TextPiece> {
        let pieces = match self {
            Self::Words(text) | Self::Name(text) => vec![TextPiece::upright(text)],
            Self::Symbol(symbol) => vec![
                TextPiece::italic(&symbol.letter),
                TextPiece::upright(&symbol.label).at(Height::Below),
                TextPiece::italic(symbol.axis).at(Height::Below),
            ],
            Self::Quantity(quantity) => quantity.pieces(),
            Self::Axis(axis) => vec![
                TextPiece::upright(axis.sign()),
                TextPiece::italic(axis.letter),
            ],
            Self::Operator(operator) => vec![TextPiece::upright(operator.to_string())],
        };
        let written = pieces.into_iter().filter(|piece| !piece.text.is_empty());
        written.collect()
    }
}

impl AxisDirection {
    /// The direction along an axis by its number.
    pub(super) fn positive(axis: usize) -> Self {
        Self {
            letter: LETTERS[axis],
            is_negative: false,
        }
    }

    /// The minus sign of an opposite direction, or nothing.
    pub fn sign(self) -> &'static str {
        if self.is_negative { "\u{2212}" } else { "" }
    }
}

impl Quantity {
    fn pieces(&self) -> Vec<TextPiece> {
        let mut pieces: Vec<TextPiece> = Vec::new();
        let mut line = String::new();
        let last = self.numbers.len().saturating_sub(1);
        line.push_str(if self.is_vector { "(" } else { "" });
        for (index, number) in self.numbers.iter().enumerate() {
            line.push_str(&number.digits);
            if let Some(power) = &number.power {
                line.push_str("×10");
                pieces.push(TextPiece::upright(std::mem::take(&mut line)));
                pieces.push(TextPiece::upright(power).at(Height::Above));
            }
            line.push_str(if index < last { ",\u{a0}" } else { "" });
        }
        line.push_str(if self.is_vector { ")" } else { "" });
        if !self.unit.is_empty() {
            line.push_str(if self.is_spaced() { "\u{a0}" } else { "" });
            line.push_str(&self.unit);
        }
        pieces.push(TextPiece::upright(line));
        pieces
    }
}

impl fmt::Display for Phrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.spans.iter().try_for_each(|span| span.fmt(f))
    }
}

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Words(text) | Self::Name(text) => f.write_str(text),
            Self::Symbol(symbol) => symbol.fmt(f),
            Self::Quantity(quantity) => quantity.fmt(f),
            Self::Axis(axis) => axis.fmt(f),
            Self::Operator(operator) => operator.fmt(f),
        }
    }
}

impl fmt::Display for AxisDirection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.sign(), self.letter)
    }
}

impl fmt::Display for Operator {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.is_spaced() {
            true => write!(f, " {} ", self.sign()),
            false => f.write_str(self.sign()),
        }
    }
}

impl From<Span> for Phrase {
    fn from(span: Span) -> Self {
        Self { spans: vec![span] }
    }
}

/// What can be part of a phrase.
pub(crate) trait Say {
    /// Adds it to the end of a phrase.
    fn say(&self, phrase: &mut Phrase);
}

impl<T: Say + ?Sized> Say for &T {
    fn say(&self, phrase: &mut Phrase) {
        (**self).say(phrase);
    }
}

impl<T: Say> Say for Option<T> {
    fn say(&self, phrase: &mut Phrase) {
        if let Some(part) = self {
            part.say(phrase);
        }
    }
}

impl Say for Phrase {
    fn say(&self, phrase: &mut Phrase) {
        self.spans.iter().for_each(|span| phrase.add(span.clone()));
    }
}

impl Say for str {
    fn say(&self, phrase: &mut Phrase) {
        phrase.add(Span::Words(self.to_owned()));
    }
}

/// What is a span, or is made one, when it is said; and phrases made of it alone.
macro_rules! says {
    ($($type:ty: |$part:ident| $span:expr;)*) => {
        $(
            impl Say for $type {
                fn say(&self, phrase: &mut Phrase) {
                    let $part = self;
                    phrase.add($span);
                }
            }

            impl From<$type> for Phrase {
                fn from(part: $type) -> Self {
                    phrase!(part)
                }
            }

            impl From<&$type> for Phrase {
                fn from(part: &$type) -> Self {
                    phrase!(part)
                }
            }
        )*
    };
}

says! {
    String: |words| Span::Words(words.clone());
    Symbol: |symbol| Span::Symbol(symbol.clone());
    Quantity: |quantity| Span::Quantity(quantity.clone());
    Number: |number| Span::Quantity(number.clone().into());
    usize: |number| Span::Quantity(Number::from(number.to_string()).into());
    AxisDirection: |axis| Span::Axis(*axis);
    Operator: |operator| Span::Operator(*operator);
}

impl From<&str> for Phrase {
    fn from(words: &str) -> Self {
        phrase!(words)
    }
}

impl From<&Self> for Phrase {
    fn from(phrase: &Self) -> Self {
        phrase.clone()
    }
}

/// Compares the plain text.
impl PartialEq<str> for Phrase {
    fn eq(&self, other: &str) -> bool {
        self.to_string().as_str() == other
    }
}

/// Compares the plain text.
impl PartialEq<&str> for Phrase {
    fn eq(&self, other: &&str) -> bool {
        self == *other
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn symbol() -> Symbol {
        Symbol {
            letter: "M".to_owned(),
            label: "A".to_owned(),
            axis: "x",
        }
    }

    #[test]
    fn plain_text_and_pieces() {
        let weight = Quantity::new(Number::from("12".to_owned()), "N");
        let said = phrase!(symbol(), Operator::Equals, weight, " at ", "A");
        assert_eq!(said, "M_Ax = 12 N at A");
        assert_eq!(said.spans().len(), 4, "words join words");
        let pieces = said.pieces();
        let written: String = pieces.iter().map(|piece| piece.text.as_str()).collect();
        assert_eq!(written, "MAx\u{a0}=\u{a0}12\u{a0}N at A");
        let slanted: Vec<&str> = pieces
            .iter()
            .filter(|piece| piece.is_italic)
            .map(|piece| piece.text.as_str())
            .collect();
        assert_eq!(slanted, ["M", "x"]);
        assert_eq!(pieces[1].height, Height::Below);
    }

    /// A count was once broken at its sign: `(n − r =` at the end of a line, `5)` on the next.
    #[test]
    fn short_formulas_stay_on_one_line_and_long_ones_end_behind_a_sign() {
        let n = || phrase!(symbol(), Operator::Minus, 5);
        let short = phrase!("five are redundant (", n(), Operator::Equals, 5, ")").unbroken();
        assert_eq!(
            short,
            "five are redundant (M_Ax\u{a0}\u{2212}\u{a0}5\u{a0}=\u{a0}5)"
        );
        let long = Phrase::joined([n(), n(), n(), n()], "").unbroken();
        assert!(long.contains("M_Ax\u{a0}\u{2212} 5"), "{long}");
    }

    #[test]
    fn names_keep_their_first_letter() {
        let sentence = phrase!(Phrase::name("a"), " meets it").sentence();
        assert_eq!(sentence, "a meets it.");
        assert_eq!(phrase!("élan").sentence(), "Élan.");
    }

    #[test]
    fn exponents_are_raised() {
        let small = Quantity::new(super::super::number::number(2e-19), "N");
        assert_eq!(small.to_string(), "2×10⁻¹⁹ N");
        let pieces = Phrase::from(small).pieces();
        assert_eq!(pieces[1].text, "\u{2212}19");
        assert_eq!(pieces[1].height, Height::Above);
    }
}
