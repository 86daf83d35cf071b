//! What is on the wall, to take home. The program makes it by a run of its own; in a browser the page around the window does.

#[cfg(not(feature = "viewer"))]
mod asked;
mod handout;
#[cfg(feature = "viewer")]
mod made;

#[cfg(not(feature = "viewer"))]
pub(crate) use asked::{
    AskedHandouts as Handouts, AskedHandoutsPlugin as HandoutsPlugin, handouts_ui,
};
pub(crate) use handout::Handout;
#[cfg(feature = "viewer")]
pub(crate) use made::{Handouts, HandoutsPlugin, handouts_ui};
