//! Worked solutions against the definitions: coefficients are moments of unit forces, axes decouple as claimed, and
//! the steps alone give the values of the solver.

mod scenes;

use nalgebra::{DMatrix, Point3, Vector3};
use proptest::prelude::*;
use sixhold::indexed::Indexed;
use sixhold::scene::{Scene, Space, builtin, read_file, read_str};
use sixhold::solution::{
    Balance, Equation, MOST_REACTIONS, Solution, SolutionStep, component_equations,
};
use sixhold::statics::{
    CaseIndex, Diagnosis, Line, Model, Reaction, ReactionIndex, ReactionKind, Tolerance,
    motions_without,
};
use sixhold::study::Study;

fn worked(scene: &Scene) -> Vec<(Model, Diagnosis, Solution)> {
    let study = Study::new(scene.clone()).unwrap();
    let (model, diagnosis) = (study.model(), study.diagnosis());
    model
        .cases
        .indices()
        .filter_map(|case| {
            let working = Solution::of(model, diagnosis, case)?;
            Some((model.clone(), diagnosis.clone(), working))
        })
        .collect()
}

/// Part of a reaction of size 1 in a balance, from the definitions of moment and of component.
fn part(balance: &Balance, reaction: &Reaction) -> f64 {
    let moment = |point: &Point3<f64>, about: &Vector3<f64>| match reaction.kind {
        ReactionKind::Force => (reaction.point - point)
            .cross(&reaction.direction)
            .dot(about),
        ReactionKind::Couple => reaction.direction.dot(about),
    };
    let along = |direction: &Vector3<f64>| match reaction.kind {
        ReactionKind::Force => reaction.direction.dot(direction),
        ReactionKind::Couple => 0.0,
    };
    match balance {
        Balance::Forces(direction) => along(direction),
        Balance::Moments(point, about) => moment(point, about),
        Balance::Screw(point, about, pitch) => moment(point, about) + pitch * along(about),
    }
}

/// Part of the loads, from their resultant about a point of the axis.
fn load_part(model: &Model, case: CaseIndex, balance: &Balance) -> f64 {
    let about = |point: &Point3<f64>| model.cases[case].resultant(point);
    match balance {
        Balance::Forces(direction) => about(&Point3::origin()).force.dot(direction),
        Balance::Moments(point, axis) => about(point).moment.dot(axis),
        Balance::Screw(point, axis, pitch) => {
            let load = about(point);
            load.moment.dot(axis) + pitch * load.force.dot(axis)
        }
    }
}

/// Sum of the sizes of all loads, N.
fn load_size(model: &Model, case: CaseIndex) -> f64 {
    let loads = model.cases[case].loads.iter();
    loads
        .map(|load| {
            let wrench = load.wrench(&model.reference);
            wrench.force.norm() + wrench.moment.norm() / model.length
        })
        .sum()
}

fn equations(working: &Solution) -> Vec<&Equation> {
    let conditions = working
        .conditions
        .iter()
        .map(|condition| &condition.equation);
    let steps = working.steps.iter().flat_map(|step| &step.equations);
    conditions.chain(steps).chain(&working.open).collect()
}

/// Every coefficient and every load part is what its definition says.
fn check_numbers(model: &Model, working: &Solution) {
    let size = load_size(model, working.case);
    let components = component_equations(model, working.case);
    for equation in equations(working)
        .into_iter()
        .chain(&working.check)
        .chain(&components)
    {
        let balance = &equation.balance;
        let arm = if balance.has_moments() {
            model.length
        } else {
            1.0
        };
        for (index, reaction) in model.reactions.enumerate() {
            let expected = part(balance, reaction);
            let off = (equation.coefficient(index) - expected).abs();
            assert!(off <= 1e-7 * arm, "{}: {balance:?} {off}", reaction.name);
            // Terms that are left out are rounding, besides those of free motions.
            let is_term = equation.terms.iter().any(|term| term.reaction == index);
            assert!(
                !is_term || off <= 1e-12 * arm.max(1.0) * (1.0 + expected.abs()),
                "{off}"
            );
        }
        let expected = load_part(model, working.case, balance);
        let off = (equation.load - expected).abs();
        assert!(
            off <= 1e-9 * size * arm,
            "{balance:?} {} {expected}",
            equation.load
        );
    }
}

/// Six equations (planar: three), none of which follows from the others.
fn check_independence(model: &Model, working: &Solution) {
    let motions = model.space.motions();
    let equations = equations(working);
    assert_eq!(equations.len(), motions, "{}", model.title);
    assert_eq!(working.equations(), motions);
    let mut matrix = DMatrix::zeros(6, motions);
    for (mut column, equation) in matrix.column_iter_mut().zip(&equations) {
        let twist = equation.balance.twist(&model.reference);
        let turn = twist.angular * model.length;
        let entries = twist.linear.iter().chain(turn.iter());
        let entries: Vec<f64> = entries.copied().collect();
        column.copy_from_slice(&entries);
        let norm = column.norm();
        column /= norm;
    }
    let gram = matrix.transpose() * &matrix;
    let least = gram.symmetric_eigenvalues().min();
    assert!(least > 1e-10, "{}: {least}", model.title);
}

/// What a step says to drop out has no moment about the axis: its line meets the axis or is parallel to it.
fn check_elimination(model: &Model, step: &SolutionStep) {
    for equation in &step.equations {
        for index in &step.eliminated {
            assert_eq!(equation.coefficient(*index), 0.0);
            let reaction = &model.reactions[*index];
            let Balance::Moments(point, about) = &equation.balance else {
                continue;
            };
            if reaction.kind == ReactionKind::Couple {
                assert!(reaction.direction.dot(about).abs() <= 1e-9);
                continue;
            }
            let line = Line::new(reaction.point, &reaction.direction);
            let normal = line.direction.cross(about);
            let near = match normal.norm() <= 1e-9 {
                true => 0.0,
                // Distance between the two lines.
                false => (point - line.point).dot(&normal).abs() / normal.norm(),
            };
            assert!(
                near * normal.norm() <= 1e-9 * model.length,
                "{}",
                reaction.name
            );
        }
    }
}

/// Goes through the steps with nothing but their numbers; returns the values.
fn recomputed(model: &Model, working: &Solution) -> Indexed<ReactionIndex, Option<f64>> {
    let mut values = model.reactions.map(|_| None);
    for step in &working.steps {
        let unknown: Vec<ReactionIndex> =
            step.found.iter().map(|(reaction, _)| *reaction).collect();
        let size = unknown.len();
        assert_eq!(step.equations.len(), size);
        for equation in &step.equations {
            for term in &equation.terms {
                let is_known = values[term.reaction].is_some();
                assert!(
                    is_known || unknown.contains(&term.reaction),
                    "a stray unknown"
                );
            }
        }
        let matrix = DMatrix::from_fn(size, size, |row, column| {
            step.equations[row].coefficient(unknown[column])
        });
        let right = DMatrix::from_fn(size, 1, |row, _| -step.equations[row].sum(&values));
        let solved = matrix.lu().solve(&right).expect("independent equations");
        for (reaction, value) in unknown.iter().zip(solved.iter()) {
            values[*reaction] = Some(*value);
        }
    }
    values
}

fn check(model: &Model, diagnosis: &Diagnosis, working: &Solution) {
    let answer = &diagnosis.cases[working.case];
    for condition in &working.conditions {
        assert_eq!(condition.balanced, answer.powers[condition.motion] == 0.0);
    }
    check_numbers(model, working);
    if !answer.is_balanced() {
        assert!(working.steps.is_empty() && working.open.is_empty());
        return;
    }
    check_independence(model, working);
    let values = recomputed(model, working);
    let largest = answer
        .values
        .iter()
        .flatten()
        .fold(load_size(model, working.case), |a, x| a.max(x.abs()));
    for (index, reaction) in model.reactions.enumerate() {
        let unit = match reaction.kind {
            ReactionKind::Force => 1.0,
            ReactionKind::Couple => model.length.max(1.0),
        };
        assert_eq!(
            values[index].is_some(),
            answer.values[index].is_some(),
            "{}",
            reaction.name
        );
        for found in [values[index], working.values[index]] {
            let off = found.unwrap_or(0.0) - answer.values[index].unwrap_or(0.0);
            assert!(
                off.abs() <= 1e-9 * largest * unit,
                "{} {}: {found:?} {:?}",
                model.title,
                reaction.name,
                answer.values[index]
            );
        }
    }
    for step in &working.steps {
        check_elimination(model, step);
    }
    if let Some(check) = &working.check {
        let arm = if check.balance.has_moments() {
            model.length.max(1.0)
        } else {
            1.0
        };
        assert!(
            check.sum(&values).abs() <= 1e-8 * largest * arm,
            "{}",
            check.sum(&values)
        );
    }
}

#[test]
fn every_scene_at_hand_is_worked() {
    let mut scenes: Vec<Scene> = builtin::all()
        .iter()
        .map(|scene| read_str(scene.name, scene.text).unwrap().scene)
        .collect();
    let published = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published");
    for entry in std::fs::read_dir(published).unwrap() {
        scenes.push(read_file(&entry.unwrap().path()).unwrap().scene);
    }
    let mut steps = 0;
    for scene in &scenes {
        for (model, diagnosis, working) in worked(scene) {
            check(&model, &diagnosis, &working);
            steps += working.steps.len();
        }
    }
    assert!(steps > 100, "{steps}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn steps_give_what_the_solver_gives(scene in scenes::spatial()) {
        for (model, diagnosis, working) in worked(&scene) {
            prop_assume!(well_conditioned(&diagnosis));
            check(&model, &diagnosis, &working);
        }
    }

    #[test]
    fn steps_in_the_plane_give_what_the_solver_gives(scene in scenes::planar()) {
        for (model, diagnosis, working) in worked(&scene) {
            prop_assume!(well_conditioned(&diagnosis));
            check(&model, &diagnosis, &working);
        }
    }
}

/// Where a singular value is close to the rounding, nine digits are not to be had by any route.
fn well_conditioned(diagnosis: &Diagnosis) -> bool {
    let values = &diagnosis.numeric.singular_values;
    values[..diagnosis.counts.rank]
        .iter()
        .all(|value| *value > 1e-3)
}

/// Three parallel pairs of links: no axis meets five of them, so a system has to be solved.
#[test]
fn a_strut_platform_needs_a_system() {
    let links = [
        ([0.0, 0.0, 0.0], [0.5, 0.1, -1.0]),
        ([1.0, 0.0, 0.0], [1.2, -0.4, -1.0]),
        ([1.0, 1.0, 0.0], [0.7, 1.3, -1.0]),
        ([0.0, 1.0, 0.0], [-0.3, 0.6, -1.0]),
        ([0.5, 0.0, 0.2], [0.4, -1.0, 0.3]),
        ([0.5, 1.0, 0.3], [1.4, 1.1, 0.2]),
    ];
    let scene = scenes::of_links(&links);
    let (model, diagnosis, working) = worked(&scene).remove(0);
    check(&model, &diagnosis, &working);
    assert!(working.steps.iter().any(|step| step.equations.len() > 1));
}

#[test]
fn nobody_works_a_forest_of_links_by_hand() {
    let links: Vec<_> = (0..=MOST_REACTIONS)
        .map(|index| ([index as f64, 0.0, 0.0], [index as f64, 1.0, 1.0]))
        .collect();
    assert!(worked(&scenes::of_links(&links)).is_empty());
    assert_eq!(worked(&scenes::of_links(&links[1..])).len(), 1);
}

/// A motion that is free without one reaction is the one whose equation holds that reaction alone.
#[test]
fn released_motions_decouple() {
    for built_in in builtin::all() {
        let model = Model::new(&read_str("", built_in.text).unwrap().scene).unwrap();
        for one in model.reactions.indices() {
            for motion in motions_without(&model, &[one], Tolerance::default()) {
                for (index, reaction) in model.reactions.enumerate() {
                    let power = motion.twist.power(&reaction.wrench(&model.reference));
                    let rate =
                        motion.twist.linear.norm() + motion.twist.angular.norm() * model.length;
                    assert!(
                        index == one || power.abs() <= 1e-7 * rate,
                        "{}",
                        built_in.name
                    );
                }
            }
        }
    }
}

/// A solution ends with one more equation, also in the plane, where the first three are soon used up.
#[test]
fn solutions_of_determinate_bodies_are_checked() {
    let mut met = [0; 2];
    for built_in in builtin::all() {
        let scene = read_str(built_in.name, built_in.text).unwrap().scene;
        let study = Study::new(scene).unwrap();
        let (model, diagnosis) = (study.model(), study.diagnosis());
        let counts = diagnosis.counts;
        let decided = counts.freedom == 0 && counts.redundancy == 0;
        for (case, answer) in diagnosis.cases.enumerate() {
            if decided && answer.loaded {
                let working = Solution::of(model, diagnosis, case).unwrap();
                assert!(working.check.is_some(), "{} {case:?}", built_in.name);
                met[usize::from(model.space == Space::Planar)] += 1;
            }
        }
    }
    assert!(met.iter().all(|met| *met > 3), "{met:?}");
}
