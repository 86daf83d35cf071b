//! Which points lie on the side of a round part of the body, and where its axis is there.

use nalgebra::{Point3, Unit, Vector3};

use super::pieces;
use crate::scene::{Scene, Space};

/// A point may lie this far off the side, relative to the radius.
///
/// Our choice, no source: decimals of coordinates on a circle.
const OFF: f64 = 0.02;
/// How far a direction may pass the axis, relative to the radius.
const ASKEW: f64 = 1e-3;

/// The round parts of a body: sides of shafts and discs, straight legs of bars. In the plane only what is round there.
pub struct Rounds(Vec<RoundPart>);

impl Rounds {
    /// Those of a scene.
    pub fn new(scene: &Scene) -> Self {
        let parts = pieces(scene).flat_map(|piece| piece.round_parts());
        Self(match scene.space {
            Space::Spatial => parts.collect(),
            Space::Planar => parts.filter(|part| part.axis.z.abs() > 0.999).collect(),
        })
    }

    /// Where a line from a point on the side of a round part into the body meets the part's axis, m; `None` for a point
    /// or direction of another kind.
    pub fn axis_behind(
        &self,
        point: &Point3<f64>,
        inward: &Unit<Vector3<f64>>,
    ) -> Option<Point3<f64>> {
        self.0
            .iter()
            .find_map(|part| part.axis_behind(point, inward))
    }
}

/// A straight cylinder.
pub(super) struct RoundPart {
    /// Middle of the axis.
    pub(super) centre: Point3<f64>,
    /// Unit vector.
    pub(super) axis: Vector3<f64>,
    pub(super) half_length: f64,
    pub(super) radius: f64,
}

impl RoundPart {
    /// Whether a point lies in the part, or no further off than decimals do.
    pub(super) fn contains(&self, point: &Point3<f64>) -> bool {
        let from = point - self.centre;
        let along = from.dot(&self.axis);
        let out = (from - self.axis * along).norm();
        along.abs() <= self.half_length * (1.0 + OFF) && out <= self.radius * (1.0 + OFF)
    }

    fn axis_behind(&self, point: &Point3<f64>, inward: &Vector3<f64>) -> Option<Point3<f64>> {
        let from = point - self.centre;
        let along = from.dot(&self.axis);
        let out = from - self.axis * along;
        let depth = out.norm();
        let to_axis = -out.dot(inward);
        let beside = along.abs() <= self.half_length * (1.0 + OFF);
        let on_side = (depth - self.radius).abs() <= OFF * self.radius;
        let square = (out + inward * to_axis).norm() <= ASKEW * depth;
        (beside && on_side && square && to_axis > 0.0).then(|| point + inward * to_axis)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    fn axis(at: [f64; 3], inward: [f64; 3]) -> Option<[f64; 3]> {
        let scene = read_str(
            "test",
            "(format: 1, supports: [], body: [
                Shaft(from: (0, -2, 0), to: (0, 2, 0), diameter: 1),
                Disc(centre: (0, 3, 0), axis: (0, 1, 0), diameter: 4, thickness: 0.2),
                BentBar(path: [(5, 0, 0), (5, 0, 4), (8, 0, 4)], diameter: 0.2),
                Block(centre: (0, -6, 0), size: (2, 2, 2))])",
        )
        .unwrap()
        .scene;
        let inward = Unit::new_normalize(Vector3::from(inward));
        let found = Rounds::new(&scene).axis_behind(&Point3::from(at), &inward)?;
        Some([found.x, found.y, found.z].map(|x| (x * 1e9).round() / 1e9 + 0.0))
    }

    #[test]
    fn sides_of_shafts_discs_and_bars_have_an_axis() {
        assert_eq!(
            axis([0.0, 1.0, -0.5], [0.0, 0.0, 1.0]),
            Some([0.0, 1.0, 0.0])
        );
        assert_eq!(
            axis([0.3, -2.0, 0.4], [-3.0, 0.0, -4.0]),
            Some([0.0, -2.0, 0.0])
        );
        assert_eq!(
            axis([2.0, 3.0, 0.0], [-1.0, 0.0, 0.0]),
            Some([0.0, 3.0, 0.0])
        );
        assert_eq!(
            axis([5.0, 0.1, 2.0], [0.0, -1.0, 0.0]),
            Some([5.0, 0.0, 2.0])
        );
    }

    #[test]
    fn in_the_plane_bars_are_straight_and_discs_round() {
        let scene = read_str(
            "test",
            "(format: 1, space: planar, supports: [], body: [
                BentBar(path: [(0, 0), (4, 0)], diameter: 0.2),
                Disc(centre: (6, 0), diameter: 2, thickness: 0.2)])",
        )
        .unwrap()
        .scene;
        let rounds = Rounds::new(&scene);
        let axis = |x: f64, y: f64| rounds.axis_behind(&Point3::new(x, y, 0.0), &Vector3::y_axis());
        assert_eq!(axis(2.0, -0.1), None);
        assert_eq!(axis(6.0, -1.0), Some(Point3::new(6.0, 0.0, 0.0)));
    }

    #[test]
    fn ends_insides_flat_faces_and_slanted_directions_have_none() {
        assert_eq!(axis([0.0, 2.0, 0.2], [0.0, -1.0, 0.0]), None);
        assert_eq!(axis([0.0, 1.0, -0.2], [0.0, 0.0, 1.0]), None);
        assert_eq!(axis([0.0, -6.0, -1.0], [0.0, 0.0, 1.0]), None);
        assert_eq!(axis([0.0, 1.0, -0.5], [0.0, 0.1, 1.0]), None);
        assert_eq!(axis([0.0, 1.0, -0.5], [0.0, 0.0, -1.0]), None);
    }
}
