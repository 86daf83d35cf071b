//! What strokes are gathered in: drafts that stay, drafts that ride on a body point, and the labels beside them.

use bevy::prelude::*;
use nalgebra::Point3;

use super::crossing::StageFrame;
use super::mesh_builder::MeshBuilder;
use super::paint::{Light, Paint};
use crate::portrayal::Carrier;
use crate::viewer::state::{Label, LabelRole};
use crate::wording::Phrase;

/// Strokes that belong together and follow one body point, or none.
#[derive(Debug, Clone)]
pub(crate) struct StrokeGroup {
    /// What is drawn.
    pub draft: MeshBuilder,
    /// The body point that it follows without turning, m.
    pub anchor: Option<Point3<f64>>,
    /// The ground point that it turns about with the body point, m: the far end of a link or cable.
    pub ground: Option<Point3<f64>>,
    /// Names and values.
    pub labels: Vec<Label>,
    /// Its straight arrows.
    pub arrows: Vec<ArrowLine>,
    frame: StageFrame,
}

impl StrokeGroup {
    /// Nothing yet.
    pub(crate) fn new(frame: &StageFrame, anchor: Option<Point3<f64>>) -> Self {
        Self {
            draft: MeshBuilder::new(Light::from_above(frame.up(), frame.front())),
            anchor,
            ground: None,
            labels: Vec::new(),
            arrows: Vec::new(),
            frame: *frame,
        }
    }

    /// Nothing yet, to go along with a carrier.
    pub(crate) fn carried(frame: &StageFrame, carrier: &Carrier) -> Self {
        let (anchor, ground) = match carrier {
            Carrier::Rod { ground, eye } => (Some(*eye), Some(*ground)),
            Carrier::Point(point) => (Some(*point), None),
            Carrier::Ground | Carrier::Body => (None, None),
        };
        Self {
            ground,
            ..Self::new(frame, anchor)
        }
    }

    /// Where a point is on the stage.
    pub(crate) fn on_stage(&self, point: &Point3<f64>) -> Vec3 {
        self.frame.point(point)
    }

    /// Colours what follows.
    pub(crate) fn colour(&mut self, colour: LinearRgba) -> &mut MeshBuilder {
        self.draft.paint(Paint::flat(colour))
    }

    /// Straight arrow from tail to tip.
    pub(crate) fn arrow(&mut self, [tail, tip]: [Vec3; 2], gauge: &StrokeSize, role: LabelRole) {
        arrow(&mut self.draft, tail, tip, gauge);
        self.arrows.push(ArrowLine {
            tail,
            tip,
            head: gauge.head,
            role,
        });
    }

    /// Writes at a point of the stage.
    pub(crate) fn label(&mut self, text: impl Into<Phrase>, at: Vec3, role: LabelRole) {
        self.labels.push(Label {
            text: text.into(),
            at: self.frame.scene_point(at),
            moves: false,
            role,
        });
    }
}

/// Middle lines of strokes, in the coordinates of their entity: what names keep off.
#[derive(Component, Debug, Clone, PartialEq)]
pub struct MiddleLines(pub Vec<[Vec3; 2]>);

/// A straight arrow, in the coordinates of its entity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArrowLine {
    /// Where it begins.
    pub tail: Vec3,
    /// Where it ends.
    pub tip: Vec3,
    /// Radius of its head.
    pub head: f32,
    /// What it stands for, for its colour.
    pub role: LabelRole,
}

/// The straight arrows of an entity: seen end-on, each has a sign of its own.
#[derive(Component, Debug, Clone, PartialEq)]
pub struct Arrows(pub Vec<ArrowLine>);

/// Sizes of a stroke's shaft and head.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StrokeSize {
    /// Radius of the shaft.
    pub shaft: f32,
    /// Radius of the head's base.
    pub head: f32,
    /// Length of the head.
    pub head_length: f32,
    /// Facets around.
    pub around: usize,
}

impl StrokeSize {
    /// The same stroke, this much thicker.
    pub(crate) fn thicker(self, by: f32) -> Self {
        Self {
            shaft: self.shaft * by,
            head: self.head * by.sqrt(),
            head_length: self.head_length * by.sqrt(),
            around: self.around,
        }
    }

    /// Reactions.
    pub(crate) const SLIM: Self = Self {
        shaft: 0.0095,
        head: 0.031,
        head_length: 0.082,
        around: 16,
    };
    /// Couples among the reactions.
    pub(crate) const RING: Self = Self {
        shaft: 0.0075,
        head: 0.025,
        head_length: 0.06,
        around: 12,
    };
    /// Loads: a broad head on a heavy shaft.
    pub(crate) const HEAVY: Self = Self {
        shaft: 0.02,
        head: 0.056,
        head_length: 0.095,
        around: 20,
    };
    /// One of a row.
    pub(crate) const ROW: Self = Self {
        shaft: 0.009,
        head: 0.03,
        head_length: 0.055,
        around: 16,
    };
    /// Free motion.
    pub(crate) const SWEEP: Self = Self {
        shaft: 0.011,
        head: 0.038,
        head_length: 0.085,
        around: 16,
    };
}

/// Straight arrow from tail to tip.
pub(crate) fn arrow(draft: &mut MeshBuilder, tail: Vec3, tip: Vec3, gauge: &StrokeSize) {
    let way = (tip - tail).normalize_or_zero();
    let head_length = gauge.head_length.min(tail.distance(tip) * 0.6);
    let neck = tip - way * head_length;
    // A round end joins arrows that leave one point.
    draft.ball(tail, gauge.shaft);
    draft.faceted_rod(tail, neck, gauge.shaft, gauge.around);
    draft.head(neck, tip, gauge.head, gauge.around);
}

/// Arrow along a path, with a head at its end and, if `both`, at its start.
pub(crate) fn path_arrow(draft: &mut MeshBuilder, path: &[Vec3], gauge: &StrokeSize, both: bool) {
    draft.tube(path, gauge.shaft, gauge.around.max(8));
    let mut head = |from: Option<&Vec3>, end: Option<&Vec3>| {
        if let (Some(from), Some(end)) = (from, end) {
            let way = (*end - *from).normalize_or_zero();
            let tip = *end + way * gauge.head_length;
            draft.head(*end, tip, gauge.head, gauge.around);
        }
    };
    let last = path.len();
    head(path.get(last.wrapping_sub(2)), path.last());
    if both {
        head(path.get(1), path.first());
    }
}

/// Open ring with a head: a couple about `axis`, right-handed.
pub(crate) fn ring(
    draft: &mut MeshBuilder,
    centre: Vec3,
    axis: Vec3,
    radius: f32,
    gauge: &StrokeSize,
) {
    const OPEN: f32 = 1.15;
    let (u, v) = axis.any_orthonormal_pair();
    // A right-handed pair about the axis.
    let v = if u.cross(v).dot(axis) < 0.0 { -v } else { v };
    let steps = 40;
    let path: Vec<Vec3> = (0..=steps)
        .map(|i| {
            let turn = (std::f32::consts::TAU - OPEN) * i as f32 / steps as f32;
            let (sin, cos) = turn.sin_cos();
            centre + (u * cos + v * sin) * radius
        })
        .collect();
    path_arrow(draft, &path, gauge, false);
}

/// Dashed line: lengths of stroke and gap repeat along it.
pub(crate) fn dashes(draft: &mut MeshBuilder, from: Vec3, to: Vec3, radius: f32, pattern: &[f32]) {
    let length = from.distance(to);
    let way = (to - from).normalize_or_zero();
    let mut at = 0.0;
    for (i, step) in pattern.iter().cycle().enumerate() {
        if at >= length || *step <= 0.0 {
            break;
        }
        if i % 2 == 0 {
            let end = (at + step).min(length);
            draft.faceted_rod(from + way * at, from + way * end, radius, 8);
        }
        at += step;
    }
}

/// A unit vector perpendicular to `axis`, as near to `wish` as may be.
pub(crate) fn square_to(axis: Vec3, wish: Vec3) -> Vec3 {
    let square = wish - axis * wish.dot(axis);
    if square.length() > 0.2 {
        square.normalize()
    } else {
        axis.any_orthonormal_vector()
    }
}
