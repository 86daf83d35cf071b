//! What is on the stage: the scene, its model without what is released, all that is known of it, what is pointed out.

use bevy::prelude::*;
use nalgebra::Isometry3;

use super::pointing::Pointed;
use crate::motion::{Course, Selection};
use crate::repair::{AddedLink, Eye};
use crate::scene::Coordinates;
use crate::study::{Repair, Source, Study};

/// What is on the stage. Replaced as a whole when another scene is shown or the file changes.
#[derive(Resource)]
pub struct Shown {
    /// The scene as written.
    pub written: Study,
    /// The scene with the link on trial and without what is released: the only source of every word and stroke.
    pub study: Study,
    /// Whether links to add have been asked for; they are looked for then.
    pub seeks_repair: bool,
    /// Load case whose loads and reaction values are shown; index into the model's cases.
    pub case: usize,
    /// Motion shown, where there is one.
    pub motion: Selection,
    /// What is pointed out in the picture.
    pub pointed: Option<Pointed>,
    trial: Option<AddedLink>,
}

impl Shown {
    /// Puts a scene on the stage, with nothing released.
    pub fn new(study: Study) -> Self {
        let mut shown = Self {
            written: study.clone(),
            study,
            seeks_repair: false,
            case: 0,
            motion: Selection::default(),
            pointed: None,
            trial: None,
        };
        shown.select_what_is_there();
        shown
    }

    /// Where the scene came from; `None` of one made in memory.
    pub fn source(&self) -> Option<&Source> {
        self.written.source()
    }

    /// The motions that can be shown under the load case shown.
    pub fn selections(&self) -> Vec<Selection> {
        self.study.selections(self.case)
    }

    /// The motion shown, with where it leads; `None` where there is none.
    pub fn course(&self) -> Option<Course<'_>> {
        self.study.course(self.motion, self.case)
    }

    /// Shows this load case, and a motion that there is under it.
    pub fn select_case(&mut self, case: usize) {
        self.case = case;
        self.select_what_is_there();
    }

    /// Shows the first motion that there is in place of one that is not there.
    fn select_what_is_there(&mut self) {
        if self.course().is_none() {
            self.motion = self.selections().first().copied().unwrap_or_default();
        }
    }

    /// The link on trial: the last support of the study.
    pub fn trial(&self) -> Option<&AddedLink> {
        self.trial.as_ref()
    }

    /// Puts a link drawn by hand on trial, in place of the one before; everything known follows.
    pub fn try_link(&mut self, eye: Eye, ground: Coordinates) {
        let released = self.study.released();
        // A link without length leaves the one before in place.
        if let Ok((study, link)) = self.written.without(released).with_link(eye, ground) {
            self.trial = Some(link);
            self.show(study);
        }
    }

    /// Takes the link on trial away.
    pub fn drop_trial(&mut self) {
        if self.trial.take().is_some() {
            self.show(self.written.without(self.study.released()));
        }
    }

    /// Indices of the released reactions in the whole model, ascending.
    pub fn released(&self) -> &[usize] {
        self.study.released()
    }

    /// Names of the released reactions.
    pub fn released_names(&self) -> Vec<&str> {
        let reactions = &self.study.whole().reactions;
        let names = self.released().iter();
        names.map(|index| reactions[*index].name.as_str()).collect()
    }

    /// Releases these reactions of the whole model and holds all others; everything known follows.
    pub fn release(&mut self, released: &[usize]) {
        self.show(self.study.without(released));
        if let Some(trial) = &mut self.trial {
            trial.measure(self.study.diagnosis());
        }
    }

    /// Replaces what is known.
    fn show(&mut self, study: Study) {
        self.study = study;
        self.seeks_repair = false;
        self.pointed = None;
        self.select_what_is_there();
    }

    /// Releases a reaction of the whole model that acts, or holds one again that is released.
    pub fn switch(&mut self, reaction: usize) {
        let mut released = self.released().to_vec();
        match released.iter().position(|index| *index == reaction) {
            Some(at) => drop(released.remove(at)),
            None => released.push(reaction),
        }
        self.release(&released);
    }

    /// What would hold the body, once it has been asked for.
    pub fn repair(&self) -> Option<&Repair> {
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

#[cfg(test)]
mod tests {
    use super::*;

    fn open(name: &str) -> Shown {
        Shown::new(Study::open(name).unwrap())
    }

    #[test]
    fn releasing_changes_what_is_known_and_holding_again_brings_it_back() {
        let mut shown = open("mirror-cell");
        let before = shown.study.diagnosis().counts;
        assert_eq!(before.freedom, 0);
        shown.switch(1);
        assert_eq!(shown.study.model().reactions.len(), before.unknowns - 1);
        assert_eq!(shown.study.diagnosis().counts.unknowns, before.unknowns - 1);
        assert_eq!(shown.released(), [1]);
        assert_eq!(
            shown.released_names(),
            [shown.study.whole().reactions[1].name.as_str()]
        );
        assert_eq!(
            shown.study.mobilities().motions.len(),
            shown.study.diagnosis().counts.freedom
        );
        shown.switch(0);
        assert_eq!(shown.study.diagnosis().counts.unknowns, before.unknowns - 2);
        shown.switch(1);
        shown.switch(0);
        assert_eq!(shown.study.diagnosis().counts, before);
        assert!(shown.released().is_empty());
    }

    #[test]
    fn a_link_to_add_takes_freedom_away() {
        let mut shown = open("handrail");
        assert!(shown.links().is_empty());
        shown.seeks_repair = true;
        assert_eq!(shown.links().len(), shown.study.diagnosis().counts.freedom);
        shown.pointed = Some(Pointed::Link(0));
        let name = shown.pointed_link().unwrap().name.clone();
        assert!(shown.words_of(Pointed::Link(0)).unwrap().contains(&name));
    }

    #[test]
    fn links_to_add_stand_in_for_what_is_released() {
        let mut shown = open("mirror-cell");
        shown.release(&[0, 3]);
        assert_eq!(shown.study.diagnosis().counts.freedom, 2);
        shown.seeks_repair = true;
        assert_eq!(shown.links().len(), 2);
        assert_eq!(shown.links()[1].freedom, 0);
    }

    #[test]
    fn a_link_on_trial_counts_until_it_is_taken_away() {
        let mut shown = open("handrail");
        let before = shown.study.diagnosis().counts;
        shown.seeks_repair = true;
        let link = shown.links()[0].clone();
        let eye = Eye {
            at: link.at.clone(),
            point: link.point,
        };
        shown.try_link(eye, link.ground);
        assert_eq!(shown.trial(), Some(&link));
        assert_eq!(shown.study.diagnosis().counts.rank, before.rank + 1);
        let last = shown.study.whole().reactions.len() - 1;
        shown.switch(last);
        assert_eq!(shown.study.diagnosis().counts.rank, before.rank);
        assert_eq!(shown.trial().unwrap().freedom, before.freedom);
        shown.drop_trial();
        assert_eq!(shown.study.diagnosis().counts, before);
        assert!(shown.trial().is_none() && shown.released().is_empty());
    }
}
