//! The lens, and the middle of the picture: it lies in the middle of what the panels leave free.
//!
//! The window shows a part of a larger picture whose middle is that of the free area.

use bevy::camera::{ScalingMode, SubCameraView};
use bevy::prelude::*;
use bevy_panorbit_camera::PanOrbitCamera;

use super::{CurrentView, PrimaryOnly, WindowCamera};
use crate::viewer::framing::{CameraPose, ViewBounds};

/// The part of the window that no panel covers, in logical pixels.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub(crate) struct FreeArea(pub Rect);

/// What of the scene lies under the line that says what is in hand, in logical pixels. egui knows what the pointer is over only since
/// the frame before, and a quick click is over by then.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Covered(pub(crate) Rect);

impl Covered {
    /// How far down the picture is clear, of the `height` that panels leave it.
    pub(crate) fn above(&self, height: f32) -> f32 {
        match self.0.is_empty() {
            true => height,
            false => height.min(self.0.min.y),
        }
    }
}

impl Default for FreeArea {
    fn default() -> Self {
        Self(Rect::new(0.0, 0.0, 1280.0, 720.0))
    }
}

impl FreeArea {
    /// Width over height, > 0.
    pub(crate) fn aspect(&self) -> f32 {
        let size = self.0.size().max(Vec2::ONE);
        size.x / size.y
    }
}

/// How the window lies in the larger picture, in physical pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Inset {
    part: (UVec2, Vec2, UVec2),
    /// Height of the larger picture over that of the free area.
    stretch: f32,
}

fn inset(window: UVec2, free: Rect) -> Inset {
    let size = window.as_vec2();
    let middle = free.center();
    let half = middle.max(size - middle).ceil();
    let full = (half * 2.0).as_uvec2();
    Inset {
        part: (full, half - middle, window),
        stretch: full.y as f32 / free.height().max(1.0),
    }
}

/// Nearest and farthest depth drawn, relative to the size of the scene.
const DEPTHS: [f32; 2] = [0.02, 200.0];

fn projection(parallel: bool, half_height: f32, stretch: f32, aspect_ratio: f32) -> Projection {
    let [near, far] = DEPTHS;
    if parallel {
        return Projection::Orthographic(OrthographicProjection {
            // The controller multiplies by its distance, so both lenses show the focus at one size.
            scaling_mode: ScalingMode::FixedVertical {
                viewport_height: 2.0 * half_height * stretch,
            },
            near: 0.0,
            far,
            ..OrthographicProjection::default_3d()
        });
    }
    Projection::Perspective(PerspectiveProjection {
        fov: 2.0 * (half_height * stretch).atan(),
        near,
        far,
        aspect_ratio,
        ..default()
    })
}

/// Half the height of the free area as the tangent of an angle at the eye.
fn half_height(bounds: &ViewBounds) -> f32 {
    let pose: CameraPose = super::camera_pose(bounds, &super::CameraSettings::default(), 1.0);
    if pose.perspective {
        pose.half_height
    } else {
        pose.half_height / pose.eye.distance(pose.target)
    }
}

/// The camera of a picture that shows what the free area shows, and has its proportions.
pub(crate) fn pose_of(
    place: &Transform,
    orbit: &PanOrbitCamera,
    bounds: &ViewBounds,
    parallel: bool,
) -> CameraPose {
    let distance = place.translation.distance(orbit.focus);
    let half_height = half_height(bounds) * if parallel { distance } else { 1.0 };
    CameraPose {
        eye: place.translation,
        target: orbit.focus,
        up: place.up().as_vec3(),
        half_height,
        perspective: !parallel,
    }
}

/// What the lens of a camera consists of.
type LensParts = (
    &'static mut Camera,
    &'static mut Projection,
    &'static mut PanOrbitCamera,
);

pub(super) fn centre_in_free_area(
    free: Res<FreeArea>,
    bounds: Res<ViewBounds>,
    view: Res<CurrentView>,
    window: Option<Single<&Window, PrimaryOnly>>,
    camera: Option<Single<LensParts, With<WindowCamera>>>,
    mut last: Local<Option<(Inset, bool)>>,
) {
    let (Some(window), Some(camera)) = (window, camera) else {
        return;
    };
    let (mut camera, mut lens, mut orbit) = camera.into_inner();
    let size = window.physical_size();
    if size.x == 0 || size.y == 0 || free.0.is_empty() {
        return;
    }
    let scale = window.scale_factor();
    let inset = inset(
        size,
        Rect::from_corners(free.0.min * scale, free.0.max * scale),
    );
    let parallel = view.is_parallel(bounds.planar);
    if *last == Some((inset, parallel)) {
        return;
    }
    *last = Some((inset, parallel));
    let (full_size, offset, size) = inset.part;
    camera.sub_camera_view = Some(SubCameraView {
        full_size,
        offset,
        size,
    });
    let aspect = size.x as f32 / size.y as f32;
    *lens = projection(parallel, half_height(&bounds), inset.stretch, aspect);
    // What is dragged stays under the pointer although the controller reckons with the window alone.
    orbit.pan_sensitivity = size.y as f32 / full_size.y as f32;
    orbit.force_update = true;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_free_area_has_its_middle_in_the_middle_of_the_larger_picture() {
        let free = Rect::new(0.0, 0.0, 1000.0, 600.0);
        let inset = inset(UVec2::new(1280, 720), free);
        let (full, offset, window) = inset.part;
        assert_eq!(full, UVec2::new(1560, 840));
        assert_eq!(window, UVec2::new(1280, 720));
        // The middle of the larger picture, seen from the window's corner.
        assert_eq!(full.as_vec2() / 2.0 - offset, free.center());
        assert!((inset.stretch - 1.4).abs() < 1e-6);
    }

    #[test]
    fn the_window_lies_inside_the_larger_picture() {
        for free in [
            Rect::new(300.0, 0.0, 900.0, 700.0),
            Rect::new(0.0, 20.0, 1280.0, 720.0),
            Rect::new(640.0, 360.0, 700.0, 370.0),
        ] {
            let (full, offset, window) = inset(UVec2::new(1280, 720), free).part;
            assert!(offset.min_element() >= 0.0);
            assert!(
                (offset + window.as_vec2()).cmple(full.as_vec2()).all(),
                "{free:?}"
            );
        }
    }

    #[test]
    fn both_lenses_show_the_focus_at_one_size() {
        let bounds = ViewBounds::of_points(vec![Vec3::NEG_ONE, Vec3::ONE]);
        let half = half_height(&bounds);
        let distance = 3.0;
        let at_focus = |projection: &Projection, eye: f32| {
            let clip = projection.get_clip_from_view();
            clip.project_point3(Vec3::new(0.0, 0.5, -eye)).y
        };
        let mut perspective = projection(false, half, 1.2, 1.5);
        perspective.update(900.0, 600.0);
        let mut parallel = projection(true, half, 1.2, 1.5);
        if let Projection::Orthographic(lens) = &mut parallel {
            lens.scale = distance;
        }
        parallel.update(900.0, 600.0);
        let (a, b) = (
            at_focus(&perspective, distance),
            at_focus(&parallel, distance),
        );
        assert!((a - b).abs() < 1e-5, "{a} {b}");
    }
}
