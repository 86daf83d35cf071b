//! A stage without an app.

use bevy::ecs::system::SystemState;

use super::*;
use crate::statics::CaseIndex;

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
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
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
        study: &world.resource::<ShownStudy>().0,
        case: selected.case,
        motion: selected.motion,
        pointed: world.resource::<PointedOut>().0,
        glanced: world.resource::<HoverHighlight>().0,
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
