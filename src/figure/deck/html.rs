//! The deck as one HTML page.

use std::fmt::Write;

use super::notes::write_notes;
use super::slide::{Deck, Show, Slide};
use crate::document::inline;
use crate::drawing::{self, Drawing, Fonts, Weight, escaped};
use crate::wording::Phrase;

/// The page: slides that arrow keys, space, clicks and swipes step through; without script, all of them in a column. `N` opens
/// the notes of the speaker in a window of their own.
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
    write_notes(&mut out, deck);
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
        let symbols = slide.numbers.iter().map(|number| &number.symbol);
        let phrases = slide
            .sentences
            .iter()
            .chain(symbols)
            .chain([&slide.heading]);
        phrases
            .flat_map(Phrase::pieces)
            .for_each(|piece| words += &piece.text);
        slide
            .numbers
            .iter()
            .for_each(|number| words += number.label());
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
        html_of(&slide.heading),
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
                "<div><dd>{}</dd><dt>{} {}</dt></div>",
                number.value,
                escaped(number.label()),
                html_of(&number.symbol)
            );
        }
        out.push_str("</dl>\n");
    }
    for sentence in &slide.sentences {
        let _ = writeln!(out, "<p>{}</p>", html_of(sentence));
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

/// A phrase as the documents write it.
fn html_of(phrase: &Phrase) -> String {
    inline(phrase).into_string()
}
