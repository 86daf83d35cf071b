//! Supports that only the plane has: pin, rocker, pin in a slot.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// Pin through a triangular bracket; the pin runs along x, out of the plane.
pub(super) fn pin(bench: &mut Bench) {
    let outline = [
        Vec2::new(-1.7, -2.2),
        Vec2::new(1.7, -2.2),
        Vec2::new(0.75, 0.2),
        Vec2::new(0.0, 0.85),
        Vec2::new(-0.75, 0.2),
    ];
    bench
        .part()
        .sleeve(Vec3::X * -0.5, Vec3::X * 0.5, 0.4, 0.85);
    let iron = bench.iron();
    for side in [0.55, -0.9] {
        iron.prism(Vec3::X * side, [Vec3::Y, Vec3::Z], &outline, Vec3::X * 0.35);
    }
    bench.part().rod(Vec3::X * -1.1, Vec3::X * 1.1, 0.42);
    foot(bench, 0.0, -2.1, Vec2::new(1.1, 2.3));
}

/// Segment of the body that rolls on its round underside; y points out of the plane.
pub(super) fn rocker(bench: &mut Bench) {
    const RADIUS: f32 = 2.3;
    let mut outline = vec![Vec2::ZERO];
    outline.extend((0..=16).map(|i| {
        // From the left over the lowest point to the right, seen from −y.
        let angle = (-130.0 + 80.0 * i as f32 / 16.0).to_radians();
        Vec2::from_angle(angle) * RADIUS
    }));
    bench.part().prism(
        Vec3::Y * 0.7,
        [Vec3::X, Vec3::Z],
        &outline,
        Vec3::NEG_Y * 1.4,
    );
    bench.part().rod(Vec3::Y * -0.8, Vec3::Y * 0.8, 0.5);
    let iron = bench.iron();
    iron.block(Vec3::NEG_Z * (RADIUS + 0.12), Vec3::new(2.2, 1.3, 0.12));
    foot(bench, 0.0, -RADIUS - 0.2, Vec2::new(2.4, 1.4));
}

/// Pin of the body in a slot of the ground that runs along x.
pub(super) fn slot(bench: &mut Bench) {
    const REACH: f32 = 2.7;
    bench.part().rod(Vec3::Y * -0.9, Vec3::Y * 0.9, 0.56);
    let iron = bench.iron();
    for side in [-1.0, 1.0] {
        iron.block(Vec3::Z * side * 0.85, Vec3::new(REACH, 0.55, 0.27));
        iron.block(Vec3::X * side * REACH, Vec3::new(0.27, 0.55, 1.12));
    }
    foot(bench, 0.0, -1.05, Vec2::new(REACH + 0.3, 0.9));
}
