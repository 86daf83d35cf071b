//! The whole diagnosis beside what numpy needs for rank, singular values and least squares of the same matrices, in one
//! run: `cargo bench --no-default-features --features benches --bench numpy_ratio` (needs python3 with numpy).

#[path = "../cases/mod.rs"]
#[expect(dead_code, reason = "the other benches use more of the cases")]
mod cases;
#[path = "../processor.rs"]
mod processor;

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use sixhold::statics::{CaseIndex, Model, ReactionMatrix};
use sixhold::study::Study;

/// Unknowns of the cases.
const COUNTS: [usize; 5] = [6, 9, 12, 100, 10_000];
/// How long each is repeated.
const REPEATED: Duration = Duration::from_secs(1);

fn main() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut ours = Vec::new();
    for links in COUNTS {
        for (family, scene) in cases::families(links) {
            let study = Study::new(scene).expect("the case is a valid scene");
            let name = format!("{links:05}-{}", family.replace(' ', "-"));
            save(study.model(), &folder.path().join(&name));
            ours.push((name, seconds(&study)));
        }
    }
    let theirs = numpy(folder.path());
    say("case                          diagnosis       numpy   ratio");
    for (name, own) in ours {
        let Some((_, numpy)) = theirs.iter().find(|(other, _)| *other == name) else {
            say(&format!("{name}: numpy gave no time"));
            continue;
        };
        let (own, numpy) = (own * 1e6, numpy * 1e6);
        let ratio = numpy / own;
        say(&format!(
            "{name:28} {own:8.1} µs {numpy:8.1} µs {ratio:7.2}"
        ));
    }
}

#[expect(clippy::print_stdout, reason = "a bench prints what it measures")]
fn say(line: &str) {
    println!("{line}");
}

/// The reaction matrix, row by row, and the load of the first case.
fn save(model: &Model, path: &Path) {
    let matrix = ReactionMatrix::new(model);
    let entries = matrix.entries();
    let counts = [entries.nrows() as u64, entries.ncols() as u64];
    let mut bytes: Vec<u8> = counts
        .iter()
        .flat_map(|count| count.to_le_bytes())
        .collect();
    for row in entries.row_iter() {
        bytes.extend(row.iter().flat_map(|entry| entry.to_le_bytes()));
    }
    fs::write(path.with_extension("matrix"), bytes).expect("a writable folder");
    let wrench = model.cases[CaseIndex::FIRST].resultant(&model.reference);
    let moment = wrench.moment / model.length;
    let load: Vec<u8> = wrench
        .force
        .iter()
        .chain(moment.iter())
        .flat_map(|entry| entry.to_le_bytes())
        .collect();
    fs::write(path.with_extension("load"), load).expect("a writable folder");
}

/// Median of the processor time of one diagnosis.
fn seconds(study: &Study) -> f64 {
    let diagnose = || black_box(black_box(study).without(&[]));
    drop(diagnose());
    let (mut spent, started) = (Vec::new(), Instant::now());
    while started.elapsed() < REPEATED {
        let begun = processor::nanoseconds();
        drop(diagnose());
        spent.push(processor::nanoseconds() - begun);
    }
    spent.sort_by(f64::total_cmp);
    spent[spent.len() / 2] * 1e-9
}

fn numpy(folder: &Path) -> Vec<(String, f64)> {
    let script: PathBuf = [
        env!("CARGO_MANIFEST_DIR"),
        "benches/numpy_ratio/numpy_times.py",
    ]
    .iter()
    .collect();
    let run = Command::new("python3")
        .arg(script)
        .arg(folder)
        .envs(["OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"].map(|name| (name, "1")))
        .output()
        .expect("python3 with numpy");
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    let lines = String::from_utf8_lossy(&run.stdout).into_owned();
    lines
        .lines()
        .filter_map(|line| {
            let (name, seconds) = line.split_once(' ')?;
            Some((name.to_owned(), seconds.parse().ok()?))
        })
        .collect()
}
