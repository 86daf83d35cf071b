//! The 3D window and off-screen pictures: the only home of bevy and egui.
//!
//! The scene is kept in its own axes (z up in space, y up in the plane) under one rotated root; bevy stays y-up.
//! Plugins share the few resources of `state`: what is shown, how it plays, how it looks.

pub mod framing;
pub mod offscreen;
pub mod stage;
pub mod state;
