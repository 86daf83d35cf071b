//! Every integration test, in one binary: each further one would link bevy again.

mod analysis;
mod arbitrary_scenes;
mod architecture;
mod browser;
mod builtin_scenes;
mod combinations;
mod command_line;
mod command_values;
mod consistency;
#[cfg(feature = "viewer")]
mod desk;
mod drafts;
mod escapes;
mod exchange;
mod exercises;
mod expected_motions;
mod figure;
#[cfg(feature = "films")]
mod films;
mod finite_motion;
mod foreign_letters;
mod four_bars;
#[cfg(feature = "viewer")]
mod from_nothing;
mod golden;
mod help;
mod invariance;
mod limits;
mod links;
mod lists;
mod mending;
#[cfg(feature = "viewer")]
mod monkey;
mod one_sided_motion;
mod pages;
#[cfg(feature = "viewer")]
mod picture;
mod platforms;
mod published;
mod readme;
mod reports;
mod scene_errors;
mod scene_files;
mod schemas;
mod solution;
mod sweeps;
mod terminal;
mod warnings;
#[cfg(feature = "viewer")]
mod window;
mod written_files;
