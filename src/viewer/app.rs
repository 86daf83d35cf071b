//! The viewer's plugins, put together.

use bevy::prelude::*;
use bevy_egui::EguiPlugin;

use super::camera::CameraPlugin;
use super::file_watch::WatchPlugin;
use super::full_screen::FullScreenPlugin;
use super::handouts::HandoutsPlugin;
use super::keys::KeysPlugin;
use super::labels::LabelsPlugin;
use super::lecture::LecturePlugin;
use super::library::LibraryPlugin;
use super::making::MakingPlugin;
use super::panels::PanelsPlugin;
use super::playback::PlaybackPlugin;
use super::pointer::PointerPlugin;
use super::practising::PractisingPlugin;
use super::previews::PreviewsPlugin;
use super::redraw::RedrawPlugin;
use super::stage::StagePlugin;
use super::state::ViewerSystems;
use super::study::StudyPlugin;
use super::style::SkinPlugin;
use super::sums::SumsPlugin;
use super::trial::TrialPlugin;
use super::unveiling::UnveilingPlugin;

/// Everything of the viewer, on top of bevy's own plugins.
pub struct ViewerPlugin;

impl Plugin for ViewerPlugin {
    fn build(&self, app: &mut App) {
        app.configure_sets(
            Update,
            (
                ViewerSystems::Input,
                ViewerSystems::Play,
                ViewerSystems::Stage,
            )
                .chain(),
        )
        .add_plugins((
            EguiPlugin::default(),
            StagePlugin,
            PractisingPlugin::default(),
            HandoutsPlugin,
        ))
        .add_plugins((
            CameraPlugin,
            KeysPlugin,
            LabelsPlugin,
            LecturePlugin,
            (LibraryPlugin::of_the_user(), PreviewsPlugin),
            MakingPlugin::default(),
            PanelsPlugin,
            PlaybackPlugin,
            PointerPlugin,
            (SkinPlugin, FullScreenPlugin),
            (StudyPlugin, SumsPlugin),
            TrialPlugin,
            UnveilingPlugin,
            RedrawPlugin,
            WatchPlugin,
        ));
    }
}
