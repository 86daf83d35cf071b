//! How long it takes to find repairs.

use sixhold::statics::repair::{Mending, MendingSettings, Releases};
use sixhold::statics::{Diagnosis, Model, Tolerance};
use std::hint::black_box;

use super::cases::{self, built_in};
use super::clock::Criterion;

/// Links to add among more than 100 000, and reactions to release.
pub fn mend(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("mend");
    for name in ["handrail", "mirror-fork", "cable-tray"] {
        let scene = built_in(name);
        let model = Model::new(&scene).expect("the scene is valid");
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        let settings = MendingSettings::default();
        let tried = Mending::of(&scene, &diagnosis, &settings)
            .expect("the scene is valid")
            .map_or(0, |mending| mending.tried);
        group.bench_function(format!("{name}, {tried} candidates"), |bencher| {
            bencher.iter(|| Mending::of(black_box(&scene), &diagnosis, &settings));
        });
    }
    for links in [12, 100] {
        for (family, scene) in cases::families(links) {
            let model = Model::new(&scene).expect("the case is a valid scene");
            let diagnosis = Diagnosis::new(&model, Tolerance::default());
            group.bench_function(format!("releases of {links} links, {family}"), |bencher| {
                bencher.iter(|| Releases::of(black_box(&model), &diagnosis));
            });
        }
    }
    group.finish();
}
