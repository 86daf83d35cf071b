//! The words for a diagnosis, said the same way by every output: verdict, reason, motions, lines, numbers.
//!
//! Pure functions from a model and its diagnosis to plain sentences in the scene's units. No mechanics is
//! computed here, nothing is printed, and no layout is decided.

mod acting;
mod anchorage;
mod balance;
mod bending;
mod caution;
mod circuit;
mod design;
mod elastic;
mod geometry;
mod headline;
mod kind;
mod leaving;
mod lesson;
mod mobility;
mod motion;
mod name;
mod nearness;
mod number;
mod object;
mod one_way;
mod phrase;
mod reason;
mod remark;
mod repair;
mod singular;
mod start;
mod sum;
#[cfg(feature = "cli")]
mod sweep;
mod uncarried;

pub use acting::{acting, key_to_members, state};
pub use anchorage::{ANCHORS, anchor_basis, anchorage, spot_on_plate};
pub use balance::{balance, balance_and_start, one_way_note};
pub use bending::{BENDING, bar_name, bending, bending_basis, magnified};
pub use caution::{CAUTION, caution};
pub use circuit::{alike, circuit, combination, combination_value, listing};
pub use design::{
    ENVELOPE, UTILISATION, UTILISATION_KEY, governing, left_out, loaded, normal_force, unlimited,
    utilisation,
};
pub use elastic::{ELASTIC, elastic, elastic_basis, elastic_is_idle, stiffness};
pub use geometry::{
    coordinates, direction, ends, line, plane, point, signed_direction, slant, tells_direction,
    unsigned_direction,
};
pub use headline::{BigNumber, VerdictAndReason, big_numbers, caption, headline, verdict};
pub use kind::{Noun, orientation, supplied, support_kind, support_noun};
pub use lesson::question;
pub use mobility::{mobility, residual, together};
pub use motion::{common_family, crossings, motion, motion_alone, motion_phrase, shared_axis};
pub use name::{count, listed, listed_briefly, support, symbols};
pub use nearness::{NEARNESS, miss, nearness, placement, rounding, scaling};
pub use number::{
    Number, Quantity, USUAL_DIGITS, angle, area, coordinate, couple, density, force, length,
    number, pressure, reaction_value, rounded, settled_digits, stress,
};
pub use object::{object, picture};
pub use one_way::{LOAD_LIMITS, every_load, every_load_beside, load_limits, one_way, uncounted};
pub(crate) use phrase::Say;
pub(crate) use phrase::phrase;
pub use phrase::{AxisDirection, Height, Operator, Phrase, Span, TextPiece};
pub use reason::reason;
pub use remark::{exactly_of, other_couples, remarks};
pub use repair::{added_link, mending, releases, spared, without};
#[cfg(feature = "paper")]
pub(crate) use singular::ROUNDING;
pub use singular::clean_singular_values;
pub use start::{acceleration, heat, start_assumptions};
pub use sum::{Sum, multiple};
#[cfg(feature = "cli")]
pub use sweep::{
    SWEEP_BASIS, SWEEP_MARGIN, sweep_carried, sweep_not_held, sweep_open, sweep_settings,
    sweep_within_reach, sweep_worst,
};
pub use uncarried::{at_rest, course, escape, uncarried};

/// The symbol of a reaction, or of another quantity.
pub use crate::statics::Symbol;

#[cfg(test)]
mod samples;
