//! Rectangular block.

use nalgebra::{Point3, Vector3};

use super::locate::SolidPlaces;
use super::outline::Corner;
use super::prism::Prism;
use super::surface::{Frame, any_square_to, unit};
use crate::scene::Block;

/// Directions this close to parallel (sine of the angle) span no plane.
const PARALLEL: f64 = 1e-9;

/// The block in SI units; `None` for an unknown place, a size that is not above 0, or two written directions that are parallel.
pub(super) fn resolve(places: &SolidPlaces, block: &Block) -> Option<Prism> {
    let centre = places.point(&block.centre)?;
    let mut halves = [0.0; 3];
    for (half, written) in halves.iter_mut().zip(block.size) {
        *half = places.length(written)? / 2.0;
    }
    let frame = Frame {
        origin: centre,
        axes: axes(places, block, &centre)?,
    };
    let [x, y, z] = halves;
    let outline = [(-x, -y), (x, -y), (x, y), (-x, y)].map(|(x, y)| Corner::new(x, y));
    Prism::new(frame, outline.to_vec(), 2.0 * z)
}

/// Directions lengthwise, across and upright. A direction that was not written gives way where it would be parallel to
/// the other.
fn axes(places: &SolidPlaces, block: &Block, centre: &Point3<f64>) -> Option<[Vector3<f64>; 3]> {
    let written = |direction: &Option<_>| match direction {
        Some(direction) => places.direction(direction, centre).map(Some),
        None => Some(None),
    };
    let (lengthwise, upright) = (written(&block.lengthwise)?, written(&block.upright)?);
    let usual_upright = if places.planar {
        Vector3::y()
    } else {
        Vector3::z()
    };
    let along = lengthwise.unwrap_or_else(Vector3::x);
    let up = upright.unwrap_or(usual_upright);
    let parallel = along.cross(&up).norm() < PARALLEL;
    let (along, up) = match (parallel, lengthwise, upright) {
        (false, _, _) => (along, up),
        (true, Some(_), Some(_)) => return None,
        (true, _, Some(_)) => (other(places, &up), up),
        (true, _, None) => (along, other(places, &along)),
    };
    let up = unit(up - along * along.dot(&up))?;
    Some([along, up.cross(&along), up])
}

/// A direction square to `direction`: in the plane, for planar scenes.
fn other(places: &SolidPlaces, direction: &Vector3<f64>) -> Vector3<f64> {
    match places.planar {
        true => unit(Vector3::z().cross(direction)).unwrap_or_else(Vector3::x),
        false => any_square_to(direction),
    }
}

#[cfg(test)]
mod tests {
    use crate::scene::solid::of_shape;
    use crate::scene::solid::testing::{check, scene, spatial};
    use crate::scene::{Block, Coordinates, Direction, Place, Shape, Space};

    fn along(components: [f64; 3]) -> Option<Direction> {
        Some(Direction::Along(Coordinates::Space(components)))
    }

    fn block(lengthwise: Option<Direction>, upright: Option<Direction>) -> Shape {
        Shape::Block(Block {
            centre: spatial([1.0, 2.0, 3.0]),
            size: [4.0, 2.0, 1.0],
            lengthwise,
            upright,
        })
    }

    #[test]
    fn edges_lie_along_the_written_directions() {
        let shape = block(along([0.0, 0.0, 5.0]), along([2.0, 0.0, 1.0]));
        let bulk = check(&scene(), &shape, 1e-9);
        assert!((bulk.volume - 8.0).abs() < 1e-12);
        let [low, high] = of_shape(&scene(), &shape).unwrap().bounds();
        // 4 along z, 1 along x, 2 along y.
        assert!((high - low - nalgebra::vector![1.0, 2.0, 4.0]).norm() < 1e-12);
    }

    #[test]
    fn an_unwritten_direction_gives_way() {
        check(&scene(), &block(along([0.0, 0.0, 1.0]), None), 1e-9);
        check(&scene(), &block(None, along([1.0, 0.0, 0.0])), 1e-9);
        let both = block(along([1.0, 0.0, 0.0]), along([-2.0, 0.0, 0.0]));
        assert!(of_shape(&scene(), &both).is_none());
    }

    #[test]
    fn planar_blocks_are_deep_out_of_the_plane() {
        let mut scene = scene();
        scene.space = Space::Planar;
        let shape = Shape::Block(Block {
            centre: Place::At(Coordinates::Plane([0.0, 0.0])),
            size: [4.0, 2.0, 1.0],
            lengthwise: Some(Direction::Angle(90.0)),
            upright: None,
        });
        check(&scene, &shape, 1e-9);
        let [low, high] = of_shape(&scene, &shape).unwrap().bounds();
        assert!((high - low - nalgebra::vector![1.0, 4.0, 2.0]).norm() < 1e-12);
    }

    #[test]
    fn sizes_that_are_no_lengths_give_no_solid() {
        for size in [[0.0, 1.0, 1.0], [1.0, -1.0, 1.0], [1.0, 1.0, f64::NAN]] {
            let shape = Shape::Block(Block {
                centre: spatial([0.0; 3]),
                size,
                lengthwise: None,
                upright: None,
            });
            assert!(of_shape(&scene(), &shape).is_none());
        }
    }
}
