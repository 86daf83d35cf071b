//! What numbers the parts of a model: each kind of part has an index of its own.

use crate::indexed::index;

index!(
    /// Which support of a model, in the order of its scene.
    pub SupportIndex
);

index!(
    /// Which reaction of a model: those of one support together, in the order of the scene.
    pub ReactionIndex
);
