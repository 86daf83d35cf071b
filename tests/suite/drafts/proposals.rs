//! What single changes make of a scene.

use sixhold::draft::{
    Handle, Proposal, Reshaping, SceneItem, TurnableDirection, load_kinds, shape_kinds,
    support_kinds,
};
use sixhold::scene::{
    Coordinates, Direction, ForceVector, Load, Moment, Place, Scene, Space, Stiffness, SupportKind,
    json_schema, read_str, to_ron,
};
use sixhold::statics::SupportIndex;
use sixhold::study::Study;

const BOOM: &str = r#"(format: 1, points: {"B": (1.5, 0, 0)},
    body: [BentBar(path: [(0, 0, 0), "B"], diameter: 0.05)],
    supports: [Hinge(name: "A", at: (0, 0, 0), axis: Towards("B")), Cable(name: "C", at: "B", ground: (0, 0, 1))],
    loads: [Force(at: "B", force: (10, 20, -30)), Couple(moment: (1, 2, 3))])"#;

fn boom() -> Scene {
    read_str("boom", BOOM).expect("a scene").scene
}

fn at(x: f64, y: f64, z: f64) -> Place {
    Place::At(Coordinates::Space([x, y, z]))
}

#[test]
fn a_named_point_moves_everything_that_refers_to_it() {
    let proposal = Proposal::moved(&boom(), Handle::Ground(1), [0.0, 0.0, 1.25]).expect("a cable");
    assert_eq!(proposal.name, "moved the ground end of C by 0.25 m");
    let proposal =
        Proposal::moved(&boom(), Handle::Support(1), [1.5, 0.0, 0.5]).expect("a support");
    assert_eq!(proposal.name, "moved point B by 0.5 m");
    let scene = proposal.scene;
    assert_eq!(scene.points[0].at, Coordinates::Space([1.5, 0.0, 0.5]));
    assert_eq!(scene.supports[1].at, Place::Named("B".to_owned()));
    let study = Study::new(scene).expect("a model");
    let axis = study.model().supports[SupportIndex::new(0)]
        .orientation
        .expect("the axis of a hinge");
    assert!(
        (axis.z - 0.5 / 2.5_f64.sqrt()).abs() < 1e-12,
        "the hinge still points to B"
    );
}

/// What is imposed on a support follows its name and goes with it; a list of stiffnesses stays where it fits.
#[test]
fn renaming_and_removing_a_support_reach_what_is_imposed_on_it() {
    let text = BOOM.replace(
        "loads:",
        "imposed: [Prestress(support: \"C\", force: 50), Warming(by: 20, expansion: 1e-5)],
        cases: [(name: \"sunk\", loads: [], imposed: [Settlement(support: \"C\", moves_by: (0, 0, -0.1))])], loads:",
    );
    let boom = || read_str("boom", &text).expect("a scene").scene;
    let named = |scene: &Scene| {
        let own = scene.cases.iter().flat_map(|case| &case.imposed);
        let all = scene.imposed.iter().chain(own);
        let names = all.filter_map(|imposed| imposed.support().map(str::to_owned));
        names.collect::<Vec<_>>()
    };
    let renamed = Proposal::renamed(&boom(), SceneItem::Support(1), "Stay").expect("a support");
    assert_eq!(named(&renamed.scene), ["Stay", "Stay"]);
    let removed = Proposal::removed(&boom(), SceneItem::Support(1)).expect("a support");
    assert_eq!(named(&removed.scene), [""; 0]);
    assert_eq!(removed.scene.imposed.len(), 1, "the body is still warmed");
    let mut stiff = boom();
    stiff.supports[0].stiffness.forces = Some(Stiffness::Each(vec![1e6; 3]));
    let without = Proposal::with_couples(&stiff, 0, false).expect("a hinge");
    assert_eq!(
        without.scene.supports[0].stiffness,
        stiff.supports[0].stiffness
    );
    let contact = SupportKind::BallJoint;
    let made = Proposal::made(&stiff, 0, contact).expect("a support");
    assert_eq!(
        made.scene.supports[0].stiffness,
        stiff.supports[0].stiffness
    );
    let link = SupportKind::Link {
        ground: at(0.0, 0.0, 1.0),
    };
    let made = Proposal::made(&stiff, 0, link).expect("a support");
    assert!(made.scene.supports[0].stiffness.is_empty());
}

#[test]
fn renaming_and_removing_a_point_reach_every_reference() {
    let renamed = Proposal::renamed(&boom(), SceneItem::Point(0), "Tip").expect("a point");
    assert_eq!(
        to_ron(&renamed.scene),
        to_ron(
            &read_str("boom", &BOOM.replace("\"B\"", "\"Tip\""))
                .expect("a scene")
                .scene
        )
    );
    let removed = Proposal::removed(&boom(), SceneItem::Point(0)).expect("a point");
    assert!(!to_ron(&removed.scene).contains("\"B\""));
    let before = Study::new(boom()).expect("a model");
    let after = Study::new(removed.scene).expect("a model");
    assert_eq!(
        before.diagnosis().numeric.singular_values,
        after.diagnosis().numeric.singular_values
    );
}

#[test]
fn supports_change_their_kind_and_keep_their_direction() {
    let scene = boom();
    let kinds = support_kinds(
        &scene,
        [0.0; 3],
        [0.0, 0.0, 1.0],
        Some(&scene.supports[0].kind),
    );
    let bearing = kinds
        .into_iter()
        .find(|kind| matches!(kind, SupportKind::JournalBearing { .. }));
    let proposal =
        Proposal::made(&scene, 0, bearing.expect("a journal bearing")).expect("a support");
    assert_eq!(proposal.name, "made A a journal bearing");
    let towards = Direction::Towards(Place::Named("B".to_owned()));
    assert_eq!(
        proposal.scene.supports[0].kind.orientation(),
        Some(&towards)
    );
    let turned = Proposal::turned(
        &scene,
        TurnableDirection::Support(0),
        Direction::Along(Coordinates::Space([0.0, 1.0, 0.0])),
    );
    assert_eq!(turned.expect("an axis").name, "turned A by 90°");
    assert!(
        Proposal::turned(&scene, TurnableDirection::Support(1), towards).is_none(),
        "a cable points along itself"
    );
}

/// Every kind of the format can be chosen, and a scene that has one can be read, on a beam and on a bar in space.
#[test]
fn every_kind_of_support_load_and_shape_can_be_added() {
    for space in [Space::Planar, Space::Spatial] {
        let empty = Scene {
            space,
            ..Scene::default()
        };
        let shapes = shape_kinds(&empty, [0.5, 0.0, 0.0]);
        for shape in shapes.iter().cloned() {
            let scene = Proposal::with_shape(&empty, shape).scene;
            read_str("one shape", &to_ron(&scene)).unwrap_or_else(|error| panic!("{error}"));
        }
        let body = Proposal::with_shape(&empty, shapes[3].clone()).scene;
        let (position, along) = ([0.5, 0.0, 0.0], [0.0, 1.0, 0.0]);
        let place = Place::At(Coordinates::new(space, position));
        let kinds = support_kinds(&body, position, along, None);
        assert_eq!(kinds.len(), support_words(space), "{space:?}");
        for kind in kinds {
            let scene = Proposal::with_support(&body, kind, place.clone()).scene;
            let read =
                read_str("one support", &to_ron(&scene)).unwrap_or_else(|error| panic!("{error}"));
            assert!(Study::new(read.scene).is_ok(), "a model");
        }
        for load in load_kinds(&body, position) {
            let scene = Proposal::with_load(&body, load).scene;
            read_str("one load", &to_ron(&scene)).unwrap_or_else(|error| panic!("{error}"));
        }
    }
}

/// How many kinds of support the scene format has: seven for both spaces, four for the plane alone.
fn support_words(space: Space) -> usize {
    let schema = json_schema().to_string();
    let of_the_plane = ["Rocker", "Pin", "Slot", "Collar"];
    let both = [
        "Fixed",
        "Roller",
        "SmoothContact",
        "RoughContact",
        "Link",
        "Cable",
    ];
    let spatial = [
        "BallJoint",
        "AnchorPlate",
        "Hinge",
        "SlidingHinge",
        "JournalBearing",
        "ThrustBearing",
        "SquareJournal",
        "SmoothPin",
        "Slider",
        "UniversalJoint",
        "RailWheel",
    ];
    for word in of_the_plane.iter().chain(&both).chain(&spatial) {
        assert!(schema.contains(&format!("\"{word}\"")), "{word}");
    }
    match space {
        Space::Planar => of_the_plane.len() + both.len(),
        Space::Spatial => spatial.len() + both.len(),
    }
}

#[test]
fn new_supports_and_points_get_letters_that_are_free() {
    let first = Proposal::with_support(&boom(), SupportKind::BallJoint, at(0.5, 0.0, 0.0));
    assert_eq!(first.name, "added ball joint D");
    assert_eq!(
        Proposal::with_point(&first.scene, [0.0; 3]).name,
        "added point E"
    );
}

/// A force is mirrored as an arrow, a couple as the turn that it is (axial vector; Feynman, Lectures on Physics I, section
/// 52-5). The whole scene mirrored about its middle has the reactions of its mirror image.
#[test]
fn arrows_and_turns_are_mirrored_each_in_their_way() {
    let scene = boom();
    let force = Proposal::mirrored(
        &scene,
        SceneItem::Load(sixhold::draft::LoadId {
            case: None,
            index: 0,
        }),
        0,
    );
    let force = force.expect("a force").scene.loads.pop().expect("the copy");
    let Load::Force {
        at: place,
        force: ForceVector::Components(arrow),
    } = force
    else {
        panic!("{force:?}");
    };
    assert_eq!(
        (place, arrow.components()),
        (at(0.0, 0.0, 0.0), [-10.0, 20.0, -30.0])
    );
    let couple = Proposal::mirrored(
        &scene,
        SceneItem::Load(sixhold::draft::LoadId {
            case: None,
            index: 1,
        }),
        0,
    );
    let couple = couple
        .expect("a couple")
        .scene
        .loads
        .pop()
        .expect("the copy");
    assert!(
        matches!(
            couple,
            Load::Couple {
                moment: Moment::Space([1.0, -2.0, -3.0]),
                ..
            }
        ),
        "{couple:?}"
    );
    let cable = Proposal::mirrored(&scene, SceneItem::Support(1), 0).expect("a cable");
    assert_eq!(cable.name, "mirrored C across x");
    assert_eq!(
        cable.scene.supports[2].kind.ground(),
        Some(&at(1.5, 0.0, 1.0))
    );
}

#[test]
fn a_copy_stands_beside_what_it_is_a_copy_of() {
    let copy =
        Proposal::duplicated(&boom(), SceneItem::Support(1), [0.1, 0.0, 0.2]).expect("a cable");
    assert_eq!(copy.name, "duplicated C");
    let support = &copy.scene.supports[2];
    assert_eq!(
        (support.name.as_str(), &support.at),
        ("D", &at(1.6, 0.0, 0.2))
    );
    assert_eq!(support.kind.ground(), Some(&at(0.1, 0.0, 1.2)));
}

/// A bar could be dragged by its ends, but nobody could bend it.
#[test]
fn a_bar_is_bent_and_straightened_and_a_plate_gets_corners_and_holes() {
    let bent = Proposal::reshaped(&boom(), 0, Reshaping::Bend).expect("a bar");
    assert_eq!(bent.name, "gave the bent bar one more bend");
    assert!(to_ron(&bent.scene).contains("path: [(0, 0, 0), (0.75, 0, 0.375), \"B\"]"));
    assert!(Study::new(bent.scene.clone()).is_ok(), "a model");
    let straight = Proposal::reshaped(&bent.scene, 0, Reshaping::Straighten).expect("a bent bar");
    assert_eq!(straight.scene, boom());
    assert_eq!(
        Proposal::reshaped(&boom(), 0, Reshaping::Straighten),
        None,
        "a bar without bends"
    );

    let plate = r#"(format: 1, body: [Plate(corners: [(0, 0, 0), (2, 0, 0), (2, 1, 0), (0, 1, 0)], thickness: 0.02)],
        supports: [Fixed(name: "A", at: (0, 0, 0))])"#;
    let scene = read_str("plate", plate).expect("a scene").scene;
    let more = Proposal::reshaped(&scene, 0, Reshaping::Bend).expect("a plate");
    assert!(to_ron(&more.scene).contains("(1, -0.5, 0)"));
    let drilled = Proposal::reshaped(&scene, 0, Reshaping::Drill).expect("a plate");
    assert_eq!(drilled.name, "made a hole in the plate");
    assert!(to_ron(&drilled.scene).contains("centre: (1, 0.5, 0), diameter: 0.1"));
    for changed in [&more.scene, &drilled.scene] {
        read_str("plate", &to_ron(changed)).expect("a scene that can be read");
    }
    let filled = Proposal::reshaped(&drilled.scene, 0, Reshaping::Fill).expect("a hole");
    assert_eq!(filled.scene, scene);
}
