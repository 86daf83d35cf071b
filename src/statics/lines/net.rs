//! Nets of screws: the lines in the span of three six-vectors, as far as lines can span one.
//!
//! The zeros of the form are a conic in the plane of the combinations: everything, two straight lines, or a
//! proper conic. Where they are less than that, no three lines span the net.

use nalgebra::{Matrix3, Unit, Vector3};

use super::pair::pencil;
use super::{LineCoordinates, LineFrame, LineSystem, NEGLIGIBLE, single};
use crate::statics::freedom::tidy_direction;

/// Lines of a regulus that are kept to be drawn.
const DRAWN: usize = 24;

pub(super) fn lines(basis: &[LineCoordinates; 3], frame: &LineFrame) -> LineSystem {
    let form = Matrix3::from_fn(|i, j| basis[i].moment(&basis[j]));
    if form.amax() <= NEGLIGIBLE {
        return isotropic(basis, frame);
    }
    let (values, principal) = sorted(&form, basis);
    let sign = |value: f64| {
        if value.abs() <= NEGLIGIBLE {
            0.0
        } else {
            value.signum()
        }
    };
    match values.map(sign) {
        [-1.0, 0.0, 1.0] => {
            let [low, radical, high] = principal;
            let pencils = [1.0, -1.0].map(|side| {
                let (a, b) = (values[2].sqrt(), side * (-values[0]).sqrt());
                let line = LineCoordinates::combination([(a, &low), (b, &high)]);
                pencil(&[normalized(line), radical], frame)
            });
            LineSystem::TwoPencils(pencils[0], pencils[1])
        }
        [-1.0, -1.0, 1.0] => regulus(&values, &principal, [0, 1], 2, frame),
        [-1.0, 1.0, 1.0] => regulus(&values, &principal, [1, 2], 0, frame),
        _ => LineSystem::Other,
    }
}

fn normalized(line: LineCoordinates) -> LineCoordinates {
    let size = line.norm();
    LineCoordinates {
        along: line.along / size,
        about: line.about / size,
    }
}

/// Eigenvalues of a form, smallest first, and the combinations that belong to them.
fn sorted(form: &Matrix3<f64>, basis: &[LineCoordinates; 3]) -> ([f64; 3], [LineCoordinates; 3]) {
    let eigen = form.symmetric_eigen();
    let mut order = [0, 1, 2];
    order.sort_by(|i, j| eigen.eigenvalues[*i].total_cmp(&eigen.eigenvalues[*j]));
    let combination = |i: usize| {
        LineCoordinates::combination(eigen.eigenvectors.column(i).iter().copied().zip(basis))
    };
    (order.map(|i| eigen.eigenvalues[i]), order.map(combination))
}

/// Three lines that meet each other pairwise: through one point or in one plane, perhaps at infinity.
fn isotropic(basis: &[LineCoordinates; 3], frame: &LineFrame) -> LineSystem {
    let gram = Matrix3::from_fn(|i, j| basis[i].along.dot(&basis[j].along));
    let (values, principal) = sorted(&gram, basis);
    let at_infinity = values
        .iter()
        .filter(|value| value.max(0.0).sqrt() <= NEGLIGIBLE)
        .count();
    match at_infinity {
        0 => frame
            .crossing(basis)
            .map_or(LineSystem::Other, LineSystem::Star),
        1 => {
            let line = frame.line(&principal[2]);
            LineSystem::Field(frame.plane(&line.point, &principal[0].about))
        }
        2 => {
            let direction: Vector3<f64> = principal[2].along;
            LineSystem::Parallels(tidy_direction(&Unit::new_normalize(direction)))
        }
        _ => LineSystem::Directions,
    }
}

/// Lines around the conic; `odd` is the eigenvalue whose sign is alone.
fn regulus(
    values: &[f64; 3],
    principal: &[LineCoordinates; 3],
    even: [usize; 2],
    odd: usize,
    frame: &LineFrame,
) -> LineSystem {
    // No support is looked for on each of the many lines.
    let bare = LineFrame {
        anchors: &[],
        ..*frame
    };
    let unit = [0, 1, 2].map(|i| 1.0 / values[i].abs().sqrt());
    let around = (0..DRAWN).filter_map(|step| {
        let angle = std::f64::consts::TAU * step as f64 / DRAWN as f64;
        let (sine, cosine) = angle.sin_cos();
        let line = LineCoordinates::combination([
            (unit[odd], &principal[odd]),
            (cosine * unit[even[0]], &principal[even[0]]),
            (sine * unit[even[1]], &principal[even[1]]),
        ]);
        match single(&normalized(line), &bare) {
            LineSystem::Line(line) | LineSystem::Screw(line, _) => Some(line),
            _ => None,
        }
    });
    LineSystem::Regulus(around.collect())
}
