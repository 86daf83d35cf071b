//! What a page holds: shapes and texts in the order in which they are painted.

use super::font::{self, Weight};
use super::typeset;
use crate::theme::Colour;

/// A drawing with its own size, ready to be written as SVG, PDF or PNG, or placed on a larger one.
#[derive(Debug, Clone, PartialEq, Default)]
#[must_use]
pub struct Drawing {
    /// Width in points.
    pub width: f64,
    /// Height in points.
    pub height: f64,
    /// What it shows in a few words, for readers who cannot see it and as the title of a file.
    pub title: String,
    /// The same in sentences; empty for none.
    pub description: String,
    /// Shapes and texts, the first at the bottom.
    pub items: Vec<Item>,
}

/// Something painted.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Lines or a circle.
    Shape(PathShape),
    /// A line of text.
    Text(Text),
}

/// Lines or a circle, stroked, filled or both.
#[derive(Debug, Clone, PartialEq)]
pub struct PathShape {
    /// What it stands for; the class in SVG.
    pub role: &'static str,
    /// Where it runs.
    pub outline: PathOutline,
    /// How it is stroked.
    pub stroke: Option<Stroke>,
    /// Colour that fills it, by the non-zero rule.
    pub fill: Option<Colour>,
}

/// Where a shape runs, in points.
#[derive(Debug, Clone, PartialEq)]
pub enum PathOutline {
    /// Straight pieces.
    Lines(Vec<Polyline>),
    /// A circle.
    Circle {
        /// Its centre.
        centre: [f64; 2],
        /// Its radius.
        radius: f64,
    },
}

/// A line through points.
#[derive(Debug, Clone, PartialEq)]
pub struct Polyline {
    /// The points in order.
    pub points: Vec<[f64; 2]>,
    /// Control points of the cubic curve from each point to the next, `None` where the line is straight; empty where all
    /// of it is.
    pub bends: Vec<Option<[[f64; 2]; 2]>>,
    /// Whether it leads back to its first point.
    pub closed: bool,
}

/// How a line is drawn; ends and corners are round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Width in points.
    pub width: f64,
    /// Colour.
    pub colour: Colour,
    /// Lengths of dashes and gaps in turn, points; none for a whole line.
    pub dash: &'static [f64],
}

/// One line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What it stands for; the class in SVG.
    pub role: &'static str,
    /// Left end of the base line.
    pub at: [f64; 2],
    /// The text, by runs.
    pub runs: Vec<Run>,
    /// Size of the letters in points.
    pub size: f64,
    /// Weight of the letters.
    pub weight: Weight,
    /// Colour.
    pub colour: Colour,
}

/// A part of a text on the base line, below or above it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// The letters.
    pub text: String,
    /// Where they stand.
    pub level: Script,
    /// Whether they slant, as symbols of quantities do.
    pub is_italic: bool,
}

/// How far italic letters lean to the right for each step up: upright ones slanted by 12°, since the embedded family is
/// here in its upright faces only.
pub(super) const SLANT: f64 = 0.2126;

/// Where a run stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Script {
    /// On the base line.
    #[default]
    Line,
    /// Small and below: a subscript.
    Below,
    /// Small and above: an exponent.
    Above,
}

/// Size of subscripts and exponents relative to the text that they belong to.
const SMALL: f64 = 0.72;
/// How far subscripts stand below and exponents above the base line, relative to the size of the text.
const DROP: f64 = 0.22;
const RISE: f64 = 0.36;

impl Run {
    /// A plain run.
    pub fn plain(text: impl Into<String>) -> Vec<Self> {
        vec![Self {
            text: text.into(),
            level: Script::Line,
            is_italic: false,
        }]
    }

    /// A symbol without subscript.
    pub fn italic(text: impl Into<String>) -> Vec<Self> {
        vec![Self {
            text: text.into(),
            level: Script::Line,
            is_italic: true,
        }]
    }

    /// Size of its letters in a text of a size.
    pub(super) fn size(&self, of_text: f64) -> f64 {
        match self.level {
            Script::Line => of_text,
            Script::Below | Script::Above => of_text * SMALL,
        }
    }

    /// How far its base line lies below that of the text.
    pub(super) fn drop(&self, of_text: f64) -> f64 {
        match self.level {
            Script::Line => 0.0,
            Script::Below => of_text * DROP,
            Script::Above => -of_text * RISE,
        }
    }
}

impl Text {
    /// Width in points.
    pub fn width(&self) -> f64 {
        width(&self.runs, self.size, self.weight)
    }

    /// The rectangle that it takes, lowest and highest coordinates: from the top of its capitals to the bottom of its
    /// subscripts or of letters such as `g`, where it has any.
    pub fn area(&self) -> [[f64; 2]; 2] {
        let [x, y] = self.at;
        let top = y - reach_above(&self.runs, self.weight) * self.size;
        let bottom = y + reach_below(&self.runs, self.weight) * self.size;
        [[x, top], [x + self.width(), bottom]]
    }

    /// Each run with the left end of its own base line.
    pub(super) fn placed(&self) -> impl Iterator<Item = (&Run, [f64; 2])> {
        let mut x = self.at[0];
        self.runs.iter().map(move |run| {
            let at = [x, self.at[1] + run.drop(self.size)];
            x += typeset::advance(&run.text, self.weight) * run.size(self.size);
            (run, at)
        })
    }
}

/// How far runs reach above their base line, at size 1: the height of capitals, or of those of an exponent.
pub fn reach_above(runs: &[Run], weight: Weight) -> f64 {
    let [_, foreign] = foreign_reach(runs, weight);
    let capitals = font::capital_height(weight).max(foreign);
    if runs.iter().any(|run| run.level == Script::Above) {
        RISE + SMALL * capitals
    } else {
        capitals
    }
}

/// How far runs reach below their base line, at size 1.
pub fn reach_below(runs: &[Run], weight: Weight) -> f64 {
    let letters = runs.iter().flat_map(|run| run.text.chars());
    let mut letters = letters.filter(|letter| weight.glyph(*letter).is_some());
    let [foreign, _] = foreign_reach(runs, weight);
    let own = if runs.iter().any(|run| run.level == Script::Below) {
        DROP + SMALL * 0.12
    } else if letters.any(|c| {
        !c.is_ascii_alphanumeric() && !" .·=+\u{2212}×°²³".contains(c) || "gjpqyQ".contains(c)
    }) {
        font::descent(weight)
    } else {
        0.03
    };
    own.max(foreign)
}

/// How far letters that the embedded font lacks reach below and above the base line, at size 1.
fn foreign_reach(runs: &[Run], weight: Weight) -> [f64; 2] {
    let reaches = runs
        .iter()
        .map(|run| typeset::foreign_reach(&run.text, weight));
    reaches.fold([0.0; 2], |[below, above], [down, up]| {
        [below.max(down), above.max(up)]
    })
}

/// Width of runs in points.
pub fn width(runs: &[Run], size: f64, weight: Weight) -> f64 {
    let widths = runs
        .iter()
        .map(|run| typeset::advance(&run.text, weight) * run.size(size));
    widths.sum()
}

impl Polyline {
    /// A line from point to point.
    pub fn open(points: impl Into<Vec<[f64; 2]>>) -> Self {
        Self {
            points: points.into(),
            bends: Vec::new(),
            closed: false,
        }
    }

    /// A line that leads back to its first point.
    pub fn closed(points: impl Into<Vec<[f64; 2]>>) -> Self {
        Self {
            points: points.into(),
            bends: Vec::new(),
            closed: true,
        }
    }

    /// A smooth line through points: its tangent at each is along the chord of its neighbours.
    pub fn smooth(points: impl Into<Vec<[f64; 2]>>) -> Self {
        let line = Self::open(points);
        Self {
            bends: smooth_bends(&line.points),
            ..line
        }
    }

    /// What leads from point to point after the first, back to that of a closed line included.
    pub fn steps(&self) -> impl Iterator<Item = PathStep> + '_ {
        let last = self.points.len().saturating_sub(1);
        let bend = |i: usize| self.bends.get(i).copied().flatten();
        let steps = (0..last).map(move |i| (i, self.points[i + 1]));
        let back = (self.closed && bend(last).is_some()).then(|| (last, self.points[0]));
        steps.chain(back).map(move |(i, to)| match bend(i) {
            Some([c, d]) => PathStep::Curve(c, d, to),
            None => PathStep::Straight(to),
        })
    }

    /// Changes every point, control points included.
    pub fn move_points(&mut self, to: impl Fn([f64; 2]) -> [f64; 2]) {
        let bends = self.bends.iter_mut().flatten().flatten();
        for point in self.points.iter_mut().chain(bends) {
            *point = to(*point);
        }
    }

    /// The straight ways from point to point: chords of what is curved.
    pub fn pieces(&self) -> impl Iterator<Item = [[f64; 2]; 2]> + '_ {
        let back = (self.closed && self.points.len() > 2)
            .then(|| [self.points[self.points.len() - 1], self.points[0]]);
        let pairs = self.points.windows(2).map(|pair| [pair[0], pair[1]]);
        pairs.chain(back)
    }
}

/// A step of a line to its next point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PathStep {
    /// Straight to a point.
    Straight([f64; 2]),
    /// Along the cubic curve with two control points to a third point.
    Curve([f64; 2], [f64; 2], [f64; 2]),
}

/// Control points between points of a smooth line: none for a straight one.
fn smooth_bends(points: &[[f64; 2]]) -> Vec<Option<[[f64; 2]; 2]>> {
    let count = points.len();
    if count < 3 {
        return Vec::new();
    }
    let unit = |from: [f64; 2], to: [f64; 2]| {
        let way = [to[0] - from[0], to[1] - from[1]];
        let size = way[0].hypot(way[1]).max(f64::MIN_POSITIVE);
        way.map(|x| x / size)
    };
    let mut tangents: Vec<[f64; 2]> = (0..count)
        .map(|i| unit(points[i.saturating_sub(1)], points[(i + 1).min(count - 1)]))
        .collect();
    // At its ends the line bends as it does beside them.
    for (end, inner) in [(0, 1), (count - 1, count - 2)] {
        let (chord, tangent) = (tangents[end], tangents[inner]);
        let along = chord[0] * tangent[0] + chord[1] * tangent[1];
        tangents[end] = [0, 1].map(|k| 2.0 * along * chord[k] - tangent[k]);
    }
    let bend = |i: usize| {
        let (from, to) = (points[i], points[i + 1]);
        let third = (to[0] - from[0]).hypot(to[1] - from[1]) / 3.0;
        let control =
            |at: [f64; 2], tangent: [f64; 2], by: f64| [0, 1].map(|k| at[k] + tangent[k] * by);
        Some([
            control(from, tangents[i], third),
            control(to, tangents[i + 1], -third),
        ])
    };
    (0..count - 1).map(bend).collect()
}

impl Drawing {
    /// Paints another drawing over this one, its upper left corner at a point, larger or smaller by a factor.
    pub fn place(&mut self, other: &Self, at: [f64; 2], scale: f64) {
        let moved = |[x, y]: [f64; 2]| [at[0] + x * scale, at[1] + y * scale];
        for item in &other.items {
            let mut item = item.clone();
            match &mut item {
                Item::Text(text) => {
                    text.at = moved(text.at);
                    text.size *= scale;
                }
                Item::Shape(shape) => {
                    if let Some(stroke) = &mut shape.stroke {
                        stroke.width *= scale;
                    }
                    match &mut shape.outline {
                        PathOutline::Circle { centre, radius } => {
                            *centre = moved(*centre);
                            *radius *= scale;
                        }
                        PathOutline::Lines(lines) => {
                            lines.iter_mut().for_each(|line| line.move_points(moved));
                        }
                    }
                }
            }
            self.items.push(item);
        }
    }

    /// Every text.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.items.iter().filter_map(|item| match item {
            Item::Text(text) => Some(text),
            Item::Shape(_) => None,
        })
    }

    /// Every shape.
    pub fn shapes(&self) -> impl Iterator<Item = &PathShape> {
        self.items.iter().filter_map(|item| match item {
            Item::Shape(shape) => Some(shape),
            Item::Text(_) => None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn placing_moves_and_scales() {
        let mut page = Drawing::default();
        let dot = Drawing {
            items: vec![Item::Shape(PathShape {
                role: "dot",
                outline: PathOutline::Circle {
                    centre: [1.0, 2.0],
                    radius: 3.0,
                },
                stroke: None,
                fill: None,
            })],
            ..Drawing::default()
        };
        page.place(&dot, [10.0, 20.0], 2.0);
        let expected = PathOutline::Circle {
            centre: [12.0, 24.0],
            radius: 6.0,
        };
        assert_eq!(page.shapes().next().unwrap().outline, expected);
    }

    /// The middle of a cubic curve.
    fn middle(a: [f64; 2], [c, d]: [[f64; 2]; 2], b: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|k| (a[k] + 3.0 * c[k] + 3.0 * d[k] + b[k]) / 8.0)
    }

    #[test]
    fn a_smooth_line_through_points_of_a_circle_is_that_circle() {
        let at = |i: u32| {
            let (sin, cos) = (0.15 * f64::from(i)).sin_cos();
            [cos, sin]
        };
        let line = Polyline::smooth((0..9).map(at).collect::<Vec<_>>());
        assert_eq!(line.bends.len(), 8);
        for (ends, bend) in line.points.windows(2).zip(&line.bends) {
            let [x, y] = middle(ends[0], bend.unwrap(), ends[1]);
            assert!((x.hypot(y) - 1.0).abs() < 1e-5, "{}", x.hypot(y));
        }
        assert!(Polyline::smooth([[0.0, 0.0], [1.0, 2.0]]).bends.is_empty());
    }
}
