//! What a sweep found: as a document, and as JSON.

use serde::Serialize;

use super::blocks::heading;
use super::values::{pretty, reaction_word, tidy, unit};
use super::{Report, paper};
use crate::document::{Document, DocumentBlock, DocumentTable, Tone};
use crate::statics::{CaseIndex, Model, Reaction, ReactionKind, Sense};
use crate::sweep::{
    CaseTally, Chance, Distribution, Extreme, ReactionTally, Sweep, SweepPart, SweepTally,
};
use crate::wording::{self, Phrase, Quantity, phrase};

/// What a report of a sweep is about.
#[derive(Debug, Clone, Copy)]
pub struct SweepReport<'a> {
    /// The sweep.
    pub sweep: &'a Sweep<'a>,
    /// Which share of it.
    pub part: SweepPart,
    /// What was found there.
    pub tally: &'a SweepTally,
}

/// Parts of all values that the quantiles of tables and of JSON lie above.
const QUANTILES: [f64; 3] = [0.05, 0.5, 0.95];

/// What was found, as a document.
pub fn document(report: &SweepReport) -> Document {
    let study = report.sweep.study();
    let mut blocks = vec![DocumentBlock::Paragraph(wording::sweep_settings(
        report.sweep.settings(),
        report.part,
        &study.model().units,
    ))];
    margins(report, &mut blocks);
    for (index, tally) in report.cases() {
        reactions(report, index, tally, &mut blocks);
    }
    blocks.push(DocumentBlock::Quiet(wording::SWEEP_BASIS.into()));
    blocks.push(DocumentBlock::Caution(wording::CAUTION.into()));
    Document {
        title: paper::title(&Report { study, case: None }),
        subtitle: Phrase::new(),
        blocks,
    }
}

impl<'a> SweepReport<'a> {
    fn model(&self) -> &'a Model {
        self.sweep.study().model()
    }

    /// The load cases with what was found of each.
    fn cases(&self) -> impl Iterator<Item = (CaseIndex, &'a CaseTally)> {
        self.sweep.cases().into_iter().zip(&self.tally.cases)
    }

    fn chance(&self, count: u64) -> Chance {
        Chance {
            count,
            of: self.tally.placements,
        }
    }
}

/// How near improper constraint the placements are.
fn margins(report: &SweepReport, blocks: &mut Vec<DocumentBlock>) {
    let (tally, units) = (report.tally, &report.model().units);
    let not_held = report.chance(tally.not_held);
    let tone = match tally.not_held {
        0 => Tone::Good,
        _ => Tone::Bad,
    };
    blocks.push(DocumentBlock::Lead(tone, wording::sweep_not_held(not_held)));
    heading(blocks, "Margin");
    let settings = report.sweep.settings();
    if settings.reach > 0.0 {
        let within = report.chance(tally.within_reach);
        let said = wording::sweep_within_reach(within, settings.reach, units);
        blocks.push(DocumentBlock::Paragraph(said));
    }
    let as_written = report.sweep.margin_as_written();
    let quantile = |part| tally.margin(part, as_written);
    if let (Some(worst), [Some(low), Some(median), Some(high)]) =
        (tally.worst, QUANTILES.map(quantile))
    {
        let length = |metres: f64| Phrase::from(wording::length(metres, units));
        blocks.push(DocumentBlock::Table(DocumentTable {
            head: ["", "written", "least", "5 %", "median", "95 %"]
                .map(Phrase::from)
                .into(),
            rows: vec![vec![
                "margin".into(),
                length(as_written),
                length(worst.value),
                length(low),
                length(median),
                length(high),
            ]],
            values: vec![false, true, true, true, true, true],
            groups: Vec::new(),
        }));
        blocks.push(DocumentBlock::Paragraph(wording::sweep_worst(worst)));
    }
    blocks.push(DocumentBlock::Quiet(wording::SWEEP_MARGIN.into()));
}

/// The spread of every reaction under a load case.
fn reactions(
    report: &SweepReport,
    case: CaseIndex,
    tally: &CaseTally,
    blocks: &mut Vec<DocumentBlock>,
) {
    let model = report.model();
    let name = &model.cases[case].name;
    match model.cases[case].is_unnamed() {
        true => heading(blocks, "Reactions"),
        false => heading(blocks, phrase!("Reactions: ", Phrase::name(name))),
    }
    let held = report.tally.placements - report.tally.not_held;
    for said in wording::sweep_carried(tally, held) {
        blocks.push(DocumentBlock::Paragraph(said));
    }
    if tally.carried == 0 {
        return;
    }
    let at = report.sweep.cases().iter().position(|index| *index == case);
    let as_written = &report.sweep.as_written()[at.unwrap_or(0)];
    let rows = model.reactions.iter().zip(&tally.reactions).zip(as_written);
    let rows = rows.map(|((reaction, tally), as_written)| row(model, reaction, tally, *as_written));
    let columns = [
        "",
        "in",
        "written",
        "deviation",
        "5 %",
        "95 %",
        "least",
        "greatest",
    ];
    blocks.push(DocumentBlock::Table(DocumentTable {
        head: columns.map(Phrase::from).into(),
        rows: rows.collect(),
        values: (0..columns.len()).map(|column| column > 1).collect(),
        groups: Vec::new(),
    }));
    let open = model.reactions.iter().zip(&tally.reactions);
    let open = open.filter(|(_, tally)| tally.open > 0);
    let open: Vec<Phrase> = open
        .map(|(reaction, own)| {
            let chance = Chance {
                count: own.open,
                of: tally.carried,
            };
            wording::sweep_open(reaction, chance, reaction.sense == Sense::Pull)
        })
        .collect();
    if !open.is_empty() {
        blocks.push(DocumentBlock::List(open));
    }
}

fn row(model: &Model, reaction: &Reaction, tally: &ReactionTally, as_written: f64) -> Vec<Phrase> {
    let spread = SweptReaction::of(tally, as_written);
    let [low, _, high] = spread.quantiles;
    let ends = [tally.least, tally.greatest];
    let [least, greatest] = ends.map(|end| end.map_or(as_written, |end| end.value));
    let values = [as_written, spread.deviation, low, high, least, greatest];
    let in_si = unit(model, reaction.kind);
    let symbol = match reaction.kind {
        ReactionKind::Force => model.units.force.symbol().to_owned(),
        ReactionKind::Couple => model.units.moment_symbol(),
    };
    let mut row = vec![Phrase::from(&reaction.symbol), symbol.as_str().into()];
    row.extend(values.map(|value| Phrase::from(Quantity::from(wording::number(value / in_si)))));
    row
}

/// The spread of a reaction in SI units.
struct SweptReaction {
    mean: f64,
    deviation: f64,
    quantiles: [f64; 3],
}

impl SweptReaction {
    fn of(tally: &ReactionTally, as_written: f64) -> Self {
        let [mean, deviation] = tally.deviations.mean_and_deviation().unwrap_or_default();
        let quantile = |part| tally.quantile(part, as_written).unwrap_or(as_written);
        Self {
            mean: as_written + mean,
            deviation,
            quantiles: QUANTILES.map(quantile),
        }
    }
}

#[derive(Debug, Serialize)]
struct JsonSweep<'a> {
    source: &'a str,
    title: &'a str,
    units: JsonSweepUnits<'a>,
    /// placements asked for, of the whole sweep
    count: u64,
    part: String,
    seed: u64,
    distribution: Distribution,
    /// what it varies, in units.length, degrees and percent; null for what is as written
    placement: Option<f64>,
    direction: Option<f64>,
    load: Option<f64>,
    stiffness: Option<f64>,
    reach: Option<f64>,
    placements: u64,
    not_held: JsonChance,
    within_reach: JsonChance,
    margin: JsonMargin,
    cases: Vec<JsonCase<'a>>,
}

#[derive(Debug, Serialize)]
struct JsonSweepUnits<'a> {
    length: &'a str,
    force: &'a str,
    moment: String,
}

#[derive(Debug, Serialize)]
struct JsonChance {
    count: u64,
    probability: Option<f64>,
    /// of the probability, with a confidence of 95 %
    bounds: [Option<f64>; 2],
}

#[derive(Debug, Serialize)]
struct JsonMargin {
    as_written: Option<f64>,
    least: Option<JsonExtreme>,
    /// 5 %, 50 % and 95 %
    quantiles: [Option<f64>; 3],
}

#[derive(Debug, Serialize)]
struct JsonExtreme {
    value: Option<f64>,
    placement: u64,
}

#[derive(Debug, Serialize)]
struct JsonCase<'a> {
    case: &'a str,
    carried: u64,
    not_carried: u64,
    not_found: u64,
    reactions: Vec<JsonSpread<'a>>,
}

#[derive(Debug, Serialize)]
struct JsonSpread<'a> {
    name: &'a str,
    kind: super::values::ReactionWord,
    as_written: Option<f64>,
    mean: Option<f64>,
    deviation: Option<f64>,
    /// 5 %, 50 % and 95 %
    quantiles: [Option<f64>; 3],
    least: Option<JsonExtreme>,
    greatest: Option<JsonExtreme>,
    open: u64,
}

/// What was found as a JSON object, in the scene's units.
///
/// # Errors
/// Only for a bug of ours: every field has a JSON form.
pub fn json(report: &SweepReport) -> serde_json::Result<String> {
    let (model, settings, tally) = (report.model(), report.sweep.settings(), report.tally);
    let metres = model.units.length.in_metres();
    let length = |value: f64| tidy(value / metres);
    let tolerances = &settings.tolerances;
    let percent = |part: Option<f64>| part.and_then(|part| tidy(part * 100.0));
    let as_written = report.sweep.as_written();
    let cases = report.cases().zip(as_written);
    let margin_as_written = report.sweep.margin_as_written();
    pretty(&JsonSweep {
        source: report.sweep.study().name(),
        title: &model.title,
        units: JsonSweepUnits {
            length: model.units.length.symbol(),
            force: model.units.force.symbol(),
            moment: model.units.moment_symbol(),
        },
        count: settings.count,
        part: report.part.to_string(),
        seed: settings.seed,
        distribution: settings.distribution,
        placement: tolerances.placement.and_then(length),
        direction: tolerances
            .direction
            .and_then(|angle| tidy(angle.to_degrees())),
        load: percent(tolerances.load),
        stiffness: percent(tolerances.stiffness),
        reach: (settings.reach > 0.0)
            .then(|| length(settings.reach))
            .flatten(),
        placements: tally.placements,
        not_held: chance(report.chance(tally.not_held)),
        within_reach: chance(report.chance(tally.within_reach)),
        margin: JsonMargin {
            as_written: length(margin_as_written),
            least: extreme(tally.worst, metres),
            quantiles: QUANTILES.map(|part| tally.margin(part, margin_as_written).and_then(length)),
        },
        cases: cases
            .map(|((index, tally), values)| case(model, index, tally, values))
            .collect(),
    })
}

fn chance(chance: Chance) -> JsonChance {
    JsonChance {
        count: chance.count,
        probability: tidy(chance.estimate()),
        bounds: chance.bounds().map(tidy),
    }
}

fn extreme(extreme: Option<Extreme>, unit: f64) -> Option<JsonExtreme> {
    extreme.map(|extreme| JsonExtreme {
        value: tidy(extreme.value / unit),
        placement: extreme.placement,
    })
}

fn case<'a>(
    model: &'a Model,
    index: CaseIndex,
    tally: &CaseTally,
    as_written: &[f64],
) -> JsonCase<'a> {
    let reactions = model.reactions.enumerate().zip(&tally.reactions);
    JsonCase {
        case: &model.cases[index].name,
        carried: tally.carried,
        not_carried: tally.not_carried,
        not_found: tally.not_found,
        reactions: reactions
            .map(|((index, reaction), own)| {
                let unit = unit(model, reaction.kind);
                let written = as_written[index.get()];
                let spread = SweptReaction::of(own, written);
                let known = |value: f64| tidy(value / unit).filter(|_| tally.carried > 0);
                JsonSpread {
                    name: &reaction.name,
                    kind: reaction_word(reaction.kind),
                    as_written: tidy(written / unit),
                    mean: known(spread.mean),
                    deviation: known(spread.deviation),
                    quantiles: spread.quantiles.map(known),
                    least: extreme(own.least, unit),
                    greatest: extreme(own.greatest, unit),
                    open: own.open,
                }
            })
            .collect(),
    }
}
