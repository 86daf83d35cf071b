//! The fonts of every output: the embedded one, and the machine's own for letters that it lacks.

mod embedded;
#[cfg(test)]
mod relabelled;
mod system;

pub use embedded::{FAMILY, Weight};
pub(crate) use system::{ShapedGlyph, SystemFace, of_machine};
#[cfg(test)]
pub(crate) use {relabelled::relabelled, system::SystemFonts};
