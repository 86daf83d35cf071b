//! Bars that bend, against the closed forms of handbooks.

use std::f64::consts::PI;

use sixhold::elastic::{FrameAnswer, FrameCase, SectionForces};
use sixhold::statics::CaseIndex;
use sixhold::study::Study;

use super::{assert_close, deep, reaction, scene};

/// Slender enough for bending alone: EA does not take part in what is compared.
const SECTION: &str = "section: Given(area: 1, second_moment: 2e-6, torsion_constant: 3e-6)";
const STEEL: &str = "material: (youngs_modulus: 2e11, shear_modulus: 8e10)";
const EI: f64 = 2e11 * 2e-6;
const GJ: f64 = 8e10 * 3e-6;
const EA: f64 = 2e11;

fn frame(space: &str, path: &str, more: &str) -> Study {
    let bar = format!("BentBar(path: [{path}], diameter: 0.02, bend_radius: 0, {SECTION})");
    study_of(&format!("space: {space}, {STEEL}, body: [{bar}], {more}"))
}

fn case(study: &Study) -> &FrameCase {
    &study.frame().unwrap().cases[CaseIndex::FIRST]
}

fn answer(study: &Study) -> &FrameAnswer {
    case(study).answer().unwrap()
}

/// Values of reactions by name.
fn reactions<const N: usize>(study: &Study, names: [&str; N]) -> [f64; N] {
    let found = &answer(study).reactions.values;
    names.map(|name| found[reaction(study.model(), name)])
}

fn study_of(text: &str) -> Study {
    deep(&scene(text))
}

/// To within a part of what is expected; of zero, to within that.
fn close(found: f64, expected: f64, part: f64) {
    let size = if expected == 0.0 { 1.0 } else { expected.abs() };
    assert_close(found, expected, part * size);
}

/// The section of the first bar nearest to a place along it.
fn section(study: &Study, along: f64) -> SectionForces {
    let sections = &answer(study).sections[0];
    let off = |one: &SectionForces| (one.along - along).abs();
    let nearest = sections.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    *nearest.unwrap()
}

/// Young & Budynas, *Roark's Formulas for Stress and Strain*, 7th ed., table 8.1, case 2c: one end fixed, the other supported,
/// uniform load; the largest deflection 0.0054 w L⁴ / EI at 0.4215 L from the supported end.
#[test]
fn a_propped_cantilever_under_a_uniform_load() {
    let (w, l) = (600.0, 4.0);
    let study = frame(
        "planar",
        "(0, 0), (4, 0)",
        "supports: [Fixed(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (4, 0), normal: (0, 1))],
         loads: [Distributed(from: (0, 0), to: (4, 0), start: (0, -600))]",
    );
    let [a, moment, b] = reactions(&study, ["A_y", "M_A", "N_B"]);
    close(b, 3.0 * w * l / 8.0, 1e-9);
    close(a, 5.0 * w * l / 8.0, 1e-9);
    close(moment, w * l * l / 8.0, 1e-9);
    let largest = answer(&study).sections[0].iter();
    let largest = largest.map(|one| one.displacement.unwrap().norm());
    close(
        largest.fold(0.0, f64::max),
        0.0054 * w * l.powi(4) / EI,
        3e-3,
    );
    // 9 w L² / 128 at 3 L / 8 from the supported end.
    let span = section(&study, 5.0 * l / 8.0);
    close(span.bending.norm(), 9.0 * w * l * l / 128.0, 1e-3);
    close(span.shear.norm() / (w * l), 0.0, 0.02);
}

/// Roark, table 8.1, cases 1d and 2d: both ends fixed, a load at a and a uniform load.
#[test]
fn a_beam_fixed_at_both_ends() {
    let (p, a, b, l): (f64, f64, f64, f64) = (900.0, 1.0, 2.0, 3.0);
    let ends = "supports: [Fixed(name: \"A\", at: (0, 0)), Fixed(name: \"B\", at: (3, 0))]";
    let point = "loads: [Force(at: (1, 0), force: (0, -900))]";
    let study = frame("planar", "(0, 0), (3, 0)", &format!("{ends}, {point}"));
    let [left, right, first, second] = reactions(&study, ["A_y", "B_y", "M_A", "M_B"]);
    close(left, p * b * b * (3.0 * a + b) / l.powi(3), 1e-9);
    close(right, p * a * a * (a + 3.0 * b) / l.powi(3), 1e-9);
    close(first, p * a * b * b / (l * l), 1e-9);
    close(second, -p * a * a * b / (l * l), 1e-9);
    let under = 2.0 * p * a * a * b * b / l.powi(3);
    close(section(&study, a).bending.norm(), under, 1e-9);
    let deflection = p * (a * b / l).powi(3) / (3.0 * EI);
    close(
        -section(&study, a).displacement.unwrap().y,
        deflection,
        1e-9,
    );

    let uniform = "loads: [Distributed(from: (0, 0), to: (3, 0), start: (0, -600))]";
    let study = frame("planar", "(0, 0), (3, 0)", &format!("{ends}, {uniform}"));
    let [first] = reactions(&study, ["M_A"]);
    close(first, 600.0 * l * l / 12.0, 1e-9);
    let middle = section(&study, l / 2.0);
    close(middle.bending.norm(), 600.0 * l * l / 24.0, 1e-9);
    let deflection = 600.0 * l.powi(4) / (384.0 * EI);
    close(-middle.displacement.unwrap().y, deflection, 1e-9);
}

/// Roark, table 8.1, case 2d with an end that settles: 6 EI Δ / L². A bar warmed between walls: EA α ΔT.
#[test]
fn what_is_imposed_locks_forces_in() {
    let study = frame(
        "planar",
        "(0, 0), (3, 0)",
        "supports: [Fixed(name: \"A\", at: (0, 0)), Fixed(name: \"B\", at: (3, 0))],
         imposed: [Settlement(support: \"B\", moves_by: (0, -0.01)), Warming(by: 20, expansion: 1.2e-5)]",
    );
    let [moment, shear, push] = reactions(&study, ["M_A", "A_y", "A_x"]);
    close(moment, 6.0 * EI * 0.01 / 9.0, 1e-9);
    close(shear, 12.0 * EI * 0.01 / 27.0, 1e-9);
    close(push, EA * 1.2e-5 * 20.0, 1e-9);
    let end = section(&study, 3.0).displacement.unwrap();
    close(end.y, -0.01, 1e-9);
    assert!(end.x.abs() < 1e-9, "{end}");
}

/// Kleinlogel, *Rigid Frame Formulas*, frame 1 (two hinged feet): with k = h / L for one section, H = w L² / (4 h (2 k + 3)) under a
/// uniform load on the beam. The formula leaves axial shortening out, and so nearly does the section here.
#[test]
fn a_portal_frame_on_two_hinges() {
    let (w, l, h) = (500.0, 6.0, 4.0);
    let study = frame(
        "planar",
        "(0, 0), (0, 4), (6, 4), (6, 0)",
        "supports: [Pin(name: \"A\", at: (0, 0)), Pin(name: \"B\", at: (6, 0))],
         loads: [Distributed(from: (0, 4), to: (6, 4), start: (0, -500))]",
    );
    let thrust = w * l * l / (4.0 * h * (2.0 * h / l + 3.0));
    let [left, right, up] = reactions(&study, ["A_x", "B_x", "A_y"]);
    close(left, thrust, 1e-5);
    close(right, -thrust, 1e-5);
    close(up, w * l / 2.0, 1e-9);
    close(section(&study, h).bending.norm(), thrust * h, 1e-5);
}

/// Quarter of a circle, fixed at one end, with a force square to its plane at the other: bending P R sin θ and torsion
/// P R (1 − cos θ) give the deflection P R³ (π/4 / EI + (3π/4 − 2) / GJ) (Timoshenko, *Strength of Materials*, part II, art. 12).
#[test]
fn a_quarter_circle_loaded_out_of_its_plane() {
    let (p, r) = (100.0_f64, 0.8_f64);
    let exact = p * r.powi(3) * (PI / 4.0 / EI + (0.75 * PI - 2.0) / GJ);
    let held = "supports: [Fixed(name: \"A\", at: (0.8, 0, 0))], loads: [Force(at: (0, 0.8, 0), force: (0, 0, -100))]";
    let tip = |study: &Study| {
        -answer(study).sections[0]
            .last()
            .unwrap()
            .displacement
            .unwrap()
            .z
    };
    // Chords of the circle: twice as many, a quarter of the error.
    let of_chords = |count: u32| {
        let point = |i: u32| {
            let (sin, cos) = (PI / 2.0 * f64::from(i) / f64::from(count)).sin_cos();
            format!("({:.12}, {:.12}, 0)", r * cos, r * sin)
        };
        let path: Vec<String> = (0..=count).map(point).collect();
        (tip(&frame("spatial", &path.join(", "), held)) - exact).abs() / exact
    };
    let errors = [6, 12, 24].map(of_chords);
    close(errors[0] / errors[1], 4.0, 0.05);
    close(errors[1] / errors[2], 4.0, 0.05);
    assert!(errors[2] < 1e-3, "{errors:?}");
    // The bend of a bar is cut into as many by itself.
    let bent = study_of(&format!(
        "{STEEL}, body: [BentBar(path: [(0.8, 0, 0), (0.8, 0.8, 0), (0, 0.8, 0)], diameter: 0.02, bend_radius: 0.8, {SECTION})],
         {held}"
    ));
    close(tip(&bent), exact, 1e-3);
    // At the support both moments are P R.
    let foot = answer(&bent).sections[0][0];
    close(foot.bending.norm(), p * r, 1e-2);
    close(foot.torque.abs(), p * r, 1e-2);
}

/// Wahl, *Mechanical Springs*, 2nd ed., chapter 3: a closely coiled spring has the stiffness G d⁴ / (8 D³ n).
#[test]
fn a_helical_spring_between_plates() {
    let (d, diameter, coils, pitch) = (0.004_f64, 0.08_f64, 4, 0.005);
    let stiffness = |per_turn: u32| {
        let point = |i: u32| {
            let turn = f64::from(i) / f64::from(per_turn);
            let (sin, cos) = (2.0 * PI * turn).sin_cos();
            let r = diameter / 2.0;
            format!("({:.12}, {:.12}, {:.12})", r * cos, r * sin, pitch * turn)
        };
        let path: Vec<String> = (0..=coils * per_turn).map(point).collect();
        let [foot, head] = [path[0].clone(), path[path.len() - 1].clone()];
        let study = study_of(&format!(
            "{STEEL}, body: [BentBar(path: [{}], diameter: {d}, bend_radius: 0)],
             supports: [Fixed(name: \"A\", at: {foot}), Fixed(name: \"B\", at: {head})],
             imposed: [Settlement(support: \"B\", moves_by: (0, 0, -0.001))]",
            path.join(", ")
        ));
        reactions(&study, ["A_z"])[0] / 0.001
    };
    let wahl = 8e10 * d.powi(4) / (8.0 * diameter.powi(3) * f64::from(coils));
    let errors = [24, 48].map(|per_turn| (stiffness(per_turn) / wahl - 1.0).abs());
    assert!(
        errors[1] < 6e-3 && errors[0] > 2.0 * errors[1],
        "{errors:?}"
    );
}

/// Timoshenko, *Strength of Materials*, part I, art. 39: P L³ / 3EI + P L / (κ G A), with κ = 6 (1 + ν) / (7 + 6 ν) (Cowper 1966).
#[test]
fn a_stout_cantilever_shears() {
    let (p, l, r) = (1000.0, 0.5, 0.1_f64);
    let tip = |shear: bool| {
        let study = study_of(&format!(
            "space: planar, material: (youngs_modulus: 2e11, shear_modulus: 8e10, shear: {shear}),
             body: [Shaft(from: (0, 0), to: (0.5, 0), diameter: 0.2)], supports: [Fixed(name: \"A\", at: (0, 0))],
             loads: [Force(at: (0.5, 0), force: (0, -1000))]"
        ));
        -section(&study, l).displacement.unwrap().y
    };
    let (area, second) = (PI * r * r, PI * r.powi(4) / 4.0);
    let bent = p * l.powi(3) / (3.0 * 2e11 * second);
    close(tip(false), bent, 1e-9);
    let kappa = 6.0 * 1.25 / (7.0 + 6.0 * 0.25);
    close(tip(true), bent + p * l / (kappa * 8e10 * area), 1e-9);
}

/// Two equal spans with a load in the middle of the first: the far support would have to pull 3 P / 32 (Roark, table 8.1). One that only
/// pushes lifts off, and the first span is a simple beam.
#[test]
fn a_contact_lifts_off_a_continuous_beam() {
    let beam = |kind: &str| {
        let held = |name, x| format!("{kind}(name: \"{name}\", at: ({x}, 0), normal: (0, 1))");
        frame(
            "planar",
            "(0, 0), (4, 0)",
            &format!(
                "supports: [Pin(name: \"A\", at: (0, 0)), {}, {}], loads: [Force(at: (1, 0), force: (0, -640))]",
                held("B", 2),
                held("C", 4)
            ),
        )
    };
    let pressed = beam("Roller");
    let [a, b, c] = reactions(&pressed, ["A_y", "N_B", "N_C"]);
    close(a, 320.0, 1e-9);
    close(b, 320.0, 1e-9);
    assert_eq!(c, 0.0);
    assert_eq!(answer(&pressed).reactions.open.len(), 1);
    // The free end of the far span follows the slope at B: P L² / 16 EI, upwards.
    let lifted = section(&pressed, 4.0).displacement.unwrap().y;
    close(lifted, 640.0 * 4.0 / (16.0 * EI) * 2.0, 1e-9);
    let both_ways = frame(
        "planar",
        "(0, 0), (4, 0)",
        "supports: [Pin(name: \"A\", at: (0, 0)), Link(name: \"B\", at: (2, 0), ground: (2, -1)), Link(name: \"C\", at: (4, 0), ground: (4, -1))],
         loads: [Force(at: (1, 0), force: (0, -640))]",
    );
    let [a, b, c] = reactions(&both_ways, ["A_y", "F_B", "F_C"]);
    close(a, 13.0 * 640.0 / 32.0, 1e-9);
    close(b, -22.0 * 640.0 / 32.0, 1e-9);
    close(c, 3.0 * 640.0 / 32.0, 1e-9);
}

/// As bars grow stiff the reactions become those of the rigid body on the same springs.
#[test]
fn stiff_bars_on_springs_are_a_rigid_body() {
    let text = |material: &str| {
        format!(
            "{material} elastic: true,
             body: [BentBar(path: [(0, 0, 0), (0, 0, 1), (0.8, 0, 1), (0.8, 0.6, 0.7)], diameter: 0.05)],
             supports: [Fixed(name: \"A\", at: (0, 0, 0), stiffness: (2e5, 3e5, 5e5), rotational_stiffness: 4e4),
                BallJoint(name: \"B\", at: (0.8, 0.6, 0.7), stiffness: 1e5),
                Cable(name: \"C\", at: (0.8, 0, 1), ground: (0.8, -1, 2), stiffness: 8e4),
                Cable(name: \"D\", at: (0.8, 0, 1), ground: (0.8, 1, 2), stiffness: 8e4)],
             loads: [Force(at: (0.4, 0, 1), force: (30, 80, -400)), Couple(at: (0, 0, 0.5), moment: (5, 0, 9))]"
        )
    };
    let stiff = study_of(&text(
        "material: (youngs_modulus: 1e17, shear_modulus: 4e16),",
    ));
    let rigid = study_of(&text(""));
    let rigid = rigid.elastic().unwrap().cases[CaseIndex::FIRST].reactions();
    let (bent, rigid) = (&answer(&stiff).reactions, rigid.unwrap());
    assert_eq!(bent.open, rigid.open);
    for (one, other) in bent.values.iter().zip(&rigid.values) {
        assert!((one - other).abs() < 1e-4, "{one} {other}");
    }
}

/// Posts under a rail: what the rail brings to a joint from both sides goes down the post.
#[test]
fn bars_are_joined_where_an_end_lies_in_another() {
    let study = study_of(&format!(
        "{STEEL}, body: [
            BentBar(path: [(0, 0, 1), (3, 0, 1)], diameter: 0.04),
            BentBar(path: [(0.5, 0, 0), (0.5, 0, 1)], diameter: 0.04),
            BentBar(path: [(2.5, 0, 0), (2.5, 0, 0.98)], diameter: 0.04)],
         supports: [Fixed(name: \"A\", at: (0.5, 0, 0)), Fixed(name: \"B\", at: (2.5, 0, 0))],
         loads: [Distributed(from: (0, 0, 1), to: (3, 0, 1), start: (0, 300, -100))]"
    ));
    // Each post is a cantilever under half of a load that is the same for both.
    let [ax, ay, az, bx, by, bz] = reactions(&study, ["A_x", "A_y", "A_z", "B_x", "B_y", "B_z"]);
    close(ay + by, -900.0, 1e-9);
    close(az + bz, 300.0, 1e-9);
    close(ax + bx, 0.0, 1e-9);
    // The second post is two centimetres shorter.
    for (found, expected) in [(ay, -450.0), (by, -450.0), (az, 150.0), (bz, 150.0)] {
        close(found, expected, 5e-3);
    }
    let sections = &answer(&study).sections;
    let top = sections[1].last().unwrap();
    let at_joint: Vec<_> = sections[0]
        .iter()
        .filter(|one| (one.along - 0.5).abs() < 1e-12)
        .collect();
    let [before, after] = [at_joint[0], at_joint[at_joint.len() - 1]];
    // What the rail brings from both sides goes down the post.
    let jump = after.shear + after.direction * after.axial
        - before.shear
        - before.direction * before.axial;
    let post = top.shear + top.direction * top.axial;
    assert!((jump - post).norm() < 1e-6 * post.norm(), "{jump} {post}");
}

#[test]
fn what_cannot_be_decided_is_said_so() {
    let twice = "supports: [Fixed(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (3, 0), normal: (0, 1)), Roller(name: \"C\", at: (3, 0), normal: (0, 1))],
        loads: [Force(at: (2, 0), force: (0, -100))]";
    let study = frame("planar", "(0, 0), (3, 0)", twice);
    let FrameCase::Undecided(reactions) = case(&study) else {
        panic!("{:?}", case(&study));
    };
    let names = reactions
        .iter()
        .map(|j| study.model().reactions[*j].name.as_str());
    assert_eq!(names.collect::<Vec<_>>(), ["N_B", "N_C"]);
    let stiffened = twice.replace("normal: (0, 1))", "normal: (0, 1), stiffness: 1e9)");
    let study = frame("planar", "(0, 0), (3, 0)", &stiffened);
    let [b, c] = self::reactions(&study, ["N_B", "N_C"]);
    close(b, c, 1e-9);
    let apart = study_of(&format!(
        "{STEEL}, body: [BentBar(path: [(0, 0, 0), (1, 0, 0)], diameter: 0.05), BentBar(path: [(0, 1, 0), (1, 1, 0)], diameter: 0.05)],
         supports: [Fixed(name: \"A\", at: (0, 0, 0))]"
    ));
    assert!(matches!(case(&apart), FrameCase::Apart(bars) if bars == &[0, 1]));
}

/// A weight is spread over the bars, and what is said to hang at a place hangs there: w L² / 8 and P L / 4.
#[test]
fn a_weight_is_spread_unless_it_hangs_at_a_place() {
    let held =
        "supports: [Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (2, 0), normal: (0, 1))]";
    let middle = |at: &str| {
        let weight = format!("{held}, loads: [Weight(mass: 10, gravity: 10{at})]");
        section(&frame("planar", "(0, 0), (2, 0)", &weight), 1.0)
            .bending
            .norm()
    };
    close(middle(""), 100.0 * 2.0 / 8.0, 1e-9);
    close(middle(", at: (1, 0)"), 100.0 * 2.0 / 4.0, 1e-9);
}

/// Lengths in millimetres and a scene that is turned and moved: the same forces.
#[test]
fn units_and_axes_do_not_matter() {
    let pipe = |scale: f64, unit: &str, modulus: f64, turn: fn([f64; 3]) -> [f64; 3], far: f64| {
        let at = |place: [f64; 3]| {
            let [x, y, z] = turn(place).map(|c| c * scale);
            format!("({}, {y}, {z})", x + far)
        };
        let force = turn([0.0, 70.0, -200.0]);
        let path = [[0.0; 3], [0.0, 0.0, 1.2], [0.9, 0.0, 1.2], [0.9, 0.7, 1.2]];
        study_of(&format!(
            "units: (length: {unit}), material: (youngs_modulus: {modulus}, shear_modulus: {}),
             body: [BentBar(path: [{}], diameter: {}, section: Tube(wall: {}))],
             supports: [Fixed(name: \"A\", at: {}), Fixed(name: \"B\", at: {})],
             loads: [Force(at: {}, force: ({}, {}, {}))]",
            modulus / 2.6,
            path.map(at).join(", "),
            0.06 * scale,
            0.003 * scale,
            at(path[0]),
            at(path[3]),
            at([0.5, 0.0, 1.2]),
            force[0],
            force[1],
            force[2],
        ))
    };
    let plain = pipe(1.0, "m", 2.1e11, |p| p, 0.0);
    let others = [
        pipe(1000.0, "mm", 2.1e5, |p| p, 0.0),
        pipe(1.0, "m", 2.1e11, |[x, y, z]| [y, z, x], 3.0),
    ];
    let [x, y, z] = reactions(&plain, ["B_x", "B_y", "B_z"]);
    let [a, b, c] = reactions(&others[0], ["B_x", "B_y", "B_z"]);
    for (one, other) in [(x, a), (y, b), (z, c)] {
        close(one, other, 1e-8);
    }
    let [a, b, c] = reactions(&others[1], ["B_x", "B_y", "B_z"]);
    for (one, other) in [(y, a), (z, b), (x, c)] {
        close(one, other, 1e-8);
    }
}
