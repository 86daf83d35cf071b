//! Checks on loads.

use super::super::solid::has_volume;
use super::super::source_offsets::ItemPlaces;
use super::super::{AreaAmount, ForceVector, Heaviness, Load, Place};
use super::{Checker, Flaw};

/// Cosine of the angle off the vertical up to which a face counts as upright.
const UPRIGHT: f64 = 1e-9;

impl Checker<'_> {
    pub(crate) fn load(&mut self, load: &Load, at: &ItemPlaces) {
        match load {
            Load::Force {
                at: place,
                force: ForceVector::Directed { direction, .. },
            } => {
                self.direction(direction, place, "direction", at);
            }
            Load::Distributed { from, to, .. } if self.coincide(from, to) => {
                self.findings.error(at.of("to"), Flaw::NoLength);
            }
            Load::Line { path, .. } => self.path(path, at),
            Load::Area {
                corners,
                amount,
                on_plan,
            } => self.area(corners, amount, *on_plan, at),
            _ => {}
        }
    }

    fn path(&mut self, path: &[Place], at: &ItemPlaces) {
        if path.len() < 2 {
            self.findings.error(at.of("path"), Flaw::ShortPath);
        }
        let repeated = (1..path.len()).find(|i| self.coincide(&path[i - 1], &path[*i]));
        if let Some(i) = repeated {
            let place = at.element("path", i);
            self.findings.error(place, Flaw::RepeatedPathPoint);
        }
    }

    fn area(&mut self, corners: &[Place], amount: &AreaAmount, on_plan: bool, at: &ItemPlaces) {
        if on_plan && matches!(amount, AreaAmount::Pressure(_)) {
            self.findings.error(at.of("on_plan"), Flaw::PressureOnPlan);
        }
        let plane = self.face("load", corners, at);
        if on_plan && plane.is_some_and(|normal| normal.z.abs() <= UPRIGHT) {
            self.findings.error(at.of("on_plan"), Flaw::UprightOnPlan);
        }
    }

    /// Weights that need a volume, by their density or to know where they act, of a body that has none.
    pub(crate) fn weights_without_volume(&mut self) {
        let needs_volume = |load: &Load| {
            let Load::Weight { amount, at, .. } = load else {
                return false;
            };
            at.is_none() || matches!(amount, Heaviness::Density(_))
        };
        let places = self.places;
        let in_cases = self.scene.cases.iter().flat_map(|case| &case.loads);
        let loads = self.scene.loads.iter().chain(in_cases);
        let all_places = places.loads.iter().chain(places.case_loads());
        let mut weights = loads.zip(all_places).filter(|(load, _)| needs_volume(load));
        let Some((_, first)) = weights.next() else {
            return;
        };
        if !has_volume(self.scene) {
            self.findings.error(first.item, Flaw::NoVolume);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];

    #[test]
    fn a_weight_of_a_body_without_volume_is_given_at_a_place() {
        // The square of this diameter is less than the least number.
        let thin = "body: [BentBar(path: [\"A\", \"B\"], diameter: 1e-200)], ";
        let weight = |fields| {
            let mut found = flaws(&format!("{thin}loads: [Weight({fields})]"));
            // That so thin a bar is hardly meant is another matter.
            found.retain(|flaw| flaw.contains("volume"));
            found
        };
        assert_eq!(flaws("loads: [Weight(mass: 3)]"), NONE);
        assert_eq!(weight("mass: 3, at: \"A\""), NONE);
        let expected = ["the body has no volume, and so no centre at which its weight would act"];
        assert_eq!(weight("mass: 3"), expected);
        assert_eq!(weight("density: 3, at: \"A\""), expected);
    }

    #[test]
    fn a_force_points_somewhere() {
        let force = |direction| {
            flaws(&format!(
                "loads: [Force(at: \"B\", size: 5, direction: {direction})]"
            ))
        };
        assert_eq!(force("Towards(\"A\")"), NONE);
        assert_eq!(
            force("Towards(\"B\")"),
            ["`direction` points towards the place where it starts"]
        );
        assert_eq!(
            force("(0, 0, 0)"),
            ["`direction` is zero, which is not a direction"]
        );
    }

    #[test]
    fn a_line_leads_on() {
        let line = |path| flaws(&format!("loads: [Line(path: [{path}], mass: 3)]"));
        assert_eq!(line("\"A\", \"B\""), NONE);
        assert_eq!(line("\"A\""), ["the path has fewer than two points"]);
        assert_eq!(
            line("\"A\", (0, 0, 0), \"B\""),
            ["the path stays at the same point"]
        );
    }

    #[test]
    fn a_face_is_a_flat_polygon_that_is_seen_from_above_where_its_plan_counts() {
        let area = |rest: &str| flaws(&format!("loads: [Area(corners: [{rest})]"));
        let face = "\"A\", \"B\", \"C\"]";
        let wall = "\"A\", \"B\", (0, 0, 1)]";
        assert_eq!(
            area(&format!("{face}, force: (0, 0, -8), on_plan: true")),
            NONE
        );
        assert_eq!(area(&format!("{wall}, pressure: -8")), NONE);
        assert_eq!(
            area(&format!("{wall}, force: (0, 0, -8), on_plan: true")),
            ["the face is upright and has no plan"]
        );
        assert_eq!(
            area(&format!("{face}, pressure: 8, on_plan: true")),
            ["a pressure counts per area of the face, not of its plan"]
        );
        assert_eq!(
            area("\"A\", \"B\"], pressure: 8"),
            ["the load has 2 corners"]
        );
        assert_eq!(
            area("\"A\", \"B\", (2, 0, 0)], pressure: 8"),
            ["the corners of the load lie on one line"]
        );
    }

    #[test]
    fn a_distributed_force_has_a_length() {
        let spread = |to| {
            flaws(&format!(
                "loads: [Distributed(from: \"A\", to: {to}, start: (0, 0, -1))]"
            ))
        };
        assert_eq!(spread("\"B\""), NONE);
        assert_eq!(spread("(0, 0, 0)"), ["`from` and `to` are the same place"]);
    }
}
