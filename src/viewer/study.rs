//! Looking into a scene: what is pointed out, which reactions are released, which repairs there are.

use bevy::prelude::*;

use super::intent::{CloseAll, StepDirection, StudyIntent, add_messages};
use super::making::SceneEditor;
use super::panels::OpenPanels;
use super::shown::ShownMut;
use super::state::{Playback, Pointed, ViewerSystems};

/// Points out, releases, holds again, and looks for repairs when the ledger is open.
pub(crate) struct StudyPlugin;

impl Plugin for StudyPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<OpenPanels>().add_systems(
            Update,
            (follow_intents, find_repairs)
                .chain()
                .in_set(ViewerSystems::Input),
        );
    }
}

fn follow_intents(
    mut intents: MessageReader<StudyIntent>,
    mut closed: MessageReader<CloseAll>,
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
) {
    if closed.read().count() > 0 {
        shown.point_out(None);
    }
    for intent in intents.read() {
        let now = shown.read();
        match intent {
            StudyIntent::Point(wanted) => {
                let again = now.pointed == Some(*wanted);
                shown.point_out((!again).then_some(*wanted));
            }
            StudyIntent::StepPointed(step) => {
                let next = stepped(&now.pointable(), now.pointed, *step);
                shown.point_out(next);
            }
            StudyIntent::Switch(reaction) => {
                shown.switch(*reaction);
                settle(&shown, &mut playback);
            }
            // Of the equations.
            StudyIntent::Glance(_) | StudyIntent::SumAbout(_) => {}
            StudyIntent::HoldAll if now.released().is_empty() => {}
            StudyIntent::HoldAll => {
                shown.release(&[]);
                settle(&shown, &mut playback);
            }
        }
    }
}

/// A body that moves differently starts from where it was written; one that cannot move rests.
fn settle(shown: &ShownMut, playback: &mut Playback) {
    playback.position = 0.0;
    playback.playing &= shown.read().course().is_some();
}

/// The next of the things that can be pointed out; nothing stands between the last and the first.
fn stepped(things: &[Pointed], now: Option<Pointed>, step: StepDirection) -> Option<Pointed> {
    let at = now.and_then(|now| things.iter().position(|thing| *thing == now));
    let place = at.unwrap_or(things.len());
    things.get(step.around(place, things.len() + 1)).copied()
}

/// While something is dragged no links are sought, which would take longer than all else that follows the hand.
fn find_repairs(open: Res<OpenPanels>, editor: Option<Res<SceneEditor>>, mut shown: ShownMut) {
    let dragged = editor.is_some_and(|editor| editor.holds_pointer());
    if open.ledger && !dragged {
        shown.seek_repair();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::CaseIndex;
    use crate::study::{Study, WholeReactionIndex};
    use crate::viewer::shown::testing::shown;
    use crate::viewer::shown::{Selected, show};

    fn app(name: &str) -> App {
        let study = Study::open(name).unwrap();
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, StudyPlugin))
            .init_resource::<Playback>();
        show(app.world_mut(), study, selected);
        app
    }

    fn send(app: &mut App, intent: impl Message) {
        app.world_mut().write_message(intent);
        app.update();
    }

    fn pointed(app: &App) -> Option<Pointed> {
        shown(app.world()).pointed
    }

    #[test]
    fn pointing_again_and_escape_point_out_nothing() {
        let mut app = app("handrail");
        let point = StudyIntent::Point(Pointed::Reason);
        send(&mut app, point);
        assert_eq!(pointed(&app), Some(Pointed::Reason));
        send(&mut app, point);
        assert_eq!(pointed(&app), None);
        send(&mut app, point);
        send(&mut app, CloseAll);
        assert_eq!(pointed(&app), None);
    }

    #[test]
    fn steps_go_through_everything_and_through_nothing() {
        let mut app = app("handrail");
        let things = shown(app.world()).pointable();
        for thing in &things {
            send(&mut app, StudyIntent::StepPointed(StepDirection::On));
            assert_eq!(pointed(&app), Some(*thing));
        }
        send(&mut app, StudyIntent::StepPointed(StepDirection::On));
        assert_eq!(pointed(&app), None);
        send(&mut app, StudyIntent::StepPointed(StepDirection::Back));
        assert_eq!(pointed(&app), things.last().copied());
    }

    #[test]
    fn a_released_body_can_move_and_rests_when_held_again() {
        let mut app = app("mirror-cell");
        let freedom = |app: &App| shown(app.world()).study.diagnosis().counts.freedom;
        let reactions = shown(app.world()).study.whole().reactions.indices();
        for reaction in reactions {
            send(
                &mut app,
                StudyIntent::Switch(WholeReactionIndex::of(reaction)),
            );
        }
        assert_eq!(freedom(&app), 6);
        app.world_mut().resource_mut::<Playback>().playing = true;
        send(&mut app, StudyIntent::HoldAll);
        assert_eq!(freedom(&app), 0);
        assert!(!app.world().resource::<Playback>().playing);
    }

    #[test]
    fn repairs_are_looked_for_when_the_ledger_opens() {
        let mut app = app("handrail");
        app.update();
        assert!(shown(app.world()).repair().is_none());
        app.world_mut().resource_mut::<OpenPanels>().ledger = true;
        app.update();
        assert!(!shown(app.world()).links().is_empty());
    }
}
