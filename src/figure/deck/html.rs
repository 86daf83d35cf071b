//! The deck as one HTML page.

use std::fmt::Write;

use super::stages::{Deck, Show, Slide};
use crate::drawing::{self, Drawing, Fonts, Weight, escaped};
use crate::wording::{self, Piece};

/// The page: slides that arrow keys, space, clicks and swipes step through; without script, all of them in a column.
pub fn html(deck: &Deck) -> String {
    let mut out = String::new();
    let _ = write!(
        out,
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n<title>{}</title>\n\
         <style>{}{}</style>\n</head>\n<body>\n",
        escaped(&deck.title),
        fonts(deck),
        include_str!("deck.css")
    );
    let count = deck.slides.len();
    for (index, slide) in deck.slides.iter().enumerate() {
        write_slide(&mut out, deck, slide, index + 1, count);
    }
    let _ = write!(
        out,
        "<script>{}</script>\n</body>\n</html>\n",
        include_str!("deck.js")
    );
    out
}

/// The letters of figures and sentences.
fn fonts(deck: &Deck) -> String {
    let drawings = deck.slides.iter().flat_map(|slide| match &slide.show {
        Show::Still(drawing) => std::slice::from_ref(drawing.as_ref()),
        Show::Swing(frames) => &frames[..frames.len().min(1)],
    });
    let mut words = deck.title.clone() + "0123456789/=\u{2212}\u{a0} r n pauseplay";
    for slide in &deck.slides {
        words += &slide.heading;
        slide
            .sentences
            .iter()
            .for_each(|sentence| words += sentence);
        slide.numbers.iter().for_each(|number| {
            words += number.name;
            words += number.symbol;
        });
    }
    drawing::font_faces_with(
        drawings,
        &Weight::ALL.map(|weight| (weight, words.as_str())),
    )
}

fn write_slide(out: &mut String, deck: &Deck, slide: &Slide, number: usize, count: usize) {
    let _ = write!(
        out,
        "<section id=\"{}\">\n<header><h1>{}</h1><p>{} <span>{number} / {count}</span></p></header>\n<figure>\n",
        slide.name,
        escaped(&slide.heading),
        escaped(&deck.title)
    );
    match &slide.show {
        Show::Still(drawing) => out.push_str(&drawing::svg(drawing, Fonts::FromPage)),
        Show::Swing(frames) => write_swing(out, frames),
    }
    out.push_str("</figure>\n<div class=\"words\">\n");
    if !slide.numbers.is_empty() {
        out.push_str("<dl>\n");
        for number in &slide.numbers {
            let _ = writeln!(
                out,
                "<div><dd>{}</dd><dt>{} <i>{}</i></dt></div>",
                number.value,
                escaped(number.name),
                escaped(number.symbol)
            );
        }
        out.push_str("</dl>\n");
    }
    for sentence in &slide.sentences {
        let _ = writeln!(out, "<p>{}</p>", with_subscripts(sentence));
    }
    out.push_str("</div>\n</section>\n");
}

/// Frames over each other, of which one is shown.
fn write_swing(out: &mut String, frames: &[Drawing]) {
    out.push_str("<div class=\"swing\">\n");
    for (index, frame) in frames.iter().enumerate() {
        let hidden = if index == 0 { "" } else { " hidden" };
        let _ = writeln!(
            out,
            "<div{hidden}>{}</div>",
            drawing::svg(frame, Fonts::FromPage)
        );
    }
    out.push_str("<button type=\"button\">pause</button>\n</div>\n");
}

/// Text in HTML; names get their subscripts, exponents are raised.
fn with_subscripts(text: &str) -> String {
    let pieces = wording::pieces(text).into_iter();
    pieces
        .map(|piece| match piece {
            Piece::Line(text) => escaped(&unbroken(text)),
            Piece::Below(text) => format!("<sub>{}</sub>", escaped(text)),
            Piece::Above(text) => format!("<sup>{}</sup>", escaped(&wording::lowered(text))),
        })
        .collect()
}

/// Coordinates with their unit on one line: their spaces become such as no line is broken at.
fn unbroken(text: &str) -> String {
    let is_coordinate = |sign: char| sign.is_ascii_digit() || " .,×\u{2212}⁻".contains(sign);
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find('(') {
        let (before, from) = rest.split_at(start + 1);
        let inside = from.find(|sign| !is_coordinate(sign)).unwrap_or(from.len());
        let (coordinates, after) = from.split_at(inside);
        out += before;
        rest = after;
        match after.strip_prefix(") ") {
            Some(unit) => {
                out += &coordinates.replace(' ', "\u{a0}");
                out += ")\u{a0}";
                rest = unit;
            }
            None => out += coordinates,
        }
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_sentences_get_subscripts() {
        assert_eq!(
            with_subscripts("A_x, M_Ax and a < b_"),
            "A<sub>x</sub>, M<sub>Ax</sub> and a &lt; b_"
        );
    }

    #[test]
    fn coordinates_are_not_broken() {
        assert_eq!(
            unbroken("from (0, \u{2212}0.3) m (at rest) to (4, 1) m (so far"),
            "from (0,\u{a0}\u{2212}0.3)\u{a0}m (at rest) to (4,\u{a0}1)\u{a0}m (so far"
        );
        assert_eq!(unbroken("(2) and (3, 4)"), "(2)\u{a0}and (3, 4)");
        assert_eq!(unbroken(""), "");
    }
}
