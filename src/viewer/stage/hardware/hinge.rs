//! Hinge knuckles on a pin, and a pin through a clevis.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// Outer knuckles on the ground, the middle one on the body. `held` along the pin: it has heads and no play.
pub(super) fn hinge(bench: &mut Bench, held: bool) {
    let inner = if held { 0.62 } else { 1.15 };
    let outer = inner + 1.0;
    let knuckle = 0.78;
    bench.part().rod(Vec3::X * -0.56, Vec3::X * 0.56, knuckle);
    let iron = bench.iron();
    for side in [-1.0, 1.0] {
        let middle = Vec3::X * side * (inner + outer) / 2.0;
        iron.rod(Vec3::X * side * inner, Vec3::X * side * outer, knuckle);
        iron.block(middle + Vec3::NEG_Z * 0.9, Vec3::new(0.5, 0.3, 0.9));
    }
    pin(bench, outer + 0.25, 0.34, held);
    foot(bench, 0.0, -1.75, Vec2::new(outer + 0.3, 1.1));
}

/// Two plates on the ground with the eye of the body between them.
pub(super) fn clevis(bench: &mut Bench) {
    bench
        .part()
        .sleeve(Vec3::X * -0.5, Vec3::X * 0.5, 0.34, 0.9);
    let iron = bench.iron();
    for side in [-1.0, 1.0] {
        let plate = Vec3::X * side * 0.82;
        iron.block(plate + Vec3::NEG_Z * 0.9, Vec3::new(0.2, 0.85, 0.9));
        iron.rod(plate - Vec3::X * 0.2, plate + Vec3::X * 0.2, 0.85);
    }
    pin(bench, 1.15, 0.34, true);
    foot(bench, 0.0, -1.75, Vec2::new(1.5, 1.4));
}

fn pin(bench: &mut Bench, half: f32, radius: f32, heads: bool) {
    let iron = bench.iron();
    iron.rod(Vec3::X * -half, Vec3::X * half, radius);
    if heads {
        for side in [-1.0, 1.0] {
            let head = Vec3::X * side * half;
            iron.rod(head - Vec3::X * 0.14, head + Vec3::X * 0.14, radius * 1.7);
        }
    }
}
