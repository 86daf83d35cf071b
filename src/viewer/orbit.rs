//! A turn of the camera around a scene.

use super::framing::{CameraPose, CameraSettings, View, ViewBounds, camera_pose};

/// The camera's way around a scene, as near as the whole of it can be seen all the way.
pub(super) struct Orbit {
    settings: CameraSettings,
    aspect: f32,
    bounds: ViewBounds,
    /// Distance from the middle of the scene.
    distance: f32,
}

impl Orbit {
    /// A turn from where the settings look.
    pub(super) fn new(settings: CameraSettings, aspect: f32, bounds: ViewBounds) -> Self {
        let mut orbit = Self {
            settings,
            aspect,
            bounds,
            distance: 0.0,
        };
        let stations = (0..STATIONS).map(|station| station as f32 / STATIONS as f32);
        let distances = stations.map(|part| {
            let pose = orbit.fitted(part);
            let distance = pose.eye.distance(pose.target);
            let tangent = match pose.perspective {
                true => pose.half_height,
                false => pose.half_height / distance,
            };
            // What fits about its own middle fits about that of the scene where the picture is larger by the way between them.
            distance + pose.target.distance(orbit.bounds.centre) / tangent
        });
        orbit.distance = distances.fold(0.0, f32::max);
        orbit
    }

    /// The camera that sees everything best from a part of the turn.
    fn fitted(&self, part: f32) -> CameraPose {
        let (azimuth, elevation) = self.settings.view.angles(&self.bounds);
        let view = View::Angles {
            azimuth: azimuth + 360.0 * part,
            elevation,
        };
        let settings = CameraSettings {
            view,
            ..self.settings
        };
        camera_pose(&self.bounds, &settings, self.aspect)
    }

    /// The camera after a part of the turn, 0 to 1.
    pub(super) fn pose(&self, part: f32) -> CameraPose {
        let fitted = self.fitted(part);
        let scale = self.distance / fitted.eye.distance(fitted.target);
        CameraPose {
            eye: self.bounds.centre + (fitted.eye - fitted.target) * scale,
            target: self.bounds.centre,
            half_height: match fitted.perspective {
                true => fitted.half_height,
                false => fitted.half_height * scale,
            },
            ..fitted
        }
    }
}

/// Places of a turn at which the camera's distance is fitted.
const STATIONS: usize = 48;

#[cfg(test)]
mod tests {
    use bevy::prelude::*;

    use super::super::framing::Lens;
    use super::*;

    #[test]
    fn the_whole_scene_is_seen_all_the_way_around() {
        // Long, and so seen very differently from its ends and its sides.
        let corners = [0.0, 1.0].into_iter().flat_map(|x| {
            let ends = move |y: f32| [0.0, 0.4].map(|z| Vec3::new(4.0 * x, y, z));
            [0.0, 0.5].into_iter().flat_map(ends)
        });
        let bounds = ViewBounds::of_points(corners.collect());
        let (width, height) = (1280.0, 720.0);
        for lens in [Lens::Perspective, Lens::Parallel] {
            let settings = CameraSettings { lens, ..default() };
            let orbit = Orbit::new(settings, width / height, bounds.clone());
            let eyes = (0..36).map(|step| orbit.pose(step as f32 / 36.0));
            for pose in eyes {
                for point in &bounds.points {
                    let at = pose.pixel(*point, width, height).unwrap();
                    assert!((0.0..=width).contains(&at.x), "{lens:?} {at}");
                    assert!((0.0..=height).contains(&at.y), "{lens:?} {at}");
                }
                let distance = pose.eye.distance(pose.target);
                assert!((distance - orbit.distance).abs() < 1e-3 * orbit.distance);
            }
        }
    }
}
