//! Body and hardware on the page: fills from back to front, then every line where nothing hides it.

use std::collections::HashMap;

use nalgebra::Point3;

use super::contour::Seen;
use super::hardware::{Hardware, hardware};
use super::hidden::Screen;
use super::settings::Part;
use super::sketch::{Sketch, Spot, length, way};
use super::stage::Stage;
use crate::page::Line;

/// Hardware as it is seen, or as a rough measure of the room that it takes.
struct Piece {
    /// Index of the support that it belongs to.
    support: usize,
    seen: Seen,
    /// Whether it stands in front of the body.
    in_front: bool,
    /// Whether it has no tint.
    bare: bool,
}

/// Draws the body and, in space, its supports. Without `hides`, every line is drawn whole: to measure their extent.
pub(super) fn draw(stage: &Stage, hides: bool, sketch: &mut Sketch) {
    let (pieces, cables) = if stage.shows(Part::Supports) && !stage.is_planar() {
        pieces(stage)
    } else {
        (Vec::new(), Vec::new())
    };
    let shows_body = stage.shows(Part::Body);
    let fill = |pieces: &mut dyn Iterator<Item = &Piece>, sketch: &mut Sketch| {
        for piece in pieces.filter(|piece| !piece.bare) {
            let lines = area(stage, &piece.seen);
            sketch.filled("support", lines, None, stage.pens.hardware);
        }
    };
    fill(&mut pieces.iter().filter(|piece| !piece.in_front), sketch);
    if shows_body {
        let lines = stage
            .body
            .iter()
            .flat_map(|seen| area(stage, seen))
            .collect();
        sketch.filled("body", lines, None, stage.pens.body);
    }
    fill(&mut pieces.iter().filter(|piece| piece.in_front), sketch);
    let body: &[Seen] = if shows_body { &stage.body } else { &[] };
    let all = body.iter().chain(pieces.iter().map(|piece| &piece.seen));
    let screen = hides.then(|| Screen::new(all.flat_map(|seen| seen.facing.clone()).collect()));
    let split = |lines: &mut dyn Iterator<Item = &[Point3<f64>; 2]>| {
        let mut parts = Parts::default();
        for line in lines {
            parts.add(stage, line, screen.as_ref());
        }
        parts
    };
    let hatches = split(&mut pieces.iter().flat_map(|piece| &piece.seen.hatches));
    sketch.lines("ground", chained(hatches.seen), stage.pens.hatch);
    let edges = split(&mut body.iter().flat_map(|seen| &seen.lines));
    if stage.shows(Part::Hidden) {
        sketch.lines("hidden", chained(edges.hidden), stage.pens.hidden);
    }
    sketch.lines("body", chained(edges.seen), stage.pens.edge);
    let lines = split(&mut pieces.iter().flat_map(|piece| &piece.seen.lines));
    sketch.lines("support", chained(lines.seen), stage.pens.support);
    let ropes = split(&mut cables.iter().map(|(_, line)| line));
    sketch.lines("support", chained(ropes.seen), stage.pens.cable);
    if let Some(screen) = screen.filter(|_| stage.shows(Part::Behind)) {
        let lines = behind(stage, &pieces, &cables, &screen);
        sketch.lines("behind", chained(lines), stage.pens.hidden);
    }
}

/// Of a support's lines, less than this share can be seen beside the body where it counts as hidden.
const HARDLY_SEEN: f64 = 0.4;

/// Lines of hidden supports that the body hides, and not the hardware itself.
fn behind(stage: &Stage, pieces: &[Piece], cables: &[Cable], screen: &Screen) -> Vec<[Spot; 2]> {
    let hardware = pieces.iter().flat_map(|piece| piece.seen.facing.clone());
    let hardware = Screen::new(hardware.collect());
    let mut all = Vec::new();
    for support in 0..stage.subject.model.supports.len() {
        let pieces = pieces.iter().filter(|piece| piece.support == support);
        let cables = cables.iter().filter(|(of, _)| *of == support);
        let lines = pieces.flat_map(|piece| &piece.seen.lines);
        let lines = lines.chain(cables.map(|(_, line)| line));
        let (mut seen, mut hidden, mut parts) = (0.0, 0.0, Vec::new());
        for line in lines {
            let at = |t: f64| stage.on_page(&(line[0] + (line[1] - line[0]) * t));
            let length = length(way(at(0.0), at(1.0)));
            let shown = screen.seen(line);
            seen += length * total(&shown);
            let rest = without(hardware.seen(line), &shown);
            hidden += length * total(&rest);
            parts.extend(rest.into_iter().map(|part| part.map(at)));
        }
        if seen < HARDLY_SEEN * (seen + hidden) {
            all.extend(parts);
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

/// Index of a support, and one of its cables.
type Cable = (usize, [Point3<f64>; 2]);

fn pieces(stage: &Stage) -> (Vec<Piece>, Vec<Cable>) {
    let body = stage.body.iter().flat_map(|seen| seen.facing.clone());
    let body = Screen::new(body.collect());
    let (mut pieces, mut cables) = (Vec::new(), Vec::new());
    for (index, support) in stage.subject.model.supports.iter().enumerate() {
        let Hardware {
            meshes,
            cables: lines,
        } = hardware(stage, support);
        for mesh in meshes {
            let count = mesh.positions.len().max(1) as f64;
            let sum: nalgebra::Vector3<f64> = mesh.positions.iter().map(|p| p.coords).sum();
            let middle = stage.view.project(&Point3::from(sum / count));
            pieces.push(Piece {
                support: index,
                seen: Seen::new(&mesh, &stage.view),
                bare: mesh.bare,
                in_front: !body.seen(&[middle, middle]).is_empty(),
            });
        }
        let project = |line: [Point3<f64>; 2]| (index, line.map(|end| stage.view.project(&end)));
        cables.extend(lines.into_iter().map(project));
    }
    (pieces, cables)
}

fn area(stage: &Stage, seen: &Seen) -> Vec<Line> {
    let to_page = |[x, y]: &[f64; 2]| stage.on_page(&Point3::new(*x, *y, 0.0));
    let loops = seen.area.iter();
    loops
        .map(|points| Line::closed(points.iter().map(to_page).collect::<Vec<_>>()))
        .collect()
}

/// Parts of lines on the page.
#[derive(Default)]
struct Parts {
    seen: Vec<[Spot; 2]>,
    hidden: Vec<[Spot; 2]>,
}

impl Parts {
    fn add(&mut self, stage: &Stage, line: &[Point3<f64>; 2], screen: Option<&Screen>) {
        let seen = screen.map_or_else(|| vec![[0.0, 1.0]], |screen| screen.seen(line));
        let at = |t: f64| stage.on_page(&(line[0] + (line[1] - line[0]) * t));
        let mut from = 0.0;
        for [start, end] in &seen {
            if *start > from {
                self.hidden.push([at(from), at(*start)]);
            }
            self.seen.push([at(*start), at(*end)]);
            from = *end;
        }
        if from < 1.0 {
            self.hidden.push([at(from), at(1.0)]);
        }
    }
}

/// Joins pieces that share an end into longer lines.
fn chained(pieces: Vec<[Spot; 2]>) -> Vec<Line> {
    let key = |spot: Spot| spot.map(|x| (x * 100.0).round() as i64);
    let pieces: Vec<_> = pieces
        .into_iter()
        .filter(|[a, b]| key(*a) != key(*b))
        .collect();
    let mut at_end: HashMap<[i64; 2], Vec<usize>> = HashMap::new();
    for (index, [from, to]) in pieces.iter().enumerate() {
        at_end.entry(key(*from)).or_default().push(index);
        at_end.entry(key(*to)).or_default().push(index);
    }
    let mut used = vec![false; pieces.len()];
    let mut lines = Vec::new();
    for start in 0..pieces.len() {
        if used[start] {
            continue;
        }
        used[start] = true;
        let mut points = std::collections::VecDeque::from(pieces[start]);
        for at_back in [true, false] {
            loop {
                let end = if at_back {
                    points[points.len() - 1]
                } else {
                    points[0]
                };
                let next = at_end[&key(end)].iter().find(|index| !used[**index]);
                let Some(&next) = next else { break };
                used[next] = true;
                let [from, to] = pieces[next];
                let other = if key(from) == key(end) { to } else { from };
                if at_back {
                    points.push_back(other);
                } else {
                    points.push_front(other);
                }
            }
        }
        lines.push(straightened(points.into()));
    }
    lines
}

/// The line without points that lie on the straight way between their neighbours.
fn straightened(points: Vec<Spot>) -> Line {
    let mut kept: Vec<Spot> = Vec::with_capacity(points.len());
    for point in points {
        while let [.., before, last] = kept.as_slice() {
            let (a, b) = (way(*before, *last), way(*last, point));
            let turn = a[0] * b[1] - a[1] * b[0];
            let ahead = a[0] * b[0] + a[1] * b[1];
            let size = length(a) * length(b);
            if ahead > 0.0 && turn.abs() < 1e-4 * size {
                kept.pop();
            } else {
                break;
            }
        }
        kept.push(point);
    }
    Line::open(kept)
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
