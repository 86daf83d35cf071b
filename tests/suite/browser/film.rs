//! Films as a browser plays them.

use std::fs::{self, File};
use std::io::BufReader;
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use sixhold::drawing::{self, Pixels};

use super::Screen;
use super::chromium::{Chromium, Picture};
use crate::command_line::ran;
use crate::films::frame;

/// Longest that a frame may take to be seen after its moment is found.
const PATIENCE: Duration = Duration::from_secs(1);
/// By how many of 255 steps a frame may differ in the mean from what it shows: lines on paper.
const DRAWN: f64 = 1.0;
/// The same of shades and noise.
const WILD: f64 = 2.5;

/// The frames of an animated PNG.
fn frames(path: &str) -> Vec<Picture> {
    let file = BufReader::new(File::open(path).unwrap());
    let mut reader = png::Decoder::new(file).read_info().unwrap();
    let count = reader.info().animation_control().unwrap().num_frames;
    let (width, height) = (reader.info().width as usize, reader.info().height as usize);
    let mut rgb = vec![0; 3 * width * height];
    (0..count)
        .map(|_| {
            reader.next_frame(&mut rgb).unwrap();
            Picture::new(width, height, &rgb)
        })
        .collect()
}

/// A film in a page of its own that a browser has open.
struct Cinema<'a>(&'a mut Chromium);

impl<'a> Cinema<'a> {
    /// Opens the page and waits until the film can be played to its end.
    fn open(chromium: &'a mut Chromium, folder: &Path, film: &str) -> Self {
        let style = "<style>body { margin: 0 } video { display: block }</style>";
        let page = folder.join(format!("{film}.html"));
        fs::write(&page, format!("{style}<video src={film} muted></video>")).unwrap();
        chromium.open(&page, "");
        let ready = chromium.value(
            "new Promise((done) => { const video = document.querySelector('video');
                video.onerror = () => done(video.error.message);
                video.oncanplaythrough = () => done('');
                if (video.error) video.onerror(); else if (video.readyState === 4) done(''); })",
        );
        assert_eq!(ready, "", "{film}");
        Self(chromium)
    }

    /// A number that the browser knows of the film.
    fn number(&mut self, name: &str) -> f64 {
        let value = format!("document.querySelector('video').{name}");
        self.0.value(&value).as_f64().unwrap()
    }

    /// What is seen at a time in seconds, once it is as near to a frame as it should be or enough has been tried.
    ///
    /// A browser says that it has found the moment before it shows it: on a busy machine the frame before is seen for
    /// a while.
    fn at(&mut self, time: f64, frame: &Picture, near: f64) -> Picture {
        let seek = format!(
            "new Promise((done) => {{ const video = document.querySelector('video');
                video.onseeked = () => done(true);
                video.currentTime = {time}; }})"
        );
        let mut wait = Duration::ZERO;
        loop {
            self.0.value(&seek);
            sleep(wait);
            let picture = self.0.picture();
            if picture.mean_distance(frame) < near || wait > PATIENCE {
                return picture;
            }
            wait += Duration::from_millis(50);
        }
    }
}

/// Length and size are right, and at any moment the frame of that moment is seen, and no other, in its colours.
#[test]
fn a_film_plays_in_a_browser() {
    const RATE: f64 = 5.0;
    let Some(mut screen) = Screen::new([480, 360]) else {
        return;
    };
    let path = |name: &str| screen.folder.path().join(name).display().to_string();
    for name in ["a.mp4", "a.png"] {
        let out = path(name);
        let size = ["--seconds", "2", "--rate", "5", "--pixels", "400"];
        let ran = ran(&[&["animate", "handrail", "--out", &out][..], &size].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.err);
    }
    let frames = frames(&path("a.png"));
    let mut cinema = Cinema::open(&mut screen.chromium, screen.folder.path(), "a.mp4");
    assert_eq!(cinema.number("duration"), frames.len() as f64 / RATE);
    // Odd sides grow by one.
    let grown = [frames[0].width, frames[0].height].map(|side| side.next_multiple_of(2) as f64);
    let sides = ["videoWidth", "videoHeight"].map(|side| cinema.number(side));
    assert_eq!(sides, grown);
    // Back and forth, so that frames are found and not only passed.
    for (moment, frame) in frames.iter().enumerate().rev() {
        let picture = cinema.at((moment as f64 + 0.5) / RATE, frame, DRAWN);
        let apart = picture.mean_distance(frame);
        assert!(apart < DRAWN, "frame {moment}: {apart}");
        for other in &frames {
            let nearer = picture.mean_distance(other) < 2.0 * apart;
            assert!(
                !nearer || frame.mean_distance(other) == 0.0,
                "frame {moment}"
            );
        }
    }
}

/// Slopes of colour as shaded bodies have them; how they lie tells the number.
fn shaded(width: u32, height: u32, number: u32) -> Pixels {
    let turn = f64::from(number);
    let shade = |x: u32, y: u32, length: f64| {
        let along = f64::from(x) * turn.cos() + f64::from(y) * turn.sin();
        (128.0 + 120.0 * (along / length).sin()) as u8
    };
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    Pixels {
        width,
        height,
        rgb: places
            .flat_map(|(x, y)| [40.0, 55.0, 90.0].map(|length| shade(x, y, length)))
            .collect(),
    }
}

/// A browser's decoder goes through every kind of macroblock and loses nothing on the way.
#[test]
fn no_frame_is_too_wild_for_a_browser() {
    let Some(mut screen) = Screen::new([320, 240]) else {
        return;
    };
    let [width, height] = [250, 170];
    let frames: Vec<Pixels> = (0..20)
        .map(|number| match number % 4 {
            2 => frame(width, height, number),
            3 => frame(width, height, number - 1),
            _ => shaded(width, height, number),
        })
        .collect();
    let mut film = Vec::new();
    drawing::mp4(&mut film, frames.iter().cloned(), 10.0).unwrap();
    fs::write(screen.folder.path().join("wild.mp4"), film).unwrap();
    let mut cinema = Cinema::open(&mut screen.chromium, screen.folder.path(), "wild.mp4");
    for (number, frame) in frames
        .iter()
        .enumerate()
        .filter(|(number, _)| number % 4 < 2)
    {
        let [width, height] = [frame.width, frame.height].map(|side| side as usize);
        let frame = Picture::new(width, height, &frame.rgb);
        let picture = cinema.at((number as f64 + 0.5) / 10.0, &frame, WILD);
        let apart = picture.mean_distance(&frame);
        assert!(apart < WILD, "frame {number}: {apart}");
    }
}
