//! Exercise sheets for a page: drawn by options, and handed out file by file.

use serde::Deserialize;

use super::trouble::PageTrouble;
use crate::document::{self, Document, Paper};
use crate::exercises::{ExerciseChoice, ExerciseSheet, Level, Masthead, SheetSettings, Topic};
use crate::wording::USUAL_DIGITS;
use crate::worksheet::{Worksheet, WorksheetSettings};

/// What a sheet is to have. Whatever is left out is as the program has it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "camelCase")]
pub struct PageSheetOptions {
    /// What the problems are about: the name of a topic, or `mixed`.
    pub topic: String,
    /// How many problems, 1 to [`PageSheet::MOST`].
    pub count: usize,
    /// Equal seeds give equal sheets.
    pub seed: u64,
    /// `easy`, `middle` or `hard`; nothing begins easily and ends hard.
    pub level: Option<String>,
    /// Feet and pounds instead of metres and newtons.
    pub us: bool,
    /// The course, for the head of the sheet.
    pub course: String,
    /// Marks for each problem, 1 to 100.
    pub marks: Option<u32>,
    /// `a4` or `letter`.
    pub paper: String,
}

impl Default for PageSheetOptions {
    fn default() -> Self {
        Self {
            topic: MIXED.to_owned(),
            count: 6,
            seed: 1,
            level: None,
            us: false,
            course: String::new(),
            marks: None,
            paper: "a4".to_owned(),
        }
    }
}

const MIXED: &str = "mixed";
const LEVELS: [(&str, Level); 3] = [
    ("easy", Level::Easy),
    ("middle", Level::Middle),
    ("hard", Level::Hard),
];
const PAPERS: [(&str, Paper); 2] = [("a4", Paper::A4), ("letter", Paper::Letter)];

/// A sheet with its answers.
pub struct PageSheet {
    sheet: ExerciseSheet,
    written: Worksheet,
    paper: Paper,
}

impl PageSheet {
    /// The most problems that a page waits for.
    pub const MOST: usize = 50;
    /// The files that it is handed out in.
    pub const FILES: [&'static str; 8] = [
        "sheet.html",
        "sheet.pdf",
        "answers.html",
        "answers.pdf",
        "key.html",
        "key.pdf",
        "moodle.xml",
        "qti.zip",
    ];

    /// Draws the problems of a sheet, from options as JSON.
    ///
    /// # Errors
    /// An option that is not allowed, or where not enough different problems are found.
    pub fn drawn(json: &str) -> Result<Self, PageTrouble> {
        let options: PageSheetOptions = serde_json::from_str(json)
            .map_err(|error| PageTrouble::said(&format!("options of the sheet: {error}")))?;
        if !(1..=Self::MOST).contains(&options.count) {
            let most = Self::MOST;
            let said = format!(
                "a sheet of a page has 1 to {most} problems; the program makes longer ones"
            );
            return Err(PageTrouble::said(&said));
        }
        if options
            .marks
            .is_some_and(|marks| !(1..=100).contains(&marks))
        {
            return Err(PageTrouble::said("marks for each problem are 1 to 100"));
        }
        let settings = SheetSettings {
            topics: topics(&options.topic)?,
            count: options.count,
            seed: options.seed,
            level: options
                .level
                .map(|name| of(&name, "level", &LEVELS))
                .transpose()?,
            choice: ExerciseChoice {
                is_us: options.us,
                ..ExerciseChoice::default()
            },
        };
        let paper = of(&options.paper, "paper", &PAPERS)?;
        let mut sheet = ExerciseSheet::new(&settings).map_err(|error| PageTrouble::said(&error))?;
        sheet.masthead = Masthead {
            course: options.course,
            marks: options.marks,
            ..sheet.masthead
        };
        let settings = WorksheetSettings {
            per_page: 1,
            digits: USUAL_DIGITS,
        };
        let written = Worksheet::new(&sheet, settings, || {});
        Ok(Self {
            sheet,
            written,
            paper,
        })
    }

    /// One of its [files](Self::FILES).
    ///
    /// # Errors
    /// Where there is none of this name.
    pub fn file(&self, name: &str) -> Result<Vec<u8>, PageTrouble> {
        let quiz = || self.written.quiz(&self.sheet);
        match name {
            "moodle.xml" => return Ok(quiz().moodle().into_bytes()),
            "qti.zip" => return Ok(quiz().qti()),
            _ => {}
        }
        let (stem, ending) = name.split_once('.').unwrap_or((name, ""));
        let document: Option<&Document> = match stem {
            "sheet" => Some(&self.written.questions),
            "answers" => Some(&self.written.answers),
            "key" => Some(&self.written.key),
            _ => None,
        };
        match (document, ending) {
            (Some(document), "html") => Ok(document::html(document).into_bytes()),
            (Some(document), "pdf") => Ok(document::pdf_on(document, self.paper)),
            _ => {
                let allowed = Self::FILES.join(", ");
                let said = format!("a sheet has no file \"{name}\"; it has: {allowed}");
                Err(PageTrouble::said(&said))
            }
        }
    }
}

/// Names and descriptions of the topics to choose from.
pub fn sheet_topics() -> Vec<[&'static str; 2]> {
    let topics = Topic::ALL.map(|topic| [topic.words().name, topic.words().title]);
    [[MIXED, "All but nearly improper ones, in turn"]]
        .into_iter()
        .chain(topics)
        .collect()
}

fn topics(name: &str) -> Result<Vec<Topic>, PageTrouble> {
    if name == MIXED {
        return Ok(Topic::MIXED.to_vec());
    }
    let topics = Topic::ALL.map(|topic| (topic.words().name, topic));
    of(name, "topic", &topics).map(|topic| vec![topic])
}

/// What a name stands for.
fn of<T: Copy>(name: &str, what: &str, allowed: &[(&str, T)]) -> Result<T, PageTrouble> {
    let found = allowed.iter().find(|(word, _)| *word == name);
    found.map(|(_, meant)| *meant).ok_or_else(|| {
        let words: Vec<&str> = allowed.iter().map(|(word, _)| *word).collect();
        let words = words.join(", ");
        PageTrouble::said(&format!(
            "there is no {what} \"{name}\"; there are: {words}"
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_of_a_sheet_is_there_and_no_other() {
        let sheet =
            PageSheet::drawn(r#"{"topic":"partial","count":2,"seed":3,"course":"Statics"}"#);
        let sheet = sheet.unwrap_or_else(|trouble| panic!("{trouble:?}"));
        for name in PageSheet::FILES {
            let bytes = sheet
                .file(name)
                .unwrap_or_else(|trouble| panic!("{trouble:?}"));
            let begins: &[u8] = match name.rsplit('.').next() {
                Some("html") => b"<!DOCTYPE html>",
                Some("pdf") => b"%PDF",
                Some("zip") => b"PK",
                _ => b"<?xml",
            };
            assert!(bytes.starts_with(begins), "{name}");
        }
        let html = String::from_utf8(sheet.file("sheet.html").unwrap_or_default()).unwrap();
        assert!(html.contains("Partial constraints") && html.contains("Statics"));
        assert!(sheet.file("key.tex").is_err() && sheet.file("scenes").is_err());
    }

    #[test]
    fn what_is_not_allowed_is_said_with_what_is() {
        let said = |json: &str| match PageSheet::drawn(json) {
            Ok(_) => String::new(),
            Err(trouble) => trouble.problems[0].message.clone(),
        };
        for (json, expected) in [
            (r#"{"topic":"heat"}"#, "there are: improper, partial"),
            (r#"{"count":0}"#, "1 to 50"),
            (r#"{"count":51}"#, "1 to 50"),
            (r#"{"level":"fair"}"#, "easy, middle, hard"),
            (r#"{"paper":"a5"}"#, "a4, letter"),
            (r#"{"marks":0}"#, "1 to 100"),
            (r#"{"topics":"mixed"}"#, "topics"),
        ] {
            assert!(said(json).contains(expected), "{json}: {}", said(json));
        }
    }
}
