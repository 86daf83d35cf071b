//! A flat plate on a wall that only presses, with anchors that only pull: how it opens.
//!
//! The plate moves by `q`, its gap at a spot is `g = φ·q` with φ = `(1, x, y)`. Anchors pull with `k max(0, g)`, the wall presses with
//! `c max(0, −g)` on each piece of area. The load is balanced where the convex function `½ Σ k max(0, g)² + ½ c ∫ max(0, −g)² dA − L·q`
//! has its minimum. All its integrals are exact, since the part that presses is a polygon; Newton's method with a line search finds
//! the three unknowns, and that forces balance the load certifies them.

use nalgebra::{Matrix3, Vector3};

use super::region::{PlateSpot, below, moments, rectangle, shape};

/// A plate with what holds it, in units of which the plate is about one across and an anchor is one stiff.
pub(super) struct PlateContact {
    pub(super) size: [f64; 2],
    pub(super) anchors: Vec<PlateSpot>,
    /// Stiffness of the wall, per area, over that of an anchor.
    pub(super) bedding: f64,
}

/// Steps of Newton's method at most; a dozen are usual.
const MOST_STEPS: usize = 200;
/// Halvings of a step at most.
const HALVINGS: usize = 60;
/// What is left of a load that counts as balanced, relative to it.
const BALANCED: f64 = 1e-11;
/// The same where rounding allows no better step.
const NEARLY_BALANCED: f64 = 1e-8;
/// Part of a full step's promise that a step must keep (Armijo).
const KEPT: f64 = 1e-4;
/// A step that leaves less than this part of what was left before is taken at once: near the end energies differ by rounding alone.
const CLOSER: f64 = 0.5;

impl PlateContact {
    /// The gap's three numbers under a load `(out of the wall, its moments)` on them; `None` where no plate position balances it.
    pub(super) fn settled(&self, load: &Vector3<f64>) -> Option<Vector3<f64>> {
        // First as if the wall could pull and anchors push: often nearly the answer.
        let all = self.anchors.iter().map(square).sum::<Matrix3<f64>>();
        let whole = all + moments(&rectangle(self.size)) * self.bedding;
        let mut at = whole.lu().solve(load)?;
        for _ in 0..MOST_STEPS {
            let stiffness = self.stiffness(&at);
            let left = load - stiffness * at;
            if left.norm() <= BALANCED * load.norm() {
                return Some(at);
            }
            // A little of the whole keeps plates without enough that acts from jumping away.
            let step = (stiffness + whole * f64::EPSILON).lu().solve(&left)?;
            match self.share(&at, &step, &left, load) {
                Some(share) => at += step * share,
                None => {
                    return (left.norm() <= NEARLY_BALANCED * load.norm()).then_some(at);
                }
            }
        }
        None
    }

    /// How much of a step to take; `None` where no part of it is any better.
    fn share(
        &self,
        at: &Vector3<f64>,
        step: &Vector3<f64>,
        left: &Vector3<f64>,
        load: &Vector3<f64>,
    ) -> Option<f64> {
        let promise = left.dot(step);
        let from = self.energy(at, load);
        let does = |share: &f64| {
            let there = at + step * *share;
            let rest = load - self.stiffness(&there) * there;
            rest.norm() <= CLOSER * left.norm()
                || self.energy(&there, load) <= from - KEPT * share * promise
        };
        let mut shares = std::iter::successors(Some(1.0), |share| Some(share / 2.0));
        shares.by_ref().take(HALVINGS).find(does)
    }

    /// Of what acts: anchors that pull and the part of the wall that presses.
    fn stiffness(&self, at: &Vector3<f64>) -> Matrix3<f64> {
        let pulling = self.anchors.iter().filter(|spot| shape(spot).dot(at) > 0.0);
        pulling.map(square).sum::<Matrix3<f64>>() + moments(&self.pressed(at)) * self.bedding
    }

    fn energy(&self, at: &Vector3<f64>, load: &Vector3<f64>) -> f64 {
        (self.stiffness(at) * at).dot(at) / 2.0 - load.dot(at)
    }

    /// The part of the plate that presses on the wall.
    pub(super) fn pressed(&self, at: &Vector3<f64>) -> Vec<PlateSpot> {
        below(&rectangle(self.size), |spot| shape(spot).dot(at))
    }
}

fn square(spot: &PlateSpot) -> Matrix3<f64> {
    let phi = shape(spot);
    phi * phi.transpose()
}
