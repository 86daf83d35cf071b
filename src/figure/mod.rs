//! Figures for paper: a scene and its diagnosis as a drawing of strokes and letters, for slides, handouts and exams.
//!
//! Body and supports are drawn true to the view with hidden lines removed; loads, reactions, the shared axis and the free
//! motion are strokes on top; labels find their places last. Mechanics comes from the diagnosis alone.

mod angles;
mod arrows;
mod axis;
mod behind;
mod box_tree;
mod compose;
mod contour;
mod coordinates;
pub mod deck;
mod deflection;
mod description;
mod diagrams;
mod dimension_line;
mod dimensions;
mod film;
mod free_places;
mod hidden;
#[cfg(feature = "cli")]
mod histograms;
mod in_document;
mod labels;
mod limit;
mod loads;
mod map;
mod moving;
mod names;
mod neutral_lines;
mod occupied;
mod pens;
#[cfg(feature = "cli")]
mod placement;
mod points;
mod progress;
mod radii;
mod reactions;
mod seams;
mod series;
mod settings;
mod sketch;
mod solids;
mod stage;
mod stretch;
mod symbols;
mod table;
mod taken;
mod triad;
mod view;

pub use diagrams::{MOST_BARS, diagrams};
pub use film::Film;
#[cfg(feature = "cli")]
pub(crate) use film::usual_swing;
#[cfg(feature = "cli")]
pub use histograms::histograms;
pub use in_document::{IN_DOCUMENT_MM, in_document};
pub use limit::DrawingLimit;
pub use map::{FigureMap, draw_with_map};
#[cfg(feature = "cli")]
pub use placement::placement_figure;
pub use progress::{DrawingPhase, DrawingProgress};
pub use settings::{COLUMN_MM, FigureColours, FigurePart, FigureSettings, Projection, WIDTHS_MM};

use nalgebra::Isometry3;

use crate::drawing::{Drawing, POINTS_PER_MM};
use crate::study::Study;
use series::{PageSize, Series};
use sketch::Sketch;
use stage::Stage;

/// Room at the sides that is left for labels, points.
const SIDE: f64 = 14.0;
/// Between everything and the border of the figure, points.
const BORDER: f64 = 2.0;
/// Greatest height of body, supports and arrows, relative to the width of the figure.
const TALLEST: f64 = 1.15;

/// The figure of a scene.
///
/// Its width is that of the settings; its height follows from what is drawn. The same input gives the same drawing.
pub fn draw(study: &Study, settings: &FigureSettings) -> Drawing {
    drawn(study, settings, None)
}

/// Azimuth and elevation in degrees from which the figure of a scene is seen; `None` for other projections.
pub fn seen_from(study: &Study, settings: &FigureSettings) -> Option<[f64; 2]> {
    match stage::with_one_view(study, settings).projection {
        Some(Projection::Angles { azimuth, elevation }) => Some([azimuth, elevation]),
        _ => None,
    }
}

/// The same for one who waits: of a thousand supports it takes seconds.
pub fn draw_watched(study: &Study, settings: &FigureSettings, watch: DrawingProgress) -> Drawing {
    drawn(study, settings, Some(watch))
}

fn drawn(study: &Study, settings: &FigureSettings, watch: Option<DrawingProgress>) -> Drawing {
    let paper = page_of(settings);
    let stage = Stage {
        watch,
        ..Stage::new(study, settings, Isometry3::identity())
    };
    let (mut drawings, _) = Series::new(vec![stage], Vec::new(), paper).drawn();
    drawings.remove(0)
}

/// The page that settings ask for.
fn page_of(settings: &FigureSettings) -> PageSize {
    PageSize {
        width: settings.width_mm * POINTS_PER_MM,
        tallest: settings
            .tallest_mm
            .map_or(TALLEST, |tallest| TALLEST.min(tallest / settings.width_mm)),
    }
}

/// Everything but labels' places.
fn sketched(stage: &Stage, hides: bool) -> Sketch {
    let mut sketch = Sketch::default();
    solids::draw(stage, hides, &mut sketch);
    if stage.shows(FigurePart::Axis) {
        axis::draw(stage, &mut sketch);
    }
    if stage.shows(FigurePart::Supports) && stage.is_planar() {
        symbols::draw(stage, &mut sketch);
    }
    if stage.shows(FigurePart::Motion) {
        moving::draw(stage, &mut sketch);
    }
    neutral_lines::draw(stage, &mut sketch);
    deflection::draw(stage, &mut sketch);
    if stage.shows(FigurePart::Loads) {
        loads::draw(stage, &mut sketch);
    }
    if stage.shows(FigurePart::Reactions) {
        reactions::draw(stage, &mut sketch);
    }
    if stage.shows(FigurePart::Names) {
        names::draw(stage, &mut sketch);
    }
    if stage.shows(FigurePart::Coordinates) {
        coordinates::draw(stage, &mut sketch);
    }
    if stage.shows(FigurePart::Dimensions) {
        angles::draw(stage, &mut sketch);
        dimensions::draw(stage, &mut sketch);
    }
    sketch
}
