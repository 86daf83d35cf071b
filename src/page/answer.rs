//! What a page says of a scene, as values that become JSON.

use serde::Serialize;

use super::options::{PageOptions, lesson};
use super::trouble::{PageProblem, PageTrouble};
use crate::figure::{self, FigureSettings};
use crate::motion::Selection;
use crate::scene::{Space, builtin};
use crate::study::Study;
use crate::wording::{self, Height, Phrase};

/// What leads on the page: the sentence, the numbers, and what there is to choose.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PageAnswer {
    /// Title of the scene.
    pub title: String,
    /// Whether it is of the plane.
    pub planar: bool,
    /// Whether every motion is prevented.
    pub held: bool,
    /// `Not held:`; empty where a question stands in for it.
    pub verdict: String,
    /// What follows the verdict, or the question.
    pub reason: String,
    /// Verdict and reason, or the question, in letters as they are written.
    pub sentence: Vec<PagePiece>,
    /// n, r, freedom and redundancy.
    pub numbers: Vec<PageNumber>,
    /// Names of the load cases.
    pub cases: Vec<String>,
    /// The motions that there are in this case.
    pub motions: Vec<PageMotion>,
    /// Names of the stages of its lesson.
    pub lesson: Vec<&'static str>,
    /// Azimuth and elevation that its figure is seen from, degrees.
    pub view: Option<[f64; 2]>,
    /// What is probably not meant.
    pub warnings: Vec<PageProblem>,
}

/// One of the four numbers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PageNumber {
    /// `unknowns`, `rank`, `freedom` or `redundancy`.
    pub name: &'static str,
    /// How it is written.
    pub symbol: Vec<PagePiece>,
    /// The number; `None` while it is held back.
    pub value: Option<usize>,
}

/// Letters that are written alike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PagePiece {
    /// The letters.
    pub text: String,
    /// `b` for the verdict, `i` for symbols, `sub` and `sup` for what stands lower and higher; the outermost first.
    pub tags: Vec<&'static str>,
}

/// A motion that can be shown.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PageMotion {
    /// What asks for it.
    pub key: String,
    /// What it is.
    pub words: String,
}

/// A built-in scene in a list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SceneTitle {
    /// What asks for it.
    pub name: &'static str,
    /// Its title.
    pub title: String,
}

/// The built-in scenes.
pub fn listing() -> Vec<SceneTitle> {
    let scenes = builtin::all().iter();
    scenes
        .map(|scene| SceneTitle {
            name: scene.name,
            title: title(scene.text),
        })
        .collect()
}

/// The title of a scene that need not be read for it.
fn title(text: &str) -> String {
    let after = text.split_once("title: \"").map_or("", |(_, after)| after);
    after.split('"').next().unwrap_or_default().to_owned()
}

pub(super) fn answer(study: &Study, options: &PageOptions) -> Result<PageAnswer, PageTrouble> {
    let (model, diagnosis) = (study.model(), study.diagnosis());
    let case = options.case_index(study)?;
    let shown = options.shown(study)?;
    let (verdict, reason) = match shown.asks() {
        Some(stage) => (Phrase::new(), wording::question(stage).into()),
        None => {
            let caption = wording::caption(model, diagnosis, study.uncarried());
            (caption.verdict, caption.reason)
        }
    };
    let sentence = [written(&verdict, &["b"]), written(&reason, &[])].concat();
    let space = study.scene().space;
    let numbers = wording::big_numbers(space, diagnosis).into_iter();
    Ok(PageAnswer {
        title: model.title.clone(),
        planar: space == Space::Planar,
        held: diagnosis.is_held(),
        verdict: verdict.to_string(),
        reason: reason.to_string().trim_start().to_owned(),
        sentence,
        numbers: numbers
            .zip(shown.numbers())
            .map(|(number, is_seen)| PageNumber {
                name: number.name,
                symbol: written(&number.symbol, &[]),
                value: is_seen.then_some(number.value),
            })
            .collect(),
        cases: model.cases.iter().map(|case| case.name.clone()).collect(),
        motions: motions(study, options)?,
        lesson: lesson(study)
            .into_iter()
            .map(|stage| stage.name())
            .collect(),
        view: figure::seen_from(
            study,
            &FigureSettings {
                case,
                ..FigureSettings::default()
            },
        ),
        warnings: study.warnings().iter().map(PageProblem::from).collect(),
    })
}

/// A phrase as pieces within tags.
fn written(phrase: &Phrase, around: &[&'static str]) -> Vec<PagePiece> {
    let pieces = phrase.pieces().into_iter();
    pieces
        .map(|piece| {
            let height = match piece.height {
                Height::Line => None,
                Height::Below => Some("sub"),
                Height::Above => Some("sup"),
            };
            let italic = piece.is_italic.then_some("i");
            let tags = around.iter().copied().chain(height).chain(italic);
            PagePiece {
                tags: tags.collect(),
                text: piece.text,
            }
        })
        .collect()
}

fn motions(study: &Study, options: &PageOptions) -> Result<Vec<PageMotion>, PageTrouble> {
    let case = options.case_index(study)?;
    let there = study.selections(case).into_iter();
    Ok(there
        .filter_map(|selection| {
            let course = study.course(selection, case)?;
            let words = wording::course(study.model(), &course).capitalised();
            Some(PageMotion {
                key: match selection {
                    Selection::Free(index) => index.number().to_string(),
                    Selection::Escape => "escape".to_owned(),
                },
                words: words.to_string(),
            })
        })
        .collect())
}
