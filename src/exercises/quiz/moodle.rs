//! Questions in Moodle's XML format, as one file.
//!
//! Structure as its documentation publishes it (Moodle documentation, *Moodle XML format*: `quiz`, `question` of type
//! `category`, `multichoice` and `numerical`, `questiontext` of format `html` with `file`s in base64).

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, PreEscaped, html};

use super::{Expected, Quiz, QuizProblem, QuizQuestion, VERDICTS, given, strong, xml};

/// The name of the figure within its question.
const FIGURE: &str = "figure.svg";

impl Quiz<'_> {
    /// The questions as one file of Moodle's XML format.
    #[must_use]
    pub fn moodle(&self) -> String {
        xml(html! { quiz {
            question type="category" { category { text { "$course$/top/" (self.title) } } }
            @for (index, problem) in self.problems.iter().enumerate() {
                (of_problem(problem, index + 1))
            }
        } })
    }
}

fn of_problem(problem: &QuizProblem, number: usize) -> Markup {
    let figure = problem.figure.as_ref().map(|svg| STANDARD.encode(svg));
    let given = given(problem, &format!("@@PLUGINFILE@@/{FIGURE}")).into_string();
    html! {
        @for question in &problem.questions {
            question type=(kind(question)) {
                name { text { "Problem " (number) ": " (question.name) } }
                questiontext format="html" {
                    text { (given) (html! { p { (strong(&question.asked)) } }.into_string()) }
                    @if let Some(figure) = &figure {
                        file name=(FIGURE) path="/" encoding="base64" { (PreEscaped(figure)) }
                    }
                }
                defaultgrade { "1" }
                penalty { "0.3333333" }
                (answers(question))
            }
        }
    }
}

fn kind(question: &QuizQuestion) -> &'static str {
    match question.expected {
        Expected::Verdict(_) => "multichoice",
        Expected::Number { .. } => "numerical",
    }
}

fn answers(question: &QuizQuestion) -> Markup {
    html! {
        @match &question.expected {
            Expected::Verdict(right) => {
                single { "true" }
                shuffleanswers { "false" }
                answernumbering { "abc" }
                @for (index, (words, _)) in VERDICTS.iter().enumerate() {
                    answer fraction=(if index == *right { "100" } else { "0" }) format="html" {
                        text { (words) }
                    }
                }
            },
            Expected::Number { value, tolerance } => {
                answer fraction="100" { text { (value) } tolerance { (tolerance) } }
            },
        }
    }
}
