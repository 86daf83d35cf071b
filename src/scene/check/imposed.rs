//! Checks on what is imposed besides loads.

use super::super::problem::nearest;
use super::super::source_offsets::ItemPlaces;
use super::super::syntax::clipped;
use super::super::{Imposed, Support, SupportKind};
use super::{Checker, Flaw};

impl Checker<'_> {
    pub(super) fn all_imposed(&mut self) {
        let scene = self.scene;
        let everywhere = scene.imposed.iter().zip(&self.places.imposed);
        let in_cases = scene.cases.iter().zip(&self.places.cases);
        let in_cases = in_cases.flat_map(|(case, at)| case.imposed.iter().zip(&at.imposed));
        for (imposed, at) in everywhere.chain(in_cases) {
            self.imposed(imposed, at);
        }
    }

    fn imposed(&mut self, imposed: &Imposed, at: &ItemPlaces) {
        let Some(name) = imposed.support() else {
            return;
        };
        let given = &self.places.support_names;
        let named = |support: &&Support| support.name == name;
        let Some(support) = self.scene.supports.iter().find(named) else {
            // A support that could not be read is reported for itself.
            if !given.iter().any(|given| given.name == name) {
                let names = given.iter().map(|given| given.name.as_str());
                let flaw = Flaw::UnknownSupport {
                    name: clipped(name).into_owned(),
                    nearest: nearest(name, names).map(str::to_owned),
                };
                self.findings.error(at.of("support"), flaw);
            }
            return;
        };
        if let Imposed::Prestress { force, .. } = imposed {
            self.prestress(support, *force, at);
        }
    }

    fn prestress(&mut self, support: &Support, force: f64, at: &ItemPlaces) {
        let [count, _] = support.kind.counts(self.scene.space);
        let only = match &support.kind {
            SupportKind::Cable { .. } => Some("pulls"),
            SupportKind::Roller { .. }
            | SupportKind::SmoothContact { .. }
            | SupportKind::Rocker { .. } => Some("pushes"),
            _ => None,
        };
        let flaw = match only {
            _ if count != 1 => Flaw::PrestressOfSeveral { count },
            Some(only) if force < 0.0 => Flaw::PrestressAgainst { only },
            _ => return,
        };
        let field = if count == 1 { "force" } else { "support" };
        self.findings.error(at.of(field), flaw);
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];

    fn imposed_flaws(imposed: &str) -> Vec<String> {
        flaws(&format!(
            "supports: [BallJoint(name: \"P\", at: \"A\"), Cable(name: \"T\", at: \"B\", ground: (1, 0, 1))],
            imposed: [{imposed}]"
        ))
    }

    #[test]
    fn what_is_imposed_on_is_a_support() {
        let settled = |name| {
            imposed_flaws(&format!(
                "Settlement(support: \"{name}\", moves_by: (0, 0, -0.01))"
            ))
        };
        assert_eq!(settled("P"), NONE);
        assert_eq!(settled("Q"), ["there is no support \"Q\""]);
        assert_eq!(imposed_flaws("Warming(by: -20, expansion: 1.2e-5)"), NONE);
        assert_eq!(
            imposed_flaws("Warming(by: 20, expansion: 0)"),
            ["`expansion` of Warming is the number 0"]
        );
    }

    #[test]
    fn a_prestress_is_that_of_one_force_and_acts_its_way() {
        let tightened =
            |name, force| imposed_flaws(&format!("Prestress(support: \"{name}\", force: {force})"));
        assert_eq!(tightened("T", 50), NONE);
        assert_eq!(
            tightened("T", -50),
            ["a support that only pulls has no negative prestress"]
        );
        assert_eq!(
            tightened("P", 50),
            ["the support supplies 3 forces, and a prestress is that of one"]
        );
    }
}
