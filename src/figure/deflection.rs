//! The bars as they bend, magnified: dashed over the body as written.

use nalgebra::Point3;

use super::settings::FigurePart;
use super::sketch::Sketch;
use super::stage::Stage;
use crate::drawing::{Polyline, Stroke};
use crate::elastic::{FrameAnswer, SectionForces, SectionMeasure};
use crate::wording;

/// How far the bars are drawn to move at most, relative to the size of the scene.
const SHOWN: f64 = 0.08;
/// Steps of the magnification in each power of ten.
const STEPS: [f64; 3] = [1.0, 2.0, 5.0];
/// Dashes and gaps, points.
const DASHES: &[f64] = &[4.0, 2.0];

/// Draws how the bars of the case bend, if that is known, and says how much larger than it is.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    if !stage.shows(FigurePart::Loads) || !stage.is_at_rest() {
        return;
    }
    let Some(frame) = stage.study.frame() else {
        return;
    };
    let Some(answer) = frame.cases[stage.settings.case].answer() else {
        return;
    };
    let most = frame.largest(answer, SectionMeasure::Displacement);
    let Some(most) = most.map(|most| most.value).filter(|most| *most > 0.0) else {
        return;
    };
    let size = (stage.bounds[1] - stage.bounds[0]).norm();
    let times = round_below(SHOWN * size / most);
    sketch.lines(
        "deflection",
        lines(stage, answer, times),
        Stroke {
            dash: DASHES,
            ..stage.pens.motion
        },
    );
    let table = sketch.table.get_or_insert_default();
    table
        .notes
        .push(wording::magnified(stage.study.model(), times, most));
}

/// The deflected centre line of each bar on the page.
fn lines(stage: &Stage, answer: &FrameAnswer, times: f64) -> Vec<Polyline> {
    let moved = |section: &SectionForces| -> Option<Point3<f64>> {
        Some(section.point + section.displacement? * times)
    };
    let line = |sections: &Vec<SectionForces>| {
        let points = sections.iter().filter_map(moved);
        Polyline::open(points.map(|point| stage.at(&point)).collect::<Vec<_>>())
    };
    answer.sections.iter().map(line).collect()
}

/// The largest of 1, 2 and 5 times a power of ten that is not above a number; 1 of numbers that are.
fn round_below(number: f64) -> f64 {
    let power = 10.0_f64.powf(number.log10().floor());
    let steps = STEPS.iter().rev().map(|step| step * power);
    let mut below = steps.filter(|step| *step <= number);
    below.next().unwrap_or(power)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn magnifications_are_round() {
        for (number, round) in [
            (1.0, 1.0),
            (4.9, 2.0),
            (50.0, 50.0),
            (999.0, 500.0),
            (0.3, 0.2),
        ] {
            assert!(
                (round_below(number) - round).abs() < 1e-12 * round,
                "{number}"
            );
        }
    }
}
