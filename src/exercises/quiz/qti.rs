//! Questions as a package of IMS Question and Test Interoperability (QTI) 2.1.
//!
//! One item for each question, a test of one section for each problem, and the figures, in a ZIP file with the manifest of
//! IMS Content Packaging 1.1. Elements, attributes and their order as in *IMS QTI Assessment Test, Section and Item
//! Information Model*, version 2.1 (2012), and its XML binding.

use std::io::Write;

use flate2::Compression;
use flate2::write::DeflateEncoder;
use maud::{Markup, html};
use rawzip::time::UtcDateTime;
use rawzip::{CompressionMethod, ZipArchiveWriter};

use super::{Expected, Quiz, QuizProblem, QuizQuestion, VERDICTS, given, strong, xml};

const QTI: &str = "http://www.imsglobal.org/xsd/imsqti_v2p1";
const PACKAGE: &str = "http://www.imsglobal.org/xsd/imscp_v1p1";
const INSTANCE: &str = "http://www.w3.org/2001/XMLSchema-instance";
const QTI_SCHEMA: &str = "http://www.imsglobal.org/xsd/imsqti_v2p1 http://www.imsglobal.org/xsd/qti/qtiv2p1/imsqti_v2p1.xsd";
const PACKAGE_SCHEMA: &str = "http://www.imsglobal.org/xsd/imscp_v1p1 http://www.imsglobal.org/xsd/qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd";
/// Marks an answer that equals the correct response.
const MATCH_CORRECT: &str = "http://www.imsglobal.org/question/qti_v2p1/rptemplates/match_correct";

const MANIFEST: &str = "imsmanifest.xml";
const TEST: &str = "test.xml";

impl Quiz<'_> {
    /// The questions as the bytes of a QTI 2.1 package, which is a ZIP file. Equal questions give equal bytes.
    ///
    /// # Panics
    /// Only for a bug of ours: writing to memory does not fail.
    #[must_use]
    pub fn qti(&self) -> Vec<u8> {
        zipped(&self.files()).expect("memory takes everything")
    }

    /// Names and contents of the files of the package.
    fn files(&self) -> Vec<(String, String)> {
        let mut files = vec![
            (MANIFEST.to_owned(), xml(self.manifest())),
            (TEST.to_owned(), xml(self.test())),
        ];
        for (index, problem) in self.problems.iter().enumerate() {
            let own = Own(index);
            for (question, asked) in problem.questions.iter().enumerate() {
                files.push((own.file(question), xml(item(problem, asked, own, question))));
            }
            files.extend(problem.figure.clone().map(|svg| (own.figure(), svg)));
        }
        files
    }

    /// All files, and which of them need which others.
    fn manifest(&self) -> Markup {
        html! {
            manifest xmlns=(PACKAGE) xmlns:xsi=(INSTANCE) xsi:schemaLocation=(PACKAGE_SCHEMA) identifier="sheet" {
                metadata { schema { "QTIv2.1 Package" } schemaversion { "1.0.0" } }
                organizations {}
                resources {
                    resource identifier="test" type="imsqti_test_xmlv2p1" href=(TEST) {
                        file href=(TEST) {}
                        @for (own, question, _) in self.all() {
                            dependency identifierref=(own.identifier(question)) {}
                        }
                    }
                    @for (own, question, problem) in self.all() {
                        resource identifier=(own.identifier(question)) type="imsqti_item_xmlv2p1" href=(own.file(question)) {
                            file href=(own.file(question)) {}
                            @if problem.figure.is_some() { file href=(own.figure()) {} }
                        }
                    }
                }
            }
        }
    }

    /// Every question in order, to be answered in any, each for one mark.
    fn test(&self) -> Markup {
        html! {
            assessmentTest xmlns=(QTI) xmlns:xsi=(INSTANCE) xsi:schemaLocation=(QTI_SCHEMA) identifier="test" title=(self.title) {
                (score())
                testPart identifier="part" navigationMode="nonlinear" submissionMode="individual" {
                    @for (index, problem) in self.problems.iter().enumerate() {
                        @let title = format!("Problem {}: {}", index + 1, problem.exercise.study.model().title);
                        assessmentSection identifier=(Own(index).section()) title=(title) visible="true" {
                            @for question in 0..problem.questions.len() {
                                assessmentItemRef identifier=(Own(index).identifier(question)) href=(Own(index).file(question)) {}
                            }
                        }
                    }
                }
                outcomeProcessing {
                    setOutcomeValue identifier="SCORE" { sum { testVariables variableIdentifier="SCORE" {} } }
                }
            }
        }
    }

    /// Every question with its index in its problem.
    fn all(&self) -> impl Iterator<Item = (Own, usize, &QuizProblem<'_>)> {
        let problems = self.problems.iter().enumerate();
        problems.flat_map(|(index, problem)| {
            (0..problem.questions.len()).map(move |question| (Own(index), question, problem))
        })
    }
}

/// The names of what a problem of an index has.
#[derive(Clone, Copy)]
struct Own(usize);

impl Own {
    fn section(self) -> String {
        format!("problem-{:03}", self.0 + 1)
    }

    fn identifier(self, question: usize) -> String {
        format!("{}-{:02}", self.section(), question + 1)
    }

    fn file(self, question: usize) -> String {
        format!("{}.xml", self.identifier(question))
    }

    fn figure(self) -> String {
        format!("{}.svg", self.section())
    }
}

fn item(problem: &QuizProblem, question: &QuizQuestion, own: Own, index: usize) -> Markup {
    let title = format!("Problem {}: {}", own.0 + 1, question.name);
    html! {
        assessmentItem xmlns=(QTI) xmlns:xsi=(INSTANCE) xsi:schemaLocation=(QTI_SCHEMA)
            identifier=(own.identifier(index)) title=(title) adaptive="false" timeDependent="false" {
            (right(&question.expected))
            (score())
            itemBody {
                (given(problem, &own.figure()))
                (asked(question))
            }
            (marking(&question.expected))
        }
    }
}

/// What is scored, nothing at first.
fn score() -> Markup {
    html! {
        outcomeDeclaration identifier="SCORE" cardinality="single" baseType="float" {
            defaultValue { value { "0" } }
        }
    }
}

/// A verdict's identifier: A, B, C or D.
fn choice(index: usize) -> char {
    char::from(b'A' + u8::try_from(index).expect("there are four verdicts"))
}

fn right(expected: &Expected) -> Markup {
    let (kind, value) = match expected {
        Expected::Verdict(right) => ("identifier", choice(*right).to_string()),
        Expected::Number { value, .. } => ("float", value.clone()),
    };
    html! {
        responseDeclaration identifier="RESPONSE" cardinality="single" baseType=(kind) {
            correctResponse { value { (value) } }
        }
    }
}

fn asked(question: &QuizQuestion) -> Markup {
    let words = strong(&question.asked);
    html! {
        @match question.expected {
            Expected::Verdict(_) => {
                choiceInteraction responseIdentifier="RESPONSE" shuffle="false" maxChoices="1" {
                    prompt { (words) }
                    @for (index, (words, _)) in VERDICTS.iter().enumerate() {
                        simpleChoice identifier=(choice(index)) { (words) }
                    }
                }
            },
            Expected::Number { .. } => {
                p { (words) " " textEntryInteraction responseIdentifier="RESPONSE" expectedLength="12" {} }
            },
        }
    }
}

fn marking(expected: &Expected) -> Markup {
    html! {
        @match expected {
            Expected::Verdict(_) => responseProcessing template=(MATCH_CORRECT) {},
            Expected::Number { tolerance, .. } => responseProcessing {
                responseCondition { responseIf {
                    equal toleranceMode="absolute" tolerance={ (tolerance) " " (tolerance) } {
                        variable identifier="RESPONSE" {}
                        correct identifier="RESPONSE" {}
                    }
                    setOutcomeValue identifier="SCORE" { baseValue baseType="float" { "1" } }
                } }
            },
        }
    }
}

/// Files in a ZIP file, as of the first day that such files know.
fn zipped(files: &[(String, String)]) -> Result<Vec<u8>, rawzip::Error> {
    let day = UtcDateTime::from_components(1980, 1, 1, 0, 0, 0, 0).expect("a day");
    let mut bytes = Vec::new();
    let mut archive = ZipArchiveWriter::new(&mut bytes);
    for (name, content) in files {
        let (mut entry, config) = archive
            .new_file(name.as_str())
            .compression_method(CompressionMethod::DEFLATE)
            .last_modified(day)
            .start()?;
        let encoder = DeflateEncoder::new(&mut entry, Compression::default());
        let mut writer = config.wrap(encoder);
        writer.write_all(content.as_bytes())?;
        let (encoder, descriptor) = writer.finish()?;
        encoder.finish()?;
        entry.finish(descriptor)?;
    }
    archive.finish()?;
    Ok(bytes)
}
