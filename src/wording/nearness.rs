//! Words for how near a body is to not being held.

use super::geometry::coordinates;
use super::motion::motion_phrase;
use super::name::{count, listed};
use super::number::{length, rounded};
use crate::scene::Space;
use crate::statics::{
    Alone, MOST_ALONE, Miss, Model, Movement, Nearness, Placement, Reaction, ReactionKind, Rounding,
};

/// Heads what follows from the functions here.
pub const NEARNESS: &str = "How near it is to improper";
/// Significant digits of lengths that nobody measures finer.
const DIGITS: i32 = 3;

/// What the scene's placement tolerance means for the verdict; `None` where it states none.
pub fn placement(model: &Model, nearness: &Nearness) -> Option<String> {
    let tolerance = length(model.placement_tolerance?, &model.units);
    Some(match nearness.placement? {
        Placement::Held => format!("Held even if every support stands {tolerance} off."),
        Placement::NearImproper => format!("Held, but within {tolerance} of improper."),
        Placement::Unclear => format!(
            "Held as written; whether also with every support up to {tolerance} off is not proven."
        ),
    })
}

/// Weakest motion, least movement of supports and largest reactions of a held body, a sentence each.
pub fn nearness(model: &Model, nearness: &Nearness) -> Vec<String> {
    let (motion, value) = (
        motion_phrase(model, &nearness.weakest),
        rounded(nearness.smallest, DIGITS),
    );
    let weakest = match nearness.equally {
        1 => format!("Held least against: {motion}; smallest singular value {value}."),
        all if all == model.space.motions() => {
            format!("Held equally against every motion; singular value {value}.")
        }
        some => format!(
            "Held least, and equally, against {} motions and what they make together, one of them: {motion}; smallest \
             singular value {value}.",
            count(some)
        ),
    };
    let movement = match &nearness.movement {
        Some(movement) => together(model, movement),
        None => "No shift of supports lets the body go.".to_owned(),
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

fn together(model: &Model, movement: &Movement) -> String {
    format!(
        "Shifting supports by {} in all (root of the sum of squares; {} at most for one) lets the body go: {}. \
         Less than {} never does.",
        short(model, movement.estimate),
        short(model, movement.longest()),
        motion_phrase(model, &movement.freed),
        short(model, movement.bound)
    )
}

/// Shifts that differ by less than this part are equal.
const EQUAL: f64 = 1e-9;

fn nearest_alone(model: &Model, nearness: &Nearness) -> Option<String> {
    if model.supports.len() > MOST_ALONE && nearness.movement.is_some() {
        return Some(format!(
            "Shifts of one support alone are sought among up to {MOST_ALONE} supports only."
        ));
    }
    let alone = nearness.alone.iter().zip(&model.supports);
    let shifts = alone.filter_map(|(alone, support)| {
        let Alone { estimate, .. } = alone.as_ref()?;
        Some((estimate.as_ref()?.norm(), &support.name))
    });
    // Of shifts that only rounding tells apart, that of the first support.
    let (least, name) = shifts.reduce(|best, next| {
        let is_less = next.0 < best.0 * (1.0 - EQUAL);
        if is_less { next } else { best }
    })?;
    Some(format!(
        "Shifting one support alone: {name} by {} is enough.",
        short(model, least)
    ))
}

fn short(model: &Model, metres: f64) -> String {
    let unit = model.units.length;
    format!(
        "{} {}",
        rounded(metres / unit.in_metres(), DIGITS),
        unit.symbol()
    )
}

/// What no reaction exceeds; of a redundant body, whose reactions have no limit, the least ones that balance the load.
fn amplification(model: &Model, nearness: &Nearness) -> String {
    let of_load = |times: &str| {
        format!(
            "{times}the root of F² + (M/{})² under a load of force F and moment M about {}",
            short(model, model.length),
            coordinates(model, &model.reference)
        )
    };
    let size = match rounded(nearness.amplification.factor, DIGITS).as_str() {
        "1" => of_load(""),
        times => of_load(&format!("{times} times ")),
    };
    let bounded = match nearness.amplification.of_least {
        true => "The least reactions that balance a load do not exceed",
        false => "No reaction exceeds",
    };
    let is_couple = |reaction: &&Reaction| reaction.kind == ReactionKind::Couple;
    let couples = model.reactions.iter().any(|reaction| is_couple(&reaction));
    let largest = &model.reactions[nearness.amplification.reaction];
    let arm = short(model, model.length);
    let taken = match couples {
        true => format!(", couples divided by {arm}"),
        false => String::new(),
    };
    let over = match is_couple(&largest) {
        true => format!(" over {arm}"),
        false => String::new(),
    };
    format!(
        "{bounded} {size}{taken}; {}{over} comes to it.",
        largest.name
    )
}

/// Which reaction alone stops a turn, and by how little.
pub fn miss(model: &Model, miss: &Miss) -> String {
    let axis = match model.space {
        Space::Planar => "that point",
        Space::Spatial => "that axis",
    };
    let name = &model.reactions[miss.reaction].name;
    let [distance, arm] = [miss.distance, miss.arm].map(|metres| length(metres, &model.units));
    let arm = match arm == distance {
        true => "which is its arm".to_owned(),
        false => format!("at a slant: its arm is {arm}"),
    };
    format!(
        "Only {name} stops the {}: no other reaction has a moment there, and {name} misses {axis} by {distance}, {arm}.",
        motion_phrase(model, &miss.turn)
    )
}

/// The warning that rounded decimals may be all that holds the body.
pub fn rounding(model: &Model, rounding: &Rounding) -> String {
    let names: Vec<&str> = rounding
        .supports
        .iter()
        .map(|index| model.supports[*index].name.as_str())
        .collect();
    let what = if rounding.by_direction {
        "direction"
    } else {
        "place"
    };
    let plural = if names.len() == 1 { "" } else { "s" };
    format!(
        "Held only through rounded decimals: the {what}{plural} of {} as written and as probably meant differ \
         enough to undo it (smallest singular value {}, rounding up to {}).",
        listed(&names),
        rounded(rounding.smallest, DIGITS),
        rounded(rounding.reach, DIGITS)
    )
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;
    use crate::statics::Tolerance;
    use crate::study::Study;

    #[test]
    fn shifts_come_in_the_scenes_unit() {
        let (mut model, _) = samples::simple_beam();
        model.placement_tolerance = Some(1.5);
        let study = Study::of_model(model);
        let (model, found) = (study.model(), study.nearness().unwrap());
        assert_eq!(
            placement(model, found).unwrap(),
            "Held, but within 1.5 m of improper."
        );
        let said = nearness(model, found);
        assert!(
            said[1].starts_with("Shifting supports by 1.41 m in all (root of the sum of squares; 1 m at most for one)"),
            "{said:?}"
        );
        assert!(
            said[1].ends_with("Less than 1.41 m never does."),
            "{said:?}"
        );
        assert!(said[2].ends_with("by 2 m is enough."), "{said:?}");
        let roller = Miss::of(model, 2, Tolerance::default()).unwrap();
        assert_eq!(
            miss(model, &roller),
            "Only N_B stops the rotation about A: no other reaction has a moment there, and N_B misses that point \
             by 2 m, which is its arm."
        );
        let mut untold = model.clone();
        untold.placement_tolerance = None;
        assert_eq!(placement(&untold, found), None);
    }
}
