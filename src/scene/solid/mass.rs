//! Volume, centroid and inertia of shapes and of the whole body, for a uniform density.

use nalgebra::{Matrix3, Point3, Vector3};

use super::locate::Places;
use super::{Finish, Piece, Solid, drawn, overlap, pieces, resolve};
use crate::scene::{Scene, Shape};

/// Volume and centroid of a piece of material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bulk {
    /// Volume in m³, > 0.
    pub volume: f64,
    /// Centroid in m.
    pub centroid: Point3<f64>,
}

impl Bulk {
    /// All pieces together, overlaps counted as often as they occur; `None` for no pieces.
    pub fn sum(pieces: impl IntoIterator<Item = Self>) -> Option<Self> {
        let mut pieces = pieces.into_iter();
        let first = pieces.next()?;
        let (mut volume, mut moment) = (first.volume, Vector3::zeros());
        for piece in pieces {
            volume += piece.volume;
            moment += (piece.centroid - first.centroid) * piece.volume;
        }
        Self {
            volume,
            centroid: first.centroid + moment / volume,
        }
        .sound()
    }

    /// Itself, unless a number is not finite or the volume not above 0.
    pub(super) fn sound(self) -> Option<Self> {
        let finite = self.volume.is_finite() && self.centroid.coords.amax().is_finite();
        (finite && self.volume > 0.0).then_some(self)
    }
}

/// Volume and centroid of a shape by closed forms; `None` where [`super::of_shape`] is.
///
/// Exact for the shape as written, with sharp edges; drawn bevels and facets take off a little of that. Bars bent tighter
/// than their own radius follow the centre line.
pub fn bulk_of_shape(scene: &Scene, shape: &Shape) -> Option<Bulk> {
    resolve(&Places::new(scene), shape)?.bulk()?.sound()
}

/// Volume in m³ and centre of volume in m of the whole body, one piece of material: where shapes overlap, the overlap
/// counts once. `None` without any solid shape.
///
/// Exact where no shapes overlap; else within a hundredth of the overlap, see [`overlap`].
pub fn centre_of_volume(scene: &Scene) -> Option<(f64, Point3<f64>)> {
    let pieces: Vec<_> = pieces(scene).collect();
    centre_of_pieces(&pieces)
}

fn centre_of_pieces(pieces: &[Box<dyn Piece>]) -> Option<(f64, Point3<f64>)> {
    let all = Bulk::sum(pieces.iter().filter_map(|piece| piece.bulk()?.sound()))?;
    let twice = overlap::surplus(pieces, &all.centroid);
    let volume = all.volume - twice.volume;
    let centroid = all.centroid - twice.moment / volume;
    let once = Bulk { volume, centroid }.sound()?;
    Some((once.volume, once.centroid))
}

/// Inertia tensor of the whole body about its centre of volume, for density 1 kg/m³ in m⁵, in the scene's axes.
/// Overlaps count once, within a hundredth of the overlap. `None` without any solid shape.
///
/// Integrated over sharp-edged surfaces with few and with twice as many facets around, carried on to endlessly many,
/// and scaled to the exact volume: errors stay below 0.01 % for round shapes, straight ones have none.
pub fn inertia_per_density(scene: &Scene) -> Option<Matrix3<f64>> {
    let pieces: Vec<_> = pieces(scene).collect();
    let (_, centre) = centre_of_pieces(&pieces)?;
    let mut sum = Matrix3::zeros();
    for piece in &pieces {
        let (Some(bulk), Some(spread)) = (piece.bulk(), spread_per_volume(piece.as_ref())) else {
            continue;
        };
        let arm = bulk.centroid - centre;
        sum += (spread + arm * arm.transpose()) * bulk.volume;
    }
    sum -= overlap::surplus(&pieces, &centre).spread;
    let inertia = Matrix3::identity() * sum.trace() - sum;
    inertia.iter().all(|x| x.is_finite()).then_some(inertia)
}

/// Facets around for the coarser of the two surfaces.
const AROUND: usize = 16;

/// Mean dyad of positions from the centroid, m². A facet's error falls with the square of its angle, so that the third
/// of the difference that halving it makes is what is still missing. (Richardson 1911.)
fn spread_per_volume(piece: &dyn Piece) -> Option<Matrix3<f64>> {
    let of = |around: usize| {
        let finish = Finish {
            bevel: false,
            around,
        };
        let mesh = MeshIntegrals::of(&drawn(piece, finish)?);
        Some(mesh.spread / mesh.volume)
    };
    let (coarse, fine) = (of(AROUND)?, of(2 * AROUND)?);
    Some(fine + (fine - coarse) / 3.0)
}

/// Integrals over the inside of a closed triangle surface.
#[derive(Debug, Clone, Copy)]
struct MeshIntegrals {
    volume: f64,
    /// Integral of the dyad of positions from the centroid in m⁵.
    spread: Matrix3<f64>,
}

impl MeshIntegrals {
    /// Sum over the signed tetrahedra between one point and each triangle.
    ///
    /// Source: divergence theorem, as in Mirtich, *Fast and accurate computation of polyhedral mass properties*, 1996; moments of
    /// a tetrahedron with one corner at the origin: volume · sum / 4 and volume / 20 · (sum of dyads + dyad of the sum).
    fn of(solid: &Solid) -> Self {
        let origin = nalgebra::center(&solid.bounds.low, &solid.bounds.high);
        let (mut volume, mut moment, mut spread) = (0.0, Vector3::zeros(), Matrix3::zeros());
        for &triangle in &solid.triangles {
            let corners = solid.corners(triangle).map(|corner| corner - origin);
            let [a, b, c] = corners;
            let piece = a.dot(&b.cross(&c)) / 6.0;
            let sum = a + b + c;
            volume += piece;
            moment += sum * (piece / 4.0);
            let dyads: Matrix3<f64> = corners.iter().map(|v| v * v.transpose()).sum();
            spread += (dyads + sum * sum.transpose()) * (piece / 20.0);
        }
        let offset = moment / volume;
        Self {
            volume,
            spread: spread - offset * offset.transpose() * volume,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::solid::testing::{scene, spatial};
    use crate::scene::units::LengthUnit;
    use crate::scene::{BentBar, Block, Shaft};

    fn close(found: Vector3<f64>, expected: [f64; 3], relative: f64) {
        let expected = Vector3::from(expected);
        assert!(
            (found - expected).norm() <= relative * expected.norm(),
            "{found} {expected}"
        );
    }

    fn block(x: f64) -> Shape {
        Shape::Block(Block {
            centre: spatial([x, 0.0, 0.0]),
            size: [4.0, 2.0, 1.0],
            lengthwise: None,
            upright: None,
        })
    }

    /// Cuboid: V (b² + c²) / 12 and so on (any table of moments of inertia).
    #[test]
    fn inertia_of_a_block_and_of_two() {
        let mut scene = scene();
        scene.body = vec![block(0.0)];
        let inertia = inertia_per_density(&scene).unwrap();
        let [x, y, z] = [8.0 * 5.0 / 12.0, 8.0 * 17.0 / 12.0, 8.0 * 20.0 / 12.0];
        close(inertia.diagonal(), [x, y, z], 1e-12);
        scene.body = vec![block(-3.0), block(3.0)];
        let inertia = inertia_per_density(&scene).unwrap();
        let steiner = 16.0 * 9.0;
        close(
            inertia.diagonal(),
            [2.0 * x, 2.0 * y + steiner, 2.0 * z + steiner],
            1e-12,
        );
    }

    /// Cylinder: V r² / 2 about its axis, V (3 r² + l²) / 12 across (any table of moments of inertia).
    #[test]
    fn inertia_of_a_shaft_within_the_stated_error() {
        let mut scene = scene();
        scene.body = vec![Shape::Shaft(Shaft {
            from: spatial([5.0, 0.0, 1.0]),
            to: spatial([5.0, 0.0, 4.0]),
            diameter: 2.0,
        })];
        let volume = std::f64::consts::PI * 3.0;
        let inertia = inertia_per_density(&scene).unwrap();
        let across = volume * (3.0 + 9.0) / 12.0;
        close(inertia.diagonal(), [across, across, volume / 2.0], 1e-4);
    }

    /// Bar with one bend of 90°: cylinders as above, and for a piece of a ring of radius R and section radius r
    /// `V (R² + 3 r² / 4)` about its axis (any table of moments of inertia).
    #[test]
    fn inertia_of_a_bent_bar_within_the_stated_error() {
        let mut scene = scene();
        scene.body = vec![Shape::BentBar(BentBar {
            path: vec![
                spatial([0.0, 0.0, 0.0]),
                spatial([3.0, 0.0, 0.0]),
                spatial([3.0, 4.0, 0.0]),
            ],
            diameter: 0.4,
            bend_radius: Some(1.0),
        })];
        let pi = std::f64::consts::PI;
        let section = pi * 0.04;
        let straight = |length: f64, arm: f64| {
            section * length * ((3.0 * 0.04 + length * length) / 12.0 + arm)
        };
        // About the centre of the bend, (2, 1, 0).
        let ring = section * pi / 2.0 * (1.0 + 0.75 * 0.04);
        let there = straight(2.0, 2.0) + straight(3.0, 3.25) + ring;
        let (volume, centre) = centre_of_volume(&scene).unwrap();
        let arm = (centre - nalgebra::point![2.0, 1.0, 0.0]).norm_squared();
        let expected = there - volume * arm;
        let found = inertia_per_density(&scene).unwrap()[(2, 2)];
        assert!((found / expected - 1.0).abs() < 1e-4, "{found} {expected}");
    }

    #[test]
    fn units_and_several_shapes_enter_the_centre_of_volume() {
        let mut scene = scene();
        scene.units.length = LengthUnit::Millimetre;
        scene.body = vec![block(0.0), block(10.0), block(f64::NAN)];
        let (volume, centre) = centre_of_volume(&scene).unwrap();
        assert!((volume - 16e-9).abs() < 1e-21);
        assert!((centre - nalgebra::point![0.005, 0.0, 0.0]).norm() < 1e-15);
        scene.body.clear();
        assert!(centre_of_volume(&scene).is_none());
    }
}
