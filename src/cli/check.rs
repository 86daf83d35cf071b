//! `sixhold check`: the diagnosis of each scene, as text or JSON.

use super::Outcome;
use super::args::{CheckArgs, Format, Requirement, RoundingArgs};
use super::open;
use super::output::{self, Failure};
use super::progress::Progress;
use crate::document::{self, Styles};
use crate::printable::printable;
use crate::report::paper::{self, ReportDocument};
use crate::report::{Report, json};
use crate::statics::CaseIndex;
use crate::study::Study;
use crate::wording;

/// A scene, and the load case to be reported alone.
type Checked = (Study, Option<CaseIndex>);

/// Prints what is known about every scene that can be read, and fails for the others.
pub(crate) fn run(args: &CheckArgs) -> Result<Outcome, Failure> {
    let mut checked = Vec::with_capacity(args.files.len());
    let mut outcome = Outcome::Done;
    for name in &args.files {
        match check(name, args) {
            Ok(scene) => checked.push(scene),
            Err(failure) => {
                output::failure(&failure);
                outcome = Outcome::Bad;
            }
        }
    }
    output::answer(&answer(&checked, args)?)?;
    if let Some(requirement) = args.require
        && !all_meet(&checked, requirement)
        && outcome == Outcome::Done
    {
        outcome = Outcome::NotMet;
    }
    Ok(outcome)
}

fn check(name: &str, args: &CheckArgs) -> Result<Checked, Failure> {
    let study = open::open(name)?;
    let study = match args.elastic {
        true => study.on_springs(),
        false => study,
    };
    let case = args.case.as_deref();
    let case = case.map(|case| open::case(&study, case)).transpose()?;
    Ok((study, case))
}

fn report((study, case): &Checked) -> Report<'_> {
    Report { study, case: *case }
}

fn answer(checked: &[Checked], args: &CheckArgs) -> Result<String, Failure> {
    let _progress = progress(checked);
    let reports: Vec<Report> = checked.iter().map(report).collect();
    let json = match (args.format, reports.as_slice()) {
        (Format::Text, reports) => {
            let texts: Vec<String> = reports
                .iter()
                .map(|report| text(*report, args.details, args.rounding))
                .collect();
            return Ok(texts.join(RULE));
        }
        // One scene that cannot be read leaves nothing to print.
        (Format::Json, []) if args.files.len() == 1 => return Ok(String::new()),
        (Format::Json, [report]) if args.files.len() == 1 => json::object(report),
        (Format::Json, reports) => json::array(reports),
    };
    json.map(|text| text + "\n")
        .map_err(|error| Failure::Plain {
            message: format!("the report has no JSON form: {error}"),
            hint: None,
        })
}

/// A report as text in colours.
pub(super) fn text(report: Report, has_details: bool, rounding: RoundingArgs) -> String {
    let paper = ReportDocument {
        report,
        figure: None,
        diagrams: &[],
        is_worked: false,
        has_details,
        digits: rounding.digits,
        record: None,
    };
    document::terminal(&paper::document(&paper), &Styles::coloured())
}

/// Between two reports.
const RULE: &str = "\n────────────────────\n\n";

/// What is being done while everything that a report asks for is computed.
fn progress(checked: &[Checked]) -> Option<Progress> {
    let what = match checked {
        [] => return None,
        [(study, _)] => printable(study.name()).into_owned(),
        several => format!("{} scenes", several.len()),
    };
    Some(Progress::unmeasured(format!("checking {what}")))
}

fn all_meet(checked: &[Checked], requirement: Requirement) -> bool {
    let mut all = true;
    for scene in checked {
        if let Some(fault) = fault(&report(scene), requirement) {
            output::note(&format!("not met: {} is {fault}", scene.0.name()));
            all = false;
        }
    }
    all
}

/// What a scene is instead of what it is required to be.
fn fault(report: &Report, requirement: Requirement) -> Option<String> {
    let (model, diagnosis) = (report.study.model(), report.study.diagnosis());
    let (counts, held) = (&diagnosis.counts, diagnosis.is_held());
    let uncarried = report.uncarried();
    let loads = || wording::uncarried(model, diagnosis, &uncarried);
    match requirement {
        Requirement::Carried if !held && !uncarried.is_empty() => {
            Some(format!("not held, and {}", loads()))
        }
        Requirement::Held | Requirement::Determinate if !held => {
            let degrees = match counts.freedom {
                1 => "1 degree".to_owned(),
                several => format!("{several} degrees"),
            };
            Some(format!("not held: {degrees} of freedom"))
        }
        _ if !uncarried.is_empty() => Some(format!("constrained, but {}", loads())),
        Requirement::Determinate if !counts.is_determinate() => Some(format!(
            "held, but not statically determinate: redundancy {}",
            counts.redundancy
        )),
        _ => None,
    }
}
