//! What the viewer costs beside an empty bevy app, drawn on the processor, or with `-- --card` on the graphics card.
//!
//! Run with `cargo bench --profile dev --bench viewer`, which shares the dev build of the dependencies. All apps have
//! a window's entity but no window: they draw into an image of the same size with the same driver, turn about. On a card
//! the viewer is lit, as it is there, and the picture as large as a projector's.

use std::io::Write;
use std::time::{Duration, Instant};

use bevy::app::{AppLabel, PluginsState, SubApps};
use bevy::camera::RenderTarget;
use bevy::core_pipeline::tonemapping::{DebandDither, Tonemapping};
use bevy::log::LogPlugin;
use bevy::picking::mesh_picking::MeshPickingPlugin;
use bevy::prelude::*;
use bevy::render::pipelined_rendering::PipelinedRenderingPlugin;
use bevy::render::render_resource::{CachedPipelineState, PipelineCache, PollType, TextureFormat};
use bevy::render::renderer::RenderDevice;
use bevy::render::settings::{RenderCreation, WgpuSettings};
use bevy::render::{RenderApp, RenderPlugin};
use bevy::winit::WinitPlugin;
use sixhold::statics::CaseIndex;
use sixhold::study::Study;
use sixhold::theme::ThemeName;
use sixhold::viewer::app::ViewerPlugin;
use sixhold::viewer::shown::{Selected, show};
use sixhold::viewer::state::{Look, Playback, Shading, Source};

/// The scene that moves.
const SCENE: &str = "handrail";
/// Starts of each app, the first of which only fills the driver's caches.
const STARTS: usize = 6;
/// Frames timed after each start.
const FRAMES: usize = 40;
/// Frames passed over before timing: labels and panels find their places.
const SETTLING: usize = 12;
/// Updates before a start is given up.
const PATIENCE: usize = 200;

/// What draws.
#[derive(Clone, Copy, PartialEq)]
enum Driver {
    Processor,
    Card,
}

impl Driver {
    fn size(self) -> UVec2 {
        match self {
            Self::Processor => UVec2::new(1280, 720),
            Self::Card => UVec2::new(3840, 2160),
        }
    }
}

/// What is measured.
#[derive(Clone, Copy)]
enum Kind {
    /// A camera and its clear colour, all else as bevy has it.
    Empty,
    /// The same without multisampling and tone mapping, which the viewer turns off on the processor.
    Plain,
    /// The viewer with a scene that moves.
    Viewer,
}

/// Times of one kind, seconds.
#[derive(Default)]
struct Times {
    first_frame: Vec<f64>,
    frames: Vec<f64>,
}

fn main() {
    let driver = match std::env::args().any(|argument| argument == "--card") {
        true => Driver::Card,
        false => Driver::Processor,
    };
    let kinds = [Kind::Empty, Kind::Plain, Kind::Viewer];
    let mut times = kinds.map(|_| Times::default());
    for start in 0..STARTS {
        for (kind, times) in kinds.into_iter().zip(&mut times) {
            measure((kind, driver), start > 0, times);
        }
    }
    print(&times.map(|times| [median(times.first_frame), median(times.frames)]));
}

fn measure(what: (Kind, Driver), counts: bool, times: &mut Times) {
    let began = Instant::now();
    let mut apps = start(what);
    let mut known = 0;
    let complete = (0..PATIENCE).any(|_| {
        step(&mut apps);
        let pipelines = ready_pipelines(&apps);
        // A frame in which no shader was missing and none was new is whole.
        let whole = pipelines.is_some_and(|count| count > 0 && count == known);
        known = pipelines.unwrap_or(0);
        whole
    });
    assert!(complete, "the shaders were never ready");
    let first_frame = began.elapsed();
    for _ in 0..SETTLING {
        step(&mut apps);
    }
    let frames = (0..FRAMES).map(|_| timed(|| step(&mut apps)).as_secs_f64());
    if counts {
        times.first_frame.push(first_frame.as_secs_f64());
        times.frames.extend(frames);
    }
}

fn timed(work: impl FnOnce()) -> Duration {
    let began = Instant::now();
    work();
    began.elapsed()
}

fn start((kind, driver): (Kind, Driver)) -> SubApps {
    let mut app = App::new();
    app.add_plugins(windowless(driver));
    match kind {
        Kind::Viewer => add_viewer(&mut app, driver),
        Kind::Empty => {
            app.add_systems(Startup, |mut commands: Commands| {
                commands.spawn(Camera3d::default());
            });
        }
        Kind::Plain => {
            app.add_systems(Startup, |mut commands: Commands| {
                let camera = (Camera3d::default(), Msaa::Off, Tonemapping::None);
                commands.spawn((camera, DebandDither::Disabled));
            });
        }
    }
    app.add_systems(PostStartup, draw_into_image(driver.size()));
    while app.plugins_state() == PluginsState::Adding {
        bevy::tasks::tick_global_task_pools_on_main_thread();
    }
    app.finish();
    app.cleanup();
    std::mem::take(app.sub_apps_mut())
}

fn add_viewer(app: &mut App, driver: Driver) {
    let source = Source::BuiltIn(SCENE);
    let study = Study::read(source).expect("the scene is built in");
    let look = Look {
        software: driver == Driver::Processor,
        shading: match driver {
            Driver::Processor => Shading::Plain,
            Driver::Card => Shading::Lit,
        },
        ..Look::new(ThemeName::default())
    };
    let selected = Selected::of(&study, CaseIndex::FIRST, None);
    show(app.world_mut(), study, selected);
    app.insert_resource(look)
        .add_plugins((ViewerPlugin, MeshPickingPlugin))
        .add_systems(Startup, |mut playback: ResMut<Playback>| {
            playback.playing = true;
        });
}

fn draw_into_image(
    size: UVec2,
) -> impl FnMut(Commands, ResMut<Assets<Image>>, Query<Entity, With<Camera3d>>) {
    move |mut commands, mut images, cameras| {
        let target = Image::new_target_texture(size.x, size.y, TextureFormat::Rgba8UnormSrgb, None);
        let target = images.add(target);
        for camera in &cameras {
            commands
                .entity(camera)
                .insert(RenderTarget::from(target.clone()));
        }
    }
}

fn windowless(driver: Driver) -> bevy::app::PluginGroupBuilder {
    let settings = WgpuSettings {
        force_fallback_adapter: driver == Driver::Processor,
        ..default()
    };
    DefaultPlugins
        .set(WindowPlugin {
            primary_window: Some(Window {
                resolution: driver.size().into(),
                ..default()
            }),
            ..default()
        })
        .set(RenderPlugin {
            render_creation: RenderCreation::Automatic(Box::new(settings)),
            synchronous_pipeline_compilation: true,
            ..default()
        })
        .disable::<LogPlugin>()
        .disable::<WinitPlugin>()
        .disable::<PipelinedRenderingPlugin>()
}

/// One frame, until the driver has drawn it.
fn step(apps: &mut SubApps) {
    apps.update();
    let device = apps.main.world().resource::<RenderDevice>();
    let wait = PollType::Wait {
        submission_index: None,
        timeout: None,
    };
    device
        .wgpu_device()
        .poll(wait)
        .expect("the driver finishes its work");
}

/// How many shaders there are, if all are ready.
fn ready_pipelines(apps: &SubApps) -> Option<usize> {
    let render = apps.sub_apps.get(&RenderApp.intern())?.world();
    let mut count = 0;
    for pipeline in render.resource::<PipelineCache>().pipelines() {
        if !matches!(pipeline.state, CachedPipelineState::Ok(_)) {
            return None;
        }
        count += 1;
    }
    Some(count)
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Rows of median milliseconds, and the viewer's as multiples of the others'.
fn print(medians: &[[f64; 2]; 3]) {
    let mut out = std::io::stdout().lock();
    let viewer = medians[2];
    let mut row = |name: &str, [first, frame]: [f64; 2]| {
        let ratios = [viewer[0] / first, viewer[1] / frame];
        writeln!(
            out,
            "{name:<34} {:>7.0} ms {:>7.2} ms    {:>5.2} {:>5.2}",
            first * 1e3,
            frame * 1e3,
            ratios[0],
            ratios[1]
        )
        .expect("standard output can be written");
    };
    row("empty app", medians[0]);
    row("empty app, the viewer's camera", medians[1]);
    row("the viewer, handrail moving", viewer);
}
