//! Neutral lines of anchor plates under the load case that is drawn: on one side the plate presses on the wall, on the other it lifts off.

use super::pens::VALUE;
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, length, unit, way};
use super::stage::Stage;
use crate::drawing::Run;

/// Lines shorter than this on the page are seen end-on and not drawn, points.
const SHORTEST: f64 = 3.0;

/// Draws a dash-dot line across each plate that lifts off in part, where loads are drawn.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    if !stage.shows(FigurePart::Loads) {
        return;
    }
    let model = stage.study.model();
    for anchorage in &stage.study.design().anchorages {
        let placed = &model.supports[anchorage.support];
        let case = anchorage.cases.get(stage.settings.case);
        let forces = case.and_then(|case| case.forces());
        let line = forces.and_then(|forces| forces.neutral_line);
        let Some((ends, group)) = line.zip(placed.anchors.as_ref()) else {
            continue;
        };
        let points = ends.map(|end| stage.pose * group.point(&placed.point, &end));
        let spots = points.map(|point| stage.at(&point));
        let along = way(spots[0], spots[1]);
        if length(along) < SHORTEST {
            continue;
        }
        sketch.line("neutral-line", spots, stage.pens.axis_edge());
        sketch.line("neutral-line", spots, stage.pens.axis);
        sketch.labels.push(SketchLabel {
            role: "neutral-line",
            anchor: spots[1],
            prefer: unit(along),
            is_fixed: false,
            runs: Run::plain("neutral line"),
            letters: VALUE,
            colour: stage.pens.axis.colour,
            rank: 3,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::{FigurePart, FigureSettings, draw as drawn};
    use crate::scene::read_str;
    use crate::study::Study;

    #[test]
    fn a_plate_that_lifts_off_has_its_line() {
        let lines = |load: &str| {
            let text = format!(
                "(format: 1, body: [Block(centre: (0.2, 0, 0), size: (0.4, 0.1, 0.1))],
                supports: [AnchorPlate(name: \"P\", at: (0, 0, 0), normal: (1, 0, 0), size: (0.2, 0.3),
                    anchors: Grid(columns: 2, rows: 2, spacing: (0.15, 0.25)))], loads: [Force(at: (0.4, 0, 0), force: {load})])"
            );
            let study = Study::new(read_str("plate", &text).unwrap().scene).unwrap();
            let settings = FigureSettings {
                parts: FigurePart::QUESTION.into(),
                ..FigureSettings::default()
            };
            let drawing = drawn(&study, &settings);
            let shapes = drawing.shapes();
            shapes.filter(|shape| shape.role == "neutral-line").count()
        };
        assert!(lines("(0, 0, -500)") > 0);
        assert_eq!(lines("(-500, 0, 0)"), 0, "it presses everywhere");
    }
}
