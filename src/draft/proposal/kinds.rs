//! What there is to choose from: every kind of support, load and shape, ready to be put somewhere.

use super::super::decimal::tidy;
use super::{coordinates, tenth};
use crate::scene::{
    AnchorPattern, AnchorPlate, BarSection, BentBar, Block, Bracket, Coordinates, Direction, Disc,
    ForceVector, Heaviness, Load, Moment, Place, Plate, Scene, Shaft, Shape, Space, SupportKind,
    units,
};

/// Every kind of support that exists in the scene's space, for a support at a position.
///
/// Where one takes the place of another kind, it points where that did and ends where that did. Otherwise axes and rails lie along
/// `along`, normals too, and links and cables end two tenths of the scene's size behind the position, against `along`.
pub fn support_kinds(
    scene: &Scene,
    position: [f64; 3],
    along: [f64; 3],
    like: Option<&SupportKind>,
) -> Vec<SupportKind> {
    let given = Direction::Along(coordinates(scene, along));
    let direction = like
        .and_then(SupportKind::orientation)
        .cloned()
        .unwrap_or(given);
    let second = like.and_then(SupportKind::second_orientation).cloned();
    let across = Direction::Along(coordinates(scene, across(along)));
    let reach = 2.0 * tenth(scene);
    let behind = std::array::from_fn(|i| tidy(position[i] - reach * along[i]));
    let behind = Place::At(coordinates(scene, behind));
    let ground = like
        .and_then(SupportKind::ground)
        .cloned()
        .unwrap_or(behind);
    let couples = true;
    let (axis, normal, rod) = (&direction, &direction, &direction);
    let all = [
        SupportKind::BallJoint,
        SupportKind::Hinge {
            axis: axis.clone(),
            couples,
        },
        SupportKind::SlidingHinge {
            axis: axis.clone(),
            couples,
        },
        SupportKind::JournalBearing {
            axis: axis.clone(),
            couples,
        },
        SupportKind::ThrustBearing {
            axis: axis.clone(),
            couples,
        },
        SupportKind::SquareJournal {
            axis: axis.clone(),
            couples,
        },
        SupportKind::SmoothPin {
            axis: axis.clone(),
            couples,
        },
        SupportKind::Slider {
            rod: rod.clone(),
            couples,
        },
        SupportKind::UniversalJoint { axis: axis.clone() },
        SupportKind::RailWheel {
            rail: second.as_ref().map_or(across, |_| direction.clone()),
            normal: second.unwrap_or(direction.clone()),
        },
        SupportKind::Fixed,
        SupportKind::AnchorPlate {
            normal: normal.clone(),
            plate: Box::new(AnchorPlate {
                size: [2.0 * tenth(scene); 2],
                upright: None,
                anchors: AnchorPattern::Grid {
                    columns: 2,
                    rows: 2,
                    spacing: [tenth(scene); 2],
                },
                pull_stiffness: None,
                bedding: None,
            }),
        },
        SupportKind::Roller {
            normal: normal.clone(),
        },
        SupportKind::SmoothContact {
            normal: normal.clone(),
        },
        SupportKind::RoughContact {
            normal: normal.clone(),
            friction: None,
        },
        SupportKind::Link {
            ground: ground.clone(),
        },
        SupportKind::Cable { ground },
        SupportKind::Rocker {
            normal: normal.clone(),
        },
        SupportKind::Pin,
        SupportKind::Slot {
            along: direction.clone(),
        },
        SupportKind::Collar { rod: rod.clone() },
    ];
    all.into_iter()
        .filter(|kind| kind.exists_in(scene.space))
        .collect()
}

/// Every kind of load, at a position: sizes to begin with, to be written over.
pub fn load_kinds(scene: &Scene, position: [f64; 3]) -> Vec<Load> {
    let at = Place::At(coordinates(scene, position));
    let down = |size: f64| {
        let mut vector = [0.0; 3];
        vector[scene.space.axes() - 1] = -size;
        coordinates(scene, vector)
    };
    let mut beside = position;
    beside[0] = tidy(beside[0] + 2.0 * tenth(scene));
    let moment = match scene.space {
        Space::Planar => Moment::Plane(10.0),
        Space::Spatial => Moment::Space([0.0, 0.0, 10.0]),
    };
    vec![
        Load::Force {
            at: at.clone(),
            force: ForceVector::Components(down(100.0)),
        },
        Load::Couple {
            moment,
            at: Some(at.clone()),
        },
        Load::Distributed {
            from: at.clone(),
            to: Place::At(coordinates(scene, beside)),
            start: down(100.0),
            end: None,
        },
        Load::Weight {
            amount: Heaviness::Mass(10.0),
            at: Some(at),
            gravity: units::STANDARD_GRAVITY,
        },
    ]
}

/// Every shape, centred at a position, of a size that suits the scene.
pub fn shape_kinds(scene: &Scene, centre: [f64; 3]) -> Vec<Shape> {
    let unit = tenth(scene);
    let place = |x: f64, y: f64, z: f64| {
        let offset = match scene.space {
            Space::Spatial => [x, y, z],
            Space::Planar => [x, if y == 0.0 { z } else { y }, 0.0],
        };
        Place::At(coordinates(
            scene,
            std::array::from_fn(|i| tidy(centre[i] + unit * offset[i])),
        ))
    };
    let middle = place(0.0, 0.0, 0.0);
    let axis = (scene.space == Space::Spatial)
        .then_some(Direction::Along(Coordinates::Space([0.0, 0.0, 1.0])));
    vec![
        Shape::BentBar(BentBar {
            path: vec![
                place(-2.0, 0.0, 0.0),
                place(0.0, 0.0, 0.0),
                place(0.0, 0.0, 2.0),
            ],
            diameter: tidy(unit / 5.0),
            bend_radius: None,
            section: BarSection::Solid,
        }),
        Shape::Plate(Plate {
            corners: vec![
                place(-2.0, -1.0, 0.0),
                place(2.0, -1.0, 0.0),
                place(2.0, 1.0, 0.0),
                place(-2.0, 1.0, 0.0),
            ],
            thickness: tidy(unit / 5.0),
            holes: Vec::new(),
        }),
        Shape::Bracket(Bracket {
            corner: middle.clone(),
            legs: [place(2.0, 0.0, 0.0), place(0.0, 0.0, 2.0)],
            width: unit,
            thickness: tidy(unit / 5.0),
            gusset: 0.0,
        }),
        Shape::Shaft(Shaft {
            from: place(-2.0, 0.0, 0.0),
            to: place(2.0, 0.0, 0.0),
            diameter: tidy(unit / 5.0),
        }),
        Shape::Disc(Disc {
            centre: middle.clone(),
            axis,
            diameter: 2.0 * unit,
            thickness: tidy(unit / 5.0),
            bore: 0.0,
            groove: 0.0,
        }),
        Shape::Block(Block {
            centre: middle,
            size: [2.0 * unit, unit, unit],
            lengthwise: None,
            upright: None,
        }),
    ]
}

/// A coordinate axis across a direction.
fn across(along: [f64; 3]) -> [f64; 3] {
    let least = |a: &usize, b: &usize| along[*a].abs().total_cmp(&along[*b].abs());
    let axis = (0..3).min_by(least).unwrap_or(0);
    std::array::from_fn(|i| if i == axis { 1.0 } else { 0.0 })
}
