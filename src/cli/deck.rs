//! `sixhold deck`: a lesson in stages as one HTML page.

use super::Outcome;
use super::args::DeckArgs;
use super::figure;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::figure::{DrawingLimit, FigureSettings, deck};
use crate::motion::Selection;
use crate::printable::shown;
use crate::study::Study;

/// Writes the page.
pub(crate) fn run(args: &DeckArgs) -> Result<Outcome, Failure> {
    let ending = args.out.extension().unwrap_or_default();
    if !["html", "htm"]
        .iter()
        .any(|word| ending.eq_ignore_ascii_case(word))
    {
        return Err(Failure::new(
            format!("{}: decks are HTML pages", shown(&args.out)),
            "let the name end in .html",
        ));
    }
    output::check_target(&args.out)?;
    let (study, settings) = figure::open(&args.file, &args.aspect, DrawingLimit::SERIES)?;
    let mut motions = study.selections(settings.case);
    motions.retain(|motion| args.aspect.motion.is_none_or(|asked| asked == *motion));
    let page = deck::html(&drawn(&study, &settings, &motions));
    output::save(&args.out, page.as_bytes())?;
    output::written(&args.out);
    Ok(Outcome::Done)
}

/// The deck, with a line on the terminal while it is drawn: for how long its slides have taken, then how long its frames will.
fn drawn(study: &Study, settings: &FigureSettings, motions: &[Selection]) -> deck::Deck {
    let mut slides = Some(Progress::unmeasured("drawing slides"));
    let mut frames = None;
    let mut step = || {
        slides = None;
        frames
            .get_or_insert_with(|| Progress::new("frame", deck::frames(motions)))
            .step();
    };
    deck::deck_watched(study, settings, motions, &mut step)
}
