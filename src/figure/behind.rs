//! Supports of which the body leaves little to be seen: their lines where it hides them.

use nalgebra::Point3;

use super::hidden::Screen;
use super::sketch::{length, way};
use super::stage::Stage;
use super::stretch::Stretch;
use crate::scene::solid::Edge;
use crate::statics::SupportIndex;

/// A line of a support, projected, and the parts of it that nothing hides: ranges of its parameter, in order.
pub(super) struct Drawn<'a> {
    /// Index of the support.
    pub support: SupportIndex,
    /// Its ends.
    pub line: &'a Edge,
    /// What is seen of it.
    pub parts: Vec<[f64; 2]>,
}

/// Of a support's lines, less than this share is seen beside the body where they are drawn behind it.
const LITTLE: f64 = 0.4;

impl Drawn<'_> {
    /// Parts of the line on the page.
    pub(crate) fn on_page(&self, stage: &Stage, parts: &[[f64; 2]]) -> Vec<Stretch> {
        let whole = Stretch::of(stage, self.line);
        parts.iter().map(|part| whole.part(*part)).collect()
    }

    fn length(&self, stage: &Stage) -> f64 {
        let [from, to] = self.line.ends.map(|end| stage.on_page(&end));
        length(way(from, to))
    }
}

/// What the body hides, and not the hardware itself, of those supports of which little is seen. The lines are in the
/// order of their supports; `facing` are the triangles of the hardware.
pub(super) fn lines(
    stage: &Stage,
    lines: &[Drawn],
    facing: impl Fn() -> Vec<[Point3<f64>; 3]>,
) -> Vec<Stretch> {
    let hardware = std::cell::OnceCell::new();
    let mut all = Vec::new();
    for own in lines.chunk_by(|one, other| one.support == other.support) {
        let whole: f64 = own.iter().map(|shown| shown.length(stage)).sum();
        let seen: f64 = own
            .iter()
            .map(|shown| shown.length(stage) * total(&shown.parts))
            .sum();
        // What hardware hides of itself makes the share no smaller.
        if seen >= LITTLE * whole {
            continue;
        }
        let hardware = hardware.get_or_init(|| Screen::new(facing()));
        let hidden: Vec<_> = own
            .iter()
            .map(|shown| {
                (
                    shown,
                    without(hardware.seen(&shown.line.ends), &shown.parts),
                )
            })
            .collect();
        let by_body: f64 = hidden
            .iter()
            .map(|(shown, parts)| shown.length(stage) * total(parts))
            .sum();
        if seen < LITTLE * (seen + by_body) {
            all.extend(
                hidden
                    .iter()
                    .flat_map(|(shown, parts)| shown.on_page(stage, parts)),
            );
        }
    }
    all
}

/// What of some ranges lies in none of others; both in order.
fn without(ranges: Vec<[f64; 2]>, others: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut left = Vec::new();
    for [mut from, to] in ranges {
        for [start, end] in others {
            if *start > from {
                left.push([from, start.min(to)]);
            }
            from = end.min(to).max(from);
            if from == to {
                break;
            }
        }
        if from < to {
            left.push([from, to]);
        }
    }
    left
}

fn total(ranges: &[[f64; 2]]) -> f64 {
    ranges.iter().map(|[from, to]| to - from).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_without_others() {
        let others = [[0.2, 0.4], [0.6, 0.8]];
        assert_eq!(
            without(vec![[0.0, 1.0]], &others),
            [[0.0, 0.2], [0.4, 0.6], [0.8, 1.0]]
        );
        assert_eq!(
            without(vec![[0.1, 0.3], [0.5, 0.9]], &others),
            [[0.1, 0.2], [0.5, 0.6], [0.8, 0.9]]
        );
        assert_eq!(without(vec![[0.2, 0.4]], &others), [[0.0; 2]; 0]);
        assert_eq!(without(vec![[0.0, 1.0]], &[]), [[0.0, 1.0]]);
    }
}
