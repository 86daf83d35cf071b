//! Where a path ends, and why.

use crate::statics::ReactionIndex;

/// An end of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct End {
    /// Parameter there, rad or m.
    pub amount: f64,
    /// How far the body is turned there, rad, positive about the axis that it first turned about (see [`Path::swing`](super::Path::swing));
    /// 2π after a turn once around.
    pub turned: f64,
    /// By how much that, and the way to the end in terms of the characteristic length, may be wrong.
    pub error: f64,
    /// What ends it.
    pub stop: Stop,
}

/// Why a path was followed no further.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Stop {
    /// The body is back where it began.
    Closed,
    /// The body has turned once around, without coming back: it has advanced.
    Turned,
    /// Nothing was found to end it: it goes on from where the search stopped.
    GoesOn,
    /// The supports lose their hold on another motion here: the body may go on in more than one way.
    Branch,
    /// The supports bind: there is no placement straight on, only back (a cusp).
    Limit,
    /// A contact that the body had left closes again, or a slack cable is taut: its reaction, by index.
    Meets(ReactionIndex),
    /// It does not even begin: the supports block this sense.
    Blocked,
}
