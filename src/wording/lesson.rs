//! What a class is asked at each stage of a lesson.

use crate::scene::LessonStage;

/// What stands in for the sentence at a stage, until it can be read.
pub fn question(stage: LessonStage) -> &'static str {
    match stage {
        LessonStage::Body => "A free body: which motions has it?",
        LessonStage::Loads => "This acts on it: which motions must be prevented?",
        LessonStage::Supports => "Which reactions do these supports supply?",
        LessonStage::Reactions => "How many unknowns are these?",
        LessonStage::Count => "Is it held? Guess how many motions remain.",
        LessonStage::Rank | LessonStage::Reason | LessonStage::Motion | LessonStage::Mend => "Why?",
    }
}
