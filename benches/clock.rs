//! Time that the processor spends on the bench itself, so that a machine busy with other work matters little.

use criterion::measurement::{Measurement, ValueFormatter, WallTime};

use crate::processor;

/// Nanoseconds on the processor of this thread; wall-clock time where the system does not tell.
pub struct ProcessorTime;

/// Benches in processor time.
pub type Criterion = criterion::Criterion<ProcessorTime>;

impl Measurement for ProcessorTime {
    type Intermediate = f64;
    type Value = f64;

    fn start(&self) -> f64 {
        processor::nanoseconds()
    }

    fn end(&self, start: f64) -> f64 {
        processor::nanoseconds() - start
    }

    fn add(&self, a: &f64, b: &f64) -> f64 {
        a + b
    }

    fn zero(&self) -> f64 {
        0.0
    }

    fn to_f64(&self, value: &f64) -> f64 {
        *value
    }

    fn formatter(&self) -> &dyn ValueFormatter {
        WallTime.formatter()
    }
}
