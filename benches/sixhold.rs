//! How long reading, diagnosing and reporting take. Run with `cargo bench --no-default-features`.

mod cases;

use criterion::{Criterion, criterion_group, criterion_main};
use sixhold::statics::{Diagnosis, ExactRank, Model, NumericRank, ReactionMatrix, Tolerance};
use std::hint::black_box;

fn diagnose(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("diagnose");
    for links in [6, 12, 100, 10_000] {
        for (family, scene) in cases::families(links) {
            let model = Model::new(&scene).expect("the case is a valid scene");
            group.bench_function(format!("{links} links, {family}"), |bencher| {
                bencher.iter(|| Diagnosis::new(black_box(&model), Tolerance::default()));
            });
        }
    }
    group.finish();
}

fn lay_out(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("lay out the model");
    for links in [6, 10_000] {
        let [(_, scene), _] = cases::families(links);
        group.bench_function(format!("{links} links"), |bencher| {
            bencher.iter(|| Model::new(black_box(&scene)));
        });
    }
    group.finish();
}

fn rank(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("numeric rank");
    for links in [6, 100, 10_000] {
        for (family, scene) in cases::families(links) {
            let matrix =
                ReactionMatrix::new(&Model::new(&scene).expect("the case is a valid scene"));
            group.bench_function(format!("{links} links, {family}"), |bencher| {
                bencher.iter(|| NumericRank::new(black_box(&matrix), Tolerance::default()));
            });
        }
    }
    group.finish();
    let mut group = criterion.benchmark_group("exact rank");
    for links in [6, 100, 10_000] {
        for (family, scene) in cases::families(links) {
            let model = Model::new(&scene).expect("the case is a valid scene");
            group.bench_function(format!("{links} links, {family}"), |bencher| {
                bencher.iter(|| ExactRank::of(black_box(&model)));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, diagnose, rank, lay_out);
criterion_main!(benches);
