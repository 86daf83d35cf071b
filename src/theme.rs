//! Colours and stroke widths by meaning, shared by the viewer and by figures.
//!
//! Strokes use the colour-blind-safe set of Okabe & Ito, "Color Universal Design" (2008). Meaning never rests
//! on colour alone: every stroke also has a shape, a dash or a label of its own.

/// An sRGB colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

/// The themes a user can choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum ThemeName {
    /// For a darkened hall.
    #[default]
    Hall,
    /// For daylight and print.
    Daylight,
    /// Greatest contrast.
    Stark,
}

/// Every colour of a theme, by meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// Behind everything.
    pub background: Colour,
    /// The floor and the panels.
    pub surface: Colour,
    /// Text on background and panels.
    pub ink: Colour,
    /// Less important text.
    pub quiet_ink: Colour,
    /// The body.
    pub body: Colour,
    /// Support hardware that belongs to the ground.
    pub hardware: Colour,
    /// Hatched ground blocks.
    pub ground: Colour,
    /// Reactions.
    pub reaction: Colour,
    /// Loads.
    pub load: Colour,
    /// The shared axis and its beads.
    pub axis: Colour,
    /// The free motion: ribbon, ghosts' outline, arrow heads.
    pub motion: Colour,
    /// Dependent group, warnings.
    pub group: Colour,
    /// Trial and repair links.
    pub trial: Colour,
    /// Errors.
    pub error: Colour,
}
