//! The 3D window and off-screen pictures: the only home of bevy and egui.
//!
//! The scene is kept in its own axes (z up in space, y up in the plane) under one rotated root; bevy stays y-up.
//! Plugins share the few resources of `state`: what is shown, how it plays, how it looks.

#[cfg(feature = "viewer")]
mod adapter;
pub mod app;
mod camera;
mod caption;
#[cfg(feature = "viewer")]
mod desktop;
#[cfg(feature = "viewer")]
mod display;
mod file_watch;
mod fonts;
pub mod framing;
mod full_screen;
mod handouts;
#[cfg(not(feature = "viewer"))]
pub mod in_page;
mod intent;
mod keys;
mod labels;
mod lecture;
mod ledger;
mod library;
mod making;
mod notice;
#[cfg(feature = "viewer")]
pub mod offscreen;
mod orbit;
mod panels;
mod platform;
mod playback;
mod pointer;
mod practising;
mod previews;
mod recent;
mod redraw;
mod rich_text;
mod scene_drawer;
mod scene_list;
pub mod shown;
mod small_picture;
pub mod stage;
pub mod state;
mod study;
mod style;
mod sums;
mod trial;
mod unveiling;

#[cfg(feature = "viewer")]
pub use desktop::{ViewerError, ViewerSettings, run};
