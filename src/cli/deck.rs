//! `sixhold deck`: a lesson in stages as one HTML page.

use super::Outcome;
use super::args::Deck;
use super::figure;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::figure::deck;
use crate::printable::shown;

/// Writes the page.
pub(crate) fn run(args: &Deck) -> Result<Outcome, Failure> {
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
    let (study, settings) = figure::open(&args.file, &args.aspect)?;
    let progress = Progress::unmeasured("drawing slides");
    let mut motions = study.selections(settings.case);
    motions.retain(|motion| args.aspect.motion.is_none_or(|asked| asked == *motion));
    let page = deck::html(&deck::deck(&study, &settings, &motions));
    drop(progress);
    output::save(&args.out, page.as_bytes())?;
    output::written(&args.out);
    Ok(Outcome::Done)
}
