//! A place that is dragged: what it is kept to, where it comes to rest, and what comes of it.

use nalgebra::Point3;

use super::SightLine;
use super::place::Handle;
use super::proposal::Proposal;
use super::snap::{self, PlaceAtRest, Rest, RestingPlaces};
use crate::scene::solid;
use crate::scene::{Place, Scene, Space};

/// A dragged place comes to rest at what is so many pixels away.
const REACH: f64 = 17.0;
/// So many pixels are a hand's breadth, of which the grid takes a fortieth.
const HAND: f64 = 600.0;

/// What a moved place is kept to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DragConstraint {
    /// The body, or the plane that faces the viewer.
    Any,
    /// An axis of the scene.
    Axis(usize),
    /// The plane square to an axis.
    Plane(usize),
}

/// A place that is moved.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaceDrag {
    /// What is dragged.
    pub handle: Handle,
    /// What it is kept to.
    pub track: DragConstraint,
    /// Where it is now.
    pub at: Option<PlaceAtRest>,
    start: Point3<f64>,
    rests: Targets,
}

/// What a dragged place can come to rest at; equal to any other, since it follows from the rest of the drag.
#[derive(Debug, Clone)]
struct Targets(RestingPlaces);

impl PartialEq for Targets {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl PlaceDrag {
    /// A move that begins at a point, m.
    pub fn begun(scene: &Scene, handle: Handle, track: DragConstraint, start: Point3<f64>) -> Self {
        let rests = RestingPlaces::of(scene, handle);
        let rests = match (track, handle.position(scene)) {
            (DragConstraint::Plane(normal), Some(at)) => rests.in_plane(normal, at[normal]),
            _ => rests,
        };
        Self {
            handle,
            track,
            at: None,
            start,
            rests: Targets(rests),
        }
    }

    /// The same move, where it comes to rest when it is drawn to the pointer.
    pub fn pulled(&self, aim: &SightLine, scene: &Scene, free: bool) -> Option<Self> {
        let on_rod = (!free).then(|| self.along_rod(aim, scene)).flatten();
        let point = on_rod.or_else(|| self.pulled_to(aim, scene))?;
        let at = match self.track {
            // Along an axis nothing draws it off the axis.
            DragConstraint::Axis(axis) => on_axis(scene, self, axis, point, aim, free),
            DragConstraint::Plane(normal) => self.on_plane(scene, normal, point, aim, free),
            DragConstraint::Any => at_rest(scene, &self.rests.0, point, aim, free),
        };
        Some(Self {
            at: Some(at),
            ..self.clone()
        })
    }

    /// What comes of it; nothing before it has moved.
    pub fn proposal(&self, scene: &Scene) -> Option<Proposal> {
        let at = self.at.as_ref()?;
        let is_point = matches!(self.handle.place(scene), Some(Place::Named(_)))
            || matches!(self.handle, Handle::Point(_));
        match (&at.place, is_point) {
            // A named point that moves stays a point of its own.
            (_, true) | (Place::At(_), _) => Proposal::moved(scene, self.handle, at.position),
            (place, false) => Proposal::placed(scene, self.handle, place.clone()),
        }
    }

    /// Of the ground end of a link or cable the point along an axis from the other end that is seen near the pointer.
    fn along_rod(&self, aim: &SightLine, scene: &Scene) -> Option<Point3<f64>> {
        let (Handle::Ground(index), DragConstraint::Any) = (self.handle, self.track) else {
            return None;
        };
        let eye = Handle::Support(index).point(scene)?;
        let along = (0..scene.space.axes()).filter_map(|axis| {
            let point = aim.on_axis(&eye, axis)?;
            Some((f64::from(aim.pixels(&point)?), point))
        });
        let near = along.filter(|(apart, _)| *apart < REACH);
        let nearest = near.min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.map(|(_, point)| point)
    }

    /// Supports and loads slide on the body; everything else moves in the plane through it that faces the viewer.
    fn pulled_to(&self, aim: &SightLine, scene: &Scene) -> Option<Point3<f64>> {
        match self.track {
            DragConstraint::Axis(axis) => return aim.on_axis(&self.start, axis),
            DragConstraint::Plane(normal) => return aim.on_plane(&self.start, normal),
            DragConstraint::Any => {}
        }
        if scene.space == Space::Planar {
            return aim.plane_point();
        }
        let slides = matches!(
            self.handle,
            Handle::Support(_) | Handle::Load(_) | Handle::LoadEnd(_)
        );
        let named = matches!(self.handle.place(scene), Some(Place::Named(_)));
        let hit = (slides && !named)
            .then(|| aim.first_hit(&solid::of_body(scene)))
            .flatten();
        hit.map(|(point, _)| point)
            .or_else(|| aim.facing_point(&self.start))
    }

    /// Where it comes to rest in a plane that it does not leave, not by rounding either.
    fn on_plane(
        &self,
        scene: &Scene,
        normal: usize,
        point: Point3<f64>,
        aim: &SightLine,
        free: bool,
    ) -> PlaceAtRest {
        let at = at_rest(scene, &self.rests.0, point, aim, free);
        let (Some(start), Rest::Grid(_) | Rest::Free) = (self.handle.position(scene), at.rest)
        else {
            return at;
        };
        let mut position = at.position;
        position[normal] = start[normal];
        snap::at(scene, position, at.rest)
    }
}

fn on_axis(
    scene: &Scene,
    drag: &PlaceDrag,
    axis: usize,
    point: Point3<f64>,
    aim: &SightLine,
    free: bool,
) -> PlaceAtRest {
    let metres = scene.units.length.in_metres();
    let mut position: [f64; 3] = (drag.start.coords / metres).into();
    let step = grid(aim, &point, metres);
    let at = snap::on_grid(point[axis] / metres, if free { step / 100.0 } else { step });
    position[axis] = at;
    snap::fixed(scene, position, step)
}

/// Where a place drawn to a point, m, comes to rest.
pub fn at_rest(
    scene: &Scene,
    rests: &RestingPlaces,
    point: Point3<f64>,
    aim: &SightLine,
    free: bool,
) -> PlaceAtRest {
    let metres = scene.units.length.in_metres();
    let position: [f64; 3] = (point.coords / metres).into();
    let step = grid(aim, &point, metres);
    match free {
        true => snap::free(scene, position, step),
        false => {
            let reach = snap::Reach {
                length: REACH * aim.pixel_at(&point) / metres,
                sight: aim.line().1.into(),
            };
            rests.near(scene, position, &reach, step)
        }
    }
}

/// The step of the grid at a point, in the scene's length unit.
fn grid(aim: &SightLine, point: &Point3<f64>, metres: f64) -> f64 {
    snap::grid_step(HAND * aim.pixel_at(point) / metres)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A rod that is almost along an axis comes to lie along it, however far its end is from the plane that faces the viewer.
    #[test]
    fn the_ground_end_of_a_link_comes_to_rest_along_the_axes_from_its_other_end() {
        let text = r#"(format: 1, body: [Block(centre: (0, 0, 2), size: (1, 1, 1))],
            supports: [Link(name: "L", at: (0.013, 0, 1.5), ground: (0.5, 0.4, 0))])"#;
        let scene = crate::scene::read_str("block", text).unwrap().scene;
        let handle = Handle::Ground(0);
        let start = handle.point(&scene).expect("a place");
        let drag = PlaceDrag::begun(&scene, handle, DragConstraint::Any, start);
        let at = |x, y, free| {
            let drag = drag.pulled(&SightLine::from_above(x, y), &scene, free);
            drag.and_then(|drag| drag.at).expect("it moved")
        };
        let along = at(0.8, 0.03, false);
        assert_eq!(
            (along.rest, along.position[1..].to_vec()),
            (Rest::Along(0), vec![0.0, 1.5])
        );
        assert_eq!(at(0.8, 0.03, true).rest, Rest::Free);
        assert!(matches!(at(0.8, 0.6, false).rest, Rest::Grid(_)));
    }
}
