//! Diagrams of what bars carry: axial force, shear force, bending moment and torque along each, one below the other.

use super::pens::{Letters, NAME, Pens, SMALL, VALUE};
use super::settings::FigureColours;
use super::sketch::Spot;
use crate::document::{DocumentFigure, runs};
use crate::drawing::{
    Drawing, Item, POINTS_PER_MM, PathOutline, PathShape, Polyline, Run, Stroke, Text,
};
use crate::elastic::{BarFrame, FrameAnswer, SectionForces, SectionMeasure};
use crate::scene::Space;
use crate::statics::{CaseIndex, Model};
use crate::study::Study;
use crate::wording::{self, Phrase, phrase};

/// Width of a sheet of diagrams, mm.
const WIDTH_MM: f64 = 120.0;
/// Most bars that have diagrams: more fill a report.
pub const MOST_BARS: usize = 12;
/// Height of one diagram and the room between two, points.
const HEIGHT: f64 = 44.0;
const BETWEEN: f64 = 14.0;
/// Room for the names on the left, and around everything, points.
const LEFT: f64 = 58.0;
const AROUND: f64 = 6.0;

/// The diagrams of each bar under a load case, or under the one that stresses the bars hardest: of up to [`MOST_BARS`] bars, those that
/// are stressed hardest. None where the bars do not bend or no answer is known.
pub fn diagrams(study: &Study, case: Option<CaseIndex>, digits: i32) -> Vec<DocumentFigure> {
    let Some(frame) = study.frame() else {
        return Vec::new();
    };
    let cases = study.model().cases.indices();
    let asked = cases.filter(|index| case.is_none_or(|case| case == *index));
    let solved = asked.filter_map(|index| Some((index, frame.cases[index].answer()?)));
    let stress = |answer: &FrameAnswer| {
        let most = frame.largest(answer, SectionMeasure::Stress);
        most.map_or(0.0, |most| most.value)
    };
    // Of cases that are alike the first.
    let hardest = solved.reduce(|one, next| match stress(next.1) > stress(one.1) {
        true => next,
        false => one,
    });
    let Some((case, answer)) = hardest else {
        return Vec::new();
    };
    let sheet = |bar: usize| {
        let sheet = DiagramSheet {
            model: study.model(),
            frame,
            answer,
            bar,
            digits,
            pens: Pens::new(FigureColours::default()),
        };
        DocumentFigure {
            caption: sheet.caption(case),
            drawing: sheet.drawing(case),
        }
    };
    let bars = hardest_bars(frame, answer);
    bars.into_iter().map(sheet).collect()
}

/// The bars that have diagrams, in their order.
fn hardest_bars(frame: &BarFrame, answer: &FrameAnswer) -> Vec<usize> {
    let stress = |bar: &usize| {
        let most = frame.largest_in(answer, *bar, SectionMeasure::Stress);
        most.map_or(0.0, |most| most.value)
    };
    let mut bars: Vec<usize> = (0..frame.bars.len()).collect();
    bars.sort_by(|a, b| stress(b).total_cmp(&stress(a)));
    bars.truncate(MOST_BARS);
    bars.sort_unstable();
    bars
}

/// The diagrams of one bar.
struct DiagramSheet<'a> {
    model: &'a Model,
    frame: &'a BarFrame,
    answer: &'a FrameAnswer,
    bar: usize,
    digits: i32,
    pens: Pens,
}

/// What one diagram shows.
struct Diagram {
    symbol: &'static str,
    measure: SectionMeasure,
    value: fn(&SectionForces, Space) -> f64,
}

/// In the plane shear and bending have a sign, in space they are sizes.
const DIAGRAMS: [Diagram; 4] = [
    Diagram {
        symbol: "N",
        measure: SectionMeasure::Axial,
        value: |section, _| section.axial,
    },
    Diagram {
        symbol: "V",
        measure: SectionMeasure::Shear,
        value: |section, space| match space {
            Space::Spatial => section.shear.norm(),
            // Along the bar turned by a quarter, anticlockwise.
            Space::Planar => {
                section.direction.x * section.shear.y - section.direction.y * section.shear.x
            }
        },
    },
    Diagram {
        symbol: "M",
        measure: SectionMeasure::Bending,
        value: |section, space| match space {
            Space::Spatial => section.bending.norm(),
            Space::Planar => section.bending.z,
        },
    },
    Diagram {
        symbol: "T",
        measure: SectionMeasure::Torque,
        value: |section, _| section.torque,
    },
];

impl DiagramSheet<'_> {
    fn caption(&self, case: CaseIndex) -> Phrase {
        let bar = wording::bar_name(&self.frame.bars[self.bar]);
        let signs = match self.model.space {
            Space::Spatial => "shear and bending as sizes",
            Space::Planar => {
                "the shear force positive to the left of the way along the bar, the moment anticlockwise, both from what follows"
            }
        };
        let of = match self.model.cases.len() {
            1 => Phrase::new(),
            _ => phrase!(", ", Phrase::name(&self.model.cases[case].name)),
        };
        phrase!(
            bar,
            of,
            ": axial force, positive in tension, shear force, bending moment",
            (self.model.space == Space::Spatial).then_some(", torque"),
            " along it; ",
            signs,
            "."
        )
    }

    fn drawing(&self, case: CaseIndex) -> Drawing {
        let shown = DIAGRAMS.iter().filter(|diagram| {
            self.model.space == Space::Spatial || diagram.measure != SectionMeasure::Torque
        });
        let mut items = Vec::new();
        let mut top = AROUND;
        for diagram in shown {
            self.diagram(diagram, top, &mut items);
            top += HEIGHT + BETWEEN;
        }
        let caption = self.caption(case).to_string();
        Drawing {
            width: WIDTH_MM * POINTS_PER_MM,
            height: top - BETWEEN + AROUND,
            title: wording::bar_name(&self.frame.bars[self.bar]).to_string(),
            description: caption,
            items,
        }
    }

    /// One diagram between two depths.
    fn diagram(&self, diagram: &Diagram, top: f64, items: &mut Vec<Item>) {
        let sections = &self.answer.sections[self.bar];
        let value = |section: &SectionForces| (diagram.value)(section, self.model.space);
        let values: Vec<f64> = sections.iter().map(value).collect();
        let span = |from: f64, to: f64| [from.min(to), from.max(to)];
        let [low, high] = values.iter().fold([0.0, 0.0], |[low, high], value| {
            [span(low, *value)[0], span(high, *value)[1]]
        });
        let is_shown = high > low;
        let height = if is_shown { high - low } else { 1.0 };
        let zero = match is_shown {
            true => top + HEIGHT * high / height,
            false => top + HEIGHT / 2.0,
        };
        let right = WIDTH_MM * POINTS_PER_MM - AROUND;
        let long = self.frame.bars[self.bar].length;
        let x = |along: f64| LEFT + (right - LEFT) * along / long;
        if is_shown {
            let curve = sections.iter().zip(&values);
            let curve: Vec<Spot> = curve
                .map(|(section, value)| [x(section.along), zero - HEIGHT * value / height])
                .collect();
            let mut area = vec![[LEFT, zero]];
            area.extend(&curve);
            area.push([right, zero]);
            items.push(Item::Shape(PathShape {
                role: "diagram",
                outline: PathOutline::Lines(vec![Polyline {
                    closed: true,
                    ..Polyline::open(area)
                }]),
                stroke: None,
                fill: Some(self.pens.body),
            }));
            items.push(line(curve, self.pens.edge));
        }
        items.push(line(vec![[LEFT, zero], [right, zero]], self.pens.dimension));
        let middle = top + HEIGHT / 2.0;
        self.text(
            Run::italic(diagram.symbol),
            NAME,
            [AROUND, middle - 3.0],
            items,
        );
        let largest = self
            .frame
            .largest_in(self.answer, self.bar, diagram.measure);
        if let Some(largest) = largest.filter(|_| is_shown) {
            let written = self.written(diagram.measure, largest.value);
            self.text(written, VALUE, [AROUND, middle + 7.0], items);
            let place = wording::length(largest.section.along, &self.model.units);
            let place = self.runs(&phrase!("at ", place));
            self.text(place, SMALL, [AROUND, middle + 16.0], items);
        }
    }

    fn written(&self, measure: SectionMeasure, value: f64) -> Vec<Run> {
        let units = &self.model.units;
        let quantity = match measure {
            SectionMeasure::Axial | SectionMeasure::Shear => wording::force(value, units),
            _ => wording::couple(value, units),
        };
        self.runs(&quantity.into())
    }

    fn runs(&self, phrase: &Phrase) -> Vec<Run> {
        runs(&phrase.with_digits(self.digits))
    }

    fn text(&self, runs: Vec<Run>, letters: Letters, at: Spot, items: &mut Vec<Item>) {
        items.push(Item::Text(Text {
            role: "diagram",
            at,
            runs,
            size: letters.size,
            weight: letters.weight,
            colour: self.pens.ink,
        }));
    }
}

fn line(points: Vec<Spot>, stroke: Stroke) -> Item {
    Item::Shape(PathShape {
        role: "diagram",
        outline: PathOutline::Lines(vec![Polyline::open(points)]),
        stroke: Some(stroke),
        fill: None,
    })
}
