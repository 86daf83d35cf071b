//! The least movement of supports that lets a held body move: certified from below, found from above.
//!
//! A support is moved as a whole, without turning; only the moments of its forces change. The body is free of
//! them once some twist `(v; w)` does no work on any reaction. For a given twist the least movement of each
//! support is known in closed form, and for a given `w` the best `v` follows from linear equations: what is
//! left to search is the direction of `w`.

use nalgebra::{DMatrix, DVector, Matrix3, Matrix3xX, Vector3};

use super::rotation_chart::RotationChart;
use super::sphere::{descend, without};
use super::twist_space::{FLAT, SupportForces, TwistPair, TwistSpace};
use crate::statics::svd::WideSvd;

/// Movements that let the body go.
#[derive(Debug, Clone)]
pub(super) struct FoundMovement {
    /// Root of the sum of squares of the movements, m.
    pub(super) total: f64,
    /// Movement of each grip, m.
    pub(super) moves: Vec<Vector3<f64>>,
    /// The twist `(v, w)` that is then free, |w| = 1.
    pub(super) twist: TwistPair,
}

/// How many of the directions tried are followed to the bottom.
const STARTS: usize = 3;
/// With more supports than this the best of the directions tried is taken as it is.
const MOST_FOLLOWED: usize = 400;
/// An estimate this close to the bound needs no further starts.
const CLOSE: f64 = 1.001;

/// Movements of these grips with total below this let no twist of the room free, m; `None` where none ever does.
///
/// Moments `M` of the forces change by at most the root of the sum of squares of the movements (a movement d
/// changes the moments of a support by `d × n`, of norm |d| at most). So this is the smallest singular value of
/// `M` once translations and what couples hold are projected out: Weyl's inequality with the unmoved part of the
/// matrix held fixed (Golub, Hoffman & Stewart 1987). It is never less than L times the smallest singular value
/// of the whole matrix, and unlike that depends on no choice of L.
pub(super) fn bound(grips: &[SupportForces], room: &TwistSpace) -> Option<f64> {
    if room.turns.is_empty() {
        return None;
    }
    let mut slides: Vec<DVector<f64>> = Vec::new();
    for slide in &room.slides {
        let rest = without(&rates(grips, |_| *slide), &slides);
        if rest.norm() > FLAT {
            slides.push(rest.normalize());
        }
    }
    let rows: Vec<_> = room
        .turns
        .iter()
        .map(|(v, w)| without(&rates(grips, |arm| v + w.cross(arm)), &slides).transpose())
        .collect();
    WideSvd::new(&DMatrix::from_rows(&rows))
        .values
        .last()
        .copied()
}

/// Rate of each force direction under a field of velocities.
fn rates(
    grips: &[SupportForces],
    velocity: impl Fn(&Vector3<f64>) -> Vector3<f64>,
) -> DVector<f64> {
    let rates = grips.iter().flat_map(|grip| {
        let velocity = velocity(&grip.arm);
        grip.directions.iter().map(move |n| n.dot(&velocity))
    });
    DVector::from_iterator(grips.iter().map(|g| g.directions.len()).sum(), rates)
}

/// The least movements found by search from several starts; `None` where no twist of the room can be freed.
///
/// `hints` are directions of turns worth a try besides those scattered over all.
pub(super) fn search(
    grips: &[SupportForces],
    room: &TwistSpace,
    bound: f64,
    hints: &[Vector3<f64>],
) -> Option<FoundMovement> {
    let chart = RotationChart::of(grips, room)?;
    let found = |at: &DVector<f64>| free(grips, room, &chart.turn(at));
    let cost = |at: &DVector<f64>| total(grips, room, &chart.turn(at)).unwrap_or(f64::INFINITY);
    let mut starts: Vec<(f64, DVector<f64>)> = chart
        .starts()
        .into_iter()
        .chain(hints.iter().filter_map(|hint| chart.near(room, hint)))
        .map(|at| (cost(&at), at))
        .collect();
    starts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut best: Option<FoundMovement> = None;
    for (value, at) in starts.into_iter().take(STARTS) {
        let end = match grips.len() {
            0..=MOST_FOLLOWED => found(&descend(&cost, value, at)),
            _ => found(&at),
        };
        best = match (best, end) {
            (Some(old), Some(new)) if new.total < old.total => Some(new),
            (None, new) => new,
            (old, _) => old,
        };
        if best
            .as_ref()
            .is_some_and(|found| found.total <= bound * CLOSE)
        {
            break;
        }
    }
    best
}

/// Least movements that free a twist turning as given, over all translations of the room besides.
fn free(grips: &[SupportForces], room: &TwistSpace, at: &DVector<f64>) -> Option<FoundMovement> {
    let (linear, turn) = best_twist(grips, room, at)?;
    let moves = grips
        .iter()
        .map(|grip| grip.step(&(linear + turn.cross(&grip.arm)), &turn))
        .collect::<Option<Vec<Vector3<f64>>>>()?;
    let total = moves.iter().map(Vector3::norm_squared).sum::<f64>().sqrt();
    total.is_finite().then_some(FoundMovement {
        total,
        moves,
        twist: (linear, turn),
    })
}

/// The total of [`free`] alone.
fn total(grips: &[SupportForces], room: &TwistSpace, at: &DVector<f64>) -> Option<f64> {
    let (linear, turn) = best_twist(grips, room, at)?;
    let mut square = 0.0;
    for grip in grips {
        let step = grip.step(&(linear + turn.cross(&grip.arm)), &turn)?;
        square += step.norm_squared();
    }
    square.is_finite().then(|| square.sqrt())
}

/// The twist turning as given that takes the least movements.
fn best_twist(grips: &[SupportForces], room: &TwistSpace, at: &DVector<f64>) -> Option<TwistPair> {
    let sum = |part: fn(&TwistPair) -> Vector3<f64>| -> Vector3<f64> {
        room.turns
            .iter()
            .zip(at.iter())
            .map(|(turn, a)| part(turn) * *a)
            .sum()
    };
    let (start, turn) = (sum(|t| t.0), sum(|t| t.1));
    if !grips.iter().any(|grip| grip.directions.len() == 3) {
        return Some((start + best_slide(grips, &room.slides, &start, &turn), turn));
    }
    let (start, slides) = without_pitch(start, &turn, &room.slides)?;
    Some((start + best_slide(grips, &slides, &start, &turn), turn))
}

/// A ball joint stays a fixed point wherever it is moved: only turns without pitch can be freed.
fn without_pitch(
    start: Vector3<f64>,
    turn: &Vector3<f64>,
    slides: &[Vector3<f64>],
) -> Option<(Vector3<f64>, Vec<Vector3<f64>>)> {
    let along: Vector3<f64> = slides.iter().map(|slide| slide * slide.dot(turn)).sum();
    let square = along.norm_squared();
    let pitch = start.dot(turn);
    if square <= FLAT {
        return (pitch.abs() <= FLAT * start.norm()).then(|| (start, slides.to_vec()));
    }
    let unit = along / square.sqrt();
    let mut rest: Vec<Vector3<f64>> = Vec::new();
    for slide in slides {
        let across = slide - unit * unit.dot(slide);
        let across = rest.iter().fold(across, |a, r| a - r * r.dot(&a));
        if across.norm() > FLAT.sqrt() {
            rest.push(across.normalize());
        }
    }
    Some((start - along * (pitch / square), rest))
}

/// The translation that makes the movements least: linear least squares.
fn best_slide(
    grips: &[SupportForces],
    slides: &[Vector3<f64>],
    start: &Vector3<f64>,
    turn: &Vector3<f64>,
) -> Vector3<f64> {
    let (mut square, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for grip in grips {
        let stiffness = grip.stiffness(turn);
        square += stiffness;
        right += stiffness * (start + turn.cross(&grip.arm));
    }
    match slides.len() {
        0 => return Vector3::zeros(),
        // Any translation at all.
        3 => {
            let factor = square.cholesky();
            return factor.map_or_else(Vector3::zeros, |factor| -factor.solve(&right));
        }
        _ => {}
    }
    let basis = Matrix3xX::from_columns(slides);
    let reduced = basis.tr_mul(&(square * &basis));
    let solution = reduced
        .cholesky()
        .map(|factor| factor.solve(&basis.tr_mul(&right)));
    solution.map_or_else(Vector3::zeros, |a| -(basis * a))
}
