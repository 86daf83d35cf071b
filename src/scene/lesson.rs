//! A lesson on a scene: what a class is shown of it in which order, and what the speaker wants to say.

use super::Scene;

/// What a class is shown at one point of a lesson. Window and deck go through the same stages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum LessonStage {
    /// The body alone.
    Body,
    /// What acts on it.
    Loads,
    /// What holds it.
    Supports,
    /// The reactions of its supports.
    Reactions,
    /// How many unknowns there are.
    Count,
    /// The rank, and with it how many motions remain and how many reactions are redundant.
    Rank,
    /// Why, with the axis that the reactions share.
    Reason,
    /// How the body moves; of a body that is held, what it carries.
    Motion,
    /// What would hold the body; of one that is held, what it can do without.
    Mend,
}

impl LessonStage {
    /// All of them, in the order of a lesson for which a scene gives none.
    pub const ALL: [Self; 9] = [
        Self::Body,
        Self::Loads,
        Self::Supports,
        Self::Reactions,
        Self::Count,
        Self::Rank,
        Self::Reason,
        Self::Motion,
        Self::Mend,
    ];

    /// Whether it says, or shows, if the body is held.
    pub fn answers(self) -> bool {
        match self {
            Self::Body | Self::Loads | Self::Supports | Self::Reactions | Self::Count => false,
            Self::Rank | Self::Reason | Self::Motion | Self::Mend => true,
        }
    }

    /// Its name in scene files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Body => "Body",
            Self::Loads => "Loads",
            Self::Supports => "Supports",
            Self::Reactions => "Reactions",
            Self::Count => "Count",
            Self::Rank => "Rank",
            Self::Reason => "Reason",
            Self::Motion => "Motion",
            Self::Mend => "Mend",
        }
    }
}

/// A stage of a lesson with a note for the speaker.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonStep {
    /// What is shown.
    pub stage: LessonStage,
    /// What the speaker wants to be reminded of, never shown to the class; empty where there is nothing.
    pub note: String,
}

impl LessonStep {
    /// A stage without a note.
    pub fn new(stage: LessonStage) -> Self {
        Self {
            stage,
            note: String::new(),
        }
    }
}

impl Scene {
    /// The lesson of the scene: the one that it gives, else every stage in the usual order.
    pub fn lesson_steps(&self) -> Vec<LessonStep> {
        match self.lesson.is_empty() {
            true => LessonStage::ALL.map(LessonStep::new).into(),
            false => self.lesson.clone(),
        }
    }
}

/// What of a lesson has been shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShownStages(Vec<LessonStage>);

impl ShownStages {
    /// Everything, also what the lesson leaves out.
    pub fn all() -> Self {
        Self(LessonStage::ALL.into())
    }

    /// The first stages of a lesson, up to the one of this index.
    pub fn up_to(lesson: &[LessonStage], at: usize) -> Self {
        Self(lesson.iter().take(at + 1).copied().collect())
    }

    /// Whether this stage has been shown.
    pub fn reached(&self, stage: LessonStage) -> bool {
        self.0.contains(&stage)
    }

    /// Which of n, rank, freedom and redundancy can be seen.
    pub fn numbers(&self) -> [bool; 4] {
        let [unknowns, rank] = [LessonStage::Count, LessonStage::Rank].map(|s| self.reached(s));
        [unknowns, rank, rank, rank]
    }

    /// The stage whose question stands in for the sentence; `None` as soon as the sentence can be read.
    pub fn asks(&self) -> Option<LessonStage> {
        let answers = [LessonStage::Reason, LessonStage::Motion, LessonStage::Mend];
        if answers.into_iter().any(|answer| self.reached(answer)) {
            return None;
        }
        match self.reached(LessonStage::Rank) {
            true => Some(LessonStage::Rank),
            false => self.0.last().copied(),
        }
    }
}
