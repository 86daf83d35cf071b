//! Sixhold answers one question for a rigid body on supports: is it held, and if not, how does it move?

#[cfg(feature = "cli")]
pub mod cli;
#[cfg(feature = "paper")]
pub mod document;
#[cfg(feature = "paper")]
pub mod figure;
pub mod files;
pub mod motion;
#[cfg(feature = "paper")]
pub mod page;
#[cfg(feature = "paper")]
pub mod practice;
pub mod printable;
#[cfg(feature = "paper")]
pub mod report;
pub mod scene;
pub mod statics;
#[cfg(test)]
mod testing;
#[cfg(feature = "paper")]
pub mod theme;
#[cfg(feature = "viewer")]
pub mod viewer;
pub mod words;
#[cfg(feature = "paper")]
pub mod working;
