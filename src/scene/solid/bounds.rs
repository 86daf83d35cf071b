//! Boxes around points, to skip what is far away.

use nalgebra::Point3;

/// Triangles per bounding box: few enough to skip most of a solid, many enough to test few boxes.
pub(super) const CLUSTER: usize = 16;

/// Box along the axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct AlignedBox {
    pub(super) low: Point3<f64>,
    pub(super) high: Point3<f64>,
}

impl AlignedBox {
    /// Box around points; `None` for no points or one that is not finite.
    pub(super) fn of<'a>(points: impl IntoIterator<Item = &'a Point3<f64>>) -> Option<Self> {
        let mut points = points.into_iter();
        let first = *points.next()?;
        let start = Self {
            low: first,
            high: first,
        };
        let mut finite = first.coords.iter().all(|x| x.is_finite());
        let all = points.fold(start, |bounds, point| {
            finite &= point.coords.iter().all(|x| x.is_finite());
            Self {
                low: bounds.low.inf(point),
                high: bounds.high.sup(point),
            }
        });
        finite.then_some(all)
    }

    pub(super) fn diagonal(&self) -> f64 {
        (self.high - self.low).norm()
    }

    /// Distance of a point from the box; 0 inside.
    pub(super) fn distance(&self, point: &Point3<f64>) -> f64 {
        let off = |i: usize| {
            (self.low[i] - point[i])
                .max(point[i] - self.high[i])
                .max(0.0)
        };
        let (x, y, z) = (off(0), off(1), off(2));
        (x * x + y * y + z * z).sqrt()
    }

    /// Distance from another box; 0 where they overlap.
    pub(super) fn distance_to(&self, other: &Self) -> f64 {
        let off = |i: usize| {
            (self.low[i] - other.high[i])
                .max(other.low[i] - self.high[i])
                .max(0.0)
        };
        let (x, y, z) = (off(0), off(1), off(2));
        (x * x + y * y + z * z).sqrt()
    }
}

/// Boxes around runs of [`CLUSTER`] triangles.
pub(super) fn clusters(positions: &[Point3<f64>], triangles: &[[u32; 3]]) -> Vec<AlignedBox> {
    triangles
        .chunks(CLUSTER)
        .filter_map(|run| AlignedBox::of(run.iter().flatten().map(|&i| &positions[i as usize])))
        .collect()
}
