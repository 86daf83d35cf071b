//! The app that draws into an image.

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
use bevy_egui::{EguiContexts, EguiPlugin, EguiPreUpdateSet};
use image::RgbaImage;

use super::{PictureError, PictureSettings};
use crate::study::Study;
use crate::theme::Theme;
use crate::viewer::adapter;
use crate::viewer::camera::{FreeArea, WindowCamera};
use crate::viewer::framing::{CameraPose, ViewBounds, camera_pose};
use crate::viewer::labels::LabelsPlugin;
use crate::viewer::redraw::FramesToDraw;
use crate::viewer::shown::{Selected, show};
use crate::viewer::stage::{StagePlugin, lit_camera};
use crate::viewer::state::{Look, Playback, Shading, ViewerSystems};
use crate::viewer::style::{self, SkinPlugin};

/// An app that draws into an image.
pub(super) struct OffscreenApp {
    pub(super) apps: SubApps,
    target: Handle<Image>,
    pub(super) pose: CameraPose,
}

/// Updates for which everything is ready before the picture is taken: labels find their places meanwhile.
const SETTLED: usize = 5;

/// Updates before a picture is given up.
const PATIENCE: usize = 600;

impl OffscreenApp {
    pub(super) fn new(
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
        let mut offscreen = Self {
            apps: std::mem::take(app.sub_apps_mut()),
            target: Handle::default(),
            pose: camera_pose(&ViewBounds::default(), &settings.camera, 1.0),
        };
        // The first update composes the stage, so that the camera knows what it is to see.
        offscreen.step()?;
        offscreen.place_camera(settings);
        Ok(offscreen)
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
    pub(super) fn warm_up(&mut self) -> Result<(), PictureError> {
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
    pub(super) fn shoot(&mut self) -> Result<RgbaImage, PictureError> {
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

    pub(super) fn step(&mut self) -> Result<(), PictureError> {
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
