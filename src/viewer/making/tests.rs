//! Making scenes by what words and keys ask for, without a window.

use std::fs;
use std::path::PathBuf;

use bevy::prelude::*;
use nalgebra::Point3;

use super::drag::Drag;
use super::turn::DirectionDrag;
use super::{Addition, Files, MakingPlugin, SceneEditor};
use crate::draft::drag::{DragConstraint, PlaceDrag};
use crate::draft::{Field, Handle, NewScene, Proposal, SceneItem, TurnableDirection, words};
use crate::scene::{self, Coordinates, Direction, SupportKind, builtin};
use crate::statics::CaseIndex;
use crate::study::{Source, Study};
use crate::viewer::file_watch::FileWatch;
use crate::viewer::intent::{CloseAll, MakingIntent};
use crate::viewer::library::LibraryPlugin;
use crate::viewer::panels::OpenPanels;
use crate::viewer::redraw::FramesToDraw;
use crate::viewer::shown::testing::{change, shown};
use crate::viewer::shown::{Selected, ShownMut, show};
use crate::viewer::state::Playback;
use crate::viewer::study::StudyPlugin;

fn app(source: &Source) -> App {
    let mut watch = FileWatch::default();
    watch.follow(Some(source));
    let mut app = App::new();
    app.add_plugins((
        MinimalPlugins,
        LibraryPlugin::default(),
        MakingPlugin { unsaved: None },
    ))
    .insert_resource(watch)
    .init_resource::<Playback>()
    .init_resource::<FramesToDraw>();
    let study = Study::read(source.clone()).unwrap();
    let selected = Selected::of(&study, CaseIndex::FIRST, None);
    show(app.world_mut(), study, selected);
    app.update();
    app
}

fn ask(app: &mut App, intent: MakingIntent) {
    app.world_mut().write_message(intent);
    app.update();
}

fn editor(app: &App) -> &SceneEditor {
    app.world().resource::<SceneEditor>()
}

fn keep(app: &mut App, thing: SceneItem) {
    app.world_mut().resource_mut::<SceneEditor>().kept = Some(thing);
}

fn freedom(app: &App) -> usize {
    shown(app.world()).study.diagnosis().counts.freedom
}

#[test]
fn a_kind_that_is_chosen_is_shown_at_once_and_can_be_undone() {
    let mut app = app(&Source::BuiltIn("handrail"));
    assert_eq!(freedom(&app), 1);
    keep(&mut app, SceneItem::Support(1));
    let choices = Field::Kind(1).choices(editor(&app).scene().unwrap());
    let fixed = choices
        .into_iter()
        .find(|choice| choice.word == "fixed support")
        .unwrap();
    ask(&mut app, MakingIntent::Take(Box::new(fixed.proposal)));
    assert_eq!(freedom(&app), 0);
    ask(&mut app, MakingIntent::Undo);
    assert_eq!(freedom(&app), 1);
    assert!(!editor(&app).draft().unwrap().is_unsaved());
    ask(&mut app, MakingIntent::Redo);
    assert_eq!(freedom(&app), 0);
    assert!(editor(&app).draft().unwrap().is_unsaved());
}

#[test]
fn what_is_typed_moves_a_support_and_what_cannot_be_read_is_refused_in_words() {
    let mut app = app(&Source::BuiltIn("roof-hatch"));
    keep(&mut app, SceneItem::Support(0));
    let field = Field::Place(Handle::Support(0));
    ask(&mut app, MakingIntent::Edit(field));
    ask(&mut app, MakingIntent::Type("over there".to_owned()));
    ask(&mut app, MakingIntent::Enter);
    let refusal = editor(&app).refusal.clone().unwrap();
    assert!(
        refusal.contains("over there") && refusal.contains("type"),
        "{refusal}"
    );
    assert!(editor(&app).entry.is_some(), "it can be typed again");
    ask(&mut app, MakingIntent::Type("100 mm, 0, 5 cm".to_owned()));
    ask(&mut app, MakingIntent::Enter);
    assert_eq!(
        (editor(&app).refusal.clone(), editor(&app).entry.clone()),
        (None, None)
    );
    let written = shown(app.world()).written.scene().clone();
    assert_eq!(
        Handle::Support(0).position(&written),
        Some([0.1, 0.0, 0.05])
    );
}

#[test]
fn what_is_kept_goes_by_a_key_and_escape_lets_go() {
    let mut app = app(&Source::BuiltIn("handrail"));
    keep(&mut app, SceneItem::Support(1));
    ask(&mut app, MakingIntent::Remove);
    assert_eq!(freedom(&app), 3);
    assert_eq!(editor(&app).kept, None);
    keep(&mut app, SceneItem::Support(0));
    let placing = Addition::Support(SupportKind::BallJoint);
    app.world_mut().resource_mut::<SceneEditor>().placing = Some(placing);
    app.world_mut().write_message(CloseAll);
    app.update();
    assert_eq!(
        (editor(&app).kept, editor(&app).placing.clone()),
        (None, None)
    );
    assert_eq!(freedom(&app), 3, "letting go undoes nothing");
}

#[test]
fn a_new_scene_is_saved_where_it_is_asked_to_be_and_read_by_anyone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("boom.ron");
    let mut app = app(&Source::BuiltIn("handrail"));
    ask(&mut app, MakingIntent::New(NewScene::Bar));
    assert_eq!(freedom(&app), 0);
    keep(&mut app, SceneItem::Support(2));
    ask(&mut app, MakingIntent::Remove);
    ask(&mut app, MakingIntent::Save);
    let asked = app.world().resource::<Files>().path.clone();
    assert_eq!(asked.as_deref(), Some("new-bar.ron"), "it has no file yet");
    ask(
        &mut app,
        MakingIntent::SaveAs(PathBuf::from("/no/such/folder/boom.ron")),
    );
    let trouble = app.world().resource::<Files>().trouble.clone().unwrap();
    assert!(trouble.contains("there is no folder"), "{trouble}");
    ask(&mut app, MakingIntent::SaveAs(path.clone()));
    assert!(!editor(&app).draft().unwrap().is_unsaved());
    assert_eq!(
        shown(app.world()).source(),
        Some(&Source::File(path.clone()))
    );
    let saved = fs::read_to_string(&path).unwrap();
    // What is said of the beginning is no longer true of what became of it.
    let begins = saved.starts_with("(\n    format: 1,\n    title: \"New bar\",");
    assert!(begins && !saved.contains("//"), "{saved}");
    assert_eq!(scene::read_file(&path).unwrap().scene.supports.len(), 2);
}

#[test]
fn a_file_that_changes_under_unsaved_edits_is_a_question() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("rail.ron");
    let text = builtin::find("handrail").unwrap().text;
    fs::write(&path, text).unwrap();
    let mut app = app(&Source::File(path.clone()));
    keep(&mut app, SceneItem::Support(1));
    ask(&mut app, MakingIntent::Remove);
    fs::write(&path, text.replace("mass: 14", "mass: 15")).unwrap();
    let end = std::time::Instant::now() + std::time::Duration::from_secs(10);
    while !editor(&app).draft().unwrap().has_conflict() && std::time::Instant::now() < end {
        std::thread::sleep(std::time::Duration::from_millis(20));
        app.update();
    }
    assert!(editor(&app).draft().unwrap().has_conflict());
    assert_eq!(freedom(&app), 3, "nothing is lost");
    ask(&mut app, MakingIntent::TakeTheirs);
    assert_eq!(freedom(&app), 1);
    assert!(scene::to_ron(shown(app.world()).written.scene()).contains("mass: 15"));
    ask(&mut app, MakingIntent::Undo);
    assert_eq!(freedom(&app), 3, "the other one can be had back");
}

/// What was not saved was gone without a word when another scene was begun.
#[test]
fn unsaved_work_is_set_aside_with_its_steps_when_another_scene_comes_on() {
    let mut app = app(&Source::BuiltIn("handrail"));
    keep(&mut app, SceneItem::Support(1));
    ask(&mut app, MakingIntent::Remove);
    assert_eq!(
        editor(&app).kept,
        None,
        "the next support is in nobody's hand"
    );
    ask(&mut app, MakingIntent::New(NewScene::Plate));
    assert_eq!(freedom(&app), 0);
    let offered = |app: &App| app.world().resource::<Files>().left_behind();
    assert_eq!(
        offered(&app).as_deref(),
        Some("Handrail on two ball joints")
    );
    ask(&mut app, MakingIntent::TakeUp);
    assert_eq!((freedom(&app), offered(&app)), (3, None));
    ask(&mut app, MakingIntent::Undo);
    assert_eq!(freedom(&app), 1);
}

/// While a direction is turned the sentence says what it would be; let go, the turn is one step that can be undone.
#[test]
fn the_sentence_follows_a_turn_and_the_turn_is_one_step() {
    let mut app = app(&Source::BuiltIn("hatch-prop"));
    let scene = editor(&app).scene().unwrap().clone();
    let mut aims = SceneItem::all(&scene)
        .into_iter()
        .flat_map(|thing| TurnableDirection::of(thing, &scene));
    let aim = aims.next().expect("something has a direction");
    keep(&mut app, aim.thing());
    let said = |app: &App| words(&editor(app).sentence());
    let before = said(&app);
    let to = Direction::Along(Coordinates::Space([3.0, 4.0, 0.0]));
    let proposal = Proposal::turned(&scene, aim, to).unwrap();
    let act = |app: &mut App, act: &dyn Fn(&mut SceneEditor, &mut ShownMut) -> bool| {
        let world = app.world_mut();
        world.resource_scope(|world, mut editor: Mut<SceneEditor>| {
            change(world, |shown| assert!(act(&mut editor, shown)));
        });
        app.update();
    };
    act(&mut app, &|editor, shown| {
        editor.drag = DirectionDrag::begun(&scene, aim).map(Drag::Turn);
        editor.try_out(&proposal, shown)
    });
    assert!(said(&app).contains("(3, 4, 0)"), "{}", said(&app));
    assert!(
        !editor(&app).draft().unwrap().is_unsaved(),
        "it is not let go"
    );
    act(&mut app, &|editor, shown| {
        editor.drag = None;
        editor.take(proposal.clone(), shown)
    });
    let steps = editor(&app).draft().unwrap().done();
    assert_eq!((steps.len(), steps[0].name()), (1, proposal.name.as_str()));
    ask(&mut app, MakingIntent::Undo);
    assert_eq!(said(&app), before);
}

/// To seek links takes longer than all else that follows the hand.
#[test]
fn links_to_add_are_sought_once_the_hand_lets_go() {
    let mut app = app(&Source::BuiltIn("handrail"));
    app.add_plugins(StudyPlugin);
    let scene = editor(&app).scene().unwrap().clone();
    let start = Point3::origin();
    let drag = PlaceDrag::begun(&scene, Handle::Support(0), DragConstraint::Any, start);
    app.world_mut().resource_mut::<SceneEditor>().drag = Some(Drag::Move(drag));
    app.world_mut().resource_mut::<OpenPanels>().ledger = true;
    app.update();
    assert!(shown(app.world()).repair().is_none());
    app.world_mut().resource_mut::<SceneEditor>().drag = None;
    app.update();
    assert!(shown(app.world()).repair().is_some());
}
