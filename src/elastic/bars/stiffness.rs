//! How much a bar resists stretching, bending, twisting and shearing.

use std::f64::consts::PI;

use nalgebra::{Matrix3, Vector3};

use crate::scene::{BarSection, Material, Shape, Units};

/// A bar's section with its material, in SI units; the same about every axis across the bar.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct BarStiffness {
    /// Area of the section, m².
    pub area: f64,
    /// Second moment of area about every axis across the bar, m⁴.
    pub second_moment: f64,
    /// Torsion constant, m⁴.
    pub torsion_constant: f64,
    /// Distance of the outermost fibre from the centre line, m: half the diameter.
    pub outer: f64,
    /// Axial stiffness EA, N.
    pub axial: f64,
    /// Flexural stiffness EI, N·m².
    pub flexural: f64,
    /// Torsional stiffness GJ, N·m².
    pub torsional: f64,
    /// Shear stiffness, shear modulus times shear area, N; `None` where shearing is left out.
    pub shear: Option<f64>,
}

impl BarStiffness {
    /// Of a bar of the body; `None` of a shape that is none, or of numbers too large or too small to count with.
    ///
    /// # Source
    /// Areas and second moments of circle and ring: Young & Budynas, *Roark's Formulas for Stress and Strain*, 7th ed., table A.1;
    /// shear areas: Cowper, *J. Appl. Mech.* 33 (1966), p. 335, with Poisson's ratio E / 2G − 1.
    pub(super) fn of(shape: &Shape, material: &Material, units: &Units) -> Option<Self> {
        let (diameter, section) = match shape {
            Shape::BentBar(bar) => (bar.diameter, bar.section),
            Shape::Shaft(shaft) => (shaft.diameter, BarSection::Solid),
            _ => return None,
        };
        let metres = units.length.in_metres();
        let pascals = units.force.in_newtons() / (metres * metres);
        let [young, shear] =
            [material.youngs_modulus, material.shear_modulus].map(|modulus| modulus * pascals);
        let radius = diameter * metres / 2.0;
        let poisson = young / (2.0 * shear) - 1.0;
        let properties = match section {
            BarSection::Solid => ring(radius, 0.0, poisson),
            BarSection::Tube { wall } => ring(radius, radius - wall * metres, poisson),
            BarSection::Given {
                area,
                second_moment,
                torsion_constant,
                shear_area,
            } => SectionProperties {
                area: area * metres.powi(2),
                second_moment: second_moment * metres.powi(4),
                torsion_constant: torsion_constant * metres.powi(4),
                shear_area: shear_area.map(|area| area * metres.powi(2)),
            },
        };
        let of_shear = properties.shear_area.filter(|_| material.shear);
        let bar = Self {
            area: properties.area,
            second_moment: properties.second_moment,
            torsion_constant: properties.torsion_constant,
            outer: radius,
            axial: young * properties.area,
            flexural: young * properties.second_moment,
            torsional: shear * properties.torsion_constant,
            shear: of_shear.map(|area| area * shear),
        };
        let counted = [bar.axial, bar.flexural, bar.torsional];
        counted.iter().all(|x| x.is_normal()).then_some(bar)
    }

    /// Rotation per length that a moment makes, and stretch per length that a force makes, as matrices in the scene's axes for a
    /// bar along a unit vector: 1/(N·m²) and 1/N.
    pub(super) fn compliances(&self, along: &Vector3<f64>) -> [Matrix3<f64>; 2] {
        let axis = along * along.transpose();
        let across = Matrix3::identity() - axis;
        let sheared = self.shear.map_or(0.0, f64::recip);
        [
            axis / self.torsional + across / self.flexural,
            axis / self.axial + across * sheared,
        ]
    }
}

/// Numbers of a section, in SI units.
struct SectionProperties {
    area: f64,
    second_moment: f64,
    torsion_constant: f64,
    shear_area: Option<f64>,
}

/// A ring; a circle where the inner radius is 0.
fn ring(outer: f64, inner: f64, poisson: f64) -> SectionProperties {
    let area = PI * (outer * outer - inner * inner);
    let second_moment = area * (outer * outer + inner * inner) / 4.0;
    let ratio = inner / outer;
    let squares = (1.0 + ratio * ratio).powi(2);
    let coefficient = 6.0 * (1.0 + poisson) * squares
        / ((7.0 + 6.0 * poisson) * squares + (20.0 + 12.0 * poisson) * ratio * ratio);
    SectionProperties {
        area,
        second_moment,
        torsion_constant: 2.0 * second_moment,
        shear_area: Some(coefficient * area),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cowper 1966: a circle has 6 (1 + ν) / (7 + 6 ν), a thin tube 2 (1 + ν) / (4 + 3 ν).
    #[test]
    fn circles_and_thin_tubes_have_the_shear_areas_of_the_table() {
        let nu = 0.3;
        let circle = ring(0.1, 0.0, nu);
        let expected = circle.area * 6.0 * (1.0 + nu) / (7.0 + 6.0 * nu);
        assert!((circle.shear_area.unwrap() - expected).abs() < 1e-12);
        let tube = ring(0.1, 0.099_999, nu);
        let expected = tube.area * 2.0 * (1.0 + nu) / (4.0 + 3.0 * nu);
        assert!((tube.shear_area.unwrap() / expected - 1.0).abs() < 1e-8);
    }

    /// EN 10255: tube DN 32, 42.4 × 3.2 mm; area 3.94 cm², second moment 7.62 cm⁴, as tables of sections print them.
    #[test]
    fn a_handrail_tube_has_the_values_of_the_tables() {
        let tube = ring(0.0212, 0.0212 - 0.0032, 0.3);
        assert!((tube.area * 1e4 - 3.94).abs() < 0.005);
        assert!((tube.second_moment * 1e8 - 7.62).abs() < 0.005);
    }
}
