//! Words for how far a free motion truly goes.

use std::f64::consts::TAU;

use super::geometry::point;
use super::leaving::{leaves, rivals, side};
use super::motion::whole_phrase;
use super::name::support;
use super::number::{DEGREES, Quantity, length, number, rounded, settled_digits};
use super::phrase::{Phrase, phrase};
use crate::motion::{
    Combination, Combinations, End, Mobilities, Mobility, Path, Stop, Together, Way,
};
use crate::statics::{FreeMotion, Model, MotionKind, Sense};

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
                phrase!(" on circles of radius ", radius)
            });
            let line = about.map_or_else(Phrase::new, |at| {
                phrase!(" about the parallel line through ", point(model, &at))
            });
            let rivals = rivals(model, instead).map(|rivals| phrase!(" ", rivals));
            phrase!(
                "A real motion",
                line,
                circles,
                real(model, motion, path),
                rivals
            )
        }
        Mobility::InstantaneousOnly {
            stiffened: true, ..
        } => "Only for an instant: the supports stop it as soon as it starts (tested to second order). \
             Tightening the supports against each other stiffens it."
            .into(),
        Mobility::InstantaneousOnly {
            by_second_order: true,
            ..
        } => "Only for an instant: by itself it is stopped as soon as it starts (tested to second order).".into(),
        Mobility::InstantaneousOnly { .. } => {
            "Only for an instant, it seems: it passes the test of second order, but no way on was found.".into()
        }
    }
}

/// What is said behind "A real motion" of which way it goes, what the body leaves, and how far it goes.
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
                    phrase!(ahead, " as it starts, either way")
                }
                (ahead, back) => {
                    let all = || "every contact keeps touching".into();
                    phrase!(
                        "One way ",
                        ahead.unwrap_or_else(all),
                        ", and the other way ",
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
        Stop::GoesOn => "It goes on, and nothing was found to end it.".into(),
        end => phrase!("It was followed ", amount, ": ", stop(model, end), "."),
    };
    phrase!(
        " to one side, ",
        side,
        left,
        "; blocked to the other. ",
        far
    )
}

/// How far a motion goes that is free to both sides.
fn both_sides(model: &Model, motion: &FreeMotion, path: &Path) -> Phrase {
    match [path.end_back, path.end_ahead] {
        [_, ahead] if ahead.stop == Stop::Closed => phrase!(": ", closed(model, motion, path), "."),
        [back, ahead] if [back.stop, ahead.stop] == [Stop::Turned; 2] => {
            ": the body turns once around, either way.".into()
        }
        [back, ahead] if [back.stop, ahead.stop] == [Stop::GoesOn; 2] => {
            ": it goes on either way, and nothing was found to end it.".into()
        }
        [back, ahead] if back.stop == ahead.stop => phrase!(
            ", followed ",
            either_way(&amounts(model, motion, path)),
            " either way: ",
            stop(model, ahead.stop),
            "."
        ),
        [back, ahead] => {
            let [so_far_back, so_far] = amounts(model, motion, path);
            match [back.stop, ahead.stop] {
                [Stop::GoesOn, ends] => one_way_only(model, &so_far, ends),
                [ends, Stop::GoesOn] => one_way_only(model, &so_far_back, ends),
                [ends_back, ends] => phrase!(
                    ". It was followed ",
                    so_far,
                    " one way: ",
                    stop(model, ends),
                    "; and ",
                    so_far_back,
                    " the other: ",
                    stop(model, ends_back),
                    "."
                ),
            }
        }
    }
}

fn one_way_only(model: &Model, so_far: &Phrase, ends: Stop) -> Phrase {
    phrase!(
        ". It was followed ",
        so_far,
        " one way: ",
        stop(model, ends),
        "; the other way it goes on."
    )
}

/// What holds for several free motions taken together, as sentences; none where each alone says it all.
pub fn together(model: &Model, mobilities: &Mobilities) -> Vec<Phrase> {
    if mobilities.motions.len() < 2 {
        return Vec::new();
    }
    if let Some(combinations) = &mobilities.combinations {
        let list = combinations.list.iter();
        let combined = list.map(|combination| self::combination(model, combination));
        return combined.chain([rest(combinations)]).collect();
    }
    let sentence = match mobilities.together {
        Together::AllExtend if !mobilities.motions.iter().all(Mobility::is_real) => {
            "All combinations of them pass the test of second order; whether they go on is open."
        }
        Together::Unhindered | Together::AllExtend => return Vec::new(),
        Together::NoneExtends => "No combination of them goes on past the first instant.",
        Together::SomeExtend => {
            "Some combinations of them go on past the first instant and some do not."
        }
        Together::Undecided => {
            "Combinations of them that go on past the first instant were sought and not found, \
             but not all could be tried: that is open."
        }
    };
    vec![sentence.into()]
}

/// A combination that passes the test of second order, and where it leads.
fn combination(model: &Model, combination: &Combination) -> Phrase {
    let start = if combination.family {
        "Combined, as one of a whole family"
    } else {
        "Combined"
    };
    let phrase = whole_phrase(model, &combination.motion);
    let how_far = match (combination.proven, combination.mobility.is_real()) {
        (true, false) => {
            "A real motion, as the second order proves, but it was not followed.".into()
        }
        _ => mobility(model, &combination.motion, &combination.mobility),
    };
    let proof = if combination.proven && combination.mobility.is_real() {
        " The second order proves that it goes on."
    } else {
        ""
    };
    phrase!(start, ": ", phrase, ". ", how_far, proof)
}

/// What is known of all other combinations.
fn rest(combinations: &Combinations) -> Phrase {
    let list = &combinations.list;
    match (
        combinations.complete,
        list.iter().any(|combination| combination.family),
    ) {
        (false, _) => "Whether other combinations go on is open: not all could be tried.",
        (true, true) => {
            "Outside such families no other combination goes on past the first instant."
        }
        (true, false) if list.is_empty() => {
            "No combination of several of them goes on past the first instant."
        }
        (true, false) => "No other combination goes on past the first instant.",
    }
    .into()
}

fn stop(model: &Model, stop: Stop) -> Phrase {
    match stop {
        Stop::Closed => "there it is back where it began".into(),
        Stop::Turned => "there it has turned once around".into(),
        Stop::GoesOn => "it goes on".into(),
        Stop::Branch => "there the body may go on in more than one way".into(),
        Stop::Limit => "there the supports bind".into(),
        Stop::Meets(reaction) => {
            let reaction = &model.reactions[reaction];
            let name = support(model, reaction.support);
            match reaction.sense {
                Sense::Pull => phrase!("there ", name, " is taut again"),
                _ => phrase!("there it meets ", name, " again"),
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

fn way(model: &Model, way: Way) -> Phrase {
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
    const BACK: &str = "back to where it began";
    if motion.kind == MotionKind::Translation {
        return phrase!(
            "it leads ",
            BACK,
            ", on a way of ",
            way(model, path.ways()[1])
        );
    }
    if path.end_ahead.turned.abs() >= TAU - WHOLE {
        return phrase!("it leads right round, ", BACK);
    }
    let [back, ahead] = path.swing().map(f64::abs);
    let degrees = |angle: f64| degrees(angle, DIGITS);
    if !path.keeps_its_axis() {
        let most = degrees(back.max(ahead));
        return phrase!(
            "it leads ",
            BACK,
            ", and on the way the body is turned by no more than ",
            most
        );
    }
    let (back, ahead) = (degrees(back), degrees(ahead));
    if back == ahead {
        return phrase!(
            "it leads ",
            BACK,
            ", and on the way the body turns no more than ",
            ahead,
            " either way"
        );
    }
    phrase!(
        "it leads ",
        BACK,
        ", and on the way the body turns no more than ",
        ahead,
        " one way and ",
        back,
        " the other"
    )
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

    #[test]
    fn real_and_instantaneous_motions_are_told() {
        let said = |sample| {
            let study = samples::study(sample);
            let motion = &study.diagnosis().free_motions[0];
            mobility(study.model(), motion, &study.mobilities().motions[0])
        };
        assert_eq!(
            said(samples::hinged_hatch()),
            "A real motion: it leads right round, back to where it began."
        );
        assert_eq!(
            said(samples::swinging_beam()),
            "A real motion: it leads right round, back to where it began."
        );
        let study = samples::study(samples::vertical_links());
        assert!(study.mobilities().motions.iter().any(Mobility::is_real));
    }
}
