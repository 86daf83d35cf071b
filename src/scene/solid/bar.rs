//! Round bar along a path with rounded bends: straight cylinders and pieces of torus.
//!
//! A bend takes up at most half of a leg that another bend also needs, and all of it otherwise. Where legs leave less room
//! than the bar's own radius, the inner side of the bend folds into the material: volume and centroid then follow the
//! centre line, as for any thin rod. A path that runs back on itself turns on the spot, its double part counted twice.

use std::f64::consts::{PI, TAU};

use nalgebra::{Matrix3, Point3, Rotation3, Unit, Vector3};

use super::centre_line::{CentreLine, CentreLinePiece};
use super::locate::SolidPlaces;
use super::round::RoundPart;
use super::surface::{Surface, Vertex, any_square_to, unit};
use super::{Finish, SolidPiece, VolumeProperties};
use crate::scene::BentBar;

/// Bend radius of the centre line where none is written, in diameters.
const USUAL_BEND: f64 = 1.5;

/// Turns smaller than this are none; turns closer than this to a half turn run back on themselves in radians.
const NO_TURN: f64 = 1e-6;

/// Parts of a bar shorter than this part of it are none.
const NO_LENGTH: f64 = 1e-9;

/// Bar in SI units.
pub(super) struct BarPiece {
    radius: f64,
    /// Straight parts, one per leg; possibly of length 0.
    legs: Vec<[Point3<f64>; 2]>,
    /// Bends between successive legs; `None` where the path runs straight on.
    bends: Vec<Option<Bend>>,
    /// Direction of each leg.
    ways: Vec<Vector3<f64>>,
}

/// Circular bend of the centre line.
struct Bend {
    centre: Point3<f64>,
    radius: f64,
    axis: Unit<Vector3<f64>>,
    angle: f64,
    /// Unit vector from the centre to the start of the bend.
    start: Vector3<f64>,
}

/// A turn of the path before its radius is known.
struct CornerTurn {
    angle: f64,
    axis: Unit<Vector3<f64>>,
    /// Length of leg per bend radius, on both sides.
    length_per_radius: f64,
}

impl BarPiece {
    /// `None` for unknown places, a path of less than two different points, or a diameter that is not above 0.
    pub(super) fn resolve(places: &SolidPlaces, bar: &BentBar) -> Option<Self> {
        let diameter = places.length(bar.diameter)?;
        let bend_radius = match bar.bend_radius {
            Some(written) => places.length_or_zero(written),
            None => USUAL_BEND * diameter,
        };
        let mut path: Vec<_> = bar
            .path
            .iter()
            .map(|place| places.point(place))
            .collect::<Option<_>>()?;
        path.dedup();
        let ways: Vec<_> = path
            .windows(2)
            .map(|ends| unit(ends[1] - ends[0]))
            .collect::<Option<_>>()?;
        (!ways.is_empty()).then(|| Self::along(&path, ways, diameter / 2.0, bend_radius))
    }

    fn along(path: &[Point3<f64>], ways: Vec<Vector3<f64>>, radius: f64, bend_radius: f64) -> Self {
        let turns: Vec<_> = ways.windows(2).map(|w| turn(&w[0], &w[1])).collect();
        let lengths: Vec<_> = path.windows(2).map(|p| (p[1] - p[0]).norm()).collect();
        let taken = share_legs(&turns, &lengths, bend_radius);
        let mut legs: Vec<_> = path.windows(2).map(|p| [p[0], p[1]]).collect();
        let mut bends = Vec::with_capacity(turns.len());
        for (i, turn) in turns.into_iter().enumerate() {
            legs[i][1] -= ways[i] * taken[i];
            legs[i + 1][0] += ways[i + 1] * taken[i];
            bends.push(turn.map(|turn| turn.bend(legs[i][1], &ways[i], taken[i])));
        }
        Self {
            radius,
            legs,
            bends,
            ways,
        }
    }
}

impl BarPiece {
    /// Its centre line; legs of no length and bends on the spot are left out.
    pub(super) fn centre_line(&self) -> CentreLine {
        let mut pieces = Vec::with_capacity(2 * self.legs.len());
        let bends = self.bends.iter().flatten();
        let bent: f64 = bends.map(|bend| bend.radius * bend.angle).sum();
        let straight: f64 = self.legs.iter().map(|[from, to]| (to - from).norm()).sum();
        for (i, [from, to]) in self.legs.iter().enumerate() {
            // What bends leave of a leg may be rounding.
            if (to - from).norm() > NO_LENGTH * (bent + straight) {
                pieces.push(CentreLinePiece::Straight { ends: [*from, *to] });
            }
            let bend = self.bends.get(i).and_then(Option::as_ref);
            pieces.extend(bend.filter(|bend| bend.radius > 0.0).map(|bend| {
                CentreLinePiece::Bend {
                    centre: bend.centre,
                    start: bend.start * bend.radius,
                    axis: bend.axis,
                    angle: bend.angle,
                }
            }));
        }
        CentreLine {
            pieces,
            radius: self.radius,
        }
    }
}

/// How the path turns from one leg into the next; `None` where it runs straight on.
fn turn(before: &Vector3<f64>, after: &Vector3<f64>) -> Option<CornerTurn> {
    let across = before.cross(after);
    let angle = across.norm().atan2(before.dot(after));
    if angle < NO_TURN {
        return None;
    }
    let back = angle > PI - NO_TURN;
    let axis = match back {
        true => any_square_to(before),
        false => across,
    };
    Some(CornerTurn {
        angle,
        axis: Unit::new_normalize(axis),
        length_per_radius: if back { 0.0 } else { (angle / 2.0).tan() },
    })
}

impl CornerTurn {
    fn bend(&self, from: Point3<f64>, way: &Vector3<f64>, taken: f64) -> Bend {
        let radius = match self.length_per_radius > 0.0 {
            true => taken / self.length_per_radius,
            false => 0.0,
        };
        let inward = self.axis.cross(way);
        Bend {
            centre: from + inward * radius,
            radius,
            axis: self.axis,
            angle: self.angle,
            start: -inward,
        }
    }
}

impl Bend {
    /// Integral of the dyad of positions from a point over a piece of torus, in m⁵, given the area of its section and a
    /// quarter of the square of its radius.
    fn spread_about(&self, point: &Point3<f64>, area: f64, square: f64) -> Matrix3<f64> {
        let dyad = |v: &Vector3<f64>| v * v.transpose();
        let half = self.angle / 2.0;
        let middle = Rotation3::from_axis_angle(&self.axis, half) * self.start;
        let across = self.axis.cross(&middle);
        let sine = self.angle.sin();
        let out = dyad(&middle) * ((self.angle + sine) / 2.0)
            + dyad(&across) * ((self.angle - sine) / 2.0);
        let own = out * (self.radius.powi(3) + 3.0 * self.radius * square)
            + dyad(&self.axis) * (self.radius * square * self.angle);
        let moment = middle * ((self.radius.powi(2) + square) * 2.0 * half.sin());
        let arm = self.centre - point;
        let volume = self.radius * self.angle;
        let mixed = moment * arm.transpose();
        (own + mixed + mixed.transpose() + dyad(&arm) * volume) * area
    }
}

/// Length of leg that each bend takes up on both sides.
fn share_legs(turns: &[Option<CornerTurn>], lengths: &[f64], bend_radius: f64) -> Vec<f64> {
    let wanted = |i: usize| match turns.get(i) {
        Some(Some(turn)) => turn.length_per_radius * bend_radius,
        _ => 0.0,
    };
    // Room on a leg for one bend when the bend at the other end wants `other`.
    let room = |leg: usize, other: f64| (lengths[leg] / 2.0).max(lengths[leg] - other);
    (0..turns.len())
        .map(|i| {
            let before = if i == 0 { 0.0 } else { wanted(i - 1) };
            wanted(i)
                .min(room(i, before))
                .min(room(i + 1, wanted(i + 1)))
        })
        .collect()
}

/// Cross-section of the drawn bar: centre and two unit vectors, right-handed with the way along the bar.
#[derive(Clone, Copy)]
struct Section {
    centre: Point3<f64>,
    u: Vector3<f64>,
    v: Vector3<f64>,
}

impl Section {
    /// Vertices around the section, with normals leaning along the bar by `lean`.
    fn ring(&self, radius: f64, lean: f64, around: usize) -> Vec<Vertex> {
        let along = self.u.cross(&self.v) * lean;
        (0..around)
            .map(|i| {
                let (sin, cos) = (TAU * i as f64 / around as f64).sin_cos();
                let out = self.u * cos + self.v * sin;
                (self.centre + out * radius, (out + along).normalize())
            })
            .collect()
    }

    fn turned(&self, bend: &Bend, angle: f64) -> Self {
        let turn = Rotation3::from_axis_angle(&bend.axis, angle);
        Self {
            centre: bend.centre + turn * (bend.start * bend.radius),
            u: turn * self.u,
            v: turn * self.v,
        }
    }
}

impl BarPiece {
    /// Sections along the whole bar, carried without twist; the first and last are its ends.
    fn sections(&self, around: usize) -> Vec<Section> {
        let u = any_square_to(&self.ways[0]);
        let mut section = Section {
            centre: self.legs[0][0],
            u,
            v: self.ways[0].cross(&u),
        };
        let mut sections = Vec::new();
        for (i, leg) in self.legs.iter().enumerate() {
            for end in leg {
                section.centre = *end;
                sections.push(section);
            }
            let Some(Some(bend)) = self.bends.get(i) else {
                continue;
            };
            let steps = (around as f64 * 1.5 * bend.angle / TAU).ceil().max(1.0) as usize;
            let before = section;
            for step in 1..=steps {
                section = before.turned(bend, bend.angle * step as f64 / steps as f64);
                sections.push(section);
            }
        }
        sections
    }

    fn chamfer(&self, finish: Finish, leg: &[Point3<f64>; 2]) -> f64 {
        (finish.chamfer * 2.0 * self.radius).min((leg[1] - leg[0]).norm() / 4.0)
    }
}

impl SolidPiece for BarPiece {
    fn draw(&self, finish: Finish, surface: &mut Surface) -> Option<()> {
        let around = finish.around;
        let mut sections = self.sections(around);
        let (first, last) = (0, sections.len().checked_sub(1)?);
        let near = self.chamfer(finish, self.legs.first()?);
        let far = self.chamfer(finish, self.legs.last()?);
        let (near_way, far_way) = (*self.ways.first()?, *self.ways.last()?);
        for (end, chamfer, inward) in [(first, near, near_way), (last, far, -far_way)] {
            let section = sections[end];
            let lean = -inward.dot(&section.u.cross(&section.v));
            let small = section.ring(self.radius - chamfer, lean, around);
            sections[end].centre += inward * chamfer;
            let large = sections[end].ring(self.radius, lean, around);
            match end == first {
                true => surface.band(&small, &large),
                false => surface.band(&large, &small),
            }
            let mut rim: Vec<_> = small.iter().map(|(point, _)| *point).collect();
            if end == first {
                rim.reverse();
            }
            surface.cap(section.centre, &rim, -inward);
            surface.rim(&large.iter().map(|(point, _)| *point).collect::<Vec<_>>());
        }
        for pair in sections.windows(2) {
            let [near, far] = [0, 1].map(|i| pair[i].ring(self.radius, 0.0, around));
            surface.band(&near, &far);
        }
        Some(())
    }

    /// Cylinders and torus pieces with sharp ends: exact where every bend radius is at least the bar's own radius.
    ///
    /// Source: volume by the second theorem of Pappus; centroid of a torus piece derived from it: with section area A, the
    /// moment about the bend's centre is A (R² + r²/4) · 2 sin(θ/2) towards the middle of the bend, since the mean square
    /// distance of the section from the bend's axis is R² + r²/4.
    fn mass_properties(&self) -> Option<VolumeProperties> {
        let area = PI * self.radius * self.radius;
        let origin = self.legs.first()?[0];
        let (mut volume, mut moment) = (0.0, Vector3::zeros());
        for [from, to] in &self.legs {
            let piece = area * (to - from).norm();
            volume += piece;
            moment += (nalgebra::center(from, to) - origin) * piece;
        }
        for bend in self.bends.iter().flatten() {
            let piece = area * bend.radius * bend.angle;
            let square = bend.radius.powi(2) + self.radius.powi(2) / 4.0;
            let half = bend.angle / 2.0;
            let towards = Rotation3::from_axis_angle(&bend.axis, half) * bend.start;
            volume += piece;
            moment += (bend.centre - origin) * piece;
            moment += towards * (area * square * 2.0 * half.sin());
        }
        Some(VolumeProperties {
            volume,
            centroid: origin + moment / volume,
        })
    }

    /// Cylinders and torus pieces, as the volume.
    ///
    /// Source: derived as the centroid is. Of the positions from a bend's centre, with s towards the outside and t along the
    /// bend's axis from the centre line, the section's integrals of (R + s)³ and t² (R + s) are A (R³ + 3 R r² / 4) and
    /// A R r² / 4; along the bend, the dyads of the way out add up to (θ ± sin θ) / 2 towards its middle and across.
    fn spread(&self) -> Option<Matrix3<f64>> {
        let centre = self.mass_properties()?.centroid;
        let square = self.radius.powi(2) / 4.0;
        let area = PI * self.radius.powi(2);
        let mut spread = Matrix3::zeros();
        for ([from, to], way) in self.legs.iter().zip(&self.ways) {
            let length = (to - from).norm();
            let leg = VolumeProperties {
                volume: area * length,
                centroid: nalgebra::center(from, to),
            };
            let along = way * way.transpose();
            let own = (Matrix3::identity() - along) * square + along * (length.powi(2) / 12.0);
            spread += leg.spread_about(&centre, own * leg.volume);
        }
        for bend in self.bends.iter().flatten() {
            spread += bend.spread_about(&centre, area, square);
        }
        Some(spread)
    }

    fn round_parts(&self) -> Vec<RoundPart> {
        let part = |([from, to], way): (&[Point3<f64>; 2], &Vector3<f64>)| RoundPart {
            centre: nalgebra::center(from, to),
            axis: *way,
            half_length: (to - from).norm() / 2.0,
            radius: self.radius,
        };
        self.legs.iter().zip(&self.ways).map(part).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use crate::scene::solid::testing::{check, scene, spatial};
    use crate::scene::solid::{Finish, of_shape, of_shape_with};
    use crate::scene::{BarSection, BentBar, Shape};

    fn bar(path: &[[f64; 3]], diameter: f64, bend_radius: Option<f64>) -> Shape {
        Shape::BentBar(BentBar {
            path: path.iter().copied().map(spatial).collect(),
            diameter,
            bend_radius,
            section: BarSection::Solid,
        })
    }

    const ELBOW: [[f64; 3]; 3] = [[2.0, 0.0, 0.0], [0.0, 0.0, 0.0], [0.0, 3.0, 0.0]];

    #[test]
    fn a_straight_bar_is_a_cylinder() {
        let path = [[0.0, 0.0, 0.0], [1.0, 1.0, 1.0], [3.0, 3.0, 3.0]];
        let bulk = check(&scene(), &bar(&path, 0.2, None), 1e-3);
        assert!((bulk.volume - PI * 0.01 * 27.0_f64.sqrt()).abs() < 1e-12);
        assert!((bulk.centroid - nalgebra::point![1.5, 1.5, 1.5]).norm() < 1e-12);
    }

    /// By hand: legs 1.5 and 2.5 long, a quarter circle of radius 0.5.
    #[test]
    fn an_elbow_is_two_cylinders_and_a_quarter_torus() {
        let bulk = check(&scene(), &bar(&ELBOW, 0.2, Some(0.5)), 1e-3);
        let area = PI * 0.01;
        assert!((bulk.volume - area * (4.0 + PI / 4.0)).abs() < 1e-12);
        let bend_moment = 0.5 * PI / 4.0 - (0.25 + 0.0025);
        let x = (1.5 * 1.25 + bend_moment) / (4.0 + PI / 4.0);
        assert!((bulk.centroid.x - x).abs() < 1e-12, "{bulk:?}");
    }

    #[test]
    fn bends_in_space_and_around_a_frame_stay_closed() {
        let spiral = [
            [0.0, 0.0, 0.0],
            [2.0, 0.0, 0.0],
            [2.0, 2.0, 0.0],
            [2.0, 2.0, 2.0],
            [0.0, 0.5, 2.0],
        ];
        check(&scene(), &bar(&spiral, 0.2, None), 1e-3);
        let frame = [
            [0.0, 0.0, 0.0],
            [2.0, 0.0, 0.0],
            [2.0, 1.0, 0.0],
            [0.0, 1.0, 0.0],
            [0.0, 0.15, 0.0],
        ];
        check(&scene(), &bar(&frame, 0.2, None), 1e-3);
    }

    /// The second leg is 0.4 long and shared by two bends: 0.2 for each.
    #[test]
    fn short_legs_are_rounded_as_far_as_they_allow() {
        let path = [
            [0.0, 0.0, 0.0],
            [2.0, 0.0, 0.0],
            [2.0, 0.4, 0.0],
            [4.0, 0.4, 0.0],
        ];
        let bulk = check(&scene(), &bar(&path, 0.2, None), 1e-3);
        let length = 2.0 * 1.8 + 0.2 * PI;
        assert!((bulk.volume - PI * 0.01 * length).abs() < 1e-12);
    }

    #[test]
    fn sharp_bends_and_reversals_keep_a_closed_mesh_and_the_centre_line_volume() {
        let back = [[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [0.5, 0.0, 0.0]];
        for (shape, length) in [
            (bar(&ELBOW, 0.2, Some(0.0)), 5.0),
            (bar(&back, 0.2, None), 3.5),
        ] {
            let bulk = crate::scene::solid::bulk_of_shape(&scene(), &shape).unwrap();
            assert!((bulk.volume - PI * 0.01 * length).abs() < 1e-12);
            let solid = of_shape_with(&scene(), &shape, Finish::SHARP).unwrap();
            crate::scene::solid::testing::assert_balanced(&solid);
            let mesh = crate::scene::solid::testing::mesh_bulk(&solid);
            assert!((mesh.volume / bulk.volume - 1.0).abs() < 0.02, "{mesh:?}");
        }
    }

    #[test]
    fn paths_without_length_give_no_solid() {
        for path in [&[][..], &[[1.0; 3]][..], &[[1.0; 3], [1.0; 3]][..]] {
            assert!(of_shape(&scene(), &bar(path, 0.2, None)).is_none());
        }
        let endless = bar(&[[0.0; 3], [f64::INFINITY, 0.0, 0.0]], 0.2, None);
        assert!(of_shape(&scene(), &endless).is_none());
    }
}
