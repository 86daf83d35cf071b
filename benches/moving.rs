//! How long it takes to tell real motions from instantaneous ones and to follow them.

use sixhold::motion::Mobilities;
use sixhold::statics::{Diagnosis, Model, Tolerance};
use std::hint::black_box;

use super::cases::built_in;
use super::clock::Criterion;

/// Following every free motion of a scene, and placing the body once.
pub fn finite_motion(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("finite motion");
    for name in [
        "handrail",
        "roof-hatch",
        "strut-platform",
        "mirror-fork",
        "desk-struts",
    ] {
        let scene = built_in(name);
        let model = Model::new(&scene).expect("the scene is valid");
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        group.bench_function(name, |bencher| {
            bencher.iter(|| Mobilities::of(black_box(&model), &diagnosis));
        });
        let mobilities = Mobilities::of(&model, &diagnosis);
        if let Some(mobility) = mobilities.motions.first() {
            group.bench_function(format!("{name}, one pose"), |bencher| {
                bencher.iter(|| mobility.pose_at(black_box(0.2)));
            });
        }
    }
    group.finish();
}
