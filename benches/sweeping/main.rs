//! Sweeps: a million placements of twelve links on one core and on two, memory and time as the count grows, and the smallest
//! singular values beside numpy's batched decomposition of the same matrices, in one run:
//! `cargo bench --no-default-features --features benches --bench sweeping` (needs python3 with numpy).

#[path = "../cases/mod.rs"]
#[expect(dead_code, reason = "the other benches use more of the cases")]
mod cases;
#[path = "../processor.rs"]
mod processor;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

use sixhold::study::Study;
use sixhold::sweep::{
    AddedSupport, Distribution, MapPlace, Sweep, SweepSettings, SweepTolerances, SweepWatch,
    margins_with, smallest_singular_values,
};

/// Links of the scene.
const LINKS: usize = 12;
/// Matrices that both decompose.
const MATRICES: usize = 100_000;
/// Places of the map.
const PLACES: usize = 100_000;
const MILLION: u64 = 1_000_000;

fn main() {
    let [(_, held), _] = cases::families(LINKS);
    let study = Study::new(held).expect("the case is a valid scene");
    let all = SweepTolerances {
        placement: Some(0.01),
        direction: Some(0.02),
        load: Some(0.1),
        stiffness: None,
    };
    let sweep = Sweep::new(&study, settings(all), None).expect("a sweep that makes sense");
    beside_numpy(&sweep);
    let stiff = SweepTolerances {
        stiffness: Some(0.2),
        ..all
    };
    let stiff = Sweep::new(&study, settings(stiff), None).expect("a sweep that makes sense");
    for (what, sweep) in [
        ("equal stiffnesses", &sweep),
        ("varied stiffnesses", &stiff),
    ] {
        let [one, two] = [1, 2].map(|threads| seconds(sweep, MILLION, threads));
        say(&format!(
            "10^6 placements, {what}: {one:.2} s on one thread, {two:.2} s on two: {:.2} times as fast",
            one / two
        ));
    }
    map(&study);
    for count in [100_000, MILLION, 10 * MILLION] {
        let spent = seconds(&sweep, count, 2);
        say(&format!(
            "{count:9} placements: {spent:7.2} s, at most {} KiB so far",
            peak()
        ));
    }
}

#[expect(clippy::print_stdout, reason = "a bench prints what it measures")]
fn say(line: &str) {
    println!("{line}");
}

fn settings(tolerances: SweepTolerances) -> SweepSettings {
    SweepSettings {
        count: 10 * MILLION,
        seed: 1,
        distribution: Distribution::Uniform,
        tolerances,
        reach: 0.01,
    }
}

/// A map of many places.
fn map(study: &Study) {
    let place = |number: usize| {
        let [x, y, z] = [7, 11, 13].map(|factor| ((number * factor) % 1009) as f64 / 1009.0 - 0.5);
        MapPlace {
            point: [x, y, z].into(),
            normal: [0.0, 0.0, 1.0].into(),
        }
    };
    let places: Vec<MapPlace> = (0..PLACES).map(place).collect();
    for added in [AddedSupport::Link, AddedSupport::Anchor] {
        let begun = processor::nanoseconds();
        let margins = margins_with(study.model(), added, &places);
        let spent = (processor::nanoseconds() - begun) * 1e-9;
        say(&format!(
            "map of {} places, {added:?}: {spent:.3} s",
            margins.len()
        ));
    }
}

/// Seconds on the clock of a sweep on so many threads.
fn seconds(sweep: &Sweep, count: u64, threads: usize) -> f64 {
    let watch = SweepWatch {
        stops: &|| false,
        done: &|_| {},
    };
    let started = Instant::now();
    let tally = sweep.run_on(threads, 0..count, &watch);
    assert_eq!(tally.placements, count);
    started.elapsed().as_secs_f64()
}

/// The most memory that the process has had, KiB; 0 where the system does not say.
fn peak() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let number = line.and_then(|line| line.split_whitespace().next()?.parse().ok());
    number.unwrap_or(0)
}

/// The smallest singular values of the same matrices, ours on one thread and numpy's on one.
fn beside_numpy(sweep: &Sweep) {
    let matrices: Vec<Vec<[f64; 6]>> = (0..MATRICES as u64).map(|n| sweep.columns(n)).collect();
    let begun = processor::nanoseconds();
    let values = smallest_singular_values(&matrices);
    let own = (processor::nanoseconds() - begun) * 1e-9;
    let folder = tempfile::tempdir().expect("a temporary folder");
    let bytes = |numbers: &mut dyn Iterator<Item = f64>| -> Vec<u8> {
        numbers.flat_map(f64::to_le_bytes).collect()
    };
    let columns = matrices.iter().flatten().flatten().copied();
    save(folder.path(), "columns", bytes(&mut columns.into_iter()));
    save(folder.path(), "values", bytes(&mut values.into_iter()));
    let script = ["benches", "sweeping", "numpy_batch.py"];
    let script: PathBuf = [env!("CARGO_MANIFEST_DIR")]
        .into_iter()
        .chain(script)
        .collect();
    let run = Command::new("python3")
        .arg(script)
        .arg(folder.path())
        .arg(LINKS.to_string())
        .envs(["OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"].map(|name| (name, "1")))
        .output()
        .expect("python3 with numpy");
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    let said = String::from_utf8_lossy(&run.stdout).into_owned();
    let numbers: Vec<f64> = said
        .split_whitespace()
        .filter_map(|word| word.parse().ok())
        .collect();
    let [theirs, apart] = numbers[..] else {
        say("numpy gave no time");
        return;
    };
    let each = 1e6 / MATRICES as f64;
    say(&format!(
        "smallest singular value of a matrix: {:.2} µs, numpy {:.2} µs: {:.1} times as fast; at most {apart:.1e} apart",
        own * each,
        theirs * each,
        theirs / own
    ));
}

fn save(folder: &Path, name: &str, bytes: Vec<u8>) {
    fs::write(folder.join(name), bytes).expect("a writable folder");
}
