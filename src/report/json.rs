//! The report as JSON, in the scene's units.
//!
//! Numbers carry twelve significant digits: enough for any comparison, too few to show rounding noise. A number
//! that does not exist (the pitch of a translation, a reaction that equilibrium does not decide) is `null`.

use nalgebra::{Point3, Vector3};
use serde::Serialize;

use super::depth_json::{self, AccelerationPart, HeatPart, NearnessPart, OneWayPart};
use super::mobility::{self, MobilityDocument};
use super::{Report, circuits, clean_singular_values, reasons, repairs};
use crate::motion::Mobility;
use crate::printable::for_json;
use crate::scene::Units;
use crate::statics::{
    CaseAnswer, Counts, Diagnosis, FreeMotion, Model, ReactionKind, SharedAxis, Verdict,
};
use crate::words;

/// A whole report.
#[derive(Debug, Serialize)]
struct Document<'a> {
    source: &'a str,
    title: &'a str,
    space: &'static str,
    units: UnitSymbols,
    unknowns: usize,
    rank: usize,
    exact_rank: usize,
    /// Whether every direction follows exactly from the decimals of the scene.
    exact_rank_as_written: bool,
    freedom: usize,
    redundancy: usize,
    verdict: &'static str,
    /// Whether every motion is stopped, contacts and cables counted as holding both ways.
    held: bool,
    determinate: bool,
    /// Whether there is equilibrium with pushes and pulls alone in every load case reported.
    carried: bool,
    headline: String,
    reason: String,
    reasons: Vec<reasons::ReasonObject<'a>>,
    remarks: Vec<String>,
    /// Of the reaction matrix with moments over `characteristic_length` about `reference_point`.
    singular_values: Vec<Option<f64>>,
    tolerance: f64,
    characteristic_length: Option<f64>,
    reference_point: [Option<f64>; 3],
    free_motions: Vec<Motion<'a>>,
    /// Which combinations of free motions go on; `null` where all pass the test of second order or none does, and where
    /// supports act one way.
    combinations: Option<mobility::CombinationsPart<'a>>,
    shared_axes: Vec<Axis<'a>>,
    /// The load case whose values stand in `reactions`.
    case: &'a str,
    reactions: Vec<ReactionValue<'a>>,
    equilibrium: Vec<Balance<'a>>,
    circuits: Vec<circuits::CircuitObject<'a>>,
    /// `all`, or `basis` where there are too many to list.
    circuits_listed: &'static str,
    /// How many circuits there are; `null` where they were not counted.
    circuits_count: Option<usize>,
    decided_combinations: Vec<circuits::CombinationObject<'a>>,
    other_reading: Option<Reading<'a>>,
    /// `null` where the body is not held.
    nearness: Option<NearnessPart<'a>>,
    /// `null` where every support acts both ways.
    one_way: Option<OneWayPart<'a>>,
    /// Of the cases that start the body from rest, where its mass is known.
    acceleration: Vec<AccelerationPart<'a>>,
    heat: HeatPart<'a>,
    /// Links that would hold the body; `null` where it is held.
    repairs: Option<repairs::Links<'a>>,
    releases: repairs::Released<'a>,
    caution: &'static str,
}

#[derive(Debug, Serialize)]
struct UnitSymbols {
    length: &'static str,
    force: &'static str,
    moment: String,
}

#[derive(Debug, Serialize)]
struct Motion<'a> {
    #[serde(flatten)]
    motion: depth_json::Motion,
    mobility: MobilityDocument<'a>,
}

#[derive(Debug, Serialize)]
struct Axis<'a> {
    direction: [Option<f64>; 3],
    point: [Option<f64>; 3],
    supports: Vec<&'a str>,
    /// Index into `free_motions`, from 0.
    motion: usize,
}

#[derive(Debug, Serialize)]
struct ReactionValue<'a> {
    name: &'a str,
    support: &'a str,
    kind: &'static str,
    direction: [Option<f64>; 3],
    point: [Option<f64>; 3],
    value: Option<f64>,
}

#[derive(Debug, Serialize)]
struct Balance<'a> {
    case: &'a str,
    loaded: bool,
    possible: bool,
    /// Whether equilibrium decides every reaction.
    decided: bool,
    drives: Vec<Drive>,
    /// In the order of `reactions`.
    values: Vec<Option<f64>>,
    words: String,
}

#[derive(Debug, Serialize)]
struct Drive {
    /// Index into `free_motions`, from 0.
    motion: usize,
    /// `positive` along the motion's direction (right-handed about it), `negative` the other way.
    sense: &'static str,
}

#[derive(Debug, Serialize)]
struct Reading<'a> {
    supports: &'a [String],
    with_couples: bool,
    unknowns: usize,
    rank: usize,
    freedom: usize,
    redundancy: usize,
}

/// One report as a JSON object.
///
/// # Errors
/// Only for a bug of ours: every field has a JSON form.
pub fn object(report: &Report) -> serde_json::Result<String> {
    pretty(&document(report))
}

/// Reports as a JSON array.
///
/// # Errors
/// Only for a bug of ours: every field has a JSON form.
pub fn array(reports: &[Report]) -> serde_json::Result<String> {
    let documents: Vec<_> = reports.iter().map(document).collect();
    pretty(&documents)
}

/// A value as JSON to read, which says nothing else on a terminal than it holds.
pub(super) fn pretty(value: &impl Serialize) -> serde_json::Result<String> {
    let text = serde_json::to_string_pretty(value)?;
    Ok(for_json(&text).into_owned())
}

fn document<'a>(report: &Report<'a>) -> Document<'a> {
    let (model, diagnosis, study) = (report.model(), report.diagnosis(), report.study);
    let first = &report.cases()[0];
    let metres = model.units.length.in_metres();
    let Counts {
        unknowns,
        rank,
        freedom,
        redundancy,
    } = diagnosis.counts;
    Document {
        source: report.study.name(),
        title: &model.title,
        space: model.space.word(),
        units: symbols(&model.units),
        unknowns,
        rank,
        exact_rank: diagnosis.exact.rank,
        exact_rank_as_written: diagnosis.exact.as_written,
        freedom,
        redundancy,
        verdict: verdict(diagnosis.verdict()),
        held: diagnosis.is_held(),
        determinate: diagnosis.counts.is_determinate(),
        carried: report.uncarried().is_empty(),
        headline: report.headline(),
        reason: words::reason(model, diagnosis),
        reasons: reasons::objects(report),
        remarks: words::remarks(model, diagnosis),
        singular_values: clean_singular_values(diagnosis)
            .into_iter()
            .map(tidy)
            .collect(),
        tolerance: diagnosis.numeric.tolerance.relative(),
        characteristic_length: tidy(model.length / metres),
        reference_point: point(model, &model.reference),
        free_motions: diagnosis
            .free_motions
            .iter()
            .zip(&report.study.mobilities().motions)
            .map(|(m, mobility)| motion(model, m, mobility))
            .collect(),
        combinations: study
            .mobilities()
            .combinations
            .as_ref()
            .map(|found| mobility::combinations(model, &diagnosis.free_motions, found)),
        shared_axes: diagnosis
            .shared_axes
            .iter()
            .map(|a| axis(model, a))
            .collect(),
        case: &first.name,
        reactions: reactions(model, first),
        equilibrium: report
            .cases()
            .iter()
            .map(|case| balance(model, diagnosis, case))
            .collect(),
        circuits: circuits::circuit_objects(report),
        circuits_listed: circuits::listed(report),
        circuits_count: circuits::count(report),
        decided_combinations: circuits::combination_objects(report),
        other_reading: diagnosis.other_reading.as_ref().map(|other| Reading {
            supports: &other.supports,
            with_couples: other.with_couples,
            unknowns: other.counts.unknowns,
            rank: other.counts.rank,
            freedom: other.counts.freedom,
            redundancy: other.counts.redundancy,
        }),
        nearness: study
            .nearness()
            .filter(|_| diagnosis.is_held())
            .map(|nearness| depth_json::nearness(model, nearness, study.rounding())),
        one_way: study
            .one_way()
            .map(|one_way| depth_json::one_way(model, one_way, report.case_indices())),
        acceleration: depth_json::accelerations(
            model,
            study.accelerations(),
            report.case_indices(),
        ),
        heat: depth_json::heat(model, study.heat()),
        repairs: repairs::links(model, study.repair()),
        releases: repairs::released(model, study.releases()),
        caution: words::CAUTION,
    }
}

fn symbols(units: &Units) -> UnitSymbols {
    UnitSymbols {
        length: units.length.symbol(),
        force: units.force.symbol(),
        moment: units.moment_symbol(),
    }
}

fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::ProperlyConstrained => "properly_constrained",
        Verdict::PartiallyConstrained => "partially_constrained",
        Verdict::ImproperlyConstrained => "improperly_constrained",
    }
}

fn motion<'a>(model: &'a Model, motion: &FreeMotion, mobility: &Mobility) -> Motion<'a> {
    Motion {
        motion: depth_json::motion(model, motion),
        mobility: mobility::document(model, motion, mobility),
    }
}

fn axis<'a>(model: &'a Model, axis: &SharedAxis) -> Axis<'a> {
    Axis {
        direction: triple(&axis.direction),
        point: point(model, &axis.point),
        supports: axis
            .supports
            .iter()
            .map(|index| model.supports[*index].name.as_str())
            .collect(),
        motion: axis.motion,
    }
}

fn reactions<'a>(model: &'a Model, case: &CaseAnswer) -> Vec<ReactionValue<'a>> {
    let kind = |kind| match kind {
        ReactionKind::Force => "force",
        ReactionKind::Couple => "couple",
    };
    model
        .reactions
        .iter()
        .zip(values(model, case))
        .map(|(reaction, value)| ReactionValue {
            name: &reaction.name,
            support: &model.supports[reaction.support].name,
            kind: kind(reaction.kind),
            direction: triple(&reaction.direction),
            point: point(model, &reaction.point),
            value,
        })
        .collect()
}

/// SI units in the scene's unit of a reaction.
pub(super) fn unit(model: &Model, kind: ReactionKind) -> f64 {
    match kind {
        ReactionKind::Force => model.units.force.in_newtons(),
        ReactionKind::Couple => model.units.moment_in_newton_metres(),
    }
}

fn values(model: &Model, case: &CaseAnswer) -> Vec<Option<f64>> {
    model
        .reactions
        .iter()
        .zip(&case.values)
        .map(|(reaction, value)| value.and_then(|value| tidy(value / unit(model, reaction.kind))))
        .collect()
}

fn balance<'a>(model: &Model, diagnosis: &Diagnosis, case: &'a CaseAnswer) -> Balance<'a> {
    let drives = case
        .powers
        .iter()
        .enumerate()
        .filter(|(_, power)| **power != 0.0)
        .map(|(motion, power)| Drive {
            motion,
            sense: if *power > 0.0 { "positive" } else { "negative" },
        })
        .collect();
    Balance {
        case: &case.name,
        loaded: case.loaded,
        possible: case.is_balanced(),
        decided: case.is_determinate(),
        drives,
        values: values(model, case),
        words: words::balance(model, diagnosis, case),
    }
}

/// From the origin, in the scene's length unit, coordinates that vanish beside the size of the scene made zero.
pub(super) fn point(model: &Model, point: &Point3<f64>) -> [Option<f64>; 3] {
    let metres = model.units.length.in_metres();
    let noise = super::ROUNDING * model.length;
    let from_datum = point
        .coords
        .map(|x| if x.abs() <= noise { 0.0 } else { x / metres });
    std::array::from_fn(|axis| tidy(from_datum[axis]).map(|x| model.datum.from_origin(axis, x)))
}

pub(super) fn triple(vector: &Vector3<f64>) -> [Option<f64>; 3] {
    [tidy(vector.x), tidy(vector.y), tidy(vector.z)]
}

/// A number to twelve significant digits, without negative zero; `None` for what is no number.
pub(super) fn tidy(value: f64) -> Option<f64> {
    if !value.is_finite() {
        return None;
    }
    // Adding zero turns −0 into 0.
    format!("{value:.11e}").parse::<f64>().ok().map(|x| x + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_tidied() {
        assert_eq!(tidy(0.1 + 0.2), Some(0.3));
        assert!(tidy(-0.0).unwrap().is_sign_positive());
        assert_eq!(tidy(f64::INFINITY), None);
        assert_eq!(tidy(f64::NAN), None);
        assert_eq!(tidy(1e300), Some(1e300));
    }
}
