//! What is imposed on supports and body besides loads: a support that settles, a prestress, a change of temperature.
//!
//! None of it changes what balances the loads; it locks forces in among redundant supports, as large as their stiffnesses make them.

use super::Coordinates;

/// Something imposed.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Imposed {
    /// The ground of a support moves.
    Settlement {
        /// Name of the support.
        support: String,
        /// By so much, in the scene's length unit.
        moves_by: Coordinates,
    },
    /// A support of one force is tightened, with the body still where it is written.
    Prestress {
        /// Name of the support.
        support: String,
        /// To this force, as its reaction counts: a pull of cables and links, a push of contacts.
        force: f64,
    },
    /// The body is warmed or cooled evenly, the ground not.
    Warming {
        /// Change of temperature, K.
        by: f64,
        /// Coefficient of linear expansion, 1/K, > 0.
        expansion: f64,
    },
}

impl Imposed {
    /// The support that it concerns; `None` where it concerns the body.
    pub fn support(&self) -> Option<&str> {
        match self {
            Self::Settlement { support, .. } | Self::Prestress { support, .. } => Some(support),
            Self::Warming { .. } => None,
        }
    }

    /// The same name, to follow the support's.
    pub(crate) fn support_mut(&mut self) -> Option<&mut String> {
        match self {
            Self::Settlement { support, .. } | Self::Prestress { support, .. } => Some(support),
            Self::Warming { .. } => None,
        }
    }
}
