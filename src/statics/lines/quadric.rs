//! The quadric that a regulus lies on.

use nalgebra::{Matrix3, Point3, SymmetricEigen, Unit, Vector3};

use super::{LineCoordinates, LineFrame, NEGLIGIBLE};
use crate::statics::freedom::tidy_direction;

/// A ruled quadric, `xᵗ A x + 2 b·x + c = 0` for `x` from `origin` in units of `length`.
#[derive(Debug, Clone, PartialEq)]
pub struct Quadric {
    /// Which surface it is.
    pub kind: QuadricKind,
    /// Symmetric matrix A; the largest of all coefficients is 1 or −1.
    pub square: Matrix3<f64>,
    /// Vector b.
    pub linear: Vector3<f64>,
    /// Number c.
    pub constant: f64,
    /// Where x is measured from, m.
    pub origin: Point3<f64>,
    /// Unit of x, m.
    pub length: f64,
}

/// The ruled quadrics that carry a regulus.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum QuadricKind {
    /// Hyperboloid of one sheet.
    Hyperboloid {
        /// Its centre, m.
        centre: Point3<f64>,
        /// Direction of the axis that does not meet it.
        axis: Unit<Vector3<f64>>,
        /// Semi-axes of its narrowest section, m, the larger first.
        waist: [f64; 2],
        /// Directions of those semi-axes.
        waist_axes: [Unit<Vector3<f64>>; 2],
        /// Semi-axis along the axis, m: the surface widens by √2 over it.
        rise: f64,
    },
    /// Hyperbolic paraboloid, a saddle: its lines are parallel to two planes.
    Saddle {
        /// Normals of the two planes.
        normals: [Unit<Vector3<f64>>; 2],
    },
}

impl Quadric {
    /// The surface swept by the lines in the span of three twists, of which no point keeps still under two.
    ///
    /// A point lies on an axis exactly where the three velocities there are dependent: `det(v + w × x) = 0`,
    /// in which the cubic terms cancel. `None` where that is no proper ruled quadric.
    pub(in crate::statics) fn of(basis: &[LineCoordinates; 3], frame: &LineFrame) -> Option<Self> {
        let mut square = Matrix3::zeros();
        let mut linear = Vector3::zeros();
        for i in 0..3 {
            let [p, q, r] = [basis[i], basis[(i + 1) % 3], basis[(i + 2) % 3]];
            square += r.about * p.along.cross(&q.along).transpose();
            linear += q.about.cross(&r.about).cross(&p.along);
        }
        let constant = basis[0].about.dot(&basis[1].about.cross(&basis[2].about));
        let square: Matrix3<f64> = (square + square.transpose()) / 2.0;
        let linear: Vector3<f64> = linear / 2.0;
        let size = square.amax().max(linear.amax()).max(constant.abs());
        let (square, linear, constant) = (square / size, linear / size, constant / size);
        Some(Self {
            kind: kind(&square, &linear, constant, frame)?,
            square,
            linear,
            constant,
            origin: frame.reference,
            length: frame.length,
        })
    }

    /// Left side of the equation at a point; 0 on the surface.
    pub fn value(&self, point: &Point3<f64>) -> f64 {
        let x = (point - self.origin) / self.length;
        x.dot(&(self.square * x)) + 2.0 * self.linear.dot(&x) + self.constant
    }
}

fn kind(
    square: &Matrix3<f64>,
    linear: &Vector3<f64>,
    constant: f64,
    frame: &LineFrame,
) -> Option<QuadricKind> {
    let eigen = SymmetricEigen::new(*square);
    let largest = eigen.eigenvalues.amax();
    let mut order = [0, 1, 2];
    order.sort_by(|i, j| eigen.eigenvalues[*i].total_cmp(&eigen.eigenvalues[*j]));
    let direction = |i: usize| {
        let column = eigen.eigenvectors.column(i).into_owned();
        tidy_direction(&Unit::new_normalize(column))
    };
    if eigen
        .eigenvalues
        .iter()
        .any(|value| value.abs() <= NEGLIGIBLE * largest)
    {
        let [low, _, high] = order;
        let (p, q) = (eigen.eigenvalues[low], eigen.eigenvalues[high]);
        // q s² − |p| r² splits into two planes, whose normals these are.
        let [r, s] = [low, high].map(|i| eigen.eigenvectors.column(i).into_owned());
        let normals = [1.0, -1.0].map(|sign| {
            let normal = s * q.max(0.0).sqrt() + r * (sign * (-p).max(0.0).sqrt());
            tidy_direction(&Unit::new_normalize(normal))
        });
        return (p < 0.0 && q > 0.0).then_some(QuadricKind::Saddle { normals });
    }
    let centre = -(square.try_inverse()? * linear);
    let level = -(constant + linear.dot(&centre));
    // Σ λ y² = level: the axis that does not meet it has λ of the other sign than level.
    let squares = order.map(|i| (level / eigen.eigenvalues[i], i));
    let [alone, mut waist] = match squares.map(|(s, _)| s > 0.0) {
        [false, true, true] => [[squares[0]; 2], [squares[1], squares[2]]],
        [true, true, false] => [[squares[2]; 2], [squares[0], squares[1]]],
        _ => return None,
    };
    waist.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (rise, axis) = alone[0];
    Some(QuadricKind::Hyperboloid {
        centre: frame.place(frame.world(&centre)),
        axis: direction(axis),
        waist: waist.map(|(s, _)| s.sqrt() * frame.length),
        waist_axes: waist.map(|(_, i)| direction(i)),
        rise: (-rise).sqrt() * frame.length,
    })
}
