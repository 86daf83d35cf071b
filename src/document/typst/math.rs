//! Symbols, quantities and equations as Typst writes them inside of dollar signs.

use super::super::Formula;
use crate::wording::{Number, Operator, Phrase, Quantity, Span, Symbol};

/// An equation, without anything around it.
pub(super) fn formula(formula: &Formula) -> String {
    let relation = operator(formula.relation);
    format!("{}{relation}{}", side(&formula.left), side(&formula.right))
}

fn side(phrase: &Phrase) -> String {
    let part = |span: &Span| match span {
        Span::Symbol(symbol) => self::symbol(symbol),
        Span::Quantity(quantity) => self::quantity(quantity),
        Span::Axis(axis) => format!("{}{}", if axis.is_negative { "-" } else { "" }, axis.letter),
        Span::Operator(sign) => operator(*sign).to_owned(),
        other => quoted(&other.to_string()),
    };
    phrase.spans().iter().map(part).collect()
}

/// With spaces around what would else join its neighbours: `A_x(2)` has all of `x(2)` as its subscript.
fn operator(operator: Operator) -> &'static str {
    match operator {
        Operator::Plus => " + ",
        Operator::Minus => " - ",
        Operator::Negative => "-",
        Operator::Times => " dot.op ",
        Operator::Equals => " = ",
        Operator::Differs => " != ",
        Operator::Open => " (",
        Operator::Close => ") ",
    }
}

/// `A_x`, `M_(upright("A") x)`; letters of several signs are words.
pub(super) fn symbol(symbol: &Symbol) -> String {
    let is_letter = |text: &str| {
        let mut letters = text.chars();
        letters.next().is_some_and(char::is_alphabetic) && letters.next().is_none()
    };
    let letter = match is_letter(&symbol.letter) {
        true => symbol.letter.to_string(),
        false => format!("italic({})", quoted(&symbol.letter)),
    };
    let label = || format!("upright({})", quoted(&symbol.label));
    match (symbol.label.as_str(), symbol.axis) {
        ("", "") => letter,
        ("", axis) => format!("{letter}_{axis}"),
        (_, "") => format!("{letter}_{}", label()),
        (_, axis) => format!("{letter}_({} {axis})", label()),
    }
}

pub(super) fn quantity(quantity: &Quantity) -> String {
    let number = |number: &Number| {
        let digits = number.digits.replace('\u{2212}', "-");
        match &number.power {
            Some(power) => format!("{digits} times 10^({})", power.replace('\u{2212}', "-")),
            None => digits,
        }
    };
    let numbers: Vec<String> = quantity.numbers.iter().map(number).collect();
    let value = match quantity.is_vector {
        true => format!("({})", numbers.join(", ")),
        false => numbers.concat(),
    };
    match quantity.unit.as_str() {
        "" => value,
        unit if quantity.is_spaced() => format!("{value} thin upright({})", quoted(unit)),
        unit => format!("{value} upright({})", quoted(unit)),
    }
}

/// A text between quotes.
pub(super) fn quoted(text: &str) -> String {
    let mut plain = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => plain.extend(['\\', letter]),
            '\n' => plain.push(' '),
            letter => plain.push(letter),
        }
    }
    plain + "\""
}
