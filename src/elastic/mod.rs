//! Reactions of a rigid body on elastic supports: what equilibrium leaves open, stiffnesses decide.
//!
//! Each reaction is a spring between the body and the ground. Of all reactions that balance the load, those are found that store
//! the least energy `Σ R²/2k`, contacts only pushing and cables only pulling; the body then moves so that every spring is
//! compressed by just what its force needs (Castigliano; for alike fasteners the handbook's bolt group: Barrett, *Fastener
//! Design Manual*, NASA RP-1228, 1990). Everything rests on the stiffnesses given.

mod bars;
mod contact;
mod imposed;
mod springs;
mod stiffness;

use nalgebra::{DVector, Vector3};

use crate::indexed::Indexed;
use crate::statics::{
    CaseIndex, Diagnosis, Model, OneWay, ReactionIndex, ReactionKind, ScaledTwist, Sense,
    SupportIndex, Twist, extend, load_size,
};
pub use bars::{
    BarFrame, BarStiffness, FrameAnswer, FrameBar, FrameCase, LargestSection, SectionForces,
    SectionMeasure, SectionStress,
};
use springs::{SpringAction, Springs};
pub use stiffness::{StiffnessSource, Stiffnesses};

/// The reactions of elastic supports under every load case.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub struct Elastic {
    /// What the supports' stiffnesses were taken to be.
    pub stiffnesses: Stiffnesses,
    /// What follows under each load case, in the model's order.
    pub cases: Indexed<CaseIndex, ElasticCase>,
}

/// What elastic supports make of a load case.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum ElasticCase {
    /// These reactions balance the load.
    Solved(ElasticReactions),
    /// The supports do not carry the load, however stiff they are.
    NotCarried,
    /// A support settles or the body expands, which makes forces only with stiffnesses in numbers, and none is given.
    NoStiffness,
    /// The supports carry the load, but no reactions were found that could be confirmed: rough contacts would have to hold along
    /// a surface from which they part, or stiffnesses lie too far apart.
    NotFound,
}

/// Reactions of elastic supports.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct ElasticReactions {
    /// Value of each reaction, N or N·m, in model order.
    pub values: Indexed<ReactionIndex, f64>,
    /// Contacts that lift off and cables that go slack, in model order: one-way reactions without force.
    pub open: Vec<ReactionIndex>,
    /// For each rough contact that stays pressed the coefficient of friction that these reactions need, in model order.
    pub friction: Vec<(SupportIndex, f64)>,
    /// How the body gives way: small displacement (m) at the reference point and small rotation (rad). `None` where a motion is
    /// left free, or stiffnesses are known only relative to each other.
    pub displacement: Option<Twist>,
    /// How much the body has expanded besides, about the reference point: change of length over length.
    pub strain: f64,
}

impl ElasticCase {
    /// The reactions, where they were found.
    pub fn reactions(&self) -> Option<&ElasticReactions> {
        match self {
            Self::Solved(reactions) => Some(reactions),
            Self::NotCarried | Self::NoStiffness | Self::NotFound => None,
        }
    }
}

impl ElasticReactions {
    /// The support whose body point moves most, and by what, m; `None` where the displacement is not known.
    pub fn moved_most(&self, model: &Model) -> Option<(SupportIndex, Vector3<f64>)> {
        let displacement = self.displacement.as_ref()?;
        let supports = model.supports.enumerate();
        let moved = supports.map(|(index, support)| {
            let by = displacement.velocity_at(&support.point, &model.reference);
            let growth = (support.point - model.reference) * self.strain;
            (index, by + growth)
        });
        // Of several that move alike the first, whatever their last digits.
        moved.reduce(
            |most, next| match next.1.norm() > (1.0 + ALIKE) * most.1.norm() {
                true => next,
                false => most,
            },
        )
    }
}

/// Displacements that differ by less than this part count as alike.
const ALIKE: f64 = 1e-9;

impl Elastic {
    /// Puts a diagnosed model on springs.
    pub(crate) fn of(model: &Model, diagnosis: &Diagnosis, one_way: Option<&OneWay>) -> Self {
        let stiffnesses = Stiffnesses::of(model);
        let springs = Springs::new(model, diagnosis, &stiffnesses);
        let bed = SpringBed {
            model,
            diagnosis,
            springs: &springs,
            stiffnesses: &stiffnesses,
        };
        let is_carried = |case: CaseIndex| {
            let one_way = one_way.is_none_or(|found| found.cases[case].is_carried());
            one_way && diagnosis.cases[case].is_balanced()
        };
        let needs_numbers = |case: CaseIndex| {
            stiffnesses.stiffest.is_none() && imposed::needs_stiffness(&model.cases[case])
        };
        let cases = model.cases.indices().map(|case| match is_carried(case) {
            true if needs_numbers(case) => ElasticCase::NoStiffness,
            true => bed
                .solved(case)
                .map_or(ElasticCase::NotFound, ElasticCase::Solved),
            false => ElasticCase::NotCarried,
        });
        Self {
            cases: cases.collect(),
            stiffnesses,
        }
    }
}

/// A diagnosed model with its springs.
struct SpringBed<'a> {
    model: &'a Model,
    diagnosis: &'a Diagnosis,
    springs: &'a Springs,
    stiffnesses: &'a Stiffnesses,
}

/// Relative size of reactions that are rounding noise of the loads, and of parts of a displacement that are such of the whole.
const NOISE: f64 = 1e-12;

impl SpringBed<'_> {
    fn solved(&self, case: CaseIndex) -> Option<ElasticReactions> {
        let demand = self.diagnosis.demand(case);
        let offsets = imposed::offsets(self.model, &self.model.cases[case], self.stiffnesses);
        let action = SpringAction { demand, offsets };
        let settled = contact::settled(self.model, self.springs, &action)?;
        let size = load_size(self.model, case) + self.springs.locked(&action);
        let floor = size * NOISE.max(self.springs.rounding());
        let known = &self.diagnosis.cases[case].values;
        let value = |j: ReactionIndex| match known[j] {
            // What equilibrium decides has the same digits here.
            Some(known) => known,
            None if settled.forces[j].abs() <= floor => 0.0,
            None => settled.forces[j] * self.unit(j),
        };
        let values: Indexed<ReactionIndex, f64> =
            self.model.reactions.indices().map(value).collect();
        let one_way = |j: &ReactionIndex| self.model.reactions[*j].sense != Sense::Both;
        let reactions = self.model.reactions.indices();
        Some(ElasticReactions {
            open: reactions
                .filter(|j| one_way(j) && values[*j] <= 0.0)
                .collect(),
            friction: contact::friction(self.model, &values),
            displacement: self.displacement(&settled.settlement, settled.is_unique),
            strain: imposed::strain(&self.model.cases[case]),
            values,
        })
    }

    fn displacement(&self, settlement: &DVector<f64>, is_unique: bool) -> Option<Twist> {
        let stiffest = self.stiffnesses.stiffest.filter(|_| is_unique)?;
        let scaled = self.diagnosis.ranked.twist_of(settlement) / stiffest;
        let floor = NOISE * scaled.norm();
        let scaled = scaled.map(|part| if part.abs() <= floor { 0.0 } else { part });
        let twist: ScaledTwist = extend(&scaled, self.model.space);
        Some(Twist::from_scaled(&twist, self.model.length))
    }

    /// SI unit of a scaled reaction.
    fn unit(&self, j: ReactionIndex) -> f64 {
        match self.model.reactions[j].kind {
            ReactionKind::Force => 1.0,
            ReactionKind::Couple => self.model.length,
        }
    }
}
