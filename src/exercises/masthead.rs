//! What a sheet says of itself: its title by topic, the course, and lines to write a name on.

use super::{Exercise, ExerciseSheet};
use crate::document::DocumentBlock;
use crate::wording::{Phrase, phrase};

/// What stands above the problems of a sheet, and how they are set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Masthead {
    /// The course, such as `Engineering Mechanics 1, week 5`; may be empty.
    pub course: String,
    /// Marks for each problem; `None` where none are given.
    pub marks: Option<u32>,
    /// Which variant of a sheet it is; `None` where it is the only one.
    pub variant: Option<char>,
    /// Problems that share a page, 1 or 2. One leaves room to answer.
    pub per_page: usize,
}

impl Default for Masthead {
    fn default() -> Self {
        Self {
            course: String::new(),
            marks: None,
            variant: None,
            per_page: 1,
        }
    }
}

/// The topic of all problems, or what they have in common.
pub(super) fn title(sheet: &ExerciseSheet) -> String {
    let mut topics = sheet.problems.iter().map(|problem| problem.topic);
    let first = topics.next();
    let only = first.filter(|first| topics.all(|topic| topic == *first));
    let title = match only {
        Some(topic) => topic.words().title,
        None => "Constraints and support reactions",
    };
    match sheet.masthead.variant {
        Some(variant) => format!("{title}, variant {variant}"),
        None => title.to_owned(),
    }
}

/// The course, and how many problems and marks there are.
pub(super) fn subtitle(sheet: &ExerciseSheet) -> Phrase {
    let problems = match sheet.problems.len() {
        1 => "one problem".to_owned(),
        number => format!("{number} problems"),
    };
    let marks = sheet.masthead.marks.map(|each| {
        let total = u64::from(each) * sheet.problems.len() as u64;
        counted_marks(total)
    });
    let course = Some(sheet.masthead.course.clone()).filter(|course| !course.is_empty());
    let parts = course.into_iter().chain([problems]).chain(marks);
    Phrase::joined(parts.map(Phrase::from), " \u{b7} ").capitalised()
}

/// Lines for what the student fills in.
pub(super) fn form(sheet: &ExerciseSheet) -> DocumentBlock {
    let marks = match sheet.masthead.marks {
        Some(each) => {
            let total = u64::from(each) * sheet.problems.len() as u64;
            vec![phrase!("Marks (of ", total.to_string(), ")")]
        }
        None => Vec::new(),
    };
    let blanks = ["Name", "Date"].map(Phrase::from).into_iter();
    DocumentBlock::Blanks(blanks.chain(marks).collect())
}

/// `Problem 3 (4 marks): Handrail on two ball joints`.
pub(super) fn heading(sheet: &ExerciseSheet, problem: &Exercise, index: usize) -> Phrase {
    let marks = match sheet.masthead.marks {
        Some(marks) => format!(" ({})", counted_marks(marks.into())),
        None => String::new(),
    };
    phrase!(
        "Problem ",
        index + 1,
        marks,
        ": ",
        problem.study.model().title
    )
}

fn counted_marks(marks: u64) -> String {
    match marks {
        1 => "1 mark".to_owned(),
        marks => format!("{marks} marks"),
    }
}
