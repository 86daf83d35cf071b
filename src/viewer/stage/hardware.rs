//! Support hardware as meshes: the solids of the portrayal, painted by what they move with.

use bevy::math::Affine3A;
use bevy::prelude::*;
use nalgebra::{Point3, Vector3};

use super::crossing::{StageFrame, vector};
use super::draft::{AROUND, Draft, frame};
use super::paint::{Paint, Palette, between};
use crate::portrayal::{Carrier, Piece, Shape, Station};
use crate::statics::Model;

/// Size of hardware, in units of the stage, where the body asks for no other.
pub(crate) const SIZE: f32 = 0.042;
/// Units of a portrayal in that size.
pub(crate) const UNITS: f32 = 3.5;
/// Radius of a cable, in units.
const CORD: f32 = 0.35;
/// Thickness of a piece of ground, in units.
const THICK: f32 = 2.1;

/// The straight part of a link or cable, which follows its body end.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rod {
    /// Ground end, in stage coordinates.
    pub ground: Vec3,
    /// Body end of the body as written.
    pub eye: Vec3,
    /// Radius.
    pub radius: f32,
}

impl Rod {
    /// Draws the rod from the origin along z with length 1, for [`Rod::follow`] to place.
    pub(crate) fn draw(&self, draft: &mut Draft) {
        draft.rod(Vec3::ZERO, Vec3::Z, self.radius);
    }

    fn turn(&self, eye: Vec3) -> Quat {
        Quat::from_rotation_arc(Vec3::Z, (eye - self.ground).normalize_or(Vec3::Z))
    }

    /// Placement of the drawn rod when its body end is at `eye`.
    pub(crate) fn follow(&self, eye: Vec3) -> Transform {
        Transform {
            translation: self.ground,
            rotation: self.turn(eye),
            scale: Vec3::new(1.0, 1.0, self.ground.distance(eye)),
        }
    }
}

/// What goes along with a body point without turning.
pub(crate) struct Rider {
    /// The body point, m.
    pub point: Point3<f64>,
    /// What is drawn.
    pub draft: Draft,
}

/// The hardware of all supports, by what it moves with.
pub(crate) struct Hardware {
    /// Stays.
    pub ground: Draft,
    /// Moves with the body.
    pub body: Draft,
    /// Goes along with body points.
    pub riders: Vec<Rider>,
    /// Turns between ground and body.
    pub rods: Vec<Rod>,
}

/// Draws pieces into copies of an empty draft; `unit` is that of the portrayal, in units of the stage.
pub(crate) fn draw(
    pieces: &[Piece<Shape>],
    model: &Model,
    (frame, palette): (&StageFrame, &Palette),
    empty: &Draft,
    unit: f32,
) -> Hardware {
    let mut hardware = Hardware {
        ground: empty.clone(),
        body: empty.clone(),
        riders: Vec::new(),
        rods: Vec::new(),
    };
    for piece in pieces {
        let of_link = model.supports[piece.support].ground.is_some();
        let (draft, colour) = match piece.carrier {
            Carrier::Rod { ground, eye } => {
                hardware.rods.push(Rod {
                    ground: frame.point(&ground),
                    eye: frame.point(&eye),
                    radius: match &piece.shape {
                        Shape::Rod { radius, .. } => frame.length(*radius),
                        _ => CORD * unit,
                    },
                });
                continue;
            }
            Carrier::Ground => (&mut hardware.ground, palette.hardware),
            Carrier::Body if of_link => (&mut hardware.body, palette.hardware),
            Carrier::Body => (&mut hardware.body, palette.body),
            Carrier::Point(point) => {
                let draft = empty.clone();
                hardware.riders.push(Rider { point, draft });
                let last = hardware.riders.len() - 1;
                (&mut hardware.riders[last].draft, palette.hardware)
            }
        };
        draft.within(Affine3A::IDENTITY).paint(Paint::solid(colour));
        let mut maker = Maker {
            draft,
            frame,
            palette,
            unit,
        };
        maker.draw(&piece.shape);
    }
    hardware
}

struct Maker<'a> {
    draft: &'a mut Draft,
    frame: &'a StageFrame,
    palette: &'a Palette,
    unit: f32,
}

impl Maker<'_> {
    fn draw(&mut self, shape: &Shape) {
        let frame = self.frame;
        let at = |point: &Point3<f64>| frame.point(point);
        let long = |metres: f64| frame.length(metres);
        match shape {
            Shape::Ball { centre, radius } => self.draft.ball(at(centre), long(*radius)),
            Shape::Eye {
                centre,
                pin,
                radius,
            } => {
                let (centre, pin, radius) = (at(centre), vector(pin), long(*radius));
                let half = pin * radius * 0.48;
                self.draft
                    .sleeve(centre - half, centre + half, radius * 0.45, radius);
                let half = pin * radius * 1.0;
                self.draft.rod(centre - half, centre + half, radius * 0.42);
            }
            Shape::Turned {
                from,
                axis,
                stations,
            } => {
                let (from, axis) = (at(from), vector(axis));
                let profile = profile(stations, long);
                self.draft.revolve(from, axis, &profile, AROUND, false);
            }
            Shape::Rod { ends, radius } => {
                self.draft.rod(at(&ends[0]), at(&ends[1]), long(*radius));
            }
            Shape::Cord { ends } => {
                let radius = CORD * self.unit;
                self.draft.rod(at(&ends[0]), at(&ends[1]), radius);
            }
            Shape::Ring {
                centre,
                axis,
                radii,
                width,
                square,
            } => {
                let (centre, axis) = (at(centre), vector(axis));
                let ([inner, outer], half) = (radii.map(long), long(*width) / 2.0);
                if *square {
                    self.square_ring(centre, axis, [inner, outer], half);
                } else {
                    let half = axis * half;
                    self.draft
                        .sleeve(centre - half, centre + half, inner, outer);
                }
            }
            Shape::Block { centre, halves } => {
                let centre = at(centre);
                let halves = halves.map(|half| vector(&(half / frame.size())));
                self.block(centre, halves);
            }
            Shape::Prism { outline, sweep } => {
                let outline: Vec<Vec3> = outline.iter().map(at).collect();
                let sweep = vector(&(sweep / frame.size()));
                self.prism(&outline, sweep);
            }
            Shape::Ground {
                centre,
                axes,
                spans,
                ..
            } => self.ground(centre, axes, spans),
        }
    }

    /// Box with half its edges, in any order.
    fn block(&mut self, centre: Vec3, [x, y, z]: [Vec3; 3]) {
        let z = if x.cross(y).dot(z) < 0.0 { -z } else { z };
        let axes = [x, y, z].map(Vec3::normalize_or_zero);
        let place = frame(centre, axes[0], axes[1], axes[2], 1.0);
        let half = Vec3::new(x.length(), y.length(), z.length());
        self.draft.within(place).block(Vec3::ZERO, half);
        self.draft.within(Affine3A::IDENTITY);
    }

    /// Square housing around a square hole: four bars.
    fn square_ring(&mut self, centre: Vec3, axis: Vec3, [inner, outer]: [f32; 2], half: f32) {
        let [x, y] = crate::portrayal::across(&Vector3::new(
            f64::from(axis.x),
            f64::from(axis.y),
            f64::from(axis.z),
        ))
        .map(|way| vector(&way));
        let (wall, middle) = ((outer - inner) / 2.0, (outer + inner) / 2.0);
        for side in [-1.0, 1.0] {
            let along = axis * half;
            self.block(centre + y * side * middle, [along, x * outer, y * wall]);
            self.block(centre + x * side * middle, [along, y * inner, x * wall]);
        }
    }

    /// Flat convex outline and the same some way on.
    fn prism(&mut self, outline: &[Vec3], sweep: Vec3) {
        let turn: Vec3 = (1..outline.len() - 1)
            .map(|i| (outline[i] - outline[0]).cross(outline[i + 1] - outline[0]))
            .sum();
        let mut near = outline.to_vec();
        // Counter-clockwise seen from the side to which it is swept.
        if turn.dot(sweep) < 0.0 {
            near.reverse();
        }
        let far: Vec<Vec3> = near.iter().map(|point| *point + sweep).collect();
        self.draft.polygon(&far);
        for i in 0..near.len() {
            let j = (i + 1) % near.len();
            self.draft.polygon(&[near[i], near[j], far[j], far[i]]);
        }
        near.reverse();
        self.draft.polygon(&near);
    }

    /// A slab of ground below its surface, with slanting strokes on its four sides.
    fn ground(&mut self, centre: &Point3<f64>, axes: &[Vector3<f64>; 2], spans: &[[f64; 2]; 2]) {
        let middle = |k: usize| axes[k] * ((spans[k][0] + spans[k][1]) / 2.0);
        let top = self.frame.point(&(centre + middle(0) + middle(1)));
        let half = |k: usize| self.frame.length((spans[k][1] - spans[k][0]) / 2.0);
        let (half, [x, y]) = (Vec2::new(half(0), half(1)), axes.each_ref().map(vector));
        let up = x.cross(y);
        let thick = THICK * self.unit;
        self.draft.paint(Paint::solid(self.palette.ground));
        let centre = top - up * (thick / 2.0);
        self.block(centre, [x * half.x, y * half.y, up * (thick / 2.0)]);
        let stroke = between(self.palette.ground, self.palette.background, 0.75);
        self.draft.paint(Paint::solid(stroke));
        for (way, out, length, depth) in [(x, y, half.x, half.y), (y, x, half.y, half.x)] {
            self.hatch(centre, [way, out, up], length, depth);
        }
    }

    /// Slanting strokes on the two sides that face along `out`.
    fn hatch(&mut self, centre: Vec3, [way, out, up]: [Vec3; 3], length: f32, depth: f32) {
        const PITCH: f32 = 1.47;
        const WIDTH: f32 = 0.52;
        const LIFT: f32 = 0.07;
        let [pitch, width, lift, half] = [PITCH, WIDTH, LIFT, THICK / 2.0].map(|u| u * self.unit);
        let count = ((2.0 * length - half * 1.6) / pitch).floor().max(1.0) as usize;
        let start = -(count as f32 - 1.0) / 2.0 * pitch;
        for i in 0..count {
            let middle = start + i as f32 * pitch;
            let corner = |along: f32, height: f32| way * (middle + along) + up * height;
            let outline = [
                corner(-half * 0.8 - width / 2.0, -half * 0.98),
                corner(-half * 0.8 + width / 2.0, -half * 0.98),
                corner(half * 0.8 + width / 2.0, half * 0.8),
                corner(half * 0.8 - width / 2.0, half * 0.8),
            ];
            for side in [-1.0, 1.0] {
                let out = out * side;
                let mut face = outline.map(|corner| centre + corner + out * (depth + lift));
                // Counter-clockwise seen from outside.
                if (face[1] - face[0]).cross(face[2] - face[0]).dot(out) < 0.0 {
                    face.reverse();
                }
                self.draft.polygon(&face);
            }
        }
    }
}

/// The profile of a turned piece, closed at both ends.
fn profile(stations: &[Station], long: impl Fn(f64) -> f32) -> Vec<(f32, f32)> {
    let ends = [stations.first(), stations.last()].map(|end| end.map(|end| (long(end.along), 0.0)));
    let between = stations
        .iter()
        .map(|station| (long(station.along), long(station.radius)));
    let [first, last] = ends;
    first.into_iter().chain(between).chain(last).collect()
}
