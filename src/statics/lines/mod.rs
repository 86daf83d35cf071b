//! Linear systems of lines: which lines of action, or which axes of rotation, a subspace of six-vectors holds.
//!
//! A wrench that is one force and a twist that is one rotation are both a line; a couple and a translation
//! are a line at infinity. A subspace of either is described by the lines in it, the zeros of the form `a·b`
//! on it: the same geometry serves what reactions can do together and what motions they leave.
//! (Ball 1900; Dandurand 1984; Pottmann & Wallner 2001, chapter 3.)

mod net;
mod pair;
mod quadric;

use nalgebra::{Matrix3, Point3, Unit, Vector3};

use super::freedom::{NEGLIGIBLE, tidy_direction};
use super::line::Line;
use super::model::Model;
use super::scaled::{ScaledTwist, ScaledWrench};
pub use quadric::{Quadric, QuadricKind};

/// The lines in a subspace of six-vectors of dimension one to three.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum LineSystem {
    /// One line.
    Line(Line),
    /// One line at infinity: a couple about, or a translation along, this direction.
    Direction(Unit<Vector3<f64>>),
    /// No line but a screw: its axis and pitch, m.
    Screw(Line, f64),
    /// A pencil of lines or the like.
    Pencil(Pencil),
    /// Two lines that do not meet.
    TwoLines(Line, Line),
    /// One line, and one at infinity that it does not meet.
    LineAndDirection(Line, Unit<Vector3<f64>>),
    /// One line in which two have run together.
    DoubleLine(Line),
    /// One line at infinity in which two have run together.
    DoubleDirection(Unit<Vector3<f64>>),
    /// No line at all.
    None,
    /// All lines through a point.
    Star(Point3<f64>),
    /// All lines of a plane.
    Field(Plane),
    /// All lines along a direction.
    Parallels(Unit<Vector3<f64>>),
    /// All lines at infinity.
    Directions,
    /// Two pencils that have one line in common.
    TwoPencils(Pencil, Pencil),
    /// One family of straight lines of a quadric, some of them.
    Regulus(Vec<Line>),
    /// Three dimensions of another kind; no three independent lines span it.
    Other,
}

/// A plane in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// A point of the plane, m.
    pub point: Point3<f64>,
    /// Its normal; the largest component is positive.
    pub normal: Unit<Vector3<f64>>,
}

/// A flat pencil of lines: through one point in one plane, either of which may lie at infinity.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Pencil {
    /// The lines of a plane through the point given with it.
    Through(Plane),
    /// The lines of a plane along a direction.
    Along(Unit<Vector3<f64>>, Plane),
    /// The lines at infinity of all directions square to this one.
    SquareTo(Unit<Vector3<f64>>),
}

/// Where a subspace stands: what its six-vectors are measured about, and points to name its lines by.
#[derive(Debug, Clone, Copy)]
pub(super) struct LineFrame<'a> {
    pub(super) reference: Point3<f64>,
    pub(super) length: f64,
    /// Lines, points and planes are given by one of these where they pass through it.
    pub(super) anchors: &'a [Point3<f64>],
}

impl<'a> LineFrame<'a> {
    pub(super) fn new(model: &Model, anchors: &'a [Point3<f64>]) -> Self {
        Self {
            reference: model.reference,
            length: model.length,
            anchors,
        }
    }

    /// Closer together than this, m, is the same place.
    fn near(&self) -> f64 {
        NEGLIGIBLE * self.length
    }

    fn world(&self, scaled: &Vector3<f64>) -> Point3<f64> {
        self.reference + scaled * self.length
    }

    fn line(&self, coordinates: &LineCoordinates) -> Line {
        let (a, b) = (coordinates.along, coordinates.about);
        let foot = self.world(&(a.cross(&b) / a.norm_squared()));
        let line = Line::new(foot, &Unit::new_normalize(a));
        let anchor = self
            .anchors
            .iter()
            .find(|p| line.distance(p) <= self.near());
        Line {
            point: anchor.copied().unwrap_or(line.point),
            ..line
        }
    }

    fn plane(&self, point: &Point3<f64>, normal: &Vector3<f64>) -> Plane {
        let normal = tidy_direction(&Unit::new_normalize(*normal));
        let off = |p: &&Point3<f64>| (*p - point).dot(&normal).abs() <= self.near();
        Plane {
            point: self.anchors.iter().find(off).copied().unwrap_or(*point),
            normal,
        }
    }

    /// The plane through a point that is kept.
    fn plane_at(&self, point: &Point3<f64>, normal: &Vector3<f64>) -> Plane {
        Plane {
            point: *point,
            normal: tidy_direction(&Unit::new_normalize(*normal)),
        }
    }

    fn place(&self, point: Point3<f64>) -> Point3<f64> {
        let here = |p: &&Point3<f64>| (*p - point).norm() <= self.near();
        self.anchors.iter().find(here).copied().unwrap_or(point)
    }

    /// The point nearest to all lines of a set that has two directions at least.
    fn crossing(&self, lines: &[LineCoordinates]) -> Option<Point3<f64>> {
        let mut matrix = Matrix3::zeros();
        let mut right = Vector3::zeros();
        for LineCoordinates { along, about } in lines {
            matrix += Matrix3::identity() * along.norm_squared() - along * along.transpose();
            right += along.cross(about);
        }
        let solution = matrix.try_inverse()? * right;
        Some(self.place(self.world(&solution)))
    }
}

/// Line coordinates of a screw: `a` along it and `b` about the reference point, both over the scene's length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LineCoordinates {
    along: Vector3<f64>,
    about: Vector3<f64>,
}

impl LineCoordinates {
    /// Of a scaled wrench `(f; m / L)`.
    pub(super) fn of_wrench(six: &ScaledWrench) -> Self {
        Self {
            along: six.fixed_rows::<3>(0).into_owned(),
            about: six.fixed_rows::<3>(3).into_owned(),
        }
    }

    /// Of a scaled twist `(v; L w)`.
    pub(super) fn of_twist(six: &ScaledTwist) -> Self {
        Self {
            along: six.fixed_rows::<3>(3).into_owned(),
            about: six.fixed_rows::<3>(0).into_owned(),
        }
    }

    fn norm(&self) -> f64 {
        self.along.norm().hypot(self.about.norm())
    }

    /// Zero where two lines meet or are parallel; of a screw with itself twice `a·b`.
    fn moment(&self, other: &Self) -> f64 {
        self.along.dot(&other.about) + other.along.dot(&self.about)
    }

    fn combination<'a>(terms: impl IntoIterator<Item = (f64, &'a Self)>) -> Self {
        let mut sum = Self {
            along: Vector3::zeros(),
            about: Vector3::zeros(),
        };
        for (weight, term) in terms {
            sum.along += term.along * weight;
            sum.about += term.about * weight;
        }
        sum
    }
}

/// The lines in the span of one to three orthonormal six-vectors.
pub(super) fn line_system(basis: &[LineCoordinates], frame: &LineFrame) -> LineSystem {
    match basis {
        [only] => single(only, frame),
        [first, second] => pair::lines(&[*first, *second], frame),
        [first, second, third] => net::lines(&[*first, *second, *third], frame),
        _ => LineSystem::Other,
    }
}

/// The screw of one six-vector of order one.
fn single(screw: &LineCoordinates, frame: &LineFrame) -> LineSystem {
    if screw.along.norm() <= NEGLIGIBLE * screw.norm() {
        return LineSystem::Direction(tidy_direction(&Unit::new_normalize(screw.about)));
    }
    let pitch = screw.along.dot(&screw.about) / screw.along.norm_squared();
    let line = frame.line(screw);
    if pitch.abs() <= NEGLIGIBLE {
        LineSystem::Line(line)
    } else {
        LineSystem::Screw(line, pitch * frame.length)
    }
}
