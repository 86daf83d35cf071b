//! Where the ground is that links can be fastened to.

use super::Place;

/// A flat piece of wall, floor or ceiling that a repair may fasten links to; it holds nothing by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// In space at least three corners in one plane, in order around the edge; in the plane both ends.
    pub corners: Vec<Place>,
}
