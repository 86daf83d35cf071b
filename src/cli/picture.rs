//! `sixhold picture`: the 3D view as an image file.

use super::Outcome;
use super::args::Picture;
use super::output::Failure;

/// Writes the picture.
pub fn run(_args: &Picture) -> Result<Outcome, Failure> {
    Err(Failure::new(
        "this sixhold was built without its viewer and cannot draw",
        "build it with its default features",
    ))
}
