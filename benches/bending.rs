//! How long bodies of bars that bend take: their nodes, reactions and sections.

use std::hint::black_box;

use sixhold::scene::read_str;
use sixhold::study::Study;

use crate::clock::Criterion;

fn bar(from: (usize, usize), to: (usize, usize)) -> String {
    let ((a, b), (c, d)) = (from, to);
    format!("BentBar(path: [({a}, {b}, 0), ({c}, {d}, 0)], diameter: 0.05),")
}

/// A straight row of so many bars, each joined to the next.
fn row(bars: usize) -> Study {
    let body: String = (0..bars).map(|i| bar((i, 0), (i + 1, 0))).collect();
    held(&body, (bars, 0))
}

/// A square grid of bars in its plane, with so many fields along each side.
fn grid(side: usize) -> Study {
    let along = |i: usize| (0..side).map(move |j| (i, j));
    let nodes = (0..=side).flat_map(along);
    let body: String = nodes
        .map(|(i, j)| bar((j, i), (j + 1, i)) + &bar((i, j), (i, j + 1)))
        .collect();
    held(&body, (side, side))
}

/// Built in at the first corner and at the last.
fn held(body: &str, last: (usize, usize)) -> Study {
    let (x, y) = last;
    let text = format!(
        "(format: 1, material: (youngs_modulus: 2e11, shear_modulus: 8e10), body: [{body}],
        supports: [Fixed(name: \"A\", at: (0, 0, 0)), Fixed(name: \"B\", at: ({x}, {y}, 0))],
        loads: [Force(at: (1, 0, 0), force: (10, 20, -30))])"
    );
    let scene = read_str("frame", &text).expect("a valid scene").scene;
    Study::new(scene).expect("a valid model")
}

pub(crate) fn bend(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("bars that bend");
    group.sample_size(10);
    let rows = [10, 100, 1000].map(|bars| (format!("a row of {bars} bars"), row(bars)));
    let grids = [7, 21].map(|side| {
        (
            format!("a grid of {} bars", 2 * side * (side + 1)),
            grid(side),
        )
    });
    for (name, study) in rows.into_iter().chain(grids) {
        let frame = study.frame().expect("bars that bend");
        assert!(
            frame.cases.iter().all(|case| case.answer().is_some()),
            "{name}"
        );
        group.bench_function(name, |bencher| {
            bencher.iter_batched(
                || study.without(&[]),
                |study| black_box(&study).frame().is_some(),
                criterion::BatchSize::PerIteration,
            );
        });
    }
    group.finish();
}
