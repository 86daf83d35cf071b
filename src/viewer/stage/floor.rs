//! The floor under a spatial scene: a disc that fades into the background, so that height and shadow can be read.

use std::f32::consts::TAU;

use bevy::prelude::*;

use super::mesh_builder::MeshBuilder;
use super::paint::{Paint, between};

/// Facets around the disc.
const AROUND: usize = 72;

/// A disc at a height, of that radius, from one colour to another at its rim.
pub(crate) fn draw(
    draft: &mut MeshBuilder,
    height: f32,
    radius: f32,
    [middle, rim]: [LinearRgba; 2],
) {
    let rings = [(0.0, 1.0), (0.62, 1.0), (1.0, 0.0)];
    let mut previous: Option<u32> = None;
    for (part, strength) in rings {
        let colour = between(rim, middle, strength);
        draft.paint(Paint::flat(colour));
        let corners: Vec<u32> = (0..=AROUND)
            .map(|step| {
                let (sin, cos) = (TAU * step as f32 / AROUND as f32).sin_cos();
                let at = Vec3::new(cos, sin, 0.0) * (radius * part) + Vec3::Z * height;
                draft.corner(at, Vec3::Z)
            })
            .collect();
        let first = corners[0];
        if let Some(inner) = previous {
            for step in 0..AROUND as u32 {
                draft.triangle([inner + step, first + step, first + step + 1]);
                draft.triangle([inner + step, first + step + 1, inner + step + 1]);
            }
        }
        previous = Some(first);
    }
}
