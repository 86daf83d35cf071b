//! How long a film of a line figure takes: its layout, its frames, and the file.

use std::hint::black_box;

use sixhold::drawing;
use sixhold::figure::{FigureSettings, Film};
use sixhold::motion::Selection;
use sixhold::statics::CaseIndex;
use sixhold::study::Study;
use sixhold::theme::Colour;

use super::cases;
use super::clock::Criterion;

/// Pixels across.
const ACROSS: f64 = 800.0;
/// Frames of a second at the usual rate.
const FRAMES: usize = 30;
/// Hundredths of a second for which each is shown.
const HUNDREDTHS: u16 = 3;

/// One second of a swing, as the program films it.
pub(crate) fn films(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("film of 30 frames");
    group.sample_size(10);
    for name in ["handrail", "cable-tray"] {
        let study = Study::new(cases::built_in(name)).expect("the scene is valid");
        group.bench_function(format!("{name} as GIF"), |bencher| {
            bencher.iter(|| gif(black_box(&study)));
        });
    }
    group.finish();
}

fn gif(study: &Study) -> Vec<u8> {
    let film = Film::new(study, &FigureSettings::default());
    let course = study.course(Selection::default(), CaseIndex::FIRST);
    let parts = course.expect("a motion").parts_in_time(FRAMES);
    let per_point = ACROSS / film.width();
    let frames = parts.iter().map(|part| {
        let white = Colour(0xFF, 0xFF, 0xFF);
        drawing::pixels(&film.at(*part), per_point, white).expect("a frame of this size")
    });
    let mut bytes = Vec::new();
    drawing::gif(&mut bytes, frames, HUNDREDTHS).expect("a film in memory");
    bytes
}
