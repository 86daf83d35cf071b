//! A load case laid on bars: what acts on nodes, at stations and along elements.

use nalgebra::{Matrix3, Point3, SymmetricEigen, Vector3};

use super::curve::BarPlace;
use super::layout::BarLayout;
use super::span::{SpanLoads, SpreadLoad};
use crate::statics::{AppliedLoad, LoadCase, Wrench};

/// What a load case does to the bars.
pub(super) struct BarLoads {
    /// On each node, about it.
    pub(super) nodes: Vec<Wrench>,
    /// On each span.
    pub(super) spans: Vec<SpanLoads>,
}

/// Parts of a segment at which the bars under it are looked for.
const SAMPLES: usize = 32;
/// Places closer together than this part of a bar's length are one.
const SAME: f64 = 1e-6;

/// The places at which a load has to have a station.
pub(super) fn places(load: &AppliedLoad) -> Vec<Point3<f64>> {
    match load {
        AppliedLoad::Force { at, .. } => vec![*at],
        AppliedLoad::Weight { at, is_spread, .. } => match is_spread {
            true => Vec::new(),
            false => vec![*at],
        },
        AppliedLoad::Couple { at, .. } => at.iter().copied().collect(),
        AppliedLoad::Distributed { ends, .. } => ends.to_vec(),
        AppliedLoad::Line { path, .. } => path.to_vec(),
        AppliedLoad::Area { .. } => load.resultants().iter().map(|part| part.at).collect(),
    }
}

impl BarLoads {
    pub(super) fn of(layout: &BarLayout, case: &LoadCase) -> Self {
        let sized = layout.spans.iter().map(|span| {
            let count = span.stations[1] - span.stations[0];
            SpanLoads {
                spread: vec![SpreadLoad::default(); count],
                points: vec![Wrench::default(); count],
            }
        });
        let mut loads = Self {
            nodes: vec![Wrench::default(); layout.nodes.len()],
            spans: sized.collect(),
        };
        for load in &case.loads {
            loads.lay(layout, load);
        }
        loads
    }

    fn lay(&mut self, layout: &BarLayout, load: &AppliedLoad) {
        match load {
            AppliedLoad::Force { at, force } => self.force(layout, at, force),
            AppliedLoad::Weight {
                at,
                force,
                is_spread: false,
                ..
            } => self.force(layout, at, force),
            AppliedLoad::Weight { at, force, .. } => self.own_weight(layout, at, force),
            // Reading refuses one without a place.
            AppliedLoad::Couple { at, moment } => {
                let place = layout.nearest(&at.unwrap_or(layout.nodes[0]));
                self.point(layout, place, &Wrench::of_couple(*moment));
            }
            AppliedLoad::Distributed { ends, densities } => {
                self.distributed(layout, ends, densities);
            }
            AppliedLoad::Line { path, density, .. } => {
                for ends in path.windows(2) {
                    self.distributed(layout, &[ends[0], ends[1]], &[*density; 2]);
                }
            }
            // A face is no bar: what is on it hangs on the nearest one.
            AppliedLoad::Area { .. } => {
                for part in load.resultants() {
                    self.force(layout, &part.at, &part.force);
                }
            }
        }
    }

    fn force(&mut self, layout: &BarLayout, at: &Point3<f64>, force: &Vector3<f64>) {
        let place = layout.nearest(at);
        let wrench = Wrench::of_force(*force, at, &layout.point(place));
        self.point(layout, place, &wrench);
    }

    /// What acts at the station of a place, about it.
    fn point(&mut self, layout: &BarLayout, place: BarPlace, wrench: &Wrench) {
        let bar = &layout.bars[place.bar];
        let station = bar.station(place.along);
        if let Some(grip) = bar.grips[station] {
            let node = layout.nodes[grip.node];
            let own = &mut self.nodes[grip.node];
            *own = *own + wrench.about(&bar.points[station], &node);
        } else if let Some((span, element)) = layout.element(place.bar, station) {
            let own = &mut self.spans[span].points[element];
            *own = *own + *wrench;
        }
    }

    fn spread(&mut self, layout: &BarLayout, bar: usize, station: usize, load: &SpreadLoad) {
        if let Some((span, element)) = layout.element(bar, station) {
            self.spans[span].spread[element].add(load);
        }
    }

    /// The weight of the bars, as their drawn volume lies along their centre lines, leaning by what the centre of the shapes lies
    /// beside the centre of those lines: the sum is the weight at the centre of the shapes.
    fn own_weight(&mut self, layout: &BarLayout, at: &Point3<f64>, force: &Vector3<f64>) {
        let elements = heavy_elements(layout);
        let volume: f64 = elements.iter().map(|element| element.volume).sum();
        let middle = elements.iter().fold(Vector3::zeros(), |sum, element| {
            sum + nalgebra::center(&element.ends[0], &element.ends[1]).coords * element.volume
        });
        let middle = Point3::from(middle / volume);
        let spread = elements.iter().fold(Matrix3::zeros(), |sum, element| {
            let [from, to] = element.ends.map(|end| end - middle);
            let half = (from + to) / 2.0;
            let way = to - from;
            sum + (half * half.transpose() + way * way.transpose() / 12.0) * element.volume
        }) / volume;
        let off = at - middle;
        let lean = solved(&spread, &off);
        let rest = (off - spread * lean).cross(force);
        for element in elements {
            let [from, to] = element.ends;
            let share = element.volume / volume / (to - from).norm();
            let load = SpreadLoad {
                force: [
                    force * (share * (1.0 + lean.dot(&(from - middle)))),
                    force * (share * lean.dot(&(to - from))),
                ],
                moment: [rest * share, Vector3::zeros(), Vector3::zeros()],
            };
            self.spread(layout, element.bar, element.station, &load);
        }
    }

    fn distributed(
        &mut self,
        layout: &BarLayout,
        ends: &[Point3<f64>; 2],
        densities: &[Vector3<f64>; 2],
    ) {
        let way = ends[1] - ends[0];
        let cuts = cuts(layout, ends);
        for pair in cuts.windows(2) {
            let at = |part: f64| ends[0] + way * part;
            let density = |part: f64| densities[0] + (densities[1] - densities[0]) * part;
            let piece = LoadPiece {
                ends: [at(pair[0]), at(pair[1])],
                densities: [density(pair[0]), density(pair[1])],
            };
            self.piece(layout, &piece);
        }
    }

    /// A piece of a distributed load that one element, or one station, is nearest to.
    fn piece(&mut self, layout: &BarLayout, piece: &LoadPiece) {
        let [from, to] = piece.ends;
        let place = layout.nearest(&nalgebra::center(&from, &to));
        let bar = &layout.bars[place.bar];
        let length = bar.curve.length();
        let [first, last] = [from, to].map(|end| bar.curve.nearest(&end).0);
        let is_still = (first - last).abs() <= SAME * length;
        let element = bar.element_at(place.along);
        if is_still {
            let station = bar.points[bar.station(place.along)];
            self.point(layout, place, &piece.wrench(&station));
            return;
        }
        let load = piece.along([bar.points[element], bar.points[element + 1]], first > last);
        self.spread(layout, place.bar, element, &load);
    }
}

/// A piece of a distributed load.
struct LoadPiece {
    ends: [Point3<f64>; 2],
    densities: [Vector3<f64>; 2],
}

impl LoadPiece {
    fn wrench(&self, about: &Point3<f64>) -> Wrench {
        AppliedLoad::Distributed {
            ends: self.ends,
            densities: self.densities,
        }
        .wrench(about)
    }

    /// The same along an element, or against it: of the same sum, on rigid arms between both.
    fn along(&self, element: [Point3<f64>; 2], is_backwards: bool) -> SpreadLoad {
        let [from, to] = match is_backwards {
            true => [1, 0],
            false => [0, 1],
        };
        let ratio = (self.ends[1] - self.ends[0]).norm() / (element[1] - element[0]).norm();
        let [start, end] = [from, to].map(|i| self.densities[i] * ratio);
        let arm = self.ends[from] - element[0];
        let opening = (self.ends[to] - element[1]) - arm;
        let change = end - start;
        SpreadLoad {
            force: [start, change],
            moment: [
                arm.cross(&start),
                arm.cross(&change) + opening.cross(&start),
                opening.cross(&change),
            ],
        }
    }
}

/// Parts of a segment between which one element is nearest, from 0 to 1.
fn cuts(layout: &BarLayout, ends: &[Point3<f64>; 2]) -> Vec<f64> {
    let way = ends[1] - ends[0];
    let sampled = (0..=SAMPLES).map(|i| i as f64 / SAMPLES as f64);
    let mut bars: Vec<usize> = sampled
        .map(|part| layout.nearest(&(ends[0] + way * part)).bar)
        .collect();
    bars.sort_unstable();
    bars.dedup();
    let mut cuts = vec![0.0, 1.0];
    for index in bars {
        let bar = &layout.bars[index];
        for (station, pair) in bar.points.windows(2).enumerate() {
            let along = pair[1] - pair[0];
            for (end, s) in pair.iter().zip(&bar.along[station..]) {
                // Where the foot of the perpendicular on the element is its end.
                let part = (end - ends[0]).dot(&along) / way.dot(&along);
                let is_within = part > 0.0 && part < 1.0;
                let foot = || bar.curve.nearest(&(ends[0] + way * part)).0;
                if is_within && (foot() - s).abs() <= SAME * bar.curve.length() {
                    cuts.push(part);
                }
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|next, kept| *next - *kept <= SAME);
    if let Some(last) = cuts.last_mut() {
        *last = 1.0;
    }
    cuts
}

/// An element with the volume that is drawn of it.
struct HeavyElement {
    bar: usize,
    station: usize,
    ends: [Point3<f64>; 2],
    volume: f64,
}

fn heavy_elements(layout: &BarLayout) -> Vec<HeavyElement> {
    let mut all = Vec::new();
    for (bar, laid) in layout.bars.iter().enumerate() {
        let section = laid.curve.line.radius.powi(2);
        for (station, ends) in laid.points.windows(2).enumerate() {
            all.push(HeavyElement {
                bar,
                station,
                ends: [ends[0], ends[1]],
                volume: section * (laid.along[station + 1] - laid.along[station]),
            });
        }
    }
    all
}

/// The smallest vector that a symmetric matrix turns into another, as far as it can.
fn solved(matrix: &Matrix3<f64>, to: &Vector3<f64>) -> Vector3<f64> {
    let eigen = SymmetricEigen::new(*matrix);
    let floor = SAME * SAME * eigen.eigenvalues.amax();
    let parts = eigen
        .eigenvalues
        .iter()
        .zip(eigen.eigenvectors.column_iter());
    let counted = parts.filter(|(value, _)| **value > floor);
    counted.fold(Vector3::zeros(), |sum, (value, vector)| {
        sum + vector * (vector.dot(to) / value)
    })
}
