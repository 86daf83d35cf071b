//! Images in a row as moving pictures: GIF and animated PNG. MP4 has a file of its own, `film`.
//!
//! All take the images one by one, so that a long film needs no memory of its own.

use std::borrow::Cow;
use std::collections::HashMap;
use std::io::Write;

use thiserror::Error;

use super::raster::Pixels;

/// Why a moving picture could not be written.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum MovieError {
    /// GIF counts pixels with 16 bits.
    #[error("a GIF is at most 65535 pixels wide and high")]
    TooLarge,
    /// The GIF encoder refuses, or the file cannot be written.
    #[error("the moving picture cannot be written as GIF: {0}")]
    Gif(#[from] gif::EncodingError),
    /// The PNG encoder refuses, or the file cannot be written.
    #[error("the moving picture cannot be written as PNG: {0}")]
    Png(#[from] png::EncodingError),
    /// Outside the sides that the encoder takes.
    #[cfg(feature = "films")]
    #[error(
        "images of {width} × {height} pixels are no MP4 film; one has at least 16 pixels on a side, at most 3840 on the longer \
         and 2160 on the shorter"
    )]
    NoFilmSize {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// Every frame of an MP4 film has the size of the first.
    #[cfg(feature = "films")]
    #[error("the images of a film are not all of one size")]
    Uneven,
    /// The encoder or the file format refuses, by their own words.
    #[cfg(feature = "films")]
    #[error("the moving picture cannot be written as MP4: {0}")]
    Film(String),
    /// The file cannot be written.
    #[error("the moving picture cannot be written: {0}")]
    Io(#[from] std::io::Error),
}

/// Writes images as a GIF that repeats for ever, each shown for some hundredths of a second.
///
/// # Errors
/// A [`MovieError`] where an image is too large or `out` fails.
pub fn gif(
    out: impl Write,
    frames: impl ExactSizeIterator<Item = Pixels>,
    hundredths: u16,
) -> Result<(), MovieError> {
    let mut frames = frames.peekable();
    let Some(first) = frames.peek() else {
        return Ok(());
    };
    let side = |pixels: u32| u16::try_from(pixels).map_err(|_| MovieError::TooLarge);
    let (width, height) = (side(first.width)?, side(first.height)?);
    let mut encoder = gif::Encoder::new(out, width, height, &[])?;
    encoder.set_repeat(gif::Repeat::Infinite)?;
    for image in frames {
        let (palette, indices) = reduced(&image.rgb);
        encoder.write_frame(&gif::Frame {
            width,
            height,
            delay: hundredths,
            palette: Some(palette),
            buffer: Cow::Owned(indices),
            ..gif::Frame::default()
        })?;
    }
    Ok(())
}

/// At most 256 colours and the index of each pixel: the most frequent colours, and the nearest of them for the rest.
///
/// Line figures have few colours and their blends, so no spreading of the error is needed.
fn reduced(rgb: &[u8]) -> (Vec<u8>, Vec<u8>) {
    let key = |pixel: &[u8]| [pixel[0] & 0xFC, pixel[1] & 0xFC, pixel[2] & 0xFC];
    let mut counts: HashMap<[u8; 3], (u32, [u8; 3])> = HashMap::new();
    for pixel in rgb.chunks_exact(3) {
        let entry = counts
            .entry(key(pixel))
            .or_insert((0, [pixel[0], pixel[1], pixel[2]]));
        entry.0 += 1;
    }
    let mut colours: Vec<_> = counts.into_iter().collect();
    colours.sort_unstable_by_key(|(key, (count, _))| (std::cmp::Reverse(*count), *key));
    let kept: Vec<[u8; 3]> = colours.iter().take(256).map(|(_, (_, c))| *c).collect();
    let nearest = |colour: &[u8; 3]| {
        let off = |other: &[u8; 3]| -> i32 {
            let apart = |k: usize| i32::from(other[k]) - i32::from(colour[k]);
            (0..3).map(|k| apart(k) * apart(k)).sum()
        };
        (0..kept.len()).min_by_key(|i| off(&kept[*i])).unwrap_or(0) as u8
    };
    let index: HashMap<[u8; 3], u8> = colours
        .iter()
        .enumerate()
        .map(|(i, (key, (_, colour)))| (*key, if i < 256 { i as u8 } else { nearest(colour) }))
        .collect();
    let indices = rgb.chunks_exact(3).map(|pixel| index[&key(pixel)]);
    let indices = indices.collect();
    (kept.concat(), indices)
}

/// Writes images as an animated PNG that repeats for ever, each shown for some hundredths of a second.
///
/// # Errors
/// A [`MovieError`] where `out` fails.
pub fn apng(
    out: impl Write,
    frames: impl ExactSizeIterator<Item = Pixels>,
    hundredths: u16,
) -> Result<(), MovieError> {
    let count = frames.len() as u32;
    let mut frames = frames.peekable();
    let Some(first) = frames.peek() else {
        return Ok(());
    };
    let mut encoder = png::Encoder::new(out, first.width, first.height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_animated(count, 0)?;
    encoder.set_frame_delay(hundredths, 100)?;
    let mut writer = encoder.write_header()?;
    for image in frames {
        writer.write_image_data(&image.rgb)?;
    }
    writer.finish()?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frames() -> Vec<Pixels> {
        let frame = |shade: u8| Pixels {
            width: 2,
            height: 1,
            rgb: vec![shade, 0, 0, 255, 255, 255],
        };
        vec![frame(0), frame(100), frame(200)]
    }

    /// Read back with the decoder of the same crate: sizes, colours and delays.
    #[test]
    fn a_gif_holds_every_frame() {
        let mut bytes = Vec::new();
        gif(&mut bytes, frames().into_iter(), 4).unwrap();
        let mut options = gif::DecodeOptions::new();
        options.set_color_output(gif::ColorOutput::RGBA);
        let mut decoder = options.read_info(bytes.as_slice()).unwrap();
        for expected in frames() {
            let frame = decoder.read_next_frame().unwrap().unwrap();
            assert_eq!(frame.delay, 4);
            assert_eq!(frame.buffer[..3], expected.rgb[..3]);
            assert_eq!(frame.buffer[4..7], expected.rgb[3..]);
        }
        assert!(decoder.read_next_frame().unwrap().is_none());
    }

    #[test]
    fn an_animated_png_holds_every_frame() {
        let mut bytes = Vec::new();
        apng(&mut bytes, frames().into_iter(), 4).unwrap();
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes))
            .read_info()
            .unwrap();
        let control = reader.info().animation_control().copied().unwrap();
        assert_eq!((control.num_frames, control.num_plays), (3, 0));
        for expected in frames() {
            let mut buffer = vec![0; 6];
            reader.next_frame(&mut buffer).unwrap();
            assert_eq!(buffer, expected.rgb);
        }
    }
}
