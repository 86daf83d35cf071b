//! Body and hardware on the page: fills from back to front, then every line where nothing hides it.

use nalgebra::Point3;

use super::behind::{self, Drawn};
use super::contour::{Loop, Seen};
use super::hidden::Screen;
use super::progress::{Count, DrawingPhase};
use super::settings::FigurePart;
use super::sketch::Sketch;
use super::stage::Stage;
use super::stretch::{Stretch, chained};
use crate::drawing::Polyline;
use crate::portrayal::HardwareShape;
use crate::portrayal::hardware_mesh::Detail;
use crate::portrayal::mesh::Mesh;
use crate::scene::solid::Edge;
use crate::statics::SupportIndex;

/// Hardware as it is seen, or as a rough measure of the room that it takes.
struct SeenPiece {
    /// Index of the support that it belongs to.
    support: SupportIndex,
    seen: Seen,
    /// Whether it stands in front of the body.
    in_front: bool,
    /// Whether it has no tint.
    bare: bool,
}

/// Draws the body and, in space, its supports. Without `hides`, every line is drawn whole: to measure their extent.
pub(super) fn draw(stage: &Stage, hides: bool, sketch: &mut Sketch) {
    let (pieces, cables) = if stage.shows(FigurePart::Supports) && !stage.is_planar() {
        pieces(stage)
    } else {
        (Vec::new(), Vec::new())
    };
    let shows_body = stage.shows(FigurePart::Body);
    let fill = |pieces: &mut dyn Iterator<Item = &SeenPiece>, sketch: &mut Sketch| {
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
    let of_pieces = pieces
        .iter()
        .map(|piece| piece.seen.lines.len() + piece.seen.hatches.len());
    let of_body = body.iter().map(|seen| seen.lines.len());
    let watch = stage.watch.filter(|_| hides);
    let count = Count::new(
        watch,
        DrawingPhase::Lines,
        of_pieces.chain(of_body).sum::<usize>() + cables.len(),
    );
    let split = |lines: &mut dyn Iterator<Item = Edge>| {
        let mut parts = LineParts::default();
        for line in lines {
            parts.add(stage, &line, screen.as_ref());
            count.step();
        }
        parts
    };
    let hatches = pieces.iter().flat_map(|piece| &piece.seen.hatches);
    let hatches = split(&mut hatches.map(|ends| Edge::straight(*ends)));
    sketch.lines("ground", chained(hatches.seen), stage.pens.hatch);
    let edges = split(&mut body.iter().flat_map(|seen| seen.lines.iter().copied()));
    if stage.shows(FigurePart::Hidden) {
        sketch.lines("hidden", chained(edges.hidden), stage.pens.hidden);
    }
    sketch.lines("ghost", stage.ghost.clone(), stage.pens.ghost);
    sketch.lines("body", chained(edges.seen), stage.pens.edge);
    let shown = |support, line| {
        let line: &Edge = line;
        count.step();
        let parts = screen
            .as_ref()
            .map_or_else(|| vec![[0.0, 1.0]], |screen| screen.seen(&line.ends));
        Drawn {
            support,
            line,
            parts,
        }
    };
    let rods = pieces
        .iter()
        .flat_map(|piece| piece.seen.lines.iter().map(|line| (piece.support, line)));
    let rods: Vec<Drawn> = rods.map(|(support, line)| shown(support, line)).collect();
    let ropes: Vec<Drawn> = cables
        .iter()
        .map(|(support, line)| shown(*support, line))
        .collect();
    for (lines, pen) in [(&rods, stage.pens.support), (&ropes, stage.pens.cable)] {
        let parts = lines
            .iter()
            .flat_map(|shown| shown.on_page(stage, &shown.parts));
        sketch.lines("support", chained(parts.collect()), pen);
    }
    if hides && stage.shows(FigurePart::Behind) {
        let facing = || {
            pieces
                .iter()
                .flat_map(|piece| piece.seen.facing.clone())
                .collect()
        };
        let mut lines: Vec<Drawn> = rods.into_iter().chain(ropes).collect();
        lines.sort_by_key(|shown| shown.support);
        let lines = behind::lines(stage, &lines, facing);
        sketch.lines("behind", chained(lines), stage.pens.hidden);
    }
}

/// The edges of the body that it does not hide itself, on the page.
pub(super) fn outline(stage: &Stage) -> Vec<Polyline> {
    let facing = stage.body.iter().flat_map(|seen| seen.facing.clone());
    let screen = Screen::new(facing.collect());
    let mut parts = LineParts::default();
    for line in stage.body.iter().flat_map(|seen| &seen.lines) {
        parts.add(stage, line, Some(&screen));
    }
    chained(parts.seen)
}

/// Index of a support, and one of its cables.
type Cable = (SupportIndex, Edge);

fn pieces(stage: &Stage) -> (Vec<SeenPiece>, Vec<Cable>) {
    let body = stage.body.iter().flat_map(|seen| seen.facing.clone());
    let body = Screen::new(body.collect());
    let (mut pieces, mut cables) = (Vec::new(), Vec::new());
    for part in stage.with_layout(|layout| layout.solids()) {
        let (support, carried) = (part.support, part.carrier.carried(&stage.pose));
        if let HardwareShape::Cord { ends } = part.shape {
            let project = |end: Point3<f64>| stage.view.project(&carried.point(&end));
            cables.push((support, Edge::straight(ends.map(project))));
        }
        for (_, mesh) in part.shape.meshes(Detail::Paper) {
            let mesh = mesh.carried(&carried);
            pieces.push(SeenPiece {
                support,
                seen: Seen::new(&mesh, &stage.view),
                bare: mesh.bare,
                in_front: stands_in_front(stage, &body, &mesh),
            });
        }
    }
    (pieces, cables)
}

/// Whether the body hides nearly nothing of a piece: else its tint would lie over the body where its lines are hidden.
fn stands_in_front(stage: &Stage, body: &Screen, mesh: &Mesh) -> bool {
    const LOOKS: usize = 12;
    const SEEN: f64 = 0.85;
    let every = mesh.positions.len().div_ceil(LOOKS).max(1);
    let looked: Vec<bool> = (mesh.positions.iter().step_by(every))
        .map(|point| {
            let at = stage.view.project(point);
            !body.seen(&[at, at]).is_empty()
        })
        .collect();
    let seen = looked.iter().filter(|seen| **seen).count();
    seen as f64 >= SEEN * looked.len() as f64
}

fn area(stage: &Stage, seen: &Seen) -> Vec<Polyline> {
    let to_page = |[x, y]: [f64; 2]| stage.on_page(&Point3::new(x, y, 0.0));
    let line = |border: &Loop| Polyline {
        points: border.points.iter().map(|point| to_page(*point)).collect(),
        bends: border
            .bends
            .iter()
            .map(|bend| bend.map(|bend| bend.map(to_page)))
            .collect(),
        closed: true,
    };
    seen.area.iter().map(line).collect()
}

/// Parts of lines on the page.
#[derive(Default)]
struct LineParts {
    seen: Vec<Stretch>,
    hidden: Vec<Stretch>,
}

impl LineParts {
    fn add(&mut self, stage: &Stage, line: &Edge, screen: Option<&Screen>) {
        let seen = screen.map_or_else(|| vec![[0.0, 1.0]], |screen| screen.seen(&line.ends));
        let whole = Stretch::of(stage, line);
        let mut from = 0.0;
        for [start, end] in &seen {
            if *start > from {
                self.hidden.push(whole.part([from, *start]));
            }
            self.seen.push(whole.part([*start, *end]));
            from = *end;
        }
        if from < 1.0 {
            self.hidden.push(whole.part([from, 1.0]));
        }
    }
}
