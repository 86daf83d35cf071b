//! Where contacts that the body has left close again, and slack cables are taut.

use nalgebra::Isometry3;

use super::constraints::Constraints;
use crate::statics::{ReactionIndex, RelativeTwist};

/// The first of them on a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Closing {
    /// The reaction.
    pub(super) reaction: ReactionIndex,
    /// The length of the step to it.
    pub(super) step: f64,
    /// Whether it was open on the way there.
    pub(super) opened: bool,
}

/// A gap is closed while it is smaller than this, relative to the size.
const CLOSED: f64 = 1e-11;
/// Pieces of a step that are looked at.
const PIECES: u32 = 4;
/// Halvings of a piece: a step is at most 0.3 long.
const HALVINGS: usize = 45;

/// Looks along a step for the first gap that closes; `place` gives the placement and the unit motion at a length of step.
pub(super) fn first_closing(
    constraints: &Constraints,
    step: f64,
    place: impl Fn(f64) -> Option<(Isometry3<f64>, RelativeTwist)>,
) -> Option<Closing> {
    let gaps = constraints
        .left()
        .enumerate()
        .map(|(index, reaction)| ClosingGap {
            constraints,
            place: &place,
            index,
            reaction,
        });
    let closings = gaps.filter_map(|gap| gap.closing(step));
    closings.min_by(|a, b| a.step.total_cmp(&b.step))
}

struct ClosingGap<'a, P> {
    constraints: &'a Constraints,
    place: &'a P,
    index: usize,
    reaction: ReactionIndex,
}

impl<P: Fn(f64) -> Option<(Isometry3<f64>, RelativeTwist)>> ClosingGap<'_, P> {
    fn size(&self, step: f64) -> Option<f64> {
        let (pose, _) = (self.place)(step)?;
        Some(self.constraints.gaps(&pose)[self.index])
    }

    fn rate(&self, step: f64) -> Option<f64> {
        let (pose, motion) = (self.place)(step)?;
        Some(self.constraints.gap_rates(&pose, &motion)[self.index])
    }

    fn is_shut(&self, step: f64) -> bool {
        self.size(step).is_some_and(|size| size < -CLOSED)
    }

    fn closing(&self, step: f64) -> Option<Closing> {
        let ends = (0..=PIECES).map(|i| step * f64::from(i) / f64::from(PIECES));
        let ends: Vec<f64> = ends.collect();
        let pieces = ends.windows(2).map(|ends| (ends[0], ends[1]));
        let (open, shut) = pieces.into_iter().find_map(|(from, to)| {
            let deepest = || self.lowest(from, to).filter(|at| self.is_shut(*at));
            let shut = if self.is_shut(to) {
                Some(to)
            } else {
                deepest()
            };
            Some((from, shut?))
        })?;
        let at = halved(open, shut, |step| self.is_shut(step));
        Some(Closing {
            reaction: self.reaction,
            step: at,
            opened: open > 0.0 || self.size(at / 2.0).is_some_and(|size| size > CLOSED),
        })
    }

    /// Where a gap that narrows first and widens then is narrowest.
    fn lowest(&self, from: f64, to: f64) -> Option<f64> {
        let (before, after) = (self.rate(from)?, self.rate(to)?);
        (before < 0.0 && after > 0.0).then(|| {
            halved(from, to, |step| {
                self.rate(step).is_some_and(|rate| rate > 0.0)
            })
        })
    }
}

/// The last place before something becomes so, to rounding.
fn halved(mut before: f64, mut after: f64, is_so: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(before, after);
        if is_so(middle) {
            after = middle;
        } else {
            before = middle;
        }
    }
    before
}
