//! `sixhold sweep`: what becomes of margin and reactions when things are a little off, whole or in shares.

use std::fs;

use super::Outcome;
use super::args::{Format, SweepArgs, SweepAsked};
use super::figure;
use super::interrupt::Deferral;
use super::open;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::document::{self, Styles};
use crate::figure::{FigureColours, histograms};
use crate::report::sweep::{self as report, SweepReport};
use crate::scene;
use crate::study::Study;
use crate::sweep::{
    self, JoinError, Sweep, SweepError, SweepPart, SweepSettings, SweepShare, SweepTally,
    SweepTolerances, SweepWatch,
};

/// Width of a figure of histograms, mm: three beside each other.
const PAGE_MM: f64 = 160.0;
/// Pixels per inch of histograms as PNG.
const DPI: f64 = 300.0;

/// Sweeps a scene or joins shares, prints what was found, and writes what is asked for.
pub(crate) fn run(args: &SweepArgs) -> Result<Outcome, Failure> {
    let targets = [&args.share, &args.worst, &args.csv, &args.figure];
    for path in targets.into_iter().flatten() {
        output::check_target(path)?;
    }
    if let Some(path) = &args.figure {
        figure::form(path)?;
    }
    match args.join {
        true => join(args),
        false => sweep(args),
    }
}

fn sweep(args: &SweepArgs) -> Result<Outcome, Failure> {
    let [file] = args.files.as_slice() else {
        return Err(Failure::new(
            "a sweep is of one scene, and several are named",
            "sweep one after the other, or join shares with --join",
        ));
    };
    let study = open::open(file)?;
    if let Some(worst) = &args.worst {
        open::keep_original(&study, worst)?;
    }
    let case = args.asked.case.as_deref();
    let case = case.map(|case| open::case(&study, case)).transpose()?;
    let sweep = Sweep::new(&study, settings(&study, &args.asked), case)?;
    let part = args.asked.part.unwrap_or(SweepPart::WHOLE);
    let deferral = Deferral::new();
    let tally = watched(&sweep, part, &deferral);
    if tally.placements == 0 {
        deferral.end();
        return Err(Failure::plain("stopped before any placement was done"));
    }
    tell(args, &sweep, part, tally)?;
    deferral.end();
    Ok(Outcome::Done)
}

/// What the arguments ask for, in SI units.
fn settings(study: &Study, asked: &SweepAsked) -> SweepSettings {
    let model = study.model();
    let metres = model.units.length.in_metres();
    let part = |percent: f64| percent / 100.0;
    let placement = asked.placement.map(|length| length * metres);
    let tolerances = SweepTolerances {
        placement: placement.or(model.placement_tolerance),
        direction: asked.direction.map(f64::to_radians),
        load: asked.load.map(part),
        stiffness: asked.stiffness.map(part),
    };
    let reach = asked.reach.map(|length| length * metres);
    SweepSettings {
        count: asked.count,
        seed: asked.seed,
        distribution: asked.distribution.into(),
        reach: reach.or(tolerances.placement).unwrap_or(0.0),
        tolerances,
    }
}

/// Works through a share with a line on how far it is.
fn watched(sweep: &Sweep, part: SweepPart, deferral: &Deferral) -> SweepTally {
    let numbers = part.placements(sweep.settings().count);
    let steps = usize::try_from(numbers.end - numbers.start).unwrap_or(usize::MAX);
    let progress = Progress::new("placement", steps);
    let watch = SweepWatch {
        stops: &|| deferral.is_asked(),
        done: &|more| progress.advance(more),
    };
    sweep.run(numbers, &watch)
}

fn join(args: &SweepArgs) -> Result<Outcome, Failure> {
    let share = |file: &String| {
        let text = fs::read_to_string(file)
            .map_err(|error| Failure::plain(format!("{file} cannot be read ({error})")))?;
        Ok((file.clone(), SweepShare::read(file, &text)?))
    };
    let shares = args.files.iter().map(share);
    let whole = SweepShare::joined(shares.collect::<Result<_, Failure>>()?)?;
    let study = study_of(&whole)?;
    let case = whole.case.as_deref();
    let case = case.map(|case| open::case(&study, case)).transpose()?;
    let sweep = Sweep::new(&study, whole.settings.clone(), case)?;
    if !whole.tally.fits(&sweep) {
        return Err(Failure::new(
            format!(
                "{}: the share has not as many reactions as its scene",
                args.files[0]
            ),
            "make the shares again",
        ));
    }
    tell(args, &sweep, SweepPart::WHOLE, whole.tally)?;
    Ok(Outcome::Done)
}

fn study_of(share: &SweepShare) -> Result<Study, Failure> {
    let read = scene::read_str("the scene of the shares", &share.scene)?;
    Study::new(read.scene).map_err(|error| Failure::plain(error.to_string()))
}

/// Writes the files that are asked for, then prints.
fn tell(
    args: &SweepArgs,
    sweep: &Sweep,
    part: SweepPart,
    tally: SweepTally,
) -> Result<(), Failure> {
    if let (Some(path), Some(worst)) = (&args.worst, tally.worst) {
        scene::save_file(&sweep.scene(worst.placement), path)?;
        output::written(path);
    }
    if let Some(path) = &args.csv {
        let table = sweep::csv(sweep, &tally)
            .map_err(|error| Failure::plain(format!("the sweep has no table: {error}")))?;
        output::save(path, &table)?;
        output::written(path);
    }
    if let Some(path) = &args.figure {
        let drawing = histograms(sweep, &tally, PAGE_MM, FigureColours::default());
        let bytes = figure::written(&drawing, figure::form(path)?, DPI)?;
        output::save(path, &bytes)?;
        output::written(path);
    }
    let share = SweepShare::new(sweep, part, tally);
    if let Some(path) = &args.share {
        let text = share.to_json().map_err(no_form)?;
        output::save(path, text.as_bytes())?;
        output::written(path);
    }
    let report = SweepReport {
        sweep,
        part,
        tally: &share.tally,
    };
    let text = match args.format {
        Format::Text => {
            let document = report::document(&report).with_digits(args.rounding.digits);
            document::terminal(&document, &Styles::coloured())
        }
        Format::Json => report::json(&report).map_err(no_form)? + "\n",
    };
    output::answer(&text)?;
    if share.tally.placements < share.size() {
        output::note(&format!(
            "stopped after {} of {} placements",
            share.tally.placements,
            share.size()
        ));
    }
    Ok(())
}

fn no_form(error: serde_json::Error) -> Failure {
    Failure::plain(format!("the sweep has no JSON form: {error}"))
}

impl From<SweepError> for Failure {
    fn from(error: SweepError) -> Self {
        Self::new(error.to_string(), error.hint())
    }
}

impl From<JoinError> for Failure {
    fn from(error: JoinError) -> Self {
        Self::new(error.to_string(), error.hint())
    }
}
