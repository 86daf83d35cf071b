//! How long it takes to tell real motions from instantaneous ones and to follow them.

use sixhold::study::Study;
use std::hint::black_box;

use super::cases::built_in;
use super::clock::{Criterion, first_asked};

/// Following every free motion of a scene, and placing the body once.
pub(crate) fn finite_motion(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("finite motion");
    for name in [
        "handrail",
        "roof-hatch",
        "strut-platform",
        "mirror-fork",
        "desk-struts",
    ] {
        let study = Study::new(built_in(name)).expect("the scene is valid");
        group.bench_function(name, |bencher| {
            first_asked(bencher, &study, |study| {
                black_box(study.mobilities());
            });
        });
        if let Some(mobility) = study.mobilities().motions.first() {
            group.bench_function(format!("{name}, one pose"), |bencher| {
                bencher.iter(|| mobility.pose_at(black_box(0.2)));
            });
        }
    }
    group.finish();
}
