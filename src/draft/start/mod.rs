//! Scenes to begin with: a body of one shape, held by six reactions, under one load.

use crate::scene::{Scene, read_str};

/// What a new scene is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum NewScene {
    /// A straight bar on a universal joint and two links, to be bent.
    Bar,
    /// A plate on a ball joint and three links.
    Plate,
    /// An angle bracket built into a wall.
    Bracket,
    /// A block on a socket, a grooved rail and a flat pad.
    Block,
}

impl NewScene {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Bar, Self::Plate, Self::Bracket, Self::Block];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Bar => "bar",
            Self::Plate => "plate",
            Self::Bracket => "bracket",
            Self::Block => "block",
        }
    }

    /// The text of the scene; without comments, which would soon be wrong of what is made from it.
    pub fn text(self) -> &'static str {
        match self {
            Self::Bar => include_str!("bar.ron"),
            Self::Plate => include_str!("plate.ron"),
            Self::Bracket => include_str!("bracket.ron"),
            Self::Block => include_str!("block.ron"),
        }
    }

    /// The scene.
    pub fn scene(self) -> Scene {
        let loaded = read_str(self.word(), self.text());
        loaded.expect("a test reads all of them").scene
    }
}
