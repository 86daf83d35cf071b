//! A student alone with a scene: one question after the other, each marked with its reason before the answer can be seen.
//!
//! What gives the answers away is held back until its question is answered. Results are kept on this machine.

mod line;
mod sights;

use std::path::PathBuf;

use bevy::prelude::*;
use bevy_egui::EguiPrimaryContextPass;

use super::intent::{
    CloseAll, Intent, Intents, LinkIntent, MakingIntent, PracticeIntent, SceneIntent,
    StepDirection, add_messages,
};
use super::making::SceneEditor;
use super::platform;
use super::scene_list::SceneList;
use super::shown::ShownMut;
use super::state::{Look, PanelSystems, Playback, Source, ViewerSystems};
use super::trial::LinkDrawing;
use crate::practice::{self, Answer, MarkedAnswer, Question, Record, Sight};
use crate::wording::Phrase;
pub(crate) use line::line_ui;

/// Asks and marks.
pub(crate) struct PractisingPlugin {
    /// Where results are kept; nowhere without a file.
    pub(crate) results: Option<PathBuf>,
}

impl Default for PractisingPlugin {
    fn default() -> Self {
        let data = platform::data_folder();
        Self {
            results: data.map(|data| data.join("results.json")),
        }
    }
}

impl Plugin for PractisingPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.insert_resource(Practising::keeping(self.results.clone()))
            .init_resource::<LinkDrawing>()
            .add_systems(
                Update,
                (
                    follow_the_scene,
                    sights::point,
                    follow_intents,
                    pass_on,
                    hold_back.run_if(resource_exists::<Look>),
                )
                    .chain()
                    .in_set(ViewerSystems::Input),
            )
            .add_systems(
                EguiPrimaryContextPass,
                sights::mark_places.after(PanelSystems::Panels),
            );
    }
}

/// The questions under way.
#[derive(Resource, Default)]
pub(crate) struct Practising {
    round: Option<Round>,
    record: Record,
    results: Option<PathBuf>,
    /// Why results were not kept.
    trouble: Option<String>,
    /// What is asked of others, which a system that hears of the same messages cannot pass on itself.
    asks: Vec<Intent>,
}

/// The questions of one scene.
struct Round {
    scene: String,
    questions: Vec<Question>,
    /// Marks of the questions answered.
    marks: Vec<MarkedAnswer>,
    /// The question shown: answered, being answered, or past the last.
    at: usize,
    typed: String,
    pointed: Vec<PointedPlace>,
    /// The layers that were drawn before: motion and magnitudes.
    drawn: [bool; 2],
}

/// A place that was pointed at.
#[derive(Debug, Clone, Copy, PartialEq)]
struct PointedPlace {
    sight: Sight,
    /// Where its mark is drawn, m.
    at: nalgebra::Point3<f64>,
}

impl Practising {
    fn keeping(results: Option<PathBuf>) -> Self {
        let read = results.as_deref().map(Record::read);
        let (record, trouble) = match read {
            Some(Ok(record)) => (record, None),
            Some(Err(error)) => (Record::default(), Some(error.to_string())),
            None => (Record::default(), None),
        };
        Self {
            round: None,
            // What cannot be read is not written over.
            results: results.filter(|_| trouble.is_none()),
            record,
            trouble,
            asks: Vec::new(),
        }
    }

    /// Whether a scene is being asked about.
    pub(crate) fn is_on(&self) -> bool {
        self.round.is_some()
    }

    /// Whether a scene is being asked about and something is still to be answered.
    pub(crate) fn holds_back(&self) -> bool {
        self.round.as_ref().is_some_and(|round| !round.is_over())
    }

    /// The question that stands in for the sentence.
    pub(crate) fn question(&self, study: &crate::study::Study) -> Option<Phrase> {
        let round = self.round.as_ref()?;
        Some(round.question()?.words(study))
    }

    /// Which of n, rank, freedom and redundancy can be seen.
    pub(crate) fn numbers(&self) -> Option<[bool; 4]> {
        let round = self.round.as_ref().filter(|round| !round.is_over())?;
        // With a link on trial the numbers are those of the scene that has it.
        let held = round.question() == Some(Question::Stop) && !round.is_answered();
        let knows = |question| round.has_answered(question);
        let rank = knows(Question::Rank) && !held;
        let freedom = knows(Question::Freedom) && !held;
        Some([knows(Question::Unknowns), rank, freedom, rank])
    }

    /// Whether the motion can be let go.
    pub(crate) fn moves(&self) -> bool {
        let Some(round) = &self.round else {
            return true;
        };
        round.is_over() || round.has_answered(Question::Finite)
    }

    fn shows_motion(&self) -> bool {
        let Some(round) = &self.round else {
            return true;
        };
        let last = [Question::Axis, Question::Kind]
            .into_iter()
            .find(|question| round.questions.contains(question));
        round.is_over() || last.is_some_and(|question| round.has_answered(question))
    }

    /// The round ends: what was drawn is drawn again.
    fn end(&mut self, look: &mut Look) {
        if let Some(round) = self.round.take() {
            [look.motion, look.values] = round.drawn;
        }
    }

    fn keep_result(&mut self) {
        let Some(round) = &self.round else { return };
        let right = round.marks.iter().filter(|mark| mark.is_right).count();
        let asked = round.questions.len();
        self.record
            .keep(&round.scene, practice::Score { right, asked });
        if let Some(path) = &self.results {
            let folder = path.parent().map(std::fs::create_dir_all);
            let written = match folder {
                Some(Err(error)) => Err(error.to_string()),
                _ => self.record.write(path).map_err(|error| error.to_string()),
            };
            self.trouble = written.err();
        }
    }
}

impl Round {
    fn question(&self) -> Option<Question> {
        self.questions.get(self.at).copied()
    }

    fn is_over(&self) -> bool {
        self.at >= self.questions.len()
    }

    fn is_answered(&self) -> bool {
        self.marks.len() > self.at
    }

    fn has_answered(&self, question: Question) -> bool {
        let place = self.questions.iter().position(|other| *other == question);
        place.is_some_and(|place| self.marks.len() > place)
    }
}

/// A round of the scene on the stage begins; another scene is another round.
fn begin(practising: &mut Practising, shown: &mut ShownMut, look: &Look, playback: &mut Playback) {
    shown.drop_trial();
    shown.release(&[]);
    shown.point_out(None);
    let study = shown.read().written;
    let drawn = match &practising.round {
        Some(round) => round.drawn,
        None => [look.motion, look.values],
    };
    practising.round = Some(Round {
        scene: study.name().to_owned(),
        questions: practice::questions(study),
        marks: Vec::new(),
        at: 0,
        typed: String::new(),
        pointed: Vec::new(),
        drawn,
    });
    (playback.playing, playback.position) = (false, 0.0);
}

fn follow_the_scene(
    mut practising: ResMut<Practising>,
    mut shown: ShownMut,
    look: Option<Res<Look>>,
    mut playback: ResMut<Playback>,
) {
    let other = |round: &Round| round.scene != shown.read().written.name();
    let Some(look) = look else { return };
    if practising.round.as_ref().is_some_and(other) {
        begin(&mut practising, &mut shown, &look, &mut playback);
    }
}

fn follow_intents(
    mut asked: MessageReader<PracticeIntent>,
    mut steps: MessageReader<SceneIntent>,
    mut closed: MessageReader<CloseAll>,
    mut practising: ResMut<Practising>,
    mut shown: ShownMut,
    (mut look, mut playback): (ResMut<Look>, ResMut<Playback>),
    (list, drawing, mut editor): (
        Option<Res<SceneList>>,
        Res<LinkDrawing>,
        Option<ResMut<SceneEditor>>,
    ),
) {
    let closed = closed.read().count() > 0 && practising.is_on();
    let mut next = Vec::new();
    for step in steps.read() {
        if matches!(step, SceneIntent::Step(StepDirection::On)) && practising.is_on() {
            next.push(PracticeIntent::GoOn);
        }
    }
    for intent in asked.read().cloned().chain(next) {
        match intent {
            PracticeIntent::Switch if practising.is_on() => practising.end(&mut look),
            PracticeIntent::Switch => {
                if let Some(editor) = &mut editor {
                    editor.let_go();
                }
                begin(&mut practising, &mut shown, &look, &mut playback);
            }
            PracticeIntent::Type(text) => {
                if let Some(round) = &mut practising.round {
                    round.typed = text;
                }
            }
            PracticeIntent::Answer(answer) => {
                answer_with(&mut practising, &answer, &shown);
                if drawing.on {
                    practising.asks.push(Intent::Link(LinkIntent::Draw));
                }
            }
            // With no question to go on from, what is drawn is taken up.
            PracticeIntent::GoOn if !practising.is_on() => {
                if shown.read().trial.is_some() {
                    practising.asks.push(Intent::Making(MakingIntent::KeepLink));
                }
            }
            PracticeIntent::GoOn => {
                let source = shown.read().source().cloned();
                if let Some(source) = go_on(&mut practising, source.as_ref(), list.as_deref()) {
                    practising
                        .asks
                        .push(Intent::Scene(SceneIntent::Open(source)));
                }
                let stops = practising
                    .round
                    .as_ref()
                    .is_some_and(|round| round.question() == Some(Question::Stop));
                if stops && !drawing.on {
                    practising.asks.push(Intent::Link(LinkIntent::Draw));
                }
            }
        }
    }
    if closed {
        practising.end(&mut look);
    }
}

fn pass_on(mut practising: ResMut<Practising>, mut intents: Intents) {
    if practising.asks.is_empty() {
        return;
    }
    for intent in practising.asks.drain(..) {
        intents.send(intent);
    }
}

/// Marks an answer to the question that is shown.
fn answer_with(practising: &mut Practising, answer: &Answer, shown: &ShownMut) {
    let study = shown.read().written;
    let Some(round) = &mut practising.round else {
        return;
    };
    let Some(question) = round.question().filter(|_| !round.is_answered()) else {
        return;
    };
    round.marks.push(question.mark(study, answer));
    round.typed.clear();
}

/// The next question, where this one is answered; after the last the scene that comes next.
fn go_on(
    practising: &mut Practising,
    source: Option<&Source>,
    list: Option<&SceneList>,
) -> Option<Source> {
    let round = practising.round.as_mut()?;
    if round.is_over() {
        return list?.after(source, StepDirection::On).cloned();
    }
    if round.is_answered() {
        round.at += 1;
        round.pointed.clear();
        if round.is_over() {
            practising.keep_result();
        }
    }
    None
}

/// Nothing shows what is still to be answered.
fn hold_back(practising: Res<Practising>, mut look: ResMut<Look>, mut shown: ShownMut) {
    let Some(round) = &practising.round else {
        return;
    };
    let [motion, values] = round.drawn;
    let wanted = [
        motion && practising.shows_motion(),
        values && round.is_over(),
    ];
    if [look.motion, look.values] != wanted {
        [look.motion, look.values] = wanted;
    }
    if practising.holds_back() {
        shown.point_out(None);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::CaseIndex;
    use crate::study::Study;
    use crate::theme::ThemeName;
    use crate::viewer::shown::{Selected, show};

    fn app(name: &str, results: Option<PathBuf>) -> App {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, PractisingPlugin { results }))
            .init_resource::<ButtonInput<MouseButton>>()
            .init_resource::<super::super::camera::FreeArea>()
            .insert_resource(Look::new(ThemeName::Hall))
            .init_resource::<SceneList>()
            .init_resource::<Playback>();
        let study = Study::open(name).unwrap();
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
        show(app.world_mut(), study, selected);
        app.update();
        app
    }

    fn send(app: &mut App, intent: PracticeIntent) {
        app.world_mut().write_message(intent);
        app.update();
    }

    fn practising(app: &App) -> &Practising {
        app.world().resource::<Practising>()
    }

    #[test]
    fn what_is_asked_is_held_back_until_it_is_answered_and_the_result_is_kept() {
        let folder = tempfile::tempdir().unwrap();
        let results = folder.path().join("data").join("results.json");
        let mut app = app("mirror-cell", Some(results.clone()));
        assert_eq!(practising(&app).numbers(), None);
        send(&mut app, PracticeIntent::Switch);
        assert_eq!(practising(&app).numbers(), Some([false; 4]));
        let look = |app: &App| *app.world().resource::<Look>();
        assert!(!look(&app).motion);
        send(&mut app, PracticeIntent::GoOn);
        assert_eq!(practising(&app).numbers(), Some([false; 4]), "no answer");
        let numbers = [6, 5, 0].map(Answer::Number);
        for answer in numbers.into_iter().chain([Answer::Choice(0)]) {
            send(&mut app, PracticeIntent::Answer(answer));
            send(&mut app, PracticeIntent::GoOn);
        }
        assert_eq!(practising(&app).numbers(), None, "all is answered");
        let kept = Record::read(&results).unwrap();
        let scene = "mirror-cell";
        let expected = practice::Score { right: 3, asked: 4 };
        assert_eq!(kept.of(scene), Some(expected), "rank 5 was wrong");
        send(&mut app, PracticeIntent::Switch);
        assert!(look(&app).motion && !practising(&app).is_on());
    }

    #[test]
    fn results_that_cannot_be_read_are_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let results = folder.path().join("results.json");
        std::fs::write(&results, "no results").unwrap();
        let practising = Practising::keeping(Some(results));
        assert!(practising.trouble.is_some() && practising.results.is_none());
    }

    #[test]
    fn after_the_last_question_the_next_scene_is_asked_about() {
        let mut app = app("handrail", None);
        send(&mut app, PracticeIntent::Switch);
        let count = practising(&app).round.as_ref().unwrap().questions.len();
        for _ in 0..count {
            send(&mut app, PracticeIntent::Answer(Answer::Number(99)));
            app.world_mut()
                .write_message(SceneIntent::Step(StepDirection::On));
            app.update();
        }
        assert!(!practising(&app).holds_back());
        app.world_mut()
            .write_message(SceneIntent::Step(StepDirection::On));
        app.update();
        let asked = app.world().resource::<Messages<SceneIntent>>();
        let opened = asked
            .iter_current_update_messages()
            .any(|intent| matches!(intent, SceneIntent::Open(_)));
        assert!(opened);
    }
}
