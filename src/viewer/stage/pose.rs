//! The body and all that goes with it follow the selected motion.

use bevy::prelude::*;
use nalgebra::{Isometry3, Point3, Translation3, UnitQuaternion};

use super::crossing::{BodyPose, StageFrame};
use super::hardware::Rod;
use super::setting::Swing;
use crate::viewer::shown::ShownParam;
use crate::viewer::state::{Label, Playback};

/// What an entity follows.
#[derive(Component, Debug, Clone, Copy)]
pub(crate) enum Follows {
    /// The body.
    Body,
    /// Where the body would be at that end of its swing: −1 or 1.
    End(f64),
    /// A body point.
    Point(Anchor),
    /// The body end of a link or cable.
    Eye(Rod),
}

/// A body point that strokes and labels go along with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Anchor {
    /// The body point, m.
    pub point: Point3<f64>,
    /// The ground end of the link or cable that they turn with, m; without one they do not turn.
    pub ground: Option<Point3<f64>>,
}

impl Anchor {
    /// Where what goes along is, for a placement of the body.
    pub(crate) fn carried(&self, body: &Isometry3<f64>) -> Isometry3<f64> {
        let now = body * self.point;
        let turn = self.ground.and_then(|ground| {
            UnitQuaternion::rotation_between(&(self.point - ground), &(now - ground))
        });
        let turn = turn.unwrap_or_else(UnitQuaternion::identity);
        Isometry3::from_parts(
            Translation3::from(now.coords - turn * self.point.coords),
            turn,
        )
    }
}

/// A label that goes along with a body point: where it stands when the body is as written.
#[derive(Component, Debug, Clone, Copy)]
pub(crate) struct RidingLabel {
    /// What it goes along with.
    pub anchor: Anchor,
    /// The label's place, m.
    pub at: Point3<f64>,
}

/// Puts the body, its ghosts, rods and riding strokes where the swing has them.
pub(crate) fn pose_body(
    shown: ShownParam,
    (playback, swing, frame): (Res<Playback>, Res<Swing>, Res<StageFrame>),
    mut pose: ResMut<BodyPose>,
    mut followers: Query<(&Follows, &mut Transform)>,
) {
    let shown = shown.read();
    let at = |part: f64| shown.pose(part, swing.amount());
    let now = at(f64::from(playback.position));
    pose.set_if_neq(BodyPose(now));
    let body = frame.pose(&now);
    for (follows, mut transform) in &mut followers {
        transform.set_if_neq(match follows {
            Follows::Body => body,
            Follows::End(part) => frame.pose(&at(*part)),
            Follows::Point(anchor) => frame.pose(&anchor.carried(&now)),
            Follows::Eye(rod) => rod.follow(body.transform_point(rod.eye)),
        });
    }
}

/// How close to an end of the swing, of its half, the body hides the ghost there.
const COVERS: f64 = 0.04;

/// Hides a ghost that the body coincides with: the two would flicker into each other.
pub(crate) fn hide_covered_ghosts(
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
pub(crate) fn move_labels(pose: Res<BodyPose>, mut labels: Query<(&RidingLabel, &mut Label)>) {
    for (riding, mut label) in &mut labels {
        let at = riding.anchor.carried(&pose.0) * riding.at;
        if label.at != at {
            label.at = at;
        }
    }
}

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;

    use super::*;

    #[test]
    fn what_rides_on_a_link_stays_along_it() {
        let (eye, ground) = (Point3::new(1.0, 2.0, 3.0), Point3::new(1.0, 2.0, 1.0));
        let body = Isometry3::new(Vector3::new(0.4, -0.2, 0.1), Vector3::new(0.2, 0.5, -0.3));
        let anchor = Anchor {
            point: eye,
            ground: Some(ground),
        };
        let carried = anchor.carried(&body);
        assert!((carried * eye - body * eye).norm() < 1e-12);
        let along = carried * (eye + (ground - eye) * 0.3) - carried * eye;
        let rod = ground - body * eye;
        assert!(along.cross(&rod).norm() < 1e-12 && along.dot(&rod) > 0.0);
    }

    #[test]
    fn what_rides_on_a_point_does_not_turn() {
        let anchor = Anchor {
            point: Point3::new(1.0, 0.0, 0.0),
            ground: None,
        };
        let body = Isometry3::new(Vector3::x(), Vector3::z());
        let carried = anchor.carried(&body);
        assert_eq!(carried.rotation, UnitQuaternion::identity());
        assert!((carried * anchor.point - body * anchor.point).norm() < 1e-12);
    }
}
