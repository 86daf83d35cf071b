//! What a support may be loaded with, in SI units, and how much of that a force is.

use nalgebra::{Unit, Vector3};

use super::resolver::{ModelError, Resolver};
use crate::scene::{Support, SupportKind};

/// Allowable forces of a placed support, on its author's word.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct AllowableForces {
    /// Of its pull on the body, N; `None` where that is not limited.
    pub tension: Option<f64>,
    /// Of its push on the body, N; `None` where that is not limited.
    pub compression: Option<f64>,
    /// Of its force across that line, N; `None` where that is not limited.
    pub shear: Option<f64>,
    /// Exponent p of the interaction, ≥ 1.
    pub exponent: f64,
    /// From the ground into the body.
    pub outwards: Unit<Vector3<f64>>,
}

impl AllowableForces {
    pub(super) fn of(
        resolver: &Resolver,
        support: &Support,
        orientation: Option<Unit<Vector3<f64>>>,
    ) -> Result<Option<Self>, ModelError> {
        let Some(given) = &support.allowable else {
            return Ok(None);
        };
        let own = orientation.map(|line| match support.kind {
            // From the body towards the ground.
            SupportKind::Link { .. } | SupportKind::Cable { .. } => -line,
            _ => line,
        });
        let written = given.outwards.map(|vector| vector.components().into());
        let written = written.and_then(|vector: Vector3<f64>| Unit::try_new(vector, 0.0));
        let is_sound = |force: f64| force > 0.0 && force.is_finite();
        let mut forces = given.forces().into_iter().filter_map(|(_, force)| force);
        let fits = given.fits(&support.kind, resolver.scene.space) && given.exponent >= 1.0;
        // Of a bolt seen along its axis all force is shear.
        let sight = given.outwards.is_none().then(Vector3::z_axis);
        let outwards = written
            .or(own)
            .or(sight)
            .filter(|_| fits && forces.all(is_sound));
        let newtons = resolver.scene.units.force.in_newtons();
        match outwards {
            None => Err(ModelError::Allowable {
                item: format!("support \"{}\"", support.name),
            }),
            Some(outwards) => Ok(Some(Self {
                tension: given.tension.map(|force| force * newtons),
                compression: given.compression.map(|force| force * newtons),
                shear: given.shear.map(|force| force * newtons),
                exponent: given.exponent,
                outwards,
            })),
        }
    }

    /// How much of what is allowed a force is: `((N/N_a)^p + (V/V_a)^p)^(1/p)`, 1 at the limit, and proportional to the force. Parts
    /// that are not limited do not count.
    ///
    /// # Source
    /// The usual form of interaction of tension and shear in fasteners; exponents differ from code to code (common practice, no
    /// source), and so the scene gives it.
    pub fn utilisation(&self, force: &SplitForce) -> f64 {
        let normal = match force.normal > 0.0 {
            true => self.compression,
            false => self.tension,
        };
        let parts = [(force.normal.abs(), normal), (force.shear, self.shear)];
        let parts = parts.map(|(size, allowed)| allowed.map_or(0.0, |allowed| size / allowed));
        // Of the larger part, so that no power overflows.
        let largest = parts[0].max(parts[1]);
        if largest == 0.0 {
            return 0.0;
        }
        let sum: f64 = parts
            .iter()
            .map(|part| (part / largest).powf(self.exponent))
            .sum();
        largest * sum.powf(1.0 / self.exponent)
    }
}

/// A force on the body in parts along and across the line out of the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplitForce {
    /// Along the line out of the ground, N: a push positive, a pull negative.
    pub normal: f64,
    /// Size of what is across it, N.
    pub shear: f64,
}

impl SplitForce {
    /// Splits a force by a direction out of the ground.
    pub fn of(force: &Vector3<f64>, outwards: &Unit<Vector3<f64>>) -> Self {
        let normal = force.dot(outwards);
        Self {
            normal,
            shear: (force - outwards.into_inner() * normal).norm(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bolt(exponent: f64) -> AllowableForces {
        AllowableForces {
            tension: Some(10.0),
            compression: None,
            shear: Some(4.0),
            exponent,
            outwards: Vector3::z_axis(),
        }
    }

    /// By hand: 6 of 10 in tension and 3 of 4 in shear are 1.35 with exponent 1, √(0.36 + 0.5625) with exponent 2.
    #[test]
    fn shares_of_tension_and_shear_add_up_by_their_exponent() {
        let force = SplitForce::of(&Vector3::new(0.0, 3.0, -6.0), &Vector3::z_axis());
        assert_eq!((force.normal, force.shear), (-6.0, 3.0));
        assert!((bolt(1.0).utilisation(&force) - 1.35).abs() < 1e-12);
        assert!((bolt(2.0).utilisation(&force) - 0.9225_f64.sqrt()).abs() < 1e-12);
        // A large exponent leaves the larger share.
        assert!((bolt(500.0).utilisation(&force) - 0.75).abs() < 1e-9);
    }

    #[test]
    fn what_is_not_limited_does_not_count() {
        let pressed = SplitForce::of(&Vector3::new(0.0, 0.0, 6.0), &Vector3::z_axis());
        assert_eq!(bolt(2.0).utilisation(&pressed), 0.0);
    }
}
