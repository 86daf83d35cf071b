//! Drawings that are shown one after the other: all of one size and scale, with body, axes and names in one place.
//!
//! A figure that stands alone is a series of one.

use super::compose::{self, Composer, PlacedNames};
use super::labels;
use super::occupied::Area;
use super::sketch::{Sketch, Spot, bounds};
use super::stage::Stage;
use super::{BORDER, SIDE, description, sketched};
use crate::drawing::{Drawing, Item};

/// How much smaller the figure is drawn each time that labels do not fit.
const SHRINK: f64 = 0.88;
/// How often it is drawn smaller before labels may stand anywhere.
const SHRINKS: i32 = 3;
/// Room above and below moments of a motion for the names beside them, points.
const BESIDE: f64 = 12.0;

/// What is drawn on.
#[derive(Debug, Clone, Copy)]
pub(super) struct PageSize {
    /// Points.
    pub width: f64,
    /// Greatest height of body, supports and arrows, relative to the width.
    pub tallest: f64,
}

/// Where scenes lie on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct SeriesFrame {
    /// Points of the page for a metre.
    pub scale: f64,
    /// Where the origin of the projection lies.
    pub origin: Spot,
    /// Height of the page, points.
    pub height: f64,
    /// Where the directions of the axes meet.
    pub triad: Spot,
}

/// Stages that share their page.
pub(super) struct Series<'a> {
    stills: Vec<Stage<'a>>,
    /// Moments of a motion for which there must be room.
    moments: Vec<Stage<'a>>,
    paper: PageSize,
    /// Height of everything but labels, points, and the area of the labels of the still that has most of them: as last measured.
    tall: f64,
    fullest: f64,
}

impl<'a> Series<'a> {
    /// A series of at least one still; all stages have the same view.
    pub(crate) fn new(stills: Vec<Stage<'a>>, moments: Vec<Stage<'a>>, paper: PageSize) -> Self {
        Self {
            stills,
            moments,
            paper,
            tall: 0.0,
            fullest: 0.0,
        }
    }

    /// A drawing for each still, and where the scene lies on them.
    pub(crate) fn drawn(mut self) -> (Vec<Drawing>, SeriesFrame) {
        let mut attempt = 0;
        while attempt <= SHRINKS {
            let last_resort = attempt == SHRINKS;
            self.fit(SHRINK.powi(attempt));
            if !last_resort && self.is_overfull() {
                // Nor do the labels fit beside a smaller drawing, on less of the page.
                attempt = SHRINKS;
                continue;
            }
            if let Some(drawn) = self.composed(last_resort) {
                return drawn;
            }
            attempt += 1;
        }
        // The last attempt has room for every label.
        let height = self.paper.width;
        let blank = |stage: &Stage| self.page(stage, Vec::new(), height, 0.0);
        let drawings = self.stills.iter().map(blank).collect();
        (drawings, self.frame([0.0; 2], height, 0.0))
    }

    fn lay(&mut self, scale: f64, origin: Spot) {
        for stage in self.stills.iter_mut().chain(&mut self.moments) {
            stage.scale = scale;
            stage.origin = origin;
        }
    }

    /// Bounds of everything but labels.
    fn spread(&mut self) -> Option<Area> {
        self.fullest = 0.0;
        let (mut all, width): (Option<Area>, _) = (None, self.paper.width);
        let stills = self.stills.iter().map(|stage| (stage, true));
        let moments = self.moments.iter().map(|stage| (stage, false));
        for (stage, is_still) in stills.chain(moments) {
            let sketch = sketched(stage, false);
            if is_still {
                let labels = compose::least_area(&sketch, width);
                self.fullest = self.fullest.max(labels);
            }
            let own = labels::extent(&sketch);
            all = all.map_or(own, |all| Some(own.map_or(all, |own| joined(all, own))));
        }
        all
    }

    /// Whether the labels of a still are larger than all of its page, after [`Series::fit`].
    fn is_overfull(&self) -> bool {
        self.fullest > compose::page_area(self.paper.width, self.tall)
    }

    /// Finds the scale at which everything but labels fills the width, or the greatest height.
    fn fit(&mut self, smaller: f64) {
        let [low, high] = self.stills[0].bounds;
        let size = (high - low).norm().max(1e-9);
        let width = self.paper.width;
        let wanted = [width - 2.0 * SIDE, width * self.paper.tallest].map(|side| side * smaller);
        // Arrows and hardware keep their size, so that the extent is nearly linear in the scale.
        let excess = |series: &mut Self, scale: f64| -> f64 {
            series.lay(scale, [0.0, 0.0]);
            series.spread().map_or(0.0, |[low, high]| {
                let fill = |k: usize| (high[k] - low[k]) / wanted[k];
                fill(0).max(fill(1))
            })
        };
        let mut first = 0.35 * wanted[0] / size;
        let mut at_first = excess(self, first);
        let mut scale = 0.7 * wanted[0] / size;
        for _ in 0..3 {
            let at = excess(self, scale);
            let slope = (at - at_first) / (scale - first);
            if !slope.is_finite() || slope <= 0.0 || (at - 1.0).abs() < 2e-3 {
                break;
            }
            (first, at_first) = (scale, at);
            let least = 0.12 * wanted[0] / size;
            scale = (scale + (1.0 - at) / slope).clamp(least, 40.0 * least);
        }
        self.lay(scale, self.stills[0].origin);
        if let Some([low, high]) = self.spread() {
            self.tall = high[1] - low[1];
            self.lay(scale, [(width - low[0] - high[0]) / 2.0, -low[1]]);
        }
    }

    /// The drawings with their labels; `None` where they do not fit, which does not occur with the last resort.
    fn composed(&self, last_resort: bool) -> Option<(Vec<Drawing>, SeriesFrame)> {
        let width = self.paper.width;
        let stills = self.stills.iter();
        let sketches: Vec<Sketch> = stills.map(|stage| compose::sketch(stage, width)).collect();
        let moments: Vec<Sketch> = self.moments.iter().map(|s| sketched(s, false)).collect();
        let shapes = || sketches.iter().chain(&moments).flat_map(|s| &s.shapes);
        let all = sketches.iter().chain(&moments).filter_map(labels::extent);
        let all = all.reduce(joined).unwrap_or([[0.0, 0.0], [width, 0.0]]);
        let composer = Composer { width, last_resort };
        let mut room = composer.room(all, shapes());
        let fixed = sketches.iter().flat_map(labels::fixed_areas);
        fixed.for_each(|area| room.take_area(&area));
        let triad = compose::corner(&self.stills[0], all, room);
        let steady = (sketches.len() > 1).then(|| {
            let still = sketches.iter().flat_map(|sketch| &sketch.shapes);
            PlacedNames::placed(&self.stills, &sketches, composer.room(all, still), triad)
        });
        let names = steady.flatten().unwrap_or_default();
        let mut sheets = Vec::new();
        for (stage, sketch) in self.stills.iter().zip(sketches) {
            sheets.push(composer.sheet(stage, sketch, &names, triad)?);
        }
        let beside = bounds(moments.iter().flat_map(|sketch| &sketch.shapes));
        let beside = beside.map(|[low, high]| [low[1] - BESIDE, high[1] + BESIDE]);
        let reaches = sheets.iter().map(|sheet| sheet.reach).chain(beside);
        let [top, bottom] = reaches.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])?;
        let height = ((bottom - top + 2.0 * BORDER) * 100.0).round() / 100.0;
        let down = BORDER - top;
        let pairs = self.stills.iter().zip(sheets);
        let cut = pairs.map(|(stage, sheet)| self.page(stage, sheet.items, height, down));
        Some((cut.collect(), self.frame(triad, height, down)))
    }

    fn page(&self, stage: &Stage, items: Vec<Item>, height: f64, down: f64) -> Drawing {
        let mut drawing = Drawing {
            width: self.paper.width,
            height,
            title: stage.study.model().title.clone(),
            description: description::of(stage),
            items,
        };
        labels::shift(&mut drawing, [0.0, down]);
        drawing
    }

    fn frame(&self, triad: Spot, height: f64, down: f64) -> SeriesFrame {
        let Stage { scale, origin, .. } = self.stills[0];
        let lower = |spot: Spot| [spot[0], spot[1] + down];
        SeriesFrame {
            scale,
            origin: lower(origin),
            height,
            triad: lower(triad),
        }
    }
}

fn joined(a: Area, b: Area) -> Area {
    [
        [0, 1].map(|k| a[0][k].min(b[0][k])),
        [0, 1].map(|k| a[1][k].max(b[1][k])),
    ]
}
