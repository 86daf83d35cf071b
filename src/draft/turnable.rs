//! The directions of a scene that can be turned.

use nalgebra::Vector3;

use super::place::{Handle, LoadId, SceneItem};
use crate::scene::{
    AreaAmount, Block, Coordinates, Direction, Disc, ForceVector, LineAmount, Load, Moment, Scene,
    Shape, Space, SupportKind,
};

/// The first edge of a block where none is written, in the plane and in space.
static ALONG_X: [Direction; 2] = [
    Direction::Along(Coordinates::Plane([1.0, 0.0])),
    Direction::Along(Coordinates::Space([1.0, 0.0, 0.0])),
];
/// Its third edge, in space.
static ALONG_Z: Direction = Direction::Along(Coordinates::Space([0.0, 0.0, 1.0]));

/// What stands for the first edge of a block that has none written.
fn along_x(space: Space) -> &'static Direction {
    let [plane, spatial] = &ALONG_X;
    match space {
        Space::Planar => plane,
        Space::Spatial => spatial,
    }
}

/// A direction of a scene that can be turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TurnableDirection {
    /// Axis, rod, rail, slot or normal of a support.
    Support(usize),
    /// The normal of a wheel on a rail.
    Normal(usize),
    /// The axis of a disc, or the first edge of a block.
    Shape(usize),
    /// The third edge of a block, upright unless written.
    Upright(usize),
    /// A force given by size and direction.
    Load(LoadId),
    /// A force, a couple or a distributed load given by components.
    Vector(LoadId),
}

impl TurnableDirection {
    /// Every direction of a thing.
    pub fn of(thing: SceneItem, scene: &Scene) -> Vec<Self> {
        let all = match thing {
            SceneItem::Support(index) => vec![Self::Support(index), Self::Normal(index)],
            SceneItem::Load(load) => vec![Self::Load(load), Self::Vector(load)],
            SceneItem::Shape(index) => vec![Self::Shape(index), Self::Upright(index)],
            SceneItem::Point(_) => Vec::new(),
        };
        let exists = |aim: &Self| aim.way(scene).is_some();
        all.into_iter().filter(exists).collect()
    }

    /// The thing that points there.
    pub fn thing(self) -> SceneItem {
        match self {
            Self::Support(index) | Self::Normal(index) => SceneItem::Support(index),
            Self::Shape(index) | Self::Upright(index) => SceneItem::Shape(index),
            Self::Load(load) | Self::Vector(load) => SceneItem::Load(load),
        }
    }

    /// The direction as written, or that which is meant where none is; `None` where the scene has none there, and of what is
    /// given by components.
    pub fn direction(self, scene: &Scene) -> Option<&Direction> {
        match self {
            Self::Support(index) => scene.supports.get(index)?.kind.orientation(),
            Self::Normal(index) => scene.supports.get(index)?.kind.second_orientation(),
            Self::Shape(index) => match scene.body.get(index)? {
                Shape::Disc(disc) => disc.axis.as_ref(),
                Shape::Block(block) => {
                    let usual = along_x(scene.space);
                    Some(block.lengthwise.as_ref().unwrap_or(usual))
                }
                _ => None,
            },
            Self::Upright(index) => match (scene.body.get(index)?, scene.space) {
                (Shape::Block(block), Space::Spatial) => block.upright.as_ref().or(Some(&ALONG_Z)),
                _ => None,
            },
            Self::Load(load) => match load.of(scene)? {
                Load::Force {
                    force: ForceVector::Directed { direction, .. },
                    ..
                } => Some(direction),
                _ => None,
            },
            Self::Vector(_) => None,
        }
    }

    pub(super) fn direction_mut(self, scene: &mut Scene) -> Option<&mut Direction> {
        match self {
            Self::Support(index) => scene.supports.get_mut(index)?.kind.orientation_mut(),
            Self::Normal(index) => match &mut scene.supports.get_mut(index)?.kind {
                SupportKind::RailWheel { normal, .. } => Some(normal),
                _ => None,
            },
            Self::Shape(index) => match scene.body.get_mut(index)? {
                Shape::Disc(disc) => disc.axis.as_mut(),
                Shape::Block(block) => {
                    let usual = along_x(scene.space);
                    Some(block.lengthwise.get_or_insert_with(|| usual.clone()))
                }
                _ => None,
            },
            Self::Upright(index) => match scene.body.get_mut(index)? {
                Shape::Block(block) => Some(block.upright.get_or_insert_with(|| ALONG_Z.clone())),
                _ => None,
            },
            Self::Load(load) => match load.of_mut(scene)? {
                Load::Force {
                    force: ForceVector::Directed { direction, .. },
                    ..
                } => Some(direction),
                _ => None,
            },
            Self::Vector(_) => None,
        }
    }

    /// Where it begins: a position from the scene's datum, in its length unit.
    pub fn from(self, scene: &Scene) -> Option<[f64; 3]> {
        match self {
            Self::Support(index) | Self::Normal(index) => Handle::Support(index).position(scene),
            Self::Shape(index) | Self::Upright(index) => {
                let centre = match scene.body.get(index)? {
                    Shape::Disc(Disc { centre, .. }) | Shape::Block(Block { centre, .. }) => centre,
                    _ => return None,
                };
                scene.position(centre)
            }
            Self::Load(load) | Self::Vector(load) => Handle::Load(load).position(scene),
        }
    }

    /// Where it points, a unit vector in the scene's axes; `None` where it points nowhere, or begins nowhere.
    pub fn way(self, scene: &Scene) -> Option<Vector3<f64>> {
        let from = self.from(scene)?;
        match self {
            Self::Vector(load) => components(load.of(scene)?)?.try_normalize(0.0),
            _ => Some(self.sense(scene) * resolved(scene, from, self.direction(scene)?)?),
        }
    }

    /// 1, or −1 of a force of negative size, which points against its direction as written.
    pub(super) fn sense(self, scene: &Scene) -> f64 {
        let load = match self {
            Self::Load(load) => load.of(scene),
            _ => None,
        };
        match load {
            Some(Load::Force {
                force: ForceVector::Directed { size, .. },
                ..
            }) => size.signum(),
            _ => 1.0,
        }
    }
}

/// The unit vector of a direction that begins at a position; `None` of one without length.
pub(super) fn resolved(
    scene: &Scene,
    from: [f64; 3],
    direction: &Direction,
) -> Option<Vector3<f64>> {
    let way = match direction {
        Direction::Along(components) => Vector3::from(components.components()),
        Direction::Towards(place) => Vector3::from(scene.position(place)?) - Vector3::from(from),
        Direction::Angle(degrees) => {
            let (sine, cosine) = degrees.to_radians().sin_cos();
            Vector3::new(cosine, sine, 0.0)
        }
    };
    way.try_normalize(0.0)
}

/// What a load points along where components say so: of a distributed load those of its beginning, or of its end where it
/// begins with nothing.
fn components(load: &Load) -> Option<Vector3<f64>> {
    let vector = |components: &Coordinates| Vector3::from(components.components());
    match load {
        Load::Force {
            force: ForceVector::Components(components),
            ..
        } => Some(vector(components)),
        Load::Couple {
            moment: Moment::Space(xyz),
            ..
        } => Some(Vector3::from(*xyz)),
        Load::Distributed { start, end, .. } => match (vector(start), end) {
            (begin, Some(end)) if begin == Vector3::zeros() => Some(vector(end)),
            (begin, _) => Some(begin),
        },
        Load::Line {
            amount: LineAmount::Force(density),
            ..
        }
        | Load::Area {
            amount: AreaAmount::Force(density),
            ..
        } => Some(vector(density)),
        _ => None,
    }
}

/// Turns what a load has in components, so that it points along a unit vector; sizes stay.
pub(super) fn turn_components(load: &mut Load, to: &Vector3<f64>) -> Option<()> {
    let now = components(load)?.try_normalize(0.0)?;
    let turned = |vector: Vector3<f64>| -> [f64; 3] { about(&now, to, &vector).into() };
    let turn = |components: &mut Coordinates| {
        let all = turned(Vector3::from(components.components()));
        match components {
            Coordinates::Plane(xy) => *xy = [all[0], all[1]],
            Coordinates::Space(xyz) => *xyz = all,
        }
    };
    match load {
        Load::Force {
            force: ForceVector::Components(components),
            ..
        } => turn(components),
        Load::Couple {
            moment: Moment::Space(xyz),
            ..
        } => *xyz = turned(Vector3::from(*xyz)),
        Load::Distributed { start, end, .. } => {
            turn(start);
            end.iter_mut().for_each(turn);
        }
        Load::Line {
            amount: LineAmount::Force(density),
            ..
        }
        | Load::Area {
            amount: AreaAmount::Force(density),
            ..
        } => turn(density),
        _ => return None,
    }
    Some(())
}

/// Digits that turned components keep of their size.
const DIGITS: i32 = 7;

/// A vector turned as one unit vector is to another; what lies along the first lies exactly along the second.
fn about(from: &Vector3<f64>, to: &Vector3<f64>, vector: &Vector3<f64>) -> Vector3<f64> {
    /// Sine of the angle up to which two vectors are along each other.
    const ALONG: f64 = 1e-9;
    let size = vector.norm();
    if size == 0.0 {
        return *vector;
    }
    let turned = if vector.cross(from).norm() <= ALONG * size {
        to * vector.dot(from).signum() * size
    } else {
        let turn = nalgebra::Rotation3::rotation_between(from, to);
        // Half a turn has no axis of its own.
        turn.map_or(-vector, |turn| turn * vector)
    };
    let step = 10_f64.powi(size.log10().floor() as i32 + 1 - DIGITS);
    turned.map(|x| super::snap::on_grid(x, step))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::Proposal;
    use crate::scene::read_str;

    fn jib() -> Scene {
        let text = r#"(format: 1, points: {"B": (1, 1, 0)}, body: [BentBar(path: [(0, 0, 0), (2, 0, 0)], diameter: 0.05)],
            supports: [Hinge(name: "A", at: (0, 0, 0), axis: (0, 1, 0)), Slider(name: "C", at: (1, 0, 0), rod: Towards("B")),
                BallJoint(name: "D", at: (2, 0, 0))],
            loads: [Force(at: (2, 0, 0), force: (0, 0, -300)),
                Force(at: (1, 0, 0), size: -50, direction: (1, 0, 0)),
                Distributed(from: (0, 0, 0), to: (2, 0, 0), start: (0, 0, 0), end: (0, 0, -20)),
                Couple(moment: (0, 7, 0))])"#;
        read_str("jib", text).unwrap().scene
    }

    #[test]
    fn whatever_points_somewhere_can_be_turned_where_it_is_drawn() {
        let scene = jib();
        let ways: Vec<(TurnableDirection, [f64; 3])> = SceneItem::all(&scene)
            .into_iter()
            .flat_map(|thing| TurnableDirection::of(thing, &scene))
            .map(|aim| (aim, aim.way(&scene).unwrap().into()))
            .collect();
        let load = |index| LoadId { case: None, index };
        let expected = [
            (TurnableDirection::Support(0), [0.0, 1.0, 0.0]),
            (TurnableDirection::Support(1), [0.0, 1.0, 0.0]),
            (TurnableDirection::Vector(load(0)), [0.0, 0.0, -1.0]),
            (TurnableDirection::Load(load(1)), [-1.0, 0.0, 0.0]),
            (TurnableDirection::Vector(load(2)), [0.0, 0.0, -1.0]),
        ];
        assert_eq!(ways, expected, "a couple that is drawn nowhere has no tip");
    }

    #[test]
    fn discs_and_blocks_turn_by_their_axis_and_their_edges() {
        let text = r#"(format: 1, body: [Disc(centre: (0, 0, 2), axis: (0, 1, 0), diameter: 1, thickness: 0.1),
            Block(centre: (1, 0, 0), size: (1, 2, 3))], supports: [Fixed(name: "A", at: (0, 0, 2))])"#;
        let scene = read_str("drum", text).unwrap().scene;
        let way = |aim: TurnableDirection, scene: &Scene| <[f64; 3]>::from(aim.way(scene).unwrap());
        let shapes = [0, 1].map(SceneItem::Shape);
        let aims = shapes.map(|thing| TurnableDirection::of(thing, &scene));
        assert_eq!(aims[0], [TurnableDirection::Shape(0)]);
        assert_eq!(
            aims[1]
                .iter()
                .map(|aim| way(*aim, &scene))
                .collect::<Vec<_>>(),
            [[1.0, 0.0, 0.0], [0.0, 0.0, 1.0]],
            "as a block without directions lies"
        );
        let to = Direction::Along(Coordinates::Space([0.0, 1.0, 0.0]));
        let turned = Proposal::turned(&scene, TurnableDirection::Upright(1), to).unwrap();
        assert_eq!(turned.name, "turned the upright edge of the block by 90°");
        let turned = &turned.scene;
        assert_eq!(way(TurnableDirection::Upright(1), turned), [0.0, 1.0, 0.0]);
        assert_eq!(way(TurnableDirection::Shape(1), turned), [1.0, 0.0, 0.0]);
    }
}
