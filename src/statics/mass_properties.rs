//! The body's centre of volume and its inertia.

use std::sync::OnceLock;

use nalgebra::{Matrix3, Point3};

use crate::scene::{LineAmount, Load, Scene, solid};

/// Centre and inertia of the body, for a uniform density.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassProperties {
    /// Centre of volume, m.
    pub centre: Point3<f64>,
    /// Inertia about the centre per kilogram of mass, m², in the scene's axes.
    pub inertia_per_mass: Matrix3<f64>,
}

/// The body of a scene with weights, integrated only when somebody asks: most bodies stay at rest.
#[derive(Debug, Default)]
pub(super) struct LazyMassProperties {
    body: Option<Scene>,
    bulk: OnceLock<Option<MassProperties>>,
}

impl LazyMassProperties {
    /// The body, where some load asks for its inertia.
    pub(super) fn of(scene: &Scene) -> Self {
        let cases = scene.cases.iter().flat_map(|case| &case.loads);
        let mut loads = scene.loads.iter().chain(cases);
        let heavy = loads.any(|load| match load {
            Load::Weight { .. } => true,
            Load::Line { amount, .. } => matches!(amount, LineAmount::Mass { .. }),
            _ => false,
        });
        Self {
            body: heavy.then(|| body_of(scene)),
            bulk: OnceLock::new(),
        }
    }

    pub(super) fn mass_properties(&self) -> Option<MassProperties> {
        *self
            .bulk
            .get_or_init(|| mass_properties(self.body.as_ref()?))
    }
}

/// What a shape needs to be placed, and nothing else.
fn body_of(scene: &Scene) -> Scene {
    Scene {
        space: scene.space,
        units: scene.units,
        datum: scene.datum,
        points: scene.points.clone(),
        body: scene.body.clone(),
        ..Scene::default()
    }
}

fn mass_properties(body: &Scene) -> Option<MassProperties> {
    let (volume, centre) = solid::centre_of_volume(body)?;
    Some(MassProperties {
        centre,
        inertia_per_mass: solid::inertia_per_density(body)? / volume,
    })
}
