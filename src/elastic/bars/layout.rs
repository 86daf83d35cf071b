//! Bars as chains of straight elements between nodes: where bars are joined, held and end.
//!
//! Bars are joined where an end of one lies within another, and where both have a point of their paths at the same place. All
//! points that are joined move as one rigid node; what holds or loads a bar beside its centre line is joined to the
//! nearest point of it by a rigid arm.

use nalgebra::{Point3, Vector3};

use super::curve::{BarCurve, BarPlace};
use super::stiffness::BarStiffness;
use crate::scene::solid::CentreLinePiece;

/// Most that a bend turns within one straight element, rad: 24 of them make a quarter of a circle.
const BEND_STEP: f64 = std::f64::consts::PI / 48.0;
/// Places closer together than this part of a bar's length are one.
const SAME: f64 = 1e-9;
/// Paths meet where they come as near as this part of the larger bar's length.
const MEETING: f64 = 1e-6;

/// A bar with its stations: ends of elements, places of loads, nodes.
pub(super) struct LaidBar {
    pub(super) curve: BarCurve,
    pub(super) stiffness: BarStiffness,
    /// Arc length of each station, ascending, m.
    pub(super) along: Vec<f64>,
    /// Where each station is, m.
    pub(super) points: Vec<Point3<f64>>,
    /// How each station that belongs to a node hangs on it.
    pub(super) grips: Vec<Option<Grip>>,
}

/// A point that a node moves with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grip {
    /// Which node.
    pub(super) node: usize,
    /// From the node to the point, m.
    pub(super) arm: Vector3<f64>,
}

/// The elements of a bar from one node to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct BarSpan {
    pub(super) bar: usize,
    /// Stations of the bar at its ends.
    pub(super) stations: [usize; 2],
    pub(super) grips: [Grip; 2],
}

/// All bars, cut into spans between nodes.
pub(super) struct BarLayout {
    pub(super) bars: Vec<LaidBar>,
    /// Where each node is, m.
    pub(super) nodes: Vec<Point3<f64>>,
    pub(super) spans: Vec<BarSpan>,
}

/// Two places that are joined.
pub(super) type Joint = [BarPlace; 2];

impl BarLayout {
    /// Lays out bars that are held at some places and carry loads at others.
    pub(super) fn new(
        bars: Vec<(BarCurve, BarStiffness)>,
        held: &[BarPlace],
        loaded: &[BarPlace],
    ) -> Self {
        let joints = joints(&bars);
        let joined = joints.iter().flatten();
        let places: Vec<BarPlace> = joined.chain(held).copied().collect();
        let mut laid: Vec<LaidBar> = Vec::with_capacity(bars.len());
        for (index, (curve, stiffness)) in bars.into_iter().enumerate() {
            let here = |all: &[BarPlace]| -> Vec<f64> {
                let own = all.iter().filter(|place| place.bar == index);
                own.map(|place| place.along).collect()
            };
            laid.push(LaidBar::new(
                curve,
                stiffness,
                &here(&places),
                &here(loaded),
            ));
        }
        let groups = groups(&laid, &joints);
        let nodes = hang(&mut laid, &groups);
        let spans = spans(&laid);
        Self {
            bars: laid,
            nodes,
            spans,
        }
    }

    /// The place of the bars nearest to a point.
    pub(super) fn nearest(&self, to: &Point3<f64>) -> BarPlace {
        nearest(self.bars.iter().map(|bar| &bar.curve), to)
    }

    /// Where a place is.
    pub(super) fn point(&self, place: BarPlace) -> Point3<f64> {
        let bar = &self.bars[place.bar];
        bar.points[bar.station(place.along)]
    }

    /// The grip of a place that a node moves with.
    pub(super) fn grip(&self, place: BarPlace) -> Option<Grip> {
        let bar = &self.bars[place.bar];
        bar.grips[bar.station(place.along)]
    }

    /// The span and its element that begins at a station of a bar; `None` at the end of the bar.
    pub(super) fn element(&self, bar: usize, station: usize) -> Option<(usize, usize)> {
        let after = |span: &BarSpan| (span.bar, span.stations[0]) <= (bar, station);
        let index = self.spans.partition_point(after).checked_sub(1)?;
        let span = &self.spans[index];
        let is_within = span.bar == bar && station < span.stations[1];
        is_within.then(|| (index, station - span.stations[0]))
    }

    /// Bars that hang together with none of those before them, the first apart.
    pub(super) fn apart(&self) -> Vec<usize> {
        let mut sets = DisjointSets::new(self.nodes.len());
        for span in &self.spans {
            sets.join(span.grips[0].node, span.grips[1].node);
        }
        let mut seen = Vec::new();
        let mut first = Vec::new();
        for span in &self.spans {
            let set = sets.find(span.grips[0].node);
            if !seen.contains(&set) {
                seen.push(set);
                first.push(span.bar);
            }
        }
        first
    }
}

/// The place of some bars nearest to a point: that of the bar whose surface is nearest.
pub(super) fn nearest<'a>(
    curves: impl Iterator<Item = &'a BarCurve>,
    to: &Point3<f64>,
) -> BarPlace {
    let found = curves.enumerate().map(|(bar, curve)| {
        let (along, distance) = curve.nearest(to);
        (BarPlace { bar, along }, distance - curve.line.radius)
    });
    let nearest = found.min_by(|one, other| one.1.total_cmp(&other.1));
    nearest.map_or(BarPlace { bar: 0, along: 0.0 }, |(place, _)| place)
}

impl LaidBar {
    fn new(curve: BarCurve, stiffness: BarStiffness, nodes: &[f64], loads: &[f64]) -> Self {
        let length = curve.length();
        let mut along: Vec<f64> = nodes.iter().chain(loads).copied().collect();
        along.extend(&curve.starts);
        for (piece, start) in curve.line.pieces.iter().zip(&curve.starts) {
            if let CentreLinePiece::Bend { angle, .. } = piece {
                let steps = (angle / BEND_STEP).ceil();
                let step = piece.length() / steps;
                along.extend((1..steps as usize).map(|i| start + step * i as f64));
            }
        }
        along.sort_by(f64::total_cmp);
        along.dedup_by(|next, kept| *next - *kept <= SAME * length);
        let points: Vec<Point3<f64>> = along.iter().map(|s| curve.point(*s)).collect();
        let mut bar = Self {
            grips: vec![None; along.len()],
            curve,
            stiffness,
            along,
            points,
        };
        for place in nodes.iter().copied().chain([0.0, length]) {
            let station = bar.station(place);
            bar.grips[station] = Some(Grip {
                node: 0,
                arm: Vector3::zeros(),
            });
        }
        bar
    }

    /// The element that an arc length lies on, by the station at which it begins.
    pub(super) fn element_at(&self, along: f64) -> usize {
        let after = self.along.partition_point(|s| *s <= along);
        after.clamp(1, self.along.len() - 1) - 1
    }

    /// The station at an arc length at which there is one.
    pub(super) fn station(&self, along: f64) -> usize {
        let after = self.along.partition_point(|s| *s < along);
        let near = [after.saturating_sub(1), after.min(self.along.len() - 1)];
        let off = |i: usize| (self.along[i] - along).abs();
        if off(near[0]) <= off(near[1]) {
            near[0]
        } else {
            near[1]
        }
    }
}

/// Where bars are joined.
fn joints(bars: &[(BarCurve, BarStiffness)]) -> Vec<Joint> {
    let mut found = Vec::new();
    for (bar, (curve, _)) in bars.iter().enumerate() {
        let ends = [0.0, curve.length()];
        let [start, end] = ends.map(|along| BarPlace { bar, along });
        if (curve.point(ends[0]) - curve.point(ends[1])).norm() <= MEETING * curve.length() {
            found.push([start, end]);
        }
        for (index, along) in curve.starts.iter().enumerate() {
            let is_end = index == 0 || index + 1 == curve.starts.len();
            let point = curve.point(*along);
            let others = bars.iter().enumerate().filter(|(other, _)| *other != bar);
            found.extend(others.filter_map(|(other, (line, _))| {
                let meeting = MEETING * curve.length().max(line.length());
                let reach = if is_end {
                    line.line.radius + meeting
                } else {
                    meeting
                };
                let (there, distance) = line.nearest(&point);
                let one = BarPlace { bar, along: *along };
                let other = BarPlace {
                    bar: other,
                    along: there,
                };
                (distance <= reach).then_some([one, other])
            }));
        }
    }
    found
}

/// For each station of each bar, one after the other, the first station that is joined to it.
fn groups(bars: &[LaidBar], joints: &[Joint]) -> Vec<usize> {
    let mut first = vec![0];
    for bar in bars {
        first.push(first[first.len() - 1] + bar.along.len());
    }
    let mut sets = DisjointSets::new(first[bars.len()]);
    for joint in joints {
        let [one, other] = joint.map(|at| first[at.bar] + bars[at.bar].station(at.along));
        sets.join(one, other);
    }
    (0..first[bars.len()]).map(|i| sets.find(i)).collect()
}

/// Hangs every station that needs a node on that of its group; where the nodes are.
fn hang(bars: &mut [LaidBar], groups: &[usize]) -> Vec<Point3<f64>> {
    let mut nodes: Vec<Point3<f64>> = Vec::new();
    let mut node_of = vec![None; groups.len()];
    let mut all = groups.iter();
    for bar in bars {
        for (point, grip) in bar.points.iter().zip(&mut bar.grips) {
            let group = all.next().copied().unwrap_or_default();
            if let Some(grip) = grip {
                let node = *node_of[group].get_or_insert_with(|| {
                    nodes.push(*point);
                    nodes.len() - 1
                });
                *grip = Grip {
                    node,
                    arm: point - nodes[node],
                };
            }
        }
    }
    nodes
}

fn spans(bars: &[LaidBar]) -> Vec<BarSpan> {
    let mut found = Vec::new();
    for (index, bar) in bars.iter().enumerate() {
        let held = bar.grips.iter().enumerate();
        let held: Vec<(usize, Grip)> = held
            .filter_map(|(station, grip)| Some((station, (*grip)?)))
            .collect();
        found.extend(held.windows(2).map(|pair| BarSpan {
            bar: index,
            stations: [pair[0].0, pair[1].0],
            grips: [pair[0].1, pair[1].1],
        }));
    }
    found
}

/// Sets of numbers, joined two at a time.
struct DisjointSets {
    above: Vec<usize>,
}

impl DisjointSets {
    fn new(count: usize) -> Self {
        Self {
            above: (0..count).collect(),
        }
    }

    fn find(&mut self, of: usize) -> usize {
        let mut at = of;
        while self.above[at] != at {
            self.above[at] = self.above[self.above[at]];
            at = self.above[at];
        }
        at
    }

    /// The smaller of both then stands for the whole set.
    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.find(one), self.find(other));
        self.above[one.max(other)] = one.min(other);
    }
}
