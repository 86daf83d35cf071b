//! Pictures without a window and without a display server: the same stage, rendered into images.
//!
//! Nothing in a picture depends on the clock: the phase says where in its swing the body is.

mod app;

use bevy::prelude::*;
use bevy_egui::egui;
use image::{Rgba, RgbaImage};
use thiserror::Error;

use super::adapter;
use super::camera::WindowCamera;
use super::framing::{CameraPose, CameraSettings, ViewBounds};
use super::orbit::Orbit;
use super::state::{Look, Playback, Shading};
use crate::motion::Selection;
use crate::statics::CaseIndex;
use crate::study::Study;
use crate::theme::ThemeName;
use app::OffscreenApp;

/// What a picture is to show of a scene.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PictureSettings {
    /// Pixels across, 16 to [`LARGEST`].
    pub width: u32,
    /// Pixels down, 16 to [`LARGEST`].
    pub height: u32,
    /// Load case whose loads and reaction values are shown; index into the model's cases.
    pub case: CaseIndex,
    /// Motion shown; the first that there is where this one is not.
    pub motion: Selection,
    /// Where in its swing the body is: 0 as written, −1 and 1 at the ends.
    pub phase: f32,
    /// Swing relative to the default one, > 0.
    pub amplitude: f32,
    /// Camera.
    pub camera: CameraSettings,
    /// The camera itself, where it is not to be found by the settings.
    pub pose: Option<CameraPose>,
    /// Colours, and what is drawn.
    pub look: Look,
    /// How solid things take light; as the adapter allows unless given.
    pub shading: Option<Shading>,
    /// Whether nothing is painted behind the scene.
    pub transparent: bool,
    /// Whether names and values are written.
    pub labels: bool,
}

impl Default for PictureSettings {
    fn default() -> Self {
        Self {
            width: 1280,
            height: 720,
            case: CaseIndex::FIRST,
            motion: Selection::default(),
            phase: 0.0,
            amplitude: 1.0,
            camera: CameraSettings::default(),
            pose: None,
            look: Look::new(ThemeName::default()),
            shading: None,
            transparent: false,
            labels: true,
        }
    }
}

/// Most pixels to a side.
pub const LARGEST: u32 = 8192;
const SMALLEST: u32 = 16;

/// Why there is no picture.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PictureError {
    /// No graphics driver, not even a software one.
    #[error(
        "no graphics driver was found to draw with; a software one is enough \
         (on Debian and Ubuntu: the package mesa-vulkan-drivers)"
    )]
    NoAdapter,
    /// A size that cannot be drawn.
    #[error(
        "a picture of {width} × {height} pixels cannot be drawn; each side must be 16 to {LARGEST}"
    )]
    Size {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// A number that is not finite or out of its range.
    #[error("{what} must be {allowed}")]
    Setting {
        /// Which one.
        what: &'static str,
        /// Which values are allowed.
        allowed: &'static str,
    },
    /// The driver refused a shader, or never finished.
    #[error("the graphics driver gave no picture: {reason}")]
    Driver {
        /// What it said.
        reason: String,
    },
}

/// A picture, and how it was projected.
#[derive(Debug, Clone)]
pub struct RenderedPicture {
    /// The pixels.
    pub image: RgbaImage,
    /// The camera that they were seen by.
    pub camera: CameraPose,
}

/// Draws one picture.
///
/// # Errors
/// A [`PictureError`] where the settings are out of range or the machine cannot draw.
pub fn picture(study: Study, settings: &PictureSettings) -> Result<RenderedPicture, PictureError> {
    let mut film = SpaceFilm::new(study, settings)?;
    let mut image = film.app.shoot()?;
    if settings.transparent {
        image.pixels_mut().for_each(straighten);
    }
    Ok(RenderedPicture {
        image,
        camera: film.app.pose,
    })
}

/// Over nothing, blending leaves colours multiplied by what they cover, in light; an image file wants the colours themselves.
fn straighten(pixel: &mut Rgba<u8>) {
    let cover = f32::from(pixel.0[3]) / 255.0;
    if cover > 0.0 && cover < 1.0 {
        for part in &mut pixel.0[..3] {
            let light = egui::ecolor::linear_f32_from_gamma_u8(*part) / cover;
            *part = egui::ecolor::gamma_u8_from_linear_f32(light.min(1.0));
        }
    }
}

/// A scene set up once and drawn at as many phases as are asked for, or from all around.
pub struct SpaceFilm {
    app: OffscreenApp,
    camera: CameraSettings,
    aspect: f32,
    /// The way around the scene, found when the camera first takes it.
    orbit: Option<Orbit>,
}

impl SpaceFilm {
    /// Sets the scene up; the phase of the settings is the one that it begins with.
    ///
    /// # Errors
    /// A [`PictureError`] where the settings are out of range or the machine cannot draw.
    pub fn new(study: Study, settings: &PictureSettings) -> Result<Self, PictureError> {
        check(settings)?;
        let renderer = adapter::find(false).ok_or(PictureError::NoAdapter)?;
        let mut app = OffscreenApp::new(study, settings, renderer)?;
        app.warm_up()?;
        Ok(Self {
            app,
            camera: settings.camera,
            aspect: settings.width as f32 / settings.height as f32,
            orbit: None,
        })
    }

    /// The picture with the body at a phase of its swing, −1 to 1.
    ///
    /// # Errors
    /// A [`PictureError`] where the phase is out of range or the driver gives up.
    pub fn at(&mut self, phase: f32) -> Result<RgbaImage, PictureError> {
        check_phase(phase)?;
        let world = self.app.apps.main.world_mut();
        world.resource_mut::<Playback>().position = phase;
        // One update lets the labels follow the body before it is taken.
        self.app.step()?;
        self.app.shoot()
    }

    /// The picture after a part of one turn of the camera around the scene, 0 to 1.
    ///
    /// # Errors
    /// A [`PictureError`] where the part is out of range or the driver gives up.
    pub fn turned(&mut self, part: f32) -> Result<RgbaImage, PictureError> {
        if !(0.0..=1.0).contains(&part) {
            return Err(PictureError::Setting {
                what: "the part of a turn",
                allowed: "from 0 to 1",
            });
        }
        let world = self.app.apps.main.world_mut();
        let (camera, aspect) = (self.camera, self.aspect);
        let found = || Orbit::new(camera, aspect, world.resource::<ViewBounds>().clone());
        let pose = self.orbit.get_or_insert_with(found).pose(part);
        let mut cameras =
            world.query_filtered::<(&mut Transform, &mut Projection), With<WindowCamera>>();
        for (mut place, mut projection) in cameras.iter_mut(world) {
            (*place, *projection) = (pose.transform(), pose.projection());
        }
        self.app.step()?;
        self.app.shoot()
    }
}

fn check(settings: &PictureSettings) -> Result<(), PictureError> {
    let PictureSettings { width, height, .. } = *settings;
    let sides = SMALLEST..=LARGEST;
    if !sides.contains(&width) || !sides.contains(&height) {
        return Err(PictureError::Size { width, height });
    }
    check_phase(settings.phase)?;
    if !(settings.amplitude > 0.0 && settings.amplitude.is_finite()) {
        return Err(PictureError::Setting {
            what: "the amplitude",
            allowed: "above 0",
        });
    }
    Ok(())
}

fn check_phase(phase: f32) -> Result<(), PictureError> {
    if (-1.0..=1.0).contains(&phase) {
        return Ok(());
    }
    Err(PictureError::Setting {
        what: "the phase",
        allowed: "from -1 to 1",
    })
}
