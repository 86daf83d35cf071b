//! Circles through points.

use nalgebra::Point3;

/// Sines of angles below this are those of points in line.
const IN_LINE: f64 = 1e-9;

/// Centre of the circle through the first three points that are not in line; `None` where all are.
///
/// By hand: the point of their plane that is as far from all three.
pub(super) fn circumcentre(points: &[Point3<f64>]) -> Option<Point3<f64>> {
    let first = points.first()?;
    let second = points.iter().find(|point| (*point - first).norm() > 0.0)?;
    let along = second - first;
    let third = points.iter().find(|point| {
        let off = *point - first;
        along.cross(&off).norm() > IN_LINE * along.norm() * off.norm()
    })?;
    let across = third - first;
    let square = along.cross(&across);
    let out =
        square.cross(&along) * across.norm_squared() + across.cross(&square) * along.norm_squared();
    Some(first + out / (2.0 * square.norm_squared()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_goes_through_three_points_not_in_line() {
        let points = [
            [1.0, 0.0, 2.0],
            [1.0, 0.0, 2.0],
            [3.0, 0.0, 2.0],
            [5.0, 0.0, 2.0],
            [1.0, 4.0, 2.0],
        ];
        let points = points.map(Point3::from);
        let centre = circumcentre(&points).unwrap();
        assert!(
            (centre - Point3::new(2.0, 2.0, 2.0)).norm() < 1e-12,
            "{centre}"
        );
        assert_eq!(circumcentre(&points[..4]), None);
        assert_eq!(circumcentre(&[]), None);
    }
}
