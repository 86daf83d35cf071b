//! Hatched ground, as every drawing of a support ends.

use bevy::prelude::*;

use super::Bench;
use crate::viewer::stage::paint::{Paint, between};

/// Thickness of the ground.
pub(super) const THICK: f32 = 0.6;

/// A slab of ground with its top at height `top` about (`x`, 0), with slanting strokes on its four sides.
pub(super) fn foot(bench: &mut Bench, x: f32, top: f32, half: Vec2) {
    let palette = bench.palette;
    let centre = Vec3::new(x, 0.0, top - THICK / 2.0);
    let draft = bench.ground.paint(Paint::solid(palette.ground));
    draft.block(centre, half.extend(THICK / 2.0));
    let stroke = between(palette.ground, palette.background, 0.75);
    let draft = bench.ground.paint(Paint::solid(stroke));
    for (way, out, length, depth) in [
        (Vec3::X, Vec3::Y, half.x, half.y),
        (Vec3::Y, Vec3::X, half.y, half.x),
    ] {
        hatch(draft, centre, way, out, length, depth);
    }
}

/// Slanting strokes on the two sides that face along `out`.
fn hatch(
    draft: &mut crate::viewer::stage::draft::Draft,
    centre: Vec3,
    way: Vec3,
    out: Vec3,
    length: f32,
    depth: f32,
) {
    const PITCH: f32 = 0.42;
    const WIDTH: f32 = 0.15;
    const LIFT: f32 = 0.02;
    let half = THICK / 2.0;
    let count = ((2.0 * length - THICK * 0.8) / PITCH).floor().max(1.0) as usize;
    let start = -(count as f32 - 1.0) / 2.0 * PITCH;
    for i in 0..count {
        let middle = start + i as f32 * PITCH;
        let corner = |along: f32, height: f32| Vec2::new(middle + along, height);
        let outline = [
            corner(-half * 0.8 - WIDTH / 2.0, -half * 0.98),
            corner(-half * 0.8 + WIDTH / 2.0, -half * 0.98),
            corner(half * 0.8 + WIDTH / 2.0, half * 0.8),
            corner(half * 0.8 - WIDTH / 2.0, half * 0.8),
        ];
        for side in [-1.0, 1.0] {
            let face: Vec<Vec3> = outline
                .iter()
                .map(|p| centre + way * p.x + Vec3::Z * p.y + out * side * (depth + LIFT))
                .collect();
            // Counter-clockwise seen from outside.
            let outwards = (face[1] - face[0]).cross(face[2] - face[0]).dot(out * side) > 0.0;
            if outwards {
                draft.polygon(&face);
            } else {
                draft.polygon(&face.into_iter().rev().collect::<Vec<_>>());
            }
        }
    }
}
