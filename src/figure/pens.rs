//! Colours, widths and sizes of letters by meaning: in points, so that a figure of any width prints well.
//!
//! Meaning never rests on colour: every stroke also has a width, dash or head of its own.

use super::settings::FigureColours;
use crate::drawing::{Stroke, Weight};
use crate::theme::{Colour, Theme, ThemeName};

/// Everything that strokes and letters look like.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pens {
    /// Colour of the paper; fills of hardware.
    pub paper: Colour,
    /// Fill of the body.
    pub body: Colour,
    /// Fill of hardware that belongs to the ground.
    pub hardware: Colour,
    /// Edges of the body.
    pub edge: Stroke,
    /// Edges that are hidden.
    pub hidden: Stroke,
    /// Edges of supports.
    pub support: Stroke,
    /// Hatching.
    pub hatch: Stroke,
    /// Cables.
    pub cable: Stroke,
    /// Loads.
    pub load: Stroke,
    /// Arrows of a distributed load.
    pub row: Stroke,
    /// Reactions.
    pub reaction: Stroke,
    /// The shared axis.
    pub axis: Stroke,
    /// Lines of action up to the shared axis.
    pub action: Stroke,
    /// The free motion.
    pub motion: Stroke,
    /// The body where it was before it moved.
    pub ghost: Stroke,
    /// Dimension lines and the axes' directions.
    pub dimension: Stroke,
    /// Lines that lead from a label to its point.
    pub leader: Stroke,
    /// Names and other words.
    pub ink: Colour,
}

/// Text sizes in points.
pub(super) const NAME: Letters = Letters {
    size: 9.0,
    weight: Weight::Bold,
};
/// Reactions, loads and axes.
pub(super) const VALUE: Letters = Letters {
    size: 8.0,
    weight: Weight::Medium,
};
/// Dimensions and coordinates.
pub(super) const SMALL: Letters = Letters {
    size: 7.0,
    weight: Weight::Medium,
};

/// How letters look.
#[derive(Debug, Clone, Copy)]
pub(super) struct Letters {
    pub size: f64,
    pub weight: Weight,
}

const DOTTED: &[f64] = &[1.0, 1.4];
const DASHED: &[f64] = &[2.4, 2.0];
const DASH_DOT: &[f64] = &[9.0, 2.6, 0.4, 2.6];

impl Pens {
    /// The pens of a look.
    pub(crate) fn new(look: FigureColours) -> Self {
        let white = Colour(0xFF, 0xFF, 0xFF);
        let (theme, paper) = match look {
            FigureColours::Colour => (Theme::of(ThemeName::Daylight), white),
            FigureColours::Print => (print(), white),
            FigureColours::Screen(name) => (Theme::of(name), Theme::of(name).background),
        };
        let pen = |width, colour| Stroke {
            width,
            colour,
            dash: &[],
        };
        Self {
            paper,
            body: blend(theme.body, paper, 0.71),
            hardware: blend(theme.hardware, paper, 0.85),
            edge: pen(0.9, theme.ink),
            hidden: Stroke {
                dash: DASHED,
                ..pen(0.5, theme.quiet_ink)
            },
            support: pen(0.65, theme.ink),
            hatch: pen(0.4, theme.ground),
            cable: pen(0.9, theme.ink),
            load: pen(1.7, theme.load),
            row: pen(0.8, theme.load),
            reaction: pen(1.0, theme.reaction),
            axis: Stroke {
                dash: DASH_DOT,
                ..pen(0.9, theme.axis)
            },
            action: Stroke {
                dash: DASH_DOT,
                ..pen(0.45, theme.axis)
            },
            motion: pen(1.3, theme.motion),
            ghost: pen(0.5, theme.motion),
            dimension: pen(0.45, theme.quiet_ink),
            leader: pen(0.35, theme.quiet_ink),
            ink: theme.ink,
        }
    }

    /// What leads aside from a point that is measured to where its extension line begins.
    pub(crate) fn aside(&self) -> Stroke {
        Stroke {
            dash: DOTTED,
            ..self.dimension
        }
    }

    /// What keeps the shared axis apart from what it runs along: paper on both sides of it.
    pub(crate) fn axis_edge(&self) -> Stroke {
        Stroke {
            width: self.axis.width + 1.8,
            colour: self.paper,
            dash: &[],
        }
    }
}

/// The daylight theme in black and greys.
fn print() -> Theme {
    let black = Colour(0, 0, 0);
    let grey = |level| Colour(level, level, level);
    Theme {
        background: grey(0xFF),
        surface: grey(0xFF),
        ink: black,
        quiet_ink: grey(0x40),
        body: grey(0x8A),
        hardware: grey(0xC0),
        ground: grey(0x40),
        reaction: black,
        load: black,
        axis: black,
        motion: black,
        group: black,
        trial: black,
        error: black,
    }
}

/// A colour thinned with another.
pub(super) fn blend(Colour(r, g, b): Colour, Colour(s, h, c): Colour, share: f64) -> Colour {
    let mix = |a: u8, b: u8| (f64::from(a) * (1.0 - share) + f64::from(b) * share).round() as u8;
    Colour(mix(r, s), mix(g, h), mix(b, c))
}
