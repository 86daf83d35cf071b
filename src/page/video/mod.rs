//! Images in a row as an MP4 film in H.264, which every browser and slide program plays.
//!
//! Constrained Baseline: now and then a frame whole, then what has changed since the frame before. Colours are those of
//! BT.709 with one colour for four pixels, as in nearly all video. `planes` and `patch` hold frames; `macroblock` chooses how each
//! part is told, by `predict` from the frame itself or by `motion` from the one before, and `residual`, `transform` and `cavlc` tell
//! what that lacks; `headers` says what a film is, `boxes` is the file around it.

mod bits;
mod boxes;
mod cavlc;
mod codes;
mod counts;
#[cfg(test)]
mod decoder;
mod encoder;
mod headers;
mod macroblock;
mod motion;
mod patch;
mod planes;
mod predict;
mod rate;
mod residual;
mod search;
#[cfg(test)]
mod tests;
mod transform;

use std::io::Write;

use encoder::Encoder;
use headers::{Level, Needs};
use planes::{Planes, SIDE};
use rate::Rate;

use super::movie::MovieError;
use super::raster::Pixels;

/// Writes images as an MP4 film with so many of them in a second.
///
/// Odd sides grow by one pixel, a copy of the last: H.264 in its common form has even sides. The rate is exact where it has
/// at most three decimals or is a ratio over at most 1001. The same images give the same bytes.
///
/// # Errors
/// A [`MovieError`] where an image is too large or of another size than the first, or `out` fails.
///
/// # Panics
/// Unless the rate is between 0.001 and 100 000 in a second.
pub fn mp4(
    mut out: impl Write,
    frames: impl ExactSizeIterator<Item = Pixels>,
    rate: f64,
) -> Result<(), MovieError> {
    let rate = Rate::new(rate);
    let mut frames = frames.peekable();
    let Some(first) = frames.peek() else {
        return Ok(());
    };
    let size = [first.width, first.height];
    let mut needs = Needs {
        macroblocks: size.map(|side| (side as usize).div_ceil(SIDE)),
        rate,
        largest_frame: 0,
        busiest_second: 0,
    };
    // Before the work: whatever comes, frames of this size fit.
    let too_large = || MovieError::TooLargeForMp4 {
        width: size[0],
        height: size[1],
    };
    if size.contains(&0) || Level::of(&needs).is_none() {
        return Err(too_large());
    }
    let mut encoder = Encoder::new(encoder::QUANTISER);
    let (mut table, mut data) = (Vec::new(), Vec::new());
    for frame in frames {
        if [frame.width, frame.height] != size {
            return Err(MovieError::Uneven);
        }
        let encoded = encoder.frame(Planes::of(&frame));
        let length = encoded.unit.len() as u32;
        table.push((4 + length, encoded.whole));
        data.extend(length.to_be_bytes());
        data.extend(encoded.unit);
    }
    (needs.largest_frame, needs.busiest_second) = busiest(&table, rate);
    let even = size.map(|side| side.next_multiple_of(2) as usize);
    let level = Level::of(&needs).ok_or_else(too_large)?;
    let parameters = [
        headers::sequence(level, even, rate),
        headers::picture(encoder::QUANTISER),
    ];
    let track = boxes::Track {
        size: even,
        rate,
        level,
        parameters: [&parameters[0], &parameters[1]],
        frames: &table,
    };
    let before = boxes::before_frames(&track).ok_or(MovieError::TooLong)?;
    out.write_all(&before)?;
    out.write_all(&data)?;
    Ok(())
}

/// Bytes of the largest frame, and of the frames of the second that has most.
fn busiest(table: &[(u32, bool)], rate: Rate) -> (usize, usize) {
    let sizes: Vec<usize> = table.iter().map(|(size, _)| *size as usize).collect();
    let second = (rate.ticks.div_ceil(rate.step) as usize).min(sizes.len());
    let seconds = sizes.windows(second).map(|frames| frames.iter().sum());
    let largest = sizes.iter().copied().max();
    (largest.unwrap_or(0), seconds.max().unwrap_or(0))
}
