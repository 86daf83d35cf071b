//! Checks on loads.

use super::super::places::ItemPlaces;
use super::super::{ForceVector, Load};
use super::{Checker, Flaw};

impl Checker<'_> {
    pub fn load(&mut self, load: &Load, at: &ItemPlaces) {
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
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];

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
            ["`direction` is zero and so no direction"]
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
