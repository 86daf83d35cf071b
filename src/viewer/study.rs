//! Looking into a scene: what is pointed out, which reactions are released, which repairs there are.

use bevy::prelude::*;

use super::intent::{Intent, Step};
use super::panels::Open;
use super::state::{Playback, Pointed, Shown, ViewerSystems};

/// Points out, releases, holds again, and looks for repairs when the ledger is open.
pub(crate) struct StudyPlugin;

impl Plugin for StudyPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Open>()
            .add_message::<Intent>()
            .add_systems(
                Update,
                (follow_intents, find_repairs)
                    .chain()
                    .in_set(ViewerSystems::Input),
            );
    }
}

fn follow_intents(
    mut intents: MessageReader<Intent>,
    mut shown: ResMut<Shown>,
    mut playback: ResMut<Playback>,
) {
    for intent in intents.read() {
        match intent {
            Intent::Point(wanted) => {
                let again = shown.pointed == Some(*wanted);
                shown.pointed = (!again).then_some(*wanted);
            }
            Intent::StepPointed(step) => {
                shown.pointed = stepped(&shown.pointable(), shown.pointed, *step);
            }
            Intent::CloseAll if shown.pointed.is_some() => shown.pointed = None,
            Intent::Switch(reaction) => {
                shown.switch(*reaction);
                settle(&shown, &mut playback);
            }
            Intent::HoldAll if !shown.released().is_empty() => {
                shown.release(&[]);
                settle(&shown, &mut playback);
            }
            _ => {}
        }
    }
}

/// A body that moves differently starts from where it was written; one that cannot move rests.
fn settle(shown: &Shown, playback: &mut Playback) {
    playback.position = 0.0;
    playback.playing &= shown.course().is_some();
}

/// The next of the things that can be pointed out; nothing stands between the last and the first.
fn stepped(things: &[Pointed], now: Option<Pointed>, step: Step) -> Option<Pointed> {
    let at = now.and_then(|now| things.iter().position(|thing| *thing == now));
    let place = at.unwrap_or(things.len());
    things.get(step.around(place, things.len() + 1)).copied()
}

fn find_repairs(open: Res<Open>, mut shown: ResMut<Shown>) {
    if open.ledger && !shown.seeks_repair {
        shown.seeks_repair = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;

    fn app(name: &str) -> App {
        let shown = Shown::new(Study::open(name).unwrap());
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, StudyPlugin))
            .insert_resource(shown)
            .init_resource::<Playback>();
        app
    }

    fn send(app: &mut App, intent: Intent) {
        app.world_mut().write_message(intent);
        app.update();
    }

    fn pointed(app: &App) -> Option<Pointed> {
        app.world().resource::<Shown>().pointed
    }

    #[test]
    fn pointing_again_and_escape_point_out_nothing() {
        let mut app = app("handrail");
        for end in [Intent::Point(Pointed::Reason), Intent::CloseAll] {
            send(&mut app, Intent::Point(Pointed::Reason));
            assert_eq!(pointed(&app), Some(Pointed::Reason));
            send(&mut app, end);
            assert_eq!(pointed(&app), None);
        }
    }

    #[test]
    fn steps_go_through_everything_and_through_nothing() {
        let mut app = app("handrail");
        let things = app.world().resource::<Shown>().pointable();
        for thing in &things {
            send(&mut app, Intent::StepPointed(Step::On));
            assert_eq!(pointed(&app), Some(*thing));
        }
        send(&mut app, Intent::StepPointed(Step::On));
        assert_eq!(pointed(&app), None);
        send(&mut app, Intent::StepPointed(Step::Back));
        assert_eq!(pointed(&app), things.last().copied());
    }

    #[test]
    fn a_released_body_can_move_and_rests_when_held_again() {
        let mut app = app("mirror-cell");
        let freedom = |app: &App| {
            app.world()
                .resource::<Shown>()
                .study
                .diagnosis()
                .counts
                .freedom
        };
        let count = app
            .world()
            .resource::<Shown>()
            .study
            .whole()
            .reactions
            .len();
        for reaction in 0..count {
            send(&mut app, Intent::Switch(reaction));
        }
        assert_eq!(freedom(&app), 6);
        app.world_mut().resource_mut::<Playback>().playing = true;
        send(&mut app, Intent::HoldAll);
        assert_eq!(freedom(&app), 0);
        assert!(!app.world().resource::<Playback>().playing);
    }

    #[test]
    fn repairs_are_looked_for_when_the_ledger_opens() {
        let mut app = app("handrail");
        app.update();
        assert!(app.world().resource::<Shown>().repair().is_none());
        app.world_mut().resource_mut::<Open>().ledger = true;
        app.update();
        assert!(!app.world().resource::<Shown>().links().is_empty());
    }
}
