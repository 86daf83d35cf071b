//! What is pointed out is drawn thick, over what was drawn of it before: that is hidden meanwhile.

use bevy::prelude::*;

use crate::viewer::shown::{Shown, ShownParam};

/// Marks what is drawn of one thing that is not pointed out.
pub(crate) trait DrawnOver: Component + PartialEq + Sized {
    /// The marks of all that is pointed out.
    fn pointed(shown: &Shown) -> Vec<Self>;
}

/// Hides what the things that are pointed out are drawn over.
pub(crate) fn hide_pointed<Mark: DrawnOver>(
    shown: ShownParam,
    added: Query<(), Added<Mark>>,
    mut parts: Query<(&Mark, &mut Visibility)>,
) {
    if !shown.is_pointed_anew() && added.is_empty() {
        return;
    }
    let pointed = Mark::pointed(&shown.read());
    for (mark, mut visibility) in &mut parts {
        visibility.set_if_neq(match pointed.contains(mark) {
            true => Visibility::Hidden,
            false => Visibility::Inherited,
        });
    }
}
