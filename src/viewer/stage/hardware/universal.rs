//! Cross of a universal joint between two forks.

use bevy::prelude::*;

use super::{Bench, foot::foot};

/// The shaft runs along z: the lower fork stands on the ground, the upper one moves with the body.
pub(super) fn cross(bench: &mut Bench) {
    const ARM: f32 = 1.05;
    let fork = |draft: &mut crate::viewer::stage::draft::Draft, across: Vec3, side: f32| {
        let half = across * 0.2 + (Vec3::ONE - across - Vec3::Z) * 0.42;
        for end in [-1.0, 1.0] {
            let arm = across * end * ARM + Vec3::Z * side * 0.5;
            draft.block(arm, half + Vec3::Z * 0.95);
        }
        draft.block(
            Vec3::Z * side * 1.45,
            across * (ARM + 0.2) + (Vec3::ONE - across - Vec3::Z) * 0.42 + Vec3::Z * 0.2,
        );
        draft.rod(across * -(ARM + 0.35), across * (ARM + 0.35), 0.3);
    };
    fork(bench.iron(), Vec3::X, -1.0);
    fork(bench.part(), Vec3::Y, 1.0);
    bench.part().rod(Vec3::Z * 1.6, Vec3::Z * 2.4, 0.5);
    bench.iron().rod(Vec3::NEG_Z * 1.6, Vec3::NEG_Z * 2.4, 0.55);
    foot(bench, 0.0, -2.3, Vec2::splat(1.6));
}
