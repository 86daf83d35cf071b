//! How long one frame of a drag takes before it is drawn: the change, its reading, and all that is known of the scene.

use super::cases;
use super::clock::Criterion;
use sixhold::draft::{Draft, Handle, Proposal};
use sixhold::scene::Scene;
use sixhold::study::Study;
use std::hint::black_box;

/// The aim is 4 ms at 30 reactions. When the hand lets go, an open ledger also finds all that its pages say, links to add among it.
pub(crate) fn frame(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("a frame of a drag");
    let usual = ["handrail", "roof-hatch"].map(|name| (name.to_owned(), cases::built_in(name)));
    let links = cases::families(30).map(|(family, scene)| (format!("30 links, {family}"), scene));
    for (name, scene) in usual.into_iter().chain(links) {
        for (place, with_ledger) in [("", false), (", let go", true)] {
            let mut drag = Drag::begun(scene.clone());
            group.bench_function(format!("{name}{place}"), |bencher| {
                bencher.iter(|| drag.frame(with_ledger));
            });
        }
    }
    group.finish();
}

/// The first support of a scene, moved a little further in every frame.
struct Drag {
    draft: Draft,
    shown: Study,
    at: [f64; 3],
    step: f64,
}

impl Drag {
    const HANDLE: Handle = Handle::Support(0);

    fn begun(scene: Scene) -> Self {
        Self {
            at: Self::HANDLE.position(&scene).expect("a support"),
            draft: Draft::new(scene.clone()),
            shown: Study::new(scene).expect("the scene is valid"),
            step: 0.0,
        }
    }

    fn frame(&mut self, with_ledger: bool) -> Study {
        let step = if self.step > 0.1 {
            0.0
        } else {
            self.step + 0.001
        };
        self.step = step;
        let to = [self.at[0] + step, self.at[1], self.at[2]];
        let scene = self.draft.scene();
        let proposal = Proposal::moved(scene, Self::HANDLE, to).expect("a support");
        let scene = self
            .draft
            .tried(&proposal)
            .expect("a scene that can be read");
        let study = self.shown.edited(scene).expect("a model");
        black_box((study.objects(), study.circuits(), study.nearness()));
        black_box((study.uncarried(), study.mobilities()));
        if with_ledger {
            black_box((study.one_way(), study.heat(), study.accelerations()));
            black_box((study.repair(), study.combinations(), study.releases()));
        }
        study
    }
}
