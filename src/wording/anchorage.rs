//! Words for what the anchors of a plate take, and where it lifts off.

use super::name::{listed, support};
use super::number::{Quantity, length, number, pressure};
use super::phrase::{Phrase, phrase};
use crate::design::{AnchorForces, Anchorage, AnchorageCase, USUAL_BEDDING};
use crate::statics::{AnchorGroup, Model};

/// Heading of the forces of anchors.
pub const ANCHORS: &str = "Anchors of plates";

/// A spot on the plate of a support: `(0.1, −0.2) m`.
pub fn spot_on_plate(model: &Model, spot: &[f64; 2]) -> Quantity {
    let unit = model.units.length;
    let numbers = spot.iter().map(|x| number(x / unit.in_metres()));
    Quantity::vector(numbers.collect(), unit.symbol())
}

/// What these forces rest on: how the plate is taken, and which stiffnesses are assumed.
pub fn anchor_basis(model: &Model, anchorages: &[Anchorage]) -> Phrase {
    let assumed = |is_assumed: fn(&AnchorGroup) -> bool| -> Vec<Phrase> {
        let plates = anchorages.iter().map(|anchorage| anchorage.support);
        let groups = plates.filter(|index| {
            let group = model.supports[*index].anchors.as_ref();
            group.is_some_and(is_assumed)
        });
        groups.map(|index| support(model, index)).collect()
    };
    let names = assumed(|group| group.bedding.is_none() || group.pull_stiffness.is_none());
    let bedding = (!names.is_empty()).then(|| {
        phrase!(
            " The stiffness of the wall against that of the anchors is not given at ",
            listed(&names),
            ": under the whole plate it is taken to be ",
            number(USUAL_BEDDING),
            " times that of all anchors together."
        )
    });
    phrase!(
        "Each plate is taken as rigid, each anchor as a spring that only pulls, the wall as a bed of springs that only press; along the wall \
         equally stiff anchors share force and torsion, and friction under the plate is not counted on. Places are counted from the middle of \
         the plate, seen from in front: to the right, then upwards.",
        bedding
    )
}

/// What becomes of a plate under a load case: where it presses, where it lifts off, and how far.
pub fn anchorage(model: &Model, case: &AnchorageCase) -> Phrase {
    match case {
        AnchorageCase::Solved(forces) => solved(model, forces),
        AnchorageCase::Unknown => {
            "What the plate carries is not known: the load is not carried, or equilibrium leaves it open.".into()
        }
        AnchorageCase::NotCarried => {
            "Not carried: no pull of the anchors and pressure of the wall balances what the plate would have to carry.".into()
        }
        AnchorageCase::NotFound => {
            "No forces of the anchors could be confirmed: the stiffnesses lie too far apart.".into()
        }
    }
}

fn solved(model: &Model, forces: &AnchorForces) -> Phrase {
    let units = &model.units;
    let spot = |spot: &[f64; 2]| spot_on_plate(model, spot);
    let presses = match (&forces.pressure, &forces.neutral_line) {
        (None, _) => "The plate presses nowhere on the wall: the anchors alone hold it.".into(),
        (Some((most, at)), line) => {
            let most = phrase!(", at most with ", pressure(*most, units), " at ", spot(at));
            match line {
                None => phrase!("The whole plate presses on the wall", most, "."),
                Some([one, other]) => phrase!(
                    "The plate presses on the wall beside the neutral line from ",
                    spot(one),
                    " to ",
                    spot(other),
                    most,
                    ", and lifts off on the other side."
                ),
            }
        }
    };
    let gap = forces.gap.as_ref().map(|(gap, at)| {
        phrase!(
            " The widest gap is ",
            length(*gap, units),
            ", at ",
            spot(at),
            "."
        )
    });
    phrase!(presses, gap)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::statics::CaseIndex;
    use crate::study::Study;

    /// A shelf on a plate of 200 × 300 mm at a wall, 400 N at 250 mm from it.
    #[test]
    fn a_plate_says_where_it_lifts_off() {
        let text = "(format: 1, units: (length: mm), body: [Block(centre: (125, 0, 0), size: (250, 100, 20))],
            supports: [AnchorPlate(name: \"P\", at: (0, 0, 0), normal: (1, 0, 0), size: (200, 300),
                anchors: Grid(columns: 2, rows: 2, spacing: (150, 240)))],
            loads: [Force(at: (250, 0, 0), force: (0, 0, -400))])";
        let study = Study::new(read_str("shelf", text).unwrap().scene).unwrap();
        let found = &study.design().anchorages;
        let said = anchorage(study.model(), &found[0].cases[CaseIndex::FIRST]).to_string();
        assert!(
            said.starts_with("The plate presses on the wall beside the neutral line from (100, "),
            "{said}"
        );
        assert!(
            !said.contains("gap"),
            "stiffnesses are only relative: {said}"
        );
        let basis = anchor_basis(study.model(), found).to_string();
        assert!(basis.contains("is not given at P"), "{basis}");
    }
}
