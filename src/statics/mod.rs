//! The computation: reactions, their matrix, its rank twice, free motions, shared axes, equilibrium.
//!
//! Right-handed axes, SI units. A wrench is `(f; m)`, a twist `(v; w)` with `v` the velocity of the body point
//! at the reference point; their power is `f·v + m·w`. [`Diagnosis`] is all that outputs read.

mod circuits;
mod depth;
mod diagnosis;
mod equilibrium;
mod exact;
mod freedom;
mod line;
mod lines;
mod loads;
mod matrix;
mod model;
mod rank;
pub mod reactions;
mod reason;
pub mod repair;
mod shared_axis;
mod svd;
#[cfg(test)]
mod testing;
mod wrench;
mod written;

pub use circuits::{Brace, Circuit, Circuits, Combination, Listing};
pub use depth::{Depth, DepthSettings};
pub use diagnosis::{Counts, Diagnosis, OtherReading, Verdict};
pub use equilibrium::CaseAnswer;
pub use exact::ExactRank;
pub use freedom::{Family, FreeMotion, MotionKind};
pub use line::Line;
pub use lines::{Pencil, Plane, Quadric, QuadricKind};
pub use loads::{AppliedLoad, LoadCase, UNNAMED_CASE};
pub use matrix::ReactionMatrix;
pub(crate) use matrix::{extend, restrict};
pub use model::{Model, ModelError, NamedPlace, PlacedSupport, Reaction, ReactionKind, Sense};
pub use rank::{NumericRank, Tolerance, ToleranceError};
pub use reason::{Picture, Reason, Regulus, Shape, TwoPencils};
pub use shared_axis::{Meeting, SharedAxis};
pub(crate) use svd::WideSvd;
pub(crate) use wrench::stack;
pub use wrench::{Screw, Twist, Wrench};
pub use written::WrittenDirection;
