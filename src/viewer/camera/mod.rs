//! The camera of the window: orbit, pan and zoom by hand, flights to standard views, and the lens.
//!
//! The scene is shown in the middle of what the panels leave free. Left drag turns, right drag or Shift + left drag
//! shifts, the wheel zooms.

mod drag_owner;
mod flight;
mod inset;
mod smooth;
mod turn;

use bevy::camera::CameraUpdateSystems;
use bevy::core_pipeline::tonemapping::{DebandDither, Tonemapping};
use bevy::input::mouse::MouseWheel;
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use bevy_panorbit_camera::{PanOrbitCamera, PanOrbitCameraPlugin, PanOrbitCameraSystemSet};

use super::framing::{CameraSettings, Lens, View, ViewBounds, camera_pose};
use super::intent::{CameraIntent, add_messages};
use super::redraw::{FramesToDraw, request_redraws};
use super::shown::{SceneCount, Selected};
use super::stage::lit_camera;
use super::state::{Look, Shading, ViewerSystems};
use super::trial::LinkDrawing;
use crate::motion::Selection;
use flight::{CameraState, Flight};

pub(crate) use inset::{Covered, FreeArea, pose_of};

/// Moves the window's camera.
pub(crate) struct CameraPlugin;

impl Plugin for CameraPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.add_plugins(PanOrbitCameraPlugin)
            .init_resource::<FreeArea>()
            .init_resource::<CurrentView>()
            .init_resource::<ViewBounds>()
            .init_resource::<FramesToDraw>()
            .add_systems(Startup, spawn_camera)
            .add_systems(
                Update,
                (frame_another_scene, follow_intents)
                    .chain()
                    .after(ViewerSystems::Stage),
            )
            .add_systems(
                PostUpdate,
                (
                    drag_owner::follow_the_pointer,
                    drag_owner::keep_drags_with_their_owner,
                    fly,
                    turn::turn_slowly,
                    inset::centre_in_free_area,
                )
                    .chain()
                    .before(PanOrbitCameraSystemSet),
            )
            .add_systems(
                PostUpdate,
                redraw_while_moving
                    .after(PanOrbitCameraSystemSet)
                    .before(CameraUpdateSystems),
            )
            .add_systems(Last, smooth::smooth_at_rest.after(request_redraws));
    }
}

/// The camera that the window looks through.
#[derive(Component)]
pub(crate) struct WindowCamera;

/// From where the scene is seen, and how.
#[derive(Resource, Debug, Clone, PartialEq, Default)]
pub(crate) struct CurrentView {
    /// The standard view last asked for; turning by hand leaves it.
    pub view: Option<View>,
    /// The lens.
    pub lens: Lens,
    flight: Option<Flight>,
    /// Width over height of what the panels left of the window when the camera was placed.
    aspect: f32,
    /// What the camera has been set up for: a scene and one of its motions.
    framed: Option<(SceneCount, Selection)>,
}

impl CurrentView {
    /// Whether lines that are parallel in the scene are so in the picture.
    pub(crate) fn is_parallel(&self, planar: bool) -> bool {
        match self.lens {
            Lens::Usual => planar,
            Lens::Perspective => false,
            Lens::Parallel => true,
        }
    }

    /// Word for what is seen, such as `axis, perspective`.
    pub(crate) fn words(&self, planar: bool) -> String {
        let named = View::NAMED
            .iter()
            .find(|(_, view)| Some(*view) == self.view);
        let from = match named {
            Some(("axis", _)) => "axis",
            Some(("usual", _)) if planar => "face-on",
            Some((name, _)) => name,
            None => "by hand",
        };
        let lens = if self.is_parallel(planar) {
            "parallel"
        } else {
            "perspective"
        };
        format!("{from}, {lens}")
    }
}

/// How much a notch of the wheel zooms, relative to what the controller takes for usual.
const NOTCH: f32 = 0.4;
/// Nearest and farthest that the wheel can go, relative to the size of the scene.
const ZOOM_RANGE: [f32; 2] = [0.25, 14.0];

fn spawn_camera(mut commands: Commands, look: Res<Look>) {
    let mut camera = commands.spawn((
        WindowCamera,
        Camera3d::default(),
        if look.software {
            Msaa::Off
        } else {
            Msaa::Sample4
        },
        // Palette colours reach the screen as they are.
        Tonemapping::None,
        DebandDither::Disabled,
        PanOrbitCamera {
            // A picture that follows the hand exactly needs no frames after it.
            orbit_smoothness: 0.0,
            pan_smoothness: 0.0,
            zoom_smoothness: 0.0,
            zoom_sensitivity: NOTCH,
            zoom_lower_limit: ZOOM_RANGE[0],
            zoom_upper_limit: Some(ZOOM_RANGE[1]),
            radius: Some(4.0),
            yaw: Some(0.0),
            pitch: Some(0.0),
            ..default()
        },
    ));
    if look.shading == Shading::Lit {
        camera.insert(lit_camera());
    }
}

/// The first view of a scene: its axis seen well, a planar scene face-on.
fn first_view(bounds: &ViewBounds) -> View {
    if bounds.planar || bounds.axis.is_none() {
        View::Usual
    } else {
        View::Axis
    }
}

/// Another scene is framed at once; the same scene read again keeps the camera where it is.
fn frame_another_scene(
    (scenes, selected): (Option<Res<SceneCount>>, Option<Res<Selected>>),
    bounds: Res<ViewBounds>,
    free: Res<FreeArea>,
    (drawing, look): (Option<Res<LinkDrawing>>, Res<Look>),
    mut view: ResMut<CurrentView>,
    camera: Option<Single<&mut PanOrbitCamera, With<WindowCamera>>>,
) {
    let (Some(scenes), Some(selected), Some(mut camera)) = (scenes, selected, camera) else {
        return;
    };
    if bounds.radius <= 0.0 {
        return;
    }
    let wanted = (*scenes, selected.motion);
    if let Some(framed) = view.framed.filter(|framed| framed.0 == wanted.0) {
        if drawing.is_some_and(|drawing| drawing.on) {
            // What is aimed at stays where it is.
            return;
        }
        let here = CameraState::of(&camera);
        if framed != wanted {
            view.framed = Some(wanted);
            if view.view == Some(View::Axis) {
                // The axis of another motion is to be seen well.
                let there = stand(&bounds, View::Axis, view.lens, free.aspect());
                view.flight = Some(Flight::new(here, there, look.reduced_motion));
            }
        } else if free.is_changed() && view.flight.is_none() {
            let fitted = |aspect| stand(&bounds, here.angles(), view.lens, aspect);
            let there = match view.view {
                // A view that nobody has touched goes on filling what the panels leave of the window, without a turn.
                Some(_) => fitted(free.aspect()),
                // One that was set by hand shows what it showed, and no part of that is cut.
                None => CameraState {
                    radius: here.radius * fitted(free.aspect()).radius / fitted(view.aspect).radius,
                    ..here
                },
            };
            there.apply(&mut camera);
        }
        view.bypass_change_detection().aspect = free.aspect();
        return;
    }
    view.framed = Some(wanted);
    view.aspect = free.aspect();
    view.flight = None;
    let first = first_view(&bounds);
    view.view = Some(first);
    stand(&bounds, first, view.lens, free.aspect()).apply(&mut camera);
}

fn stand(bounds: &ViewBounds, view: View, lens: Lens, aspect: f32) -> CameraState {
    let settings = CameraSettings {
        view,
        lens,
        ..default()
    };
    let pose = camera_pose(bounds, &settings, aspect);
    let (azimuth, elevation) = view.angles(bounds);
    CameraState {
        focus: pose.target,
        yaw: azimuth.to_radians(),
        pitch: elevation.to_radians(),
        radius: pose.eye.distance(pose.target),
    }
}

/// The standard view after the one that is seen now.
fn next_view(current: &CurrentView, step: super::intent::StepDirection) -> View {
    let at = View::NAMED
        .iter()
        .position(|(_, view)| Some(*view) == current.view);
    let next = at.map_or(0, |at| step.around(at, View::NAMED.len()));
    View::NAMED[next].1
}

fn follow_intents(
    mut intents: MessageReader<CameraIntent>,
    bounds: Res<ViewBounds>,
    free: Res<FreeArea>,
    look: Res<Look>,
    mut view: ResMut<CurrentView>,
    camera: Option<Single<&mut PanOrbitCamera, With<WindowCamera>>>,
) {
    let Some(mut camera) = camera else { return };
    for intent in intents.read() {
        let here = CameraState::of(&camera);
        let there = match intent {
            CameraIntent::Look(wanted) => Some(*wanted),
            CameraIntent::StepView(step) => Some(next_view(&view, *step)),
            CameraIntent::Fit => Some(here.angles()),
            CameraIntent::Turn(azimuth, elevation) => {
                let turned = here.turned(azimuth.to_radians(), elevation.to_radians());
                view.view = None;
                view.flight = Some(Flight::new(here, turned, look.reduced_motion));
                None
            }
            CameraIntent::SwitchLens => {
                view.lens = if view.is_parallel(bounds.planar) {
                    Lens::Perspective
                } else {
                    Lens::Parallel
                };
                camera.force_update = true;
                None
            }
        };
        if let Some(wanted) = there {
            if *intent != CameraIntent::Fit {
                view.view = Some(wanted);
            }
            let to = stand(&bounds, wanted, view.lens, free.aspect());
            view.flight = Some(Flight::new(here, to, look.reduced_motion));
        }
    }
}

fn fly(
    time: Res<Time>,
    mut view: ResMut<CurrentView>,
    buttons: Res<ButtonInput<MouseButton>>,
    (mut moved, mut wheel): (MessageReader<CursorMoved>, MessageReader<MouseWheel>),
    camera: Option<Single<&mut PanOrbitCamera, With<WindowCamera>>>,
) {
    let Some(mut camera) = camera else { return };
    let is_dragged = moved.read().count() > 0 && buttons.get_pressed().len() > 0;
    let is_zoomed = wheel.read().count() > 0;
    if camera.enabled && buttons.get_just_pressed().len() > 0 {
        // A hand on the scene takes over.
        view.flight = None;
    }
    if camera.enabled && (is_dragged || is_zoomed) && view.view.is_some() {
        view.view = None;
    }
    let Some(flight) = view.bypass_change_detection().flight.as_mut() else {
        return;
    };
    let (place, arrived) = flight.after(time.delta_secs());
    place.apply(&mut camera);
    if arrived {
        view.flight = None;
    }
}

fn redraw_while_moving(
    view: Res<CurrentView>,
    camera: Option<Single<&mut PanOrbitCamera, With<WindowCamera>>>,
    mut last: Local<Option<CameraState>>,
    mut frames: ResMut<FramesToDraw>,
) {
    let Some(mut camera) = camera else { return };
    let here = CameraState::of(&camera);
    let on_the_way = view.flight.is_some() || !here.is_at_target(&camera);
    if on_the_way || *last != Some(here) {
        frames.until_settled();
    }
    if last.is_some_and(|last| last != here) && here.focus_settled(&camera) {
        // The controller leaves a rest of the way in two of three components.
        camera.bypass_change_detection().focus = camera.target_focus;
    }
    *last = Some(here);
}

/// The window that the scene is shown in.
type PrimaryOnly = With<PrimaryWindow>;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_say_how_the_scene_is_seen() {
        let mut view = CurrentView::default();
        assert_eq!(view.words(false), "by hand, perspective");
        view.view = Some(View::Axis);
        assert_eq!(view.words(false), "axis, perspective");
        view.view = Some(View::Usual);
        assert_eq!(view.words(true), "face-on, parallel");
    }

    #[test]
    fn stepping_visits_every_standard_view() {
        use super::super::intent::StepDirection;
        let mut view = CurrentView::default();
        let mut seen = Vec::new();
        for _ in 0..View::NAMED.len() {
            let next = next_view(&view, StepDirection::On);
            view.view = Some(next);
            seen.push(next);
        }
        let named: Vec<View> = View::NAMED.iter().map(|(_, view)| *view).collect();
        assert_eq!(seen, named);
        view.view = None;
        assert_eq!(next_view(&view, StepDirection::Back), View::NAMED[0].1);
    }

    #[test]
    fn a_scene_opens_with_its_axis_seen_well_and_a_planar_one_face_on() {
        let mut bounds = ViewBounds::of_points(vec![Vec3::ZERO, Vec3::ONE]);
        assert_eq!(first_view(&bounds), View::Usual);
        bounds.axis = Some(Vec3::X);
        assert_eq!(first_view(&bounds), View::Axis);
        bounds.planar = true;
        assert_eq!(first_view(&bounds), View::Usual);
    }
}
