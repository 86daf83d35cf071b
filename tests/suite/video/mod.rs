//! Films in MP4 files.

mod file;

use file::File;
use sixhold::page::{self, MovieError, Pixels};

/// A frame that follows from its number: flat parts, slopes and noise.
pub fn frame(width: u32, height: u32, number: u32) -> Pixels {
    let pixel = |x: u32, y: u32| -> [u8; 3] {
        let noise = (x * 7919 + y * 104_729 + number * 1_299_709).wrapping_mul(2_654_435_761);
        match (x / 20 + y / 20 + number) % 4 {
            0 => [255; 3],
            1 => [(4 * x) as u8, (2 * y) as u8, 40],
            2 => [20, 90, 160],
            _ => noise.to_be_bytes()[..3].try_into().unwrap(),
        }
    };
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    Pixels {
        width,
        height,
        rgb: places.flat_map(|(x, y)| pixel(x, y)).collect(),
    }
}

fn film(frames: Vec<Pixels>, rate: f64) -> Vec<u8> {
    let mut bytes = Vec::new();
    page::mp4(&mut bytes, frames.into_iter(), rate).unwrap();
    bytes
}

/// Sizes from the smallest on, odd ones among them, which grow by one.
#[test]
fn files_say_what_is_in_them() {
    for ([width, height], count) in [
        ([1, 1], 1),
        ([16, 16], 2),
        ([17, 31], 3),
        ([100, 75], 5),
        ([320, 200], 2),
    ] {
        let frames = (0..count).map(|number| frame(width, height, number));
        let file = File::read(&film(frames.collect(), 12.5));
        let even = [width, height].map(|side| side.next_multiple_of(2));
        assert_eq!(file.sizes, [even; 2]);
        assert_eq!(file.ticks[0], file.ticks[1]);
        let [[frames, step]] = file.steps[..] else {
            panic!("all steps are equal");
        };
        assert_eq!((frames, file.frames.len()), (count, count as usize));
        assert_eq!(f64::from(file.ticks[0]) / f64::from(step), 12.5);
        assert_eq!(file.lengths, [count * step; 3]);
        assert_eq!(file.whole, [1]);
        assert_eq!(file.profile[..2], [66, 0xC0]);
        assert_eq!(file.colours, [1, 13, 1]);
        for (number, unit) in file.frames.iter().enumerate() {
            assert_eq!(unit[0], if number == 0 { 0x65 } else { 0x41 });
            let code = |bytes: &[u8]| bytes[0] == 0 && bytes[1] == 0 && bytes[2] < 3;
            assert!(!unit.windows(3).any(code), "what looks like a start");
        }
        for (unit, header) in file.parameters.iter().zip([0x67, 0x68]) {
            assert_eq!(unit[0], header);
        }
    }
}

/// A player that is sent into the middle of a long film need not decode all before.
#[test]
fn long_films_begin_anew_now_and_then() {
    let frames = (0..600).map(|number| frame(16, 16, number / 50)).collect();
    let file = File::read(&film(frames, 50.0));
    assert_eq!(file.whole, [1, 251, 501]);
    let whole = |number: &usize| file.frames[*number][0] == 0x65;
    assert!((0..600).filter(whole).eq([0, 250, 500]));
}

#[test]
fn what_does_not_change_costs_nothing() {
    let still = |count: usize| film(vec![frame(160, 160, 3); count], 20.0).len();
    // A length, a header, a count of what is skipped, and the size in the table.
    assert!(still(101) - still(1) <= 100 * 16);
}

#[test]
fn the_same_frames_give_the_same_file() {
    let frames = || (0..3).map(|number| frame(50, 40, number)).collect();
    assert_eq!(film(frames(), 20.0), film(frames(), 20.0));
}

#[test]
fn what_cannot_be_a_film_is_told() {
    let told = |frames: Vec<Pixels>| {
        let mut bytes = Vec::new();
        let error = page::mp4(&mut bytes, frames.into_iter(), 20.0).unwrap_err();
        assert!(bytes.is_empty());
        error
    };
    let uneven = told(vec![frame(16, 16, 0), frame(16, 17, 0)]);
    assert!(matches!(uneven, MovieError::Uneven));
    let nothing = told(vec![frame(0, 16, 0)]);
    assert!(matches!(nothing, MovieError::TooLargeForMp4 { .. }));
    let long = told(vec![frame(16_896, 1, 0)]);
    assert!(long.to_string().contains("16880"), "{long}");
    let mut bytes = Vec::new();
    page::mp4(&mut bytes, std::iter::empty(), 20.0).unwrap();
    assert!(bytes.is_empty());
}
