//! Combinations of free motions that pass the test of second order because contacts open and cables go slack.
//!
//! Such combinations fill whole regions of the directions, so that steps find them; what lies between two steps is not seen.

use nalgebra::DVector;

use super::quadrics::Zero;

/// Steps of half a turn in which two motions are combined.
const STEPS: usize = 48;
/// Steps across each face of the cube of three motions.
const ACROSS: i32 = 6;
/// Directions at less than this cosine of an angle are of one kind.
const ALIKE: f64 = 0.8;
/// Kinds that are kept.
const MOST: usize = 3;

/// One combination of every kind that passes, of so many motions; no kind that one of the motions alone belongs to.
pub(super) fn openings(count: usize, passes: impl Fn(&DVector<f64>) -> bool) -> Vec<Zero> {
    let directions = match count {
        0 | 1 => Vec::new(),
        2 => regions(&passes),
        3 => kinds(cube(), &passes),
        _ => kinds(pairs(count), &passes),
    };
    let zero = |direction: DVector<f64>| Zero {
        direction,
        regular: false,
        family: true,
    };
    directions.into_iter().map(zero).collect()
}

/// Middles of the stretches of directions of two motions that pass.
fn regions(passes: &impl Fn(&DVector<f64>) -> bool) -> Vec<DVector<f64>> {
    let at = |step: f64| {
        let (sine, cosine) = (std::f64::consts::PI * step / STEPS as f64).sin_cos();
        DVector::from_vec(vec![cosine, sine])
    };
    let passing: Vec<bool> = (0..STEPS).map(|step| passes(&at(step as f64))).collect();
    // The motions themselves are steps 0 and STEPS / 2, and end a stretch: what goes on beside them is of their kind.
    let halves = [1..STEPS / 2, STEPS / 2 + 1..STEPS];
    let mut found = Vec::new();
    for half in halves {
        let mut start = half.start;
        while start < half.end {
            let length = passing[start..half.end]
                .iter()
                .take_while(|is| **is)
                .count();
            let end = start + length;
            let beside = passing[start - 1] || passing[end % STEPS];
            if length > 0 && !beside {
                found.push(at((start + end - 1) as f64 / 2.0));
            }
            start = end + 1;
        }
    }
    found
}

/// Of the directions that pass, those that are not alike, nor like a motion alone that passes.
fn kinds(
    directions: Vec<DVector<f64>>,
    passes: &impl Fn(&DVector<f64>) -> bool,
) -> Vec<DVector<f64>> {
    let Some(count) = directions.first().map(DVector::len) else {
        return Vec::new();
    };
    let units = (0..count).map(|i| DVector::from_fn(count, |row, _| f64::from(u8::from(row == i))));
    let single: Vec<DVector<f64>> = units.filter(|unit| passes(unit)).collect();
    let mut found: Vec<DVector<f64>> = Vec::new();
    for direction in directions.into_iter().filter(|direction| passes(direction)) {
        let mut known = single.iter().chain(&found);
        if known.all(|other| other.dot(&direction).abs() < ALIKE) {
            found.push(direction);
        }
        if found.len() == MOST {
            break;
        }
    }
    found
}

/// Directions of three motions over the faces of a cube, one of each two that are opposite.
fn cube() -> Vec<DVector<f64>> {
    let steps = -ACROSS + 1..ACROSS;
    let part = |step: i32| f64::from(step) / f64::from(ACROSS);
    let face = |axis: usize| {
        steps.clone().flat_map(move |first| {
            (-ACROSS + 1..ACROSS).map(move |second| {
                let mut direction = DVector::zeros(3);
                direction[axis] = 1.0;
                direction[(axis + 1) % 3] = part(first);
                direction[(axis + 2) % 3] = part(second);
                direction.normalize()
            })
        })
    };
    (0..3).flat_map(face).collect()
}

/// Sums and differences of any two of many motions.
fn pairs(count: usize) -> Vec<DVector<f64>> {
    let mut all = Vec::new();
    for first in 0..count {
        for second in first + 1..count {
            for sign in [1.0, -1.0] {
                let mut direction = DVector::zeros(count);
                direction[first] = 1.0;
                direction[second] = sign;
                all.push(direction.normalize());
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two forms on two motions, of which the second has to be positive.
    #[test]
    fn a_stretch_of_directions_gives_its_middle() {
        // Passes between 30 and 60 degrees.
        let found = openings(2, |at: &DVector<f64>| {
            let angle = at[1].atan2(at[0]).to_degrees();
            (29.0..61.0).contains(&angle)
        });
        assert_eq!(found.len(), 1);
        assert!((found[0].direction[0] - found[0].direction[1]).abs() < 1e-9);
    }

    #[test]
    fn what_a_single_motion_does_is_not_found_again() {
        let beside_the_first = |at: &DVector<f64>| at[1].abs() < 0.3;
        assert!(openings(2, beside_the_first).is_empty());
        assert!(openings(3, |at: &DVector<f64>| at[0].abs() > 0.9).is_empty());
    }

    #[test]
    fn regions_of_three_motions_are_found_once_each() {
        let corner = |signs: [f64; 3]| DVector::from_column_slice(&signs).normalize();
        let corners = [corner([1.0, 1.0, 1.0]), corner([1.0, -1.0, 1.0])];
        let found = openings(3, |at: &DVector<f64>| {
            corners.iter().any(|corner| corner.dot(at).abs() > 0.95)
        });
        assert_eq!(found.len(), 2);
    }
}
