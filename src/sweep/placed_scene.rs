//! The scene that a placement makes.

use nalgebra::{Rotation3, Vector3};

use super::drawn::DrawnPlacement;
use super::plan::{ColumnPlan, SweepPlan};
use crate::scene::{
    AreaAmount, Coordinates, Direction, ForceVector, Heaviness, LineAmount, Load, Moment, Place,
    Scene, Space, Stiffness, SupportKind, SupportStiffness, Units,
};
use crate::statics::{PlacedSupport, ReactionKind};
use crate::study::Study;

impl DrawnPlacement {
    /// The scene with everything where the placement has it. What does not vary stays as it is written.
    pub(super) fn scene(&self, plan: &SweepPlan, study: &Study) -> Scene {
        let mut scene = study.scene().clone();
        for (index, placed) in study.model().supports.iter().enumerate() {
            self.place(plan, index, placed, &mut scene);
            if self.stiffness_factors[index] != [1.0; 2] {
                let stiffness = self.stiffness(plan, index, placed, &scene.units);
                scene.supports[index].stiffness = stiffness;
            }
        }
        let space = scene.space;
        let cases = scene.cases.iter_mut().map(|case| &mut case.loads);
        let loads = std::iter::once(&mut scene.loads).chain(cases).flatten();
        for (number, load) in loads.enumerate() {
            let variation = LoadVariation {
                space,
                factor: self.load_factors[number],
                turn: self.load_turns[number],
                axis: plan.loads[number].axis,
            };
            variation.apply(load);
        }
        scene
    }

    /// Moves and turns a support.
    fn place(&self, plan: &SweepPlan, index: usize, placed: &PlacedSupport, scene: &mut Scene) {
        let (shifts, turn) = (&self.shifts[index], self.turns[index]);
        let is_moved = *shifts != [Vector3::zeros(); 2];
        let space = scene.space;
        let unit = plan.length / scene.units.length.in_metres();
        let moved = |place: &Place, shift: &Vector3<f64>| {
            let at = scene.position(place).map(Vector3::from).unwrap_or_default();
            Place::At(Coordinates::new(space, (at + shift * unit).into()))
        };
        let mut support = scene.supports[index].clone();
        if is_moved {
            support.at = moved(&support.at, &shifts[0]);
            if let SupportKind::Link { ground } | SupportKind::Cable { ground } = &mut support.kind
            {
                *ground = moved(ground, &shifts[1]);
            }
        }
        // Written in numbers: a direction towards a place would follow the support that moves.
        if plan.supports[index].axis.is_some() && (is_moved || turn != Vector3::zeros()) {
            let turn = Rotation3::from_scaled_axis(turn);
            let along = |axis: &Vector3<f64>| {
                Direction::Along(Coordinates::new(space, (turn * axis).into()))
            };
            let orientation = support.kind.orientation_mut().zip(placed.orientation);
            if let Some((direction, axis)) = orientation {
                *direction = along(&axis);
            }
            if let (SupportKind::RailWheel { normal, .. }, Some(axis)) =
                (&mut support.kind, &placed.normal)
            {
                *normal = along(axis);
            }
        }
        scene.supports[index] = support;
    }

    /// The stiffnesses of a support in the scene's units, with those that are taken for granted. Where they differ across an axis that
    /// is turned, they go with the components in the order that these have then, the one along the axis first.
    fn stiffness(
        &self,
        plan: &SweepPlan,
        index: usize,
        placed: &PlacedSupport,
        units: &Units,
    ) -> SupportStiffness {
        let per_length = units.force.in_newtons() / units.length.in_metres();
        let per_radian = units.moment_in_newton_metres();
        let mut columns: Vec<&ColumnPlan> =
            plan.columns[placed.reactions.positions()].iter().collect();
        if let Some(axis) = plan.supports[index].axis
            && self.turns[index] != Vector3::zeros()
        {
            columns.sort_by_key(|column| column.direction.dot(&axis).abs() < 0.5);
        }
        let given = |kind: ReactionKind, unit: f64| {
            let own = columns.iter().filter(|column| column.kind == kind);
            let own = own.map(|column| column.stiffness_si * column.stiffness_factor(self) / unit);
            let own: Vec<f64> = own.collect();
            match own.as_slice() {
                [] => None,
                [first, others @ ..] if others.iter().all(|other| other == first) => {
                    Some(Stiffness::Same(*first))
                }
                _ => Some(Stiffness::Each(own)),
            }
        };
        SupportStiffness {
            forces: given(ReactionKind::Force, per_length),
            couples: given(ReactionKind::Couple, per_radian),
        }
    }
}

/// How a load differs from what is written.
struct LoadVariation {
    space: Space,
    factor: f64,
    turn: Vector3<f64>,
    /// What it points along as written.
    axis: Option<Vector3<f64>>,
}

impl LoadVariation {
    fn apply(&self, load: &mut Load) {
        let is_turned = self.turn != Vector3::zeros();
        if self.factor == 1.0 && !is_turned {
            return;
        }
        match load {
            Load::Force { force, .. } => {
                *force = match force {
                    ForceVector::Directed { size, direction } if !is_turned => {
                        ForceVector::Directed {
                            size: *size * self.factor,
                            direction: direction.clone(),
                        }
                    }
                    // Of a size 0 nothing turns.
                    ForceVector::Directed { size, .. } => {
                        let along = self.axis.unwrap_or_default() * size.abs();
                        ForceVector::Components(self.coordinates(along.into()))
                    }
                    ForceVector::Components(components) => {
                        ForceVector::Components(self.coordinates(components.components()))
                    }
                };
            }
            Load::Couple { moment, .. } => {
                *moment = match moment {
                    Moment::Plane(about) => Moment::Plane(*about * self.factor),
                    Moment::Space(components) => Moment::Space(self.varied(*components)),
                };
            }
            Load::Distributed { start, end, .. } => {
                *start = self.coordinates(start.components());
                *end = end.map(|end| self.coordinates(end.components()));
            }
            Load::Weight { amount, .. } => {
                *amount = match *amount {
                    Heaviness::Mass(mass) => Heaviness::Mass(mass * self.factor),
                    Heaviness::Density(density) => Heaviness::Density(density * self.factor),
                };
            }
            Load::Line { amount, .. } => match amount {
                LineAmount::Force(force) => *force = self.coordinates(force.components()),
                LineAmount::Mass { per_length, .. } => *per_length *= self.factor,
            },
            Load::Area { amount, .. } => match amount {
                AreaAmount::Force(force) => *force = self.coordinates(force.components()),
                AreaAmount::Pressure(pressure) => *pressure *= self.factor,
            },
        }
    }

    fn varied(&self, components: [f64; 3]) -> [f64; 3] {
        let turn = Rotation3::from_scaled_axis(self.turn);
        (turn * Vector3::from(components) * self.factor).into()
    }

    fn coordinates(&self, components: [f64; 3]) -> Coordinates {
        Coordinates::new(self.space, self.varied(components))
    }
}
