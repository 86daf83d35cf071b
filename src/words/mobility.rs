//! Words for how far a free motion truly goes.

use super::number::{length, number, rounded};
use crate::motion::{End, Mobilities, Mobility, Stop, Together};
use crate::statics::{FreeMotion, Model, MotionKind};

/// Whether a free motion is real, and how far it goes, as one or two sentences.
pub fn mobility(model: &Model, motion: &FreeMotion, mobility: &Mobility) -> String {
    match mobility {
        Mobility::Real { path, .. } => match [path.end_back, path.end_ahead] {
            [_, ahead] if ahead.stop == Stop::Closed => {
                "A real motion: it leads right round, back to where it began.".to_owned()
            }
            [back, ahead] if [back.stop, ahead.stop] == [Stop::Turned; 2] => {
                "A real motion: the body turns once around, either way.".to_owned()
            }
            [back, ahead] if back.stop == ahead.stop => format!(
                "A real motion, followed {} either way: {}.",
                either_way(model, motion, back, ahead),
                stop(ahead.stop)
            ),
            [back, ahead] => format!(
                "A real motion. It was followed {} one way: {}; and {} the other: {}.",
                amount(model, motion, ahead.amount),
                stop(ahead.stop),
                amount(model, motion, back.amount.abs()),
                stop(back.stop)
            ),
        },
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
        Stop::Travelled => "nothing ends it there",
        Stop::Branch => "there the body may go on in more than one way",
        Stop::Limit => "there the supports bind",
    }
}

fn either_way(model: &Model, motion: &FreeMotion, back: End, ahead: End) -> String {
    let (back, ahead) = (
        amount(model, motion, back.amount.abs()),
        amount(model, motion, ahead.amount),
    );
    if back == ahead {
        ahead
    } else {
        format!("{ahead} and {back}")
    }
}

/// An amount of a motion: degrees about its axis, or a length.
fn amount(model: &Model, motion: &FreeMotion, amount: f64) -> String {
    match motion.kind {
        MotionKind::Translation => {
            let unit = model.units.length;
            format!(
                "{} {}",
                rounded(amount / unit.in_metres(), 3),
                unit.symbol()
            )
        }
        _ => format!("{}°", rounded(amount.to_degrees(), 3)),
    }
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
