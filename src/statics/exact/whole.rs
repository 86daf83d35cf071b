//! A reaction's column of the equations as six whole numbers in the same proportion, where those are of moderate size.

use crate::scene::{Decimal, Space};
use crate::statics::written::WrittenDirection;

/// `(n; p × n)` or `(0; n)` times some number, so that all entries are whole.
///
/// Worked out once, when a support's reactions are laid out, and good for every rank that is asked for later.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct WholeColumn([i64; 6]);

impl WholeColumn {
    /// The column of a force through a point, as its decimals are written; `None` where its numbers are too long.
    pub(crate) fn force(direction: &WrittenDirection, point: &[f64; 3]) -> Option<Self> {
        let along = whole_direction(direction)?;
        let (at, unit) = whole_numbers(point)?;
        Self::narrowed(scaled(along, unit)?, cross(at, along)?)
    }

    /// The column of a couple.
    pub(crate) fn couple(direction: &WrittenDirection) -> Option<Self> {
        Self::narrowed([0; 3], whole_direction(direction)?)
    }

    fn narrowed(force: [i128; 3], moment: [i128; 3]) -> Option<Self> {
        let column = [
            force[0], force[1], force[2], moment[0], moment[1], moment[2],
        ];
        let narrow = narrowed(column).or_else(|| narrowed(without_content(column)));
        narrow.map(Self)
    }

    /// The rows of the space first: fx fy mz in the plane.
    pub(super) fn rows(self, space: Space) -> [i64; 6] {
        let column = self.0;
        match space {
            Space::Spatial => column,
            Space::Planar => [column[0], column[1], column[5], 0, 0, 0],
        }
    }
}

fn whole_direction(direction: &WrittenDirection) -> Option<[i128; 3]> {
    match direction {
        WrittenDirection::Vector(components) => Some(whole_numbers(components)?.0),
        WrittenDirection::Between {
            from: [a, b, c],
            to: [d, e, f],
        } => {
            let ([a, b, c, d, e, f], _) = whole_numbers(&[*a, *b, *c, *d, *e, *f])?;
            Some([d.checked_sub(a)?, e.checked_sub(b)?, f.checked_sub(c)?])
        }
        WrittenDirection::Cross(left, right) => {
            cross(whole_direction(left)?, whole_direction(right)?)
        }
        WrittenDirection::Angle(degrees) => {
            let [x, y] = WrittenDirection::quarter_turns(*degrees)?;
            Some([x.into(), y.into(), 0])
        }
    }
}

/// Decimals times the smallest power of ten that makes all of them whole, and that power.
fn whole_numbers<const COUNT: usize>(numbers: &[f64; COUNT]) -> Option<([i128; COUNT], i128)> {
    let decimals = numbers.map(Decimal::of);
    let exponent = decimals.iter().map(|d| d.exponent).fold(0, i32::min);
    let mut whole = [0; COUNT];
    for (entry, decimal) in whole.iter_mut().zip(decimals) {
        *entry = decimal.with_exponent(exponent)?.mantissa;
    }
    let unit = 10_i128.checked_pow(exponent.unsigned_abs())?;
    Some((whole, unit))
}

fn scaled(vector: [i128; 3], factor: i128) -> Option<[i128; 3]> {
    let [x, y, z] = vector.map(|entry| entry.checked_mul(factor));
    Some([x?, y?, z?])
}

fn cross(l: [i128; 3], r: [i128; 3]) -> Option<[i128; 3]> {
    let minor = |i: usize, j: usize| {
        let (forth, back) = (l[i].checked_mul(r[j])?, l[j].checked_mul(r[i])?);
        forth.checked_sub(back)
    };
    Some([minor(1, 2)?, minor(2, 0)?, minor(0, 1)?])
}

fn narrowed(column: [i128; 6]) -> Option<[i64; 6]> {
    let mut narrow = [0; 6];
    for (to, from) in narrow.iter_mut().zip(column) {
        // Without the one number whose size does not fit.
        *to = i64::try_from(from)
            .ok()
            .filter(|entry| *entry != i64::MIN)?;
    }
    Some(narrow)
}

/// The column divided by what divides all of its entries.
fn without_content(column: [i128; 6]) -> [i128; 6] {
    let content = column.into_iter().fold(0, |divisor, entry| {
        greatest_common_divisor(divisor, entry.unsigned_abs())
    });
    match i128::try_from(content) {
        Ok(content @ 2..) => column.map(|entry| entry / content),
        _ => column,
    }
}

pub(super) fn greatest_common_divisor(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_force_has_its_direction_and_its_moment_in_one_unit() {
        let between = WrittenDirection::Between {
            from: [0.5, 0.0, 1.0],
            to: [0.5, 0.25, 0.0],
        };
        // n = (0, 25, −100) hundredths, p = (5, 0, 10) tenths: p × n in thousandths, n in hundredths times ten.
        let column = WholeColumn::force(&between, &[0.5, 0.0, 1.0]);
        let expected = [0, 250, -1000, -250, 500, 125];
        assert_eq!(column.map(|c| c.0), Some(expected));
        let couple = WholeColumn::couple(&between);
        assert_eq!(couple.map(|c| c.0), Some([0, 0, 0, 0, 25, -100]));
        let rows = column.map(|c| c.rows(Space::Planar));
        assert_eq!(rows, Some([0, 250, 125, 0, 0, 0]));
    }

    #[test]
    fn cross_products_lose_their_common_factor_where_they_are_long() {
        let long = || WrittenDirection::Vector([1e9, 0.0, 1e9]);
        let direction = long().cross(WrittenDirection::axis(1)).cross(long());
        let column = WholeColumn::force(&direction, &[100.0, 0.0, 0.0]);
        assert_eq!(column.map(|c| c.0), Some([0, 1, 0, 0, 0, 100]));
    }

    #[test]
    fn numbers_without_end_have_no_column() {
        let third = WrittenDirection::Vector([1.0 / 3.0, 1e30, 0.0]);
        assert_eq!(WholeColumn::couple(&third), None);
        let angle = WrittenDirection::Angle(30.0);
        assert_eq!(WholeColumn::force(&angle, &[0.0; 3]), None);
    }
}
