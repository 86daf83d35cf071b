//! The computation: reactions, their matrix, its rank twice, free motions, shared axes, equilibrium.
//!
//! Right-handed axes, SI units. A wrench is `(f; m)`, a twist `(v; w)` with `v` the velocity of the body point
//! at the reference point; their power is `f·v + m·w`. [`Diagnosis`] is all that outputs read.

mod acceleration;
mod allowable;
mod anchor_group;
mod circuits;
mod diagnosis;
mod equilibrium;
mod exact;
mod freedom;
mod gauss;
mod heat;
mod indices;
mod largest;
mod line;
mod lines;
mod loads;
mod mass_properties;
mod matrix;
mod model;
mod nearness;
mod one_way;
mod placed_support;
mod rank;
mod ranked;
mod reaction;
pub mod reactions;
mod reason;
mod resolver;
mod resultants;
mod rounding;
mod scaled;
mod shared_axis;
mod svd;
mod symbol;
#[cfg(test)]
pub(crate) mod testing;
mod uncarried;
mod wrench;
mod written;

pub use acceleration::Acceleration;
pub use allowable::{AllowableForces, SplitForce};
pub use anchor_group::AnchorGroup;
pub(crate) use circuits::combinations;
pub use circuits::{
    Circuit, Circuits, Listing, OpposedSupports, ReactionCombination, UsualEquation,
};
pub use diagnosis::{Counts, Diagnosis, OtherReading, Verdict};
pub use equilibrium::{CaseAnswer, Equilibrium};
pub(crate) use exact::ExactColumns;
pub use exact::ExactRank;
pub use freedom::{Family, FreeMotion, MotionKind, motions_without};
pub use heat::Heat;
pub use indices::{CaseIndex, MotionIndex, ReactionIndex, SupportIndex};
pub use largest::CaseValue;
pub use line::Line;
pub use lines::{Pencil, Plane, Quadric, QuadricKind};
pub use loads::{AppliedLoad, ImposedAction, LoadCase, UNNAMED_CASE};
pub use mass_properties::MassProperties;
pub use matrix::ReactionMatrix;
pub(crate) use matrix::{extend, restrict, rows_of, scaled_column};
pub use model::{Model, NamedPlace};
pub use nearness::{Amplification, MOST_ALONE, Miss, Movement, Nearness, Placement, SingleShift};
pub(crate) use one_way::cone::nearest;
pub(crate) use one_way::{CaseOutcomes, load_limits, load_size};
pub use one_way::{
    Escape, Friction, LimitsOutcome, LoadLimits, MOST_RANGED, OneWay, OneWayBalance, OneWayCase,
    Overcome, Range, SlidingOnset,
};
pub use placed_support::PlacedSupport;
pub use rank::{NumericRank, Tolerance, ToleranceError};
pub use reaction::{Reaction, ReactionKind, Sense};
pub use reason::{Picture, Reason, ReasonShape, Regulus, TwoPencils};
pub use resolver::ModelError;
pub use resultants::{Resultant, Spread};
pub use rounding::Rounding;
pub(crate) use scaled::{RelativeTwist, ScaledTwist, ScaledWrench};
pub use shared_axis::{Meeting, SharedAxis};
pub(crate) use svd::{WideSvd, orthogonalise_rows};
pub use symbol::Symbol;
pub use uncarried::Uncarried;
pub(crate) use wrench::stack;
pub use wrench::{Screw, Twist, Wrench};
pub use written::WrittenDirection;
