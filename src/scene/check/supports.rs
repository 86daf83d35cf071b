//! Checks on supports.

use super::super::decode::stiffness::{COUPLES, FORCES};
use super::super::source_offsets::ItemPlaces;
use super::super::{Stiffness, Support, SupportKind, SupportStiffness};
use super::flaw::STIFFNESS_RATIO;
use super::{Checker, Flaw, are_parallel};

impl Checker<'_> {
    pub(crate) fn supports(&mut self) {
        for (support, at) in self.scene.supports.iter().zip(&self.places.supports) {
            self.support(support, at);
        }
        self.stiffness_range();
    }

    fn support(&mut self, support: &Support, at: &ItemPlaces) {
        for (field, direction) in support.kind.directions() {
            self.direction(direction, &support.at, field, at);
        }
        self.normal_along_rail(support, at);
        self.ground_at_body(support, at);
        self.stiffness(support, at);
        self.allowable(support, at);
        self.anchor_plate(support, at);
    }

    fn stiffness(&mut self, support: &Support, at: &ItemPlaces) {
        let SupportStiffness { forces, couples } = &support.stiffness;
        let counts = support.kind.counts(self.scene.space);
        let fields = [(FORCES, "force", forces), (COUPLES, "couple", couples)];
        for ((field, what, given), count) in fields.into_iter().zip(counts) {
            let Some(given) = given else { continue };
            let listed = given.count();
            if count == 0 || listed.is_some_and(|listed| listed != count) {
                let flaw = Flaw::StiffnessCount {
                    field,
                    what,
                    listed,
                    count,
                };
                self.findings.error(at.of(field), flaw);
            }
        }
    }

    /// Stiffnesses so far apart that the soft supports are lost in the rounding of the hard ones.
    pub(super) fn stiffness_range(&mut self) {
        let supports = self.scene.supports.iter().zip(&self.places.supports);
        for field in [FORCES, COUPLES] {
            let given = supports.clone().flat_map(|(support, at)| {
                let SupportStiffness { forces, couples } = &support.stiffness;
                let own = if field == FORCES { forces } else { couples };
                let numbers = own.iter().flat_map(Stiffness::numbers);
                numbers.map(move |number| (*number, at))
            });
            let by_size = |a: &(f64, &ItemPlaces), b: &(f64, &ItemPlaces)| a.0.total_cmp(&b.0);
            let ends = given.clone().min_by(by_size).zip(given.max_by(by_size));
            let Some(((least, at), (most, _))) = ends else {
                continue;
            };
            if most > STIFFNESS_RATIO * least {
                let ratio = format!("{:.0e}", most / least);
                self.findings
                    .error(at.of(field), Flaw::StiffnessRange { field, ratio });
            }
        }
    }

    fn normal_along_rail(&mut self, support: &Support, at: &ItemPlaces) {
        let SupportKind::RailWheel { rail, normal } = &support.kind else {
            return;
        };
        let units = self
            .unit(rail, &support.at)
            .zip(self.unit(normal, &support.at));
        if units.is_some_and(|(rail, normal)| are_parallel(&rail, &normal)) {
            self.findings.error(at.of("normal"), Flaw::NormalAlongRail);
        }
    }

    fn ground_at_body(&mut self, support: &Support, at: &ItemPlaces) {
        let (what, ground) = match &support.kind {
            SupportKind::Link { ground } => ("link", ground),
            SupportKind::Cable { ground } => ("cable", ground),
            _ => return,
        };
        if self.coincide(ground, &support.at) {
            self.findings
                .error(at.of("ground"), Flaw::GroundAtBody { what });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::Severity;
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];

    fn support_flaws(kind: &str, fields: &str) -> Vec<String> {
        flaws(&format!(
            "supports: [{kind}(name: \"S\", at: \"A\", {fields})]"
        ))
    }

    #[test]
    fn a_direction_is_not_zero() {
        assert_eq!(support_flaws("Hinge", "axis: (0, 0, 0.001)"), NONE);
        assert_eq!(
            support_flaws("Hinge", "axis: (0, 0, 0)"),
            ["`axis` is zero, which is not a direction"]
        );
        assert_eq!(
            support_flaws("Roller", "normal: (0, -0.0, 0)"),
            ["`normal` is zero, which is not a direction"]
        );
    }

    #[test]
    fn a_direction_leads_away_from_its_support() {
        assert_eq!(support_flaws("Roller", "normal: Towards(\"B\")"), NONE);
        let towards_itself = ["`normal` points towards the place where it starts"];
        assert_eq!(
            support_flaws("Roller", "normal: Towards(\"A\")"),
            towards_itself
        );
        assert_eq!(
            support_flaws("Roller", "normal: Towards((0, 0, 0))"),
            towards_itself
        );
    }

    #[test]
    fn a_rail_wheel_stands_across_its_rail() {
        assert_eq!(
            support_flaws("RailWheel", "rail: (1, 0, 0), normal: (1, 0, 1)"),
            NONE
        );
        let along = ["`normal` runs along the rail"];
        assert_eq!(
            support_flaws("RailWheel", "rail: (1, 2, 3), normal: (-2, -4, -6)"),
            along
        );
    }

    #[test]
    fn a_link_has_two_ends() {
        assert_eq!(support_flaws("Link", "ground: \"B\""), NONE);
        let link = ["the ground end of the link lies on its body end"];
        assert_eq!(support_flaws("Link", "ground: (0, 0, 0)"), link);
        let cable = ["the ground end of the cable lies on its body end"];
        assert_eq!(support_flaws("Cable", "ground: \"A\""), cable);
    }

    #[test]
    fn stiffnesses_are_one_for_all_or_one_for_each() {
        for fields in [
            "stiffness: 2e6",
            "stiffness: (2e6, 1e6, 1e6)",
            "stiffness: 2e6, rotational_stiffness: (30, 40, 50)",
        ] {
            assert_eq!(support_flaws("Fixed", fields), NONE);
        }
        assert_eq!(
            support_flaws("BallJoint", "stiffness: (2e6, 1e6)"),
            ["`stiffness` lists 2 numbers, but the support supplies 3 forces"]
        );
        assert_eq!(
            support_flaws("BallJoint", "rotational_stiffness: 30"),
            ["`rotational_stiffness` is given, but the support supplies no couples"]
        );
        assert_eq!(
            support_flaws("Fixed", "stiffness: 0"),
            ["`stiffness` of Fixed \"S\" is the number 0"]
        );
    }

    #[test]
    fn stiffnesses_are_of_comparable_size() {
        assert_eq!(support_flaws("BallJoint", "stiffness: (1, 1, 1e9)"), NONE);
        assert_eq!(
            support_flaws("BallJoint", "stiffness: (1, 1, 1e12)"),
            ["the largest `stiffness` is 1e12 times this one"]
        );
    }

    #[test]
    fn a_support_away_from_the_body_is_a_warning() {
        let at = |place| flaws(&format!("supports: [BallJoint(name: \"S\", at: {place})]"));
        assert_eq!(at("(0.5, 0, 0)"), NONE);
        assert_eq!(at("(0.5, 0.08, 0)"), NONE);
        assert_eq!(
            at("(0.5, 0, 3.05)"),
            ["the support \"S\" is 3 m off the body"]
        );
        let text =
            "(format: 1, units: (length: mm), body: [Block(centre: (0, 0, 0), size: (10, 10, 10))],
            supports: [Fixed(name: \"S\", at: (30, 0, 0))])";
        let loaded = crate::scene::read_str("test.ron", text).unwrap();
        let warning = &loaded.warnings[0];
        assert_eq!(warning.message, "the support \"S\" is 25 mm off the body");
        assert_eq!(warning.severity, Severity::Warning);
        assert_eq!(
            warning.position.map(|at| (at.line, at.column)),
            Some((2, 45))
        );
    }
}
