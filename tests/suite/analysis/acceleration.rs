//! Initial accelerations against closed forms of elementary dynamics (any textbook of rigid-body dynamics).

use super::{assert_close, deep, reaction, scene};
use sixhold::statics::{Acceleration, CaseIndex, Model, MotionKind, ReactionIndex};

const G: f64 = 9.80665;

fn start(text: &str) -> (Model, Acceleration) {
    let study = deep(&scene(text));
    let found = study.accelerations()[CaseIndex::FIRST].clone();
    let found = found.expect("the body starts to move");
    (study.model().clone(), found)
}

/// A thin rod of length 2 turning about its end: 3 g / (2 l) = 3 g / 4; the rod's own radius adds r²/4 to l²/3.
#[test]
fn a_pendulum_let_go_from_the_horizontal() {
    let (_, found) = start(
        r#"space: planar, body: [Shaft(from: (0, 0), to: (2, 0), diameter: 0.02)],
        supports: [Pin(name: "P", at: (0, 0))], loads: [Weight(mass: 5)]"#,
    );
    assert_eq!(found.motion.kind, MotionKind::Rotation);
    assert_close(found.size, G / (4.0 / 3.0 + 0.01 * 0.01 / 4.0), 1e-3 * G);
    assert!(found.backwards, "clockwise");
    assert_close(found.mass, 5.0, 0.0);
    assert_close(found.motion.point.x, 0.0, 1e-9);
}

/// One of two cords of a rod is cut: the other then carries m g / 4, so the middle falls with 3 g / 4.
#[test]
fn a_rod_on_one_cord() {
    let (model, found) = start(
        r#"space: planar, body: [Shaft(from: (0, 0), to: (2, 0), diameter: 0.02)],
        supports: [Cable(name: "C", at: (0, 0), ground: (0, 1))], loads: [Weight(mass: 5)]"#,
    );
    let middle = found
        .twist
        .velocity_at(&nalgebra::point![1.0, 0.0, 0.0], &model.reference);
    assert_close(middle.y, -0.75 * G, 1e-3 * G);
    assert_close(middle.x, 0.0, 1e-9);
    assert_close(found.twist.angular.z, -0.75 * G, 1e-3 * G);
    assert!(found.loosened.is_empty());
}

/// g sin θ down a smooth slope of 3 : 4.
#[test]
fn a_block_on_a_slope() {
    let (_, found) = start(
        r#"space: planar, body: [Block(centre: (0, 1), size: (1, 1, 1), lengthwise: (4, 3))],
        supports: [
            SmoothContact(name: "a", at: (-0.1, 0.3), normal: (-3, 4)),
            SmoothContact(name: "b", at: (0.7, 0.9), normal: (-3, 4))],
        loads: [Weight(density: 1000)]"#,
    );
    assert_eq!(found.motion.kind, MotionKind::Translation);
    assert_close(found.size, 0.6 * G, 1e-9 * G);
    let down = found.twist.linear / found.size;
    assert_close(down.x, -0.8, 1e-9);
    assert_close(down.y, -0.6, 1e-9);
}

/// Pulled upwards with twice its weight the block leaves the ground with g.
#[test]
fn a_block_lifted_off() {
    let (model, found) = start(
        r#"body: [Block(centre: (0, 0, 0), size: (2, 2, 2))],
        supports: [
            SmoothContact(name: "a", at: (-1, -1, -1), normal: (0, 0, 1)),
            SmoothContact(name: "b", at: (1, -1, -1), normal: (0, 0, 1)),
            SmoothContact(name: "c", at: (0, 1, -1), normal: (0, 0, 1))],
        loads: [Weight(mass: 10), Force(at: (0, 0, 0), force: (0, 0, 196.133))]"#,
    );
    assert_close(found.twist.linear.z, G, 1e-9);
    assert_close(found.twist.angular.norm(), 0.0, 1e-9);
    let all = ["N_a", "N_b", "N_c"].map(|name| reaction(&model, name));
    assert_eq!(found.loosened, all);
}

/// About a hinge line: m g c / (I about the line); a cube of side 2 hinged along an edge, I = m (1/6·4 + 2).
#[test]
fn a_hatch_in_space() {
    let (_, found) = start(
        r#"body: [Block(centre: (0, 1, 0), size: (2, 2, 2))],
        supports: [
            Hinge(name: "A", at: (-1, 0, -1), axis: (1, 0, 0), couples: false),
            JournalBearing(name: "B", at: (1, 0, -1), axis: (1, 0, 0), couples: false)],
        loads: [Weight(mass: 10)]"#,
    );
    assert_eq!(found.motion.kind, MotionKind::Rotation);
    assert_close(found.size, G / (4.0 / 6.0 + 2.0), 1e-6 * G);
}

#[test]
fn nothing_starts_without_mass_or_where_all_is_held() {
    let rest = |text: &str| deep(&scene(text)).accelerations()[CaseIndex::FIRST].is_none();
    let rod = "space: planar, body: [Shaft(from: (0, 0), to: (2, 0), diameter: 0.02)],";
    assert!(rest(&format!(
        "{rod} supports: [Pin(name: \"P\", at: (0, 0))], loads: [Force(at: (1, 0), force: (0, -1))]"
    )));
    assert!(rest(&format!(
        "{rod} supports: [Fixed(name: \"P\", at: (0, 0))], loads: [Weight(mass: 1)]"
    )));
    assert!(rest(&format!(
        "{rod} supports: [Pin(name: \"P\", at: (1, 0))], loads: [Weight(mass: 1)]"
    )));
}

/// Least constraint put to the test by its own definition: no other allowed acceleration is nearer to the free one.
#[test]
fn the_acceleration_is_allowed_and_least_constrained() {
    let text = r#"body: [Block(centre: (0, 0, 0), size: (2, 1, 0.5))],
        supports: [
            Link(name: "l", at: (1, 0.5, 0), ground: (2, 1, 1)),
            SmoothContact(name: "a", at: (-1, -0.5, -0.25), normal: (0, 0.2, 1)),
            SmoothContact(name: "b", at: (1, -0.5, -0.25), normal: (0.1, 0, 1)),
            Cable(name: "c", at: (0, 0, 0.25), ground: (0.5, 0.3, 2))],
        loads: [Weight(mass: 10), Force(at: (0, 0.5, 0), force: (20, 5, 60))]"#;
    let (model, found) = start(text);
    let centre = nalgebra::point![0.0, 0.0, 0.0];
    let inertia =
        nalgebra::Matrix3::from_diagonal(&nalgebra::vector![1.25, 4.25, 5.0]) * (10.0 / 12.0);
    let load = model.cases[CaseIndex::FIRST].resultant(&centre);
    let constraint = |linear: nalgebra::Vector3<f64>, angular: nalgebra::Vector3<f64>| {
        let (f, m) = (linear * 10.0 - load.force, inertia * angular - load.moment);
        f.norm_squared() / 10.0 + m.dot(&(inertia.try_inverse().unwrap() * m))
    };
    let allowed = |twist: &sixhold::statics::Twist, slack: f64| {
        model.reactions.iter().all(|r| {
            let rate = twist
                .velocity_at(&r.point, &model.reference)
                .dot(&r.direction);
            rate > -slack && (r.sense != sixhold::statics::Sense::Both || rate < slack)
        })
    };
    assert!(allowed(&found.twist, 1e-8));
    let at_centre = found.twist.about(&model.reference, &centre);
    let least = constraint(at_centre.linear, at_centre.angular);
    let mut random = 1_u64;
    let mut next = || {
        random = random
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (random >> 33) as f64 / f64::from(1_u32 << 31) * 2.0 - 1.0
    };
    let mut tried = 0;
    for _ in 0..20_000 {
        let mut twist = found.twist;
        twist.linear += nalgebra::Vector3::from_fn(|_, _| next());
        twist.angular += nalgebra::Vector3::from_fn(|_, _| next());
        // Onto the link's constraint, along its own direction.
        let link = &model.reactions[ReactionIndex::new(0)];
        let rate = twist
            .velocity_at(&link.point, &model.reference)
            .dot(&link.direction);
        twist.linear -= link.direction.into_inner() * rate;
        if allowed(&twist, 1e-12) {
            tried += 1;
            let other = twist.about(&model.reference, &centre);
            assert!(constraint(other.linear, other.angular) >= least - 1e-9);
        }
    }
    assert!(tried > 100);
}

/// A slab on two rough edges at different heights, lifted at the higher one: it turns about the lower, by the moment
/// (100 N × 2 m − m g × 1 m) over the inertia m (2² + 1²) / 12 + m (1² + 0.5²) = 5 m / 3, and leaves the other, which moves
/// sideways. Friction at the edge that it leaves once held it against that, so that the slab rose without a turn.
/// (By hand; the lower edge is pressed with m (1 m) α + m g − 100 N = 39.6 N.)
#[test]
fn a_rough_contact_that_opens_lets_go_along_its_surface() {
    let (model, found) = start(
        r#"space: planar, body: [Block(centre: (1, 0.5), size: (2, 0.1, 1))],
        supports: [
            RoughContact(name: "A", at: (0, 0), normal: (0, 1)),
            RoughContact(name: "B", at: (2, 1), normal: (0, 1))],
        loads: [Weight(mass: 5), Force(at: (2, 1), force: (0, 100))]"#,
    );
    assert_eq!(found.motion.kind, MotionKind::Rotation);
    let expected = (200.0 - 5.0 * G) / (5.0 * 5.0 / 3.0);
    assert_close(found.twist.angular.z, expected, 1e-9 * expected);
    assert_close(found.motion.point.x, 0.0, 1e-9);
    assert_close(found.motion.point.y, 0.0, 1e-9);
    assert_eq!(found.loosened, [reaction(&model, "N_B")]);
}

/// The same pulled up so hard that the lower edge leaves the ground as well: nothing is left, and both parts of the motion
/// are those of a free body, 400 N / m − g upwards and 400 N × 0.1 m over m (2² + 1²) / 12.
#[test]
fn a_slab_that_is_torn_off_both_rough_edges_is_free() {
    let (model, found) = start(
        r#"space: planar, body: [Block(centre: (1, 0.5), size: (2, 0.1, 1))],
        supports: [
            RoughContact(name: "A", at: (0, 0), normal: (0, 1)),
            RoughContact(name: "B", at: (2, 1), normal: (0, 1))],
        loads: [Weight(mass: 5), Force(at: (1.1, 1), force: (0, 400))]"#,
    );
    let middle = found
        .twist
        .velocity_at(&nalgebra::point![1.0, 0.5, 0.0], &model.reference);
    assert_close(middle.x, 0.0, 1e-9);
    assert_close(middle.y, 400.0 / 5.0 - G, 1e-9 * G);
    let turn = 400.0 * 0.1 / (5.0 * 5.0 / 12.0);
    assert_close(found.twist.angular.z, turn, 1e-9 * turn);
    let edges = [reaction(&model, "N_A"), reaction(&model, "N_B")];
    assert_eq!(found.loosened, edges);
}
