//! Moving, turning and scaling a whole scene.

use nalgebra::{Matrix3, Point3, Rotation3, Vector3};
use proptest::prelude::*;
use sixhold::scene::{
    Coordinates, Direction, ForceVector, Load, Moment, Place, Scene, Shape, Space, SupportKind,
};

/// A turn, then a shift, then a uniform scaling.
#[derive(Debug, Clone)]
pub(crate) struct Move {
    pub turn: Matrix3<f64>,
    shift: Vector3<f64>,
    pub scale: f64,
}

impl Move {
    /// The move that leaves everything where it is.
    pub(crate) fn none() -> Self {
        Self {
            turn: Matrix3::identity(),
            shift: Vector3::zeros(),
            scale: 1.0,
        }
    }

    pub(crate) fn point(&self, point: &Point3<f64>) -> Point3<f64> {
        Point3::from((self.turn * point.coords + self.shift) * self.scale)
    }
}

/// Quarter turns, whole shifts and whole scalings, which keep whole numbers whole.
pub(crate) fn whole_moves(space: Space) -> impl Strategy<Value = Move> {
    let turns = [0..4_usize, 0..4, 0..4];
    (turns, [-5..=5, -5..=5, -5..=5], 1..=4).prop_map(move |([x, y, z], shift, scale)| Move {
        turn: match space {
            Space::Spatial => {
                quarter(0).pow(x as u32) * quarter(1).pow(y as u32) * quarter(2).pow(z as u32)
            }
            Space::Planar => quarter(2).pow(z as u32),
        },
        shift: in_space(space, shift.map(f64::from)),
        scale: f64::from(scale),
    })
}

/// Any turn, shift and scaling.
pub(crate) fn any_moves(space: Space) -> impl Strategy<Value = Move> {
    let angles = [-3.0..3.0, -3.0..3.0, -3.0..3.0];
    (angles, [-9.0..9.0, -9.0..9.0, -9.0..9.0], -3.0..3.0_f64).prop_map(
        move |([x, y, z], shift, power)| Move {
            turn: match space {
                Space::Spatial => Rotation3::from_euler_angles(x, y, z).into_inner(),
                Space::Planar => Rotation3::from_axis_angle(&Vector3::z_axis(), z).into_inner(),
            },
            shift: in_space(space, shift),
            scale: 10_f64.powf(power),
        },
    )
}

fn in_space(space: Space, [x, y, z]: [f64; 3]) -> Vector3<f64> {
    match space {
        Space::Spatial => Vector3::new(x, y, z),
        Space::Planar => Vector3::new(x, y, 0.0),
    }
}

/// A quarter turn about a scene axis, in whole numbers.
fn quarter(axis: usize) -> Matrix3<f64> {
    let (from, to) = ((axis + 1) % 3, (axis + 2) % 3);
    let mut turn = Matrix3::zeros();
    turn[(axis, axis)] = 1.0;
    turn[(to, from)] = 1.0;
    turn[(from, to)] = -1.0;
    turn
}

/// The scene after a move. Loads turn along; their sizes stay.
pub(crate) fn moved(scene: &Scene, by: &Move) -> Scene {
    let mut scene = scene.clone();
    for support in &mut scene.supports {
        move_place(&mut support.at, by);
        move_kind(&mut support.kind, by);
    }
    for shape in &mut scene.body {
        let Shape::BentBar(bar) = shape else {
            unreachable!("the random bodies are bars");
        };
        bar.path.iter_mut().for_each(|place| move_place(place, by));
        bar.diameter *= by.scale;
    }
    scene.loads.iter_mut().for_each(|load| move_load(load, by));
    scene
}

fn move_place(place: &mut Place, by: &Move) {
    if let Place::At(coordinates) = place {
        let point = by.point(&Point3::from(coordinates.components()));
        replace(coordinates, point.coords);
    }
}

fn turn(direction: &mut Direction, by: &Move) {
    if let Direction::Along(coordinates) = direction {
        turn_vector(coordinates, by);
    }
}

fn turn_vector(coordinates: &mut Coordinates, by: &Move) {
    let turned = by.turn * Vector3::from(coordinates.components());
    replace(coordinates, turned);
}

fn replace(coordinates: &mut Coordinates, by: Vector3<f64>) {
    match coordinates {
        Coordinates::Plane(xy) => *xy = [by.x, by.y],
        Coordinates::Space(xyz) => *xyz = by.into(),
    }
}

fn move_kind(kind: &mut SupportKind, by: &Move) {
    use SupportKind::*;
    match kind {
        Hinge { axis, .. }
        | SlidingHinge { axis, .. }
        | JournalBearing { axis, .. }
        | ThrustBearing { axis, .. }
        | SquareJournal { axis, .. }
        | SmoothPin { axis, .. }
        | UniversalJoint { axis } => turn(axis, by),
        Slider { rod, .. } | Collar { rod } => turn(rod, by),
        RailWheel { rail, normal } => {
            turn(rail, by);
            turn(normal, by);
        }
        Roller { normal }
        | SmoothContact { normal }
        | RoughContact { normal, .. }
        | Rocker { normal } => {
            turn(normal, by);
        }
        Slot { along } => turn(along, by),
        Link { ground } | Cable { ground } => move_place(ground, by),
        BallJoint | Fixed | Pin => {}
        _ => unreachable!("a support that this test does not know"),
    }
}

fn move_load(load: &mut Load, by: &Move) {
    match load {
        Load::Force {
            at,
            force: ForceVector::Components(force),
        } => {
            move_place(at, by);
            turn_vector(force, by);
        }
        // A moment has a length in it.
        Load::Couple {
            moment: Moment::Space(components),
            ..
        } => *components = (by.turn * Vector3::from(*components) * by.scale).into(),
        Load::Couple {
            moment: Moment::Plane(about_z),
            ..
        } => *about_z *= by.scale,
        _ => unreachable!("the random loads are forces and couples"),
    }
}
