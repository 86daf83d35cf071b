//! Which of the forces that an author may limit a kind of support has, and which way they count.

use super::{Allowable, Space, SupportKind};

impl Allowable {
    /// Whether a kind of support has all these forces and the line that tells them apart.
    pub fn fits(&self, kind: &SupportKind, space: Space) -> bool {
        let mut given = self
            .forces()
            .into_iter()
            .filter(|(_, force)| force.is_some());
        given.all(|(name, _)| kind.has_force(name, space)) && self.has_line(kind, space)
    }

    /// Whether the line out of the ground is said, once.
    pub(crate) fn has_line(&self, kind: &SupportKind, space: Space) -> bool {
        let is_seen_along =
            space == Space::Planar && self.tension.is_none() && self.compression.is_none();
        match self.outwards {
            Some(_) => !kind.has_own_line(),
            None => kind.has_own_line() || is_seen_along,
        }
    }
}

impl SupportKind {
    /// Whether the kind says which way is out of the ground: by a normal, or by its ground end.
    pub(crate) fn has_own_line(&self) -> bool {
        matches!(
            self,
            Self::Roller { .. }
                | Self::SmoothContact { .. }
                | Self::RoughContact { .. }
                | Self::Rocker { .. }
                | Self::Link { .. }
                | Self::Cable { .. }
                | Self::AnchorPlate { .. }
        )
    }

    /// Whether it can have a force of an [`Allowable`].
    pub(crate) fn has_force(&self, name: &str, space: Space) -> bool {
        let is_single = self.counts(space) == [1, 0];
        match (self, name) {
            (Self::Cable { .. } | Self::AnchorPlate { .. }, "compression") => false,
            (
                Self::Roller { .. }
                | Self::SmoothContact { .. }
                | Self::RoughContact { .. }
                | Self::Rocker { .. },
                "tension",
            ) => false,
            (_, "shear") => !(is_single && self.has_own_line()),
            _ => true,
        }
    }
}
