//! What is wrong with a scene or an option, as values that become JSON.

use std::fmt;

use serde::Serialize;

use crate::scene::{Problem, ReadError};

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PageTrouble {
    /// At least one.
    pub problems: Vec<PageProblem>,
    /// How many more there are.
    pub left_out: usize,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PageProblem {
    /// Line of the text, from 1.
    pub line: Option<usize>,
    /// Column, from 1.
    pub column: Option<usize>,
    /// What is wrong.
    pub message: String,
    /// What would have been right.
    pub expected: Option<String>,
    /// What to try.
    pub hint: Option<String>,
}

impl PageTrouble {
    /// One fault in words.
    pub(super) fn said(fault: &(impl fmt::Display + ?Sized)) -> Self {
        let problem = PageProblem {
            line: None,
            column: None,
            message: fault.to_string(),
            expected: None,
            hint: None,
        };
        Self {
            problems: vec![problem],
            left_out: 0,
        }
    }
}

impl From<&Problem> for PageProblem {
    fn from(problem: &Problem) -> Self {
        Self {
            line: problem.position.map(|place| place.line),
            column: problem.position.map(|place| place.column),
            message: problem.message.clone(),
            expected: problem.expected.clone(),
            hint: problem.hint.clone(),
        }
    }
}

impl From<ReadError> for PageTrouble {
    fn from(error: ReadError) -> Self {
        Self {
            problems: error.problems.iter().map(PageProblem::from).collect(),
            left_out: error.left_out,
        }
    }
}
