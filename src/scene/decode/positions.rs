//! Positions as they are read: from written decimals to coordinates counted from the scene's datum.

use std::collections::HashMap;

use super::super::datum::{Datum, size};
use super::super::decimal::Decimal;
use super::super::syntax::SyntaxNode;

/// Against the size of the scene, positions that are known no better than this may decide what the rank is.
const FINE: f64 = 1e-9;
/// Decimals of at most so many digits survive an f64.
const KEPT_DIGITS: usize = 15;

/// The positions met so far.
#[derive(Default)]
pub(crate) struct Positions {
    /// What they are counted from.
    pub datum: Datum,
    /// Size of the scene in its length unit, where it lies far from the origin.
    pub size: Option<f64>,
    named: HashMap<String, [f64; 3]>,
    bounds: Option<[[f64; 3]; 2]>,
    /// Numbers with more digits than are kept.
    pub long: Option<LongNumbers>,
    /// The first number that looks as if an f64 had been the last to hold it, and lacks the digits of this place.
    pub coarse: Option<(usize, f64)>,
}

/// Numbers with more digits than are kept.
pub(crate) struct LongNumbers {
    /// Where the first one stands.
    pub offset: usize,
    /// As written.
    pub first: String,
    /// What is kept of it.
    pub kept: String,
    /// How many others there are.
    pub others: usize,
}

impl Positions {
    /// Positions counted from a datum, of a scene of a known size.
    pub(crate) fn from(datum: Datum, size: f64) -> Self {
        Self {
            datum,
            size: Some(size),
            ..Self::default()
        }
    }

    /// A coordinate counted from the datum; `number` is what the node reads as.
    pub(crate) fn coordinate(&mut self, axis: usize, node: SyntaxNode, number: f64) -> f64 {
        if self.datum.is_origin() {
            self.look_for_more_digits(Datum::default(), axis, node, number);
            return number;
        }
        let written = written(node, number);
        let coordinate = self.datum.relative(axis, written);
        self.look_for_more_digits(self.datum, axis, node, coordinate);
        self.look_for_fewer_digits(node, number, written);
        coordinate
    }

    /// A component of a vector that is no position.
    pub(crate) fn component(&mut self, node: SyntaxNode, number: f64) -> f64 {
        self.look_for_more_digits(Datum::default(), 0, node, number);
        number
    }

    fn look_for_more_digits(&mut self, datum: Datum, axis: usize, node: SyntaxNode, kept: f64) {
        if datum.is_origin() && node.text().len() <= KEPT_DIGITS {
            return;
        }
        if Decimal::parse(node.text()).is_none_or(|whole| datum.keeps(axis, kept, whole)) {
            return;
        }
        match &mut self.long {
            Some(long) => long.others += 1,
            None => {
                self.long = Some(LongNumbers {
                    offset: node.offset,
                    first: node.text().to_owned(),
                    kept: datum.written(axis, kept),
                    others: 0,
                });
            }
        }
    }

    fn look_for_fewer_digits(&mut self, node: SyntaxNode, number: f64, written: Decimal) {
        let step = number.abs().next_up() - number.abs();
        let coarse = self.size.is_some_and(|size| step > FINE * size);
        let place = 10_f64.powi(written.trimmed().exponent);
        let is_shortest = Decimal::of(number).trimmed() == written.trimmed();
        if coarse && is_shortest && place <= step {
            self.coarse.get_or_insert((node.offset, step));
        }
    }

    /// Keeps where a named point is.
    pub(crate) fn name(&mut self, name: &str, at: [f64; 3]) {
        self.named.entry(name.to_owned()).or_insert(at);
    }

    /// Notes that something stands at a named point.
    pub(crate) fn used_name(&mut self, name: &str) {
        if let Some(at) = self.named.get(name) {
            self.used(*at);
        }
    }

    /// Notes that something stands there. A point that nothing refers to does not say where the scene is.
    pub(crate) fn used(&mut self, at: [f64; 3]) {
        let [low, high] = self.bounds.get_or_insert([at, at]);
        for axis in 0..3 {
            low[axis] = low[axis].min(at[axis]);
            high[axis] = high[axis].max(at[axis]);
        }
    }

    /// The datum that suits these positions, and their size.
    pub(crate) fn suited(&self) -> (Datum, f64) {
        match self.bounds {
            Some([low, high]) => (self.datum.moved_to(low, high), size(&low, &high)),
            None => (self.datum, 0.0),
        }
    }
}

/// The number as a decimal; for the few forms other than plain digits, and for more digits than a decimal holds, of what it
/// reads as.
fn written(node: SyntaxNode, number: f64) -> Decimal {
    Decimal::parse(node.text()).unwrap_or_else(|| Decimal::of(number))
}
