//! The whole picture of a scene as drafts, before anything is handed to the renderer.

use bevy::prelude::*;
use nalgebra::Point3;

use super::body::BodySurface;
use super::crossing::StageFrame;
use super::draft::Draft;
use super::hardware::{self, Hardware, Rider, Rod};
use super::paint::{Light, Paint, Palette, between};
use super::strokes::Group;
use super::swing::distance_from_axis;
use super::{arrows, axis, floor, loads, object, sweep};
use crate::motion::{Course, Selection, Sides, default_swing};
use crate::portrayal::Layout;
use crate::scene::solid::Solid;
use crate::scene::{Space, solid};
use crate::statics::{AppliedLoad, FreeMotion, Model};
use crate::viewer::framing::Bounds;
use crate::viewer::state::{Label, LabelRole, Look, Shown};

/// Everything that is drawn of a scene, in stage coordinates.
pub(crate) struct Composition {
    /// How the scene maps onto the stage.
    pub frame: StageFrame,
    /// What stays: hardware on the ground, the floor.
    pub still: Draft,
    /// What moves with the body: its surface and its side of the hardware.
    pub moving: Draft,
    /// What moves, as a shadow on the floor; empty without a floor.
    pub shadow: Draft,
    /// Height of the floor.
    pub floor: f32,
    /// The body as a ghost at an end of its swing; empty where nothing moves.
    pub ghost: Draft,
    /// Rods of links and cables.
    pub rods: Vec<Rod>,
    /// Rollers, wheels and shoes.
    pub riders: Vec<Rider>,
    /// Colour and light of the rods.
    pub rod_paint: Paint,
    /// Strokes.
    pub groups: Vec<Group>,
    /// Names that belong to no stroke.
    pub labels: Vec<Label>,
    /// What must be in view.
    pub bounds: Bounds,
    /// Default swing of the selected motion, rad or m; 0 where nothing moves.
    pub swing: f64,
    /// Parts of the swing at its ends, of which one is 0 where it goes to one side.
    pub ends: [f64; 2],
}

impl Composition {
    /// Composes a scene; `amplitude` is relative to the default swing.
    pub(crate) fn new(shown: &Shown, look: &Look, amplitude: f64) -> Self {
        let palette = Palette::named(look.theme);
        let solids = solid::of_body(shown.written.scene());
        let body_points: Vec<Point3<f64>> =
            solids.iter().flat_map(|s| s.positions.clone()).collect();
        let extent = extent(shown.study.model(), shown.case, &body_points);
        let frame = StageFrame::around(&extent, shown.study.model().space);
        let body = BodySurface::new(&solids, &frame);
        let light = Light::from_above(frame.up(), frame.front());
        let mut composition = Self {
            frame,
            still: Draft::new(light),
            moving: Draft::new(light),
            shadow: Draft::new(light),
            floor: 0.0,
            ghost: Draft::new(light),
            rods: Vec::new(),
            riders: Vec::new(),
            rod_paint: Paint::solid(palette.hardware),
            groups: Vec::new(),
            labels: Vec::new(),
            bounds: Bounds::default(),
            swing: 0.0,
            ends: Sides::Both.ends(),
        };
        composition.find_swing(shown, &body_points);
        composition.add_solids(shown, &solids, &body, amplitude, &palette);
        composition.add_strokes(shown, look, &body, &body_points, amplitude, &palette);
        composition.add_floor(shown.study.model().space, &body, &palette);
        composition.fit(shown, amplitude);
        composition
    }

    fn find_swing(&mut self, shown: &Shown, body_points: &[Point3<f64>]) {
        let Some(course) = shown.course() else {
            return;
        };
        let motion = course.motion;
        let [back, ahead] = course.range();
        let swing = default_swing(motion, reach(motion, body_points), self.frame.size());
        self.swing = swing.min(ahead.max(-back));
        self.ends = course.sides().ends();
    }

    /// Body and hardware, each support with its name; a link on trial has none yet.
    fn add_solids(
        &mut self,
        shown: &Shown,
        solids: &[Solid],
        body: &BodySurface,
        amplitude: f64,
        palette: &Palette,
    ) {
        let unit = hardware_size(body) / hardware::UNITS;
        let course = shown.course();
        let swing: Vec<_> = course.as_ref().map_or_else(Vec::new, |_| {
            let part = |eighth: i32| f64::from(eighth) / 8.0;
            let parts = (-8..=8).map(part);
            let inside = parts.filter(|part| self.ends.contains(&part.signum()) || *part == 0.0);
            inside
                .map(|part| shown.pose(part, amplitude * self.swing))
                .collect()
        });
        let layout = Layout {
            model: shown.study.model(),
            body: solids,
            course: course.as_ref(),
            swing: &swing,
            unit: f64::from(unit) * self.frame.size(),
            thickest: LARGEST,
        };
        let trial = shown.trial().map(|link| link.name.as_str());
        let mut pieces = layout.solids();
        pieces.retain(|piece| {
            Some(shown.study.model().supports[piece.support].name.as_str()) != trial
        });
        let empty = self.still.clone();
        let looks = (&self.frame, palette);
        let Hardware {
            ground,
            body: moving,
            riders,
            rods,
        } = hardware::draw(&pieces, shown.study.model(), looks, &empty, unit);
        (self.still, self.moving, self.riders, self.rods) = (ground, moving, riders, rods);
        body.draw(&mut self.moving, Paint::solid(palette.body));
        self.add_names(shown, &layout.feet(), f64::from(unit) * self.frame.size());
    }

    /// Sentences mean the point of the body by the name; others stand below their ground.
    fn add_names(&mut self, shown: &Shown, feet: &[Point3<f64>], unit: f64) {
        let trial = shown.trial().map(|link| link.name.as_str());
        for (index, (support, foot)) in shown.study.model().supports.iter().zip(feet).enumerate() {
            if Some(support.name.as_str()) == trial {
                continue;
            }
            // A link has its ground elsewhere.
            let held_from_afar = support.ground.is_some();
            let down = (foot - support.point).try_normalize(0.0);
            let below = foot + down.unwrap_or_default() * (BELOW * unit);
            self.labels.push(Label {
                text: support.name.clone(),
                at: match held_from_afar {
                    true => shown.study.model().name_place(index),
                    false => below,
                },
                moves: held_from_afar,
                role: LabelRole::Support,
            });
        }
    }

    fn add_strokes(
        &mut self,
        shown: &Shown,
        look: &Look,
        body: &BodySurface,
        body_points: &[Point3<f64>],
        amplitude: f64,
        palette: &Palette,
    ) {
        let model = shown.study.model();
        if look.reactions {
            let answer = shown.study.diagnosis().cases.get(shown.case);
            let answer = answer.filter(|answer| answer.loaded);
            let pointed = shown.pointed_reactions();
            let groups = arrows::reactions(model, answer, &pointed, &self.frame, palette);
            self.groups.extend(groups);
        }
        self.groups
            .extend(object::pointed(shown, &self.frame, palette));
        if look.loads {
            let groups = loads::loads(model, shown.case, body, &self.frame, palette);
            self.groups.extend(groups);
        }
        let Some(course) = shown.course() else {
            return;
        };
        if look.motion {
            self.add_motion(shown, &course, body, body_points, amplitude, palette);
        }
    }

    fn add_motion(
        &mut self,
        shown: &Shown,
        course: &Course,
        body: &BodySurface,
        body_points: &[Point3<f64>],
        amplitude: f64,
        palette: &Palette,
    ) {
        let shared = shown
            .study
            .diagnosis()
            .shared_axes
            .iter()
            .find(|axis| Selection::Free(axis.motion) == shown.motion);
        let mut seen = extremes(self.still.positions());
        seen.extend(extremes(self.moving.positions()));
        let strokes = self.groups.iter().map(|group| &group.draft);
        let busy: Vec<Vec3> = strokes
            .flat_map(|draft| extremes(draft.positions()))
            .collect();
        let frame = &self.frame;
        self.groups.extend(axis::axis(
            shown.study.model(),
            course,
            shared,
            &seen,
            frame,
            palette,
        ));
        let swing = self.swing * amplitude;
        self.groups.push(sweep::sweep(
            shown,
            course,
            swing,
            body_points,
            &busy,
            frame,
            palette,
        ));
        let ghost = if palette.background.luminance() < 0.5 {
            between(palette.background, palette.motion, 0.9).with_alpha(GHOST)
        } else {
            (palette.motion * BRIGHTER).with_alpha(GHOST_ON_PAPER)
        };
        body.draw(&mut self.ghost, Paint::flat(ghost));
    }

    /// A floor below spatial scenes, and the shadow that falls on it.
    fn add_floor(&mut self, space: Space, body: &BodySurface, palette: &Palette) {
        if space == Space::Planar {
            return;
        }
        let arrows = self.groups.iter().filter(|group| group.anchor.is_some());
        let seen = self.still.positions().iter().chain(self.moving.positions());
        let riders = self.riders.iter().flat_map(|rider| rider.draft.positions());
        let seen = seen
            .chain(riders)
            .chain(arrows.flat_map(|group| group.draft.positions()));
        let (low, reach) = seen.fold((0.0_f32, 0.0_f32), |(low, reach), point| {
            (low.min(point.z), reach.max(point.truncate().length()))
        });
        self.floor = low - 0.04;
        floor::draw(&mut self.still, self.floor, reach * 1.3, palette);
        let shadow = between(palette.floor, LinearRgba::BLACK, 0.45);
        body.draw(&mut self.shadow, Paint::flat(shadow));
    }

    /// Everything that appears at any time of the swing is fitted into the picture.
    fn fit(&mut self, shown: &Shown, amplitude: f64) {
        let turn = self.frame.turn();
        let mut body = extremes(self.moving.positions());
        for rider in &self.riders {
            body.extend(extremes(rider.draft.positions()));
        }
        let motion = shown.course().map(|course| course.motion);
        let mut points = body.clone();
        for side in self.ends.into_iter().filter(|_| motion.is_some()) {
            let pose = shown.pose(side, amplitude * self.swing);
            let pose = self.frame.pose(&pose);
            points.extend(body.iter().map(|point| pose.transform_point(*point)));
        }
        let sides = [Vec3::X, Vec3::Y, Vec3::Z].map(|side| side * ANCHOR);
        for rod in &self.rods {
            points.extend(
                sides
                    .iter()
                    .flat_map(|side| [rod.ground + *side, rod.ground - *side]),
            );
        }
        if !self.shadow.is_empty() {
            points.extend(body.iter().map(|point| point.with_z(self.floor)));
        }
        for draft in self.groups.iter().map(|group| &group.draft) {
            points.extend(extremes(draft.positions()));
        }
        points.extend(self.labels.iter().map(|label| self.frame.point(&label.at)));
        points.retain(|point| point.is_finite() && point.length() < FARTHEST);
        self.bounds = Bounds {
            axis: motion.map(|motion| self.frame.world_direction(&motion.direction)),
            planar: shown.study.model().space == Space::Planar,
            ..Bounds::of_points(points.into_iter().map(|point| turn * point).collect())
        };
    }
}

/// Most that hardware grows around a thick body.
const LARGEST: f64 = 2.4;
/// How far below its ground a support's name stands, in units of the portrayal.
const BELOW: f64 = 5.0;
/// How far the wall at a rod's ground end reaches.
const ANCHOR: f32 = 2.0 * hardware::SIZE;
/// Opacity of a ghost.
const GHOST: f32 = 0.24;
/// The same before a light background, where what is dark and thin fades.
const GHOST_ON_PAPER: f32 = 0.38;
/// How much brighter than its strokes a ghost is before a light background: a film of dark green there looks grey.
const BRIGHTER: f32 = 4.0;
/// What lies farther out than this is not fitted into the picture.
const FARTHEST: f32 = 3.0;

/// What the stage is scaled by: the body, its supports with their ground ends, its loads.
fn extent(model: &Model, case: usize, body: &[Point3<f64>]) -> Vec<Point3<f64>> {
    let mut points = body.to_vec();
    for support in &model.supports {
        points.push(support.point);
        points.extend(support.ground);
    }
    for load in model.cases.get(case).map_or(&[][..], |case| &case.loads) {
        match load {
            AppliedLoad::Force { at, .. } | AppliedLoad::Weight { at, .. } => points.push(*at),
            AppliedLoad::Couple { at, .. } => points.extend(*at),
            AppliedLoad::Distributed { ends, .. } => points.extend(ends),
        }
    }
    points
}

/// Smaller hardware on a body that is small beside its links.
fn hardware_size(body: &BodySurface) -> f32 {
    let (low, high) = body.positions().iter().fold(
        (Vec3::INFINITY, Vec3::NEG_INFINITY),
        |(low, high), point| (low.min(*point), high.max(*point)),
    );
    if low.x > high.x {
        return hardware::SIZE;
    }
    hardware::SIZE.min((0.09 * low.distance(high)).max(0.4 * hardware::SIZE))
}

fn reach(motion: &FreeMotion, body: &[Point3<f64>]) -> f64 {
    body.iter()
        .map(|point| distance_from_axis(motion, point))
        .fold(0.0, f64::max)
}

/// The outermost points in many directions: enough to fit and measure by.
fn extremes(points: &[Vec3]) -> Vec<Vec3> {
    let steps = [-1.0, 0.0, 1.0];
    let directions = steps.iter().flat_map(|x| {
        steps
            .iter()
            .flat_map(move |y| steps.map(move |z| Vec3::new(*x, *y, z)))
    });
    directions
        .filter_map(|direction| {
            points
                .iter()
                .max_by(|a, b| a.dot(direction).total_cmp(&b.dot(direction)))
                .copied()
        })
        .collect()
}
