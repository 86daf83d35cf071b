//! From the scene to the plane of the paper.
//!
//! A projected point is (right, up, towards the viewer), in metres of the scene. The map keeps straight lines straight
//! and planes plane in all three, also in perspective, so that whatever lies in front can be found by linear algebra.

use nalgebra::{Matrix3, Point3, Vector3};

use super::settings::Projection;
use crate::scene::Space;

/// A way to look at the scene.
#[derive(Debug, Clone, Copy)]
pub(super) struct Viewpoint {
    /// Rows: right, up, towards the viewer.
    rows: Matrix3<f64>,
    /// The middle of the scene, which keeps its size in perspective, and the distance of the eye from it.
    eye: Option<(Point3<f64>, f64)>,
}

/// How far lines that run away from the viewer go up and to the right in oblique projection: half their length, 45°.
const OBLIQUE: f64 = 0.5 * std::f64::consts::FRAC_1_SQRT_2;
/// Elevation of the isometric view: its sine is the cotangent of 60°.
const ISOMETRIC_ELEVATION: f64 = 35.264_389_682_754_654;
/// Azimuth and elevation of the perspective view in degrees.
const PERSPECTIVE: [f64; 2] = [28.0, 20.0];
/// Distance of the eye in radii of the scene.
const EYE: f64 = 4.5;

impl Viewpoint {
    /// The view of a scene around a centre with a radius.
    pub(crate) fn new(
        space: Space,
        projection: Projection,
        centre: Point3<f64>,
        radius: f64,
    ) -> Self {
        let parallel = |rows| Self { rows, eye: None };
        if space == Space::Planar {
            return parallel(Matrix3::identity());
        }
        match projection {
            Projection::Oblique => parallel(Matrix3::new(
                1.0, OBLIQUE, 0.0, //
                0.0, OBLIQUE, 1.0, //
                0.0, -1.0, 0.0,
            )),
            Projection::Isometric => parallel(turned(45.0, ISOMETRIC_ELEVATION)),
            Projection::Angles { azimuth, elevation } => parallel(turned(azimuth, elevation)),
            Projection::Perspective => Self {
                rows: turned(PERSPECTIVE[0], PERSPECTIVE[1]),
                eye: Some((centre, radius * EYE)),
            },
        }
    }

    /// Where a point of the scene lies: right, up, towards the viewer.
    pub(crate) fn project(&self, point: &Point3<f64>) -> Point3<f64> {
        match self.eye {
            None => Point3::from(self.rows * point.coords),
            Some((centre, distance)) => {
                let seen = self.rows * (point - centre);
                // A point at the eye or behind it cannot be seen; far in front of the scene it does not occur.
                let nearness = (1.0 - seen.z / distance).max(0.05);
                Point3::from(seen / nearness)
            }
        }
    }

    /// The line of sight that is seen as a point of the paper: a point in front of everything, `distance` from the paper, and the unit
    /// direction away from the viewer. `None` in perspective.
    pub(crate) fn line(
        &self,
        [right, up]: [f64; 2],
        distance: f64,
    ) -> Option<(Point3<f64>, Vector3<f64>)> {
        if self.eye.is_some() {
            return None;
        }
        let back = self.rows.try_inverse()?;
        let way = (back * -Vector3::z()).try_normalize(0.0)?;
        Some((Point3::from(back * Vector3::new(right, up, distance)), way))
    }

    /// Where a direction at a point leads on paper: right and up, shortened as it is seen.
    pub(crate) fn direction(
        &self,
        at: &Point3<f64>,
        direction: &Vector3<f64>,
        length: f64,
    ) -> [f64; 2] {
        let way = match self.eye {
            None => self.rows * direction,
            Some(_) => {
                let small = 1e-3 * length;
                (self.project(&(at + direction * small)) - self.project(at)) / small
            }
        };
        [way.x, way.y]
    }

    /// Unit direction from a point of the scene to the viewer.
    pub(crate) fn sight(&self, from: &Point3<f64>) -> Vector3<f64> {
        match self.eye {
            None => {
                let (right, up): (Vector3<f64>, Vector3<f64>) =
                    (self.rows.row(0).transpose(), self.rows.row(1).transpose());
                right.cross(&up).normalize()
            }
            Some((centre, distance)) => {
                let towards: Vector3<f64> = self.rows.row(2).transpose();
                (centre + towards * distance - from).normalize()
            }
        }
    }
}

/// Rows of the view from an azimuth and elevation in degrees: 0 the front, 90 the side of +x; z up.
fn turned(azimuth: f64, elevation: f64) -> Matrix3<f64> {
    let (sin_a, cos_a) = azimuth.to_radians().sin_cos();
    let (sin_e, cos_e) = elevation.to_radians().sin_cos();
    Matrix3::new(
        cos_a,
        sin_a,
        0.0, //
        -sin_a * sin_e,
        cos_a * sin_e,
        cos_e, //
        sin_a * cos_e,
        -cos_a * cos_e,
        sin_e,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(projection: Projection, point: [f64; 3]) -> [f64; 3] {
        let view = Viewpoint::new(Space::Spatial, projection, Point3::origin(), 1.0);
        view.project(&Point3::from(point)).into()
    }

    fn assert_close(a: [f64; 2], b: [f64; 2]) {
        assert!(
            (a[0] - b[0]).abs() < 1e-12 && (a[1] - b[1]).abs() < 1e-12,
            "{a:?} {b:?}"
        );
    }

    /// Cabinet projection: the front keeps its size, depth is halved and drawn under 45° (ISO 5456-3).
    #[test]
    fn oblique_halves_depth() {
        let half = 0.5 * std::f64::consts::FRAC_1_SQRT_2;
        for (point, expected) in [
            ([1.0, 0.0, 0.0], [1.0, 0.0]),
            ([0.0, 0.0, 1.0], [0.0, 1.0]),
            ([0.0, 1.0, 0.0], [half, half]),
        ] {
            let [x, y, _] = seen(Projection::Oblique, point);
            assert_close([x, y], expected);
        }
    }

    /// Isometric projection: all axes shortened by √(2/3), their lines 120° or 60° apart (ISO 5456-3).
    #[test]
    fn isometric_treats_all_axes_alike() {
        let axes = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        let seen = axes.map(|axis| seen(Projection::Isometric, axis));
        for [x, y, _] in seen {
            assert!((x.hypot(y) - (2.0_f64 / 3.0).sqrt()).abs() < 1e-12);
        }
        let dot = seen[0][0] * seen[1][0] + seen[0][1] * seen[1][1];
        assert!(((dot / (2.0 / 3.0)).abs() - 0.5).abs() < 1e-12);
    }

    #[test]
    fn the_line_of_sight_is_seen_as_a_point() {
        for projection in [
            Projection::Oblique,
            Projection::Isometric,
            Projection::Perspective,
            Projection::TOP,
        ] {
            let view = Viewpoint::new(Space::Spatial, projection, Point3::origin(), 1.0);
            let at = Point3::new(0.1, 0.2, 0.3);
            let along = view.sight(&at);
            let (near, far) = (view.project(&(at + along * 0.5)), view.project(&at));
            assert_close([near.x, near.y], [far.x, far.y]);
            assert!(near.z > far.z, "{projection:?}");
        }
    }

    /// A projective map keeps three points on a line on a line, and their order along it.
    #[test]
    fn perspective_keeps_lines_straight_in_all_three_coordinates() {
        let [a, b, c] = [0.0, 0.3, 1.0].map(|t| {
            let at = [0.2 + 0.5 * t, -0.8 + 1.3 * t, 0.4 - 0.9 * t];
            Vector3::from(seen(Projection::Perspective, at))
        });
        assert!((b - a).cross(&(c - a)).norm() < 1e-12);
        assert!((b - a).dot(&(c - b)) > 0.0);
    }
}
