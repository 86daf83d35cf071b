//! How far a run of this program has come, as lines that another run of it reads: the window has its handouts made by the command line.

/// The variable that asks for the lines, on stderr, one for each step.
pub(crate) const VARIABLE: &str = "SIXHOLD_STEPS";

/// What a line begins with.
const START: &str = "step ";

/// The line that says how many steps are done, of how many.
pub(crate) fn line(done: u64, all: u64) -> String {
    format!("{START}{done} of {all}")
}

/// The numbers of such a line; `None` for any other.
#[cfg(feature = "viewer")]
pub(crate) fn read(line: &str) -> Option<(u64, u64)> {
    let (done, all) = line.strip_prefix(START)?.split_once(" of ")?;
    let all = all.trim().parse().ok().filter(|all| *all > 0)?;
    Some((done.parse().ok()?, all))
}

#[cfg(all(test, feature = "viewer"))]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read() {
        assert_eq!(read(&line(12, 80)), Some((12, 80)));
        for other in ["step", "step of", "step 3 of 0", "error: step 1 of 2", ""] {
            assert_eq!(read(other), None, "{other}");
        }
    }
}
