//! Places for labels: by a search around what each names, off every stroke, off each other, inside the page.
//!
//! The most important chooses first. Of all free places it takes the one with the best score: near, on the side where
//! books put it, off the body; one that stands far away gets a thin line that leads to its point. Scores are whole
//! numbers, so that the same scene gives the same figure on every machine.

use super::free_places::{FreePlaces, SWEEP};
use super::occupied::{Area, OccupiedCells, grown};
use super::pens::Pens;
use super::progress::{Count, DrawingPhase};
use super::sketch::{Sketch, SketchLabel, Spot, bounds, length, step, unit, way};
use super::stage::Stage;
use super::taken::Taken;
use crate::drawing::{
    Drawing, Item, PathOutline, PathShape, Polyline, Text, reach_above, reach_below, width,
};
use crate::portrayal::label_places::{LabelPlace, LabelPlaces};

/// The places on paper: on a grid of a hundredth of a point, so that they are the same on every machine.
const PLACES: LabelPlaces = LabelPlaces {
    rings: &[
        2.2, 4.0, 6.5, 9.5, 13.0, 18.0, 24.0, 32.0, 42.0, 55.0, 72.0, 95.0, 125.0,
    ],
    directions: 24,
    sides: &[
        0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23,
    ],
    pull: 1.6,
    grid: 0.01,
};
/// Labels keep this far from each other, points.
pub(super) const APART: f64 = 1.2;
/// Strokes keep this far from labels, points.
pub(super) const CLEAR: f64 = 0.5;
/// From this distance on a line leads from the label to its point.
const LEADER_FROM: f64 = 9.0;
/// How far a leader ends before its point and its label.
const LEADER_GAP: f64 = 1.3;
/// Most places of the last resort that are asked for a line: out of a crowd that surrounds the point none leads anywhere.
const MOST_LED: usize = 1000;
/// Stands for what is cut off a label.
const ELLIPSIS: char = '…';

/// A placed label.
#[derive(Debug, Clone)]
struct PlacedSketchLabel {
    area: Area,
    leader: Option<[Spot; 2]>,
    score: i64,
}

/// Places every label; `None` as soon as one finds no room in the area.
pub(super) fn place(
    stage: &Stage,
    sketch: &Sketch,
    room: &mut OccupiedCells,
    taken: &mut Vec<Area>,
    last_resort: bool,
) -> Option<Vec<Item>> {
    let mut order: Vec<usize> = (0..sketch.labels.len()).collect();
    // Those that have no choice go first.
    order.sort_by_key(|index| {
        let label = &sketch.labels[*index];
        (!label.is_fixed, label.rank, *index)
    });
    let mut items = Vec::new();
    let mut others = Taken::new(&room.area(), taken);
    let mut sweep = FreePlaces::new(room.area());
    let count = Count::new(stage.watch, DrawingPhase::Labels, order.len());
    for index in order {
        let label = &sketch.labels[index];
        room.settle();
        let size = size(label);
        let on_anchor = label.is_fixed.then(|| on_anchor(label));
        let best = on_anchor
            .or_else(|| around(stage, label, size, room, &others))
            .or_else(|| {
                last_resort
                    .then(|| anywhere(label, size, (room, &others), &mut sweep))
                    .flatten()
            });
        let placed = best?;
        count.step();
        if let Some([from, to]) = placed.leader {
            room.take_line(from, to, stage.pens.leader.width / 2.0);
            items.push(leader(&stage.pens, from, to));
        }
        items.push(Item::Text(text(label, placed.area)));
        taken.push(placed.area);
        others.push(placed.area);
    }
    Some(items)
}

/// Height of a page of a width on which all labels of a sketch have room, with as much again between them.
pub(super) fn stacked_height(sketch: &Sketch, width: f64) -> f64 {
    let sizes = || sketch.labels.iter().map(size);
    let longest = sizes().fold(0.0, |longest: f64, [wide, _]| longest.max(wide));
    let highest = sizes().fold(0.0, |highest: f64, [_, high]| highest.max(high));
    let beside: f64 = sizes().map(|[wide, _]| wide + SWEEP + 2.0 * APART).sum();
    // In rows one below the other, none of which is filled to its end.
    let rows = (beside / (width - longest).max(width / 4.0)).ceil();
    2.0 * rows * (highest + SWEEP + 2.0 * APART)
}

/// The area of all labels of a sketch, each cut to a width.
pub(super) fn least_area(sketch: &Sketch, longest: f64) -> f64 {
    let sizes = sketch.labels.iter().map(size);
    sizes.map(|[wide, high]| wide.min(longest) * high).sum()
}

/// Width and height of a label: from the top of its capitals to the bottom of its descenders or subscripts.
pub(super) fn size(label: &SketchLabel) -> Spot {
    let letters = &label.letters;
    let height =
        reach_above(&label.runs, letters.weight) + reach_below(&label.runs, letters.weight);
    [
        width(&label.runs, letters.size, letters.weight),
        height * letters.size,
    ]
}

fn text(label: &SketchLabel, area: Area) -> Text {
    let letters = &label.letters;
    let base = area[1][1] - reach_below(&label.runs, letters.weight) * letters.size;
    Text {
        role: label.role,
        at: [round(area[0][0]), round(base)],
        runs: label.runs.clone(),
        size: letters.size,
        weight: letters.weight,
        colour: label.colour,
    }
}

fn leader(pens: &Pens, from: Spot, to: Spot) -> Item {
    Item::Shape(PathShape {
        role: "leader",
        outline: PathOutline::Lines(vec![Polyline::open([from.map(round), to.map(round)])]),
        stroke: Some(pens.leader),
        fill: None,
    })
}

/// Rounded as coordinates on the page are.
pub(super) fn round(x: f64) -> f64 {
    (x * 100.0).round() / 100.0
}

/// The place whose middle is the point itself.
fn on_anchor(label: &SketchLabel) -> PlacedSketchLabel {
    PlacedSketchLabel {
        area: area_on_anchor(label),
        leader: None,
        score: 0,
    }
}

/// The area of a label whose middle is its point.
pub(super) fn area_on_anchor(label: &SketchLabel) -> Area {
    PLACES.beside(label.anchor, [0.0, 0.0], 0.0, size(label))
}

/// The areas of labels that have their places.
pub(super) fn fixed_areas(sketch: &Sketch) -> impl Iterator<Item = Area> + '_ {
    let fixed = sketch.labels.iter().filter(|label| label.is_fixed);
    fixed.map(area_on_anchor)
}

/// Lowest and highest coordinates of the shapes of a sketch and of the labels that have their places; `None` for nothing.
pub(super) fn extent(sketch: &Sketch) -> Option<Area> {
    let areas: Vec<Area> = fixed_areas(sketch).chain(bounds(&sketch.shapes)).collect();
    areas_bounds(&areas)
}

/// The best place around the point.
fn around(
    stage: &Stage,
    label: &SketchLabel,
    size: Spot,
    room: &OccupiedCells,
    taken: &Taken,
) -> Option<PlacedSketchLabel> {
    let judge = |place: &LabelPlace| judged(stage, label, place, room, taken);
    let cost = |place: &LabelPlace| judge(place).map(|placed| placed.score);
    let (best, _) = PLACES.best(label.anchor, size, distance_score, cost)?;
    judge(&best)
}

fn distance_score(distance: f64) -> i64 {
    (distance * 10.0).round() as i64
}

/// The place with its score, if it is free.
fn judged(
    stage: &Stage,
    label: &SketchLabel,
    place: &LabelPlace,
    room: &OccupiedCells,
    taken: &Taken,
) -> Option<PlacedSketchLabel> {
    let LabelPlace {
        area, direction, ..
    } = *place;
    let distance = PLACES.rings[place.ring];
    let apart = grown(area, APART);
    if !room.is_free(grown(area, CLEAR)) || taken.overlaps(&apart) {
        return None;
    }
    let mut score = distance_score(distance);
    if label.prefer != [0.0, 0.0] {
        let with = direction[0] * label.prefer[0] + direction[1] * label.prefer[1];
        score += ((1.0 - with) * 28.0).round() as i64;
    } else {
        // Upper right first, where books put names.
        let with = (direction[0] - direction[1]) * std::f64::consts::FRAC_1_SQRT_2;
        score += ((1.0 - with) * 14.0).round() as i64;
    }
    score += over_body(stage, area) * 12;
    let leader = (distance >= LEADER_FROM).then(|| leader_line(label.anchor, area));
    if let Some([from, to]) = leader {
        if taken.meets(from, to, CLEAR) {
            return None;
        }
        score += 30 + crossings(room, from, to) * 14;
    }
    Some(PlacedSketchLabel {
        area,
        leader,
        score,
    })
}

/// How many of the corners and the middle lie over the body.
fn over_body(stage: &Stage, [low, high]: Area) -> i64 {
    let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    let spots = [low, high, [low[0], high[1]], [high[0], low[1]], middle];
    spots.iter().filter(|spot| stage.covers(**spot)).count() as i64
}

/// The free place nearest to the point, wherever on the page, with a line that leads there if that is possible at all.
fn anywhere(
    label: &SketchLabel,
    size: Spot,
    (room, taken): (&OccupiedCells, &Taken),
    sweep: &mut FreePlaces,
) -> Option<PlacedSketchLabel> {
    let free =
        |area: &Area| room.is_free(grown(*area, CLEAR)) && !taken.overlaps(&grown(*area, APART));
    let placed = |area: Area, leader: Option<[Spot; 2]>| PlacedSketchLabel {
        area,
        leader,
        score: 0,
    };
    let mut nearest = None;
    for area in sweep.places(label.anchor, size, free).take(MOST_LED) {
        if gap(label.anchor, area) < LEADER_FROM {
            // It stands by its point, or over it.
            return Some(placed(area, None));
        }
        nearest = nearest.or(Some(area));
        let [from, to] = leader_line(label.anchor, area);
        if !taken.meets(from, to, CLEAR) {
            return Some(placed(area, Some([from, to])));
        }
    }
    nearest.map(|area| placed(area, None))
}

/// Distance from a point to a rectangle; 0 inside it.
fn gap(point: Spot, [low, high]: Area) -> f64 {
    let off = [0, 1].map(|k| (low[k] - point[k]).max(point[k] - high[k]).max(0.0));
    length(off)
}

/// From the point to the nearest point of the label, with gaps at both ends.
fn leader_line(anchor: Spot, [low, high]: Area) -> [Spot; 2] {
    let near = [0, 1].map(|k| {
        // Not quite to the corners, where it would look accidental.
        let inset = ((high[k] - low[k]) * 0.49).min(3.0);
        anchor[k].clamp(low[k] + inset, high[k] - inset)
    });
    let towards = unit(way(anchor, near));
    let end = exit(near, anchor, [low, high]);
    [
        step(anchor, towards, LEADER_GAP),
        step(end, towards, -LEADER_GAP),
    ]
}

/// Where the line from inside a rectangle to a point outside leaves it.
fn exit(inside: Spot, outside: Spot, [low, high]: Area) -> Spot {
    let along = way(inside, outside);
    let reach = (0..2).fold(1.0_f64, |t, k| {
        if along[k] > 1e-9 {
            t.min((high[k] - inside[k]) / along[k])
        } else if along[k] < -1e-9 {
            t.min((low[k] - inside[k]) / along[k])
        } else {
            t
        }
    });
    step(inside, along, reach)
}

/// Roughly how many strokes a leader crosses.
fn crossings(room: &OccupiedCells, from: Spot, to: Spot) -> i64 {
    let reach = length(way(from, to));
    let direction = unit(way(from, to));
    let (mut count, mut inside, mut t) = (0, true, 2.5);
    while t < reach {
        let at = step(from, direction, t);
        let free = room.is_free([[at[0] - 0.1, at[1] - 0.1], [at[0] + 0.1, at[1] + 0.1]]);
        if !free && !inside {
            count += 1;
        }
        inside = !free;
        t += 0.8;
    }
    count
}

/// Cuts a label to a width, with an ellipsis where something is left out.
pub(super) fn cut(label: &mut SketchLabel, most: f64) {
    while size(label)[0] > most {
        let Some(run) = label.runs.last_mut() else {
            return;
        };
        if run.text.ends_with(ELLIPSIS) {
            run.text.pop();
        }
        // Each round takes a letter, or a run that has none left.
        if run.text.pop().is_none() {
            label.runs.pop();
        }
        if let Some(run) = label.runs.last_mut() {
            run.text.push(ELLIPSIS);
        }
    }
}

/// Lowest and highest coordinates of the texts of a drawing, as labels are placed.
pub(super) fn areas_bounds(taken: &[Area]) -> Option<Area> {
    let first = *taken.first()?;
    Some(taken.iter().fold(first, |[low, high], area| {
        [
            [low[0].min(area[0][0]), low[1].min(area[0][1])],
            [high[0].max(area[1][0]), high[1].max(area[1][1])],
        ]
    }))
}

/// Moves everything of a drawing.
pub(super) fn shift(drawing: &mut Drawing, by: Spot) {
    for item in &mut drawing.items {
        match item {
            Item::Text(text) => text.at = [0, 1].map(|k| round(text.at[k] + by[k])),
            Item::Shape(shape) => match &mut shape.outline {
                PathOutline::Circle { centre, .. } => {
                    *centre = [0, 1].map(|k| round(centre[k] + by[k]));
                }
                PathOutline::Lines(lines) => {
                    for line in lines {
                        line.move_points(|at| [0, 1].map(|k| round(at[k] + by[k])));
                    }
                }
            },
        }
    }
}
