//! Straight prisms over a polygon with round holes, with chamfered edges where there is room for them.

use std::f64::consts::PI;

use nalgebra::{Matrix2, Matrix3, Point3};

use super::outline::{self, Corner, MarkedPolygon};
use super::surface::{Frame, Surface, Vertex};
use super::{Finish, SolidPiece, VolumeProperties};

/// Where the corners of a hole's circle start, in steps: tried in turn until no corner of the cap lies straight between
/// two others, which would leave that corner out of the triangles.
const PHASES: [f64; 4] = [0.5, 0.37, 0.13, 0.71];

/// Round hole through a prism.
#[derive(Debug, Clone, Copy)]
pub(super) struct RoundHole {
    pub(super) centre: Corner,
    pub(super) radius: f64,
}

/// Prism: a polygon in the plane of the frame's first two axes, thick to both sides of it.
#[derive(Debug, Clone)]
pub(super) struct Prism {
    frame: Frame,
    outline: Vec<Corner>,
    chamfered: Vec<bool>,
    holes: Vec<RoundHole>,
    half_height: f64,
    /// The smallest dimension, which chamfers are measured by.
    smallest: f64,
}

/// The prism's polygon at its walls and, where edges are chamfered, the smaller one at its caps.
struct Cut {
    wall: MarkedPolygon,
    cap: Vec<Corner>,
    chamfer: f64,
}

/// Corners of a cap with its holes, and its triangles.
struct Cap {
    corners: Vec<[f64; 2]>,
    triangles: Vec<[u32; 3]>,
    phase: f64,
}

impl SolidPiece for Prism {
    fn draw(&self, finish: Finish, surface: &mut Surface) -> Option<()> {
        let cut = match finish.chamfer > 0.0 {
            true => self.chamfered_cut(finish.chamfer * self.smallest),
            false => None,
        };
        let cut = cut.unwrap_or_else(|| self.sharp_cut());
        let cap = self.cap(&cut, finish.around)?;
        self.draw_caps(&cap, surface);
        self.draw_walls(&cut, surface);
        for hole in &self.holes {
            self.draw_hole(hole, &cut, cap.phase, finish.around, surface);
        }
        Some(())
    }

    /// Volume and centroid of the prism with sharp edges: polygon less circles, times height (exact).
    fn mass_properties(&self) -> Option<VolumeProperties> {
        let (area, centroid) = self.area_and_centroid()?;
        Some(VolumeProperties {
            volume: area * 2.0 * self.half_height,
            centroid: self.frame.point([centroid.x, centroid.y, 0.0]),
        })
    }

    /// Integral of the dyad of positions from the centroid of the prism with sharp edges, in m⁵: polygon less circles, times
    /// height (exact).
    fn spread(&self) -> Option<Matrix3<f64>> {
        let (area, centroid) = self.area_and_centroid()?;
        let mut plane = outline::second_moment(&self.outline, centroid);
        for hole in &self.holes {
            let circle = PI * hole.radius.powi(2);
            let arm = hole.centre - centroid;
            plane -= Matrix2::identity() * (circle * hole.radius.powi(2) / 4.0);
            plane -= arm * arm.transpose() * circle;
        }
        let height = 2.0 * self.half_height;
        let mut components = Matrix3::zeros();
        components
            .fixed_view_mut::<2, 2>(0, 0)
            .copy_from(&(plane * height));
        components[(2, 2)] = area * height * self.half_height.powi(2) / 3.0;
        Some(self.frame.matrix(&components))
    }
}

impl Prism {
    /// A prism over a counter-clockwise polygon; `None` unless the polygon is simple. Holes that are not wholly within the
    /// polygon and clear of the holes before them are left out.
    pub(super) fn new(frame: Frame, outline: Vec<Corner>, height: f64) -> Option<Self> {
        let outline = outline::tidy(outline);
        let (area, _) = outline::area_and_centroid(&outline)?;
        let sound = area > 0.0 && height > 0.0 && outline::is_simple(&outline);
        sound.then(|| Self {
            frame,
            chamfered: vec![true; outline.len()],
            smallest: outline::smallest_extent(&outline).min(height),
            outline,
            holes: Vec::new(),
            half_height: height / 2.0,
        })
    }

    /// The prism with chamfers that suit material of a thickness that its outline does not show.
    pub(super) fn of_thickness(mut self, thickness: f64) -> Self {
        self.smallest = self.smallest.min(thickness);
        self
    }

    /// The prism with chamfers on the marked sides only.
    pub(super) fn chamfered_at(mut self, sides: &[bool]) -> Self {
        if sides.len() == self.outline.len() {
            self.chamfered = sides.to_vec();
        }
        self
    }

    /// Drills a hole; one that is not wholly within the outline and clear of the others is left out.
    pub(super) fn drill(&mut self, hole: RoundHole) {
        let within = outline::depth(&self.outline, hole.centre) > hole.radius;
        let clear = self
            .holes
            .iter()
            .all(|other| (other.centre - hole.centre).norm() > other.radius + hole.radius);
        if within && clear {
            self.holes.push(hole);
        }
    }

    /// Of the polygon less its holes.
    fn area_and_centroid(&self) -> Option<(f64, Corner)> {
        let (mut area, centroid) = outline::area_and_centroid(&self.outline)?;
        let mut moment = centroid * area;
        for hole in &self.holes {
            let circle = PI * hole.radius.powi(2);
            area -= circle;
            moment -= hole.centre * circle;
        }
        Some((area, moment / area))
    }

    fn sharp_cut(&self) -> Cut {
        Cut {
            wall: MarkedPolygon::new(&self.outline, &self.chamfered),
            cap: self.outline.clone(),
            chamfer: 0.0,
        }
    }

    /// The polygons of the chamfered prism; `None` where there is no room for chamfers.
    fn chamfered_cut(&self, chamfer: f64) -> Option<Cut> {
        let wall = MarkedPolygon::cut(&self.outline, &self.chamfered, chamfer);
        let cap = outline::inset(&wall.corners, &wall.chamfered, chamfer)?;
        let room = |hole: &RoundHole| {
            let others = self
                .holes
                .iter()
                .filter(|other| other.centre != hole.centre);
            let clear = others
                .map(|other| (other.centre - hole.centre).norm() - other.radius)
                .fold(outline::depth(&cap, hole.centre), f64::min);
            clear > hole.radius + 2.0 * chamfer
        };
        let sound = outline::is_simple(&cap) && self.holes.iter().all(room);
        sound.then_some(Cut { wall, cap, chamfer })
    }

    /// Triangles of the cap; of several starts of the circles, the first that leaves no corner out.
    fn cap(&self, cut: &Cut, around: usize) -> Option<Cap> {
        let mut last = None;
        for phase in PHASES {
            let cap = self.cap_at(cut, around, phase);
            let expected = cap.corners.len() + 2 * self.holes.len() - 2;
            let whole = cap.triangles.len() == expected;
            last = Some(cap);
            if whole {
                break;
            }
        }
        last.filter(|cap| !cap.triangles.is_empty())
    }

    fn cap_at(&self, cut: &Cut, around: usize, phase: f64) -> Cap {
        let mut corners: Vec<[f64; 2]> = cut.cap.iter().map(|&corner| corner.into()).collect();
        let mut starts = Vec::new();
        for hole in &self.holes {
            starts.push(corners.len() as u32);
            let ring = circle(hole, hole.radius + cut.chamfer, phase, around);
            corners.extend(ring.map(|(point, _)| <[f64; 2]>::from(point)));
        }
        let mut indices: Vec<u32> = Vec::new();
        earcut::Earcut::new().earcut(corners.iter().copied(), &starts, &mut indices);
        let mut triangles: Vec<[u32; 3]> = indices
            .chunks_exact(3)
            .map(|t| [t[0], t[1], t[2]])
            .collect();
        let at = |i: u32| Corner::from(corners[i as usize]);
        let twice_area: f64 = triangles
            .iter()
            .map(|&[a, b, c]| (at(b) - at(a)).perp(&(at(c) - at(a))))
            .sum();
        if twice_area < 0.0 {
            triangles.iter_mut().for_each(|triangle| triangle.reverse());
        }
        Cap {
            corners,
            triangles,
            phase,
        }
    }

    fn draw_caps(&self, cap: &Cap, surface: &mut Surface) {
        let at = |height: f64| {
            cap.corners
                .iter()
                .map(move |&[x, y]| self.frame.point([x, y, height]))
        };
        let up = self.frame.axes[2];
        let triangles = cap.triangles.iter();
        surface.face(at(self.half_height), up, triangles.clone().copied());
        let flipped = triangles.map(|&[a, b, c]| [c, b, a]);
        surface.face(at(-self.half_height), -up, flipped);
    }

    fn draw_walls(&self, cut: &Cut, surface: &mut Surface) {
        let (full, wall) = (self.half_height, self.half_height - cut.chamfer);
        let at = |corner: Corner, height: f64| self.frame.point([corner.x, corner.y, height]);
        let caps = outline::sides(&cut.cap);
        for (i, ((p, q), (s, t))) in outline::sides(&cut.wall.corners).zip(caps).enumerate() {
            surface.quad([at(p, -wall), at(q, -wall), at(q, wall), at(p, wall)]);
            if cut.chamfer > 0.0 {
                surface.quad([at(p, wall), at(q, wall), at(t, full), at(s, full)]);
                surface.quad([at(s, -full), at(t, -full), at(q, -wall), at(p, -wall)]);
            }
            surface.edge(at(p, wall), at(q, wall));
            surface.edge(at(p, -wall), at(q, -wall));
            if cut.wall.creases[i] {
                surface.edge(at(p, -wall), at(p, wall));
            }
        }
    }

    fn draw_hole(
        &self,
        hole: &RoundHole,
        cut: &Cut,
        phase: f64,
        around: usize,
        surface: &mut Surface,
    ) {
        let (full, wall) = (self.half_height, self.half_height - cut.chamfer);
        let ring = |radius: f64, height: f64, lean: f64| -> Vec<Vertex> {
            circle(hole, radius, phase, around)
                .map(|(point, out)| {
                    let normal = self.frame.vector([-out.x, -out.y, lean]).normalize();
                    (self.frame.point([point.x, point.y, height]), normal)
                })
                .collect()
        };
        let rim = |height: f64| ring(hole.radius, height, 0.0);
        surface.band(&rim(wall), &rim(-wall));
        if cut.chamfer > 0.0 {
            let wide = hole.radius + cut.chamfer;
            surface.band(&ring(wide, full, 1.0), &ring(hole.radius, wall, 1.0));
            surface.band(&ring(hole.radius, -wall, -1.0), &ring(wide, -full, -1.0));
        }
        for height in [wall, -wall] {
            let points: Vec<Point3<f64>> = rim(height).into_iter().map(|(p, _)| p).collect();
            surface.rim(&points);
        }
    }
}

/// Corners of a hole's circle, counter-clockwise, with the unit vectors away from its centre.
fn circle(
    hole: &RoundHole,
    radius: f64,
    phase: f64,
    around: usize,
) -> impl Iterator<Item = (Corner, Corner)> {
    let centre = hole.centre;
    (0..around).map(move |i| {
        let angle = std::f64::consts::TAU * (i as f64 + phase) / around as f64;
        let out = Corner::new(angle.cos(), angle.sin());
        (centre + out * radius, out)
    })
}
