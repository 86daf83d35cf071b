//! Shapes and texts on the surface of a page.

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::super::font::{self, Weight};
use super::super::items::{self, Item, Outline, Run, Shape, Text};
use super::super::trace::{Letter, Pen};
use crate::printable::is_printable;
use crate::theme::Colour;

/// Paints items with the embedded fonts.
pub(super) struct Painter {
    fonts: [Font; 2],
}

impl Painter {
    pub(super) fn new() -> Self {
        let font = |weight: Weight| {
            Font::new(weight.bytes().into(), 0).expect("the embedded font is sound")
        };
        Self {
            fonts: Weight::ALL.map(font),
        }
    }

    /// Paints an item over what is there.
    pub(super) fn paint(&self, surface: &mut Surface, item: &Item) {
        match item {
            Item::Shape(shape) => paint_shape(surface, shape),
            Item::Text(text) => self.paint_text(surface, text),
        }
    }

    fn paint_text(&self, surface: &mut Surface, text: &Text) {
        surface.set_fill(Some(filled(text.colour)));
        surface.set_stroke(None);
        for (run, at) in text.placed() {
            self.paint_run(surface, run, at, run.size(text.size), text.weight);
        }
    }

    fn paint_run(&self, surface: &mut Surface, run: &Run, at: [f64; 2], size: f64, weight: Weight) {
        let text: String = run.text.chars().map(letter).collect();
        let start = Point::from_xy(at[0] as f32, at[1] as f32);
        let font = self.fonts[weight as usize].clone();
        if run.is_italic {
            surface.push_transform(&leaning(at[1]));
        }
        surface.draw_glyphs(
            start,
            &glyphs(&text, weight),
            font,
            &text,
            size as f32,
            false,
        );
        for path in boxes(&text, at, size, weight) {
            surface.draw_path(&path);
        }
        if run.is_italic {
            surface.pop();
        }
    }
}

/// Slants what stands on a base line.
fn leaning(base: f64) -> Transform {
    let (lean, base) = (items::SLANT as f32, base as f32);
    Transform::from_row(1.0, 0.0, -lean, 1.0, lean * base, 0.0)
}

/// The glyphs of a text. Letters that the font lacks are spaces, which together carry the letters for whoever copies them.
fn glyphs(text: &str, weight: Weight) -> Vec<KrillaGlyph> {
    let letters: Vec<(usize, char)> = text.char_indices().collect();
    let is_known = |letter: char| font::has_letter(letter, weight);
    let parts = letters.chunk_by(|(_, one), (_, next)| is_known(*one) == is_known(*next));
    let glyphs = parts.flat_map(|part| {
        let (first, last) = (part[0], part[part.len() - 1]);
        let whole = first.0..last.0 + last.1.len_utf8();
        let is_known = is_known(first.1);
        part.iter().map(move |(start, letter)| {
            let own = *start..start + letter.len_utf8();
            let advance = font::advance(&text[own.clone()], weight);
            let (seen, range) = if is_known {
                (*letter, own)
            } else {
                (' ', whole.clone())
            };
            let glyph = GlyphId::new(font::glyph(seen, weight).0.into());
            KrillaGlyph::new(glyph, advance as f32, 0.0, 0.0, 0.0, range, None)
        })
    });
    glyphs.collect()
}

/// The boxes that stand for letters that the font lacks.
fn boxes(text: &str, [x, y]: [f64; 2], size: f64, weight: Weight) -> Vec<Path> {
    let lacking =
        font::letters(text, weight).filter(|(letter, _)| !font::has_letter(*letter, weight));
    let boxes = lacking.filter_map(|(letter, before)| {
        let mut path = PathBuilder::new();
        let mut traced = Letter {
            pen: &mut path,
            at: [x + before * size, y],
            scale: size / font::units(weight),
            lean: 0.0,
        };
        font::outline(letter, weight, &mut traced);
        path.finish()
    });
    boxes.collect()
}

/// A letter as a PDF may hold it: code points that are no characters, or steer the text, are replaced.
fn letter(letter: char) -> char {
    match is_printable(letter) {
        true => letter,
        false => char::REPLACEMENT_CHARACTER,
    }
}

fn paint_shape(surface: &mut Surface, shape: &Shape) {
    // Without either, the surface would fill the outline with black.
    if shape.fill.is_none() && shape.stroke.is_none() {
        return;
    }
    let Some(path) = path(&shape.outline) else {
        return;
    };
    surface.set_fill(shape.fill.map(filled));
    surface.set_stroke(shape.stroke.as_ref().map(stroked));
    surface.draw_path(&path);
}

fn filled(colour: Colour) -> Fill {
    Fill {
        paint: rgb(colour).into(),
        rule: FillRule::NonZero,
        ..Fill::default()
    }
}

fn stroked(stroke: &items::Stroke) -> Stroke {
    let dash = stroke.dash.iter().map(|length| *length as f32).collect();
    Stroke {
        paint: rgb(stroke.colour).into(),
        width: stroke.width as f32,
        line_cap: LineCap::Round,
        line_join: LineJoin::Round,
        dash: (!stroke.dash.is_empty()).then_some(StrokeDash {
            array: dash,
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

fn rgb(Colour(red, green, blue): Colour) -> rgb::Color {
    rgb::Color::new(red, green, blue)
}

/// `None` for an outline without any length.
fn path(outline: &Outline) -> Option<Path> {
    let mut path = PathBuilder::new();
    outline.trace(&mut path);
    path.finish()
}

impl Pen for PathBuilder {
    fn move_to(&mut self, [x, y]: [f32; 2]) {
        self.move_to(x, y);
    }

    fn line_to(&mut self, [x, y]: [f32; 2]) {
        self.line_to(x, y);
    }

    fn quad_to(&mut self, [a, b]: [f32; 2], [x, y]: [f32; 2]) {
        self.quad_to(a, b, x, y);
    }

    fn cubic_to(&mut self, [[a, b], [c, d]]: [[f32; 2]; 2], [x, y]: [f32; 2]) {
        self.cubic_to(a, b, c, d, x, y);
    }

    fn close(&mut self) {
        self.close();
    }
}
