//! Words for free motions and shared axes.

use nalgebra::{Point3, Unit, Vector3};

use super::geometry::{SAME, direction, ends, is_vertical, line, plane, point, signed_direction};
use super::name::listed_briefly;
use super::number::{Quantity, rounded};
use super::phrase::{Phrase, phrase};
use crate::scene::Space;
use crate::statics::{Family, FreeMotion, Meeting, Model, MotionKind, Reaction, SharedAxis};

/// A motion as a noun: `rotation about the line through A and B`, `translation along x`, `screw motion about the z axis (0.2 m per
/// radian, right-handed)`.
pub fn motion_phrase(model: &Model, motion: &FreeMotion) -> Phrase {
    let phrase = bare_phrase(model, motion);
    match motion.kind {
        MotionKind::Screw { pitch } => phrase!(phrase, " (", pitch_phrase(model, pitch), ")"),
        _ => phrase,
    }
}

/// A motion with its sense: `upward translation`, `translation along −x`, `clockwise rotation about A`, in space
/// `rotation about the line through A and B, clockwise when viewed from A to B`.
pub(super) fn sensed_phrase(model: &Model, motion: &FreeMotion, backwards: bool) -> Phrase {
    let way = if backwards {
        -motion.direction
    } else {
        motion.direction
    };
    match motion.kind {
        MotionKind::Translation if is_vertical(model, &way) => match is_upward(&way) {
            true => "upward translation".into(),
            false => "downward translation".into(),
        },
        MotionKind::Translation => phrase!("translation ", course(model, &way)),
        MotionKind::Rotation if model.space == Space::Planar => {
            let sense = if way.z < 0.0 {
                "clockwise"
            } else {
                "anticlockwise"
            };
            phrase!(sense, " ", motion_phrase(model, motion))
        }
        _ => phrase!(
            motion_phrase(model, motion),
            ", ",
            clockwise(model, &motion.point, &way)
        ),
    }
}

/// Where a translation goes: `vertically upward`, `along −x`.
pub(super) fn course(model: &Model, way: &Unit<Vector3<f64>>) -> Phrase {
    if !is_vertical(model, way) {
        return phrase!("along ", signed_direction(model, way));
    }
    match is_upward(way) {
        true => "vertically upward".into(),
        false => "vertically downward".into(),
    }
}

/// Whether a vertical direction is up: its other components are none.
fn is_upward(way: &Unit<Vector3<f64>>) -> bool {
    way.sum() > 0.0
}

/// The sense of a right-handed rotation about a line in space: `clockwise when viewed along −x`, `clockwise when viewed from A to B`.
pub(super) fn clockwise(model: &Model, through: &Point3<f64>, way: &Unit<Vector3<f64>>) -> Phrase {
    match ends(model, through, way) {
        Some([from, to]) => phrase!("clockwise when viewed from ", from, " to ", to),
        None => phrase!("clockwise when viewed along ", signed_direction(model, way)),
    }
}

/// `vertical translation`, `translation along x`.
pub(super) fn translation(model: &Model, along: &Unit<Vector3<f64>>) -> Phrase {
    match is_vertical(model, along) {
        true => "vertical translation".into(),
        false => phrase!("translation along ", direction(model, along)),
    }
}

fn bare_phrase(model: &Model, motion: &FreeMotion) -> Phrase {
    let axis = || line(model, &motion.point, &motion.direction);
    match motion.kind {
        MotionKind::Translation => translation(model, &motion.direction),
        MotionKind::Rotation => phrase!("rotation about ", axis()),
        MotionKind::Screw { .. } => phrase!("screw motion about ", axis()),
    }
}

/// The phrase with the pitch of a screw.
pub(super) fn whole_phrase(model: &Model, motion: &FreeMotion) -> Phrase {
    let phrase = bare_phrase(model, motion);
    match motion.kind {
        MotionKind::Screw { pitch } => phrase!(phrase, ", ", advance(model, pitch)),
        _ => phrase,
    }
}

/// A motion as a sentence, with the family that it stands for.
pub fn motion(model: &Model, motion: &FreeMotion) -> Phrase {
    let phrase = whole_phrase(model, motion).capitalised();
    match family(model, motion) {
        Some(family) => phrase!(phrase, "; ", family, "."),
        None => phrase!(phrase, "."),
    }
}

/// A motion as a sentence, alone.
pub fn motion_alone(model: &Model, motion: &FreeMotion) -> Phrase {
    whole_phrase(model, motion).sentence()
}

/// The family that several motions stand for, as a sentence, where it is that of each of them.
pub fn common_family(model: &Model, motions: &[FreeMotion]) -> Option<Phrase> {
    let mut families = motions.iter().map(|motion| family(model, motion));
    let first = families.next()??;
    let is_common = motions.len() > 1 && families.all(|other| other.as_ref() == Some(&first));
    is_common.then(|| first.sentence())
}

/// The pitch of a screw in short: `0.2 m per radian, right-handed`.
pub(super) fn pitch_phrase(model: &Model, pitch_m: f64) -> Phrase {
    let unit = model.units.length;
    phrase!(
        Quantity::new(rounded(pitch_m.abs() / unit.in_metres(), 4), unit.symbol()),
        " per radian, ",
        hand(pitch_m),
        "-handed"
    )
}

fn hand(pitch_m: f64) -> &'static str {
    if pitch_m > 0.0 { "right" } else { "left" }
}

/// How far a screw goes: `advancing 1 m per radian (6.283 m per revolution), right-handed`.
pub(super) fn advance(model: &Model, pitch_m: f64) -> Phrase {
    let unit = model.units.length;
    let pitch = pitch_m.abs() / unit.in_metres();
    let length = |size| Quantity::new(rounded(size, 4), unit.symbol());
    let hand = hand(pitch_m);
    phrase!(
        "advancing ",
        length(pitch),
        " per radian (",
        length(pitch * std::f64::consts::TAU),
        " per revolution), ",
        hand,
        "-handed"
    )
}

/// Which other motions a free motion stands for: `any line through O could equally be the axis`.
fn family(model: &Model, motion: &FreeMotion) -> Option<Phrase> {
    let planar = model.space == Space::Planar;
    Some(match &motion.family {
        Family::Alone => return None,
        Family::Parallels if planar => "any point of the plane could equally be the centre".into(),
        Family::Parallels => "any line parallel to it could equally be the axis".into(),
        Family::ParallelsInPlane(normal) if planar => phrase!(
            "any point on the line through ",
            point(model, &motion.point),
            " perpendicular to ",
            direction(model, normal),
            " could equally be the centre"
        ),
        Family::ParallelsInPlane(normal) => phrase!(
            "any line parallel to it in ",
            plane(model, &motion.point, normal),
            " could equally be the axis"
        ),
        Family::LinesThrough(at) => phrase!(
            "any line through ",
            point(model, at),
            " could equally be the axis"
        ),
        Family::PencilAt(at, normal) => phrase!(
            "any line through ",
            point(model, at),
            " in ",
            plane(model, at, normal),
            " could equally be the axis"
        ),
        Family::LinesInPlane(at, normal) => {
            phrase!(
                "any line of ",
                plane(model, at, normal),
                " could equally be the axis"
            )
        }
    })
}

/// A shared axis as a sentence: which line it is and how the reactions meet it.
pub fn shared_axis(model: &Model, axis: &SharedAxis) -> Phrase {
    let name = line(model, &axis.point, &axis.direction);
    let those = |wanted: fn(&Meeting) -> bool| -> Vec<Phrase> {
        let pairs = model.reactions.iter().zip(&axis.meetings);
        pairs
            .filter(|(_, meeting)| wanted(meeting))
            .map(|(reaction, _)| Phrase::from(&reaction.symbol))
            .collect()
    };
    // In the plane the axis is seen as a point.
    let at = match model.space {
        Space::Planar => ["passes through it", "pass through it"],
        Space::Spatial => ["meets it", "meet it"],
    };
    let groups = [
        (those(|m| matches!(m, Meeting::At(_))), at[0], at[1]),
        (
            those(|m| matches!(m, Meeting::Along)),
            "acts along it",
            "act along it",
        ),
        (
            those(|m| matches!(m, Meeting::Parallel)),
            "is parallel to it",
            "are parallel to it",
        ),
        (
            those(|m| matches!(m, Meeting::SquareCouple)),
            "is a couple perpendicular to it",
            "are couples perpendicular to it",
        ),
    ];
    let said: Vec<Phrase> = groups
        .iter()
        .filter(|(names, ..)| !names.is_empty())
        .map(|(names, one, many)| {
            phrase!(
                listed_briefly(names),
                " ",
                if names.len() == 1 { *one } else { *many }
            )
        })
        .collect();
    if said.is_empty() {
        return phrase!(name.capitalised(), ".");
    }
    let crossings = crossings(model, axis).map(|said| phrase!(" ", said));
    phrase!(
        name.capitalised(),
        ": ",
        Phrase::joined(said, "; "),
        ".",
        crossings
    )
}

/// Where lines of action of different supports cross on an axis that fewer than two supports lie on, as a sentence: `It passes
/// through (0.2, 0, 0.2) m, where the lines of action of F_D and F_F cross.`
pub fn crossings(model: &Model, axis: &SharedAxis) -> Option<Phrase> {
    if model.space == Space::Planar || ends(model, &axis.point, &axis.direction).is_some() {
        return None;
    }
    let near = SAME * model.length;
    let mut points: Vec<(Point3<f64>, Vec<&Reaction>)> = Vec::new();
    for (reaction, meeting) in model.reactions.iter().zip(&axis.meetings) {
        let Meeting::At(at) = meeting else { continue };
        match points
            .iter_mut()
            .find(|(point, _)| (point - at).norm() <= near)
        {
            Some((_, crossing)) => crossing.push(reaction),
            None => points.push((*at, vec![reaction])),
        }
    }
    points.retain(|(_, crossing)| crossing.iter().any(|of| of.support != crossing[0].support));
    let said = points.iter().take(MOST_CROSSINGS).map(|(at, crossing)| {
        let symbols: Vec<Phrase> = crossing.iter().map(|of| Phrase::from(&of.symbol)).collect();
        phrase!(
            point(model, at),
            ", where the lines of action of ",
            listed_briefly(&symbols),
            " cross"
        )
    });
    let said: Vec<Phrase> = said.collect();
    let places = Phrase::joined(said.iter().cloned(), ", and through ");
    (!said.is_empty()).then(|| phrase!("It passes through ", places, "."))
}

/// Crossings that an axis is described by.
const MOST_CROSSINGS: usize = 2;

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;
    use crate::statics::MotionIndex;

    #[test]
    fn a_screw_tells_its_pitch_and_hand() {
        let (model, diagnosis) = samples::free_screw();
        let short = motion_phrase(&model, &diagnosis.free_motions[MotionIndex::FIRST]);
        assert!(
            short
                .to_string()
                .starts_with("screw motion about the z axis ("),
            "{short}"
        );
        assert!(short.to_string().ends_with("-handed)"), "{short}");
        let words = whole_phrase(&model, &diagnosis.free_motions[MotionIndex::FIRST]);
        assert!(
            words
                .to_string()
                .starts_with("screw motion about the z axis, advancing "),
            "{words}"
        );
        assert!(
            words.to_string().contains(" m per radian (") && words.to_string().contains("-handed"),
            "{words}"
        );
    }

    /// An escape once named its axis or line only, and so both ways along it.
    #[test]
    fn a_motion_with_a_sense_tells_it() {
        let (model, diagnosis) = samples::swinging_beam();
        let mut motion = diagnosis.free_motions[MotionIndex::FIRST].clone();
        let anticlockwise = motion.direction.z > 0.0;
        let said = [anticlockwise, !anticlockwise].map(|back| sensed_phrase(&model, &motion, back));
        assert_eq!(
            said,
            [
                "clockwise rotation about P",
                "anticlockwise rotation about P"
            ]
        );
        motion.kind = MotionKind::Translation;
        motion.direction = Vector3::y_axis();
        let said = [false, true].map(|back| sensed_phrase(&model, &motion, back));
        assert_eq!(said, ["upward translation", "downward translation"]);
        motion.direction = Vector3::x_axis();
        assert_eq!(
            sensed_phrase(&model, &motion, true),
            "translation along \u{2212}x"
        );
        let (model, diagnosis) = samples::two_ball_joints();
        let motion = &diagnosis.free_motions[MotionIndex::FIRST];
        let backwards = motion.direction.x < 0.0;
        assert_eq!(
            sensed_phrase(&model, motion, backwards),
            "rotation about the line through A and B, clockwise when viewed from A to B"
        );
    }

    #[test]
    fn families_are_told() {
        let (model, diagnosis) = samples::three_cables();
        let said: Vec<String> = diagnosis
            .free_motions
            .iter()
            .map(|m| motion(&model, m).to_string())
            .collect();
        assert_eq!(said.len(), 3);
        for words in said {
            assert!(
                words.ends_with("; any line through (0, 0, 2) m could equally be the axis."),
                "{words}"
            );
        }
    }

    #[test]
    fn a_shared_axis_tells_how_reactions_meet_it() {
        let (model, diagnosis) = samples::two_ball_joints();
        assert_eq!(
            shared_axis(&model, &diagnosis.shared_axes[0]),
            "The line through A and B: A_y, A_z, B_y and B_z meet it; A_x and B_x act along it."
        );
    }
}
