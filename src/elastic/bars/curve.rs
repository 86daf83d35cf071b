//! A bar's centre line by its arc length: where a point lies nearest to it.

use nalgebra::{Point3, Vector3};

use crate::scene::solid::{CentreLine, CentreLinePiece};

/// A centre line with the arc lengths at which its pieces end.
pub(super) struct BarCurve {
    pub(super) line: CentreLine,
    /// Arc length at the start of each piece and at the end, m.
    pub(super) starts: Vec<f64>,
}

/// A place on a bar.
#[derive(Debug, Clone, Copy)]
pub(super) struct BarPlace {
    /// Which bar.
    pub(super) bar: usize,
    /// Arc length from the bar's start, m.
    pub(super) along: f64,
}

impl BarCurve {
    pub(super) fn new(line: CentreLine) -> Self {
        let mut starts = vec![0.0];
        for piece in &line.pieces {
            starts.push(starts[starts.len() - 1] + piece.length());
        }
        Self { line, starts }
    }

    pub(super) fn length(&self) -> f64 {
        self.starts[self.starts.len() - 1]
    }

    /// The point at an arc length.
    pub(super) fn point(&self, along: f64) -> Point3<f64> {
        let piece = self.piece(along);
        self.line.pieces[piece].point(self.part(piece, along))
    }

    /// The unit direction at an arc length, on the piece that another arc length lies on: where two pieces meet, they may differ.
    pub(super) fn direction(&self, along: f64, within: f64) -> Vector3<f64> {
        let piece = self.piece(within);
        self.line.pieces[piece].direction(self.part(piece, along))
    }

    fn piece(&self, along: f64) -> usize {
        let before = self.starts.partition_point(|start| *start <= along);
        before.clamp(1, self.line.pieces.len()) - 1
    }

    /// The part of a piece at which an arc length lies.
    fn part(&self, piece: usize, along: f64) -> f64 {
        let [from, to] = [self.starts[piece], self.starts[piece + 1]];
        ((along - from) / (to - from)).clamp(0.0, 1.0)
    }

    /// The arc length nearest to a point, and how far that is.
    pub(super) fn nearest(&self, to: &Point3<f64>) -> (f64, f64) {
        let pieces = self.line.pieces.iter().zip(&self.starts);
        let found = pieces.map(|(piece, start)| {
            let part = nearest_part(piece, to);
            let distance = (piece.point(part) - to).norm();
            (start + part * piece.length(), distance)
        });
        let nearest = found.min_by(|one, other| one.1.total_cmp(&other.1));
        nearest.unwrap_or_default()
    }
}

/// The part of a piece, from 0 to 1, that lies nearest to a point.
fn nearest_part(piece: &CentreLinePiece, to: &Point3<f64>) -> f64 {
    match piece {
        CentreLinePiece::Straight { ends: [from, end] } => {
            let way: Vector3<f64> = end - from;
            ((to - from).dot(&way) / way.norm_squared()).clamp(0.0, 1.0)
        }
        CentreLinePiece::Bend {
            centre,
            start,
            axis,
            angle,
        } => {
            let arm = to - centre;
            let turned = axis.cross(start).dot(&arm).atan2(start.dot(&arm));
            // Beyond its ends, the nearer end.
            let middle = angle / 2.0;
            let off = (turned - middle).rem_euclid(std::f64::consts::TAU);
            let off = match off > std::f64::consts::PI {
                true => off - std::f64::consts::TAU,
                false => off,
            };
            ((middle + off) / angle).clamp(0.0, 1.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::scene::solid::centre_lines;

    /// By hand: a leg of 1.5, a quarter circle of radius 0.5 about (0.5, 0.5), a leg of 2.5.
    #[test]
    fn the_nearest_place_lies_on_leg_bend_or_end() {
        let text = "(format: 1, body: [BentBar(path: [(2, 0, 0), (0, 0, 0), (0, 3, 0)], diameter: 0.2, bend_radius: 0.5)])";
        let scene = read_str("elbow", text).unwrap().scene;
        let line = centre_lines(&scene).remove(0).unwrap();
        let curve = BarCurve::new(line);
        let bend = std::f64::consts::PI / 4.0;
        for (point, along, distance) in [
            ([1.0, 0.3, 0.4], 1.0, 0.5),
            ([0.0, 0.0, 0.0], 1.5 + bend / 2.0, 0.5_f64.sqrt() - 0.5),
            ([0.2, 2.0, 0.0], 1.5 + bend + 1.5, 0.2),
            ([3.0, 0.0, 0.0], 0.0, 1.0),
            ([0.0, 4.0, 0.0], 4.0 + bend, 1.0),
        ] {
            let found = curve.nearest(&Point3::from(point));
            assert!((found.0 - along).abs() < 1e-12, "{point:?}: {found:?}");
            assert!((found.1 - distance).abs() < 1e-12, "{point:?}: {found:?}");
            assert!((curve.point(along) - Point3::from(point)).norm() - distance < 1e-12);
        }
    }
}
