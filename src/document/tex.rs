//! Symbols, quantities and equations as TeX writes them.

use super::Formula;
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
        other => format!("\\text{{{}}}", plain(&other.to_string())),
    };
    phrase.spans().iter().map(part).collect()
}

fn operator(operator: Operator) -> &'static str {
    match operator {
        Operator::Plus => " + ",
        Operator::Minus => " - ",
        Operator::Negative => "-",
        Operator::Times => " \\cdot ",
        Operator::Equals => " = ",
        Operator::Differs => " \\neq ",
        Operator::Open => "(",
        Operator::Close => ")",
    }
}

/// `A_x`, `M_{\mathrm{A}x}`; letters of several signs are words.
pub(super) fn symbol(symbol: &Symbol) -> String {
    let letter = match symbol.letter.chars().count() {
        1 => name(&symbol.letter),
        _ => format!("\\mathit{{{}}}", name(&symbol.letter)),
    };
    match (symbol.label.as_str(), symbol.axis) {
        ("", "") => letter,
        ("", axis) => format!("{letter}_{axis}"),
        (label, axis) => format!("{letter}_{{\\mathrm{{{}}}{axis}}}", name(label)),
    }
}

pub(super) fn quantity(quantity: &Quantity) -> String {
    let number = |number: &Number| {
        let digits = number
            .digits
            .replace('\u{2212}', "-")
            .replace('∞', "\\infty");
        match &number.power {
            Some(power) => format!("{digits} \\times 10^{{{}}}", power.replace('\u{2212}', "-")),
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
        unit if quantity.is_spaced() => format!("{value}\\,\\mathrm{{{}}}", units(unit)),
        unit => format!("{value}{}", units(unit)),
    }
}

/// Symbols of units as TeX writes them.
fn units(unit: &str) -> String {
    unit.replace('·', "\\cdot ")
        .replace('²', "^2")
        .replace('°', "^\\circ")
}

/// A name within mathematics: signs that Markdown would take for its own by their names in TeX.
fn name(text: &str) -> String {
    let mut name = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '*' => name.push_str("\\ast "),
            '<' => name.push_str("\\lt "),
            '>' => name.push_str("\\gt "),
            '|' => name.push_str("\\vert "),
            '\\' => name.push_str("\\backslash "),
            '{' => name.push_str("\\lbrace "),
            '}' => name.push_str("\\rbrace "),
            '~' => name.push_str("\\sim "),
            '^' => name.push_str("\\wedge "),
            letter => name.push_str(&plain(letter.encode_utf8(&mut [0; 4]))),
        }
    }
    name
}

/// Words in TeX, without what it would take for its own.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' | '$' | '{' | '}' | '~' | '^' | '`' | '<' | '>' => plain.push(' '),
            '_' | '#' | '%' | '&' | '*' | '|' => plain.extend(['\\', letter]),
            '\n' => plain.push(' '),
            letter => plain.push(letter),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_sign_of_a_name_is_lost() {
        let own = Symbol {
            label: "<a>*{b}|".into(),
            ..Symbol::plain("F")
        };
        assert_eq!(
            symbol(&own),
            "F_{\\mathrm{\\lt a\\gt \\ast \\lbrace b\\rbrace \\vert }}"
        );
    }
}
