//! Random scenes of small whole numbers: any supports, and links of specially degenerate families.

use proptest::collection::vec;
use proptest::prelude::*;
use sixhold::scene::{
    BarSection, BentBar, Coordinates, Direction, ForceVector, Load, Moment, Place, Scene, Shape,
    Space, Support, SupportKind,
};

type Triple = [i32; 3];

/// A body end and a ground end.
type Rod = (Triple, Triple);

fn triple() -> impl Strategy<Value = Triple> {
    [-3..=3, -3..=3, -3..=3]
}

fn direction() -> impl Strategy<Value = Triple> {
    triple().prop_filter("a direction has length", |d| *d != [0; 3])
}

fn add(a: Triple, b: Triple) -> Triple {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

fn times(a: Triple, factor: i32) -> Triple {
    a.map(|x| x * factor)
}

fn flat(a: Triple) -> Triple {
    [a[0], a[1], 0]
}

/// Lines that have something in common.
fn family() -> impl Strategy<Value = Vec<Rod>> {
    let lengths = 0..=10_usize;
    let from_and_along = || (triple(), direction());
    prop_oneof![
        // All through a point.
        (triple(), vec(direction(), lengths.clone())).prop_map(|(centre, rods)| {
            let rod = |d| (add(centre, d), add(centre, times(d, 2)));
            rods.into_iter().map(rod).collect()
        }),
        // All parallel.
        (direction(), vec(triple(), lengths.clone())).prop_map(|(along, points)| {
            let rod = |p| (p, add(p, along));
            points.into_iter().map(rod).collect()
        }),
        // All in one plane.
        vec(from_and_along(), lengths.clone()).prop_map(|rods| {
            let rod = |(p, d)| (flat(p), add(flat(p), flat(d)));
            rods.into_iter().map(rod).collect()
        }),
        // All in parallel planes.
        vec(from_and_along(), lengths.clone()).prop_map(|rods| {
            let rod = |(p, d)| (p, add(p, flat(d)));
            rods.into_iter().map(rod).collect()
        }),
        // All meet a line.
        (from_and_along(), vec((triple(), -3..=3), lengths.clone())).prop_map(
            |((origin, along), rods)| {
                let rod = |(p, t)| (p, add(origin, times(along, t)));
                rods.into_iter().map(rod).collect()
            }
        ),
        // All meet two skew lines.
        vec((-4..=4, -4..=4), lengths.clone()).prop_map(|rods| {
            let rod = |(t, s)| ([t, 0, 0], [0, s, 1]);
            rods.into_iter().map(rod).collect()
        }),
        // One regulus of the surface z = xy.
        vec(-4..=4, lengths.clone()).prop_map(|rods| {
            let rod = |a: i32| ([a, 0, 0], [a, 1, a]);
            rods.into_iter().map(rod).collect()
        }),
        // A linear complex: no work on the turn about z with unit advance.
        vec((triple(), -2..=2, -2..=2), lengths).prop_map(|rods| {
            let rod = |(p, x, y): (Triple, i32, i32)| (p, add(p, [x, y, p[1] * x - p[0] * y]));
            rods.into_iter().map(rod).collect()
        }),
    ]
    .prop_map(|rods: Vec<Rod>| rods.into_iter().filter(|(at, to)| at != to).collect())
}

/// A support of any kind of a space.
fn any_support(space: Space) -> impl Strategy<Value = Support> {
    let flatten = move |a: Triple| match space {
        Space::Planar => flat(a),
        Space::Spatial => a,
    };
    let crosswise = |(_, a, b, ..): &(_, Triple, Triple, _, _)| {
        let parallel = (0..3).all(|i| a[i] * b[(i + 1) % 3] == a[(i + 1) % 3] * b[i]);
        !parallel && flat(*a) != [0; 3]
    };
    (
        triple(),
        direction(),
        direction(),
        any::<bool>(),
        0..20_usize,
    )
        .prop_filter("a wheel stands across its rail", crosswise)
        .prop_map(move |(at, along, across, couples, kind)| {
            let (at, along) = (flatten(at), flatten(along));
            let ground = place(space, add(at, along));
            let direction = |d| Direction::Along(coordinates(space, d));
            let kinds = kinds(direction(along), direction(across), couples, ground);
            let mut possible = kinds
                .into_iter()
                .filter(|kind| kind.exists_in(space))
                .cycle();
            support(
                space,
                at,
                possible.nth(kind).expect("both spaces have kinds"),
            )
        })
}

/// Every kind of support, once.
fn kinds(along: Direction, across: Direction, couples: bool, ground: Place) -> Vec<SupportKind> {
    use SupportKind::*;
    let (axis, normal, rod) = (along.clone(), along.clone(), along.clone());
    let (n, a) = (|| normal.clone(), || axis.clone());
    vec![
        BallJoint,
        Hinge { axis: a(), couples },
        SlidingHinge { axis: a(), couples },
        JournalBearing { axis: a(), couples },
        ThrustBearing { axis: a(), couples },
        SquareJournal { axis: a(), couples },
        SmoothPin { axis: a(), couples },
        Slider {
            rod: rod.clone(),
            couples,
        },
        UniversalJoint { axis: a() },
        RailWheel {
            rail: rod.clone(),
            normal: across,
        },
        Fixed,
        Roller { normal: n() },
        SmoothContact { normal: n() },
        RoughContact {
            normal: n(),
            friction: None,
        },
        Link {
            ground: ground.clone(),
        },
        Cable { ground },
        Rocker { normal: n() },
        Pin,
        Slot { along },
        Collar { rod },
    ]
}

fn coordinates(space: Space, [x, y, z]: Triple) -> Coordinates {
    let [x, y, z] = [x, y, z].map(f64::from);
    match space {
        Space::Spatial => Coordinates::Space([x, y, z]),
        Space::Planar => Coordinates::Plane([x, y]),
    }
}

fn place(space: Space, at: Triple) -> Place {
    Place::At(coordinates(space, at))
}

fn support(space: Space, at: Triple, kind: SupportKind) -> Support {
    Support {
        name: String::new(),
        at: place(space, at),
        kind,
        stiffness: Default::default(),
        allowable: None,
    }
}

/// Up to ten links of a family and up to five supports of any kind, in any mixture.
fn supports(space: Space) -> impl Strategy<Value = Vec<Support>> {
    let rods = move |rods: Vec<Rod>| {
        let ends = rods.into_iter().map(move |(at, to)| match space {
            Space::Planar => (flat(at), flat(to)),
            Space::Spatial => (at, to),
        });
        let link = |(at, to)| {
            support(
                space,
                at,
                SupportKind::Link {
                    ground: place(space, to),
                },
            )
        };
        ends.filter(|(at, to)| at != to)
            .map(link)
            .collect::<Vec<_>>()
    };
    prop_oneof![
        vec(any_support(space), 0..=5),
        family().prop_map(rods),
        (family().prop_map(rods), vec(any_support(space), 0..=2))
            .prop_map(|(links, more)| links.into_iter().chain(more).collect()),
    ]
}

fn loads(space: Space) -> impl Strategy<Value = Vec<Load>> {
    let force = (triple(), triple()).prop_map(move |(at, force)| Load::Force {
        at: place(space, at),
        force: ForceVector::Components(coordinates(space, force)),
    });
    let couple = triple().prop_map(move |moment| Load::Couple {
        moment: match space {
            Space::Spatial => Moment::Space(moment.map(f64::from)),
            Space::Planar => Moment::Plane(f64::from(moment[2])),
        },
        at: None,
    });
    vec(prop_oneof![force, couple], 0..=3)
}

/// A scene of small whole numbers in a space.
pub(crate) fn scenes(space: Space) -> impl Strategy<Value = Scene> {
    (supports(space), loads(space)).prop_map(move |(mut supports, loads)| {
        for (index, support) in supports.iter_mut().enumerate() {
            support.name = format!("S{index}");
        }
        let path = [[-1, 0, 2], [2, 1, 0], [4, 4, 1]].map(|at| place(space, at));
        Scene {
            space,
            body: vec![Shape::BentBar(BentBar {
                path: path.to_vec(),
                diameter: 0.5,
                bend_radius: None,
                section: BarSection::Solid,
            })],
            supports,
            loads,
            ..Scene::default()
        }
    })
}

/// So many times a load.
pub(crate) fn scale(load: &mut Load, factor: f64) {
    let times = |x: &mut f64| *x *= factor;
    match load {
        Load::Force {
            force: ForceVector::Components(Coordinates::Space(all)),
            ..
        } => all.iter_mut().for_each(times),
        Load::Force {
            force: ForceVector::Components(Coordinates::Plane(all)),
            ..
        } => all.iter_mut().for_each(times),
        Load::Couple {
            moment: Moment::Plane(about_z),
            ..
        } => times(about_z),
        Load::Couple {
            moment: Moment::Space(all),
            ..
        } => all.iter_mut().for_each(times),
        other => panic!("these scenes have no {other:?}"),
    }
}
