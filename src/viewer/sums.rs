//! Choosing in the picture what the equations of the ledger are taken about, and lighting up which summand's arrow the pointer is over.

use bevy::prelude::*;
use bevy::window::PrimaryWindow;

use super::camera::WindowCamera;
use super::intent::{StudyIntent, add_messages};
use super::making::SceneEditor;
use super::panels::OpenPanels;
use super::pointer::Pointer;
use super::shown::{HoverHighlight, Pivot, ShownParam, Sums};
use super::stage::{ArrowSpots, StageFrame};
use super::state::{Playback, Pointed, ViewerSystems};
use crate::draft::SceneItem;
use crate::solution::MomentCentre;
use crate::statics::SupportIndex;

/// Takes moments about what is clicked, and lights up arrows and summands together.
pub(crate) struct SumsPlugin;

impl Plugin for SumsPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<Sums>()
            .init_resource::<HoverHighlight>()
            .add_systems(
                Update,
                (follow_hand, follow_pointer, follow_intents)
                    .chain()
                    .in_set(ViewerSystems::Input),
            );
    }
}

fn follow_intents(
    mut intents: MessageReader<StudyIntent>,
    shown: ShownParam,
    mut commands: Commands,
    glanced: Res<HoverHighlight>,
) {
    for intent in intents.read() {
        match intent {
            StudyIntent::Glance(at) if glanced.0 != *at => {
                commands.insert_resource(HoverHighlight(*at))
            }
            StudyIntent::SumAbout(pivot) => {
                commands.insert_resource(Sums::about(*pivot, &shown.read()));
            }
            _ => {}
        }
    }
}

/// While the ledger is open, what is taken in hand is also what moments are taken about.
fn follow_hand(
    open: Res<OpenPanels>,
    editor: Option<Res<SceneEditor>>,
    mut kept: Local<Option<SceneItem>>,
    mut intents: MessageWriter<StudyIntent>,
) {
    let now = editor.and_then(|editor| editor.kept);
    let pivot = match now {
        Some(SceneItem::Support(index)) => Some(Pivot::Support(SupportIndex::new(index))),
        Some(SceneItem::Point(index)) => Some(Pivot::Point(index)),
        _ => None,
    };
    if let Some(pivot) = pivot.filter(|_| open.ledger && now != *kept) {
        intents.write(StudyIntent::SumAbout(pivot));
    }
    *kept = now;
}

/// An arrow or an axis draws the pointer to it from this many logical pixels.
const PULL: f32 = 10.0;

/// While the ledger is open, the arrow under the pointer is lit, and a click on a shared axis takes moments about it.
#[expect(
    clippy::too_many_arguments,
    reason = "a system takes what it reads and changes"
)]
fn follow_pointer(
    pointer: Pointer,
    (open, editor, playback): (Res<OpenPanels>, Option<Res<SceneEditor>>, Res<Playback>),
    window: Option<Single<&Window, With<PrimaryWindow>>>,
    camera: Option<Single<(&Camera, &GlobalTransform), With<WindowCamera>>>,
    (frame, spots): (Option<Res<StageFrame>>, Option<Res<ArrowSpots>>),
    shown: ShownParam,
    glanced: Res<HoverHighlight>,
    mut intents: MessageWriter<StudyIntent>,
) {
    let at_rest = !playback.playing && playback.position == 0.0;
    let dragged = editor.as_ref().is_some_and(|editor| editor.holds_pointer());
    let over_scene = open.ledger && at_rest && !dragged && pointer.aim().is_some();
    let (Some(window), Some(camera), Some(frame), Some(spots)) = (window, camera, frame, spots)
    else {
        return;
    };
    let Some(at) = window.cursor_position().filter(|_| over_scene) else {
        if glanced.0.is_some() && !open.ledger {
            intents.write(StudyIntent::Glance(None));
        }
        return;
    };
    let (camera, place) = *camera;
    let seen = |point: Vec3| {
        let world = frame.turn() * point;
        camera.world_to_viewport(place, world).ok()
    };
    let shown = shown.read();
    let near = |ends: [Vec3; 2]| Some(distance(at, [seen(ends[0])?, seen(ends[1])?]));
    let reactions = spots.reactions.iter();
    let reactions = reactions.map(|(index, ends)| (Pointed::Reaction(*index), *ends));
    let loads = spots.loads.iter();
    let loads = loads.map(|(index, ends)| (Pointed::Load(*index), *ends));
    let nearest = reactions
        .chain(loads)
        .filter_map(|(thing, ends)| Some((thing, near(ends)?)))
        .filter(|(_, pixels)| *pixels < PULL)
        .min_by(|(_, a), (_, b)| a.total_cmp(b));
    let lit = nearest.map(|(thing, _)| thing);
    if lit != glanced.0 {
        intents.write(StudyIntent::Glance(lit));
    }
    let free = editor.is_none_or(|editor| editor.hovered.is_none());
    if free && lit.is_none() && pointer.buttons.just_pressed(MouseButton::Left) {
        let axes = 0..shown.study.diagnosis().shared_axes.len();
        let hit = axes.map(Pivot::Axis).find(|axis| {
            let ends = axis.about(&shown).and_then(|about| ends_of(&about, &frame));
            ends.and_then(near).is_some_and(|pixels| pixels < PULL)
        });
        if let Some(axis) = hit {
            intents.write(StudyIntent::SumAbout(axis));
        }
    }
}

/// A line as far as the picture shows it.
fn ends_of(about: &MomentCentre, frame: &StageFrame) -> Option<[Vec3; 2]> {
    /// Half of it, in sizes of the scene.
    const REACH: f64 = 1.2;
    let MomentCentre::Line(line) = about else {
        return None;
    };
    let middle = frame.scene_point(Vec3::ZERO);
    let foot =
        line.point + line.direction.into_inner() * (middle - line.point).dot(&line.direction);
    let reach = line.direction.into_inner() * (REACH * frame.size());
    Some([foot - reach, foot + reach].map(|end| frame.point(&end)))
}

/// Distance of a point from a stretch between two others.
fn distance(at: Vec2, [from, to]: [Vec2; 2]) -> f32 {
    let way = to - from;
    let length = way.length_squared();
    let share = if length > 0.0 {
        ((at - from).dot(way) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    at.distance(from + way * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arrows_are_as_far_as_their_nearest_point() {
        let arrow = [Vec2::new(0.0, 0.0), Vec2::new(10.0, 0.0)];
        assert_eq!(distance(Vec2::new(5.0, 3.0), arrow), 3.0);
        assert_eq!(distance(Vec2::new(13.0, 4.0), arrow), 5.0);
        assert_eq!(distance(Vec2::new(3.0, 4.0), [Vec2::ZERO; 2]), 5.0);
    }
}
