//! Whether a support could be built where it is drawn: no wall within the body, no link through it, no bearing across a
//! shaft.

use super::body::{Body, Cell};
use super::hold::HoldKind;
use crate::scene::Space;

/// A point nearer to the body than this, in tenths of a metre, is in it or on it. No grid point, and none that
/// [`beside`] finds on a body of the templates, lies near this distance.
const NEAR: f64 = 0.3;

/// The direction along which a support of that kind can stand at a point: as asked for, or turned round where that
/// makes it fit; `None` where neither does.
pub(super) fn fitting(body: &Body, kind: HoldKind, at: Cell, along: Cell) -> Option<Cell> {
    let fits = |along: &Cell| fits(body, kind, at, *along);
    let turned = along.map(|part| -part);
    let up = if body.space == Space::Planar { 1 } else { 2 };
    // Surfaces do not come to lie above the body.
    let may_turn = kind.has_sense() && (!kind.is_surface() || along[up] == 0);
    [Some(along), may_turn.then_some(turned)]
        .into_iter()
        .flatten()
        .find(fits)
}

fn fits(body: &Body, kind: HoldKind, at: Cell, along: Cell) -> bool {
    let taken = |way: Cell| body.covers(beside(at, way));
    let back = along.map(|part| -part);
    match kind {
        HoldKind::Roller | HoldKind::Contact | HoldKind::RoughContact | HoldKind::Rocker => {
            !taken(back)
        }
        HoldKind::RailWheel => !taken([0, 0, -1]),
        HoldKind::Link | HoldKind::Cable => {
            let end = [0, 1, 2].map(|axis| f64::from(at[axis] + along[axis]));
            let middle = [0, 1, 2].map(|axis| f64::from(2 * at[axis] + along[axis]) / 2.0);
            !taken(along) && !body.covers(middle) && !body.covers(end)
        }
        // A bar is its own shaft; a plate or a case has one that leads out of it.
        HoldKind::Journal
        | HoldKind::PairedJournal
        | HoldKind::Thrust
        | HoldKind::PairedThrust
        | HoldKind::SquareJournal => match body.is_bar() {
            true => taken(along) || taken(back),
            false => !taken(along) || !taken(back),
        },
        HoldKind::Collar | HoldKind::Slider => !body.is_bar() || (!taken(along) && !taken(back)),
        HoldKind::Fixed => !body.passes_through(at),
        HoldKind::BallJoint
        | HoldKind::Hinge
        | HoldKind::PairedHinge
        | HoldKind::PairedSlidingHinge
        | HoldKind::SlidingHinge
        | HoldKind::SmoothPin
        | HoldKind::Universal
        | HoldKind::Pin
        | HoldKind::Slot => true,
    }
}

/// The point a tenth of a metre from a grid point.
fn beside(at: Cell, way: Cell) -> [f64; 3] {
    let way = way.map(f64::from);
    let length = way.iter().map(|part| part * part).sum::<f64>().sqrt();
    [0, 1, 2].map(|axis| f64::from(at[axis]) + way[axis] / length)
}

impl Body {
    /// Whether it consists of straight pieces, and is neither a plate nor a case.
    fn is_bar(&self) -> bool {
        !self.legs.is_empty()
    }

    /// Whether a point, in tenths of a metre, is in the body or on it.
    fn covers(&self, point: [f64; 3]) -> bool {
        if self.is_bar() {
            return self.legs.iter().any(|leg| distance(point, *leg) < NEAR);
        }
        // Plates and cases lie along the axes, and their corners are anchors.
        (0..3).all(|axis| {
            let along = self.anchors.iter().map(|anchor| f64::from(anchor[axis]));
            let (low, high) = along.fold((f64::MAX, f64::MIN), |(low, high), x| {
                (low.min(x), high.max(x))
            });
            (low - NEAR..=high + NEAR).contains(&point[axis])
        })
    }

    /// Whether a bar goes on straight to both sides of a point.
    fn passes_through(&self, at: Cell) -> bool {
        self.legs.iter().any(|[from, to]| {
            let way = [0, 1, 2].map(|axis| to[axis] - from[axis]);
            [way, way.map(|part| -part)]
                .iter()
                .all(|way| self.covers(beside(at, *way)))
        })
    }
}

/// Distance of a point from a piece between two grid points.
fn distance(point: [f64; 3], [from, to]: [Cell; 2]) -> f64 {
    let from = from.map(f64::from);
    let way = [0, 1, 2].map(|axis| f64::from(to[axis]) - from[axis]);
    let off = [0, 1, 2].map(|axis| point[axis] - from[axis]);
    let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let part = (dot(off, way) / dot(way, way)).clamp(0.0, 1.0);
    let rest = [0, 1, 2].map(|axis| off[axis] - part * way[axis]);
    dot(rest, rest).sqrt()
}

#[cfg(test)]
mod tests {
    use super::super::body;
    use super::super::random::Random;
    use super::*;

    /// The first body of a template, which lies along x from the origin.
    fn body(template: u8) -> Body {
        let mut random = Random::new(1);
        let mut bodies =
            std::iter::repeat_with(|| [body::planar(&mut random), body::spatial(&mut random)])
                .flatten();
        bodies.find(|body| body.template == template).unwrap()
    }

    #[test]
    fn no_wall_stands_within_a_beam_and_no_link_runs_along_it() {
        let beam = body(0);
        let (end, middle) = ([0, 0, 0], beam.anchors[2]);
        assert_eq!(fitting(&beam, HoldKind::Contact, middle, [1, 0, 0]), None);
        assert_eq!(
            fitting(&beam, HoldKind::Roller, middle, [0, 1, 0]),
            Some([0, 1, 0])
        );
        assert_eq!(
            fitting(&beam, HoldKind::Contact, end, [-1, 0, 0]),
            Some([1, 0, 0]),
            "turned"
        );
        assert_eq!(fitting(&beam, HoldKind::Cable, middle, [3, 0, 0]), None);
        assert_eq!(
            fitting(&beam, HoldKind::Cable, end, [3, 0, 0]),
            Some([-3, 0, 0])
        );
        assert_eq!(
            fitting(&beam, HoldKind::Link, middle, [0, -4, 0]),
            Some([0, -4, 0])
        );
        assert_eq!(fitting(&beam, HoldKind::Fixed, middle, [0; 3]), None);
        assert_eq!(fitting(&beam, HoldKind::Fixed, end, [0; 3]), Some([0; 3]));
    }

    #[test]
    fn bearings_go_along_a_shaft_and_out_of_a_plate() {
        let crank = body(9);
        let at = crank.anchors[1];
        assert_eq!(
            fitting(&crank, HoldKind::Journal, at, [1, 0, 0]),
            Some([1, 0, 0])
        );
        assert_eq!(fitting(&crank, HoldKind::Journal, at, [0, 1, 0]), None);
        let tray = body(5);
        // The middle of the edge along x.
        let edge = tray.anchors[4];
        assert_eq!((edge[1], edge[2]), (0, 0));
        assert_eq!(
            fitting(&tray, HoldKind::Thrust, edge, [0, 1, 0]),
            Some([0, 1, 0])
        );
        assert_eq!(fitting(&tray, HoldKind::Thrust, edge, [1, 0, 0]), None);
        assert_eq!(
            fitting(&tray, HoldKind::Contact, edge, [0, -1, 0]),
            Some([0, 1, 0])
        );
        assert_eq!(
            fitting(&tray, HoldKind::Contact, edge, [0, 1, 0]),
            Some([0, 1, 0])
        );
        assert_eq!(fitting(&tray, HoldKind::Contact, edge, [1, 0, 0]), None);
    }
}
