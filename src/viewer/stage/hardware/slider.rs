//! Sleeves and collars on a rod between two posts.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// Half the free length of the rod.
const REACH: f32 = 3.2;

/// Round sleeve of the body on a round rod.
pub(super) fn sleeve_on_rod(bench: &mut Bench) {
    rod(bench, 0.45);
    bench
        .part()
        .sleeve(Vec3::X * -1.1, Vec3::X * 1.1, 0.48, 1.0);
}

/// Square collar fixed to the body, on a rod of the plane.
pub(super) fn collar_on_rod(bench: &mut Bench) {
    rod(bench, 0.4);
    bench.part().block(Vec3::ZERO, Vec3::new(1.2, 0.8, 0.85));
}

fn rod(bench: &mut Bench, radius: f32) {
    let iron = bench.iron();
    iron.rod(Vec3::X * -REACH, Vec3::X * REACH, radius);
    for side in [-1.0, 1.0] {
        let end = Vec3::X * side * REACH;
        iron.block(end + Vec3::NEG_Z * 0.75, Vec3::new(0.3, 0.6, 1.35));
    }
    for side in [-1.0, 1.0] {
        foot(bench, side * REACH, -2.1, Vec2::new(0.9, 1.0));
    }
}
