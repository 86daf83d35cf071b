//! Supports gathered one by one, each at a point that is still free.

use super::body::{Body, GridPoint, cross};
use super::fit;
use super::grid_support::{GridSupport, GridSupportKind};
use super::random::Random;
use crate::scene::Space;

/// Directions of the axes.
pub(super) const AXES: [GridPoint; 3] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];

/// Supports gathered one by one.
pub(super) struct GatheredSupports<'a> {
    body: &'a Body,
    free: Vec<GridPoint>,
    pub(super) supports: Vec<GridSupport>,
    pub(super) unknowns: usize,
}

impl<'a> GatheredSupports<'a> {
    pub(super) fn new(body: &'a Body) -> Self {
        Self {
            body,
            free: body.anchors.clone(),
            supports: Vec::new(),
            unknowns: 0,
        }
    }

    pub(super) fn is_full(&self) -> bool {
        self.free.is_empty()
    }

    /// Whether a link or cable along this line would lie on another one's line: the two would be one reaction, or hit
    /// each other.
    fn is_taken(&self, at: GridPoint, along: GridPoint) -> bool {
        let lines = self
            .supports
            .iter()
            .filter(|support| support.kind.has_ground());
        lines.into_iter().any(|other| {
            let between = [0, 1, 2].map(|axis| other.at[axis] - at[axis]);
            cross(other.along, along) == [0; 3] && cross(between, along) == [0; 3]
        })
    }

    fn put(&mut self, kind: GridSupportKind, at: GridPoint, along: GridPoint) {
        self.unknowns += kind.unknowns(self.body.space);
        self.supports.push(GridSupport {
            kind,
            at,
            along,
            off: [0; 3],
        });
    }

    /// A support at a point that is still free and where it fits; a link may also share one with another link.
    ///
    /// Where it fits nowhere, there is no support and a free point less.
    pub(super) fn add(&mut self, random: &mut Random, kind: GridSupportKind, along: GridPoint) {
        let along = match kind {
            GridSupportKind::BallJoint | GridSupportKind::Fixed | GridSupportKind::Pin => [0; 3],
            GridSupportKind::Link | GridSupportKind::Cable => reach(random, along),
            _ if kind.is_surface() => upward(along, self.body.space),
            GridSupportKind::RailWheel => AXES[random.below(2)],
            _ => along,
        };
        let shares =
            matches!(kind, GridSupportKind::Link | GridSupportKind::Cable) && random.chance(1, 4);
        let others = self.supports.iter().filter(|support| {
            matches!(support.kind, GridSupportKind::Link | GridSupportKind::Cable)
                && cross(support.along, along) != [0; 3]
        });
        let shared = self.places_for(kind, along, others.map(|support| support.at));
        if shares && !shared.is_empty() {
            let (at, along) = random.pick(&shared);
            return self.put(kind, at, along);
        }
        let fitting = self.places_for(kind, along, self.free.iter().copied());
        if fitting.is_empty() {
            self.free.swap_remove(random.below(self.free.len()));
            return;
        }
        let (at, along) = random.pick(&fitting);
        self.take(kind, at, along);
    }

    /// A support along an axis, of one of those kinds that fit the body somewhere.
    pub(super) fn add_one_of(&mut self, random: &mut Random, kinds: &[GridSupportKind]) {
        let places = |kind: &GridSupportKind| {
            let along = |axis| self.places_for(*kind, axis, self.free.iter().copied());
            let places: Vec<_> = AXES.into_iter().flat_map(along).collect();
            (*kind, places)
        };
        let mut fitting: Vec<_> = kinds.iter().map(places).collect();
        fitting.retain(|(_, places)| !places.is_empty());
        if fitting.is_empty() {
            return;
        }
        let (kind, places) = fitting.swap_remove(random.below(fitting.len()));
        let (at, along) = random.pick(&places);
        self.take(kind, at, along);
    }

    /// Those of some points at which a support of that kind fits, each with its direction.
    fn places_for(
        &self,
        kind: GridSupportKind,
        along: GridPoint,
        points: impl Iterator<Item = GridPoint>,
    ) -> Vec<(GridPoint, GridPoint)> {
        let fitting = |at| {
            let along = fit::fitting(self.body, kind, at, along)?;
            let taken = kind.has_ground() && self.is_taken(at, along);
            (!taken).then_some((at, along))
        };
        points.filter_map(fitting).collect()
    }

    /// A support at a point that is free and then is not.
    fn take(&mut self, kind: GridSupportKind, at: GridPoint, along: GridPoint) {
        self.free.retain(|cell| *cell != at);
        self.put(kind, at, along);
    }

    /// A link to a hub; none where it would run through the body or has no length.
    pub(super) fn add_to_hub(&mut self, random: &mut Random, hub: GridPoint) {
        let at = self.free.swap_remove(random.below(self.free.len()));
        let along = [0, 1, 2].map(|axis| hub[axis] - at[axis]);
        let fits = || fit::fitting(self.body, GridSupportKind::Link, at, along) == Some(along);
        if along != [0; 3] && fits() && !self.is_taken(at, along) {
            self.put(GridSupportKind::Link, at, along);
        }
    }

    /// Two hinges or bearings on a line along an axis, where the body has such a line.
    pub(super) fn add_pair(&mut self, random: &mut Random) {
        let mut pairs = Vec::new();
        for (index, one) in self.free.iter().enumerate() {
            for other in &self.free[index + 1..] {
                let apart: Vec<usize> = (0..3).filter(|axis| one[*axis] != other[*axis]).collect();
                if let [axis] = apart.as_slice() {
                    pairs.push((*one, *other, AXES[*axis]));
                }
            }
        }
        let kinds = random.pick(&[
            [
                GridSupportKind::PairedHinge,
                GridSupportKind::PairedSlidingHinge,
            ],
            [
                GridSupportKind::PairedThrust,
                GridSupportKind::PairedJournal,
            ],
            [
                GridSupportKind::PairedJournal,
                GridSupportKind::PairedJournal,
            ],
            [GridSupportKind::PairedHinge, GridSupportKind::PairedHinge],
        ]);
        pairs.retain(|(one, other, axis)| {
            let fits = |(kind, at)| fit::fitting(self.body, kind, at, *axis).is_some();
            kinds.into_iter().zip([*one, *other]).all(fits)
        });
        if pairs.is_empty() {
            return;
        }
        let (one, other, axis) = random.pick(&pairs);
        for (kind, at) in kinds.into_iter().zip([one, other]) {
            self.take(kind, at, axis);
        }
    }
}

/// How far the ground end of a link lies off: a round multiple of its direction.
fn reach(random: &mut Random, along: GridPoint) -> GridPoint {
    let longest = along.iter().map(|x| x.abs()).max().unwrap_or(1);
    let factor = match longest {
        1 => random.pick(&[3, 4, 5, 6]),
        2 => random.pick(&[2, 3]),
        _ => random.pick(&[1, 2]),
    };
    along.map(|x| x * factor)
}

/// Surfaces lie below or beside the body, not above it.
fn upward(along: GridPoint, space: Space) -> GridPoint {
    let up = if space == Space::Planar { 1 } else { 2 };
    if along[up] < 0 {
        along.map(|x| -x)
    } else {
        along
    }
}
