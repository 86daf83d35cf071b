//! Checks on what supports may be loaded with.

use super::super::decode::allowable::ALLOWABLE;
use super::super::source_offsets::ItemPlaces;
use super::super::{Allowable, Support};
use super::{Checker, Flaw};

impl Checker<'_> {
    pub(super) fn allowable(&mut self, support: &Support, at: &ItemPlaces) {
        let Some(allowable) = &support.allowable else {
            return;
        };
        let given = || {
            let forces = allowable.forces().into_iter();
            forces.filter_map(|(name, force)| force.map(|_| name))
        };
        if given().next().is_none() {
            self.findings.error(at.of(ALLOWABLE), Flaw::NoAllowable);
        }
        for field in given() {
            if !support.kind.has_force(field, self.scene.space) {
                let flaw = Flaw::AllowableOfNothing { field };
                self.findings.error(at.of(field), flaw);
            }
        }
        self.outwards(support, allowable, at);
    }

    fn outwards(&mut self, support: &Support, allowable: &Allowable, at: &ItemPlaces) {
        const FIELD: &str = "outwards";
        let is_said = allowable.has_line(&support.kind, self.scene.space);
        let (field, flaw) = match &allowable.outwards {
            None if !is_said => (ALLOWABLE, Flaw::NoOutwards),
            Some(_) if !is_said => (FIELD, Flaw::OutwardsTwice),
            Some(vector) if vector.components() == [0.0; 3] => {
                (FIELD, Flaw::ZeroDirection { field: FIELD })
            }
            _ => return,
        };
        self.findings.error(at.of(field), flaw);
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];

    fn allowable_flaws(kind: &str, allowable: &str) -> Vec<String> {
        flaws(&format!("supports: [{kind}, allowable: ({allowable}))]"))
    }

    const BALL: &str = "BallJoint(name: \"S\", at: \"A\"";
    const CABLE: &str = "Cable(name: \"S\", at: \"A\", ground: (0, 0, 1)";
    const ROUGH: &str = "RoughContact(name: \"S\", at: \"A\", normal: (0, 0, 1)";

    #[test]
    fn an_allowable_is_greater_than_0() {
        assert_eq!(
            allowable_flaws(BALL, "tension: 0, shear: -5, outwards: (0, 0, 1)"),
            [
                "`tension` of `allowable` of BallJoint \"S\" is the number 0",
                "`shear` of `allowable` of BallJoint \"S\" is the number -5"
            ]
        );
        assert_eq!(
            allowable_flaws(BALL, "shear: 5, exponent: 0.5, outwards: (0, 0, 1)"),
            ["`exponent` of `allowable` of BallJoint \"S\" is the number 0.5"]
        );
    }

    #[test]
    fn an_allowable_limits_a_force_that_the_support_has() {
        assert_eq!(allowable_flaws(CABLE, "tension: 5"), NONE);
        assert_eq!(allowable_flaws(ROUGH, "compression: 5, shear: 2"), NONE);
        assert_eq!(
            allowable_flaws(CABLE, "compression: 5, shear: 2"),
            [
                "the support has no compression that could be limited",
                "the support has no shear that could be limited"
            ]
        );
        assert_eq!(
            allowable_flaws(ROUGH, "tension: 5"),
            ["the support has no tension that could be limited"]
        );
        assert_eq!(
            allowable_flaws(CABLE, "exponent: 2"),
            ["`allowable` gives no force"]
        );
    }

    #[test]
    fn tension_and_shear_need_a_line() {
        assert_eq!(
            allowable_flaws(BALL, "tension: 5, outwards: (0, 0, 1)"),
            NONE
        );
        assert_eq!(
            allowable_flaws(BALL, "tension: 5"),
            ["`allowable` does not say which way is out of the ground"]
        );
        assert_eq!(
            allowable_flaws(CABLE, "tension: 5, outwards: (0, 0, 1)"),
            ["the support says by itself which way is out of the ground"]
        );
        assert_eq!(
            allowable_flaws(BALL, "tension: 5, outwards: (0, 0, 0)"),
            ["`outwards` is zero, which is not a direction"]
        );
    }
}
