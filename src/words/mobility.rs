//! Words for how far a free motion truly goes.

use std::f64::consts::TAU;

use super::geometry::point;
use super::number::{length, number, rounded, settled_digits};
use crate::motion::{Mobilities, Mobility, Path, Stop, Together, Way};
use crate::statics::{FreeMotion, Model, MotionKind};

/// Whether a free motion is real, and how far it goes, as one or two sentences.
pub fn mobility(model: &Model, motion: &FreeMotion, mobility: &Mobility) -> String {
    match mobility {
        Mobility::Real { path, about, .. } => {
            let mut said = real(model, motion, path);
            if let Some(radius) = path.circle() {
                let unit = model.units.length;
                let radius = rounded(radius / unit.in_metres(), DIGITS);
                said = format!(" on circles of radius {radius} {}{said}", unit.symbol());
            }
            match about {
                None => format!("A real motion{said}"),
                Some(at) => format!("A real motion about the parallel line through {}{said}", point(model, at)),
            }
        }
        Mobility::InstantaneousOnly {
            stiffened: true, ..
        } => "Only for an instant: the supports stop it as soon as it starts (tested to second order). \
             Tightening the supports against each other stiffens it."
            .to_owned(),
        Mobility::InstantaneousOnly {
            by_second_order: true,
            ..
        } => "Only for an instant: by itself it is stopped as soon as it starts (tested to second order)."
            .to_owned(),
        Mobility::InstantaneousOnly { .. } => {
            "Only for an instant, it seems: it passes the test of second order, but no way on was found."
                .to_owned()
        }
    }
}

/// What is said behind "A real motion" of how far it goes.
fn real(model: &Model, motion: &FreeMotion, path: &Path) -> String {
    match [path.end_back, path.end_ahead] {
        [_, ahead] if ahead.stop == Stop::Closed => format!(": {}.", closed(model, motion, path)),
        [back, ahead] if [back.stop, ahead.stop] == [Stop::Turned; 2] => {
            ": the body turns once around, either way.".to_owned()
        }
        [back, ahead] if [back.stop, ahead.stop] == [Stop::GoesOn; 2] => {
            ": it goes on either way, and nothing was found to end it.".to_owned()
        }
        [back, ahead] if back.stop == ahead.stop => format!(
            ", followed {} either way: {}.",
            either_way(&amounts(model, motion, path)),
            stop(ahead.stop)
        ),
        [back, ahead] => {
            let [so_far_back, so_far] = amounts(model, motion, path);
            match [back.stop, ahead.stop] {
                [Stop::GoesOn, ends] => one_way_only(&so_far, ends),
                [ends, Stop::GoesOn] => one_way_only(&so_far_back, ends),
                [ends_back, ends] => format!(
                    ". It was followed {so_far} one way: {}; and {so_far_back} the other: {}.",
                    stop(ends),
                    stop(ends_back)
                ),
            }
        }
    }
}

fn one_way_only(so_far: &str, ends: Stop) -> String {
    format!(
        ". It was followed {so_far} one way: {}; the other way it goes on.",
        stop(ends)
    )
}

/// What holds for several free motions taken together; `None` where each alone says it all.
pub fn together(mobilities: &Mobilities) -> Option<&'static str> {
    if mobilities.motions.len() < 2 {
        return None;
    }
    match mobilities.together {
        Together::Unhindered | Together::AllExtend => None,
        Together::NoneExtends => Some("No combination of them goes on past the first instant."),
        Together::SomeExtend => {
            Some("Some combinations of them go on past the first instant and some do not.")
        }
        Together::Undecided => Some(
            "Whether any combination of them goes on past the first instant is not decided here.",
        ),
    }
}

fn stop(stop: Stop) -> &'static str {
    match stop {
        Stop::Closed => "there it is back where it began",
        Stop::Turned => "there it has turned once around",
        Stop::GoesOn => "it goes on",
        Stop::Branch => "there the body may go on in more than one way",
        Stop::Limit => "there the supports bind",
    }
}

fn either_way([back, ahead]: &[String; 2]) -> String {
    if back == ahead {
        ahead.clone()
    } else {
        format!("{ahead} and {back}")
    }
}

/// How far a motion has gone at its ends: degrees that the body has turned, or the length of its way.
fn amounts(model: &Model, motion: &FreeMotion, path: &Path) -> [String; 2] {
    let ends = [path.end_back, path.end_ahead];
    match motion.kind {
        MotionKind::Translation => path.ways().map(|found| way(model, found)),
        _ => ends.map(|end| {
            let digits = settled_digits(end.turned, end.error, DIGITS);
            about(digits, degrees(end.turned.abs(), digits))
        }),
    }
}

fn way(model: &Model, way: Way) -> String {
    let unit = model.units.length;
    let digits = settled_digits(way.length, way.error, DIGITS);
    let length = rounded(way.length / unit.in_metres(), digits);
    about(digits, format!("{length} {}", unit.symbol()))
}

/// Says so where a value has fewer digits than others.
fn about(digits: i32, value: String) -> String {
    if digits < DIGITS {
        format!("about {value}")
    } else {
        value
    }
}

fn degrees(angle: f64, digits: i32) -> String {
    format!("{}°", rounded(angle.to_degrees(), digits))
}

/// Significant digits of angles and ways.
const DIGITS: i32 = 3;
/// A turn within this of a whole one, rad, is one.
const WHOLE: f64 = 1e-6;

/// How far a closed path leads: the way, or how far the body turns where that is less than once around.
fn closed(model: &Model, motion: &FreeMotion, path: &Path) -> String {
    const BACK: &str = "back to where it began";
    if motion.kind == MotionKind::Translation {
        return format!(
            "it leads {BACK}, on a way of {}",
            way(model, path.ways()[1])
        );
    }
    if path.end_ahead.turned.abs() >= TAU - WHOLE {
        return format!("it leads right round, {BACK}");
    }
    let [back, ahead] = path.swing().map(f64::abs);
    let degrees = |angle: f64| degrees(angle, DIGITS);
    if !path.keeps_its_axis() {
        let most = degrees(back.max(ahead));
        return format!(
            "it leads {BACK}, and on the way the body is turned by no more than {most}"
        );
    }
    let (back, ahead) = (degrees(back), degrees(ahead));
    if back == ahead {
        return format!(
            "it leads {BACK}, and on the way the body turns no more than {ahead} either way"
        );
    }
    format!(
        "it leads {BACK}, and on the way the body turns no more than {ahead} one way and {back} the other"
    )
}

/// How exactly a path was followed: the largest residual, as a length.
pub fn residual(model: &Model, mobility: &Mobility) -> Option<String> {
    let path = mobility.path()?;
    Some(if path.residual == 0.0 {
        number(0.0)
    } else {
        length(path.residual * model.length, &model.units)
    })
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    #[test]
    fn real_and_instantaneous_motions_are_told() {
        let said = |(model, diagnosis): (Model, crate::statics::Diagnosis)| {
            let mobilities = Mobilities::of(&model, &diagnosis);
            mobility(&model, &diagnosis.free_motions[0], &mobilities.motions[0])
        };
        assert_eq!(
            said(samples::hinged_hatch()),
            "A real motion: it leads right round, back to where it began."
        );
        assert_eq!(
            said(samples::swinging_beam()),
            "A real motion: it leads right round, back to where it began."
        );
        let (model, diagnosis) = samples::vertical_links();
        let mobilities = Mobilities::of(&model, &diagnosis);
        assert!(mobilities.motions.iter().any(Mobility::is_real));
    }
}
