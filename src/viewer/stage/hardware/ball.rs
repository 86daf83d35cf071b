//! Ball in its socket.

use bevy::prelude::*;

use super::{Bench, foot::foot};
use crate::viewer::stage::draft::{AROUND, arc_profile};

/// Ball of the body, cup on a stem on the ground.
pub(super) fn ball_joint(bench: &mut Bench) {
    const OUTER: f32 = 1.5;
    const INNER: f32 = 1.16;
    const RIM: f32 = 96.0;
    bench.part().ball(Vec3::ZERO, 1.12);
    let iron = bench.iron();
    let outside = arc_profile(0.0, OUTER, [0.0, RIM]);
    let inside: Vec<_> = arc_profile(0.0, INNER, [0.0, RIM])
        .into_iter()
        .rev()
        .collect();
    let rim = [outside[outside.len() - 1], inside[0]];
    iron.revolve(Vec3::ZERO, Vec3::Z, &outside, AROUND, true);
    iron.revolve(Vec3::ZERO, Vec3::Z, &inside, AROUND, true);
    iron.revolve(Vec3::ZERO, Vec3::Z, &rim, AROUND, false);
    iron.rod(Vec3::NEG_Z * 1.3, Vec3::NEG_Z * 2.5, 0.6);
    foot(bench, 0.0, -2.3, Vec2::splat(1.7));
}
