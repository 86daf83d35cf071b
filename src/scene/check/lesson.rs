//! Checks on the lesson: it has stages, each once.

use super::{Checker, Flaw};

impl Checker<'_> {
    pub(crate) fn lesson(&mut self) {
        if let Some(offset) = self.places.empty_lesson {
            self.findings.error(offset, Flaw::EmptyLesson);
        }
        let steps = &self.scene.lesson;
        for (index, (step, at)) in steps.iter().zip(&self.places.lesson).enumerate() {
            if steps[..index].iter().any(|met| met.stage == step.stage) {
                let stage = step.stage.name();
                self.findings.error(at.item, Flaw::RepeatedStage { stage });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::flaws;

    #[test]
    fn a_stage_comes_once() {
        assert_eq!(
            flaws("lesson: [Rank, Body, Rank(note: \"again\")]"),
            ["the lesson has the stage `Rank` twice"]
        );
        assert_eq!(flaws("lesson: [Rank, Body(note: \"last\")]"), [""; 0]);
    }

    #[test]
    fn a_lesson_has_stages() {
        assert_eq!(flaws("lesson: []"), ["the lesson has no stages"]);
        assert_eq!(flaws(""), [""; 0]);
    }

    #[test]
    fn a_note_says_something_and_not_too_much() {
        let note = |note: &str| flaws(&format!("lesson: [Rank(note: \"{note}\")]"));
        assert_eq!(note(" "), ["`note` of Rank is the text \" \""]);
        assert_eq!(note(&"é".repeat(2000)), [""; 0]);
        assert_eq!(note(&"é".repeat(2001)), ["`note` of Rank has 2001 letters"]);
        let bell = note("\\u{7}");
        assert!(bell[0].contains("U+0007"), "{bell:?}");
    }

    #[test]
    fn a_stage_that_does_not_exist_is_said_to_be_none() {
        assert_eq!(
            flaws("lesson: [Body, Verdict]"),
            ["the word `Verdict` is not a stage of a lesson"]
        );
    }
}
