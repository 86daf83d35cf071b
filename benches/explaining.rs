//! How long the reasons for freedom and redundancy take.

use super::cases;
use criterion::Criterion;
use sixhold::statics::{Circuits, Depth, DepthSettings, Diagnosis, Model, Tolerance};
use std::hint::black_box;

/// Geometry of the reason and circuits, apart.
pub fn reasons_and_circuits(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("reasons and circuits");
    for links in [6, 9, 30, 200] {
        for (family, scene) in cases::families(links) {
            let model = Model::new(&scene).expect("the case is a valid scene");
            let diagnosis = Diagnosis::new(&model, Tolerance::default());
            let everything: Vec<usize> = (0..links).collect();
            group.bench_function(format!("objects, {links} links, {family}"), |bencher| {
                bencher.iter(|| black_box(&diagnosis).reason.pictures(&model, &everything));
            });
            group.bench_function(format!("circuits, {links} links, {family}"), |bencher| {
                bencher.iter(|| Circuits::of(black_box(&model), &diagnosis));
            });
        }
    }
    group.finish();
}

/// Everything in depth.
pub fn depth(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("depth");
    for links in [6, 9, 30, 200] {
        for (family, scene) in cases::families(links) {
            let model = Model::new(&scene).expect("the case is a valid scene");
            let diagnosis = Diagnosis::new(&model, Tolerance::default());
            group.bench_function(format!("{links} links, {family}"), |bencher| {
                bencher
                    .iter(|| Depth::new(black_box(&model), &diagnosis, &DepthSettings::default()));
            });
        }
    }
    group.finish();
}
