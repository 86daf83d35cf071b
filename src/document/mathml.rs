//! Equations as MathML.

use maud::{Markup, PreEscaped, html};

use super::Formula;
use crate::wording::{Number, Operator, Phrase, Quantity, Span, Symbol};

/// An equation; `display` where it has a line of its own.
pub(super) fn math(formula: &Formula, display: bool) -> Markup {
    let row = html! { (side(&formula.left)) (operator(formula.relation)) (side(&formula.right)) };
    html! {
        @if display { math display="block" { mrow { (row) } } } @else { math { mrow { (row) } } }
    }
}

fn side(phrase: &Phrase) -> Markup {
    html! { @for part in phrase.spans() { (span(part)) } }
}

fn span(span: &Span) -> Markup {
    match span {
        Span::Symbol(symbol) => self::symbol(symbol),
        Span::Quantity(quantity) => self::quantity(quantity),
        Span::Operator(sign) => operator(*sign),
        Span::Axis(axis) => html! {
            @if axis.is_negative { mo form="prefix" { "\u{2212}" } }
            mi.var { (axis.letter) }
        },
        // Spaces at the ends of a text would be lost.
        other => html! { mtext { (other.to_string().replace(' ', "\u{a0}")) } },
    }
}

fn operator(operator: Operator) -> Markup {
    match operator {
        Operator::Negative => html! { mo form="prefix" { (operator.sign()) } },
        _ => html! { mo { (operator.sign()) } },
    }
}

fn symbol(symbol: &Symbol) -> Markup {
    let letter = html! { mi.var { (symbol.letter) } };
    let label = html! { mi mathvariant="normal" { (symbol.label) } };
    let axis = html! { mi.var { (symbol.axis) } };
    match (symbol.label.as_str(), symbol.axis) {
        ("", "") => letter,
        (_, "") => html! { msub { (letter) (label) } },
        ("", _) => html! { msub { (letter) (axis) } },
        _ => html! { msub { (letter) mrow { (label) (axis) } } },
    }
}

fn quantity(quantity: &Quantity) -> Markup {
    let last = quantity.numbers.len().saturating_sub(1);
    html! {
        mrow {
            @if quantity.is_vector { mo { "(" } }
            @for (index, one) in quantity.numbers.iter().enumerate() {
                (number(one))
                @if index < last { mo { "," } }
            }
            @if quantity.is_vector { mo { ")" } }
            @if !quantity.unit.is_empty() {
                mtext { @if quantity.is_spaced() { (PreEscaped("&#160;")) } (quantity.unit) }
            }
        }
    }
}

fn number(number: &Number) -> Markup {
    match &number.power {
        None => html! { mn { (number.digits) } },
        Some(power) => html! {
            mn { (number.digits) } mo { "×" } msup { mn { "10" } mn { (power) } }
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::{number, phrase};

    #[test]
    fn symbols_have_subscripts_and_units_are_upright() {
        let symbol = Symbol {
            label: "A".to_owned(),
            axis: "x",
            ..Symbol::plain("M")
        };
        let formula = Formula::equal(phrase!(symbol), Quantity::new(number(-2e-9), "N·m"));
        assert_eq!(
            math(&formula, false).into_string(),
            "<math><mrow><msub><mi class=\"var\">M</mi><mrow><mi mathvariant=\"normal\">A</mi>\
             <mi class=\"var\">x</mi></mrow></msub><mo>=</mo><mrow><mn>\u{2212}2</mn><mo>×</mo>\
             <msup><mn>10</mn><mn>\u{2212}9</mn></msup><mtext>&#160;N·m</mtext></mrow></mrow></math>"
        );
    }
}
