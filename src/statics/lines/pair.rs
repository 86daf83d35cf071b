//! Pencils of screws: the lines in the span of two six-vectors, none, one, two or a flat pencil.

use nalgebra::Matrix2;

use super::{LineCoordinates, LineFrame, LineSystem, NEGLIGIBLE, Pencil, single};
use crate::statics::freedom::tidy_direction;
use nalgebra::Unit;

pub(super) fn lines(basis: &[LineCoordinates; 2], frame: &LineFrame) -> LineSystem {
    let form = Matrix2::from_fn(|i, j| basis[i].moment(&basis[j]));
    if form.amax() <= NEGLIGIBLE {
        return LineSystem::Pencil(pencil(basis, frame));
    }
    let eigen = form.symmetric_eigen();
    let (low, high) = if eigen.eigenvalues[0] <= eigen.eigenvalues[1] {
        (0, 1)
    } else {
        (1, 0)
    };
    let principal = |i: usize| {
        LineCoordinates::combination(eigen.eigenvectors.column(i).iter().copied().zip(basis))
    };
    let (p, q) = (eigen.eigenvalues[low], eigen.eigenvalues[high]);
    if p.abs().min(q.abs()) <= NEGLIGIBLE {
        let double = if p.abs() < q.abs() { low } else { high };
        return match single(&principal(double), frame) {
            LineSystem::Direction(direction) => LineSystem::DoubleDirection(direction),
            LineSystem::Line(line) | LineSystem::Screw(line, _) => LineSystem::DoubleLine(line),
            other => other,
        };
    }
    if p > 0.0 || q < 0.0 {
        return LineSystem::None;
    }
    let zeros = [1.0, -1.0].map(|sign| {
        let terms = [
            (q.sqrt(), principal(low)),
            (sign * (-p).sqrt(), principal(high)),
        ];
        single(
            &LineCoordinates::combination(terms.iter().map(|(w, t)| (*w, t))),
            frame,
        )
    });
    two(zeros)
}

/// Two zeros of the form that are not joined by a pencil; at most one of them lies at infinity.
fn two(zeros: [LineSystem; 2]) -> LineSystem {
    use LineSystem::{Direction, Line, Screw};
    match zeros {
        [Direction(d), Line(line) | Screw(line, _)]
        | [Line(line) | Screw(line, _), Direction(d)] => LineSystem::LineAndDirection(line, d),
        [Line(a) | Screw(a, _), Line(b) | Screw(b, _)] => LineSystem::TwoLines(a, b),
        _ => LineSystem::Other,
    }
}

/// The pencil that two lines which meet span, each of them perhaps at infinity.
pub(super) fn pencil(basis: &[LineCoordinates; 2], frame: &LineFrame) -> Pencil {
    let gram = Matrix2::from_fn(|i, j| basis[i].along.dot(&basis[j].along));
    let eigen = gram.symmetric_eigen();
    let (low, high) = if eigen.eigenvalues[0] <= eigen.eigenvalues[1] {
        (0, 1)
    } else {
        (1, 0)
    };
    let combined = |i: usize| {
        LineCoordinates::combination(eigen.eigenvectors.column(i).iter().copied().zip(basis))
    };
    let is_zero = |i: usize| eigen.eigenvalues[i].max(0.0).sqrt() <= NEGLIGIBLE;
    if is_zero(high) {
        let normal = basis[0].about.cross(&basis[1].about);
        return Pencil::SquareTo(tidy_direction(&Unit::new_normalize(normal)));
    }
    let turning = combined(high);
    if is_zero(low) {
        // A couple, or a translation, square to the line shifts it in a plane with that normal.
        let line = frame.line(&turning);
        let plane = frame.plane(&line.point, &combined(low).about);
        return Pencil::Along(line.direction, plane);
    }
    let normal = basis[0].along.cross(&basis[1].along);
    let centre = frame
        .crossing(basis)
        .unwrap_or_else(|| frame.line(&turning).point);
    Pencil::Through(frame.plane_at(&centre, &normal))
}
