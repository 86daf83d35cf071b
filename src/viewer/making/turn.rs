//! A direction that is turned by the tip of its arrow.

use nalgebra::{Point3, Vector3};

use crate::draft::SightLine;
use crate::draft::turning::{DirectionAtRest, RestingDirections};
use crate::draft::{self, Proposal};
use crate::scene::Scene;

/// How long the arrow of a direction is, in pixels: it ends beyond the letters of the spokes.
pub(super) const ARM: f64 = 86.0;
/// A tip comes to rest at what is so many pixels away, and is taken from there.
const REACH: f32 = 12.0;

/// A direction that is turned.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DirectionDrag {
    /// What is turned.
    pub(crate) aim: draft::TurnableDirection,
    /// Where it points now.
    pub(crate) at: Option<DirectionAtRest>,
    start: Point3<f64>,
    /// Where it pointed before.
    way: Vector3<f64>,
    ways: RestingDirections,
}

impl DirectionDrag {
    /// A turn that begins; `None` of what points nowhere.
    pub(super) fn begun(scene: &Scene, aim: draft::TurnableDirection) -> Option<Self> {
        Some(Self {
            aim,
            at: None,
            start: start_of(scene, aim)?,
            way: aim.way(scene)?,
            ways: RestingDirections::of(scene, aim)?,
        })
    }

    /// The same turn, with the tip drawn to the pointer: to an axis or a point that is near, else whole steps of angle, in a plane of
    /// the axes where that is near.
    pub(super) fn pulled(&self, sight: &SightLine, scene: &Scene, free: bool) -> Option<Self> {
        let way = self.drawn_to(sight, scene)?;
        let at = match free {
            true => self.ways.free(&way),
            false => self
                .fixed_near(sight)
                .unwrap_or_else(|| self.ways.stepped(&self.in_plane_near(sight).unwrap_or(way))),
        };
        Some(Self {
            at: Some(at),
            ..self.clone()
        })
    }

    /// In the plane towards what is seen; in space on the ball that the tip moves on.
    fn drawn_to(&self, sight: &SightLine, scene: &Scene) -> Option<Vector3<f64>> {
        if scene.space == crate::scene::Space::Planar {
            return (sight.plane_point()? - self.start).try_normalize(0.0);
        }
        let radius = ARM * sight.pixel_at(&self.start);
        sight.on_ball(&self.start, radius, &self.way)
    }

    /// The axis, or the named point, whose tip is near the pointer; a point also where it is itself.
    fn fixed_near(&self, sight: &SightLine) -> Option<DirectionAtRest> {
        let pixel = sight.pixel_at(&self.start);
        let near = self.ways.fixed().iter().filter_map(|turned| {
            let apart = sight.pixels(&tip(&self.start, &turned.way, pixel))?;
            (apart < REACH).then_some((apart, turned))
        });
        let nearest = near.min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.map(|(_, turned)| turned.clone())
    }

    /// The direction in a plane of two axes whose tip is near the pointer.
    fn in_plane_near(&self, sight: &SightLine) -> Option<Vector3<f64>> {
        let pixel = sight.pixel_at(&self.start);
        let near = (0..3).filter_map(|normal| {
            let seen = sight.on_plane(&self.start, normal)?;
            let way = (seen - self.start).try_normalize(0.0)?;
            let apart = sight.pixels(&tip(&self.start, &way, pixel))?;
            (apart < REACH).then_some((apart, way))
        });
        let nearest = near.min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.map(|(_, way)| way)
    }

    /// What comes of it; nothing before it has moved.
    pub(super) fn proposal(&self, scene: &Scene) -> Option<Proposal> {
        Proposal::turned(scene, self.aim, self.at.as_ref()?.to.clone())
    }
}

/// Where a direction begins, m.
pub(super) fn start_of(scene: &Scene, aim: draft::TurnableDirection) -> Option<Point3<f64>> {
    let metres = scene.units.length.in_metres();
    Some(Point3::from(aim.from(scene)?.map(|x| x * metres)))
}

/// The tip of the arrow of a direction that begins at a point.
pub(super) fn tip(at: &Point3<f64>, way: &Vector3<f64>, pixel: f64) -> Point3<f64> {
    at + way * (ARM * pixel)
}

/// The direction whose tip is under the pointer, and how far from it the pointer is, in pixels.
pub(super) fn aim_at(
    aims: &[draft::TurnableDirection],
    scene: &Scene,
    sight: &SightLine,
) -> Option<(f32, draft::TurnableDirection)> {
    let near = aims.iter().filter_map(|&aim| {
        let start = start_of(scene, aim)?;
        let tip = tip(&start, &aim.way(scene)?, sight.pixel_at(&start));
        let apart = sight.pixels(&tip)?;
        (apart < REACH).then_some((apart, aim))
    });
    near.min_by(|a, b| a.0.total_cmp(&b.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::turning::TurnRest;
    use crate::scene::{Direction, Place, read_str};

    /// A bar with a hinge at the origin, seen from above; a metre is 100 pixels.
    fn bar() -> Scene {
        let text = r#"(format: 1, points: {"B": (3, 4, 0)}, body: [BentBar(path: [(0, 0, 0), (2, 0, 0)], diameter: 0.05)],
            supports: [Hinge(name: "A", at: (0, 0, 0), axis: (0, 1, 0)), BallJoint(name: "D", at: (2, 0, 0))])"#;
        read_str("bar", text).unwrap().scene
    }

    const ARM_METRES: f64 = ARM / 100.0;

    fn rest(x: f64, y: f64, free: bool) -> DirectionAtRest {
        let (scene, aim) = (bar(), draft::TurnableDirection::Support(0));
        let turn = DirectionDrag::begun(&scene, aim).unwrap();
        let sight = SightLine::from_above(x, y);
        let pulled = turn.pulled(&sight, &scene, free).unwrap();
        assert!(pulled.proposal(&scene).is_some());
        pulled.at.unwrap()
    }

    #[test]
    fn a_tip_is_taken_where_it_is_and_nowhere_else() {
        let (scene, aims) = (bar(), [draft::TurnableDirection::Support(0)]);
        let taken = |x, y| aim_at(&aims, &scene, &SightLine::from_above(x, y)).map(|(_, aim)| aim);
        assert_eq!(
            taken(0.02, ARM_METRES),
            Some(draft::TurnableDirection::Support(0))
        );
        assert_eq!(taken(0.0, 0.5 * ARM_METRES), None);
    }

    #[test]
    fn axes_and_points_draw_the_tip_and_the_key_lets_go() {
        assert_eq!(rest(ARM_METRES, 0.05, false).rest, TurnRest::Axis(0));
        let towards = rest(0.6 * ARM_METRES, 0.8 * ARM_METRES, false);
        assert_eq!(towards.rest, TurnRest::Point("B".to_owned()));
        let place = Place::Named("B".to_owned());
        assert_eq!(towards.to, Direction::Towards(place));
        assert_eq!(rest(ARM_METRES, 0.05, true).rest, TurnRest::Free);
    }

    #[test]
    fn elsewhere_it_turns_in_whole_steps() {
        // Seen from above, the plane of x and y is the rim of the ball that the tip moves on.
        let (sine, cosine) = 31.0_f64.to_radians().sin_cos();
        let steps = |elevation: f64| TurnRest::Steps {
            azimuth: 30.0,
            elevation: Some(elevation),
        };
        let at = |radius: f64| {
            rest(
                radius * ARM_METRES * cosine,
                radius * ARM_METRES * sine,
                false,
            )
        };
        assert_eq!(at(2.0).rest, steps(0.0));
        assert_eq!(at(0.93).rest, steps(0.0), "the plane draws the tip");
        assert_eq!(at(0.71).rest, steps(45.0));
    }
}
