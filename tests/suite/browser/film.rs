//! Films as a browser plays them.

use std::fs::{self, File};
use std::io::BufReader;

use super::Lecture;
use super::chromium::Picture;
use crate::command_line::ran;

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

/// Length and size are right, and at any moment the frame of that moment is seen, and no other, in its colours.
#[test]
fn a_film_plays_in_a_browser() {
    const RATE: f64 = 5.0;
    let Some(mut lecture) = Lecture::new([480, 360]) else {
        return;
    };
    let path = |name: &str| lecture.folder.path().join(name).display().to_string();
    for name in ["a.mp4", "a.png"] {
        let out = path(name);
        let size = ["--seconds", "2", "--rate", "5", "--pixels", "400"];
        let ran = ran(&[&["animate", "handrail", "--out", &out][..], &size].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.err);
    }
    let frames = frames(&path("a.png"));
    let page = lecture.folder.path().join("a.html");
    let text =
        "<style>body { margin: 0 } video { display: block }</style><video src=a.mp4 muted></video>";
    fs::write(&page, text).unwrap();
    let chromium = &mut lecture.chromium;
    chromium.open(&page, "");
    let length = chromium.value(
        "new Promise((done) => { const video = document.querySelector('video');
            video.onerror = () => done(video.error.message);
            video.oncanplaythrough = () => done(video.duration);
            if (video.error) video.onerror(); else if (video.readyState === 4) video.oncanplaythrough(); })",
    );
    assert_eq!(length, frames.len() as f64 / RATE);
    let sides = ["videoWidth", "videoHeight"].map(|side| {
        let side = chromium.value(&format!("document.querySelector('video').{side}"));
        side.as_u64().unwrap() as usize
    });
    // Odd sides grow by one.
    let grown = [frames[0].width, frames[0].height].map(|side| side.next_multiple_of(2));
    assert_eq!(sides, grown);
    // Back and forth, so that frames are found and not only passed.
    for (moment, frame) in frames.iter().enumerate().rev() {
        let time = (moment as f64 + 0.5) / RATE;
        chromium.value(&format!(
            "new Promise((done) => {{ const video = document.querySelector('video');
                video.onseeked = () => done(true);
                video.currentTime = {time}; }})"
        ));
        let picture = chromium.picture();
        let apart = picture.mean_distance(frame);
        assert!(apart < 1.0, "frame {moment}: {apart}");
        for other in &frames {
            let nearer = picture.mean_distance(other) < 2.0 * apart;
            assert!(
                !nearer || frame.mean_distance(other) == 0.0,
                "frame {moment}"
            );
        }
    }
}
