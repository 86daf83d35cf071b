//! The link among many that leaves the largest smallest singular value, and among those that do as well the most practical.

use std::borrow::Cow;
use std::collections::HashSet;

use nalgebra::{Point3, Vector3};

use super::ends::{Ends, LinkWay};
use super::eye_places::{EyePlace, EyePlaces};
use super::field::HeldField;
use super::polish::{Polish, TrialLink};
use crate::scene::Space;

/// A link that a search has found.
#[derive(Debug, Clone)]
pub(super) struct FoundLink {
    pub(super) spot: EyePlace,
    /// Ground end in the scene's length unit.
    pub(super) ground: [f64; 3],
}

/// A more practical link is taken when it is worse than the best by no more than this part.
const PLAINER: f64 = 0.015;
/// Places at which no link leaves more than this part of the best are not looked at any further.
const HOPELESS: f64 = 0.7;
/// Starts of the local search, and how many of them are followed to the end.
const STARTS: usize = 8;
const FOLLOWED: usize = 2;
/// Steps of the local search, relative to the body's size: the first, the shortest of all starts, and the shortest of those
/// that are followed to the end.
const WIDEST: f64 = 0.1;
const COARSE: f64 = 0.02;
const FINE: f64 = 5e-4;
/// Starts, and links that are followed to the end, are this far apart, relative to the body's size.
const APART: f64 = 0.1;
/// Places, and plain directions at each, that are looked at for starts with a clear way.
const MOST_PLACES: usize = 300;
const MOST_WAYS: usize = 12;
/// A direction without small whole numbers counts as this odd.
const FREE: i64 = 8;

/// A search for one link.
pub(super) struct LinkSearch<'a> {
    pub(super) field: &'a HeldField,
    pub(super) spots: &'a EyePlaces,
    pub(super) ends: &'a Ends<'a>,
    pub(super) space: Space,
    /// Whether only named points are tried.
    pub(super) named_only: bool,
}

/// A spot with its best direction, and the square of what a link along it leaves.
struct BestDirection {
    spot: usize,
    unit: Vector3<f64>,
    square: f64,
}

/// A link to be judged by how practical it is.
struct LinkCandidate<'a> {
    oddness: i64,
    square: f64,
    spot: Cow<'a, EyePlace>,
    way: LinkWay,
}

impl LinkSearch<'_> {
    /// The best link, or one a little worse and more practical; and how many were tried. `None` where none that has a clear
    /// way does any work on a free motion.
    pub(super) fn best(&self) -> (Option<FoundLink>, usize) {
        let directions = directions(self.space);
        let units: Vec<Vector3<f64>> = directions.iter().map(unit).collect();
        let tops = self.scan();
        let mut tried = self.spots.spots.len();
        let polish = Polish {
            field: self.field,
            ends: self.ends,
            spots: self.spots,
            space: self.space,
            fixed: self.named_only,
        };
        let mut links: Vec<TrialLink> = Vec::new();
        for start in self.starts(&tops, &units) {
            let (link, more) = polish.best(start, WIDEST, COARSE);
            tried += more;
            links.push(link);
        }
        links.sort_by(|a, b| b.square.total_cmp(&a.square));
        let mut links = links.into_iter().fold(Vec::new(), |mut apart, link| {
            if self.is_apart(&link.point, &apart) {
                apart.push(link);
            }
            apart
        });
        links.truncate(FOLLOWED);
        for link in &mut links {
            let (better, more) = polish.best(*link, COARSE, FINE);
            tried += more;
            *link = better;
        }
        let most = links.iter().map(|link| link.square).fold(0.0, f64::max);
        let found = (most > self.field.floor).then(|| {
            let bar = most * (1.0 - PLAINER).powi(2);
            self.most_practical(&tops, &directions, &links, bar)
        });
        (found.flatten(), tried)
    }

    /// The best direction at every spot, of all spots the best first; spots that do little good are left out.
    fn scan(&self) -> Vec<BestDirection> {
        let mut tops: Vec<BestDirection> = Vec::new();
        let mut most = self.field.floor;
        for (spot, place) in self.spots.spots.iter().enumerate() {
            let hold = self.field.at(&place.point);
            let bar = (most * (HOPELESS * HOPELESS)).max(self.field.floor);
            if let Some((unit, square)) = hold.best(bar) {
                most = most.max(square);
                tops.push(BestDirection { spot, unit, square });
            }
        }
        tops.sort_by(|a, b| b.square.total_cmp(&a.square));
        tops
    }

    /// Links to begin with: good ones that have a clear way, at places apart from each other.
    fn starts(&self, tops: &[BestDirection], units: &[Vector3<f64>]) -> Vec<TrialLink> {
        let mut starts: Vec<TrialLink> = Vec::new();
        for top in tops.iter().take(MOST_PLACES) {
            if starts.len() == STARTS {
                break;
            }
            let point = &self.spots.spots[top.spot].point;
            if self.is_apart(point, &starts) {
                starts.extend(self.start(top, units));
            }
        }
        starts
    }

    fn is_apart(&self, point: &Point3<f64>, others: &[TrialLink]) -> bool {
        let room = APART * self.spots.size_in_metres();
        let mut others = others.iter();
        others.all(|other| (other.point - point).norm() > room)
    }

    /// The best link at a spot that has a clear way: along its best direction, or else along a plain one.
    fn start(&self, top: &BestDirection, units: &[Vector3<f64>]) -> Option<TrialLink> {
        let spot = &self.spots.spots[top.spot];
        let link = |unit: Vector3<f64>, square: f64| TrialLink {
            point: spot.point,
            unit,
            square,
        };
        let can_leave = |link: &TrialLink| self.ends.can_leave(&link.point, &link.unit);
        let best = link(top.unit, top.square);
        if can_leave(&best) {
            return Some(best);
        }
        let hold = self.field.at(&spot.point);
        let mut plain: Vec<TrialLink> = units
            .iter()
            .map(|unit| link(*unit, hold.square(unit)))
            .filter(|link| link.square > self.field.floor)
            .collect();
        plain.sort_by(|a, b| b.square.total_cmp(&a.square));
        plain.into_iter().take(MOST_WAYS).find(can_leave)
    }

    /// Of the links beyond a bar the most practical that has a clear way; of equally practical ones the best.
    fn most_practical(
        &self,
        tops: &[BestDirection],
        directions: &[[i64; 3]],
        links: &[TrialLink],
        bar: f64,
    ) -> Option<FoundLink> {
        let mut candidates: Vec<LinkCandidate> = Vec::new();
        let mut seen = HashSet::new();
        let mut is_new = |spot: &EyePlace| seen.insert(spot.written.map(f64::to_bits));
        let tops: Vec<&EyePlace> = tops
            .iter()
            .take_while(|top| top.square >= bar)
            .map(|top| &self.spots.spots[top.spot])
            .collect();
        for spot in tops.iter().filter(|spot| is_new(spot)) {
            candidates.extend(self.plain(Cow::Borrowed(*spot), directions, bar));
        }
        let rounder = |spot: &&EyePlace| self.spots.rounder(&spot.point, self.named_only);
        for spot in tops.iter().flat_map(rounder).filter(&mut is_new) {
            candidates.extend(self.plain(Cow::Owned(spot), directions, bar));
        }
        for link in links.iter().filter(|link| link.square >= bar) {
            for spot in self.spots.near(&link.point, self.named_only) {
                candidates.push(LinkCandidate {
                    oddness: spot.oddness + FREE,
                    square: link.square,
                    spot: Cow::Owned(spot.clone()),
                    way: LinkWay::Free(link.unit),
                });
                if is_new(&spot) {
                    candidates.extend(self.plain(Cow::Owned(spot), directions, bar));
                }
            }
        }
        candidates.sort_by(|a, b| {
            let oddness = a.oddness.cmp(&b.oddness);
            oddness.then_with(|| b.square.total_cmp(&a.square))
        });
        candidates
            .iter()
            .find_map(|candidate| self.fastened(candidate, bar))
    }

    /// Plain directions at a spot that are beyond the bar.
    fn plain<'s>(
        &self,
        spot: Cow<'s, EyePlace>,
        directions: &[[i64; 3]],
        bar: f64,
    ) -> Vec<LinkCandidate<'s>> {
        let hold = self.field.at(&spot.point);
        let form = hold.form(bar);
        directions
            .iter()
            .filter(|direction| {
                let unit = unit(direction);
                bar + unit.dot(&(form * unit)) < 0.0
            })
            .map(|direction| LinkCandidate {
                oddness: spot.oddness + direction.iter().map(|x| x.abs()).sum::<i64>(),
                square: hold.square(&unit(direction)),
                spot: spot.clone(),
                way: LinkWay::Plain(*direction),
            })
            .collect()
    }

    /// The link with its ground end; `None` where no end is clear, or rounding it costs too much.
    fn fastened(&self, candidate: &LinkCandidate, bar: f64) -> Option<FoundLink> {
        let spot = &candidate.spot;
        let hold = self.field.at(&spot.point);
        let is_good = |ground: &[f64; 3]| {
            let along = Vector3::from(*ground) - Vector3::from(spot.written);
            let beyond = along
                .try_normalize(0.0)
                .is_some_and(|unit| hold.square(&unit) >= bar);
            beyond && self.ends.are_clear(spot, ground)
        };
        let ground = self
            .ends
            .of(spot, &candidate.way)
            .into_iter()
            .find(is_good)?;
        Some(FoundLink {
            spot: spot.clone().into_owned(),
            ground,
        })
    }
}

fn unit(direction: &[i64; 3]) -> Vector3<f64> {
    LinkWay::Plain(*direction).unit()
}

/// Largest whole number in a direction, in space and in the plane.
const LARGEST: i64 = 3;
const LARGEST_IN_PLANE: i64 = 6;

/// Lines of directions in small whole numbers without a common divisor, one of the two senses of each.
fn directions(space: Space) -> Vec<[i64; 3]> {
    let (most, deep) = match space {
        Space::Spatial => (LARGEST, LARGEST),
        Space::Planar => (LARGEST_IN_PLANE, 0),
    };
    let mut all = Vec::new();
    for x in -most..=most {
        for y in -most..=most {
            for z in -deep..=deep {
                let first = [x, y, z].into_iter().find(|c| *c != 0);
                let common = divisor(divisor(x.abs(), y.abs()), z.abs());
                if common == 1 && first.is_some_and(|c| c > 0) {
                    all.push([x, y, z]);
                }
            }
        }
    }
    all
}

fn divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { divisor(b, a % b) }
}
