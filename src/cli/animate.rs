//! `sixhold animate`: the free motion as a moving line figure, without a window and without a graphics driver.

use std::cell::RefCell;
use std::path::Path;

use super::Outcome;
use super::args::Animate;
use super::figure::{Studied, WHITE};
use super::output::{self, Failure, Progress};
use crate::figure::Film;
use crate::page::{self, MovieError, Pixels};

/// Forms of a moving picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Gif,
    Apng,
}

/// Most frames of a film: five minutes at twenty to a second.
const MOST_FRAMES: f64 = 6000.0;

/// Writes the moving picture.
pub fn run(args: &Animate) -> Result<Outcome, Failure> {
    let form = form(&args.out)?;
    output::check_folder(&args.out)?;
    let studied = Studied::open(&args.file, &args.aspect)?;
    if studied.diagnosis.is_held() {
        return Err(Failure::new(
            format!(
                "{}: the body is held; there is no motion to show",
                args.file
            ),
            "`sixhold figure` draws it as it stands",
        ));
    }
    let frames = args.seconds * args.rate;
    if frames > MOST_FRAMES {
        return Err(Failure::new(
            format!("{frames} frames are too many; {MOST_FRAMES} are possible"),
            "give fewer --seconds or a smaller --rate",
        ));
    }
    let subject = studied.subject();
    let film = Film::new(&subject, &studied.settings);
    let bytes = filmed(&film, form, args, (frames.round() as usize).max(2))?;
    output::save(&args.out, &bytes)?;
    output::note(&format!("written: {}", args.out.display()));
    Ok(Outcome::Done)
}

fn form(path: &Path) -> Result<Form, Failure> {
    let ending = path.extension().unwrap_or_default().to_ascii_lowercase();
    match ending.to_str() {
        Some("gif") => Ok(Form::Gif),
        Some("png" | "apng") => Ok(Form::Apng),
        Some("mp4" | "webm" | "mov" | "avi" | "mkv") => Err(Failure::new(
            format!("{}: video files are not possible", path.display()),
            "let the name end in .gif or .png (an animated PNG); video programs convert either",
        )),
        _ => Err(Failure::new(
            format!(
                "{}: moving pictures are GIF or animated PNG files",
                path.display()
            ),
            "let the name end in .gif or .png",
        )),
    }
}

fn filmed(film: &Film, form: Form, args: &Animate, count: usize) -> Result<Vec<u8>, Failure> {
    let per_point = f64::from(args.pixels) / film.width();
    let progress = RefCell::new(Progress::new("frame", count));
    // The first frame tells whether images of this size are possible at all.
    page::pixels(&film.at(0.0), per_point, WHITE)
        .map_err(|error| Failure::new(error.to_string(), "give fewer --pixels"))?;
    let frames = Film::parts(count).map(|part| {
        progress.borrow_mut().step();
        page::pixels(&film.at(part), per_point, WHITE).unwrap_or(Pixels {
            width: 0,
            height: 0,
            rgb: Vec::new(),
        })
    });
    let hundredths = ((100.0 / args.rate).round() as u16).max(1);
    let mut bytes = Vec::new();
    let written = match form {
        Form::Gif => page::gif(&mut bytes, frames, hundredths),
        Form::Apng => page::apng(&mut bytes, frames, hundredths),
    };
    progress.borrow().end();
    written.map_err(|error: MovieError| Failure::plain(error.to_string()))?;
    Ok(bytes)
}
