//! Images in a row as an MP4 film in H.264, which every browser and slide program plays.
//!
//! OpenH264 encodes and `muxide` writes the file around it. Colours are those of sRGB, one for four pixels, as in nearly all
//! video. Only with the feature `films`, since the encoder is compiled from C++.

use std::io::Write;

use muxide::api::{MuxerBuilder, VideoCodec};
use openh264::encoder::{
    BitRate, ColorPrimaries, Complexity, Encoder, EncoderConfig, FrameRate, FrameType,
    IntraFramePeriod, QpRange, RateControlMode, TransferCharacteristics, UsageType, VuiConfig,
};
use openh264::formats::{RgbSliceU8, YUVBuffer};
use openh264::{OpenH264API, Timestamp};

use super::movie::MovieError;
use super::raster::Pixels;

/// Sides that the encoder takes, in pixels: the least of either, the most of the longer and of the shorter.
const LEAST_SIDE: u32 = 16;
const MOST_LONG: u32 = 3840;
const MOST_SHORT: u32 = 2160;
/// Frames after which one is told whole, so that a player finds any moment soon.
const WHOLE_EVERY: u32 = 250;
/// Coarseness of what is kept, of 51: lines and letters stay clean.
const QUANTISER: u8 = 20;
/// What the encoder reckons with; the quantiser, not this, decides.
const BITS_PER_PIXEL: f64 = 0.25;

/// Writes images as an MP4 film with so many of them in a second.
///
/// Odd sides grow by one pixel, a copy of the last: H.264 in its common form has even sides. Times are rounded to
/// 1/90 000 s. The same images give the same bytes.
///
/// # Errors
/// A [`MovieError`] where an image is too small, too large or of another size than the first, or `out` fails.
pub fn mp4(
    mut out: impl Write,
    frames: impl ExactSizeIterator<Item = Pixels>,
    rate: f64,
) -> Result<(), MovieError> {
    let mut frames = frames.peekable();
    let Some(first) = frames.peek() else {
        return Ok(());
    };
    let size = [first.width, first.height];
    check_size(size)?;
    let even = size.map(|side| side.next_multiple_of(2));
    let mut encoder = Encoder::with_api_config(OpenH264API::from_source(), config(even, rate))
        .map_err(encoding)?;
    let mut film = Vec::new();
    let mut muxer = MuxerBuilder::new(&mut film)
        .video(VideoCodec::H264, even[0], even[1], rate)
        .build()
        .map_err(muxing)?;
    for (number, frame) in frames.enumerate() {
        if [frame.width, frame.height] != size {
            return Err(MovieError::Uneven);
        }
        let time = number as f64 / rate;
        let milliseconds = Timestamp::from_millis((1000.0 * time) as u64);
        let encoded = encoder
            .encode_at(&planes(&frame, even), milliseconds)
            .map_err(encoding)?;
        let is_whole = encoded.frame_type() == FrameType::IDR;
        muxer
            .write_video(time, &encoded.to_vec(), is_whole)
            .map_err(muxing)?;
    }
    muxer.finish().map_err(muxing)?;
    out.write_all(&film)?;
    Ok(())
}

fn check_size([width, height]: [u32; 2]) -> Result<(), MovieError> {
    let (long, short) = (width.max(height), width.min(height));
    if short < LEAST_SIDE || long > MOST_LONG || short > MOST_SHORT {
        return Err(MovieError::NoFilmSize { width, height });
    }
    Ok(())
}

fn config([width, height]: [u32; 2], rate: f64) -> EncoderConfig {
    let pixels = f64::from(width) * f64::from(height);
    let colours = VuiConfig::bt601()
        .color_primaries(ColorPrimaries::Bt709)
        .transfer_characteristics(TransferCharacteristics::Srgb);
    EncoderConfig::new()
        .usage_type(UsageType::ScreenContentRealTime)
        .max_frame_rate(FrameRate::from_hz(rate as f32))
        .bitrate(BitRate::from_bps((BITS_PER_PIXEL * pixels * rate) as u32))
        // Of those with a quantiser of our choice, the one that does not warn of frames that are never left out.
        .rate_control_mode(RateControlMode::Bufferbased)
        .qp(QpRange::new(QUANTISER, QUANTISER))
        .skip_frames(false)
        .adaptive_quantization(false)
        .background_detection(false)
        .complexity(Complexity::High)
        .intra_frame_period(IntraFramePeriod::from_num_frames(WHOLE_EVERY))
        .vui(colours)
        // With more, slices and so the bytes would depend on the machine.
        .num_threads(1)
}

/// The frame as the encoder takes it, its last column and row repeated where a side is odd.
fn planes(frame: &Pixels, [width, height]: [u32; 2]) -> YUVBuffer {
    let [width, height] = [width as usize, height as usize];
    let row_length = 3 * frame.width as usize;
    let mut rgb = Vec::with_capacity(3 * width * height);
    for row in frame.rgb.chunks_exact(row_length) {
        rgb.extend_from_slice(row);
        rgb.extend_from_within(rgb.len() - (3 * width - row_length)..);
    }
    if rgb.len() < 3 * width * height {
        rgb.extend_from_within(rgb.len() - 3 * width..);
    }
    YUVBuffer::from_rgb8_source(RgbSliceU8::new(&rgb, (width, height)))
}

fn encoding(error: openh264::Error) -> MovieError {
    MovieError::Film(error.to_string())
}

fn muxing(error: muxide::api::MuxerError) -> MovieError {
    MovieError::Film(error.to_string())
}
