//! The part of the report on anchor plates: what each anchor takes, and where the plate lifts off.

use schemars::JsonSchema;
use serde::Serialize;

use super::Report;
use super::blocks::heading;
use super::reactions::by_case;
use super::values::tidy;
use crate::design::{AnchorForces, Anchorage, AnchorageCase};
use crate::document::{DocumentBlock, DocumentTable};
use crate::statics::{AnchorGroup, CaseIndex, Model};
use crate::wording::{self, Phrase, phrase};

/// All anchor plates, where there are any.
pub(super) fn anchorages(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let model = report.model();
    let all = &report.study.design().anchorages;
    let cases = report.acting_cases();
    if all.is_empty() || cases.is_empty() {
        return;
    }
    heading(blocks, wording::ANCHORS);
    let basis = wording::anchor_basis(model, all);
    blocks.push(DocumentBlock::Paragraph(basis));
    for anchorage in all {
        let solved = solved(anchorage, &cases);
        if let Some(group) = &model.supports[anchorage.support].anchors
            && !solved.is_empty()
        {
            blocks.push(DocumentBlock::Table(table(
                model, anchorage, group, &solved,
            )));
        }
        let name = wording::support(model, anchorage.support);
        let said = cases.iter().map(|case| {
            let said = wording::anchorage(model, &anchorage.cases[*case]);
            (*case, phrase!(&name, ": ", said))
        });
        blocks.push(DocumentBlock::List(by_case(report, said)));
    }
}

fn solved(anchorage: &Anchorage, cases: &[CaseIndex]) -> Vec<CaseIndex> {
    let cases = cases.iter().copied();
    cases
        .filter(|case| anchorage.cases[*case].forces().is_some())
        .collect()
}

/// A row for each anchor, with its pull and its shear under each case.
fn table(
    model: &Model,
    anchorage: &Anchorage,
    group: &AnchorGroup,
    cases: &[CaseIndex],
) -> DocumentTable {
    let units = &model.units;
    let forces = || {
        let cases = cases.iter();
        cases.filter_map(|case| anchorage.cases[*case].forces())
    };
    let row = |(index, place): (usize, &[f64; 2])| {
        let first = [
            phrase!(index + 1),
            wording::spot_on_plate(model, place).into(),
        ];
        let values = forces().flat_map(|found| {
            let anchor = &found.anchors[index];
            [
                wording::normal_force(anchor, units),
                wording::force(anchor.shear, units).into(),
            ]
        });
        first.into_iter().chain(values).collect()
    };
    let names = cases.iter().flat_map(|case| {
        let name = Phrase::name(&model.cases[*case].name);
        ["tension", "shear"].map(|part| phrase!(&name, ": ", part))
    });
    let head: Vec<Phrase> = [Phrase::new(), "on the plate".into()]
        .into_iter()
        .chain(names)
        .collect();
    DocumentTable {
        values: (0..head.len()).map(|column| column > 1).collect(),
        rows: group.places.iter().enumerate().map(row).collect(),
        groups: vec![(
            0,
            phrase!(
                wording::support(model, anchorage.support),
                ", anchors of the plate"
            ),
        )],
        head,
    }
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "anchor_plate")]
pub(super) struct AnchorPlatePart<'a> {
    support: &'a str,
    /// to the right, upwards and out of the wall, seen from in front of the plate; unit vectors without unit
    axes: [super::values::Triple; 3],
    /// of each anchor, to the right and upwards from the middle of the plate, lengths
    #[schemars(with = "Vec<[f64; 2]>")]
    places: Vec<[Option<f64>; 2]>,
    cases: Vec<AnchorPlateCasePart<'a>>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "anchor_plate_case")]
struct AnchorPlateCasePart<'a> {
    case: &'a str,
    /// `unknown` where the load is not carried or the reactions of the support are statically indeterminate, `not_carried` where no
    /// pull of the anchors and pressure of the wall balances them
    outcome: AnchorageWord,
    /// pull of each anchor, a force; null unless `outcome` is `solved`
    tensions: Option<Vec<Option<f64>>>,
    /// force of each anchor along the wall; null unless `outcome` is `solved`
    shears: Option<Vec<Option<f64>>>,
    /// force with which the wall presses on the plate; null unless `outcome` is `solved`
    pressing: Option<f64>,
    /// largest pressure, a force per area; null where the plate presses nowhere, or unless `outcome` is `solved`
    pressure: Option<f64>,
    /// ends of the neutral line, to the right and upwards from the middle of the plate, lengths; null where the plate presses everywhere
    /// or nowhere, or unless `outcome` is `solved`
    neutral_line: Option<[[Option<f64>; 2]; 2]>,
    /// widest gap, a length; null where the plate lifts off nowhere, stiffnesses are only relative, or unless `outcome` is `solved`
    gap: Option<f64>,
    words: String,
}

#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(inline)]
enum AnchorageWord {
    Solved,
    Unknown,
    NotCarried,
    NotFound,
}

/// The same in JSON.
pub(super) fn parts<'a>(report: &Report<'a>) -> Vec<AnchorPlatePart<'a>> {
    let model = report.model();
    let all = report.study.design().anchorages.iter();
    all.filter_map(|anchorage| {
        let group = model.supports[anchorage.support].anchors.as_ref()?;
        let cases = report.case_indices();
        Some(AnchorPlatePart {
            support: &model.supports[anchorage.support].name,
            axes: group.axes.map(|axis| super::values::triple(&axis)),
            places: group
                .places
                .iter()
                .map(|place| spot(model, place))
                .collect(),
            cases: cases
                .map(|case| case_part(model, case, &anchorage.cases[case]))
                .collect(),
        })
    })
    .collect()
}

fn spot(model: &Model, spot: &[f64; 2]) -> [Option<f64>; 2] {
    spot.map(|x| tidy(x / model.units.length.in_metres()))
}

fn case_part<'a>(
    model: &'a Model,
    index: CaseIndex,
    case: &AnchorageCase,
) -> AnchorPlateCasePart<'a> {
    let (newtons, metres) = (
        model.units.force.in_newtons(),
        model.units.length.in_metres(),
    );
    let found: Option<&AnchorForces> = case.forces();
    let each = |part: fn(&crate::statics::SplitForce) -> f64| {
        let anchors = found.map(|found| found.anchors.iter());
        anchors.map(|anchors| anchors.map(|one| tidy(part(one) / newtons)).collect())
    };
    AnchorPlateCasePart {
        case: &model.cases[index].name,
        outcome: match case {
            AnchorageCase::Solved(_) => AnchorageWord::Solved,
            AnchorageCase::Unknown => AnchorageWord::Unknown,
            AnchorageCase::NotCarried => AnchorageWord::NotCarried,
            AnchorageCase::NotFound => AnchorageWord::NotFound,
        },
        tensions: each(|one| -one.normal),
        shears: each(|one| one.shear),
        pressing: found.and_then(|found| tidy(found.pressing / newtons)),
        pressure: found
            .and_then(|found| found.pressure)
            .and_then(|(pressure, _)| tidy(pressure / newtons * metres * metres)),
        neutral_line: found
            .and_then(|found| found.neutral_line)
            .map(|ends| ends.map(|end| spot(model, &end))),
        gap: found
            .and_then(|found| found.gap)
            .and_then(|(gap, _)| tidy(gap / metres)),
        words: wording::anchorage(model, case).to_string(),
    }
}
