//! `sixhold view`: the window; where there is none, the diagnosis and what to do.

use super::Outcome;
use super::args::View;
use super::open::{self, Opened};
use super::output::{self, Failure};
use crate::report::text::Styles;
use crate::report::{Report, text};
use crate::scene::builtin;
use crate::statics::{Diagnosis, Tolerance};

/// Opens the window on a scene.
pub fn run(args: &View) -> Result<Outcome, Failure> {
    let name = args.file.as_deref().unwrap_or(builtin::DEFAULT);
    show(&open::open(name)?)
}

/// Opens the window on the default scene.
pub fn run_default() -> Result<Outcome, Failure> {
    run(&View { file: None })
}

fn show(opened: &Opened) -> Result<Outcome, Failure> {
    let diagnosis = Diagnosis::new(&opened.model, Tolerance::default());
    let report = Report {
        source: &opened.name,
        model: &opened.model,
        diagnosis: &diagnosis,
        case: None,
    };
    output::answer(&text::text(&report, &Styles::coloured()))?;
    output::note(&format!("\n{}", obstacle()));
    Ok(Outcome::Done)
}

/// Why no window can be opened, and what to do instead.
fn obstacle() -> String {
    "This sixhold was built without its viewer, so no window is opened. Build it with its default features."
        .to_owned()
}
