//! The words for a diagnosis, said the same way by every output: verdict, reason, motions, lines, numbers.
//!
//! Pure functions from a model and its diagnosis to plain sentences in the scene's units. No mechanics is
//! computed here, nothing is printed, and no layout is decided.

mod balance;
mod caution;
mod circuit;
mod geometry;
mod headline;
mod kind;
mod leaving;
mod mobility;
mod motion;
mod name;
mod nearness;
mod number;
mod object;
mod one_way;
mod reason;
mod remark;
mod repair;
mod start;
mod typography;
mod uncarried;

pub use balance::{balance, balance_and_start, one_way_note};
pub use caution::CAUTION;
pub use circuit::{alike, circuit, combination, combination_value, listing};
pub use geometry::{coordinates, direction, line, plane, point, signed_direction};
pub use headline::{BigNumber, big_numbers, caption, headline, verdict};
pub use kind::{orientation, support_kind, supports_counted};
pub use mobility::{mobility, residual, together};
pub use motion::{motion, motion_phrase, shared_axis};
pub use name::{count, listed, listed_briefly, subscripts};
pub use nearness::{NEARNESS, miss, nearness, placement, rounding};
pub use number::{
    coordinate, couple, density, force, length, number, reaction_value, rounded, settled_digits,
};
pub use object::{object, picture};
pub use one_way::{every_load, one_way, uncounted};
pub use reason::reason;
pub use remark::{exactly_of, other_couples, remarks};
pub use repair::{added_link, mending, releases, spared, without};
pub use start::{acceleration, heat, start_assumptions};
pub use typography::{Piece, lowered, pieces};
pub use uncarried::{at_rest, course, escape, uncarried};

#[cfg(test)]
mod samples;
