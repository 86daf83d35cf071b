//! How long the anchors of a plate take, contact with the wall included.

use std::hint::black_box;

use sixhold::scene::read_str;
use sixhold::study::Study;

use crate::clock::Criterion;

/// A square plate that lifts off under a moment askew, with so many anchors along each side.
fn plate(side: usize) -> Study {
    let spacing = 0.9 / (side - 1) as f64;
    let text = format!(
        "(format: 1, body: [Block(centre: (0.5, 0, 0), size: (1, 0.2, 0.2))],
        supports: [AnchorPlate(name: \"P\", at: (0, 0, 0), normal: (1, 0, 0), size: (1, 1),
            anchors: Grid(columns: {side}, rows: {side}, spacing: ({spacing}, {spacing})))],
        loads: [Force(at: (1, 0.1, 0), force: (300, -200, -900))])"
    );
    let scene = read_str("plate", &text).expect("a valid scene").scene;
    Study::new(scene).expect("a valid model")
}

pub(crate) fn anchor(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("anchor plate, diagnosis included");
    for side in [2, 10, 31] {
        let study = plate(side);
        group.bench_function(format!("{} anchors", side * side), |bencher| {
            bencher.iter(|| black_box(&study).without(&[]).design().anchorages.len());
        });
    }
    group.finish();
}
