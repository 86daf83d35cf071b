//! Scenes made in memory that lie far from the origin, counted from a datum of their own.
//!
//! A scene that is read gets its datum from the written decimals. One that a program makes has coordinates as
//! floating-point numbers from the origin; their shortest decimals are what the program would have written, so the scene is
//! read from those.

use super::datum::{Datum, size};
use super::{Direction, Load, Place, Scene, SupportKind, read_str, to_ron};

impl Scene {
    /// The same scene counted from a datum of its own, where it is counted from the origin and lies far from it.
    ///
    /// `None` where the scene stays as it is; also where its text would not be a whole scene, which then shows elsewhere.
    pub(crate) fn counted_nearby(&self) -> Option<Self> {
        if !self.datum.is_origin() || self.is_near() {
            return None;
        }
        read_str("", &to_ron(self)).ok().map(|loaded| loaded.scene)
    }

    /// Whether a scene that is counted from the origin lies near enough to stay so.
    fn is_near(&self) -> bool {
        let mut places = self
            .places()
            .filter_map(|place| self.position(place))
            .filter(|at| at.iter().all(|x| x.is_finite()));
        let Some(first) = places.next() else {
            return true;
        };
        let (low, high) = places.fold((first, first), |(low, high), at| {
            let least = std::array::from_fn(|i| f64::min(low[i], at[i]));
            let greatest = std::array::from_fn(|i| f64::max(high[i], at[i]));
            (least, greatest)
        });
        size(&low, &high).is_finite() && Datum::default().moved_to(low, high).is_origin()
    }

    /// Every place at which something of the scene stands.
    fn places(&self) -> impl Iterator<Item = &Place> {
        let body = self.body.iter().flat_map(|shape| shape.places());
        let walls = self.walls.iter().flat_map(|wall| &wall.corners);
        let supports = self.supports.iter().flat_map(|support| {
            let towards = [
                support.kind.orientation(),
                support.kind.second_orientation(),
            ];
            let towards = towards.into_iter().flatten().filter_map(target);
            let ground = SupportKind::ground(&support.kind);
            std::iter::once(&support.at).chain(ground).chain(towards)
        });
        let cases = self.cases.iter().flat_map(|case| &case.loads);
        let loads = self.loads.iter().chain(cases).flat_map(load_places);
        body.chain(walls).chain(supports).chain(loads)
    }
}

fn target(direction: &Direction) -> Option<&Place> {
    match direction {
        Direction::Towards(place) => Some(place),
        Direction::Along(_) | Direction::Angle(_) => None,
    }
}

fn load_places(load: &Load) -> Vec<&Place> {
    match load {
        Load::Force { at, .. } => vec![at],
        Load::Couple { at, .. } | Load::Weight { at, .. } => at.iter().collect(),
        Load::Distributed { from, to, .. } => vec![from, to],
        Load::Line { path: places, .. }
        | Load::Area {
            corners: places, ..
        } => places.iter().collect(),
    }
}
