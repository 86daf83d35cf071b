//! Volume, centroid and inertia of shapes and of the whole body, for a uniform density.

use nalgebra::{Matrix3, Point3, Vector3};

use super::locate::SolidPlaces;
use super::{SolidPiece, overlap, pieces, resolve};
use crate::scene::{Scene, Shape};

/// Volume and centroid of a piece of material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VolumeProperties {
    /// Volume in m³, > 0.
    pub volume: f64,
    /// Centroid in m.
    pub centroid: Point3<f64>,
}

impl VolumeProperties {
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

    /// Integral of the dyad of positions from a point, given that from the centroid, in m⁵: the parallel-axis theorem.
    pub(super) fn spread_about(&self, point: &Point3<f64>, own: Matrix3<f64>) -> Matrix3<f64> {
        let arm = self.centroid - point;
        own + arm * arm.transpose() * self.volume
    }

    /// Itself, unless a number is not finite or the volume not above 0.
    pub(super) fn sound(self) -> Option<Self> {
        let finite = self.volume.is_finite() && self.centroid.coords.amax().is_finite();
        (finite && self.volume > 0.0).then_some(self)
    }
}

/// Volume and centroid of a shape by closed forms; `None` where [`super::of_shape`] is.
///
/// Exact for the shape as written, with sharp edges; drawn chamfers and facets take off a little of that. Bars bent tighter
/// than their own radius follow the centre line.
pub fn bulk_of_shape(scene: &Scene, shape: &Shape) -> Option<VolumeProperties> {
    resolve(&SolidPlaces::new(scene), shape)?
        .mass_properties()?
        .sound()
}

/// Whether a body has a volume: quicker than [`centre_of_volume`], which looks for overlaps.
pub fn has_volume(scene: &Scene) -> bool {
    VolumeProperties::sum(pieces(scene).filter_map(|piece| piece.mass_properties()?.sound()))
        .is_some()
}

/// Volume in m³ and centre of volume in m of the whole body, one piece of material: where shapes overlap, the overlap
/// counts once. `None` without any solid shape.
///
/// Exact where no shapes overlap; else within a hundredth of the overlap.
pub fn centre_of_volume(scene: &Scene) -> Option<(f64, Point3<f64>)> {
    let pieces: Vec<_> = pieces(scene).collect();
    centre_of_pieces(&pieces)
}

fn centre_of_pieces(pieces: &[Box<dyn SolidPiece>]) -> Option<(f64, Point3<f64>)> {
    let all = VolumeProperties::sum(
        pieces
            .iter()
            .filter_map(|piece| piece.mass_properties()?.sound()),
    )?;
    let twice = overlap::surplus(pieces, &all.centroid);
    let volume = all.volume - twice.volume;
    let centroid = all.centroid - twice.moment / volume;
    let once = VolumeProperties { volume, centroid }.sound()?;
    Some((once.volume, once.centroid))
}

/// Inertia tensor of the whole body about its centre of volume, for density 1 kg/m³ in m⁵, in the scene's axes.
/// Overlaps count once, within a hundredth of the overlap. `None` without any solid shape.
///
/// By closed forms, as exact as the volume.
pub fn inertia_per_density(scene: &Scene) -> Option<Matrix3<f64>> {
    let pieces: Vec<_> = pieces(scene).collect();
    let (_, centre) = centre_of_pieces(&pieces)?;
    let about_centre = |piece: &dyn SolidPiece| {
        let bulk = piece.mass_properties()?.sound()?;
        Some(bulk.spread_about(&centre, piece.spread()?))
    };
    let whole: Matrix3<f64> = pieces
        .iter()
        .filter_map(|piece| about_centre(piece.as_ref()))
        .sum();
    let spread = whole - overlap::surplus(&pieces, &centre).spread;
    let inertia = Matrix3::identity() * spread.trace() - spread;
    inertia.iter().all(|x| x.is_finite()).then_some(inertia)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::solid::testing::{scene, spatial};
    use crate::scene::solid::{Finish, Solid, of_body_with};
    use crate::scene::units::LengthUnit;
    use crate::scene::{BarSection, BentBar, Block, Bracket, Disc, Hole, Plate, Shaft};

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
    fn inertia_of_a_shaft() {
        let mut scene = scene();
        scene.body = vec![Shape::Shaft(Shaft {
            from: spatial([5.0, 0.0, 1.0]),
            to: spatial([5.0, 0.0, 4.0]),
            diameter: 2.0,
        })];
        let volume = std::f64::consts::PI * 3.0;
        let inertia = inertia_per_density(&scene).unwrap();
        let across = volume * (3.0 + 9.0) / 12.0;
        close(inertia.diagonal(), [across, across, volume / 2.0], 1e-12);
    }

    /// Bar with one bend of 90°: cylinders as above, and for a piece of a ring of radius R and section radius r
    /// `V (R² + 3 r² / 4)` about its axis (any table of moments of inertia).
    #[test]
    fn inertia_of_a_bent_bar() {
        let mut scene = scene();
        scene.body = vec![Shape::BentBar(BentBar {
            path: vec![
                spatial([0.0, 0.0, 0.0]),
                spatial([3.0, 0.0, 0.0]),
                spatial([3.0, 4.0, 0.0]),
            ],
            diameter: 0.4,
            bend_radius: Some(1.0),
            section: BarSection::Solid,
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
        assert!((found / expected - 1.0).abs() < 1e-12, "{found} {expected}");
    }

    /// Hollow cylinder: V (R² + r²) / 2 about its axis, V (3 (R² + r²) + l²) / 12 across (any table of moments of inertia).
    #[test]
    fn inertia_of_a_disc_with_a_bore() {
        let mut scene = scene();
        scene.body = vec![disc(1.0, 0.0)];
        let inertia = inertia_per_density(&scene).unwrap();
        let volume = std::f64::consts::PI * (1.0 - 0.25) * 0.4;
        let across = volume * (3.0 * 1.25 + 0.16) / 12.0;
        close(
            inertia.diagonal(),
            [across, across, volume * 1.25 / 2.0],
            1e-12,
        );
    }

    fn disc(bore: f64, groove: f64) -> Shape {
        Shape::Disc(Disc {
            centre: spatial([1.0, 2.0, 3.0]),
            axis: None,
            diameter: 2.0,
            thickness: 0.4,
            bore,
            groove,
        })
    }

    /// Facets once stood in for round shapes: 8e-5 off. Integrated anew over fine surfaces, every shape agrees.
    #[test]
    fn inertia_of_every_shape_is_that_of_its_surface() {
        let path = |points: &[[f64; 3]]| points.iter().copied().map(spatial).collect();
        let shapes = [
            disc(0.5, 0.2),
            disc(0.0, 0.05),
            Shape::BentBar(BentBar {
                path: path(&[[0.0; 3], [2.0, 0.0, 0.3], [2.0, 1.5, 0.0], [1.0, 1.5, 2.0]]),
                diameter: 0.3,
                bend_radius: Some(0.4),
                section: BarSection::Solid,
            }),
            Shape::Plate(Plate {
                corners: path(&[[0.0; 3], [3.0, 0.0, 0.0], [2.0, 0.6, 0.8], [0.0, 1.2, 1.6]]),
                thickness: 0.2,
                holes: vec![Hole {
                    centre: spatial([1.2, 0.36, 0.48]),
                    diameter: 0.5,
                }],
            }),
            Shape::Bracket(Bracket {
                corner: spatial([0.0; 3]),
                legs: [spatial([2.0, 0.0, 0.0]), spatial([0.5, 0.0, 1.5])],
                width: 0.7,
                thickness: 0.1,
                gusset: 1.0,
            }),
        ];
        for shape in shapes {
            let mut scene = scene();
            scene.body = vec![shape];
            let found = inertia_per_density(&scene).unwrap();
            let mesh = |around| {
                let finish = Finish {
                    chamfer: 0.0,
                    around,
                };
                mesh_inertia(&of_body_with(&scene, finish)[0])
            };
            // What facets lack falls with the square of their angle. (Richardson 1911.)
            let (coarse, fine) = (mesh(64), mesh(128));
            let expected = fine + (fine - coarse) / 3.0;
            let off = (found - expected).norm() / expected.norm();
            assert!(off < 1e-5, "{off}: {found}{expected}{:?}", scene.body);
        }
    }

    /// Sum over the signed tetrahedra between one point and each triangle.
    ///
    /// Source: divergence theorem, as in Mirtich, *Fast and accurate computation of polyhedral mass properties*, 1996; moments of
    /// a tetrahedron with one corner at the origin: volume · sum / 4 and volume / 20 · (sum of dyads + dyad of the sum).
    fn mesh_inertia(solid: &Solid) -> Matrix3<f64> {
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
        let spread: Matrix3<f64> = spread - offset * offset.transpose() * volume;
        Matrix3::identity() * spread.trace() - spread
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
