//! The bars with their supports: which reactions balance a load, and how everything moves.

use nalgebra::{DMatrix, DVector, Vector3, Vector6};

use super::curve::BarCurve;
use super::energy::{EnergyFault, EnergyProblem};
use super::layout::{self, BarLayout, BarSpan};
use super::loading::{self, BarLoads};
use super::sections::sections_of;
use super::solver::{FREEDOMS, NodeStiffness, SpanStiffness};
use super::span::SpanLoads;
use super::stiffness::BarStiffness;
use super::{ElasticReactions, FrameAnswer, FrameCase, contact, imposed};
use crate::indexed::Indexed;
use crate::statics::{
    CaseIndex, Diagnosis, ImposedAction, Model, ReactionIndex, ReactionKind, ScaledTwist, Sense,
    Twist, WideSvd, Wrench, extend, stack,
};

/// The bars of a diagnosed model, laid out and factored.
pub(super) struct SupportedFrame<'a> {
    model: &'a Model,
    diagnosis: &'a Diagnosis,
    layout: BarLayout,
    spans: Vec<SpanStiffness>,
    nodes: NodeStiffness,
    /// Scaled reactions as loads on the nodes, a column for each.
    laid: DMatrix<f64>,
    /// How the nodes move by each of them.
    moved: DMatrix<f64>,
    /// Displacement at each reaction by each, with that of its own support, m/N.
    compliance: DMatrix<f64>,
    /// Shares as columns.
    shares: DMatrix<f64>,
    one_way: Vec<bool>,
}

/// Part of the loads that sums of forces may be off by.
const UNBALANCED: f64 = 1e-6;
/// Forces and moments below this part of the largest force, and of that force on the longest arm, are sums that vanish.
const VANISHING: f64 = 1e-11;

impl<'a> SupportedFrame<'a> {
    /// # Errors
    /// Of each part the first bar where bars do not hang together; none where numbers lie too far apart.
    pub(super) fn new(
        model: &'a Model,
        diagnosis: &'a Diagnosis,
        bars: Vec<(BarCurve, BarStiffness)>,
    ) -> Result<Self, Vec<usize>> {
        let curves = || bars.iter().map(|(curve, _)| curve);
        let supports = model.reactions.iter().map(|reaction| reaction.point);
        let held: Vec<_> = supports
            .map(|point| layout::nearest(curves(), &point))
            .collect();
        let loads = model.cases.iter().flat_map(|case| &case.loads);
        let loaded = loads.flat_map(loading::places);
        let loaded: Vec<_> = loaded
            .map(|point| layout::nearest(curves(), &point))
            .collect();
        let layout = BarLayout::new(bars, &held, &loaded);
        let apart = layout.apart();
        if apart.len() > 1 {
            return Err(apart);
        }
        let spans = SpanStiffness::all(&layout).ok_or_else(Vec::new)?;
        let nodes = NodeStiffness::new(&layout, &spans).ok_or_else(Vec::new)?;
        let mut laid = DMatrix::zeros(FREEDOMS * layout.nodes.len(), model.reactions.len());
        for (j, (reaction, place)) in model.reactions.iter().zip(&held).enumerate() {
            let node = layout.grip(*place).map_or(0, |grip| grip.node);
            let wrench = reaction.wrench(&layout.nodes[node]);
            let scaled = stack(&wrench.force, &wrench.moment) * unit(model, reaction.kind);
            laid.fixed_view_mut::<FREEDOMS, 1>(FREEDOMS * node, j)
                .copy_from(&scaled);
        }
        let moved = nodes.displacements(&laid);
        let mut compliance = laid.tr_mul(&moved);
        for (j, reaction) in model.reactions.iter().enumerate() {
            let of_support = reaction.stiffness.map_or(0.0, f64::recip);
            compliance[(j, j)] += of_support * unit(model, reaction.kind).powi(2);
        }
        let all: Vec<ReactionIndex> = model.reactions.indices().collect();
        Ok(Self {
            one_way: model
                .reactions
                .iter()
                .map(|reaction| reaction.sense != Sense::Both)
                .collect(),
            shares: diagnosis.ranked.shares_of(&all),
            model,
            diagnosis,
            layout,
            spans,
            nodes,
            laid,
            moved,
            compliance,
        })
    }

    /// What becomes of a load case that the supports carry.
    pub(super) fn solved(&self, case: CaseIndex) -> FrameCase {
        let loads = BarLoads::of(&self.layout, &self.model.cases[case]);
        let by_loads = self.by_loads(&loads);
        let given = self.laid.tr_mul(&by_loads) + self.opened(case);
        let problem = EnergyProblem {
            shares: &self.shares,
            negligible: self.diagnosis.ranked.negligible,
            compliance: &self.compliance,
            one_way: &self.one_way,
            demand: self.diagnosis.demand(case),
            given: given.column(0).into_owned(),
        };
        let settled = match contact::least(self.model, |loose| problem.least(loose)) {
            Ok(settled) => settled,
            Err(EnergyFault::Undecided(all)) => {
                return FrameCase::Undecided(all.into_iter().map(ReactionIndex::new).collect());
            }
            Err(EnergyFault::NotBalanced) => return FrameCase::NotFound,
        };
        let answer = self.answer(case, &loads, &by_loads, &problem, &settled);
        answer.map_or(FrameCase::NotFound, FrameCase::Solved)
    }

    /// How loads move the nodes while the first is held.
    fn by_loads(&self, loads: &BarLoads) -> DMatrix<f64> {
        let mut on_nodes = DMatrix::zeros(FREEDOMS * self.layout.nodes.len(), 1);
        let mut add = |node: usize, six: Vector6<f64>| {
            let mut own = on_nodes.fixed_view_mut::<FREEDOMS, 1>(FREEDOMS * node, 0);
            own += six;
        };
        for (node, wrench) in loads.nodes.iter().enumerate() {
            add(node, stack(&wrench.force, &wrench.moment));
        }
        let spans = self.layout.spans.iter().zip(&self.spans);
        for ((span, body), own) in spans.zip(&loads.spans) {
            let [start, end] = span.grips;
            let first = body.elements.beyond(own)[0];
            let node = self.layout.nodes[start.node];
            let carried = first.about(&(node + start.arm), &node);
            add(start.node, stack(&carried.force, &carried.moment));
            let held_back = body.stiffness * body.elements.driven(own);
            let both = body.relative.transpose() * held_back;
            add(start.node, both.fixed_rows::<6>(0).into_owned());
            add(end.node, both.fixed_rows::<6>(6).into_owned());
        }
        self.nodes.displacements(&on_nodes)
    }

    /// By how much what is imposed opens each support while the bars stay, m.
    fn opened(&self, case: CaseIndex) -> DVector<f64> {
        let model = self.model;
        let actions = &model.cases[case].imposed;
        let opened = |j: ReactionIndex| {
            let reaction = &model.reactions[j];
            let each = actions.iter().map(|action| match action {
                ImposedAction::Prestress { support, force } if *support == reaction.support => {
                    -force * reaction.stiffness.map_or(0.0, f64::recip)
                }
                moving => imposed::opened(model, reaction, moving),
            });
            match reaction.kind {
                ReactionKind::Force => each.sum(),
                ReactionKind::Couple => 0.0,
            }
        };
        DVector::from_iterator(model.reactions.len(), model.reactions.indices().map(opened))
    }

    fn answer(
        &self,
        case: CaseIndex,
        loads: &BarLoads,
        by_loads: &DMatrix<f64>,
        problem: &EnergyProblem,
        settled: &DVector<f64>,
    ) -> Option<FrameAnswer> {
        let model = self.model;
        let known = &self.diagnosis.cases[case].values;
        let value = |j: ReactionIndex| match known[j] {
            // What equilibrium decides has the same digits here.
            Some(known) => known,
            None => settled[j] * unit(model, model.reactions[j].kind),
        };
        let values: Indexed<ReactionIndex, f64> = model.reactions.indices().map(value).collect();
        let is_open = |j: &ReactionIndex| self.one_way[j.get()] && values[*j] <= 0.0;
        let open: Vec<ReactionIndex> = model.reactions.indices().filter(is_open).collect();
        let rigid = self.rigid(problem, settled, &open)?;
        let strain = imposed::strain(&model.cases[case]);
        // Without the motion of the whole, which strains nothing but would cost digits.
        let strained = by_loads.column(0) + &self.moved * settled;
        let mut sections = vec![Vec::new(); self.layout.bars.len()];
        let mut balance = NodeBalance::of(&self.layout, loads, &(&self.laid * settled));
        for (index, (span, body)) in self.layout.spans.iter().zip(&self.spans).enumerate() {
            let own = &loads.spans[index];
            let ends = span.grips.map(|grip| grip.node);
            let motions = ends.map(|node| strained.fixed_rows::<FREEDOMS>(FREEDOMS * node));
            let mut both = nalgebra::SVector::<f64, 12>::zeros();
            both.fixed_rows_mut::<6>(0).copy_from(&motions[0]);
            both.fixed_rows_mut::<6>(6).copy_from(&motions[1]);
            let own_way = body.relative * both - body.elements.driven(own);
            let six = body.stiffness * own_way;
            let end = Wrench {
                force: six.fixed_rows::<3>(0).into_owned(),
                moment: six.fixed_rows::<3>(3).into_owned(),
            };
            balance.span(&self.layout, span, body, own, &end);
            let turn: Vector3<f64> = motions[0].fixed_rows::<3>(3).into_owned();
            let start = Twist {
                linear: motions[0].fixed_rows::<3>(0) + turn.cross(&span.grips[0].arm),
                angular: turn,
            };
            let mut found = sections_of(&self.layout, span, &body.elements, own, &end, &start);
            for section in &mut found {
                let growth = (section.point - model.reference) * strain;
                let carried = rigid.twist.velocity_at(&section.point, &model.reference);
                section.displacement = rigid.is_unique.then_some(section.moved + carried + growth);
            }
            sections[span.bar].append(&mut found);
        }
        let along = sections.iter().flatten().map(|one| one.along);
        let length = along.fold(balance.length, f64::max);
        let nothing = [VANISHING * balance.size, VANISHING * balance.size * length];
        let all = sections.iter_mut().flatten();
        all.for_each(|section| section.drop_below(nothing));
        balance.is_kept().then(|| FrameAnswer {
            reactions: ElasticReactions {
                open,
                friction: contact::friction(model, &values),
                displacement: None,
                strain,
                values,
            },
            sections,
        })
    }

    /// The motion of the whole with which the supports that act fit their forces; `None` where others then close again.
    fn rigid(
        &self,
        problem: &EnergyProblem,
        settled: &DVector<f64>,
        open: &[ReactionIndex],
    ) -> Option<RigidMotion> {
        let left = problem.compliance * settled + &problem.given;
        let all = (0..self.one_way.len()).map(ReactionIndex::new);
        let acting = all.filter(|j| !open.contains(j)).map(|j| j.get());
        let acting: Vec<usize> = acting.collect();
        let shares = self.shares.select_columns(&acting);
        let svd = WideSvd::new(&shares);
        let mut shared = DVector::zeros(shares.nrows());
        let values = svd.values.iter();
        let rank = values.filter(|value| **value > problem.negligible).count();
        let target = shares * left.select_rows(&acting);
        for (value, direction) in svd.values.iter().zip(svd.left.column_iter()).take(rank) {
            let part = -direction.dot(&target) / (value * value);
            shared.axpy(part, &direction, 1.0);
        }
        let is_unique = rank == self.model.space.motions();
        let floor = UNBALANCED * left.amax();
        let closes =
            |j: &ReactionIndex| left[*j] + self.shares.column(j.get()).dot(&shared) < -floor;
        if is_unique && open.iter().any(closes) {
            return None;
        }
        let shared = self.diagnosis.ranked.twist_of(&shared);
        let scaled: ScaledTwist = extend(&shared, self.model.space);
        Some(RigidMotion {
            twist: Twist::from_scaled(&scaled, self.model.length),
            is_unique,
        })
    }
}

/// How the bars move as a whole.
struct RigidMotion {
    twist: Twist,
    /// Whether it is the only one.
    is_unique: bool,
}

/// Forces and moments at every node, which have to balance.
struct NodeBalance {
    nodes: Vec<Wrench>,
    size: f64,
    length: f64,
}

impl NodeBalance {
    fn of(layout: &BarLayout, loads: &BarLoads, reactions: &DVector<f64>) -> Self {
        let first = layout.nodes[0];
        let far = layout.nodes.iter().map(|node| (node - first).norm());
        let mut balance = Self {
            nodes: vec![Wrench::default(); layout.nodes.len()],
            size: 0.0,
            length: far.fold(0.0, f64::max),
        };
        for (node, wrench) in loads.nodes.iter().enumerate() {
            balance.add(node, wrench);
            let six = reactions.fixed_rows::<FREEDOMS>(FREEDOMS * node);
            let reaction = Wrench {
                force: six.fixed_rows::<3>(0).into_owned(),
                moment: six.fixed_rows::<3>(3).into_owned(),
            };
            balance.add(node, &reaction);
        }
        balance
    }

    fn add(&mut self, node: usize, wrench: &Wrench) {
        self.nodes[node] = self.nodes[node] + *wrench;
        self.size = self.size.max(wrench.force.norm());
        if self.length > 0.0 {
            self.size = self.size.max(wrench.moment.norm() / self.length);
        }
    }

    /// Takes off what a span does to its two nodes.
    fn span(
        &mut self,
        layout: &BarLayout,
        span: &BarSpan,
        body: &SpanStiffness,
        loads: &SpanLoads,
        end: &Wrench,
    ) {
        let [from, to] = body.elements.ends();
        let first = body.elements.beyond(loads)[0] + end.about(&to, &from);
        let nodes = span.grips.map(|grip| layout.nodes[grip.node]);
        self.add(span.grips[0].node, &first.about(&from, &nodes[0]));
        let opposite = Wrench {
            force: -end.force,
            moment: -end.moment,
        };
        self.add(span.grips[1].node, &opposite.about(&to, &nodes[1]));
    }

    fn is_kept(&self) -> bool {
        let floor = UNBALANCED * self.size;
        let is_kept = |wrench: &Wrench| {
            let moment = wrench.moment.norm();
            wrench.force.norm() <= floor && moment <= floor * self.length
        };
        self.nodes.iter().all(is_kept)
    }
}

/// SI unit of a scaled reaction.
fn unit(model: &Model, kind: ReactionKind) -> f64 {
    match kind {
        ReactionKind::Force => 1.0,
        ReactionKind::Couple => model.length,
    }
}
