//! Circuits by their definition, found by brute force, and the shapes of known groups.

use nalgebra::{DMatrix, Vector3};
use proptest::prelude::*;

use super::*;
use crate::indexed::Indices;
use crate::scene::Space;
use crate::statics::indices::CaseIndex;
use crate::statics::reason::tests::definition::holds;
use crate::statics::testing::{Given, diagnosed, model_of};
use crate::statics::{AppliedLoad, Pencil, Tolerance};

fn found(space: Space, given: &[Given]) -> Circuits {
    let (model, diagnosis) = diagnosed(space, given);
    Circuits::of(&model, &diagnosis)
}

fn force(p: [f64; 3], d: [f64; 3]) -> Given {
    Given::Force(p, d)
}

/// Rank by nalgebra's singular values, independent of the code under test.
fn rank(columns: &[ScaledWrench]) -> usize {
    if columns.is_empty() {
        return 0;
    }
    let matrix = DMatrix::from_fn(6, columns.len(), |i, j| columns[j][i]);
    let values = matrix.svd(false, false).singular_values;
    values.iter().filter(|value| **value > 1e-9).count()
}

/// All minimal dependent sets, straight from the definition.
fn by_definition(columns: &[ScaledWrench]) -> Vec<Vec<ReactionIndex>> {
    let mut minimal: Vec<Vec<ReactionIndex>> = Vec::new();
    let mut sets: Vec<u32> = (1..1_u32 << columns.len()).collect();
    sets.sort_by_key(|set| set.count_ones());
    for set in sets {
        let all = Indices::first(columns.len());
        let members: Vec<ReactionIndex> = all
            .filter(|i: &ReactionIndex| set >> i.get() & 1 == 1)
            .collect();
        let own: Vec<ScaledWrench> = members.iter().map(|i| columns[i.get()]).collect();
        let smaller = minimal
            .iter()
            .any(|m| m.iter().all(|i| members.contains(i)));
        if !smaller && rank(&own) < own.len() {
            minimal.push(members);
        }
    }
    minimal.sort_by(|a, b| a.len().cmp(&b.len()).then_with(|| a.cmp(b)));
    minimal
}

/// Points and directions on a coarse grid, so that special positions are common.
fn coarse() -> impl Strategy<Value = Vec<Given>> {
    let place = || prop::array::uniform3((0..3_i32).prop_map(f64::from));
    let direction = prop::array::uniform3((-1..2_i32).prop_map(f64::from))
        .prop_filter("a direction", |d| d.iter().any(|x| *x != 0.0));
    let given = (place(), direction, 0..6_u8).prop_map(|(p, d, kind)| match kind {
        0 => Given::Couple(d),
        _ => Given::Force(p, d),
    });
    prop::collection::vec(given, 1..12)
}

proptest! {
    #![proptest_config(crate::testing::cases(64))]

    #[test]
    fn circuits_are_the_minimal_dependent_sets(given in coarse()) {
        let (model, diagnosis) = diagnosed(Space::Spatial, &given);
        let circuits = Circuits::of(&model, &diagnosis);
        let columns = columns(&model);
        let expected = by_definition(&columns);
        match circuits.listing {
            Listing::All => {
                let sets: Vec<Vec<ReactionIndex>> =
                    circuits.circuits.iter().map(|c| c.reactions.clone()).collect();
                prop_assert_eq!(&sets, &expected);
            }
            Listing::BasisOf(number) => prop_assert_eq!(number, expected.len()),
            Listing::Basis | Listing::PartOfBasis => {}
        }
        for circuit in &circuits.circuits {
            prop_assert!(expected.contains(&circuit.reactions));
        }
        let own: Vec<Vec<ReactionIndex>> = circuits.circuits.iter().map(|c| c.reactions.clone()).collect();
        prop_assert!(own.len() >= diagnosis.counts.redundancy);
        for reaction in model.reactions.indices() {
            let in_one = expected.iter().any(|set| set.contains(&reaction));
            let listed = circuits.with(reaction).next().is_some();
            prop_assert_eq!(in_one, listed, "{:?}", reaction);
        }
    }

    /// Forces and couples of a self-stress balance: no resultant, no moment about the origin.
    /// What a group is said to have in common, each member has by the definition of it.
    #[test]
    fn shapes_hold_by_their_definition(given in coarse()) {
        for circuit in found(Space::Spatial, &given).circuits {
            let own: Vec<Given> = circuit.reactions.iter().map(|i| given[i.get()]).collect();
            let claims = !matches!(circuit.shape, Reason::Held | Reason::OnlyScrews);
            prop_assert!(!claims || holds(&circuit.shape, &own), "{:?}", circuit.shape);
        }
    }

    #[test]
    fn self_stresses_balance(given in coarse()) {
        let circuits = found(Space::Spatial, &given);
        for circuit in &circuits.circuits {
            let (mut force, mut moment) = (Vector3::zeros(), Vector3::zeros());
            for (i, x) in circuit.reactions.iter().zip(&circuit.coefficients) {
                prop_assert!(x.abs() > 1e-9);
                match given[i.get()] {
                    Given::Force(p, d) => {
                        let f = Vector3::from(d).normalize() * *x;
                        force += f;
                        moment += Vector3::from(p).cross(&f);
                    }
                    Given::Couple(d) => moment += Vector3::from(d).normalize() * *x,
                }
            }
            prop_assert!(force.norm() < 1e-9 && moment.norm() < 1e-8, "{:?}", circuit);
        }
    }

    /// A decided combination has the same value for two balanced sets of reactions that differ by any
    /// self-stress, and there are as many independent ones as there can be.
    #[test]
    fn combinations_ignore_every_self_stress(given in coarse()) {
        let (model, diagnosis) = diagnosed(Space::Spatial, &given);
        let circuits = Circuits::of(&model, &diagnosis);
        let sums = combinations(&model, &diagnosis);
        for sum in &sums {
            prop_assert!(sum.reactions.len() >= 2);
            for circuit in &circuits.circuits {
                let mut total = 0.0;
                for (i, c) in sum.reactions.iter().zip(&sum.coefficients) {
                    if let Some(at) = circuit.reactions.iter().position(|r| r == i) {
                        total += c * circuit.coefficients[at];
                    }
                }
                prop_assert!(total.abs() < 1e-8, "{:?} under {:?}", sum, circuit);
            }
        }
        let undecided = diagnosis.cases[CaseIndex::FIRST].values.iter().filter(|v| v.is_none()).count();
        prop_assert_eq!(sums.len(), undecided - diagnosis.counts.redundancy);
        let as_columns = DMatrix::from_fn(given.len(), sums.len(), |i, j| {
            let at = sums[j].reactions.iter().position(|r| r.get() == i);
            at.map_or(0.0, |at| sums[j].coefficients[at])
        });
        if !sums.is_empty() {
            let values = as_columns.svd(false, false).singular_values;
            prop_assert!(values.min() > 1e-6 * values.max(), "not independent: {:?}", sums);
        }
    }
}

#[test]
fn shapes_by_size() {
    use Space::Spatial;
    let (x, y, z) = ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]);
    let o = [0.0; 3];
    let shape = |given: &[Given]| {
        let circuits = found(Spatial, given);
        assert_eq!(circuits.circuits.len(), 1, "{circuits:?}");
        assert_eq!(circuits.circuits[0].reactions.len(), given.len());
        circuits.circuits[0].shape.clone()
    };
    assert!(matches!(
        shape(&[force(o, x), force(x, x)]),
        Reason::OneLine(_)
    ));
    assert!(matches!(
        shape(&[Given::Couple(x), Given::Couple([-1.0, 0.0, 0.0])]),
        Reason::OneCouple(_)
    ));
    let concurrent = [force(o, x), force(o, y), force(o, [1.0, 1.0, 0.0])];
    assert!(matches!(
        shape(&concurrent),
        Reason::OnePencil(Pencil::Through(_))
    ));
    let parallel = [force(o, z), force(x, z), force([3.0, 0.0, 0.0], z)];
    assert!(matches!(
        shape(&parallel),
        Reason::OnePencil(Pencil::Along(..))
    ));
    let with_couple = [force(o, z), force(x, z), Given::Couple(y)];
    assert!(matches!(
        shape(&with_couple),
        Reason::OnePencil(Pencil::Along(..))
    ));
    let star = [
        force(o, x),
        force(o, y),
        force(o, z),
        force(o, [1.0, 1.0, 1.0]),
    ];
    assert!(matches!(shape(&star), Reason::ThroughPoint(_)));
    let legs = [
        force(o, z),
        force(x, z),
        force(y, z),
        force([3.0, 5.0, 0.0], z),
    ];
    assert!(matches!(shape(&legs), Reason::Parallel(_)));
    let plane = [
        force(o, x),
        force(y, x),
        force(o, y),
        force([2.0, 3.0, 0.0], [1.0, 2.0, 0.0]),
    ];
    assert!(matches!(shape(&plane), Reason::InPlane(_)));
    let rulings: Vec<Given> = (0..4)
        .map(|i| force([f64::from(i), 0.0, 0.0], [0.0, 1.0, f64::from(i)]))
        .collect();
    assert!(matches!(shape(&rulings), Reason::Regulus(_)));
    let pencils = [
        force(o, [1.0, 1.0, 0.0]),
        force(o, [1.0, -2.0, 0.0]),
        force(x, [1.0, 0.0, 1.0]),
        force(x, [1.0, 0.0, -3.0]),
    ];
    assert!(matches!(shape(&pencils), Reason::TwoPencils(_)));
}

#[test]
fn a_near_miss_is_no_circuit() {
    let near = [
        force([0.0; 3], [1.0, 0.0, 0.0]),
        force([1.0, 0.001, 0.0], [1.0, 0.0, 0.0]),
    ];
    let circuits = found(Space::Spatial, &near);
    assert!(circuits.circuits.is_empty());
    assert_eq!(circuits.listing, Listing::All);
}

#[test]
fn planar_groups() {
    let at = |x: f64, y: f64, dx: f64, dy: f64| force([x, y, 0.0], [dx, dy, 0.0]);
    // A propped cantilever: four unknowns of which the two uprights and the couple depend on each other.
    let given = [
        at(0.0, 0.0, 1.0, 0.0),
        at(0.0, 0.0, 0.0, 1.0),
        Given::Couple([0.0, 0.0, 1.0]),
        at(4.0, 0.0, 0.0, 1.0),
    ];
    let circuits = found(Space::Planar, &given).circuits;
    assert_eq!(circuits.len(), 1);
    assert_eq!(circuits[0].reactions, [1, 2, 3].map(ReactionIndex::new));
    // Up at the wall, down at the prop, and the couple that the two make.
    assert_eq!(circuits[0].coefficients[0], -circuits[0].coefficients[2]);
    let couple = circuits[0].coefficients[1] / circuits[0].coefficients[0];
    assert!((couple - 4.0).abs() < 1e-12);
    let (model, diagnosis) = diagnosed(Space::Planar, &given);
    let sums = combinations(&model, &diagnosis);
    assert_eq!(sums[0].reactions, [1, 3].map(ReactionIndex::new));
    assert_eq!(sums[0].coefficients, [1.0, 1.0]);
    assert_eq!(sums[1].kind, ReactionKind::Couple);
}

/// Published case A10 (Beer & Johnston, sample problem 4.10; data partly from memory): a pipe on two ball
/// joints and a cable, where the joints brace against each other and the cable's pull is decided all the same.
#[test]
fn a_cable_is_decided_beside_two_joints_that_are_not() {
    let (a, d) = ([0.0, 0.0, 6.0], [12.0, 12.0, 0.0]);
    let axes = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    let mut given: Vec<Given> = axes.iter().map(|axis| force(a, *axis)).collect();
    given.extend(axes.iter().map(|axis| force(d, *axis)));
    given.push(force([6.0, 12.0, 6.0], [-6.0, 3.0, -6.0]));
    let mut model = model_of(Space::Spatial, &given);
    model.cases[CaseIndex::FIRST]
        .loads
        .push(AppliedLoad::Force {
            at: Point3::new(12.0, 12.0, 6.0),
            force: Vector3::new(0.0, -450.0, 0.0),
        });
    let diagnosis = Diagnosis::new(&model, Tolerance::default());
    assert_eq!((diagnosis.counts.rank, diagnosis.counts.redundancy), (6, 1));
    let values = &diagnosis.cases[CaseIndex::FIRST].values;
    assert!((values[ReactionIndex::new(6)].unwrap() - 300.0).abs() < 1e-9);
    assert!(values.iter().take(6).all(Option::is_none));
    let circuits = Circuits::of(&model, &diagnosis);
    assert_eq!(circuits.circuits.len(), 1);
    assert_eq!(
        circuits.circuits[0].reactions,
        [0, 1, 2, 3, 4, 5].map(ReactionIndex::new)
    );
    // Equal and opposite pulls along AD, which stands as 2 : 2 : −1.
    let expected = [1.0, 1.0, -0.5, -1.0, -1.0, 0.5];
    for (x, e) in circuits.circuits[0].coefficients.iter().zip(expected) {
        assert!((x - e * circuits.circuits[0].coefficients[0]).abs() < 1e-12);
    }
    // The joints together carry what the cable, (−200, 100, −200) lb, leaves of the load.
    let sums = combinations(&model, &diagnosis);
    assert_eq!(sums.len(), 5);
    for (pair, value) in [([0, 3], 200.0), ([1, 4], 350.0), ([2, 5], 200.0)] {
        let sum = sums
            .iter()
            .find(|sum| sum.reactions == pair.map(ReactionIndex::new))
            .unwrap();
        assert_eq!(sum.coefficients, [1.0, 1.0]);
        assert!((sum.values[CaseIndex::FIRST].unwrap() - value).abs() < 1e-9);
    }
}

/// Six pins in a plane: twelve reactions of which equilibrium knows three sums, each of more than eight. One of three was
/// listed when sums of many were left out.
#[test]
fn sums_of_many_reactions_are_listed_too() {
    let places = [
        [0.0, 0.0],
        [2.0, 0.5],
        [3.0, 2.0],
        [1.0, 3.0],
        [-1.0, 2.0],
        [-2.0, 1.0],
    ];
    let given: Vec<Given> = places
        .iter()
        .flat_map(|[x, y]| [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]].map(|d| force([*x, *y, 0.0], d)))
        .collect();
    let (model, diagnosis) = diagnosed(Space::Planar, &given);
    let sums = combinations(&model, &diagnosis);
    let said: Vec<(usize, Option<UsualEquation>)> = sums
        .iter()
        .map(|sum| (sum.reactions.len(), sum.equation))
        .collect();
    let third = Point3::new(3.0, 2.0, 0.0);
    assert_eq!(
        said,
        [
            (6, Some(UsualEquation::Along(0))),
            (6, Some(UsualEquation::Along(1))),
            (9, Some(UsualEquation::About(third, 2))),
        ]
    );
    assert_eq!(sums[0].coefficients, [1.0; 6]);
    // Moments about the third pin, with which the fifth is level.
    let moments = &sums[2];
    assert_eq!(
        moments.reactions,
        [0, 1, 2, 3, 6, 7, 9, 10, 11].map(ReactionIndex::new)
    );
    for (found, by_hand) in moments
        .coefficients
        .iter()
        .zip([2.0, -3.0, 1.5, -1.0, -1.0, -2.0, -4.0, 1.0, -5.0])
    {
        assert!((found - by_hand).abs() < 1e-12, "{found} {by_hand}");
    }
    assert_eq!(moments.kind, ReactionKind::Couple);
}

/// Two hundred links: work is bounded, and a basis is given.
#[test]
fn many_links_give_a_basis() {
    let spiral = |i: usize| {
        let t = i as f64;
        force(
            [t.sin(), (1.3 * t).cos(), (0.7 * t).sin()],
            [(2.1 * t).sin(), (0.9 * t).cos(), 0.4],
        )
    };
    let given: Vec<Given> = (0..200).map(spiral).collect();
    let circuits = found(Space::Spatial, &given);
    assert_eq!(circuits.listing, Listing::Basis);
    assert_eq!(circuits.circuits.len(), 194);
    let given: Vec<Given> = (0..11).map(spiral).collect();
    let circuits = found(Space::Spatial, &given);
    // Any seven of eleven in general position.
    assert_eq!(circuits.listing, Listing::BasisOf(330));
    let given: Vec<Given> = (0..400).map(spiral).collect();
    assert_eq!(found(Space::Spatial, &given).listing, Listing::PartOfBasis);
}
