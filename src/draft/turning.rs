//! What a direction that is turned by hand comes to rest at: the axes, named points, whole steps of angle.

use nalgebra::Vector3;

use super::decimal::tidy;
use super::snap::on_grid;
use super::turnable::{TurnableDirection, resolved};
use crate::scene::{Coordinates, Direction, Place, Scene, Space};

/// Whole steps of angle, degrees.
pub const STEP: f64 = 5.0;
/// Angles that nothing holds are written to this, degrees: less than the eye can tell apart.
const FINEST: f64 = 0.1;
/// Components of a direction are written to this, where the largest is one.
const FINE: f64 = 1e-4;

/// What a direction has come to rest at.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum TurnRest {
    /// A coordinate axis, by index, one way or the other.
    Axis(usize),
    /// A named point.
    Point(String),
    /// Whole steps of angle, degrees: from +x towards +y, and in space up from there.
    Steps {
        /// From +x towards +y.
        azimuth: f64,
        /// Above the plane of x and y; `None` in the plane.
        elevation: Option<f64>,
    },
    /// Nothing: where it was let go.
    Free,
}

/// A direction at rest.
#[derive(Debug, Clone, PartialEq)]
pub struct DirectionAtRest {
    /// Where it points, a unit vector.
    pub way: Vector3<f64>,
    /// As the scene writes it.
    pub to: Direction,
    /// What it has come to rest at.
    pub rest: TurnRest,
}

/// What a direction can come to rest at.
#[derive(Debug, Clone, PartialEq)]
pub struct RestingDirections {
    fixed: Vec<DirectionAtRest>,
    sense: f64,
    space: Space,
    /// Whether it is written as an angle.
    by_angle: bool,
}

impl RestingDirections {
    /// Those of a direction of a scene; `None` where it begins nowhere.
    pub fn of(scene: &Scene, aim: TurnableDirection) -> Option<Self> {
        let (from, sense) = (aim.from(scene)?, aim.sense(scene));
        let by_angle = matches!(aim.direction(scene), Some(Direction::Angle(_)));
        let mut ways = Self {
            fixed: Vec::new(),
            sense,
            space: scene.space,
            by_angle,
        };
        let points = scene.points.iter().filter_map(|point| {
            let to = Direction::Towards(Place::Named(point.name.clone()));
            Some(DirectionAtRest {
                way: sense * resolved(scene, from, &to)?,
                to,
                rest: TurnRest::Point(point.name.clone()),
            })
        });
        ways.fixed.extend(points);
        for axis in 0..scene.space.axes() {
            for sign in [1.0, -1.0] {
                let mut way = Vector3::zeros();
                way[axis] = sign;
                ways.fixed.push(DirectionAtRest {
                    to: ways.written(&way, FINEST),
                    rest: TurnRest::Axis(axis),
                    way,
                });
            }
        }
        Some(ways)
    }

    /// The axes, both ways, and the named points.
    pub fn fixed(&self) -> &[DirectionAtRest] {
        &self.fixed
    }

    /// Whole steps of angle near a unit vector.
    pub fn stepped(&self, way: &Vector3<f64>) -> DirectionAtRest {
        let whole = |degrees: f64| on_grid(degrees, STEP);
        let [azimuth, elevation] = angles(way).map(whole);
        let way = pointing(azimuth, elevation);
        let elevation = (self.space == Space::Spatial).then_some(elevation);
        DirectionAtRest {
            to: self.written(&way, STEP),
            rest: TurnRest::Steps { azimuth, elevation },
            way,
        }
    }

    /// A unit vector that nothing draws elsewhere.
    pub fn free(&self, way: &Vector3<f64>) -> DirectionAtRest {
        DirectionAtRest {
            way: *way,
            to: self.written(way, FINEST),
            rest: TurnRest::Free,
        }
    }

    /// A unit vector as the scene writes it, angles in whole steps of so many degrees: an angle where it was one, or is one in
    /// the plane that is no multiple of 45°; else components of which the largest is one.
    fn written(&self, way: &Vector3<f64>, step: f64) -> Direction {
        let way = way * self.sense;
        let largest = way.amax();
        let components = way.map(|x| on_grid(x / largest, FINE));
        let plain = components.iter().all(|x| x.abs() == 1.0 || *x == 0.0);
        if self.space == Space::Planar && (self.by_angle || !plain) {
            let [degrees, _] = angles(&way);
            return Direction::Angle(on_grid(degrees, step));
        }
        Direction::Along(Coordinates::new(self.space, components.into()))
    }
}

/// Azimuth from +x towards +y and elevation above that plane, degrees.
fn angles(way: &Vector3<f64>) -> [f64; 2] {
    let level = way.x.hypot(way.y);
    let azimuth = if level > 0.0 { way.y.atan2(way.x) } else { 0.0 };
    [azimuth, way.z.atan2(level)].map(f64::to_degrees)
}

/// The unit vector at these angles; without rounding where they are whole quarters.
fn pointing(azimuth: f64, elevation: f64) -> Vector3<f64> {
    let [(sa, ca), (se, ce)] = [azimuth, elevation].map(|degrees| {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        (tidy_unit(sine), tidy_unit(cosine))
    });
    Vector3::new(ce * ca, ce * sa, se)
}

/// A sine without the rounding that keeps it from zero.
fn tidy_unit(x: f64) -> f64 {
    tidy((x * 1e15).round() / 1e15)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::{Draft, LoadId, Proposal, SceneItem};
    use crate::scene::{Load, read_str};

    const TEXT: &str = r#"(
    format: 1,
    // The pulley.
    points: {"B": (1, 1, 0)},
    body: [BentBar(path: [(0, 0, 0), (2, 0, 0)], diameter: 0.05)],
    supports: [
        Hinge(name: "A", at: (0, 0, 0), axis: (0, 1, 0)), // the pin
        BallJoint(name: "D", at: (2, 0, 0)),
    ],
    loads: [
        Force(at: (2, 0, 0), force: (0, 0, -300)), // the lamp
    ],
)
"#;

    fn scene(text: &str) -> Scene {
        read_str("jib", text).unwrap().scene
    }

    #[test]
    fn axes_and_points_are_there_both_ways() {
        let scene = scene(TEXT);
        let ways = RestingDirections::of(&scene, TurnableDirection::Support(0)).unwrap();
        assert_eq!(ways.fixed().len(), 7);
        let to = |rest: TurnRest| {
            let found = ways.fixed().iter().find(|turned| turned.rest == rest);
            found.unwrap().to.clone()
        };
        let towards = Direction::Towards(Place::Named("B".to_owned()));
        assert_eq!(to(TurnRest::Point("B".to_owned())), towards);
        let along = Direction::Along(Coordinates::Space([1.0, 0.0, 0.0]));
        assert_eq!(to(TurnRest::Axis(0)), along);
    }

    #[test]
    fn angles_come_in_whole_steps_and_are_written_in_plain_decimals() {
        let scene = scene(TEXT);
        let ways = RestingDirections::of(&scene, TurnableDirection::Support(0)).unwrap();
        let turned = ways.stepped(&Vector3::new(1.0, 0.02, 0.98).normalize());
        let rest = TurnRest::Steps {
            azimuth: 0.0,
            elevation: Some(45.0),
        };
        assert_eq!(turned.rest, rest);
        let diagonal = Direction::Along(Coordinates::Space([1.0, 0.0, 1.0]));
        assert_eq!(turned.to, diagonal);
        let sixty = ways.stepped(&Vector3::new(0.5, 0.0, 0.87).normalize());
        let written = Direction::Along(Coordinates::Space([0.5774, 0.0, 1.0]));
        assert_eq!(sixty.to, written);
        assert_eq!(ways.free(&Vector3::y()).rest, TurnRest::Free);
    }

    #[test]
    fn in_the_plane_an_angle_stays_an_angle() {
        let text = r#"(format: 1, space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.05)],
            supports: [Roller(name: "A", at: (0, 0), normal: Angle(60)), Pin(name: "B", at: (2, 0))])"#;
        let scene = scene(text);
        let ways = RestingDirections::of(&scene, TurnableDirection::Support(0)).unwrap();
        let up = ways
            .fixed()
            .iter()
            .find(|turned| turned.way == Vector3::y());
        assert_eq!(up.unwrap().to, Direction::Angle(90.0));
        let (sine, cosine) = 31.0_f64.to_radians().sin_cos();
        let near = Vector3::new(cosine, sine, 0.0);
        assert_eq!(ways.stepped(&near).to, Direction::Angle(30.0));
        assert_eq!(ways.free(&near).to, Direction::Angle(31.0));
    }

    /// Turning is one step, named, and of the file only the direction changes.
    #[test]
    fn a_turn_changes_nothing_else_of_the_file() {
        let mut draft = Draft::of_file(scene(TEXT), TEXT.to_owned());
        let aim = TurnableDirection::Support(0);
        let ways = RestingDirections::of(draft.scene(), aim).unwrap();
        let to = ways.stepped(&Vector3::new(0.0, 1.0, 0.577).normalize()).to;
        let proposal = Proposal::turned(draft.scene(), aim, to).unwrap();
        assert_eq!(proposal.name, "turned A by 30°");
        draft.take(proposal).unwrap();
        let turned = TEXT.replace("axis: (0, 1, 0)", "axis: (0, 1, 0.5774)");
        assert_eq!(draft.text(), turned);
        draft.undo();
        assert_eq!(draft.text(), TEXT);
    }

    #[test]
    fn components_keep_their_size_and_follow_a_point() {
        let before = scene(TEXT);
        let load = LoadId {
            case: None,
            index: 0,
        };
        let turned = |to: Direction| {
            let proposal = Proposal::turned(&before, TurnableDirection::Vector(load), to).unwrap();
            (proposal.name, proposal.scene.loads[0].clone())
        };
        let (name, after) = turned(Direction::Along(Coordinates::Space([-2.0, 0.0, 0.0])));
        assert_eq!(name, "turned the force by 90°");
        let Load::Force { force, .. } = after else {
            panic!("a force stays one");
        };
        let plain = crate::scene::ForceVector::Components(Coordinates::Space([-300.0, 0.0, 0.0]));
        assert_eq!(force, plain);
        let (_, after) = turned(Direction::Towards(Place::Named("B".to_owned())));
        let mut scene = before.clone();
        scene.loads[0] = after;
        let way = TurnableDirection::of(SceneItem::Load(load), &scene)[0]
            .way(&scene)
            .unwrap();
        assert!((way - Vector3::new(-1.0, 1.0, 0.0).normalize()).norm() < 1e-6);
    }
}
