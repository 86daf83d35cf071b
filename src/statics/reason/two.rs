//! Two freedoms: the linear line congruences, with every case of an axis at infinity.

use super::{LineCoordinates, LineFrame, Pencil, Reason};
use crate::statics::freedom::NEGLIGIBLE;
use crate::statics::lines::{LineSystem, line_system};

pub(super) fn reason(free: &[LineCoordinates], frame: &LineFrame) -> Reason {
    match line_system(free, frame) {
        LineSystem::TwoLines(first, second) => Reason::MeetTwoLines(first, second),
        LineSystem::LineAndDirection(line, direction) => {
            if line.direction.cross(&direction).norm() <= NEGLIGIBLE {
                Reason::CommonNormal(line)
            } else {
                Reason::MeetLineSquareTo(line, direction)
            }
        }
        LineSystem::Pencil(Pencil::Through(plane)) => Reason::PointOrPlane(plane),
        LineSystem::Pencil(Pencil::Along(direction, plane)) => {
            Reason::AlongOrInPlane(direction, plane)
        }
        LineSystem::Pencil(Pencil::SquareTo(along)) => Reason::ParallelWithCouples(along),
        LineSystem::DoubleLine(line) => Reason::Touching(line),
        LineSystem::DoubleDirection(direction) => Reason::TouchingAtInfinity(direction),
        LineSystem::None => Reason::OnlyScrews,
        _ => Reason::SeveralMotions,
    }
}
