//! How long each part takes on random scenes, the slowest of 10 000 included: means say nothing of a search without bound.
//!
//! Run with `cargo bench --no-default-features --features benches --bench slowest`, about a minute; a number behind `--`
//! replaces the 10 000. Ends with the scene that took longest in each part that is slow.

#[allow(dead_code, reason = "shared with the other benches")]
mod cases;
mod processor;
mod random;

use std::hint::black_box;
use std::io::Write;
use std::rc::Rc;

use sixhold::study::Study;

/// The parts, in the order timed.
const PARTS: [&str; 9] = [
    "diagnosis",
    "nearness",
    "groups",
    "one-way",
    "springs",
    "releases",
    "all of depth",
    "motions followed",
    "links to add",
];
/// Scenes unless told otherwise.
const SCENES: usize = 10_000;
/// A part whose slowest scene takes longer than this, ns, has that scene printed.
const SLOW: f64 = 50e6;

/// Time on a scene, ns, and the scene's text.
type Timed = (f64, Rc<str>);

/// Time on the processor that some work takes, ns, and its result.
fn time_of<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = processor::nanoseconds();
    let result = work();
    (processor::nanoseconds() - start, result)
}

fn main() -> std::io::Result<()> {
    let count = std::env::args().find_map(|argument| argument.parse().ok());
    let count = count.unwrap_or(SCENES);
    let mut numbers = cases::Numbers(1);
    let mut times: [Vec<Timed>; PARTS.len()] = Default::default();
    for _ in 0..count {
        let (text, scene) = random::scene(&mut numbers);
        let text: Rc<str> = text.into();
        for (part, time) in times.iter_mut().zip(timed(&scene)) {
            part.push((time, Rc::clone(&text)));
        }
    }
    print(count, &mut times)
}

/// Times of all parts on a scene, ns.
fn timed(scene: &sixhold::scene::Scene) -> [f64; PARTS.len()] {
    let study = Study::new(scene.clone()).expect("reading accepted it");
    let (diagnosed, study) = time_of(|| study.without(&[]));
    let first = |ask: fn(&Study)| {
        let study = study.clone();
        time_of(|| ask(&study)).0
    };
    [
        diagnosed,
        first(|study| {
            black_box(study.nearness());
        }),
        first(|study| {
            black_box(study.circuits());
        }),
        first(|study| {
            black_box(study.one_way());
        }),
        on_springs(&study),
        first(|study| {
            black_box(study.releases());
        }),
        first(everything),
        first(|study| {
            black_box(study.mobilities());
        }),
        first(|study| {
            black_box(study.repair());
        }),
    ]
}

/// What elastic supports take beside what is asked anyway, ns.
fn on_springs(study: &Study) -> f64 {
    let study = study.clone().on_springs();
    black_box(study.one_way());
    time_of(|| black_box(study.elastic()).is_some()).0
}

/// All but motions and links to add.
fn everything(study: &Study) {
    black_box((study.objects(), study.circuits(), study.combinations()));
    black_box((study.nearness(), study.rounding(), study.heat()));
    black_box((study.uncarried(), study.accelerations(), study.releases()));
}

fn print(count: usize, times: &mut [Vec<Timed>]) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{count} random scenes, processor time in ms")?;
    writeln!(
        out,
        "{:18}{:>10}{:>10}{:>10}{:>10}",
        "", "median", "99 %", "99.9 %", "slowest"
    )?;
    for (name, part) in PARTS.iter().zip(times.iter_mut()) {
        part.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = |share: f64| part[((part.len() - 1) as f64 * share) as usize].0 / 1e6;
        let [median, most, nearly, slowest] = [0.5, 0.99, 0.999, 1.0].map(at);
        writeln!(
            out,
            "{name:18}{median:>10.3}{most:>10.3}{nearly:>10.3}{slowest:>10.3}"
        )?;
    }
    for (name, part) in PARTS.iter().zip(times) {
        if let Some((time, text)) = part.last().filter(|(time, _)| *time > SLOW) {
            writeln!(out, "\n{name}, {:.0} ms:\n{text}", time / 1e6)?;
        }
    }
    Ok(())
}
