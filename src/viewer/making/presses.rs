//! Hovering, keeping, placing and dragging with the pointer.

use bevy::prelude::*;
use nalgebra::Point3;

use super::drag::{Drag, track_at};
use super::editor::SceneEditor;
use super::picking::{handle_at, thing_at};
use super::turn::{DirectionDrag, aim_at};
use crate::draft::SightLine;
use crate::draft::drag::{DragConstraint, PlaceDrag, at_rest};
use crate::draft::snap::RestingPlaces;
use crate::draft::{Handle, SceneItem};
use crate::scene::solid::{self, Solid};
use crate::scene::{Scene, Space};
use crate::viewer::pointer::Pointer;
use crate::viewer::practising::Practising;
use crate::viewer::redraw::FramesToDraw;
use crate::viewer::shown::ShownMut;
use crate::viewer::state::Playback;
use crate::viewer::trial::LinkDrawing;

/// A press that moves less than this many pixels is a click.
const CLICK: f32 = 4.0;

/// Where the present press began.
#[derive(Default)]
pub(super) struct Press {
    at: Option<Vec2>,
    /// Whether the pointer has gone so far since then that it is no click.
    is_drag: bool,
}

impl Press {
    fn follow(&mut self, to: Option<Vec2>) {
        let way = self.at.zip(to).map(|(from, to)| from.distance(to));
        self.is_drag |= way.is_none_or(|way| way >= CLICK);
    }
}

#[expect(
    clippy::too_many_arguments,
    reason = "a system takes what it reads and changes"
)]
pub(super) fn follow_pointer(
    pointer: Pointer,
    keys: Res<ButtonInput<KeyCode>>,
    (drawing, practising): (Option<Res<LinkDrawing>>, Option<Res<Practising>>),
    mut editor: ResMut<SceneEditor>,
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
    mut frames: ResMut<FramesToDraw>,
    mut press: Local<Press>,
) {
    let asked = practising.is_some_and(|practising| practising.is_on());
    if asked || drawing.is_some_and(|drawing| drawing.on) || editor.scene().is_none() {
        return;
    }
    let aim = pointer.aim();
    // What moves is not where it is written.
    let rests = !playback.playing && playback.position == 0.0;
    let pressed = pointer.buttons.just_pressed(MouseButton::Left) && editor.drag.is_none();
    if pressed && rests && aim.is_some() {
        *press = Press {
            at: pointer.pressed_at(),
            is_drag: false,
        };
        let scene = shown.read().written.scene();
        let taken = pointer
            .aim_of_press()
            .and_then(|aim| taken(&editor, scene, &aim));
        editor.drag = taken;
        frames.until_settled();
    }
    let released = pointer.buttons.just_released(MouseButton::Left);
    // A slow frame may hear of a whole drag at once, so a drag is pulled before it ends.
    if editor.drag.is_some() {
        let free = keys.any_pressed([KeyCode::AltLeft, KeyCode::AltRight]);
        press.follow(pointer.position());
        let pulls = aim.as_ref().filter(|_| press.is_drag);
        if pulls.is_some_and(|aim| pull(&mut editor, aim, free, &mut shown)) {
            (playback.playing, playback.position) = (false, 0.0);
        }
        if released {
            match aim.filter(|_| !press.is_drag) {
                // What is in hand lies over other things, which a click takes in hand all the same.
                Some(aim) => {
                    editor.drag = None;
                    let scene = shown.read().written.scene().clone();
                    click(&mut editor, &scene, &aim, &mut shown);
                }
                None => finish(&mut editor, &mut shown),
            }
            press.at = None;
            frames.until_settled();
        }
        return;
    }
    let scene = shown.read().written.scene().clone();
    let hovered = aim
        .as_ref()
        .filter(|_| rests)
        .and_then(|aim| thing_at(&scene, |point| aim.pixels(point), |body| aim.depth(body)));
    if hovered != editor.hovered && (rests || aim.is_none()) {
        editor.hovered = hovered;
        frames.until_settled();
    }
    if let Some(aim) = aim.filter(|_| released && rests) {
        let from = press.at.take().zip(pointer.position());
        if from.is_some_and(|(from, to)| from.distance(to) < CLICK) {
            click(&mut editor, &scene, &aim, &mut shown);
            frames.until_settled();
        }
    }
}

/// The drag that a press begins: of a spoke, a square or a tip under the pointer, else of a handle.
fn taken(editor: &SceneEditor, scene: &Scene, aim: &SightLine) -> Option<Drag> {
    if editor.placing.is_some() {
        return None;
    }
    let handles = editor.handles();
    let track = track_at(&handles, scene, aim);
    let turned = aim_at(&editor.aims(), scene, aim);
    let nearer = |apart: f32| track.is_none_or(|(other, ..)| apart < other);
    if let Some((_, turned)) = turned.filter(|(apart, _)| nearer(*apart)) {
        return DirectionDrag::begun(scene, turned).map(Drag::Turn);
    }
    let free = || {
        let handle = handle_at(scene, &handles, |point| aim.pixels(point))?;
        Some((handle, DragConstraint::Any))
    };
    let (handle, track) = track
        .map(|(_, handle, track)| (handle, track))
        .or_else(free)?;
    let start = handle.point(scene)?;
    Some(Drag::Move(PlaceDrag::begun(scene, handle, track, start)))
}

/// A click places what is to be placed, keeps what is under the pointer, or lets go.
fn click(editor: &mut SceneEditor, scene: &Scene, aim: &SightLine, shown: &mut ShownMut) {
    let Some(addition) = editor.placing.clone() else {
        if editor.kept != editor.hovered {
            editor.kept = editor.hovered;
            (editor.entry, editor.refusal) = (None, None);
        }
        return;
    };
    let solids = solid::of_body(scene);
    let Some((point, inward)) = spot(&solids, aim, scene) else {
        editor.refusal = Some("there is no body under the pointer".to_owned());
        return;
    };
    let at = at_rest(
        scene,
        &RestingPlaces::of(scene, Handle::Point(usize::MAX)),
        point,
        aim,
        false,
    );
    let proposal = addition.clone().placed(scene, at, inward);
    if editor.take(proposal, shown) {
        editor.placing = None;
        editor.kept = editor.scene().and_then(|scene| addition.added(scene));
    }
}

/// Where the line of sight meets the body, and the direction into it there; in the plane, or without a body, the point in the
/// plane of the scene.
fn spot(solids: &[Solid], aim: &SightLine, scene: &Scene) -> Option<(Point3<f64>, [f64; 3])> {
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
        let shapes =
            (0..scene.body.len()).flat_map(|shape| Handle::of(SceneItem::Shape(shape), scene));
        let handles: Vec<Handle> = shapes.collect();
        let handle = handle_at(scene, &handles, |point| aim.pixels(point))?;
        Some((handle.point(scene)?, up))
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

/// Draws what is dragged to where the pointer is; `true` where it moved.
fn pull(editor: &mut SceneEditor, aim: &SightLine, free: bool, shown: &mut ShownMut) -> bool {
    let (Some(drag), Some(scene)) = (editor.drag.clone(), editor.scene().cloned()) else {
        return false;
    };
    let Some(pulled) = drag.pulled(aim, &scene, free) else {
        return false;
    };
    if pulled == drag {
        return false;
    }
    let proposal = pulled.proposal(&scene);
    let moved = proposal.is_some_and(|proposal| editor.try_out(&proposal, shown));
    if moved {
        editor.drag = Some(pulled);
    }
    moved
}

/// The drag ends where it is.
fn finish(editor: &mut SceneEditor, shown: &mut ShownMut) {
    let (Some(drag), Some(scene)) = (editor.drag.take(), editor.scene().cloned()) else {
        return;
    };
    let proposal = drag.proposal(&scene);
    if !proposal.is_some_and(|proposal| editor.take(proposal, shown)) {
        editor.show_again(shown);
    }
}
