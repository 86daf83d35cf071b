//! Walls, each with its fields.

use super::super::Wall;
use super::Kinds;
use super::fields::{Kind, Spaces};

/// Every kind of wall: one.
pub(crate) const WALLS: Kinds<Wall> = Kinds {
    what: "wall",
    list: "walls",
    other_words: &[],
    all: &[Kind {
        name: "Wall",
        spaces: Spaces::Both,
        read: |fields| Wall {
            corners: fields.places("corners"),
        },
    }],
};
