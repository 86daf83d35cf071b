//! What each support has to carry: normal force, shear, resultant force and couple, with all load cases side by side.

use nalgebra::{Unit, Vector3};

use super::Report;
use super::blocks::heading;
use super::reactions::{LARGEST, balanced};
use crate::document::{DocumentBlock, DocumentTable};
use crate::statics::{CaseIndex, Model, PlacedSupport, ReactionKind};
use crate::wording::{self, Phrase, Quantity, Symbol, phrase};

/// Parts of unit vectors below this are rounding.
const ABSENT: f64 = 1e-9;
/// Values nearer than this part of the larger one are equally large.
const EQUAL: f64 = 1e-9;

/// What the mark behind a value means.
const KEY_TO_GOVERNING: &str = "* governing load case: the largest magnitude in its row.";

/// The table, where some support has more than one reaction and some case gives a value.
pub(super) fn resultants(report: &Report, blocks: &mut Vec<DocumentBlock>) {
    let model = report.model();
    let cases = balanced(report);
    let has_several = model.supports.iter().any(|of| of.reactions.len() > 1);
    if !has_several || !is_any_known(report, &cases) {
        return;
    }
    heading(blocks, "Resultants at the supports");
    blocks.push(DocumentBlock::Table(table(report, &cases)));
    blocks.push(DocumentBlock::Quiet(key(report)));
    if cases.len() > 1 {
        blocks.push(DocumentBlock::Quiet(KEY_TO_GOVERNING.into()));
    }
}

fn is_any_known(report: &Report, cases: &[CaseIndex]) -> bool {
    let mut supports = report.model().supports.iter();
    supports.any(|support| {
        let parts = parts_of(report, support);
        let mut found = cases.iter().flat_map(|case| {
            parts
                .iter()
                .map(|part| value(report, support, *part, *case))
        });
        found.any(|one| one != Found::Indeterminate)
    })
}

/// What is resolved of the reactions of a support.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    /// Force along the axis or normal.
    Normal,
    /// Force across it.
    Shear,
    /// All of the force.
    Force,
    /// All of the couple.
    Couple,
}

impl Part {
    const ALL: [Self; 4] = [Self::Normal, Self::Shear, Self::Force, Self::Couple];

    fn symbol(self) -> Symbol {
        Symbol::plain(match self {
            Self::Normal => "N",
            Self::Shear => "V",
            Self::Force => "R",
            Self::Couple => "M",
        })
    }

    fn meaning(self) -> &'static str {
        match self {
            Self::Normal => {
                "force along the axis or normal of the support (positive in tension for links and cables)"
            }
            Self::Shear => "force perpendicular to that direction",
            Self::Force => "resultant force",
            Self::Couple => "resultant couple",
        }
    }

    /// The part of a reaction's direction that belongs to it.
    fn of(
        self,
        kind: ReactionKind,
        direction: &Unit<Vector3<f64>>,
        along: Option<&Unit<Vector3<f64>>>,
    ) -> Vector3<f64> {
        let direction = direction.into_inner();
        match (self, kind, along) {
            (Self::Normal, ReactionKind::Force, Some(along)) => {
                along.into_inner() * along.dot(&direction)
            }
            (Self::Shear, ReactionKind::Force, Some(along)) => {
                direction - along.into_inner() * along.dot(&direction)
            }
            (Self::Force, ReactionKind::Force, _) | (Self::Couple, ReactionKind::Couple, _) => {
                direction
            }
            _ => Vector3::zeros(),
        }
    }
}

/// The value of a part under a load case, N or N·m: of a normal force with its sign.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Found {
    Value(f64),
    Indeterminate,
}

fn table(report: &Report, cases: &[CaseIndex]) -> DocumentTable {
    let model = report.model();
    let (mut rows, mut groups) = (Vec::new(), Vec::new());
    for support in &model.supports {
        let own = rows_of(report, support, cases);
        if !own.is_empty() {
            let kind = wording::support_kind(&support.kind);
            groups.push((rows.len(), phrase!(Phrase::name(&support.name), ", ", kind)));
            rows.extend(own);
        }
    }
    let names = cases
        .iter()
        .map(|case| Phrase::name(&model.cases[*case].name));
    let head: Vec<Phrase> = std::iter::once(Phrase::new()).chain(names).collect();
    DocumentTable {
        values: (0..head.len()).map(|column| column > 0).collect(),
        rows,
        head,
        groups,
    }
}

/// A row for each part that the reactions of a support can have.
fn rows_of(report: &Report, support: &PlacedSupport, cases: &[CaseIndex]) -> Vec<Vec<Phrase>> {
    let parts = parts_of(report, support).into_iter();
    parts
        .map(|part| row(report, support, part, cases))
        .collect()
}

/// The parts that the reactions of a support can have.
fn parts_of(report: &Report, support: &PlacedSupport) -> Vec<Part> {
    let model = report.model();
    let can_have = |part: &Part| {
        let mut reactions = model.reactions.slice(&support.reactions).iter();
        reactions.any(|reaction| {
            let along = support.orientation.as_ref();
            part.of(reaction.kind, &reaction.direction, along).norm() > ABSENT
        })
    };
    let mut parts: Vec<Part> = Part::ALL.into_iter().filter(can_have).collect();
    // One component is the resultant itself.
    let is_resolved = parts.contains(&Part::Normal) || parts.contains(&Part::Shear);
    if is_resolved && !(parts.contains(&Part::Normal) && parts.contains(&Part::Shear)) {
        parts.retain(|part| *part != Part::Force);
    }
    parts
}

fn row(report: &Report, support: &PlacedSupport, part: Part, cases: &[CaseIndex]) -> Vec<Phrase> {
    let found = cases.iter().map(|case| value(report, support, part, *case));
    let found: Vec<Found> = found.collect();
    let size = |found: &Found| match found {
        Found::Value(value) => value.abs(),
        Found::Indeterminate => 0.0,
    };
    let largest = found.iter().map(size).fold(0.0, f64::max);
    let cells = found.iter().map(|one| match one {
        Found::Indeterminate => "indeterminate".into(),
        Found::Value(value) => {
            let is_largest =
                cases.len() > 1 && largest > 0.0 && value.abs() >= largest * (1.0 - EQUAL);
            phrase!(
                quantity(report.model(), part, *value),
                is_largest.then_some(LARGEST)
            )
        }
    });
    std::iter::once(Phrase::from(part.symbol()))
        .chain(cells)
        .collect()
}

fn quantity(model: &Model, part: Part, value: f64) -> Quantity {
    let kind = match part {
        Part::Couple => ReactionKind::Couple,
        _ => ReactionKind::Force,
    };
    wording::reaction_value(value, kind, &model.units)
}

fn value(report: &Report, support: &PlacedSupport, part: Part, case: CaseIndex) -> Found {
    let model = report.model();
    let values = &report.diagnosis().cases[case].values;
    let along = support.orientation.as_ref();
    let mut sum = Vector3::zeros();
    for index in support.reactions.clone() {
        let reaction = &model.reactions[index];
        let share = part.of(reaction.kind, &reaction.direction, along);
        match values[index] {
            Some(value) => sum += share * value,
            None if share.norm() > ABSENT => return Found::Indeterminate,
            None => {}
        }
    }
    Found::Value(match (part, along) {
        (Part::Normal, Some(along)) => along.dot(&sum),
        _ => sum.norm(),
    })
}

/// What the symbols of the table mean, of those that are in it.
fn key(report: &Report) -> Phrase {
    let supports = report.model().supports.iter();
    let shown: Vec<Part> = supports
        .flat_map(|support| parts_of(report, support))
        .collect();
    let meanings = Part::ALL.into_iter().filter(|part| shown.contains(part));
    let meanings = meanings.map(|part| phrase!(part.symbol(), ": ", part.meaning()));
    phrase!(Phrase::joined(meanings, "; "), ". All act on the body.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::study::Study;

    /// By hand: a fixed beam of 2 m under (30, −40) N at its end carries R = 50 N and M = 80 N·m.
    #[test]
    fn a_fixed_end_carries_force_and_couple() {
        let text = r#"(format: 1, space: planar, body: [Shaft(from: (0, 0), to: (2, 0), diameter: 0.1)],
            supports: [Fixed(name: "A", at: (0, 0))], loads: [Force(at: (2, 0), force: (30, -40))])"#;
        let study = Study::new(read_str("beam", text).unwrap().scene).unwrap();
        let report = Report {
            study: &study,
            case: None,
        };
        let support = study.model().supports.iter().next().unwrap();
        let found = |part| value(&report, support, part, CaseIndex::FIRST);
        assert_eq!(found(Part::Force), Found::Value(50.0));
        assert_eq!(found(Part::Couple), Found::Value(80.0));
        assert_eq!(rows_of(&report, support, &[CaseIndex::FIRST]).len(), 2);
    }

    /// By hand: a pin beside a roller of normal (0.6, 0.8): the roller has a normal force alone, the pin a resultant.
    #[test]
    fn normal_force_and_shear_are_along_and_across() {
        let study = Study::open("roof-hatch").unwrap();
        let report = Report {
            study: &study,
            case: None,
        };
        let hinge = study.model().supports.iter().next().unwrap();
        let found = |part| match value(&report, hinge, part, CaseIndex::FIRST) {
            Found::Value(value) => value,
            Found::Indeterminate => panic!("it is determinate"),
        };
        assert_eq!(found(Part::Normal), 0.0, "no thrust along the axis");
        let [shear, force] = [found(Part::Shear), found(Part::Force)];
        assert!((shear - 48.83_f64.hypot(100.72)).abs() < 0.02, "{shear}");
        assert!((shear - force).abs() < 1e-9);
    }
}
