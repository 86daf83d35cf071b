//! A drag of something that is kept: where it is drawn to, and what comes of it.

use nalgebra::Point3;

use super::picking::point_of;
use super::turn::DirectionDrag;
use crate::draft::snap::{self, PlaceAtRest, Rest, RestingPlaces};
use crate::draft::{Handle, Proposal};
use crate::scene::solid;
use crate::scene::{Place, Scene, Space};
use crate::viewer::pointer::SightLine;

/// A dragged place comes to rest at what is so many pixels away.
const REACH: f64 = 17.0;
/// So many pixels are a hand's breadth, of which the grid takes a fortieth.
const HAND: f64 = 600.0;

/// A drag under way.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Drag {
    /// A place is moved.
    Move(PlaceDrag),
    /// A direction is turned.
    Turn(DirectionDrag),
}

impl Drag {
    /// The same drag with what is dragged drawn to the pointer; `free` of all that draws it elsewhere.
    pub(super) fn pulled(&self, aim: &SightLine, scene: &Scene, free: bool) -> Option<Self> {
        Some(match self {
            Self::Move(drag) => Self::Move(drag.pulled(aim, scene, free)?),
            Self::Turn(turn) => Self::Turn(turn.pulled(aim, scene, free)?),
        })
    }

    /// What comes of it; nothing before it has moved.
    pub(super) fn proposal(&self, scene: &Scene) -> Option<Proposal> {
        match self {
            Self::Move(drag) => proposal(scene, drag.handle, drag.at.as_ref()?),
            Self::Turn(turn) => turn.proposal(scene),
        }
    }
}

/// What a moved place is kept to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DragConstraint {
    /// The body, or the plane that faces the viewer.
    Any,
    /// An axis of the scene.
    Axis(usize),
    /// The plane square to an axis.
    Plane(usize),
}

/// A place that is moved.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PlaceDrag {
    /// What is dragged.
    pub(crate) handle: Handle,
    /// What it is kept to.
    pub(crate) track: DragConstraint,
    /// Where it is now.
    pub(crate) at: Option<PlaceAtRest>,
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
    pub(super) fn begun(
        scene: &Scene,
        handle: Handle,
        track: DragConstraint,
        start: Point3<f64>,
    ) -> Self {
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
    fn pulled(&self, aim: &SightLine, scene: &Scene, free: bool) -> Option<Self> {
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

    /// Of the ground end of a link or cable the point along an axis from the other end that is seen near the pointer.
    fn along_rod(&self, aim: &SightLine, scene: &Scene) -> Option<Point3<f64>> {
        let (Handle::Ground(index), DragConstraint::Any) = (self.handle, self.track) else {
            return None;
        };
        let eye = point_of(scene, Handle::Support(index))?;
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

pub(super) fn at_rest(
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

fn proposal(scene: &Scene, handle: Handle, at: &PlaceAtRest) -> Option<Proposal> {
    let is_point =
        matches!(handle.place(scene), Some(Place::Named(_))) || matches!(handle, Handle::Point(_));
    match (&at.place, is_point) {
        // A named point that moves stays a point of its own.
        (_, true) | (Place::At(_), _) => Proposal::moved(scene, handle, at.position),
        (place, false) => Proposal::placed(scene, handle, place.clone()),
    }
}

/// The spoke or the square of a handle that is under the pointer, with its handle and how far from it the pointer is, in pixels.
pub(super) fn track_at(
    handles: &[Handle],
    scene: &Scene,
    aim: &SightLine,
) -> Option<(f32, Handle, DragConstraint)> {
    let tracks = handles.iter().filter_map(|&handle| {
        let start = point_of(scene, handle)?;
        let pixel = aim.pixel_at(&start);
        let axes = (0..scene.space.axes()).filter_map(|axis| {
            // Nothing can be drawn along an axis that is seen end-on, and its tip lies over the handle.
            aim.on_axis(&start, axis)?;
            let apart = aim.pixels(&tip(&start, axis, pixel))?;
            (f64::from(apart) < REACH).then_some((apart, handle, DragConstraint::Axis(axis)))
        });
        let at_handle = aim.pixels(&start)?;
        let planes = planes(scene).filter_map(|normal| {
            aim.on_plane(&start, normal)?;
            let apart = aim.pixels(&square(&start, normal, pixel).middle)?;
            let is_near = f64::from(apart) < IN_SQUARE && apart < at_handle;
            is_near.then_some((apart, handle, DragConstraint::Plane(normal)))
        });
        axes.chain(planes).min_by(|a, b| a.0.total_cmp(&b.0))
    });
    tracks.min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The axes that planes to move in are square to: none in the plane, where there is but one.
pub(super) fn planes(scene: &Scene) -> std::ops::Range<usize> {
    match scene.space {
        Space::Planar => 0..0,
        Space::Spatial => 0..3,
    }
}

/// The small square between two spokes, whose plane a handle can be moved in.
pub(super) struct Square {
    /// Its middle.
    pub(super) middle: Point3<f64>,
    /// Its corners, one after the other.
    pub(super) corners: [Point3<f64>; 4],
}

/// From where to where along each spoke a square is, in pixels.
const SQUARE: [f64; 2] = [17.0, 31.0];
/// A square is pressed up to this many pixels from its middle.
const IN_SQUARE: f64 = 10.0;

/// The square at a handle whose plane is square to an axis.
pub(super) fn square(at: &Point3<f64>, normal: usize, pixel: f64) -> Square {
    let corner = |a: f64, b: f64| {
        let mut corner = *at;
        corner[(normal + 1) % 3] += a * pixel;
        corner[(normal + 2) % 3] += b * pixel;
        corner
    };
    let [near, far] = SQUARE;
    let middle = f64::midpoint(near, far);
    Square {
        middle: corner(middle, middle),
        corners: [
            corner(near, near),
            corner(far, near),
            corner(far, far),
            corner(near, far),
        ],
    }
}

/// How long the spokes at a handle are, in pixels.
pub(super) const SPOKE: f64 = 42.0;

/// Tip of the spoke along an axis at a handle.
pub(super) fn tip(at: &Point3<f64>, axis: usize, pixel: f64) -> Point3<f64> {
    let mut tip = *at;
    tip[axis] += SPOKE * pixel;
    tip
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::NewScene;

    /// A press on a handle caught the spoke that is seen end-on, along which nothing moves.
    #[test]
    fn a_spoke_that_is_seen_end_on_catches_no_press() {
        let scene = NewScene::Bar.scene();
        let handle = Handle::Support(0);
        let [x, y, _] = handle.position(&scene).expect("a place");
        let metres = scene.units.length.in_metres();
        let on_it = SightLine::from_above(x * metres, y * metres);
        assert_eq!(track_at(&[handle], &scene, &on_it), None);
        let pixel = on_it.pixel_at(&point_of(&scene, handle).expect("a place"));
        let at_tip = SightLine::from_above(x * metres + SPOKE * pixel, y * metres);
        let along_x =
            track_at(&[handle], &scene, &at_tip).map(|(_, handle, track)| (handle, track));
        assert_eq!(along_x, Some((handle, DragConstraint::Axis(0))));
    }

    /// A rod that is almost along an axis comes to lie along it, however far its end is from the plane that faces the viewer.
    #[test]
    fn the_ground_end_of_a_link_comes_to_rest_along_the_axes_from_its_other_end() {
        let text = r#"(format: 1, body: [Block(centre: (0, 0, 2), size: (1, 1, 1))],
            supports: [Link(name: "L", at: (0.013, 0, 1.5), ground: (0.5, 0.4, 0))])"#;
        let scene = crate::scene::read_str("block", text).unwrap().scene;
        let handle = Handle::Ground(0);
        let start = point_of(&scene, handle).expect("a place");
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

    /// A place that is moved in a plane stays in it to the last digit, whatever lies near.
    #[test]
    fn a_square_moves_its_handle_in_its_plane() {
        let scene = NewScene::Bar.scene();
        let metres = scene.units.length.in_metres();
        let handle = Handle::Support(0);
        let start = point_of(&scene, handle).expect("a place");
        let pixel = SightLine::from_above(start.x, start.y).pixel_at(&start);
        let middle = square(&start, 2, pixel).middle;
        let press = SightLine::from_above(middle.x, middle.y);
        let (_, taken, track) = track_at(&[handle], &scene, &press).expect("the square");
        assert_eq!((taken, track), (handle, DragConstraint::Plane(2)));
        let drag = PlaceDrag::begun(&scene, handle, track, start);
        let to = SightLine::from_above(start.x + 0.31, start.y + 0.22);
        let at = drag
            .pulled(&to, &scene, false)
            .and_then(|drag| drag.at)
            .expect("it moved");
        let before = handle.position(&scene).expect("a place");
        assert_eq!(at.position[2], before[2]);
        assert!(at.position[0] > before[0] + 0.25 / metres);
        assert!(at.position[1] > before[1] + 0.15 / metres);
    }
}
