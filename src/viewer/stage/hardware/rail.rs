//! Wheel on a rail.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// Wheel with two flanges, so that it holds the rail both ways across.
pub(super) fn wheel(bench: &mut Bench) {
    const REACH: f32 = 3.4;
    let part = bench.part();
    part.rod(Vec3::Y * -0.34, Vec3::Y * 0.34, 1.0);
    for side in [-1.0, 1.0] {
        let flange = Vec3::Y * side;
        part.rod(flange * 0.34, flange * 0.52, 1.34);
    }
    part.rod(Vec3::Y * -0.85, Vec3::Y * 0.85, 0.32);
    let iron = bench.iron();
    iron.block(Vec3::NEG_Z * 1.22, Vec3::new(REACH, 0.3, 0.2));
    iron.block(Vec3::NEG_Z * 1.6, Vec3::new(REACH, 0.16, 0.2));
    foot(bench, 0.0, -1.75, Vec2::new(REACH, 0.9));
}
