//! The time that a thread has spent on the processor.

use std::sync::LazyLock;
use std::time::Instant;

/// Nanoseconds that this thread has run, as the system counts them, for differences; of the wall where it does not.
pub(crate) fn nanoseconds() -> f64 {
    static BEGINNING: LazyLock<Instant> = LazyLock::new(Instant::now);
    counted().unwrap_or_else(|| BEGINNING.elapsed().as_nanos() as f64)
}

#[cfg(unix)]
fn counted() -> Option<f64> {
    use rustix::time::{ClockId, clock_gettime};
    let time = clock_gettime(ClockId::ThreadCPUTime);
    Some(time.tv_sec as f64 * 1e9 + time.tv_nsec as f64)
}

#[cfg(not(unix))]
fn counted() -> Option<f64> {
    None
}
