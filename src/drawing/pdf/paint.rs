//! Shapes and texts on the surface of a page.

use std::cell::RefCell;

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::super::font::{self, Weight};
use super::super::items::{self, Item, PathOutline, PathShape, Run, Text};
use super::super::trace::{Letter, path_pen};
use super::super::typeset::{self, Glyph, Typeface};
use crate::fonts::SystemFace;
use crate::printable::is_printable;
use crate::theme::Colour;

/// Paints items with the embedded fonts and those of the machine.
pub(super) struct Painter {
    fonts: [Font; 2],
    /// The fonts of the machine that are in use, `None` for those of which a file can have no part.
    system: RefCell<Vec<(&'static SystemFace, Option<Font>)>>,
    /// Whether fonts of the machine are used at all.
    has_system: bool,
}

impl Painter {
    pub(super) fn new(has_system: bool) -> Self {
        let font = |weight: Weight| {
            Font::new(weight.bytes().into(), 0).expect("the embedded font is sound")
        };
        Self {
            fonts: Weight::ALL.map(font),
            system: RefCell::default(),
            has_system,
        }
    }

    /// Whether a font of the machine has been used.
    pub(super) fn has_used_system(&self) -> bool {
        !self.system.borrow().is_empty()
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
        if run.is_italic {
            surface.push_transform(&leaning(at[1]));
        }
        let [mut x, y] = at;
        let glyphs = typeset::glyphs(&text, weight);
        for piece in glyphs.chunk_by(|one, next| one.typeface == next.typeface) {
            self.paint_piece(surface, piece, &text, [x, y], size, weight);
            x += piece.iter().map(|glyph| glyph.advance).sum::<f64>() * size;
        }
        if run.is_italic {
            surface.pop();
        }
    }

    /// Paints glyphs of one font; boxes with spaces below them, which together carry the letters for whoever copies them.
    fn paint_piece(
        &self,
        surface: &mut Surface,
        piece: &[Glyph],
        text: &str,
        at: [f64; 2],
        size: f64,
        weight: Weight,
    ) {
        let start = Point::from_xy(at[0] as f32, at[1] as f32);
        let font = self.font(piece[0].typeface);
        let is_missing = font.is_none();
        let glyphs: Vec<KrillaGlyph> = if is_missing {
            spaces(piece, weight)
        } else {
            piece.iter().map(placed).collect()
        };
        let font = font.unwrap_or_else(|| self.fonts[weight as usize].clone());
        surface.draw_glyphs(start, &glyphs, font, text, size as f32, false);
        if is_missing {
            for path in boxes(piece, at, size, weight) {
                surface.draw_path(&path);
            }
        }
    }

    /// `None` where letters are missing, or their font cannot be part of a file.
    fn font(&self, typeface: Typeface) -> Option<Font> {
        match typeface {
            Typeface::Embedded(weight) => Some(self.fonts[weight as usize].clone()),
            Typeface::System(face) if self.has_system => self.system_font(face),
            Typeface::System(_) | Typeface::Missing(_) => None,
        }
    }

    fn system_font(&self, face: &'static SystemFace) -> Option<Font> {
        let mut known = self.system.borrow_mut();
        if let Some((_, font)) = known.iter().find(|(other, _)| *other == face) {
            return font.clone();
        }
        let (bytes, index) = face.file();
        let font = Font::new(bytes.into(), index);
        known.push((face, font.clone()));
        font
    }
}

/// Slants what stands on a base line.
fn leaning(base: f64) -> Transform {
    let (lean, base) = (items::SLANT as f32, base as f32);
    Transform::from_row(1.0, 0.0, -lean, 1.0, lean * base, 0.0)
}

/// A glyph with its place as the writer wants it.
fn placed(glyph: &Glyph) -> KrillaGlyph {
    KrillaGlyph::new(
        GlyphId::new(glyph.id.0.into()),
        glyph.advance as f32,
        glyph.shift[0] as f32,
        glyph.shift[1] as f32,
        0.0,
        glyph.letters.clone(),
        None,
    )
}

/// Spaces as wide as glyphs that no font has; each stands for all of their letters.
fn spaces(piece: &[Glyph], weight: Weight) -> Vec<KrillaGlyph> {
    let start = piece.iter().map(|glyph| glyph.letters.start).min();
    let end = piece.iter().map(|glyph| glyph.letters.end).max();
    let whole = start.unwrap_or(0)..end.unwrap_or(0);
    let space = GlyphId::new(font::glyph(' ', weight).0.into());
    let glyphs = piece.iter().map(|glyph| {
        KrillaGlyph::new(
            space,
            glyph.advance as f32,
            0.0,
            0.0,
            0.0,
            whole.clone(),
            None,
        )
    });
    glyphs.collect()
}

/// The boxes that stand for letters that no font has.
fn boxes(piece: &[Glyph], [x, y]: [f64; 2], size: f64, weight: Weight) -> Vec<Path> {
    let boxes = typeset::placed(piece).filter_map(|(_, before)| {
        let mut path = PathBuilder::new();
        let mut traced = Letter {
            pen: &mut path,
            at: [x + before * size, y],
            scale: size / font::units(weight),
            lean: 0.0,
        };
        font::outline(font::MISSING, weight, &mut traced);
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

fn paint_shape(surface: &mut Surface, shape: &PathShape) {
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
fn path(outline: &PathOutline) -> Option<Path> {
    let mut path = PathBuilder::new();
    outline.trace(&mut path);
    path.finish()
}

path_pen!(PathBuilder);
