//! Every integration test, in one binary: each further one would link bevy again.

mod arbitrary_scenes;
mod architecture;
mod browser;
mod builtin_scenes;
mod combinations;
mod command_line;
mod command_values;
mod consistency;
mod depth;
mod escapes;
mod expected_motions;
mod figure;
#[cfg(feature = "films")]
mod films;
mod finite_motion;
mod four_bars;
mod golden;
mod help;
mod invariance;
mod limits;
mod links;
mod lists;
mod mending;
mod one_sided_motion;
mod pages;
#[cfg(feature = "viewer")]
mod picture;
mod practice;
mod published;
mod readme;
mod scene_errors;
mod scene_files;
mod schemas;
mod terminal;
mod warnings;
#[cfg(feature = "viewer")]
mod window;
mod working;
mod written_files;
