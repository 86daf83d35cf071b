//! What each reason means, read off the reactions as given and by nothing that finds reasons.

use nalgebra::{Matrix4, Point3, Vector4};

use super::super::{Pencil, Plane, Reason, Regulus};
use crate::statics::Line;
use crate::statics::testing::Given;

use super::V;

/// Relative size of what counts as zero in a check.
const ZERO: f64 = 1e-6;
fn unit(vector: [f64; 3]) -> V {
    V::from(vector).normalize()
}

/// Whether a force meets a line or is parallel to it, or a couple is square to it.
fn meets(given: &Given, line: &Line) -> bool {
    let a = line.direction.into_inner();
    match given {
        Given::Force(p, d) => {
            ((Point3::from(*p) - line.point).cross(&unit(*d)))
                .dot(&a)
                .abs()
                < ZERO * 10.0
        }
        Given::Couple(d) => unit(*d).dot(&a).abs() < ZERO,
    }
}

fn square(given: &Given, to: &V) -> bool {
    match given {
        Given::Force(_, d) => unit(*d).dot(to).abs() < ZERO,
        Given::Couple(_) => true,
    }
}

fn through(given: &Given, point: &Point3<f64>) -> bool {
    match given {
        Given::Force(p, d) => (Point3::from(*p) - point).cross(&unit(*d)).norm() < ZERO * 10.0,
        Given::Couple(_) => false,
    }
}

fn inside(given: &Given, plane: &Plane) -> bool {
    match given {
        Given::Force(p, d) => {
            unit(*d).dot(&plane.normal).abs() < ZERO
                && (Point3::from(*p) - plane.point).dot(&plane.normal).abs() < ZERO * 10.0
        }
        Given::Couple(d) => unit(*d).cross(&plane.normal).norm() < ZERO,
    }
}

fn along(given: &Given, direction: &V) -> bool {
    match given {
        Given::Force(_, d) => unit(*d).cross(direction).norm() < ZERO,
        Given::Couple(d) => unit(*d).dot(direction).abs() < ZERO,
    }
}

fn in_pencil(given: &Given, pencil: &Pencil) -> bool {
    match pencil {
        Pencil::Through(plane) => match given {
            Given::Force(..) => through(given, &plane.point) && inside(given, plane),
            Given::Couple(_) => false,
        },
        Pencil::Along(direction, plane) => inside(given, plane) && along(given, direction),
        Pencil::SquareTo(direction) => match given {
            Given::Force(..) => false,
            Given::Couple(d) => unit(*d).dot(direction).abs() < ZERO,
        },
    }
}

/// The definition of each reason, read off the reactions as given.
pub(crate) fn holds(reason: &Reason, given: &[Given]) -> bool {
    let all = |test: &dyn Fn(&Given) -> bool| given.iter().all(test);
    match reason {
        Reason::MeetLine(line) => all(&|g| meets(g, line)),
        Reason::SquareTo(d) => all(&|g| square(g, d)),
        Reason::LinearComplex(axis, pitch) => {
            pitch.abs() > 0.0
                && all(&|g| {
                    let a = axis.direction.into_inner();
                    match g {
                        Given::Force(p, d) => {
                            let velocity = a.cross(&(Point3::from(*p) - axis.point)) + a * *pitch;
                            velocity.dot(&unit(*d)).abs() < ZERO * (10.0 + pitch.abs())
                        }
                        Given::Couple(d) => unit(*d).dot(&a).abs() < ZERO,
                    }
                })
        }
        Reason::MeetTwoLines(first, second) => {
            let between = second.point - first.point;
            let skew = first.direction.cross(&second.direction).dot(&between).abs() > ZERO;
            skew && all(&|g| meets(g, first) && meets(g, second))
        }
        Reason::MeetLineSquareTo(line, d) => all(&|g| meets(g, line) && square(g, d)),
        Reason::CommonNormal(line) => all(&|g| meets(g, line) && square(g, &line.direction)),
        Reason::PointOrPlane(plane) => all(&|g| through(g, &plane.point) || inside(g, plane)),
        Reason::AlongOrInPlane(d, plane) => {
            d.dot(&plane.normal).abs() < ZERO && all(&|g| along(g, d) || inside(g, plane))
        }
        Reason::ParallelWithCouples(d) => all(&|g| matches!(g, Given::Couple(_)) || along(g, d)),
        Reason::Touching(line) => all(&|g| meets(g, line)) && projective(given, line),
        Reason::TouchingAtInfinity(d) => all(&|g| square(g, d)),
        Reason::ThroughPoint(point) => all(&|g| through(g, point)),
        Reason::InPlane(plane) => all(&|g| inside(g, plane)),
        Reason::Parallel(d) => all(&|g| along(g, d)),
        Reason::OnlyCouples => all(&|g| matches!(g, Given::Couple(_))),
        Reason::Regulus(regulus) => on_regulus(regulus, given),
        Reason::TwoPencils(pencils) => {
            all(&|g| pencils.carriers.iter().any(|pencil| in_pencil(g, pencil)))
        }
        Reason::OnePencil(pencil) => all(&|g| in_pencil(g, pencil)),
        Reason::TwoLines(a, b) => all(&|g| on_line(g, a) || on_line(g, b)),
        Reason::ForceAndCouple(line, d) => all(&|g| match g {
            Given::Force(..) => on_line(g, line),
            Given::Couple(c) => unit(*c).cross(d).norm() < ZERO,
        }),
        Reason::OneLine(line) => all(&|g| on_line(g, line)),
        Reason::OneCouple(d) => {
            all(&|g| matches!(g, Given::Couple(c) if unit(*c).cross(d).norm() < ZERO))
        }
        // No line at all is no property of single reactions; the test of motions stands beside.
        Reason::OnlyScrews => true,
        Reason::Held | Reason::NoReactions | Reason::SeveralMotions => false,
    }
}

fn on_line(given: &Given, line: &Line) -> bool {
    through(given, &line.point)
        && matches!(given, Given::Force(_, d) if unit(*d).cross(&line.direction).norm() < ZERO)
}

/// Farther out than this, a line of a saddle is nearly that at infinity, and nothing can be told of it by coordinates.
const FAR: f64 = 1e4;

fn on_regulus(regulus: &Regulus, given: &[Given]) -> bool {
    let near = |lines: &[Line]| -> Vec<Line> {
        let near = lines.iter().filter(|line| line.point.coords.norm() < FAR);
        near.cloned().collect()
    };
    let (axes, carriers) = (near(&regulus.axes), near(&regulus.carriers));
    let meet = given.iter().all(|g| axes.iter().all(|axis| meets(g, axis)));
    let rule = carriers.iter().all(|line| {
        let carrier = Given::Force(line.point.coords.into(), line.direction.into_inner().into());
        axes.iter().all(|axis| meets(&carrier, axis))
    });
    let on_surface = regulus.quadric.as_ref().is_some_and(|quadric| {
        given.iter().all(|g| match g {
            Given::Force(p, d) => [-1.0, 0.0, 2.0]
                .iter()
                .all(|s| quadric.value(&(Point3::from(*p) + unit(*d) * *s)).abs() < ZERO * 100.0),
            Given::Couple(_) => true,
        })
    });
    meet && rule && on_surface && axes.len() > 2
}

/// Whether the plane in which each reaction meets a line follows from its meeting point by one projectivity: points
/// `x` and planes `y`, both homogeneous, all satisfy one equation `xᵗ M y = 0` with M of rank two.
fn projective(given: &[Given], line: &Line) -> bool {
    let a = line.direction.into_inner();
    let u = a.cross(&V::new(0.3, -0.5, 0.8)).normalize();
    let w = a.cross(&u);
    let rows = given.iter().filter_map(|g| {
        let (point, normal) = meeting(g, line)?;
        let plane = [
            normal.dot(&u) / normal.norm(),
            normal.dot(&w) / normal.norm(),
        ];
        let row = Vector4::new(
            point[0] * plane[0],
            point[0] * plane[1],
            point[1] * plane[0],
            point[1] * plane[1],
        );
        Some(row.normalize())
    });
    let gram: Matrix4<f64> = rows.map(|row| row * row.transpose()).sum();
    let eigen = gram.symmetric_eigen();
    let least = eigen.eigenvalues.imin();
    let m = eigen.eigenvectors.column(least).into_owned();
    eigen.eigenvalues[least] < 1e-9 && (m[0] * m[3] - m[1] * m[2]).abs() > 1e-6
}

/// Where a reaction meets a line, as its place along it over a weight, and the normal of the plane through both.
/// `None` for a force along the line itself.
fn meeting(given: &Given, line: &Line) -> Option<([f64; 2], V)> {
    let a = line.direction.into_inner();
    match given {
        Given::Force(p, d) => {
            let (offset, d) = (line.point - Point3::from(*p), unit(*d));
            let normal = a.cross(&d);
            if normal.norm() > ZERO {
                let at = offset.cross(&a).dot(&d.cross(&a)) / normal.norm_squared();
                let foot = Point3::from(*p) + d * at;
                return Some(([(foot - line.point).dot(&a), 1.0], normal));
            }
            let normal = a.cross(&offset);
            (normal.norm() > ZERO).then_some(([1.0, 0.0], normal))
        }
        Given::Couple(d) => Some(([1.0, 0.0], V::from(*d))),
    }
}
