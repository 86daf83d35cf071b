//! What of a scene is under the pointer.

use nalgebra::Point3;

use crate::draft::{Handle, Thing};
use crate::scene::Scene;

/// A place is under the pointer up to this many pixels from it.
const REACH: f32 = 17.0;
/// How many pixels nearer something less important has to be.
const BIAS: f32 = 4.0;

/// Where a handle is, m; `None` where it is nowhere.
pub(super) fn point_of(scene: &Scene, handle: Handle) -> Option<Point3<f64>> {
    let at = handle.position(scene)?;
    let metres = scene.units.length.in_metres();
    Some(Point3::from(at.map(|x| x * metres)))
}

/// The thing with a place under the pointer: supports before loads, these before points and shapes.
pub(super) fn thing_at(
    scene: &Scene,
    pixels: impl Fn(&Point3<f64>) -> Option<f32>,
) -> Option<Thing> {
    let things = Thing::all(scene).into_iter();
    let handles = things.flat_map(|thing| Handle::of(thing, scene));
    let near = handles.filter_map(|handle| {
        let apart = pixels(&point_of(scene, handle)?)?;
        (apart <= REACH).then(|| (apart + BIAS * rank(handle), handle.thing()))
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
        let apart = pixels(&point_of(scene, *handle)?)?;
        (apart <= REACH).then_some((apart, *handle))
    });
    near.min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, handle)| handle)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    #[test]
    fn supports_come_before_the_points_and_the_body_that_they_are_on() {
        let text = r#"(format: 1, points: {"B": (1, 0, 0)}, body: [BentBar(path: [(0, 0, 0), "B"], diameter: 0.05)],
            supports: [BallJoint(name: "A", at: "B")], loads: [Force(at: (0.5, 0, 0), force: (0, 0, -1))])"#;
        let scene = read_str("bar", text).unwrap().scene;
        // A metre is 100 pixels, and the pointer is at x.
        let at = |x: f64| thing_at(&scene, |point| Some(100.0 * (point.x - x).abs() as f32));
        assert_eq!(at(0.98), Some(Thing::Support(0)));
        assert!(matches!(at(0.52), Some(Thing::Load(_))));
        assert_eq!(at(0.02), Some(Thing::Shape(0)));
        assert_eq!(at(0.3), None);
        let ends = Handle::of(Thing::Shape(0), &scene);
        let near_end = |point: &Point3<f64>| Some(100.0 * (point.x - 0.95).abs() as f32);
        assert_eq!(
            handle_at(&scene, &ends, near_end),
            Some(Handle::Shape(0, 1))
        );
    }
}
