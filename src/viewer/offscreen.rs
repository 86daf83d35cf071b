//! Pictures without a window and without a display server: the same stage, rendered into images.
//!
//! Nothing in a picture depends on the clock: the phase says where in its swing the body is.

use std::sync::mpsc::{Receiver, channel};

use bevy::app::{AppLabel, PluginsState, SubApps};
use bevy::camera::RenderTarget;
use bevy::core_pipeline::tonemapping::{DebandDither, Tonemapping};
use bevy::image::Image;
use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::render_resource::{
    CachedPipelineState, PipelineCache, PollType, TextureFormat, TextureUsages,
};
use bevy::render::renderer::RenderDevice;
use bevy::render::settings::{RenderCreation, RenderResources};
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured};
use bevy::render::{RenderApp, RenderPlugin};
use bevy::shader::ShaderCacheError;
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;
use bevy_egui::{EguiContexts, EguiPlugin, EguiPreUpdateSet, egui};
use image::{Rgba, RgbaImage};
use thiserror::Error;

use super::adapter;
use super::camera::{FreeArea, WindowCamera};
use super::framing::{CameraPose, CameraSettings, ViewBounds, camera_pose};
use super::labels::LabelsPlugin;
use super::orbit::Orbit;
use super::redraw::FramesToDraw;
use super::shown::{Selected, show};

use super::stage::{StagePlugin, lit_camera};
use super::state::{Look, Playback, Shading, ViewerSystems};
use super::style::{self, SkinPlugin};
use crate::motion::Selection;
use crate::statics::CaseIndex;
use crate::study::Study;
use crate::theme::{Theme, ThemeName};

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
    let mut reel = SpaceFilm::new(study, settings)?;
    let mut image = reel.studio.shoot()?;
    if settings.transparent {
        image.pixels_mut().for_each(straighten);
    }
    Ok(RenderedPicture {
        image,
        camera: reel.studio.pose,
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
    studio: OffscreenApp,
    orbit: Orbit,
}

impl SpaceFilm {
    /// Sets the scene up; the phase of the settings is the one that it begins with.
    ///
    /// # Errors
    /// A [`PictureError`] where the settings are out of range or the machine cannot draw.
    pub fn new(study: Study, settings: &PictureSettings) -> Result<Self, PictureError> {
        check(settings)?;
        let renderer = adapter::find(false).ok_or(PictureError::NoAdapter)?;
        let mut studio = OffscreenApp::new(study, settings, renderer)?;
        studio.warm_up()?;
        let bounds = studio.apps.main.world().resource::<ViewBounds>().clone();
        let aspect = settings.width as f32 / settings.height as f32;
        let orbit = Orbit::new(settings.camera, aspect, bounds);
        Ok(Self { studio, orbit })
    }

    /// The picture with the body at a phase of its swing, −1 to 1.
    ///
    /// # Errors
    /// A [`PictureError`] where the phase is out of range or the driver gives up.
    pub fn at(&mut self, phase: f32) -> Result<RgbaImage, PictureError> {
        check_phase(phase)?;
        let world = self.studio.apps.main.world_mut();
        world.resource_mut::<Playback>().position = phase;
        // One update lets the labels follow the body before it is taken.
        self.studio.step()?;
        self.studio.shoot()
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
        let pose = self.orbit.pose(part);
        let world = self.studio.apps.main.world_mut();
        let mut cameras =
            world.query_filtered::<(&mut Transform, &mut Projection), With<WindowCamera>>();
        for (mut place, mut projection) in cameras.iter_mut(world) {
            (*place, *projection) = (pose.transform(), pose.projection());
        }
        self.studio.step()?;
        self.studio.shoot()
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

/// An app that draws into an image.
struct OffscreenApp {
    apps: SubApps,
    target: Handle<Image>,
    pose: CameraPose,
}

/// Updates for which everything is ready before the picture is taken: labels find their places meanwhile.
const SETTLED: usize = 5;

/// Updates before a picture is given up.
const PATIENCE: usize = 600;

impl OffscreenApp {
    fn new(
        study: Study,
        settings: &PictureSettings,
        renderer: RenderResources,
    ) -> Result<Self, PictureError> {
        let mut app = App::new();
        let software = adapter::is_software(&renderer);
        let shading = settings.shading.unwrap_or(Shading::usual(software));
        app.add_plugins(windowless(renderer));
        app.add_plugins(StagePlugin);
        if settings.labels {
            add_labels(&mut app, settings);
        }
        app.configure_sets(
            Update,
            (
                ViewerSystems::Input,
                ViewerSystems::Play,
                ViewerSystems::Stage,
            )
                .chain(),
        );
        let selected = Selected::of(&study, settings.case, Some(settings.motion));
        show(app.world_mut(), study, selected);
        app.insert_resource(Look {
            reduced_motion: true,
            software: false,
            shading,
            floor: settings.look.floor && !settings.transparent,
            ..settings.look
        })
        .insert_resource(Playback {
            playing: false,
            position: settings.phase,
            amplitude: settings.amplitude,
            speed: 1.0,
        });
        while app.plugins_state() == PluginsState::Adding {
            bevy::tasks::tick_global_task_pools_on_main_thread();
        }
        app.finish();
        app.cleanup();
        let mut studio = Self {
            apps: std::mem::take(app.sub_apps_mut()),
            target: Handle::default(),
            pose: camera_pose(&ViewBounds::default(), &settings.camera, 1.0),
        };
        // The first update composes the stage, so that the camera knows what it is to see.
        studio.step()?;
        studio.place_camera(settings);
        Ok(studio)
    }

    fn place_camera(&mut self, settings: &PictureSettings) {
        let PictureSettings { width, height, .. } = *settings;
        let world = self.apps.main.world_mut();
        let mut image =
            Image::new_target_texture(width, height, TextureFormat::Rgba8UnormSrgb, None);
        image.texture_descriptor.usage |= TextureUsages::COPY_SRC;
        self.target = world.resource_mut::<Assets<Image>>().add(image);
        let bounds = world.resource::<ViewBounds>();
        let aspect = width as f32 / height as f32;
        let fitted = || camera_pose(bounds, &settings.camera, aspect);
        self.pose = settings.pose.unwrap_or_else(fitted);
        let ground = Theme::of(settings.look.theme).background;
        let shading = world.resource::<Look>().shading;
        let background = match settings.transparent {
            true => Color::NONE,
            false => Color::srgb_u8(ground.0, ground.1, ground.2),
        };
        let mut camera = world.spawn((
            WindowCamera,
            Camera3d::default(),
            Camera {
                clear_color: background.into(),
                ..default()
            },
            RenderTarget::from(self.target.clone()),
            self.pose.transform(),
            self.pose.projection(),
            Tonemapping::None,
            DebandDither::Disabled,
            Msaa::Sample4,
        ));
        if shading == Shading::Lit {
            camera.insert(lit_camera());
        }
    }

    /// Runs the app until every shader is ready and has been so for a few frames.
    fn warm_up(&mut self) -> Result<(), PictureError> {
        let mut ready = 0;
        for _ in 0..PATIENCE {
            self.step()?;
            ready = if self.pipelines_ready()? {
                ready + 1
            } else {
                0
            };
            if ready == SETTLED {
                return Ok(());
            }
        }
        Err(driver("its shaders were never ready"))
    }

    fn pipelines_ready(&self) -> Result<bool, PictureError> {
        let render = self
            .apps
            .sub_apps
            .get(&RenderApp.intern())
            .ok_or_else(|| driver("there is no renderer"))?;
        for pipeline in render.world().resource::<PipelineCache>().pipelines() {
            match &pipeline.state {
                CachedPipelineState::Ok(_) => {}
                CachedPipelineState::Queued
                | CachedPipelineState::Creating(_)
                // Tried again as soon as the shader has been read.
                | CachedPipelineState::Err(
                    ShaderCacheError::ShaderNotLoaded(_)
                    | ShaderCacheError::ShaderImportNotYetAvailable,
                ) => return Ok(false),
                CachedPipelineState::Err(error) => return Err(driver(&error.to_string())),
            }
        }
        Ok(true)
    }

    /// The next frame.
    fn shoot(&mut self) -> Result<RgbaImage, PictureError> {
        let captured = self.ask_for_frame();
        for _ in 0..PATIENCE {
            self.step()?;
            if let Ok(image) = captured.try_recv() {
                let image = image.try_into_dynamic();
                return image
                    .map(|image| image.into_rgba8())
                    .map_err(|error| driver(&error.to_string()));
            }
        }
        Err(driver("the frame never came back"))
    }

    fn ask_for_frame(&mut self) -> Receiver<Image> {
        let (send, receive) = channel();
        let world = self.apps.main.world_mut();
        world.spawn(Screenshot::image(self.target.clone())).observe(
            move |captured: On<ScreenshotCaptured>| {
                // The receiver is gone only after it has given up.
                let _ = send.send(captured.image.clone());
            },
        );
        receive
    }

    fn step(&mut self) -> Result<(), PictureError> {
        self.apps.update();
        let device = self.apps.main.world().resource::<RenderDevice>();
        let wait = PollType::Wait {
            submission_index: None,
            timeout: None,
        };
        match device.wgpu_device().poll(wait) {
            Ok(_) => Ok(()),
            Err(error) => Err(driver(&error.to_string())),
        }
    }
}

/// Size of the picture in pixels; letters take the same share of every size.
#[derive(Resource)]
struct PictureSize(Vec2);

/// Names and values, drawn as in the window.
fn add_labels(app: &mut App, settings: &PictureSettings) {
    let size = Vec2::new(settings.width as f32, settings.height as f32);
    app.insert_resource(PictureSize(size))
        .insert_resource(FreeArea(Rect::from_corners(Vec2::ZERO, size)))
        .init_resource::<FramesToDraw>()
        .add_plugins((EguiPlugin::default(), SkinPlugin, LabelsPlugin))
        .add_systems(
            PreUpdate,
            scale_letters
                .after(EguiPreUpdateSet::InitContexts)
                .before(EguiPreUpdateSet::BeginPass),
        );
}

fn scale_letters(mut contexts: EguiContexts, size: Res<PictureSize>) {
    if let Ok(ctx) = contexts.ctx_mut() {
        ctx.set_zoom_factor(style::scale(size.0, 1.0));
    }
}

fn driver(reason: &str) -> PictureError {
    PictureError::Driver {
        reason: reason.to_owned(),
    }
}

fn windowless(renderer: RenderResources) -> bevy::app::PluginGroupBuilder {
    DefaultPlugins
        .set(WindowPlugin {
            primary_window: None,
            exit_condition: ExitCondition::DontExit,
            ..default()
        })
        .set(RenderPlugin {
            render_creation: RenderCreation::Manual(renderer),
            synchronous_pipeline_compilation: true,
            ..default()
        })
        .disable::<LogPlugin>()
        .disable::<WinitPlugin>()
        .disable::<PipelinedRenderingPlugin>()
}
