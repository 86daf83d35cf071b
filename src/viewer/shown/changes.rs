//! Changing what is shown: another scene, an edited one, releases, the link on trial, what is selected and pointed out.

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

use super::{
    OnTrial, Pointed, PointedOut, Released, RepairSought, SceneCount, Selected, Shown, ShownStudy,
    Sums, Written, shown_of,
};
use crate::motion::Selection;
use crate::repair::LinkEnd;
use crate::scene::{Coordinates, Scene};
use crate::statics::{CaseIndex, Model, ReactionIndex};
use crate::study::{Source, Study, WholeReactionIndex};

/// Changes what is shown; everything known follows at once.
#[derive(SystemParam)]
pub(crate) struct ShownMut<'w> {
    written: ResMut<'w, Written>,
    scenes: ResMut<'w, SceneCount>,
    released: ResMut<'w, Released>,
    trial: ResMut<'w, OnTrial>,
    studied: ResMut<'w, ShownStudy>,
    selected: ResMut<'w, Selected>,
    pointed: ResMut<'w, PointedOut>,
    sums: Res<'w, Sums>,
    repair: ResMut<'w, RepairSought>,
}

impl ShownMut<'_> {
    /// What is shown now.
    pub(crate) fn read(&self) -> Shown<'_> {
        shown_of!(self, None)
    }

    /// Whether the scene as written changed since the system ran last.
    pub(crate) fn is_written_anew(&self) -> bool {
        self.written.is_changed()
    }

    /// Puts another scene on the stage, with nothing released.
    pub(crate) fn open(&mut self, study: Study) {
        self.scenes.0 += 1;
        self.selected
            .set_if_neq(Selected::of(&study, CaseIndex::FIRST, None));
        self.trial.set_if_neq(OnTrial(None));
        self.written.0 = study.clone();
        self.study(study);
    }

    /// Shows an edited scene in place of the one before, which keeps the link on trial, releases, case and motion as far
    /// as it still has them.
    pub(crate) fn edit(&mut self, edited: Study) {
        let link = self.link_in(edited.scene());
        let linked = link.and_then(|(eye, ground)| edited.with_link(eye, ground).ok());
        let (whole, mut trial) = match linked {
            Some((study, link)) => (study, Some(link)),
            None => (edited.clone(), None),
        };
        let released = self.released_in(whole.whole(), trial.is_some());
        let study = whole.without(&released);
        if let Some(trial) = &mut trial {
            trial.measure(study.diagnosis());
        }
        self.written.0 = edited;
        self.trial.set_if_neq(OnTrial(trial));
        self.study(study);
    }

    /// Says where the scene is kept from now on.
    pub(crate) fn move_to(&mut self, source: Source) {
        self.written.0 = self.written.0.clone().kept_in(source);
    }

    /// The link on trial as an edited scene would have it, if its place is still there.
    fn link_in(&self, scene: &Scene) -> Option<(LinkEnd, Coordinates)> {
        let measured = |scene: &Scene| (scene.units, scene.space, scene.datum);
        let link = self.trial.0.as_ref()?;
        let alike = measured(self.written.0.scene()) == measured(scene);
        let eye = link.eye_in(scene).filter(|_| alike)?;
        Some((eye, link.ground))
    }

    /// The released reactions in an edited model: by their names, those of the link on trial by being the last.
    fn released_in(&self, edited: &Model, with_trial: bool) -> Vec<WholeReactionIndex> {
        let now = self.studied.0.whole();
        let before = reactions_of_scene(now, self.trial.0.is_some());
        let after = reactions_of_scene(edited, with_trial);
        let named = |index: ReactionIndex| {
            let name = &now.reactions[index].name;
            let mut reactions = edited.reactions.enumerate().take(after);
            reactions.find_map(|(index, reaction)| (reaction.name == *name).then_some(index))
        };
        let of_trial = |index: ReactionIndex| {
            let index = index.get() - before + after;
            (index < edited.reactions.len()).then_some(ReactionIndex::new(index))
        };
        let kept = self
            .released
            .0
            .iter()
            .map(|index| index.in_whole())
            .filter_map(|index| match index.get() < before {
                true => named(index),
                false => of_trial(index),
            });
        kept.map(WholeReactionIndex::of).collect()
    }

    /// Puts a link drawn by hand on trial, in place of the one before.
    pub(crate) fn try_link(&mut self, eye: LinkEnd, ground: Coordinates) {
        // A link without length leaves the one before in place.
        let held = self.written.0.without(&self.released.0);
        if let Ok((study, link)) = held.with_link(eye, ground) {
            self.trial.0 = Some(link);
            self.study(study);
        }
    }

    /// Takes the link on trial away.
    pub(crate) fn drop_trial(&mut self) {
        if self.trial.0.is_some() {
            self.trial.0 = None;
            self.study(self.written.0.without(&self.released.0));
        }
    }

    /// Releases these reactions and holds all others.
    pub(crate) fn release(&mut self, released: &[WholeReactionIndex]) {
        let study = self.studied.0.without(released);
        if let Some(trial) = &mut self.trial.0 {
            trial.measure(study.diagnosis());
        }
        self.study(study);
    }

    /// Releases a reaction that acts, or holds one again that is released.
    pub(crate) fn switch(&mut self, reaction: WholeReactionIndex) {
        let mut released = self.released.0.clone();
        match released.iter().position(|index| *index == reaction) {
            Some(at) => drop(released.remove(at)),
            None => released.push(reaction),
        }
        self.release(&released);
    }

    /// Shows this load case, and a motion that there is under it.
    pub(crate) fn select_case(&mut self, case: CaseIndex) {
        let selected = Selected::of(&self.studied.0, case, Some(self.selected.motion));
        self.selected.set_if_neq(selected);
    }

    /// Shows this motion, where there is one.
    pub(crate) fn select_motion(&mut self, motion: Selection) {
        let selected = Selected::of(&self.studied.0, self.selected.case, Some(motion));
        self.selected.set_if_neq(selected);
    }

    /// Points this out, or nothing.
    pub(crate) fn point_out(&mut self, pointed: Option<Pointed>) {
        self.pointed.set_if_neq(PointedOut(pointed));
    }

    /// Looks for links to add.
    pub(crate) fn seek_repair(&mut self) {
        self.repair.set_if_neq(RepairSought(true));
    }

    /// Replaces what is known; what was pointed out may be there no more.
    fn study(&mut self, study: Study) {
        let released = study.released().to_vec();
        self.released.set_if_neq(Released(released));
        self.studied.0 = study;
        self.repair.set_if_neq(RepairSought(false));
        self.point_out(None);
        let case = self.selected.case;
        let there = self.studied.0.model().cases.get(case);
        self.select_case(there.map_or(CaseIndex::FIRST, |_| case));
    }
}

/// How many reactions a model has without those of a link on trial, which come last.
fn reactions_of_scene(model: &Model, with_trial: bool) -> usize {
    let trial = model.supports.last().filter(|_| with_trial);
    trial.map_or(model.reactions.len(), |trial| {
        trial.reactions.positions().start
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn releasing_changes_what_is_known_and_holding_again_brings_it_back() {
        let mut stage = TestStage::open("mirror-cell");
        let before = stage.shown().study.diagnosis().counts;
        assert_eq!(before.freedom, 0);
        stage.change(|shown| shown.switch(WholeReactionIndex::new(1)));
        let shown = stage.shown();
        assert_eq!(shown.study.model().reactions.len(), before.unknowns - 1);
        assert_eq!(shown.study.diagnosis().counts.unknowns, before.unknowns - 1);
        assert_eq!(shown.released(), [WholeReactionIndex::new(1)]);
        assert_eq!(
            shown.released_symbols(),
            [shown.study.whole().reactions[ReactionIndex::new(1)]
                .name
                .as_str()]
        );
        assert_eq!(
            shown.study.mobilities().motions.len(),
            shown.study.diagnosis().counts.freedom
        );
        stage.change(|shown| shown.switch(WholeReactionIndex::new(0)));
        let counts = stage.shown().study.diagnosis().counts;
        assert_eq!(counts.unknowns, before.unknowns - 2);
        stage.change(|shown| shown.switch(WholeReactionIndex::new(1)));
        stage.change(|shown| shown.switch(WholeReactionIndex::new(0)));
        assert_eq!(stage.shown().study.diagnosis().counts, before);
        assert!(stage.shown().released().is_empty());
    }

    #[test]
    fn a_link_to_add_takes_freedom_away() {
        let mut stage = TestStage::open("handrail");
        assert!(stage.shown().links().is_empty());
        stage.change(|shown| shown.seek_repair());
        let freedom = stage.shown().study.diagnosis().counts.freedom;
        assert_eq!(stage.shown().links().len(), freedom);
        stage.change(|shown| shown.point_out(Some(Pointed::Link(0))));
        let shown = stage.shown();
        let name = shown.pointed_link().unwrap().name.clone();
        let words = shown.words_of(Pointed::Link(0)).unwrap();
        assert!(words.to_string().contains(&name));
    }

    #[test]
    fn links_to_add_stand_in_for_what_is_released() {
        let mut stage = TestStage::open("mirror-cell");
        stage.change(|shown| shown.release(&[0, 3].map(WholeReactionIndex::new)));
        assert_eq!(stage.shown().study.diagnosis().counts.freedom, 2);
        stage.change(|shown| shown.seek_repair());
        let shown = stage.shown();
        assert_eq!(shown.links().len(), 2);
        assert_eq!(shown.links()[1].freedom, 0);
    }

    #[test]
    fn a_link_on_trial_counts_until_it_is_taken_away() {
        let mut stage = TestStage::open("handrail");
        let before = stage.shown().study.diagnosis().counts;
        stage.change(|shown| shown.seek_repair());
        let link = stage.shown().links()[0].clone();
        let eye = LinkEnd {
            at: link.at.clone(),
            point: link.point,
        };
        stage.change(|shown| shown.try_link(eye, link.ground));
        assert_eq!(stage.shown().trial, Some(&link));
        assert_eq!(stage.shown().study.diagnosis().counts.rank, before.rank + 1);
        let last = stage.shown().study.whole().reactions.indices().highest();
        let last = last.expect("the reaction of the link");
        stage.change(|shown| shown.switch(WholeReactionIndex::of(last)));
        assert_eq!(stage.shown().study.diagnosis().counts.rank, before.rank);
        assert_eq!(stage.shown().trial.unwrap().freedom, before.freedom);
        stage.change(|shown| shown.drop_trial());
        let shown = stage.shown();
        assert_eq!(shown.study.diagnosis().counts, before);
        assert!(shown.trial.is_none() && shown.released().is_empty());
    }
}
