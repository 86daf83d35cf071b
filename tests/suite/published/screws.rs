//! Published twists, wrenches and screws.

use nalgebra::{Point3, Unit, Vector3, point, vector};
use sixhold::motion;
use sixhold::statics::{Family, FreeMotion, MotionKind, Screw, Twist, Wrench};

/// Below this a rotation or force counts as none; the numbers here are of order one.
const ZERO: f64 = 1e-12;

fn screw_of(angular: Vector3<f64>, linear: Vector3<f64>) -> Screw {
    let twist = Twist { linear, angular };
    twist.screw(&Point3::origin(), 1.0, ZERO).unwrap()
}

fn close(found: Vector3<f64>, published: Vector3<f64>, tolerance: f64) {
    assert!(
        (found - published).norm() <= tolerance,
        "{found} {published}"
    );
}

fn passes_through(screw: &Screw, through: Point3<f64>, tolerance: f64) {
    let off = (through - screw.point).cross(&screw.direction).norm();
    assert!(off <= tolerance, "{through} lies {off} off the axis");
}

/// Lynch & Park, Modern Robotics library, `ScrewToAxis` (read there).
#[test]
fn a_screw_gives_its_twist_and_back() {
    let screw = Screw {
        direction: Vector3::z_axis(),
        point: point![3.0, 0.0, 0.0],
        pitch: 2.0,
    };
    let twist = Twist::of_screw(&screw, &Point3::origin());
    assert_eq!(twist.angular, vector![0.0, 0.0, 1.0]);
    assert_eq!(twist.linear, vector![0.0, -3.0, 2.0]);
    assert_eq!(screw_of(twist.angular, twist.linear), screw);
}

/// Lynch & Park, Modern Robotics library, `AxisAng6` (twist read there; pitch and axis derived here).
#[test]
fn a_twist_of_pitch_one() {
    let screw = screw_of(vector![1.0, 0.0, 0.0], vector![1.0, 2.0, 3.0]);
    assert_eq!(screw.pitch, 1.0);
    close(screw.direction.into_inner(), Vector3::x(), 0.0);
    passes_through(&screw, point![0.0, -3.0, 2.0], 0.0);
}

fn motion_of(screw: &Screw) -> FreeMotion {
    FreeMotion {
        kind: match screw.pitch {
            0.0 => MotionKind::Rotation,
            pitch => MotionKind::Screw { pitch },
        },
        direction: screw.direction,
        point: screw.point,
        twist: Twist::of_screw(screw, &Point3::origin()),
        family: Family::Alone,
    }
}

/// Lynch & Park, Modern Robotics library, `MatrixLog6` and `MatrixExp6` (read there): a quarter turn about x that
/// carries the origin to (0, 0, 3).
#[test]
fn a_quarter_turn_about_a_line() {
    let quarter = std::f64::consts::FRAC_PI_2;
    let screw = screw_of(
        vector![quarter, 0.0, 0.0],
        vector![0.0, 2.35619449, 2.35619449],
    );
    assert!(screw.pitch.abs() < 1e-12);
    passes_through(&screw, point![0.0, -1.5, 1.5], 1e-8);
    let pose = motion::pose(&motion_of(&screw), quarter);
    close(
        (pose * Point3::origin()).coords,
        vector![0.0, 0.0, 3.0],
        1e-8,
    );
    close(pose * Vector3::y(), Vector3::z(), 1e-12);
}

/// Course notes after Lynch & Park, lesson 6 (read there): a third of a turn with advance.
#[test]
fn a_screw_from_a_rounded_twist() {
    let direction = vector![1.0, -1.0, 1.0] / 3_f64.sqrt();
    let screw = screw_of(direction, vector![1.055, -1.055, -0.677]);
    assert!((screw.pitch - 0.8275).abs() <= 0.005 * 0.8275);
    close(screw.point.coords, vector![1.0, 1.0, 0.0], 0.001);
}

/// Course notes after Lynch & Park, lesson 6: the twist is read there; axis and displacement derived here, as the
/// printed displacement carries 0.8 % of rounding.
#[test]
fn a_rotation_about_a_line_off_the_origin() {
    let screw = screw_of(vector![0.0, 1.0, 2.0], vector![3.0, 0.0, 0.0]);
    assert_eq!(screw.pitch, 0.0);
    passes_through(&screw, point![0.0, 1.2, -0.6], 1e-12);
    let moved = motion::pose(&motion_of(&screw), 5_f64.sqrt()) * Point3::origin();
    close(moved.coords, vector![1.0555, 1.9407, -0.9704], 1e-4);
}

/// Lynch & Park, Ex. 3.23, a car turning (value from memory).
#[test]
fn a_turning_car() {
    let screw = screw_of(vector![0.0, 0.0, 2.0], vector![-2.0, -4.0, 0.0]);
    assert_eq!(screw.pitch, 0.0);
    close(screw.point.coords, vector![2.0, -1.0, 0.0], 1e-12);
}

/// Lynch & Park, Ex. 3.28, a hand holding an apple, g = 10 (value from memory): 6 N and 0.75 N·m at the wrist.
#[test]
fn a_hand_and_an_apple() {
    let wrist = Point3::origin();
    let weight = |mass: f64, x: f64| {
        Wrench::of_force(
            vector![0.0, 0.0, -10.0 * mass],
            &point![x, 0.0, 0.0],
            &wrist,
        )
    };
    let sum = weight(0.5, 0.10) + weight(0.1, 0.25);
    close(sum.force, vector![0.0, 0.0, -6.0], 1e-12);
    close(sum.moment, vector![0.0, 0.75, 0.0], 1e-12);
}

/// McLean & Nelson, Engineering Mechanics, 5th ed., problem 4.4-5, p. 52 (couple read there; resultant force, pitch
/// and axis derived here).
#[test]
fn two_forces_and_a_couple_reduce_to_a_wrench() {
    let origin = Point3::origin();
    let along = |size: f64, from: Point3<f64>, to: Point3<f64>| {
        Wrench::of_force((to - from).normalize() * size, &from, &origin)
    };
    let sum = along(150.0, point![2.0, 0.0, 0.0], point![0.0, 0.0, 1.0])
        + along(90.0, point![0.0, -2.0, -1.0], point![-1.0, 0.0, -1.0])
        + Wrench::of_couple(vector![0.0, 0.0, 160.0]);
    close(sum.moment, vector![80.5, -93.9, 79.5], 0.1);
    close(sum.force, vector![-174.4, 80.5, 67.1], 0.1);
    let screw = sum.screw(&origin, 1.0, ZERO).unwrap();
    assert!((screw.pitch + 0.3929).abs() < 1e-4);
    close(screw.point.coords, vector![0.307, 0.465, 0.239], 1e-3);
}

/// Hibbeler, three forces on a block (data read, answers from memory): the wrench crosses the z axis 0.586 ft up
/// and carries −14.1 lb·ft.
#[test]
fn three_forces_on_a_block() {
    let origin = Point3::origin();
    let couple = vector![-1.0, -1.0, 0.0].normalize() * 20.0;
    let sum = Wrench::of_force(vector![0.0, -10.0, 0.0], &point![0.0, 6.0, 2.0], &origin)
        + Wrench::of_couple(couple);
    close(sum.moment, vector![5.86, -14.14, 0.0], 0.01);
    let screw = sum.screw(&origin, 1.0, ZERO).unwrap();
    passes_through(&screw, point![0.0, 0.0, 0.586], 0.001);
    close(sum.force * screw.pitch, vector![0.0, -14.1, 0.0], 0.07);
}

/// Ball, A Treatise on the Theory of Screws, 1900, p. 223 (form read there): the power of a wrench on one screw upon
/// a twist about another is (h₁ + h₂) cos α − d sin α.
#[test]
fn the_power_between_two_screws_follows_from_pitches_distance_and_angle() {
    let origin = Point3::origin();
    for (h1, h2, d, angle) in [
        (0.3, -0.1, 0.7, 0.4_f64),
        (0.0, 0.0, 1.0, 1.2),
        (-2.0, 1.5, 0.0, 2.5),
        (0.5, 0.5, -1.0, -0.9),
    ] {
        let (sine, cosine) = angle.sin_cos();
        let wrench = Wrench {
            force: Vector3::x(),
            moment: Vector3::x() * h1,
        };
        let screw = Screw {
            direction: Unit::new_normalize(vector![cosine, sine, 0.0]),
            point: point![0.0, 0.0, d],
            pitch: h2,
        };
        let power = Twist::of_screw(&screw, &origin).power(&wrench);
        let formula = (h1 + h2) * cosine - d * sine;
        assert!((power - formula).abs() < 1e-12, "{power} {formula}");
    }
}

/// Ball 1900, as above: reciprocal exactly when (h₁ + h₂) cos α = d sin α; seen from any reference point.
#[test]
fn reciprocal_screws_stay_so_seen_from_elsewhere() {
    let (h1, angle, d) = (0.25, 0.8_f64, 1.3);
    let screw = Screw {
        direction: Unit::new_normalize(vector![angle.cos(), angle.sin(), 0.0]),
        point: point![0.0, 0.0, d],
        pitch: d * angle.tan() - h1,
    };
    let (here, there) = (Point3::origin(), point![3.0, -1.0, 2.0]);
    let wrench = Wrench {
        force: Vector3::x(),
        moment: Vector3::x() * h1,
    };
    let twist = Twist::of_screw(&screw, &here);
    assert!(twist.power(&wrench).abs() < 1e-12);
    let seen = twist
        .about(&here, &there)
        .power(&wrench.about(&here, &there));
    assert!(seen.abs() < 1e-12);
}
