//! Printed matter: drawings of strokes, fills and real text in points, and their writers.
//!
//! Knows nothing of bodies and supports. Points are 1/72 inch, from the upper left corner, y down. Text is set in the
//! embedded IBM Plex Sans, and letters that it lacks in a font of the machine; SVG and PDF carry it as text, with the part of
//! the font that they use, PNG as outlines.

#[cfg(feature = "films")]
mod film;
pub mod font;
mod items;
mod movie;
mod pdf;
mod raster;
mod structure;
mod subset;
mod svg;
mod trace;
mod typeset;

#[cfg(feature = "films")]
pub use film::mp4;
pub use font::{Weight, can_be_drawn};
pub use items::{
    Drawing, Item, PathOutline, PathShape, PathStep, Polyline, Run, Script, Stroke, Text,
    reach_above, reach_below, width,
};
pub use movie::{MovieError, apng, gif};
pub use pdf::{pdf, tagged_pdf};
pub use raster::{Pixels, RasterError, pixels, png};
pub use structure::{Content, Element, ElementRole, Items};
pub use svg::{Fonts, escaped, font_faces, font_faces_with, svg};

/// Points in a millimetre.
pub const POINTS_PER_MM: f64 = 72.0 / 25.4;
