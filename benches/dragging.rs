//! How long one frame of a drag takes before it is drawn: the change, its reading, and all that is known of the scene.

use super::cases;
use super::clock::Criterion;
use sixhold::draft::{Draft, Handle, Proposal};
use sixhold::study::Study;
use std::hint::black_box;

/// The aim is 4 ms at 30 reactions.
pub(crate) fn frame(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("a frame of a drag");
    let usual = ["handrail", "roof-hatch"].map(|name| (name.to_owned(), cases::built_in(name)));
    let links = cases::families(30).map(|(family, scene)| (format!("30 links, {family}"), scene));
    for (name, scene) in usual.into_iter().chain(links) {
        let draft = Draft::new(scene.clone());
        let shown = Study::new(scene).expect("the scene is valid");
        let handle = Handle::Support(0);
        let at = handle.position(draft.scene()).expect("a support");
        let mut step = 0.0;
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                step = if step > 0.1 { 0.0 } else { step + 0.001 };
                let to = [at[0] + step, at[1], at[2]];
                let proposal = Proposal::moved(draft.scene(), handle, to).expect("a support");
                let scene = draft.tried(&proposal).expect("a scene that can be read");
                let study = shown.edited(scene).expect("a model");
                black_box((study.objects(), study.circuits(), study.nearness()));
                black_box((study.uncarried(), study.mobilities()));
                study
            });
        });
    }
    group.finish();
}
