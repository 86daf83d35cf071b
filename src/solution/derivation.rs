//! Where the summands of a sum of moments come from: arm times force about axes of the scene, `u·(r × F)` about all others.

use nalgebra::{Point3, Unit, Vector3};

use super::axis::{self, Foot};
use super::{Balance, Equation};
use crate::scene::Space;
use crate::statics::{AppliedLoad, CaseIndex, Model, ReactionKind};
use crate::wording::{self, Operator, Phrase, Quantity, Sum, Symbol, phrase};

/// Parts of a vector below this, relative to its size or to the characteristic length, are rounding.
const ABSENT: f64 = 1e-9;
/// Loads whose moments are derived one by one; the others go the same way.
const MOST_LOADS: usize = 12;
/// Letters of the axes.
const AXES: [&str; 3] = ["x", "y", "z"];

/// What the lines of a sum about an oblique axis start from: its unit vector, and the point from which `r` leads.
pub(super) fn premise(model: &Model, balance: &Balance) -> Option<Phrase> {
    let moments = Moments::of(model, balance)?;
    if moments.axis().is_some() {
        return None;
    }
    let mut unit = phrase!(Symbol::plain("u"), Operator::Equals);
    if let Some((from, to)) = axis::ends(model, &moments.foot.point, &moments.about) {
        let way = to - from;
        unit.push(moments.vector(&way, Dimension::Length));
        unit.push(" / ");
        unit.push(wording::length(way.norm(), &model.units));
        unit.push(Operator::Equals);
    }
    unit.push(wording::signed_direction(model, &moments.about));
    let (r, from) = (
        Symbol::plain("r"),
        wording::point(model, &moments.foot.point),
    );
    let reach = phrase!(r, " from ", from, " to the point where each force acts");
    let screw = match balance {
        Balance::Screw(_, _, pitch) => phrase!(
            ", and ",
            Symbol::plain("p"),
            Operator::Equals,
            wording::length(*pitch, &model.units)
        ),
        _ => Phrase::new(),
    };
    Some(phrase!("With ", unit, screw, ", and ", reach, ":"))
}

/// A line for each summand whose size the tables of supports and loads do not show by themselves; none for sums of forces.
pub(super) fn lines(model: &Model, case: CaseIndex, equation: &Equation) -> Vec<Phrase> {
    let Some(moments) = Moments::of(model, &equation.balance) else {
        return Vec::new();
    };
    let reactions = equation.terms.iter().filter_map(|term| {
        let reaction = &model.reactions[term.reaction];
        match reaction.kind {
            ReactionKind::Couple => moments.unit_couple(&reaction.symbol, &reaction.direction),
            ReactionKind::Force => Some(moments.force(&Acting {
                what: Phrase::from(&reaction.symbol),
                label: model.supports[reaction.support].name.clone(),
                at: reaction.point,
                vector: reaction.direction.into_inner(),
                is_load: false,
            })),
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
    lines
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

/// Part of a moment about an axis of the scene: a component of the arm times one of the force.
#[derive(Clone, Copy)]
struct Product {
    arm: usize,
    force: usize,
    is_negative: bool,
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
        let acting = |at: Point3<f64>, force: Vector3<f64>| Acting {
            what: phrase!("Load ", index + 1),
            label: (index + 1).to_string(),
            at,
            vector: force,
            is_load: true,
        };
        match load {
            AppliedLoad::Force { at, force } | AppliedLoad::Weight { at, force, .. } => {
                vec![self.force(&acting(*at, *force))]
            }
            AppliedLoad::Distributed { .. } => {
                let parts = load.resultants().into_iter();
                let parts = parts.map(|part| acting(part.at, part.force));
                let turning = parts.filter(|part| self.moment(part) != 0.0);
                turning.map(|part| self.force(&part)).collect()
            }
            AppliedLoad::Couple { moment, .. } => vec![self.couple(index, moment)],
        }
    }

    fn couple(&self, index: usize, moment: &Vector3<f64>) -> Phrase {
        let part = wording::couple(self.about.dot(moment), &self.model.units);
        match self.axis() {
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

    /// About an axis of the scene: an arm where one component turns, else by components.
    fn about_axis(&self, acting: &Acting, axis: usize, is_reversed: bool) -> Phrase {
        let (first, second) = ((axis + 1) % 3, (axis + 2) % 3);
        let arm = self.arm(acting);
        let noise = ABSENT * acting.vector.norm();
        let both = [(first, second, is_reversed), (second, first, !is_reversed)];
        let products = both.into_iter().filter_map(|(of_arm, force, is_negative)| {
            let turns = arm[of_arm] != 0.0 && acting.vector[force].abs() > noise;
            turns.then_some(Product {
                arm: of_arm,
                force,
                is_negative,
            })
        });
        match products.collect::<Vec<_>>().as_slice() {
            [one] => self.by_arm(acting, *one),
            products => self.by_components(acting, products),
        }
    }

    /// `B_z: arm y_B − y_A = 0.6 m, positive`.
    fn by_arm(&self, acting: &Acting, product: Product) -> Phrase {
        let (arm, force) = (self.arm(acting)[product.arm], acting.vector[product.force]);
        let units = &self.model.units;
        let mut line = phrase!(acting.what, ": arm ", self.difference(acting, product.arm));
        let moment = arm.abs() * force.abs();
        if acting.is_load {
            line.push("; ");
            line.push(wording::length(arm.abs(), units));
            line.push(Operator::Times);
            line.push(wording::force(force.abs(), units));
            line.push(Operator::Equals);
            line.push(wording::couple(moment, units));
        } else if force.abs() < 1.0 - ABSENT {
            line.push("; ");
            line.push(wording::length(arm.abs(), units));
            line.push(Operator::Times);
            line.push(wording::number(force.abs()));
            line.push(Operator::Equals);
            line.push(wording::length(moment, units));
        }
        let is_positive = (arm * force > 0.0) != product.is_negative;
        line.push(match (self.model.space, is_positive) {
            (Space::Planar, true) => ", anticlockwise",
            (Space::Planar, false) => ", clockwise",
            (Space::Spatial, true) => ", positive",
            (Space::Spatial, false) => ", negative",
        });
        line
    }

    /// The arm as a difference of coordinates, always positive: `x_B − x_A = 2 m − 0.5 m = 1.5 m`.
    fn difference(&self, acting: &Acting, axis: usize) -> Phrase {
        let arm = self.arm(acting)[axis];
        let own = (acting.at[axis], Some(&acting.label));
        let foot = (self.foot.point[axis], self.foot.name.as_ref());
        let (more, less) = if arm > 0.0 { (own, foot) } else { (foot, own) };
        let mut said = Phrase::new();
        if let (Some(more), Some(less)) = (more.1, less.1) {
            let symbol = |label: &String| Symbol {
                letter: AXES[axis].to_owned(),
                label: label.clone(),
                axis: "",
            };
            said = phrase!(
                symbol(more),
                Operator::Minus,
                symbol(less),
                Operator::Equals
            );
        }
        let at_zero = less.0.abs() <= ABSENT * self.model.length && self.model.datum.is_origin();
        if !at_zero {
            said.push(self.coordinate(axis, more.0));
            said.push(Operator::Minus);
            said.push(in_parentheses(less.0, self.coordinate(axis, less.0)));
            said.push(Operator::Equals);
        }
        said.push(wording::length(arm.abs(), &self.model.units));
        said
    }

    fn coordinate(&self, axis: usize, value: f64) -> Quantity {
        let unit = self.model.units.length;
        let noise = ABSENT * self.model.length;
        let value = if value.abs() <= noise { 0.0 } else { value };
        let number = wording::coordinate(&self.model.datum, axis, value / unit.in_metres());
        Quantity::new(number, unit.symbol())
    }

    /// `T_C: r_x·e_y − r_y·e_x = 2 m·0.8 − (−1 m)·0.6 = 2.2 m`.
    fn by_components(&self, acting: &Acting, products: &[Product]) -> Phrase {
        let units = &self.model.units;
        let letter = if acting.is_load { "F" } else { "e" };
        let part = |letter: &str, axis: usize| Symbol {
            axis: AXES[axis],
            ..Symbol::plain(letter)
        };
        let (mut symbols, mut numbers) = (Sum::default(), Sum::default());
        for product in products {
            let sign = if product.is_negative { -1.0 } else { 1.0 };
            let named = phrase!(
                part("r", product.arm),
                Operator::Times,
                part(letter, product.force)
            );
            symbols.add(sign, named);
            let (arm, force) = (self.arm(acting)[product.arm], acting.vector[product.force]);
            let force_text = match acting.is_load {
                true => wording::force(force, units),
                false => wording::number(force).into(),
            };
            let valued = phrase!(
                in_parentheses(arm, wording::length(arm, units)),
                Operator::Times,
                in_parentheses(force, force_text)
            );
            numbers.add(sign, valued);
        }
        phrase!(
            acting.what,
            ": ",
            symbols.phrase(),
            Operator::Equals,
            numbers.phrase(),
            Operator::Equals,
            self.size(acting, self.moment(acting))
        )
    }

    /// `Load 1: r = (…) m, F = (…) N, r × F = (…) N·m, u·(r × F) = 0.6·3 N·m + 0.8·2 N·m = 3.4 N·m`.
    fn oblique(&self, acting: &Acting) -> Phrase {
        let (u, r) = (Symbol::plain("u"), Symbol::plain("r"));
        let force = Symbol::plain(if acting.is_load { "F" } else { "e" });
        let (of_force, of_moment) = match acting.is_load {
            true => (Dimension::Force, Dimension::Moment),
            false => (Dimension::None, Dimension::Length),
        };
        let arm = self.arm(acting);
        let moment = without_noise(&arm.cross(&acting.vector));
        let mut sum = Sum::default();
        for axis in 0..3 {
            let (unit, part) = (self.about[axis], moment[axis]);
            if unit.abs() > ABSENT && part != 0.0 {
                let size = phrase!(
                    wording::number(unit.abs()),
                    Operator::Times,
                    self.size(acting, part.abs())
                );
                sum.add(unit * part, size);
            }
        }
        let product = phrase!(
            u,
            Operator::Times,
            Operator::Open,
            r,
            " × ",
            force,
            Operator::Close
        );
        let mut line = phrase!(
            acting.what,
            ": ",
            r,
            Operator::Equals,
            self.vector(&arm, Dimension::Length),
            ", ",
            force,
            Operator::Equals,
            self.vector(&acting.vector, of_force),
            ", ",
            r,
            " × ",
            force,
            Operator::Equals,
            self.vector(&moment, of_moment),
            ", ",
            product
        );
        if self.pitch != 0.0 {
            line.push(phrase!(
                Operator::Plus,
                Symbol::plain("p"),
                " ",
                u,
                Operator::Times,
                force
            ));
            let along = self.about.dot(&acting.vector);
            let size = self.size(acting, (self.pitch * along).abs());
            sum.add(self.pitch * along, size);
        }
        phrase!(
            line,
            Operator::Equals,
            sum.phrase(),
            Operator::Equals,
            self.size(acting, self.moment(acting))
        )
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

/// A number behind another sign, in parentheses where it has one of its own.
fn in_parentheses(value: f64, said: Quantity) -> Phrase {
    match value < 0.0 {
        true => phrase!(Operator::Open, said, Operator::Close),
        false => said.into(),
    }
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
            premise(&model, &balance).unwrap().to_string(),
            "With u = (3, 0, 4) m / 5 m = (0.6, 0, 0.8), and r from A to the point where each force acts:"
        );
        assert_eq!(
            said(&model, balance),
            [
                "Load 1: r = (0, 2, 0) m, F = (10, 0, 0) N, r × F = (0, 0, −20) N·m, u·(r × F) = −0.8·20 N·m = −16 N·m"
            ]
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
