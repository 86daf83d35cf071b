//! The directions of the axes around an origin of their own.

use nalgebra::Vector3;

use super::arrows::{Arrow, END_ON, Head, towards_viewer};
use super::pens::VALUE;
use super::sketch::{Sketch, SketchLabel, Spot, bounds, length, step, unit};
use super::stage::Stage;
use crate::drawing::Run;

/// Length of the arrows of the axes' directions.
const TRIAD: f64 = 19.0;

/// The directions of the axes around an origin of their own, with their names.
pub(super) fn draw(stage: &Stage) -> Sketch {
    let mut sketch = Sketch::default();
    let arrow = Arrow {
        role: "triad",
        stroke: crate::drawing::Stroke {
            width: 0.6,
            ..stage.pens.dimension
        },
        head: Head::Small,
    };
    let middle = nalgebra::center(&stage.bounds[0], &stage.bounds[1]);
    let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
    let count = if stage.is_planar() { 2 } else { 3 };
    for (axis, name) in axes.iter().zip(["x", "y", "z"]).take(count) {
        let seen = stage.direction(&middle, axis);
        let (out, end) = if length(seen) < END_ON {
            let towards = towards_viewer(stage, &middle, axis);
            arrow.draw_end_on(&mut sketch, [0.0, 0.0], towards);
            ([-0.7, 0.7], 4.0)
        } else {
            arrow.draw(&mut sketch, [0.0, 0.0], step([0.0, 0.0], seen, TRIAD));
            (unit(seen), length(seen) * TRIAD)
        };
        sketch.labels.push(SketchLabel {
            role: "triad",
            anchor: step([0.0, 0.0], out, end + 4.5),
            prefer: [0.0, 0.0],
            is_fixed: true,
            runs: Run::italic(name),
            letters: VALUE,
            colour: stage.pens.dimension.colour,
            rank: 0,
        });
    }
    sketch
}

/// Room that the triad takes, its letters included.
pub(super) fn extent(sketch: &Sketch) -> Option<[Spot; 2]> {
    let [mut low, mut high] = bounds(&sketch.shapes)?;
    for label in &sketch.labels {
        for k in 0..2 {
            low[k] = low[k].min(label.anchor[k] - 4.0);
            high[k] = high[k].max(label.anchor[k] + 4.0);
        }
    }
    Some([low, high])
}
