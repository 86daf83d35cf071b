//! Stretches of lines on the page, straight or curved, and the longer lines that they make up.

use std::collections::{HashMap, VecDeque};

use super::sketch::{Spot, length, way};
use super::stage::Stage;
use crate::drawing::Polyline;
use crate::scene::solid::Edge;

/// A part of a line between two spots.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    ends: [Spot; 2],
    /// Control points of the cubic curve between the ends; `None` where it is straight.
    bend: Option<[Spot; 2]>,
}

/// The point at a share of the way between two.
fn between(a: Spot, b: Spot, t: f64) -> Spot {
    [0, 1].map(|k| a[k] + (b[k] - a[k]) * t)
}

impl Stretch {
    /// A projected edge on the page.
    pub(crate) fn of(stage: &Stage, edge: &Edge) -> Self {
        Self {
            ends: edge.ends.map(|end| stage.on_page(&end)),
            bend: edge.bend.map(|bend| bend.map(|at| stage.on_page(&at))),
        }
    }

    /// The part between two shares of its length, 0 to 1 in order; curves are divided by de Casteljau's construction.
    pub(crate) fn part(&self, [from, to]: [f64; 2]) -> Self {
        let [a, b] = self.ends;
        let Some([c, d]) = self.bend else {
            return Self {
                ends: [from, to].map(|t| between(a, b, t)),
                bend: None,
            };
        };
        // The polar form of the cubic: its arguments are taken one for each step.
        let polar = |[r, s, t]: [f64; 3]| {
            let once = [between(a, c, r), between(c, d, r), between(d, b, r)];
            let twice = [between(once[0], once[1], s), between(once[1], once[2], s)];
            between(twice[0], twice[1], t)
        };
        Self {
            ends: [polar([from; 3]), polar([to; 3])],
            bend: Some([polar([from, from, to]), polar([from, to, to])]),
        }
    }

    fn reversed(self) -> Self {
        let [a, b] = self.ends;
        Self {
            ends: [b, a],
            bend: self.bend.map(|[c, d]| [d, c]),
        }
    }
}

/// Joins stretches that share an end into longer lines.
pub(super) fn chained(pieces: Vec<Stretch>) -> Vec<Polyline> {
    let key = |spot: Spot| spot.map(|x| (x * 100.0).round() as i64);
    let pieces: Vec<_> = pieces
        .into_iter()
        .filter(|piece| key(piece.ends[0]) != key(piece.ends[1]))
        .collect();
    let mut at_end: HashMap<[i64; 2], Vec<usize>> = HashMap::new();
    for (index, piece) in pieces.iter().enumerate() {
        for end in piece.ends {
            at_end.entry(key(end)).or_default().push(index);
        }
    }
    let mut used = vec![false; pieces.len()];
    let mut lines = Vec::new();
    for start in 0..pieces.len() {
        if used[start] {
            continue;
        }
        used[start] = true;
        let mut chain = VecDeque::from([pieces[start]]);
        for at_back in [true, false] {
            loop {
                let end = match at_back {
                    true => chain[chain.len() - 1].ends[1],
                    false => chain[0].ends[0],
                };
                let next = at_end[&key(end)].iter().find(|index| !used[**index]);
                let Some(&next) = next else { break };
                used[next] = true;
                let leads_on = key(pieces[next].ends[usize::from(!at_back)]) == key(end);
                let piece = match leads_on {
                    true => pieces[next],
                    false => pieces[next].reversed(),
                };
                match at_back {
                    true => chain.push_back(piece),
                    false => chain.push_front(piece),
                }
            }
        }
        lines.push(straightened(chain.into()));
    }
    lines
}

/// The line through stretches, without points that lie on the straight way between their neighbours.
fn straightened(chain: Vec<Stretch>) -> Polyline {
    let mut kept: Vec<Stretch> = Vec::with_capacity(chain.len());
    for piece in chain {
        match kept.last_mut() {
            Some(last) if goes_straight_on(last, &piece) => last.ends[1] = piece.ends[1],
            _ => kept.push(piece),
        }
    }
    let first = kept.first().map(|piece| piece.ends[0]);
    let points = first
        .into_iter()
        .chain(kept.iter().map(|piece| piece.ends[1]));
    Polyline {
        points: points.collect(),
        bends: kept.iter().map(|piece| piece.bend).collect(),
        closed: false,
    }
}

fn goes_straight_on(before: &Stretch, after: &Stretch) -> bool {
    if before.bend.is_some() || after.bend.is_some() {
        return false;
    }
    let (a, b) = (
        way(before.ends[0], before.ends[1]),
        way(before.ends[1], after.ends[1]),
    );
    let turn = a[0] * b[1] - a[1] * b[0];
    let ahead = a[0] * b[0] + a[1] * b[1];
    ahead > 0.0 && turn.abs() < 1e-4 * length(a) * length(b)
}
