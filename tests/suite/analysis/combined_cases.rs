//! Combinations of load cases: equilibrium is linear, so that each reaction is the sum of those of its parts.

use sixhold::statics::{CaseIndex, Model};

use super::{assert_close, deep, reaction, scene};

const ROOF: &str = r#"space: planar, body: [BentBar(path: [(0, 0), (4, 0)], diameter: 0.1)],
    supports: [Pin(name: "A", at: (0, 0)), Roller(name: "B", at: (4, 0), normal: (0, 1))],
    loads: [Weight(mass: 20, gravity: 10)],
    cases: [
        (name: "wind", loads: [Force(at: (2, 0), force: (30, 0))]),
        (name: "snow", loads: [Distributed(from: (0, 0), to: (4, 0), start: (0, -50))]),
    ],
    combinations: [
        (name: "storm", permanent: 1.2, factors: {"wind": 1.5, "snow": 0.5}),
        (name: "lifting", factors: {"snow": 0, "wind": -1}),
    ]"#;

fn case(model: &Model, name: &str) -> CaseIndex {
    model.case_index(name).expect("a case of that name")
}

#[test]
fn a_combination_is_a_case_with_the_sum_of_its_parts() {
    let study = deep(&scene(ROOF));
    let model = study.model();
    let value = |name, symbol| {
        let values = &study.diagnosis().cases[case(model, name)].values;
        values[reaction(model, symbol)].expect("statically determinate")
    };
    assert_eq!(model.cases.len(), 4);
    // 1.2 · 200 N and 0.5 · 200 N, shared alike; 1.5 · 30 N held by the pin.
    assert_close(value("storm", "A_x"), -45.0, 1e-9);
    assert_close(value("storm", "A_y"), 170.0, 1e-9);
    assert_close(value("storm", "N_B"), 170.0, 1e-9);
    assert_close(value("lifting", "A_x"), 30.0, 1e-9);
    assert_close(value("lifting", "N_B"), 100.0, 1e-9);
    // What a factor of 0 leaves out is not there.
    assert_eq!(model.cases[case(model, "lifting")].loads.len(), 2);
    let all = model.cases.indices();
    let governing = study.diagnosis().largest(reaction(model, "N_B"), all);
    assert_eq!(governing.expect("it is loaded").case, case(model, "snow"));
}

/// On elastic supports, too, as long as none lifts off; what is imposed has the factor of its case.
#[test]
fn elastic_reactions_combine_as_loads_do() {
    let study = deep(&scene(
        r#"space: planar, body: [BentBar(path: [(0, 0), (2, 0)], diameter: 0.1)], supports: [
            Pin(name: "A", at: (0, 0), stiffness: 1000), Slot(name: "B", at: (1, 0), along: (1, 0), stiffness: 2000),
            Slot(name: "C", at: (2, 0), along: (1, 0), stiffness: 500)],
        loads: [Force(at: (0.3, 0), force: (0, -40))],
        cases: [
            (name: "calm", loads: []),
            (name: "snow", loads: [Force(at: (1.7, 0), force: (0, -90))]),
            (name: "sunk", loads: [], imposed: [Settlement(support: "B", moves_by: (0, -0.01))]),
        ],
        combinations: [(name: "both", permanent: 1.35, factors: {"snow": 1.5, "sunk": 2})]"#,
    ));
    let model = study.model();
    let elastic = study.elastic().expect("stiffnesses are given");
    for (index, _) in model.reactions.enumerate() {
        let value = |name| {
            let case = &elastic.cases[case(model, name)];
            case.reactions().expect("found").values[index]
        };
        // The load that acts in every case is in all three.
        let alone = value("calm");
        let expected = 1.35 * alone + 1.5 * (value("snow") - alone) + 2.0 * (value("sunk") - alone);
        assert_close(value("both"), expected, 1e-9);
    }
}
