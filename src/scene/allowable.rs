//! What a support may be loaded with, on its author's word: no design code is built in.

use super::Coordinates;

/// Allowable forces of a support as written, in the scene's unit of force; at least one is given. Of an anchor plate they are those of
/// each anchor.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowable {
    /// Of the force with which it pulls the body towards the ground, > 0; `None` where that is not limited.
    pub tension: Option<f64>,
    /// Of the force with which it pushes the body away from the ground, > 0; `None` where that is not limited.
    pub compression: Option<f64>,
    /// Of the force across that line, > 0; `None` where that is not limited.
    pub shear: Option<f64>,
    /// Exponent p of the interaction `(N/N_a)^p + (V/V_a)^p ≤ 1`, ≥ 1.
    pub exponent: f64,
    /// From the ground into the body, any length; `None` of supports that have such a line of their own, and of those in the plane
    /// whose line runs along the line of sight, so that all force is shear.
    pub outwards: Option<Coordinates>,
}

impl Allowable {
    /// The exponent where none is given: utilisations add up, the safest of all.
    pub const USUAL_EXPONENT: f64 = 1.0;

    /// Its forces by the names of their fields.
    pub fn forces(&self) -> [(&'static str, Option<f64>); 3] {
        [
            ("tension", self.tension),
            ("compression", self.compression),
            ("shear", self.shear),
        ]
    }
}
