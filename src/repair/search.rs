//! The link among many that leaves the largest smallest singular value, and among those that do as well the most practical.

use nalgebra::Vector3;

use super::ends::{Ends, Way};
use super::field::Field;
use super::places::{Spot, Spots};
use super::polish::{Link, Polish};
use crate::scene::Space;

/// A link that a search has found.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub(super) spot: Spot,
    /// Ground end in the scene's length unit.
    pub(super) ground: [f64; 3],
}

/// A more practical link is taken when it is worse than the best by no more than this part.
const PLAINER: f64 = 0.015;
/// Links that leave less than this part of the best are not polished.
const HOPELESS: f64 = 0.5;
/// Starts of the local search, and how many of them are followed to the end.
const STARTS: usize = 8;
const FOLLOWED: usize = 2;
/// Shortest steps of the local search, relative to the body's size: of all starts, and of those followed to the end.
const COARSE: f64 = 0.02;
const FINE: f64 = 5e-4;
/// Starts are this far apart, relative to the body's size, or in direction by an angle of this cosine.
const APART: f64 = 0.1;
const ASKEW: f64 = 0.85;
/// Places, and directions at each, that are looked at for starts with a clear way.
const MOST_PLACES: usize = 300;
const MOST_WAYS: usize = 12;
/// A direction without small whole numbers counts as this odd.
const FREE: i64 = 8;

/// A search for one link.
pub(super) struct Search<'a> {
    pub(super) field: &'a Field,
    pub(super) spots: &'a Spots,
    pub(super) ends: &'a Ends<'a>,
    pub(super) space: Space,
    /// Whether only named points are tried.
    pub(super) named_only: bool,
}

/// The best of the plain directions at a spot.
struct Top {
    spot: usize,
    square: f64,
}

/// A link to be judged by how practical it is.
struct Candidate<'a> {
    oddness: i64,
    square: f64,
    spot: std::borrow::Cow<'a, Spot>,
    way: Way,
}

impl Search<'_> {
    /// The best link, or one a little worse and more practical; and how many were tried. `None` where none that has a clear
    /// way does any work on a free motion.
    pub(super) fn best(&self) -> (Option<Found>, usize) {
        let directions = directions(self.space);
        let units: Vec<Vector3<f64>> = directions.iter().map(unit).collect();
        let tops = self.scan(&units);
        let mut tried = self.spots.spots.len() * directions.len();
        let polish = Polish {
            field: self.field,
            ends: self.ends,
            spots: self.spots,
            space: self.space,
            fixed: self.named_only,
        };
        let mut links: Vec<Link> = Vec::new();
        for start in self.starts(&tops, &units) {
            let (link, more) = polish.best(start, COARSE);
            tried += more;
            links.push(link);
        }
        links.sort_by(|a, b| b.square.total_cmp(&a.square));
        links.truncate(FOLLOWED);
        for link in &mut links {
            let (better, more) = polish.best(*link, FINE);
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

    /// The best of the plain directions at every spot, of all spots the best first; spots that do no good are left out.
    fn scan(&self, units: &[Vector3<f64>]) -> Vec<Top> {
        let mut tops: Vec<Top> = Vec::new();
        let mut most = self.field.floor;
        for (spot, place) in self.spots.spots.iter().enumerate() {
            let hold = self.field.at(&place.point);
            let mut bar = most * (HOPELESS * HOPELESS);
            let (mut form, mut found) = (hold.form(bar), false);
            for unit in units {
                if bar + unit.dot(&(form * unit)) < 0.0 {
                    let square = hold.square(unit);
                    if square > bar {
                        bar = square;
                        form = hold.form(bar);
                        found = true;
                    }
                }
            }
            if found {
                most = most.max(bar);
                tops.push(Top { spot, square: bar });
            }
        }
        tops.sort_by(|a, b| b.square.total_cmp(&a.square));
        tops
    }

    /// Links to begin with: good ones that have a clear way and are apart from each other.
    fn starts(&self, tops: &[Top], units: &[Vector3<f64>]) -> Vec<Link> {
        let mut starts: Vec<Link> = Vec::new();
        let most = tops.first().map_or(0.0, |top| top.square);
        for top in tops.iter().take(MOST_PLACES) {
            let good_enough = top.square > most * (HOPELESS * HOPELESS);
            if starts.len() == STARTS || !good_enough {
                break;
            }
            let spot = &self.spots.spots[top.spot];
            let hold = self.field.at(&spot.point);
            let mut ways: Vec<Link> = units
                .iter()
                .map(|unit| Link {
                    point: spot.point,
                    unit: *unit,
                    square: hold.square(unit),
                })
                .filter(|link| link.square > self.field.floor)
                .collect();
            ways.sort_by(|a, b| b.square.total_cmp(&a.square));
            let is_new = |link: &&Link| starts.iter().all(|other| self.are_apart(link, other));
            let start = ways
                .iter()
                .take(MOST_WAYS)
                .filter(is_new)
                .find(|link| self.ends.can_leave(&link.point, &link.unit))
                .copied();
            starts.extend(start);
        }
        starts
    }

    fn are_apart(&self, link: &Link, other: &Link) -> bool {
        let apart = (link.point - other.point).norm() > APART * self.spots.size_in_metres();
        apart || link.unit.dot(&other.unit).abs() < ASKEW
    }

    /// Of the links beyond a bar the most practical that has a clear way; of equally practical ones the best.
    fn most_practical(
        &self,
        tops: &[Top],
        directions: &[[i64; 3]],
        links: &[Link],
        bar: f64,
    ) -> Option<Found> {
        let mut candidates: Vec<Candidate> = Vec::new();
        for top in tops.iter().take_while(|top| top.square >= bar) {
            let spot = &self.spots.spots[top.spot];
            candidates.extend(self.plain(std::borrow::Cow::Borrowed(spot), directions, bar));
        }
        for link in links.iter().filter(|link| link.square >= bar) {
            for spot in self.spots.near(&link.point, self.named_only) {
                let free = Candidate {
                    oddness: spot.oddness + FREE,
                    square: link.square,
                    spot: std::borrow::Cow::Owned(spot.clone()),
                    way: Way::Free(link.unit),
                };
                candidates.extend(self.plain(std::borrow::Cow::Owned(spot), directions, bar));
                candidates.push(free);
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
        spot: std::borrow::Cow<'s, Spot>,
        directions: &[[i64; 3]],
        bar: f64,
    ) -> Vec<Candidate<'s>> {
        let hold = self.field.at(&spot.point);
        let form = hold.form(bar);
        directions
            .iter()
            .filter(|direction| {
                let unit = unit(direction);
                bar + unit.dot(&(form * unit)) < 0.0
            })
            .map(|direction| Candidate {
                oddness: spot.oddness + direction.iter().map(|x| x.abs()).sum::<i64>(),
                square: hold.square(&unit(direction)),
                spot: spot.clone(),
                way: Way::Plain(*direction),
            })
            .collect()
    }

    /// The link with its ground end; `None` where no end is clear, or rounding it costs too much.
    fn fastened(&self, candidate: &Candidate, bar: f64) -> Option<Found> {
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
        Some(Found {
            spot: spot.clone().into_owned(),
            ground,
        })
    }
}

fn unit(direction: &[i64; 3]) -> Vector3<f64> {
    Way::Plain(*direction).unit()
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
