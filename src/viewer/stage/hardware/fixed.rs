//! Built in: block cast into hatched ground.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// The body ends in a block that is sunk into the ground.
pub(super) fn cast_in(bench: &mut Bench) {
    bench
        .iron()
        .block(Vec3::NEG_Z * 0.45, Vec3::new(1.75, 1.75, 0.85));
    foot(bench, 0.0, -1.0, Vec2::splat(2.7));
}
