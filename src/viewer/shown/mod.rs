//! What is shown, as resources that change separately: the scene as written, what is released, the link on trial, the
//! study that follows from these three, what is selected, and what is pointed out.
//!
//! Systems that draw read `ShownParam` and rebuild only what depends on the resource that changed. Systems that act
//! change everything through `ShownMut`, which keeps the study in step.

mod changes;
mod pointing;
mod sums;
#[cfg(test)]
pub(crate) mod testing;

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use nalgebra::Isometry3;

use crate::motion::{Course, Selection};
use crate::repair::AddedLink;
use crate::statics::CaseIndex;
use crate::study::{Repair, Source, Study, WholeReactionIndex};
use crate::wording::{self, Phrase};
pub(crate) use changes::ShownMut;
pub use pointing::{DirectedMotion, Pointed};
pub(crate) use sums::{Pivot, Sums};

/// The scene as written, with all that is known of it.
#[derive(Resource, Debug, Clone)]
pub struct Written(pub Study);

/// How many scenes have come on so far: one that is edited, read again or saved somewhere else is still the same.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct SceneCount(pub u32);

/// The released reactions, ascending.
#[derive(Resource, Debug, Clone, Default, PartialEq, Eq)]
pub struct Released(Vec<WholeReactionIndex>);

/// The link on trial: the last support of the study.
#[derive(Resource, Debug, Clone, Default, PartialEq)]
pub struct OnTrial(Option<AddedLink>);

/// The scene with the link on trial and without what is released: the only source of every word and stroke.
#[derive(Resource, Debug, Clone)]
pub struct ShownStudy(pub Study);

/// What is chosen among several.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Eq)]
pub struct Selected {
    /// Load case whose loads and reaction values are shown; index into the model's cases.
    pub case: CaseIndex,
    /// Motion shown, where there is one.
    pub motion: Selection,
}

impl Selected {
    /// This case and this motion, or the first motion that there is under the case.
    pub fn of(study: &Study, case: CaseIndex, motion: Option<Selection>) -> Self {
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
pub struct HoverHighlight(pub Option<Pointed>);

/// Whether links to add have been asked for; they are looked for then.
#[derive(Resource, Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RepairSought(pub bool);

/// Puts a scene on the stage of an app, with nothing released.
pub fn show(world: &mut World, study: Study, selected: Selected) {
    world.insert_resource(Written(study.clone()));
    world.insert_resource(ShownStudy(study));
    world.get_resource_or_init::<SceneCount>().0 += 1;
    world.insert_resource(selected);
    world.init_resource::<Released>();
    world.init_resource::<OnTrial>();
    world.init_resource::<PointedOut>();
    world.init_resource::<HoverHighlight>();
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
    pub case: CaseIndex,
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

    /// The released reactions, ascending.
    pub fn released(&self) -> &'a [WholeReactionIndex] {
        self.study.released()
    }

    /// Symbols of the released reactions.
    pub fn released_symbols(&self) -> Vec<Phrase> {
        let released = self.released().iter().map(|index| index.in_whole());
        wording::symbols(self.study.whole(), released)
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

/// What is shown, from a system parameter that has the resources under these names, to read or to change.
macro_rules! shown_of {
    ($param:expr, $glanced:expr) => {
        Shown {
            written: &$param.written.0,
            study: &$param.studied.0,
            case: $param.selected.case,
            motion: $param.selected.motion,
            pointed: $param.pointed.0,
            glanced: $glanced,
            sums: &$param.sums,
            trial: $param.trial.0.as_ref(),
            seeks_repair: $param.repair.0,
        }
    };
}
use shown_of;

/// Reads all that is shown.
#[derive(SystemParam)]
pub(crate) struct ShownParam<'w> {
    pub written: Res<'w, Written>,
    pub studied: Res<'w, ShownStudy>,
    pub trial: Res<'w, OnTrial>,
    pub selected: Res<'w, Selected>,
    pub pointed: Res<'w, PointedOut>,
    glanced: Res<'w, HoverHighlight>,
    sums: Res<'w, Sums>,
    repair: Res<'w, RepairSought>,
}

impl ShownParam<'_> {
    /// What is shown now.
    pub(crate) fn read(&self) -> Shown<'_> {
        shown_of!(self, self.glanced.0)
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

#[cfg(test)]
mod tests {
    use super::testing::TestStage;
    use super::*;

    #[test]
    fn pointing_changes_nothing_that_is_studied() {
        let mut stage = TestStage::open("handrail");
        stage.0.clear_trackers();
        stage.change(|shown| shown.point_out(Some(Pointed::Reason)));
        let world = &stage.0;
        assert!(world.is_resource_changed::<PointedOut>());
        assert!(!world.is_resource_changed::<Written>());
        assert!(!world.is_resource_changed::<ShownStudy>());
        assert!(!world.is_resource_changed::<Selected>());
        assert!(!world.is_resource_changed::<Released>());
        assert!(!world.is_resource_changed::<OnTrial>());
    }
}
