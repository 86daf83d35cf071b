//! A sheet as questions for learning platforms, in Moodle's XML format.
//!
//! Structure as its documentation publishes it (Moodle documentation, *Moodle XML format*: `quiz`, `question` of type
//! `category`, `multichoice` and `numerical`, `questiontext` of format `html` with `file`s in base64).

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, PreEscaped, html};

use super::masthead::title;
use super::{Exercise, ExerciseSheet, Figures};
use crate::document::{self, inline};
use crate::drawing::{Fonts, svg};
use crate::printable::for_xml;
use crate::solution::given;
use crate::statics::{CaseIndex, Reaction, ReactionKind, Verdict};
use crate::wording::{self, Phrase, phrase};

/// The sheet as one file of questions: for each problem the verdict to be chosen, then numbers to be typed. `figures` as
/// for [`questions`](super::questions).
pub fn moodle(sheet: &ExerciseSheet, figures: &[Figures]) -> String {
    let problems = sheet.problems.iter().enumerate();
    let questions = html! {
        question type="category" { category { text { "$course$/top/" (title(sheet)) } } }
        @for (index, problem) in problems {
            (of_problem(problem, index, figures.get(index)))
        }
    };
    let quiz = html! { quiz { (questions) } };
    let text = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}\n",
        quiz.into_string()
    );
    for_xml(&text).into_owned()
}

/// Whether a verdict is that of a problem.
type IsRight = fn(&Exercise) -> bool;

/// The verdicts to choose from.
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

fn of_problem(problem: &Exercise, index: usize, figures: Option<&Figures>) -> Markup {
    let number = index + 1;
    let figure = figures.and_then(|own| own.first());
    let figure = figure.map(|figure| STANDARD.encode(svg(&figure.drawing, Fonts::Inside)));
    let ask = |name: &str, question: Phrase, kind: &'static str, answers: Markup| {
        let name = format!("Problem {number}: {name}");
        asked(problem, &name, &question, kind, figure.as_deref(), &answers)
    };
    let numbers = wording::big_numbers(problem.study.model().space, problem.study.diagnosis());
    html! {
        (ask("verdict", "Is the body held?".into(), "multichoice", verdicts(problem)))
        @for big in &numbers {
            (ask(
                big.name,
                phrase!("How large is ", big.symbol, ", ", big.name, "?"),
                "numerical",
                exactly(&big.value.to_string()),
            ))
        }
        @for (reaction, value) in values(problem) {
            (ask(
                &reaction.name,
                size_of(problem, reaction),
                "numerical",
                within(problem, reaction, value),
            ))
        }
    }
}

fn asked(
    problem: &Exercise,
    name: &str,
    question: &Phrase,
    kind: &str,
    figure: Option<&str>,
    answers: &Markup,
) -> Markup {
    let words = html! {
        @if figure.is_some() {
            p { img src="@@PLUGINFILE@@/figure.svg" alt=(problem.study.model().title); }
        }
        p { (problem.study.model().title) "." }
        (PreEscaped(document::fragment(&[
            given::supports(problem.study.model(), false),
            given::loads(problem.study.model(), CaseIndex::FIRST),
        ])))
        p { strong { (inline(question)) } }
    };
    html! {
        question type=(kind) {
            name { text { (name) } }
            questiontext format="html" {
                text { (words.into_string()) }
                @if let Some(figure) = figure {
                    file name="figure.svg" path="/" encoding="base64" { (PreEscaped(figure)) }
                }
            }
            defaultgrade { "1" }
            penalty { "0.3333333" }
            (answers)
        }
    }
}

fn verdicts(problem: &Exercise) -> Markup {
    html! {
        single { "true" }
        shuffleanswers { "false" }
        answernumbering { "abc" }
        @for (words, is_right) in VERDICTS {
            answer fraction=(if is_right(problem) { "100" } else { "0" }) format="html" {
                text { (words) }
            }
        }
    }
}

/// A whole number.
fn exactly(number: &str) -> Markup {
    html! { answer fraction="100" { text { (number) } tolerance { "0" } } }
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
fn within(problem: &Exercise, reaction: &Reaction, value: f64) -> Markup {
    let units = &problem.study.model().units;
    let unit = |kind| match kind {
        ReactionKind::Force => units.force.in_newtons(),
        ReactionKind::Couple => units.moment_in_newton_metres(),
    };
    let alike = values(problem).filter(|(other, _)| other.kind == reaction.kind);
    let largest = alike.map(|(_, value)| value.abs()).fold(0.0, f64::max);
    let tolerance = largest.max(SMALLEST) / 100.0 / unit(reaction.kind);
    html! {
        answer fraction="100" {
            text { (shortened(value / unit(reaction.kind))) }
            tolerance { (shortened(tolerance)) }
        }
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
