//! The only crossing between the scene's numbers (f64, nalgebra, metres) and the viewer's (f32, glam).
//!
//! Two frames: *stage* coordinates have the scene's axes, their origin in its middle and its size as unit, so that a
//! bracket of 2 mm and a boom of 40 m look alike and f32 loses nothing; *world* coordinates are bevy's, y up.

use bevy::prelude::*;
use nalgebra::{Isometry3, Point3, Vector3};

use crate::scene::Space;

/// Maps the scene onto the stage and into the world.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub struct StageFrame {
    centre: Point3<f64>,
    size: f64,
    space: Space,
}

impl StageFrame {
    /// The frame in which `points`, m, lie within one unit of the origin.
    pub fn around<'a>(points: impl IntoIterator<Item = &'a Point3<f64>>, space: Space) -> Self {
        let points: Vec<_> = points
            .into_iter()
            .filter(|point| point.iter().all(|x| x.is_finite()))
            .collect();
        let Some(first) = points.first() else {
            return Self {
                centre: Point3::origin(),
                size: 1.0,
                space,
            };
        };
        let low = points.iter().fold(**first, |low, point| low.inf(point));
        let high = points.iter().fold(**first, |high, point| high.sup(point));
        let centre = nalgebra::center(&low, &high);
        let size = points
            .iter()
            .map(|point| (*point - centre).norm())
            .fold(0.0, f64::max);
        Self {
            centre,
            size: if size > 0.0 { size } else { 1.0 },
            space,
        }
    }

    /// Metres in one unit of the stage.
    pub fn size(&self) -> f64 {
        self.size
    }

    /// Whether the scene lies in space or in the plane.
    pub fn space(&self) -> Space {
        self.space
    }

    /// A point in stage coordinates.
    pub fn point(&self, point: &Point3<f64>) -> Vec3 {
        vector(&((point - self.centre) / self.size))
    }

    /// The point of the scene, m, at stage coordinates.
    pub fn scene_point(&self, point: Vec3) -> Point3<f64> {
        let [x, y, z] = point.to_array().map(f64::from);
        self.centre + Vector3::new(x, y, z) * self.size
    }

    /// A length in units of the stage.
    pub fn length(&self, metres: f64) -> f32 {
        (metres / self.size) as f32
    }

    /// A point in world coordinates.
    pub fn world(&self, point: &Point3<f64>) -> Vec3 {
        self.turn() * self.point(point)
    }

    /// World direction of a direction of the scene.
    pub fn world_direction(&self, direction: &Vector3<f64>) -> Vec3 {
        self.turn() * vector(direction)
    }

    /// What takes stage coordinates to the world: z up becomes y up in space; in the plane y is up already.
    pub fn turn(&self) -> Quat {
        match self.space {
            Space::Spatial => Quat::from_rotation_x(-std::f32::consts::FRAC_PI_2),
            Space::Planar => Quat::IDENTITY,
        }
    }

    /// Upwards in stage coordinates.
    pub fn up(&self) -> Vec3 {
        self.turn().inverse() * Vec3::Y
    }

    /// Towards a viewer in front, in stage coordinates.
    pub fn front(&self) -> Vec3 {
        self.turn().inverse() * Vec3::Z
    }

    /// A placement of the body, in stage coordinates.
    pub fn pose(&self, pose: &Isometry3<f64>) -> Transform {
        let shift = (pose * self.centre - self.centre) / self.size;
        let turn = pose.rotation.quaternion();
        Transform {
            translation: vector(&shift),
            rotation: Quat::from_xyzw(turn.i as f32, turn.j as f32, turn.k as f32, turn.w as f32)
                .normalize(),
            scale: Vec3::ONE,
        }
    }
}

/// Where the body is now: maps points of the body as written, m, to where they are.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Default)]
pub struct BodyPose(pub Isometry3<f64>);

/// A vector in single precision.
pub(crate) fn vector(vector: &Vector3<f64>) -> Vec3 {
    Vec3::new(vector.x as f32, vector.y as f32, vector.z as f32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scene_far_from_its_origin_keeps_its_shape() {
        let points = [
            Point3::new(1e7, 0.0, 0.0),
            Point3::new(1e7 + 2e-3, 0.0, 1e-3),
        ];
        let frame = StageFrame::around(&points, Space::Spatial);
        let apart = frame.point(&points[1]) - frame.point(&points[0]);
        // Half the diagonal of the box is the unit; 1e7 + 2e-3 itself is rounded to 1.9e-9 in f64.
        let expected = Vec3::new(2.0, 0.0, 1.0).normalize() * 2.0;
        assert!(apart.distance(expected) < 1e-5, "{apart}");
    }

    #[test]
    fn posed_points_agree_with_the_pose_in_metres() {
        let points = [Point3::new(3.0, -2.0, 1.0), Point3::new(5.0, 4.0, 2.0)];
        let frame = StageFrame::around(&points, Space::Spatial);
        let pose = Isometry3::new(Vector3::new(0.5, 0.2, -0.7), Vector3::new(0.3, -0.8, 0.4));
        for point in &points {
            let moved = frame.pose(&pose).transform_point(frame.point(point));
            assert!(moved.distance(frame.point(&(pose * point))) < 1e-6);
        }
    }

    #[test]
    fn up_is_up() {
        let point = [Point3::origin()];
        let spatial = StageFrame::around(&point, Space::Spatial);
        assert!(spatial.world_direction(&Vector3::z()).distance(Vec3::Y) < 1e-6);
        let planar = StageFrame::around(&point, Space::Planar);
        assert!(planar.world_direction(&Vector3::y()).distance(Vec3::Y) < 1e-6);
    }
}
