//! How long the reasons for freedom and redundancy take.

use super::cases;
use super::clock::Criterion;
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

/// Diagnosis and everything in depth: what a change of the scene costs before it is drawn.
///
/// The aims are 1 ms for a usual scene and 4 ms for 30 reactions, so that the scene can be dragged live.
pub fn full(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("full diagnosis");
    let usual = [
        "handrail",
        "mirror-cell",
        "roof-hatch",
        "roof-ladder",
        "portal-frame",
    ]
    .map(|name| (name.to_owned(), cases::built_in(name)));
    let links = [9, 30, 200].map(|links| {
        cases::families(links).map(|(family, scene)| (format!("{links} links, {family}"), scene))
    });
    for (name, scene) in usual.into_iter().chain(links.into_iter().flatten()) {
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                let model = Model::new(black_box(&scene)).expect("the scene is valid");
                let diagnosis = Diagnosis::new(&model, Tolerance::default());
                Depth::new(&model, &diagnosis, &DepthSettings::default())
            });
        });
    }
    group.finish();
}
