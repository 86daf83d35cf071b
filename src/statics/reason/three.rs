//! Three freedoms: star, plane, parallels, couples, and the two kinds of regulus.

use super::{LineCoordinates, LineFrame, Reason, Regulus, TwoPencils};
use crate::statics::lines::{LineSystem, Quadric, line_system};

pub(super) fn reason(
    span: &[LineCoordinates],
    free: &[LineCoordinates],
    frame: &LineFrame,
) -> Reason {
    match (line_system(free, frame), line_system(span, frame)) {
        (LineSystem::Star(point), _) => Reason::ThroughPoint(point),
        (LineSystem::Field(plane), _) => Reason::InPlane(plane),
        (LineSystem::Parallels(direction), _) => Reason::Parallel(direction),
        (LineSystem::Directions, _) => Reason::OnlyCouples,
        (LineSystem::Regulus(axes), LineSystem::Regulus(carriers)) => {
            let basis: Option<[LineCoordinates; 3]> = free.try_into().ok();
            Reason::Regulus(Box::new(Regulus {
                quadric: basis.and_then(|basis| Quadric::of(&basis, frame)),
                carriers,
                axes,
            }))
        }
        (LineSystem::TwoPencils(a, b), LineSystem::TwoPencils(c, d)) => {
            Reason::TwoPencils(Box::new(TwoPencils {
                carriers: [c, d],
                axes: [a, b],
            }))
        }
        _ => Reason::SeveralMotions,
    }
}
