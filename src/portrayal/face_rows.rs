//! Rows of arrows for a load that is spread over a flat face.

use nalgebra::{Point3, Vector3};

/// How many rows cross a face.
const ROWS: u32 = 4;

/// Segments that lie across a flat face, in even steps and along its longest edge; several of one step where the face bends in.
pub(super) fn rows(face: &[Point3<f64>]) -> Vec<[Point3<f64>; 2]> {
    let edges = || {
        let following = face.iter().cycle().skip(1);
        face.iter().zip(following).map(|(one, next)| [*one, *next])
    };
    let long = |[one, next]: &[Point3<f64>; 2]| (next - one).norm();
    let longest = edges().max_by(|a, b| long(a).total_cmp(&long(b)));
    let Some(along) = longest.and_then(|[one, next]| (next - one).try_normalize(0.0)) else {
        return Vec::new();
    };
    // The corner that is farthest off the longest edge says which way is across.
    let across = |point: &Point3<f64>| {
        let arm = point - face[0];
        arm - along * along.dot(&arm)
    };
    let widest = face
        .iter()
        .map(across)
        .max_by(|a, b| a.norm().total_cmp(&b.norm()));
    let Some(side) = widest.and_then(|arm| arm.try_normalize(0.0)) else {
        return Vec::new();
    };
    let heights = face.iter().map(|corner| side.dot(&(corner - face[0])));
    let low = heights.clone().fold(f64::INFINITY, f64::min);
    let high = heights.fold(f64::NEG_INFINITY, f64::max);
    (0..ROWS)
        .map(|row| low + (high - low) * (f64::from(row) + 0.5) / f64::from(ROWS))
        .flat_map(|height| crossings(edges(), face[0], [along, side], height))
        .collect()
}

/// Where a straight line at some height lies within a polygon.
fn crossings(
    edges: impl Iterator<Item = [Point3<f64>; 2]>,
    origin: Point3<f64>,
    [along, side]: [Vector3<f64>; 2],
    height: f64,
) -> Vec<[Point3<f64>; 2]> {
    let crossing = |[one, next]: [Point3<f64>; 2]| {
        let [from, to] = [one, next].map(|corner| side.dot(&(corner - origin)) - height);
        // A corner on the line belongs to one of its two edges.
        ((from < 0.0) != (to < 0.0)).then(|| one + (next - one) * (from / (from - to)))
    };
    let mut points: Vec<Point3<f64>> = edges.filter_map(crossing).collect();
    let place = |point: &Point3<f64>| along.dot(&(point - origin));
    points.sort_by(|a, b| place(a).total_cmp(&place(b)));
    points
        .chunks_exact(2)
        .map(|ends| [ends[0], ends[1]])
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An L: the two rows through its foot are 2 m long, the two through its leg 1 m.
    #[test]
    fn rows_end_at_the_edges_of_the_face() {
        let corners = [
            [0.0, 0.0],
            [2.0, 0.0],
            [2.0, 1.0],
            [1.0, 1.0],
            [1.0, 2.0],
            [0.0, 2.0],
        ];
        let face = corners.map(|[x, y]| Point3::new(x, y, 3.0 + x));
        let rows = rows(&face);
        let lengths: Vec<f64> = rows.iter().map(|[a, b]| (b - a).norm()).collect();
        assert_eq!(lengths.len(), 4);
        // Along the longest edge, which the tilt has made √2 times as long.
        let slant = 2.0_f64.sqrt();
        for (found, expected) in lengths.iter().zip([2.0, 2.0, 1.0, 1.0]) {
            assert!((found - expected * slant).abs() < 1e-12, "{lengths:?}");
        }
    }

    #[test]
    fn a_face_that_bends_in_has_two_pieces_in_a_row() {
        let corners = [
            [0.0, 0.0],
            [3.0, 0.0],
            [3.0, 1.0],
            [2.0, 1.0],
            [2.0, 0.2],
            [1.0, 0.2],
            [1.0, 1.0],
            [0.0, 1.0],
        ];
        let rows = rows(&corners.map(|[x, y]| Point3::new(x, y, 0.0)));
        assert_eq!(rows.len(), 7, "one whole row at the bottom");
    }
}
