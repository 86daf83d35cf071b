//! Supports as textbooks draw them: small solids in space, flat symbols in the plane.
//!
//! Their size is that of the paper, not of the scene, so that they read the same in every figure.

mod plane;
mod space;

pub(super) use plane::draw as draw_in_plane;
pub(super) use space::{Hardware, hardware};
