//! One freedom: a line that all meet, a direction that all are square to, or a screw.

use super::{LineCoordinates, LineFrame, Reason};
use crate::statics::lines::{LineSystem, line_system};

pub(super) fn reason(free: &[LineCoordinates], frame: &LineFrame) -> Reason {
    match line_system(free, frame) {
        LineSystem::Line(line) => Reason::MeetLine(line),
        LineSystem::Direction(direction) => Reason::SquareTo(direction),
        LineSystem::Screw(axis, pitch) => Reason::LinearComplex(axis, pitch),
        _ => Reason::SeveralMotions,
    }
}

/// In the plane a free turn stands square to it at the point that all forces pass through.
pub(super) fn planar(free: &[LineCoordinates], frame: &LineFrame) -> Reason {
    match reason(free, frame) {
        // The pitch of a planar turn is rounding.
        Reason::LinearComplex(line, _) => Reason::MeetLine(line),
        other => other,
    }
}
