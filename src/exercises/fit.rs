//! Whether a support could be built where it is drawn: no wall within the body, no link through it, no bearing across a
//! shaft or on a bend.

use super::body::{Body, GridPoint, cross, dot};
use super::grid_support::GridSupportKind;
use crate::scene::Space;

/// A point nearer to the body than this, in tenths of a metre, is in it or on it. An odd number, so that no point lies on
/// its edge.
const NEAR: f64 = 0.3107;

/// The direction along which a support of that kind can stand at a point: as asked for, or turned round where that
/// makes it fit; `None` where neither does.
pub(super) fn fitting(
    body: &Body,
    kind: GridSupportKind,
    at: GridPoint,
    along: GridPoint,
) -> Option<GridPoint> {
    let fits = |along: &GridPoint| fits(body, kind, at, *along);
    let turned = along.map(|part| -part);
    let up = if body.space == Space::Planar { 1 } else { 2 };
    // Surfaces do not come to lie above the body.
    let may_turn = kind.has_sense() && (!kind.is_surface() || along[up] == 0);
    [Some(along), may_turn.then_some(turned)]
        .into_iter()
        .flatten()
        .find(fits)
}

fn fits(body: &Body, kind: GridSupportKind, at: GridPoint, along: GridPoint) -> bool {
    let taken = |way: GridPoint| body.covers(beside(at, way, 1.0));
    let back = along.map(|part| -part);
    match kind {
        // Plates and cases have no shaft, and cases no rod.
        _ if kind.is_bearing() && !body.is_bar() => false,
        _ if kind.runs_on_a_rod() && body.is_box() => false,
        _ if kind.is_surface() => body.ways_from(at).iter().all(|way| dot(*way, along) >= 0),
        GridSupportKind::RailWheel => !taken([0, 0, -1]),
        GridSupportKind::Link | GridSupportKind::Cable => !body.is_crossed(at, along),
        // A bar is its own shaft.
        _ if kind.is_bearing() => body
            .ways_from(at)
            .iter()
            .all(|way| cross(*way, along) == [0; 3]),
        // The rod leads past the body on both sides; in the plane, also along the edge of a plate.
        GridSupportKind::Collar if !body.is_bar() => true,
        GridSupportKind::Collar | GridSupportKind::Slider => !taken(along) && !taken(back),
        GridSupportKind::Universal => !taken(along) || !taken(back),
        GridSupportKind::Fixed => !body.is_bar() || body.ends_at(at),
        _ => true,
    }
}

/// The point so many tenths of a metre from a grid point.
fn beside(at: GridPoint, way: GridPoint, far: f64) -> [f64; 3] {
    let way = way.map(f64::from);
    let length = way.iter().map(|part| part * part).sum::<f64>().sqrt();
    [0, 1, 2].map(|axis| f64::from(at[axis]) + way[axis] * far / length)
}

impl Body {
    /// Whether it consists of straight pieces, and is neither a plate nor a case.
    fn is_bar(&self) -> bool {
        !self.legs.is_empty()
    }

    /// Whether it is a case, thick in every direction.
    fn is_box(&self) -> bool {
        let thick = |axis: usize| {
            let mut along = self.anchors.iter().map(|anchor| anchor[axis]);
            let first = along.next();
            along.any(|x| Some(x) != first)
        };
        !self.is_bar() && (0..3).all(thick)
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

    /// Whether a link from a point of the body runs through it elsewhere.
    fn is_crossed(&self, at: GridPoint, along: GridPoint) -> bool {
        // Steps shorter than twice `NEAR`, so that no bar slips through between two.
        let length = f64::from(dot(along, along)).sqrt();
        let steps = (2.0 * length) as u32;
        let all = (2..=steps)
            .map(|step| f64::from(step) / 2.0)
            .chain([length]);
        all.map(|far| beside(at, along, far))
            .any(|point| self.covers(point))
    }

    /// Where the body goes on from one of its points: along a bar, or to the other points of a plate or a case.
    fn ways_from(&self, at: GridPoint) -> Vec<GridPoint> {
        let to = |end: &GridPoint| [0, 1, 2].map(|axis| end[axis] - at[axis]);
        if !self.is_bar() {
            return self.anchors.iter().map(to).collect();
        }
        let here = self
            .legs
            .iter()
            .filter(|leg| distance(at.map(f64::from), **leg) < NEAR);
        here.flatten()
            .map(to)
            .filter(|way| *way != [0; 3])
            .collect()
    }

    /// Whether all of a bar lies one way from a point: there is neither a bend nor more of the bar behind.
    fn ends_at(&self, at: GridPoint) -> bool {
        let ways = self.ways_from(at);
        let is_same = |a: &GridPoint, b: &GridPoint| cross(*a, *b) == [0; 3] && dot(*a, *b) > 0;
        ways.iter().all(|way| is_same(way, &ways[0]))
    }
}

/// Distance of a point from a piece between two grid points.
fn distance(point: [f64; 3], [from, to]: [GridPoint; 2]) -> f64 {
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
    use super::super::random::Random;
    use super::super::{Level, Topic, arrangement, body};
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
        assert_eq!(
            fitting(&beam, GridSupportKind::Contact, middle, [1, 0, 0]),
            None
        );
        assert_eq!(
            fitting(&beam, GridSupportKind::Roller, middle, [0, 1, 0]),
            Some([0, 1, 0])
        );
        assert_eq!(
            fitting(&beam, GridSupportKind::Contact, end, [-1, 0, 0]),
            Some([1, 0, 0]),
            "turned"
        );
        assert_eq!(
            fitting(&beam, GridSupportKind::Cable, middle, [3, 0, 0]),
            None
        );
        assert_eq!(
            fitting(&beam, GridSupportKind::Cable, end, [3, 0, 0]),
            Some([-3, 0, 0])
        );
        assert_eq!(
            fitting(&beam, GridSupportKind::Link, middle, [0, -4, 0]),
            Some([0, -4, 0])
        );
        assert_eq!(fitting(&beam, GridSupportKind::Fixed, middle, [0; 3]), None);
        assert_eq!(
            fitting(&beam, GridSupportKind::Fixed, end, [0; 3]),
            Some([0; 3])
        );
    }

    #[test]
    fn bearings_go_along_a_shaft_and_never_on_a_plate() {
        let crank = body(9);
        let at = crank.anchors[1];
        assert_eq!(
            fitting(&crank, GridSupportKind::Journal, at, [1, 0, 0]),
            Some([1, 0, 0])
        );
        assert_eq!(
            fitting(&crank, GridSupportKind::Journal, at, [0, 1, 0]),
            None
        );
        let tray = body(5);
        // The middle of the edge along x.
        let edge = tray.anchors[4];
        assert_eq!((edge[1], edge[2]), (0, 0));
        for along in [[0, 1, 0], [1, 0, 0]] {
            assert_eq!(fitting(&tray, GridSupportKind::Thrust, edge, along), None);
        }
        assert_eq!(
            fitting(&tray, GridSupportKind::Contact, edge, [0, -1, 0]),
            Some([0, 1, 0])
        );
        assert_eq!(
            fitting(&tray, GridSupportKind::Contact, edge, [0, 1, 0]),
            Some([0, 1, 0])
        );
        assert_eq!(
            fitting(&tray, GridSupportKind::Contact, edge, [1, 0, 0]),
            None
        );
    }

    /// What is drawn, against the finest measure: nothing of a link within the body, nothing of a bar behind a surface.
    #[test]
    fn whatever_is_drawn_could_be_built() {
        let mut random = Random::new(8);
        let mut links = 0;
        for _ in 0..150 {
            for topic in Topic::MIXED {
                for level in [Level::Easy, Level::Middle, Level::Hard] {
                    let drawn = arrangement::arrangement(&mut random, topic, level);
                    for support in &drawn.supports {
                        let body = &drawn.body;
                        match support.kind {
                            GridSupportKind::Link | GridSupportKind::Cable => {
                                links += 1;
                                let length = f64::from(dot(support.along, support.along)).sqrt();
                                let points =
                                    (100..=1000).map(|part| f64::from(part) / 1000.0 * length);
                                let mut points = points.filter(|far| *far >= 1.0);
                                // Half the width of a bar, and room for its eye.
                                let inside = points.any(|far| {
                                    let point = beside(support.at, support.along, far);
                                    body.legs.iter().any(|leg| distance(point, *leg) < 0.25)
                                });
                                assert!(!inside, "{support:?} of {body:?}");
                            }
                            kind if kind.is_surface() => {
                                let back = support.along.map(|part| -part);
                                assert!(
                                    !body.covers(beside(support.at, back, 1.0)),
                                    "{support:?} of {body:?}"
                                );
                            }
                            _ => {}
                        }
                    }
                }
            }
        }
        assert!(links > 500);
    }
}
