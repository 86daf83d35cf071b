//! `sixhold animate`: a motion as a moving picture, without a window: in lines, which needs no graphics driver,
//! or in the 3D view.

mod space;

use std::path::Path;

use super::Outcome;
use super::args::{AnimateArgs, ColoursArg, FilmView};
use super::drawable;
use super::figure;
use super::open;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::drawing::{self, MovieError, Pixels};
use crate::figure::{DrawingLimit, Film};
use crate::printable::shown;
use crate::study::Study;
use crate::theme::Colour;

/// Forms of a moving picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum MovieFormat {
    Gif,
    Apng,
    #[cfg(feature = "films")]
    Mp4,
}

/// Most frames of a film: five minutes at twenty to a second.
const MOST_FRAMES: f64 = 6000.0;

/// Writes the moving picture.
pub(crate) fn run(args: &AnimateArgs) -> Result<Outcome, Failure> {
    let form = form(&args.out)?;
    check_view(args)?;
    output::check_target(&args.out)?;
    let (study, settings) = figure::open(&args.file, &args.aspect, DrawingLimit::SERIES)?;
    drawable::warn_of_boxes(&study);
    let frames = args.seconds * args.rate;
    if frames > MOST_FRAMES {
        return Err(Failure::new(
            format!("{frames} frames are too many; {MOST_FRAMES} are possible"),
            "give fewer --seconds or a smaller --rate",
        ));
    }
    let frames = (frames.round() as usize).max(2);
    let parts: Vec<f64> = match study.course(settings.motion, settings.case) {
        _ if args.turn => (0..frames)
            .map(|frame| frame as f64 / frames as f64)
            .collect(),
        Some(course) => course.parts_in_time(frames),
        None => return Err(at_rest(&study)),
    };
    let bytes = match args.view {
        FilmView::Figure => {
            let film = Film::new(&study, &settings);
            filmed(
                |part| drawn(&film, part, args.pixels),
                form,
                args.rate,
                &parts,
            )?
        }
        FilmView::Space => filmed(
            space::takes(study, &settings, args)?,
            form,
            args.rate,
            &parts,
        )?,
    };
    output::save(&args.out, &bytes)?;
    output::written(&args.out);
    Ok(Outcome::Done)
}

/// Why there is nothing to film, and which load case gives a motion.
fn at_rest(study: &Study) -> Failure {
    let escaping = open::escaping(study);
    let hint = match escaping.as_slice() {
        [] => "`sixhold figure` draws it as it stands, and --view 3d --turn films a turn around it"
            .to_owned(),
        cases => format!("it escapes with --case {}", cases.join(" or --case ")),
    };
    let name = study.name();
    Failure::new(
        format!("{name}: the body is held; there is no motion to show"),
        hint,
    )
}

/// Fails where an option belongs to the view that was not asked for.
fn check_view(args: &AnimateArgs) -> Result<(), Failure> {
    let given = |options: &[(&'static str, bool)]| {
        let found = options.iter().find(|(_, is_given)| *is_given);
        found.map(|(option, _)| *option)
    };
    let look = args.aspect.look != ColoursArg::default();
    let (stray, view, hint) = match args.view {
        FilmView::Figure => (
            given(&[
                ("--camera", args.camera.is_some()),
                ("--theme", args.theme.is_some()),
                ("--turn", args.turn),
            ]),
            "the figure",
            "add --view 3d, or use --projection and --look",
        ),
        FilmView::Space => (
            given(&[
                ("--projection", args.aspect.projection.is_some()),
                ("--look", look),
            ]),
            "the 3D view",
            "leave --view 3d away, or use --camera and --theme",
        ),
    };
    stray.map_or(Ok(()), |option| {
        Err(Failure::new(format!("{option} is not for {view}"), hint))
    })
}

/// What the ending of the name may be.
const ENDINGS: &str = if cfg!(feature = "films") {
    ".mp4, .gif or .png"
} else {
    ".gif or .png"
};

fn form(path: &Path) -> Result<MovieFormat, Failure> {
    let ending = path.extension().unwrap_or_default().to_ascii_lowercase();
    match ending.to_str() {
        Some("gif") => Ok(MovieFormat::Gif),
        Some("png" | "apng") => Ok(MovieFormat::Apng),
        Some("mp4") => mp4(path),
        Some("m4v" | "mov" | "webm" | "avi" | "mkv") => Err(Failure::new(
            format!("{}: MP4 is the only video format supported", shown(path)),
            format!("let the name end in {ENDINGS}; video programs convert it to any other"),
        )),
        _ => Err(Failure::new(
            format!(
                "{}: moving pictures are MP4, GIF or animated PNG files",
                shown(path)
            ),
            format!("let the name end in {ENDINGS}"),
        )),
    }
}

#[cfg(feature = "films")]
fn mp4(_: &Path) -> Result<MovieFormat, Failure> {
    Ok(MovieFormat::Mp4)
}

#[cfg(not(feature = "films"))]
fn mp4(path: &Path) -> Result<MovieFormat, Failure> {
    Err(Failure::new(
        format!(
            "{}: this program was built without films, its feature `films`",
            shown(path)
        ),
        format!(
            "let the name end in {ENDINGS}, or build the program with `--features films`, which needs a C++ compiler"
        ),
    ))
}

/// One frame of the line figure.
fn drawn(film: &Film, part: f64, across: u32) -> Result<Pixels, Failure> {
    let per_point = f64::from(across) / film.width();
    drawing::pixels(&film.at(part), per_point, Colour::WHITE)
        .map_err(|error| Failure::new(error.to_string(), "give fewer --pixels"))
}

/// The film of frames, each taken at a part of the swing, −1 to 1, or of a turn, 0 to 1.
fn filmed(
    mut take: impl FnMut(f64) -> Result<Pixels, Failure>,
    form: MovieFormat,
    rate: f64,
    parts: &[f64],
) -> Result<Vec<u8>, Failure> {
    // Taken first: it tells whether frames are possible at all, and stands in after one has failed.
    let still = take(0.0)?;
    let mut failed = None;
    let progress = Progress::new("frame", parts.len());
    let frames = parts.iter().map(|part| {
        progress.step();
        if failed.is_some() {
            return still.clone();
        }
        take(*part).unwrap_or_else(|failure| {
            failed = Some(failure);
            still.clone()
        })
    });
    let hundredths = ((100.0 / rate).round() as u16).max(1);
    let mut bytes = Vec::new();
    let written = match form {
        MovieFormat::Gif => drawing::gif(&mut bytes, frames, hundredths),
        MovieFormat::Apng => drawing::apng(&mut bytes, frames, hundredths),
        #[cfg(feature = "films")]
        MovieFormat::Mp4 => drawing::mp4(&mut bytes, frames, rate),
    };
    drop(progress);
    if let Some(failure) = failed {
        return Err(failure);
    }
    written.map_err(|error: MovieError| Failure::plain(error.to_string()))?;
    Ok(bytes)
}
