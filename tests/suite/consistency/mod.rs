//! No two parts of one report contradict each other, however nearly degenerate the scene is.

mod contradictions;

use proptest::prelude::*;
use proptest::sample::select;

use sixhold::statics::CaseIndex;
use sixhold::wording;

use crate::analysis::{deep, scene};
use contradictions::Report;

fn contradictions(text: &str) -> Vec<String> {
    let study = deep(&scene(text));
    let report = Report { study: &study };
    report.contradictions()
}

/// A point or direction on a small grid, and by how many perturbations each coordinate is off it.
type Near = ([i32; 3], [i32; 3]);

fn near() -> impl Strategy<Value = Near> {
    let grid = [-2..=2, -2..=2, -2..=2];
    // Most coordinates are exact, so that what is degenerate stays nearly so.
    let off = || prop_oneof![3 => Just(0), 1 => -2..=2_i32];
    (grid, [off(), off(), off()])
}

fn near_direction() -> impl Strategy<Value = Near> {
    near().prop_filter("a direction has length", |(grid, _)| *grid != [0; 3])
}

/// Kind, place and direction of a support.
type Hold = (u8, Near, Near);

#[derive(Debug, Clone)]
struct Nearly {
    planar: bool,
    perturbation: f64,
    holds: Vec<Hold>,
    force: Near,
    at: Near,
    couple: [i32; 3],
    weighs: bool,
    far: Far,
}

/// Where the scene lies, and its unit of length.
#[derive(Debug, Clone, Copy)]
struct Far {
    offset: [f64; 3],
    units: &'static str,
}

fn nearly() -> impl Strategy<Value = Nearly> {
    let hold = (0..8_u8, near(), near_direction());
    let loads = (near(), near(), [-2..=2, -2..=2, -2..=2], any::<bool>());
    let perturbation = (3..=13).prop_map(|digits: i32| 10_f64.powi(-digits));
    let near = Far {
        offset: [0.0; 3],
        units: "",
    };
    let far = |offset: [f64; 3]| Far {
        offset,
        units: "units: (length: ft),",
    };
    let far = prop_oneof![
        3 => Just(near),
        1 => select(vec![far([1e2; 3]), far([-1e7, -1e3, 0.0])]),
    ];
    let parts = (
        any::<bool>(),
        perturbation,
        proptest::collection::vec(hold, 1..8),
        loads,
        far,
    );
    parts.prop_map(|(planar, perturbation, holds, loads, far)| {
        let (force, at, couple, weighs) = loads;
        Nearly {
            planar,
            perturbation,
            holds,
            force,
            at,
            couple,
            weighs,
            far,
        }
    })
}

impl Nearly {
    fn text(&self) -> String {
        let holds = self.holds.iter().enumerate();
        let supports: Vec<String> = holds.map(|(i, hold)| self.support(i, hold)).collect();
        let weight = if self.weighs { "Weight(mass: 3)," } else { "" };
        let moment = match self.planar {
            true => self.couple[2].to_string(),
            false => self.listed(self.couple.map(f64::from)),
        };
        format!(
            "{} body: [Block(centre: {}, size: (4, 4, 4))], supports: [{}],
             loads: [{weight} Force(at: {}, force: {}), Couple(moment: {moment})]",
            self.far.units.to_owned() + if self.planar { "space: planar," } else { "" },
            self.listed(self.far.offset),
            supports.join(", "),
            self.place(&self.at),
            self.direction(&self.force),
        )
    }

    fn support(&self, index: usize, (kind, at, along): &Hold) -> String {
        let (place, way) = (self.place(at), self.direction(along));
        let ground = {
            let (from, by) = (self.numbers(at, self.far.offset), self.along(along));
            self.listed(std::array::from_fn(|k| from[k] + by[k]))
        };
        let kind = match (kind, self.planar) {
            (0, true) => return format!("Pin(name: \"s{index}\", at: {place})"),
            (0, false) => return format!("BallJoint(name: \"s{index}\", at: {place})"),
            (1 | 2, _) => format!("Link({{}}, ground: {ground})"),
            (3 | 4, _) => format!("Cable({{}}, ground: {ground})"),
            (5 | 6, _) => format!("SmoothContact({{}}, normal: {way})"),
            _ => format!("RoughContact({{}}, normal: {way})"),
        };
        kind.replace("{}", &format!("name: \"s{index}\", at: {place}"))
    }

    fn numbers(&self, (grid, off): &Near, offset: [f64; 3]) -> [f64; 3] {
        // The decimals that a user would write, not the sums that they round to.
        std::array::from_fn(|k| {
            let sum = f64::from(grid[k]) + f64::from(off[k]) * self.perturbation + offset[k];
            format!("{sum:.13}").parse().expect("a number")
        })
    }

    fn place(&self, near: &Near) -> String {
        self.listed(self.numbers(near, self.far.offset))
    }

    fn direction(&self, near: &Near) -> String {
        self.listed(self.along(near))
    }

    fn along(&self, near: &Near) -> [f64; 3] {
        let mut numbers = self.numbers(near, [0.0; 3]);
        if self.planar && near.0[..2] == [0; 2] {
            numbers[0] = 1.0;
        }
        numbers
    }

    fn listed(&self, [x, y, z]: [f64; 3]) -> String {
        match self.planar {
            true => format!("({x:?}, {y:?})"),
            false => format!("({x:?}, {y:?}, {z:?})"),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_two_parts_of_a_report_contradict_each_other(nearly in nearly()) {
        let found = contradictions(&nearly.text());
        prop_assert!(found.is_empty(), "{found:?}\n{}", nearly.text());
    }
}

/// What the words say of the only load case: equilibrium, then pushes and pulls.
fn said(text: &str) -> (String, String) {
    let study = deep(&scene(text));
    let model = study.model();
    let diagnosis = study.diagnosis();
    let depth = &study;
    let case = &depth.one_way().expect("one-way supports").cases[CaseIndex::FIRST];
    (
        wording::balance_and_start(
            model,
            diagnosis,
            study.mobilities(),
            &diagnosis.cases[CaseIndex::FIRST],
            depth.accelerations()[CaseIndex::FIRST].as_ref(),
        )
        .to_string(),
        wording::one_way(model, case).to_string(),
    )
}

/// A cable that meets the axis of a shaft but for the last decimal was rounding to the rank, but a support to the
/// pushes and pulls: "No equilibrium" stood beside "The load is carried".
#[test]
fn a_cable_that_misses_an_axis_by_a_rounded_decimal_carries_nothing() {
    let text = r#"body: [Shaft(from: (0,0,0), to: (0,0,1), diameter: 0.1)],
        supports: [BallJoint(name:"A", at:(0,0,0)), BallJoint(name:"B", at:(0,0,1)),
            Cable(name:"C", at:(0.4330127019,0.25,0.5), ground:(0.8660254038,0.5000000001,0.5))],
        loads: [Couple(moment:(0,0,-10))]"#;
    let (balance, pushes) = said(text);
    assert!(balance.starts_with("No equilibrium"), "{balance}");
    assert!(pushes.starts_with("Not carried"), "{pushes}");
    assert_eq!(contradictions(text), [""; 0]);
}

/// The same in the plane: a roller whose normal passes a pin by a billionth.
#[test]
fn a_roller_that_misses_a_pin_by_a_billionth_carries_nothing() {
    for couple in [-10, 10] {
        let text = format!(
            r#"space: planar, body: [BentBar(path: [(0, 0), (1, 0.000000001)], diameter: 0.1)],
            supports: [Pin(name: "A", at: (0, 0)), Roller(name: "B", at: (1, 1e-9), normal: (1, 0))],
            loads: [Couple(moment: {couple})]"#
        );
        let (balance, pushes) = said(&text);
        assert!(balance.starts_with("No equilibrium"), "{balance}");
        assert!(pushes.starts_with("Not carried"), "{pushes}");
        assert_eq!(contradictions(&text), [""; 0]);
    }
}

/// Far from the origin the escape had the wrong sense, and the load did negative work on it.
#[test]
fn an_escape_far_from_the_origin_goes_with_the_load() {
    for push in [-9.5, 9.5] {
        let text = format!(
            r#"units: (length: ft, force: lbf, mass: lb), space: planar,
            body: [BentBar(path: [(-10000000, -1000), (-9999996, -1000)], diameter: 0.1)],
            supports: [
                Link(name: "A", at: (-10000000, -1000), ground: (-10000000, -1001)),
                Roller(name: "B", at: (-9999996, -1000), normal: (0, 1)),
                Cable(name: "C", at: (-9999998, -1000), ground: (-9999997, -1000))],
            loads: [Force(at: (-9999998, -1000), force: ({push}, 1))]"#
        );
        assert_eq!(contradictions(&text), [""; 0], "{push}");
    }
}

/// A cabinet on four smooth feet, pushed at its top: 60 kg, its centre 1 m up, the feet 0.6 m apart. Sliding, it lifts
/// feet only where the push has a larger moment about the centre than the weight about the feet: 60 kg × 9.80665 m/s² ×
/// 0.3 m / 1 m = 176.5 N. (By hand, from the two equations of motion.) Pushed at 89 N, one section once said that it
/// loses contact at A and D, since on a floor that held it still it would, and the other that it moves along x.
#[test]
fn a_cabinet_that_slides_is_not_said_to_tip() {
    let cabinet = |push: f64| {
        format!(
            r#"body: [Block(centre: (0.3, 0.2, 1), size: (0.6, 0.4, 2))],
            supports: [
                SmoothContact(name: "A", at: (0, 0, 0), normal: (0, 0, 1)),
                SmoothContact(name: "B", at: (0.6, 0, 0), normal: (0, 0, 1)),
                SmoothContact(name: "C", at: (0.6, 0.4, 0), normal: (0, 0, 1)),
                SmoothContact(name: "D", at: (0, 0.4, 0), normal: (0, 0, 1))],
            loads: [Weight(mass: 60), Force(at: (0, 0.2, 2), force: ({push}, 0, 0))]"#
        )
    };
    for (push, lifts) in [(89.0, false), (176.0, false), (177.0, true)] {
        let text = cabinet(push);
        let study = deep(&scene(&text));
        let model = study.model();
        let depth = &study;
        let escape = depth.one_way().unwrap().cases[CaseIndex::FIRST].escape();
        let left = escape.unwrap().loosened.iter();
        let left: Vec<&str> = left.map(|j| model.reactions[*j].name.as_str()).collect();
        let expected: &[&str] = if lifts { &["N_A", "N_D"] } else { &[] };
        assert_eq!(left, expected, "{push}");
        let (balance, pushes) = said(&text);
        assert_eq!(balance.contains("m/s² along x"), !lifts, "{balance}");
        assert_eq!(
            pushes.contains("contact is lost at A and D"),
            lifts,
            "{pushes}"
        );
        assert_eq!(contradictions(&text), [""; 0]);
    }
}

/// Sets of reactions whose rank hung on the tolerance were passed over, and with them every group but one: reactions
/// were undecided that stood in no group.
#[test]
fn groups_of_supports_a_ten_millionth_apart_are_not_passed_over() {
    let found = contradictions(
        "body: [Block(centre: (0, 0, 0), size: (4, 4, 4))], supports: [
            Link(name: \"A\", at: (1, -1, 0), ground: (3, 0, -1)),
            BallJoint(name: \"B\", at: (0.9999999, 1, 1)),
            Cable(name: \"C\", at: (0, 0, 2), ground: (-2, 0, 4)),
            RoughContact(name: \"D\", at: (1, 1, 1), normal: (0, 0, 1)),
        ]",
    );
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// A cable that misses a self-stress by rounding was decided, and would have had to push; yet a stress of the others, large
/// beyond measure, was taken to pull it tight: the load was carried.
#[test]
fn a_decided_cable_is_not_pulled_tight_by_a_boundless_stress() {
    let found = contradictions(
        "body: [Block(centre: (0, 0, 0), size: (4, 4, 4))], supports: [
            Link(name: \"A\", at: (-1, 0, 1), ground: (0, 2, -1)),
            BallJoint(name: \"B\", at: (-2, 1, -1)),
            Link(name: \"C\", at: (-2, 1, -2), ground: (0, 2, -2)),
            Cable(name: \"D\", at: (0, 0, 0), ground: (1, 0, 0)),
            Cable(name: \"E\", at: (0, -2, -2), ground: (-2, -3.00000001, -2)),
        ], loads: [Weight(mass: 3)]",
    );
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// Free motions were made plain by up to a ten millionth, and an escape along one then moved a support by a hundred millionth.
#[test]
fn an_escape_along_a_free_motion_breaks_no_support() {
    let found = contradictions(
        "body: [Block(centre: (0, 0, 0), size: (4, 4, 4))], supports: [
            Link(name: \"A\", at: (1, 2, 2e-8), ground: (-1, 4, -0.99999998)),
            BallJoint(name: \"B\", at: (2, 0, -1)),
            Link(name: \"C\", at: (1, -0.99999999, 1), ground: (0, -1.99999999, 3)),
            Cable(name: \"D\", at: (1, 1, -1), ground: (1, 2, 0)),
        ]",
    );
    assert!(found.is_empty(), "{}", found.join("\n"));
}
