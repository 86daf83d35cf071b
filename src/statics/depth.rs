//! What is known about a diagnosed model beyond the quick core: how nearly, which way, and what then.

use super::acceleration::Acceleration;
use super::circuits::{Circuits, Combination, combinations};
use super::diagnosis::Diagnosis;
use super::heat::Heat;
use super::model::Model;
use super::nearness::Nearness;
use super::one_way::{Carried, OneWay};
use super::reason::Picture;
use super::repair::Releases;
use super::rounding::Rounding;
use super::uncarried::Uncarried;

/// What to go into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct DepthSettings {}

/// Everything in depth about a model, read by every output.
#[derive(Debug, Clone)]
pub struct Depth {
    /// The objects of the diagnosis' reason, each with the reactions that belong to it.
    pub pictures: Vec<Picture>,
    /// Minimal dependent groups of reactions.
    pub circuits: Circuits,
    /// Combinations of undecided reactions that equilibrium decides.
    pub combinations: Vec<Combination>,
    /// How near the rank is to dropping; `None` without any reaction.
    pub nearness: Option<Nearness>,
    /// Whether the rank is full only through rounded decimals; `None` where it is not.
    pub rounding: Option<Rounding>,
    /// What one-way supports make of the loads; `None` where all act both ways.
    pub one_way: Option<OneWay>,
    /// The load cases that the supports do not carry.
    pub uncarried: Vec<Uncarried>,
    /// How each load case starts the body from rest; `None` where it does not, or the mass is not known.
    pub accelerations: Vec<Option<Acceleration>>,
    /// How the supports meet uniform expansion.
    pub heat: Heat,
    /// What the body can do without.
    pub releases: Releases,
}

impl Depth {
    /// Goes into a diagnosed model.
    pub fn new(model: &Model, diagnosis: &Diagnosis, _settings: &DepthSettings) -> Self {
        let everything: Vec<usize> = (0..model.reactions.len()).collect();
        let carried = Carried::of(model, diagnosis);
        Self {
            pictures: diagnosis.reason.pictures(model, &everything),
            circuits: Circuits::of(model, diagnosis),
            combinations: combinations(model, diagnosis),
            nearness: Nearness::of(model, diagnosis),
            rounding: Rounding::of(model, diagnosis),
            accelerations: carried.accelerations,
            uncarried: Uncarried::of(model, diagnosis, carried.one_way.as_ref()),
            one_way: carried.one_way,
            heat: Heat::of(model, diagnosis),
            releases: Releases::of(model, diagnosis),
        }
    }

    /// Indices of the combinations made of a circuit's reactions alone: what is still known of it.
    pub fn known_of(&self, circuit: usize) -> Vec<usize> {
        let Some(circuit) = self.circuits.circuits.get(circuit) else {
            return Vec::new();
        };
        let within = |combination: &Combination| {
            let mut reactions = combination.reactions.iter();
            reactions.all(|reaction| circuit.reactions.contains(reaction))
        };
        (0..self.combinations.len())
            .filter(|i| within(&self.combinations[*i]))
            .collect()
    }
}
