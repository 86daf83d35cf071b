//! Words for how far a free motion truly goes.

use std::f64::consts::TAU;

use nalgebra::Unit;

use super::geometry::{SAME, direction, is_vertical, point};
use super::leaving::{leaves, rivals, side};
use super::motion::whole_phrase;
use super::name::support;
use super::number::{DEGREES, Quantity, length, number, rounded, settled_digits};
use super::phrase::{Phrase, phrase};
use crate::motion::{
    Combination, Combinations, CombinedMotions, End, Mobilities, Mobility, Path, PathLength,
    Searched, Stop,
};
use crate::statics::{FreeMotion, Model, MotionIndex, MotionKind, Sense};

/// Whether a free motion is real, and how far it goes, in a few sentences.
pub fn mobility(model: &Model, motion: &FreeMotion, mobility: &Mobility) -> Phrase {
    match mobility {
        Mobility::Real {
            path,
            about,
            instead,
            ..
        } => {
            let circles = path.circle().map_or_else(Phrase::new, |radius| {
                let unit = model.units.length;
                let radius = rounded(radius / unit.in_metres(), DIGITS);
                let radius = Quantity::new(radius, unit.symbol());
                phrase!(" along circles of radius ", radius)
            });
            let line = about.map_or_else(Phrase::new, |at| {
                phrase!(" about the parallel line through ", point(model, &at))
            });
            let rivals = rivals(model, instead).map(|rivals| phrase!(" ", rivals));
            phrase!(
                "A finite motion",
                line,
                circles,
                real(model, motion, path),
                rivals
            )
        }
        Mobility::InstantaneousOnly {
            stiffened: true, ..
        } => "Infinitesimal only: the supports block it at second order. Pretensioning the supports against one \
             another would stiffen the body against it."
            .into(),
        Mobility::InstantaneousOnly {
            by_second_order: true,
            ..
        } => "Infinitesimal only: on its own it is blocked at second order.".into(),
        Mobility::InstantaneousOnly { .. } => {
            "Apparently infinitesimal only: it passes the second-order test, but no finite path was found.".into()
        }
    }
}

/// What is said behind "A finite motion" of which way it goes, what the body leaves, and how far it goes.
fn real(model: &Model, motion: &FreeMotion, path: &Path) -> Phrase {
    let [back, ahead] = [path.end_back, path.end_ahead];
    let [left_back, left_ahead] = path.leaves().map(|left| leaves(model, &left));
    match (back.stop, ahead.stop) {
        (_, Stop::Blocked) => one_side(model, motion, path, true),
        (Stop::Blocked, _) => one_side(model, motion, path, false),
        _ => {
            let far = both_sides(model, motion, path);
            let left = match (left_ahead, left_back) {
                (None, None) => return far,
                (Some(ahead), Some(back)) if ahead == back => {
                    phrase!(ahead, " at the start, in either direction")
                }
                (ahead, back) => {
                    let all = || "every contact stays closed".into();
                    phrase!(
                        "in one direction ",
                        ahead.unwrap_or_else(all),
                        ", and in the other ",
                        back.unwrap_or_else(all)
                    )
                }
            };
            phrase!(far, " ", left.capitalised(), ".")
        }
    }
}

/// A motion to one side only: `backwards` or in the positive sense.
fn one_side(model: &Model, motion: &FreeMotion, path: &Path, backwards: bool) -> Phrase {
    let [back, ahead] = amounts(model, motion, path);
    let (at, amount) = if backwards { (0, back) } else { (1, ahead) };
    let left = leaves(model, &path.leaves()[at]);
    let left = left.map_or_else(Phrase::new, |left| phrase!(", where ", left));
    let side = side(model, motion, backwards);
    let far = match [path.end_back.stop, path.end_ahead.stop][at] {
        Stop::GoesOn => "It continues; no end was found.".into(),
        end => phrase!("Traced for ", amount, ": ", stop(model, end), "."),
    };
    phrase!(
        " in one sense only, ",
        side,
        left,
        "; the other sense is blocked. ",
        far
    )
}

/// How far a motion goes that is free to both sides.
fn both_sides(model: &Model, motion: &FreeMotion, path: &Path) -> Phrase {
    match [path.end_back, path.end_ahead] {
        [_, ahead] if ahead.stop == Stop::Closed => phrase!(": ", closed(model, motion, path), "."),
        [back, ahead] if [back.stop, ahead.stop] == [Stop::Turned; 2] => {
            // It would be back where it began if the axis were fixed.
            ": the body can turn through a full revolution, but not about a fixed axis.".into()
        }
        [back, ahead] if [back.stop, ahead.stop] == [Stop::GoesOn; 2] => {
            ": it continues in either direction; no end was found.".into()
        }
        [back, ahead] if back.stop == ahead.stop => phrase!(
            ", traced for ",
            either_way(&amounts(model, motion, path)),
            " in either direction: ",
            stop(model, ahead.stop),
            "."
        ),
        [back, ahead] => {
            let [so_far_back, so_far] = amounts(model, motion, path);
            match [back.stop, ahead.stop] {
                [Stop::GoesOn, ends] => one_way_only(model, &so_far, ends),
                [ends, Stop::GoesOn] => one_way_only(model, &so_far_back, ends),
                [ends_back, ends] => phrase!(
                    ". Traced for ",
                    so_far,
                    " in one direction: ",
                    stop(model, ends),
                    "; for ",
                    so_far_back,
                    " in the other: ",
                    stop(model, ends_back),
                    "."
                ),
            }
        }
    }
}

fn one_way_only(model: &Model, so_far: &Phrase, ends: Stop) -> Phrase {
    phrase!(
        ". Traced for ",
        so_far,
        " in one direction: ",
        stop(model, ends),
        "; in the other it continues."
    )
}

/// What holds for several free motions taken together, as sentences; none where each alone says it all.
pub fn together(model: &Model, mobilities: &Mobilities) -> Vec<Phrase> {
    if mobilities.motions.len() < 2 {
        return Vec::new();
    }
    if let Some(combinations) = &mobilities.combinations {
        let all_ways = any_translation(model, mobilities, combinations);
        let list = combinations.list.iter();
        let left = list.filter(|found| all_ways.is_none() || !is_translation(found));
        let combined = left.map(|combination| self::combination(model, combination));
        let combined: Vec<Phrase> = combined.collect();
        let all = all_ways.into_iter().chain(combined);
        return all.chain([rest(combinations)]).collect();
    }
    let sentence = match mobilities.together {
        CombinedMotions::AllExtend if !mobilities.motions.iter().all(Mobility::is_real) => {
            "All combinations of these motions pass the second-order test; whether they are finite remains open."
        }
        CombinedMotions::Unhindered | CombinedMotions::AllExtend => return Vec::new(),
        CombinedMotions::NoneExtends => {
            "No combination of these motions is more than infinitesimal."
        }
        CombinedMotions::SomeExtend => {
            "Some combinations of these motions pass the second-order test and some do not."
        }
        CombinedMotions::Undecided => {
            "No combination of these motions was found to be more than infinitesimal, but not all could be \
             tested: the question remains open."
        }
    };
    vec![sentence.into()]
}

fn is_translation(found: &Combination) -> bool {
    found.motion.kind == MotionKind::Translation
}

/// The family of all translations that combine two finite ones, in one sentence instead of samples of it.
///
/// The test of second order is quadratic: of the combinations of two motions at most two pass it, or all of them.
fn any_translation(
    model: &Model,
    mobilities: &Mobilities,
    combinations: &Combinations,
) -> Option<Phrase> {
    let all = combinations
        .list
        .iter()
        .filter(|found| is_translation(found));
    let samples: Vec<&Combination> = all.collect();
    let (first, others) = samples.split_first()?;
    let across = |other: &&Combination| {
        Unit::try_new(first.motion.direction.cross(&other.motion.direction), SAME)
    };
    let normal = others.iter().copied().find_map(|other| across(&other))?;
    let parts = |index: &MotionIndex| {
        samples
            .iter()
            .any(|found| found.weights[index.get()].abs() > SAME)
    };
    let combined: Vec<MotionIndex> = mobilities.motions.indices().filter(parts).collect();
    let are_finite = combined
        .iter()
        .all(|index| mobilities.motions[*index].is_real());
    let how_far = |found: &Combination| mobility(model, &found.motion, &found.mobility);
    let are_alike = samples
        .iter()
        .all(|found| found.family && how_far(found) == how_far(first));
    (combined.len() == 2 && are_finite && are_alike).then(|| {
        let ways = match is_vertical(model, &normal) {
            true => "in any horizontal direction".into(),
            false => phrase!(
                "in any direction perpendicular to ",
                direction(model, &normal)
            ),
        };
        phrase!("In combination: translation ", ways, ". ", how_far(first))
    })
}

/// A combination that passes the test of second order, and where it leads.
fn combination(model: &Model, combination: &Combination) -> Phrase {
    let start = if combination.family {
        "In combination, as one of a continuous family"
    } else {
        "In combination"
    };
    let phrase = whole_phrase(model, &combination.motion);
    let how_far = match (combination.proven, combination.mobility.is_real()) {
        (true, false) => {
            "A finite motion, as the second-order test proves, but its path was not followed."
                .into()
        }
        _ => mobility(model, &combination.motion, &combination.mobility),
    };
    let proof = if combination.proven && combination.mobility.is_real() {
        " The second-order test proves that it is finite."
    } else {
        ""
    };
    phrase!(start, ": ", phrase, ". ", how_far, proof)
}

/// What is known of all other combinations.
fn rest(combinations: &Combinations) -> Phrase {
    let list = &combinations.list;
    match (
        combinations.searched,
        list.iter().any(|combination| combination.family),
    ) {
        (Searched::FromStarts, _) => {
            "Whether other combinations are finite remains open: not all could be tested."
        }
        (Searched::InSteps, _) => {
            "Combinations in which contacts open or cables go slack were tested in steps only: whether \
             others between these are finite remains open."
        }
        (Searched::All, true) => {
            "Outside these families, no combination is more than infinitesimal."
        }
        (Searched::All, false) if list.is_empty() => {
            "No combination of several of these motions is more than infinitesimal."
        }
        (Searched::All, false) => "No other combination is more than infinitesimal.",
    }
    .into()
}

fn stop(model: &Model, stop: Stop) -> Phrase {
    match stop {
        Stop::Closed => "there the body is back in its initial position".into(),
        Stop::Turned => "there the body has completed a full revolution".into(),
        Stop::GoesOn => "it continues".into(),
        Stop::Branch => "there the path branches".into(),
        Stop::Limit => "there the supports allow no further motion".into(),
        Stop::Meets(reaction) => {
            let reaction = &model.reactions[reaction];
            let name = support(model, reaction.support);
            match reaction.sense {
                Sense::Pull => phrase!("there ", name, " becomes taut again"),
                _ => phrase!("there the body touches ", name, " again"),
            }
        }
        Stop::Blocked => "it is blocked from the start".into(),
    }
}

fn either_way([back, ahead]: &[Phrase; 2]) -> Phrase {
    if back == ahead {
        ahead.clone()
    } else {
        phrase!(ahead, " and ", back)
    }
}

/// How far a motion has gone at its ends: degrees that the body has turned, or the length of its way.
fn amounts(model: &Model, motion: &FreeMotion, path: &Path) -> [Phrase; 2] {
    let ends = [path.end_back, path.end_ahead];
    match motion.kind {
        MotionKind::Translation => path.ways().map(|found| way(model, found)),
        _ => {
            let most = path.farthest();
            [0, 1].map(|i| turned(ends[i], most[i]))
        }
    }
}

/// How far the body is turned at an end, and by how much it was on the way, where that was more.
fn turned(end: End, most: f64) -> Phrase {
    let digits = settled_digits(end.turned, end.error, DIGITS);
    let [at_end, most] = [end.turned.abs(), most].map(|angle| degrees(angle, digits));
    if end.turned.abs() <= end.error {
        phrase!("0° after at most ", most)
    } else if at_end == most {
        about(digits, at_end)
    } else {
        phrase!(about(digits, at_end), " after at most ", most)
    }
}

fn way(model: &Model, way: PathLength) -> Phrase {
    let unit = model.units.length;
    let digits = settled_digits(way.length, way.error, DIGITS);
    let length = rounded(way.length / unit.in_metres(), digits);
    about(digits, Quantity::new(length, unit.symbol()))
}

/// Says so where a value has fewer digits than others.
fn about(digits: i32, value: Quantity) -> Phrase {
    if digits < DIGITS {
        phrase!("about ", value)
    } else {
        value.into()
    }
}

fn degrees(angle: f64, digits: i32) -> Quantity {
    Quantity::new(rounded(angle.to_degrees(), digits), DEGREES)
}

/// Significant digits of angles and ways.
const DIGITS: i32 = 3;
/// A turn within this of a whole one, rad, is one.
const WHOLE: f64 = 1e-6;

/// How far a closed path leads: the way, or how far the body turns where that is less than once around.
fn closed(model: &Model, motion: &FreeMotion, path: &Path) -> Phrase {
    const BACK: &str = "the body returns to its initial position";
    if motion.kind == MotionKind::Translation {
        return phrase!(BACK, " along a path of ", way(model, path.ways()[1]));
    }
    if path.end_ahead.turned.abs() >= TAU - WHOLE {
        return "the body can turn through a full revolution".into();
    }
    let [back, ahead] = path.swing().map(f64::abs);
    let degrees = |angle: f64| degrees(angle, DIGITS);
    if !path.keeps_its_axis() {
        let most = degrees(back.max(ahead));
        return phrase!(BACK, ", rotated by no more than ", most, " on the way");
    }
    let (back, ahead) = (degrees(back), degrees(ahead));
    let rotating = phrase!(BACK, ", rotating no more than ", ahead);
    match back == ahead {
        true => phrase!(rotating, " in either direction"),
        false => phrase!(rotating, " in one direction and ", back, " in the other"),
    }
}

/// How exactly a path was followed: the largest residual, as a length.
pub fn residual(model: &Model, mobility: &Mobility) -> Option<Phrase> {
    let path = mobility.path()?;
    Some(if path.residual == 0.0 {
        number(0.0).into()
    } else {
        length(path.residual * model.length, &model.units).into()
    })
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;
    use crate::statics::MotionIndex;

    #[test]
    fn real_and_instantaneous_motions_are_told() {
        let said = |sample| {
            let study = samples::study(sample);
            let motion = &study.diagnosis().free_motions[MotionIndex::FIRST];
            mobility(
                study.model(),
                motion,
                &study.mobilities().motions[MotionIndex::FIRST],
            )
        };
        assert_eq!(
            said(samples::hinged_hatch()),
            "A finite motion: the body can turn through a full revolution."
        );
        assert_eq!(
            said(samples::swinging_beam()),
            "A finite motion: the body can turn through a full revolution."
        );
        let study = samples::study(samples::vertical_links());
        assert!(study.mobilities().motions.iter().any(Mobility::is_real));
    }
}
