//! Shaft in a ring: with collars when it takes thrust, with a square hole when it stops the turn.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// Half the width of the housing along the shaft.
const HALF: f32 = 0.62;

/// Round housing; the stub inside stands for the shaft where the body has none.
pub(super) fn ring(bench: &mut Bench, thrust: bool) {
    let (left, right) = (Vec3::X * -HALF, Vec3::X * HALF);
    bench.iron().sleeve(left, right, 0.98, 1.6);
    pedestal(bench);
    let part = bench.part();
    part.rod(left * 1.5, right * 1.5, 0.88);
    if thrust {
        for side in [left, right] {
            part.rod(side * 1.12, side * 1.65, 1.42);
        }
    }
}

/// Square housing around a square shaft.
pub(super) fn square(bench: &mut Bench) {
    const HOLE: f32 = 0.98;
    const WALL: f32 = 0.3;
    bench
        .part()
        .block(Vec3::ZERO, Vec3::new(2.1 * HALF, 0.9, 0.9));
    let iron = bench.iron();
    let outer = HOLE + WALL;
    for side in [-1.0, 1.0] {
        iron.block(Vec3::Z * side * outer, Vec3::new(HALF, outer + WALL, WALL));
        iron.block(Vec3::Y * side * outer, Vec3::new(HALF, WALL, HOLE));
    }
    pedestal(bench);
}

fn pedestal(bench: &mut Bench) {
    let iron = bench.iron();
    iron.block(Vec3::NEG_Z * 1.8, Vec3::new(HALF * 0.9, 0.9, 0.45));
    foot(bench, 0.0, -2.2, Vec2::new(1.3, 1.8));
}
