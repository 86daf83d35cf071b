//! The part of a rectangle on one side of a straight line, and its integrals.

use nalgebra::{Matrix3, Vector3};

/// A point of the plate: x to the right, y upwards.
pub(super) type PlateSpot = [f64; 2];

/// `(1, x, y)`: how a plate that stays flat opens at a spot, for each of its three motions.
pub(super) fn shape(spot: &PlateSpot) -> Vector3<f64> {
    Vector3::new(1.0, spot[0], spot[1])
}

/// Corners of a rectangle around the origin, counter-clockwise.
pub(super) fn rectangle([width, height]: [f64; 2]) -> [PlateSpot; 4] {
    let (x, y) = (width / 2.0, height / 2.0);
    [[-x, -y], [x, -y], [x, y], [-x, y]]
}

/// The part of a convex polygon where a linear function is negative (Sutherland & Hodgman, *Communications of the ACM* 17, 1974).
pub(super) fn below(polygon: &[PlateSpot], gap: impl Fn(&PlateSpot) -> f64) -> Vec<PlateSpot> {
    let mut part = Vec::with_capacity(polygon.len() + 1);
    let following = polygon.iter().cycle().skip(1);
    for (one, next) in polygon.iter().zip(following) {
        let (from, to) = (gap(one), gap(next));
        if from < 0.0 {
            part.push(*one);
        }
        part.extend(zero([one, next], [from, to]));
    }
    part
}

/// The places on the edges of a polygon where a linear function changes its sign.
pub(super) fn zeros(polygon: &[PlateSpot], gap: impl Fn(&PlateSpot) -> f64) -> Vec<PlateSpot> {
    let following = polygon.iter().cycle().skip(1);
    let edges = polygon.iter().zip(following);
    edges
        .filter_map(|(one, next)| zero([one, next], [gap(one), gap(next)]))
        .collect()
}

/// Where a linear function with these values at the ends of an edge changes its sign.
fn zero([one, next]: [&PlateSpot; 2], [from, to]: [f64; 2]) -> Option<PlateSpot> {
    ((from < 0.0) != (to < 0.0)).then(|| {
        let share = from / (from - to);
        [0, 1].map(|axis| one[axis] + share * (next[axis] - one[axis]))
    })
}

/// `∫ φ φᵀ dA` over a convex polygon with φ = `(1, x, y)`: area, first and second moments, exactly.
pub(super) fn moments(polygon: &[PlateSpot]) -> Matrix3<f64> {
    let Some((first, rest)) = polygon.split_first() else {
        return Matrix3::zeros();
    };
    let triangles = rest.windows(2).map(|pair| [*first, pair[0], pair[1]]);
    triangles.map(|corners| of_triangle(&corners)).sum()
}

/// The midpoints of a triangle's edges, each with a third of the area, integrate quadratic functions exactly (Strang & Fix, *An
/// Analysis of the Finite Element Method*, 1973).
fn of_triangle([a, b, c]: &[PlateSpot; 3]) -> Matrix3<f64> {
    let area = ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2.0;
    let middle =
        |p: &PlateSpot, q: &PlateSpot| shape(&[0, 1].map(|axis| f64::midpoint(p[axis], q[axis])));
    let middles = [middle(a, b), middle(b, c), middle(c, a)];
    middles
        .iter()
        .map(|phi| phi * phi.transpose() * (area / 3.0))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a rectangle b × h about its middle has b h, b³ h / 12 and b h³ / 12; about an edge b h³ / 3.
    #[test]
    fn a_rectangle_has_its_moments() {
        let whole = moments(&rectangle([3.0, 2.0]));
        let expected = Matrix3::from_diagonal(&Vector3::new(6.0, 4.5, 2.0));
        assert!((whole - expected).norm() < 1e-12);
        let above = below(&rectangle([3.0, 4.0]), |spot| -spot[1]);
        let upper = moments(&above);
        assert!((upper[(0, 0)] - 6.0).abs() < 1e-12);
        assert!((upper[(0, 2)] - 6.0).abs() < 1e-12);
        assert!((upper[(2, 2)] - 8.0).abs() < 1e-12);
    }

    #[test]
    fn a_slanted_line_cuts_off_a_corner() {
        let corner = below(&rectangle([2.0, 2.0]), |[x, y]| x + y + 1.0);
        assert_eq!(corner.len(), 3);
        assert!((moments(&corner)[(0, 0)] - 0.5).abs() < 1e-12);
        assert!(below(&rectangle([2.0, 2.0]), |_| 1.0).is_empty());
    }
}
