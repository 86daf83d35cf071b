//! Scenes opened, stepped through and read again, as the window does it.

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
