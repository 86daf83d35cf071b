//! Sizes and distances that are probably given in another unit than the rest of the scene: warnings.
//!
//! Thresholds are our choice, no source, as in [`super::traps`].

use super::super::solid::Surfaces;
use super::super::syntax::clipped;
use super::super::{BentBar, Block, Bracket, Disc, Load, Place, Plate, Shaft, Shape};
use super::{Checker, Flaw};

/// A body larger than this many metres, whose units nobody has named, is probably given in millimetres.
const HUGE: f64 = 100.0;

/// Largest ratio of a length to its thickness that is not taken for a mixture of units, and of a thickness to its length.
const SLENDER: f64 = 3000.0;
const STOUT: f64 = 30.0;

/// Ratio between a shape and the next smaller one from which on they are probably given in different units.
const LEAP: f64 = 300.0;

/// Further from the body than this many of its diagonals, a place is probably given in another unit: a long pendulum hangs by a
/// hundred.
const DISTANT: f64 = 200.0;

impl Checker<'_> {
    /// Bars thicker than long, or thinner than any wire.
    pub(super) fn thickness_and_length(&mut self) {
        for (shape, at) in self.scene.body.iter().zip(&self.places.shapes) {
            let Some((field, length, thickness)) = self.proportions(shape) else {
                continue;
            };
            let ratio = length / thickness;
            if ratio > SLENDER {
                let ratio = words_of(ratio);
                self.findings
                    .warning(at.of(field), Flaw::Slender { field, ratio });
            } else if ratio < 1.0 / STOUT {
                let ratio = words_of(1.0 / ratio);
                self.findings
                    .warning(at.of(field), Flaw::Stout { field, ratio });
            }
        }
    }

    /// The field of a thickness, the greatest length across it and the thickness itself; `None` for unknown places.
    fn proportions(&self, shape: &Shape) -> Option<(&'static str, f64, f64)> {
        let reach = |from: &Place, places: &[&Place]| {
            let from = self.position(from)?;
            let far = places.iter().filter_map(|place| self.position(place));
            far.map(|at| (at - from).norm()).reduce(f64::max)
        };
        Some(match shape {
            Shape::BentBar(BentBar { path, diameter, .. }) => {
                let all: Vec<&Place> = path.iter().collect();
                ("diameter", reach(path.first()?, &all)?, *diameter)
            }
            Shape::Shaft(Shaft { from, to, diameter }) => {
                ("diameter", reach(from, &[to])?, *diameter)
            }
            Shape::Plate(Plate {
                corners, thickness, ..
            }) => {
                let all: Vec<&Place> = corners.iter().collect();
                ("thickness", reach(corners.first()?, &all)?, *thickness)
            }
            Shape::Bracket(Bracket {
                corner,
                legs: [one, other],
                thickness,
                ..
            }) => ("thickness", reach(corner, &[one, other])?, *thickness),
            Shape::Disc(Disc {
                diameter,
                thickness,
                ..
            }) => ("thickness", *diameter, *thickness),
            Shape::Block(Block { size, .. }) => {
                let most = size.iter().copied().fold(0.0, f64::max);
                let least = size.iter().copied().fold(f64::INFINITY, f64::min);
                ("size", most, least)
            }
        })
    }

    pub(super) fn size_of_body(&mut self, surfaces: &Surfaces) {
        if self.places.has_units || surfaces.diagonal() <= HUGE {
            return;
        }
        let size = words_of(surfaces.diagonal());
        self.findings
            .warning(self.places.body, Flaw::HugeBody { size });
    }

    pub(super) fn leaps_in_size(&mut self, surfaces: &Surfaces) {
        let sizes = surfaces.diagonals();
        let mut order: Vec<usize> = (0..sizes.len()).collect();
        order.sort_by(|&a, &b| sizes[a].total_cmp(&sizes[b]));
        let leap = order
            .windows(2)
            .find(|pair| sizes[pair[1]] > LEAP * sizes[pair[0]]);
        let Some(&[small, large]) = leap.and_then(|pair| pair.first_chunk()) else {
            return;
        };
        let ratio = words_of(sizes[large] / sizes[small]);
        let at = self.places.shapes[large].item;
        self.findings.warning(at, Flaw::LeapInSize { ratio });
    }

    /// Ground ends of links and cables, and places of loads that need not lie on the body.
    pub(super) fn far_from_the_body(&mut self, surfaces: &Surfaces) {
        for (support, at) in self.scene.supports.iter().zip(&self.places.supports) {
            if let Some(ground) = support.kind.ground() {
                let what = || format!("the ground end of \"{}\" is", clipped(&support.name));
                self.far_away(surfaces, ground, what, at.of("ground"));
            }
        }
        let in_cases = self.scene.cases.iter().flat_map(|case| &case.loads);
        let at_cases = self.places.case_loads();
        let loads = self.scene.loads.iter().chain(in_cases);
        for (load, at) in loads.zip(self.places.loads.iter().chain(at_cases)) {
            let (place, what) = match load {
                Load::Force { at, .. } => (Some(at), "the force acts"),
                Load::Weight { at, .. } => (at.as_ref(), "the weight acts"),
                Load::Couple { at, .. } => (at.as_ref(), "the couple is drawn"),
                // Beyond the ends of a body it is off it.
                Load::Distributed { .. } | Load::Line { .. } | Load::Area { .. } => (None, ""),
            };
            if let Some(place) = place {
                self.far_away(surfaces, place, || what.to_owned(), at.of("at"));
            }
        }
    }

    fn far_away(
        &mut self,
        surfaces: &Surfaces,
        place: &Place,
        what: impl Fn() -> String,
        offset: usize,
    ) {
        if let Some(metres) = distant(surfaces, place) {
            let flaw = Flaw::FarAway {
                what: what(),
                distance: self.length(metres),
                ratio: words_of(metres / surfaces.diagonal()),
                unit: self.scene.units.length.symbol(),
            };
            self.findings.warning(offset, flaw);
        }
    }

    /// A length in the scene's unit to two figures, as one that was only estimated.
    pub(super) fn length(&self, metres: f64) -> String {
        let unit = self.scene.units.length;
        format!("{} {}", words_of(metres / unit.in_metres()), unit.symbol())
    }
}

/// How far a place lies from the body, m, where that is so far that its unit is probably another one.
pub(super) fn distant(surfaces: &Surfaces, place: &Place) -> Option<f64> {
    let metres = surfaces.distance_off_box(place)?;
    (metres > DISTANT * surfaces.diagonal()).then_some(metres)
}

/// A number to two figures; `2.5e200` where zeros would fill the line.
pub(super) fn words_of(number: f64) -> String {
    let short = format!("{number:.1e}");
    let rounded: f64 = short.parse().unwrap_or(number);
    if PLAINLY_WRITTEN.contains(&rounded.abs()) || rounded == 0.0 {
        rounded.to_string()
    } else {
        format!("{rounded:e}")
    }
}

/// Sizes of numbers written without a power of ten.
const PLAINLY_WRITTEN: std::ops::Range<f64> = 1e-4..1e7;

#[cfg(test)]
mod tests {
    use super::super::testing::messages;

    const NONE: [&str; 0] = [];

    fn spatial(more: &str) -> Vec<String> {
        messages(&format!("(format: 1, {more})"))
    }

    #[test]
    fn sizes_are_in_one_unit() {
        let bar = |length: f64, diameter: f64| {
            spatial(&format!(
                "units: (length: m), body: [BentBar(path: [(0, 0, 0), ({length}, 0, 0)], diameter: {diameter})]"
            ))
        };
        assert_eq!(bar(1.2, 0.04), NONE);
        assert_eq!(bar(1200.0, 1.0), NONE);
        assert_eq!(
            bar(1.2, 40.0),
            ["the diameter is 33 times the length of the shape"]
        );
        assert_eq!(
            bar(1200.0, 0.04),
            ["the length of the shape is 30000 times the diameter"]
        );
        let two = "units: (length: m), body: [Block(centre: (0, 0, 0), size: (0.5, 0.5, 0.5)), Block(centre: (0, 0, 0), size: (500, 500, 500))]";
        assert_eq!(
            spatial(two),
            ["this shape is 1000 times as large as the next smaller one"]
        );
    }

    /// A force 500 m above a body of 1 m lay on its line of action and was not warned of, nor was the eye of a cable.
    #[test]
    fn places_are_in_the_unit_of_the_body() {
        let scene = |ground: f64, load: &str| {
            spatial(&format!(
                "body: [Block(centre: (0, 0, 0), size: (1, 1, 1))], \
                 supports: [Cable(name: \"C\", at: (0, 0, 0.5), ground: (0, 0, {ground}))], loads: [{load}]"
            ))
        };
        let force = |height: f64| format!("Force(at: (0, 0, {height}), force: (0, 0, -1))");
        assert_eq!(scene(170.0, &force(170.0)), NONE);
        assert_eq!(
            scene(500.5, &force(500.5)),
            [
                "the ground end of \"C\" is 500 m from the body, which is 290 times the size of the body",
                "the force acts 500 m from the body, which is 290 times the size of the body",
            ]
        );
        assert_eq!(
            scene(2.0, "Weight(mass: 1, at: (0, 0, 700.5))"),
            ["the weight acts 700 m from the body, which is 400 times the size of the body"]
        );
    }

    #[test]
    fn a_huge_body_names_its_units() {
        let block = "body: [Block(centre: (0, 0, 0), size: (300, 100, 100))]";
        assert_eq!(
            spatial(block),
            ["the body is 330 m across, and the scene names no units"]
        );
        assert_eq!(spatial(&format!("units: (length: mm), {block}")), NONE);
        assert_eq!(spatial(&format!("units: (length: m), {block}")), NONE);
    }
}
