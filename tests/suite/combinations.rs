//! Combinations of free motions that go on past the first instant, against closed forms.

use sixhold::motion::{Combination, CombinedMotions, Constraints, Mobility, Searched, Stop};
use sixhold::scene::read_str;
use sixhold::statics::{MotionKind, Sense};
use sixhold::study::Study;

fn studied(text: &str) -> Study {
    let scene = read_str("test", text).expect("a sound scene").scene;
    Study::new(scene).expect("a sound model")
}

fn combinations(study: &Study) -> &[Combination] {
    let found = study.mobilities().combinations.as_ref();
    found.map_or(&[], |found| &found.list)
}

/// Rods of one length from the waist circle of a hyperboloid of revolution along its rulings. Body eyes at radius 1 and
/// ground ends at radius ρ, an angle φ on and a height h up: turned by θ and raised by z, every rod keeps its length
/// while `1 + ρ² − 2 ρ cos(φ − θ) + (h − z)²` does. (By hand.)
#[test]
fn rods_on_one_regulus_allow_the_screw_about_its_axis() {
    const HEIGHT: f64 = 0.8;
    let angles = [0.0_f64, 47.0, 120.0, 190.0, 251.0, 300.0];
    let rods: Vec<String> = angles
        .iter()
        .enumerate()
        .map(|(i, degrees)| {
            let (sine, cosine) = degrees.to_radians().sin_cos();
            let [x, y] = [cosine - HEIGHT * sine, sine + HEIGHT * cosine];
            format!("Link(name: \"L{i}\", at: ({cosine}, {sine}, 0), ground: ({x}, {y}, {HEIGHT}))")
        })
        .collect();
    let platform = studied(&format!(
        "(format: 1, body: [Block(centre: (0, 0, 0), size: (1, 1, 0.1))], supports: [{}])",
        rods.join(", ")
    ));
    assert_eq!(platform.diagnosis().counts.rank, 3);
    assert!(
        platform
            .mobilities()
            .motions
            .iter()
            .all(|motion| !motion.is_real())
    );
    let [screw] = combinations(&platform) else {
        panic!("{:?}", platform.mobilities().combinations);
    };
    let found = platform.mobilities().combinations.as_ref().unwrap();
    assert_eq!(found.searched, Searched::All);
    let MotionKind::Screw { pitch } = screw.motion.kind else {
        panic!("{:?}", screw.motion.kind);
    };
    assert!(screw.motion.direction.z > 1.0 - 1e-12 && screw.motion.point.coords.norm() < 1e-9);
    assert!((pitch + 1.0).abs() < 1e-9, "{pitch}");
    let sum = platform.diagnosis().free_motions.iter().zip(&screw.weights);
    let linear = sum.fold(nalgebra::Vector3::zeros(), |sum, (motion, weight)| {
        sum + motion.twist.linear * *weight
    });
    assert!((linear - screw.motion.twist.linear).norm() < 1e-9);

    let path = screw.mobility.path().expect("a real motion");
    assert_eq!([path.end_back.stop, path.end_ahead.stop], [Stop::Closed; 2]);
    let (radius, lead) = ((1.0 + HEIGHT * HEIGHT).sqrt(), HEIGHT.atan());
    let square = 2.0 * HEIGHT * HEIGHT;
    let level = ((1.0 + radius * radius - square) / (2.0 * radius)).acos();
    let swing = path.swing();
    for (found, expected) in swing.iter().zip([lead - level, lead + level]) {
        assert!((found - expected).abs() < 1e-9, "{swing:?} {expected}");
    }
    let pose = path.pose_at(0.2);
    let turned = pose
        .rotation
        .axis_angle()
        .map_or(0.0, |(axis, angle)| axis.z * angle);
    let drop = square - 1.0 - radius * radius + 2.0 * radius * (lead - turned).cos();
    assert!((pose.translation.z - (HEIGHT - drop.sqrt())).abs() < 1e-9);

    let said = sixhold::wording::together(platform.model(), platform.mobilities());
    let said = sixhold::wording::Phrase::joined(said, " ").to_string();
    assert!(
        said.starts_with("In combination: screw motion about the z axis, advancing 1 m per radian"),
        "{said}"
    );
    assert!(
        said.ends_with("No other combination is more than infinitesimal."),
        "{said}"
    );
}

/// Two links in line with a body between them, by where their ends are along x.
fn in_line([eye, ground]: [f64; 2], [other_eye, other_ground]: [f64; 2]) -> Study {
    studied(&format!(
        "(format: 1, space: planar, body: [Block(centre: (0, 0), size: (1, 1, 1))], supports: [
        Link(name: \"A\", at: ({eye}, 0), ground: ({ground}, 0)),
        Link(name: \"B\", at: ({other_eye}, 0), ground: ({other_ground}, 0))])"
    ))
}

/// A parallelogram laid flat goes on as one, or crossed: its eyes then move like 1 to −(c + a) : (c − a), and the body
/// turns by 60° at most. (By hand, from the second order of the lengths; the angle by the law of cosines.)
#[test]
fn a_flat_parallelogram_opens_in_two_ways() {
    let flat = in_line([1.0, 0.0], [3.0, 2.0]);
    let reals = flat
        .mobilities()
        .motions
        .iter()
        .filter(|motion| motion.is_real());
    assert_eq!(reals.count(), 1, "the translation");
    let [crossed] = combinations(&flat) else {
        panic!("{:?}", flat.mobilities().combinations);
    };
    assert!(crossed.proven && !crossed.family);
    assert!((crossed.motion.point - nalgebra::Point3::new(1.5, 0.0, 0.0)).norm() < 1e-9);
    let swing = crossed.mobility.path().expect("a real motion").swing();
    for (found, expected) in swing.iter().zip([-60.0_f64, 60.0]) {
        assert!((found - expected.to_radians()).abs() < 1e-6, "{swing:?}");
    }
}

/// Eyes at rates 1 and r across, on links of lengths a₁ and a₂ along x with the body's length c between them, keep all
/// three to second order where `r² (1/a₂ − 1/c) + 2 r/c − (1/a₁ + 1/c) = 0`: two ways, or none. Each of two is regular, so
/// that it is real. (By hand.)
#[test]
fn links_in_line_open_in_the_ways_of_their_quadratic() {
    let places: [f64; 9] = [-2.3, -1.7, -0.9, -0.4, 0.3, 0.8, 1.1, 1.9, 2.6];
    let (mut two, mut none) = (0, 0);
    for (i, j) in (0..60).map(|n| (n * 7 % 72, n * 5 % 70)) {
        let first = [places[i % 9], places[(i / 9 + i + 1) % 9]];
        let second = [places[j % 9], places[(j / 9 + j + 2) % 9]];
        let (a1, a2) = (first[0] - first[1], second[0] - second[1]);
        let c = second[0] - first[0];
        if a1 == 0.0 || a2 == 0.0 || c == 0.0 {
            continue;
        }
        let (square, half, rest) = (1.0 / a2 - 1.0 / c, 1.0 / c, -(1.0 / a1 + 1.0 / c));
        let discriminant = half * half - square * rest;
        if discriminant.abs() < 1e-3 || square.abs() < 1e-3 {
            continue;
        }
        let found = in_line(first, second);
        if discriminant < 0.0 {
            none += 1;
            assert_eq!(
                found.mobilities().together,
                CombinedMotions::NoneExtends,
                "{first:?} {second:?}"
            );
            continue;
        }
        two += 1;
        let alone = found
            .mobilities()
            .motions
            .iter()
            .filter(|motion| motion.is_real())
            .count();
        let combined = combinations(&found);
        assert_eq!(alone + combined.len(), 2, "{first:?} {second:?}");
        for combination in combined {
            assert!(
                combination.proven && combination.mobility.is_real(),
                "{first:?} {second:?}"
            );
            let roots = [1.0, -1.0].map(|sign| (-half + sign * discriminant.sqrt()) / square);
            let off = |r: f64| (combination.motion.point.x - (first[0] - c / (r - 1.0))).abs();
            let turns = combination.motion.kind == MotionKind::Rotation;
            assert!(turns && roots.into_iter().map(off).fold(f64::INFINITY, f64::min) < 1e-7);
        }
    }
    assert!(two > 10 && none > 5, "{two} {none}");
}

/// Two links in line and two others leave three motions and one self-stress: where its form takes both signs, a whole
/// cone of combinations goes on, and each member can be followed.
#[test]
fn a_form_of_three_motions_leaves_a_family() {
    let cone = studied(
        "(format: 1, body: [Block(centre: (0, 0, 0), size: (1, 1, 1))], supports: [
        Link(name: \"A\", at: (0.5, 0, 0), ground: (2, 0, 0)), Link(name: \"B\", at: (-0.5, 0, 0), ground: (-0.2, 0, 0)),
        Link(name: \"C\", at: (0.1, 0.5, 0.2), ground: (0.3, 1.5, 0.4)),
        Link(name: \"D\", at: (-0.3, 0.1, 0.5), ground: (-0.5, 0.4, 1.7))])",
    );
    assert_eq!(
        (
            cone.diagnosis().counts.rank,
            cone.diagnosis().counts.redundancy
        ),
        (3, 1)
    );
    assert_eq!(cone.mobilities().together, CombinedMotions::SomeExtend);
    let members = combinations(&cone);
    assert!(members.len() > 1);
    for member in members {
        assert!(member.family && member.proven);
        let Mobility::Real { path, .. } = &member.mobility else {
            panic!("{member:?}");
        };
        assert!(path.residual < 1e-10);
    }
}

/// Only what keeps every contact was combined: of this block nothing was said but that some combinations go on. Each of its
/// two free motions is stopped by itself; together they are a rotation in which it lifts off two of its three contacts.
#[test]
fn a_combination_may_leave_contacts_that_stop_its_parts() {
    let block = studied(
        r#"(format: 1, body: [Block(centre: (0, 0, 0), size: (4, 4, 4))], supports: [
            Link(name: "S0", at: (2, 0, 2), ground: (0, -1, 1)),
            SmoothContact(name: "S1", at: (-2, -1, -2), normal: (2, 1, 1)),
            SmoothContact(name: "S2", at: (-1, 1, 0), normal: (2, -1, 1)),
            Link(name: "S3", at: (2, -2, -2), ground: (4, -1, -1)),
            SmoothContact(name: "S4", at: (1, 2, 2), normal: (2, 1, 1)),
            Link(name: "S5", at: (2, 1, 0), ground: (4, 2, 1))])"#,
    );
    let mobilities = block.mobilities();
    assert!(mobilities.motions.iter().all(|motion| !motion.is_real()));
    let [combined] = combinations(&block) else {
        panic!("{:?}", mobilities.combinations);
    };
    assert!(combined.family && !combined.proven);
    let path = combined.mobility.path().expect("a real motion");
    let constraints = Constraints::new(block.model());
    let touching = |amount: f64| {
        let gaps = constraints.residuals(&path.pose_at(amount));
        let supports = block.model().reactions.iter().zip(gaps.iter());
        let mut touching = Vec::new();
        for (reaction, gap) in supports {
            if reaction.sense == Sense::Both {
                assert!(gap.abs() < 1e-8, "{} {gap}", reaction.name);
            } else {
                assert!(*gap > -1e-8, "{} {gap}", reaction.name);
                touching.extend((*gap < 1e-8).then_some(reaction.name.as_str()));
            }
        }
        touching
    };
    for step in 1..=20 {
        let part = f64::from(step) / 20.0;
        for end in [path.end_back.amount, path.end_ahead.amount] {
            assert!(end.abs() > 0.5, "{end}");
            // At its ends it meets a contact again.
            let kept = touching(end * part);
            assert!(
                kept.contains(&"N_S2") && (step == 20 || kept.len() == 1),
                "{kept:?}"
            );
        }
    }
    let said = sixhold::wording::together(block.model(), mobilities);
    let said: String = said.iter().map(|phrase| format!("{phrase} ")).collect();
    assert!(
        said.contains("Contact is lost at S1 and S4 at the start"),
        "{said}"
    );
    assert!(said.contains("were tested in steps only"), "{said}");
}
