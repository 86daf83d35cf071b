//! Small scenes that the tests of this module put into words.

use crate::scene::read_str;
use crate::scene::{
    BarSection, BentBar, Coordinates, Direction, ForceVector, Load, Place, Scene, Shape, Space,
    Support, SupportKind,
};
use crate::statics::{Diagnosis, Model, Tolerance};
use crate::study::Study;

pub(crate) type Sample = (Model, Diagnosis);

/// All that is known of a sample.
pub(crate) fn study((model, _): Sample) -> Study {
    Study::of_model(model)
}

fn at(x: f64, y: f64, z: f64) -> Place {
    Place::At(Coordinates::Space([x, y, z]))
}

fn plane(x: f64, y: f64) -> Place {
    Place::At(Coordinates::Plane([x, y]))
}

fn support(name: &str, at: Place, kind: SupportKind) -> Support {
    Support {
        name: name.to_owned(),
        at,
        kind,
        stiffness: Default::default(),
        allowable: None,
    }
}

fn diagnosed(space: Space, supports: Vec<Support>, loads: Vec<Load>) -> Sample {
    let ends = match space {
        Space::Spatial => vec![at(0.0, 0.0, 0.0), at(2.0, 0.0, 0.0)],
        Space::Planar => vec![plane(0.0, 0.0), plane(2.0, 0.0)],
    };
    let scene = Scene {
        space,
        body: vec![Shape::BentBar(BentBar {
            path: ends,
            diameter: 0.1,
            bend_radius: None,
            section: BarSection::Solid,
        })],
        supports,
        loads,
        ..Scene::default()
    };
    let model = Model::new(&scene).unwrap();
    let diagnosis = Diagnosis::new(&model, Tolerance::default());
    (model, diagnosis)
}

fn downwards() -> Load {
    Load::Force {
        at: plane(1.0, 0.0),
        force: ForceVector::Components(Coordinates::Plane([0.0, -12.0])),
    }
}

fn roller_up() -> SupportKind {
    SupportKind::Roller {
        normal: Direction::Along(Coordinates::Plane([0.0, 1.0])),
    }
}

pub(crate) fn two_ball_joints() -> Sample {
    let joint = |name, x| support(name, at(x, 0.0, 0.0), SupportKind::BallJoint);
    diagnosed(
        Space::Spatial,
        vec![joint("A", 0.0), joint("B", 2.0)],
        vec![],
    )
}

pub(crate) fn slanted_ball_joints() -> Sample {
    let joint = |name, x, y, z| support(name, at(x, y, z), SupportKind::BallJoint);
    let joints = vec![joint("A", 0.0, 0.0, 0.0), joint("B", 2.0, 1.0, 0.5)];
    diagnosed(Space::Spatial, joints, vec![])
}

/// Two hyperboloid-like rings of three links each that all belong to one linear complex about z.
pub(crate) fn free_screw() -> Sample {
    // On the circle of radius r, forces with moment/force about z of −h: a line at radius r belongs to the
    // complex of pitch h when its tangential and axial parts stand as h·axial + r·tangential = 0.
    let link = |name: &str, x: f64, y: f64, radius: f64| {
        let ground = at(x - y / radius, y + x / radius, -radius);
        support(name, at(x, y, 0.0), SupportKind::Link { ground })
    };
    let ring = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)];
    let wide = [(2.0, 0.0), (0.0, 2.0), (-2.0, 0.0)];
    let inner = ring
        .iter()
        .zip(["a", "b", "c"])
        .map(|((x, y), n)| link(n, *x, *y, 1.0));
    let outer = wide
        .iter()
        .zip(["d", "e", "f"])
        .map(|((x, y), n)| link(n, *x, *y, 2.0));
    diagnosed(Space::Spatial, inner.chain(outer).collect(), vec![])
}

pub(crate) fn vertical_links() -> Sample {
    let place = [
        (0.0, 0.0),
        (2.0, 0.0),
        (2.0, 1.0),
        (0.0, 1.0),
        (1.0, 0.0),
        (1.0, 1.0),
    ];
    let links = place
        .iter()
        .zip(["a", "b", "c", "d", "e", "f"])
        .map(|((x, y), name)| {
            let ground = at(*x, *y, -1.0);
            support(name, at(*x, *y, 0.0), SupportKind::Link { ground })
        });
    diagnosed(Space::Spatial, links.collect(), vec![])
}

pub(crate) fn three_cables() -> Sample {
    let feet = [("a", 1.0, 0.0), ("b", -1.0, 1.0), ("c", -1.0, -1.0)];
    let cables = feet.iter().map(|(name, x, y)| {
        let ground = at(0.0, 0.0, 2.0);
        support(name, at(*x, *y, 0.0), SupportKind::Cable { ground })
    });
    diagnosed(Space::Spatial, cables.collect(), vec![])
}

pub(crate) fn hinged_hatch() -> Sample {
    let hinge = SupportKind::Hinge {
        axis: Direction::Along(Coordinates::Space([1.0, 0.0, 0.0])),
        couples: true,
    };
    diagnosed(
        Space::Spatial,
        vec![support("H", at(0.0, 0.0, 0.0), hinge)],
        vec![],
    )
}

pub(crate) fn swinging_beam() -> Sample {
    let pin = support("P", plane(0.0, 0.0), SupportKind::Pin);
    diagnosed(Space::Planar, vec![pin], vec![downwards()])
}

pub(crate) fn simple_beam() -> Sample {
    let pin = support("A", plane(0.0, 0.0), SupportKind::Pin);
    let roller = support("B", plane(2.0, 0.0), roller_up());
    diagnosed(Space::Planar, vec![pin, roller], vec![downwards()])
}

pub(crate) fn two_beam_pins() -> Sample {
    let pin = |name, x| support(name, plane(x, 0.0), SupportKind::Pin);
    diagnosed(
        Space::Planar,
        vec![pin("A", 0.0), pin("B", 2.0)],
        vec![downwards()],
    )
}

pub(crate) fn fixed_and_propped() -> Sample {
    let fixed = support("A", plane(0.0, 0.0), SupportKind::Fixed);
    let prop = support("B", plane(2.0, 0.0), roller_up());
    diagnosed(Space::Planar, vec![fixed, prop], vec![downwards()])
}

fn written(text: &str) -> Sample {
    let scene = read_str("sample", text).unwrap().scene;
    let model = Model::new(&scene).unwrap();
    let diagnosis = Diagnosis::new(&model, Tolerance::default());
    (model, diagnosis)
}

/// A beam on a pin and a roller beyond which the load acts; the roller stands the wrong way round for it.
pub(crate) fn pulled_roller() -> Sample {
    written(
        "(format: 1, space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)],
        supports: [Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (1, 0), normal: (0, -1))],
        loads: [Force(at: (2, 0), force: (0, -12))])",
    )
}

/// A cabinet on four feet, two of them rough, pushed near its top harder than its weight can balance.
pub(crate) fn tipping_cabinet() -> Sample {
    written(
        "(format: 1, body: [Block(centre: (0.3, 0.2, 0.9), size: (0.6, 0.4, 1.8))],
        supports: [
            SmoothContact(name: \"A\", at: (0, 0, 0), normal: (0, 0, 1)),
            RoughContact(name: \"B\", at: (0.6, 0, 0), normal: (0, 0, 1)),
            RoughContact(name: \"C\", at: (0.6, 0.4, 0), normal: (0, 0, 1)),
            SmoothContact(name: \"D\", at: (0, 0.4, 0), normal: (0, 0, 1)),
        ],
        loads: [Weight(mass: 40), Force(at: (0, 0.2, 1.7), force: (90, 0, 0))])",
    )
}

/// A beam with an overhang under three cases, of which two lift the far end.
pub(crate) fn beam_under_cases() -> Sample {
    written(
        "(format: 1, space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)],
        supports: [Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (1, 0), normal: (0, 1))],
        cases: [
            (name: \"snow\", loads: [Force(at: (1, 0), force: (0, -12))]),
            (name: \"hoist\", loads: [Force(at: (2, 0), force: (0, 7))]),
            (name: \"wind\", loads: [Force(at: (1, 0), force: (0, 5))]),
        ])",
    )
}
