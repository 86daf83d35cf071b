//! Scenes that can be read, but probably say something else than was meant: warnings from the geometry of the body.
//!
//! Thresholds are our choice, no source. They are wide enough that no built-in scene and no published example is warned of.

use nalgebra::{Unit, Vector3};

use super::super::solid::Surfaces;
use super::super::syntax::clipped;
use super::super::{Coordinates, ForceVector, LineAmount, Load, Place, Support, SupportKind};
use super::sizes::distant;
use super::{Checker, Flaw};

/// Bodies with more corners are not made into solids while reading, which would take longer than all the rest.
const MOST_CORNERS: usize = 10_000;

/// Bodies of more shapes are not searched for parts that lie apart: every shape is held against every other.
const MOST_SHAPES: usize = 300;

/// Most loads times corners of surfaces for which lines of action are followed, each load a hundred times over.
const MOST_WORK: usize = 2_000_000;

/// Off the body by this many of its diagonals, a place is probably given in another unit.
const FAR: f64 = 30.0;

/// Cosine of the angle between a bearing's axis and its shaft below which the bearing is across.
const ACROSS: f64 = 0.5;

impl Checker<'_> {
    pub(crate) fn traps(&mut self) {
        self.decimal_commas();
        self.thickness_and_length();
        let corners = self.scene.body.iter().map(|shape| shape.places().len());
        if corners.sum::<usize>() > MOST_CORNERS {
            return;
        }
        let Some(surfaces) = Surfaces::new(self.scene) else {
            return;
        };
        self.size_of_body(&surfaces);
        self.leaps_in_size(&surfaces);
        self.far_from_the_body(&surfaces);
        self.supports_off_the_body(&surfaces);
        self.loads_off_the_body(&surfaces);
        self.bearings_across_shafts(&surfaces);
        if self.scene.body.len() <= MOST_SHAPES {
            let neighbours = surfaces.neighbours();
            self.shapes_apart(&surfaces, &neighbours);
            self.parts_joined_by_a_hinge(&surfaces, &neighbours);
        }
    }

    /// `(1,5)` among points that are written `(1, 5)`, or in one point with these.
    fn decimal_commas(&mut self) {
        let commas = &self.places.commas;
        for comma in &commas.tight {
            if comma.beside_loose || commas.loose >= MOST_TIGHT * commas.tight.len() {
                let (before, after) = (comma.before.clone(), comma.after.clone());
                self.findings
                    .warning(comma.offset, Flaw::DecimalComma { before, after });
            }
        }
    }

    /// A warning only: the lug that reaches there may have been left out on purpose.
    fn supports_off_the_body(&mut self, surfaces: &Surfaces) {
        for (support, at) in self.scene.supports.iter().zip(&self.places.supports) {
            if let Some(metres) = surfaces.distance_off(&support.at) {
                let what = format!("the support \"{}\" is", clipped(&support.name));
                self.off_the_body(surfaces, what, metres, at.of("at"));
            }
        }
    }

    /// A force may be written anywhere on its line of action, so that it is the line that must meet the body.
    fn loads_off_the_body(&mut self, surfaces: &Surfaces) {
        let in_cases = self.scene.cases.iter().flat_map(|case| &case.loads);
        let loads = self.scene.loads.iter().chain(in_cases);
        if loads.clone().count() * surfaces.corners() > MOST_WORK {
            return;
        }
        let at_cases = self.places.case_loads();
        for (load, at) in loads.zip(self.places.loads.iter().chain(at_cases)) {
            for line in self.lines_of_action(load) {
                // That is said already.
                if line.field == "at" && distant(surfaces, line.place).is_some() {
                    continue;
                }
                if let Some(metres) = surfaces.line_off_hull(line.place, &line.along) {
                    self.off_the_body(surfaces, line.what.to_owned(), metres, at.of(line.field));
                }
            }
        }
    }

    /// Of a couple and of a weight there are none: the one is only drawn at its place, and a centre of mass need not lie in
    /// the material.
    fn lines_of_action<'l>(&self, load: &'l Load) -> Vec<LineOfAction<'l>> {
        let line = |field, place, along: Option<Vector3<f64>>, what| {
            let along = Unit::try_new(along?, 0.0)?;
            Some(LineOfAction {
                field,
                place,
                along,
                what,
            })
        };
        let vector = |written: &Coordinates| Some(Vector3::from(written.components()));
        let lines = match load {
            Load::Force { at, force } => {
                let along = match force {
                    ForceVector::Components(components) => vector(components),
                    ForceVector::Directed { direction, .. } => self.unit(direction, at),
                };
                vec![line("at", at, along, "the line of action of the force is")]
            }
            Load::Distributed {
                from,
                to,
                start,
                end,
            } => {
                let what = "one end of the distributed load is";
                let at_end = end.as_ref().unwrap_or(start);
                vec![
                    line("from", from, vector(start), what),
                    line("to", to, vector(at_end), what),
                ]
            }
            Load::Line { path, amount } => {
                let along = match amount {
                    LineAmount::Force(force) => vector(force),
                    LineAmount::Mass { .. } if self.is_planar() => Some(-Vector3::y()),
                    LineAmount::Mass { .. } => Some(-Vector3::z()),
                };
                let what = "a point of the path of the load is";
                let points = path.iter();
                points
                    .map(|point| line("path", point, along, what))
                    .collect()
            }
            // A face may lie in front of the body, as a sail's does.
            Load::Area { .. } | Load::Couple { .. } | Load::Weight { .. } => Vec::new(),
        };
        lines.into_iter().flatten().collect()
    }

    fn off_the_body(&mut self, surfaces: &Surfaces, what: String, metres: f64, offset: usize) {
        let unit = self.scene.units.length;
        let flaw = Flaw::OffTheBody {
            what,
            distance: self.length(metres),
            unit: (metres > FAR * surfaces.diagonal()).then(|| unit.symbol()),
        };
        self.findings.warning(offset, flaw);
    }

    /// A bearing whose axis is square to the only shaft that it can hold.
    fn bearings_across_shafts(&mut self, surfaces: &Surfaces) {
        for (support, at) in self.scene.supports.iter().zip(&self.places.supports) {
            let (SupportKind::JournalBearing { axis, .. }
            | SupportKind::ThrustBearing { axis, .. }
            | SupportKind::SquareJournal { axis, .. }) = &support.kind
            else {
                continue;
            };
            let Some(axis) = self.unit(axis, &support.at) else {
                continue;
            };
            let shafts = surfaces.shafts_at(&support.at);
            let across = shafts.iter().all(|shaft| shaft.dot(&axis).abs() < ACROSS);
            if let Some(shaft) = shafts.first().filter(|_| across) {
                let flaw = Flaw::BearingAcross {
                    name: clipped(&support.name).into_owned(),
                    shaft: components(shaft.as_ref()),
                };
                self.findings.warning(at.of("axis"), flaw);
            }
        }
    }

    /// Shapes that nothing joins to the first one.
    fn shapes_apart(&mut self, surfaces: &Surfaces, neighbours: &[Vec<usize>]) {
        let groups = surfaces.groups(neighbours);
        let last = groups.iter().max().copied().unwrap_or(0);
        for group in 1..=last {
            let first = groups.iter().position(|&other| other == group);
            let Some(at) = first.and_then(|first| self.places.shapes.get(first)) else {
                continue;
            };
            let alone = groups.iter().filter(|&&other| other == group).count() == 1;
            let gap = self.length(surfaces.gap(&groups, group));
            self.findings.warning(at.item, Flaw::Apart { gap, alone });
        }
    }

    /// A joint in the middle of a body that falls into parts there, each with supports of its own.
    fn parts_joined_by_a_hinge(&mut self, surfaces: &Surfaces, neighbours: &[Vec<usize>]) {
        for (support, at) in self.scene.supports.iter().zip(&self.places.supports) {
            if !can_turn(&support.kind) {
                continue;
            }
            let groups = surfaces.groups_cut_at(&support.at, neighbours);
            if groups.is_empty() {
                continue;
            }
            let others = self
                .scene
                .supports
                .iter()
                .filter(|other| other.name != support.name);
            let mut held: Vec<(usize, bool)> = others
                .filter_map(|other| {
                    let group = surfaces.nearest_group(&other.at, &groups)?;
                    Some((group, holds_a_point(other)))
                })
                .collect();
            let by_itself = held.iter().any(|(_, holds)| *holds);
            held.sort_unstable();
            held.dedup_by_key(|(group, _)| *group);
            if held.len() > 1 && by_itself {
                let name = clipped(&support.name).into_owned();
                self.findings.warning(at.item, Flaw::JoinedByHinge { name });
            }
        }
    }
}

/// Along which a load acts.
struct LineOfAction<'l> {
    /// Where its place is written.
    field: &'static str,
    place: &'l Place,
    along: Unit<Vector3<f64>>,
    /// The start of a sentence on it.
    what: &'static str,
}

/// Points written without a space after the comma, compared to those with one, that are still an exception.
const MOST_TIGHT: usize = 3;

/// A direction to three decimals, as it would be written.
fn components(direction: &Vector3<f64>) -> String {
    let rounded = direction.map(|x| (x * 1e3).round() / 1e3 + 0.0);
    format!("({}, {}, {})", rounded.x, rounded.y, rounded.z)
}

/// Kinds that books also draw between two bodies.
fn can_turn(kind: &SupportKind) -> bool {
    matches!(
        kind,
        SupportKind::Pin
            | SupportKind::BallJoint
            | SupportKind::Hinge { .. }
            | SupportKind::SmoothPin { .. }
            | SupportKind::UniversalJoint { .. }
    )
}

/// Kinds that let their point move nowhere: links and contacts on the arms of a lever are no supports of separate bodies.
fn holds_a_point(support: &Support) -> bool {
    let is_built_in = matches!(
        support.kind,
        SupportKind::Fixed | SupportKind::AnchorPlate { .. }
    );
    is_built_in || can_turn(&support.kind)
}

#[cfg(test)]
mod tests {
    use super::super::testing::messages;

    const NONE: [&str; 0] = [];

    fn spatial(more: &str) -> Vec<String> {
        messages(&format!("(format: 1, {more})"))
    }

    fn planar(more: &str) -> Vec<String> {
        messages(&format!("(format: 1, space: planar, {more})"))
    }

    #[test]
    fn supports_and_loads_are_on_the_body() {
        let bar = "body: [BentBar(path: [(0, 0, 0), (2, 0, 0)], diameter: 0.1)],";
        let scene = |at: &str| {
            spatial(&format!(
                "{bar} supports: [BallJoint(name: \"S\", at: {at})], loads: [Force(at: {at}, force: (0, 1, 0)), \
                 Force(at: {at}, force: (0, 0, 1)), Distributed(from: (0, 0, 0), to: {at}, start: (0, 1, 0))]"
            ))
        };
        assert_eq!(scene("(2, 0, 0.1)"), NONE);
        assert_eq!(
            scene("(2, 0, 1)"),
            [
                "the support \"S\" is 0.95 m off the body",
                "the line of action of the force is 0.95 m off the body",
                "one end of the distributed load is 0.95 m off the body",
            ]
        );
    }

    #[test]
    fn shapes_reach_each_other() {
        let block = |x: f64| format!("Block(centre: ({x}, 0, 0), size: (1, 1, 1))");
        let body = |x| spatial(&format!("body: [{}, {}]", block(0.0), block(x)));
        assert_eq!(body(1.05), NONE);
        assert_eq!(
            body(3.0),
            ["this shape lies 2 m apart from the rest of the body"]
        );
    }

    #[test]
    fn a_bearing_runs_along_its_shaft() {
        let shaft = "body: [Shaft(from: (0, 0, 0), to: (0, 2, 0), diameter: 0.1)],";
        let bearing = |axis: &str| {
            spatial(&format!(
                "{shaft} supports: [JournalBearing(name: \"A\", at: (0, 1, 0), axis: {axis})]"
            ))
        };
        assert_eq!(bearing("(0, 1, 0)"), NONE);
        assert_eq!(bearing("(0, 1, 0.2)"), NONE);
        let across = ["the axis of the bearing \"A\" runs across the shaft that it holds"];
        assert_eq!(bearing("(1, 0, 0)"), across);
        assert_eq!(bearing("(0, 0.1, 1)"), across);
    }

    #[test]
    fn a_decimal_comma_makes_no_point() {
        let bar = "body: [BentBar(path: [(0, 0), (4, 0), (4, 6)], diameter: 0.1)],";
        let at = |at: &str| planar(&format!("{bar} supports: [Pin(name: \"S\", at: {at})]"));
        assert_eq!(at("(4, 5)"), NONE);
        assert_eq!(at("(4,5)"), ["`4,5` is read as two numbers, 4 and 5"]);
        let tight = "body: [BentBar(path: [(0,0), (4,0), (4,6)], diameter: 0.1)], supports: [Pin(name: \"S\", at: (4,5))]";
        assert_eq!(planar(tight), NONE);
        let signs =
            "body: [Plate(corners: [(1,1,-1), (-1,1,-1), (-1,-1,-1), (1,-1,-1)], thickness: 0.1)]";
        assert_eq!(spatial(signs), NONE);
        let spatial_bar = "body: [BentBar(path: [(0, 0, 0), (1,5, 0)], diameter: 0.1)]";
        assert_eq!(
            spatial(spatial_bar),
            ["`1,5` is read as two numbers, 1 and 5"]
        );
    }

    /// An arch with three hinges is two bodies, a bell crank is one.
    #[test]
    fn two_bodies_that_a_hinge_joins_are_no_single_one() {
        let halves = "body: [BentBar(path: [(0, 0), (2, 3)], diameter: 0.1), BentBar(path: [(2, 3), (4, 0)], diameter: 0.1)],";
        let crown = "Pin(name: \"C\", at: (2, 3))";
        let held = |others: &str| planar(&format!("{halves} supports: [{crown}, {others}]"));
        let joined = ["two parts of the body meet only at \"C\", and are taken as one rigid body"];
        assert_eq!(
            held("Pin(name: \"A\", at: (0, 0)), Pin(name: \"B\", at: (4, 0))"),
            joined
        );
        assert_eq!(
            held("Fixed(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (4, 0), normal: (0, 1))"),
            joined
        );
        assert_eq!(
            held(
                "Link(name: \"A\", at: (0, 0), ground: (0, -1)), Link(name: \"B\", at: (4, 0), ground: (4, -1))"
            ),
            NONE
        );
        let bent = "body: [BentBar(path: [(0, 0), (2, 3), (4, 0)], diameter: 0.1)],";
        assert_eq!(
            planar(&format!(
                "{bent} supports: [{crown}, Pin(name: \"A\", at: (0, 0)), Pin(name: \"B\", at: (4, 0))]"
            )),
            NONE
        );
    }
}
