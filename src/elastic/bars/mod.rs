//! Bodies of bars that bend: straight space-frame elements along every bar, and the reactions that follow.
//!
//! Each element stretches, twists, bends about both axes and, where that is asked for, shears, by the linear theory of slender
//! bars (Timoshenko, *Strength of Materials*); bends are cut into short straight elements. Supports are rigid unless they have a
//! stiffness. Everything rests on the moduli, sections and stiffnesses given; displacements are small, and nothing buckles.

mod curve;
mod energy;
mod frame;
mod largest;
mod layout;
mod loading;
mod sections;
mod solver;
mod span;
mod stiffness;

pub use largest::{LargestSection, SectionMeasure};
pub use sections::{SectionForces, SectionStress};
pub use stiffness::BarStiffness;

use super::{ElasticReactions, contact, imposed};
use crate::indexed::Indexed;
use crate::scene::{Scene, Shape, solid};
use crate::statics::{CaseIndex, Diagnosis, ImposedAction, LoadCase, Model, OneWay, ReactionIndex};
use curve::BarCurve;
use frame::SupportedFrame;

/// A body of bars that bend, under every load case.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub struct BarFrame {
    /// The bars, in the order of the body's shapes.
    pub bars: Vec<FrameBar>,
    /// What follows under each load case, in the model's order.
    pub cases: Indexed<CaseIndex, FrameCase>,
}

/// A bar that bends.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct FrameBar {
    /// Index of its shape in the body.
    pub shape: usize,
    /// Length of its centre line, m.
    pub length: f64,
    /// What it resists with.
    pub stiffness: BarStiffness,
}

/// What bars that bend make of a load case.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum FrameCase {
    /// These reactions balance the load.
    Solved(FrameAnswer),
    /// The supports do not carry the load, however stiff bars and supports are.
    NotCarried,
    /// A support that has no stiffness is prestressed.
    NoStiffness,
    /// Supports act where no bar between them can give way; how they share the load is up to their own stiffness, which these
    /// reactions do not have.
    Undecided(Vec<ReactionIndex>),
    /// The bars do not hang together: of each part the first bar, an index into [`BarFrame::bars`].
    Apart(Vec<usize>),
    /// Nothing was found that could be confirmed: numbers lie too far apart, or rough contacts would have to hold along a surface
    /// from which they part.
    NotFound,
}

/// Reactions of a body of bars, and the forces in its sections.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct FrameAnswer {
    /// The reactions and what lets go; without a displacement of the body as a whole.
    pub reactions: ElasticReactions,
    /// Forces and displacements along each bar, from its start to its end. Where forces jump there are two sections at one
    /// place.
    pub sections: Vec<Vec<SectionForces>>,
}

impl FrameCase {
    /// The answer, where one was found.
    pub fn answer(&self) -> Option<&FrameAnswer> {
        match self {
            Self::Solved(answer) => Some(answer),
            _ => None,
        }
    }
}

impl BarFrame {
    /// The frame of a scene with a material; `None` of one without, or without any bar.
    pub(crate) fn of(
        scene: &Scene,
        model: &Model,
        diagnosis: &Diagnosis,
        one_way: Option<&OneWay>,
    ) -> Option<Self> {
        let material = scene.material.as_ref()?;
        let lines = solid::centre_lines(scene).into_iter();
        let shapes = scene.body.iter().zip(lines).enumerate();
        let mut bars = Vec::new();
        let mut curves = Vec::new();
        for (shape, (written, line)) in shapes {
            let is_bar = matches!(written, Shape::BentBar(_) | Shape::Shaft(_));
            if !is_bar {
                continue;
            }
            let curve = BarCurve::new(line?);
            let stiffness = BarStiffness::of(written, material, &scene.units)?;
            bars.push(FrameBar {
                shape,
                length: curve.length(),
                stiffness,
            });
            curves.push((curve, stiffness));
        }
        if bars.is_empty() {
            return None;
        }
        let frame = SupportedFrame::new(model, diagnosis, curves);
        let is_carried = |case: CaseIndex| {
            let one_way = one_way.is_none_or(|found| found.cases[case].is_carried());
            one_way && diagnosis.cases[case].is_balanced()
        };
        let cases = model.cases.indices().map(|case| match &frame {
            Err(apart) if apart.is_empty() => FrameCase::NotFound,
            Err(apart) => FrameCase::Apart(apart.clone()),
            Ok(_) if !is_carried(case) => FrameCase::NotCarried,
            Ok(_) if lacks_stiffness(model, &model.cases[case]) => FrameCase::NoStiffness,
            Ok(frame) => frame.solved(case),
        });
        let cases = cases.collect();
        Some(Self { bars, cases })
    }
}

/// Whether a rigid support is tightened: by how much would depend on how it gives way.
fn lacks_stiffness(model: &Model, case: &LoadCase) -> bool {
    case.imposed.iter().any(|action| match action {
        ImposedAction::Prestress { support, .. } => {
            let mut own = model.supports[*support].reactions.clone();
            own.any(|j| model.reactions[j].stiffness.is_none())
        }
        _ => false,
    })
}
