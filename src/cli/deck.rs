//! `sixhold deck`: a lesson in stages as one HTML page.

use super::Outcome;
use super::args::Deck;
use super::figure::Studied;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::figure::Subject;
use crate::figure::deck::{self, DeckSubject};
use crate::motion::Mobilities;
use crate::printable::shown;
use crate::statics::repair::{Mending, MendingSettings};
use crate::statics::{Diagnosis, Model, Tolerance};

/// Writes the page.
pub fn run(args: &Deck) -> Result<Outcome, Failure> {
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
    let studied = Studied::open(&args.file, &args.aspect)?;
    let progress = Progress::unmeasured("drawing slides");
    let mending = Mending::of(
        &studied.opened.scene,
        &studied.diagnosis,
        &MendingSettings::default(),
    )
    .map_err(|error| Failure::model(&args.file, &error))?;
    let mended = match &mending {
        Some(mending) => Some(Mended::new(mending, &args.file)?),
        None => None,
    };
    let subject = DeckSubject {
        subject: studied.subject(),
        mending: mended
            .as_ref()
            .map(|mended| (mended.mending, mended.subject())),
    };
    let mut motions = studied.mobilities.selections(studied.settings.case);
    motions.retain(|motion| args.aspect.motion.is_none_or(|asked| asked == *motion));
    let page = deck::html(&deck::deck(&subject, &studied.settings, &motions));
    drop(progress);
    output::save(&args.out, page.as_bytes())?;
    output::written(&args.out);
    Ok(Outcome::Done)
}

/// The scene with the links that hold it, and what is known of it.
struct Mended<'a> {
    mending: &'a Mending,
    model: Model,
    diagnosis: Diagnosis,
    mobilities: Mobilities,
}

impl<'a> Mended<'a> {
    fn new(mending: &'a Mending, name: &str) -> Result<Self, Failure> {
        let model = Model::new(&mending.scene).map_err(|error| Failure::model(name, &error))?;
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        Ok(Self {
            mending,
            mobilities: Mobilities::of(&model, &diagnosis),
            model,
            diagnosis,
        })
    }

    fn subject(&self) -> Subject<'_> {
        Subject {
            scene: &self.mending.scene,
            model: &self.model,
            diagnosis: &self.diagnosis,
            mobilities: &self.mobilities,
        }
    }
}
