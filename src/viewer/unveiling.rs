//! Unveiling: a scene is shown step by step, and what gives the answer away comes last.
//!
//! Until its step, a number is a dash, a layer is not drawn, and the caption asks instead of answering. A class's guess of the freedom
//! is kept and stands beside the true number afterwards.

use bevy::prelude::*;

use super::intent::{CloseAll, LessonIntent, SceneIntent, StepDirection, add_messages};
use super::shown::{Pointed, ShownMut, Written};
use super::state::{Look, Playback, ViewerSystems};
use crate::scene::{LessonStage, Scene, ShownStages};
use crate::wording::{self, Phrase};

/// Unveils scenes.
pub(crate) struct UnveilingPlugin;

impl Plugin for UnveilingPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<Unveiling>().add_systems(
            Update,
            (follow_intents, follow_the_scene)
                .chain()
                .in_set(ViewerSystems::Input),
        );
    }
}

/// The unveiling under way.
#[derive(Resource, Debug, Clone, Default, PartialEq)]
pub(crate) struct Unveiling {
    /// The stages of the scene's lesson.
    lesson: Vec<LessonStage>,
    /// Which of them it has come to.
    at: Option<usize>,
    /// The class's guess of the freedom.
    pub(crate) guess: Option<usize>,
    /// What was drawn before it began.
    drawn: Option<[bool; 5]>,
}

impl Unveiling {
    /// Whether one is under way.
    pub(crate) fn is_on(&self) -> bool {
        self.at.is_some()
    }

    fn stage(&self) -> Option<LessonStage> {
        self.lesson.get(self.at?).copied()
    }

    /// What has been shown; everything where none is under way.
    fn so_far(&self) -> ShownStages {
        match self.at {
            Some(at) => ShownStages::up_to(&self.lesson, at),
            None => ShownStages::all(),
        }
    }

    fn reached(&self, stage: LessonStage) -> bool {
        self.so_far().reached(stage)
    }

    /// Follows a scene: its lesson, from the beginning where it is another scene.
    fn follow(&mut self, scene: &Scene, is_other: bool) {
        let stage = self.stage();
        let steps = scene.lesson_steps().into_iter();
        self.lesson = steps.map(|step| step.stage).collect();
        if let Some(at) = self.at.filter(|_| self.stage() != stage) {
            let same = self.lesson.iter().position(|other| Some(*other) == stage);
            self.at = Some(same.unwrap_or(at.min(self.lesson.len() - 1)));
        }
        if is_other && self.is_on() {
            (self.at, self.guess) = (Some(0), None);
        }
    }

    /// The question that stands in for the sentence.
    pub(crate) fn question(&self) -> Option<Phrase> {
        let asked = self.so_far().asks()?;
        Some(wording::question(asked).into())
    }

    /// Which of n, rank, freedom and redundancy can be seen.
    pub(crate) fn numbers(&self) -> [bool; 4] {
        self.so_far().numbers()
    }

    /// Whether the motion can be let go.
    pub(crate) fn moves(&self) -> bool {
        self.reached(LessonStage::Motion)
    }

    /// The guess, as soon as there is one: the number beside it is a dash until its stage.
    pub(crate) fn guess_to_show(&self) -> Option<usize> {
        self.guess.filter(|_| self.is_on())
    }

    /// What leads on, to be said while nothing else is to be done.
    pub(crate) fn hint(&self) -> &'static str {
        match self.at {
            Some(_) => "Page Down leads on, Esc shows everything.",
            None => "",
        }
    }

    fn show(&self, look: &mut Look) {
        let [reactions, loads, motion, supports, values] =
            self.drawn.unwrap_or([true, true, true, true, look.values]);
        let shows_motion = self.reached(LessonStage::Reason) || self.moves();
        look.loads = loads && self.reached(LessonStage::Loads);
        look.supports = supports && self.reached(LessonStage::Supports);
        look.reactions = reactions && self.reached(LessonStage::Reactions);
        look.motion = motion && shows_motion;
        look.values = values && shows_motion;
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
    let mut next = unveiling.at;
    for intent in intents.read() {
        match intent {
            LessonIntent::Unveil => {
                next = match next {
                    Some(_) => None,
                    None => Some(0),
                };
                unveiling.guess = None;
                let shown = shown.read();
                unveiling.follow(shown.written.scene(), false);
            }
            LessonIntent::Guess(freedom) if next.is_some() => unveiling.guess = Some(*freedom),
            LessonIntent::Guess(_) => {}
        }
    }
    for step in steps.read() {
        if let (SceneIntent::Step(step), Some(at)) = (step, next) {
            next = Some(stepped(at, *step, unveiling.lesson.len()));
        }
    }
    if closed.read().count() > 0 {
        next = None;
    }
    if next == unveiling.at {
        return;
    }
    if !unveiling.is_on() {
        unveiling.drawn = Some([
            look.reactions,
            look.loads,
            look.motion,
            look.supports,
            look.values,
        ]);
    }
    unveiling.at = next;
    unveiling.show(&mut look);
    act(unveiling.stage(), &mut playback, &mut shown);
    if next.is_none() {
        unveiling.drawn = None;
    }
}

/// What a stage does besides what it shows.
fn act(stage: Option<LessonStage>, playback: &mut Playback, shown: &mut ShownMut) {
    match stage {
        Some(LessonStage::Motion) => {
            playback.position = 0.0;
            playback.playing = shown.read().course().is_some();
        }
        Some(LessonStage::Mend) => {
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

/// The next of so many stages or the one before; the ends stay.
fn stepped(at: usize, step: StepDirection, count: usize) -> usize {
    match step {
        StepDirection::On => (at + 1).min(count.saturating_sub(1)),
        StepDirection::Back => at.saturating_sub(1),
    }
}

/// Another scene on the stage is not unveiled half-way; a scene that is edited goes by its lesson as it is now.
fn follow_the_scene(
    written: Res<Written>,
    mut title: Local<Option<String>>,
    mut unveiling: ResMut<Unveiling>,
    mut look: ResMut<Look>,
) {
    if !written.is_changed() {
        return;
    }
    let now = Some(written.0.name().to_owned());
    let is_other = title.is_some() && *title != now;
    *title = now;
    if unveiling.is_on() {
        unveiling.follow(written.0.scene(), is_other);
        unveiling.show(&mut look);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::LessonStep;
    use crate::statics::CaseIndex;
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
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
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
            send(&mut app, SceneIntent::Step(StepDirection::On));
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
        send(&mut app, SceneIntent::Step(StepDirection::On));
        assert_eq!(unveiling(&app).numbers(), [true; 4]);
        assert_eq!(unveiling(&app).guess_to_show(), Some(0));
        assert!(
            unveiling(&app).question().is_some(),
            "the reason is still to come"
        );
        send(&mut app, SceneIntent::Step(StepDirection::On));
        assert!(unveiling(&app).question().is_none() && look(&app).motion);
        send(&mut app, SceneIntent::Step(StepDirection::On));
        assert!(app.world().resource::<Playback>().playing);
        send(&mut app, SceneIntent::Step(StepDirection::On));
        assert!(!app.world().resource::<Playback>().playing);
        assert_eq!(shown(app.world()).pointed, Some(Pointed::Link(0)));
        send(&mut app, SceneIntent::Step(StepDirection::On));
        send(&mut app, SceneIntent::Step(StepDirection::Back));
        assert!(app.world().resource::<Playback>().playing, "and back");
    }

    /// A scene with a lesson of its own goes by it, and what the lesson leaves out stays hidden.
    #[test]
    fn the_scene_says_what_comes_when() {
        let mut app = app();
        let lesson = [
            LessonStage::Supports,
            LessonStage::Rank,
            LessonStage::Body,
            LessonStage::Reason,
        ];
        let mut scene = shown(app.world()).written.scene().clone();
        scene.lesson = lesson.map(LessonStep::new).into();
        let study = Study::new(scene).unwrap();
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
        show(app.world_mut(), study, selected);
        app.update();
        send(&mut app, LessonIntent::Unveil);
        let look = |app: &App| *app.world().resource::<Look>();
        let asked = |app: &App| unveiling(app).question().map(|asked| asked.to_string());
        assert!(look(&app).supports && !look(&app).motion);
        assert_eq!(
            asked(&app).as_deref(),
            Some("Which reactions do these supports supply?")
        );
        for _ in 0..2 {
            send(&mut app, SceneIntent::Step(StepDirection::On));
            assert_eq!(unveiling(&app).numbers(), [false, true, true, true]);
            assert_eq!(asked(&app).as_deref(), Some("Why?"));
        }
        for _ in 0..2 {
            send(&mut app, SceneIntent::Step(StepDirection::On));
            assert_eq!(asked(&app), None);
            let now = look(&app);
            assert!(now.supports && now.motion && !now.loads && !now.reactions);
            assert!(!unveiling(&app).moves());
        }
        send(&mut app, SceneIntent::Step(StepDirection::Back));
        assert_eq!(asked(&app).as_deref(), Some("Why?"));
    }

    #[test]
    fn ending_it_brings_back_what_was_drawn_before() {
        let mut app = app();
        app.world_mut().resource_mut::<Look>().loads = false;
        let before = *app.world().resource::<Look>();
        send(&mut app, LessonIntent::Unveil);
        send(&mut app, SceneIntent::Step(StepDirection::On));
        assert!(!app.world().resource::<Look>().loads, "they were not drawn");
        send(&mut app, CloseAll);
        assert_eq!(*app.world().resource::<Look>(), before);
        assert!(!unveiling(&app).is_on());
        assert_eq!(unveiling(&app).numbers(), [true; 4]);
    }
}
