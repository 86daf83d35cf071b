//! Sixhold answers one question for a rigid body on supports: is it held, and if not, how does it move?

pub mod cli;
pub mod document;
pub mod figure;
pub mod files;
pub mod motion;
pub mod page;
pub mod practice;
pub mod printable;
pub mod report;
pub mod scene;
pub mod statics;
#[cfg(test)]
mod testing;
pub mod theme;
#[cfg(feature = "viewer")]
pub mod viewer;
pub mod words;
pub mod working;
