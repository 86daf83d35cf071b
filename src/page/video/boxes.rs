//! The MP4 file around a film: boxes that say when and where each frame is, then the frames.
//!
//! Source: ISO/IEC 14496-12 (boxes), 14496-14 (the file type), 14496-15 (`avc1` and `avcC`). Nothing in the file depends on
//! the clock: times of making are zero, which the standard reads as 1904.

use super::headers::{BT709, Level, PROFILE, SRGB_CURVE};
use super::rate::Rate;

/// A film that is encoded and waits for its file.
pub(super) struct Track<'a> {
    /// Pixels across and down, even.
    pub(super) size: [usize; 2],
    /// Frames in a second.
    pub(super) rate: Rate,
    /// What decoders must be able to do.
    pub(super) level: Level,
    /// The two parameter sets, as NAL units.
    pub(super) parameters: [&'a [u8]; 2],
    /// Bytes of each frame, and whether it is whole in itself.
    pub(super) frames: &'a [(u32, bool)],
}

/// All that stands before the first frame: nothing needs to be looked up at the end of the file.
///
/// `None` where the frames are too many, or their bytes, for a file of this kind.
pub(super) fn before_frames(track: &Track) -> Option<Vec<u8>> {
    let total: u64 = track.frames.iter().map(|(size, _)| u64::from(*size)).sum();
    let kind = boxed(
        b"ftyp",
        &[b"isom", &0x200_u32.to_be_bytes(), b"isomiso2avc1mp41"],
    );
    let duration = (track.frames.len() as u32).checked_mul(track.rate.step)?;
    // Where the frames begin changes no length, so it is known after a first try.
    let start = kind.len() + movie(track, duration, 0).len() + HEAD;
    let last = u64::try_from(start).ok()? + total;
    u32::try_from(last).ok()?;
    let data = (HEAD as u32 + total as u32).to_be_bytes();
    let parts = [
        &kind[..],
        &movie(track, duration, start as u32),
        &data,
        b"mdat",
    ];
    Some(parts.concat())
}

/// Bytes before the content of a box.
const HEAD: usize = 8;

fn boxed(name: &[u8; 4], content: &[&[u8]]) -> Vec<u8> {
    let length: usize = content.iter().map(|part| part.len()).sum();
    let mut bytes = Vec::with_capacity(HEAD + length);
    bytes.extend(((HEAD + length) as u32).to_be_bytes());
    bytes.extend(name);
    content.iter().for_each(|part| bytes.extend(*part));
    bytes
}

/// A box with a version, which is 0 here, and flags.
fn full(name: &[u8; 4], flags: u32, content: &[&[u8]]) -> Vec<u8> {
    let flags = flags.to_be_bytes();
    let mut parts: Vec<&[u8]> = vec![&flags];
    parts.extend(content);
    boxed(name, &parts)
}

fn words(numbers: &[u32]) -> Vec<u8> {
    numbers.iter().flat_map(|n| n.to_be_bytes()).collect()
}

fn halves(numbers: &[u16]) -> Vec<u8> {
    numbers.iter().flat_map(|n| n.to_be_bytes()).collect()
}

/// Points as they are: rows (1 0 0), (0 1 0), (0 0 1), of 16.16 and 2.30.
const UNTURNED: [u32; 9] = [1 << 16, 0, 0, 0, 1 << 16, 0, 0, 0, 1 << 30];

fn movie(track: &Track, duration: u32, start: u32) -> Vec<u8> {
    let times = words(&[0, 0, track.rate.ticks, duration]);
    let sound = [words(&[1 << 16]), halves(&[1 << 8]), vec![0; 10]].concat();
    let head = full(
        b"mvhd",
        0,
        &[&times, &sound, &words(&UNTURNED), &[0; 24], &words(&[2])],
    );
    let [width, height] = track.size.map(|side| (side as u32) << 16);
    // In use, part of the film and of its preview.
    let track_head = full(
        b"tkhd",
        7,
        &[
            &words(&[0, 0, 1, 0, duration, 0, 0, 0, 0]),
            &words(&UNTURNED),
            &words(&[width, height]),
        ],
    );
    boxed(
        b"moov",
        &[
            &head,
            &boxed(b"trak", &[&track_head, &media(track, &times, start)]),
        ],
    )
}

fn media(track: &Track, times: &[u8], start: u32) -> Vec<u8> {
    let no_language = (21 << 10) | (14 << 5) | 4; // "und"
    let head = full(b"mdhd", 0, &[times, &halves(&[no_language, 0])]);
    let handler = full(b"hdlr", 0, &[&[0; 4], b"vide", &[0; 12], b"Motion\0"]);
    let picture = full(b"vmhd", 1, &[&[0; 8]]);
    let same_file = full(b"url ", 1, &[]);
    let places = full(b"dref", 0, &[&words(&[1]), &same_file]);
    let information = boxed(
        b"minf",
        &[&picture, &boxed(b"dinf", &[&places]), &table(track, start)],
    );
    boxed(b"mdia", &[&head, &handler, &information])
}

/// When and where each frame is: all of one duration, in one piece.
fn table(track: &Track, start: u32) -> Vec<u8> {
    let count = track.frames.len() as u32;
    let sizes: Vec<u32> = track.frames.iter().map(|(size, _)| *size).collect();
    let numbered = (1..).zip(track.frames);
    let whole: Vec<u32> = numbered
        .filter_map(|(n, (_, whole))| whole.then_some(n))
        .collect();
    boxed(
        b"stbl",
        &[
            &full(b"stsd", 0, &[&words(&[1]), &entry(track)]),
            &full(b"stts", 0, &[&words(&[1, count, track.rate.step])]),
            &full(b"stss", 0, &[&words(&[whole.len() as u32]), &words(&whole)]),
            &full(b"stsc", 0, &[&words(&[1, 1, count, 1])]),
            &full(b"stsz", 0, &[&words(&[0, count]), &words(&sizes)]),
            &full(b"stco", 0, &[&words(&[1, start])]),
        ],
    )
}

/// What the frames are: H.264 with its parameters, and the colours.
fn entry(track: &Track) -> Vec<u8> {
    let sides = track.size.map(|side| side as u16);
    let dots_to_an_inch = words(&[72 << 16, 72 << 16, 0]);
    let one_frame_in_24_bits = [halves(&[1]), vec![0; 32], halves(&[24, u16::MAX])].concat();
    let [sequence, picture] = track.parameters;
    let length = |unit: &[u8]| (unit.len() as u16).to_be_bytes();
    let lengths_of_four_bytes = 0b1111_1100 | 3;
    let one_set = 0b1110_0000 | 1;
    let decoder = boxed(
        b"avcC",
        &[
            &[1, PROFILE[0], PROFILE[1], track.level.number],
            &[lengths_of_four_bytes, one_set],
            &length(sequence),
            sequence,
            &[1],
            &length(picture),
            picture,
        ],
    );
    let curves = [BT709, SRGB_CURVE, BT709].map(u16::from);
    let colour = boxed(b"colr", &[b"nclx", &halves(&curves), &[0]]);
    boxed(
        b"avc1",
        &[
            &[0, 0, 0, 0, 0, 0, 0, 1],
            &[0; 16],
            &halves(&sides),
            &dots_to_an_inch,
            &one_frame_in_24_bits,
            &decoder,
            &colour,
        ],
    )
}
