//! Solid geometry of the body's shapes: surfaces to draw, volumes and centroids, distances.
//!
//! SI metres in the scene's axes; planar scenes lie at z = 0, with depth along z. Shapes that name unknown points or have no
//! extent give nothing here; the checks of the scene tell of them. Nothing here panics or yields a number that is not finite.

mod bar;
mod block;
mod bounds;
mod bracket;
mod centre_line;
mod contact;
mod disc;
mod distance;
mod hull;
mod locate;
mod mass;
mod outline;
mod overlap;
mod plate;
mod prism;
mod ray;
mod rays;
mod revolve;
mod round;
mod segment;
mod shaft;
mod surface;
#[cfg(test)]
mod testing;
mod tree;

pub use centre_line::{CentreLine, CentreLinePiece};
pub use contact::Surfaces;
pub use disc::{Rim, rims};
pub use distance::{distance, is_clear, is_within, stands_off, surface_distance};
pub use mass::{
    VolumeProperties, bulk_of_shape, centre_of_volume, has_volume, inertia_per_density,
};
pub use ray::{first_face, first_hit};
pub use round::Rounds;
pub use segment::{crossings, nearest_point};
pub use surface::{Edge, Solid};

use nalgebra::Matrix3;

use super::{Scene, Shape};
use locate::SolidPlaces;
use round::RoundPart;
use surface::Surface;

/// How surfaces are finished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// Width of the chamfers along the edges of plates, blocks, brackets and discs and at the ends of bars and shafts, relative
    /// to the smallest size of each; 0 leaves the edges where they are written.
    pub chamfer: f64,
    /// Facets around a full circle, at least 3.
    pub around: usize,
}

impl Finish {
    /// Edges where they are written, for measuring and for line figures.
    pub const SHARP: Self = Self {
        chamfer: 0.0,
        around: 32,
    };
}

/// A shape in SI units, ready to be drawn and measured.
trait SolidPiece {
    /// Adds the closed surface; `None` if that is not possible.
    fn draw(&self, finish: Finish, surface: &mut Surface) -> Option<()>;

    /// Volume and centroid with sharp edges.
    fn mass_properties(&self) -> Option<VolumeProperties>;

    /// Integral of the dyad of positions from the centroid, with sharp edges, in m⁵.
    fn spread(&self) -> Option<Matrix3<f64>>;

    /// Its straight cylinders.
    fn round_parts(&self) -> Vec<RoundPart> {
        Vec::new()
    }
}

/// Surface of one shape as written; `None` if it names an unknown point or has no extent.
///
/// Looks up the scene's points anew; [`of_body`] does so once for all shapes.
pub fn of_shape(scene: &Scene, shape: &Shape) -> Option<Solid> {
    of_shape_with(scene, shape, Finish::SHARP)
}

/// Surface of one shape in a finish.
pub fn of_shape_with(scene: &Scene, shape: &Shape, finish: Finish) -> Option<Solid> {
    drawn(resolve(&SolidPlaces::new(scene), shape)?.as_ref(), finish)
}

/// Surfaces of the body's shapes as written, in scene order; shapes without one are skipped.
pub fn of_body(scene: &Scene) -> Vec<Solid> {
    of_body_with(scene, Finish::SHARP)
}

/// Surfaces of the body's shapes in a finish, in scene order; shapes without one are skipped.
pub fn of_body_with(scene: &Scene, finish: Finish) -> Vec<Solid> {
    pieces(scene)
        .filter_map(|piece| drawn(piece.as_ref(), finish))
        .collect()
}

/// The body's shapes in SI units; those that cannot be resolved are skipped.
fn pieces(scene: &Scene) -> impl Iterator<Item = Box<dyn SolidPiece>> {
    let places = SolidPlaces::new(scene);
    scene
        .body
        .iter()
        .filter_map(move |shape| resolve(&places, shape))
}

fn resolve(places: &SolidPlaces, shape: &Shape) -> Option<Box<dyn SolidPiece>> {
    Some(match shape {
        Shape::BentBar(bar) => Box::new(bar::BarPiece::resolve(places, bar)?),
        Shape::Plate(plate) => Box::new(plate::resolve(places, plate)?),
        Shape::Bracket(bracket) => Box::new(bracket::BracketPiece::resolve(places, bracket)?),
        Shape::Shaft(shaft) => Box::new(shaft::ShaftPiece::resolve(places, shaft)?),
        Shape::Disc(disc) => Box::new(disc::DiscPiece::resolve(places, disc)?),
        Shape::Block(block) => Box::new(block::resolve(places, block)?),
    })
}

/// The centre line of each shape in scene order; `None` of what is no bar, names unknown points or has no extent.
pub fn centre_lines(scene: &Scene) -> Vec<Option<CentreLine>> {
    let places = SolidPlaces::new(scene);
    let line = |shape: &Shape| match shape {
        Shape::BentBar(bar) => Some(bar::BarPiece::resolve(&places, bar)?.centre_line()),
        Shape::Shaft(shaft) => Some(shaft::ShaftPiece::resolve(&places, shaft)?.centre_line()),
        _ => None,
    };
    scene.body.iter().map(line).collect()
}

fn drawn(piece: &dyn SolidPiece, finish: Finish) -> Option<Solid> {
    let finish = Finish {
        around: finish.around.max(3),
        ..finish
    };
    let mut surface = Surface::default();
    piece.draw(finish, &mut surface)?;
    surface.finish()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::testing::{assert_balanced, spatial};
    use super::*;
    use crate::scene::{
        BarSection, BentBar, Block, Bracket, Coordinates, Direction, Disc, Hole, Place, Plate,
        Shaft,
    };

    /// Coordinates on a coarse grid, so that points often coincide, lie on one line or run back.
    fn place() -> impl Strategy<Value = Place> {
        [-2..=2, -2..=2, -1..=1].prop_map(|grid| spatial(grid.map(f64::from)))
    }

    /// Mostly sound lengths.
    fn length() -> impl Strategy<Value = f64> {
        prop_oneof![8 => 0.01..3.0, 1 => Just(0.0)]
    }

    fn direction() -> impl Strategy<Value = Option<Direction>> {
        proptest::option::of([-1..=1, -1..=1, -1..=1].prop_map(|grid| {
            let components = grid.map(f64::from);
            Direction::Along(Coordinates::Space(components))
        }))
    }

    fn shape() -> impl Strategy<Value = Shape> {
        let places = || proptest::collection::vec(place(), 0..7);
        let hole = (place(), length()).prop_map(|(centre, diameter)| Hole { centre, diameter });
        let holes = proptest::collection::vec(hole, 0..4);
        prop_oneof![
            (places(), length(), proptest::option::of(length())).prop_map(
                |(path, diameter, bend_radius)| Shape::BentBar(BentBar {
                    path,
                    diameter,
                    bend_radius,
                    section: BarSection::Solid,
                })
            ),
            (places(), length(), holes).prop_map(|(corners, thickness, holes)| {
                Shape::Plate(Plate {
                    corners,
                    thickness,
                    holes,
                })
            }),
            ([place(), place(), place()], [length(), length(), length()]).prop_map(
                |([corner, first, second], [width, thickness, gusset])| {
                    Shape::Bracket(Bracket {
                        corner,
                        legs: [first, second],
                        width,
                        thickness,
                        gusset,
                    })
                }
            ),
            (place(), place(), length())
                .prop_map(|(from, to, diameter)| { Shape::Shaft(Shaft { from, to, diameter }) }),
            (
                place(),
                direction(),
                [length(), length(), length(), length()]
            )
                .prop_map(|(centre, axis, [diameter, thickness, bore, groove])| {
                    Shape::Disc(Disc {
                        centre,
                        axis,
                        diameter,
                        thickness,
                        bore,
                        groove,
                    })
                }),
            (
                place(),
                [length(), length(), length()],
                direction(),
                direction()
            )
                .prop_map(|(centre, size, lengthwise, upright)| {
                    Shape::Block(Block {
                        centre,
                        size,
                        lengthwise,
                        upright,
                    })
                }),
        ]
    }

    proptest! {
        #![proptest_config(crate::testing::cases(600))]

        #[test]
        fn whatever_is_written_gives_a_closed_solid_or_none(shape in shape(), chamfer in prop_oneof![Just(0.0), Just(testing::CHAMFERED.chamfer)]) {
            let scene = Scene::default();
            let finish = Finish { chamfer, around: 12 };
            let solid = of_shape_with(&scene, &shape, finish);
            prop_assert_eq!(solid.is_some(), bulk_of_shape(&scene, &shape).is_some());
            if let Some(solid) = solid {
                assert_balanced(&solid);
                for normal in &solid.normals {
                    prop_assert!((normal.norm() - 1.0).abs() < 1e-9);
                }
            }
        }

        #[test]
        fn extreme_lengths_never_give_numbers_that_are_not_finite(
            shape in shape(),
            exponent in -320_i32..=308,
        ) {
            let scene = Scene {
                body: vec![blown_up(shape, 10_f64.powi(exponent))],
                ..Scene::default()
            };
            for solid in of_body_with(&scene, testing::CHAMFERED) {
                prop_assert!(solid.positions.iter().all(|p| p.coords.amax().is_finite()));
                prop_assert!(solid.normals.iter().all(|n| (n.norm() - 1.0).abs() < 1e-6));
            }
            if let Some((volume, centre)) = centre_of_volume(&scene) {
                prop_assert!(volume.is_finite() && volume > 0.0);
                prop_assert!(centre.coords.amax().is_finite());
            }
        }
    }

    fn blown_up(shape: Shape, by: f64) -> Shape {
        let place = |place: &Place| match place {
            Place::At(at) => spatial(at.components().map(|x| x * by)),
            Place::Named(_) => place.clone(),
        };
        let places = |all: &[Place]| all.iter().map(place).collect();
        match shape {
            Shape::BentBar(bar) => Shape::BentBar(BentBar {
                path: places(&bar.path),
                diameter: bar.diameter * by,
                bend_radius: bar.bend_radius.map(|radius| radius * by),
                section: bar.section,
            }),
            Shape::Plate(plate) => Shape::Plate(Plate {
                corners: places(&plate.corners),
                thickness: plate.thickness * by,
                holes: vec![],
            }),
            Shape::Bracket(bracket) => Shape::Bracket(Bracket {
                corner: place(&bracket.corner),
                legs: [place(&bracket.legs[0]), place(&bracket.legs[1])],
                width: bracket.width * by,
                thickness: bracket.thickness * by,
                gusset: bracket.gusset * by,
            }),
            Shape::Shaft(shaft) => Shape::Shaft(Shaft {
                from: place(&shaft.from),
                to: place(&shaft.to),
                diameter: shaft.diameter * by,
            }),
            Shape::Disc(disc) => Shape::Disc(Disc {
                centre: place(&disc.centre),
                diameter: disc.diameter * by,
                thickness: disc.thickness * by,
                bore: disc.bore * by,
                groove: disc.groove * by,
                ..disc
            }),
            Shape::Block(block) => Shape::Block(Block {
                centre: place(&block.centre),
                size: block.size.map(|size| size * by),
                ..block
            }),
        }
    }
}
