//! What stands on a surface: roller, smooth pad, rough pad. The held point is where the body is touched.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// Roller between body and surface: a ball in space, where it rolls both ways, a cylinder in the plane.
pub(super) fn roller(bench: &mut Bench, planar: bool) {
    const RADIUS: f32 = 1.0;
    let middle = Vec3::NEG_Z * (RADIUS + 0.12);
    bench
        .part()
        .block(Vec3::NEG_Z * 0.06, Vec3::new(1.1, 1.1, 0.1));
    let iron = bench.iron();
    if planar {
        iron.rod(middle - Vec3::Y * 0.9, middle + Vec3::Y * 0.9, RADIUS);
        iron.rod(middle - Vec3::Y * 1.0, middle + Vec3::Y * 1.0, 0.28);
    } else {
        iron.ball(middle, RADIUS);
    }
    plate(bench, -2.0 * RADIUS - 0.12);
}

/// Rounded tip of the body on a polished pad.
pub(super) fn smooth(bench: &mut Bench) {
    bench.part().ball(Vec3::Z * 0.75, 0.8);
    plate(bench, -0.05);
}

/// Square tip of the body on a pad full of points.
pub(super) fn rough(bench: &mut Bench) {
    const ROWS: i32 = 2;
    const PITCH: f32 = 0.6;
    bench.part().block(Vec3::Z * 0.3, Vec3::new(0.9, 0.9, 0.3));
    let iron = bench.iron();
    for x in -ROWS..=ROWS {
        for y in -ROWS..=ROWS {
            let base = Vec3::new(x as f32, y as f32, 0.0) * PITCH + Vec3::NEG_Z * 0.5;
            iron.cone(base, base + Vec3::Z * 0.5, 0.42, 4);
        }
    }
    plate(bench, -0.45);
}

fn plate(bench: &mut Bench, top: f32) {
    bench
        .iron()
        .block(Vec3::Z * (top - 0.12), Vec3::new(1.75, 1.75, 0.12));
    foot(bench, 0.0, top - 0.2, Vec2::splat(1.9));
}
