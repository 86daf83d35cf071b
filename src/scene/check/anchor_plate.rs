//! Checks on anchor plates: the pattern lies on the plate, and its anchors apart.

use super::super::source_offsets::ItemPlaces;
use super::super::{AnchorPattern, AnchorPlate, Direction, Support, SupportKind};
use super::flaw::MOST_ANCHORS;
use super::{Checker, Flaw, are_parallel};

impl Checker<'_> {
    pub(super) fn anchor_plate(&mut self, support: &Support, at: &ItemPlaces) {
        let SupportKind::AnchorPlate { normal, plate } = &support.kind else {
            return;
        };
        self.upright(support, normal, plate, at);
        let count = plate.anchors.count();
        if !(2..=MOST_ANCHORS).contains(&count) {
            let flaw = Flaw::AnchorCount { count };
            self.findings.error(at.of("anchors"), flaw);
            return;
        }
        let places = plate.anchors.places();
        let place_of = |index| match plate.anchors {
            AnchorPattern::List { .. } => at.element("places", index),
            _ => at.of("anchors"),
        };
        let [width, height] = plate.size;
        let is_off = |[x, y]: &[f64; 2]| x.abs() > width / 2.0 || y.abs() > height / 2.0;
        if let Some(index) = places.iter().position(is_off) {
            let number = index + 1;
            self.findings
                .error(place_of(index), Flaw::AnchorOffPlate { number });
        }
        let repeated = (1..count).find(|index| places[..*index].contains(&places[*index]));
        if let Some(index) = repeated {
            self.findings
                .error(place_of(index), Flaw::RepeatedAnchor { number: index + 1 });
        }
    }

    fn upright(
        &mut self,
        support: &Support,
        normal: &Direction,
        plate: &AnchorPlate,
        at: &ItemPlaces,
    ) {
        const FIELD: &str = "upright";
        let Some(upright) = &plate.upright else {
            return;
        };
        let along = self.unit(normal, &support.at);
        let upright = upright.components().into();
        if upright == nalgebra::Vector3::zeros() {
            self.findings
                .error(at.of(FIELD), Flaw::ZeroDirection { field: FIELD });
        } else if along.is_some_and(|along| are_parallel(&along, &upright)) {
            self.findings.error(at.of(FIELD), Flaw::UprightAlongNormal);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    const NONE: [&str; 0] = [];

    fn plate_flaws(fields: &str) -> Vec<String> {
        flaws(&format!(
            "supports: [AnchorPlate(name: \"P\", at: \"A\", normal: (1, 0, 0), size: (0.2, 0.3), {fields})]"
        ))
    }

    #[test]
    fn anchors_lie_on_the_plate() {
        let grid = |spacing| {
            plate_flaws(&format!(
                "anchors: Grid(columns: 2, rows: 2, spacing: {spacing})"
            ))
        };
        assert_eq!(grid("(0.2, 0.3)"), NONE);
        assert_eq!(
            grid("(0.15, 0.32)"),
            ["anchor 1 of the pattern lies off the plate"]
        );
        assert_eq!(
            plate_flaws("anchors: List(places: [(0, 0), (0.05, 0.2)])"),
            ["anchor 2 of the pattern lies off the plate"]
        );
        assert_eq!(
            plate_flaws("anchors: Grid(columns: 2, rows: 2, spacing: (0.1, 0))"),
            ["`spacing` of Grid is the number 0"]
        );
    }

    #[test]
    fn there_are_two_anchors_or_more_and_each_is_elsewhere() {
        assert_eq!(
            plate_flaws("anchors: Circle(count: 1, diameter: 0.1)"),
            ["the plate has 1 anchor"]
        );
        assert_eq!(
            plate_flaws("anchors: Circle(count: 2000, diameter: 0.1)"),
            ["the plate has 2000 anchors"]
        );
        assert_eq!(
            plate_flaws("anchors: List(places: [(0, 0), (0, 0.1), (0, 0)])"),
            ["anchor 3 of the pattern is where an earlier one is"]
        );
    }

    #[test]
    fn what_is_up_lies_across_the_normal() {
        let up = |upright| {
            plate_flaws(&format!(
                "anchors: Circle(count: 3, diameter: 0.1), upright: {upright}"
            ))
        };
        assert_eq!(up("(1, 1, 0)"), NONE);
        assert_eq!(up("(-2, 0, 0)"), ["`upright` runs along the normal"]);
        assert_eq!(
            up("(0, 0, 0)"),
            ["`upright` is zero, which is not a direction"]
        );
    }
}
