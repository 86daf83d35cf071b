//! Hovering, keeping and dragging with the pointer.

use bevy::prelude::*;
use nalgebra::Point3;

use super::bench::{Addition, Bench};
use super::grip::{handle_at, point_of, thing_at};
use crate::draft::snap::{self, AtRest, Rests};
use crate::draft::{Handle, LoadId, Proposal, Thing, load_kinds, shape_kinds, support_kinds};
use crate::scene::solid::{self, Solid};
use crate::scene::{Load, Place, Scene, Shape, Space, SupportKind};
use crate::viewer::pointer::{Aim, Pointer};
use crate::viewer::practising::Practising;
use crate::viewer::redraw::FramesToDraw;
use crate::viewer::shown::ShownMut;
use crate::viewer::state::Playback;
use crate::viewer::trial::LinkDrawing;

/// A press that moves less than this many pixels is a click.
const CLICK: f32 = 4.0;
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

/// Where the present press began, and on what.
#[derive(Default)]
pub(super) struct Press {
    at: Option<Vec2>,
}

#[expect(
    clippy::too_many_arguments,
    reason = "a system takes what it reads and changes"
)]
pub(super) fn follow_pointer(
    pointer: Pointer,
    keys: Res<ButtonInput<KeyCode>>,
    (drawing, practising): (Option<Res<LinkDrawing>>, Option<Res<Practising>>),
    mut bench: ResMut<Bench>,
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
    mut frames: ResMut<FramesToDraw>,
    mut press: Local<Press>,
) {
    let asked = practising.is_some_and(|practising| practising.is_on());
    if asked || drawing.is_some_and(|drawing| drawing.on) || bench.scene().is_none() {
        return;
    }
    let aim = pointer.aim();
    // What moves is not where it is written.
    let rests = !playback.playing && playback.position == 0.0;
    let pressed = pointer.buttons.just_pressed(MouseButton::Left) && bench.drag.is_none();
    if pressed && rests && aim.is_some() {
        press.at = pointer.pressed_at();
        let scene = shown.read().written.scene();
        let taken = pointer
            .aim_of_press()
            .and_then(|aim| taken(&bench, scene, &aim));
        bench.drag = taken;
        frames.until_settled();
    }
    let released = pointer.buttons.just_released(MouseButton::Left);
    // A slow frame may hear of a whole drag at once, so a drag is pulled before it ends.
    if bench.drag.is_some() {
        let free = keys.any_pressed([KeyCode::AltLeft, KeyCode::AltRight]);
        if aim.is_some_and(|aim| pull(&mut bench, &aim, free, &mut shown)) {
            (playback.playing, playback.position) = (false, 0.0);
        }
        if released {
            finish(&mut bench, &mut shown);
            press.at = None;
            frames.until_settled();
        }
        return;
    }
    let scene = shown.read().written.scene().clone();
    let hovered = aim
        .as_ref()
        .filter(|_| rests)
        .and_then(|aim| thing_at(&scene, |point| aim.pixels(point)));
    if hovered != bench.hovered && (rests || aim.is_none()) {
        bench.hovered = hovered;
        frames.until_settled();
    }
    if let Some(aim) = aim.filter(|_| released && rests) {
        let from = press.at.take().zip(pointer.position());
        if from.is_some_and(|(from, to)| from.distance(to) < CLICK) {
            click(&mut bench, &scene, &aim, &mut shown);
            frames.until_settled();
        }
    }
}

/// The drag that a press begins, if it is on a handle.
fn taken(bench: &Bench, scene: &Scene, aim: &Aim) -> Option<Drag> {
    let handles = bench.handles();
    let handle = handle_at(scene, &handles, |point| aim.pixels(point));
    let axis = axis_at(&handles, scene, aim);
    let (handle, axis) = axis.or(handle.map(|handle| (handle, None)))?;
    let start = point_of(scene, handle).filter(|_| bench.placing.is_none())?;
    Some(Drag {
        handle,
        axis,
        at: None,
        start,
        rests: Targets(Rests::of(scene, handle)),
    })
}

/// A click places what is to be placed, keeps what is under the pointer, or lets go.
fn click(bench: &mut Bench, scene: &Scene, aim: &Aim, shown: &mut ShownMut) {
    let Some(addition) = bench.placing.clone() else {
        if bench.kept != bench.hovered {
            bench.kept = bench.hovered;
            (bench.entry, bench.refusal) = (None, None);
        }
        return;
    };
    let solids = solid::of_body(scene);
    let Some((point, inward)) = spot(&solids, aim, scene) else {
        bench.refusal = Some("there is no body under the pointer".to_owned());
        return;
    };
    let at = at_rest(
        scene,
        &Rests::of(scene, Handle::Point(usize::MAX)),
        point,
        aim,
        false,
    );
    let proposal = placed(scene, addition.clone(), at, inward);
    if bench.take(proposal, shown) {
        bench.placing = None;
        bench.kept = bench.scene().and_then(|scene| added(scene, &addition));
    }
}

/// Where the line of sight meets the body, and the direction into it there; in the plane, or without a body, the point in the
/// plane of the scene.
fn spot(solids: &[Solid], aim: &Aim, scene: &Scene) -> Option<(Point3<f64>, [f64; 3])> {
    let up = std::array::from_fn(|axis| {
        if axis + 1 == scene.space.axes() {
            1.0
        } else {
            0.0
        }
    });
    if scene.space == Space::Planar || solids.is_empty() {
        return aim.plane_point().map(|point| (point, up));
    }
    // A thin bar is hard to hit: its ends and bends draw the pointer.
    let near = || {
        let shapes = (0..scene.body.len()).flat_map(|shape| Handle::of(Thing::Shape(shape), scene));
        let handles: Vec<Handle> = shapes.collect();
        let handle = handle_at(scene, &handles, |point| aim.pixels(point))?;
        Some((point_of(scene, handle)?, up))
    };
    let hit = aim.first_hit(solids);
    hit.map(|(point, inward)| (point, main_axis(inward)))
        .or_else(near)
}

/// The coordinate axis that is nearest to a direction, with its sign: people write supports along the axes.
fn main_axis(way: nalgebra::Vector3<f64>) -> [f64; 3] {
    let axis = way.iamax();
    std::array::from_fn(|i| if i == axis { way[axis].signum() } else { 0.0 })
}

/// A scene with the addition at a place.
fn placed(scene: &Scene, addition: Addition, at: AtRest, inward: [f64; 3]) -> Proposal {
    let same = std::mem::discriminant::<SupportKind>;
    match addition {
        Addition::Support(kind) => {
            let kinds = support_kinds(scene, at.position, inward, None);
            let here = kinds.into_iter().find(|other| same(other) == same(&kind));
            Proposal::with_support(scene, here.unwrap_or(kind), at.place)
        }
        Addition::Load(load) => {
            let kinds = load_kinds(scene, at.position);
            let alike =
                |other: &Load| std::mem::discriminant(other) == std::mem::discriminant(&load);
            let here = kinds.into_iter().find(alike);
            Proposal::with_load(scene, here.unwrap_or(load))
        }
        Addition::Shape(shape) => {
            let kinds = shape_kinds(scene, at.position);
            let alike =
                |other: &Shape| std::mem::discriminant(other) == std::mem::discriminant(&shape);
            let here = kinds.into_iter().find(alike);
            Proposal::with_shape(scene, here.unwrap_or(shape))
        }
        Addition::Point => Proposal::with_point(scene, at.position),
    }
}

/// What was added: the last of its list.
fn added(scene: &Scene, addition: &Addition) -> Option<Thing> {
    let last = |length: usize| length.checked_sub(1);
    Some(match addition {
        Addition::Support(_) => Thing::Support(last(scene.supports.len())?),
        Addition::Shape(_) => Thing::Shape(last(scene.body.len())?),
        Addition::Point => Thing::Point(last(scene.points.len())?),
        Addition::Load(_) => Thing::Load(LoadId {
            case: None,
            index: last(scene.loads.len())?,
        }),
    })
}

/// Draws what is dragged to where the pointer is; `true` where it moved.
fn pull(bench: &mut Bench, aim: &Aim, free: bool, shown: &mut ShownMut) -> bool {
    let (Some(drag), Some(scene)) = (bench.drag.clone(), bench.scene().cloned()) else {
        return false;
    };
    let Some(point) = pulled_to(&drag, aim, &scene) else {
        return false;
    };
    let at = at_rest(&scene, &drag.rests.0, point, aim, free);
    let at = match drag.axis {
        // Along an axis nothing draws it off the axis.
        Some(axis) => on_axis(&scene, &drag, axis, point, aim, free),
        None => at,
    };
    if drag.at.as_ref() == Some(&at) {
        return false;
    }
    let proposal = proposal(&scene, drag.handle, &at);
    let moved = proposal.is_some_and(|proposal| bench.try_out(&proposal, shown));
    if moved && let Some(drag) = &mut bench.drag {
        drag.at = Some(at);
    }
    moved
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

fn at_rest(scene: &Scene, rests: &Rests, point: Point3<f64>, aim: &Aim, free: bool) -> AtRest {
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

fn proposal(scene: &Scene, handle: Handle, at: &AtRest) -> Option<Proposal> {
    let is_point =
        matches!(handle.place(scene), Some(Place::Named(_))) || matches!(handle, Handle::Point(_));
    match (&at.place, is_point) {
        // A named point that moves stays a point of its own.
        (_, true) | (Place::At(_), _) => Proposal::moved(scene, handle, at.position),
        (place, false) => Proposal::placed(scene, handle, place.clone()),
    }
}

/// The drag ends where it is.
fn finish(bench: &mut Bench, shown: &mut ShownMut) {
    let (Some(drag), Some(scene)) = (bench.drag.take(), bench.scene().cloned()) else {
        return;
    };
    let proposal = drag.at.and_then(|at| proposal(&scene, drag.handle, &at));
    if !proposal.is_some_and(|proposal| bench.take(proposal, shown)) {
        bench.show_again(shown);
    }
}

/// The axis of a handle whose tip is under the pointer.
fn axis_at(handles: &[Handle], scene: &Scene, aim: &Aim) -> Option<(Handle, Option<usize>)> {
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

    /// What was just put somewhere is in hand, whatever it is.
    #[test]
    fn what_is_added_is_the_thing_that_is_taken_in_hand() {
        let scene = Start::Bar.scene();
        let position = [0.5, 0.0, 0.0];
        let up = [0.0, 0.0, 1.0];
        let supports = support_kinds(&scene, position, up, None);
        let additions = supports.into_iter().map(Addition::Support);
        let loads = load_kinds(&scene, position).into_iter().map(Addition::Load);
        let shapes = shape_kinds(&scene, position)
            .into_iter()
            .map(Addition::Shape);
        for addition in additions
            .chain(loads)
            .chain(shapes)
            .chain([Addition::Point])
        {
            let at = snap::fixed(&scene, position, 0.1);
            let after = placed(&scene, addition.clone(), at, up).scene;
            let thing = added(&after, &addition).expect("something was added");
            assert!(thing.is_in(&after) && !thing.is_in(&scene), "{addition:?}");
        }
    }
}
