//! A worked solution in words: which sum, what drops out, the equation with its numbers, what it gives.

use nalgebra::{Point3, Unit, Vector3};

use super::summands::{amount, of_loads, summands, term_text};
use super::{Balance, Equation, Solution, SolutionStep, Term, axis, derivation, spread};
use crate::document::{DocumentBlock, Formula};
use crate::indexed::Indexed;
use crate::scene::Space;
use crate::statics::{CaseIndex, Diagnosis, Model, ReactionIndex, ReactionKind, Symbol};
use crate::wording::{self, Operator, Phrase, Sum, phrase};

/// The whole solution of a load case: conditions, steps, what stays open, the check.
pub fn blocks(model: &Model, diagnosis: &Diagnosis, working: &Solution) -> Vec<DocumentBlock> {
    let mut writer = SolutionWriter {
        model,
        case: working.case,
        blocks: vec![DocumentBlock::Quiet(convention(model, working))],
        number: 0,
    };
    let directions = derivation::directions(model);
    if !directions.is_empty() {
        let said =
            "The directions of inclined reactions are unit vectors from the body to the ground:";
        writer.paragraph(said.into());
        writer.blocks.push(DocumentBlock::List(directions));
    }
    writer.blocks.extend(spread::blocks(model, working.case));
    writer.conditions(diagnosis, working);
    if !diagnosis.cases[working.case].is_balanced() {
        writer.without_equilibrium(working);
        return writer.blocks;
    }
    let mut values = model.reactions.map(|_| None);
    for step in &working.steps {
        writer.step(step, &values);
        for (reaction, value) in &step.found {
            values[*reaction] = Some(*value);
        }
    }
    for equation in &working.open {
        writer.open(equation, &values);
    }
    if let Some(check) = &working.check {
        writer.check(check, &values);
    }
    writer.against_their_sense(&values);
    writer.blocks
}

/// How signs of moments are counted, and what `r` is where it occurs.
fn convention(model: &Model, working: &Solution) -> Phrase {
    let signs = match model.space {
        Space::Spatial => {
            "Reactions are positive as drawn. Moments are positive by the right-hand rule about the direction \
             stated; lengths that multiply a reaction are moment arms."
        }
        Space::Planar => {
            "Reactions are positive as drawn, moments anticlockwise; lengths that multiply a reaction are moment \
             arms."
        }
    };
    let from = match model.space {
        Space::Spatial => " leads from the axis to the point where a force acts.",
        Space::Planar => " leads from the moment centre to the point where a force acts.",
    };
    let has_vector = |equation| derivation::has_vector(model, working.case, equation);
    let vector = working
        .every_equation()
        .any(has_vector)
        .then(|| phrase!(" The vector ", Symbol::plain("r"), from));
    phrase!(signs, vector)
}

/// What is summed up: `Moments about the line through A and B, positive about x`, `Forces along x`.
pub fn balance(model: &Model, balance: &Balance) -> Phrase {
    match balance {
        Balance::Forces(along) => {
            phrase!("Forces along ", wording::signed_direction(model, along))
        }
        Balance::Moments(point, about) if model.space == Space::Planar => {
            phrase!("Moments about ", axis::name(model, point, about))
        }
        Balance::Moments(point, about) => phrase!(
            "Moments about ",
            axis::name(model, point, about),
            sense(model, point, about)
        ),
        Balance::Screw(point, about, pitch) => phrase!(
            "Moments about ",
            axis::name(model, point, about),
            sense(model, point, about),
            ", plus ",
            wording::length(*pitch, &model.units),
            " times the forces along it"
        ),
    }
}

/// The direction of a line whose name does not tell it.
fn sense(model: &Model, point: &Point3<f64>, about: &Unit<Vector3<f64>>) -> Option<Phrase> {
    if wording::tells_direction(model, point, about) {
        return None;
    }
    let is_oblique = wording::slant(model, about).is_some();
    let ends = wording::ends(model, point, about).filter(|_| is_oblique);
    Some(match ends {
        Some([from, to]) => phrase!(", positive about the direction from ", from, " to ", to),
        None => phrase!(", positive about ", wording::signed_direction(model, about)),
    })
}

/// What is summed up, as symbols: `ΣM_z + 0.14 m·ΣF_z` of a screw motion, else as a plain sum.
pub fn sum(model: &Model, balance: &Balance) -> Phrase {
    let own = sum_of(model, balance);
    match balance {
        Balance::Screw(_, about, pitch) => phrase!(
            own,
            if *pitch < 0.0 {
                Operator::Minus
            } else {
                Operator::Plus
            },
            wording::length(pitch.abs(), &model.units),
            Operator::Times,
            sum_of(model, &Balance::Forces(*about))
        ),
        _ => own,
    }
}

/// A sum of forces or moments, as a symbol: `ΣF_x`, `ΣM_Ax` about the axis along x through A, `ΣM_AB` about the line through A and B;
/// without a subscript where nothing there has a short name.
fn sum_of(model: &Model, balance: &Balance) -> Phrase {
    let (letter, label, direction) = match balance {
        Balance::Forces(along) => ("F", None, along),
        Balance::Moments(point, about) | Balance::Screw(point, about, _) => {
            ("M", axis::subscript(model, point, about), about)
        }
    };
    let along = |axis: &usize| direction[*axis] >= 1.0 - PARALLEL;
    let axis = match (model.space, balance.has_moments()) {
        (Space::Planar, true) => None,
        _ => (0..3).find(along),
    };
    let symbol = Symbol {
        axis: axis.map_or("", |axis| ["x", "y", "z"][axis]),
        label: label.unwrap_or_default(),
        ..Symbol::plain(letter)
    };
    phrase!("Σ", symbol)
}

/// An equation: `ΣM_A = 0.36 m·T_C − 44.13 N·m = 0`.
pub fn equation(model: &Model, equation: &Equation) -> Formula {
    if equation.terms.is_empty() {
        return condition(model, equation);
    }
    let (name, summands) = (sum(model, &equation.balance), summands(model, equation));
    let mut summed = Sum::default();
    summands
        .into_iter()
        .for_each(|summand| summand.add_to(&mut summed));
    Formula::equal(
        phrase!(name, Operator::Equals, summed.phrase()),
        wording::number(0.0),
    )
}

/// `ΣM_AB = 12.93 N·m ≠ 0`, `ΣM_AB = 5 N·m − 5 N·m = 0`: a sum in which no reaction takes part.
fn condition(model: &Model, equation: &Equation) -> Formula {
    let (balance, loads) = (&equation.balance, of_loads(model, equation));
    if loads.is_empty() {
        return identity(sum(model, balance));
    }
    let (is_one, is_balanced) = (loads.len() == 1, equation.load == 0.0);
    let mut summed = Sum::default();
    loads.into_iter().for_each(|load| load.add_to(&mut summed));
    let mut left = phrase!(sum(model, balance), Operator::Equals, summed.phrase());
    if !is_one && !is_balanced {
        left.push(Operator::Equals);
        left.push(amount(model, balance, equation.load));
    }
    Formula {
        left,
        relation: match is_balanced {
            true => Operator::Equals,
            false => Operator::Differs,
        },
        right: wording::number(0.0).into(),
    }
}

/// `ΣF_x = 0 (satisfied identically)`.
fn identity(name: Phrase) -> Formula {
    Formula::equal(
        name,
        phrase!(wording::number(0.0), " (satisfied identically)"),
    )
}

struct SolutionWriter<'a> {
    model: &'a Model,
    case: CaseIndex,
    blocks: Vec<DocumentBlock>,
    /// Equations numbered so far.
    number: usize,
}

impl SolutionWriter<'_> {
    fn paragraph(&mut self, text: Phrase) {
        self.blocks.push(DocumentBlock::Paragraph(text));
    }

    fn equation_block(&mut self, formula: Formula) {
        self.number += 1;
        self.blocks.push(DocumentBlock::Equation {
            label: format!("({})", self.number),
            formula,
        });
    }

    fn heading(&mut self, text: Phrase) {
        self.blocks.push(DocumentBlock::Heading(3, text));
    }

    fn names(&self, reactions: impl IntoIterator<Item = ReactionIndex>) -> Vec<Phrase> {
        wording::symbols(self.model, reactions)
    }

    /// How the summands of a sum of moments come about: arm times force, or `u·(r × F)`.
    fn derivation(&mut self, equation: &Equation) {
        let lines = derivation::lines(self.model, self.case, equation);
        if lines.is_empty() {
            return;
        }
        let premise = derivation::premise(self.model, self.case, equation);
        self.blocks.extend(premise.map(DocumentBlock::Paragraph));
        self.blocks.push(DocumentBlock::List(lines));
    }

    fn conditions(&mut self, diagnosis: &Diagnosis, working: &Solution) {
        for condition in &working.conditions {
            let balance = &condition.equation.balance;
            self.heading(self::balance(self.model, balance));
            let motion = &diagnosis.free_motions[condition.motion];
            let phrase = wording::motion_phrase(self.model, motion);
            let meaning = match condition.balanced {
                true => {
                    "The loads contribute nothing either: they do no work in this motion.".into()
                }
                false => phrase!(
                    "No reaction can balance the loads: they do work in the ",
                    phrase,
                    "."
                ),
            };
            let all: Vec<ReactionIndex> = self.model.reactions.indices().collect();
            let dropped = self.dropped(balance, &all);
            let dropped = dropped.unwrap_or_else(|| "There are no reactions".into());
            self.paragraph(phrase!(dropped, ", so no reaction remains. ", meaning));
            self.derivation(&condition.equation);
            self.equation_block(self::condition(self.model, &condition.equation));
        }
    }

    fn without_equilibrium(&mut self, working: &Solution) {
        let decided = self.names(working.decided.iter().copied());
        let still = match decided.as_slice() {
            [] => "There is no equilibrium, so no reaction can be found from statics.".into(),
            names => phrase!(
                "There is no equilibrium, so no reaction can be found from statics. Under loads that do no work in the free motions, equilibrium would give ",
                wording::listed(names),
                "."
            ),
        };
        self.paragraph(still);
    }

    fn step(&mut self, step: &SolutionStep, values: &Indexed<ReactionIndex, Option<f64>>) {
        let several = step.equations.len() > 1;
        if several {
            let names = self.names(step.found.iter().map(|(reaction, _)| *reaction));
            let text = phrase!(
                Phrase::from(wording::count(step.equations.len())).capitalised(),
                " equations for ",
                wording::listed(&names)
            );
            self.heading(text);
        }
        for equation in &step.equations {
            let title = balance(self.model, &equation.balance);
            if several {
                self.paragraph(phrase!(title, ". ", self.reason(step, equation, values)));
            } else {
                self.heading(title);
                let reason = self.reason(step, equation, values);
                self.paragraph(reason);
            }
            self.derivation(equation);
            self.equation_block(self::equation(self.model, equation));
        }
        let result = self.result(step, values);
        self.blocks.push(result);
    }

    /// Which unknowns drop out, and which are left.
    fn reason(
        &self,
        step: &SolutionStep,
        equation: &Equation,
        values: &Indexed<ReactionIndex, Option<f64>>,
    ) -> Phrase {
        let unknown = |index: &ReactionIndex| values[*index].is_none();
        let absent: Vec<ReactionIndex> = self
            .model
            .reactions
            .indices()
            .filter(unknown)
            .filter(|index| equation.coefficient(*index) == 0.0)
            .collect();
        let left: Vec<ReactionIndex> = equation
            .terms
            .iter()
            .map(|term| term.reaction)
            .filter(unknown)
            .collect();
        let only = if step.equations.len() > 1 || left.len() > 1 {
            ""
        } else {
            "only "
        };
        let remains = if left.len() == 1 {
            " remains"
        } else {
            " remain"
        };
        let left = phrase!(only, wording::listed(&self.names(left)), remains);
        match self.dropped(&equation.balance, &absent) {
            Some(dropped) => phrase!(dropped, ", so ", left, "."),
            None => left.sentence(),
        }
    }

    /// Why the given reactions drop out: `A_x and A_y meet it`.
    fn dropped(&self, balance: &Balance, absent: &[ReactionIndex]) -> Option<Phrase> {
        let of_kind = |kind: ReactionKind| -> Vec<ReactionIndex> {
            let some = absent.iter().copied();
            some.filter(|index| self.model.reactions[*index].kind == kind)
                .collect()
        };
        let (forces, couples) = (of_kind(ReactionKind::Force), of_kind(ReactionKind::Couple));
        let said_of = |reactions: Vec<ReactionIndex>, [one, many]: [&str; 2], what: Phrase| {
            let verb = if reactions.len() == 1 { one } else { many };
            (!reactions.is_empty())
                .then(|| phrase!(wording::listed(&self.names(reactions)), " ", verb, what))
        };
        let said = |reactions, one, many| said_of(reactions, [one, many], Phrase::new());
        let parts: Vec<Phrase> = match balance {
            Balance::Forces(along) => vec![
                said_of(
                    forces,
                    ["is perpendicular to ", "are perpendicular to "],
                    wording::unsigned_direction(self.model, along),
                ),
                said(couples, "is a couple", "are couples"),
            ],
            Balance::Moments(..) if self.model.space == Space::Planar => {
                vec![said(forces, "passes through it", "pass through it")]
            }
            Balance::Moments(point, about) => {
                let parallel = |index: &ReactionIndex| {
                    let reaction = &self.model.reactions[*index];
                    let off = (reaction.point - point).cross(about).norm();
                    reaction.direction.cross(about).norm() <= PARALLEL
                        && off > PARALLEL * self.model.length
                };
                let (parallel, meeting): (Vec<ReactionIndex>, Vec<ReactionIndex>) =
                    forces.into_iter().partition(parallel);
                vec![
                    said(meeting, "meets it", "meet it"),
                    said(parallel, "is parallel to it", "are parallel to it"),
                    said(
                        couples,
                        "is a couple perpendicular to it",
                        "are couples perpendicular to it",
                    ),
                ]
            }
            Balance::Screw(..) => vec![said(absent.to_vec(), "drops out", "drop out")],
        }
        .into_iter()
        .flatten()
        .collect();
        (!parts.is_empty()).then(|| Phrase::joined(parts, "; "))
    }

    /// What the equations give, with what was known before: `T_C = 122.08 N`, `B_z = 100.72 N`; of a system all its unknowns.
    fn result(
        &self,
        step: &SolutionStep,
        values: &Indexed<ReactionIndex, Option<f64>>,
    ) -> DocumentBlock {
        let found = step.found.iter();
        DocumentBlock::Result {
            given: self.given(&step.equations, values),
            found: found
                .map(|(reaction, value)| self.noted(*reaction, *value))
                .collect(),
        }
    }

    /// The values that are known of what takes part in some equations.
    fn given(
        &self,
        equations: &[Equation],
        values: &Indexed<ReactionIndex, Option<f64>>,
    ) -> Vec<Formula> {
        let mut given: Vec<ReactionIndex> = equations
            .iter()
            .flat_map(|equation| &equation.terms)
            .map(|term| term.reaction)
            .filter(|index| values[*index].is_some())
            .collect();
        given.sort_unstable();
        given.dedup();
        let known = |index: ReactionIndex| self.value(index, values[index].unwrap_or(0.0));
        given.into_iter().map(known).collect()
    }

    fn value(&self, reaction: ReactionIndex, value: f64) -> Formula {
        let of = &self.model.reactions[reaction];
        let value = wording::reaction_value(value, of.kind, &self.model.units);
        Formula::equal(&of.symbol, value)
    }

    fn noted(&self, reaction: ReactionIndex, value: f64) -> Formula {
        let mut formula = self.value(reaction, value);
        let of = &self.model.reactions[reaction];
        if wording::state(self.model, of, value).is_some() {
            let force = wording::acting(self.model, of, value);
            formula.right = match value < 0.0 {
                true => phrase!(formula.right, Operator::Equals, force),
                false => force,
            };
        }
        if let Some(note) = wording::one_way_note(&self.model.reactions[reaction], Some(value)) {
            formula.right.push(phrase!(" (", note, ")"));
        }
        formula
    }

    fn open(&mut self, equation: &Equation, values: &Indexed<ReactionIndex, Option<f64>>) {
        self.heading(balance(self.model, &equation.balance));
        let unknown = |term: &&Term| values[term.reaction].is_none();
        let names = self.names(
            equation
                .terms
                .iter()
                .filter(unknown)
                .map(|term| term.reaction),
        );
        let separates = match names.as_slice() {
            [one] => phrase!(
                one,
                " alone remains, but this equation does not determine it."
            ),
            names => phrase!(
                "no further equation separates ",
                wording::listed(names),
                "."
            ),
        };
        let absent: Vec<ReactionIndex> = self
            .model
            .reactions
            .indices()
            .filter(|index| values[*index].is_none() && equation.coefficient(*index) == 0.0)
            .collect();
        let text = match self.dropped(&equation.balance, &absent) {
            Some(dropped) => phrase!(dropped, "; ", separates),
            None => separates.capitalised(),
        };
        self.paragraph(text);
        self.derivation(equation);
        self.equation_block(self::equation(self.model, equation));
        let mut sum = Sum::default();
        for term in equation.terms.iter().filter(unknown) {
            sum.add(term.coefficient, term_text(self.model, equation, term));
        }
        let rest = amount(self.model, &equation.balance, 0.0 - equation.sum(values));
        self.blocks.push(DocumentBlock::Result {
            given: self.given(std::slice::from_ref(equation), values),
            found: vec![Formula::equal(sum.phrase(), rest)],
        });
    }

    /// What the values mean where a support that only pushes or only pulls would have to do the other.
    fn against_their_sense(&mut self, values: &Indexed<ReactionIndex, Option<f64>>) {
        let reactions = self.model.reactions.iter().zip(values);
        let names: Vec<Phrase> = reactions
            .filter(|(reaction, value)| wording::one_way_note(reaction, **value).is_some())
            .map(|(reaction, _)| Phrase::from(&reaction.symbol))
            .collect();
        if !names.is_empty() {
            self.blocks.push(DocumentBlock::Paragraph(phrase!(
                wording::listed(&names),
                " would have to act against the only sense possible: this load is not carried."
            )));
        }
    }

    fn check(&mut self, equation: &Equation, values: &Indexed<ReactionIndex, Option<f64>>) {
        self.heading(phrase!("Check: ", balance(self.model, &equation.balance)));
        self.derivation(equation);
        self.blocks.push(DocumentBlock::Equation {
            label: String::new(),
            formula: self::equation(self.model, equation),
        });
        let mut sum = Sum::default();
        for term in &equation.terms {
            let part = term.coefficient * values[term.reaction].unwrap_or(0.0);
            if part != 0.0 {
                sum.add(part, amount(self.model, &equation.balance, part.abs()));
            }
        }
        of_loads(self.model, equation)
            .into_iter()
            .for_each(|summand| summand.add_to(&mut sum));
        let zero = phrase!(wording::number(0.0), " (check)");
        self.blocks.push(DocumentBlock::Result {
            given: Vec::new(),
            found: vec![Formula::equal(sum.phrase(), zero)],
        });
    }
}

/// Directions and distances closer than this are the same.
const PARALLEL: f64 = 1e-9;
