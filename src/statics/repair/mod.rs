//! Repairs: links that would hold a body, and reactions that it can do without.

mod mending;
mod places;
mod release;
mod search;
mod secular;

pub use mending::{AddedLink, Mending, MendingSettings};
pub use release::{Release, Releases};
