//! How long reading, diagnosing and reporting take. Run with
//! `cargo bench --no-default-features --features benches`.

mod anchoring;
mod bending;
mod cases;
mod clock;
mod deepening;
mod dragging;
mod drawing;
mod explaining;
mod filming;
mod mending;
mod moving;
mod processor;
mod writing;

use clock::{Criterion, ProcessorTime};
use criterion::{criterion_group, criterion_main};
use sixhold::document::{Styles, terminal};
use sixhold::report::Report;
use sixhold::report::paper::{ReportDocument, document};
use sixhold::scene::{self, builtin};
use sixhold::statics::{ExactRank, Model, NumericRank, ReactionMatrix, Tolerance};
use sixhold::study::Study;
use std::hint::black_box;

fn diagnose(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("diagnose");
    for links in [6, 12, 100, 10_000] {
        for (family, scene) in cases::families(links) {
            let study = Study::new(scene).expect("the case is a valid scene");
            group.bench_function(format!("{links} links, {family}"), |bencher| {
                bencher.iter(|| black_box(&study).without(&[]));
            });
        }
    }
    group.finish();
}

fn lay_out(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("lay out the model");
    for links in [6, 10_000] {
        let [(_, scene), _] = cases::families(links);
        group.bench_function(format!("{links} links"), |bencher| {
            bencher.iter(|| Model::new(black_box(&scene)));
        });
    }
    // The last has a weight and a bent bar, whose inertia is asked for apart.
    for name in ["mirror-cell", "handrail"] {
        let scene = cases::built_in(name);
        group.bench_function(name, |bencher| {
            bencher.iter(|| Model::new(black_box(&scene)));
        });
        group.bench_function(format!("{name}, with its inertia"), |bencher| {
            bencher.iter(|| Model::new(black_box(&scene)).map(|model| model.mass_properties()));
        });
    }
    group.finish();
}

fn rank(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("numeric rank");
    for links in [6, 100, 10_000] {
        for (family, scene) in cases::families(links) {
            let matrix =
                ReactionMatrix::new(&Model::new(&scene).expect("the case is a valid scene"));
            group.bench_function(format!("{links} links, {family}"), |bencher| {
                bencher.iter(|| NumericRank::new(black_box(&matrix), Tolerance::default()));
            });
        }
    }
    group.finish();
    let mut group = criterion.benchmark_group("exact rank");
    for links in [6, 100, 10_000] {
        for (family, scene) in cases::families(links) {
            let model = Model::new(&scene).expect("the case is a valid scene");
            group.bench_function(format!("{links} links, {family}"), |bencher| {
                bencher.iter(|| ExactRank::of(black_box(&model)));
            });
        }
    }
    group.finish();
}

fn parse(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("parse");
    group.bench_function("built-in scene", |bencher| {
        let text = handrail();
        bencher.iter(|| scene::read_str("handrail", black_box(text)));
    });
    for links in [100, 10_000] {
        let [(_, scene), _] = cases::families(links);
        let text = scene::to_ron(&scene);
        group.bench_function(format!("{links} links"), |bencher| {
            bencher.iter(|| scene::read_str("links", black_box(&text)));
        });
    }
    group.finish();
}

/// From the text of a scene to the text of its report.
fn check(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("whole check");
    let [(_, links), _] = cases::families(10_000);
    let texts = [
        ("built-in scene", handrail().to_owned()),
        ("10000 links", scene::to_ron(&links)),
    ];
    for (name, text) in texts {
        group.bench_function(name, |bencher| bencher.iter(|| report(black_box(&text))));
    }
    group.finish();
}

fn handrail() -> &'static str {
    builtin::find(builtin::DEFAULT)
        .expect("the default scene is built in")
        .text
}

fn report(text: &str) -> String {
    let loaded = scene::read_str("scene", text).expect("the case is a valid scene");
    let study = Study::new(loaded.scene).expect("the case is a valid scene");
    let report = Report {
        study: &study,
        case: None,
    };
    let paper = ReportDocument {
        report,
        figure: None,
        diagrams: &[],
        is_worked: false,
        has_details: true,
        digits: 4,
        record: None,
    };
    terminal(&document(&paper), &Styles::default())
}

criterion_group!(
    name = benches;
    config = criterion::Criterion::default().with_measurement(ProcessorTime);
    targets = parse,
    check,
    diagnose,
    rank,
    lay_out,
    deepening::parts,
    anchoring::anchor,
    bending::bend,
    moving::finite_motion,
    mending::mend,
    explaining::reasons_and_circuits,
    explaining::full,
    dragging::frame,
    writing::documents,
    drawing::figures,
    filming::films
);
criterion_main!(benches);
