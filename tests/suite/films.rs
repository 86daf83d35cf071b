//! Films in MP4 files; how they look is seen in a browser, in `browser/film.rs`.

use sixhold::drawing::{self, MovieError, Pixels};

/// A frame that follows from its number: flat parts, slopes and noise.
pub(crate) fn frame(width: u32, height: u32, number: u32) -> Pixels {
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
    drawing::mp4(&mut bytes, frames.into_iter(), rate).unwrap();
    bytes
}

/// The 32-bit numbers of the one box of a name, from a byte of its content on (ISO/IEC 14496-12, 4.2).
fn numbers(film: &[u8], name: &[u8; 4], from: usize) -> Vec<u32> {
    let number = |at: usize| u32::from_be_bytes(*film[at..].first_chunk().unwrap());
    let mut found = film.windows(4).enumerate().filter(|(_, four)| four == name);
    let (at, _) = found.next().unwrap();
    assert!(found.next().is_none(), "two boxes");
    let end = at - 4 + number(at - 4) as usize;
    (at + 4 + from..end).step_by(4).map(number).collect()
}

/// Sizes from the smallest on, odd ones among them, which grow by one.
#[test]
fn files_say_what_is_in_them() {
    for ([width, height], count) in [
        ([16, 16], 2),
        ([17, 31], 3),
        ([100, 75], 5),
        ([320, 200], 2),
    ] {
        let frames = (0..count).map(|number| frame(width, height, number));
        let bytes = film(frames.collect(), 12.5);
        // Of the track, 16.16 fixed point (8.3.2).
        let sizes = &numbers(&bytes, b"tkhd", 76)[..2];
        let even = [width, height].map(|side| side.next_multiple_of(2));
        assert_eq!(
            sizes.iter().map(|side| side >> 16).collect::<Vec<_>>(),
            even
        );
        // Ticks in a second of the media (8.4.2), and the runs of frames with the ticks of each (8.6.1.2).
        let second = numbers(&bytes, b"mdhd", 12)[0];
        assert_eq!(numbers(&bytes, b"stts", 4), [1, count, second * 2 / 25]);
    }
}

/// A player that is sent into the middle of a long film need not decode all before.
#[test]
fn long_films_begin_anew_now_and_then() {
    let frames = (0..600).map(|number| frame(16, 16, number / 50)).collect();
    let whole = numbers(&film(frames, 50.0), b"stss", 8);
    assert!(whole.len() >= 3 && whole[0] == 1, "{whole:?}");
    assert!(
        whole.windows(2).all(|pair| pair[1] - pair[0] <= 250),
        "{whole:?}"
    );
}

#[test]
fn what_does_not_change_costs_little() {
    let still = |count: usize| film(vec![frame(160, 160, 3); count], 20.0).len();
    assert!(still(101) - still(1) <= 100 * 64);
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
        let error = drawing::mp4(&mut bytes, frames.into_iter(), 20.0).unwrap_err();
        assert!(bytes.is_empty());
        error
    };
    let uneven = told(vec![frame(16, 16, 0), frame(16, 17, 0)]);
    assert!(matches!(uneven, MovieError::Uneven));
    for [width, height] in [[0, 16], [15, 16], [3841, 16], [16, 3841], [2161, 2161]] {
        let error = told(vec![frame(width, height, 0)]);
        assert!(matches!(error, MovieError::NoFilmSize { .. }), "{error}");
    }
    let mut bytes = Vec::new();
    drawing::mp4(&mut bytes, std::iter::empty(), 20.0).unwrap();
    assert!(bytes.is_empty());
}
