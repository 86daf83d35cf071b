//! The body and all that goes with it follow the selected motion.

use bevy::prelude::*;
use nalgebra::{Isometry3, Point3};

use super::crossing::{BodyPose, StageFrame};
use super::hardware::Rod;
use crate::motion;
use crate::viewer::state::{Label, Playback, Shown};

/// Default swing of the selected motion, rad or m; 0 where nothing moves.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Default)]
pub struct DefaultSwing(pub f64);

/// What an entity follows.
#[derive(Component, Debug, Clone, Copy)]
pub enum Follows {
    /// The body.
    Body,
    /// Where the body would be at that end of its swing: −1 or 1.
    End(f64),
    /// A body point, m, without turning.
    Point(Point3<f64>),
    /// The body end of a link or cable.
    Eye(Rod),
}

/// A label that follows a body point: where it stands when the body is as written.
#[derive(Component, Debug, Clone, Copy)]
pub struct RidingLabel {
    /// The body point, m.
    pub anchor: Point3<f64>,
    /// The label's place, m.
    pub at: Point3<f64>,
}

/// The body's placement at a part of the swing, −1 to 1.
pub fn placement(
    shown: &Shown,
    swing: DefaultSwing,
    playback: &Playback,
    part: f64,
) -> Isometry3<f64> {
    match shown.diagnosis.free_motions.get(shown.motion) {
        Some(free) => motion::pose(free, part * f64::from(playback.amplitude) * swing.0),
        None => Isometry3::identity(),
    }
}

/// Puts the body, its ghosts, rods and riding strokes where the swing has them.
pub fn pose_body(
    (shown, playback, swing, frame): (
        Res<Shown>,
        Res<Playback>,
        Res<DefaultSwing>,
        Res<StageFrame>,
    ),
    mut pose: ResMut<BodyPose>,
    mut followers: Query<(&Follows, &mut Transform)>,
) {
    let at = |part: f64| placement(&shown, *swing, &playback, part);
    let now = at(f64::from(playback.position));
    pose.set_if_neq(BodyPose(now));
    let body = frame.pose(&now);
    for (follows, mut transform) in &mut followers {
        transform.set_if_neq(match follows {
            Follows::Body => body,
            Follows::End(part) => frame.pose(&at(*part)),
            Follows::Point(anchor) => {
                let shift = frame.point(&(now * anchor)) - frame.point(anchor);
                Transform::from_translation(shift)
            }
            Follows::Eye(rod) => rod.follow(body.transform_point(rod.eye)),
        });
    }
}

/// How close to an end of the swing, of its half, the body hides the ghost there.
const COVERS: f64 = 0.04;

/// Hides a ghost that the body coincides with: the two would flicker into each other.
pub fn hide_covered_ghosts(
    playback: Res<Playback>,
    mut ghosts: Query<(&Follows, &mut Visibility)>,
) {
    for (follows, mut visibility) in &mut ghosts {
        if let Follows::End(part) = follows {
            let covered = (f64::from(playback.position) - part).abs() < COVERS;
            visibility.set_if_neq(match covered {
                true => Visibility::Hidden,
                false => Visibility::Inherited,
            });
        }
    }
}

/// Moves labels along with the body points that they ride on.
pub fn move_labels(pose: Res<BodyPose>, mut labels: Query<(&RidingLabel, &mut Label)>) {
    for (riding, mut label) in &mut labels {
        let at = riding.at + (pose.0 * riding.anchor - riding.anchor);
        if label.at != at {
            label.at = at;
        }
    }
}
