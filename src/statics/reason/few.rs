//! One or two independent reactions, told by their own lines rather than by the many motions they leave.

use super::{LineCoordinates, LineFrame, Reason};
use crate::statics::lines::{LineSystem, line_system};

pub(super) fn one_reaction(span: &[LineCoordinates], frame: &LineFrame) -> Reason {
    match line_system(span, frame) {
        // A single column is a line; what pitch it has is rounding.
        LineSystem::Line(line) | LineSystem::Screw(line, _) => Reason::OneLine(line),
        LineSystem::Direction(direction) => Reason::OneCouple(direction),
        _ => Reason::SeveralMotions,
    }
}

pub(super) fn two_reactions(span: &[LineCoordinates], frame: &LineFrame) -> Reason {
    match line_system(span, frame) {
        LineSystem::Pencil(pencil) => Reason::OnePencil(pencil),
        LineSystem::TwoLines(first, second) => Reason::TwoLines(first, second),
        LineSystem::LineAndDirection(line, couple) => Reason::ForceAndCouple(line, couple),
        // Two lines closer together than can be told from one.
        LineSystem::DoubleLine(line) => Reason::TwoLines(line, line),
        _ => Reason::SeveralMotions,
    }
}
