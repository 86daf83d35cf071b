//! A drag of something that is kept: where it is drawn to, and what comes of it.

use nalgebra::Point3;

use super::turn::DirectionDrag;
use crate::draft::SightLine;
use crate::draft::drag::{DragConstraint, PlaceDrag};
use crate::draft::{Handle, Proposal};
use crate::scene::{Scene, Space};

/// A spoke is pressed up to so many pixels from its tip.
const REACH: f64 = 17.0;

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
            Self::Move(drag) => drag.proposal(scene),
            Self::Turn(turn) => turn.proposal(scene),
        }
    }
}

/// The spoke or the square of a handle that is under the pointer, with its handle and how far from it the pointer is, in pixels.
pub(super) fn track_at(
    handles: &[Handle],
    scene: &Scene,
    aim: &SightLine,
) -> Option<(f32, Handle, DragConstraint)> {
    let tracks = handles.iter().filter_map(|&handle| {
        let start = handle.point(scene)?;
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
        let pixel = on_it.pixel_at(&handle.point(&scene).expect("a place"));
        let at_tip = SightLine::from_above(x * metres + SPOKE * pixel, y * metres);
        let along_x =
            track_at(&[handle], &scene, &at_tip).map(|(_, handle, track)| (handle, track));
        assert_eq!(along_x, Some((handle, DragConstraint::Axis(0))));
    }

    /// A place that is moved in a plane stays in it to the last digit, whatever lies near.
    #[test]
    fn a_square_moves_its_handle_in_its_plane() {
        let scene = NewScene::Bar.scene();
        let metres = scene.units.length.in_metres();
        let handle = Handle::Support(0);
        let start = handle.point(&scene).expect("a place");
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
