//! What makes two problems alike: the same arrangement, whatever its lengths and whichever way round it stands.

use super::arrangement::Arrangement;
use super::body::GridPoint;
use super::grid_load::GridLoad;
use super::grid_support::GridSupport;
use crate::scene::Space;

/// The arrangement of a problem: body, supports and points of attack by their order along each axis, directions by
/// their signs. Problems that differ in lengths, in sizes of loads, or by a mirror image or a turn about the vertical,
/// have equal signatures.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Signature(Vec<i32>);

/// What no other item begins with.
const NEAR_MISS: i32 = -4;

/// A way of looking at the scene that keeps the vertical: which axes are swapped and mirrored.
#[derive(Debug, Clone, Copy)]
struct VerticalView {
    swapped: bool,
    mirrored: [bool; 2],
}

impl VerticalView {
    fn all(space: Space) -> Vec<Self> {
        let view = |bits: usize| Self {
            swapped: bits & 4 != 0,
            mirrored: [bits & 1 != 0, bits & 2 != 0],
        };
        match space {
            // In the plane y is up: only left and right are alike.
            Space::Planar => (0..2).map(view).collect(),
            Space::Spatial => (0..8).map(view).collect(),
        }
    }

    fn of(self, [x, y, z]: GridPoint) -> GridPoint {
        let sign = |mirrored: bool, value: i32| if mirrored { -value } else { value };
        let (x, y) = (sign(self.mirrored[0], x), sign(self.mirrored[1], y));
        if self.swapped { [y, x, z] } else { [x, y, z] }
    }
}

/// Which sheets an arrangement of supports is for, whatever acts on the body: all are shared out, so that no two sheets on
/// different topics have a problem in common.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share {
    /// For the first of two topics that the rank does not tell apart.
    pub(super) is_first: bool,
    /// For sheets on several topics.
    pub(super) is_mixed: bool,
}

impl Share {
    pub(super) fn of(arrangement: &Arrangement) -> Self {
        let mut bare = arrangement.clone();
        bare.loads.clear();
        let Signature(numbers) = Signature::of(&bare);
        // FNV-1a. (Fowler, Noll & Vo 1991.)
        let bytes = numbers.iter().flat_map(|number| number.to_le_bytes());
        let hash = bytes.fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        Self {
            is_first: (hash >> 32).is_multiple_of(2),
            is_mixed: (hash >> 33).is_multiple_of(2),
        }
    }
}

impl Signature {
    /// The signature of an arrangement.
    pub(super) fn of(arrangement: &Arrangement) -> Self {
        let views = VerticalView::all(arrangement.body.space).into_iter();
        let seen = views.map(|view| seen(arrangement, view));
        Self(seen.min().expect("there are views of every space"))
    }

    /// The same with one support set aside by little.
    pub(super) fn of_a_near_miss(mut self) -> Self {
        self.0.push(NEAR_MISS);
        self
    }
}

fn seen(arrangement: &Arrangement, view: VerticalView) -> Vec<i32> {
    let held = arrangement.supports.iter().map(|support| support.at);
    let points: Vec<GridPoint> = held
        .chain(arrangement.loads.iter().flat_map(GridLoad::places))
        .map(|cell| view.of(cell))
        .collect();
    let rank = |cell: GridPoint| {
        let cell = view.of(cell);
        [0, 1, 2].map(|axis| {
            let mut below: Vec<i32> = points.iter().map(|point| point[axis]).collect();
            below.sort_unstable();
            below.dedup();
            below.partition_point(|other| *other < cell[axis]) as i32
        })
    };
    let mut items: Vec<Vec<i32>> = arrangement
        .supports
        .iter()
        .map(|support| {
            let mut item = vec![support.kind as i32];
            item.extend(rank(support.at));
            item.extend(heading(support, view));
            item
        })
        .collect();
    items.extend(arrangement.loads.iter().map(|load| match load {
        GridLoad::Force { at, force } => {
            let mut item = vec![-1];
            item.extend(rank(*at));
            item.extend(view.of(*force).map(i32::signum));
            item
        }
        GridLoad::Couple { .. } => vec![-2],
        GridLoad::Spread { ends, densities } => {
            let mut ends = [0, 1].map(|end| (densities[end] != [0; 3], rank(ends[end])));
            ends.sort_unstable();
            let mut item = vec![-3];
            for (loaded, place) in ends {
                item.push(i32::from(loaded));
                item.extend(place);
            }
            item.extend(view.of(densities[1]).map(i32::signum));
            item
        }
    }));
    items.sort_unstable();
    std::iter::once(i32::from(arrangement.body.template))
        .chain(items.into_iter().flatten())
        .collect()
}

/// Signs of the direction; an axis or a rod has no sense.
fn heading(support: &GridSupport, view: VerticalView) -> GridPoint {
    let signs = view.of(support.along).map(i32::signum);
    let first = signs.into_iter().find(|sign| *sign != 0);
    match first {
        Some(-1) if !support.kind.has_sense() => signs.map(|sign| -sign),
        _ => signs,
    }
}

#[cfg(test)]
mod tests {
    use super::super::grid_support::GridSupportKind;
    use super::super::random::Random;
    use super::super::{Level, Topic, arrangement};
    use super::*;

    fn changed(drawn: &Arrangement, cell: impl Fn(GridPoint) -> GridPoint + Copy) -> Arrangement {
        let mut other = drawn.clone();
        for support in &mut other.supports {
            support.at = cell(support.at);
            support.along = cell(support.along);
        }
        for load in &mut other.loads {
            match load {
                GridLoad::Force { at, force } => {
                    *at = cell(*at);
                    *force = cell(*force);
                }
                GridLoad::Spread { ends, densities } => {
                    *ends = ends.map(cell);
                    *densities = densities.map(cell);
                }
                GridLoad::Couple { .. } => {}
            }
        }
        other
    }

    #[test]
    fn lengths_mirrors_and_order_do_not_matter() {
        let mut random = Random::new(11);
        for _ in 0..200 {
            let drawn = arrangement::arrangement(&mut random, Topic::Improper, Level::Hard);
            let own = Signature::of(&drawn);
            assert_eq!(
                own,
                Signature::of(&changed(&drawn, |[x, y, z]| [3 * x, 2 * y, 5 * z]))
            );
            assert_eq!(own, Signature::of(&changed(&drawn, |[x, y, z]| [y, -x, z])));
            let mut turned = drawn.clone();
            turned.supports.reverse();
            assert_eq!(own, Signature::of(&turned));
        }
    }

    #[test]
    fn another_kind_or_place_is_another_problem() {
        let mut random = Random::new(12);
        for _ in 0..200 {
            let drawn = arrangement::arrangement(&mut random, Topic::Partial, Level::Middle);
            let mut other = drawn.clone();
            // Few arrangements fit nowhere and are given up.
            let Some(first) = other.supports.first_mut() else {
                continue;
            };
            first.kind = match first.kind {
                GridSupportKind::Link => GridSupportKind::Cable,
                _ => GridSupportKind::Link,
            };
            assert_ne!(Signature::of(&drawn), Signature::of(&other));
        }
    }

    #[test]
    fn a_roller_under_the_middle_is_not_one_under_the_end() {
        let mut random = Random::new(13);
        let mut drawn = arrangement::arrangement(&mut random, Topic::Determinate, Level::Easy);
        let support = |kind, x| GridSupport {
            kind,
            at: [x, 0, 0],
            along: [0, 1, 0],
            off: [0; 3],
        };
        drawn.loads = vec![GridLoad::Force {
            at: [6, 0, 0],
            force: [0, -100, 0],
        }];
        let mut of = |roller: i32| {
            drawn.supports = vec![
                support(GridSupportKind::Pin, 0),
                support(GridSupportKind::Roller, roller),
            ];
            Signature::of(&drawn)
        };
        assert_ne!(of(4), of(8));
        assert_eq!(of(8), of(12));
    }
}
