//! Where the summands of a sum of moments come from: arm times force about axes of the scene, `u·(r × F)` about all others.

mod arms;
mod oblique;

use nalgebra::{Point3, Unit, Vector3};

use super::axis::{self, Foot};
use super::equation::LoadTerm;
use super::{Balance, Equation, Term};
use crate::scene::Space;
use crate::statics::{AppliedLoad, CaseIndex, Model, ReactionIndex, ReactionKind};
use crate::wording::{self, Operator, Phrase, Quantity, Symbol, phrase};

/// Parts of a vector below this, relative to its size or to the characteristic length, are rounding.
const ABSENT: f64 = 1e-9;
/// Loads whose moments are derived one by one; the others go the same way.
const MOST_LOADS: usize = 12;
/// Letters of the axes.
const AXES: [&str; 3] = ["x", "y", "z"];

/// A line for each summand whose size the tables of supports and loads do not show by themselves; none for sums of forces along an
/// axis of the scene.
pub(super) fn lines(model: &Model, case: CaseIndex, equation: &Equation) -> Vec<Phrase> {
    if let Balance::Forces(along) = &equation.balance {
        return oblique::components(model, case, equation, along);
    }
    let Some(moments) = Moments::of(model, &equation.balance) else {
        return Vec::new();
    };
    let reactions = equation.terms.iter().filter_map(|term| {
        let reaction = &model.reactions[term.reaction];
        match reaction.kind {
            ReactionKind::Couple => moments.unit_couple(&reaction.symbol, &reaction.direction),
            ReactionKind::Force => Some(moments.force(&of_reaction(model, term.reaction))),
        }
    });
    let all = &model.cases[case].loads;
    let loads = equation.loads.iter().take(MOST_LOADS);
    let loads = loads.flat_map(|term| moments.load(term.load, &all[term.load]));
    let mut lines: Vec<Phrase> = reactions.chain(loads).collect();
    let left = equation.loads.len().saturating_sub(MOST_LOADS);
    if left > 0 {
        let count = Phrase::from(wording::count(left)).capitalised();
        lines.push(phrase!(count, " more loads in the same way."));
    }
    lines.extend(moments.without_moment(case, equation));
    lines
}

/// What the lines of an equation start from; `None` where they need nothing, or there is none.
pub(super) fn premise(model: &Model, case: CaseIndex, equation: &Equation) -> Option<Phrase> {
    let is_force = |term: &Term| model.reactions[term.reaction].kind == ReactionKind::Force;
    let loads = &model.cases[case].loads;
    let is_pushed = |term: &LoadTerm| !of_load(term.load, &loads[term.load]).is_empty();
    let has_force = equation.terms.iter().any(is_force) || equation.loads.iter().any(is_pushed);
    let is_derived = has_force || !equation.loads.is_empty();
    oblique::premise(model, &equation.balance, has_force).filter(|_| is_derived)
}

/// Whether components of `r` occur in the lines of an equation about an axis of the scene.
pub(super) fn has_vector(model: &Model, case: CaseIndex, equation: &Equation) -> bool {
    let Some(moments) = Moments::of(model, &equation.balance) else {
        return false;
    };
    let Some((axis, is_reversed)) = moments.axis() else {
        return false;
    };
    let is_force = |term: &&Term| model.reactions[term.reaction].kind == ReactionKind::Force;
    let reactions = equation.terms.iter().filter(is_force);
    let reactions = reactions.map(|term| of_reaction(model, term.reaction));
    let loads = equation.loads.iter().take(MOST_LOADS);
    let loads = loads.flat_map(|term| of_load(term.load, &model.cases[case].loads[term.load]));
    let mut all = reactions.chain(loads);
    all.any(|acting| moments.products(&acting, axis, is_reversed).len() > 1)
}

/// A reaction of size one.
fn of_reaction(model: &Model, index: ReactionIndex) -> Acting {
    let reaction = &model.reactions[index];
    Acting {
        what: Phrase::from(&reaction.symbol),
        label: model.supports[reaction.support].name.clone(),
        at: reaction.point,
        vector: reaction.direction.into_inner(),
        is_load: false,
    }
}

/// The forces of a load; none of a couple.
fn of_load(index: usize, load: &AppliedLoad) -> Vec<Acting> {
    let acting = |at: Point3<f64>, force: Vector3<f64>| Acting {
        what: phrase!("Load ", index + 1),
        label: (index + 1).to_string(),
        at,
        vector: force,
        is_load: true,
    };
    match load {
        AppliedLoad::Force { at, force } | AppliedLoad::Weight { at, force, .. } => {
            vec![acting(*at, *force)]
        }
        AppliedLoad::Distributed { .. } | AppliedLoad::Line { .. } | AppliedLoad::Area { .. } => {
            let parts = load.resultants().into_iter();
            parts.map(|part| acting(part.at, part.force)).collect()
        }
        AppliedLoad::Couple { .. } => Vec::new(),
    }
}

/// Where the unit vectors of inclined links and cables come from: the way to the ground end over its length.
pub(super) fn directions(model: &Model) -> Vec<Phrase> {
    let inclined = model.supports.iter().filter_map(|support| {
        let way = support.ground? - support.point;
        let along = Unit::new_normalize(way);
        let slanted = wording::slant(model, &along)?;
        let reaction = model.reactions.slice(&support.reactions).first()?;
        Some(phrase!(
            reaction.symbol,
            ": ",
            Symbol::plain("e"),
            Operator::Equals,
            vector(model, &way, Dimension::Length),
            " / ",
            wording::length(way.norm(), &model.units),
            Operator::Equals,
            slanted
        ))
    });
    inclined.collect()
}

/// A sum of moments about one line.
struct Moments<'a> {
    model: &'a Model,
    foot: Foot,
    about: Unit<Vector3<f64>>,
    /// That of a screw, m; zero for a line.
    pitch: f64,
}

/// A force, or a reaction of size one.
struct Acting {
    what: Phrase,
    /// Subscript of the coordinates of its point.
    label: String,
    at: Point3<f64>,
    /// N, or one.
    vector: Vector3<f64>,
    is_load: bool,
}

/// What the components of a vector are.
#[derive(Clone, Copy)]
enum Dimension {
    Length,
    Force,
    Moment,
    None,
}

impl<'a> Moments<'a> {
    /// `None` for a sum of forces.
    fn of(model: &'a Model, balance: &Balance) -> Option<Self> {
        let (point, about, pitch) = match balance {
            Balance::Forces(_) => return None,
            Balance::Moments(point, about) => (point, about, 0.0),
            Balance::Screw(point, about, pitch) => (point, about, *pitch),
        };
        Some(Self {
            model,
            foot: axis::foot(model, point, about),
            about: *about,
            pitch,
        })
    }

    /// Which axis of the scene it is along, and whether against it; `None` of any other line, and of a screw.
    fn axis(&self) -> Option<(usize, bool)> {
        let along = |axis: &usize| self.about[*axis].abs() >= 1.0 - ABSENT;
        let axis = (0..3).find(along).filter(|_| self.pitch == 0.0);
        axis.map(|axis| (axis, self.about[axis] < 0.0))
    }

    fn arm(&self, acting: &Acting) -> Vector3<f64> {
        let noise = ABSENT * self.model.length;
        let arm = acting.at - self.foot.point;
        arm.map(|part| if part.abs() <= noise { 0.0 } else { part })
    }

    /// The moment of a force, N·m, or of a reaction of size one, m.
    fn moment(&self, acting: &Acting) -> f64 {
        let arm = self.arm(acting);
        self.about.dot(&arm.cross(&acting.vector)) + self.pitch * self.about.dot(&acting.vector)
    }

    fn force(&self, acting: &Acting) -> Phrase {
        match self.axis() {
            Some((axis, is_reversed)) => self.about_axis(acting, axis, is_reversed),
            None => self.oblique(acting),
        }
    }

    /// A couple of size one: its part about the axis, unless it is all of it.
    fn unit_couple(&self, symbol: &Symbol, direction: &Unit<Vector3<f64>>) -> Option<Phrase> {
        let part = self.about.dot(direction);
        (part.abs() < 1.0 - ABSENT).then(|| {
            phrase!(
                symbol,
                ": a couple about ",
                wording::signed_direction(self.model, direction),
                "; its part about this axis is ",
                wording::number(part)
            )
        })
    }

    fn load(&self, index: usize, load: &AppliedLoad) -> Vec<Phrase> {
        if let AppliedLoad::Couple { moment, .. } = load {
            return vec![self.couple(index, moment)];
        }
        let parts = of_load(index, load).into_iter();
        let turning = parts.filter(|part| self.moment(part) != 0.0);
        turning.map(|part| self.force(&part)).collect()
    }

    /// The loads that have no moment about the axis, and why; none of a screw.
    fn without_moment(&self, case: CaseIndex, equation: &Equation) -> Vec<Phrase> {
        let all = self.model.cases[case].loads.iter().enumerate();
        let takes_part = |index: usize| equation.loads.iter().any(|term| term.load == index);
        let silent = all.filter(|(index, _)| !takes_part(*index) && self.pitch == 0.0);
        let mut groups: Vec<([&str; 2], Vec<Phrase>)> = Vec::new();
        for (index, load) in silent {
            let (why, number) = (self.why_without(index, load), Phrase::from(index + 1));
            match groups.iter_mut().find(|(known, _)| *known == why) {
                Some((_, numbers)) => numbers.push(number),
                None => groups.push((why, vec![number])),
            }
        }
        let said = groups.into_iter().map(|([one, many], numbers)| {
            let (noun, why, it_has) = match numbers.len() {
                1 => ("Load ", one, "it has"),
                _ => ("Loads ", many, "they have"),
            };
            let numbers = wording::listed_briefly(&numbers);
            phrase!(
                noun,
                numbers,
                " ",
                why,
                ", so ",
                it_has,
                " no moment about it."
            )
        });
        said.collect()
    }

    /// Why a load has no moment about the axis, or several.
    fn why_without(&self, index: usize, load: &AppliedLoad) -> [&'static str; 2] {
        let parts = of_load(index, load);
        let is_parallel =
            |part: &Acting| self.about.cross(&part.vector).norm() <= ABSENT * part.vector.norm();
        let noise = ABSENT * self.model.length;
        let meets = |part: &Acting| self.moment(part).abs() <= noise * part.vector.norm();
        match (parts.as_slice(), self.model.space) {
            ([], _) => [
                "is a couple perpendicular to the axis",
                "are couples perpendicular to the axis",
            ],
            (parts, _) if parts.iter().all(is_parallel) => {
                ["is parallel to the axis", "are parallel to the axis"]
            }
            (parts, Space::Planar) if parts.iter().all(meets) => {
                ["passes through the point", "pass through the point"]
            }
            (parts, _) if parts.iter().all(meets) => ["meets the axis", "meet the axis"],
            _ => ["is balanced about the axis", "are balanced about the axis"],
        }
    }

    fn couple(&self, index: usize, moment: &Vector3<f64>) -> Phrase {
        let part = wording::couple(self.about.dot(moment), &self.model.units);
        match self.axis() {
            Some(_) if self.model.space == Space::Planar => {
                phrase!("Load ", index + 1, ": a couple, ", part)
            }
            Some(_) => phrase!("Load ", index + 1, ": a couple, ", part, " about this axis"),
            None => phrase!(
                "Load ",
                index + 1,
                ": a couple ",
                Symbol::plain("M"),
                Operator::Equals,
                self.vector(moment, Dimension::Moment),
                ", ",
                Symbol::plain("u"),
                Operator::Times,
                Symbol::plain("M"),
                Operator::Equals,
                part
            ),
        }
    }

    /// A moment of a load, or the arm that multiplies a reaction.
    fn size(&self, acting: &Acting, value: f64) -> Quantity {
        match acting.is_load {
            true => wording::couple(value, &self.model.units),
            false => wording::length(value, &self.model.units),
        }
    }

    fn vector(&self, of: &Vector3<f64>, dimension: Dimension) -> Quantity {
        vector(self.model, of, dimension)
    }
}

fn vector(model: &Model, of: &Vector3<f64>, dimension: Dimension) -> Quantity {
    let units = &model.units;
    let (unit, symbol) = match dimension {
        Dimension::Length => (units.length.in_metres(), units.length.symbol().to_owned()),
        Dimension::Force => (units.force.in_newtons(), units.force.symbol().to_owned()),
        Dimension::Moment => (units.moment_in_newton_metres(), units.moment_symbol()),
        Dimension::None => (1.0, String::new()),
    };
    let parts = without_noise(of);
    let parts = parts.iter().take(model.space.axes());
    let numbers = parts.map(|part| wording::number(part / unit));
    Quantity::vector(numbers.collect(), symbol)
}

fn without_noise(vector: &Vector3<f64>) -> Vector3<f64> {
    let noise = ABSENT * vector.amax();
    vector.map(|part| if part.abs() <= noise { 0.0 } else { part })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{builtin, read_str};
    use crate::statics::Diagnosis;
    use crate::statics::Tolerance;

    fn model(text: &str) -> Model {
        Model::new(&read_str("test", text).unwrap().scene).unwrap()
    }

    fn said(model: &Model, balance: Balance) -> Vec<String> {
        let equation = Equation::new(model, CaseIndex::FIRST, balance);
        let lines = lines(model, CaseIndex::FIRST, &equation).into_iter();
        lines.map(|line| line.to_string()).collect()
    }

    /// By hand: the roller's arm about A is 2.5 m − 0.5 m; the force (30, −40) N at (1.5, 0.2) m turns by
    /// 1·(−40) − 0.2·30 = −46 N·m.
    #[test]
    fn arms_and_components_in_the_plane() {
        let model = model(
            r#"(format: 1, space: planar, body: [Block(centre: (1.5, 0), size: (2, 0.4, 0.1))],
                supports: [Pin(name: "A", at: (0.5, 0)), Roller(name: "B", at: (2.5, 0), normal: (0, 1))],
                loads: [Force(at: (1.5, 0.2), force: (30, -40)), Force(at: (1, 0), force: (0, -8))])"#,
        );
        let about_a = Balance::Moments(Point3::new(0.5, 0.0, 0.0), Vector3::z_axis());
        assert_eq!(
            said(&model, about_a),
            [
                "N_B: arm x_B − x_A = 2.5 m − 0.5 m = 2 m, anticlockwise",
                "Load 1: r_x·F_y − r_y·F_x = 1 m·(−40 N) − 0.2 m·30 N = −46 N·m",
                "Load 2: arm x_2 − x_A = 1 m − 0.5 m = 0.5 m; 0.5 m·8 N = 4 N·m, clockwise",
            ]
        );
    }

    /// By hand: u = (3, 0, 4)/5; r × F = (0, 2, 0) × (10, 0, 0) = (0, 0, −20); u·(r × F) = 0.8·(−20) = −16 N·m.
    #[test]
    fn the_triple_product_about_an_oblique_line() {
        let model = model(
            r#"(format: 1, body: [Shaft(from: (0, 0, 0), to: (3, 0, 4), diameter: 0.1)],
                supports: [BallJoint(name: "A", at: (0, 0, 0)), BallJoint(name: "B", at: (3, 0, 4))],
                loads: [Force(at: (0, 2, 0), force: (10, 0, 0))])"#,
        );
        let about = Unit::new_normalize(Vector3::new(3.0, 0.0, 4.0));
        let balance = Balance::Moments(Point3::origin(), about);
        assert_eq!(
            oblique::premise(&model, &balance, true)
                .unwrap()
                .to_string(),
            "With u = (3, 0, 4) m / 5 m = (0.6, 0, 0.8), and r from A to the point where each force acts:"
        );
        assert_eq!(
            said(&model, balance),
            [
                "Load 1: r = (0, 2, 0) m, F = (10, 0, 0) N, r × F = (0, 0, −20) N·m, u·(r × F) = −0.8·20 N·m = −16 N·m"
            ]
        );
    }

    #[test]
    fn an_oblique_line_has_a_unit_vector() {
        let model = model(
            r#"(format: 1, body: [Shaft(from: (0, 0, 0), to: (2, 0, 2), diameter: 0.1)],
                supports: [BallJoint(name: "A", at: (0, 0, 0)), BallJoint(name: "B", at: (2, 0, 2))],
                loads: [Force(at: (0, 2, 0), force: (10, 0, 0))])"#,
        );
        let about = Unit::new_normalize(Vector3::new(1.0, 0.0, 1.0));
        assert_eq!(
            oblique::premise(&model, &Balance::Moments(Point3::origin(), about), true)
                .unwrap()
                .to_string(),
            "With u = (2, 0, 2) m / 2.828 m = (0.7071, 0, 0.7071), and r from A to the point where each force acts:"
        );
    }

    /// What is derived is what the equation has, for every reaction and load of every built-in scene.
    #[test]
    fn what_is_derived_is_what_the_equation_has() {
        for scene in builtin::all() {
            let model = model(scene.text);
            let diagnosis = Diagnosis::new(&model, Tolerance::default());
            for case in model.cases.indices() {
                let Some(working) = super::super::Solution::of(&model, &diagnosis, case) else {
                    continue;
                };
                let equations = working.steps.iter().flat_map(|step| &step.equations);
                for equation in equations.filter(|equation| equation.balance.has_moments()) {
                    let moments = Moments::of(&model, &equation.balance).unwrap();
                    for term in &equation.terms {
                        let reaction = &model.reactions[term.reaction];
                        if reaction.kind == ReactionKind::Force {
                            let acting = Acting {
                                what: Phrase::new(),
                                label: String::new(),
                                at: reaction.point,
                                vector: reaction.direction.into_inner(),
                                is_load: false,
                            };
                            let off = moments.moment(&acting) - term.coefficient;
                            assert!(off.abs() <= 1e-9 * model.length, "{}: {off}", model.title);
                        }
                    }
                }
            }
        }
    }
}
