//! The sentence of every reason, so that none is worded by accident.

use nalgebra::Vector3;

use super::reason;
use crate::scene::Space;
use crate::statics::testing::Given::{self, Couple, Force};
use crate::statics::testing::diagnosed;

const O: [f64; 3] = [0.0; 3];
const X: [f64; 3] = [1.0, 0.0, 0.0];
const Y: [f64; 3] = [0.0, 1.0, 0.0];
const Z: [f64; 3] = [0.0, 0.0, 1.0];

fn said(given: &[Given]) -> String {
    let (model, diagnosis) = diagnosed(Space::Spatial, given);
    reason(&model, &diagnosis).to_string()
}

fn assert_said(cases: &[(&[Given], &str)]) {
    for (given, expected) in cases {
        assert_eq!(said(given), *expected);
    }
}

/// Forces through points in given directions.
fn forces<const N: usize>(lines: [([f64; 3], [f64; 3]); N]) -> [Given; N] {
    lines.map(|(point, direction)| Force(point, direction))
}

#[test]
fn one_freedom() {
    let line = forces([
        (O, X),
        (O, Y),
        ([0.0, 0.0, 1.0], [1.0, 1.0, 0.0]),
        ([0.0, 0.0, 2.0], [0.0, 1.0, 1.0]),
        ([0.0, 0.0, 3.0], [1.0, 0.0, 2.0]),
        ([2.0, 0.0, 0.0], Z),
    ]);
    let level = forces([
        (O, X),
        (O, Y),
        ([1.0, 0.0, 1.0], Y),
        ([0.0, 1.0, 2.0], X),
        ([3.0, 1.0, 1.0], [1.0, 1.0, 0.0]),
        ([1.0, 2.0, 4.0], [1.0, -2.0, 0.0]),
    ]);
    let complex = forces([
        (X, [0.0, -1.0, 1.0]),
        (Y, [1.0, 0.0, 1.0]),
        ([-1.0, 0.0, 0.0], [0.0, 1.0, 1.0]),
        (O, X),
        (Z, Y),
        ([0.0, 2.0, 0.0], [1.0, 0.0, 2.0]),
    ]);
    assert_said(&[
        (
            &line,
            "All six reactions meet the line through r0, r2, r3 and r4 or are parallel to it: nothing prevents rotation about it.",
        ),
        (
            &level,
            "All six reactions are horizontal and so lie in parallel planes: nothing prevents vertical translation.",
        ),
        (
            &complex,
            "No line meets all six reactions, yet the body can rotate about the line through r3 and r4 while advancing 1 m per radian (6.283 m per revolution), right-handed: a free screw motion.",
        ),
    ]);
}

#[test]
fn two_freedoms() {
    let skew = forces([
        (O, [1.0, 0.0, 1.0]),
        (O, [1.0, 2.0, 1.0]),
        (Z, [1.0, 1.0, 0.0]),
        ([0.0, 0.0, 2.0], [1.0, 3.0, -1.0]),
    ]);
    let square = forces([
        (O, X),
        (Z, [0.0, 4.0, -3.0]),
        ([0.0, 0.0, 2.0], [1.0, 4.0, -3.0]),
        ([0.0, 0.0, 3.0], X),
    ]);
    let shaft = forces([(O, X), (O, Y), (Z, X), (Z, Y)]);
    let universal = [Force(O, X), Force(O, Y), Force(O, Z), Couple(Z)];
    let flat = forces([(O, Z), (O, X), (O, Y), ([2.0, 1.0, 0.0], [1.0, 1.0, 0.0])]);
    let along = forces([(Y, X), (Z, X), (O, Y), ([1.0, 0.0, 0.0], [1.0, 1.0, 0.0])]);
    let pressed = [Force(O, Z), Force(X, Z), Force(Y, Z), Couple(Z)];
    let touching = forces([
        ([0.0, 0.0, -1.0], [1.0, -1.0, 0.0]),
        (O, X),
        (Z, [1.0, 1.0, 0.0]),
        ([0.0, 0.0, 2.0], [1.0, 2.0, 1.0]),
    ]);
    let distant = forces([
        ([0.0, 0.0, -1.0], [-1.0, 1.0, 0.0]),
        (O, Y),
        (Z, [1.0, 1.0, 0.0]),
        ([0.0, 5.0, 2.0], [2.0, 1.0, 0.0]),
    ]);
    // Across the velocities of two screws about x and y, of pitches 0.6 m and 0.9 m.
    let screws = [X, Y, [1.0, 1.0, 1.0], [2.0, -1.0, 1.0]].map(|point| {
        let [x, y, z] = point;
        let (first, second) = (Vector3::new(0.6, -z, y), Vector3::new(z, 0.9, -x));
        Force(point, first.cross(&second).into())
    });
    assert_said(&[
        (
            &skew,
            "Only four reactions for six motions; all four reactions meet both the line through r0, r2 and r3 and the line through (1, 0, 1) m parallel to y: nothing prevents rotation about either of them or screw motions that combine the two.",
        ),
        (
            &square,
            "Only four reactions for six motions; all four reactions meet the line through r0, r1, r2 and r3 and are perpendicular to (0, 0.6, 0.8): nothing prevents rotation about that line or translation along (0, 0.6, 0.8).",
        ),
        (
            &shaft,
            "Only four reactions for six motions; all four reactions meet the line through r0 and r2 at right angles: nothing prevents rotation about it or translation along it.",
        ),
        (
            &universal,
            "Only four reactions for six motions; all three forces pass through r0, and the one couple is about z (vertical): nothing prevents rotation about any line through r0 in the horizontal plane through r0.",
        ),
        (
            &flat,
            "Only four reactions for six motions; all four reactions pass through r0 or lie in the horizontal plane through r0: nothing prevents rotation about any line through r0 in the horizontal plane through r0.",
        ),
        (
            &along,
            "Only four reactions for six motions; all four reactions are parallel to x or in the horizontal plane through r0: nothing prevents rotation about any line parallel to x in that plane or translation perpendicular to it.",
        ),
        (
            &pressed,
            "Only four reactions for six motions; all three forces are vertical, and couples prevent no translation: nothing prevents horizontal translation.",
        ),
        (
            &touching,
            "Only four reactions for six motions; all four reactions meet the line through r0, r1, r2 and r3, and the plane through the line and each force rotates in step with the point where they meet: nothing prevents rotation about that line or a screw motion whose axis crosses it at a right angle.",
        ),
        (
            &distant,
            "Only four reactions for six motions; all four reactions are perpendicular to z (vertical), and no line meets all four reactions: nothing prevents vertical translation or a screw motion about an axis perpendicular to it.",
        ),
        (
            &screws,
            "Only four reactions for six motions; no line meets all four reactions, yet the body can move in two ways: only screw motions are free, no rotation.",
        ),
    ]);
}

#[test]
fn three_freedoms() {
    let star = forces([(O, X), (O, Y), (O, Z)]);
    let plane = [Force(O, X), Force(O, Y), Couple(Z)];
    let parallel = [Force(O, Z), Force(X, Z), Couple(X)];
    let couples = [Couple(X), Couple(Y), Couple(Z)];
    let saddle = forces([
        (O, Y),
        (X, [0.0, 1.0, 1.0]),
        ([2.0, 0.0, 0.0], [0.0, 1.0, 2.0]),
    ]);
    let hyperboloid = forces([
        (X, [0.0, 1.0, 1.0]),
        (Y, [-1.0, 0.0, 1.0]),
        ([-1.0, 0.0, 0.0], [0.0, -1.0, 1.0]),
    ]);
    let pencils = forces([(O, X), (O, Y), (X, [0.0, 0.0, 1.0])]);
    assert_said(&[
        (
            &star,
            "Only three reactions for six motions; all three reactions pass through r0: nothing prevents rotation about any line through r0.",
        ),
        (
            &plane,
            "Only three reactions for six motions; both forces lie in the horizontal plane through r0, and the one couple is about z (vertical): nothing prevents rotation about any line of that plane or translation perpendicular to it.",
        ),
        (
            &parallel,
            "Only three reactions for six motions; both forces are vertical, and no couple acts about that direction: nothing prevents horizontal translation or rotation about a vertical line.",
        ),
        (
            &couples,
            "Only three reactions for six motions; all three reactions are couples, which prevent no translation: nothing prevents the three translations.",
        ),
        (
            &saddle,
            "Only three reactions for six motions; all three reactions belong to one family of straight lines on the saddle (hyperbolic paraboloid) whose lines are perpendicular to y and to x: nothing prevents rotation about any line of its other family.",
        ),
        (
            &hyperboloid,
            "Only three reactions for six motions; all three reactions belong to one family of straight lines on the hyperboloid along z (vertical) with centre (0, 0, 0) m and waist radius 1 m: nothing prevents rotation about any line of its other family.",
        ),
        (
            &pencils,
            "Only three reactions for six motions; all three reactions run through r0 in the horizontal plane or through r2 in the plane perpendicular to y: nothing prevents rotation about any line through r0 in the plane perpendicular to y or rotation about any line through r2 in the horizontal plane.",
        ),
    ]);
}

#[test]
fn four_freedoms_and_more() {
    let pencil = forces([(O, X), (O, Y)]);
    let parallel = forces([(O, Z), (X, Z)]);
    let couples = [Couple(X), Couple(Y)];
    let skew = forces([(O, Z), (X, Y)]);
    let wrench = [Force(O, Z), Couple([1.0, 0.0, 1.0])];
    let line = forces([(O, Z), (Z, Z)]);
    assert_said(&[
        (
            &pencil,
            "Only two reactions for six motions; both reactions pass through r0 in the horizontal plane: four motions remain.",
        ),
        (
            &parallel,
            "Only two reactions for six motions; both reactions act vertically in the plane through r0 perpendicular to y: four motions remain.",
        ),
        (
            &couples,
            "Only two reactions for six motions; both couples are perpendicular to z (vertical): four motions remain.",
        ),
        (
            &skew,
            "Only two reactions for six motions; both reactions act along the line through r1 parallel to y or the vertical line through r0, which do not meet: four motions remain.",
        ),
        (
            &wrench,
            "Only two reactions for six motions; the one force acts along the vertical line through r0, and the one couple is about (1, 0, 1): four motions remain.",
        ),
        (
            &line,
            "Only two reactions for six motions; both reactions act along the line through r0 and r1: five motions remain.",
        ),
        (
            &[Couple(Z)],
            "Only one reaction for six motions; the one couple acts about z (vertical): five motions remain.",
        ),
        (
            &[],
            "There are no reactions: nothing prevents any of the six motions.",
        ),
    ]);
}
