//! Time that the processor spends on the bench itself, so that a machine busy with other work matters little.

use criterion::measurement::{Measurement, ValueFormatter, WallTime};
use criterion::{BatchSize, Bencher};

use sixhold::study::Study;

use crate::processor;

/// Nanoseconds on the processor of this thread; wall-clock time where the system does not tell.
pub(crate) struct ProcessorTime;

/// Times what a study computes when it is first asked for it.
pub(crate) fn first_asked(
    bencher: &mut Bencher<ProcessorTime>,
    study: &Study,
    ask: impl Fn(&Study),
) {
    let afresh = || study.clone();
    let asked = |study: Study| {
        ask(&study);
        study
    };
    bencher.iter_batched(afresh, asked, BatchSize::SmallInput);
}

/// Benches in processor time.
pub(crate) type Criterion = criterion::Criterion<ProcessorTime>;

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
