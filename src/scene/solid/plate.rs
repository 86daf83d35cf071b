//! Flat plate with straight edges and round holes.

use nalgebra::{Point3, Vector3};

use super::locate::SolidPlaces;
use super::outline::Corner;
use super::prism::{Prism, RoundHole};
use super::surface::{Frame, unit};
use crate::scene::Plate;

/// The plate in SI units; `None` for unknown places, fewer than three corners, or an outline that crosses itself.
pub(super) fn resolve(places: &SolidPlaces, plate: &Plate) -> Option<Prism> {
    let corners: Vec<_> = plate
        .corners
        .iter()
        .map(|corner| places.point(corner))
        .collect::<Option<_>>()?;
    let frame = plane_of(&corners)?;
    let flat = |point: Point3<f64>| {
        let from = point - frame.origin;
        Corner::new(from.dot(&frame.axes[0]), from.dot(&frame.axes[1]))
    };
    let outline = corners.iter().map(|&corner| flat(corner)).collect();
    let mut prism = Prism::new(frame, outline, places.length(plate.thickness)?)?;
    for hole in &plate.holes {
        prism.drill(RoundHole {
            centre: flat(places.point(&hole.centre)?),
            radius: places.length(hole.diameter)? / 2.0,
        });
    }
    Some(prism)
}

/// Frame in the mean plane of the corners, about which they run counter-clockwise; `None` if they span no area.
///
/// Source: Newell's method, as in Sutherland, Sproull & Schumacker, *A characterization of ten hidden-surface
/// algorithms*, 1974.
fn plane_of(corners: &[Point3<f64>]) -> Option<Frame> {
    let first = *corners.first()?;
    let count = corners.len();
    let sum: Vector3<f64> = corners.iter().map(|corner| corner - first).sum();
    let twice_area: Vector3<f64> = (0..count)
        .map(|i| (corners[i] - first).cross(&(corners[(i + 1) % count] - first)))
        .sum();
    let normal = unit(twice_area)?;
    let longest = (0..count)
        .map(|i| corners[(i + 1) % count] - corners[i])
        .max_by(|a, b| a.norm_squared().total_cmp(&b.norm_squared()))?;
    let along = unit(longest - normal * normal.dot(&longest))?;
    Some(Frame {
        origin: first + sum / count as f64,
        axes: [along, normal.cross(&along), normal],
    })
}

#[cfg(test)]
mod tests {
    use crate::scene::solid::testing::{check, scene, spatial};
    use crate::scene::{Hole, Place, Plate, Shape};

    fn plate(holes: Vec<Hole>) -> Shape {
        // An L in a plane that leans: x' = (1, 0, 0), y' = (0, 0.6, 0.8).
        let at = |x: f64, y: f64| spatial([x, 0.6 * y, 0.8 * y]);
        Shape::Plate(Plate {
            corners: vec![
                at(0.0, 0.0),
                at(4.0, 0.0),
                at(4.0, 1.0),
                at(1.0, 1.0),
                at(1.0, 3.0),
                at(0.0, 3.0),
            ],
            thickness: 0.2,
            holes,
        })
    }

    fn hole(x: f64, y: f64, diameter: f64) -> Hole {
        Hole {
            centre: spatial([x, 0.6 * y, 0.8 * y]),
            diameter,
        }
    }

    /// By hand: 4 × 1 and 1 × 2 rectangles; centroid ((4·2 + 2·0.5) / 6, (4·0.5 + 2·2) / 6) = (1.5, 1).
    #[test]
    fn an_l_shaped_plate_agrees_with_its_two_rectangles() {
        let bulk = check(&scene(), &plate(vec![]), 1e-9);
        assert!((bulk.volume - 1.2).abs() < 1e-12);
        assert!((bulk.centroid - nalgebra::point![1.5, 0.6, 0.8]).norm() < 1e-12);
    }

    #[test]
    fn holes_are_taken_out() {
        let holes = vec![
            hole(3.0, 0.5, 0.6),
            hole(2.0, 0.5, 0.6),
            hole(0.5, 2.0, 0.5),
        ];
        let bulk = check(&scene(), &plate(holes), 1e-3);
        let circles = std::f64::consts::PI * (2.0 * 0.09 + 0.0625);
        assert!((bulk.volume - 0.2 * (6.0 - circles)).abs() < 1e-12);
    }

    #[test]
    fn holes_across_the_edge_or_another_hole_are_left_out() {
        let holes = vec![
            hole(4.0, 0.5, 0.6),
            hole(3.0, 0.5, 0.6),
            hole(3.2, 0.5, 0.6),
            hole(9.0, 0.5, 0.2),
        ];
        let bulk = check(&scene(), &plate(holes), 1e-3);
        let circle = std::f64::consts::PI * 0.09;
        assert!((bulk.volume - 0.2 * (6.0 - circle)).abs() < 1e-12);
    }

    #[test]
    fn corners_on_one_line_or_crossing_give_no_solid() {
        let line = [0.0, 1.0, 2.0].map(|x| spatial([x, 0.0, 0.0])).to_vec();
        let bow = [[0.0, 0.0], [3.0, 0.0], [0.0, 1.0], [3.0, 2.0]]
            .map(|[x, y]| spatial([x, y, 0.0]))
            .to_vec();
        for corners in [line, bow, vec![], vec![Place::Named("nowhere".into())]] {
            let shape = Shape::Plate(Plate {
                corners,
                thickness: 0.1,
                holes: vec![],
            });
            assert!(crate::scene::solid::of_shape(&scene(), &shape).is_none());
        }
    }
}
