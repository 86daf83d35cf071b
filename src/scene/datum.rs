//! Where the positions of a scene are counted from.
//!
//! Far from the origin of its axes, the numbers of a scene use up their digits on the way to it: beside 1e12 an f64 has no
//! thousandths. So such a scene is read relative to a point near its middle, its datum, which is taken from the written decimals
//! before they become floating-point numbers, and added again, as a decimal, to whatever is printed or saved.

use super::decimal::Decimal;

/// The point that the positions of a scene are counted from, in its length unit: the origin, unless the scene lies far from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Datum([Decimal; 3]);

/// A datum is a multiple of a power of ten that is at least so many times the size of the scene: positions that people write
/// stay round, and a scene that lies no further off than some fifty of its sizes keeps the origin.
const ROOM: f64 = 100.0;
/// The power of ten that stands in for [`ROOM`] times the size of a scene without size.
const STANDARD_EXPONENT: i32 = 3;
/// Rounding that must not push a size of exactly a power of ten to the next.
const POWER_ROUNDING: f64 = 1e-9;

impl Datum {
    /// Whether positions are counted from the origin itself.
    pub fn is_origin(&self) -> bool {
        *self == Self::default()
    }

    /// A coordinate counted from the origin, as near as an f64 holds it. `axis` is 0, 1 or 2.
    pub fn from_origin(&self, axis: usize, coordinate: f64) -> f64 {
        match self.0[axis].mantissa {
            0 => coordinate,
            _ => self.absolute(axis, coordinate).to_f64(),
        }
    }

    /// A coordinate counted from here, of one counted from the origin: the shortest decimal of it less the datum's.
    pub fn to_datum(&self, axis: usize, coordinate: f64) -> f64 {
        match self.0[axis].mantissa {
            0 => coordinate,
            _ => self.relative(axis, Decimal::of(coordinate)),
        }
    }

    /// The same as [`Datum::from_origin`] to the last digit, without an exponent: `1000000000000.25`.
    pub fn written(&self, axis: usize, coordinate: f64) -> String {
        self.absolute(axis, coordinate).plain()
    }

    /// The shortest decimal of a coordinate, plus the datum's. Where the sum has more digits than a decimal holds, which no
    /// datum of a scene that was read leads to, the nearest f64.
    fn absolute(&self, axis: usize, coordinate: f64) -> Decimal {
        let (datum, relative) = (self.0[axis], Decimal::of(coordinate));
        let rounded = || Decimal::of(datum.to_f64() + coordinate);
        datum.plus(relative).unwrap_or_else(rounded)
    }

    /// A written coordinate counted from here.
    pub(super) fn relative(&self, axis: usize, written: Decimal) -> f64 {
        let datum = self.0[axis];
        let rounded = || written.to_f64() - datum.to_f64();
        written.minus(datum).map_or_else(rounded, Decimal::to_f64)
    }

    /// Whether the coordinate that was kept of a written one is all of it.
    pub(super) fn keeps(&self, axis: usize, coordinate: f64, written: Decimal) -> bool {
        let kept = self.0[axis].plus(Decimal::of(coordinate));
        kept.is_some_and(|kept| kept.trimmed() == written.trimmed())
    }

    /// The datum for positions whose least and greatest coordinates, counted from this one, are known.
    pub(super) fn moved_to(&self, low: [f64; 3], high: [f64; 3]) -> Self {
        let size = size(&low, &high);
        let exponent = match size > 0.0 {
            true => (ROOM * (1.0 - POWER_ROUNDING) * size).log10().ceil() as i32,
            false => STANDARD_EXPONENT,
        };
        Self(std::array::from_fn(|axis| {
            let middle = low[axis].midpoint(high[axis]);
            let middle = self.absolute(axis, middle);
            middle.nearest_multiple(exponent).trimmed()
        }))
    }
}

/// Largest extent along an axis.
pub(super) fn size(low: &[f64; 3], high: &[f64; 3]) -> f64 {
    let extents = high.iter().zip(low).map(|(high, low)| high - low);
    extents.fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scenes_near_the_origin_keep_it() {
        let near = Datum::default().moved_to([-3.0, 0.0, 45.0], [1.0, 2.0, 45.0]);
        assert!(near.is_origin());
        let point = Datum::default().moved_to([30.0; 3], [30.0; 3]);
        assert!(point.is_origin());
    }

    #[test]
    fn a_far_datum_is_round_and_near_the_middle() {
        let datum = Datum::default().moved_to([123_456.0, 0.0, -7.0e6], [123_458.0, 1.0, -7.0e6]);
        assert_eq!(datum.written(0, 0.0), "123000");
        assert_eq!(datum.written(1, 0.25), "0.25");
        assert_eq!(datum.written(2, 0.1), "-6999999.9");
        let written = Decimal::parse("123456.000000000001").unwrap();
        assert_eq!(datum.relative(0, written), 456.000_000_000_001);
        assert!(datum.keeps(0, 456.000_000_000_001, written));
        assert!(!datum.keeps(0, 456.0, written));
        assert_eq!(datum.from_origin(0, 456.5), 123_456.5);
    }
}
