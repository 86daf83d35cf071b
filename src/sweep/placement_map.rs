//! Where one more support helps most: the margin that the body would have with it, place by place over its surface and the walls.
//!
//! The reactions that are there are decomposed once, along the axes of their singular vectors; a place then adds a row or three to a
//! diagonal, whose smallest singular value is found as that of any placement. Reference point and characteristic length stay those of
//! the scene as written, so that places compare.

use earcut::Earcut;
use nalgebra::{Point3, Vector3};

use super::margin;
use super::plan::{kept, six};
use super::triangle::{Basis, LaneRow, singular_ends, triangle};
use crate::scene::{Scene, Space, solid};
use crate::statics::{Model, ReactionMatrix};
use crate::study::Study;

/// What is added to the supports.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AddedSupport {
    /// An anchor that holds the point and leaves every turn free: a ball joint, in the plane a pin.
    Anchor,
    /// A link square to the surface.
    Link,
}

/// A place for a support, with the direction out of the surface there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MapPlace {
    /// Where it is, m.
    pub point: Point3<f64>,
    /// Unit direction out of the surface.
    pub normal: Vector3<f64>,
}

/// A small triangle between places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MapTriangle {
    /// Its corners, indices of places, counter-clockwise seen from outside.
    pub corners: [usize; 3],
    /// Whether it lies on a wall, which is seen from both sides.
    pub is_wall: bool,
}

/// Margins over a surface.
#[derive(Debug, Clone)]
pub struct PlacementMap {
    /// What is added.
    pub added: AddedSupport,
    /// The places.
    pub places: Vec<MapPlace>,
    /// The surface between them.
    pub triangles: Vec<MapTriangle>,
    /// The margin with a support at each place, m: smallest singular value times characteristic length.
    pub margins: Vec<f64>,
    /// The margin without it, m.
    pub as_written: f64,
}

/// Steps along the diagonal of the scene from place to place.
const STEPS: f64 = 48.0;
/// Steps along a side of a triangle at most.
const MOST_STEPS: usize = 64;

impl PlacementMap {
    /// The map of a study over the surface of its body and, in space, over the walls.
    ///
    /// On a wall the support is joined to the body by something rigid.
    pub fn new(study: &Study, added: AddedSupport) -> Self {
        let (places, triangles) = surface(study.scene());
        let margins = margins_with(study.model(), added, &places);
        Self {
            as_written: margin(study),
            added,
            places,
            triangles,
            margins,
        }
    }

    /// The place with the greatest margin, the first of several; `None` where the body has no surface.
    pub fn best(&self) -> Option<usize> {
        let indices = 0..self.margins.len();
        indices.reduce(|best, next| match self.margins[next] > self.margins[best] {
            true => next,
            false => best,
        })
    }

    /// Least and greatest margin; `None` where the body has no surface.
    pub fn ends(&self) -> Option<[f64; 2]> {
        let margins = || self.margins.iter().copied();
        Some([margins().reduce(f64::min)?, margins().reduce(f64::max)?])
    }
}

/// The margin that a model has with one more support at each of some places, m.
pub fn margins_with(model: &Model, added: AddedSupport, places: &[MapPlace]) -> Vec<f64> {
    match model.space {
        Space::Spatial => margins_of::<6>(model, added, places),
        Space::Planar => margins_of::<3>(model, added, places),
    }
}

/// Places whose numbers lie side by side.
const LANES: usize = 8;

fn margins_of<const M: usize>(model: &Model, added: AddedSupport, places: &[MapPlace]) -> Vec<f64> {
    let matrix = ReactionMatrix::new(model);
    let entries = matrix.entries();
    let column = |index: usize| std::array::from_fn(|row| entries[(row, index)]);
    let mut columns: Vec<[f64; M]> = (0..entries.ncols()).map(column).collect();
    // A body without supports has axes all the same.
    columns.resize(columns.len().max(1), [0.0; M]);
    let basis = Basis::of(&columns);
    let own = diagonal(&basis, &columns);
    let mut rows: Vec<LaneRow<M, LANES>> = Vec::with_capacity(M + 3);
    let mut margins = Vec::with_capacity(places.len());
    for some in places.chunks(LANES) {
        rows.clear();
        rows.extend(own);
        for force in 0..forces(added, model.space) {
            let mut row = [[0.0; LANES]; M];
            for lane in 0..LANES {
                let place = &some[lane.min(some.len() - 1)];
                let direction = match added {
                    AddedSupport::Anchor => Vector3::ith(force, 1.0),
                    AddedSupport::Link => place.normal,
                };
                let arm = (place.point - model.reference) / model.length;
                let wrench = kept::<M>(&six(&direction, &arm.cross(&direction)));
                for (entry, value) in row.iter_mut().zip(wrench) {
                    entry[lane] = value;
                }
            }
            rows.push(basis.turned(&row));
        }
        let [_, smallest] = singular_ends(triangle(&mut rows));
        let smallest = smallest.iter().take(some.len());
        margins.extend(smallest.map(|value| value * model.length));
    }
    margins
}

/// How many forces a support adds.
fn forces(added: AddedSupport, space: Space) -> usize {
    match added {
        AddedSupport::Anchor => space.axes(),
        AddedSupport::Link => 1,
    }
}

/// What the reactions that are there amount to along their own axes: one row for each, of the length of its singular value.
fn diagonal<const M: usize>(basis: &Basis<M>, columns: &[[f64; M]]) -> [LaneRow<M, LANES>; M] {
    let mut squares = [0.0; M];
    for column in columns {
        for (square, entry) in squares.iter_mut().zip(basis.turned_one(column)) {
            *square += entry * entry;
        }
    }
    std::array::from_fn(|row| {
        let mut entries = [[0.0; LANES]; M];
        entries[row] = [squares[row].sqrt(); LANES];
        entries
    })
}

/// Places over the surface of the body and, in space, over the walls, with the small triangles between them.
fn surface(scene: &Scene) -> (Vec<MapPlace>, Vec<MapTriangle>) {
    let solids = solid::of_body(scene);
    let ends = solids.iter().map(solid::Solid::bounds);
    let bounds = ends.reduce(|[low, high], [lower, higher]| [low.inf(&lower), high.sup(&higher)]);
    let Some([low, high]) = bounds else {
        return (Vec::new(), Vec::new());
    };
    let step = (high - low).norm() / STEPS;
    let mut surface = MapSurface::default();
    for face in solids.iter().flat_map(solid::Solid::faces) {
        surface.add(face, step, false);
    }
    if scene.space == Space::Spatial {
        for wall in &scene.walls {
            let metres = scene.units.length.in_metres();
            let corners = wall
                .corners
                .iter()
                .filter_map(|corner| scene.position(corner));
            let corners: Vec<Point3<f64>> = corners.map(|at| Point3::from(at) * metres).collect();
            for face in faces(&corners) {
                surface.add(face, step, true);
            }
        }
    }
    (surface.places, surface.triangles)
}

/// The triangles of a flat outline.
fn faces(corners: &[Point3<f64>]) -> Vec<[Point3<f64>; 3]> {
    let mut normal: Vector3<f64> = Vector3::zeros();
    for (index, corner) in corners.iter().enumerate() {
        normal += corner
            .coords
            .cross(&corners[(index + 1) % corners.len()].coords);
    }
    let dropped = normal.iamax();
    let [first, second] = [(dropped + 1) % 3, (dropped + 2) % 3];
    let flat = corners.iter().map(|corner| [corner[first], corner[second]]);
    let mut indices: Vec<u32> = Vec::new();
    Earcut::new().earcut(flat, &[], &mut indices);
    let triangles = indices.chunks_exact(3);
    let corner = |index: u32| corners[index as usize];
    triangles
        .map(|three| [corner(three[0]), corner(three[1]), corner(three[2])])
        .collect()
}

/// A surface of places under construction.
#[derive(Default)]
struct MapSurface {
    places: Vec<MapPlace>,
    triangles: Vec<MapTriangle>,
}

impl MapSurface {
    /// Adds a triangle in pieces whose sides are no longer than a step, as far as there are not too many.
    fn add(&mut self, corners: [Point3<f64>; 3], step: f64, is_wall: bool) {
        let [a, b, c] = corners;
        let Some(normal) = (b - a).cross(&(c - a)).try_normalize(0.0) else {
            return;
        };
        let longest = [b - a, c - b, a - c]
            .map(|side| side.norm())
            .into_iter()
            .fold(0.0, f64::max);
        let steps = ((longest / step).ceil() as usize).clamp(1, MOST_STEPS);
        let start = self.places.len();
        // Row by row from the first corner, each with one place more.
        let at = |row: usize, place: usize| start + row * (row + 1) / 2 + place;
        for row in 0..=steps {
            for place in 0..=row {
                let [along, across] = [row - place, place].map(|part| part as f64 / steps as f64);
                let point = a + (b - a) * along + (c - a) * across;
                self.places.push(MapPlace { point, normal });
            }
        }
        for row in 0..steps {
            for place in 0..=row {
                let corners = [at(row, place), at(row + 1, place), at(row + 1, place + 1)];
                self.triangles.push(MapTriangle { corners, is_wall });
                if place < row {
                    let corners = [at(row, place), at(row + 1, place + 1), at(row, place + 1)];
                    self.triangles.push(MapTriangle { corners, is_wall });
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{
        Coordinates, Direction, Place, Stiffness, Support, SupportKind, SupportStiffness,
    };
    use crate::statics::WideSvd;

    /// Against the diagnosis of the scene that has the support, about the reference point and by the length of the one without.
    #[test]
    fn margins_are_those_of_the_scenes_with_the_support() {
        for name in [
            "handrail",
            "roof-hatch",
            "mirror-cell",
            "camera-bracket",
            "lamp-boom",
        ] {
            let study = Study::open(name).unwrap();
            let model = study.model();
            for added in [AddedSupport::Anchor, AddedSupport::Link] {
                let map = PlacementMap::new(&study, added);
                assert!(map.places.len() > 100, "{name}");
                for index in (0..map.places.len()).step_by(map.places.len() / 7) {
                    let expected = margin_of_scene(&study, added, &map.places[index]);
                    let found = map.margins[index];
                    let bound = 1e-12 * model.length * 10.0;
                    assert!(
                        (found - expected).abs() < bound,
                        "{name}: {found}, {expected}"
                    );
                }
                let [least, greatest] = map.ends().unwrap();
                assert_eq!(map.margins[map.best().unwrap()], greatest);
                assert!(
                    least >= map.as_written - 1e-12,
                    "a support takes nothing away"
                );
            }
        }
    }

    fn margin_of_scene(study: &Study, added: AddedSupport, place: &MapPlace) -> f64 {
        let mut scene = study.scene().clone();
        let metres = scene.units.length.in_metres();
        let at = Place::At(Coordinates::new(
            scene.space,
            (place.point / metres).coords.into(),
        ));
        let kind = match (added, scene.space) {
            (AddedSupport::Anchor, Space::Spatial) => SupportKind::BallJoint,
            (AddedSupport::Anchor, Space::Planar) => SupportKind::Pin,
            (AddedSupport::Link, space) => SupportKind::Roller {
                normal: Direction::Along(Coordinates::new(space, place.normal.into())),
            },
        };
        scene.supports.push(Support {
            name: "added".into(),
            at,
            kind,
            stiffness: SupportStiffness {
                forces: None::<Stiffness>,
                couples: None,
            },
            allowable: None,
        });
        let Ok(mut model) = Model::new(&scene) else {
            // In the plane the front of a body has no direction within it.
            return margin(study);
        };
        (model.reference, model.length) = (study.model().reference, study.model().length);
        let svd = WideSvd::new(ReactionMatrix::new(&model).entries());
        svd.values.last().unwrap() * model.length
    }
}
