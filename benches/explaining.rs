//! How long the reasons for freedom and redundancy take.

use super::cases;
use super::clock::{Criterion, first_asked};
use sixhold::study::Study;
use std::hint::black_box;

/// Geometry of the reason and circuits, apart.
pub(crate) fn reasons_and_circuits(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("reasons and circuits");
    for links in [6, 9, 30, 200] {
        for (family, scene) in cases::families(links) {
            let study = Study::new(scene).expect("the case is a valid scene");
            group.bench_function(format!("objects, {links} links, {family}"), |bencher| {
                first_asked(bencher, &study, |study| {
                    black_box(study.objects());
                });
            });
            group.bench_function(format!("circuits, {links} links, {family}"), |bencher| {
                first_asked(bencher, &study, |study| {
                    black_box(study.circuits());
                });
            });
        }
    }
    group.finish();
}

/// Diagnosis and everything in depth: what a change of the scene costs before it is drawn.
///
/// The aims are 1 ms for a usual scene and 4 ms for 30 reactions, so that the scene can be dragged live.
pub(crate) fn full(criterion: &mut Criterion) {
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
                let scene = black_box(&scene).clone();
                let study = Study::new(scene).expect("the scene is valid");
                black_box((study.objects(), study.circuits(), study.combinations()));
                black_box((study.nearness(), study.rounding(), study.heat()));
                black_box((study.uncarried(), study.accelerations(), study.releases()));
                study
            });
        });
    }
    group.finish();
}
