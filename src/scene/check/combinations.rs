//! Checks on combinations of load cases.

use std::collections::HashSet;

use super::super::problem::nearest;
use super::super::syntax::clipped;
use super::{Checker, Flaw};

impl Checker<'_> {
    pub(super) fn combinations(&mut self) {
        let scene = self.scene;
        for (combination, at) in scene.combinations.iter().zip(&self.places.combinations) {
            let mut met = HashSet::new();
            for (name, _) in &combination.factors {
                let mut cases = scene.cases.iter();
                let clipped = clipped(name).into_owned();
                let flaw = if !cases.any(|case| case.name == *name) {
                    let known = scene.cases.iter().map(|case| case.name.as_str());
                    Flaw::UnknownCase {
                        name: clipped,
                        nearest: nearest(name, known).map(str::to_owned),
                    }
                } else if !met.insert(name) {
                    Flaw::RepeatedFactor { name: clipped }
                } else {
                    continue;
                };
                self.findings.error(at.of("factors"), flaw);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];

    #[test]
    fn a_combination_is_of_cases_each_once() {
        let combined = |name, factors| {
            flaws(&format!(
                "cases: [(name: \"wind\", loads: []), (name: \"snow\", loads: [])],
                combinations: [(name: \"{name}\", permanent: 1.35, factors: {{{factors}}})]"
            ))
        };
        assert_eq!(combined("storm", "\"wind\": 1.5, \"snow\": -0.75"), NONE);
        assert_eq!(
            combined("storm", "\"rain\": 1"),
            ["there is no load case \"rain\""]
        );
        assert_eq!(
            combined("storm", "\"wind\": 1, \"wind\": 2"),
            ["the load case \"wind\" has two factors"]
        );
        assert_eq!(
            combined("wind", "\"wind\": 1"),
            ["the case name \"wind\" is given twice"]
        );
    }
}
