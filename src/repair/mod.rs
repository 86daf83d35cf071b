//! Repairs: links that would hold a body, and reactions that it can do without.

mod by_hand;
mod ends;
mod eye_places;
mod field;
mod mending;
mod polish;
mod release;
mod search;
mod secular;
mod walls;

pub use by_hand::{Drawable, LinkEnd, with_link};
pub use mending::{AddedLink, Mending, MendingSettings};
pub use release::{Release, Releases};
