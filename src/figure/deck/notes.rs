//! The notes of the speaker: in the page, but inert, until a key opens them in a window of their own.

use std::fmt::Write;

use super::slide::{Deck, Slide};
use crate::document::inline;
use crate::drawing::escaped;

/// The notes of every slide. No browser shows what is in a template, with or without scripts.
pub(super) fn write_notes(out: &mut String, deck: &Deck) {
    let _ = write!(
        out,
        "<template id=\"notes\">\n<style>{}</style>\n<h1>{}</h1>\n",
        include_str!("notes.css"),
        escaped(&deck.title)
    );
    let count = deck.slides.len();
    for (index, slide) in deck.slides.iter().enumerate() {
        let of_the_scene = if index == 0 { deck.notes.as_str() } else { "" };
        write_article(
            out,
            slide,
            of_the_scene,
            &format!("{} / {count}", index + 1),
        );
    }
    out.push_str("</template>\n");
}

fn write_article(out: &mut String, slide: &Slide, of_the_scene: &str, number: &str) {
    let _ = write!(
        out,
        "<article>\n<h2><span>{number}</span> {}</h2>\n",
        inline(&slide.heading).into_string()
    );
    write_paragraphs(out, "scene", of_the_scene);
    write_paragraphs(out, "note", &slide.note);
    if slide.note.is_empty() && of_the_scene.is_empty() {
        out.push_str("<p class=\"none\">No notes.</p>\n");
    }
    out.push_str("</article>\n");
}

/// A text of several lines, a paragraph for each.
fn write_paragraphs(out: &mut String, class: &str, text: &str) {
    let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    for line in lines {
        let _ = writeln!(out, "<p class=\"{class}\">{}</p>", escaped(line));
    }
}
