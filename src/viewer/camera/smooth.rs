//! Smooth edges of what is drawn on the processor.

use bevy::prelude::*;

use super::WindowCamera;
use crate::viewer::redraw::FramesToDraw;
use crate::viewer::state::{Look, Shading};

/// Drawn on the processor, edges are smoothed in the last frame before a rest, where it costs nothing that moves.
pub(super) fn smooth_at_rest(
    left: Res<FramesToDraw>,
    look: Res<Look>,
    cameras: Query<&mut Msaa, With<WindowCamera>>,
) {
    if look.shading == Shading::Lit {
        // Smoothed otherwise: ambient occlusion and samples exclude each other.
        return;
    }
    let smooth = !look.software || left.are_over();
    for mut msaa in cameras {
        msaa.set_if_neq(match smooth {
            true => Msaa::Sample4,
            false => Msaa::Off,
        });
    }
}
