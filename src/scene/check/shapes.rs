//! Checks on the shapes of the body, but for the edges of plates.

use nalgebra::Vector3;

use super::super::source_offsets::ItemPlaces;
use super::super::{BentBar, Block, Bracket, Disc, Shaft, Shape};
use super::{Checker, Flaw, MOST_PATH_POINTS, MOST_SHAPES, are_parallel};

impl Checker<'_> {
    pub(crate) fn body(&mut self) {
        if !self.places.has_shapes {
            self.findings.error(self.places.body, Flaw::EmptyBody);
        }
        if self.is_too_detailed() {
            return;
        }
        for (shape, at) in self.scene.body.iter().zip(&self.places.shapes) {
            match shape {
                Shape::BentBar(bar) => self.bent_bar(bar, at),
                Shape::Plate(plate) => self.plate(plate, at),
                Shape::Bracket(bracket) => self.bracket(bracket, at),
                Shape::Shaft(shaft) => self.shaft(shaft, at),
                Shape::Disc(disc) => self.disc(disc, at),
                Shape::Block(block) => self.block(block, at),
            }
        }
    }

    /// Reports a body of so many shapes or bends that its surface would fill the memory.
    fn is_too_detailed(&mut self) -> bool {
        let (body, places) = (&self.scene.body, &self.places.shapes);
        if let Some(first) = places.get(MOST_SHAPES) {
            let count = body.len();
            self.findings.error(first.item, Flaw::ShapeCount { count });
            return true;
        }
        let points = |shape: &Shape| match shape {
            Shape::BentBar(bar) => bar.path.len(),
            _ => 0,
        };
        let mut count = 0;
        let beyond = body.iter().zip(places).find(|(shape, _)| {
            count += points(shape);
            count > MOST_PATH_POINTS
        });
        let Some((_, at)) = beyond else {
            return false;
        };
        let count = body.iter().map(points).sum();
        self.findings
            .error(at.of("path"), Flaw::PathPointCount { count });
        true
    }

    fn bent_bar(&mut self, bar: &BentBar, at: &ItemPlaces) {
        if bar.path.len() < 2 {
            self.findings.error(at.of("path"), Flaw::ShortPath);
        }
        let points: Vec<_> = bar.path.iter().map(|place| self.position(place)).collect();
        for i in 1..points.len() {
            let (Some(from), Some(to)) = (points[i - 1], points[i]) else {
                continue;
            };
            let after = points.get(i + 1).copied().flatten();
            if from == to {
                self.findings
                    .error(at.element("path", i), Flaw::RepeatedPathPoint);
            } else if after.is_some_and(|after| folds_back(to - from, after - to)) {
                self.findings
                    .error(at.element("path", i + 1), Flaw::PathFoldsBack);
            }
        }
    }

    fn bracket(&mut self, bracket: &Bracket, at: &ItemPlaces) {
        let [first, second] = [0, 1].map(|i| self.position(&bracket.legs[i]));
        let (Some(corner), Some(first), Some(second)) =
            (self.position(&bracket.corner), first, second)
        else {
            return;
        };
        let legs = [first - corner, second - corner];
        if are_parallel(&legs[0], &legs[1]) {
            self.findings.error(at.of("legs"), Flaw::LegsInLine);
            return;
        }
        let leg = legs[0].norm().min(legs[1].norm());
        if bracket.gusset > leg {
            let unit = self.scene.units.length.symbol();
            self.findings
                .error(at.of("gusset"), Flaw::LongGusset { leg, unit });
        }
    }

    fn shaft(&mut self, shaft: &Shaft, at: &ItemPlaces) {
        if self.coincide(&shaft.from, &shaft.to) {
            self.findings.error(at.of("to"), Flaw::NoLength);
        }
    }

    fn disc(&mut self, disc: &Disc, at: &ItemPlaces) {
        if let Some(axis) = &disc.axis {
            self.direction(axis, &disc.centre, "axis", at);
        }
        if disc.bore >= disc.diameter {
            self.findings.error(at.of("bore"), Flaw::WideBore);
        } else if disc.groove >= (disc.diameter - disc.bore) / 2.0 {
            self.findings.error(at.of("groove"), Flaw::DeepGroove);
        }
    }

    fn block(&mut self, block: &Block, at: &ItemPlaces) {
        let given = [
            ("lengthwise", &block.lengthwise),
            ("upright", &block.upright),
        ];
        for (field, direction) in given {
            if let Some(direction) = direction {
                self.direction(direction, &block.centre, field, at);
            }
        }
        let up = if self.is_planar() {
            Vector3::y()
        } else {
            Vector3::z()
        };
        let unit = |direction: &Option<_>, default| match direction {
            Some(direction) => self.unit(direction, &block.centre),
            None => Some(default),
        };
        let units = unit(&block.lengthwise, Vector3::x()).zip(unit(&block.upright, up));
        if units.is_some_and(|(lengthwise, upright)| are_parallel(&lengthwise, &upright)) {
            let field = if block.upright.is_some() {
                "upright"
            } else {
                "lengthwise"
            };
            self.findings
                .error(at.of(field), Flaw::UprightAlongLengthwise);
        }
    }
}

fn folds_back(leg: Vector3<f64>, next: Vector3<f64>) -> bool {
    are_parallel(&leg, &next) && leg.dot(&next) < 0.0
}

#[cfg(test)]
mod tests {
    use super::super::testing::{flaws, shape_flaws};

    const NONE: [&str; 0] = [];

    #[test]
    fn a_body_has_a_shape() {
        assert_eq!(flaws(""), NONE);
        assert_eq!(flaws("body: []"), ["the body has no shapes"]);
    }

    #[test]
    fn a_path_leads_on() {
        let bar = |path| shape_flaws(&format!("BentBar(path: [{path}], diameter: 0.1)"));
        assert_eq!(bar("\"A\", \"B\", \"C\", \"A\""), NONE);
        assert_eq!(bar("\"A\""), ["the path has fewer than two points"]);
        assert_eq!(
            bar("\"A\", (0, 0, 0), \"B\""),
            ["the path stays at the same point"]
        );
        assert_eq!(
            bar("\"A\", \"B\", (0.5, 0, 0)"),
            ["the path turns straight back on itself"]
        );
    }

    #[test]
    fn a_bracket_has_an_angle() {
        let bracket = |legs, gusset| {
            let sizes = "width: 0.1, thickness: 0.01";
            shape_flaws(&format!(
                "Bracket(corner: \"A\", legs: ({legs}), {sizes}, gusset: {gusset})"
            ))
        };
        assert_eq!(bracket("\"B\", \"C\"", 1.0), NONE);
        let in_line = ["the legs of the bracket lie on one line with its corner"];
        assert_eq!(bracket("\"B\", (-3, 0, 0)", 0.0), in_line);
        assert_eq!(bracket("\"A\", \"C\"", 0.0), in_line);
        let long = ["the gusset reaches further than the shorter leg, which is 1 m long"];
        assert_eq!(bracket("\"B\", (0, 2, 0)", 1.5), long);
    }

    #[test]
    fn a_shaft_has_a_length() {
        let shaft = |to| shape_flaws(&format!("Shaft(from: \"A\", to: {to}, diameter: 0.1)"));
        assert_eq!(shaft("\"B\""), NONE);
        assert_eq!(shaft("\"A\""), ["`from` and `to` are the same place"]);
    }

    #[test]
    fn a_disc_keeps_a_rim() {
        let disc = |more| {
            shape_flaws(&format!(
                "Disc(centre: \"A\", diameter: 1, thickness: 0.1, {more})"
            ))
        };
        assert_eq!(disc("axis: (1, 0, 0), bore: 0.5, groove: 0.1"), NONE);
        assert_eq!(
            disc("axis: (1, 0, 0), bore: 1"),
            ["the bore is as wide as the disc or wider"]
        );
        let deep = ["the groove is as deep as the rim or deeper"];
        assert_eq!(disc("axis: (1, 0, 0), bore: 0.5, groove: 0.25"), deep);
        assert_eq!(
            disc("axis: Towards(\"A\")"),
            ["`axis` points towards the place where it starts"]
        );
    }

    #[test]
    fn a_block_stands_across_its_length() {
        let block = |more| shape_flaws(&format!("Block(centre: \"A\", size: (1, 2, 3), {more})"));
        assert_eq!(block("lengthwise: (1, 1, 0), upright: (1, 0, 0)"), NONE);
        let along = ["`upright` runs along `lengthwise`"];
        assert_eq!(block("lengthwise: (1, 1, 0), upright: (2, 2, 0)"), along);
        assert_eq!(block("lengthwise: (0, 0, -1)"), along);
        assert_eq!(block("upright: Towards(\"B\")"), along);
        assert_eq!(
            block("upright: (0, 0, 0)"),
            ["`upright` is zero, which is not a direction"]
        );
    }
}
