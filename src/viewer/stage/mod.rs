//! Everything three-dimensional: the body, the supports' hardware, strokes for what cannot be seen, and its movement.
//!
//! Drawn once in stage coordinates when [`Shown`](super::state::Shown) or [`Look`](super::state::Look) change; after that only
//! transforms follow [`Playback`](super::state::Playback).

mod crossing;

pub use crossing::{BodyPose, StageFrame};
