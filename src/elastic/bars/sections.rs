//! The forces in the sections of bars, how far these move, and how hard they are stressed.

use nalgebra::{Point3, Vector3};

use super::layout::{BarLayout, BarSpan};
use super::span::{SpanElements, SpanForces, SpanLoads};
use super::stiffness::BarStiffness;
use crate::statics::{Twist, Wrench};

/// Forces in one section of a bar, from what follows it on what leads up to it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct SectionForces {
    /// Arc length from the start of the bar, m.
    pub along: f64,
    /// Centre of the section, m.
    pub point: Point3<f64>,
    /// Unit vector along the bar.
    pub direction: Vector3<f64>,
    /// Axial force, N; positive in tension.
    pub axial: f64,
    /// Shear force, N.
    pub shear: Vector3<f64>,
    /// Bending moment as a vector across the bar, N·m.
    pub bending: Vector3<f64>,
    /// Torque about `direction`, N·m.
    pub torque: f64,
    /// How far its centre moves, m; `None` where a motion is left free.
    pub displacement: Option<Vector3<f64>>,
    pub(super) moved: Vector3<f64>,
}

/// Stresses in the outermost fibre of a section, Pa, each ≥ 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionStress {
    /// Largest normal stress: axial force over area, and bending moment over section modulus.
    pub normal: f64,
    /// Shear stress from torsion: torque times radius over torsion constant. That of the shear force is not counted: where bending is
    /// hardest, it is zero.
    pub torsional: f64,
    /// Both together, `√(σ² + 3 τ²)` (von Mises).
    pub equivalent: f64,
}

impl SectionForces {
    /// Takes forces and moments not above these sizes to be zero, which they are but for rounding.
    pub(super) fn drop_below(&mut self, [force, moment]: [f64; 2]) {
        let settled = |value: f64, size: f64| if value.abs() <= size { 0.0 } else { value };
        self.axial = settled(self.axial, force);
        self.shear = self.shear.map(|part| settled(part, force));
        self.torque = settled(self.torque, moment);
        self.bending = self.bending.map(|part| settled(part, moment));
    }

    /// Stresses in a bar's section.
    ///
    /// # Source
    /// Young & Budynas, *Roark's Formulas for Stress and Strain*, 7th ed., chapters 8 and 10, for round sections; for others at half
    /// the drawn diameter, with the same formulas.
    pub fn stress(&self, bar: &BarStiffness) -> SectionStress {
        let bent = self.bending.norm() * bar.outer / bar.second_moment;
        let normal = self.axial.abs() / bar.area + bent;
        let torsional = self.torque.abs() * bar.outer / bar.torsion_constant;
        SectionStress {
            normal,
            torsional,
            equivalent: normal.hypot(3.0_f64.sqrt() * torsional),
        }
    }
}

/// Sections that a bar is looked at in, besides the ends of its elements.
const SECTIONS: f64 = 48.0;

/// The sections of a span, given what acts on its end and how its start moves.
pub(super) fn sections_of(
    layout: &BarLayout,
    span: &BarSpan,
    elements: &SpanElements,
    loads: &SpanLoads,
    end: &Wrench,
    start: &Twist,
) -> Vec<SectionForces> {
    let bar = &layout.bars[span.bar];
    let forces = SpanForces::new(elements, loads, end);
    let step = bar.curve.length() / SECTIONS;
    let mut found = Vec::new();
    let mut at = *start;
    for (index, element) in elements.iter().enumerate() {
        let station = span.stations[0] + index;
        let [first, last] = [bar.along[station], bar.along[station + 1]];
        let steps = (element.length / step).ceil().max(1.0) as usize;
        for i in 0..=steps {
            let part = i as f64 / steps as f64;
            let cut = forces.cut(index, part);
            let along = first + (last - first) * part;
            // That of the bend itself, from which its chord leans away.
            let direction = bar.curve.direction(along, f64::midpoint(first, last));
            let [axial, torque] = [&cut.force, &cut.moment].map(|all| all.dot(&direction));
            found.push(SectionForces {
                along,
                point: element.point(part),
                direction,
                axial,
                shear: cut.force - direction * axial,
                bending: cut.moment - direction * torque,
                torque,
                displacement: None,
                moved: forces.carried(index, part, &at).linear,
            });
        }
        at = forces.carried(index, 1.0, &at);
    }
    found
}
