//! Boxes within boxes around many solids, so that the nearest ones to a point are found without looking at all.

use super::Solid;
use super::bounds::AlignedBox;

/// Solids that are not divided further.
const FEW: usize = 4;

/// A box around some solids, with the boxes that divide them.
pub(super) struct SolidTree<'a> {
    bounds: AlignedBox,
    inside: Inside<'a>,
}

enum Inside<'a> {
    Solids(Vec<&'a Solid>),
    Halves(Box<[SolidTree<'a>; 2]>),
}

impl<'a> SolidTree<'a> {
    /// Divides the solids at the middle of the longest side of their box, again and again; `None` for no solids.
    pub(super) fn new(mut solids: Vec<&'a Solid>) -> Option<Self> {
        let corners = solids
            .iter()
            .flat_map(|solid| [&solid.bounds.low, &solid.bounds.high]);
        let bounds = AlignedBox::of(corners)?;
        if solids.len() <= FEW {
            let inside = Inside::Solids(solids);
            return Some(Self { bounds, inside });
        }
        let side = (bounds.high - bounds.low).imax();
        let middle = solids.len() / 2;
        let place = |solid: &Solid| solid.bounds.low[side] + solid.bounds.high[side];
        solids.select_nth_unstable_by(middle, |a, b| place(a).total_cmp(&place(b)));
        let rest = solids.split_off(middle);
        let halves = Box::new([Self::new(solids)?, Self::new(rest)?]);
        let inside = Inside::Halves(halves);
        Some(Self { bounds, inside })
    }

    /// Box around all solids.
    pub(super) fn bounds(&self) -> &AlignedBox {
        &self.bounds
    }

    /// Calls `visit` for solids whose box is nearer to a point than `nearest`, nearer halves first; `visit` returns the new
    /// `nearest`. Returns the last of these.
    pub(super) fn search(
        &self,
        point: &nalgebra::Point3<f64>,
        nearest: f64,
        visit: &mut impl FnMut(&Solid, f64) -> f64,
    ) -> f64 {
        match &self.inside {
            Inside::Solids(solids) => solids.iter().fold(nearest, |nearest, solid| {
                if solid.bounds.distance(point) < nearest {
                    visit(solid, nearest)
                } else {
                    nearest
                }
            }),
            Inside::Halves(halves) => {
                let [mut first, mut second] = [&halves[0], &halves[1]];
                let mut ways = [first, second].map(|half| half.bounds.distance(point));
                if ways[1] < ways[0] {
                    (first, second) = (second, first);
                    ways.swap(0, 1);
                }
                let mut nearest = nearest;
                for (half, way) in [first, second].into_iter().zip(ways) {
                    if way < nearest {
                        nearest = half.search(point, nearest, visit);
                    }
                }
                nearest
            }
        }
    }
}
