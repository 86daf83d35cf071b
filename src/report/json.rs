//! The report as JSON, in the scene's units.
//!
//! Numbers carry twelve significant digits: enough for any comparison, too few to show rounding noise. A number
//! that does not exist (the pitch of a translation, a reaction that is statically indeterminate) is `null`.

use schemars::JsonSchema;
use serde::Serialize;

use super::analysis_json::{self, AccelerationPart, HeatPart, NearnessPart, OneWayPart};
use super::anchorage::{self, AnchorPlatePart};
use super::bending::{self, BendingPart};
use super::design::{self, CaseValuePart, EnvelopePart, UtilisationPart};
use super::elastic::{self, ElasticPart};
use super::mobility::{self, MobilityDocument};
use super::values::{
    JsonSense, ReactionWord, Triple, point, pretty, reaction_word, tidy, triple, unit,
};
use super::{Report, circuits, clean_singular_values, reasons, repairs};
use crate::motion::Mobility;
use crate::scene::{Space, Units};
use crate::statics::{CaseAnswer, Counts, Diagnosis, FreeMotion, Model, SharedAxis, Verdict};
use crate::wording;

/// A whole report.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "report")]
pub(super) struct JsonReport<'a> {
    /// as the scene was asked for
    source: &'a str,
    title: &'a str,
    space: SpaceWord,
    units: UnitSymbols,
    /// n
    unknowns: usize,
    /// r
    rank: usize,
    /// of the decimals as written
    exact_rank: usize,
    /// whether every direction follows exactly from the decimals of the scene
    exact_rank_as_written: bool,
    /// 6 - r, in the plane 3 - r
    freedom: usize,
    /// n - r
    redundancy: usize,
    verdict: VerdictWord,
    /// every motion is prevented, contacts and cables treated as two-way
    held: bool,
    determinate: bool,
    /// equilibrium with contacts that push and cables that pull, in every case under `equilibrium`
    carried: bool,
    headline: String,
    reason: String,
    reasons: Vec<reasons::ReasonObject<'a>>,
    remarks: Vec<String>,
    /// of the reactions as unit columns, moments about `reference_point` over `characteristic_length`, largest first;
    /// without unit
    #[schemars(with = "Vec<f64>")]
    singular_values: Vec<Option<f64>>,
    /// singular values above this part of the largest count for `rank`; without unit
    tolerance: f64,
    /// a length, above 0
    #[schemars(with = "f64")]
    characteristic_length: Option<f64>,
    reference_point: Triple,
    free_motions: Vec<JsonFreeMotion<'a>>,
    /// of free motions; null where all pass the test of second order or none does, and where supports act one way
    combinations: Option<mobility::CombinationsPart<'a>>,
    shared_axes: Vec<JsonAxis<'a>>,
    /// the load case whose values stand in `reactions`
    case: &'a str,
    reactions: Vec<ReactionValue<'a>>,
    equilibrium: Vec<JsonEquilibrium<'a>>,
    circuits: Vec<circuits::CircuitObject<'a>>,
    circuits_listed: circuits::Listed,
    /// how many there are in all; null where more than those listed were not counted, while `redundancy` says how many of
    /// them are independent
    circuits_count: Option<usize>,
    decided_combinations: Vec<circuits::CombinationObject<'a>>,
    /// the numbers with the couples of hinges and bearings read the other way; null where no support has such a choice
    other_reading: Option<JsonReading<'a>>,
    /// how near a body that is held is to not being held; null where it is not held
    nearness: Option<NearnessPart<'a>>,
    /// null where every support acts both ways
    one_way: Option<OneWayPart<'a>>,
    /// of the cases that start the body from rest, where it has mass: of a homogeneous body with the mass of its weights;
    /// other loads are forces without mass
    acceleration: Vec<AccelerationPart<'a>>,
    heat: HeatPart<'a>,
    /// reactions as those of springs; null where neither the scene nor `--elastic` asks for them
    elastic: Option<ElasticPart<'a>>,
    /// the body as bars that bend; null where the scene gives no material
    bending: Option<BendingPart<'a>>,
    /// of every support with allowable forces under every case, the worst first; empty where no support has any
    utilisation: Vec<UtilisationPart<'a>>,
    /// what the anchors of each anchor plate take
    anchor_plates: Vec<AnchorPlatePart<'a>>,
    /// links to add; null where the body is held and needs none
    repairs: Option<repairs::Links<'a>>,
    releases: repairs::JsonReleases<'a>,
    caution: &'static str,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum SpaceWord {
    Spatial,
    Planar,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[schemars(inline)]
enum VerdictWord {
    #[serde(rename = "properly_constrained")]
    Properly,
    #[serde(rename = "partially_constrained")]
    Partially,
    #[serde(rename = "improperly_constrained")]
    Improperly,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(inline)]
struct UnitSymbols {
    /// symbol
    length: &'static str,
    /// symbol
    force: &'static str,
    /// symbol
    moment: String,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "free_motion")]
struct JsonFreeMotion<'a> {
    #[serde(flatten)]
    motion: analysis_json::JsonMotion,
    mobility: MobilityDocument<'a>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "shared_axis")]
struct JsonAxis<'a> {
    direction: Triple,
    point: Triple,
    supports: Vec<&'a str>,
    /// index into `free_motions`, from 0
    motion: usize,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "reaction")]
struct ReactionValue<'a> {
    name: &'a str,
    support: &'a str,
    kind: ReactionWord,
    direction: Triple,
    point: Triple,
    /// force or couple; null where it is statically indeterminate, or there is no equilibrium
    value: Option<f64>,
    /// in magnitude, over the cases under `equilibrium`; null where it is 0 or has no value in all of them
    largest: Option<CaseValuePart<'a>>,
    /// over the cases in which something acts or is imposed, of elastic supports where `elastic` is not null; null where it has no
    /// value in all of them
    envelope: Option<EnvelopePart<'a>>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "balance")]
struct JsonEquilibrium<'a> {
    case: &'a str,
    loaded: bool,
    /// whether there is equilibrium
    possible: bool,
    /// whether every reaction follows from it
    decided: bool,
    drives: Vec<JsonDrive>,
    /// forces and couples in the order of `reactions`; null where one is statically indeterminate, or there is no equilibrium
    values: Vec<Option<f64>>,
    words: String,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "drive")]
struct JsonDrive {
    /// index into `free_motions`, from 0
    motion: usize,
    /// `positive` along the motion's direction (right-handed about it), `negative` the other way
    sense: JsonSense,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "reading")]
struct JsonReading<'a> {
    supports: &'a [String],
    with_couples: bool,
    /// n
    unknowns: usize,
    /// r
    rank: usize,
    /// 6 - r, in the plane 3 - r
    freedom: usize,
    /// n - r
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

fn document<'a>(report: &Report<'a>) -> JsonReport<'a> {
    let (model, diagnosis, study) = (report.model(), report.diagnosis(), report.study);
    let first = &report.cases()[0];
    let metres = model.units.length.in_metres();
    let Counts {
        unknowns,
        rank,
        freedom,
        redundancy,
    } = diagnosis.counts;
    JsonReport {
        source: report.study.name(),
        title: &model.title,
        space: match model.space {
            Space::Spatial => SpaceWord::Spatial,
            Space::Planar => SpaceWord::Planar,
        },
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
        headline: report.headline().to_string(),
        reason: wording::reason(model, diagnosis).to_string(),
        reasons: reasons::objects(report),
        remarks: wording::remarks(model, diagnosis)
            .iter()
            .map(ToString::to_string)
            .collect(),
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
        reactions: reactions(report, first),
        equilibrium: report
            .cases()
            .iter()
            .map(|case| balance(model, diagnosis, case))
            .collect(),
        circuits: circuits::circuit_objects(report),
        circuits_listed: circuits::listed(report),
        circuits_count: circuits::count(report),
        decided_combinations: circuits::combination_objects(report),
        other_reading: diagnosis.other_reading.as_ref().map(|other| JsonReading {
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
            .map(|nearness| analysis_json::nearness(model, nearness, study.rounding())),
        one_way: study.one_way().map(|one_way| {
            analysis_json::one_way(model, one_way, study.load_limits(), report.case_indices())
        }),
        acceleration: analysis_json::accelerations(
            model,
            study.accelerations(),
            report.case_indices(),
        ),
        heat: analysis_json::heat(model, study.heat()),
        elastic: elastic::part(report),
        utilisation: design::utilisation_parts(report),
        bending: bending::part(report),
        anchor_plates: anchorage::parts(report),
        repairs: repairs::links(model, study.repair()),
        releases: repairs::released(model, study.releases()),
        caution: wording::caution(study),
    }
}

fn symbols(units: &Units) -> UnitSymbols {
    UnitSymbols {
        length: units.length.symbol(),
        force: units.force.symbol(),
        moment: units.moment_symbol(),
    }
}

fn verdict(verdict: Verdict) -> VerdictWord {
    match verdict {
        Verdict::ProperlyConstrained => VerdictWord::Properly,
        Verdict::PartiallyConstrained => VerdictWord::Partially,
        Verdict::ImproperlyConstrained => VerdictWord::Improperly,
    }
}

fn motion<'a>(model: &'a Model, motion: &FreeMotion, mobility: &Mobility) -> JsonFreeMotion<'a> {
    JsonFreeMotion {
        motion: analysis_json::motion(model, motion),
        mobility: mobility::document(model, motion, mobility),
    }
}

fn axis<'a>(model: &'a Model, axis: &SharedAxis) -> JsonAxis<'a> {
    JsonAxis {
        direction: triple(&axis.direction),
        point: point(model, &axis.point),
        supports: axis
            .supports
            .iter()
            .map(|index| model.supports[*index].name.as_str())
            .collect(),
        motion: axis.motion.get(),
    }
}

fn reactions<'a>(report: &Report<'a>, case: &CaseAnswer) -> Vec<ReactionValue<'a>> {
    let model = report.model();
    let reactions = model.reactions.enumerate().zip(values(model, case));
    reactions
        .map(|((index, reaction), value)| ReactionValue {
            name: &reaction.name,
            support: &model.supports[reaction.support].name,
            kind: reaction_word(reaction.kind),
            direction: triple(&reaction.direction),
            point: point(model, &reaction.point),
            value,
            largest: report
                .diagnosis()
                .largest(index, report.case_indices())
                .map(|found| design::case_value(model, &found, reaction.kind)),
            envelope: design::envelope_part(report, index),
        })
        .collect()
}

fn values(model: &Model, case: &CaseAnswer) -> Vec<Option<f64>> {
    model
        .reactions
        .iter()
        .zip(&case.values)
        .map(|(reaction, value)| value.and_then(|value| tidy(value / unit(model, reaction.kind))))
        .collect()
}

fn balance<'a>(model: &Model, diagnosis: &Diagnosis, case: &'a CaseAnswer) -> JsonEquilibrium<'a> {
    let drives = case
        .powers
        .iter()
        .enumerate()
        .filter(|(_, power)| **power != 0.0)
        .map(|(motion, power)| JsonDrive {
            motion,
            sense: if *power > 0.0 {
                JsonSense::Positive
            } else {
                JsonSense::Negative
            },
        })
        .collect();
    JsonEquilibrium {
        case: &case.name,
        loaded: case.loaded,
        possible: case.is_balanced(),
        decided: case.is_determinate(),
        drives,
        values: values(model, case),
        words: wording::balance(model, diagnosis, case).to_string(),
    }
}
