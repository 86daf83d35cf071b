//! Adding supports, loads, shapes and points.

use super::super::place::{load_word, shape_word};
use super::{Proposal, coordinates, free_name};
use crate::scene::{Coordinates, Load, NamedPoint, Place, Scene, Shape, Support, SupportKind};
use crate::wording;

impl Proposal {
    /// A scene with one more support, which gets a letter that is free.
    pub fn with_support(scene: &Scene, kind: SupportKind, at: Place) -> Self {
        let name = free_name(scene);
        let step = format!("added {} {name}", wording::support_kind(&kind));
        Self::new(scene, step, |scene| {
            scene.supports.push(Support {
                name,
                at,
                kind,
                stiffness: Default::default(),
                allowable: None,
            })
        })
    }

    /// A scene with one more load, in every case.
    pub fn with_load(scene: &Scene, load: Load) -> Self {
        let step = format!("added a {}", load_word(&load));
        Self::new(scene, step, |scene| scene.loads.push(load))
    }

    /// A scene with one more shape of the body.
    pub fn with_shape(scene: &Scene, shape: Shape) -> Self {
        let step = format!("added a {}", shape_word(&shape));
        Self::new(scene, step, |scene| scene.body.push(shape))
    }

    /// A scene with one more named point, which gets a letter that is free.
    pub fn with_point(scene: &Scene, at: [f64; 3]) -> Self {
        let (name, at) = (free_name(scene), coordinates(scene, at));
        let step = format!("added point {name}");
        Self::new(scene, step, |scene| {
            scene.points.push(NamedPoint { name, at })
        })
    }

    /// A scene with a link from a place on the body to the ground, as a support.
    pub fn with_link(scene: &Scene, name: &str, at: Place, ground: Coordinates) -> Self {
        let ground = Place::At(ground);
        let support = Support {
            name: name.to_owned(),
            at,
            kind: SupportKind::Link { ground },
            stiffness: Default::default(),
            allowable: None,
        };
        Self::new(scene, format!("added link {name}"), |scene| {
            scene.supports.push(support)
        })
    }
}
