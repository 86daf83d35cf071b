//! The model: a checked scene in SI units with its reactions laid out.

use std::collections::HashSet;
use std::sync::Arc;

use nalgebra::{Point3, Vector3};

use super::indices::{CaseIndex, ReactionIndex, SupportIndex};
use super::loads::{self, LoadCase};
use super::mass_properties::{LazyMassProperties, MassProperties};
use super::placed_support::{PlacedSupport, find_axles, place};
use super::reaction::Reaction;
use super::reactions;
use super::resolver::{ModelError, Resolver};
use crate::indexed::{Indexed, Indices};
use crate::scene::{Datum, Scene, Shape, Space, Units};

/// A rigid body with its supports and loads, in SI units and the scene's axes.
#[derive(Debug, Clone)]
#[must_use]
pub struct Model {
    /// Title of the scene.
    pub title: String,
    /// Motions to stop: six or three.
    pub space: Space,
    /// Units that the scene is written in, for outputs.
    pub units: Units,
    /// What every position below is counted from, in the scene's length unit.
    pub datum: Datum,
    /// Named points of the scene, in its order.
    pub points: Vec<NamedPlace>,
    /// Supports in scene order.
    pub supports: Indexed<SupportIndex, PlacedSupport>,
    /// Reaction components in scene order, those of one support together.
    pub reactions: Indexed<ReactionIndex, Reaction>,
    /// Names of the reactions that the supports supply and that were left out.
    pub(super) released: Vec<String>,
    /// Load cases; at least one, which may be empty of loads.
    pub cases: Indexed<CaseIndex, LoadCase>,
    /// Mean of the distinct support points, m; of the body's points where there is no support.
    pub reference: Point3<f64>,
    /// Characteristic length, m, > 0: root-mean-square distance of the distinct support points from
    /// `reference`, or, where they coincide, the largest distance of the body's points from it.
    pub length: f64,
    /// How far each support may stand from where it is written, m, > 0; `None` where the scene does not say.
    pub placement_tolerance: Option<f64>,
    pub(super) bulk: Arc<LazyMassProperties>,
}

/// A named point of the scene.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPlace {
    /// Name.
    pub name: String,
    /// Where it is, m.
    pub point: Point3<f64>,
}

/// Support points closer together than this, relative to the body, give no characteristic length: the rounding of places
/// some fifty body sizes from the origin would be more of it than [`freedom`](super::freedom) takes for nothing.
const COINCIDENT: f64 = 1e-6;

impl Model {
    /// Lays out the reactions and loads of a scene, counted from a datum near its middle where it lies far from the origin.
    ///
    /// # Errors
    /// A [`ModelError`] for the first fault found; none for a scene that reading has accepted.
    pub fn new(scene: &Scene) -> Result<Self, ModelError> {
        match scene.counted_nearby() {
            Some(nearby) => Self::laid_out(&nearby),
            None => Self::laid_out(scene),
        }
    }

    fn laid_out(scene: &Scene) -> Result<Self, ModelError> {
        let resolver = Resolver::new(scene);
        let mut supports = Indexed::new();
        for support in &scene.supports {
            supports.push(place(&resolver, support)?);
        }
        find_axles(scene, &mut supports);
        let (reference, length) = reference_and_length(&supports, &resolver);
        let mut model = Self {
            title: scene.title.clone(),
            space: scene.space,
            units: scene.units,
            datum: scene.datum,
            points: named_places(scene, &resolver),
            supports,
            reactions: Indexed::new(),
            released: Vec::new(),
            cases: loads::cases(&resolver)?,
            reference,
            length,
            placement_tolerance: scene.placement_tolerance.map(|t| t * resolver.metres),
            bulk: Arc::new(LazyMassProperties::of(scene)),
        };
        model.lay_out_reactions();
        Ok(model)
    }

    /// The body's centre of volume and inertia; `None` where no load case has a weight, or the body no volume.
    ///
    /// Integrated over the body's surface when first asked for, then kept.
    pub fn mass_properties(&self) -> Option<MassProperties> {
        self.bulk.mass_properties()
    }

    /// The origin of the scene's axes, m from the datum, as near as an f64 holds it.
    pub fn origin(&self) -> Point3<f64> {
        let metres = self.units.length.in_metres();
        let from_datum = |axis| -self.datum.from_origin(axis, 0.0) * metres;
        Point3::from(std::array::from_fn(from_datum))
    }

    /// Index of the load case of a name.
    pub fn case_index(&self, name: &str) -> Option<CaseIndex> {
        self.cases.position(|case| case.name == name)
    }

    fn lay_out_reactions(&mut self) {
        self.reactions.clear();
        for index in self.supports.indices() {
            let support = &mut self.supports[index];
            support.reactions = reactions::lay_out(support, index, self.space, &mut self.reactions);
        }
    }

    /// The same model without some of its reactions, by index; supports, reference point and length stay.
    pub fn without(&self, released: &[ReactionIndex]) -> Self {
        let kept = |index: &ReactionIndex| !released.contains(index);
        let mut other = self.clone();
        let names = released
            .iter()
            .map(|&index| self.reactions[index].name.clone());
        other.released.extend(names);
        other.reactions = self
            .reactions
            .indices()
            .filter(kept)
            .map(|index| self.reactions[index].clone())
            .collect();
        let mut next = 0;
        for (support, old) in other.supports.iter_mut().zip(&self.supports) {
            let count = old.reactions.clone().filter(kept).count();
            support.reactions = Indices::between(next, next + count);
            next += count;
        }
        other
    }

    /// The same model with every hinge and bearing read the other way about its couples: all without
    /// where any has them, else all with. Also the names of those that changed, and which way. `None` where
    /// none has a choice. What was released stays released, and a support without any reaction left stays without.
    pub(super) fn with_other_couples(&self) -> Option<(Self, Vec<String>, bool)> {
        let switch_of = |support: &PlacedSupport| match support.reactions.is_empty() {
            true => None,
            false => support.kind.couples(),
        };
        let switches = self.supports.map(switch_of);
        let on = !switches.contains(&Some(true));
        let changes: Vec<SupportIndex> = switches
            .indices()
            .filter(|support| switches[*support] == Some(!on))
            .collect();
        // Of large models none is copied for nothing.
        if changes.is_empty() {
            return None;
        }
        let mut other = Self {
            cases: Indexed::new(),
            ..self.clone()
        };
        let mut changed = Vec::new();
        for support in changes {
            let support = &mut other.supports[support];
            support.kind = reactions::with_couples(&support.kind, on);
            changed.push(support.name.clone());
        }
        other.lay_out_reactions();
        let is_released = |reaction: &Reaction| {
            self.released.contains(&reaction.name)
                || self.supports[reaction.support].reactions.is_empty()
        };
        let all = other.reactions.indices();
        let released: Vec<ReactionIndex> =
            all.filter(|&j| is_released(&other.reactions[j])).collect();
        if !released.is_empty() {
            other = other.without(&released);
        }
        Some((other, changed, on))
    }
}

fn named_places(scene: &Scene, resolver: &Resolver) -> Vec<NamedPlace> {
    let points = scene.points.iter();
    points
        .map(|named| NamedPlace {
            name: named.name.clone(),
            point: resolver.metres(&named.at.components()),
        })
        .collect()
}

fn reference_and_length(supports: &[PlacedSupport], resolver: &Resolver) -> (Point3<f64>, f64) {
    let mut seen = HashSet::new();
    let distinct: Vec<Point3<f64>> = supports
        .iter()
        // Adding zero makes one of the two zeros.
        .filter(|s| seen.insert(s.written_point.map(|x| (x + 0.0).to_bits())))
        .map(|s| s.point)
        .collect();
    let body = body_points(resolver);
    let reference = mean(&distinct)
        .or_else(|| mean(&body))
        .unwrap_or_else(Point3::origin);
    let square = |points: &[Point3<f64>]| {
        points
            .iter()
            .map(|p| (p - reference).norm_squared())
            .sum::<f64>()
    };
    let spread = (square(&distinct) / distinct.len().max(1) as f64).sqrt();
    let radius = body
        .iter()
        .map(|p| (p - reference).norm())
        .fold(0.0, f64::max);
    // A point held by rounding beside the middle of a block gives no length.
    let body = resolver.scene.body.iter();
    let size = body.map(Shape::largest_size).fold(0.0, f64::max) * resolver.metres;
    let radius = if radius <= COINCIDENT * size {
        0.0
    } else {
        radius
    };
    let coincide = spread <= COINCIDENT * radius.max(size);
    let candidates = [if coincide { radius } else { spread }, resolver.metres];
    let length = candidates.into_iter().find(|l| *l > 0.0 && l.is_finite());
    (reference, length.unwrap_or(1.0))
}

fn mean(points: &[Point3<f64>]) -> Option<Point3<f64>> {
    let sum: Vector3<f64> = points.iter().map(|p| p.coords).sum();
    (!points.is_empty()).then(|| Point3::from(sum / points.len() as f64))
}

fn body_points(resolver: &Resolver) -> Vec<Point3<f64>> {
    let places = resolver.scene.body.iter().flat_map(|shape| shape.places());
    places
        .filter_map(|place| resolver.point("body", place).ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{builtin, read_str};
    use crate::statics::{Diagnosis, ExactRank, ReactionKind, ReactionMatrix, Tolerance};

    fn models() -> impl Iterator<Item = Model> {
        let texts = builtin::all().iter().map(|scene| scene.text);
        texts.map(|text| Model::new(&read_str("test", text).unwrap().scene).unwrap())
    }

    #[test]
    fn a_released_reaction_is_one_column_less() {
        for model in models() {
            let matrix = ReactionMatrix::new(&model);
            for index in model.reactions.indices() {
                let part = model.without(&[index]);
                let expected = matrix.entries().clone().remove_column(index.get());
                assert_eq!(*ReactionMatrix::new(&part).entries(), expected);
                let owners = part.supports.enumerate();
                for (support, own) in owners.map(|(i, support)| (i, support.reactions.clone())) {
                    assert!(
                        own.into_iter()
                            .all(|r| part.reactions[r].support == support)
                    );
                }
            }
        }
    }

    /// Without one reaction the rank stays or drops by one, and it drops for each reaction of a determinate body.
    #[test]
    fn the_numbers_follow_what_is_released() {
        for model in models() {
            let whole = Diagnosis::new(&model, Tolerance::default());
            for index in model.reactions.indices() {
                let part = model.without(&[index]);
                let diagnosis = Diagnosis::new(&part, Tolerance::default());
                assert_eq!(diagnosis.counts.unknowns, whole.counts.unknowns - 1);
                let lost = whole.counts.rank - diagnosis.counts.rank;
                assert!(lost <= 1);
                assert!(lost == 1 || whole.counts.redundancy > 0, "{}", model.title);
                let exact = ExactRank::of(&part).rank;
                assert!(exact <= whole.exact.rank && exact + 1 >= whole.exact.rank);
                if whole.exact.rank == whole.counts.rank && whole.counts.redundancy == 0 {
                    assert_eq!(exact, diagnosis.counts.rank, "{}", model.title);
                }
                let other = whole.other_reading.as_ref();
                let kept = other.map(|other| other.counts.unknowns);
                let released = diagnosis.other_reading.map(|other| other.counts.unknowns);
                // A couple that the other reading does not have is nothing that it loses.
                if model.reactions[index].kind == ReactionKind::Force {
                    assert_eq!(released, kept.map(|kept| kept - 1), "{}", model.title);
                }
            }
            let none = model.without(&model.reactions.indices().collect::<Vec<_>>());
            assert_eq!(ExactRank::of(&none).rank, 0);
            let diagnosis = Diagnosis::new(&none, Tolerance::default());
            assert_eq!(diagnosis.counts.freedom, model.space.motions());
        }
    }
}
