//! What varies in a sweep, how far, how often, and what makes no sense of that.

use serde::{Deserialize, Serialize};

use super::decimals;

/// How a sweep is made. Equal settings of equal scenes give equal placements, in whichever shares they are computed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SweepSettings {
    /// How many placements, at least 1.
    pub count: u64,
    /// Which random numbers.
    pub seed: u64,
    /// How they spread.
    pub distribution: Distribution,
    /// How far what varies.
    pub tolerances: SweepTolerances,
    /// A placement counts as within reach of improper constraint where its margin is at most this, m; see
    /// [`SweepTally::margins`](super::SweepTally::margins).
    #[serde(with = "decimals::one")]
    pub reach: f64,
}

/// How random numbers spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Distribution {
    /// Alike everywhere within the tolerance and nowhere beyond.
    Uniform,
    /// Normal, with the tolerance as standard deviation.
    Normal,
}

/// How far things vary; what has no tolerance stays as written.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SweepTolerances {
    /// Of the places of supports and of both ends of links and cables, m: the radius of a ball, in the plane of a disc, or
    /// the standard deviation along each axis.
    #[serde(with = "decimals::maybe")]
    pub placement: Option<f64>,
    /// Of the axes, rods, rails, slots and normals of supports and of the directions of loads other than weights, rad.
    #[serde(with = "decimals::maybe")]
    pub direction: Option<f64>,
    /// Of the sizes of loads, as a part of each.
    #[serde(with = "decimals::maybe")]
    pub load: Option<f64>,
    /// Of the stiffness of the forces, and of that of the couples, of each support, as a part of it.
    #[serde(with = "decimals::maybe")]
    pub stiffness: Option<f64>,
}

/// A sweep that cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SweepError {
    /// Nothing is to vary.
    #[error("no tolerance is given: nothing would vary")]
    NothingVaries,
    /// A sweep of no placement.
    #[error("a sweep needs at least one placement")]
    NoPlacement,
    /// A tolerance that is none.
    #[error("the tolerance of {what} is {value}; it must be greater than 0{limit}")]
    Tolerance {
        /// Of what.
        what: &'static str,
        /// As given, in SI units.
        value: f64,
        /// What else it must keep to; may be empty.
        limit: &'static str,
    },
    /// A body without supports.
    #[error("the scene has no reactions: no placement holds the body")]
    NoReactions,
    /// A settlement or an expansion without any stiffness in numbers.
    #[error(
        "the case \"{case}\" has a settlement or a warming, whose forces follow only from stiffnesses, and none is given"
    )]
    NoStiffness {
        /// Name of the case.
        case: String,
    },
}

impl SweepError {
    /// What to try.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::NothingVaries => {
                "give --placement, --direction, --load or --stiffness, or a `placement_tolerance` in the scene"
            }
            Self::NoPlacement => "give a --count of 1 or more",
            Self::Tolerance { .. } => "leave the option out for what does not vary",
            Self::NoReactions => "give the scene `supports`",
            Self::NoStiffness { .. } => {
                "give a support its `stiffness`, or name another case with --case"
            }
        }
    }
}

impl SweepTolerances {
    /// Fails unless something varies, and each tolerance is one.
    pub(super) fn check(&self, distribution: Distribution) -> Result<(), SweepError> {
        let below = |bound: f64, words: &'static str| match distribution {
            Distribution::Uniform => (bound, words),
            Distribution::Normal => (f64::INFINITY, ""),
        };
        let all = [
            ("placements", self.placement, (f64::INFINITY, "")),
            (
                "directions",
                self.direction,
                (std::f64::consts::FRAC_PI_2, " and less than a right angle"),
            ),
            ("loads", self.load, (f64::INFINITY, "")),
            (
                "stiffnesses",
                self.stiffness,
                below(1.0, " and less than 100 %"),
            ),
        ];
        if all.iter().all(|(_, value, _)| value.is_none()) {
            return Err(SweepError::NothingVaries);
        }
        for (what, value, (bound, limit)) in all {
            let Some(value) = value else { continue };
            if !(value > 0.0 && value < bound) {
                return Err(SweepError::Tolerance { what, value, limit });
            }
        }
        Ok(())
    }
}

impl SweepSettings {
    /// Fails where no sweep can be made of them.
    ///
    /// # Errors
    /// A [`SweepError`] that says which number is wrong.
    pub fn check(&self) -> Result<(), SweepError> {
        if self.count == 0 {
            return Err(SweepError::NoPlacement);
        }
        self.tolerances.check(self.distribution)
    }
}
