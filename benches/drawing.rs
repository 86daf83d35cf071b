//! How long one figure takes, from a scene that has been diagnosed to the text of its SVG.

use std::hint::black_box;

use sixhold::drawing::{self, Fonts};
use sixhold::figure::{self, FigurePart, FigureSettings};
use sixhold::study::Study;

use super::cases;
use super::clock::Criterion;

/// Figures of built-in scenes, the plainest and the busiest.
pub(crate) fn figures(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("figure");
    for name in ["handrail", "sill-beam", "finder-rings", "strut-platform"] {
        let study = Study::new(cases::built_in(name)).expect("the scene is valid");
        for (what, parts) in [
            ("answer", &FigurePart::USUAL[..]),
            ("everything", &FigurePart::ALL),
        ] {
            let settings = FigureSettings {
                parts: parts.iter().copied().collect(),
                ..FigureSettings::default()
            };
            group.bench_function(format!("{name}, {what}"), |bencher| {
                bencher.iter(|| {
                    let drawing = figure::draw(black_box(&study), &settings);
                    drawing::svg(&drawing, Fonts::Inside)
                });
            });
        }
    }
    group.finish();
}
