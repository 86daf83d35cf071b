//! The window as a window of its own, on a desktop.

use std::env;
use std::path::PathBuf;

use bevy::log::{Level, LogPlugin};
use bevy::picking::mesh_picking::MeshPickingPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::settings::{RenderCreation, RenderResources};
use bevy::window::{PresentMode, WindowResolution};
use thiserror::Error;

use super::adapter;
use super::app::ViewerPlugin;
use super::display;
use super::intent::LookIntent;
use super::library;
use super::scene_list::SceneList;
use super::shown::{Selected, show};
use super::state::{Look, Shading};
use crate::scene::Scene;
use crate::statics::CaseIndex;
use crate::study::Study;
use crate::theme::ThemeName;

/// How the viewer starts.
#[derive(Debug, Clone)]
pub struct ViewerSettings {
    /// The scene to show first.
    pub study: Study,
    /// Theme.
    pub theme: ThemeName,
    /// No camera flights.
    pub reduced_motion: bool,
    /// Draw on the processor, in the cheap way, even where there is a graphics card.
    pub software: bool,
    /// How solid things take light; as the adapter allows unless given.
    pub shading: Option<Shading>,
    /// Fill the screen.
    pub full_screen: bool,
    /// A folder whose scenes are listed first.
    pub folder: Option<PathBuf>,
}

/// Why the viewer cannot run.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum ViewerError {
    /// There is no display to open a window on.
    #[error("there is no display to open a window on: {reason}")]
    NoDisplay {
        /// What was tried.
        reason: String,
    },
    /// No graphics driver, not even a software one.
    #[error(
        "no graphics driver was found to draw with; a software one is enough \
         (on Debian and Ubuntu: the package mesa-vulkan-drivers)"
    )]
    NoAdapter,
    /// The window's loop ended with an error.
    #[error("the window was closed by an error (code {code})")]
    Failed {
        /// bevy's code.
        code: u8,
    },
}

/// Opens the window and returns when it is closed.
///
/// # Errors
/// A [`ViewerError`] where the scene cannot be opened, or there is no display or driver.
pub fn run(start: ViewerSettings) -> Result<(), ViewerError> {
    display::check(|name| env::var(name).ok())
        .map_err(|reason| ViewerError::NoDisplay { reason })?;
    let driver = adapter::find(start.software).ok_or(ViewerError::NoAdapter)?;
    let software = start.software || adapter::is_software(&driver);
    let look = Look {
        software,
        shading: start.shading.unwrap_or(Shading::usual(software)),
        reduced_motion: start.reduced_motion,
        ..Look::new(start.theme)
    };
    let mut app = App::new();
    app.add_plugins(bevy_plugins(start.study.scene(), driver))
        .insert_resource(look)
        .add_plugins((ViewerPlugin, MeshPickingPlugin));
    let selected = Selected::of(&start.study, CaseIndex::FIRST, None);
    show(app.world_mut(), start.study, selected);
    if start.full_screen {
        app.world_mut().write_message(LookIntent::FullScreen);
    }
    if let Some(folder) = &start.folder {
        let mut list = app.world_mut().resource_mut::<SceneList>();
        // Its scenes have just been read; what is gone by now is not listed.
        let _ = list.open_folder(folder);
    }
    match app.run() {
        AppExit::Success => Ok(()),
        AppExit::Error(code) => Err(ViewerError::Failed { code: code.get() }),
    }
}

fn bevy_plugins(scene: &Scene, driver: RenderResources) -> bevy::app::PluginGroupBuilder {
    let window = Window {
        title: library::window_title(scene),
        name: Some("sixhold".to_owned()),
        resolution: WindowResolution::new(1280, 720),
        present_mode: PresentMode::AutoVsync,
        ..default()
    };
    DefaultPlugins
        .set(WindowPlugin {
            primary_window: Some(window),
            ..default()
        })
        .set(RenderPlugin {
            render_creation: RenderCreation::Manual(driver),
            synchronous_pipeline_compilation: true,
            ..default()
        })
        .set(LogPlugin {
            level: Level::ERROR,
            filter: String::new(),
            ..default()
        })
}
