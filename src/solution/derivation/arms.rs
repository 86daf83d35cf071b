//! Moments about axes of the scene: arm times force where one component turns, else by components.

use super::{ABSENT, AXES, Acting, Moments};
use crate::scene::Space;
use crate::wording::{self, Operator, Phrase, Quantity, Sum, Symbol, phrase};

/// Part of a moment about an axis of the scene: a component of the arm times one of the force.
#[derive(Clone, Copy)]
pub(super) struct Product {
    arm: usize,
    force: usize,
    is_negative: bool,
}

impl Moments<'_> {
    /// About an axis of the scene: an arm where one component turns, else by components.
    pub(super) fn about_axis(&self, acting: &Acting, axis: usize, is_reversed: bool) -> Phrase {
        match self.products(acting, axis, is_reversed).as_slice() {
            [one] => self.by_arm(acting, *one),
            products => self.by_components(acting, products),
        }
    }

    /// The parts of its moment that are not zero.
    pub(super) fn products(&self, acting: &Acting, axis: usize, is_reversed: bool) -> Vec<Product> {
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
        products.collect()
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
}

/// A number behind another sign, in parentheses where it has one of its own.
fn in_parentheses(value: f64, said: Quantity) -> Phrase {
    match value < 0.0 {
        true => phrase!(Operator::Open, said, Operator::Close),
        false => said.into(),
    }
}
