//! The map of a scene on paper: over the body's surface and the walls the margin that one more support there would give.
//!
//! Bands between round values go from light to dark, so that they are told apart without colour, with contours between them that
//! bear their values.

use nalgebra::Point3;

use super::map::{FigureMap, draw_with_map};
use super::pens::{Letters, Pens, SMALL, blend};
use super::settings::FigureSettings;
use super::sketch::Spot;
use crate::document;
use crate::drawing::{
    Drawing, Item, PathOutline, PathShape, Polyline, Run, Stroke, Text, reach_above, width,
};
use crate::study::Study;
use crate::sweep::{AddedSupport, MapTriangle, PlacementMap};
use crate::theme::Colour;
use crate::wording::{self, Phrase, phrase};

/// Margins that differ by less than this part are the same.
const ALIKE: f64 = 1e-9;
/// Bands at most.
const MOST_BANDS: f64 = 8.0;
/// Height of a line below the map, and side of a sample of a band, points.
const LINE: f64 = 12.0;
const SAMPLE: f64 = 8.0;

/// The figure of a scene with its map over the body, and a key below.
pub fn placement_figure(study: &Study, settings: &FigureSettings, map: &PlacementMap) -> Drawing {
    let (mut drawing, page) = draw_with_map(study, settings);
    let Some(ends) = map.ends() else {
        return drawing;
    };
    let unit = study.model().units.length.in_metres();
    let painter = MapPainter {
        map,
        page,
        levels: levels(ends.map(|end| end / unit))
            .into_iter()
            .map(|level| level * unit)
            .collect(),
        unit,
        pens: Pens::new(settings.look),
        size: [drawing.width, drawing.height],
    };
    if painter.levels.is_empty() {
        painter.says_nowhere(study, &mut drawing);
        return drawing;
    }
    // The map takes the place of the body's tint; edges, supports and names stay on top of it.
    let is_tint = |item: &Item| matches!(item, Item::Shape(shape) if shape.role == "body" && shape.stroke.is_none());
    let at = drawing.items.iter().position(is_tint);
    drawing.items.retain(|item| !is_tint(item));
    let at = at.unwrap_or(0);
    drawing.items.splice(at..at, painter.surface());
    drawing.items.extend(painter.best());
    painter.key(study, &mut drawing);
    drawing
}

/// Round values that part what lies between two ends into bands.
fn levels([least, greatest]: [f64; 2]) -> Vec<f64> {
    let span = greatest - least;
    if span <= ALIKE * greatest.abs() {
        return Vec::new();
    }
    let power = 10.0_f64.powf((span / MOST_BANDS).log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0].map(|step| step * power);
    let step = steps.into_iter().find(|step| span / step <= MOST_BANDS);
    let step = step.unwrap_or(10.0 * power);
    let first = (least / step).floor() as i64 + 1;
    let values = (first..).map(|count| count as f64 * step);
    values.take_while(|value| *value < greatest).collect()
}

/// Draws a map on the page of a figure.
struct MapPainter<'a> {
    map: &'a PlacementMap,
    page: FigureMap,
    /// The scene's unit of length, m.
    unit: f64,
    levels: Vec<f64>,
    pens: Pens,
    /// Of the page without its key, points.
    size: Spot,
}

/// A corner of a piece of a band: where it lies on the page, and the margin there.
type BandCorner = (Spot, f64);

impl MapPainter<'_> {
    /// Everything that is seen of the surface, what lies behind first.
    fn surface(&self) -> Vec<Item> {
        let nearness = |triangle: &MapTriangle| {
            let corners = triangle
                .corners
                .map(|corner| self.page.nearness(&self.point(corner)));
            corners.iter().sum::<f64>()
        };
        let seen = self
            .map
            .triangles
            .iter()
            .filter(|triangle| self.faces_viewer(triangle));
        let mut seen: Vec<(f64, &MapTriangle)> = seen.map(|one| (nearness(one), one)).collect();
        seen.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut items = Vec::new();
        // The nearest piece of each contour is hidden by nothing.
        let mut labels: Vec<Option<Spot>> = vec![None; self.levels.len()];
        for (_, triangle) in seen {
            let corners = triangle.corners;
            let corners = corners.map(|at| (self.page.spot(&self.point(at)), self.map.margins[at]));
            for band in 0..=self.levels.len() {
                let low = band
                    .checked_sub(1)
                    .map_or(f64::NEG_INFINITY, |below| self.levels[below]);
                let high = self.levels.get(band).copied().unwrap_or(f64::INFINITY);
                let above = clipped(&corners, low, 1.0);
                let piece = clipped(&above, high, -1.0);
                if piece.len() > 2 {
                    items.push(self.piece(&piece, band));
                }
            }
            for (level, label) in self.levels.iter().zip(&mut labels) {
                if let Some(ends) = crossing(&corners, *level) {
                    items.push(stroke(ends, self.pens.edge));
                    *label = Some([0, 1].map(|k| f64::midpoint(ends[0][k], ends[1][k])));
                }
            }
        }
        for (level, label) in self.levels.iter().zip(labels) {
            if let Some(at) = label {
                items.extend(self.plate(at, &self.number(*level)));
            }
        }
        items
    }

    fn point(&self, place: usize) -> Point3<f64> {
        self.map.places[place].point
    }

    /// Walls are seen from both sides, as far as they are on the page; of the body what turns its outside to the viewer.
    fn faces_viewer(&self, triangle: &MapTriangle) -> bool {
        let spots = triangle
            .corners
            .map(|corner| self.page.spot(&self.point(corner)));
        let is_on =
            |[x, y]: &Spot| (0.0..=self.size[0]).contains(x) && (0.0..=self.size[1]).contains(y);
        if triangle.is_wall && !spots.iter().all(is_on) {
            return false;
        }
        let [a, b, c] = spots;
        // Down is positive on a page.
        let turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        turn < 0.0 || triangle.is_wall && turn != 0.0
    }

    fn piece(&self, corners: &[BandCorner], band: usize) -> Item {
        let points: Vec<Spot> = corners.iter().map(|(spot, _)| *spot).collect();
        let colour = self.colour(band);
        Item::Shape(PathShape {
            role: "map",
            outline: PathOutline::Lines(vec![Polyline::closed(points)]),
            // Else the paper shows between neighbours.
            stroke: Some(Stroke {
                width: 0.25,
                colour,
                dash: &[],
            }),
            fill: Some(colour),
        })
    }

    /// From light for the least margins to dark for the greatest.
    fn colour(&self, band: usize) -> Colour {
        let part = band as f64 / self.levels.len().max(1) as f64;
        blend(
            self.pens.reaction.colour,
            self.pens.paper,
            0.92 - 0.72 * part,
        )
    }

    fn number(&self, margin: f64) -> Vec<Run> {
        Run::plain(wording::number(margin / self.unit).to_string())
    }

    /// A value on a plate of paper, its middle at a spot.
    fn plate(&self, at: Spot, runs: &[Run]) -> [Item; 2] {
        let wide = width(runs, SMALL.size, SMALL.weight);
        let tall = reach_above(runs, SMALL.weight) * SMALL.size;
        let [x, y] = [at[0] - wide / 2.0, at[1] + tall / 2.0];
        let (left, right, top, bottom) = (x - 1.0, x + wide + 1.0, y - tall - 1.0, y + 1.0);
        let corners = [[left, top], [right, top], [right, bottom], [left, bottom]];
        let plate = Item::Shape(PathShape {
            role: "plate",
            outline: PathOutline::Lines(vec![Polyline::closed(corners)]),
            stroke: None,
            fill: Some(self.pens.paper),
        });
        [plate, self.text(runs.to_vec(), [x, y], SMALL)]
    }

    /// A ring around the best place, where it is seen.
    fn best(&self) -> Option<Item> {
        let best = self.map.best()?;
        let is_seen = |triangle: &&MapTriangle| triangle.corners.contains(&best);
        let mut around = self.map.triangles.iter().filter(is_seen);
        around.any(|triangle| self.faces_viewer(triangle)).then(|| {
            Item::Shape(PathShape {
                role: "best",
                outline: PathOutline::Circle {
                    centre: self.page.spot(&self.point(best)),
                    radius: 4.0,
                },
                stroke: Some(self.pens.load),
                fill: None,
            })
        })
    }

    /// That no place is better than another, below everything.
    fn says_nowhere(&self, study: &Study, drawing: &mut Drawing) {
        let margin = |metres: f64| wording::length(metres, &study.model().units);
        let (written, found) = (self.map.as_written, self.map.margins[0]);
        let added = match self.map.added {
            AddedSupport::Anchor => "One more anchor",
            AddedSupport::Link => "One more link, square to the surface,",
        };
        let said = match (found - written).abs() <= ALIKE * found.abs() {
            true => phrase!(
                added,
                " changes the margin nowhere: it is ",
                margin(found),
                "."
            ),
            false => phrase!(
                added,
                " gives the same margin wherever it stands, ",
                margin(found),
                "; as written it is ",
                margin(written),
                "."
            ),
        };
        let mut y = drawing.height + LINE;
        for line in document::wrapped(&said, SMALL.size, SMALL.weight, drawing.width) {
            drawing.items.push(self.text(line, [0.0, y], SMALL));
            y += LINE;
        }
        drawing.height = y - LINE + 4.0;
    }

    /// What the bands mean, below everything.
    fn key(&self, study: &Study, drawing: &mut Drawing) {
        let model = study.model();
        let margin = |metres: f64| wording::length(metres, &model.units);
        let mut y = drawing.height + LINE;
        let added = match self.map.added {
            AddedSupport::Anchor => "Margin with one more anchor there",
            AddedSupport::Link => "Margin with one more link there, square to the surface",
        };
        let title = phrase!(added, "; as written ", margin(self.map.as_written));
        for line in document::wrapped(&title, SMALL.size, SMALL.weight, drawing.width) {
            drawing.items.push(self.text(line, [0.0, y], SMALL));
            y += LINE;
        }
        let mut x = 0.0;
        for band in 0..=self.levels.len() {
            let said = match (band.checked_sub(1), self.levels.get(band)) {
                (None, Some(high)) => phrase!("below ", margin(*high)),
                (Some(low), Some(high)) => {
                    phrase!(self.plain(self.levels[low]), " to ", margin(*high))
                }
                (Some(low), None) => phrase!("above ", margin(self.levels[low])),
                (None, None) => Phrase::new(),
            };
            let runs = document::runs(&said);
            let wide = SAMPLE + 3.0 + width(&runs, SMALL.size, SMALL.weight);
            if x > 0.0 && x + wide > drawing.width {
                (x, y) = (0.0, y + LINE);
            }
            let corners = [
                [x, y - SAMPLE],
                [x + SAMPLE, y - SAMPLE],
                [x + SAMPLE, y],
                [x, y],
            ];
            drawing.items.push(Item::Shape(PathShape {
                role: "key",
                outline: PathOutline::Lines(vec![Polyline::closed(corners)]),
                stroke: Some(self.pens.hatch),
                fill: Some(self.colour(band)),
            }));
            drawing
                .items
                .push(self.text(runs, [x + SAMPLE + 3.0, y - 1.0], SMALL));
            x += wide + 9.0;
        }
        y += LINE;
        if let Some(best) = self.map.best() {
            let at = wording::point(model, &self.point(best));
            let said = phrase!(
                "Greatest: ",
                margin(self.map.margins[best]),
                " at ",
                at,
                ", ringed where it is seen"
            );
            for line in document::wrapped(&said, SMALL.size, SMALL.weight, drawing.width) {
                drawing.items.push(self.text(line, [0.0, y], SMALL));
                y += LINE;
            }
        }
        drawing.height = y - LINE + 4.0;
    }

    fn plain(&self, margin: f64) -> Phrase {
        Phrase::from(wording::Quantity::from(wording::number(margin / self.unit)))
    }

    fn text(&self, runs: Vec<Run>, at: Spot, letters: Letters) -> Item {
        Item::Text(Text {
            role: "key",
            at,
            runs,
            size: letters.size,
            weight: letters.weight,
            colour: self.pens.ink,
        })
    }
}

/// The part of a polygon in which the margin is above a level, or below it for a side of −1.
fn clipped(corners: &[BandCorner], level: f64, side: f64) -> Vec<BandCorner> {
    if level.is_infinite() {
        return corners.to_vec();
    }
    let beyond = |corner: &BandCorner| (corner.1 - level) * side;
    let mut kept = Vec::with_capacity(corners.len() + 1);
    for (index, corner) in corners.iter().enumerate() {
        let next = &corners[(index + 1) % corners.len()];
        let (own, other) = (beyond(corner), beyond(next));
        if own >= 0.0 {
            kept.push(*corner);
        }
        if own * other < 0.0 {
            kept.push(between(corner, next, own / (own - other)));
        }
    }
    kept
}

fn between(from: &BandCorner, to: &BandCorner, part: f64) -> BandCorner {
    let spot = [0, 1].map(|k| from.0[k] + (to.0[k] - from.0[k]) * part);
    (spot, from.1 + (to.1 - from.1) * part)
}

/// Where a level crosses a triangle.
fn crossing(corners: &[BandCorner; 3], level: f64) -> Option<[Spot; 2]> {
    let mut spots = Vec::with_capacity(2);
    for (index, corner) in corners.iter().enumerate() {
        let next = &corners[(index + 1) % 3];
        let (own, other) = (corner.1 - level, next.1 - level);
        if (own >= 0.0) != (other >= 0.0) {
            spots.push(between(corner, next, own / (own - other)).0);
        }
    }
    spots.try_into().ok()
}

fn stroke(ends: [Spot; 2], stroke: Stroke) -> Item {
    Item::Shape(PathShape {
        role: "contour",
        outline: PathOutline::Lines(vec![Polyline::open(ends)]),
        stroke: Some(stroke),
        fill: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_are_round_and_part_what_lies_between_the_ends() {
        let near = |found: Vec<f64>, expected: &[f64]| {
            assert_eq!(found.len(), expected.len(), "{found:?}");
            assert!(
                found
                    .iter()
                    .zip(expected)
                    .all(|(x, y)| (x - y).abs() < 1e-12),
                "{found:?}"
            );
        };
        near(levels([0.12, 0.58]), &[0.2, 0.3, 0.4, 0.5]);
        near(levels([0.0, 1.0]), &[0.2, 0.4, 0.6, 0.8]);
        near(levels([3.0, 3.0]), &[]);
        near(levels([-0.0, 7e-4]), &[1e-4, 2e-4, 3e-4, 4e-4, 5e-4, 6e-4]);
    }

    /// Bands of a triangle cover it without gaps, and a contour lies on its level.
    #[test]
    fn bands_cover_a_triangle() {
        let corners = [([0.0, 0.0], 0.0), ([4.0, 0.0], 1.0), ([0.0, 3.0], 0.4)];
        let area = |corners: &[BandCorner]| {
            let pairs =
                (0..corners.len()).map(|i| (corners[i].0, corners[(i + 1) % corners.len()].0));
            pairs.map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
        };
        let levels = [f64::NEG_INFINITY, 0.2, 0.4, 0.7, f64::INFINITY];
        let bands = levels
            .windows(2)
            .map(|ends| clipped(&clipped(&corners, ends[0], 1.0), ends[1], -1.0));
        let sum: f64 = bands.map(|band| area(&band)).sum();
        assert!((sum - 6.0).abs() < 1e-12);
        let [a, b] = crossing(&corners, 0.2).unwrap();
        // The margin is x/4 + 0.4 y/3.
        for [x, y] in [a, b] {
            assert!((x / 4.0 + 0.4 * y / 3.0 - 0.2).abs() < 1e-12);
        }
        assert_eq!(crossing(&corners, 1.5), None);
    }
}
