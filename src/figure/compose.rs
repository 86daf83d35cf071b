//! One drawing of strokes, labels in their places and the directions of the axes.

use super::dimension_line;
use super::labels;
use super::occupied::{Area, OccupiedCells, grown};
use super::settings::FigurePart;
use super::sketch::{Sketch, SketchLabel, Spot, bounds, items, step};
use super::stage::Stage;
use super::triad;
use super::{BORDER, sketched};
use crate::drawing::{Drawing, Item, PathShape, Run};

/// Room above and below the strokes in which labels may stand, points.
const ABOVE: f64 = 40.0;
/// Longest label relative to the width of the figure; what is longer is cut.
const LONGEST: f64 = 0.6;
/// Room for labels that find no place otherwise, points.
const LAST_RESORT: f64 = 400.0;

/// Where drawings are put together.
#[derive(Debug, Clone, Copy)]
pub(super) struct Composer {
    /// Width of the page, points.
    pub width: f64,
    /// Whether labels may stand anywhere.
    pub last_resort: bool,
}

/// A drawing that is not yet cut to a height.
pub(super) struct UncutDrawing {
    pub items: Vec<Item>,
    /// Top and bottom of what it holds.
    pub reach: [f64; 2],
}

/// Everything that a stage shows but labels' places.
pub(super) fn sketch(stage: &Stage, width: f64) -> Sketch {
    let mut sketch = sketched(stage, true);
    dimension_line::free_outside(&mut sketch, width);
    sketch.keep_within([[-width, -2.0 * width], [2.0 * width, 4.0 * width]]);
    for label in &mut sketch.labels {
        labels::cut(label, LONGEST * width);
    }
    sketch
}

/// The least area that the labels of a sketch take on a page of a width, points squared.
pub(super) fn least_area(sketch: &Sketch, width: f64) -> f64 {
    labels::least_area(sketch, LONGEST * width)
}

/// The area of a page of a width with so tall a drawing, without the room of the last resort, points squared.
pub(super) fn page_area(width: f64, tall: f64) -> f64 {
    (width - 2.0 * BORDER) * (tall + 2.0 * ABOVE)
}

impl Composer {
    /// What is left of the page around shapes within bounds.
    pub(crate) fn room<'a>(
        &self,
        around: Area,
        shapes: impl IntoIterator<Item = &'a PathShape>,
    ) -> OccupiedCells {
        let extra = if self.last_resort { LAST_RESORT } else { ABOVE };
        self.room_below(around, extra, shapes)
    }

    /// The same with so much room below them.
    fn room_below<'a>(
        &self,
        [low, high]: Area,
        extra: f64,
        shapes: impl IntoIterator<Item = &'a PathShape>,
    ) -> OccupiedCells {
        let area = [
            [BORDER, low[1] - ABOVE],
            [self.width - BORDER, high[1] + extra],
        ];
        let mut room = OccupiedCells::new(area);
        shapes.into_iter().for_each(|shape| room.take(shape));
        room
    }

    /// The drawing of a sketch with its labels; `None` where they do not fit.
    pub(crate) fn sheet(
        &self,
        stage: &Stage,
        mut sketch: Sketch,
        names: &PlacedNames,
        triad: Spot,
    ) -> Option<UncutDrawing> {
        let around = labels::extent(&sketch).unwrap_or([[0.0, 0.0], [self.width, 0.0]]);
        let extra = match self.last_resort {
            true => LAST_RESORT + labels::stacked_height(&sketch, self.width),
            false => ABOVE,
        };
        let mut room = self.room_below(around, extra, &sketch.shapes);
        if stage.shows(FigurePart::Triad) {
            put_triad(stage, triad, &mut sketch, &mut room);
        }
        let (mut texts, mut taken) = names.kept(&mut sketch, &mut room);
        texts.extend(labels::place(
            stage,
            &sketch,
            &mut room,
            &mut taken,
            self.last_resort,
        )?);
        let mut reach = bounds(&sketch.shapes).map_or([0.0, self.width], |[l, h]| [l[1], h[1]]);
        if let Some([low, high]) = labels::areas_bounds(&taken) {
            reach = [reach[0].min(low[1]), reach[1].max(high[1])];
        }
        if let Some(table) = &sketch.table {
            let leaders = texts.iter().filter_map(|item| match item {
                Item::Shape(shape) => Some(shape),
                Item::Text(_) => None,
            });
            if let Some([_, high]) = bounds(leaders) {
                reach[1] = reach[1].max(high[1]);
            }
            let (more, bottom) = table.items(stage, self.width, reach[1]);
            texts.extend(more);
            reach[1] = bottom;
        }
        // Leaders lie under the texts.
        let (leaders, texts): (Vec<Item>, Vec<Item>) = texts
            .into_iter()
            .partition(|item| matches!(item, Item::Shape(_)));
        let mut items = items(sketch.shapes);
        items.extend(leaders);
        items.extend(texts);
        Some(UncutDrawing { items, reach })
    }
}

/// Names of supports that stand in one place in every drawing.
#[derive(Default)]
pub(super) struct PlacedNames {
    runs: Vec<Vec<Run>>,
    items: Vec<Item>,
    taken: Vec<Area>,
}

impl PlacedNames {
    /// Places the names off everything that any of the sketches shows; `None` where they find no room.
    pub(crate) fn placed(
        stages: &[Stage],
        sketches: &[Sketch],
        mut room: OccupiedCells,
        triad: Spot,
    ) -> Option<Self> {
        let pairs = || stages.iter().zip(sketches);
        let (stage, named) = pairs().find(|(stage, _)| stage.shows(FigurePart::Names))?;
        let mut sketch = Sketch::default();
        put_triad(stage, triad, &mut sketch, &mut room);
        // The letters of the axes stand where they stand: every drawing has its own.
        let mut taken: Vec<Area> = sketch.labels.iter().map(labels::area_on_anchor).collect();
        let letters = taken.len();
        let is_name = |label: &&SketchLabel| label.role == "name";
        sketch.labels = named.labels.iter().filter(is_name).cloned().collect();
        let items = labels::place(stage, &sketch, &mut room, &mut taken, false)?;
        let taken = taken.split_off(letters);
        Some(Self {
            runs: sketch.labels.into_iter().map(|label| label.runs).collect(),
            items,
            taken,
        })
    }

    /// Takes its names off the labels that a sketch still has to place; gives them with the room that they take.
    fn kept(&self, sketch: &mut Sketch, room: &mut OccupiedCells) -> (Vec<Item>, Vec<Area>) {
        let before = sketch.labels.len();
        let is_placed =
            |label: &SketchLabel| label.role == "name" && self.runs.contains(&label.runs);
        sketch.labels.retain(|label| !is_placed(label));
        if sketch.labels.len() == before {
            return (Vec::new(), Vec::new());
        }
        for item in &self.items {
            if let Item::Shape(leader) = item {
                room.take(leader);
            }
        }
        (self.items.clone(), self.taken.clone())
    }
}

/// The corner in which the directions of the axes have room, else a place below.
pub(super) fn corner(stage: &Stage, [low, high]: Area, mut room: OccupiedCells) -> Spot {
    let Some([small, large]) = triad::extent(&triad::draw(stage)) else {
        return low;
    };
    let page = room.area();
    let (left, right) = (page[0][0] + 3.0, page[1][0] - 3.0);
    let corners = [
        [left - small[0], high[1] - large[1]],
        [right - large[0], high[1] - large[1]],
        [left - small[0], low[1] - small[1]],
        [right - large[0], low[1] - small[1]],
    ];
    let below = [left - small[0], high[1] + 4.0 - small[1]];
    room.settle();
    let free = |at: &Spot| {
        let area = [
            [at[0] + small[0], at[1] + small[1]],
            [at[0] + large[0], at[1] + large[1]],
        ];
        room.is_free(grown(area, 2.0))
    };
    corners.into_iter().find(free).unwrap_or(below)
}

/// Draws the directions of the axes at a spot.
pub(super) fn put_triad(stage: &Stage, at: Spot, sketch: &mut Sketch, room: &mut OccupiedCells) {
    let drawn = triad::draw(stage);
    let mut moved = Drawing {
        items: items(drawn.shapes),
        ..Drawing::default()
    };
    labels::shift(&mut moved, at);
    for item in moved.items {
        if let Item::Shape(shape) = item {
            room.take(&shape);
            sketch.shapes.push(shape);
        }
    }
    for mut label in drawn.labels {
        label.anchor = step(label.anchor, at, 1.0);
        sketch.labels.push(label);
    }
}
