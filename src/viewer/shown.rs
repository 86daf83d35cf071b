//! What is shown, as resources that change separately: the scene as written, what is released, the link on trial, the
//! study that follows from these three, what is selected, and what is pointed out.
//!
//! Systems that draw read `ShownParam` and rebuild only what depends on the resource that changed. Systems that act
//! change everything through `ShownMut`, which keeps the study in step.

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use nalgebra::Isometry3;

use super::pointing::Pointed;
use super::sums::Sums;
use crate::motion::{Course, Selection};
use crate::repair::{AddedLink, Eye};
use crate::scene::{Coordinates, Scene};
use crate::statics::Model;
use crate::study::{Repair, Source, Study};
use crate::wording::{self, Phrase};

/// The scene as written, with all that is known of it.
#[derive(Resource, Debug, Clone)]
pub struct Written(pub Study);

/// Indices of the released reactions in the whole model, ascending.
#[derive(Resource, Debug, Clone, Default, PartialEq, Eq)]
pub struct Released(Vec<usize>);

/// The link on trial: the last support of the study.
#[derive(Resource, Debug, Clone, Default, PartialEq)]
pub struct OnTrial(Option<AddedLink>);

/// The scene with the link on trial and without what is released: the only source of every word and stroke.
#[derive(Resource, Debug, Clone)]
pub struct Studied(pub Study);

/// What is chosen among several.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Eq)]
pub struct Selected {
    /// Load case whose loads and reaction values are shown; index into the model's cases.
    pub case: usize,
    /// Motion shown, where there is one.
    pub motion: Selection,
}

impl Selected {
    /// This case and this motion, or the first motion that there is under the case.
    pub fn of(study: &Study, case: usize, motion: Option<Selection>) -> Self {
        let wanted = motion.filter(|motion| study.course(*motion, case).is_some());
        let first = || study.selections(case).first().copied();
        Self {
            case,
            motion: wanted.or_else(first).unwrap_or_default(),
        }
    }
}

/// What is pointed out in the picture.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct PointedOut(pub Option<Pointed>);

/// What is lit only as long as the pointer is over it or over its summand, in place of what is pointed out.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Glanced(pub Option<Pointed>);

/// Whether links to add have been asked for; they are looked for then.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RepairSought(pub bool);

/// Puts a scene on the stage of an app, with nothing released.
pub fn show(world: &mut World, study: Study, selected: Selected) {
    world.insert_resource(Written(study.clone()));
    world.insert_resource(Studied(study));
    world.insert_resource(selected);
    world.init_resource::<Released>();
    world.init_resource::<OnTrial>();
    world.init_resource::<PointedOut>();
    world.init_resource::<Glanced>();
    world.init_resource::<Sums>();
    world.init_resource::<RepairSought>();
}

/// Everything that is shown, to be read together.
#[derive(Clone, Copy)]
pub struct Shown<'a> {
    /// The scene as written.
    pub written: &'a Study,
    /// The scene with the link on trial and without what is released.
    pub study: &'a Study,
    /// Load case whose loads and reaction values are shown; index into the model's cases.
    pub case: usize,
    /// Motion shown, where there is one.
    pub motion: Selection,
    /// What is pointed out in the picture.
    pub pointed: Option<Pointed>,
    /// What the pointer lights up.
    pub glanced: Option<Pointed>,
    /// What moments are taken about.
    pub(crate) sums: &'a Sums,
    /// The link on trial: the last support of the study.
    pub trial: Option<&'a AddedLink>,
    seeks_repair: bool,
}

impl<'a> Shown<'a> {
    /// What is lit in the picture: what the pointer is over, else what is pointed out.
    pub fn lit(&self) -> Option<Pointed> {
        self.glanced.or(self.pointed)
    }

    /// Where the scene came from; `None` of one made in memory.
    pub fn source(&self) -> Option<&'a Source> {
        self.written.source()
    }

    /// The motions that can be shown under the load case shown.
    pub fn selections(&self) -> Vec<Selection> {
        self.study.selections(self.case)
    }

    /// The motion shown, with where it leads; `None` where there is none.
    pub fn course(&self) -> Option<Course<'a>> {
        self.study.course(self.motion, self.case)
    }

    /// Indices of the released reactions in the whole model, ascending.
    pub fn released(&self) -> &'a [usize] {
        self.study.released()
    }

    /// Symbols of the released reactions.
    pub fn released_symbols(&self) -> Vec<Phrase> {
        wording::symbols(self.study.whole(), self.released().iter().copied())
    }

    /// What would hold the body, once it has been asked for.
    pub fn repair(&self) -> Option<&'a Repair> {
        self.seeks_repair.then(|| self.study.repair())
    }

    /// Placement of the body at a part of its swing, −1 to 1, for a swing of `amount` rad or m to each side.
    ///
    /// On the supports' geometry where the motion is real, and no farther than it goes; else within a small wobble.
    pub fn pose(&self, part: f64, amount: f64) -> Isometry3<f64> {
        let course = self.course();
        course.map_or_else(Isometry3::identity, |course| course.swung(part, amount))
    }
}

/// Reads all that is shown.
#[derive(SystemParam)]
pub(crate) struct ShownParam<'w> {
    pub written: Res<'w, Written>,
    pub studied: Res<'w, Studied>,
    pub trial: Res<'w, OnTrial>,
    pub selected: Res<'w, Selected>,
    pub pointed: Res<'w, PointedOut>,
    glanced: Res<'w, Glanced>,
    sums: Res<'w, Sums>,
    repair: Res<'w, RepairSought>,
}

impl ShownParam<'_> {
    /// What is shown now.
    pub(crate) fn read(&self) -> Shown<'_> {
        Shown {
            written: &self.written.0,
            study: &self.studied.0,
            case: self.selected.case,
            motion: self.selected.motion,
            pointed: self.pointed.0,
            glanced: self.glanced.0,
            sums: &self.sums,
            trial: self.trial.0.as_ref(),
            seeks_repair: self.repair.0,
        }
    }

    /// Whether anything of it changed.
    pub(crate) fn is_changed(&self) -> bool {
        self.is_rebuilt() || self.selected.is_changed() || self.is_pointed_anew()
    }

    /// Whether what is studied changed.
    pub(crate) fn is_rebuilt(&self) -> bool {
        self.written.is_changed() || self.studied.is_changed() || self.trial.is_changed()
    }

    /// Whether something else is pointed out, or repairs have been found that can be.
    pub(crate) fn is_pointed_anew(&self) -> bool {
        self.pointed.is_changed() || self.glanced.is_changed() || self.repair.is_changed()
    }
}

/// Changes what is shown; everything known follows at once.
#[derive(SystemParam)]
pub(crate) struct ShownMut<'w> {
    written: ResMut<'w, Written>,
    released: ResMut<'w, Released>,
    trial: ResMut<'w, OnTrial>,
    studied: ResMut<'w, Studied>,
    selected: ResMut<'w, Selected>,
    pointed: ResMut<'w, PointedOut>,
    sums: Res<'w, Sums>,
    repair: ResMut<'w, RepairSought>,
}

impl ShownMut<'_> {
    /// What is shown now.
    pub(crate) fn read(&self) -> Shown<'_> {
        Shown {
            written: &self.written.0,
            study: &self.studied.0,
            case: self.selected.case,
            motion: self.selected.motion,
            pointed: self.pointed.0,
            glanced: None,
            sums: &self.sums,
            trial: self.trial.0.as_ref(),
            seeks_repair: self.repair.0,
        }
    }

    /// Whether the scene as written changed since the system ran last.
    pub(crate) fn is_written_anew(&self) -> bool {
        self.written.is_changed()
    }

    /// Puts another scene on the stage, with nothing released.
    pub(crate) fn open(&mut self, study: Study) {
        self.selected.set_if_neq(Selected::of(&study, 0, None));
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
    fn link_in(&self, scene: &Scene) -> Option<(Eye, Coordinates)> {
        let measured = |scene: &Scene| (scene.units, scene.space, scene.datum);
        let link = self.trial.0.as_ref()?;
        let alike = measured(self.written.0.scene()) == measured(scene);
        let eye = link.eye_in(scene).filter(|_| alike)?;
        Some((eye, link.ground))
    }

    /// The released reactions in an edited model: by their names, those of the link on trial by being the last.
    fn released_in(&self, edited: &Model, with_trial: bool) -> Vec<usize> {
        let now = self.studied.0.whole();
        let before = reactions_of_scene(now, self.trial.0.is_some());
        let after = reactions_of_scene(edited, with_trial);
        let named = |index: usize| {
            let name = &now.reactions[index].name;
            let reactions = &edited.reactions[..after];
            reactions.iter().position(|reaction| reaction.name == *name)
        };
        let of_trial = |index: usize| {
            let index = index - before + after;
            (index < edited.reactions.len()).then_some(index)
        };
        let kept = self
            .released
            .0
            .iter()
            .filter_map(|index| match *index < before {
                true => named(*index),
                false => of_trial(*index),
            });
        kept.collect()
    }

    /// Puts a link drawn by hand on trial, in place of the one before.
    pub(crate) fn try_link(&mut self, eye: Eye, ground: Coordinates) {
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

    /// Releases these reactions of the whole model and holds all others.
    pub(crate) fn release(&mut self, released: &[usize]) {
        let study = self.studied.0.without(released);
        if let Some(trial) = &mut self.trial.0 {
            trial.measure(study.diagnosis());
        }
        self.study(study);
    }

    /// Releases a reaction of the whole model that acts, or holds one again that is released.
    pub(crate) fn switch(&mut self, reaction: usize) {
        let mut released = self.released.0.clone();
        match released.iter().position(|index| *index == reaction) {
            Some(at) => drop(released.remove(at)),
            None => released.push(reaction),
        }
        self.release(&released);
    }

    /// Shows this load case, and a motion that there is under it.
    pub(crate) fn select_case(&mut self, case: usize) {
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
        let there = case < self.studied.0.model().cases.len();
        self.select_case(if there { case } else { 0 });
    }
}

/// How many reactions a model has without those of a link on trial, which come last.
fn reactions_of_scene(model: &Model, with_trial: bool) -> usize {
    let trial = model.supports.last().filter(|_| with_trial);
    trial.map_or(model.reactions.len(), |trial| trial.reactions.start)
}

/// A stage without an app.
#[cfg(test)]
pub(crate) mod testing {
    use bevy::ecs::system::SystemState;

    use super::*;

    /// A world with a scene on its stage.
    pub(crate) struct TestStage(pub World);

    impl TestStage {
        /// A built-in scene.
        pub(crate) fn open(name: &str) -> Self {
            Self::of(Study::open(name).unwrap())
        }

        /// A study.
        pub(crate) fn of(study: Study) -> Self {
            let mut world = World::new();
            let selected = Selected::of(&study, 0, None);
            show(&mut world, study, selected);
            Self(world)
        }

        /// What is shown now.
        pub(crate) fn shown(&self) -> Shown<'_> {
            shown(&self.0)
        }

        /// Changes what is shown.
        pub(crate) fn change(&mut self, change: impl FnOnce(&mut ShownMut)) {
            self::change(&mut self.0, change);
        }
    }

    /// What a world shows.
    pub(crate) fn shown(world: &World) -> Shown<'_> {
        let selected = world.resource::<Selected>();
        Shown {
            written: &world.resource::<Written>().0,
            study: &world.resource::<Studied>().0,
            case: selected.case,
            motion: selected.motion,
            pointed: world.resource::<PointedOut>().0,
            glanced: world.resource::<Glanced>().0,
            sums: world.resource::<Sums>(),
            trial: world.resource::<OnTrial>().0.as_ref(),
            seeks_repair: world.resource::<RepairSought>().0,
        }
    }

    /// Changes what a world shows.
    pub(crate) fn change(world: &mut World, change: impl FnOnce(&mut ShownMut)) {
        let mut state = SystemState::<ShownMut>::new(world);
        change(&mut state.get_mut(world).unwrap());
    }
}

#[cfg(test)]
mod tests {
    use super::testing::TestStage;
    use super::*;

    #[test]
    fn releasing_changes_what_is_known_and_holding_again_brings_it_back() {
        let mut stage = TestStage::open("mirror-cell");
        let before = stage.shown().study.diagnosis().counts;
        assert_eq!(before.freedom, 0);
        stage.change(|shown| shown.switch(1));
        let shown = stage.shown();
        assert_eq!(shown.study.model().reactions.len(), before.unknowns - 1);
        assert_eq!(shown.study.diagnosis().counts.unknowns, before.unknowns - 1);
        assert_eq!(shown.released(), [1]);
        assert_eq!(
            shown.released_symbols(),
            [shown.study.whole().reactions[1].name.as_str()]
        );
        assert_eq!(
            shown.study.mobilities().motions.len(),
            shown.study.diagnosis().counts.freedom
        );
        stage.change(|shown| shown.switch(0));
        let counts = stage.shown().study.diagnosis().counts;
        assert_eq!(counts.unknowns, before.unknowns - 2);
        stage.change(|shown| shown.switch(1));
        stage.change(|shown| shown.switch(0));
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
        stage.change(|shown| shown.release(&[0, 3]));
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
        let eye = Eye {
            at: link.at.clone(),
            point: link.point,
        };
        stage.change(|shown| shown.try_link(eye, link.ground));
        assert_eq!(stage.shown().trial, Some(&link));
        assert_eq!(stage.shown().study.diagnosis().counts.rank, before.rank + 1);
        let last = stage.shown().study.whole().reactions.len() - 1;
        stage.change(|shown| shown.switch(last));
        assert_eq!(stage.shown().study.diagnosis().counts.rank, before.rank);
        assert_eq!(stage.shown().trial.unwrap().freedom, before.freedom);
        stage.change(|shown| shown.drop_trial());
        let shown = stage.shown();
        assert_eq!(shown.study.diagnosis().counts, before);
        assert!(shown.trial.is_none() && shown.released().is_empty());
    }

    #[test]
    fn pointing_changes_nothing_that_is_studied() {
        let mut stage = TestStage::open("handrail");
        stage.0.clear_trackers();
        stage.change(|shown| shown.point_out(Some(Pointed::Reason)));
        let world = &stage.0;
        assert!(world.is_resource_changed::<PointedOut>());
        assert!(!world.is_resource_changed::<Written>());
        assert!(!world.is_resource_changed::<Studied>());
        assert!(!world.is_resource_changed::<Selected>());
        assert!(!world.is_resource_changed::<Released>());
        assert!(!world.is_resource_changed::<OnTrial>());
    }
}
