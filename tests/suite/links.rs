//! Links that a repair proposes: as good as a denser search finds, clear of body and supports, at practical places.

use nalgebra::{Matrix6, Point3, Vector3};
use proptest::prelude::*;
use sixhold::repair::Mending;
use sixhold::scene::solid::{self, Finish};
use sixhold::scene::{Place, Scene, read_str};
use sixhold::statics::{Diagnosis, Model};
use sixhold::study::Study;

fn read(text: &str) -> Scene {
    read_str("test", text)
        .unwrap_or_else(|error| panic!("{error}\n{text}"))
        .scene
}

fn studied(scene: &Scene) -> Study {
    Study::new(scene.clone()).unwrap()
}

fn diagnosed(scene: &Scene) -> Diagnosis {
    studied(scene).diagnosis().clone()
}

fn mended(scene: &Scene) -> Option<Mending> {
    studied(scene).repair().links().cloned()
}

/// Squares of singular values were taken as nothing below 1e-12, so no link was found for a body held by less than 1e-6.
#[test]
fn a_motion_held_by_a_ten_millionth_can_be_mended() {
    let scene = read(
        r#"(format: 1, space: planar, body: [Block(centre: (1, 0), size: (2, 0.2, 0.2))], supports: [
            Link(name: "A", at: (0, 0), ground: (-1, 0)), Link(name: "B", at: (2, 0), ground: (3, 0.0000005))])"#,
    );
    let before = diagnosed(&scene);
    assert_eq!((before.counts.rank, before.counts.freedom), (2, 1));
    assert!(before.numeric.singular_values[1] < 1e-6);
    let mending = mended(&scene).expect("a link across the beam");
    assert!(mending.is_proven());
    assert!(diagnosed(&mending.scene).is_held());
    // No link can do better than what is held already; this one does nearly as well.
    assert!(mending.smallest() > 0.5 * before.numeric.singular_values[1]);
}

/// A block of 2 × 1 × 0.6 m on five links that leave its surface.
#[derive(Debug, Clone)]
struct OnLinks {
    eyes: Vec<[f64; 3]>,
    grounds: Vec<[f64; 3]>,
}

const HALF: [f64; 3] = [1.0, 0.5, 0.3];

impl OnLinks {
    fn scene(&self) -> Scene {
        let links: Vec<String> = self
            .eyes
            .iter()
            .zip(&self.grounds)
            .enumerate()
            .map(|(i, (a, g))| {
                format!(
                    "Link(name: \"S{i}\", at: ({}, {}, {}), ground: ({}, {}, {}))",
                    a[0], a[1], a[2], g[0], g[1], g[2]
                )
            })
            .collect();
        read(&format!(
            "(format: 1, body: [Block(centre: (0, 0, 0), size: (2, 1, 0.6))], supports: [{}])",
            links.join(", ")
        ))
    }

    /// Smallest singular value of the six equations with one more link, about the mean of the eyes and by their spread:
    /// derived anew from the definition.
    fn smallest_with(&self, eye: &Point3<f64>, unit: &Vector3<f64>) -> f64 {
        let mut lines: Vec<(Point3<f64>, Vector3<f64>)> = self
            .eyes
            .iter()
            .zip(&self.grounds)
            .map(|(a, g)| {
                (
                    Point3::from(*a),
                    (Point3::from(*g) - Point3::from(*a)).normalize(),
                )
            })
            .collect();
        lines.push((*eye, *unit));
        // Links that share an eye count it once.
        let mut eyes: Vec<Point3<f64>> = Vec::new();
        for (point, _) in &lines {
            if !eyes.contains(point) {
                eyes.push(*point);
            }
        }
        let count = eyes.len() as f64;
        let mean: Vector3<f64> = eyes.iter().map(|eye| eye.coords).sum::<Vector3<f64>>() / count;
        let off = eyes.iter().map(|eye| (eye.coords - mean).norm_squared());
        let length = (off.sum::<f64>() / count).sqrt();
        let mut matrix = Matrix6::zeros();
        for (j, (p, n)) in lines.iter().enumerate() {
            let moment = (p.coords - mean).cross(n) / length;
            for i in 0..3 {
                matrix[(i, j)] = n[i];
                matrix[(i + 3, j)] = moment[i];
            }
        }
        matrix.singular_values().min()
    }

    /// Whether a link keeps away from the other links, with more room than is asked of one that is proposed.
    fn is_clear(&self, eye: &Point3<f64>, unit: &Vector3<f64>) -> bool {
        let size = 2.0 * Vector3::from(HALF).norm();
        self.eyes.iter().zip(&self.grounds).all(|(a, g)| {
            let (a, g) = (Point3::from(*a), Point3::from(*g));
            (1..=40).all(|i| {
                let own = eye + unit * (size * (0.02 + 0.3 * f64::from(i) / 40.0));
                (0..=40).all(|j| (own - (a + (g - a) * (f64::from(j) / 40.0))).norm() > 0.02 * size)
            })
        })
    }

    /// The best of many links at random, each of the best improved at random: another way than that under test.
    fn best_by_sampling(&self) -> f64 {
        let mut random = Random(1);
        let mut sampled: Vec<(f64, Point3<f64>, Vector3<f64>, usize)> = (0..12_000)
            .map(|_| {
                let face = (random.next() * 3.0) as usize;
                let mut point = Point3::from(HALF.map(|half| random.between(half)));
                let side = if random.next() < 0.5 { -1.0 } else { 1.0 };
                point[face] = side * HALF[face];
                let mut unit = random.unit();
                if unit[face] * side < 0.0 {
                    unit = -unit;
                }
                (self.smallest_with(&point, &unit), point, unit, face)
            })
            .filter(|(_, point, unit, face)| unit[*face] * point[*face].signum() > 0.05)
            .collect();
        sampled.sort_by(|a, b| b.0.total_cmp(&a.0));
        let clear = sampled
            .iter()
            .filter(|(_, point, unit, _)| self.is_clear(point, unit));
        clear
            .take(15)
            .map(|found| self.improved(*found, &mut random))
            .fold(0.0, f64::max)
    }

    fn improved(
        &self,
        (mut best, mut point, mut unit, face): (f64, Point3<f64>, Vector3<f64>, usize),
        random: &mut Random,
    ) -> f64 {
        for round in 0..400 {
            let step = 0.2 * 0.99_f64.powi(round);
            let mut next = point + random.unit() * step;
            for i in 0..3 {
                next[i] = next[i].clamp(-HALF[i], HALF[i]);
            }
            next[face] = point[face];
            let turned = (unit + random.unit() * step).normalize();
            let outwards = turned[face] * next[face].signum() > 0.05;
            let value = self.smallest_with(&next, &turned);
            if outwards && value > best && self.is_clear(&next, &turned) {
                (best, point, unit) = (value, next, turned);
            }
        }
        best
    }
}

/// Numbers at random, the same each time (Knuth's constants for a linear congruence).
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, half: f64) -> f64 {
        (2.0 * self.next() - 1.0) * half
    }

    fn unit(&mut self) -> Vector3<f64> {
        loop {
            let vector = Vector3::from([1.0; 3].map(|half| self.between(half)));
            if (0.01..1.0).contains(&vector.norm()) {
                return vector.normalize();
            }
        }
    }
}

/// Eyes on the faces at whole centimetres, links of half a metre that lean out from there.
fn on_links() -> impl Strategy<Value = OnLinks> {
    let link = (
        0..3_usize,
        prop::bool::ANY,
        prop::array::uniform3(-9..10_i32),
        prop::array::uniform3(-4..5_i32),
    );
    prop::collection::vec(link, 5).prop_map(|links| {
        let (eyes, grounds) = links
            .into_iter()
            .map(|(face, side, at, lean)| {
                let mut eye: [f64; 3] =
                    std::array::from_fn(|i| f64::from(at[i]) * HALF[i] * 10.0 / 100.0);
                eye[face] = if side { HALF[face] } else { -HALF[face] };
                let mut ground: [f64; 3] =
                    std::array::from_fn(|i| eye[i] + f64::from(lean[i]) * 0.08);
                ground[face] = eye[face] + 0.5 * eye[face].signum();
                let round = |x: f64| (x * 1e3).round() / 1e3;
                (eye.map(round), ground.map(round))
            })
            .unzip();
        OnLinks { eyes, grounds }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Links were at 0.96 of the best in the median and at 0.50 at worst.
    #[test]
    fn no_denser_search_finds_a_much_better_link(held in on_links()) {
        let scene = held.scene();
        let before = diagnosed(&scene);
        prop_assume!(before.counts.freedom == 1 && before.numeric.singular_values[4] > 1e-2);
        let sampled = held.best_by_sampling();
        let mending = mended(&scene).expect("a link");
        prop_assert!(
            mending.smallest() > 0.98 * sampled,
            "{} of {sampled}: {:?}",
            mending.smallest() / sampled,
            mending.links
        );
    }

    /// A bent rail on some of its supports: no link that is proposed runs through it or through another support.
    #[test]
    fn no_link_passes_through_body_or_supports(
        corners in prop::array::uniform4(prop::array::uniform3(-5..6_i32)),
        supports in prop::collection::vec((0..4_usize, prop::array::uniform3(-4..5_i32)), 1..4),
    ) {
        let apart = |a: &[i32; 3], b: &[i32; 3]| a.iter().zip(b).map(|(x, y)| (x - y).abs()).sum::<i32>() > 2;
        prop_assume!(corners.windows(2).all(|pair| apart(&pair[0], &pair[1])));
        let write = |at: &[i32; 3]| format!("({}, {}, {})", at[0], at[1], at[2]);
        let path: Vec<String> = corners.iter().map(write).collect();
        let links: Vec<String> = supports
            .iter()
            .enumerate()
            .filter(|(_, (_, away))| away.iter().any(|x| *x != 0))
            .map(|(i, (at, away))| {
                let eye = corners[*at];
                let ground: [i32; 3] = std::array::from_fn(|k| eye[k] + away[k]);
                format!("Link(name: \"S{i}\", at: {}, ground: {})", write(&eye), write(&ground))
            })
            .collect();
        let text = format!(
            "(format: 1, body: [BentBar(path: [{}], diameter: 0.3)], supports: [{}])",
            path.join(", "),
            links.join(", ")
        );
        let Ok(loaded) = read_str("test", &text) else {
            return Err(TestCaseError::reject("the path folds back"));
        };
        let scene = loaded.scene;
        let Some(mending) = mended(&scene) else { return Ok(()) };
        let solids = solid::of_body_with(&scene, Finish::SHARP);
        let model = Model::new(&mending.scene).unwrap();
        let added = model.supports.len() - mending.links.len();
        for (index, link) in model.supports.iter().enumerate().skip(added) {
            let (eye, end) = (link.point, link.ground.unwrap());
            let way = end - eye;
            let along: Vec<Point3<f64>> = (0..=100).map(|part| eye + way * (f64::from(part) / 100.0)).collect();
            // The eye may lie on the axis of the bar: once out of it, the link stays out. To a rounding, it touches.
            let is_outside = along.iter().map(|point| solid::distance(&solids, point) > 1e-9);
            prop_assert!(is_outside.is_sorted(), "{}: {:?}", text, mending.links);
            prop_assert!(solid::distance(&solids, &end) > 0.01, "{}: {:?}", text, mending.links);
            // What is near where the link is fastened may touch it there.
            for point in along.iter().filter(|point| (*point - eye).norm() > 0.6) {
                for other in &model.supports.as_slice()[..index] {
                    let far = other.ground.unwrap_or(other.point);
                    for share in 0..=100 {
                        let near = other.point + (far - other.point) * (f64::from(share) / 100.0);
                        prop_assert!((near - point).norm() > 1e-3, "{}: {:?}", text, mending.links);
                    }
                }
            }
        }
    }
}

/// Eyes were at any grid point that did best, however odd, where rounder ones do as well.
#[test]
fn practical_places_are_preferred() {
    let scene = read(
        r#"(format: 1, body: [Block(centre: (0.5, 0.5, 0), size: (1, 1, 0.1))], supports: [
            BallJoint(name: "A", at: (0, 0, 0)), BallJoint(name: "B", at: (1, 0, 0))])"#,
    );
    let mending = mended(&scene).expect("a link");
    let Place::At(at) = &mending.links[0].at else {
        panic!("{:?}", mending.links)
    };
    let (at, ground) = (at.components(), mending.links[0].ground.components());
    // The grid has steps of 0.01 m; whole tens of them are preferred, and the faces lie at 0.05 m.
    let is_tens = |x: f64| (x * 10.0 - (x * 10.0).round()).abs() < 1e-9;
    assert!(
        is_tens(at[0]) && is_tens(at[1]) && at[2].abs() <= 0.05,
        "{at:?}"
    );
    let along = (0..3).filter(|i| (ground[*i] - at[*i]).abs() > 1e-9);
    assert_eq!(along.count(), 1, "along an axis: {ground:?}");
}

/// Where the scene says where the ground is, links end there.
#[test]
fn ground_ends_lie_on_walls() {
    let text = r#"(format: 1, body: [BentBar(path: ["A", (0, 0, 1), (1.7, 0.6, 1.75), "B"], diameter: 0.06)],
        points: { "A": (0, 0, 0), "B": (1.7, 0.6, 0.75) },
        walls: [Wall(corners: [(-1, 1.2, -1), (3, 1.2, -1), (3, 1.2, 3), (-1, 1.2, 3)])],
        supports: [BallJoint(name: "A", at: "A"), BallJoint(name: "B", at: "B")])"#;
    let scene = read(text);
    assert_eq!(scene.walls.len(), 1);
    let mending = mended(&scene).expect("a link to the wall");
    for link in &mending.links {
        let [x, y, z] = link.ground.components();
        let on_wall = y == 1.2 && (-1.0..=3.0).contains(&x) && (-1.0..=3.0).contains(&z);
        assert!(on_wall, "{link:?}");
    }
    let written = sixhold::scene::to_ron(&scene);
    assert_eq!(read(&written), scene, "{written}");
}

#[test]
fn walls_are_checked() {
    let flaw = |space: &str, wall: &str| {
        let (at, block) = match space {
            "planar" => ("(0, 0)", "Block(centre: (0, 0), size: (1, 1, 1))"),
            _ => ("(0, 0, 0)", "Block(centre: (0, 0, 0), size: (1, 1, 1))"),
        };
        let text = format!(
            "(format: 1, space: {space}, body: [{block}], walls: [{wall}], supports: [Fixed(name: \"A\", at: {at})])"
        );
        read_str("test", &text)
            .err()
            .map_or_else(String::new, |error| error.to_string())
    };
    for (space, wall, message) in [
        (
            "spatial",
            "Wall(corners: [(0, 0, 0), (1, 0, 0), (0, 1, 0)])",
            "",
        ),
        (
            "spatial",
            "Wall(corners: [(0, 0, 0), (1, 0, 0)])",
            "the wall has 2 corners",
        ),
        (
            "spatial",
            "Wall(corners: [(0, 0, 0), (1, 0, 0), (2, 0, 0)])",
            "the corners of the wall lie on one line",
        ),
        (
            "spatial",
            "Wall(corners: [(0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 1)])",
            "do not lie in one plane",
        ),
        (
            "spatial",
            "Wall(corners: [(0, 0, 0), (1, 0, 0), \"Q\"])",
            "there is no point \"Q\"",
        ),
        (
            "spatial",
            "Plate(corners: [])",
            "`Plate` is a shape, not a wall",
        ),
        ("planar", "Wall(corners: [(0, 0), (1, 0)])", ""),
        (
            "planar",
            "Wall(corners: [(0, 0), (1, 0), (1, 1)])",
            "the wall has 3 corners",
        ),
        (
            "planar",
            "Wall(corners: [(1, 0), (1, 0)])",
            "the wall has this corner twice",
        ),
    ] {
        let said = flaw(space, wall);
        assert!(
            said.contains(message) && said.is_empty() == message.is_empty(),
            "{wall}: {said}"
        );
    }
}

/// In the plane a wall is a straight piece.
#[test]
fn walls_in_the_plane() {
    let scene = read(
        r#"(format: 1, space: planar, body: [Block(centre: (1, 0), size: (2, 0.1, 0.1))],
            walls: [Wall(corners: [(0.5, -0.5), (2.5, -0.5)])], supports: [Pin(name: "A", at: (0, 0))])"#,
    );
    let mending = mended(&scene).expect("a prop from below");
    let [x, y, _] = mending.links[0].ground.components();
    assert!(y == -0.5 && (0.5..=2.5).contains(&x), "{:?}", mending.links);
}
