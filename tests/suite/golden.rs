//! Expected texts in `tests/golden`.

use std::path::Path;

/// Compares with a golden file; with the environment variable `SIXHOLD_BLESS=1` writes it anew.
pub(crate) fn compare(found: &str, path: &Path) {
    if std::env::var_os("SIXHOLD_BLESS").is_some_and(|value| value == "1") {
        std::fs::write(path, found).unwrap();
        return;
    }
    let expected = std::fs::read_to_string(path).unwrap_or_default();
    assert_eq!(
        found,
        expected,
        "{} differs; SIXHOLD_BLESS=1 writes it anew",
        path.display()
    );
}
