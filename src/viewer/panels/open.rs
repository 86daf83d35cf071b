//! Which panels are open, and how wide they are.

use bevy::prelude::*;

use crate::viewer::intent::{CloseAll, Panel, PanelIntent};
use crate::viewer::previews::Previews;

/// Which panels are open.
#[derive(Resource, Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct OpenPanels {
    /// The ledger's pages.
    pub ledger: bool,
    /// The scenes.
    pub scenes: bool,
    /// The list of keys.
    pub keys: bool,
    /// What can be added.
    pub add: bool,
    /// What can be taken home.
    pub handouts: bool,
    /// The path that is being typed to open a scene.
    pub(super) path: String,
    /// Whether the scenes were opened or closed after the ledger.
    scenes_last: bool,
}

impl OpenPanels {
    /// Closes the older of two drawers that leave the scene less than its least width.
    pub(super) fn make_room(&mut self, width: f32) {
        let left = width - FIGURES_WIDTH - LEDGER_WIDTH - SCENES_WIDTH;
        if self.ledger && self.scenes && left < LEAST_WIDTH {
            (self.ledger, self.scenes) = (!self.scenes_last, self.scenes_last);
        }
    }
}

/// Widths of the panels at the usual size.
pub(super) const FIGURES_WIDTH: f32 = 136.0;
pub(super) const LEDGER_WIDTH: f32 = 400.0;
pub(super) const SCENES_WIDTH: f32 = 340.0;
/// Width that two open drawers leave to the scene at least.
const LEAST_WIDTH: f32 = 450.0;

/// Opens and closes panels.
/// Pictures are made for a list that somebody sees.
pub(super) fn want_previews(open: Res<OpenPanels>, previews: Option<ResMut<Previews>>) {
    if let Some(mut previews) = previews.filter(|_| open.is_changed()) {
        previews.show(open.scenes);
    }
}

pub(super) fn follow_intents(
    mut intents: MessageReader<PanelIntent>,
    mut closed: MessageReader<CloseAll>,
    mut open: ResMut<OpenPanels>,
) {
    for intent in intents.read() {
        match intent {
            PanelIntent::Toggle(Panel::Ledger) => {
                open.ledger = !open.ledger;
                open.scenes_last = false;
            }
            PanelIntent::Toggle(Panel::Scenes) => {
                open.scenes = !open.scenes;
                open.scenes_last = true;
            }
            PanelIntent::Toggle(Panel::Keys) => open.keys = !open.keys,
            PanelIntent::Toggle(Panel::Add) => open.add = !open.add,
            PanelIntent::Toggle(Panel::Handouts) => open.handouts = !open.handouts,
        }
    }
    if closed.read().count() > 0 {
        // The path that is being typed stays.
        let path = std::mem::take(&mut open.path);
        *open = OpenPanels {
            path,
            ..OpenPanels::default()
        };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::viewer::intent::add_messages;

    #[test]
    fn two_drawers_are_open_only_where_there_is_room() {
        let opened = |width: f32, scenes_last: bool| {
            let mut open = OpenPanels {
                ledger: true,
                scenes: true,
                scenes_last,
                ..default()
            };
            open.make_room(width);
            (open.ledger, open.scenes)
        };
        assert_eq!(opened(1920.0, true), (true, true));
        assert_eq!(opened(1280.0, true), (false, true));
        assert_eq!(opened(1280.0, false), (true, false));
    }

    #[test]
    fn escape_closes_everything() {
        let mut app = App::new();
        add_messages(&mut app);
        app.init_resource::<OpenPanels>()
            .add_systems(Update, follow_intents);
        for panel in [Panel::Ledger, Panel::Scenes, Panel::Keys] {
            app.world_mut().write_message(PanelIntent::Toggle(panel));
        }
        app.update();
        let open = app.world().resource::<OpenPanels>();
        assert!(open.ledger && open.scenes && open.keys);
        app.world_mut().write_message(CloseAll);
        app.update();
        assert_eq!(*app.world().resource::<OpenPanels>(), OpenPanels::default());
    }
}
