//! Hardware of the portrayal as meshes: as lines on paper show it, and in the round.

use nalgebra::{Point3, Vector3};

use super::HardwareShape;
use super::mesh::Mesh;

/// How hardware is meshed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Detail {
    /// As lines on paper show it: an eye is round from every side, ground a hatched rectangle.
    Paper,
    #[cfg_attr(
        not(feature = "viewer"),
        allow(dead_code, reason = "only the window draws in the round")
    )]
    /// As light shows it: an eye is a ring around its pin, ground a slab as deep as [`ScreenDetail`] says.
    Screen(ScreenDetail),
}

/// How things are modelled in the round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ScreenDetail {
    /// The unit of the portrayal, m.
    pub unit: f64,
    /// Facets around what is round.
    pub around: usize,
}

/// What a mesh is of, for its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum MeshPart {
    /// Hardware.
    Hardware,
    /// A slab of ground.
    Ground,
    /// Slanting strokes on its sides.
    Hatching,
}

impl Detail {
    /// Facets around what is round: on paper its outlines are true curves.
    fn around(&self) -> usize {
        const ON_PAPER: usize = 24;
        match self {
            Self::Paper => ON_PAPER,
            Self::Screen(slab) => slab.around,
        }
    }
}

impl HardwareShape {
    /// The shape as meshes; none for cables, which are lines.
    pub(crate) fn meshes(&self, detail: Detail) -> Vec<(MeshPart, Mesh)> {
        let around = detail.around();
        let hardware = |mesh| vec![(MeshPart::Hardware, mesh)];
        match (self, detail) {
            (Self::Ball { centre, radius }, _) => hardware(Mesh::ball(centre, *radius, around)),
            (Self::Eye { centre, radius, .. }, Detail::Paper) => {
                hardware(Mesh::ball(centre, *radius, around))
            }
            (
                Self::Eye {
                    centre,
                    pin,
                    radius,
                },
                Detail::Screen(_),
            ) => {
                let ring = Mesh::ring(centre, pin, [0.45 * radius, *radius], 0.96 * radius, around);
                let half = pin * *radius;
                let pin = Mesh::rod(&(centre - half), &(centre + half), 0.42 * radius, around);
                vec![(MeshPart::Hardware, ring), (MeshPart::Hardware, pin)]
            }
            (Self::Prism { outline, sweep }, _) => hardware(Mesh::prism(outline, sweep)),
            (
                Self::Turned {
                    from,
                    axis,
                    stations,
                },
                _,
            ) => hardware(Mesh::turned(from, axis, stations, around)),
            (Self::Rod { ends, radius }, _) => {
                hardware(Mesh::rod(&ends[0], &ends[1], *radius, around))
            }
            (
                Self::Ring {
                    centre,
                    axis,
                    radii,
                    width,
                    square,
                },
                _,
            ) => {
                let around = if *square { Mesh::SQUARE } else { around };
                hardware(Mesh::ring(centre, axis, *radii, *width, around))
            }
            (Self::Block { centre, halves }, _) => hardware(Mesh::block(centre, *halves)),
            (
                Self::Ground {
                    centre,
                    axes,
                    spans,
                    spacing,
                    phase,
                },
                Detail::Paper,
            ) => {
                let ground = Mesh::ground(centre, axes, spans, [*spacing, *phase]);
                vec![(MeshPart::Ground, ground)]
            }
            (
                Self::Ground {
                    centre,
                    axes,
                    spans,
                    ..
                },
                Detail::Screen(slab),
            ) => slab.meshes(centre, axes, spans),
            (Self::Cord { .. }, _) => Vec::new(),
        }
    }
}

impl ScreenDetail {
    /// Thickness, and the distance, width and height over the side of its strokes, in units.
    const THICK: f64 = 2.1;
    const PITCH: f64 = 1.47;
    const WIDTH: f64 = 0.52;
    const LIFT: f64 = 0.07;

    /// A slab of ground below its surface, with slanting strokes on its four sides.
    fn meshes(
        &self,
        centre: &Point3<f64>,
        [x, y]: &[Vector3<f64>; 2],
        spans: &[[f64; 2]; 2],
    ) -> Vec<(MeshPart, Mesh)> {
        let [middle, half] = [0.5, -0.5].map(|sign| {
            spans.map(|[low, high]| {
                if sign > 0.0 {
                    (low + high) / 2.0
                } else {
                    (high - low) / 2.0
                }
            })
        });
        let (up, thick) = (x.cross(y), Self::THICK * self.unit);
        let centre = centre + x * middle[0] + y * middle[1] - up * (thick / 2.0);
        let halves = [x * half[0], y * half[1], up * (thick / 2.0)];
        let mut hatching = Mesh::default();
        for (way, out, length, depth) in [(x, y, half[0], half[1]), (y, x, half[1], half[0])] {
            for out in [*out, -out] {
                self.hatch(&centre, [way, &out, &up], [length, depth], &mut hatching);
            }
        }
        vec![
            (MeshPart::Ground, Mesh::block(&centre, halves)),
            (MeshPart::Hatching, hatching),
        ]
    }

    /// Slanting strokes on the side that faces along `out`.
    fn hatch(
        &self,
        centre: &Point3<f64>,
        [way, out, up]: [&Vector3<f64>; 3],
        [length, depth]: [f64; 2],
        mesh: &mut Mesh,
    ) {
        let [pitch, width, lift] = [Self::PITCH, Self::WIDTH, Self::LIFT].map(|u| u * self.unit);
        let half = Self::THICK * self.unit / 2.0;
        let count = ((2.0 * length - half * 1.6) / pitch).floor().max(1.0);
        let start = -(count - 1.0) / 2.0 * pitch;
        for i in 0..count as u32 {
            let middle = start + f64::from(i) * pitch;
            let corner = |along: f64, height: f64| {
                centre + out * (depth + lift) + way * (middle + along) + up * height
            };
            let corners = [
                corner(-half * 0.8 - width / 2.0, -half * 0.98),
                corner(-half * 0.8 + width / 2.0, -half * 0.98),
                corner(half * 0.8 + width / 2.0, half * 0.8),
                corner(half * 0.8 - width / 2.0, half * 0.8),
            ];
            let turn = (corners[1] - corners[0]).cross(&(corners[2] - corners[0]));
            let [a, b, c, d] = corners.map(|corner| mesh.push(corner));
            // Counter-clockwise seen from outside.
            mesh.quad(match turn.dot(out) < 0.0 {
                true => [d, c, b, a],
                false => [a, b, c, d],
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::across;
    use super::*;

    #[test]
    fn a_slab_is_as_thick_as_it_says() {
        let (at, axis) = (Point3::new(1.0, 2.0, 3.0), Vector3::new(0.6, 0.0, 0.8));
        let slab = ScreenDetail {
            unit: 0.1,
            around: 24,
        };
        let parts = slab.meshes(&at, &across(&axis), &[[-1.0, 1.0], [-2.0, 1.0]]);
        assert!((parts[0].1.sixfold_volume() / 6.0 - 2.0 * 3.0 * 0.21).abs() < 1e-9);
    }
}
