//! What numbers the parts of a model: each kind of part has an index of its own.

use std::ops::{Index, IndexMut};

use nalgebra::DVector;

use crate::indexed::index;

index!(
    /// Which support of a model, in the order of its scene.
    pub SupportIndex
);

index!(
    /// Which reaction of a model: those of one support together, in the order of the scene.
    pub ReactionIndex
);

index!(
    /// Which load case of a model, in the order of its scene.
    pub CaseIndex
);

index!(
    /// Which free motion of a body, in the order in which they are numbered.
    pub MotionIndex
);

impl MotionIndex {
    /// The number of the motion as it is said and typed, from 1.
    pub const fn number(self) -> usize {
        self.get() + 1
    }
}

/// A vector of one number for each reaction.
impl Index<ReactionIndex> for DVector<f64> {
    type Output = f64;

    fn index(&self, reaction: ReactionIndex) -> &f64 {
        &self[reaction.get()]
    }
}

impl IndexMut<ReactionIndex> for DVector<f64> {
    fn index_mut(&mut self, reaction: ReactionIndex) -> &mut f64 {
        &mut self[reaction.get()]
    }
}
