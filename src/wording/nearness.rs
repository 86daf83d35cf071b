//! Words for how near a body is to not being held.

use super::geometry::coordinates;
use super::motion::motion_phrase;
use super::name::{count, listed, support};
use super::number::{Quantity, length, rounded};
use super::phrase::{Operator, Phrase, phrase};
use crate::scene::Space;
use crate::statics::{
    MOST_ALONE, Miss, Model, Movement, Nearness, Placement, Reaction, ReactionKind, Rounding,
    SingleShift, Symbol,
};

/// Heads what follows from the functions here.
pub const NEARNESS: &str = "Margin against improper constraint";
/// Significant digits of lengths that nobody measures finer.
const DIGITS: i32 = 3;

/// What the scene's placement tolerance means for the verdict; `None` where it states none.
pub fn placement(model: &Model, nearness: &Nearness) -> Option<Phrase> {
    let tolerance = length(model.placement_tolerance?, &model.units);
    Some(match nearness.placement? {
        Placement::Held => phrase!(
            "The body remains held even if every support is misplaced by up to ",
            tolerance,
            "."
        ),
        Placement::NearImproper => {
            phrase!(
                "The supports are within ",
                tolerance,
                " of improper constraint."
            )
        }
        Placement::Unclear => phrase!(
            "It is not proven whether the body remains held if every support is misplaced by up to ",
            tolerance,
            "."
        ),
    })
}

/// Weakest motion, least movement of supports and largest reactions of a held body, a sentence each.
pub fn nearness(model: &Model, nearness: &Nearness) -> Vec<Phrase> {
    let (motion, value) = (
        motion_phrase(model, &nearness.weakest),
        rounded(nearness.smallest, DIGITS),
    );
    let scaled = phrase!(", moments divided by ", short(model, model.length));
    let weakest = match nearness.equally {
        1 => phrase!(
            "Weakest against ",
            motion,
            "; smallest singular value ",
            value,
            scaled,
            "."
        ),
        all if all == model.space.motions() => {
            phrase!(
                "Equally well constrained against every motion; singular value ",
                value,
                scaled,
                "."
            )
        }
        some => phrase!(
            "Equally weak against ",
            count(some),
            " motions and their combinations, for example ",
            motion,
            "; smallest singular value ",
            value,
            scaled,
            "."
        ),
    };
    let movement = match &nearness.movement {
        Some(movement) => together(model, movement),
        None => "No shift of the supports, parallel to themselves, releases the body.".into(),
    };
    let alone = nearest_alone(model, nearness);
    [
        Some(weakest),
        Some(movement),
        alone,
        Some(amplification(model, nearness)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn together(model: &Model, movement: &Movement) -> Phrase {
    phrase!(
        "Shifting the supports, parallel to themselves, by a root sum of squares of ",
        short(model, movement.estimate),
        " (at most ",
        short(model, movement.longest()),
        " each) releases the body: ",
        motion_phrase(model, &movement.freed),
        ". Shifts of less than ",
        short(model, movement.bound),
        " cannot release it."
    )
}

/// Shifts that differ by less than this part are equal.
const EQUAL: f64 = 1e-9;

fn nearest_alone(model: &Model, nearness: &Nearness) -> Option<Phrase> {
    if model.supports.len() > MOST_ALONE && nearness.movement.is_some() {
        return Some(phrase!(
            "Shifts of one support alone are computed for up to ",
            MOST_ALONE,
            " supports only."
        ));
    }
    let alone = nearness.alone.iter().zip(&model.supports);
    let shifts = alone.filter_map(|(alone, support)| {
        let SingleShift { estimate, .. } = alone.as_ref()?;
        Some((estimate.as_ref()?.norm(), Phrase::name(&support.name)))
    });
    // Of shifts that only rounding tells apart, that of the first support.
    let (least, name) = shifts.reduce(|best, next| {
        let is_less = next.0 < best.0 * (1.0 - EQUAL);
        if is_less { next } else { best }
    })?;
    Some(phrase!(
        "Shifting one support alone is enough: ",
        name,
        " by ",
        short(model, least),
        "."
    ))
}

fn short(model: &Model, metres: f64) -> Quantity {
    let unit = model.units.length;
    Quantity::new(rounded(metres / unit.in_metres(), DIGITS), unit.symbol())
}

/// What no reaction exceeds; of a redundant body, whose reactions have no limit, the least ones that balance the load.
fn amplification(model: &Model, nearness: &Nearness) -> Phrase {
    let of_load = |times: Phrase| {
        phrase!(
            times,
            "√(",
            Symbol::plain("F"),
            "²",
            Operator::Plus,
            "(",
            Symbol::plain("M"),
            "/",
            short(model, model.length),
            ")²) under a load of force ",
            Symbol::plain("F"),
            " and moment ",
            Symbol::plain("M"),
            " about ",
            coordinates(model, &model.reference)
        )
    };
    let factor = rounded(nearness.amplification.factor, DIGITS);
    let size = match factor == rounded(1.0, DIGITS) {
        true => of_load(Phrase::new()),
        false => of_load(phrase!(factor, " times ")),
    };
    let bounded = match nearness.amplification.of_least {
        true => "The smallest reactions that balance a load do not exceed",
        false => "No reaction exceeds",
    };
    let is_couple = |reaction: &&Reaction| reaction.kind == ReactionKind::Couple;
    let couples = model.reactions.iter().any(|reaction| is_couple(&reaction));
    let largest = &model.reactions[nearness.amplification.reaction];
    let arm = || short(model, model.length);
    let taken = match couples {
        true => phrase!(", couples divided by ", arm()),
        false => Phrase::new(),
    };
    let over = match is_couple(&largest) {
        true => phrase!("/", arm()),
        false => Phrase::new(),
    };
    phrase!(
        bounded,
        " ",
        size,
        taken,
        "; ",
        &largest.symbol,
        over,
        " reaches this bound."
    )
}

/// What must be known to repeat singular values: `moments about (0, 0, 0) m divided by 0.368 m`.
pub fn scaling(model: &Model) -> Phrase {
    phrase!(
        "moments about ",
        coordinates(model, &model.reference),
        " divided by ",
        length(model.length, &model.units)
    )
}

/// Which reaction alone stops a turn, and by how little.
pub fn miss(model: &Model, miss: &Miss) -> Phrase {
    let axis = match model.space {
        Space::Planar => "that point",
        Space::Spatial => "that axis",
    };
    let name = &model.reactions[miss.reaction].symbol;
    let [distance, arm] = [miss.distance, miss.arm].map(|metres| length(metres, &model.units));
    let arm = match arm == distance {
        true => "its moment arm".into(),
        false => phrase!("obliquely, so that its moment arm is ", arm),
    };
    phrase!(
        "Only ",
        name,
        " prevents the ",
        motion_phrase(model, &miss.turn),
        ": no other reaction has a moment about ",
        axis,
        ". The line of action of ",
        name,
        " passes ",
        axis,
        " at a distance of ",
        distance,
        ", ",
        arm,
        "."
    )
}

/// The warning that rounded decimals may be all that holds the body.
pub fn rounding(model: &Model, rounding: &Rounding) -> Phrase {
    let names: Vec<Phrase> = rounding
        .supports
        .iter()
        .map(|index| support(model, *index))
        .collect();
    let what = if rounding.by_direction {
        "direction"
    } else {
        "place"
    };
    let plural = if names.len() == 1 { "" } else { "s" };
    phrase!(
        "Held only because of rounding: the ",
        what,
        plural,
        " of ",
        listed(&names),
        " as written and as probably meant differ by enough to release the body (smallest singular value ",
        rounded(rounding.smallest, DIGITS),
        ", rounding up to ",
        rounded(rounding.reach, DIGITS),
        ")."
    )
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;
    use crate::statics::{ReactionIndex, Tolerance};
    use crate::study::Study;

    #[test]
    fn shifts_come_in_the_scenes_unit() {
        let (mut model, _) = samples::simple_beam();
        model.placement_tolerance = Some(1.5);
        let study = Study::of_model(model);
        let (model, found) = (study.model(), study.nearness().unwrap());
        assert_eq!(
            placement(model, found).unwrap(),
            "The supports are within 1.5 m of improper constraint."
        );
        let said = nearness(model, found);
        assert!(
            said[1].to_string().starts_with(
                "Shifting the supports, parallel to themselves, by a root sum of squares of 1.41 m (at most 1 m each)"
            ),
            "{said:?}"
        );
        assert!(
            said[1]
                .to_string()
                .ends_with("Shifts of less than 1.41 m cannot release it."),
            "{said:?}"
        );
        assert!(said[2].to_string().ends_with("A by 2 m."), "{said:?}");
        let roller = Miss::of(model, ReactionIndex::new(2), Tolerance::default()).unwrap();
        assert_eq!(
            miss(model, &roller),
            "Only N_B prevents the rotation about A: no other reaction has a moment about that point. The line of \
             action of N_B passes that point at a distance of 2 m, its moment arm."
        );
        let mut untold = model.clone();
        untold.placement_tolerance = None;
        assert_eq!(placement(&untold, found), None);
    }
}
