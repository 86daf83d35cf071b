//! Time that the processor spends on the bench itself, so that a machine busy with other work matters little.

use std::time::Instant;

use criterion::measurement::{Measurement, ValueFormatter, WallTime};

/// Nanoseconds on the processor of this thread; wall-clock time where the system does not tell.
pub struct ProcessorTime;

/// Benches in processor time.
pub type Criterion = criterion::Criterion<ProcessorTime>;

/// When something began.
pub struct Start {
    wall: Instant,
    processor: Option<u64>,
}

/// Nanoseconds that this thread has run, as the system counts them.
#[cfg(unix)]
fn processor() -> Option<u64> {
    use rustix::time::{ClockId, clock_gettime};
    let time = clock_gettime(ClockId::ThreadCPUTime);
    Some(u64::try_from(time.tv_sec).ok()? * 1_000_000_000 + u64::try_from(time.tv_nsec).ok()?)
}

#[cfg(not(unix))]
fn processor() -> Option<u64> {
    None
}

impl Measurement for ProcessorTime {
    type Intermediate = Start;
    type Value = f64;

    fn start(&self) -> Start {
        Start {
            wall: Instant::now(),
            processor: processor(),
        }
    }

    fn end(&self, start: Start) -> f64 {
        match (start.processor, processor()) {
            (Some(before), Some(after)) => (after - before) as f64,
            _ => start.wall.elapsed().as_nanos() as f64,
        }
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

/// Nanoseconds of the processor until now, for differences; of the wall where the system does not tell.
#[allow(dead_code, reason = "for benches without criterion")]
pub fn processor_nanoseconds() -> f64 {
    static BEGINNING: std::sync::LazyLock<Instant> = std::sync::LazyLock::new(Instant::now);
    processor().map_or_else(|| BEGINNING.elapsed().as_nanos() as f64, |time| time as f64)
}
