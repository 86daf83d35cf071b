//! The line about which a body turns, and where reactions meet it.

use nalgebra::Point3;

use crate::statics::{FreeMotion, Line, Meeting, Model, MotionKind, SharedAxis};

/// The axis of a rotation or screw. It moves with the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnAxis {
    /// The line.
    pub line: Line,
    /// From where to where body and supports reach along it, m from its point.
    pub span: [f64; 2],
    /// Where reactions meet it, each place once.
    pub beads: Vec<Bead>,
}

/// A place at which reactions meet the axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Bead {
    /// The place, m.
    pub at: Point3<f64>,
    /// Where those reactions act, m.
    pub from: Vec<Point3<f64>>,
}

/// Places closer than this, relative to the characteristic length, are one.
const SAME: f64 = 1e-9;

impl DrawnAxis {
    /// The axis of a motion, with what meets it where it is shared; `None` for a translation. `body` are points of the body.
    pub fn of_motion<'a>(
        model: &'a Model,
        motion: &FreeMotion,
        shared: Option<&SharedAxis>,
        body: impl Iterator<Item = &'a Point3<f64>>,
    ) -> Option<Self> {
        if motion.kind == MotionKind::Translation {
            return None;
        }
        let line = Line {
            point: motion.point,
            direction: motion.direction,
        };
        let meetings = shared.map_or(&[][..], |shared| &shared.meetings);
        let beads = beads(model, meetings);
        Some(Self::along(line, model, beads, body))
    }

    /// A shared axis.
    pub fn shared<'a>(
        model: &'a Model,
        axis: &SharedAxis,
        body: impl Iterator<Item = &'a Point3<f64>>,
    ) -> Self {
        let line = Line {
            point: axis.point,
            direction: axis.direction,
        };
        Self::along(line, model, beads(model, &axis.meetings), body)
    }

    fn along<'a>(
        line: Line,
        model: &'a Model,
        beads: Vec<Bead>,
        body: impl Iterator<Item = &'a Point3<f64>>,
    ) -> Self {
        let supports = model.supports.iter().map(|support| &support.point);
        let along = |point: &Point3<f64>| (point - line.point).dot(&line.direction);
        let places = body.chain(supports).map(along);
        let span = places.fold([0.0_f64, 0.0_f64], |[low, high], t| {
            [low.min(t), high.max(t)]
        });
        Self { line, span, beads }
    }

    /// The point of the axis at a distance, m, from that of its line.
    pub fn at(&self, distance: f64) -> Point3<f64> {
        self.line.point + self.line.direction.into_inner() * distance
    }

    /// Ends of the axis this far beyond body and supports, m.
    pub fn ends(&self, beyond: f64) -> [Point3<f64>; 2] {
        let [low, high] = self.span;
        [self.at(low - beyond), self.at(high + beyond)]
    }
}

fn beads(model: &Model, meetings: &[Meeting]) -> Vec<Bead> {
    let near = SAME * model.length;
    let mut beads: Vec<Bead> = Vec::new();
    for (reaction, meeting) in model.reactions.iter().zip(meetings) {
        let Meeting::At(at) = meeting else { continue };
        let known = beads.iter_mut().find(|bead| (bead.at - at).norm() <= near);
        match known {
            Some(bead) => bead.from.push(reaction.point),
            None => beads.push(Bead {
                at: *at,
                from: vec![reaction.point],
            }),
        }
    }
    beads
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;

    /// The handrail turns about the line through its two ball joints, which is where their six reactions meet it.
    #[test]
    fn beads_lie_on_the_axis_where_reactions_meet_it() {
        let study = Study::open("handrail").unwrap();
        let (model, shared) = (study.model(), &study.diagnosis().shared_axes[0]);
        let motion = &study.diagnosis().free_motions[shared.motion];
        let axis = DrawnAxis::of_motion(model, motion, Some(shared), std::iter::empty()).unwrap();
        assert!(!axis.beads.is_empty());
        for bead in &axis.beads {
            let off = (bead.at - axis.line.point).cross(&axis.line.direction);
            assert!(off.norm() < 1e-9 * model.length);
        }
        let met: usize = axis.beads.iter().map(|bead| bead.from.len()).sum();
        let at = shared.meetings.iter();
        let at = at.filter(|meeting| matches!(meeting, Meeting::At(_)));
        assert_eq!(met, at.count());
    }
}
