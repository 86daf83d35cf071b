//! Moments about any other line: `u·(r × F)`.

use super::{ABSENT, Acting, Dimension, Moments, without_noise};
use crate::solution::{Balance, axis};
use crate::statics::Model;
use crate::wording::{self, Operator, Phrase, Sum, Symbol, phrase};

/// What the lines of a sum about an oblique axis start from: its unit vector, and the point from which `r` leads.
pub(in crate::solution) fn premise(model: &Model, balance: &Balance) -> Option<Phrase> {
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
}
