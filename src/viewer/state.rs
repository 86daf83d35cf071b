//! The resources that the viewer's plugins share.

use bevy::prelude::*;

pub use super::shown::{DirectedMotion, Pointed, Shown};
pub use crate::study::Source;
use crate::theme::ThemeName;
use crate::wording::Phrase;

/// A problem with a file while the last good picture stays on the stage.
#[derive(Resource, Default)]
pub struct FileTrouble {
    /// The error as text, one problem a paragraph.
    pub message: Option<String>,
    /// Whether the file is the one shown: then the picture is out of date, which is told until the file is mended.
    pub lasts: bool,
}

/// How the free motion plays.
#[derive(Resource, Debug, Clone, PartialEq)]
pub struct Playback {
    /// Whether it moves by itself.
    pub playing: bool,
    /// Position in the swing: 0 is the body as written, ±1 are its ends; read by everything that moves.
    pub position: f32,
    /// Swing to each side as a fraction of the motion's default swing, > 0.
    pub amplitude: f32,
    /// Swings per default swing time, > 0.
    pub speed: f32,
}

/// How solid things take light.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Shading {
    /// Baked into their colours, which a processor can draw.
    #[default]
    Plain,
    /// By lit materials, with soft shadows and ambient occlusion, for graphics cards.
    Lit,
}

impl Shading {
    /// What the adapter found can draw fast enough.
    pub(crate) fn usual(software: bool) -> Self {
        match software {
            true => Self::Plain,
            false => Self::Lit,
        }
    }

    /// Facets around what is round in hardware: no corner of its outline is to be seen.
    pub(crate) fn facets(self) -> usize {
        match self {
            Self::Plain => 24,
            Self::Lit => 96,
        }
    }
}

/// What is drawn and in which colours.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Theme.
    pub theme: ThemeName,
    /// Drawn on the processor: no multisampling.
    pub software: bool,
    /// How solid things take light.
    pub shading: Shading,
    /// The hardware of supports and their names.
    pub supports: bool,
    /// Reactions and their names.
    pub reactions: bool,
    /// The values of reactions beside their names, where equilibrium determines them.
    pub values: bool,
    /// Loads and their values.
    pub loads: bool,
    /// Shared axis, beads, motion ribbon and ghosts.
    pub motion: bool,
    /// The glow on the floor under the scene.
    pub floor: bool,
    /// Calm the animation: no camera flights, motion paused until asked for.
    pub reduced_motion: bool,
}

/// A name or value to be written in the picture, beside a point of the scene.
///
/// The stage spawns these; the labels plugin projects, spaces and draws them.
#[derive(Component, Debug, Clone, PartialEq)]
pub struct Label {
    /// What it says.
    pub text: Phrase,
    /// Point in the scene's axes, m, of the body as written.
    pub at: nalgebra::Point3<f64>,
    /// Whether the point moves with the body.
    pub moves: bool,
    /// What it names, for its colour and its rank when room is short.
    pub role: LabelRole,
}

/// What a label names, most important first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LabelRole {
    /// The shared axis, or an object that is pointed out.
    Axis,
    /// A reaction that is pointed out, with its number.
    Group,
    /// A link to add.
    Trial,
    /// A support.
    Support,
    /// A load's value.
    Load,
    /// A reaction.
    Reaction,
    /// The free motion.
    Motion,
    /// A named point.
    Point,
}

/// Order of the viewer's systems in `Update`.
#[derive(SystemSet, Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ViewerSystems {
    /// Input becomes changes of the shared resources.
    Input,
    /// `Playback::position` advances.
    Play,
    /// Entities follow the shared resources: meshes rebuilt, the body posed, labels spawned.
    Stage,
}

/// Order of what is drawn by egui.
#[derive(SystemSet, Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum PanelSystems {
    /// Panels are drawn and leave the free area; labels follow.
    Panels,
    /// Names and values are drawn; marks at what can be dragged come over them.
    Labels,
}

impl Look {
    /// Everything drawn, in the colours of a theme.
    pub fn new(theme: ThemeName) -> Self {
        Self {
            theme,
            software: false,
            shading: Shading::Plain,
            supports: true,
            reactions: true,
            values: false,
            loads: true,
            motion: true,
            floor: true,
            reduced_motion: false,
        }
    }
}
