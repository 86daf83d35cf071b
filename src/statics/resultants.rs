//! The forces that loads spread along segments and over faces count as.

use nalgebra::{Point3, Vector3};

/// Sine of the angle up to which two densities have one direction.
const PARALLEL: f64 = 1e-9;

/// A force that a spread load, or a part of it, counts as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resultant {
    /// Where its line of action crosses the segment, or the centroid of the face, m.
    pub at: Point3<f64>,
    /// Force, N.
    pub force: Vector3<f64>,
    /// What it is the resultant of.
    pub spread: Spread,
}

/// Along or over what a force is spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// A segment.
    Along {
        /// Sizes of the force per length at the ends, N/m.
        densities: [f64; 2],
        /// Length of the segment, m.
        length_m: f64,
    },
    /// A face.
    Over {
        /// Size of the force per area, N/m².
        density: f64,
        /// The area that counts, m².
        area_m2: f64,
        /// Whether that is the area of the plan.
        on_plan: bool,
    },
}

/// The resultants of a force spread along a segment, linear between the ends.
pub(super) fn of_segment(
    [from, to]: &[Point3<f64>; 2],
    [start, end]: &[Vector3<f64>; 2],
) -> Vec<Resultant> {
    let triangles = [(*start, Vector3::zeros()), (Vector3::zeros(), *end)];
    let bent = start.cross(end).norm() > PARALLEL * start.norm() * end.norm();
    let parts = if bent || start.dot(end) < 0.0 {
        triangles.to_vec()
    } else {
        vec![(*start, *end)]
    };
    let length_m = (to - from).norm();
    let resultant = |(start, end): (Vector3<f64>, Vector3<f64>)| {
        let (first, last) = (start.norm(), end.norm());
        let share = (first + 2.0 * last) / (3.0 * (first + last));
        (first + last > 0.0).then(|| Resultant {
            at: from + (to - from) * share,
            force: (start + end) * (length_m / 2.0),
            spread: Spread::Along {
                densities: [first, last],
                length_m,
            },
        })
    };
    parts.into_iter().filter_map(resultant).collect()
}

/// The resultant of a force spread evenly over a face, at the centroid of the face.
pub(super) fn of_face(
    face: &[Point3<f64>],
    density: &Vector3<f64>,
    on_plan: bool,
) -> Option<Resultant> {
    let (first, rest) = face.split_first()?;
    // A fan of triangles, those outside of the face counted off by their sense.
    let whole = area_vector(face);
    let normal = whole.try_normalize(0.0)?;
    let triangles = rest.windows(2).map(|pair| {
        let half = (pair[0] - first).cross(&(pair[1] - first)) / 2.0;
        let centre = (first.coords + pair[0].coords + pair[1].coords) / 3.0;
        centre * half.dot(&normal)
    });
    let weighted: Vector3<f64> = triangles.sum();
    let counted = if on_plan { whole.z.abs() } else { whole.norm() };
    (density.norm() > 0.0 && counted > 0.0).then(|| Resultant {
        at: Point3::from(weighted / whole.norm()),
        force: density * counted,
        spread: Spread::Over {
            density: density.norm(),
            area_m2: counted,
            on_plan,
        },
    })
}

/// The area of a flat face, along its normal on the side from which its corners run counter-clockwise.
pub(super) fn area_vector(face: &[Point3<f64>]) -> Vector3<f64> {
    let origin = face.first().copied().unwrap_or_else(Point3::origin);
    let pairs = face.windows(2);
    pairs
        .map(|pair| (pair[0] - origin).cross(&(pair[1] - origin)) / 2.0)
        .sum()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::loads::AppliedLoad;
    use super::super::wrench::Wrench;
    use super::*;

    fn spread(start: [f64; 3], end: [f64; 3]) -> AppliedLoad {
        AppliedLoad::Distributed {
            ends: [Point3::new(1.0, 0.0, 2.0), Point3::new(1.0, 3.0, 6.0)],
            densities: [start, end].map(Vector3::from),
        }
    }

    #[test]
    fn resultants_do_what_the_spread_load_does() {
        let about = Point3::new(-0.7, 0.4, 1.1);
        for (start, end, count) in [
            ([0.0, 0.0, -100.0], [0.0, 0.0, -100.0], 1),
            ([0.0, 0.0, 0.0], [0.0, 20.0, -60.0], 1),
            ([10.0, 0.0, 0.0], [30.0, 0.0, 0.0], 1),
            ([10.0, 0.0, 0.0], [0.0, 0.0, 30.0], 2),
            ([10.0, 0.0, 0.0], [-10.0, 0.0, 0.0], 2),
            ([0.0; 3], [0.0; 3], 0),
        ] {
            let load = spread(start, end);
            let resultants = load.resultants();
            assert_eq!(resultants.len(), count, "{start:?} {end:?}");
            let sum = resultants.iter().fold(Wrench::default(), |sum, one| {
                sum + Wrench::of_force(one.force, &one.at, &about)
            });
            let whole = load.wrench(&about);
            assert!((sum.force - whole.force).norm() < 1e-9, "{start:?} {end:?}");
            assert!(
                (sum.moment - whole.moment).norm() < 1e-9,
                "{start:?} {end:?}"
            );
        }
    }

    /// By hand: an L of 3 m² in the plane z = 1 with its centroid at (5/6, 5/6), tilted copies likewise.
    #[test]
    fn a_face_counts_as_one_force_at_its_centroid() {
        let flat = [
            [0.0, 0.0],
            [2.0, 0.0],
            [2.0, 1.0],
            [1.0, 1.0],
            [1.0, 2.0],
            [0.0, 2.0],
        ];
        let tilt = |slope: f64| -> Arc<[Point3<f64>]> {
            flat.iter()
                .map(|[x, y]| Point3::new(*x, *y, 1.0 + slope * x))
                .collect()
        };
        let density = Vector3::new(0.0, 0.0, -10.0);
        for (slope, on_plan, area) in [(0.0, false, 3.0), (0.75, false, 3.75), (0.75, true, 3.0)] {
            let load = AppliedLoad::Area {
                face: tilt(slope),
                density,
                on_plan,
            };
            let [one] = load.resultants()[..] else {
                panic!("one resultant");
            };
            assert!((one.force - density * area).norm() < 1e-12, "{slope}");
            let centroid = Point3::new(5.0 / 6.0, 5.0 / 6.0, 1.0 + slope * 5.0 / 6.0);
            assert!((one.at - centroid).norm() < 1e-12, "{slope}");
        }
    }

    #[test]
    fn a_path_counts_as_a_force_in_the_middle_of_each_straight_piece() {
        let path = [[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [2.0, 0.0, 1.0]];
        let load = AppliedLoad::Line {
            path: path.map(Point3::from).into(),
            density: Vector3::new(0.0, 0.0, -30.0),
            mass: Some(3.0),
        };
        assert!(load.is_weight());
        let sum = load.wrench(&Point3::origin());
        assert!((sum.force.z + 90.0).abs() < 1e-12);
        // 60 N at x = 1 and 30 N at x = 2 turn about y.
        assert!((sum.moment.y - 120.0).abs() < 1e-12);
    }

    /// Beer & Johnston, *Vector Mechanics for Engineers*, section 5.3: the load is the area under its diagram, and
    /// acts through the centroid of that area.
    #[test]
    fn a_triangular_load_acts_a_third_from_its_high_end() {
        let resultants = spread([0.0; 3], [0.0, 0.0, -60.0]).resultants();
        assert!((resultants[0].force - Vector3::new(0.0, 0.0, -150.0)).norm() < 1e-12);
        let expected = Point3::new(1.0, 2.0, 2.0 + 8.0 / 3.0);
        assert!((resultants[0].at - expected).norm() < 1e-12);
    }
}
