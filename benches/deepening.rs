//! How long it takes to go into depth: nearness, one-way supports, accelerations, heat.

use sixhold::study::Study;
use std::hint::black_box;

use super::cases::{self, built_in};
use super::clock::{Criterion, first_asked};

/// The parts in depth, on built-in scenes and on many links.
pub(crate) fn parts(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("parts of depth");
    let scenes = ["mirror-cell", "hoisting-tray", "roof-ladder", "roof-hatch"]
        .map(|name| (name.to_owned(), built_in(name)));
    let links = [30, 200].map(|links| {
        let [(family, scene), _] = cases::families(links);
        (format!("{links} links, {family}"), scene)
    });
    for (name, scene) in scenes.into_iter().chain(links) {
        let study = Study::new(scene).expect("the scene is valid");
        group.bench_function(format!("nearness, {name}"), |bencher| {
            first_asked(bencher, &study, |study| {
                black_box(study.nearness());
            });
        });
        group.bench_function(format!("circuits, {name}"), |bencher| {
            first_asked(bencher, &study, |study| {
                black_box(study.circuits());
            });
        });
        group.bench_function(format!("releases, {name}"), |bencher| {
            first_asked(bencher, &study, |study| {
                black_box(study.releases());
            });
        });
        group.bench_function(format!("rounding, {name}"), |bencher| {
            first_asked(bencher, &study, |study| {
                black_box(study.rounding());
            });
        });
        group.bench_function(format!("one-way, {name}"), |bencher| {
            first_asked(bencher, &study, |study| {
                black_box(study.one_way());
            });
        });
        let springs = study.clone().on_springs();
        group.bench_function(format!("springs, {name}"), |bencher| {
            first_asked(bencher, &springs, |study| {
                black_box(study.elastic());
            });
        });
    }
    group.finish();
}
