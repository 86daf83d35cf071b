//! Sweeps against studies of the same placements, one by one, and against error propagation.

use super::*;
use crate::elastic::ElasticCase;
use crate::scene::{builtin, read_str};
use crate::statics::{ReactionKind, ReactionMatrix, SupportIndex, WideSvd};

const NO_WATCH: SweepWatch = SweepWatch {
    stops: &|| false,
    done: &|_| {},
};

fn everything_varies(distribution: Distribution, count: u64) -> SweepSettings {
    SweepSettings {
        count,
        seed: 5,
        distribution,
        tolerances: SweepTolerances {
            placement: Some(0.01),
            direction: Some(0.02),
            load: Some(0.1),
            stiffness: Some(0.3),
        },
        reach: 0.01,
    }
}

fn study(text: &str) -> Study {
    Study::new(read_str("test", text).unwrap().scene).unwrap()
}

/// Redundant supports that settle, are tightened and expand; contacts that lift off, one of them rough.
const IMPOSED: &str = r#"(
    format: 1, space: planar,
    body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.05)],
    supports: [
        Pin(name: "A", at: (0, 0), stiffness: 2e6), Pin(name: "B", at: (2, 0), stiffness: 3e6),
        Cable(name: "C", at: (1, 0), ground: (1.5, 2), stiffness: 1e6),
    ],
    loads: [Weight(mass: 30)],
    cases: [
        (name: "winter", loads: [], imposed: [Warming(by: -35, expansion: 1.2e-5)]),
        (name: "settled", loads: [], imposed: [Settlement(support: "B", moves_by: (0, -0.002)), Prestress(support: "C", force: 40)]),
        (name: "lifted", loads: [Force(at: (1, 0), force: (50, 900)), Couple(moment: 30)]),
    ],
    combinations: [(name: "both", permanent: 1.35, factors: {"winter": 0.5, "lifted": 1.5})],
)"#;
const CONTACTS: &str = r#"(
    format: 1,
    body: [Block(centre: (0, 0, 0.5), size: (2, 1, 1))],
    supports: [
        RoughContact(name: "A", at: (-1, -0.5, 0), normal: (0, 0, 1), stiffness: 1e6),
        SmoothContact(name: "B", at: (1, -0.5, 0), normal: (0, 0, 1), stiffness: 1e6),
        SmoothContact(name: "C", at: (1, 0.5, 0), normal: (0, 0, 1), stiffness: 1e6),
        SmoothContact(name: "D", at: (-1, 0.5, 0), normal: (0.1, 0, 1), stiffness: 1e6),
        Link(name: "E", at: (1, 0, 1), ground: (1, 3, 1.2), stiffness: 2e6),
    ],
    loads: [Weight(mass: 100)],
    cases: [
        (name: "still", loads: []),
        (name: "pushed", loads: [Force(at: (0, 0, 1), size: 300, direction: (1, 0.2, 0))]),
        (name: "wind", loads: [Distributed(from: (-1, 0, 1), to: (1, 0, 1), start: (0, 200, 10))]),
        (name: "tipped", loads: [Force(at: (0, 0, 1), force: (0, -2000, 0))]),
    ],
)"#;

/// Root of the sum of squares of the forces, and of the couples, of a support: whichever way its components are named.
fn sizes(study: &Study, support: SupportIndex, value: impl Fn(usize) -> f64) -> [f64; 2] {
    let model = study.model();
    let own = model.supports[support].reactions.clone();
    [ReactionKind::Force, ReactionKind::Couple].map(|kind| {
        let of_kind = own.clone().filter(|j| model.reactions[*j].kind == kind);
        of_kind.map(|j| value(j.get()).powi(2)).sum::<f64>().sqrt()
    })
}

/// Compares a placement of a sweep with the study of its scene; how often a load was carried, and how often not.
fn compare(sweep: &Sweep, number: u64) -> [usize; 2] {
    let name = sweep.study().name();
    let tally = sweep.run(number..number + 1, &NO_WATCH);
    let placed = Study::new(sweep.scene(number)).unwrap().on_springs();
    let mut model = placed.model().clone();
    let written = sweep.study().model();
    (model.reference, model.length) = (written.reference, written.length);
    let svd = WideSvd::new(ReactionMatrix::new(&model).entries());
    let margin = svd.values.last().unwrap() * written.length;
    let found = tally.worst.unwrap().value;
    let largest = svd.values[0] * written.length;
    assert!(
        (found - margin).abs() <= 1e-13 * largest,
        "{name} {number}: margin {found}, {margin}"
    );
    let is_held = placed.diagnosis().is_held();
    assert_eq!(tally.not_held == 0, is_held, "{name} {number}");
    let mut counts = [0; 2];
    if !is_held {
        return counts;
    }
    for (case, tally) in sweep.cases().into_iter().zip(&tally.cases) {
        let found = &placed.elastic().unwrap().cases[case];
        // What the study has no answer to cannot be compared.
        if matches!(found, ElasticCase::NotFound) {
            continue;
        }
        let solved = found.reactions();
        assert_eq!(tally.not_found, 0, "{name} {number} {case:?}");
        assert_eq!(
            tally.carried == 1,
            solved.is_some(),
            "{name} {number} {case:?}"
        );
        counts[usize::from(tally.carried == 0)] += 1;
        let Some(solved) = solved else { continue };
        let largest = solved
            .values
            .iter()
            .fold(1.0, |size: f64, x| size.max(x.abs()));
        for support in model.supports.indices() {
            let expected = sizes(&placed, support, |j| solved.values.as_slice()[j]);
            let found = sizes(&placed, support, |j| {
                tally.reactions[j].least.unwrap().value
            });
            for (found, expected) in found.into_iter().zip(expected) {
                assert!(
                    (found - expected).abs() <= 1e-8 * largest,
                    "{name} {number} {case:?} {support:?}: {found}, {expected}"
                );
            }
        }
    }
    counts
}

#[test]
fn a_placement_is_what_the_study_of_its_scene_says() {
    let built_in = builtin::all().iter().map(|scene| scene.text);
    let mut counts = [0; 2];
    for text in built_in.chain([IMPOSED, CONTACTS]) {
        let study = study(text);
        for distribution in [Distribution::Uniform, Distribution::Normal] {
            let mut settings = everything_varies(distribution, 1000);
            settings.tolerances.placement = Some(0.01 * study.model().length);
            let sweep = match Sweep::new(&study, settings, None) {
                // What is imposed on bars that bend needs no stiffness of supports, but a sweep takes the body as rigid.
                Err(SweepError::NoStiffness { .. }) if study.frame().is_some() => continue,
                sweep => sweep.unwrap(),
            };
            for number in 0..3 {
                let [carried, not] = compare(&sweep, 41 * number);
                counts = [counts[0] + carried, counts[1] + not];
            }
        }
    }
    assert!(counts[0] > 60 && counts[1] > 10, "{counts:?}");
}

#[test]
fn shares_add_up_to_the_whole() {
    let study = study(CONTACTS);
    let settings = everything_varies(Distribution::Normal, 5003);
    let sweep = Sweep::new(&study, settings, None).unwrap();
    let whole = sweep.run(0..5003, &NO_WATCH);
    assert_eq!(whole.placements, 5003);
    let share = |number| {
        let part = SweepPart { number, of: 7 };
        let tally = sweep.run(part.placements(5003), &NO_WATCH);
        let text = SweepShare::new(&sweep, part, tally).to_json().unwrap();
        (
            number.to_string(),
            SweepShare::read("share", &text).unwrap(),
        )
    };
    let shares: Vec<_> = [3, 1, 7, 2, 6, 5, 4].map(share).into();
    assert_eq!(SweepShare::joined(shares.clone()).unwrap().tally, whole);
    let without: Vec<_> = shares.iter().skip(2).cloned().collect();
    let error = SweepShare::joined(without).unwrap_err().to_string();
    assert_eq!(error, "2 of 7 shares are missing: 1, 3");
    let twice: Vec<_> = shares.iter().chain(&shares[..1]).cloned().collect();
    assert!(matches!(
        SweepShare::joined(twice),
        Err(JoinError::Twice { .. })
    ));
    let mut other = shares.clone();
    other[2].1.settings.seed += 1;
    assert!(matches!(
        SweepShare::joined(other),
        Err(JoinError::Different {
            what: "the seed",
            ..
        })
    ));
    let mut stopped = shares;
    stopped[2].1.tally.placements -= 1;
    assert!(matches!(
        SweepShare::joined(stopped),
        Err(JoinError::Stopped { .. })
    ));
}

#[test]
fn what_is_told_to_stop_has_no_gaps() {
    let study = study(CONTACTS);
    let settings = everything_varies(Distribution::Uniform, 1_000_000);
    let sweep = Sweep::new(&study, settings, None).unwrap();
    let done = AtomicU64::new(0);
    let count = |more| {
        done.fetch_add(more, Ordering::Relaxed);
    };
    let watch = SweepWatch {
        stops: &|| done.load(Ordering::Relaxed) >= 4000,
        done: &count,
    };
    let stopped = sweep.run(10..1_000_000, &watch);
    assert!((4000..100_000).contains(&stopped.placements));
    assert_eq!(sweep.run(10..10 + stopped.placements, &NO_WATCH), stopped);
}

/// A beam on a pin and a roller, loaded a quarter of the span `l` from the pin: `N_B = F (a − x_A) / (x_B − x_A)`. To the first order, placements
/// of standard deviation s give it one of `F s / l √((1 − a/l)² + (a/l)²)` (JCGM 100:2008, *Guide to the expression of uncertainty in
/// measurement*, 5.1.2), and a load that is uniform within a part p one of `p/√3` of itself (ibid., 4.3.7).
#[test]
fn spread_is_that_of_error_propagation() {
    let study = study(
        r#"(format: 1, space: planar,
            body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.05)],
            supports: [Pin(name: "A", at: (0, 0)), Roller(name: "B", at: (2, 0), normal: (0, 1))],
            loads: [Force(at: (0.5, 0), force: (0, -100))])"#,
    );
    let spread = |distribution, tolerances| {
        let settings = SweepSettings {
            tolerances,
            ..everything_varies(distribution, 40_000)
        };
        let sweep = Sweep::new(&study, settings, None).unwrap();
        assert!((sweep.as_written()[0][2] - 25.0).abs() < 1e-12);
        let tally = sweep.run(0..40_000, &NO_WATCH);
        let [mean, deviation] = tally.cases[0].reactions[2]
            .deviations
            .mean_and_deviation()
            .unwrap();
        assert!(mean.abs() < 0.02 * deviation, "{mean}");
        deviation
    };
    let placed = SweepTolerances {
        placement: Some(0.001),
        ..SweepTolerances::default()
    };
    let expected = 100.0 * 0.001 / 2.0 * 0.75_f64.hypot(0.25);
    let found = spread(Distribution::Normal, placed);
    assert!(
        (found / expected - 1.0).abs() < 0.02,
        "{found} is not {expected}"
    );
    let loaded = SweepTolerances {
        load: Some(0.1),
        ..SweepTolerances::default()
    };
    let expected = 0.1 * 25.0 / 3.0_f64.sqrt();
    let found = spread(Distribution::Uniform, loaded);
    assert!(
        (found / expected - 1.0).abs() < 0.02,
        "{found} is not {expected}"
    );
}

#[test]
fn what_makes_no_sense_is_refused() {
    let study = study(CONTACTS);
    let sound = everything_varies(Distribution::Uniform, 10);
    let refused = |change: &dyn Fn(&mut SweepSettings)| {
        let mut settings = sound.clone();
        change(&mut settings);
        Sweep::new(&study, settings, None).map(drop).unwrap_err()
    };
    assert_eq!(refused(&|s| s.count = 0), SweepError::NoPlacement);
    assert_eq!(
        refused(&|s| s.tolerances = SweepTolerances::default()),
        SweepError::NothingVaries
    );
    for value in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let error = refused(&|s| s.tolerances.placement = Some(value));
        assert!(matches!(error, SweepError::Tolerance { .. }), "{value}");
    }
    let error = refused(&|s| s.tolerances.stiffness = Some(1.0));
    assert!(matches!(error, SweepError::Tolerance { .. }));
    assert!(Sweep::new(&study, sound.clone(), None).is_ok());
}
