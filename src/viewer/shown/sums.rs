//! What moments are taken about in the equations of the ledger.

use bevy::prelude::*;
use nalgebra::Point3;

use super::Shown;
use crate::solution::MomentCentre;
use crate::statics::{Line, SupportIndex};
use crate::wording::{self, Phrase};

/// What moments can be taken about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Pivot {
    /// Axes through a support, by index into the model's.
    Support(SupportIndex),
    /// Axes through a named point, by index into the model's.
    Point(usize),
    /// A shared axis, by index into the diagnosis's.
    Axis(usize),
}

/// What moments are taken about.
#[derive(Resource, Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Sums {
    chosen: Option<Pivot>,
    /// The scene for which it was chosen.
    scene: String,
}

impl Sums {
    /// About this, for the scene shown.
    pub(crate) fn about(pivot: Pivot, shown: &Shown) -> Self {
        Self {
            chosen: Some(pivot),
            scene: shown.written.name().to_owned(),
        }
    }

    /// What moments are taken about: what was chosen for this scene, while it is there, else the first support.
    pub(crate) fn pivot(&self, shown: &Shown) -> Option<Pivot> {
        let chosen = self.chosen.filter(|_| self.scene == shown.written.name());
        let there = |pivot: &Pivot| pivot.about(shown).is_some();
        chosen
            .filter(there)
            .or_else(|| Pivot::all(shown).first().copied())
    }
}

impl Pivot {
    /// All that a scene has: supports, then points where no support is, then shared axes.
    pub(crate) fn all(shown: &Shown) -> Vec<Self> {
        let model = shown.study.model();
        let mut places: Vec<Point3<f64>> = Vec::new();
        let mut all = Vec::new();
        let supports = model.supports.enumerate();
        let supports = supports.map(|(i, support)| (Self::Support(i), support.point));
        let points = model.points.iter().map(|place| place.point).enumerate();
        for (pivot, at) in supports.chain(points.map(|(i, at)| (Self::Point(i), at))) {
            if !places.contains(&at) {
                places.push(at);
                all.push(pivot);
            }
        }
        let axes = 0..shown.study.diagnosis().shared_axes.len();
        all.extend(axes.map(Self::Axis));
        all
    }

    /// Where it is; `None` where the scene does not have it.
    pub(crate) fn about(self, shown: &Shown) -> Option<MomentCentre> {
        let model = shown.study.model();
        Some(match self {
            Self::Support(index) => MomentCentre::Point(model.supports.get(index)?.point),
            Self::Point(index) => MomentCentre::Point(model.points.get(index)?.point),
            Self::Axis(index) => {
                let axis = shown.study.diagnosis().shared_axes.get(index)?;
                MomentCentre::Line(Line {
                    point: axis.point,
                    direction: axis.direction,
                })
            }
        })
    }

    /// What it is called.
    pub(crate) fn name(self, shown: &Shown) -> Phrase {
        let model = shown.study.model();
        match self {
            Self::Support(index) => Phrase::name(&model.supports[index].name),
            Self::Point(index) => Phrase::name(&model.points[index].name),
            Self::Axis(index) => {
                let axis = &shown.study.diagnosis().shared_axes[index];
                wording::line(model, &axis.point, &axis.direction)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn moments_can_be_taken_about_every_place_once_and_about_shared_axes() {
        let stage = TestStage::open("handrail");
        let shown = stage.shown();
        let all = Pivot::all(&shown);
        let names: Vec<String> = all
            .iter()
            .map(|pivot| pivot.name(&shown).to_string())
            .collect();
        assert_eq!(
            names,
            [
                "A",
                "B",
                "lower bend",
                "landing",
                "upper bend",
                "the line through A and B"
            ]
        );
        assert_eq!(
            Sums::default().pivot(&shown),
            Some(Pivot::Support(SupportIndex::new(0)))
        );
        let sums = Sums::about(Pivot::Axis(0), &shown);
        assert_eq!(sums.pivot(&shown), Some(Pivot::Axis(0)));
        let held = TestStage::open("mirror-cell");
        assert_eq!(
            sums.pivot(&held.shown()),
            Some(Pivot::Support(SupportIndex::new(0))),
            "it has no such axis"
        );
    }
}
