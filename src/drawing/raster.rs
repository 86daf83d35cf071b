//! Drawings as pixels and PNG images.

use thiserror::Error;
use tiny_skia::{
    FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, StrokeDash, Transform,
};

use super::items::{Drawing, Item, PathOutline, PathShape, SLANT, Stroke, Text};
use super::trace::{Letter, path_pen};
use super::typeset;
use crate::theme::Colour;

/// Why a drawing has no image.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum RasterError {
    /// Too small or too large an image.
    #[error(
        "an image of {width} × {height} pixels cannot be made; both sides must be 1 to {LARGEST}"
    )]
    Size {
        /// Pixels across.
        width: f64,
        /// Pixels down.
        height: f64,
    },
    /// The image has no PNG form.
    #[error("the image cannot be written as PNG: {0}")]
    Png(#[from] png::EncodingError),
}

/// Longest side of an image in pixels.
pub(crate) const LARGEST: u32 = 16_384;

/// An image of opaque pixels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pixels {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Red, green and blue of each pixel, row by row.
    pub rgb: Vec<u8>,
}

/// The drawing as an image with so many pixels to a point, on a background.
///
/// # Errors
/// [`RasterError::Size`] where a side would be less than one pixel or too large to make.
pub fn pixels(
    drawing: &Drawing,
    per_point: f64,
    background: Colour,
) -> Result<Pixels, RasterError> {
    let sides = [drawing.width, drawing.height].map(|side| (side * per_point).round());
    let fits = |side: f64| (1.0..=f64::from(LARGEST)).contains(&side);
    let [width, height] = sides;
    let size_error = || RasterError::Size { width, height };
    if !sides.into_iter().all(fits) {
        return Err(size_error());
    }
    let mut pixmap = Pixmap::new(width as u32, height as u32).ok_or_else(size_error)?;
    pixmap.fill(colour(background));
    let to_pixels = Transform::from_scale(per_point as f32, per_point as f32);
    for item in &drawing.items {
        match item {
            Item::Shape(shape) => paint_shape(&mut pixmap, shape, to_pixels),
            Item::Text(text) => paint_text(&mut pixmap, text, to_pixels),
        }
    }
    let rgb = pixmap.pixels().iter();
    Ok(Pixels {
        width: width as u32,
        height: height as u32,
        rgb: rgb.flat_map(|p| [p.red(), p.green(), p.blue()]).collect(),
    })
}

/// The image as a PNG file that says how large it prints.
///
/// # Errors
/// [`RasterError::Png`] where the encoder refuses.
pub fn png(pixels: &Pixels, per_point: f64) -> Result<Vec<u8>, RasterError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, pixels.width, pixels.height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    let per_metre = (per_point * 72.0 / 0.0254).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: png::Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&pixels.rgb)?;
    writer.finish()?;
    Ok(bytes)
}

fn colour(Colour(red, green, blue): Colour) -> tiny_skia::Color {
    tiny_skia::Color::from_rgba8(red, green, blue, 255)
}

fn paint(of: Colour) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color(colour(of));
    paint
}

fn paint_shape(pixmap: &mut Pixmap, shape: &PathShape, to_pixels: Transform) {
    let Some(path) = path(&shape.outline) else {
        return;
    };
    if let Some(fill) = shape.fill {
        pixmap.fill_path(&path, &paint(fill), FillRule::Winding, to_pixels, None);
    }
    if let Some(stroke) = &shape.stroke {
        pixmap.stroke_path(&path, &paint(stroke.colour), &pen(stroke), to_pixels, None);
    }
}

fn pen(stroke: &Stroke) -> tiny_skia::Stroke {
    let dash = stroke.dash.iter().map(|dash| *dash as f32).collect();
    tiny_skia::Stroke {
        width: stroke.width as f32,
        line_cap: LineCap::Round,
        line_join: LineJoin::Round,
        dash: StrokeDash::new(dash, 0.0),
        ..tiny_skia::Stroke::default()
    }
}

fn path(outline: &PathOutline) -> Option<Path> {
    let mut builder = PathBuilder::new();
    outline.trace(&mut builder);
    builder.finish()
}

path_pen!(PathBuilder);

fn paint_text(pixmap: &mut Pixmap, text: &Text, to_pixels: Transform) {
    let mut path = PathBuilder::new();
    for (run, [x, y]) in text.placed() {
        let size = run.size(text.size);
        let lean = if run.is_italic { SLANT } else { 0.0 };
        for (glyph, before) in typeset::placed(&typeset::glyphs(&run.text, text.weight)) {
            let [right, up] = glyph.shift;
            let mut traced = Letter {
                pen: &mut path,
                at: [x + (before + right + up * lean) * size, y - up * size],
                scale: size / glyph.typeface.units(),
                lean,
            };
            glyph.typeface.outline(glyph.id, &mut traced);
        }
    }
    if let Some(path) = path.finish() {
        pixmap.fill_path(
            &path,
            &paint(text.colour),
            FillRule::Winding,
            to_pixels,
            None,
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_filled_square_covers_its_pixels_and_a_huge_image_is_refused() {
        let square = PathOutline::Lines(vec![super::super::Polyline::closed([
            [1.0, 1.0],
            [3.0, 1.0],
            [3.0, 3.0],
            [1.0, 3.0],
        ])]);
        let drawing = Drawing {
            width: 4.0,
            height: 4.0,
            title: String::new(),
            description: String::new(),
            items: vec![Item::Shape(PathShape {
                role: "square",
                outline: square,
                stroke: None,
                fill: Some(Colour(255, 0, 0)),
            })],
        };
        let image = pixels(&drawing, 1.0, Colour(255, 255, 255)).unwrap();
        assert_eq!(image.rgb[..3], [255, 255, 255]);
        assert_eq!(image.rgb[3 * 5..3 * 6], [255, 0, 0]);
        assert!(png(&image, 1.0).unwrap().starts_with(b"\x89PNG"));
        let huge = pixels(&drawing, 1e6, Colour(255, 255, 255));
        assert!(matches!(huge, Err(RasterError::Size { .. })));
    }

    /// The stem of an `I` leans to the right by its height times the slant, about its base line.
    #[test]
    fn italic_letters_lean() {
        let inked = |runs: Vec<super::super::Run>| {
            let text = Text {
                role: "letter",
                at: [5.0, 30.0],
                runs,
                size: 30.0,
                weight: super::super::Weight::Bold,
                colour: Colour(0, 0, 0),
            };
            let drawing = Drawing {
                width: 40.0,
                height: 40.0,
                title: String::new(),
                description: String::new(),
                items: vec![Item::Text(text)],
            };
            let image = pixels(&drawing, 1.0, Colour(255, 255, 255)).unwrap();
            // The first dark pixel of a row near the top and of one near the base line.
            [12, 28].map(|row| {
                let row = &image.rgb[3 * 40 * row..3 * 40 * (row + 1)];
                row.chunks(3).position(|pixel| pixel[0] < 128).unwrap()
            })
        };
        let [top, foot] = inked(super::super::Run::plain("I"));
        let [leaning, standing] = inked(super::super::Run::italic("I"));
        assert!(leaning > top + 2, "{top} {leaning}");
        assert!(standing.abs_diff(foot) <= 1, "{foot} {standing}");
    }
}
