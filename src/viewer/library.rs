//! Which scene is on the stage: opening, stepping through scenes, motions and cases, reading a changed file again.

use super::file_watch::FileWatch;
use super::intent::{CloseAll, SceneIntent, StepDirection, add_messages};
use super::making::{self, SceneEditor};
use super::practising::Practising;
use super::recent::RecentFiles;
use super::scene_list::SceneList;
use super::shown::{ShownMut, Written};
use super::state::{FileTrouble, Playback, Source, ViewerSystems};
use super::unveiling::Unveiling;
use crate::motion::Selection;
use crate::printable;
use crate::scene::Scene;
use crate::statics::CaseIndex;
use crate::study::{OpenError, Study};
use bevy::prelude::*;
use bevy::window::{FileDragAndDrop, PrimaryWindow};
use std::path::PathBuf;

/// Opens scenes.
#[derive(Default)]
pub(crate) struct LibraryPlugin {
    /// Where the files opened lately are kept; nowhere without a file.
    pub(crate) recent: Option<PathBuf>,
}

impl LibraryPlugin {
    /// With the files that this user opened lately.
    pub(crate) fn of_the_user() -> Self {
        let data = dirs::data_dir();
        Self {
            recent: data.map(|data| data.join("sixhold").join("recent.json")),
        }
    }
}

impl Plugin for LibraryPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        let recent = RecentFiles::kept_in(self.recent.clone());
        app.insert_resource(SceneList::new(recent))
            .init_resource::<SceneEditor>()
            .init_resource::<FileTrouble>()
            .add_message::<FileDragAndDrop>()
            .add_systems(
                Update,
                (
                    open_dropped_files,
                    follow_intents,
                    close_trouble,
                    read_again,
                    keep_files,
                    name_window,
                )
                    .chain()
                    .in_set(ViewerSystems::Input),
            );
    }
}

/// The motion to which one step leads; `None` where it leads past the last or the first of them, to another scene.
fn next(motion: Selection, motions: &[Selection], step: StepDirection) -> Option<Selection> {
    let at = motions.iter().position(|other| *other == motion)?;
    let next = match step {
        StepDirection::On => at.checked_add(1),
        StepDirection::Back => at.checked_sub(1),
    };
    motions.get(next?).copied()
}

fn open_dropped_files(
    mut dropped: MessageReader<FileDragAndDrop>,
    mut intents: MessageWriter<SceneIntent>,
) {
    for event in dropped.read() {
        if let FileDragAndDrop::DroppedFile { path_buf, .. } = event {
            intents.write(SceneIntent::Open(Source::File(path_buf.clone())));
        }
    }
}

fn follow_intents(
    mut intents: MessageReader<SceneIntent>,
    (mut list, unveiling, practising): (
        ResMut<SceneList>,
        Option<Res<Unveiling>>,
        Option<Res<Practising>>,
    ),
    mut shown: ShownMut,
    mut playback: ResMut<Playback>,
    mut trouble: ResMut<FileTrouble>,
    mut watch: ResMut<FileWatch>,
) {
    let is_led = unveiling.is_some_and(|unveiling| unveiling.is_on())
        || practising.is_some_and(|practising| practising.is_on());
    for intent in intents.read() {
        let now = shown.read();
        let cases = now.study.model().cases.len();
        match intent {
            SceneIntent::Open(source) => match scene_of(source, &mut list) {
                Ok(source) => {
                    open(&source, &mut shown, &mut playback, &mut trouble, &mut watch);
                }
                Err(message) => {
                    *trouble = FileTrouble {
                        message: Some(message),
                        lasts: false,
                    };
                }
            },
            SceneIntent::ShowVerdicts(wanted) => list.shows_verdicts = *wanted,
            // Steps lead through the unveiling or the questions first.
            SceneIntent::Step(_) if is_led => {}
            SceneIntent::Step(step) => match next(now.motion, &now.selections(), *step) {
                Some(motion) => choose_motion(&mut shown, &mut playback, motion),
                None => {
                    if let Some(source) = list.after(now.source(), *step) {
                        open(source, &mut shown, &mut playback, &mut trouble, &mut watch);
                    }
                }
            },
            SceneIntent::Motion(motion) => choose_motion(&mut shown, &mut playback, *motion),
            SceneIntent::Case(index) if index.get() >= cases => {}
            SceneIntent::Case(index) => choose_case(&mut shown, &mut playback, *index),
            SceneIntent::NextCase => {
                let next = StepDirection::On.around(now.case.get(), cases);
                choose_case(&mut shown, &mut playback, CaseIndex::new(next));
            }
        }
    }
}

/// Esc closes what it can: not what says that the picture is out of date.
fn close_trouble(mut closed: MessageReader<CloseAll>, mut trouble: ResMut<FileTrouble>) {
    if closed.read().count() > 0 && trouble.message.is_some() && !trouble.lasts {
        trouble.message = None;
    }
}

/// Another motion starts from where the body was written; it goes on moving if the last one did.
fn choose_motion(shown: &mut ShownMut, playback: &mut Playback, motion: Selection) {
    let now = shown.read();
    if motion != now.motion && now.selections().contains(&motion) {
        shown.select_motion(motion);
        playback.position = 0.0;
    }
}

/// Free motions go on under another load case; an escape is one of its own, and there may be none.
fn choose_case(shown: &mut ShownMut, playback: &mut Playback, case: CaseIndex) {
    let before = shown.read().motion;
    shown.select_case(case);
    let now = shown.read();
    if now.motion != before || before == Selection::Escape {
        playback.position = 0.0;
        playback.playing &= now.course().is_some();
    }
}

/// What is to be opened: of a folder the first of its scenes, which are listed from then on.
fn scene_of(source: &Source, list: &mut SceneList) -> Result<Source, String> {
    let Source::File(path) = source else {
        return Ok(source.clone());
    };
    if !path.is_dir() {
        return Ok(source.clone());
    }
    let shown = printable::shown(path);
    match list.open_folder(path) {
        Ok(Some(first)) => Ok(first),
        Ok(None) => Err(format!("the folder {shown} has no scene files (.ron)")),
        Err(error) => Err(format!("the folder {shown} cannot be read: {error}")),
    }
}

/// Puts a scene on the stage, at rest; where it cannot be opened the stage stays as it is.
fn open(
    source: &Source,
    shown: &mut ShownMut,
    playback: &mut Playback,
    trouble: &mut FileTrouble,
    watch: &mut FileWatch,
) {
    match Study::read(source.clone()) {
        Ok(study) => {
            shown.open(study);
            playback.playing = false;
            playback.position = 0.0;
            trouble.message = None;
            watch.follow(Some(source));
        }
        Err(error) => {
            *trouble = FileTrouble {
                message: Some(error.to_string()),
                lasts: Some(source) == shown.read().source(),
            };
        }
    }
}

/// The watched file changed: shows it with everything else as it was, keeps both where edits are not saved, or says what is
/// wrong with it.
fn read_again(
    watch: Res<FileWatch>,
    mut shown: ShownMut,
    mut editor: ResMut<SceneEditor>,
    mut playback: ResMut<Playback>,
    mut trouble: ResMut<FileTrouble>,
) {
    if !watch.has_changed() {
        return;
    }
    let now = shown.read();
    let Some(source) = now.source() else { return };
    let read = source.load().map_err(OpenError::from).and_then(|loaded| {
        // A scene without a model is an error too.
        let edited = now.written.edited(loaded.scene.clone())?;
        Ok((loaded.scene, edited, source.text()))
    });
    match read {
        Ok((scene, edited, text)) => {
            if trouble.message.is_some() {
                trouble.message = None;
            }
            match (text, editor.draft().is_some()) {
                (Some(text), true) => making::reread(&mut editor, text, scene, &mut shown),
                _ if scene == *shown.read().written.scene() => {}
                _ => shown.edit(edited),
            }
            rest_if_held(&shown, &mut playback);
        }
        Err(error) => {
            *trouble = FileTrouble {
                message: Some(error.to_string()),
                lasts: true,
            };
        }
    }
}

/// A body that an edit holds cannot go on moving.
pub(crate) fn rest_if_held(shown: &ShownMut, playback: &mut Playback) {
    if shown.read().course().is_none() {
        playback.playing = false;
        playback.position = 0.0;
    }
}

fn keep_files(written: Res<Written>, mut list: ResMut<SceneList>) {
    if written.is_changed() {
        list.keep(written.0.source(), written.0.scene());
    }
}

fn name_window(written: Res<Written>, window: Option<Single<&mut Window, With<PrimaryWindow>>>) {
    if let Some(mut window) = window.filter(|_| written.is_changed()) {
        let title = window_title(written.0.scene());
        if window.title != title {
            window.title = title;
        }
    }
}

/// Title of the window that shows a scene.
pub(crate) fn window_title(scene: &Scene) -> String {
    format!("Sixhold — {}", scene.title)
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;
    use std::time::{Duration, Instant};

    use super::*;
    use crate::repair::LinkEnd;
    use crate::scene::{self, builtin};
    use crate::statics::MotionIndex;
    use crate::study::WholeReactionIndex;
    use crate::viewer::shown::testing::{change, shown};
    use crate::viewer::shown::{Selected, show};

    const SWINGING: &str = "handrail";
    const HELD: &str = "mirror-cell";

    fn text(name: &str) -> &'static str {
        builtin::find(name).unwrap().text
    }

    fn app(source: &Source) -> App {
        let mut watch = FileWatch::default();
        watch.follow(Some(source));
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, LibraryPlugin::default()))
            .insert_resource(watch)
            .init_resource::<Playback>();
        let study = Study::read(source.clone()).unwrap();
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
        show(app.world_mut(), study, selected);
        app.update();
        app
    }

    fn title(app: &App) -> String {
        shown(app.world()).written.scene().title.clone()
    }

    fn trouble(app: &App) -> Option<String> {
        app.world().resource::<FileTrouble>().message.clone()
    }

    /// Writes the file and updates until it shows, for at most ten seconds.
    fn write_and_wait(app: &mut App, path: &Path, text: &str, done: impl Fn(&App) -> bool) {
        fs::write(path, text).unwrap();
        let end = Instant::now() + Duration::from_secs(10);
        while !done(app) && Instant::now() < end {
            std::thread::sleep(Duration::from_millis(20));
            app.update();
        }
        assert!(done(app));
    }

    #[test]
    fn a_broken_edit_keeps_the_last_good_scene_and_says_where_it_is_broken() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        fs::write(&path, text(SWINGING)).unwrap();
        let mut app = app(&Source::File(path.clone()));
        app.world_mut().resource_mut::<Playback>().playing = true;
        change(app.world_mut(), |shown| {
            shown.select_case(CaseIndex::new(1))
        });
        let before = title(&app);

        let broken = text(SWINGING).replace("supports:", "suports:");
        write_and_wait(&mut app, &path, &broken, |app| trouble(app).is_some());
        let message = trouble(&app).unwrap();
        assert!(
            message.contains("suports") && message.contains("scene.ron:"),
            "{message}"
        );
        assert_eq!(title(&app), before);
        app.world_mut().write_message(CloseAll);
        app.update();
        assert!(trouble(&app).is_some(), "the picture is still out of date");

        let changed = text(SWINGING).replace(&before, "Another title");
        write_and_wait(&mut app, &path, &changed, |app| title(app) != before);
        assert_eq!(trouble(&app), None);
        assert_eq!(shown(app.world()).case.get(), 1, "the case is kept");
        assert!(
            app.world().resource::<Playback>().playing,
            "it goes on moving"
        );

        write_and_wait(&mut app, &path, text(HELD), |app| {
            shown(app.world()).study.diagnosis().is_held()
        });
        assert!(
            !app.world().resource::<Playback>().playing,
            "nothing is left to move"
        );
    }

    #[test]
    fn an_edit_keeps_the_link_on_trial_and_what_is_released() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        fs::write(&path, text(SWINGING)).unwrap();
        let mut app = app(&Source::File(path.clone()));
        let counts = |app: &App| shown(app.world()).study.diagnosis().counts;
        change(app.world_mut(), |shown| {
            shown.seek_repair();
            let link = shown.read().links()[0].clone();
            let eye = LinkEnd {
                at: link.at,
                point: link.point,
            };
            shown.try_link(eye, link.ground);
            let reactions = shown.read().study.whole().reactions.indices();
            let [Some(first), Some(last)] = [reactions.lowest(), reactions.highest()] else {
                panic!("a body with reactions");
            };
            shown.release(&[first, last].map(WholeReactionIndex::of));
        });
        let before = counts(&app);
        let changed = text(SWINGING).replace("mass: 14", "mass: 15");
        write_and_wait(&mut app, &path, &changed, |app| {
            scene::to_ron(shown(app.world()).written.scene()).contains("mass: 15")
        });
        assert_eq!(counts(&app), before);
        let shown = shown(app.world());
        assert!(shown.trial.is_some());
        assert_eq!(shown.released().len(), 2);
    }

    #[test]
    fn steps_lead_through_the_motions_and_then_to_another_scene() {
        let mut app = app(&Source::BuiltIn("ball-head"));
        let motion = |app: &App| shown(app.world()).motion;
        let step = |app: &mut App, step: StepDirection| {
            app.world_mut().write_message(SceneIntent::Step(step));
            app.update();
        };
        let first = title(&app);
        step(&mut app, StepDirection::On);
        step(&mut app, StepDirection::On);
        assert_eq!(
            (motion(&app), title(&app)),
            (Selection::Free(MotionIndex::new(2)), first.clone())
        );
        step(&mut app, StepDirection::On);
        assert_ne!(title(&app), first);
        assert_eq!(motion(&app), Selection::Free(MotionIndex::FIRST));
        step(&mut app, StepDirection::Back);
        assert_eq!(title(&app), first);
    }

    /// The window said that nothing was left to move, whatever load tipped the body over.
    #[test]
    fn a_load_case_that_is_not_carried_brings_its_escape() {
        let scene = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/one_way/tipping-cabinet.ron"
        );
        let mut app = app(&Source::File(scene.into()));
        let motion = |app: &App| {
            let shown = shown(app.world());
            shown.course().map(|_| shown.motion)
        };
        assert_eq!(motion(&app), None, "at rest it is carried");
        for expected in [Some(Selection::Escape), None] {
            let mut playback = app.world_mut().resource_mut::<Playback>();
            (playback.playing, playback.position) = (true, 0.5);
            app.world_mut().write_message(SceneIntent::NextCase);
            app.update();
            assert_eq!(motion(&app), expected);
            let playback = app.world().resource::<Playback>();
            assert_eq!(
                (playback.playing, playback.position),
                (expected.is_some(), 0.0)
            );
        }
    }

    #[test]
    fn steps_and_the_list_lead_back_to_a_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        fs::write(&path, text(HELD)).unwrap();
        let file = Source::File(path);
        let mut app = app(&file);
        let listed = |app: &App| {
            let list = app.world().resource::<SceneList>();
            list.entries().next().unwrap().source.clone()
        };
        assert_eq!(listed(&app), file);
        for (step, is_file) in [
            (StepDirection::On, false),
            (StepDirection::Back, true),
            (StepDirection::Back, false),
            (StepDirection::On, true),
        ] {
            app.world_mut().write_message(SceneIntent::Step(step));
            app.update();
            assert_eq!(
                shown(app.world()).source() == Some(&file),
                is_file,
                "{step:?}"
            );
        }
        assert_eq!(
            app.world().resource::<SceneList>().entries().count(),
            builtin::all().len() + 1
        );
    }

    #[test]
    fn what_cannot_be_opened_leaves_the_scene_and_says_why() {
        let mut app = app(&Source::BuiltIn(SWINGING));
        let before = title(&app);
        let missing = Source::File("/no/such/scene.ron".into());
        app.world_mut().write_message(SceneIntent::Open(missing));
        app.update();
        assert_eq!(title(&app), before);
        assert!(trouble(&app).unwrap().contains("/no/such/scene.ron"));
        app.world_mut().write_message(CloseAll);
        app.update();
        assert_eq!(trouble(&app), None, "Esc has closed it");
        let missing = Source::File("/no/such/scene.ron".into());
        app.world_mut().write_message(SceneIntent::Open(missing));
        app.update();
        assert!(trouble(&app).is_some());
        app.world_mut()
            .write_message(SceneIntent::Open(Source::BuiltIn(HELD)));
        app.update();
        assert_ne!(title(&app), before);
        assert_eq!(trouble(&app), None);
    }

    #[test]
    fn cases_go_round() {
        let mut app = app(&Source::BuiltIn(SWINGING));
        let cases = shown(app.world()).study.model().cases.len();
        for expected in (1..cases).chain([0]) {
            app.world_mut().write_message(SceneIntent::NextCase);
            app.update();
            assert_eq!(shown(app.world()).case.get(), expected);
        }
    }

    #[test]
    fn every_built_in_scene_is_listed_with_its_title() {
        let list = SceneList::default();
        assert_eq!(list.entries().count(), builtin::all().len());
        for entry in list.entries() {
            let study = Study::read(entry.source.clone()).unwrap();
            assert_eq!(study.scene().title, entry.title);
        }
    }
}
