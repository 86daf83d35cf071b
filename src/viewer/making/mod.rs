//! Making scenes: what is under the pointer is said in a sentence, what is kept can be changed in it or dragged, and every
//! change is a step that can be undone.
//!
//! The scene in the making is a [`Draft`]; the stage shows it as it shows a file that has been edited.

mod acts;
mod addition;
mod drag;
mod editor;
mod file;
mod form;
mod marks;
mod picking;
mod presses;
mod turn;

use std::path::PathBuf;

use bevy::prelude::*;
use bevy_egui::EguiPrimaryContextPass;

use super::camera::FreeArea;
use super::intent::add_messages;
use super::state::{PanelSystems, ViewerSystems};
pub(crate) use addition::Addition;
pub(crate) use editor::SceneEditor;
pub(crate) use file::{Files, reread};
pub(crate) use form::{add_ui, form_ui, is_silent};

/// Makes scenes.
pub(crate) struct MakingPlugin {
    /// Where work that is not saved is kept; nowhere without a folder.
    pub(crate) unsaved: Option<PathBuf>,
}

impl Default for MakingPlugin {
    fn default() -> Self {
        Self {
            unsaved: file::folder(),
        }
    }
}

impl Plugin for MakingPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<SceneEditor>()
            .insert_resource(Files::in_folder(self.unsaved.clone()))
            .init_resource::<FreeArea>()
            .init_resource::<ButtonInput<MouseButton>>()
            .init_resource::<ButtonInput<KeyCode>>()
            .add_systems(
                Update,
                (
                    file::follow_stage,
                    file::hear_of_dialogs,
                    // A slow frame may hear of the end of a drag and of the key that saves at once.
                    presses::follow_pointer,
                    acts::follow_intents,
                    file::keep_unsaved,
                )
                    .chain()
                    .in_set(ViewerSystems::Input),
            )
            .add_systems(
                EguiPrimaryContextPass,
                marks::mark_handles
                    .after(PanelSystems::Panels)
                    .after(PanelSystems::Labels),
            );
    }
}

#[cfg(test)]
mod tests;
