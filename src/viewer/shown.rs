//! What is on the stage: the scene, its model without what is released, all that is known of it, what is pointed out.

use bevy::prelude::*;
use nalgebra::Isometry3;

use super::pointing::Pointed;
use super::state::Source;
use crate::motion::{Course, Mobilities, Selection};
use crate::scene::{Coordinates, Scene};
use crate::statics::repair::{AddedLink, Eye, Mending, MendingSettings, with_link};
use crate::statics::{Depth, DepthSettings, Diagnosis, Model, Tolerance};

/// What is on the stage. Replaced as a whole when another scene is shown or the file changes.
#[derive(Resource)]
pub struct Shown {
    /// The scene as written.
    pub scene: Scene,
    /// The model of the whole scene, with the link on trial.
    pub whole: Model,
    /// The model without the reactions that are released; the same as `whole` where none is.
    pub model: Model,
    /// Diagnosis of `model`; with `depth` and `mobilities` the only source of every word and stroke.
    pub diagnosis: Diagnosis,
    /// What else is known of `model`.
    pub depth: Depth,
    /// How far each free motion of the diagnosis truly goes.
    pub mobilities: Mobilities,
    /// What would mend it; looked for when it is asked for.
    pub repairs: Option<Repairs>,
    /// Where it came from.
    pub source: Source,
    /// Load case whose loads and reaction values are shown; index into `model.cases`.
    pub case: usize,
    /// Motion shown, where there is one.
    pub motion: Selection,
    /// What is pointed out in the picture.
    pub pointed: Option<Pointed>,
    released: Vec<usize>,
    trial: Option<Trial>,
}

/// A link drawn by hand.
struct Trial {
    link: AddedLink,
    /// The scene that has it.
    scene: Scene,
}

/// What would hold the body, and what it can do without.
#[derive(Debug, Clone)]
pub struct Repairs {
    /// Links to add; `None` where the body is held, or none were found.
    pub mending: Option<Mending>,
}

impl Shown {
    /// Puts a scene and its model on the stage, with nothing released.
    pub fn new(scene: Scene, model: Model, source: Source) -> Self {
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        let mut shown = Self {
            scene,
            whole: model.clone(),
            depth: Depth::new(&model, &diagnosis, &DepthSettings::default()),
            mobilities: Mobilities::of(&model, &diagnosis),
            model,
            diagnosis,
            repairs: None,
            source,
            case: 0,
            motion: Selection::default(),
            pointed: None,
            released: Vec::new(),
            trial: None,
        };
        shown.select_what_is_there();
        shown
    }

    /// The motions that can be shown under the load case shown.
    pub fn selections(&self) -> Vec<Selection> {
        self.mobilities.selections(self.case)
    }

    /// The motion shown, with where it leads; `None` where there is none.
    pub fn course(&self) -> Option<Course<'_>> {
        let (motion, case) = (self.motion, self.case);
        self.mobilities.course(&self.diagnosis, motion, case)
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

    /// The link on trial: the last support of `whole` and of `model`.
    pub fn trial(&self) -> Option<&AddedLink> {
        self.trial.as_ref().map(|trial| &trial.link)
    }

    /// Puts a link drawn by hand on trial, in place of the one before; everything known follows.
    pub fn try_link(&mut self, eye: Eye, ground: Coordinates) {
        let (scene, name) = with_link(&self.scene, &eye, &ground);
        let Ok(whole) = Model::new(&scene) else {
            // The scene itself has a model, so the link alone is at fault: the one before stays.
            return;
        };
        self.whole = whole;
        self.know();
        let link = AddedLink::drawn(name, eye, ground, &self.diagnosis);
        self.trial = Some(Trial { link, scene });
    }

    /// Takes the link on trial away.
    pub fn drop_trial(&mut self) {
        if self.trial.take().is_none() {
            return;
        }
        if let Ok(whole) = Model::new(&self.scene) {
            self.whole = whole;
        }
        let released = self.released.clone();
        self.release(released);
    }

    /// Indices of the released reactions in `whole`, ascending.
    pub fn released(&self) -> &[usize] {
        &self.released
    }

    /// Names of the released reactions.
    pub fn released_names(&self) -> Vec<&str> {
        let names = self.released.iter();
        names
            .map(|index| self.whole.reactions[*index].name.as_str())
            .collect()
    }

    /// Releases these reactions of `whole` and holds all others; everything known follows.
    pub fn release(&mut self, mut released: Vec<usize>) {
        released.retain(|index| *index < self.whole.reactions.len());
        released.sort_unstable();
        released.dedup();
        self.released = released;
        self.know();
        if let Some(trial) = &mut self.trial {
            trial.link.measure(&self.diagnosis);
        }
    }

    /// Diagnoses the whole without what is released.
    fn know(&mut self) {
        self.model = self.whole.without(&self.released);
        self.diagnosis = Diagnosis::new(&self.model, Tolerance::default());
        self.depth = Depth::new(&self.model, &self.diagnosis, &DepthSettings::default());
        self.mobilities = Mobilities::of(&self.model, &self.diagnosis);
        self.repairs = None;
        self.pointed = None;
        self.select_what_is_there();
    }

    /// Releases a reaction of `whole` that acts, or holds one again that is released.
    pub fn switch(&mut self, reaction: usize) {
        let mut released = self.released.clone();
        match released.iter().position(|index| *index == reaction) {
            Some(at) => drop(released.remove(at)),
            None => released.push(reaction),
        }
        self.release(released);
    }

    /// Looks for repairs, once.
    pub fn find_repairs(&mut self) {
        let trial = self.trial.as_ref();
        let scene = trial.map_or(&self.scene, |trial| &trial.scene);
        let mending = Mending::with_released(
            scene,
            &self.released,
            &self.diagnosis,
            &MendingSettings::default(),
        );
        self.repairs = Some(Repairs {
            // A scene whose model was made has no fault to report.
            mending: mending.ok().flatten(),
        });
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
    use crate::viewer::library;

    fn open(name: &str) -> Shown {
        library::open(&Source::BuiltIn(name.to_owned())).unwrap()
    }

    #[test]
    fn releasing_changes_what_is_known_and_holding_again_brings_it_back() {
        let mut shown = open("mirror-cell");
        let before = shown.diagnosis.counts;
        assert_eq!(before.freedom, 0);
        shown.switch(1);
        assert_eq!(shown.model.reactions.len(), before.unknowns - 1);
        assert_eq!(shown.diagnosis.counts.unknowns, before.unknowns - 1);
        assert_eq!(shown.released(), [1]);
        assert_eq!(
            shown.released_names(),
            [shown.whole.reactions[1].name.as_str()]
        );
        assert_eq!(
            shown.mobilities.motions.len(),
            shown.diagnosis.counts.freedom
        );
        shown.switch(0);
        assert_eq!(shown.diagnosis.counts.unknowns, before.unknowns - 2);
        shown.switch(1);
        shown.switch(0);
        assert_eq!(shown.diagnosis.counts, before);
        assert!(shown.released().is_empty());
    }

    #[test]
    fn a_link_to_add_takes_freedom_away() {
        let mut shown = open("handrail");
        assert!(shown.links().is_empty());
        shown.find_repairs();
        assert_eq!(shown.links().len(), shown.diagnosis.counts.freedom);
        shown.pointed = Some(Pointed::Link(0));
        let name = shown.pointed_link().unwrap().name.clone();
        assert!(shown.words_of(Pointed::Link(0)).unwrap().contains(&name));
    }

    #[test]
    fn links_to_add_stand_in_for_what_is_released() {
        let mut shown = open("mirror-cell");
        shown.release(vec![0, 3]);
        assert_eq!(shown.diagnosis.counts.freedom, 2);
        shown.find_repairs();
        assert_eq!(shown.links().len(), 2);
        assert_eq!(shown.links()[1].freedom, 0);
    }

    #[test]
    fn a_link_on_trial_counts_until_it_is_taken_away() {
        let mut shown = open("handrail");
        let before = shown.diagnosis.counts;
        shown.find_repairs();
        let link = shown.links()[0].clone();
        let eye = Eye {
            at: link.at.clone(),
            point: link.point,
        };
        shown.try_link(eye, link.ground);
        assert_eq!(shown.trial(), Some(&link));
        assert_eq!(shown.diagnosis.counts.rank, before.rank + 1);
        let last = shown.whole.reactions.len() - 1;
        shown.switch(last);
        assert_eq!(shown.diagnosis.counts.rank, before.rank);
        assert_eq!(shown.trial().unwrap().freedom, before.freedom);
        shown.drop_trial();
        assert_eq!(shown.diagnosis.counts, before);
        assert!(shown.trial().is_none() && shown.released().is_empty());
    }
}
