//! Finite motion under supports that act one way, to each side, against a plain search of placements: gaps as distances
//! between points and surfaces, closed as far as Gauss and Newton can. It knows no screws, ranks or self-stresses.

use std::fmt::Write as _;

use nalgebra::{DMatrix, DVector, Isometry3, Point3, Rotation3, Translation3, Vector3};
use proptest::prelude::*;
use sixhold::motion::{Mobility, Stop};
use sixhold::scene::read_str;
use sixhold::statics::{MotionIndex, ReactionIndex};
use sixhold::study::Study;
use sixhold::wording;

/// All that is known of a body, and what its one motion is.
struct Studied(Study);

impl Studied {
    fn new(text: &str) -> Self {
        let scene = read_str("test", text).expect("a sound scene").scene;
        Self(Study::new(scene).expect("a sound model"))
    }

    fn only(&self) -> &Mobility {
        let [only] = self.0.mobilities().motions.as_slice() else {
            panic!("not one motion: {:?}", self.0.diagnosis().counts);
        };
        only
    }

    fn said(&self) -> String {
        wording::mobility(
            self.0.model(),
            &self.0.diagnosis().free_motions[MotionIndex::FIRST],
            self.only(),
        )
        .to_string()
    }
}

/// A support of the tests, in space or in the plane z = 0.
#[derive(Debug, Clone)]
struct Prop {
    at: [f64; 3],
    hold: Hold,
}

#[derive(Debug, Clone, Copy)]
enum Hold {
    /// The point stays: a pin or ball joint.
    Point,
    /// A slot across a direction: the coordinate along it stays.
    Slot([f64; 3]),
    /// A contact with this normal.
    Contact([f64; 3]),
    /// A link to here.
    Link([f64; 3]),
    /// A cable to here.
    Cable([f64; 3]),
}

/// What a support keeps at zero, or, one way, from becoming negative.
struct Gap {
    one_way: bool,
    size: f64,
}

impl Prop {
    fn new(at: [f64; 3], hold: Hold) -> Self {
        Self { at, hold }
    }

    fn gaps(&self, place: &Isometry3<f64>) -> Vec<Gap> {
        let at = Point3::from(self.at);
        let moved = place * at;
        let along = |way: [f64; 3]| (moved - at).dot(&Vector3::from(way).normalize());
        let shortened =
            |end: [f64; 3]| (at - Point3::from(end)).norm() - (moved - Point3::from(end)).norm();
        let gap = |one_way, size| Gap { one_way, size };
        match self.hold {
            Hold::Point => (moved - at).iter().map(|off| gap(false, *off)).collect(),
            Hold::Slot(across) => vec![gap(false, along(across))],
            Hold::Contact(normal) => vec![gap(true, along(normal))],
            Hold::Link(end) => vec![gap(false, shortened(end))],
            Hold::Cable(end) => vec![gap(true, shortened(end))],
        }
    }

    fn written(&self, planar: bool, name: usize) -> String {
        let triple = |p: [f64; 3]| match planar {
            true => format!("({:?}, {:?})", p[0], p[1]),
            false => format!("({:?}, {:?}, {:?})", p[0], p[1], p[2]),
        };
        let (kind, rest) = match self.hold {
            Hold::Point if planar => ("Pin", String::new()),
            Hold::Point => ("BallJoint", String::new()),
            Hold::Slot([x, y, z]) => ("Slot", format!(", along: {}", triple([-y, x, z]))),
            Hold::Contact(normal) if planar => ("Roller", format!(", normal: {}", triple(normal))),
            Hold::Contact(normal) => ("SmoothContact", format!(", normal: {}", triple(normal))),
            Hold::Link(end) => ("Link", format!(", ground: {}", triple(end))),
            Hold::Cable(end) => ("Cable", format!(", ground: {}", triple(end))),
        };
        format!("{kind}(name: \"S{name}\", at: {}{rest})", triple(self.at))
    }
}

fn studied(planar: bool, props: &[Prop]) -> Studied {
    let order: Vec<usize> = (0..props.len()).collect();
    studied_in_order(planar, props, &order)
}

fn studied_in_order(planar: bool, props: &[Prop], order: &[usize]) -> Studied {
    let mut supports = String::new();
    for name in order {
        write!(supports, "{}, ", props[*name].written(planar, *name)).unwrap();
    }
    let (space, body) = match planar {
        true => ("planar", "Block(centre: (0, 0), size: (1, 1, 1))"),
        // The block is nowhere round, so that a contact keeps its point.
        false => ("spatial", "Block(centre: (0, 0, 0), size: (1, 1, 1))"),
    };
    Studied::new(&format!(
        "(format: 1, space: {space}, body: [{body}], supports: [{supports}])"
    ))
}

/// Coordinates of a placement: what it turns and moves the origin by.
fn placed(x: &DVector<f64>) -> Isometry3<f64> {
    let turn = Rotation3::from_scaled_axis(Vector3::new(x[0], x[1], x[2]));
    Isometry3::from_parts(Translation3::new(x[3], x[4], x[5]), turn.into())
}

/// How much the supports are broken: gaps that ought to be zero, and those that are negative.
fn broken(props: &[Prop], place: &Isometry3<f64>) -> DVector<f64> {
    let gaps = props.iter().flat_map(|prop| prop.gaps(place));
    let sizes = gaps.map(|gap| {
        if gap.one_way {
            gap.size.min(0.0)
        } else {
            gap.size
        }
    });
    DVector::from_vec(sizes.collect())
}

/// The least by which the supports are broken among placements near the start that have gone `amount` along a motion,
/// given by the coordinates it begins to change.
///
/// Levenberg's and Marquardt's method from several starts, with differences for derivatives.
fn least_broken(planar: bool, props: &[Prop], motion: &DVector<f64>, amount: f64) -> f64 {
    const H: f64 = 1e-6;
    let along = motion.normalize();
    let coordinates: &[usize] = if planar {
        &[2, 3, 4]
    } else {
        &[0, 1, 2, 3, 4, 5]
    };
    let axes = DMatrix::from_fn(6, coordinates.len(), |row, column| {
        f64::from(u8::from(coordinates[column] == row))
    });
    // Directions across the motion, as columns.
    let across = &axes - &along * along.tr_mul(&axes);
    let mut least = f64::INFINITY;
    for start in 0..5 {
        let jitter = DVector::from_fn(coordinates.len(), |row, _| {
            let phase = (row * 7 + start * 13) as f64;
            if start == 0 {
                0.0
            } else {
                phase.sin() * amount * amount * 2.0
            }
        });
        let mut x = &along * amount + &across * jitter;
        let (mut damping, mut now) = (1e-6, broken(props, &placed(&x)));
        for _ in 0..200 {
            let columns: Vec<DVector<f64>> = across
                .column_iter()
                .map(|way| {
                    let at = |h: f64| broken(props, &placed(&(&x + way * h)));
                    (at(H) - at(-H)) / (2.0 * H)
                })
                .collect();
            let slope = DMatrix::from_columns(&columns);
            let normal =
                slope.tr_mul(&slope) + DMatrix::identity(columns.len(), columns.len()) * damping;
            let Some(solver) = normal.cholesky() else {
                break;
            };
            let next = &x - &across * solver.solve(&slope.tr_mul(&now));
            let then = broken(props, &placed(&next));
            if then.norm() < now.norm() {
                (x, now) = (next, then);
                damping = (damping / 10.0).max(1e-14);
            } else {
                damping *= 10.0;
            }
            if now.norm() < 1e-15 || damping > 1e6 {
                break;
            }
        }
        if (&x - &along * amount).norm() <= ASIDE * amount * amount {
            least = least.min(now.norm());
        }
    }
    least
}

/// How far along a motion placements are sought, in coordinates of [`placed`], and how far aside of it,
/// relative to the square of that: what goes aside in proportion belongs to another motion.
const AMOUNTS: [f64; 2] = [0.001, 0.01];
const ASIDE: f64 = 10.0;
/// Placements that break the supports by less than this are allowed.
const ALLOWED: f64 = 1e-13;

/// Whether the one free motion is real, back and ahead.
struct Answers {
    told: [bool; 2],
    found: [bool; 2],
}

/// Both answers, where they are the same.
fn agreed(planar: bool, props: &[Prop]) -> Option<[bool; 2]> {
    let Answers { told, found } = answers(planar, props)?;
    assert_eq!(told, found, "{props:?}");
    Some(told)
}

/// What is said of the one free motion, held against the search; `None` unless there is one.
fn answers(planar: bool, props: &[Prop]) -> Option<Answers> {
    let studied = studied(planar, props);
    if studied.0.diagnosis().counts.freedom != 1 {
        return None;
    }
    let free = &studied.0.diagnosis().free_motions[MotionIndex::FIRST];
    let twist = &free.twist;
    let spin = twist.angular;
    let shift = twist.linear + spin.cross(&(Point3::origin() - studied.0.model().reference));
    let motion = DVector::from_iterator(6, spin.iter().chain(shift.iter()).copied());
    let least = |amount: f64| least_broken(planar, props, &motion, amount);
    let mobility = studied.only();
    let told = match mobility {
        Mobility::Real { path, .. } => {
            check_path(props, mobility);
            [path.end_back.stop, path.end_ahead.stop].map(|stop| stop != Stop::Blocked)
        }
        Mobility::InstantaneousOnly { .. } => [false; 2],
        other => panic!("an answer that this test does not know: {other:?}"),
    };
    let found =
        [-1.0, 1.0].map(|sense| AMOUNTS.iter().all(|amount| least(amount * sense) < ALLOWED));
    for (real, found) in told.into_iter().zip(found) {
        // A path proves itself; where there is none the search must not find one either.
        assert!(
            real || !found,
            "{} Yet the search finds a way.\n{props:?}",
            studied.said()
        );
    }
    Some(Answers { told, found })
}

/// Along a path no contact is entered and no cable longer, and what holds both ways is kept.
fn check_path(props: &[Prop], mobility: &Mobility) {
    let path = mobility.path().expect("a real motion");
    let [low, high] = mobility.range();
    for i in 0..=60 {
        let place = mobility.pose_at(low + (high - low) * f64::from(i) / 60.0);
        let off = broken(props, &place).amax();
        assert!(off < 1e-8, "broken by {off:e} at {i} of 60: {props:?}");
    }
    for (end, amount) in [(path.end_back, low), (path.end_ahead, high)] {
        if let Stop::Meets(_) = end.stop {
            let place = mobility.pose_at(amount);
            let gaps = props.iter().flat_map(|prop| prop.gaps(&place));
            let closed = gaps.filter(|gap| gap.one_way && gap.size.abs() < 1e-8);
            assert!(closed.count() > 0, "it meets nothing: {props:?}");
        }
    }
}

const O: [f64; 3] = [0.0; 3];
const B: [f64; 3] = [4.0, 0.0, 0.0];

/// The beam on a pin at (0, 0) with each support at (4, 0) that leaves the turn about the pin free at first. Its end
/// moves along x = 4 cos θ: away from a wall on the far side, into one on the near side. A cable is let go only by a ground
/// end beyond the pin.
#[test]
fn a_pinned_beam_falls_from_a_wall_that_only_pushes() {
    let cases = [
        (Hold::Contact([-1.0, 0.0, 0.0]), true),
        (Hold::Contact([1.0, 0.0, 0.0]), false),
        (Hold::Cable([5.0, 0.0, 0.0]), false),
        (Hold::Cable([3.0, 0.0, 0.0]), false),
        (Hold::Cable([-1.0, 0.0, 0.0]), true),
        (Hold::Link([5.0, 0.0, 0.0]), false),
        (Hold::Link([-1.0, 0.0, 0.0]), false),
        (Hold::Link(O), true),
        (Hold::Cable(O), true),
        (Hold::Slot([1.0, 0.0, 0.0]), false),
    ];
    for (hold, real) in cases {
        let props = [Prop::new(O, Hold::Point), Prop::new(B, hold)];
        assert_eq!(agreed(true, &props), Some([real; 2]), "{hold:?}");
    }
}

#[test]
fn what_the_body_leaves_is_said() {
    let beam = |support: &str| {
        Studied::new(&format!(
            "(format: 1, space: planar, body: [BentBar(path: [(0, 0), (4, 0)], diameter: 0.1)],
              supports: [Pin(name: \"A\", at: (0, 0)), {support}])"
        ))
    };
    let said = |support: &str| beam(support).said();
    let round = "A finite motion: the body can turn through a full revolution.";
    assert_eq!(
        said("Roller(name: \"B\", at: (4, 0), normal: (-1, 0))"),
        format!("{round} Contact is lost at B at the start, in either direction.")
    );
    assert_eq!(
        said("Cable(name: \"C\", at: (4, 0), ground: (-1, 0))"),
        format!("{round} C goes slack at the start, in either direction.")
    );
    assert_eq!(
        said(
            "Rocker(name: \"B\", at: (4, 0), normal: (-1, 0)), Cable(name: \"C\", at: (4, 0), ground: (-1, 0))"
        ),
        format!(
            "{round} Contact is lost at B, and C goes slack at the start, in either direction."
        )
    );
    let stopped = "Infinitesimal only: the supports block it at second order. Pretensioning the supports against one \
                   another would stiffen the body against it.";
    assert_eq!(
        said("Roller(name: \"B\", at: (4, 0), normal: (1, 0))"),
        stopped
    );
    assert_eq!(
        said("Cable(name: \"B\", at: (4, 0), ground: (5, 0))"),
        stopped
    );
}

/// A rough contact in the place of the pin: it grips while it touches, and the turn about it keeps it touching.
#[test]
fn a_beam_on_a_rough_edge_falls_from_a_wall_too() {
    let on_edge = |normal: &str| {
        Studied::new(&format!(
            "(format: 1, space: planar, body: [BentBar(path: [(0, 0), (4, 0)], diameter: 0.1)],
              supports: [RoughContact(name: \"A\", at: (0, 0), normal: (0, 1)),
              Roller(name: \"B\", at: (4, 0), normal: {normal})])"
        ))
    };
    assert!(on_edge("(-1, 0)").only().is_real());
    // Pushed off the edge and the wall at once it would go, had it no friction; so it stays.
    assert!(!on_edge("(1, 0)").only().is_real());
}

/// Three contacts whose lines meet in a point, from outside and from inside: a disc in a ring of points turns out of them, one that
/// fills a ring from within does not. (First-order form closure is the same for both: Rimon & Burdick 1998 call what
/// stops the second one a mobility index of zero.)
#[test]
fn three_concurrent_contacts_hold_by_their_curvature_only() {
    let at = |degrees: f64| {
        let (y, x) = degrees.to_radians().sin_cos();
        [x, y, 0.0]
    };
    for (sign, real) in [(-1.0, true), (1.0, false)] {
        let props: Vec<Prop> = [0.0, 120.0, 240.0]
            .map(|degrees| Prop::new(at(degrees), Hold::Contact(at(degrees).map(|x| x * sign))))
            .to_vec();
        assert_eq!(agreed(true, &props), Some([real; 2]));
    }
    let ring = studied(
        true,
        &[0.0, 120.0, 240.0]
            .map(|degrees| Prop::new(at(degrees), Hold::Contact(at(degrees).map(|x| -x)))),
    );
    assert!(
        ring.said()
            .ends_with("It could equally begin by releasing S1 or S2 instead."),
        "{}",
        ring.said()
    );
}

/// Two walls with the beam between: one is left, and the other stops the turn.
#[test]
fn a_second_wall_on_the_near_side_blocks() {
    let wall = |x: f64, sign: f64| Prop::new([x, 0.0, 0.0], Hold::Contact([sign, 0.0, 0.0]));
    let pin = || Prop::new(O, Hold::Point);
    assert_eq!(
        agreed(true, &[pin(), wall(4.0, -1.0), wall(2.0, -1.0)]),
        Some([true; 2])
    );
    assert_eq!(
        agreed(true, &[pin(), wall(4.0, -1.0), wall(2.0, 1.0)]),
        Some([false; 2])
    );
    assert_eq!(
        agreed(true, &[pin(), wall(4.0, -1.0), wall(-2.0, 1.0)]),
        Some([true; 2])
    );
}

/// A rod from a ball joint against a wall perpendicular to it, with two links or contacts that stop the other turns.
#[test]
fn a_rod_on_a_ball_joint_falls_from_a_wall_that_only_pushes() {
    // Held but for the turn about z.
    let base = || {
        vec![
            Prop::new(O, Hold::Point),
            Prop::new([2.0, 0.0, 0.0], Hold::Link([2.0, 0.0, 3.0])),
            Prop::new([0.0, 2.0, 0.0], Hold::Link([0.0, 2.0, 3.0])),
        ]
    };
    for (hold, real) in [
        (Hold::Contact([-1.0, 0.0, 0.0]), true),
        (Hold::Contact([1.0, 0.0, 0.0]), false),
        (Hold::Cable([5.0, 0.0, 0.0]), false),
        (Hold::Cable([-1.0, 0.0, 0.0]), true),
        (Hold::Link([5.0, 0.0, 0.0]), false),
    ] {
        let mut props = base();
        props.push(Prop::new(B, hold));
        assert_eq!(agreed(false, &props), Some([real; 2]), "{hold:?}");
    }
}

/// A point held in a corner of two contacts and at a link in line with one of them; a cable from there to another point of
/// the body. With all of them kept only the turn about the cable is real; where the contact may open, the corner can move
/// along t (1, 1, 1) and give the cable what a turn across it asks for.
#[test]
fn a_contact_that_opens_gives_a_cable_room() {
    let corner = [0.0, -2.0, 0.0];
    let props = [
        Prop::new(corner, Hold::Contact([-1.0, 1.0, 0.0])),
        Prop::new(corner, Hold::Contact([-1.0, 0.0, 1.0])),
        Prop::new([0.0, -1.0, 0.0], Hold::Cable([0.0, 0.0, 0.0])),
        Prop::new(corner, Hold::Link([-1.0, -1.0, 0.0])),
    ];
    let studied = studied(false, &props);
    assert_eq!(studied.0.mobilities().motions.len(), 3);
    let turns = studied.0.diagnosis().free_motions.iter();
    for (motion, mobility) in turns.zip(&studied.0.mobilities().motions) {
        check_path(&props, mobility);
        let about_both = motion.direction.y.abs() > 0.999;
        let leaves = mobility.path().expect("a real motion").leaves();
        let expected = if about_both {
            vec![]
        } else {
            vec![ReactionIndex::new(0)]
        };
        assert_eq!(leaves, [expected.clone(), expected], "{motion:?}");
    }
}

/// A point of a coupler where its way has no curvature, on a surface along that way: the gap grows with the cube of the
/// step, so that the body leaves the surface to one side and would enter it to the other.
#[test]
fn at_an_inflection_a_contact_blocks_one_side_alone() {
    // Links from (0, 0) and (4, 0) with their eyes at a and b.
    let (a, b) = (Vector3::new(1.0, 2.0, 0.0), Vector3::new(4.5, 2.5, 0.0));
    let ends = [Vector3::zeros(), Vector3::new(4.0, 0.0, 0.0)];
    // Turning at 1 rad/s about where the links meet; a's acceleration has the part of the turn and that of a spin-up.
    let cross = |u: &Vector3<f64>, v: &Vector3<f64>| u.x * v.y - u.y * v.x;
    let [first, second] = [a - ends[0], b - ends[1]];
    let s = cross(&(ends[1] - ends[0]), &second) / cross(&first, &second);
    let centre = ends[0] + first * s;
    let z = Vector3::z();
    let velocity = |p: &Vector3<f64>| z.cross(&(p - centre));
    // Acceleration of p: a0 + spin z × (p − centre) − (p − centre); each link asks for (p − g)·acc = −|v|².
    let rows = DMatrix::from_fn(2, 2, |row, column| {
        if row == 0 {
            first[column]
        } else {
            second[column]
        }
    });
    let wanted = DVector::from_iterator(
        2,
        [(a, first), (b, second)]
            .map(|(p, arm)| -velocity(&p).norm_squared() + arm.dot(&(p - centre))),
    );
    // With no spin-up, which adds only along the way itself.
    let base = rows
        .lu()
        .solve(&wanted)
        .expect("links that are not parallel");
    let base = Vector3::new(base[0], base[1], 0.0);
    // On the circle of inflection (p − centre) · acc = 0: (p − centre)·base = |p − centre|².
    let arm = |direction: Vector3<f64>| direction * direction.dot(&base);
    let point = centre + arm(Vector3::new(0.6, -0.8, 0.0));
    let normal = point - centre;
    let props = |sign: f64| {
        [
            Prop::new(a.into(), Hold::Link(ends[0].into())),
            Prop::new(b.into(), Hold::Link(ends[1].into())),
            Prop::new(point.into(), Hold::Contact((normal * sign).into())),
        ]
    };
    let one = agreed(true, &props(1.0)).expect("one motion");
    let other = agreed(true, &props(-1.0)).expect("one motion");
    assert!(
        one[0] != one[1] && one[0] == other[1] && one[1] == other[0],
        "{one:?} {other:?}"
    );
    let found = studied(true, &props(1.0));
    // The reaction of S2 is the third.
    let leaves = found.only().path().expect("a real motion").leaves();
    assert_eq!(
        leaves,
        one.map(|real| if real {
            vec![ReactionIndex::new(2)]
        } else {
            vec![]
        })
    );
    let said = found.said();
    let start = ["anticlockwise", "clockwise"]
        .map(|sense| format!("A finite motion in one sense only, {sense}, where contact is lost at S2; the other sense is blocked. Traced for"));
    assert!(start.iter().any(|start| said.starts_with(start)), "{said}");
}

fn whole(range: std::ops::RangeInclusive<i32>) -> impl Strategy<Value = f64> {
    range.prop_map(f64::from)
}

/// A support at a point whose line of action goes through another.
fn pointing_at(
    at: Vector3<f64>,
    to: Vector3<f64>,
    kind: usize,
    reach: f64,
    planar: bool,
) -> Option<Prop> {
    let way = at - to;
    let end = at + way * reach;
    (way.norm() > 0.5 && (end - at).norm() > 0.3).then_some(())?;
    Some(Prop::new(
        at.into(),
        match kind {
            0 | 1 => Hold::Contact(way.into()),
            2 | 3 => Hold::Contact((-way).into()),
            4 | 5 => Hold::Cable(end.into()),
            6 if planar => Hold::Slot(way.into()),
            _ => Hold::Link(end.into()),
        },
    ))
}

/// Bodies of the plane on two to four supports whose lines meet in one point, the pin of some of them.
fn concurrent() -> impl Strategy<Value = Vec<Prop>> {
    let support = (
        whole(-4..=4),
        whole(-4..=4),
        0..8_usize,
        prop_oneof![-3.0..-0.2, 0.3..2.0],
    );
    let pin = any::<bool>();
    (
        proptest::collection::vec(support, 2..=4),
        pin,
        whole(-1..=1),
        whole(-1..=1),
    )
        .prop_filter_map("supports of some length", |(supports, pin, x, y)| {
            let centre = Vector3::new(x, y, 0.0);
            let props = supports.into_iter().map(|(x, y, kind, reach)| {
                pointing_at(Vector3::new(x, y, 0.0), centre, kind, reach, true)
            });
            let pin = pin.then(|| Some(Prop::new(centre.into(), Hold::Point)));
            pin.into_iter().chain(props).collect()
        })
}

/// Bodies on a ball joint and two to four supports whose lines all meet the z axis.
fn meeting_an_axis() -> impl Strategy<Value = Vec<Prop>> {
    let point = (whole(-3..=3), whole(-3..=3), whole(-3..=3));
    let support = (
        point,
        whole(-3..=3),
        0..8_usize,
        prop_oneof![-3.0..-0.2, 0.3..2.0],
    );
    proptest::collection::vec(support, 2..=4).prop_filter_map(
        "supports of some length",
        |supports| {
            let props = supports
                .into_iter()
                .map(|((x, y, z), height, kind, reach)| {
                    pointing_at(
                        Vector3::new(x, y, z),
                        Vector3::new(0.0, 0.0, height),
                        kind,
                        reach,
                        false,
                    )
                });
            std::iter::once(Some(Prop::new(O, Hold::Point)))
                .chain(props)
                .collect()
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn concurrent_supports_of_the_plane_agree_with_a_search_of_placements(props in concurrent()) {
        answers(true, &props);
    }

    /// What is real does not depend on the order in which the supports are written, nor which of them is left.
    #[test]
    fn the_order_of_the_supports_does_not_matter(props in prop_oneof![concurrent(), meeting_an_axis()]) {
        let planar = props.iter().all(|prop| prop.at[2] == 0.0);
        prop_assume!(planar || props[0].at == O);
        let names: Vec<usize> = (0..props.len()).collect();
        let backwards: Vec<usize> = names.iter().rev().copied().collect();
        let [first, second] = [names, backwards].map(|order| {
            let studied = studied_in_order(planar, &props, &order);
            (studied.0.diagnosis().counts.freedom == 1).then(|| {
                let mobility = studied.only();
                // The positive sense of a motion is its direction's, which the order does not change.
                let leaves = mobility.path().map(|path| path.leaves().map(|left| {
                    let mut names: Vec<String> = left.iter().map(|j| studied.0.model().reactions[*j].name.clone()).collect();
                    names.sort();
                    names
                }));
                (mobility.is_real(), mobility.senses(), leaves)
            })
        });
        prop_assert_eq!(first, second);
    }

    #[test]
    fn supports_that_meet_an_axis_agree_with_a_search_of_placements(props in meeting_an_axis()) {
        answers(false, &props);
    }
}
