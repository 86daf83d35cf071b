//! What a report says of where it comes from.

use crate::report::ReportRecord;
use crate::scene;
use crate::study::Study;

use super::args::RecordArgs;

/// The record of a report on a study, with what its author gives.
pub(crate) fn of(study: &Study, args: &RecordArgs) -> ReportRecord {
    ReportRecord {
        digest: digest(study),
        author: args.author.clone(),
        revision: args.revision.clone(),
        date: args.date.clone(),
    }
}

/// BLAKE3 of the scene's text; `None` where it came from standard input, or its file has changed since it was read.
fn digest(study: &Study) -> Option<String> {
    let text = study.source()?.text()?;
    let read = scene::read_str(study.name(), &text).ok()?;
    let is_same = read.scene == *study.scene();
    is_same.then(|| format!("BLAKE3 {}", blake3::hash(text.as_bytes()).to_hex()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::builtin;

    /// The digest of the empty text is that of the BLAKE3 test vectors (BLAKE3 team, `test_vectors.json`).
    #[test]
    fn the_text_of_a_scene_has_its_digest() {
        let empty = "af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262";
        assert_eq!(blake3::hash(b"").to_hex().as_str(), empty);
        let study = Study::open("handrail").unwrap();
        let text = builtin::find("handrail").unwrap().text;
        let expected = blake3::hash(text.as_bytes()).to_hex();
        assert_eq!(digest(&study), Some(format!("BLAKE3 {expected}")));
        let made = Study::new(study.scene().clone()).unwrap();
        assert_eq!(digest(&made), None);
    }
}
