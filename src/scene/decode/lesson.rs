//! The stages of a lesson, each with its note.

use std::fmt::Arguments;

use super::super::syntax::SyntaxNode;
use super::super::{LessonStage, LessonStep};
use super::fields::{Fields, Kind, Spaces};
use super::{Decoder, FormatFault, Kinds, LINE_BREAKS, LONGEST_NOTE};

/// Every stage.
pub(crate) const STAGES: Kinds<LessonStep> = Kinds {
    what: "stage of a lesson",
    list: "lesson",
    other_words: &[],
    all: &[
        kind(LessonStage::Body, |f| step(f, LessonStage::Body)),
        kind(LessonStage::Loads, |f| step(f, LessonStage::Loads)),
        kind(LessonStage::Supports, |f| step(f, LessonStage::Supports)),
        kind(LessonStage::Reactions, |f| step(f, LessonStage::Reactions)),
        kind(LessonStage::Count, |f| step(f, LessonStage::Count)),
        kind(LessonStage::Rank, |f| step(f, LessonStage::Rank)),
        kind(LessonStage::Reason, |f| step(f, LessonStage::Reason)),
        kind(LessonStage::Motion, |f| step(f, LessonStage::Motion)),
        kind(LessonStage::Mend, |f| step(f, LessonStage::Mend)),
    ],
};

const fn kind(stage: LessonStage, read: fn(&mut Fields) -> LessonStep) -> Kind<LessonStep> {
    Kind {
        name: stage.name(),
        spaces: Spaces::Both,
        read,
    }
}

fn step(fields: &mut Fields, stage: LessonStage) -> LessonStep {
    let note = fields.note("note").unwrap_or_default();
    LessonStep { stage, note }
}

impl Decoder<'_> {
    /// What a speaker wants to be reminded of: a text that is neither empty nor too long.
    pub(super) fn note(&mut self, what: Arguments, node: SyntaxNode) -> Option<String> {
        let note = self.text(what, node)?;
        if note.trim().is_empty() {
            let hint = "leave the field out where there is nothing to say".to_owned();
            self.wrong_with_hint(what, "a text that is not empty", node, Some(hint));
            return None;
        }
        let length = note.chars().count();
        if length > LONGEST_NOTE {
            let what = what.to_string();
            let fault = FormatFault::LongNote { what, length };
            self.findings.error(node.offset, fault);
            return None;
        }
        self.printable(what, note, LINE_BREAKS, node)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A stage that no scene could write would be left out of every lesson.
    #[test]
    fn every_stage_can_be_written() {
        let names: Vec<&str> = STAGES.all.iter().map(|kind| kind.name).collect();
        assert_eq!(names, LessonStage::ALL.map(LessonStage::name));
        let list = names.join(", ");
        let text = format!(
            "(format: 1, body: [Shaft(from: (0, 0, 0), to: (1, 0, 0), diameter: 0.1)], lesson: [{list}])"
        );
        let scene = crate::scene::read_str("lesson", &text).unwrap().scene;
        assert_eq!(scene.lesson, scene.lesson_steps());
        assert_eq!(scene.lesson, LessonStage::ALL.map(LessonStep::new));
    }
}
