//! Moments about any other line: `u·(r × F)`.

use nalgebra::{Unit, Vector3};

use super::{ABSENT, Acting, Dimension, Moments, of_load, of_reaction, vector, without_noise};
use crate::solution::{Balance, Equation, axis};
use crate::statics::{CaseIndex, Model};
use crate::wording::{self, Operator, Phrase, Sum, Symbol, phrase};

/// What the lines of a sum about an oblique axis start from: its unit vector, and the point from which `r` leads.
pub(in crate::solution) fn premise(
    model: &Model,
    balance: &Balance,
    has_force: bool,
) -> Option<Phrase> {
    if let Balance::Forces(along) = balance {
        let u = vector(model, along, Dimension::None);
        return is_oblique(along)
            .then(|| phrase!("With ", Symbol::plain("u"), Operator::Equals, u, ":"));
    }
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
    unit.push(moments.vector(&moments.about, Dimension::None));
    let (r, from) = (
        Symbol::plain("r"),
        wording::point(model, &moments.foot.point),
    );
    let reach = phrase!(r, " from ", from, " to the point where each force acts");
    let screw = match balance {
        Balance::Screw(_, _, pitch) => phrase!(
            ", ",
            Symbol::plain("p"),
            Operator::Equals,
            wording::length(*pitch, &model.units)
        ),
        _ => Phrase::new(),
    };
    Some(match has_force {
        true => phrase!("With ", unit, screw, ", and ", reach, ":"),
        false => phrase!("With ", unit, screw, ":"),
    })
}

/// Whether a direction is along no axis of the scene.
fn is_oblique(along: &Unit<Vector3<f64>>) -> bool {
    along.iter().all(|part| part.abs() < 1.0 - ABSENT)
}

/// `Load 1: u·F = −0.8·458.4 N = −366.7 N`, for the summands of a sum of forces along an oblique direction.
pub(super) fn components(
    model: &Model,
    case: CaseIndex,
    equation: &Equation,
    along: &Unit<Vector3<f64>>,
) -> Vec<Phrase> {
    if !is_oblique(along) {
        return Vec::new();
    }
    let reactions = equation
        .terms
        .iter()
        .map(|term| of_reaction(model, term.reaction));
    let all = &model.cases[case].loads;
    let loads = equation
        .loads
        .iter()
        .flat_map(|term| of_load(term.load, &all[term.load]));
    let lines = reactions
        .chain(loads)
        .map(|acting| component(model, &acting, along));
    lines.collect()
}

fn component(model: &Model, acting: &Acting, along: &Unit<Vector3<f64>>) -> Phrase {
    let size = |value: f64| match acting.is_load {
        true => wording::force(value, &model.units),
        false => wording::number(value).into(),
    };
    let (noise, mut sum) = (ABSENT * acting.vector.norm(), Sum::default());
    for axis in 0..3 {
        let (unit, part) = (along[axis], acting.vector[axis]);
        if unit.abs() > ABSENT && part.abs() > noise {
            let product = phrase!(
                wording::number(unit.abs()),
                Operator::Times,
                size(part.abs())
            );
            sum.add(unit * part, product);
        }
    }
    let letter = if acting.is_load { "F" } else { "e" };
    phrase!(
        acting.what,
        ": ",
        Symbol::plain("u"),
        Operator::Times,
        Symbol::plain(letter),
        Operator::Equals,
        sum.phrase(),
        Operator::Equals,
        size(along.dot(&acting.vector))
    )
}

impl Moments<'_> {
    /// `Load 1: r = (…) m, F = (…) N, r × F = (…) N·m, u·(r × F) = 0.6·3 N·m + 0.8·2 N·m = 3.4 N·m`.
    pub(super) fn oblique(&self, acting: &Acting) -> Phrase {
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
                let part_of = self.size(acting, part.abs());
                let size = match unit.abs() >= 1.0 - ABSENT {
                    true => part_of.into(),
                    false => phrase!(wording::number(unit.abs()), Operator::Times, part_of),
                };
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
            if along.abs() > ABSENT * acting.vector.norm() {
                let pitch = wording::length(self.pitch.abs(), &self.model.units);
                let force = match acting.is_load {
                    true => wording::force(along.abs(), &self.model.units),
                    false => wording::number(along.abs()).into(),
                };
                sum.add(self.pitch * along, phrase!(pitch, Operator::Times, force));
            }
        }
        let (worked, result) = (sum.phrase(), self.size(acting, self.moment(acting)));
        let is_result = worked == Phrase::from(&result);
        line.push(phrase!(Operator::Equals, worked));
        if !is_result {
            line.push(phrase!(Operator::Equals, result));
        }
        line
    }
}
