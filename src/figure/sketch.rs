//! What is drawn so far: shapes in painting order and the labels that still want a place.

use super::pens::Letters;
use crate::drawing::{Item, PathOutline, PathShape, Polyline, Run, Stroke};
pub(super) use crate::portrayal::label_places::Spot;
use crate::theme::Colour;
use crate::wording::Phrase;

/// Shapes and labels under construction.
#[derive(Debug, Clone, Default)]
pub(super) struct Sketch {
    pub shapes: Vec<PathShape>,
    pub labels: Vec<SketchLabel>,
    /// What stands below everything.
    pub table: Option<PointTable>,
}

/// What stands below a figure: points with their coordinates, and notes.
#[derive(Debug, Clone, Default)]
pub(super) struct PointTable {
    /// Heads of the columns, the first of which is that of the names.
    pub heads: Vec<Vec<Run>>,
    pub rows: Vec<Vec<Vec<Run>>>,
    /// Below the rows, each in as many lines as it takes.
    pub notes: Vec<Phrase>,
}

/// A text that wants a place near what it names.
#[derive(Debug, Clone)]
pub(super) struct SketchLabel {
    /// Class in SVG.
    pub role: &'static str,
    /// What it names.
    pub anchor: Spot,
    /// Direction in which it should stand; zero for any.
    pub prefer: Spot,
    /// Whether its middle stands right on its point, where it has room of its own: letters of the axes' directions, and
    /// values of dimensions beside their lines.
    pub is_fixed: bool,
    /// The text.
    pub runs: Vec<Run>,
    pub letters: Letters,
    pub colour: Colour,
    /// Lower chooses first.
    pub rank: u8,
}

impl Sketch {
    /// Drops what lies so far out that it cannot belong on the page: numbers of a degenerate scene.
    pub(crate) fn keep_within(&mut self, [low, high]: [Spot; 2]) {
        let inside = |spot: &Spot| (0..2).all(|k| low[k] <= spot[k] && spot[k] <= high[k]);
        self.labels.retain(|label| inside(&label.anchor));
        self.shapes.retain(|shape| match &shape.outline {
            PathOutline::Circle { centre, .. } => inside(centre),
            PathOutline::Lines(lines) => lines.iter().flat_map(|line| &line.points).all(inside),
        });
    }

    /// Adds lines.
    pub(crate) fn lines(&mut self, role: &'static str, lines: Vec<Polyline>, stroke: Stroke) {
        let lines: Vec<Polyline> = lines.into_iter().filter(is_drawable).collect();
        if !lines.is_empty() {
            self.shapes.push(PathShape {
                role,
                outline: PathOutline::Lines(lines),
                stroke: Some(stroke),
                fill: None,
            });
        }
    }

    /// Adds one line through points.
    pub(crate) fn line(
        &mut self,
        role: &'static str,
        points: impl Into<Vec<Spot>>,
        stroke: Stroke,
    ) {
        self.lines(role, vec![Polyline::open(points)], stroke);
    }

    /// Adds a closed shape.
    pub(crate) fn filled(
        &mut self,
        role: &'static str,
        lines: Vec<Polyline>,
        stroke: Option<Stroke>,
        fill: Colour,
    ) {
        let lines: Vec<Polyline> = lines.into_iter().filter(is_drawable).collect();
        if !lines.is_empty() {
            self.shapes.push(PathShape {
                role,
                outline: PathOutline::Lines(lines),
                stroke,
                fill: Some(fill),
            });
        }
    }

    /// Adds a circle.
    pub(crate) fn circle(
        &mut self,
        role: &'static str,
        centre: Spot,
        radius: f64,
        stroke: Option<Stroke>,
        fill: Option<Colour>,
    ) {
        if !centre.iter().all(|x| x.is_finite()) {
            return;
        }
        self.shapes.push(PathShape {
            role,
            outline: PathOutline::Circle { centre, radius },
            stroke,
            fill,
        });
    }
}

/// Whether a line has a length that can be written.
fn is_drawable(line: &Polyline) -> bool {
    let finite = |point: &Spot| point.iter().all(|x| x.is_finite());
    line.points.len() > 1 && line.points.iter().all(finite)
}

/// Lowest and highest coordinates of all that is stroked or filled, half the strokes' width included; `None` for nothing.
pub(super) fn bounds<'a>(shapes: impl IntoIterator<Item = &'a PathShape>) -> Option<[Spot; 2]> {
    let mut all: Option<[Spot; 2]> = None;
    let mut take = |[x, y]: Spot, around: f64| {
        let [low, high] = all.get_or_insert([[x, y], [x, y]]);
        *low = [low[0].min(x - around), low[1].min(y - around)];
        *high = [high[0].max(x + around), high[1].max(y + around)];
    };
    for shape in shapes {
        let half = shape.stroke.map_or(0.0, |stroke| stroke.width / 2.0);
        match &shape.outline {
            PathOutline::Circle { centre, radius } => take(*centre, radius + half),
            PathOutline::Lines(lines) => {
                let points = lines.iter().flat_map(|line| &line.points);
                points.for_each(|point| take(*point, half));
            }
        }
    }
    all
}

/// Shapes as items of a drawing.
pub(super) fn items(shapes: Vec<PathShape>) -> Vec<Item> {
    shapes.into_iter().map(Item::Shape).collect()
}

/// `a + b·t`.
pub(super) fn step(a: Spot, b: Spot, t: f64) -> Spot {
    [a[0] + b[0] * t, a[1] + b[1] * t]
}

/// Vector from one spot to another.
pub(super) fn way(from: Spot, to: Spot) -> Spot {
    [to[0] - from[0], to[1] - from[1]]
}

/// Length of a vector.
pub(super) fn length([x, y]: Spot) -> f64 {
    x.hypot(y)
}

/// The vector at length 1; zero stays zero.
pub(super) fn unit(vector: Spot) -> Spot {
    let size = length(vector);
    if size > 1e-9 {
        [vector[0] / size, vector[1] / size]
    } else {
        [0.0, 0.0]
    }
}

/// The vector turned by a quarter.
pub(super) fn turned([x, y]: Spot) -> Spot {
    [y, -x]
}
