//! Repairs: links that would hold a body, and reactions that it can do without.

mod by_hand;
mod mending;
mod places;
mod release;
mod search;
mod secular;

pub use by_hand::{Drawable, Eye, with_link};
pub use mending::{AddedLink, Mending, MendingSettings};
pub use release::{Release, Releases};
