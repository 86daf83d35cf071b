//! The 3D window and off-screen pictures: the only home of bevy and egui.
//!
//! The scene is kept in its own axes (z up in space, y up in the plane) under one rotated root; bevy stays y-up.
//! Plugins share the few resources of `state`: what is shown, how it plays, how it looks.

mod adapter;
pub mod app;
mod camera;
mod caption;
mod display;
mod fonts;
pub mod framing;
mod handouts;
mod intent;
mod keys;
mod labels;
mod lectern;
mod ledger;
mod library;
mod making;
mod notice;
pub mod offscreen;
mod orbit;
mod panels;
mod playback;
mod pointer;
mod practising;
mod previews;
mod recent;
mod redraw;
mod rich;
mod scene_list;
mod scenes;
pub mod shown;
mod skin;
mod small_picture;
pub mod stage;
pub mod state;
mod study;
mod sums;
mod trial;
mod unveiling;
mod watch;

pub use app::{ViewerError, ViewerSettings, run};
