//! What of a scene is under the pointer.

use nalgebra::Point3;

use crate::draft::{Handle, SceneItem};
use crate::scene::Scene;
use crate::scene::solid::{self, Solid};

/// A place is under the pointer up to this many pixels from it.
const REACH: f32 = 17.0;
/// A support is under the pointer up to this many pixels from it where nothing else is: its hardware is about as large.
const WIDE_REACH: f32 = 42.0;
/// How many pixels nearer something less important has to be.
const BIAS: f32 = 4.0;
/// A rod is under the pointer up to this many pixels from it.
const ROD_REACH: f32 = 10.0;
/// Into so many pieces a rod is cut to find how far from it the pointer is.
const ROD_PIECES: usize = 48;

/// The thing under the pointer: one with a place close by, supports before loads and these before points and shapes; then a rod;
/// then the shape of the body that is seen there; then a support not far away. `depth` says how far along the line of sight solids are met.
pub(super) fn thing_at(
    scene: &Scene,
    pixels: impl Fn(&Point3<f64>) -> Option<f32>,
    depth: impl Fn(&[Solid]) -> Option<f64>,
) -> Option<SceneItem> {
    place_at(scene, REACH, &pixels)
        .or_else(|| rod_at(scene, &pixels))
        .or_else(|| shape_at(scene, depth))
        .or_else(|| {
            let wide = place_at(scene, WIDE_REACH, &pixels);
            wide.filter(|thing| matches!(thing, SceneItem::Support(_)))
        })
}

/// The support whose rod, from the body to the ground, is under the pointer.
fn rod_at(scene: &Scene, pixels: impl Fn(&Point3<f64>) -> Option<f32>) -> Option<SceneItem> {
    let rods = (0..scene.supports.len()).filter_map(|index| {
        let ends = [Handle::Support(index), Handle::Ground(index)];
        let [from, to] = ends.map(|handle| handle.point(scene));
        Some((index, from?, to?))
    });
    let near = rods.filter_map(|(index, from, to)| {
        let pieces = (0..=ROD_PIECES).map(|piece| piece as f64 / ROD_PIECES as f64);
        let apart = pieces.filter_map(|part| pixels(&(from + (to - from) * part)));
        let apart = apart.min_by(f32::total_cmp)?;
        (apart <= ROD_REACH).then_some((apart, SceneItem::Support(index)))
    });
    near.min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, thing)| thing)
}

/// The shape of the body that is seen under the pointer.
fn shape_at(scene: &Scene, depth: impl Fn(&[Solid]) -> Option<f64>) -> Option<SceneItem> {
    let shapes = scene.body.iter().enumerate();
    let seen = shapes.filter_map(|(index, shape)| {
        let solid = solid::of_shape(scene, shape)?;
        Some((depth(&[solid])?, SceneItem::Shape(index)))
    });
    seen.min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, thing)| thing)
}

fn place_at(
    scene: &Scene,
    reach: f32,
    pixels: impl Fn(&Point3<f64>) -> Option<f32>,
) -> Option<SceneItem> {
    let things = SceneItem::all(scene).into_iter();
    let handles = things.flat_map(|thing| Handle::of(thing, scene));
    let near = handles.filter_map(|handle| {
        let apart = pixels(&handle.point(scene)?)?;
        (apart <= reach).then(|| (apart + BIAS * rank(handle), handle.thing()))
    });
    near.min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, thing)| thing)
}

fn rank(handle: Handle) -> f32 {
    match handle {
        Handle::Support(_) => 0.0,
        Handle::Ground(_) => 0.5,
        Handle::Load(_) | Handle::LoadEnd(_) => 1.0,
        Handle::Point(_) => 2.0,
        Handle::Shape(..) | Handle::Hole(..) => 3.0,
    }
}

/// The handle of what is kept that is under the pointer.
pub(super) fn handle_at(
    scene: &Scene,
    handles: &[Handle],
    pixels: impl Fn(&Point3<f64>) -> Option<f32>,
) -> Option<Handle> {
    let near = handles.iter().filter_map(|handle| {
        let apart = pixels(&handle.point(scene)?)?;
        (apart <= REACH).then_some((apart, *handle))
    });
    near.min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, handle)| handle)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::SightLine;
    use crate::scene::read_str;

    #[test]
    fn supports_come_before_the_points_and_the_body_that_they_are_on() {
        let text = r#"(format: 1, points: {"B": (1, 0, 0)}, body: [BentBar(path: [(0, 0, 0), "B"], diameter: 0.05)],
            supports: [BallJoint(name: "A", at: "B")], loads: [Force(at: (0.5, 0, 0), force: (0, 0, -1))])"#;
        let scene = read_str("bar", text).unwrap().scene;
        // A metre is 100 pixels, and the pointer is at x.
        let at = |x: f64| {
            let pixels = |point: &Point3<f64>| Some(100.0 * (point.x - x).abs() as f32);
            thing_at(&scene, pixels, |_| None)
        };
        assert_eq!(at(0.98), Some(SceneItem::Support(0)));
        assert!(matches!(at(0.52), Some(SceneItem::Load(_))));
        assert_eq!(at(0.02), Some(SceneItem::Shape(0)));
        assert_eq!(at(0.3), None);
        let ends = Handle::of(SceneItem::Shape(0), &scene);
        let near_end = |point: &Point3<f64>| Some(100.0 * (point.x - 0.95).abs() as f32);
        assert_eq!(
            handle_at(&scene, &ends, near_end),
            Some(Handle::Shape(0, 1))
        );
    }

    #[test]
    fn the_whole_of_a_rod_and_of_a_shape_can_be_pointed_at() {
        let text = r#"(format: 1, body: [Block(centre: (0, 0, 0), size: (0.2, 0.2, 0.2)), Block(centre: (1, 0, 0), size: (1, 1, 1))],
            supports: [Link(name: "A", at: (1.5, 0, 0), ground: (4, 0, 0))])"#;
        let scene = read_str("blocks", text).unwrap().scene;
        let at = |x: f64, y: f64| {
            let aim = SightLine::from_above(x, y);
            thing_at(
                &scene,
                |point| aim.pixels(point),
                |solids| aim.depth(solids),
            )
        };
        assert_eq!(at(3.1, 0.05), Some(SceneItem::Support(0)));
        assert_eq!(at(3.1, 0.2), None);
        assert_eq!(at(1.2, 0.3), Some(SceneItem::Shape(1)));
        assert_eq!(at(-0.5, 0.3), None);
    }
}
