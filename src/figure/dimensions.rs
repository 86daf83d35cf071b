//! Dimension lines with values in the scene's units, and extension lines from what they measure.

use nalgebra::{Point3, Vector3};

use super::coordinates;
use super::dimension_line::{self, CLOSEST, ExtensionLine, is_same, ticks};
use super::labels;
use super::points;
use super::radii;
use super::settings::FigurePart;
use super::sketch::{Sketch, Spot, length, step, turned, unit, way};
use super::stage::Stage;
use super::table;
use crate::drawing::PathOutline;
use crate::wording;

/// How far a dimension line stands off everything else.
const OFF: f64 = 9.0;
/// Most dimension lines of a figure in space: beyond, extension lines make a thicket.
const MOST: usize = 6;
/// The same where the coordinates are in no table of the figure but may be beside it, as on sheets of exercises.
const MOST_WITHOUT_TABLE: usize = 9;
/// Most places of a line that are tried along the axis that it does not run along.
const MOST_LEVELS: usize = 8;

/// Draws dimension lines outside of everything drawn so far, and the coordinates of points that these leave out, with
/// those of the first support to count from. Where that is most of the points, all have coordinates; too many of them are in the
/// table, where that is shown, and else for [`FigurePart::Coordinates`] to give.
pub(super) fn draw(stage: &Stage, sketch: &mut Sketch) {
    let points = points::measured(stage);
    let mut with_lines = sketch.clone();
    let (mut left_out, mut lines) = (vec![false; points.len()], 0);
    for axis in 0..stage.study.model().space.axes() {
        let before = with_lines.labels.len();
        let said = dimension(stage, &points, axis, &mut with_lines);
        lines += with_lines.labels.len() - before;
        for (point, left_out) in points.iter().zip(&mut left_out) {
            *left_out |= !said.iter().any(|value| is_same(stage, *value, point[axis]));
        }
    }
    let pairs = points.iter().zip(left_out);
    let left_out: Vec<Point3<f64>> = pairs.filter(|(_, out)| *out).map(|(at, _)| *at).collect();
    let most = 2 * left_out.len() > points.len();
    let with_first = |points: Vec<Point3<f64>>| -> Vec<Point3<f64>> {
        let first = points::held(stage).next();
        let said: Vec<Point3<f64>> = points.into_iter().chain(points::weighed(stage)).collect();
        let first = first.filter(|_| !said.is_empty());
        first.into_iter().chain(said).collect()
    };
    let wanted = with_first(if most { points.clone() } else { left_out });
    let is_thicket = |most: usize| !stage.is_planar() && lines > most;
    let crowded = is_thicket(MOST) || coordinates::are_many(stage, &wanted);
    if crowded && stage.shows(FigurePart::Table) {
        let all = points.into_iter().chain(points::weighed(stage));
        coordinates::in_table(stage, &all.collect::<Vec<_>>(), sketch);
    } else {
        if !most && !is_thicket(MOST_WITHOUT_TABLE) {
            *sketch = with_lines;
        }
        coordinates::letter_ground_ends(stage, sketch);
        if !crowded {
            coordinates::of_points(stage, &wanted, sketch);
        }
    }
    radii::draw(stage, sketch);
    dimension_line::free_overdrawn(sketch);
    if !stage.is_planar() && stage.shows(FigurePart::Table) {
        table::note_slants(stage, sketch);
    }
}

/// Where a dimension line runs: along an axis of the scene, shifted on the page along another.
struct DimensionCourse {
    axis: usize,
    /// A point of the line before it is shifted; the coordinate along the axis does not matter.
    at: Point3<f64>,
    /// The axis along which neither it nor its extension lines run.
    third: usize,
    /// The shift on the page.
    shift: Spot,
}

impl DimensionCourse {
    fn point(&self, value: f64) -> Point3<f64> {
        let mut at = self.at;
        at[self.axis] = value;
        at
    }

    fn spot(&self, stage: &Stage, value: f64) -> Spot {
        step(stage.at(&self.point(value)), self.shift, 1.0)
    }

    /// Where an extension line begins: at the point, or straight beside it on the plane of the line.
    fn foot(&self, point: &Point3<f64>) -> Point3<f64> {
        let mut foot = *point;
        foot[self.third] = self.at[self.third];
        foot
    }

    /// How long the extension line from a point is, on the page; the way to its foot counts more.
    fn detour(&self, stage: &Stage, point: &Point3<f64>) -> f64 {
        const ASIDE: f64 = 3.0;
        let (spot, foot) = (stage.at(point), stage.at(&self.foot(point)));
        let end = self.spot(stage, point[self.axis]);
        ASIDE * length(way(spot, foot)) + length(way(foot, end))
    }

    /// How long its extension lines are.
    fn detours(&self, stage: &Stage, points: &[Point3<f64>]) -> f64 {
        let values = ticks(stage, points, self.axis, |value| self.spot(stage, value));
        let lengths = values.iter().filter_map(|value| {
            let point = self.nearest(stage, points, *value)?;
            Some(self.detour(stage, point))
        });
        lengths.sum()
    }

    /// Of the points at a coordinate, the one from which the extension line is shortest.
    fn nearest<'p>(
        &self,
        stage: &Stage,
        points: &'p [Point3<f64>],
        value: f64,
    ) -> Option<&'p Point3<f64>> {
        let here = points
            .iter()
            .filter(|point| is_same(stage, point[self.axis], value));
        here.min_by(|a, b| self.detour(stage, a).total_cmp(&self.detour(stage, b)))
    }
}

/// Draws the dimensions along an axis; the coordinates that these tell.
fn dimension(stage: &Stage, points: &[Point3<f64>], axis: usize, sketch: &mut Sketch) -> Vec<f64> {
    let Some([low, high]) = box_around(points) else {
        return Vec::new();
    };
    let spots = [low[axis], high[axis]].map(|value| {
        let mut at = low;
        at[axis] = value;
        stage.at(&at)
    });
    if length(way(spots[0], spots[1])) < CLOSEST {
        // Seen end on, an axis is left to another view; one that is merely short has no room.
        let size = (high[axis] - low[axis]) * stage.scale;
        let end_on = size >= CLOSEST || is_same(stage, low[axis], high[axis]);
        return match end_on {
            true => points.iter().map(|point| point[axis]).collect(),
            false => Vec::new(),
        };
    }
    let course = if stage.is_planar() {
        planar_course(stage, [low, high], axis, sketch)
    } else {
        let Some(course) = spatial_course(stage, points, axis, sketch) else {
            return Vec::new();
        };
        course
    };
    let values = ticks(stage, points, axis, |value| course.spot(stage, value));
    let out = unit(course.shift);
    let extensions: Vec<ExtensionLine> = values
        .iter()
        .map(|value| {
            let end = course.spot(stage, *value);
            let point = course.nearest(stage, points, *value);
            let point = point.filter(|_| !stage.is_planar());
            let from = point.map(|point| [*point, course.foot(point)].map(|at| stage.at(&at)));
            ExtensionLine { from, end }
        })
        .collect();
    dimension_line::extensions(stage, &extensions, out, sketch);
    let ends: Vec<Spot> = extensions.iter().map(|extension| extension.end).collect();
    let normal = side(out, turned(unit(way(ends[0], ends[ends.len() - 1]))));
    for (pair, ends) in values.windows(2).zip(ends.windows(2)) {
        let text = wording::length(pair[1] - pair[0], &stage.study.model().units);
        dimension_line::between(stage, [ends[0], ends[1]], text, normal, sketch);
    }
    values
}

/// An axis of the plane is measured below or to the left, whatever stands there.
fn planar_course(
    stage: &Stage,
    [low, high]: [Point3<f64>; 2],
    axis: usize,
    sketch: &Sketch,
) -> DimensionCourse {
    let out = [[0.0, 1.0], [-1.0, 0.0]][axis];
    let reach = |spot: Spot| along(spot, out);
    let place = nalgebra::center(&low, &high);
    let at = Point3::new(
        if axis == 0 { place.x } else { low.x },
        if axis == 1 { place.y } else { low.y },
        low.z,
    );
    let here = reach(stage.at(&at));
    let by = farthest(sketch, &reach).max(here) + OFF - here;
    DimensionCourse {
        axis,
        at,
        third: 2,
        shift: [out[0] * by, out[1] * by],
    }
}

/// In space, of the ways along the other axes the one with the shortest extension lines.
fn spatial_course(
    stage: &Stage,
    points: &[Point3<f64>],
    axis: usize,
    sketch: &Sketch,
) -> Option<DimensionCourse> {
    /// Least sine of the angle between dimension and extension lines on the page.
    const SQUARE: f64 = 0.3;
    /// What a line above the body costs, points: books have them below.
    const OVER: f64 = 40.0;
    let [low, high] = box_around(points)?;
    let line = [low[axis], high[axis]].map(|value| {
        let mut at = low;
        at[axis] = value;
        stage.at(&at)
    });
    let normal = turned(unit(way(line[0], line[1])));
    let outs = [normal, normal.map(|x| -x)];
    let reaches = outs.map(|out| farthest(sketch, &|spot| along(spot, out)));
    let (one, other) = ((axis + 1) % 3, (axis + 2) % 3);
    let mut best: Option<(f64, DimensionCourse)> = None;
    for (extend, third) in [(one, other), (other, one)] {
        for sign in [-1.0, 1.0] {
            let mut towards = Vector3::zeros();
            towards[extend] = sign;
            let seen = unit(stage.direction(&low, &towards));
            let (out, reach) = match along(seen, outs[0]) >= 0.0 {
                true => (outs[0], reaches[0]),
                false => (outs[1], reaches[1]),
            };
            let square = along(seen, out);
            if square < SQUARE {
                continue;
            }
            for level in levels(stage, points, third) {
                let mut at = low;
                at[extend] = if sign < 0.0 { low } else { high }[extend];
                at[third] = level;
                let here = along(stage.at(&at), out);
                let by = (reach.max(here) + OFF - here) / square;
                let course = DimensionCourse {
                    axis,
                    at,
                    third,
                    shift: seen.map(|x| x * by),
                };
                let over = if out[1] < -0.3 { OVER } else { 0.0 };
                let cost = (course.detours(stage, points) + over).round();
                if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                    best = Some((cost, course));
                }
            }
        }
    }
    best.map(|(_, course)| course)
}

/// Different coordinates along an axis, the lowest first; of very many, some.
fn levels(stage: &Stage, points: &[Point3<f64>], axis: usize) -> Vec<f64> {
    let mut levels: Vec<f64> = points.iter().map(|point| point[axis]).collect();
    levels.sort_unstable_by(f64::total_cmp);
    levels.dedup_by(|a, b| is_same(stage, *a, *b));
    let every = levels.len().div_ceil(MOST_LEVELS).max(1);
    levels.into_iter().step_by(every).collect()
}

/// How far a spot or a direction leads along a direction.
fn along(spot: Spot, direction: Spot) -> f64 {
    spot[0] * direction[0] + spot[1] * direction[1]
}

/// A direction or its opposite, whichever leads along another.
fn side(way: Spot, direction: Spot) -> Spot {
    match along(way, direction) < 0.0 {
        true => [-direction[0], -direction[1]],
        false => direction,
    }
}

fn box_around(points: &[Point3<f64>]) -> Option<[Point3<f64>; 2]> {
    let first = *points.first()?;
    let fold = points.iter().fold((first, first), |(low, high), point| {
        (low.inf(point), high.sup(point))
    });
    Some([fold.0, fold.1])
}

/// How far what is drawn reaches in a direction, labels that have their place included.
fn farthest(sketch: &Sketch, reach: &impl Fn(Spot) -> f64) -> f64 {
    let mut most = f64::NEG_INFINITY;
    for shape in &sketch.shapes {
        match &shape.outline {
            PathOutline::Circle { centre, radius } => most = most.max(reach(*centre) + radius),
            PathOutline::Lines(lines) => {
                let points = lines.iter().flat_map(|line| &line.points);
                most = points.fold(most, |most, point| most.max(reach(*point)));
            }
        }
    }
    let corners = labels::fixed_areas(sketch)
        .flat_map(|[low, high]| [low, high, [low[0], high[1]], [high[0], low[1]]]);
    corners.fold(most, |most, corner| most.max(reach(corner)))
}
