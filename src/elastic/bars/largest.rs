//! Where along the bars a force, a stress or a displacement is largest.

use super::sections::SectionForces;
use super::stiffness::BarStiffness;
use super::{BarFrame, FrameAnswer};

/// What is compared along bars, by its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum SectionMeasure {
    /// Axial force, N.
    Axial,
    /// Shear force, N.
    Shear,
    /// Bending moment, N·m.
    Bending,
    /// Torque, N·m.
    Torque,
    /// Equivalent stress, Pa.
    Stress,
    /// Displacement, m.
    Displacement,
}

/// The section in which something is largest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LargestSection<'a> {
    /// Which bar, an index into [`BarFrame::bars`].
    pub bar: usize,
    /// The section.
    pub section: &'a SectionForces,
    /// What is compared, with the sign of axial forces and torques.
    pub value: f64,
}

/// Sizes that differ by less than this part count as alike.
const ALIKE: f64 = 1e-9;

impl SectionMeasure {
    /// Its value in a section of a bar, with the sign of axial forces and torques; `None` of a displacement that is not known.
    pub fn of(self, section: &SectionForces, bar: &BarStiffness) -> Option<f64> {
        Some(match self {
            Self::Axial => section.axial,
            Self::Shear => section.shear.norm(),
            Self::Bending => section.bending.norm(),
            Self::Torque => section.torque,
            Self::Stress => section.stress(bar).equivalent,
            Self::Displacement => section.displacement?.norm(),
        })
    }
}

impl BarFrame {
    /// The section of a bar in which something is largest; of several that are alike the first, whatever their last digits.
    pub fn largest_in<'a>(
        &self,
        answer: &'a FrameAnswer,
        bar: usize,
        measure: SectionMeasure,
    ) -> Option<LargestSection<'a>> {
        let stiffness = &self.bars[bar].stiffness;
        let valued = answer.sections[bar].iter().filter_map(|section| {
            Some(LargestSection {
                bar,
                section,
                value: measure.of(section, stiffness)?,
            })
        });
        valued.reduce(LargestSection::or)
    }

    /// The same among all bars.
    pub fn largest<'a>(
        &self,
        answer: &'a FrameAnswer,
        measure: SectionMeasure,
    ) -> Option<LargestSection<'a>> {
        let bars = 0..self.bars.len();
        let each = bars.filter_map(|bar| self.largest_in(answer, bar, measure));
        each.reduce(LargestSection::or)
    }
}

impl LargestSection<'_> {
    /// The larger of two.
    fn or(self, other: Self) -> Self {
        match other.value.abs() > (1.0 + ALIKE) * self.value.abs() {
            true => other,
            false => self,
        }
    }
}
