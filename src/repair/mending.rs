//! Links that hold a body which is not held, one after the other, each the best there is.

use nalgebra::Point3;

use super::ends::Ends;
use super::eye_places::EyePlaces;
use super::field::HeldField;
use super::search::{FoundLink, LinkSearch};
use crate::scene::{Coordinates, Place, Scene, Support, SupportKind};
use crate::statics::Tolerance;
use crate::statics::{Counts, Diagnosis};
use crate::statics::{ExactRank, ReactionIndex};
use crate::statics::{Model, ModelError};

/// How hard to look for links.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MendingSettings {
    /// About how many places of the surface are tried, each with its best direction.
    pub places: usize,
    /// Whether only the scene's named points are tried.
    pub named_only: bool,
    /// When singular values count as zero.
    pub tolerance: Tolerance,
}

impl Default for MendingSettings {
    fn default() -> Self {
        Self {
            places: 1200,
            named_only: false,
            tolerance: Tolerance::default(),
        }
    }
}

/// A set of links that leaves nothing free.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Mending {
    /// The links, in the order in which they were chosen; as many as there was freedom.
    pub links: Vec<AddedLink>,
    /// The scene with them.
    pub scene: Scene,
    /// Its numbers.
    pub counts: Counts,
    /// Its rank by the decimals as written.
    pub exact: ExactRank,
    /// Places looked at, each with its best direction, all steps together.
    pub tried: usize,
}

/// A link to be added.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct AddedLink {
    /// Name that no support of the scene has.
    pub name: String,
    /// Its eye on the body, as written: a named point, or round coordinates.
    pub at: Place,
    /// Its eye on the ground, at round coordinates in the scene's length unit.
    pub ground: Coordinates,
    /// Its eye on the body, m.
    pub point: Point3<f64>,
    /// Smallest singular value that counts, once it is there: of the reaction matrix of the scene with it.
    pub smallest: f64,
    /// Freedom that is left with it.
    pub freedom: usize,
}

impl Mending {
    /// Links that hold the body; `None` where it is held, or no link on its surface does any good.
    ///
    /// Chosen one after the other, each so that the smallest singular value that counts in the scene with it becomes as
    /// large as it can: to within 2 %, of which 1.5 % are given away for a more practical place or direction. A link leaves
    /// the body at once and passes no other support; where the scene has walls it ends on one. Each is proven by diagnosing
    /// the scene that has it.
    ///
    /// Some reactions may be released, by index into the reactions of the whole scene. `diagnosis` is that of the model without
    /// them; they stay released throughout, though a scene cannot say so: the mended one has them again.
    ///
    /// # Errors
    /// A [`ModelError`] of the scene itself.
    pub(crate) fn of(
        scene: &Scene,
        released: &[ReactionIndex],
        diagnosis: &Diagnosis,
        settings: &MendingSettings,
    ) -> Result<Option<Self>, ModelError> {
        let count = if settings.named_only {
            0
        } else {
            settings.places
        };
        let spots = match EyePlaces::of(scene, count) {
            Some(spots) if diagnosis.counts.freedom > 0 => spots,
            _ => return Ok(None),
        };
        let mut work = Work {
            spots: if settings.named_only {
                spots.only_named()
            } else {
                spots
            },
            scene: scene.clone(),
            released: released.to_vec(),
            named_only: settings.named_only,
            links: Vec::new(),
            tried: 0,
        };
        let model = work.model()?;
        let mut current = (model, diagnosis.clone());
        while current.1.counts.freedom > 0 {
            match work.add_best(&current.0, &current.1, settings.tolerance)? {
                Some(next) => current = next,
                None => return Ok(None),
            }
        }
        Ok(Some(Self {
            counts: current.1.counts,
            exact: current.1.exact,
            links: work.links,
            scene: work.scene,
            tried: work.tried,
        }))
    }

    /// Smallest singular value of the mended scene.
    pub fn smallest(&self) -> f64 {
        self.links.last().map_or(0.0, |link| link.smallest)
    }

    /// Whether the exact rank of the mended scene proves that it is held.
    pub fn is_proven(&self) -> bool {
        self.exact.rank == self.scene.space.motions()
    }
}

/// A mending under way.
struct Work {
    spots: EyePlaces,
    scene: Scene,
    released: Vec<ReactionIndex>,
    named_only: bool,
    links: Vec<AddedLink>,
    tried: usize,
}

impl Work {
    /// The scene as it stands, without what is released: links come behind, so that indices stay.
    fn model(&self) -> Result<Model, ModelError> {
        let whole = Model::new(&self.scene)?;
        Ok(match self.released.as_slice() {
            [] => whole,
            released => whole.without(released),
        })
    }

    /// Adds the best link; `None` where it takes no freedom away.
    fn add_best(
        &mut self,
        model: &Model,
        diagnosis: &Diagnosis,
        tolerance: Tolerance,
    ) -> Result<Option<(Model, Diagnosis)>, ModelError> {
        let field = HeldField::new(&self.scene, model, &diagnosis.numeric);
        let search = LinkSearch {
            field: &field,
            spots: &self.spots,
            ends: &Ends::new(&self.scene, model, &self.spots),
            space: self.scene.space,
            named_only: self.named_only,
        };
        let (found, tried) = search.best();
        self.tried += tried;
        let Some(found) = found else { return Ok(None) };
        let (support, point) = (self.support(&found), found.spot.point);
        self.scene.supports.push(support.clone());
        let model = self.model()?;
        let after = Diagnosis::new(&model, tolerance);
        if after.counts.freedom >= diagnosis.counts.freedom {
            return Ok(None);
        }
        let SupportKind::Link {
            ground: Place::At(ground),
        } = support.kind
        else {
            return Ok(None);
        };
        self.links.push(AddedLink {
            name: support.name,
            at: support.at,
            ground,
            point,
            smallest: after.numeric.singular_values[after.counts.rank - 1],
            freedom: after.counts.freedom,
        });
        Ok(Some((model, after)))
    }

    fn support(&self, found: &FoundLink) -> Support {
        let space = self.scene.space;
        Support {
            name: free_name(&self.scene),
            at: found.spot.place(space),
            kind: SupportKind::Link {
                ground: Place::At(Coordinates::new(space, found.ground)),
            },
            stiffness: Default::default(),
            allowable: None,
        }
    }
}

/// A name that no support has: `L1`, `L2`, …
pub(super) fn free_name(scene: &Scene) -> String {
    let taken = |name: &str| scene.supports.iter().any(|support| support.name == name);
    (1..)
        .map(|number| format!("L{number}"))
        .find(|name| !taken(name))
        .unwrap_or_default()
}
