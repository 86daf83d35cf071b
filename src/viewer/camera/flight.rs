//! Where the camera stands, and eased flights from one stand to another.

use std::f32::consts::{FRAC_PI_2, PI, TAU};

use bevy::prelude::*;
use bevy_panorbit_camera::PanOrbitCamera;

use crate::viewer::framing::View;

/// Seconds that a flight takes.
const FLIGHT_SECONDS: f32 = 0.7;
/// Longest time that one frame may take off a flight, s.
const LONGEST_FRAME: f32 = 0.1;
/// Two stands closer than this are one.
const SAME: f32 = 1e-4;

/// Where the camera stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CameraState {
    /// What it turns about and looks at, world.
    pub focus: Vec3,
    /// Azimuth, radians.
    pub yaw: f32,
    /// Elevation, radians.
    pub pitch: f32,
    /// Distance from the focus.
    pub radius: f32,
}

impl CameraState {
    /// Where a camera stands now.
    pub(crate) fn of(camera: &PanOrbitCamera) -> Self {
        Self {
            focus: camera.focus,
            yaw: camera.yaw.unwrap_or(camera.target_yaw),
            pitch: camera.pitch.unwrap_or(camera.target_pitch),
            radius: camera.radius.unwrap_or(camera.target_radius),
        }
    }

    /// Puts a camera here at once.
    pub(crate) fn apply(&self, camera: &mut PanOrbitCamera) {
        camera.focus = self.focus;
        camera.target_focus = self.focus;
        camera.yaw = Some(self.yaw);
        camera.target_yaw = self.yaw;
        camera.pitch = Some(self.pitch);
        camera.target_pitch = self.pitch;
        camera.radius = Some(self.radius);
        camera.target_radius = self.radius;
        camera.force_update = true;
    }

    /// The same stand turned about its focus.
    pub(crate) fn turned(&self, azimuth: f32, elevation: f32) -> Self {
        Self {
            yaw: self.yaw + azimuth,
            pitch: (self.pitch + elevation).clamp(-FRAC_PI_2, FRAC_PI_2),
            ..*self
        }
    }

    /// The view from these angles.
    pub(crate) fn angles(&self) -> View {
        View::Angles {
            azimuth: self.yaw.to_degrees(),
            elevation: self.pitch.to_degrees(),
        }
    }

    /// Whether the camera has reached where it is heading.
    pub(crate) fn is_at_target(&self, camera: &PanOrbitCamera) -> bool {
        (self.yaw - camera.target_yaw).abs() < SAME
            && (self.pitch - camera.target_pitch).abs() < SAME
            && (self.radius - camera.target_radius).abs() < SAME * self.radius
            && self.focus_settled(camera)
    }

    /// Whether the focus has reached where it is heading.
    pub(crate) fn focus_settled(&self, camera: &PanOrbitCamera) -> bool {
        self.focus.distance(camera.target_focus) < SAME * self.radius
    }

    fn between(&self, to: &Self, share: f32) -> Self {
        let turn = (to.yaw - self.yaw + PI).rem_euclid(TAU) - PI;
        // Distances are felt as ratios.
        let ratio = (to.radius / self.radius).powf(share);
        Self {
            focus: self.focus.lerp(to.focus, share),
            yaw: self.yaw + turn * share,
            pitch: self.pitch + (to.pitch - self.pitch) * share,
            radius: self.radius * ratio,
        }
    }
}

/// A flight on its way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Flight {
    from: CameraState,
    to: CameraState,
    elapsed: f32,
    instant: bool,
    started: bool,
}

impl Flight {
    /// A flight between two stands; an instant one arrives in one frame.
    pub(crate) fn new(from: CameraState, to: CameraState, instant: bool) -> Self {
        Self {
            from,
            to,
            elapsed: 0.0,
            instant,
            started: false,
        }
    }

    /// Where the camera is after a further time, and whether that is the end.
    pub(crate) fn after(&mut self, seconds: f32) -> (CameraState, bool) {
        if self.instant {
            return (self.to, true);
        }
        if self.started {
            self.elapsed += seconds.min(LONGEST_FRAME);
        }
        self.started = true;
        let share = (self.elapsed / FLIGHT_SECONDS).min(1.0);
        let eased = share * share * (3.0 - 2.0 * share);
        if share >= 1.0 {
            return (self.to, true);
        }
        (self.from.between(&self.to, eased), false)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stand(yaw: f32, radius: f32) -> CameraState {
        CameraState {
            focus: Vec3::ZERO,
            yaw,
            pitch: 0.2,
            radius,
        }
    }

    #[test]
    fn a_flight_starts_and_ends_where_it_should() {
        let (from, to) = (stand(0.1, 2.0), stand(1.0, 8.0));
        let mut flight = Flight::new(from, to, false);
        let (first, _) = flight.after(5.0);
        assert_eq!(first, from);
        let path: Vec<(CameraState, bool)> = (0..20).map(|_| flight.after(0.05)).collect();
        let end = path.iter().position(|(_, arrived)| *arrived).unwrap();
        assert_eq!(end, 13, "0.7 s are 14 frames of 0.05 s");
        assert_eq!(path[end].0, to);
        // Half way in time is half way: twice the distance of the geometric kind.
        assert!((path[6].0.radius - 4.0).abs() < 1e-4, "{:?}", path[6].0);
        // Eased: the first step is smaller than one in the middle.
        assert!(path[0].0.yaw - from.yaw < path[7].0.yaw - path[6].0.yaw);
    }

    #[test]
    fn it_turns_the_short_way() {
        let mut flight = Flight::new(stand(3.0, 1.0), stand(-3.0, 1.0), false);
        flight.after(0.0);
        for _ in 0..5 {
            let (on_the_way, _) = flight.after(0.1);
            assert!(
                on_the_way.yaw >= 3.0 && on_the_way.yaw < 3.3,
                "{on_the_way:?}"
            );
        }
    }

    #[test]
    fn with_reduced_motion_it_is_there_at_once() {
        let (from, to) = (stand(0.1, 2.0), stand(1.0, 8.0));
        assert_eq!(Flight::new(from, to, true).after(0.0), (to, true));
    }

    #[test]
    fn turning_stops_at_the_poles() {
        assert_eq!(stand(0.0, 1.0).turned(0.0, 9.0).pitch, FRAC_PI_2);
    }
}
