//! Scenes in the making: their history, what is saved of them, and what somebody else does to the file meanwhile.

mod killed;
mod monkey;
mod proposals;
mod sentences;

use sixhold::draft::{Draft, Handle, NewScene, NewsFromDisk, Proposal, SceneItem};
use sixhold::scene::{Scene, builtin, read_str, to_ron};
use sixhold::study::Study;

fn text(name: &str) -> &'static str {
    builtin::find(name).expect("a built-in scene").text
}

fn scene(name: &str) -> Scene {
    read_str(name, text(name)).expect("a scene").scene
}

fn draft(name: &str) -> Draft {
    Draft::of_file(scene(name), text(name).to_owned())
}

/// Takes the proposal up that some function makes of the draft's scene.
fn take(draft: &mut Draft, propose: impl FnOnce(&Scene) -> Option<Proposal>) {
    let proposal = propose(draft.scene()).expect("something to change");
    draft.take(proposal).expect("a scene that can be read");
}

fn moved_up(draft: &mut Draft, support: usize) {
    take(draft, |scene| {
        let handle = Handle::Support(support);
        let [x, y, z] = handle.position(scene)?;
        Proposal::moved(scene, handle, [x, y, z + 0.125])
    });
}

#[test]
fn steps_are_named_undone_and_made_again() {
    let mut draft = draft("roof-hatch");
    let start = draft.scene().clone();
    moved_up(&mut draft, 0);
    take(&mut draft, |scene| {
        Proposal::removed(
            scene,
            SceneItem::Load(sixhold::draft::LoadId::all(scene)[0]),
        )
    });
    let end = draft.scene().clone();
    let names: Vec<&str> = draft.done().iter().map(|step| step.name()).collect();
    assert_eq!(names, ["moved point A by 0.125 m", "removed the weight"]);
    assert!(draft.is_unsaved());
    assert_eq!(
        draft.undo().map(|step| step.name().to_owned()).as_deref(),
        Some("removed the weight")
    );
    assert!(draft.undo().is_some());
    assert!(draft.undo().is_none());
    assert_eq!(draft.scene(), &start);
    assert!(!draft.is_unsaved());
    assert_eq!(
        draft.text(),
        text("roof-hatch"),
        "undone is as it was, to the letter"
    );
    assert!(draft.redo().is_some() && draft.redo().is_some() && draft.redo().is_none());
    assert_eq!(draft.scene(), &end);
}

#[test]
fn a_change_that_cannot_be_read_is_refused_and_leaves_everything_as_it_was() {
    let mut draft = draft("handrail");
    moved_up(&mut draft, 0);
    draft.undo();
    let twice = Proposal::renamed(draft.scene(), SceneItem::Support(0), "B").expect("a support");
    let before = draft.clone();
    let refusal = draft.take(twice).expect_err("two supports of one name");
    assert!(refusal.to_string().contains("B"), "{refusal}");
    assert_eq!(draft.scene(), before.scene());
    assert_eq!(
        draft.undone().len(),
        1,
        "what was undone can still be made again"
    );
}

#[test]
fn a_change_to_the_same_is_no_step() {
    let mut draft = draft("handrail");
    take(&mut draft, |scene| {
        let handle = Handle::Support(0);
        Proposal::moved(scene, handle, handle.position(scene)?)
    });
    assert!(draft.done().is_empty());
    assert!(!draft.is_unsaved());
}

#[test]
fn saving_is_remembered_across_undo_and_new_steps() {
    let mut draft = draft("handrail");
    moved_up(&mut draft, 0);
    let saved = draft.text();
    draft.saved_as(saved.clone());
    assert!(!draft.is_unsaved());
    draft.undo();
    assert!(draft.is_unsaved());
    draft.redo();
    assert!(!draft.is_unsaved());
    assert_eq!(draft.text(), saved);
    // Another step from the state before the saved one leads to none that was saved.
    draft.undo();
    moved_up(&mut draft, 1);
    assert!(draft.is_unsaved());
}

#[test]
fn work_that_no_file_holds_is_unsaved_before_any_step() {
    let mut draft = Draft::unsaved(scene("handrail"));
    assert!(draft.is_unsaved() && draft.undo().is_none());
    moved_up(&mut draft, 0);
    draft.undo();
    assert!(draft.is_unsaved());
    draft.saved_as(draft.text());
    assert!(!draft.is_unsaved());
    assert!(!Draft::new(scene("handrail")).is_unsaved());
}

#[test]
fn what_somebody_else_writes_is_a_step_or_where_edits_are_unsaved_a_question() {
    let other = text("handrail").replace("diameter: 0.048", "diameter: 0.06");
    assert_ne!(other, text("handrail"), "the scene has a bar of 48 mm");
    let loaded = || read_str("handrail", &other).expect("a scene").scene;

    let mut calm = draft("handrail");
    let start = calm.scene().clone();
    let same = scene("handrail");
    assert_eq!(
        calm.reread(text("handrail").to_owned(), same),
        NewsFromDisk::Nothing
    );
    assert_eq!(calm.reread(other.clone(), loaded()), NewsFromDisk::Taken);
    assert!(!calm.is_unsaved());
    assert_eq!(calm.text(), other);
    calm.undo();
    assert_eq!(calm.scene(), &start);
    assert!(calm.is_unsaved(), "the file says something else now");

    let mut busy = draft("handrail");
    moved_up(&mut busy, 0);
    let mine = busy.scene().clone();
    assert_eq!(busy.reread(other.clone(), loaded()), NewsFromDisk::Conflict);
    assert_eq!(busy.scene(), &mine, "nothing is lost");
    let mut kept = busy.clone();
    kept.keep_mine();
    assert!(kept.is_unsaved() && !kept.has_conflict());
    assert_eq!(
        read_str("handrail", &kept.text()).expect("a scene").scene,
        *mine
    );
    let mut taken = busy;
    taken.take_theirs();
    assert!(!taken.is_unsaved() && !taken.has_conflict());
    assert_eq!(taken.text(), other);
    taken.undo();
    assert_eq!(taken.scene(), &mine, "mine can be had back");
}

#[test]
fn every_start_is_held_by_six_reactions_and_carries_its_load() {
    for start in NewScene::ALL {
        let loaded = read_str(start.word(), start.text()).expect("a scene");
        assert!(
            loaded.warnings.is_empty(),
            "{start:?} {:?}",
            loaded.warnings
        );
        assert!(
            start.text().ends_with(&to_ron(&loaded.scene)),
            "laid out as saving does: {start:?}"
        );
        let study = Study::new(start.scene()).expect("a model");
        let counts = study.diagnosis().counts;
        assert_eq!((counts.unknowns, counts.rank), (6, 6), "{start:?}");
        assert!(study.uncarried().is_empty(), "{start:?}");
    }
}
