//! Random scenes with every kind of support, on coordinates that people write.

use proptest::collection::vec;
use proptest::prelude::*;
use sixhold::scene::{
    Block, Coordinates, Direction, ForceVector, Load, Moment, Place, Scene, Shape, Space, Support,
    SupportKind,
};

type Triple = [f64; 3];

fn tenth(range: std::ops::Range<i32>) -> impl Strategy<Value = f64> {
    range.prop_map(|tenths| f64::from(tenths) / 10.0)
}

fn point() -> impl Strategy<Value = Triple> {
    [tenth(-10..11), tenth(-10..11), tenth(-10..11)]
}

fn direction() -> impl Strategy<Value = Triple> {
    prop_oneof![
        Just([1.0, 0.0, 0.0]),
        Just([0.0, 1.0, 0.0]),
        Just([0.0, 0.0, 1.0]),
        [tenth(-10..11), tenth(-10..11), tenth(-10..11)]
            .prop_filter("not zero", |d| d.iter().any(|x| x.abs() > 0.15)),
    ]
}

fn at(triple: Triple, space: Space) -> Coordinates {
    match space {
        Space::Spatial => Coordinates::Space(triple),
        Space::Planar => Coordinates::Plane([triple[0], triple[1]]),
    }
}

/// The kind of this number, with its direction and whether couples take part.
fn kind(
    number: usize,
    direction: Triple,
    couples: bool,
    from: Triple,
    space: Space,
) -> SupportKind {
    let along = |d: Triple| Direction::Along(at(d, space));
    let ground = Place::At(at(
        [0, 1, 2].map(|i| ((from[i] + direction[i]) * 10.0).round() / 10.0),
        space,
    ));
    if space == Space::Planar {
        return match number % 7 {
            0 => SupportKind::Pin,
            1 => SupportKind::Roller {
                normal: along(direction),
            },
            2 => SupportKind::Slot {
                along: along(direction),
            },
            3 => SupportKind::Collar {
                rod: along(direction),
            },
            4 => SupportKind::Fixed,
            5 => SupportKind::Cable { ground },
            _ => SupportKind::Link { ground },
        };
    }
    let axis = along(direction);
    match number % 12 {
        0 => SupportKind::BallJoint,
        1 => SupportKind::Hinge { axis, couples },
        2 => SupportKind::SlidingHinge { axis, couples },
        3 => SupportKind::ThrustBearing { axis, couples },
        4 => SupportKind::SquareJournal { axis, couples },
        5 => SupportKind::UniversalJoint { axis },
        6 => SupportKind::SmoothContact { normal: axis },
        7 => SupportKind::Cable { ground },
        8 => SupportKind::RoughContact {
            normal: axis,
            friction: None,
        },
        _ => SupportKind::Link { ground },
    }
}

fn supports(space: Space) -> impl Strategy<Value = Vec<Support>> {
    let one = (0usize..84, point(), direction(), any::<bool>());
    let most = if space == Space::Planar { 4 } else { 7 };
    vec(one, 1..most).prop_map(move |found| {
        let named = found.into_iter().enumerate();
        named
            .map(|(index, (number, place, mut along, couples))| {
                if space == Space::Planar && along[0] == 0.0 && along[1] == 0.0 {
                    along = [0.0, 1.0, 0.0];
                }
                Support {
                    name: char::from(b'A' + index as u8).to_string(),
                    at: Place::At(at(place, space)),
                    kind: kind(number, along, couples, place, space),
                    stiffness: Default::default(),
                    allowable: None,
                }
            })
            .collect()
    })
}

fn loads(space: Space) -> impl Strategy<Value = Vec<Load>> {
    let force =
        (point(), direction(), 1..50i32).prop_map(move |(place, along, size)| Load::Force {
            at: Place::At(at(place, space)),
            force: ForceVector::Components(at(along.map(|x| x * f64::from(size) * 10.0), space)),
        });
    let couple = (direction(), 1..50i32).prop_map(move |(about, size)| Load::Couple {
        moment: match space {
            Space::Planar => Moment::Plane(f64::from(size)),
            Space::Spatial => Moment::Space(about.map(|x| x * f64::from(size))),
        },
        at: None,
    });
    vec(prop_oneof![3 => force, 1 => couple], 1..4)
}

fn scene(space: Space) -> impl Strategy<Value = Scene> {
    (supports(space), loads(space)).prop_map(move |(supports, loads)| Scene {
        space,
        body: body(space),
        supports,
        loads,
        ..Scene::default()
    })
}

fn body(space: Space) -> Vec<Shape> {
    vec![Shape::Block(Block {
        centre: Place::At(at([0.0; 3], space)),
        size: [2.0; 3],
        lengthwise: None,
        upright: None,
    })]
}

/// A scene in space.
pub(crate) fn spatial() -> impl Strategy<Value = Scene> {
    scene(Space::Spatial)
}

/// A scene in the plane.
pub(crate) fn planar() -> impl Strategy<Value = Scene> {
    scene(Space::Planar)
}

/// A body on links, each from the body to the ground, under its own weight.
pub(crate) fn of_links(links: &[(Triple, Triple)]) -> Scene {
    let link = |(index, (from, to)): (usize, &(Triple, Triple))| Support {
        name: format!("L{index}"),
        at: Place::At(Coordinates::Space(*from)),
        kind: SupportKind::Link {
            ground: Place::At(Coordinates::Space(*to)),
        },
        stiffness: Default::default(),
        allowable: None,
    };
    Scene {
        body: body(Space::Spatial),
        supports: links.iter().enumerate().map(link).collect(),
        loads: vec![Load::Force {
            at: Place::At(Coordinates::Space([0.5, 0.4, 0.0])),
            force: ForceVector::Components(Coordinates::Space([0.0, 0.0, -100.0])),
        }],
        ..Scene::default()
    }
}
