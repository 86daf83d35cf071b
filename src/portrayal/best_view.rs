//! From where a scene is seen best: much of the body, no support hidden behind it, no arrow and no axis end-on.
//!
//! A view is given by azimuth and elevation in degrees: 0 and 0 look along +y, an azimuth of 90 from the side of +x.

use nalgebra::{Point3, Unit, Vector3};

use super::strokes::{ForceStroke, loads, reactions};
use crate::scene::solid::Solid;
use crate::statics::{CaseIndex, Model};

/// What is to be seen.
#[derive(Debug, Clone, Copy)]
pub struct ViewSubject<'a> {
    /// The model.
    pub model: &'a Model,
    /// The body as written.
    pub body: &'a [Solid],
    /// Load case whose loads are drawn.
    pub case: CaseIndex,
    /// Axis of the motion that is shown.
    pub axis: Option<Unit<Vector3<f64>>>,
}

/// Azimuths, from the usual one on, and elevations that are tried, degrees.
const AZIMUTH_STEP: f64 = 20.0;
const ELEVATIONS: [f64; 5] = [8.0, 14.0, 24.0, 34.0, 48.0];
/// Views whose hidden supports are counted: those that are best otherwise.
const CLOSER_LOOKS: usize = 6;
/// How much better another view has to be than the usual one, which readers know how to read.
const MARGIN: f64 = 0.2;
/// Cosine between an arrow and the line of sight from which on it is seen end-on.
const END_ON: f64 = 0.93;
/// Cosine between line of sight and axis at which both are seen well: the axis nearly at its length, turns about it as open
/// arcs and not edge-on.
const ASLANT: f64 = 0.42;
/// Cosine between line of sight and the normal of a flat face below which the face is seen as a line.
const ALONG: f64 = 0.12;
/// Flat faces whose normals are closer than this, rad, are facets of a curved surface.
const FACETS: f64 = 0.25;
/// Normals closer than this, rad, are one.
const ONE: f64 = 1e-3;
/// What hidden supports, faces seen as lines, arrows seen end-on, an axis that is not seen aslant, and views far from the usual one cost,
/// against the share of the body that is seen.
const HIDDEN: f64 = 0.9;
const AS_LINE: f64 = 0.5;
const ON_END: f64 = 0.8;
const AXIS: f64 = 3.0;
const FAR: f64 = 0.18;

/// The direction from the scene towards the viewer.
pub fn towards([azimuth, elevation]: [f64; 2]) -> Vector3<f64> {
    let (sin, cos) = azimuth.to_radians().sin_cos();
    let (up, level) = elevation.to_radians().sin_cos();
    Vector3::new(sin * level, -cos * level, up)
}

impl ViewSubject<'_> {
    /// The view from which most is seen; the usual one unless another is clearly better.
    pub fn best_view(&self, usual: [f64; 2]) -> [f64; 2] {
        let areas = self.areas();
        let ways = self.ways();
        let normals = flat_normals(&areas);
        let count = (360.0 / AZIMUTH_STEP) as u32;
        let turned = (0..count).flat_map(|turn| {
            let azimuth = (usual[0] + AZIMUTH_STEP * f64::from(turn)).rem_euclid(360.0);
            ELEVATIONS.map(|elevation| [azimuth, elevation])
        });
        let turned = turned.filter(tells_axes_apart);
        let views: Vec<[f64; 2]> = std::iter::once(usual).chain(turned).collect();
        let seen = |view: &[f64; 2]| seen_area(&areas, &towards(*view));
        let most = views.iter().map(seen).fold(0.0, f64::max);
        let worth = |view: &[f64; 2]| {
            let sight = towards(*view);
            let share = if most > 0.0 { seen(view) / most } else { 0.0 };
            let end_on = ways.iter().filter(|way| way.dot(&sight).abs() > END_ON);
            let end_on = end_on.count() as f64 / ways.len().max(1) as f64;
            let aslant = self.axis.map_or(0.0, |axis| {
                (axis.dot(&sight).abs() - ASLANT).abs().max(0.2) - 0.2
            });
            let far = 1.0 - sight.dot(&towards(usual));
            let as_lines = normals.iter().filter(|n| n.dot(&sight).abs() < ALONG);
            let as_lines = as_lines.count() as f64 / normals.len().max(1) as f64;
            share - AS_LINE * as_lines - ON_END * end_on - AXIS * aslant * aslant - FAR * far
        };
        let mut rated: Vec<(f64, [f64; 2])> = views.iter().map(|v| (worth(v), *v)).collect();
        rated[1..].sort_by(|a, b| b.0.total_cmp(&a.0));
        rated.truncate(1 + CLOSER_LOOKS);
        for (worth, view) in &mut rated {
            *worth -= HIDDEN * self.hidden_supports(&towards(*view));
        }
        let best = rated
            .iter()
            .copied()
            .reduce(|best, next| match next.0 > best.0 {
                true => next,
                false => best,
            });
        best.filter(|best| best.0 > rated[0].0 + MARGIN)
            .map_or(usual, |(_, view)| view)
    }

    /// Normals of the body's faces, as long as their areas.
    fn areas(&self) -> Vec<Vector3<f64>> {
        let faces = self.body.iter().flat_map(triangles);
        faces
            .map(|[a, b, c]| (b - a).cross(&(c - a)) / 2.0)
            .collect()
    }

    /// Directions of all arrows.
    fn ways(&self) -> Vec<Vector3<f64>> {
        let reactions = reactions(self.model).into_iter().map(|drawn| drawn.stroke);
        let loads = loads(self.model, self.case).into_iter();
        let strokes = reactions.chain(loads.map(|load| load.stroke));
        let ways = strokes.filter_map(|stroke| match stroke {
            ForceStroke::Arrow { along, .. } => Some(along.into_inner()),
            ForceStroke::Ring { .. } => None,
            ForceStroke::Row { densities, .. } => densities[0].try_normalize(0.0),
        });
        ways.collect()
    }

    /// Share of the supports that the body hides.
    fn hidden_supports(&self, sight: &Vector3<f64>) -> f64 {
        let supports = &self.model.supports;
        let faces: Vec<[Point3<f64>; 3]> = self.body.iter().flat_map(triangles).collect();
        let clear = 0.05 * self.model.length;
        let hidden = supports.iter().filter(|support| {
            let place = match support.ground {
                Some(ground) => nalgebra::center(&support.point, &ground),
                None => support.point,
            };
            let from = place + sight * clear;
            faces.iter().any(|face| meets(face, &from, sight))
        });
        hidden.count() as f64 / supports.len().max(1) as f64
    }
}

/// Directions of the normals of flat faces, each once; facets of curved surfaces have neighbours that lean a little.
fn flat_normals(areas: &[Vector3<f64>]) -> Vec<Vector3<f64>> {
    /// Of bodies with more, the first tell enough.
    const MOST: usize = 64;
    let between = |a: &Vector3<f64>, b: &Vector3<f64>| a.cross(b).norm().min(1.0).asin();
    let mut normals: Vec<Vector3<f64>> = Vec::new();
    for normal in areas.iter().filter_map(|area| area.try_normalize(0.0)) {
        if normals.iter().all(|other| between(other, &normal) > ONE) {
            normals.push(normal);
        }
        if normals.len() == MOST {
            break;
        }
    }
    let is_flat = |normal: &&Vector3<f64>| {
        let mut others = normals.iter().map(|other| between(other, normal));
        !others.any(|angle| (ONE..FACETS).contains(&angle))
    };
    normals.iter().filter(is_flat).copied().collect()
}

/// Whether the three axes of the scene are seen as three directions.
fn tells_axes_apart(view: &[f64; 2]) -> bool {
    const SHORTEST: f64 = 0.2;
    const APART: f64 = 0.25;
    let sight = towards(*view);
    let right = Vector3::z().cross(&sight).normalize();
    let up = sight.cross(&right);
    let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
    let seen = axes.map(|axis| [axis.dot(&right), axis.dot(&up)]);
    let long = seen.map(|[x, y]| x.hypot(y));
    let turned = |a: usize, b: usize| {
        (seen[a][0] * seen[b][1] - seen[a][1] * seen[b][0]).abs() / (long[a] * long[b])
    };
    let apart = [turned(0, 1), turned(1, 2), turned(2, 0)];
    long.iter().all(|long| *long > SHORTEST) && apart.iter().all(|sine| *sine > APART)
}

fn triangles(solid: &Solid) -> impl Iterator<Item = [Point3<f64>; 3]> + '_ {
    let triangles = solid.triangles.iter();
    triangles.map(|corners| corners.map(|i| solid.positions[i as usize]))
}

/// Area of the faces that face the viewer, as they are seen.
fn seen_area(areas: &[Vector3<f64>], sight: &Vector3<f64>) -> f64 {
    areas.iter().map(|area| area.dot(sight).max(0.0)).sum()
}

/// Whether a ray meets a triangle.
fn meets([a, b, c]: &[Point3<f64>; 3], from: &Point3<f64>, way: &Vector3<f64>) -> bool {
    let (u, v) = (b - a, c - a);
    let normal = u.cross(&v);
    let lean = normal.dot(way);
    if lean == 0.0 {
        return false;
    }
    let off = from - a;
    let across = off.cross(way);
    let (s, t) = (-v.dot(&across) / lean, u.dot(&across) / lean);
    s >= 0.0 && t >= 0.0 && s + t <= 1.0 && -off.dot(&normal) / lean > 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{read_str, solid};
    use crate::study::Study;

    const USUAL: [f64; 2] = [32.0, 24.0];

    fn best(study: &Study) -> [f64; 2] {
        let body = solid::of_body(study.scene());
        let sitter = ViewSubject {
            model: study.model(),
            body: &body,
            case: CaseIndex::FIRST,
            axis: None,
        };
        sitter.best_view(USUAL)
    }

    /// A plate in the usual line of sight's own plane is seen edge-on from there.
    #[test]
    fn a_plate_is_not_seen_edge_on() {
        let plate = r#"(format: 1, title: "shutter",
            body: [Plate(corners: [(0, 0, 0), (-0.53, 0.848, 0), (-0.53, 0.848, 1), (0, 0, 1)], thickness: 0.01)],
            supports: [Fixed(name: "A", at: (0, 0, 0))])"#;
        let Ok(read) = read_str("shutter", plate) else {
            panic!("the scene is sound");
        };
        let study = Study::new(read.scene).unwrap();
        let normal = Vector3::new(0.848, 0.53, 0.0).normalize();
        assert!(towards(USUAL).dot(&normal).abs() < 0.35);
        assert!(towards(best(&study)).dot(&normal).abs() > 0.5);
    }

    /// The hatch rises by the slope of the usual line of sight, from which its plate is a line; from the opposite side
    /// its edges were.
    #[test]
    fn no_face_of_a_plate_is_seen_as_a_line() {
        let study = Study::open("roof-hatch").unwrap();
        let sight = towards(best(&study));
        for normal in [[0.6, 0.0, -0.8], [0.8, 0.0, 0.6], [0.0, 1.0, 0.0]] {
            assert!(
                sight.dot(&Vector3::from(normal)).abs() > ALONG,
                "{normal:?}"
            );
        }
    }

    #[test]
    fn what_is_seen_well_is_seen_as_usual() {
        assert_eq!(best(&Study::open("portal-frame").unwrap()), USUAL);
    }
}
