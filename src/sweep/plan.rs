//! A study laid out flat, so that a placement costs no more than its arithmetic.
//!
//! Places are relative to the reference point of the scene as written and counted in its characteristic length; both stay what they
//! are in every placement, so that margins compare.

use std::ops::Range;

use nalgebra::{Point3, Rotation3, Vector3};

use super::drawn::DrawnPlacement;
use super::draws::Draws;
use super::settings::{SweepError, SweepSettings};
use super::triangle::LaneRow;
use crate::elastic::StiffnessSource;
use crate::indexed::{Index, Indexed};
use crate::scene::{Scene, Space, SupportKind};
use crate::statics::{
    AppliedLoad, CaseIndex, ImposedAction, LoadCase, Model, PlacedSupport, Reaction, ReactionIndex,
    ReactionKind, Sense,
};
use crate::study::Study;

/// What a sweep needs of a study.
#[derive(Debug, Clone)]
pub(super) struct SweepPlan {
    pub(super) space: Space,
    /// The characteristic length, m.
    pub(super) length: f64,
    /// The margin of the scene as written, m; 0 where the body is not held.
    pub(super) margin: f64,
    pub(super) supports: Vec<SupportPlan>,
    pub(super) columns: Vec<ColumnPlan>,
    /// The loads of the scene: those of every case, then those of each case, in its order.
    pub(super) loads: Vec<LoadPlan>,
    pub(super) cases: Vec<CasePlan>,
    /// Whether all stiffnesses are equal as written.
    pub(super) is_even: bool,
}

/// A support: where it is, and what turns.
#[derive(Debug, Clone)]
pub(super) struct SupportPlan {
    at: Vector3<f64>,
    ground: Option<Vector3<f64>>,
    /// Axis, rod, rail, slot or normal; `None` where the support has none or its ends give it.
    pub(super) axis: Option<Vector3<f64>>,
    /// Whether it turns about its axis, too, as a rail with its normal does.
    has_normal: bool,
    columns: Range<usize>,
}

/// A reaction.
#[derive(Debug, Clone)]
pub(super) struct ColumnPlan {
    pub(super) kind: ReactionKind,
    pub(super) is_one_way: bool,
    /// The column of the normal force of a rough contact, of what holds across it.
    pub(super) normal: Option<usize>,
    pub(super) support: usize,
    /// Relative to the largest, couples at the characteristic length.
    pub(super) stiffness: f64,
    /// The same in N/m or N·m/rad; where the scene gives none at all, in any unit.
    pub(super) stiffness_si: f64,
    pub(super) direction: Vector3<f64>,
}

/// A load: a force at an arm, a first moment at a lever, and a couple; N and the characteristic length.
#[derive(Debug, Clone, Default)]
pub(super) struct LoadPlan {
    force: Vector3<f64>,
    arm: Vector3<f64>,
    first_moment: Vector3<f64>,
    lever: Vector3<f64>,
    couple: Vector3<f64>,
    /// What it points along; `None` of weights, and of what does not turn in the plane.
    pub(super) axis: Option<Vector3<f64>>,
}

/// A load case.
#[derive(Debug, Clone)]
pub(super) struct CasePlan {
    /// Loads, each with its factor.
    parts: Vec<(usize, f64)>,
    /// What is imposed; empty where nothing is.
    imposed: Vec<ImposedPlan>,
    /// Sum of the sizes of all that acts, N.
    pub(super) size: f64,
}

/// What is imposed on the spring of a reaction, N for the stiffest.
#[derive(Debug, Clone, Copy, Default)]
struct ImposedPlan {
    settlement: Vector3<f64>,
    prestress: f64,
    expansion: f64,
}

impl SweepPlan {
    /// Lays out the load case of an index, or all.
    pub(super) fn new(study: &Study, case: Option<CaseIndex>) -> Result<Self, SweepError> {
        let model = study.model();
        if model.reactions.is_empty() {
            return Err(SweepError::NoReactions);
        }
        let sprung = study.clone().on_springs();
        let Some(elastic) = sprung.elastic() else {
            return Err(SweepError::NoReactions);
        };
        let (columns, stiffest) = columns(model, &elastic.stiffnesses.values);
        let loads = scene_loads(study.scene(), model);
        let indices = model
            .cases
            .indices()
            .filter(|index| case.is_none_or(|case| case == *index));
        let cases = indices.map(|index| {
            let acting = &model.cases[index];
            if elastic.stiffnesses.source == StiffnessSource::Equal && needs_stiffness(acting) {
                let case = acting.name.clone();
                return Err(SweepError::NoStiffness { case });
            }
            let parts = parts_of(study.scene(), index);
            let sizes = parts
                .iter()
                .map(|(load, factor)| factor.abs() * loads[*load].size());
            let imposed = imposed(acting, model, stiffest);
            let locked = imposed.iter().map(ImposedPlan::size).sum::<f64>();
            Ok(CasePlan {
                size: sizes.sum::<f64>() + locked,
                parts,
                imposed,
            })
        });
        Ok(Self {
            space: model.space,
            length: model.length,
            margin: super::margin(study),
            supports: supports(model),
            is_even: columns.iter().all(|column| column.stiffness == 1.0),
            cases: cases.collect::<Result<_, _>>()?,
            columns,
            loads,
        })
    }

    /// The placement with everything as it is written.
    pub(super) fn as_written(&self) -> DrawnPlacement {
        let (supports, loads) = (self.supports.len(), self.loads.len());
        DrawnPlacement {
            shifts: vec![[Vector3::zeros(); 2]; supports],
            turns: vec![Vector3::zeros(); supports],
            load_turns: vec![Vector3::zeros(); loads],
            load_factors: vec![1.0; loads],
            stiffness_factors: vec![[1.0; 2]; supports],
        }
    }

    /// Draws a placement.
    pub(super) fn draw(
        &self,
        settings: &SweepSettings,
        draws: &mut Draws,
        number: u64,
        drawn: &mut DrawnPlacement,
    ) {
        let tolerances = &settings.tolerances;
        draws.start(number);
        if let Some(placement) = tolerances.placement {
            let part = placement / self.length;
            for (support, shifts) in self.supports.iter().zip(&mut drawn.shifts) {
                shifts[0] = draws.in_ball() * part;
                if support.ground.is_some() {
                    shifts[1] = draws.in_ball() * part;
                }
            }
        }
        if let Some(angle) = tolerances.direction {
            for (support, turn) in self.supports.iter().zip(&mut drawn.turns) {
                if let Some(axis) = &support.axis {
                    *turn = match support.has_normal {
                        true => draws.in_ball() * angle,
                        false => draws.turn_of(axis) * angle,
                    };
                }
            }
            for (load, turn) in self.loads.iter().zip(&mut drawn.load_turns) {
                if let Some(axis) = &load.axis {
                    *turn = draws.turn_of(axis) * angle;
                }
            }
        }
        if let Some(part) = tolerances.load {
            drawn.load_factors.fill_with(|| draws.factor(part, false));
        }
        if let Some(part) = tolerances.stiffness {
            let factor = || std::array::from_fn(|_| draws.factor(part, true));
            drawn.stiffness_factors.fill_with(factor);
        }
    }

    /// Writes the columns of a placement as rows of lanes.
    pub(super) fn lay_out<const M: usize, const W: usize>(
        &self,
        drawn: &DrawnPlacement,
        lane: usize,
        rows: &mut [LaneRow<M, W>],
    ) {
        for (index, support) in self.supports.iter().enumerate() {
            let [shift, ground_shift] = drawn.shifts[index];
            let at = support.at + shift;
            let towards = support
                .ground
                .map(|ground| (ground + ground_shift - at).normalize());
            let turn = drawn.turns[index];
            let turn = (turn != Vector3::zeros()).then(|| Rotation3::from_scaled_axis(turn));
            for column in support.columns.clone() {
                let plan = &self.columns[column];
                let direction = match (&towards, &turn) {
                    (Some(towards), _) => *towards,
                    (None, Some(turn)) => turn * plan.direction,
                    (None, None) => plan.direction,
                };
                let six = match plan.kind {
                    ReactionKind::Force => six(&direction, &at.cross(&direction)),
                    ReactionKind::Couple => six(&Vector3::zeros(), &direction),
                };
                for (entry, value) in rows[column].iter_mut().zip(kept::<M>(&six)) {
                    entry[lane] = value;
                }
            }
        }
    }

    /// The wrench of a load case, scaled, N.
    pub(super) fn load<const M: usize>(&self, drawn: &DrawnPlacement, case: &CasePlan) -> [f64; M] {
        let (mut force, mut moment) = (Vector3::zeros(), Vector3::zeros());
        for (load, factor) in &case.parts {
            let factor = factor * drawn.load_factors[*load];
            let [own_force, own_moment] = self.loads[*load].wrench(&drawn.load_turns[*load]);
            force += own_force * factor;
            moment += own_moment * factor;
        }
        kept(&six(&force, &moment))
    }

    /// By how much each spring of a placement is opened while the body stays, N for the stiffest; of the unit wrenches of the
    /// reactions.
    pub(super) fn offsets<const M: usize>(
        &self,
        drawn: &DrawnPlacement,
        case: &CasePlan,
        wrench: impl Fn(usize) -> [f64; M],
        stiffnesses: &[f64],
        offsets: &mut [f64],
    ) {
        offsets.fill(0.0);
        let springs = case.imposed.iter().zip(&self.columns);
        for (index, (imposed, plan)) in springs.enumerate() {
            let six = spread(&wrench(index));
            let direction = Vector3::new(six[0], six[1], six[2]);
            let at = self.supports[plan.support].at + drawn.shifts[plan.support][0];
            offsets[index] = match plan.kind {
                ReactionKind::Force => {
                    imposed.expansion * direction.dot(&at)
                        - direction.dot(&imposed.settlement)
                        - imposed.prestress / stiffnesses[index]
                }
                ReactionKind::Couple => 0.0,
            };
        }
    }
}

impl ColumnPlan {
    /// The factor on its stiffness in a placement.
    pub(super) fn stiffness_factor(&self, drawn: &DrawnPlacement) -> f64 {
        let [forces, couples] = drawn.stiffness_factors[self.support];
        match self.kind {
            ReactionKind::Force => forces,
            ReactionKind::Couple => couples,
        }
    }
}

impl LoadPlan {
    fn wrench(&self, turn: &Vector3<f64>) -> [Vector3<f64>; 2] {
        let turned = |vector: &Vector3<f64>| match *turn == Vector3::zeros() {
            true => *vector,
            false => Rotation3::from_scaled_axis(*turn) * vector,
        };
        let force = turned(&self.force);
        let mut moment = self.arm.cross(&force);
        if self.couple != Vector3::zeros() {
            moment += turned(&self.couple);
        }
        if self.first_moment != Vector3::zeros() {
            moment += self.lever.cross(&turned(&self.first_moment));
        }
        [force, moment]
    }

    fn size(&self) -> f64 {
        let [force, moment] = self.wrench(&Vector3::zeros());
        force.norm().hypot(moment.norm())
    }
}

impl ImposedPlan {
    fn size(&self) -> f64 {
        self.settlement.norm() + self.prestress.abs() + self.expansion.abs()
    }
}

pub(super) fn six(upper: &Vector3<f64>, lower: &Vector3<f64>) -> [f64; 6] {
    [upper.x, upper.y, upper.z, lower.x, lower.y, lower.z]
}

/// Rows that the plane keeps of six.
const PLANE: [usize; 3] = [0, 1, 5];

/// The rows of M motions.
pub(super) fn kept<const M: usize>(six: &[f64; 6]) -> [f64; M] {
    std::array::from_fn(|row| six[if M == 6 { row } else { PLANE[row] }])
}

/// The reverse: the rows that the plane does not have are 0.
fn spread<const M: usize>(rows: &[f64; M]) -> [f64; 6] {
    let mut six = [0.0; 6];
    for (row, value) in rows.iter().enumerate() {
        six[if M == 6 { row } else { PLANE[row] }] = *value;
    }
    six
}

fn supports(model: &Model) -> Vec<SupportPlan> {
    let relative = |point: &Point3<f64>| (point - model.reference) / model.length;
    let plan = |support: &PlacedSupport| SupportPlan {
        at: relative(&support.point),
        ground: support.ground.as_ref().map(relative),
        axis: match support.ground {
            Some(_) => None,
            None => support.orientation.map(|axis| axis.into_inner()),
        },
        has_normal: support.normal.is_some(),
        columns: support.reactions.positions(),
    };
    model.supports.iter().map(plan).collect()
}

/// The reactions, and the largest stiffness, N/m.
fn columns(model: &Model, stiffnesses: &Indexed<ReactionIndex, f64>) -> (Vec<ColumnPlan>, f64) {
    let normal_of = |reaction: &Reaction| {
        let support = &model.supports[reaction.support];
        let is_rough = matches!(support.kind, SupportKind::RoughContact { .. });
        let mut own = support.reactions.clone();
        let normal = own.find(|j| model.reactions[*j].sense != Sense::Both);
        normal
            .map(Index::get)
            .filter(|_| is_rough && reaction.sense == Sense::Both)
    };
    let column = |(reaction, stiffness): (&Reaction, &f64)| ColumnPlan {
        kind: reaction.kind,
        is_one_way: reaction.sense != Sense::Both,
        normal: normal_of(reaction),
        support: reaction.support.get(),
        stiffness: match reaction.kind {
            ReactionKind::Force => *stiffness,
            ReactionKind::Couple => stiffness / (model.length * model.length),
        },
        stiffness_si: *stiffness,
        direction: reaction.direction.into_inner(),
    };
    let reactions = model.reactions.iter().zip(stiffnesses);
    let mut columns: Vec<ColumnPlan> = reactions.map(column).collect();
    let stiffest = columns
        .iter()
        .map(|column| column.stiffness)
        .fold(0.0, f64::max);
    for column in &mut columns {
        column.stiffness /= stiffest;
    }
    (columns, stiffest)
}

/// The loads of a scene, those of every case first.
fn scene_loads(scene: &Scene, model: &Model) -> Vec<LoadPlan> {
    let common = scene.loads.len();
    let mut loads: Vec<LoadPlan> = Vec::new();
    let of = |load: &AppliedLoad| load_plan(load, model);
    // Cases of the scene have its own loads first and in full; combinations come behind them.
    let first = model.cases.iter().next();
    loads.extend(
        first
            .iter()
            .flat_map(|case| case.loads.iter().take(common))
            .map(of),
    );
    for (case, _) in model.cases.iter().zip(&scene.cases) {
        loads.extend(case.loads.iter().skip(common).map(of));
    }
    loads
}

/// The loads of a case by their place among those of the scene, each with its factor.
fn parts_of(scene: &Scene, case: CaseIndex) -> Vec<(usize, f64)> {
    let common = 0..scene.loads.len();
    let own = |index: usize| {
        let before = &scene.cases[..index];
        let start = common.end + before.iter().map(|case| case.loads.len()).sum::<usize>();
        start..start + scene.cases[index].loads.len()
    };
    let times = |loads: Range<usize>, factor: f64| loads.map(move |load| (load, factor));
    let index = case.get();
    if scene.cases.is_empty() {
        return times(common, 1.0).collect();
    }
    let Some(combination) = index.checked_sub(scene.cases.len()) else {
        return times(common.clone(), 1.0)
            .chain(times(own(index), 1.0))
            .collect();
    };
    let combination = &scene.combinations[combination];
    let named = |name: &str| scene.cases.iter().position(|case| case.name == name);
    let factored = combination.factors.iter();
    let factored = factored.filter_map(|(name, factor)| Some(times(own(named(name)?), *factor)));
    times(common.clone(), combination.permanent)
        .chain(factored.flatten())
        .collect()
}

fn load_plan(load: &AppliedLoad, model: &Model) -> LoadPlan {
    let relative = |point: &Point3<f64>| (point - model.reference) / model.length;
    let along = |vector: &Vector3<f64>| vector.try_normalize(0.0);
    match load {
        AppliedLoad::Force { at, force } => LoadPlan {
            force: *force,
            arm: relative(at),
            axis: along(force),
            ..LoadPlan::default()
        },
        AppliedLoad::Weight { at, force, .. } => LoadPlan {
            force: *force,
            arm: relative(at),
            ..LoadPlan::default()
        },
        AppliedLoad::Couple { moment, .. } => LoadPlan {
            couple: moment / model.length,
            axis: along(moment).filter(|_| model.space == Space::Spatial),
            ..LoadPlan::default()
        },
        AppliedLoad::Distributed {
            ends: [from, to],
            densities: [start, end],
        } => {
            let length = (to - from).norm();
            let force = (start + end) * (length / 2.0);
            LoadPlan {
                force,
                arm: relative(from),
                first_moment: (start + end * 2.0) * (length / 6.0),
                lever: (to - from) / model.length,
                axis: along(&force).or_else(|| along(start)),
                ..LoadPlan::default()
            }
        }
        AppliedLoad::Line { mass, .. } => LoadPlan {
            axis: along(&load.wrench(&model.reference).force).filter(|_| mass.is_none()),
            ..parallel_plan(load, model)
        },
        // A pressure keeps to its face, and so does every force over one.
        AppliedLoad::Area { .. } => parallel_plan(load, model),
    }
}

/// Parallel forces count as their sum at the centroid of where they act.
fn parallel_plan(load: &AppliedLoad, model: &Model) -> LoadPlan {
    let parts = load.resultants();
    let force: Vector3<f64> = parts.iter().map(|part| part.force).sum();
    let weighted: Vector3<f64> = parts
        .iter()
        .map(|part| (part.at - model.reference) * part.force.norm())
        .sum();
    let total: f64 = parts.iter().map(|part| part.force.norm()).sum();
    LoadPlan {
        force,
        arm: match total > 0.0 {
            true => weighted / (total * model.length),
            false => Vector3::zeros(),
        },
        ..LoadPlan::default()
    }
}

fn needs_stiffness(case: &LoadCase) -> bool {
    case.imposed
        .iter()
        .any(|action| !matches!(action, ImposedAction::Prestress { .. }))
}

/// What a case imposes on each reaction; empty where nothing is.
fn imposed(case: &LoadCase, model: &Model, stiffest: f64) -> Vec<ImposedPlan> {
    if case.imposed.is_empty() {
        return Vec::new();
    }
    let mut plans = vec![ImposedPlan::default(); model.reactions.len()];
    for (plan, reaction) in plans.iter_mut().zip(&model.reactions) {
        for action in &case.imposed {
            match action {
                ImposedAction::Settlement { support, by } if *support == reaction.support => {
                    plan.settlement += by * stiffest;
                }
                ImposedAction::Prestress { support, force } if *support == reaction.support => {
                    plan.prestress += force;
                }
                ImposedAction::Expansion { strain } => {
                    plan.expansion += strain * model.length * stiffest;
                }
                ImposedAction::Settlement { .. } | ImposedAction::Prestress { .. } => {}
            }
        }
    }
    plans
}
