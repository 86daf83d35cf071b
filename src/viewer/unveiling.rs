//! Unveiling: a scene is shown step by step, and what gives the answer away comes last.
//!
//! Until its step, a number is a dash, a layer is not drawn, and the caption asks instead of answering. A class's guess of the freedom
//! is kept and stands beside the true number afterwards.

use bevy::prelude::*;

use super::intent::{CloseAll, LessonIntent, SceneIntent, Step, add_messages};
use super::pointing::Pointed;
use super::shown::{ShownMut, Written};
use super::state::{Look, Playback, ViewerSystems};
use crate::wording::Phrase;

/// Unveils scenes.
pub(crate) struct UnveilingPlugin;

impl Plugin for UnveilingPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<Unveiling>().add_systems(
            Update,
            (follow_intents, end_with_the_scene)
                .chain()
                .in_set(ViewerSystems::Input),
        );
    }
}

/// How far a scene is unveiled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Stage {
    /// The body alone.
    Body,
    /// What acts on it.
    Loads,
    /// What holds it.
    Supports,
    /// The reactions of its supports.
    Reactions,
    /// How many unknowns there are.
    Unknowns,
    /// The rank, and what is left of six and of n.
    Rank,
    /// Why, with the axis.
    Reason,
    /// How it moves.
    Motion,
    /// What would hold it.
    Repair,
}

impl Stage {
    const ALL: [Self; 9] = [
        Self::Body,
        Self::Loads,
        Self::Supports,
        Self::Reactions,
        Self::Unknowns,
        Self::Rank,
        Self::Reason,
        Self::Motion,
        Self::Repair,
    ];

    /// What the caption asks, until it answers.
    fn question(self) -> Option<&'static str> {
        match self {
            Self::Body => Some("A free body: which motions has it?"),
            Self::Loads => Some("This acts on it: which motions must be prevented?"),
            Self::Supports => Some("Which reactions do these supports supply?"),
            Self::Reactions => Some("How many unknowns are these?"),
            Self::Unknowns => Some("Is it held? Guess how many motions remain."),
            Self::Rank => Some("Why?"),
            Self::Reason | Self::Motion | Self::Repair => None,
        }
    }
}

/// The unveiling under way.
#[derive(Resource, Debug, Clone, Default, PartialEq)]
pub(crate) struct Unveiling {
    stage: Option<Stage>,
    /// The class's guess of the freedom.
    pub(crate) guess: Option<usize>,
    /// What was drawn before it began.
    drawn: Option<[bool; 5]>,
}

impl Unveiling {
    /// Whether one is under way.
    pub(crate) fn is_on(&self) -> bool {
        self.stage.is_some()
    }

    fn reached(&self, stage: Stage) -> bool {
        self.stage.is_none_or(|now| now >= stage)
    }

    /// The question that stands in for the sentence.
    pub(crate) fn question(&self) -> Option<Phrase> {
        let question = self.stage?.question()?;
        Some(question.into())
    }

    /// Which of n, rank, freedom and redundancy can be seen.
    pub(crate) fn numbers(&self) -> [bool; 4] {
        let (unknowns, rank) = (self.reached(Stage::Unknowns), self.reached(Stage::Rank));
        [unknowns, rank, rank, rank]
    }

    /// Whether the motion can be let go.
    pub(crate) fn moves(&self) -> bool {
        self.reached(Stage::Motion)
    }

    /// The guess, as soon as there is one: the number beside it is a dash until its stage.
    pub(crate) fn guess_to_show(&self) -> Option<usize> {
        self.guess.filter(|_| self.is_on())
    }

    /// What leads on, to be said while nothing else is to be done.
    pub(crate) fn hint(&self) -> &'static str {
        match self.stage {
            Some(_) => "Page Down leads on, Esc shows everything.",
            None => "",
        }
    }

    fn show(&self, look: &mut Look) {
        let [reactions, loads, motion, supports, values] =
            self.drawn.unwrap_or([true, true, true, true, look.values]);
        look.loads = loads && self.reached(Stage::Loads);
        look.supports = supports && self.reached(Stage::Supports);
        look.reactions = reactions && self.reached(Stage::Reactions);
        look.motion = motion && self.reached(Stage::Reason);
        look.values = values && self.reached(Stage::Reason);
    }
}

fn follow_intents(
    mut intents: MessageReader<LessonIntent>,
    mut steps: MessageReader<SceneIntent>,
    mut closed: MessageReader<CloseAll>,
    mut unveiling: ResMut<Unveiling>,
    (mut look, mut playback): (ResMut<Look>, ResMut<Playback>),
    mut shown: ShownMut,
) {
    let mut next = unveiling.stage;
    for intent in intents.read() {
        match intent {
            LessonIntent::Unveil => {
                next = match next {
                    Some(_) => None,
                    None => Some(Stage::Body),
                };
                unveiling.guess = None;
            }
            LessonIntent::Guess(freedom) if next.is_some() => unveiling.guess = Some(*freedom),
            LessonIntent::Guess(_) => {}
        }
    }
    for step in steps.read() {
        if let (SceneIntent::Step(step), Some(stage)) = (step, next) {
            next = Some(stepped(stage, *step));
        }
    }
    if closed.read().count() > 0 {
        next = None;
    }
    if next == unveiling.stage {
        return;
    }
    let before = unveiling.stage;
    if before.is_none() {
        unveiling.drawn = Some([
            look.reactions,
            look.loads,
            look.motion,
            look.supports,
            look.values,
        ]);
    }
    unveiling.stage = next;
    unveiling.show(&mut look);
    act(next, &mut playback, &mut shown);
    if next.is_none() {
        unveiling.drawn = None;
    }
}

/// What a stage does besides what it shows.
fn act(stage: Option<Stage>, playback: &mut Playback, shown: &mut ShownMut) {
    match stage {
        Some(Stage::Motion) => {
            playback.position = 0.0;
            playback.playing = shown.read().course().is_some();
        }
        Some(Stage::Repair) => {
            (playback.playing, playback.position) = (false, 0.0);
            shown.seek_repair();
            let is_link = !shown.read().links().is_empty();
            shown.point_out(is_link.then_some(Pointed::Link(0)));
        }
        Some(_) => {
            (playback.playing, playback.position) = (false, 0.0);
            shown.point_out(None);
        }
        None => {}
    }
}

/// The next stage or the one before; the ends stay.
fn stepped(stage: Stage, step: Step) -> Stage {
    let at = Stage::ALL
        .iter()
        .position(|other| *other == stage)
        .unwrap_or(0);
    let next = match step {
        Step::On => at + 1,
        Step::Back => at.saturating_sub(1),
    };
    Stage::ALL.get(next).copied().unwrap_or(stage)
}

/// Another scene on the stage is not unveiled half-way.
fn end_with_the_scene(
    written: Res<Written>,
    mut title: Local<Option<String>>,
    mut unveiling: ResMut<Unveiling>,
    mut look: ResMut<Look>,
) {
    if !written.is_changed() {
        return;
    }
    let now = Some(written.0.name().to_owned());
    let other = title.is_some() && *title != now;
    *title = now;
    if other && unveiling.is_on() {
        unveiling.stage = Some(Stage::Body);
        unveiling.guess = None;
        unveiling.show(&mut look);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;
    use crate::theme::ThemeName;
    use crate::viewer::shown::testing::shown;
    use crate::viewer::shown::{Selected, show};

    fn app() -> App {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, UnveilingPlugin))
            .insert_resource(Look::new(ThemeName::Hall))
            .init_resource::<Playback>();
        let study = Study::open("handrail").unwrap();
        let selected = Selected::of(&study, 0, None);
        show(app.world_mut(), study, selected);
        app.update();
        app
    }

    fn send(app: &mut App, intent: impl Message) {
        app.world_mut().write_message(intent);
        app.update();
    }

    fn unveiling(app: &App) -> &Unveiling {
        app.world().resource::<Unveiling>()
    }

    #[test]
    fn the_answer_comes_last_and_the_guess_beside_it() {
        let mut app = app();
        send(&mut app, LessonIntent::Guess(2));
        assert_eq!(unveiling(&app).guess, None, "nobody was asked");
        send(&mut app, LessonIntent::Unveil);
        let look = |app: &App| *app.world().resource::<Look>();
        let now = look(&app);
        assert!(!now.supports && !now.loads && !now.reactions && !now.motion);
        assert_eq!(unveiling(&app).numbers(), [false; 4]);
        for seen in [[false; 4]; 3]
            .into_iter()
            .chain([[true, false, false, false]])
        {
            assert!(unveiling(&app).question().is_some());
            send(&mut app, SceneIntent::Step(Step::On));
            assert_eq!(unveiling(&app).numbers(), seen);
        }
        let now = look(&app);
        assert!(now.supports && now.loads && now.reactions && !now.motion);
        send(&mut app, LessonIntent::Guess(0));
        assert_eq!(
            unveiling(&app).guess_to_show(),
            Some(0),
            "the class sees it"
        );
        send(&mut app, SceneIntent::Step(Step::On));
        assert_eq!(unveiling(&app).numbers(), [true; 4]);
        assert_eq!(unveiling(&app).guess_to_show(), Some(0));
        assert!(
            unveiling(&app).question().is_some(),
            "the reason is still to come"
        );
        send(&mut app, SceneIntent::Step(Step::On));
        assert!(unveiling(&app).question().is_none() && look(&app).motion);
        send(&mut app, SceneIntent::Step(Step::On));
        assert!(app.world().resource::<Playback>().playing);
        send(&mut app, SceneIntent::Step(Step::On));
        assert!(!app.world().resource::<Playback>().playing);
        assert_eq!(shown(app.world()).pointed, Some(Pointed::Link(0)));
        send(&mut app, SceneIntent::Step(Step::On));
        send(&mut app, SceneIntent::Step(Step::Back));
        assert!(app.world().resource::<Playback>().playing, "and back");
    }

    #[test]
    fn ending_it_brings_back_what_was_drawn_before() {
        let mut app = app();
        app.world_mut().resource_mut::<Look>().loads = false;
        let before = *app.world().resource::<Look>();
        send(&mut app, LessonIntent::Unveil);
        send(&mut app, SceneIntent::Step(Step::On));
        assert!(!app.world().resource::<Look>().loads, "they were not drawn");
        send(&mut app, CloseAll);
        assert_eq!(*app.world().resource::<Look>(), before);
        assert!(!unveiling(&app).is_on());
        assert_eq!(unveiling(&app).numbers(), [true; 4]);
    }
}
