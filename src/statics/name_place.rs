//! Where pictures name supports, so that drawings and the window agree.

use nalgebra::Point3;

use super::Model;

impl Model {
    /// The place, m, at which a picture names a support: the point that it holds; where others hold the same point, some
    /// way from it to its own ground end, so that each name stands at its own link.
    pub fn name_place(&self, support: usize) -> Point3<f64> {
        /// Part of the way to the ground.
        const OWN_WAY: f64 = 0.22;
        let placed = &self.supports[support];
        let near = 1e-9 * self.length;
        let others = self.supports.iter().enumerate();
        let shared = others
            .filter(|(other, _)| *other != support)
            .any(|(_, other)| (other.point - placed.point).norm() <= near);
        match placed.ground.filter(|_| shared) {
            Some(ground) => placed.point + (ground - placed.point) * OWN_WAY,
            None => placed.point,
        }
    }
}
