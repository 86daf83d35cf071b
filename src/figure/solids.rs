//! Body and hardware on the page: fills from back to front, then every line where nothing hides it.

use std::collections::HashMap;

use nalgebra::Point3;

use super::behind::{self, Shown};
use super::contour::Seen;
use super::hidden::Screen;
use super::mesh::Mesh;
use super::settings::Part;
use super::sketch::{Sketch, Spot, length, way};
use super::stage::Stage;
use crate::page::Line;
use crate::portrayal::Shape;

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
    sketch.lines("ghost", stage.ghost.clone(), stage.pens.ghost);
    sketch.lines("body", chained(edges.seen), stage.pens.edge);
    let shown = |support, line| {
        let parts = screen
            .as_ref()
            .map_or_else(|| vec![[0.0, 1.0]], |screen| screen.seen(line));
        Shown {
            support,
            line,
            parts,
        }
    };
    let rods = pieces
        .iter()
        .flat_map(|piece| piece.seen.lines.iter().map(|line| (piece.support, line)));
    let rods: Vec<Shown> = rods.map(|(support, line)| shown(support, line)).collect();
    let ropes: Vec<Shown> = cables
        .iter()
        .map(|(support, line)| shown(*support, line))
        .collect();
    for (lines, pen) in [(&rods, stage.pens.support), (&ropes, stage.pens.cable)] {
        let parts = lines
            .iter()
            .flat_map(|shown| shown.on_page(stage, &shown.parts));
        sketch.lines("support", chained(parts.collect()), pen);
    }
    if hides && stage.shows(Part::Behind) {
        let facing = || {
            pieces
                .iter()
                .flat_map(|piece| piece.seen.facing.clone())
                .collect()
        };
        let mut lines: Vec<Shown> = rods.into_iter().chain(ropes).collect();
        lines.sort_by_key(|shown| shown.support);
        let lines = behind::lines(stage, &lines, facing);
        sketch.lines("behind", chained(lines), stage.pens.hidden);
    }
}

/// The edges of the body that it does not hide itself, on the page.
pub(super) fn outline(stage: &Stage) -> Vec<Line> {
    let facing = stage.body.iter().flat_map(|seen| seen.facing.clone());
    let screen = Screen::new(facing.collect());
    let mut parts = Parts::default();
    for line in stage.body.iter().flat_map(|seen| &seen.lines) {
        parts.add(stage, line, Some(&screen));
    }
    chained(parts.seen)
}

/// Index of a support, and one of its cables.
type Cable = (usize, [Point3<f64>; 2]);

fn pieces(stage: &Stage) -> (Vec<Piece>, Vec<Cable>) {
    let body = stage.body.iter().flat_map(|seen| seen.facing.clone());
    let body = Screen::new(body.collect());
    let (mut pieces, mut cables) = (Vec::new(), Vec::new());
    for part in stage.with_layout(|layout| layout.solids()) {
        let (support, carried) = (part.support, part.carrier.carried(&stage.pose));
        if let Shape::Cord { ends } = part.shape {
            let project = |end: Point3<f64>| stage.view.project(&carried.point(&end));
            cables.push((support, ends.map(project)));
        } else if let Some(mesh) = Mesh::of_shape(&part.shape) {
            let mesh = mesh.carried(&carried);
            let count = mesh.positions.len().max(1) as f64;
            let sum: nalgebra::Vector3<f64> = mesh.positions.iter().map(|p| p.coords).sum();
            let middle = stage.view.project(&Point3::from(sum / count));
            pieces.push(Piece {
                support,
                seen: Seen::new(&mesh, &stage.view),
                bare: mesh.bare,
                in_front: !body.seen(&[middle, middle]).is_empty(),
            });
        }
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
