//! How a body slides that no friction holds.
//!
//! A load is balanced by friction without limit, and by none that has one, only where contacts would have to grip though nothing
//! presses them. These are let slide. Without them others may no longer be pressed, and slide too; in the end the rest does
//! not balance the load, or every contact that still grips could be pressed, and some coefficient would be enough.

use nalgebra::DVector;

use super::balance::CaseBalance;
use super::escape::{Escape, Escapes};
use super::supports::{RoughContact, Supports};
use crate::statics::acceleration::Acceleration;
use crate::statics::gauss::{Allowed, STILL};
use crate::statics::indices::CaseIndex;
use crate::statics::matrix::restrict;

/// A contact is pressed where equilibrium is possible with this part of the load on it: with less, it would have to have a coefficient
/// of friction that no surface has.
const PRESSED: f64 = 1e-6;

impl Escapes<'_> {
    /// How a load that friction would have to hold without being pressed starts the body, which slides; `None` where rounding alone
    /// tells that from rest. Less than `nothing` of the load counts as none.
    pub(super) fn slide(
        &self,
        case: CaseIndex,
        balance: &CaseBalance,
        nothing: f64,
    ) -> Option<Escape> {
        let mut smooth: Vec<usize> = Vec::new();
        loop {
            let supports = self.supports.with_smooth(&smooth);
            let carries = |demand: &DVector<f64>| {
                let nearest = supports.nearest(demand);
                (nearest.left.norm() <= nothing * balance.size).then_some(())
            };
            if carries(&balance.demand).is_none() {
                let left = supports.nearest(&balance.demand).left;
                return self.sliding(case, &balance.leaving(left), &supports, &smooth);
            }
            let is_pressed = |grip: &RoughContact| {
                let mut push = DVector::zeros(supports.ranked.decided.len());
                push[grip.push] = PRESSED * balance.size;
                carries(&(&balance.demand - supports.ranked.demand_of(&push))).is_some()
            };
            let grips = self.supports.grips.iter().enumerate();
            let gripping = grips.filter(|(index, _)| !smooth.contains(index));
            let idle = gripping.filter(|(_, grip)| !is_pressed(grip));
            let idle: Vec<usize> = idle.map(|(index, _)| index).collect();
            if idle.is_empty() {
                return None;
            }
            smooth.extend(idle);
        }
    }

    /// The motion that begins where some rough contacts do not grip, with those at which the body slides.
    fn sliding(
        &self,
        case: CaseIndex,
        balance: &CaseBalance,
        supports: &Supports,
        smooth: &[usize],
    ) -> Option<Escape> {
        let model = self.model;
        let allowed = Allowed::new(supports);
        let start = Acceleration::of(model, &allowed, case, balance);
        let within = Escapes {
            model,
            supports,
            allowed: &allowed,
        };
        let mut escape = within.of_case(balance, start.as_ref())?;
        let six = escape.twist.scaled(model.length);
        let rates = supports.ranked.rates(&restrict(&six, model.space));
        let grips = smooth.iter().map(|index| &self.supports.grips[*index]);
        let touching = grips.filter(|grip| !escape.loosened.contains(&grip.push));
        let slips = |grip: &&RoughContact| {
            let mut along = grip.along.iter();
            along.any(|j| rates[*j].abs() > STILL * rates.amax())
        };
        let sliding: Vec<_> = touching.filter(slips).collect();
        escape.sliding = sliding.iter().flat_map(|grip| grip.along.clone()).collect();
        Some(escape)
    }
}
