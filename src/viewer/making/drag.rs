//! A drag of something that is kept: where it is drawn to, and what comes of it.

use nalgebra::Point3;

use super::grip::point_of;
use crate::draft::snap::{self, AtRest, Rests};
use crate::draft::{Handle, Proposal};
use crate::scene::solid;
use crate::scene::{Place, Scene, Space};
use crate::viewer::pointer::Aim;

/// A dragged place comes to rest at what is so many pixels away.
const REACH: f64 = 12.0;
/// So many pixels are a hand's breadth, of which the grid takes a fortieth.
const HAND: f64 = 600.0;

/// A drag under way.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Drag {
    /// What is dragged.
    pub(crate) handle: Handle,
    /// The axis that it is kept to, if any.
    pub(crate) axis: Option<usize>,
    /// Where it is now.
    pub(crate) at: Option<AtRest>,
    start: Point3<f64>,
    rests: Targets,
}

/// What a dragged place can come to rest at; equal to any other, since it follows from the rest of the drag.
#[derive(Debug, Clone)]
struct Targets(Rests);

impl PartialEq for Targets {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Drag {
    /// A drag that begins at a point, m; along an axis where one was taken.
    pub(super) fn begun(
        scene: &Scene,
        handle: Handle,
        axis: Option<usize>,
        start: Point3<f64>,
    ) -> Self {
        Self {
            handle,
            axis,
            at: None,
            start,
            rests: Targets(Rests::of(scene, handle)),
        }
    }

    /// Where it comes to rest when it is drawn to the pointer; `free` of all that draws it elsewhere.
    pub(super) fn pulled(&self, aim: &Aim, scene: &Scene, free: bool) -> Option<AtRest> {
        let point = pulled_to(self, aim, scene)?;
        Some(match self.axis {
            // Along an axis nothing draws it off the axis.
            Some(axis) => on_axis(scene, self, axis, point, aim, free),
            None => at_rest(scene, &self.rests.0, point, aim, free),
        })
    }
}

/// Supports and loads slide on the body; everything else moves in the plane through it that faces the viewer.
fn pulled_to(drag: &Drag, aim: &Aim, scene: &Scene) -> Option<Point3<f64>> {
    if let Some(axis) = drag.axis {
        return aim.on_axis(&drag.start, axis);
    }
    if scene.space == Space::Planar {
        return aim.plane_point();
    }
    let slides = matches!(
        drag.handle,
        Handle::Support(_) | Handle::Load(_) | Handle::LoadEnd(_)
    );
    let named = matches!(drag.handle.place(scene), Some(Place::Named(_)));
    let hit = (slides && !named)
        .then(|| aim.first_hit(&solid::of_body(scene)))
        .flatten();
    hit.map(|(point, _)| point)
        .or_else(|| aim.facing_point(&drag.start))
}

fn on_axis(
    scene: &Scene,
    drag: &Drag,
    axis: usize,
    point: Point3<f64>,
    aim: &Aim,
    free: bool,
) -> AtRest {
    let metres = scene.units.length.in_metres();
    let mut position: [f64; 3] = (drag.start.coords / metres).into();
    let step = grid(aim, &point, metres);
    let at = snap::on_grid(point[axis] / metres, if free { step / 100.0 } else { step });
    position[axis] = at;
    snap::fixed(scene, position, step)
}

pub(super) fn at_rest(
    scene: &Scene,
    rests: &Rests,
    point: Point3<f64>,
    aim: &Aim,
    free: bool,
) -> AtRest {
    let metres = scene.units.length.in_metres();
    let position: [f64; 3] = (point.coords / metres).into();
    let step = grid(aim, &point, metres);
    match free {
        true => snap::free(scene, position, step),
        false => rests.near(scene, position, REACH * aim.pixel_at(&point) / metres, step),
    }
}

/// The step of the grid at a point, in the scene's length unit.
fn grid(aim: &Aim, point: &Point3<f64>, metres: f64) -> f64 {
    snap::grid_step(HAND * aim.pixel_at(point) / metres)
}

pub(super) fn proposal(scene: &Scene, handle: Handle, at: &AtRest) -> Option<Proposal> {
    let is_point =
        matches!(handle.place(scene), Some(Place::Named(_))) || matches!(handle, Handle::Point(_));
    match (&at.place, is_point) {
        // A named point that moves stays a point of its own.
        (_, true) | (Place::At(_), _) => Proposal::moved(scene, handle, at.position),
        (place, false) => Proposal::placed(scene, handle, place.clone()),
    }
}

/// The axis of a handle whose tip is under the pointer.
pub(super) fn axis_at(
    handles: &[Handle],
    scene: &Scene,
    aim: &Aim,
) -> Option<(Handle, Option<usize>)> {
    let tips = handles.iter().flat_map(|&handle| {
        let start = point_of(scene, handle);
        (0..scene.space.axes()).filter_map(move |axis| {
            // Nothing can be drawn along an axis that is seen end-on, and its tip lies over the handle.
            aim.on_axis(&start?, axis)?;
            let tip = tip(&start?, axis, aim.pixel_at(&start?));
            Some((aim.pixels(&tip)?, handle, axis))
        })
    });
    let near = tips.filter(|(apart, ..)| f64::from(*apart) < REACH);
    let nearest = near.min_by(|a, b| a.0.total_cmp(&b.0));
    nearest.map(|(_, handle, axis)| (handle, Some(axis)))
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
    use crate::draft::Start;

    /// A press on a handle caught the spoke that is seen end-on, along which nothing moves.
    #[test]
    fn a_spoke_that_is_seen_end_on_catches_no_press() {
        let scene = Start::Bar.scene();
        let handle = Handle::Support(0);
        let [x, y, _] = handle.position(&scene).expect("a place");
        let metres = scene.units.length.in_metres();
        let on_it = Aim::from_above(x * metres, y * metres);
        assert_eq!(axis_at(&[handle], &scene, &on_it), None);
        let pixel = on_it.pixel_at(&point_of(&scene, handle).expect("a place"));
        let at_tip = Aim::from_above(x * metres + SPOKE * pixel, y * metres);
        let along_x = Some((handle, Some(0)));
        assert_eq!(axis_at(&[handle], &scene, &at_tip), along_x);
    }
}
