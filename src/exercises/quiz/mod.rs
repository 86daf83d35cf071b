//! A sheet as questions that learning platforms mark by themselves: a verdict to choose, numbers to type.
//!
//! What is asked is the same for every platform; each format has a file of its own.

mod moodle;
mod qti;

use maud::{Markup, PreEscaped, html};

use super::masthead::title;
use super::{Exercise, ExerciseSheet, Figures};
use crate::document::{self, inline};
use crate::drawing::{Fonts, svg};
use crate::solution::given;
use crate::statics::{CaseIndex, Reaction, ReactionKind, Verdict};
use crate::wording::{self, Phrase, phrase};

/// The questions of a sheet: for each problem the verdict, the four numbers, and the reactions that follow from
/// equilibrium.
#[derive(Debug, Clone)]
#[must_use]
pub struct Quiz<'a> {
    title: String,
    problems: Vec<QuizProblem<'a>>,
}

/// A problem with its questions.
#[derive(Debug, Clone)]
struct QuizProblem<'a> {
    exercise: &'a Exercise,
    /// As a document of SVG.
    figure: Option<String>,
    questions: Vec<QuizQuestion>,
}

/// One thing that is asked of a problem.
#[derive(Debug, Clone)]
struct QuizQuestion {
    /// Short, to find it in a list.
    name: String,
    asked: Phrase,
    expected: Expected,
}

/// What is right.
#[derive(Debug, Clone)]
enum Expected {
    /// One of [`VERDICTS`].
    Verdict(usize),
    /// A number, and how far from it others are right; in the unit that the question names.
    Number { value: String, tolerance: String },
}

impl<'a> Quiz<'a> {
    /// The questions of a sheet. `figures` as for [`questions`](super::questions): the first of each problem is shown.
    pub fn new(sheet: &'a ExerciseSheet, figures: &[Figures]) -> Self {
        let problems = sheet.problems.iter().enumerate();
        let problems = problems.map(|(index, exercise)| QuizProblem {
            exercise,
            figure: figures
                .get(index)
                .and_then(|own| own.first())
                .map(|figure| svg(&figure.drawing, Fonts::Inside)),
            questions: questions(exercise),
        });
        Self {
            title: title(sheet),
            problems: problems.collect(),
        }
    }
}

/// Whether a verdict is that of a problem.
type IsRight = fn(&Exercise) -> bool;

/// The verdicts to choose from; of each problem one is right.
const VERDICTS: [(&str, IsRight); 4] = [
    ("Held, statically determinate", |problem| {
        let counts = problem.study.diagnosis().counts;
        counts.is_determinate()
    }),
    ("Held, statically indeterminate", |problem| {
        let counts = problem.study.diagnosis().counts;
        counts.freedom == 0 && counts.redundancy > 0
    }),
    (
        "Not held: too few reactions (partially constrained)",
        |problem| problem.study.diagnosis().verdict() == Verdict::PartiallyConstrained,
    ),
    (
        "Not held: badly placed reactions (improperly constrained)",
        |problem| problem.study.diagnosis().verdict() == Verdict::ImproperlyConstrained,
    ),
];

fn questions(problem: &Exercise) -> Vec<QuizQuestion> {
    let verdict = VERDICTS.iter().position(|(_, is_right)| is_right(problem));
    let verdict = QuizQuestion {
        name: "verdict".to_owned(),
        asked: "Is the body held?".into(),
        expected: Expected::Verdict(verdict.expect("the verdicts are all that there are")),
    };
    let numbers = wording::big_numbers(problem.study.model().space, problem.study.diagnosis());
    let numbers = numbers.into_iter().map(|big| QuizQuestion {
        name: big.name.to_owned(),
        asked: phrase!("How large is ", big.symbol, " (", big.label(), ")?"),
        expected: Expected::Number {
            value: big.value.to_string(),
            tolerance: "0".to_owned(),
        },
    });
    let values = values(problem).map(|(reaction, value)| QuizQuestion {
        name: reaction.name.clone(),
        asked: size_of(problem, reaction),
        expected: within(problem, reaction, value),
    });
    std::iter::once(verdict)
        .chain(numbers)
        .chain(values)
        .collect()
}

/// What every question of a problem shows above what it asks: the figure at its address, and what is given.
fn given(problem: &QuizProblem, address: &str) -> Markup {
    let model = problem.exercise.study.model();
    html! {
        @if problem.figure.is_some() {
            // With an end of its own, as XML has it.
            p { img src=(address) alt=(model.title) {} }
        }
        p { (model.title) "." }
        (PreEscaped(document::fragment(&[
            given::supports(model, false),
            given::loads(model, CaseIndex::FIRST),
        ])))
    }
}

/// The question for a reaction, with its unit and the direction in which it is positive.
fn size_of(problem: &Exercise, reaction: &Reaction) -> Phrase {
    let model = problem.study.model();
    let unit = match reaction.kind {
        ReactionKind::Force => model.units.force.symbol().to_owned(),
        ReactionKind::Couple => model.units.moment_symbol(),
    };
    phrase!(
        "How large is ",
        reaction.symbol,
        " in ",
        unit,
        "? It acts on the body and is positive along ",
        wording::signed_direction(model, &reaction.direction),
        "."
    )
}

/// A value within one part in a hundred, or that part of the largest reaction where it is smaller.
fn within(problem: &Exercise, reaction: &Reaction, value: f64) -> Expected {
    let units = &problem.study.model().units;
    let unit = |kind| match kind {
        ReactionKind::Force => units.force.in_newtons(),
        ReactionKind::Couple => units.moment_in_newton_metres(),
    };
    let alike = values(problem).filter(|(other, _)| other.kind == reaction.kind);
    let largest = alike.map(|(_, value)| value.abs()).fold(0.0, f64::max);
    let tolerance = largest.max(SMALLEST) / 100.0 / unit(reaction.kind);
    Expected::Number {
        value: shortened(value / unit(reaction.kind)),
        tolerance: shortened(tolerance),
    }
}

/// What counts as the largest reaction where all are zero, N or N·m.
const SMALLEST: f64 = 1.0;

/// Six places, without zeros at the end.
fn shortened(number: f64) -> String {
    let text = format!("{number:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// The reactions that follow from equilibrium, with their values, N or N·m.
fn values(problem: &Exercise) -> impl Iterator<Item = (&Reaction, f64)> {
    let case = &problem.study.diagnosis().cases[CaseIndex::FIRST];
    let reactions = problem.study.model().reactions.iter().zip(&case.values);
    reactions.filter_map(|(reaction, value)| Some((reaction, (*value)?)))
}

/// A question as platforms show it.
fn strong(asked: &Phrase) -> Markup {
    html! { strong { (inline(asked)) } }
}

/// An element with all that is in it as a document of XML.
fn xml(root: Markup) -> String {
    let text = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}\n",
        root.into_string()
    );
    crate::printable::for_xml(&text).into_owned()
}
