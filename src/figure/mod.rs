//! Figures for paper: a scene and its diagnosis as a drawing of strokes and letters, for slides, handouts and exams.
//!
//! Body and supports are drawn true to the view with hidden lines removed; loads, reactions, the shared axis and the free
//! motion are strokes on top; labels find their places last. Mechanics comes from the diagnosis alone.

mod arrows;
mod axis;
mod contour;
pub mod deck;
mod dimensions;
mod film;
mod hardware;
mod hidden;
mod labels;
mod loads;
mod mesh;
mod moving;
mod pens;
mod reactions;
mod room;
mod seams;
mod settings;
mod sketch;
mod solids;
mod stage;
mod view;

pub use film::Film;
pub use settings::{COLUMN_MM, FigureSettings, Look, Part, Projection, WIDTHS_MM};

use nalgebra::Isometry3;

use crate::motion::Mobilities;
use crate::page::{Drawing, Item, POINTS_PER_MM, Run};
use crate::scene::Scene;
use crate::statics::{Diagnosis, Model};
use pens::NAME;
use room::{Area, Room};
use sketch::{Label, Sketch, bounds, items};
use stage::Stage;

/// What a figure is made of.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The scene as written.
    pub scene: &'a Scene,
    /// Its model.
    pub model: &'a Model,
    /// Everything known of the model.
    pub diagnosis: &'a Diagnosis,
    /// How far its free motions truly go.
    pub mobilities: &'a Mobilities,
}

/// Room at the sides that is left for labels, points.
const SIDE: f64 = 14.0;
/// Between everything and the border of the figure, points.
const BORDER: f64 = 2.0;
/// Room above and below the strokes in which labels may stand, points.
const ABOVE: f64 = 40.0;
/// Longest label relative to the width of the figure; what is longer is cut.
const LONGEST: f64 = 0.6;
/// Room for labels that find no place otherwise, points.
const LAST_RESORT: f64 = 400.0;
/// Greatest height of body, supports and arrows, relative to the width of the figure.
const TALLEST: f64 = 1.15;
/// How much smaller the figure is drawn each time that labels do not fit.
const SHRINK: f64 = 0.88;
/// How often it is drawn smaller before labels may stand anywhere.
const SHRINKS: u32 = 3;

/// The figure of a scene.
///
/// Its width is that of the settings; its height follows from what is drawn. The same input gives the same drawing.
pub fn draw(subject: &Subject, settings: &FigureSettings) -> Drawing {
    let mut stage = Stage::new(subject, settings, Isometry3::identity());
    let page = settings.width_mm * POINTS_PER_MM;
    let mut smaller = 1.0;
    for attempt in 0..=SHRINKS {
        fit(&mut stage, page, smaller);
        if let Some(drawing) = compose(&stage, page, attempt == SHRINKS) {
            return drawing;
        }
        smaller *= SHRINK;
    }
    // The last attempt has room for every label.
    Drawing {
        width: page,
        height: page,
        title: subject.model.title.clone(),
        items: Vec::new(),
    }
}

/// Everything but labels' places.
fn sketched(stage: &Stage, hides: bool) -> Sketch {
    let mut sketch = Sketch::default();
    solids::draw(stage, hides, &mut sketch);
    if stage.shows(Part::Axis) {
        axis::draw(stage, &mut sketch);
    }
    let supports = &stage.subject.model.supports;
    if stage.shows(Part::Supports) && stage.is_planar() {
        for support in supports {
            hardware::draw_in_plane(stage, support, &mut sketch);
        }
    }
    if stage.shows(Part::Motion) {
        moving::draw(stage, &mut sketch);
    }
    if stage.shows(Part::Loads) {
        loads::draw(stage, &mut sketch);
    }
    if stage.shows(Part::Reactions) {
        reactions::draw(stage, &mut sketch);
    }
    for support in supports {
        let spot = stage.at(&(stage.pose * support.point));
        if stage.shows(Part::Names) {
            if !stage.is_planar() || !stage.shows(Part::Supports) {
                sketch.circle("support", spot, 1.2, None, Some(stage.pens.ink));
            }
            sketch.labels.push(Label {
                role: "name",
                anchor: spot,
                prefer: [0.0, 0.0],
                runs: Run::plain(support.name.as_str()),
                letters: NAME,
                colour: stage.pens.ink,
                rank: 0,
            });
        }
    }
    if stage.shows(Part::Coordinates) {
        dimensions::coordinates(stage, &mut sketch);
    }
    if stage.shows(Part::Dimensions) {
        dimensions::draw(stage, &mut sketch);
    }
    sketch
}

/// Finds the scale at which everything but labels fills the width, or the greatest height.
fn fit(stage: &mut Stage, page: f64, smaller: f64) {
    let size = (stage.bounds[1] - stage.bounds[0]).norm().max(1e-9);
    let wanted = [page - 2.0 * SIDE, page * TALLEST].map(|side| side * smaller);
    // Arrows and hardware keep their size, so that the extent is nearly linear in the scale.
    let excess = |stage: &mut Stage, scale: f64| -> f64 {
        stage.scale = scale;
        stage.origin = [0.0, 0.0];
        bounds(&sketched(stage, false).shapes).map_or(0.0, |[low, high]| {
            let fill = |k: usize| (high[k] - low[k]) / wanted[k];
            fill(0).max(fill(1))
        })
    };
    let mut first = 0.35 * wanted[0] / size;
    let mut at_first = excess(stage, first);
    let mut scale = 0.7 * wanted[0] / size;
    for _ in 0..3 {
        let at = excess(stage, scale);
        let slope = (at - at_first) / (scale - first);
        if !slope.is_finite() || slope <= 0.0 || (at - 1.0).abs() < 2e-3 {
            break;
        }
        (first, at_first) = (scale, at);
        let least = 0.12 * wanted[0] / size;
        scale = (scale + (1.0 - at) / slope).clamp(least, 40.0 * least);
    }
    stage.scale = scale;
    let spread = bounds(&sketched(stage, false).shapes);
    if let Some([low, high]) = spread {
        stage.origin = [(page - low[0] - high[0]) / 2.0, -low[1]];
    }
}

/// The drawing with its labels; `None` where they do not fit, which does not occur with the last resort.
fn compose(stage: &Stage, page: f64, last_resort: bool) -> Option<Drawing> {
    let mut sketch = sketched(stage, true);
    sketch.keep_within([[-page, -2.0 * page], [2.0 * page, 4.0 * page]]);
    for label in &mut sketch.labels {
        labels::cut(label, LONGEST * page);
    }
    let [low, high] = bounds(&sketch.shapes).unwrap_or([[0.0, 0.0], [page, 0.0]]);
    let extra = if last_resort { LAST_RESORT } else { ABOVE };
    let area = [[BORDER, low[1] - ABOVE], [page - BORDER, high[1] + extra]];
    let mut room = Room::new(area);
    sketch.shapes.iter().for_each(|shape| room.take(shape));
    let mut taken: Vec<Area> = Vec::new();
    if stage.shows(Part::Triad) {
        place_triad(stage, [low, high], &mut sketch, &mut room);
    }
    let placed = labels::place(stage, &sketch, &mut room, &mut taken, last_resort);
    let texts = placed.ok()?;
    let [mut top, mut bottom] = bounds(&sketch.shapes).map_or([0.0, page], |[l, h]| [l[1], h[1]]);
    if let Some([low, high]) = labels::areas_bounds(&taken) {
        (top, bottom) = (top.min(low[1]), bottom.max(high[1]));
    }
    let mut drawing = Drawing {
        width: page,
        height: ((bottom - top + 2.0 * BORDER) * 100.0).round() / 100.0,
        title: stage.subject.model.title.clone(),
        items: items(sketch.shapes),
    };
    // Leaders lie under the texts.
    let (leaders, texts): (Vec<Item>, Vec<Item>) = texts
        .into_iter()
        .partition(|item| matches!(item, Item::Shape(_)));
    drawing.items.extend(leaders);
    drawing.items.extend(texts);
    labels::shift(&mut drawing, [0.0, BORDER - top]);
    Some(drawing)
}

/// Puts the directions of the axes into the corner where there is room, else below.
fn place_triad(stage: &Stage, [low, high]: Area, sketch: &mut Sketch, room: &mut Room) {
    let triad = dimensions::triad(stage);
    let Some([small, large]) = dimensions::triad_bounds(&triad) else {
        return;
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
    let free = |at: &[f64; 2]| {
        let area = [
            [at[0] + small[0], at[1] + small[1]],
            [at[0] + large[0], at[1] + large[1]],
        ];
        room.is_free(room::grown(area, 2.0))
    };
    let at = corners.into_iter().find(free).unwrap_or(below);
    let mut moved = Drawing {
        items: items(triad.shapes),
        ..Drawing::default()
    };
    labels::shift(&mut moved, at);
    for item in moved.items {
        if let Item::Shape(shape) = item {
            room.take(&shape);
            sketch.shapes.push(shape);
        }
    }
    for mut label in triad.labels {
        label.anchor = sketch::step(label.anchor, at, 1.0);
        sketch.labels.push(label);
    }
}
