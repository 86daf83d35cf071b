//! Which way slanted forces and supports of the plane lie: as an angle against the horizontal, or as a slope of whole numbers.

use nalgebra::Vector3;

use super::pens::SMALL;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot, length, step, way};
use super::stage::Stage;
use crate::drawing::{Polyline, Run};
use crate::scene::SupportKind;
use crate::wording::{self, Number};

/// How an angle is drawn, points.
#[derive(Debug, Clone, Copy)]
pub(super) struct AngleMark {
    /// Radius of the arc; a slope triangle begins there.
    radius: f64,
    /// How far the horizontal line leads beyond the arc.
    beyond: f64,
}

/// At the point of a force, and at the end of the ground or in the middle of a rod.
pub(super) const OF_LOAD: AngleMark = AngleMark {
    radius: 13.0,
    beyond: 4.0,
};
const OF_GROUND: AngleMark = AngleMark {
    radius: 17.0,
    beyond: 5.0,
};
const OF_ROD: AngleMark = AngleMark {
    radius: 28.0,
    beyond: 5.0,
};
/// Half the length of a piece of ground, in units of the layout.
const GROUND: f64 = 13.0;
/// Horizontal side of a slope triangle where it is the longer one, points.
const SIDE: f64 = 15.0;
/// Angles and slopes closer than this to a round one are that.
const ROUND: f64 = 1e-6;
/// Angles that are read as such are whole multiples of this, degrees.
const STEP: f64 = 0.5;
/// Largest number of a slope.
const LARGEST: u32 = 13;

/// Marks every slanted support.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    if !stage.is_planar() || !stage.shows(FigurePart::Supports) {
        return;
    }
    let feet = stage.with_layout(|layout| layout.feet());
    for (support, foot) in stage.study.model().supports.iter().zip(feet) {
        let Some(axis) = &support.orientation else {
            continue;
        };
        match support.kind {
            SupportKind::Slot { .. } | SupportKind::Collar { .. } => {
                let arm = rising(axis.into_inner());
                mark(stage, stage.at(&support.point), arm, OF_ROD, sketch);
            }
            _ if support.ground.is_none() => {
                let arm = rising(Vector3::new(axis.y, -axis.x, 0.0));
                let low = Vector3::new(arm[0], arm[1], 0.0) * (-GROUND * stage.unit());
                mark(stage, stage.at(&(foot + low)), arm, OF_GROUND, sketch);
            }
            _ => {}
        }
    }
}

/// A direction or its opposite, whichever leads up.
fn rising(way: Vector3<f64>) -> [f64; 2] {
    let sign = if way.y < 0.0 { -1.0 } else { 1.0 };
    [way.x * sign, way.y * sign]
}

/// Marks the angle between the horizontal through a spot and an arm from there, a direction of the scene; nothing where
/// the arm is horizontal or vertical.
pub(super) fn mark(
    stage: &Stage,
    vertex: Spot,
    arm: [f64; 2],
    mark: AngleMark,
    sketch: &mut Sketch,
) {
    let [x, y] = arm;
    if x.abs() < ROUND || y.abs() < ROUND {
        return;
    }
    let angle = y.abs().atan2(x.abs());
    match slope(angle) {
        Some(sides) => triangle(stage, vertex, arm, mark, sides, sketch),
        None => arc(stage, vertex, arm, mark, angle, sketch),
    }
}

/// Height and width of a slope of small whole numbers whose angle is no round one.
fn slope(angle: f64) -> Option<[u32; 2]> {
    let steps = angle.to_degrees() / STEP;
    if (steps - steps.round()).abs() < ROUND {
        return None;
    }
    let slopes = (1..=LARGEST).flat_map(|sum| (1..=LARGEST).map(move |wide| [sum, wide]));
    slopes
        .filter(|[high, wide]| (f64::from(*high).atan2(f64::from(*wide)) - angle).abs() < ROUND)
        .min()
}

fn arc(
    stage: &Stage,
    vertex: Spot,
    [x, y]: [f64; 2],
    mark: AngleMark,
    angle: f64,
    sketch: &mut Sketch,
) {
    const PIECES: u32 = 10;
    let pen = stage.pens.dimension;
    let level = [x.signum(), 0.0];
    let end = step(vertex, level, mark.radius + mark.beyond);
    sketch.line("dimension", [vertex, end], pen);
    let at = |share: f64, radius: f64| {
        let (sin, cos) = (angle * share).sin_cos();
        step(vertex, [cos * x.signum(), -sin * y.signum()], radius)
    };
    let points: Vec<Spot> = (0..=PIECES)
        .map(|i| at(f64::from(i) / f64::from(PIECES), mark.radius))
        .collect();
    sketch.lines("dimension", vec![Polyline::smooth(points)], pen);
    let middle = at(0.5, mark.radius);
    let text = wording::angle(angle);
    let prefer = way(vertex, middle).map(|x| x / mark.radius);
    let runs = stage.runs(&text.into());
    sketch.labels.push(label(stage, runs, middle, prefer));
}

/// A triangle on the arm whose sides bear the numbers of the slope.
fn triangle(
    stage: &Stage,
    vertex: Spot,
    [x, y]: [f64; 2],
    mark: AngleMark,
    [high, wide]: [u32; 2],
    sketch: &mut Sketch,
) {
    let unit = SIDE / f64::from(high.max(wide));
    let legs = [
        f64::from(wide) * unit * x.signum(),
        -f64::from(high) * unit * y.signum(),
    ];
    let whole = length(legs);
    let low = step(vertex, legs, (mark.radius - whole / 2.0).max(3.0) / whole);
    let (corner, top) = ([low[0] + legs[0], low[1]], step(low, legs, 1.0));
    sketch.line("dimension", [low, corner, top], stage.pens.dimension);
    let number = |count: u32| stage.runs(&Number::from(count.to_string()).into());
    let (level, upright) = ([0.0, y.signum()], [x.signum(), 0.0]);
    let sides = [
        (wide, step(low, way(low, corner), 0.5), level),
        (high, step(corner, way(corner, top), 0.5), upright),
    ];
    for (count, middle, out) in sides {
        sketch.labels.push(label(stage, number(count), middle, out));
    }
}

fn label(stage: &Stage, runs: Vec<Run>, anchor: Spot, prefer: Spot) -> SketchLabel {
    SketchLabel {
        role: "dimension",
        anchor,
        prefer,
        is_fixed: false,
        runs,
        letters: SMALL,
        colour: stage.pens.dimension.colour,
        rank: 1,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{FigureSettings, draw as drawn};
    use super::*;
    use crate::scene::read_str;
    use crate::study::Study;

    fn said(supports: &str, force: &str) -> Vec<String> {
        let scene = format!(
            r#"(format: 1, title: "arm", space: planar,
                body: [Block(centre: (0, 0), size: (2, 0.1, 0.1))],
                supports: [{supports}], loads: [Force(at: (1, 0), {force})])"#
        );
        let study = Study::new(read_str("arm", &scene).unwrap().scene).unwrap();
        let settings = FigureSettings {
            parts: [
                FigurePart::Body,
                FigurePart::Supports,
                FigurePart::Loads,
                FigurePart::Dimensions,
            ]
            .into(),
            ..FigureSettings::default()
        };
        let drawing = drawn(&study, &settings);
        let texts = drawing.texts().filter(|text| text.role == "dimension");
        let mut said: Vec<String> = texts
            .map(|text| text.runs.iter().map(|run| run.text.as_str()).collect())
            .filter(|text: &String| !text.ends_with('m'))
            .collect();
        said.sort();
        said
    }

    const FIXED: &str = r#"Fixed(name: "A", at: (-1, 0))"#;

    /// What is drawn askew can be solved for only if the figure says how much.
    #[test]
    fn slanted_forces_and_supports_have_their_angle() {
        assert!(said(FIXED, "force: (0, -3)").is_empty());
        assert_eq!(said(FIXED, "size: 3, direction: Angle(-60)"), ["60°"]);
        assert_eq!(said(FIXED, "force: (-3, -4)"), ["3", "4"]);
        let roller = |normal: &str| {
            format!(
                r#"Pin(name: "A", at: (-1, 0)), Roller(name: "B", at: (1, 0), normal: {normal})"#
            )
        };
        assert!(said(&roller("(0, 1)"), "force: (0, -3)").is_empty());
        assert_eq!(said(&roller("Angle(120)"), "force: (0, -3)"), ["30°"]);
        assert_eq!(said(&roller("(5, 12)"), "force: (0, -3)"), ["12", "5"]);
        let slot = r#"Pin(name: "A", at: (-1, 0)), Slot(name: "B", at: (1, 0), along: Angle(20))"#;
        assert_eq!(said(slot, "force: (0, -3)"), ["20°"]);
    }

    #[test]
    fn slopes_are_small_whole_numbers_or_none() {
        let of = |high: f64, wide: f64| slope(high.atan2(wide));
        assert_eq!(of(3.0, 4.0), Some([3, 4]));
        assert_eq!(of(6.0, 8.0), Some([3, 4]));
        assert_eq!(of(1.0, 1.0), None);
        assert_eq!(slope(30.0_f64.to_radians()), None);
        assert_eq!(of(1.0, 17.0), None);
    }
}
