//! Sets of reactions built to have each geometry, at random places.

use nalgebra::Rotation3;
use proptest::prelude::*;

use super::super::{Pencil, Reason};
use crate::statics::testing::Given;

use super::V;

/// A random frame to build in, and random numbers.
#[derive(Debug, Clone)]
pub(crate) struct Site {
    turn: Rotation3<f64>,
    shift: V,
    state: u64,
}

impl Site {
    fn new(seed: u64) -> Self {
        let mut site = Self {
            turn: Rotation3::identity(),
            shift: V::zeros(),
            state: seed,
        };
        let (turn, shift) = (site.vector() * 3.0, site.vector() * 5.0);
        Self {
            turn: Rotation3::new(turn),
            shift,
            ..site
        }
    }

    /// Between 0.2 and 1 with either sign: nothing is nearly special by chance of smallness.
    /// (Steele, Lea & Flood 2014, *Fast splittable pseudorandom number generators*.)
    pub(crate) fn number(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        let size = 0.2 + 0.8 * (mixed >> 12) as f64 / (1_u64 << 52) as f64;
        if mixed & 1 == 0 { size } else { -size }
    }

    pub(crate) fn vector(&mut self) -> V {
        V::new(self.number(), self.number(), self.number())
    }

    /// A force in the site's own axes.
    fn force(&self, point: V, direction: V) -> Given {
        let (p, d) = (self.turn * point + self.shift, self.turn * direction);
        Given::Force(p.into(), d.into())
    }

    fn couple(&self, direction: V) -> Given {
        Given::Couple((self.turn * direction).into())
    }
}

/// The site of a seed.
pub(crate) fn site(seed: u64) -> Site {
    Site::new(seed)
}

/// Numbers from a seed, which does not shrink: smaller seeds are no simpler, equal numbers would be special.
pub(crate) fn sites() -> impl Strategy<Value = Site> {
    any::<u64>().prop_map(Site::new).no_shrink()
}

pub(crate) fn several(count: usize, mut make: impl FnMut(usize) -> Given) -> Vec<Given> {
    (0..count).map(&mut make).collect()
}

/// A constructed set of reactions, the freedom it must leave, and what its reason must be.
pub(crate) struct ReasonCase {
    pub name: &'static str,
    pub given: Vec<Given>,
    pub freedom: usize,
    pub is: fn(&Reason) -> bool,
}

macro_rules! case {
    ($name:literal, $freedom:literal, $pattern:pat, $given:expr) => {
        ReasonCase {
            name: $name,
            given: $given,
            freedom: $freedom,
            is: |reason| matches!(reason, $pattern),
        }
    };
}

fn one_freedom(site: &mut Site) -> Vec<ReasonCase> {
    let z = V::z();
    let mut line = several(6, |_| {
        let (at, d) = (site.number(), site.vector());
        site.force(z * (3.0 * at), d)
    });
    let parallel = site.vector();
    line[5] = site.force(parallel, z);
    let hatch = {
        let mut hatch = several(4, |_| {
            let (at, d) = (site.number(), site.vector());
            site.force(z * (2.0 * at), d)
        });
        hatch.push(site.couple(V::x()));
        hatch.push(site.couple(V::y()));
        hatch
    };
    let planes = several(6, |_| {
        let (p, d) = (site.vector(), site.vector());
        site.force(p * 2.0, V::new(d.x, d.y, 0.0))
    });
    let pitch = 0.7;
    let complex = several(6, |_| {
        let (p, d) = (site.vector() * 2.0, site.vector());
        let velocity = z.cross(&p) + z * pitch;
        site.force(p, velocity.cross(&d))
    });
    vec![
        case!("a line", 1, Reason::MeetLine(_), line),
        case!(
            "a line and couples square to it",
            1,
            Reason::MeetLine(_),
            hatch
        ),
        case!("parallel planes", 1, Reason::SquareTo(_), planes),
        case!("a linear complex", 1, Reason::LinearComplex(..), complex),
    ]
}

fn two_freedoms(site: &mut Site) -> Vec<ReasonCase> {
    let z = V::z();
    let skew = several(5, |_| {
        let p = z * site.number();
        let q = V::new(1.0, 0.5, 0.3) + V::new(0.2, 1.0, 0.4) * site.number();
        site.force(p, q - p)
    });
    let tilted = V::new(0.6, 0.0, 0.8);
    let line_square = several(5, |_| {
        let (p, d) = (z * (2.0 * site.number()), site.vector());
        site.force(p, d - tilted * tilted.dot(&d))
    });
    let shaft = several(5, |i| {
        let p = z * (i as f64 + site.number());
        let d = V::new(site.number(), site.number(), 0.0);
        site.force(p, d)
    });
    let point_or_plane = several(6, |i| {
        let (p, d) = (site.vector(), site.vector());
        if i < 3 {
            site.force(d * 0.5, d)
        } else {
            site.force(V::new(p.x, p.y, 0.0), V::new(d.x, d.y, 0.0))
        }
    });
    let mut universal = several(3, |i| site.force(V::zeros(), V::ith(i, 1.0)));
    universal.push(site.couple(z));
    let fourth = site.vector();
    universal.push(site.force(V::zeros(), fourth));
    vec![
        case!("two skew lines", 2, Reason::MeetTwoLines(..), skew),
        case!(
            "a line, square to a direction",
            2,
            Reason::MeetLineSquareTo(..),
            line_square
        ),
        case!("a line at right angles", 2, Reason::CommonNormal(_), shaft),
        case!(
            "a point or a plane",
            2,
            Reason::PointOrPlane(_),
            point_or_plane
        ),
        case!("a universal joint", 2, Reason::PointOrPlane(_), universal),
    ]
}

/// Two freedoms with a line at infinity, with lines run together, or with none.
fn special_congruences(site: &mut Site) -> Vec<ReasonCase> {
    let z = V::z();
    let along_or_plane = several(6, |i| {
        let (p, d) = (site.vector(), site.vector());
        if i < 3 {
            site.force(p, V::x())
        } else {
            site.force(V::new(p.x, p.y, 0.0), V::new(d.x, d.y, 0.0))
        }
    });
    let mut pressed = vec![site.couple(z)];
    pressed.extend(several(4, |i| {
        let p = V::new(i as f64, (i * i) as f64, site.number());
        site.force(p, z)
    }));
    let touching = several(5, |i| {
        let s = i as f64 - 2.2 + 0.4 * site.number();
        let slant = site.number();
        site.force(z * s, z * slant + V::new(0.8, s, 0.0))
    });
    let touching_far = several(5, |i| {
        let height = i as f64 - 2.3 + 0.4 * site.number();
        let p = site.vector();
        site.force(V::new(p.x, p.y, height), V::new(height, 0.7, 0.0))
    });
    let screws = several(5, |_| {
        let p = site.vector() * 2.0;
        let first = V::x().cross(&p) + V::x() * 0.6;
        let second = V::y().cross(&p) + V::y() * 0.9;
        site.force(p, first.cross(&second))
    });
    vec![
        case!(
            "a direction or a plane",
            2,
            Reason::AlongOrInPlane(..),
            along_or_plane
        ),
        case!(
            "parallel forces and a couple",
            2,
            Reason::ParallelWithCouples(_),
            pressed
        ),
        case!("a double line", 2, Reason::Touching(_), touching),
        case!(
            "a double line at infinity",
            2,
            Reason::TouchingAtInfinity(_),
            touching_far
        ),
        case!("no line", 2, Reason::OnlyScrews, screws),
    ]
}

fn three_freedoms(site: &mut Site) -> Vec<ReasonCase> {
    let z = V::z();
    let star = several(4, |_| {
        let d = site.vector();
        site.force(V::new(0.1, 0.2, 0.3) + d * 1.5, d)
    });
    let mut plane = several(4, |_| {
        let (p, d) = (site.vector(), site.vector());
        site.force(V::new(p.x, p.y, 0.4), V::new(d.x, d.y, 0.0))
    });
    plane.push(site.couple(z));
    let mut parallel = several(4, |i| {
        let p = V::new(i as f64, (i * i) as f64 * 0.7, site.number());
        site.force(p, z)
    });
    parallel.push(site.couple(V::x()));
    let couples = several(4, |_| {
        let d = site.vector();
        site.couple(d)
    });
    // Straight lines of x² + y² − z² = 1, stretched, and of z = x y.
    let hyperboloid = several(5, |i| {
        let (sine, cosine) = (i as f64 * 1.1 + 0.2 * site.number()).sin_cos();
        let stretch = V::new(1.0, 1.6, 0.7);
        let p = V::new(cosine, sine, 0.0).component_mul(&stretch);
        site.force(p, V::new(-sine, cosine, 1.0).component_mul(&stretch))
    });
    let saddle = several(5, |i| {
        let x = i as f64 - 2.0 + 0.3 * site.number();
        site.force(V::new(x, 0.0, 0.0), V::new(0.0, 1.0, x))
    });
    // Both planes hold the line along x through both points.
    let two_pencils = several(5, |i| {
        let (a, b) = (site.number(), site.number());
        if i < 3 {
            site.force(V::zeros(), V::new(a, b, 0.0))
        } else {
            site.force(V::x(), V::new(a, 0.0, b))
        }
    });
    vec![
        case!("a point", 3, Reason::ThroughPoint(_), star),
        case!("a plane", 3, Reason::InPlane(_), plane),
        case!("parallels", 3, Reason::Parallel(_), parallel),
        case!("couples", 3, Reason::OnlyCouples, couples),
        case!("a hyperboloid", 3, Reason::Regulus(_), hyperboloid),
        case!("a saddle", 3, Reason::Regulus(_), saddle),
        case!("two pencils", 3, Reason::TwoPencils(_), two_pencils),
    ]
}

/// Two pencils with points or planes at infinity.
fn distant_pencils(site: &mut Site) -> Vec<ReasonCase> {
    let parallels = several(5, |i| {
        let (a, b) = (site.number(), site.number());
        if i < 3 {
            // Along x in the plane z = 0, and through the origin in the plane y = 0: both hold the x axis.
            site.force(V::new(0.0, i as f64, 0.0), V::x())
        } else {
            site.force(V::zeros(), V::new(a, 0.0, b))
        }
    });
    let mut flat = several(3, |i| {
        let y = i as f64;
        let x = site.number();
        site.force(V::new(x, y, 0.0), V::x())
    });
    // Their plane has the couple about z; with these it makes all couples square to one direction in it.
    flat.push(site.couple(V::new(0.8, -0.6, 0.5)));
    flat.push(site.couple(V::new(0.8, -0.6, -0.4)));
    vec![
        case!(
            "parallels and a pencil",
            3,
            Reason::TwoPencils(_),
            parallels
        ),
        case!("parallels and couples", 3, Reason::TwoPencils(_), flat),
    ]
}

fn more_freedoms(site: &mut Site) -> Vec<ReasonCase> {
    let z = V::z();
    let pencil = several(3, |_| {
        let d = V::new(site.number(), site.number(), 0.0);
        site.force(d * 0.3, d)
    });
    let mut parallel = several(3, |i| site.force(V::new(i as f64, 0.0, 0.0), z));
    parallel.push(site.couple(V::y()));
    let couples = several(3, |_| {
        let d = V::new(site.number(), site.number(), 0.0);
        site.couple(d)
    });
    let skew = several(3, |i| {
        let s = site.number();
        match i {
            0 => site.force(z * s, z),
            _ => site.force(V::new(1.0, s, 0.0), V::y()),
        }
    });
    let wrench = vec![
        site.couple(V::new(0.3, 0.0, 1.0)),
        site.force(V::zeros(), z),
        site.force(z, z),
    ];
    let line = several(3, |i| {
        let s = site.number() + i as f64;
        site.force(z * s, z * s.signum())
    });
    let couple = vec![site.couple(z), site.couple(-z)];
    vec![
        case!(
            "a flat pencil",
            4,
            Reason::OnePencil(Pencil::Through(_)),
            pencil
        ),
        case!(
            "flat parallels",
            4,
            Reason::OnePencil(Pencil::Along(..)),
            parallel
        ),
        case!(
            "flat couples",
            4,
            Reason::OnePencil(Pencil::SquareTo(_)),
            couples
        ),
        case!("two lines", 4, Reason::TwoLines(..), skew),
        case!(
            "a force and a couple",
            4,
            Reason::ForceAndCouple(..),
            wrench
        ),
        case!("one line", 5, Reason::OneLine(_), line),
        case!("one couple", 5, Reason::OneCouple(_), couple),
    ]
}

pub(crate) fn cases(site: &mut Site) -> Vec<ReasonCase> {
    let mut all = one_freedom(site);
    all.extend(two_freedoms(site));
    all.extend(special_congruences(site));
    all.extend(three_freedoms(site));
    all.extend(distant_pencils(site));
    all.extend(more_freedoms(site));
    all
}
