//! What a span of straight elements between two nodes does: how its far end gives way, and the forces in it.
//!
//! The forces at a section follow from those at the far end by equilibrium alone; the displacements are integrals of
//! the strains that they make. So a span of many elements is as exact as one, and only its ends are unknowns of the body.

use nalgebra::{Matrix3, Matrix6, Point3, SMatrix, Vector3, Vector6};

use super::layout::{BarLayout, BarSpan};
use crate::statics::{Twist, Wrench, stack};

/// What acts on a span between its ends, in scene axes.
#[derive(Debug, Clone, Default)]
pub(super) struct SpanLoads {
    /// On each element.
    pub(super) spread: Vec<SpreadLoad>,
    /// At the start of each element, about it; never at the first.
    pub(super) points: Vec<Wrench>,
}

/// Force and moment per length of an element, as powers of the part of it from 0 to 1.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct SpreadLoad {
    /// N/m; linear.
    pub(super) force: [Vector3<f64>; 2],
    /// N·m/m; quadratic.
    pub(super) moment: [Vector3<f64>; 3],
}

/// One straight element of a span.
pub(super) struct BarElement {
    pub(super) ends: [Point3<f64>; 2],
    pub(super) length: f64,
    pub(super) along: Vector3<f64>,
    /// Rotation per length from a moment, stretch per length from a force.
    compliances: [Matrix3<f64>; 2],
}

/// A span with its elements.
pub(super) struct SpanElements {
    all: Vec<BarElement>,
    end: Point3<f64>,
}

/// Points and weights of Gauss's rule on 0 to 1 that is exact to the fifth power.
const GAUSS: [(f64, f64); 3] = [
    (0.112_701_665_379_258_31, 5.0 / 18.0),
    (0.5, 8.0 / 18.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

impl SpreadLoad {
    /// What acts on an element beyond a part of it, about the point there.
    fn beyond(&self, element: &BarElement, part: f64) -> Wrench {
        // ∫ ηⁿ and ∫ (η − part) ηⁿ from `part` to 1.
        let power = |n: i32| (1.0 - part.powi(n + 1)) / f64::from(n + 1);
        let arm = |n: i32| power(n + 1) - part * power(n);
        let [constant, linear] = self.force;
        let force = constant * power(0) + linear * power(1);
        let levered = constant * arm(0) + linear * arm(1);
        let [first, second, third] = self.moment;
        let own = first * power(0) + second * power(1) + third * power(2);
        Wrench {
            force: force * element.length,
            moment: element.along.cross(&levered) * element.length.powi(2) + own * element.length,
        }
    }

    pub(super) fn add(&mut self, other: &Self) {
        for (own, more) in self.force.iter_mut().zip(other.force) {
            *own += more;
        }
        for (own, more) in self.moment.iter_mut().zip(other.moment) {
            *own += more;
        }
    }
}

impl BarElement {
    pub(super) fn point(&self, part: f64) -> Point3<f64> {
        self.ends[0] + self.along * (self.length * part)
    }
}

impl SpanElements {
    pub(super) fn of(layout: &BarLayout, span: &BarSpan) -> Self {
        let bar = &layout.bars[span.bar];
        let [from, to] = span.stations;
        let pieces = bar.points[from..=to].windows(2);
        let all = pieces.map(|ends| {
            let way = ends[1] - ends[0];
            let length = way.norm();
            let along = way / length;
            BarElement {
                ends: [ends[0], ends[1]],
                length,
                along,
                compliances: bar.stiffness.compliances(&along),
            }
        });
        Self {
            all: all.collect(),
            end: bar.points[to],
        }
    }

    pub(super) fn iter(&self) -> impl ExactSizeIterator<Item = &BarElement> {
        self.all.iter()
    }

    pub(super) fn ends(&self) -> [Point3<f64>; 2] {
        let first = self.all.first();
        [first.map_or(self.end, |element| element.ends[0]), self.end]
    }

    /// Displacement and rotation of the end, the start held, by a unit force or moment there along each axis.
    pub(super) fn flexibility(&self) -> Matrix6<f64> {
        let mut whole = Matrix6::zeros();
        for element in &self.all {
            let [bending, stretching] = element.compliances;
            for (part, weight) in GAUSS {
                let arm = (self.end - element.point(part)).cross_matrix();
                let levered = bending * arm;
                let mut here = Matrix6::zeros();
                here.fixed_view_mut::<3, 3>(0, 0)
                    .copy_from(&(stretching - arm * levered));
                here.fixed_view_mut::<3, 3>(0, 3)
                    .copy_from(&-(arm * bending));
                here.fixed_view_mut::<3, 3>(3, 0).copy_from(&levered);
                here.fixed_view_mut::<3, 3>(3, 3).copy_from(&bending);
                whole += here * (weight * element.length);
            }
        }
        whole
    }

    /// What acts beyond the start of each element, about it, and nothing beyond the end: of all loads between the ends.
    pub(super) fn beyond(&self, loads: &SpanLoads) -> Vec<Wrench> {
        let mut all = vec![Wrench::default(); self.all.len() + 1];
        for (i, element) in self.all.iter().enumerate().rev() {
            let after = match loads.points.get(i + 1) {
                Some(point) => all[i + 1] + *point,
                None => all[i + 1],
            };
            let spread = loads.spread.get(i);
            let own = spread.map_or_else(Wrench::default, |spread| spread.beyond(element, 0.0));
            let [from, to] = &element.ends;
            all[i] = own + after.about(to, from);
        }
        all
    }

    /// How the end moves against the start, that held, by loads between both.
    pub(super) fn driven(&self, loads: &SpanLoads) -> Vector6<f64> {
        let end = Wrench::default();
        let forces = SpanForces::new(self, loads, &end);
        let mut at = Twist::default();
        for i in 0..self.all.len() {
            at = forces.carried(i, 1.0, &at);
        }
        stack(&at.linear, &at.angular)
    }
}

/// The forces in a span.
pub(super) struct SpanForces<'a> {
    elements: &'a SpanElements,
    loads: &'a SpanLoads,
    /// From loads beyond each element's start.
    beyond: Vec<Wrench>,
    /// At the end of the span, on it.
    end: &'a Wrench,
}

impl<'a> SpanForces<'a> {
    pub(super) fn new(elements: &'a SpanElements, loads: &'a SpanLoads, end: &'a Wrench) -> Self {
        Self {
            beyond: elements.beyond(loads),
            elements,
            loads,
            end,
        }
    }

    /// What the rest of the span does to the part before a section, about the section's centre.
    pub(super) fn cut(&self, index: usize, part: f64) -> Wrench {
        let element = &self.elements.all[index];
        let at = element.point(part);
        let after = match self.loads.points.get(index + 1) {
            Some(point) => self.beyond[index + 1] + *point,
            None => self.beyond[index + 1],
        };
        let spread = self.loads.spread.get(index);
        let own = spread.map_or_else(Wrench::default, |spread| spread.beyond(element, part));
        own + after.about(&element.ends[1], &at) + self.end.about(&self.elements.end, &at)
    }

    /// How a part of an element moves that begins with a displacement and rotation.
    pub(super) fn carried(&self, index: usize, part: f64, start: &Twist) -> Twist {
        let element = &self.elements.all[index];
        let [bending, stretching] = element.compliances;
        let length = element.length * part;
        let at = element.point(part);
        let mut moved = Twist {
            linear: start.linear + start.angular.cross(&(at - element.ends[0])),
            angular: start.angular,
        };
        for (place, weight) in GAUSS {
            let here = place * part;
            let cut = self.cut(index, here);
            let turn = bending * cut.moment * (weight * length);
            moved.angular += turn;
            moved.linear += turn.cross(&(at - element.point(here)));
            moved.linear += stretching * cut.force * (weight * length);
        }
        moved
    }
}

/// How the end of a span moves against its start, from the motions of its two nodes: displacement and rotation of each.
pub(super) fn relative(span: &BarSpan, ends: [Point3<f64>; 2]) -> SMatrix<f64, 6, 12> {
    let [start, end] = span.grips;
    let identity = Matrix3::identity();
    // The start's node carries the end as if the span were rigid.
    let reach = (ends[1] - ends[0] + start.arm).cross_matrix();
    let mut matrix = SMatrix::<f64, 6, 12>::zeros();
    matrix.fixed_view_mut::<3, 3>(0, 0).copy_from(&-identity);
    matrix.fixed_view_mut::<3, 3>(0, 3).copy_from(&reach);
    matrix.fixed_view_mut::<3, 3>(0, 6).copy_from(&identity);
    matrix
        .fixed_view_mut::<3, 3>(0, 9)
        .copy_from(&-end.arm.cross_matrix());
    matrix.fixed_view_mut::<3, 3>(3, 3).copy_from(&-identity);
    matrix.fixed_view_mut::<3, 3>(3, 9).copy_from(&identity);
    matrix
}
