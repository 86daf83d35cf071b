//! Names: given once, and known where they are used.

use std::collections::HashSet;

use super::super::problem::nearest;
use super::super::source_offsets::{GivenName, ItemPlaces};
use super::super::syntax::clipped;
use super::super::{Direction, ForceVector, Load, Place, Shape, Support, SupportKind};
use super::{Checker, Flaw};

/// A place within an item: its field, which element of the field, and the place.
type Use<'a> = (&'static str, usize, &'a Place);

impl Checker<'_> {
    pub(crate) fn names(&mut self) {
        let places = self.places;
        self.repeated_names("point", &places.point_names);
        self.repeated_names("support", &places.support_names);
        self.repeated_names("case", &places.case_names);
        self.names_of_other_points();
        for (shape, at) in self.scene.body.iter().zip(&places.shapes) {
            self.known_points(&uses_of_shape(shape), at);
        }
        for (wall, at) in self.scene.walls.iter().zip(&places.walls) {
            self.known_points(&all("corners", &wall.corners), at);
        }
        for (support, at) in self.scene.supports.iter().zip(&places.supports) {
            self.known_points(&uses_of_support(support), at);
        }
        let in_cases = self.scene.cases.iter().flat_map(|case| &case.loads);
        let case_places = places.case_loads();
        let loads = self.scene.loads.iter().chain(in_cases);
        for (load, at) in loads.zip(places.loads.iter().chain(case_places)) {
            self.known_points(&uses_of_load(load), at);
        }
    }

    /// Supports that bear the name of a point but stand elsewhere: a warning, since a sentence on it could mean either.
    fn names_of_other_points(&mut self) {
        let supports = self.scene.supports.iter().zip(&self.places.supports);
        for (support, at) in supports {
            let named = Place::Named(support.name.clone());
            let elsewhere = self.position(&named).is_some_and(|point| {
                self.position(&support.at)
                    .is_some_and(|stands| stands != point)
            });
            if elsewhere {
                let name = clipped(&support.name).into_owned();
                self.findings
                    .warning(at.of("name"), Flaw::NameOfOtherPoint { name });
            }
        }
    }

    fn repeated_names(&mut self, what: &'static str, given: &[GivenName]) {
        let mut met = HashSet::with_capacity(given.len());
        for GivenName { name, offset } in given {
            if !met.insert(name) {
                self.findings.error_with(*offset, || Flaw::RepeatedName {
                    what,
                    name: clipped(name).into_owned(),
                });
            }
        }
    }

    fn known_points(&mut self, uses: &[Use], at: &ItemPlaces) {
        for (field, index, place) in uses {
            let Place::Named(name) = place else { continue };
            if !self.points.contains_key(name.as_str()) {
                let given = &self.places.point_names;
                self.findings
                    .error_with(at.element(field, *index), || unknown_point(name, given));
            }
        }
    }
}

fn unknown_point(name: &str, given: &[GivenName]) -> Flaw {
    const MOST_LISTED: usize = 12;
    let names = || given.iter().map(|given| given.name.as_str());
    let mut met = HashSet::new();
    let mut known: Vec<String> = names()
        .filter(|name| met.insert(*name))
        .map(|name| clipped(name).into_owned())
        .collect();
    if known.len() > MOST_LISTED {
        let beyond = known.split_off(MOST_LISTED).len();
        known.push(format!("and {beyond} more"));
    }
    Flaw::UnknownPoint {
        name: clipped(name).into_owned(),
        nearest: nearest(name, names()).map(str::to_owned),
        known,
    }
}

fn one<'a>(field: &'static str, place: &'a Place) -> Use<'a> {
    (field, 0, place)
}

fn all<'a>(field: &'static str, places: impl IntoIterator<Item = &'a Place>) -> Vec<Use<'a>> {
    places
        .into_iter()
        .enumerate()
        .map(|(i, place)| (field, i, place))
        .collect()
}

fn aim<'a>(field: &'static str, direction: Option<&'a Direction>) -> Option<Use<'a>> {
    match direction {
        Some(Direction::Towards(place)) => Some(one(field, place)),
        _ => None,
    }
}

fn uses_of_shape(shape: &Shape) -> Vec<Use<'_>> {
    match shape {
        Shape::BentBar(bar) => all("path", &bar.path),
        Shape::Plate(plate) => {
            let holes = all("holes", plate.holes.iter().map(|hole| &hole.centre));
            all("corners", &plate.corners)
                .into_iter()
                .chain(holes)
                .collect()
        }
        Shape::Bracket(bracket) => {
            let legs = all("legs", &bracket.legs).into_iter();
            std::iter::once(one("corner", &bracket.corner))
                .chain(legs)
                .collect()
        }
        Shape::Shaft(shaft) => vec![one("from", &shaft.from), one("to", &shaft.to)],
        Shape::Disc(disc) => {
            let axis = aim("axis", disc.axis.as_ref());
            std::iter::once(one("centre", &disc.centre))
                .chain(axis)
                .collect()
        }
        Shape::Block(block) => {
            let lengthwise = aim("lengthwise", block.lengthwise.as_ref());
            let upright = aim("upright", block.upright.as_ref());
            let centre = std::iter::once(one("centre", &block.centre));
            centre.chain(lengthwise).chain(upright).collect()
        }
    }
}

fn uses_of_support(support: &Support) -> Vec<Use<'_>> {
    let mut uses = vec![one("at", &support.at)];
    match &support.kind {
        SupportKind::Link { ground } | SupportKind::Cable { ground } => {
            uses.push(one("ground", ground))
        }
        kind => {
            let directions = kind.directions();
            uses.extend(directions.filter_map(|(field, direction)| aim(field, Some(direction))));
        }
    }
    uses
}

fn uses_of_load(load: &Load) -> Vec<Use<'_>> {
    match load {
        Load::Force { at, force } => {
            let direction = match force {
                ForceVector::Directed { direction, .. } => Some(direction),
                ForceVector::Components(_) => None,
            };
            std::iter::once(one("at", at))
                .chain(aim("direction", direction))
                .collect()
        }
        Load::Couple { at, .. } | Load::Weight { at, .. } => {
            at.iter().map(|at| one("at", at)).collect()
        }
        Load::Distributed { from, to, .. } => vec![one("from", from), one("to", to)],
        Load::Line { path, .. } => all("path", path),
        Load::Area { corners, .. } => all("corners", corners),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{flaws, messages};

    const NONE: [&str; 0] = [];

    #[test]
    fn a_support_with_the_name_of_another_point_is_a_warning() {
        let named = |name| {
            flaws(&format!(
                "supports: [BallJoint(name: \"{name}\", at: \"A\")]"
            ))
        };
        assert_eq!(named("A"), NONE);
        assert_eq!(named("S"), NONE);
        let found = ["the support \"B\" does not stand at the point \"B\""];
        assert_eq!(named("B"), found);
    }

    #[test]
    fn names_are_given_once() {
        let supports = |names: [&str; 2]| {
            let [first, second] =
                names.map(|name| format!("BallJoint(name: \"{name}\", at: \"A\")"));
            flaws(&format!("supports: [{first}, {second}]"))
        };
        assert_eq!(supports(["P", "Q"]), NONE);
        assert_eq!(
            supports(["P", "P"]),
            ["the support name \"P\" is given twice"]
        );
        let cases = |second| {
            flaws(&format!(
                "cases: [(name: \"wind\", loads: []), (name: \"{second}\", loads: [])]"
            ))
        };
        assert_eq!(cases("snow"), NONE);
        assert_eq!(cases("wind"), ["the case name \"wind\" is given twice"]);
        let points = "(format: 1, points: {\"A\": (0, 0, 0), \"A\": (1, 0, 0)}, body: [Block(centre: \"A\", size: (1, 1, 1))])";
        assert_eq!(messages(points), ["the point name \"A\" is given twice"]);
    }

    #[test]
    fn points_are_known_wherever_they_are_used() {
        assert_eq!(flaws("loads: [Weight(mass: 1, at: \"C\")]"), NONE);
        let unknown = ["there is no point \"Z\""];
        for more in [
            "body: [BentBar(path: [\"A\", \"Z\"], diameter: 1)]",
            "body: [Plate(corners: [\"A\", \"B\", \"Z\"], thickness: 1)]",
            "body: [Plate(corners: [\"A\", \"B\", \"C\"], thickness: 1, holes: [(centre: \"Z\", diameter: 0.1)])]",
            "body: [Bracket(corner: \"Z\", legs: (\"A\", \"B\"), width: 1, thickness: 1)]",
            "body: [Bracket(corner: \"A\", legs: (\"C\", \"Z\"), width: 1, thickness: 1)]",
            "body: [Shaft(from: \"A\", to: \"Z\", diameter: 1)]",
            "body: [Disc(centre: \"A\", axis: Towards(\"Z\"), diameter: 1, thickness: 1)]",
            "body: [Block(centre: \"A\", size: (1, 1, 1), upright: Towards(\"Z\"))]",
            "supports: [BallJoint(name: \"S\", at: \"Z\")]",
            "supports: [Link(name: \"S\", at: \"A\", ground: \"Z\")]",
            "supports: [Hinge(name: \"S\", at: \"A\", axis: Towards(\"Z\"))]",
            "loads: [Force(at: \"A\", size: 1, direction: Towards(\"Z\"))]",
            "loads: [Couple(moment: (0, 0, 1), at: \"Z\")]",
            "loads: [Distributed(from: \"A\", to: \"Z\", start: (0, 0, 1))]",
            "cases: [(name: \"wind\", loads: [Force(at: \"Z\", force: (0, 0, 1))])]",
        ] {
            assert_eq!(flaws(more), unknown, "{more}");
        }
    }
}
