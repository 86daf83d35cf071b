//! Theme colours as the renderer wants them, and the one light that shades solid things.

use bevy::prelude::*;

use super::crossing::StageFrame;
use crate::theme::{Colour, Theme, ThemeName};
use crate::viewer::state::Shading;

/// A colour of the theme, linear.
pub(crate) fn linear(colour: Colour) -> LinearRgba {
    Color::srgb_u8(colour.0, colour.1, colour.2).to_linear()
}

/// A colour between two, in linear light; 0 is `a`.
pub(crate) fn between(a: LinearRgba, b: LinearRgba, part: f32) -> LinearRgba {
    a.mix(&b, part)
}

/// How a surface takes light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Paint {
    colour: LinearRgba,
    /// How much of the shading applies: 0 for strokes, 1 for solid things.
    relief: f32,
}

impl Paint {
    /// The colour itself, whatever the light.
    pub(crate) fn flat(colour: LinearRgba) -> Self {
        Self {
            colour,
            relief: 0.0,
        }
    }

    /// Shaded by the light.
    pub(crate) fn solid(colour: LinearRgba) -> Self {
        Self {
            colour,
            relief: 1.0,
        }
    }

    /// The same with this share of the shading.
    pub(crate) fn in_relief(self, relief: f32) -> Self {
        Self { relief, ..self }
    }

    /// Colour of a corner with that normal.
    pub(crate) fn under(&self, light: &Light, normal: Vec3) -> [f32; 4] {
        let shade = 1.0 + self.relief * (light.on(normal) - 1.0);
        let LinearRgba {
            red,
            green,
            blue,
            alpha,
        } = self.colour;
        [red * shade, green * shade, blue * shade, alpha]
    }
}

/// Share of its colour that a surface shows in the light of the room alone.
pub(crate) const ROOM: f32 = 0.42;

/// Where the lamp is from the middle of the scene, for a viewer towards `front`; unit.
pub(crate) fn towards_lamp(up: Vec3, front: Vec3) -> Vec3 {
    (up * 0.80 + front * 0.52 - up.cross(front) * 0.42).normalize()
}

/// One large lamp to the upper left of the viewer, and the room's own light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Light {
    /// Unknown to what the renderer lights itself: its colours stay what they are.
    towards: Option<Vec3>,
}

impl Light {
    /// The light for a viewer who stands towards `front`, with `up` upwards; both unit and square.
    pub(crate) fn from_above(up: Vec3, front: Vec3) -> Self {
        Self {
            towards: Some(towards_lamp(up, front)),
        }
    }

    /// The light for solid things: none where the renderer lights them.
    pub(crate) fn on_solids(frame: &StageFrame, shading: Shading) -> Self {
        match shading {
            Shading::Plain => Self::from_above(frame.up(), frame.front()),
            Shading::Lit => Self { towards: None },
        }
    }

    /// The same light for a body that has been turned by `turn` since.
    pub(crate) fn before(&self, turn: Quat) -> Self {
        Self {
            towards: self.towards.map(|towards| turn.inverse() * towards),
        }
    }

    /// Shade of a surface with that normal, brightest where the lamp shines straight on it.
    fn on(&self, normal: Vec3) -> f32 {
        const FULL: f32 = 1.3;
        const BACK: f32 = 0.06;
        let Some(towards) = self.towards else {
            return 1.0;
        };
        let facing = normal.dot(towards);
        let lamp = ((facing + 0.3) / 1.3).max(0.0).powf(1.2);
        ROOM + (FULL - ROOM) * lamp + BACK * (-facing).max(0.0)
    }
}

/// Everything that is painted, by meaning.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Palette {
    /// Behind everything.
    pub background: LinearRgba,
    /// Floor.
    pub floor: LinearRgba,
    /// Body and hardware that moves with it.
    pub body: LinearRgba,
    /// Hardware on the ground.
    pub hardware: LinearRgba,
    /// Hatched ground.
    pub ground: LinearRgba,
    /// Reactions.
    pub reaction: LinearRgba,
    /// Loads.
    pub load: LinearRgba,
    /// Shared axis.
    pub axis: LinearRgba,
    /// Free motion.
    pub motion: LinearRgba,
    /// What is pointed out among the reactions.
    pub group: LinearRgba,
    /// Links to add.
    pub trial: LinearRgba,
}

impl Palette {
    /// Colours of a theme.
    pub(crate) fn new(theme: &Theme) -> Self {
        Self {
            background: linear(theme.background),
            floor: linear(theme.surface),
            body: linear(theme.body),
            hardware: linear(theme.hardware),
            ground: linear(theme.ground),
            reaction: linear(theme.reaction),
            load: linear(theme.load),
            axis: linear(theme.axis),
            motion: linear(theme.motion),
            group: linear(theme.group),
            trial: linear(theme.trial),
        }
    }

    /// Colours of the theme of that name.
    pub(crate) fn named(name: ThemeName) -> Self {
        Self::new(&Theme::of(name))
    }
}
