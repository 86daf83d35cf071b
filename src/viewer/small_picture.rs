//! A scene as small as a stamp: its body and hardware under one light, for the list of scenes.
//!
//! It is laid flat once and painted by egui, back to front, so that a list of many costs the renderer nothing.

use bevy_egui::egui::{self, Color32, Pos2, Rect, pos2};
use nalgebra::{Point3, Vector3};

use super::style::colour32;
use crate::portrayal::hardware_mesh::{Detail, MeshPart, ScreenDetail};
use crate::portrayal::mesh::Mesh;
use crate::portrayal::{HardwareShape, Layout, ViewSubject, towards};
use crate::scene::Space;
use crate::scene::solid::{self, Finish};
use crate::statics::CaseIndex;
use crate::study::Study;
use crate::theme::{Colour, Theme};

use super::framing::THREE_QUARTER;

/// What a triangle is of, for its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FacetOf {
    Body,
    Hardware,
    Ground,
}

/// A triangle on paper, with how much light falls on it, 0 to 1.
#[derive(Debug, Clone, PartialEq)]
struct Facet {
    corners: [Pos2; 3],
    light: f32,
    of: FacetOf,
}

/// The picture.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SmallPicture {
    /// Back to front, in units of the larger side of the picture.
    facets: Vec<Facet>,
    /// Width and height of what is drawn, the larger of them 1.
    size: [f32; 2],
}

/// Units of hardware across the scene: it is drawn larger than in a picture that fills a page.
const UNITS: f64 = 110.0;
/// Facets around what is round.
const AROUND: usize = 12;
/// Radius of a cable, in units of hardware.
const CORD: f64 = 0.7;
/// Light on what faces away from the lamp, and how much more on what faces it.
const LIGHT: [f64; 2] = [0.62, 0.5];

impl SmallPicture {
    /// The picture of a scene; `None` where nothing of it can be drawn.
    pub(crate) fn of(study: &Study) -> Option<Self> {
        let model = study.model();
        let finish = Finish {
            around: AROUND,
            ..Finish::SHARP
        };
        let body = solid::of_body_with(study.scene(), finish);
        let sight = match model.space {
            Space::Planar => Vector3::z(),
            Space::Spatial => {
                let usual = [THREE_QUARTER.0, THREE_QUARTER.1].map(f64::from);
                let sitter = ViewSubject {
                    model,
                    body: &body,
                    case: CaseIndex::FIRST,
                    axis: None,
                };
                towards(sitter.best_view(usual))
            }
        };
        let points = model.supports.iter().map(|support| support.point);
        let corners: Vec<Point3<f64>> = body
            .iter()
            .flat_map(|solid| solid.positions.iter().copied())
            .chain(points)
            .collect();
        let unit = extent(&corners) / UNITS;
        if !(unit > 0.0 && unit.is_finite()) {
            return None;
        }
        let layout = Layout {
            model,
            body: &body,
            course: None,
            swing: &[],
            unit,
            thickest: 1.0,
        };
        let mut triangles: Vec<([Point3<f64>; 3], FacetOf)> = Vec::new();
        for solid in &body {
            triangles.extend(solid.faces().map(|face| (face, FacetOf::Body)));
        }
        for piece in layout.solids() {
            if let HardwareShape::Cord { ends: [from, to] } = &piece.shape {
                let cord = Mesh::rod(from, to, CORD * unit, AROUND);
                triangles.extend(faces(&cord).map(|face| (face, FacetOf::Hardware)));
            }
            let detail = Detail::Screen(ScreenDetail {
                unit,
                around: AROUND,
            });
            for (part, mesh) in piece.shape.meshes(detail) {
                let of = match part {
                    MeshPart::Hardware => FacetOf::Hardware,
                    MeshPart::Ground => FacetOf::Ground,
                    MeshPart::Hatching => continue,
                };
                triangles.extend(faces(&mesh).map(|face| (face, of)));
            }
        }
        Some(flat(&triangles, &sight, model.space))
    }

    /// Paints the picture in the middle of a rectangle, as large as it can be.
    pub(crate) fn paint(&self, painter: &egui::Painter, rect: Rect, theme: &Theme) {
        let [width, height] = self.size;
        let scale = (rect.width() / width.max(0.01)).min(rect.height() / height.max(0.01));
        let place = |at: Pos2| rect.center() + at.to_vec2() * scale;
        let mut mesh = egui::Mesh::default();
        for facet in &self.facets {
            let colour = match facet.of {
                FacetOf::Body => theme.body,
                FacetOf::Hardware => theme.hardware,
                FacetOf::Ground => theme.ground,
            };
            let colour = lit(colour, facet.light);
            let first = mesh.vertices.len() as u32;
            for corner in facet.corners {
                mesh.colored_vertex(place(corner), colour);
            }
            mesh.add_triangle(first, first + 1, first + 2);
        }
        painter.add(mesh);
    }
}

/// Corners of a mesh's triangles.
fn faces(mesh: &Mesh) -> impl Iterator<Item = [Point3<f64>; 3]> + '_ {
    let corner = |index: u32| mesh.positions[index as usize];
    mesh.triangles.iter().map(move |face| face.map(corner))
}

/// Largest side of the box around points.
fn extent(points: &[Point3<f64>]) -> f64 {
    let first = points.first().copied().unwrap_or_default();
    let low = points.iter().fold(first, |low, point| low.inf(point));
    let high = points.iter().fold(first, |high, point| high.sup(point));
    (high - low).max()
}

/// Triangles as they are seen from a direction, those that face away left out.
fn flat(
    triangles: &[([Point3<f64>; 3], FacetOf)],
    sight: &Vector3<f64>,
    space: Space,
) -> SmallPicture {
    let upright = match space {
        Space::Planar => Vector3::y(),
        Space::Spatial => Vector3::z(),
    };
    // A view from straight above has +y up.
    let right = upright
        .cross(sight)
        .try_normalize(1e-9)
        .unwrap_or_else(Vector3::x);
    let up = sight.cross(&right);
    let lamp = (sight + 0.9 * up - 0.5 * right).normalize();
    let mut seen: Vec<(f64, Facet, [[f64; 2]; 3])> = Vec::new();
    for (corners, of) in triangles {
        let normal = (corners[1] - corners[0]).cross(&(corners[2] - corners[0]));
        let Some(normal) = normal.try_normalize(0.0).filter(|n| n.dot(sight) > 0.0) else {
            continue;
        };
        let depth = corners.iter().map(|c| c.coords.dot(sight)).sum::<f64>() / 3.0;
        let at = corners.map(|c| [c.coords.dot(&right), -c.coords.dot(&up)]);
        let light = LIGHT[0] + LIGHT[1] * normal.dot(&lamp).max(0.0);
        let facet = Facet {
            corners: [Pos2::ZERO; 3],
            light: light as f32,
            of: *of,
        };
        seen.push((depth, facet, at));
    }
    seen.sort_by(|a, b| a.0.total_cmp(&b.0));
    let all = || seen.iter().flat_map(|(_, _, at)| at);
    let bound = |axis: usize, pick: fn(f64, f64) -> f64| {
        all().map(|at| at[axis]).reduce(pick).unwrap_or_default()
    };
    let low = [bound(0, f64::min), bound(1, f64::min)];
    let high = [bound(0, f64::max), bound(1, f64::max)];
    let size = [high[0] - low[0], high[1] - low[1]];
    let scale = size[0].max(size[1]).max(f64::MIN_POSITIVE);
    let place = |at: &[f64; 2]| {
        let part = |axis: usize| ((at[axis] - (low[axis] + high[axis]) / 2.0) / scale) as f32;
        pos2(part(0), part(1))
    };
    let facets = seen.iter().map(|(_, facet, at)| Facet {
        corners: [place(&at[0]), place(&at[1]), place(&at[2])],
        ..facet.clone()
    });
    SmallPicture {
        facets: facets.collect(),
        size: size.map(|side| (side / scale) as f32),
    }
}

/// A colour under more or less light.
fn lit(colour: Colour, light: f32) -> Color32 {
    let [red, green, blue, _] = colour32(colour).to_array();
    let part = |value: u8| (f32::from(value) * light).round().min(255.0) as u8;
    Color32::from_rgb(part(red), part(green), part(blue))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::builtin;

    #[test]
    fn every_built_in_scene_has_a_picture_that_fills_its_frame() {
        for name in builtin::names() {
            let picture = SmallPicture::of(&Study::open(name).unwrap()).unwrap();
            assert!(
                picture.facets.iter().any(|f| f.of == FacetOf::Body),
                "{name}"
            );
            assert!(
                picture.facets.iter().any(|f| f.of == FacetOf::Ground),
                "{name}"
            );
            let corners = || picture.facets.iter().flat_map(|facet| facet.corners);
            assert!(corners().all(|at| at.x.abs() <= 0.501 && at.y.abs() <= 0.501));
            let reach = corners().map(|at| at.x.abs().max(at.y.abs()));
            assert!(reach.fold(0.0, f32::max) > 0.499, "{name}");
        }
    }
}
