//! Checks on loads.

use super::super::solid::has_volume;
use super::super::source_offsets::ItemPlaces;
use super::super::{ForceVector, Heaviness, Load};
use super::{Checker, Flaw};

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
            _ => {}
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
