//! Rods with two eyes for links, thin lines with eyes for cables, to their ground ends.

use bevy::prelude::*;

use super::{Bench, Seat, Site, foot::foot, square_to};
use crate::scene::Space;
use crate::statics::PlacedSupport;
use crate::viewer::stage::crossing::vector;
use crate::viewer::stage::draft::{Draft, frame};

/// Link or cable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// Pushes and pulls.
    Link,
    /// Pulls.
    Cable,
}

/// The straight part between the eyes, which follows its body end.
#[derive(Debug, Clone, Copy)]
pub struct Rod {
    /// Ground end, in stage coordinates.
    pub ground: Vec3,
    /// Body end of the body as written.
    pub eye: Vec3,
    /// Radius.
    pub radius: f32,
}

impl Rod {
    /// Draws the rod from the origin along z with length 1, for [`Rod::follow`] to place.
    pub fn draw(&self, draft: &mut Draft) {
        draft.rod(Vec3::ZERO, Vec3::Z, self.radius);
    }

    fn turn(&self, eye: Vec3) -> Quat {
        Quat::from_rotation_arc(Vec3::Z, (eye - self.ground).normalize_or(Vec3::Z))
    }

    /// Placement of the drawn rod when its body end is at `eye`.
    pub fn follow(&self, eye: Vec3) -> Transform {
        Transform {
            translation: self.ground,
            rotation: self.turn(eye),
            scale: Vec3::new(1.0, 1.0, self.ground.distance(eye)),
        }
    }
}

/// Both ends of a link or cable; the rod between them goes to `rods`.
pub(super) fn link(
    site: &Site,
    support: &PlacedSupport,
    seat: &Seat,
    bench: &mut Bench,
    rods: &mut Vec<Rod>,
    sort: Sort,
) {
    let Some(ground) = support.ground.map(|ground| site.frame.point(&ground)) else {
        return;
    };
    let (eye, radius) = match sort {
        Sort::Link => (0.75, 0.26),
        Sort::Cable => (0.5, 0.1),
    };
    let to_body = support
        .orientation
        .map_or(site.frame.up(), |unit| -vector(&unit));
    let pin = match site.model.space {
        Space::Planar => Vec3::Z,
        Space::Spatial => square_to(to_body, site.frame.front()),
    };
    // A short link must not drown in its own eyes.
    let size = seat.size.min(ground.distance(seat.point) / 3.5);
    let place = |at: Vec3| frame(at, pin, to_body.cross(pin), to_body, size);
    bench.within(place(seat.point));
    let moving = bench.loose_iron();
    moving.sleeve(Vec3::X * -0.36, Vec3::X * 0.36, eye * 0.45, eye);
    let part = bench.part();
    part.rod(Vec3::X * -0.7, Vec3::X * 0.7, eye * 0.42);
    bench.within(place(ground));
    let iron = bench.iron();
    iron.sleeve(Vec3::X * -0.36, Vec3::X * 0.36, eye * 0.45, eye);
    for side in [-1.0, 1.0] {
        let lug = Vec3::X * side * 0.58;
        iron.block(lug + Vec3::NEG_Z * 0.5, Vec3::new(0.16, eye * 0.85, 0.75));
    }
    iron.rod(Vec3::X * -0.85, Vec3::X * 0.85, eye * 0.42);
    foot(bench, 0.0, -1.15, Vec2::splat(1.25));
    rods.push(Rod {
        ground,
        eye: seat.point,
        radius: radius * size,
    });
}
