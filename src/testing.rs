//! How the property tests of the library run.

use proptest::test_runner::{Config, FileFailurePersistence};

/// So many random cases; seeds that once failed are kept beside those of the integration tests.
pub(crate) fn cases(count: u32) -> Config {
    Config {
        cases: count,
        failure_persistence: Some(Box::new(FileFailurePersistence::SourceParallel(
            "tests/proptest-regressions",
        ))),
        ..Config::default()
    }
}
