//! How long it takes to find repairs.

use sixhold::study::Study;
use std::hint::black_box;

use super::cases::{self, built_in};
use super::clock::{Criterion, first_asked};

/// Links to add among more than 100 000, and reactions to release.
pub(crate) fn mend(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("mend");
    for name in ["handrail", "mirror-fork", "cable-tray"] {
        let study = Study::new(built_in(name)).expect("the scene is valid");
        let tried = study.clone();
        let tried = tried.repair().links().map_or(0, |mending| mending.tried);
        group.bench_function(format!("{name}, {tried} candidates"), |bencher| {
            first_asked(bencher, &study, |study| {
                black_box(study.repair());
            });
        });
    }
    for links in [12, 100] {
        for (family, scene) in cases::families(links) {
            let study = Study::new(scene).expect("the case is a valid scene");
            group.bench_function(format!("releases of {links} links, {family}"), |bencher| {
                first_asked(bencher, &study, |study| {
                    black_box(study.releases());
                });
            });
        }
    }
    group.finish();
}
