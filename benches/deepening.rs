//! How long it takes to go into depth: nearness, one-way supports, accelerations, heat.

use sixhold::statics::repair::Releases;
use sixhold::statics::{Circuits, Diagnosis, Model, Nearness, OneWay, Rounding, Tolerance};
use std::hint::black_box;

use super::cases::{self, built_in};
use super::clock::Criterion;

/// The parts in depth, on built-in scenes and on many links.
pub fn parts(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("parts of depth");
    let scenes = ["mirror-cell", "hoisting-tray", "roof-ladder", "roof-hatch"]
        .map(|name| (name.to_owned(), built_in(name)));
    let links = [30, 200].map(|links| {
        let [(family, scene), _] = cases::families(links);
        (format!("{links} links, {family}"), scene)
    });
    for (name, scene) in scenes.into_iter().chain(links) {
        let model = Model::new(&scene).expect("the scene is valid");
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        group.bench_function(format!("nearness, {name}"), |bencher| {
            bencher.iter(|| Nearness::of(black_box(&model), &diagnosis));
        });
        group.bench_function(format!("circuits, {name}"), |bencher| {
            bencher.iter(|| Circuits::of(black_box(&model), &diagnosis));
        });
        group.bench_function(format!("releases, {name}"), |bencher| {
            bencher.iter(|| Releases::of(black_box(&model), &diagnosis));
        });
        group.bench_function(format!("rounding, {name}"), |bencher| {
            bencher.iter(|| Rounding::of(black_box(&model), &diagnosis));
        });
        group.bench_function(format!("one-way, {name}"), |bencher| {
            bencher.iter(|| OneWay::of(black_box(&model), &diagnosis));
        });
    }
    group.finish();
}
