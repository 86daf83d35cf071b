//! Contacts that push and cables that pull.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use proptest::prelude::*;
use sixhold::motion::Selection;
use sixhold::statics::{
    CaseIndex, MotionKind, OneWay, OneWayCase, Range, ReactionIndex, ReactionMatrix, Sense,
};
use sixhold::wording;

use super::{assert_close, deep, reaction, scene};

fn one_way(text: &str) -> (sixhold::statics::Model, OneWay) {
    let study = deep(&scene(text));
    let found = study.one_way().expect("some support acts one way");
    (study.model().clone(), found.clone())
}

/// A beam on two props under a load beyond the second: it tips about that one and lifts off the first.
#[test]
fn a_beam_tips_about_its_second_prop() {
    let beam = |x: f64| {
        one_way(&format!(
            r#"space: planar, body: [BentBar(path: [(0, 0), (4, 0)], diameter: 0.1)],
            supports: [
                Slot(name: "G", at: (0, 0), along: (0, 1)),
                Roller(name: "A", at: (0, 0), normal: (0, 1)), Roller(name: "B", at: (2, 0), normal: (0, 1))],
            loads: [Force(at: ({x}, 0), force: (0, -10))]"#
        ))
    };
    let (model, held) = beam(1.5);
    assert!(
        held.cases[CaseIndex::FIRST].is_carried()
            && held.cases[CaseIndex::FIRST].escape().is_none()
    );
    let range =
        held.cases[CaseIndex::FIRST].balance().unwrap().ranges[reaction(&model, "N_B")].unwrap();
    assert_close(range.value().unwrap(), 7.5, 1e-9);

    let (model, tipped) = beam(3.0);
    let case = &tipped.cases[CaseIndex::FIRST];
    assert!(!case.is_carried());
    let escape = case.escape().unwrap();
    assert_eq!(escape.motion.kind, MotionKind::Rotation);
    // The slot holds x at x = 0, so the turn is about the point of its line with B at rest: B itself, at y = 0.
    assert_close(escape.motion.point.x, 2.0, 1e-9);
    assert_close(escape.motion.point.y, 0.0, 1e-9);
    assert!(escape.backwards, "clockwise");
    assert_eq!(escape.loosened, [reaction(&model, "N_A")]);
    assert_eq!(escape.touching, [reaction(&model, "N_B")]);
    // 10 N go down at 1 m from B, at 1 rad/s.
    assert_close(escape.power, 10.0, 1e-9);
    // A load upwards is not held either.
    assert!(tipped.escape.is_some());
}

/// A ladder on a rough floor against a smooth wall: statics asks for a coefficient of cot α / 2, with α the slope.
#[test]
fn a_ladder_needs_the_friction_of_its_slope() {
    let ladder = |up: f64| {
        one_way(&format!(
            r#"space: planar, body: [BentBar(path: [(0, 0), (3, {up})], diameter: 0.05)],
            supports: [
                RoughContact(name: "F", at: (0, 0), normal: (0, 1)),
                SmoothContact(name: "W", at: (3, {up}), normal: (-1, 0))],
            loads: [Force(at: (1.5, {}), force: (0, -200))]"#,
            up / 2.0
        ))
    };
    for up in [4.0_f64, 1.0, 8.0] {
        let (model, found) = ladder(up);
        let [friction] = found.cases[CaseIndex::FIRST]
            .balance()
            .unwrap()
            .friction
            .as_slice()
        else {
            panic!("one rough contact");
        };
        assert_eq!(model.supports[friction.support].name, "F");
        assert_close(friction.coefficient.unwrap(), 3.0 / up / 2.0, 1e-9);
        let said = wording::one_way(&model, &found.cases[CaseIndex::FIRST]);
        assert!(
            said.to_string()
                .contains("Required coefficient of friction: at least"),
            "{said}"
        );
        let limit = wording::every_load(&model, &found);
        assert!(
            limit
                .to_string()
                .contains("Friction at F is assumed to be as large as required"),
            "{limit}"
        );
    }
}

/// Two rough contacts press against each other by any amount, so that no coefficient is decided.
#[test]
fn friction_between_two_rough_contacts_is_not_decided() {
    let (_, found) = one_way(
        r#"space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.05)],
        supports: [
            RoughContact(name: "A", at: (0, 0), normal: (0, 1)),
            RoughContact(name: "B", at: (2, 0), normal: (0, 1))],
        loads: [Force(at: (1, 0), force: (0, -10))]"#,
    );
    let coefficients: Vec<_> = found.cases[CaseIndex::FIRST]
        .balance()
        .unwrap()
        .friction
        .iter()
        .map(|f| f.coefficient)
        .collect();
    assert_eq!(coefficients, [None, None]);
}

/// Published case A2 (Hibbeler & Gupta, Ex. 5.13): the ball joint at B has to pull the plate down with 217 N. With a
/// bare contact in its place the plate tips about the line through A and C.
#[test]
fn a_plate_that_needs_a_pull() {
    let plate = |b: &str| {
        format!(
            r#"body: [Plate(corners: [(0, 0, 0), (3, 0, 0), (3, 2, 0), (0, 2, 0)], thickness: 0.05)],
            supports: [
                Roller(name: "A", at: (3, 0, 0), normal: (0, 0, 1)), {b},
                Cable(name: "C", at: (0, 2, 0), ground: (0, 2, 3))],
            loads: [
                Force(at: (1.5, 1, 0), force: (0, 0, -981)), Force(at: (1.5, 0, 0), force: (0, 0, -300)),
                Couple(moment: (0, -200, 0))]"#
        )
    };
    let (model, held) = one_way(&plate(r#"BallJoint(name: "B", at: (3, 2, 0))"#));
    assert!(held.cases[CaseIndex::FIRST].is_carried());
    let value = held.cases[CaseIndex::FIRST].balance().unwrap().ranges[reaction(&model, "B_z")]
        .unwrap()
        .value()
        .unwrap();
    assert_close(value, -217.0, 1.0);

    let contact = r#"SmoothContact(name: "B", at: (3, 2, 0), normal: (0, 0, 1))"#;
    let (model, tipped) = one_way(&plate(contact));
    let case = &tipped.cases[CaseIndex::FIRST];
    assert!(!case.is_carried());
    let escape = case.escape().unwrap();
    assert_eq!(escape.motion.kind, MotionKind::Rotation);
    let towards = nalgebra::Vector3::new(-3.0, 2.0, 0.0).normalize();
    assert_close(escape.motion.direction.dot(&towards).abs(), 1.0, 1e-9);
    assert_eq!(escape.loosened, [reaction(&model, "N_B")]);
}

/// Weight over the edge between two of a table's four feet: the other two carry nothing.
#[test]
fn feet_that_carry_nothing() {
    let table = |y: f64| {
        one_way(&format!(
            r#"body: [Block(centre: (0, 0, 0), size: (2, 2, 0.1))],
            supports: [
                SmoothContact(name: "a", at: (-1, -1, 0), normal: (0, 0, 1)),
                SmoothContact(name: "b", at: (1, -1, 0), normal: (0, 0, 1)),
                SmoothContact(name: "c", at: (1, 1, 0), normal: (0, 0, 1)),
                SmoothContact(name: "d", at: (-1, 1, 0), normal: (0, 0, 1))],
            loads: [Force(at: (0, {y}, 0), force: (0, 0, -8))]"#
        ))
    };
    let (_, edge) = table(-1.0);
    assert_eq!(
        edge.cases[CaseIndex::FIRST].balance().unwrap().idle,
        [2, 3].map(ReactionIndex::new)
    );
    assert_close(
        edge.cases[CaseIndex::FIRST].balance().unwrap().ranges[ReactionIndex::new(0)]
            .unwrap()
            .low,
        4.0,
        1e-9,
    );
    let (_, middle) = table(0.0);
    assert_eq!(middle.cases[CaseIndex::FIRST].balance().unwrap().idle, []);
    for range in &middle.cases[CaseIndex::FIRST].balance().unwrap().ranges {
        // Diagonal pairs share the load in any proportion.
        let Range { low, high } = range.unwrap();
        assert_close(low, 0.0, 1e-9);
        assert_close(high, 4.0, 1e-9);
    }
}

/// Ranges by scipy's linear programs, see tests/cross_check/depth.py.
#[test]
fn ranges_of_five_feet() {
    let (_, found) = one_way(
        r#"body: [Block(centre: (1.5, 1, 0), size: (3, 2, 0.1))],
        supports: [
            SmoothContact(name: "a", at: (0, 0, 0), normal: (0, 0, 1)),
            SmoothContact(name: "b", at: (3, 0, 0), normal: (0, 0, 1)),
            SmoothContact(name: "c", at: (3, 2, 0), normal: (0, 0, 1)),
            SmoothContact(name: "d", at: (0, 2, 0), normal: (0, 0, 1)),
            SmoothContact(name: "e", at: (1, 1, 0), normal: (0, 0, 1))],
        loads: [Force(at: (1.2, 0.7, 0), force: (0, 0, -10))]"#,
    );
    let expected = [
        (4.0 / 3.0, 6.0),
        (0.5, 4.0),
        (0.0, 3.5),
        (0.0, 3.5),
        (0.0, 7.0),
    ];
    for (range, (low, high)) in found.cases[CaseIndex::FIRST]
        .balance()
        .unwrap()
        .ranges
        .iter()
        .zip(expected)
    {
        let range = range.unwrap();
        assert_close(range.low, low, 1e-6);
        assert_close(range.high, high, 1e-6);
    }
}

/// Four contacts around a square, offset so that each pushes the same way round about the next: three would let
/// the square turn, four with opposite turns in pairs hold it against everything (Reuleaux 1876).
#[test]
fn every_load_or_only_some() {
    let square = |side: f64| {
        one_way(&format!(
            r#"space: planar, body: [Block(centre: (0, 0), size: (2, 2, 0.1))],
            supports: [
                SmoothContact(name: "a", at: (0.5, -1), normal: (0, 1)),
                SmoothContact(name: "b", at: (-0.5, 1), normal: (0, -1)),
                SmoothContact(name: "c", at: (-1, {side}), normal: (1, 0)),
                SmoothContact(name: "d", at: (1, {}), normal: (-1, 0))]"#,
            -side
        ))
    };
    let (_, held) = square(0.5);
    assert!(held.escape.is_none(), "{:?}", held.escape);
    let (_, loose) = square(-0.5_f64);
    let escape = loose.escape.unwrap();
    assert_eq!(escape.motion.kind, MotionKind::Rotation);
    assert!(!escape.loosened.is_empty());
}

/// A table on four feet can be lifted off: that is simpler to see than a turn that leaves all four. (By hand.)
#[test]
fn a_table_can_be_lifted() {
    let feet = [(0, 0), (3, 0), (3, 2), (0, 2)].map(|(x, y)| {
        format!("SmoothContact(name: \"f{x}{y}\", at: ({x}, {y}, 0), normal: (0, 0, 1))")
    });
    let (_, found) = one_way(&format!(
        "body: [Block(centre: (1.5, 1, 0.05), size: (3, 2, 0.1))], supports: [{}]",
        feet.join(", ")
    ));
    let escape = found.escape.unwrap();
    assert_eq!(escape.motion.kind, MotionKind::Translation);
    assert_close(escape.motion.direction.z.abs(), 1.0, 1e-12);
    assert_close(escape.twist.linear.z, 1.0, 1e-12);
    assert_eq!(escape.loosened, [0, 1, 2, 3].map(ReactionIndex::new));
}

fn contacts() -> impl Strategy<Value = Vec<([i32; 3], [i32; 3], u8)>> {
    let grid = || [-3..=3, -3..=3, -3..=3];
    let direction = grid().prop_filter("a direction has length", |v| *v != [0; 3]);
    proptest::collection::vec((grid(), direction, 0..3_u8), 1..10)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Feasible exactly when a linear program says so; what is claimed is put back.
    #[test]
    fn answers_prove_themselves(contacts in contacts(), force in [-3..=3, -3..=3, -3..=3], at in [-3..=3, -3..=3, -3..=3]) {
        let supports: String = contacts.iter().enumerate().map(|(i, (at, n, kind))| {
            let [x, y, z] = *at;
            let [a, b, c] = *n;
            match kind {
                0 => format!("Link(name: \"s{i}\", at: ({x}, {y}, {z}), ground: ({}, {}, {})),", x + a, y + b, z + c),
                1 => format!("Cable(name: \"s{i}\", at: ({x}, {y}, {z}), ground: ({}, {}, {})),", x + a, y + b, z + c),
                _ => format!("SmoothContact(name: \"s{i}\", at: ({x}, {y}, {z}), normal: ({a}, {b}, {c})),"),
            }
        }).collect();
        prop_assume!(contacts.iter().any(|(_, _, kind)| *kind != 0));
        let study = deep(&scene(&format!(
            "body: [Block(centre: (0, 0, 0), size: (6, 6, 6))], supports: [{supports}],
             loads: [Force(at: ({}, {}, {}), force: ({}, {}, {}))]",
            at[0], at[1], at[2], force[0], force[1], force[2],
        )));
        let depth = &study;
        let model = study.model();
        let found = depth.one_way().unwrap();
        let case = &found.cases[CaseIndex::FIRST];
        let matrix = ReactionMatrix::new(model).entries().clone();
        let load = model.cases[CaseIndex::FIRST].resultant(&model.reference);
        let six: Vec<f64> = load.force.iter().copied().chain(load.moment.iter().map(|m| m / model.length)).collect();

        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let variables: Vec<_> = model.reactions.iter().map(|r| {
            let low = if r.sense == Sense::Both { f64::NEG_INFINITY } else { 0.0 };
            problem.add_var(0.0, (low, f64::INFINITY))
        }).collect();
        for row in 0..6 {
            let terms: Vec<_> = variables.iter().enumerate().map(|(j, v)| (*v, matrix[(row, j)])).filter(|t| t.1 != 0.0).collect();
            problem.add_constraint(&terms[..], ComparisonOp::Eq, -six[row]);
        }
        let feasible = match problem.solve().map(SolveOutcome::into_solution) {
            // Enormous forces along columns that are parallel but for rounding balance anything.
            Ok(Ok(solution)) => variables
                .iter()
                .all(|v| solution.var_value(*v).abs() < 1e6)
                .then_some(true),
            Err(microlp::Error::Infeasible) => Some(false),
            _ => None,
        };
        if let Some(feasible) = feasible {
            prop_assert_eq!(case.is_carried(), feasible);
        }
        if let Some(escape) = case.escape() {
            prop_assert!(escape.power > 0.0);
            for (j, r) in model.reactions.enumerate() {
                let v = escape.twist.velocity_at(&r.point, &model.reference).dot(&r.direction);
                let scale = escape.twist.linear.norm() + escape.twist.angular.norm() * model.length;
                prop_assert!(v > -1e-6 * scale);
                prop_assert!(r.sense != Sense::Both || v < 1e-6 * scale);
                // By chance a rate may be as small as where the line is drawn.
                if !(1e-9..1e-5).contains(&(v / scale)) {
                    prop_assert_eq!(escape.loosened.contains(&j), v > 1e-6 * scale);
                }
            }
        } else {
            for (j, range) in case.balance().unwrap().ranges.enumerate() {
                let range = range.unwrap();
                prop_assert!(range.low <= range.high);
                prop_assert!(model.reactions[j].sense == Sense::Both || range.low >= -1e-6);
            }
        }
    }
}

/// A roller and a link on one line press against each other as hard as one likes: N_C = t and F_E = −t balance for
/// every t ≥ 0. (By hand; two degrees of redundancy, so that linear programs decide.)
#[test]
fn what_nothing_bounds_has_no_limit() {
    let (model, found) = one_way(
        r#"space: planar, body: [Block(centre: (-2, 0), size: (1, 1, 1))], supports: [
            Cable(name: "A", at: (-2, 0), ground: (-6, 2)), Roller(name: "B", at: (-1, 0), normal: (4, 2)),
            Roller(name: "C", at: (-2, 0), normal: (4, 0)), Roller(name: "D", at: (1, 0), normal: (-1, 4)),
            Link(name: "E", at: (1, 0), ground: (3, 0))]"#,
    );
    let range = |name| {
        found.cases[CaseIndex::FIRST].balance().unwrap().ranges[reaction(&model, name)].unwrap()
    };
    let (pushed, held) = (range("N_C"), range("F_E"));
    assert_close(pushed.low, 0.0, 1e-9);
    assert_eq!(pushed.high, f64::INFINITY);
    assert_eq!(held.low, f64::NEG_INFINITY);
    assert_close(held.high, 0.0, 1e-9);
    assert_eq!(
        found.cases[CaseIndex::FIRST]
            .balance()
            .unwrap()
            .idle
            .iter()
            .find(|j| **j == reaction(&model, "N_C")),
        None
    );
}

fn common_friction(text: &str) -> f64 {
    let (_, found) = one_way(text);
    found.cases[CaseIndex::FIRST]
        .balance()
        .unwrap()
        .common_friction
        .expect("rough contacts")
}

/// A uniform ladder, equally rough at both ends, in limiting equilibrium leans from the vertical by twice the angle of
/// friction: the two limiting reactions meet at a right angle on the circle over the ladder, below and above its middle.
/// (Loney, *Elements of Statics*, chapter on friction; value from memory, and by hand.)
#[test]
fn a_ladder_rough_at_both_ends_leans_by_twice_the_angle_of_friction() {
    for (out, up) in [(3.0_f64, 4.0_f64), (1.0, 4.0), (5.0, 4.0)] {
        let expected = ((out / up).atan() / 2.0).tan();
        let least = common_friction(&format!(
            r#"space: planar, body: [BentBar(path: [(0, 0), ({out}, {up})], diameter: 0.05)],
            supports: [
                RoughContact(name: "F", at: (0, 0), normal: (0, 1)),
                RoughContact(name: "W", at: ({out}, {up}), normal: (-1, 0))],
            loads: [Force(at: ({}, {}), force: (0, -200))]"#,
            out / 2.0,
            up / 2.0
        ));
        assert_close(least, expected, 1e-6 * expected);
    }
}

/// A cabinet with one foot on a step, pushed at its top towards the lower foot. With S along the surface at the lower
/// foot B, moments about either foot give both pushes; both ratios are equal at the least coefficient, which makes S a
/// root of 2 h S² − (Q − P h + c) S − P Q = 0, with Q = b W / 2 + 2 P, c = Q − b W. (By hand.) "Carried" alone was
/// too kind: no two surfaces have a coefficient of seven.
#[test]
fn a_cabinet_on_a_step_asks_for_more_friction_than_there_is() {
    let (weight, push, width, step) = (600.0_f64, 120.0_f64, 0.6_f64, 0.12_f64);
    let q = width * weight / 2.0 + 2.0 * push;
    let c = q - width * weight;
    let half = (q - push * step + c) / (4.0 * step);
    let along = half + (half * half + push * q / (2.0 * step)).sqrt();
    let expected = along * width / (q - step * along);
    assert_close(expected, 7.009, 1e-3);
    let text = format!(
        r#"space: planar, body: [Block(centre: (0.3, 1), size: (0.6, 2, 0.4))],
        supports: [
            RoughContact(name: "A", at: (0, 0), normal: (0, 1)),
            RoughContact(name: "B", at: ({width}, -{step}), normal: (0, 1))],
        loads: [Force(at: (0.3, 1), force: (0, -{weight})), Force(at: (0, 2), force: ({push}, 0))]"#
    );
    assert_close(common_friction(&text), expected, 1e-6 * expected);
    let (model, found) = one_way(&text);
    let said = wording::one_way(&model, &found.cases[CaseIndex::FIRST]);
    assert!(
        said.to_string()
            .contains("with the same coefficient at A and B equilibrium requires at least 7.01"),
        "{said}"
    );
}

/// A plate on three rough feet in an equilateral triangle, with its weight in the middle: pulled there it needs H / W
/// whatever the way, turned about the vertical M / (W r). (By hand; the cone is round, so no way of pulling is special.)
#[test]
fn a_plate_on_three_rough_feet_needs_the_same_friction_all_round() {
    let feet: String = [0.0_f64, 120.0, 240.0]
        .map(|angle| {
            let (y, x) = angle.to_radians().sin_cos();
            format!("RoughContact(name: \"f{angle}\", at: ({x:?}, {y:?}, 0), normal: (0, 0, 1)),")
        })
        .concat();
    let least = |loads: &str| {
        common_friction(&format!(
            "body: [Disc(centre: (0, 0, 0), axis: (0, 0, 1), diameter: 2, thickness: 0.1)],
             supports: [{feet}], loads: [Force(at: (0, 0, 0), force: (0, 0, -90)), {loads}]"
        ))
    };
    for way in [0.0_f64, 17.0, 90.0, 200.0] {
        let (y, x) = way.to_radians().sin_cos();
        let pull = format!(
            "Force(at: (0, 0, 0), force: ({:?}, {:?}, 0))",
            30.0 * x,
            30.0 * y
        );
        assert_close(least(&pull), 1.0 / 3.0, 1e-6);
    }
    assert_close(least("Couple(moment: (0, 0, 45))"), 0.5, 1e-6);
    assert_close(least(""), 0.0, 0.0);
}

/// A bracket that only leans on a wall: nothing presses it there, so that no coefficient holds its weight.
#[test]
fn without_a_push_no_friction_is_enough() {
    let (model, found) = one_way(
        r#"space: planar, body: [Block(centre: (0.5, 0), size: (1, 1, 1))],
        supports: [
            RoughContact(name: "A", at: (0, 0.25), normal: (1, 0)),
            RoughContact(name: "B", at: (0, -0.25), normal: (1, 0))],
        loads: [Force(at: (0, 0), force: (0, -10))]"#,
    );
    let case = &found.cases[CaseIndex::FIRST];
    assert!(!case.is_carried());
    assert!(matches!(case, OneWayCase::Slips(_)));
    assert_eq!(
        wording::one_way(&model, case),
        "This load is not carried: no coefficient of friction at A and B, however large, prevents downward \
         translation, in which the body slides at A and B."
    );
}

/// A plate beside a rough wall on a cable, its weight in line with the cable's end: nothing presses it against the wall. What
/// rounding left of the load was shown as a way out, a rotation on which the weight does no work.
#[test]
fn where_friction_alone_would_hold_no_rotation_is_made_up() {
    let study = deep(&scene(
        r#"space: planar, body: [Block(centre: (3, -1), size: (1.5, 3.5, 3))],
        supports: [
            Cable(name: "A", at: (3, -1), ground: (-3.5, -4.966)),
            RoughContact(name: "B", at: (3, 3), normal: (1, 0))],
        loads: [Weight(mass: 1)]"#,
    ));
    let case = &study.one_way().unwrap().cases[CaseIndex::FIRST];
    assert!(matches!(case, OneWayCase::Slips(Some(_))), "{case:?}");
    assert_eq!(
        wording::one_way(study.model(), case),
        "This load is not carried: no coefficient of friction at B, however large, prevents downward translation, in \
         which the body slides at B, and A goes slack."
    );
    assert_eq!(
        wording::headline(study.model(), study.diagnosis(), study.uncarried()),
        "Constrained, but this load is not carried: no friction at B is enough."
    );
}

/// Nothing was shown of a body that no friction holds. A table without weight slides off when it is pushed; pressed at one foot, it
/// turns about that.
#[test]
fn a_body_slides_on_what_nothing_presses() {
    let table = |loads: &str| {
        let foot = |name: &str, x: f64, y: f64| {
            format!("RoughContact(name: \"{name}\", at: ({x}, {y}, 0), normal: (0, 0, 1))")
        };
        let feet = [
            foot("A", 0.0, 0.0),
            foot("B", 3.0, 0.0),
            foot("C", 0.0, 3.0),
        ]
        .join(", ");
        deep(&scene(&format!(
            "body: [Block(centre: (1.5, 1.5, 0.1), size: (3, 3, 0.2))], supports: [{feet}], loads: [{loads}]"
        )))
    };
    let said = |loads: &str| {
        let study = table(loads);
        let case = &study.one_way().unwrap().cases[CaseIndex::FIRST];
        wording::one_way(study.model(), case).to_string()
    };
    assert_eq!(
        said("Force(at: (1, 1, 0), force: (10, 0, 0))"),
        "This load is not carried: no coefficient of friction at A, B and C, however large, prevents translation along x, in \
         which the body slides at A, B and C."
    );
    let pressed =
        "Force(at: (0, 0, 0.2), force: (0, 0, -50)), Force(at: (3, 0, 0), force: (0, 10, 0))";
    assert_eq!(
        said(pressed),
        "This load is not carried: no coefficient of friction at A, B and C, however large, prevents rotation about the vertical \
         line through A, clockwise when viewed along z, in which the body slides at B and C."
    );
    let study = table(pressed);
    let shown = study.course(Selection::Escape, CaseIndex::FIRST);
    assert!(shown.is_some_and(|course| course.is_real()));
}
