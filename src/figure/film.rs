//! The figure in motion: one drawing for each moment of a swing, all of one size, scale and view.
//!
//! The body follows its true path. Names stand where no moment of the swing touches them, so that nothing jumps about.

use nalgebra::{Isometry3, Point3};

use super::compose;
use super::labels;
use super::moving;
use super::occupied::{Area, OccupiedCells, grown};
use super::pens::VALUE;
use super::series::SeriesFrame;
use super::settings::{FigurePart, FigureSettings};
use super::sketch::{Sketch, Spot, bounds, items};
use super::solids;
use super::stage::{Stage, with_one_view};
use super::{BORDER, SIDE, TALLEST, description};
use crate::document::wrapped;
use crate::drawing::{Drawing, Item, POINTS_PER_MM, PathShape, Polyline, Run, Text, width};
use crate::motion::{Course, default_swing};
use crate::statics::MotionKind;
use crate::study::Study;
use crate::theme::Colour;
use crate::wording::{self, Phrase};

/// Parts of a moving picture.
pub(super) const MOVING: &[FigurePart] = &[
    FigurePart::Body,
    FigurePart::Supports,
    FigurePart::Behind,
    FigurePart::Axis,
    FigurePart::Names,
    FigurePart::Triad,
];

/// A figure that can be drawn at every moment of a swing.
pub struct Film<'a> {
    study: &'a Study,
    settings: FigureSettings,
    /// Those of the body as written with the motion as an arrow, which a small motion needs to be seen at all.
    start: Option<FigureSettings>,
    swing: f64,
    width: f64,
    height: f64,
    scale: f64,
    origin: [f64; 2],
    /// The start: outlines of the body as a ghost, and the arrow of the motion.
    ghost: Vec<Polyline>,
    arrow: Vec<PathShape>,
    words: Vec<Item>,
    captions: Vec<Vec<Run>>,
    /// Where the directions of the axes meet, where that is given.
    triad: Option<Spot>,
}

/// Moments of the swing whose room is kept free of labels and inside the page.
const MOMENTS: [f64; 9] = [0.0, -1.0, 1.0, -0.5, 0.5, -0.25, 0.25, -0.75, 0.75];
/// Points that move less than this on the page stand still, points.
const STILL: f64 = 0.5;
/// Height of a line of the caption, points.
const LINE: f64 = 11.0;
/// Room above and below in which labels may stand, points.
const ABOVE: f64 = 26.0;

impl<'a> Film<'a> {
    /// Prepares the film of the settings' motion; a body that is held stands still.
    ///
    /// Of the settings' parts it shows body, supports, those that the body hides dashed, axis, names and directions of the axes. A motion that lasts for an
    /// instant only is a small wobble, so the start stays in the picture, with an arrow.
    pub fn new(study: &'a Study, settings: &FigureSettings) -> Self {
        let wobbles = study
            .course(settings.motion, settings.case)
            .is_some_and(|c| !c.is_real());
        let mut film = Self::unlaid(study, settings);
        if wobbles {
            film = film.with_start();
        }
        film.fit();
        film.keep_start();
        film.caption();
        film.place_words();
        film
    }

    /// The film before it is laid on a page.
    pub(super) fn unlaid(study: &'a Study, settings: &FigureSettings) -> Self {
        let mut settings = with_one_view(study, settings);
        settings.parts.retain(|part| MOVING.contains(part));
        Self {
            study,
            swing: study
                .course(settings.motion, settings.case)
                .map_or(0.0, |course| usual_swing(study, &course)),
            start: None,
            width: settings.width_mm * POINTS_PER_MM,
            height: 0.0,
            scale: 1.0,
            origin: [0.0; 2],
            ghost: Vec::new(),
            arrow: Vec::new(),
            words: Vec::new(),
            captions: Vec::new(),
            triad: None,
            settings,
        }
    }

    /// The same film in which a ghost of the start stays, with the motion as an arrow.
    pub(super) fn with_start(mut self) -> Self {
        let mut settings = self.settings.clone();
        settings.parts.insert(FigurePart::Motion);
        self.start = Some(settings);
        self
    }

    /// The film on a page that it shares with other drawings, without words below.
    pub(super) fn within(mut self, frame: SeriesFrame) -> Self {
        self.scale = frame.scale;
        self.origin = frame.origin;
        self.height = frame.height;
        self.triad = Some(frame.triad);
        self.keep_start();
        self.place_words();
        self
    }

    /// Stages for whose strokes a page must have room.
    pub(super) fn moments(&self) -> impl Iterator<Item = Stage<'_>> {
        let moments = MOMENTS.iter().map(|part| self.stage(*part));
        moments.chain(self.start_stage())
    }

    /// The drawing at a part of the swing, −1 to 1; 0 is the body as written.
    pub fn at(&self, part: f64) -> Drawing {
        let mut stage = self.stage(part);
        stage.ghost.clone_from(&self.ghost);
        let mut sketch = super::sketched(&stage, true);
        sketch.shapes.extend(self.arrow.iter().cloned());
        let mut drawing = Drawing {
            width: self.width,
            height: self.height,
            title: self.study.model().title.clone(),
            description: description::of(&stage),
            items: items(sketch.shapes),
        };
        drawing.items.extend(self.words.iter().cloned());
        drawing
    }

    /// Width of every frame in points.
    pub fn width(&self) -> f64 {
        self.width
    }

    /// Parts of the swing for equal steps of time, from the body as written over the ends of the swing and back: slow at
    /// the ends.
    pub fn parts(&self, frames: usize) -> Vec<f64> {
        let course = self.study.course(self.settings.motion, self.settings.case);
        course.map_or_else(|| vec![0.0; frames], |course| course.parts_in_time(frames))
    }

    fn stage(&self, part: f64) -> Stage<'_> {
        self.stage_with(&self.settings, part)
    }

    /// The body as written with the arrow of its motion, where the start is kept.
    fn start_stage(&self) -> Option<Stage<'_>> {
        let settings = self.start.as_ref()?;
        Some(self.stage_with(settings, 0.0))
    }

    /// Draws what stays of the start.
    fn keep_start(&mut self) {
        let Some(stage) = self.start_stage() else {
            return;
        };
        let ghost = solids::outline(&stage);
        let mut sketch = super::sketched(&self.stage(0.0), true);
        let drawn = sketch.shapes.len();
        moving::draw(&stage, &mut sketch);
        let arrow = sketch.shapes.split_off(drawn);
        (self.ghost, self.arrow) = (ghost, arrow);
    }

    fn stage_with<'b>(&'b self, settings: &'b FigureSettings, part: f64) -> Stage<'b> {
        let mut stage = Stage::new(self.study, settings, self.pose(part));
        stage.swing = MOMENTS.map(|part| self.pose(part)).to_vec();
        stage.scale = self.scale;
        stage.origin = self.origin;
        stage
    }

    fn pose(&self, part: f64) -> Isometry3<f64> {
        self.study
            .course(self.settings.motion, self.settings.case)
            .map_or_else(Isometry3::identity, |course| course.swung(part, self.swing))
    }

    /// Bounds of all moments at a scale.
    fn spread(&mut self, scale: f64) -> Area {
        self.scale = scale;
        self.origin = [0.0; 2];
        let mut all: Option<Area> = None;
        for stage in self.moments() {
            let Some([low, high]) = bounds(&super::sketched(&stage, false).shapes) else {
                continue;
            };
            let area = all.get_or_insert([low, high]);
            for k in 0..2 {
                area[0][k] = area[0][k].min(low[k]);
                area[1][k] = area[1][k].max(high[k]);
            }
        }
        all.unwrap_or([[0.0; 2], [1.0; 2]])
    }

    fn fit(&mut self) {
        let wanted = [self.width - 2.0 * SIDE, self.width * TALLEST];
        let mut scale = 0.5 * wanted[0] / size(self.study);
        for _ in 0..3 {
            let [low, high] = self.spread(scale);
            let fill = (0..2)
                .map(|k| (high[k] - low[k]) / wanted[k])
                .fold(0.0, f64::max);
            if !(fill.is_finite() && fill > 0.0) || (fill - 1.0).abs() < 5e-3 {
                break;
            }
            scale /= fill;
        }
        let [low, high] = self.spread(scale);
        self.origin = [(self.width - low[0] - high[0]) / 2.0, ABOVE - low[1]];
        self.height = (high[1] - low[1] + 2.0 * ABOVE).round();
    }

    /// What moves, and whether it lasts; below the picture.
    fn caption(&mut self) {
        let Some(course) = self.study.course(self.settings.motion, self.settings.case) else {
            return;
        };
        let said = wording::course(self.study.model(), &course);
        self.captions = evenly_wrapped(&said, self.width - 2.0 * SIDE);
        self.height += LINE * self.captions.len() as f64;
    }

    /// Places the names off the strokes of all moments.
    fn place_words(&mut self) {
        let area = [
            [BORDER; 2],
            [
                self.width - BORDER,
                self.height - BORDER - LINE * self.captions.len() as f64,
            ],
        ];
        let mut room = OccupiedCells::new(area);
        for part in MOMENTS {
            let sketch = super::sketched(&self.stage(part), true);
            sketch.shapes.iter().for_each(|shape| room.take(shape));
        }
        self.arrow.iter().for_each(|shape| room.take(shape));
        for [from, to] in self.ghost.iter().flat_map(Polyline::pieces) {
            room.take_line(from, to, self.stage(0.0).pens.ghost.width / 2.0);
        }
        let still = self.stage(0.0);
        let mut sketch = Sketch {
            labels: super::sketched(&still, false).labels,
            table: None,
            shapes: Vec::new(),
        };
        self.hold_still(&still, &mut sketch);
        if still.shows(FigurePart::Triad) {
            // Off the border by what it keeps free around itself.
            let inside = grown(area, -3.0);
            let free = || compose::corner(&still, inside, room.clone());
            let at = self.triad.unwrap_or_else(free);
            compose::put_triad(&still, at, &mut sketch, &mut room);
        }
        let mut taken = Vec::new();
        let placed = labels::place(&still, &sketch, &mut room, &mut taken, true);
        let mut words = items(sketch.shapes);
        words.extend(placed.unwrap_or_default());
        words.extend(self.caption_texts(still.pens.motion.colour));
        self.words = words;
    }

    fn caption_texts(&self, colour: Colour) -> Vec<Item> {
        let lines = self.captions.iter().rev().enumerate();
        let text = |(up, line): (usize, &Vec<Run>)| {
            let wide = width(line, VALUE.size, VALUE.weight);
            Item::Text(Text {
                role: "motion",
                at: [
                    (self.width - wide) / 2.0,
                    self.height - 2.0 * BORDER - LINE * up as f64,
                ],
                runs: line.clone(),
                size: VALUE.size,
                weight: VALUE.weight,
                colour,
            })
        };
        lines.map(text).collect()
    }

    /// Names of supports whose point of the body moves stand at their ground, which does not.
    fn hold_still(&self, stage: &Stage, sketch: &mut Sketch) {
        let feet = stage.with_layout(|layout| layout.feet());
        let supports = self.study.model().supports.iter().zip(feet);
        let names = sketch
            .labels
            .iter_mut()
            .filter(|label| label.role == "name");
        for (label, (support, foot)) in names.zip(supports) {
            let point = support.point;
            let moves = |pose: &Isometry3<f64>| (pose * point - point).norm() * stage.scale > STILL;
            if support.ground.is_some() || stage.swing.iter().any(moves) {
                label.anchor = stage.at(&foot);
            }
        }
    }
}

/// Words in as few lines of a width as they need, and these as narrow as that allows: no word ends up by itself.
fn evenly_wrapped(said: &Phrase, most: f64) -> Vec<Vec<Run>> {
    const STEP: f64 = 4.0;
    let in_lines = |width| wrapped(said, VALUE.size, VALUE.weight, width);
    let mut lines = in_lines(most);
    let count = lines.len();
    let mut narrower = most - STEP;
    while narrower > 0.0 {
        let tried = in_lines(narrower);
        if tried.len() > count {
            break;
        }
        lines = tried;
        narrower -= STEP;
    }
    lines
}

fn size(study: &Study) -> f64 {
    let settings = FigureSettings::default();
    let stage = Stage::new(study, &settings, Isometry3::identity());
    (stage.bounds[1] - stage.bounds[0]).norm().max(1e-9)
}

/// The usual swing of a motion to each side, rad or m.
pub(crate) fn usual_swing(study: &Study, course: &Course) -> f64 {
    let motion = course.motion;
    let settings = FigureSettings::default();
    let stage = Stage::new(study, &settings, Isometry3::identity());
    let arm = |point: &Point3<f64>| match motion.kind {
        MotionKind::Translation => 0.0,
        _ => (point - motion.point).cross(&motion.direction).norm(),
    };
    let points = stage.solids.iter().flat_map(|solid| solid.positions.iter());
    let reach = points.map(arm).fold(0.0, f64::max);
    default_swing(motion, reach, (stage.bounds[1] - stage.bounds[0]).norm())
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::drawing::{PathOutline, PathShape};
    use crate::scene::{builtin, read_str};
    use crate::statics::CaseIndex;

    /// Everything of a frame, hidden or not.
    fn drawn(film: &Film, part: f64) -> Vec<PathShape> {
        super::super::sketched(&film.stage(part), false).shapes
    }

    /// Every line of hatching.
    fn hatching(shapes: &[PathShape]) -> Vec<&PathOutline> {
        let ground = shapes.iter().filter(|shape| shape.role == "ground");
        ground.map(|shape| &shape.outline).collect()
    }

    /// How many strokes a frame has of each thing that is no part of the body.
    fn symbols(shapes: &[PathShape]) -> BTreeMap<&str, usize> {
        let mut counts = BTreeMap::new();
        for shape in shapes.iter().filter(|shape| shape.role != "body") {
            *counts.entry(shape.role).or_default() += 1;
        }
        counts
    }

    fn is_within(area: &Area, page: [f64; 2]) -> bool {
        (0..2).all(|k| area[0][k] >= 0.0 && area[1][k] <= page[k])
    }

    /// Films laid the ground out anew for each moment, so that it swung with its link and rolled with its wheel; symbols jumped
    /// sides half-way, and axes were cut off.
    #[test]
    fn the_ground_never_moves_and_every_frame_has_every_symbol_on_its_page() {
        let mut films = 0;
        for built_in in builtin::all() {
            let scene = read_str(built_in.name, built_in.text).unwrap().scene;
            let study = Study::new(scene).unwrap();
            for motion in study.selections(CaseIndex::FIRST) {
                let settings = FigureSettings {
                    motion,
                    ..FigureSettings::default()
                };
                let film = Film::new(&study, &settings);
                let still = drawn(&film, 0.0);
                assert!(!hatching(&still).is_empty(), "{}", built_in.name);
                for part in [-1.0, -0.4, 0.7, 1.0] {
                    let which = format!("{} {motion:?} {part}", built_in.name);
                    let frame = drawn(&film, part);
                    assert!(hatching(&frame) == hatching(&still), "{which}");
                    assert_eq!(symbols(&frame), symbols(&still), "{which}");
                    let area = bounds(&frame).expect("there is always something");
                    assert!(
                        is_within(&area, [film.width, film.height]),
                        "{which}: {area:?}"
                    );
                }
                films += 1;
            }
        }
        assert!(films > 20, "{films}");
    }
}
