//! The reactions as a table for other programs: CSV (RFC 4180), in the scene's units.

use crate::statics::{CaseIndex, Reaction, ReactionIndex, ReactionKind};
use crate::study::Study;

/// The columns, in their order.
const HEAD: [&str; 13] = [
    "case",
    "reaction",
    "support",
    "kind",
    "x",
    "y",
    "z",
    "direction_x",
    "direction_y",
    "direction_z",
    "unit",
    "value",
    "follows_from",
];

/// Every reaction of the load cases, a row for each: where it acts, a unit direction, its value, and what that follows from:
/// `equilibrium`, else the bending of `bars`, else `springs`. A value that does not follow is empty, and so is what it follows from.
///
/// # Errors
/// Only for a bug of ours: rows are written to memory and have one length.
pub fn reactions_csv(study: &Study, case: Option<CaseIndex>) -> Result<Vec<u8>, csv::Error> {
    let model = study.model();
    let mut table = csv::Writer::from_writer(Vec::new());
    table.write_record(HEAD)?;
    let cases = model.cases.indices();
    for index in cases.filter(|index| case.is_none_or(|case| case == *index)) {
        for (j, reaction) in model.reactions.enumerate() {
            table.write_record(row(study, index, j, reaction))?;
        }
    }
    table
        .into_inner()
        .map_err(|error| error.into_error().into())
}

fn row(
    study: &Study,
    case: CaseIndex,
    index: ReactionIndex,
    reaction: &Reaction,
) -> [String; HEAD.len()] {
    let model = study.model();
    let support = &model.supports[reaction.support];
    let metres = model.units.length.in_metres();
    let (kind, unit, symbol) = match reaction.kind {
        ReactionKind::Force => (
            "force",
            model.units.force.in_newtons(),
            model.units.force.symbol().to_owned(),
        ),
        ReactionKind::Couple => (
            "couple",
            model.units.moment_in_newton_metres(),
            model.units.moment_symbol(),
        ),
    };
    let (value, source) = match value(study, case, index) {
        Some((value, source)) => (number(value / unit), source.to_owned()),
        None => Default::default(),
    };
    let [x, y, z] = [0, 1, 2].map(|k| number(support.point[k] / metres));
    let [u, v, w] = [0, 1, 2].map(|k| number(reaction.direction[k]));
    [
        model.cases[case].name.clone(),
        reaction.name.clone(),
        support.name.clone(),
        kind.to_owned(),
        x,
        y,
        z,
        u,
        v,
        w,
        symbol,
        value,
        source,
    ]
}

/// A value, N or N·m, and what it follows from.
fn value(study: &Study, case: CaseIndex, index: ReactionIndex) -> Option<(f64, &'static str)> {
    let answer = &study.diagnosis().cases[case];
    let is_carried = study.uncarried().iter().all(|other| other.case != case);
    if let Some(value) = answer.values[index].filter(|_| is_carried) {
        return Some((value, "equilibrium"));
    }
    let bars = study.frame().and_then(|frame| frame.cases[case].answer());
    if let Some(found) = bars {
        return Some((found.reactions.values[index], "bars"));
    }
    let springs = study.elastic()?.cases[case].reactions()?;
    Some((springs.values[index], "springs"))
}

/// All digits, and no minus before zero.
fn number(value: f64) -> String {
    (value + 0.0).to_string()
}
