//! What lets bars bend: the material of the body, and the sections of its bars.

/// Elastic constants of the one material that all bars of a body are made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Young's modulus, > 0, in the scene's force per square of its length.
    pub youngs_modulus: f64,
    /// Shear modulus, > 0, in the same unit.
    pub shear_modulus: f64,
    /// Whether bars also give way by shearing.
    pub shear: bool,
}

/// What a bar is in its cross-section, the same about every axis. Only how it bends depends on it: a bar is drawn, measured and
/// weighed by its diameter.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum BarSection {
    /// Solid.
    #[default]
    Solid,
    /// A tube.
    Tube {
        /// Thickness of its wall, > 0, less than half the diameter.
        wall: f64,
    },
    /// Any section of which these numbers are known.
    Given {
        /// Area, > 0, in the square of the scene's length.
        area: f64,
        /// Second moment of area about each axis across the bar, > 0, in the fourth power of the length.
        second_moment: f64,
        /// Torsion constant, > 0, in the fourth power of the length.
        torsion_constant: f64,
        /// Area that counts for shearing, > 0, in the square of the length; `None` where nothing is said of it.
        shear_area: Option<f64>,
    },
}
