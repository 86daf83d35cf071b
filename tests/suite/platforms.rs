//! Questions for learning platforms: each file is as its format has it, and asks what the sheet does.
//!
//! The schemas themselves cannot be had from a package registry. The rules below are values from memory of the published
//! formats: elements, their attributes, and what is in them in which order.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Read;

use rawzip::ZipArchive;
use sixhold::exercises::{ExerciseSheet, Figures, Quiz, Topic};
use sixhold::statics::CaseIndex;

use crate::exercises::settings;

/// An element of XML.
#[derive(Debug, Default)]
struct Element {
    name: String,
    attributes: BTreeMap<String, String>,
    children: Vec<Element>,
    text: String,
}

impl Element {
    /// The one element of a text. What writers here never use (comments, sections of raw text, types) is refused.
    fn read(text: &str) -> Self {
        let text = text
            .strip_prefix("<?xml version=\"1.0\" encoding=\"UTF-8\"?>")
            .expect("a declaration");
        let mut open = vec![Self::default()];
        for part in text.trim_start().split('<').skip(1) {
            let (tag, behind) = part.split_once('>').expect("a tag ends");
            assert!(!tag.starts_with(['!', '?']) && !tag.ends_with('/'), "{tag}");
            match tag.strip_prefix('/') {
                Some(name) => {
                    let closed = open.pop().expect("something is open");
                    assert_eq!(closed.name, name);
                    open.last_mut()
                        .expect("one is around it")
                        .children
                        .push(closed);
                }
                None => open.push(Self::opened(tag)),
            }
            let last = open.last_mut().expect("the document itself");
            last.text += &plain(behind);
        }
        let mut document = open.pop().expect("the document");
        assert!(open.is_empty() && document.text.trim().is_empty());
        assert_eq!(document.children.len(), 1);
        document.children.remove(0)
    }

    fn opened(tag: &str) -> Self {
        let (name, mut rest) = tag.split_once(' ').unwrap_or((tag, ""));
        let mut attributes = BTreeMap::new();
        while let Some((key, behind)) = rest.trim_start().split_once("=\"") {
            let (value, behind) = behind.split_once('"').expect("a value ends");
            let twice = attributes.insert(key.to_owned(), plain(value));
            assert!(twice.is_none(), "{tag}");
            rest = behind;
        }
        assert!(rest.is_empty(), "{tag}");
        Self {
            name: name.to_owned(),
            attributes,
            ..Self::default()
        }
    }

    /// Every element of a name below this one.
    fn all<'a>(&'a self, name: &str) -> Vec<&'a Self> {
        let below = self.children.iter().flat_map(|child| child.all(name));
        let own = (self.name == name).then_some(self);
        own.into_iter().chain(below).collect()
    }

    fn only(&self, name: &str) -> &Self {
        let all = self.all(name);
        assert_eq!(all.len(), 1, "{name} in {}", self.name);
        all[0]
    }

    /// Fails where it, or anything in it, is not as a line of the rules has it.
    fn check(&self, rules: &str) {
        let lines = rules.lines().map(str::trim).filter(|line| !line.is_empty());
        let mut lines = lines.map(|line| line.split('|').map(str::trim).collect::<Vec<_>>());
        let rule = lines.find(|rule| rule[0].split('/').any(|name| name == self.name));
        let rule = rule.unwrap_or_else(|| panic!("no element {}", self.name));
        let [required, optional] =
            [rule[1], rule[2]].map(|names| names.split(' ').collect::<BTreeSet<_>>());
        for name in required.iter().filter(|name| !name.is_empty()) {
            assert!(
                self.attributes.contains_key(*name),
                "{} lacks {name}",
                self.name
            );
        }
        for name in self.attributes.keys() {
            let known = required.contains(&**name) || optional.contains(&**name);
            assert!(
                known || name.starts_with("xmlns") || name == "xsi:schemaLocation",
                "{} has {name}",
                self.name
            );
        }
        let content = rule[3].strip_prefix('#');
        assert!(
            content.is_some() || self.text.trim().is_empty(),
            "{}: {}",
            self.name,
            self.text
        );
        self.check_order(content.unwrap_or(rule[3]));
        self.children.iter().for_each(|child| child.check(rules));
    }

    /// Children in the order of the particles, each of some names and with a count as in regular expressions.
    fn check_order(&self, particles: &str) {
        let mut left = self
            .children
            .iter()
            .map(|child| child.name.as_str())
            .peekable();
        for particle in particles.split_whitespace() {
            let names = particle.trim_end_matches(['?', '*', '+']);
            let mut count = 0;
            while left
                .next_if(|name| names.split('/').any(|own| own == *name))
                .is_some()
            {
                count += 1;
            }
            let right = match &particle[names.len()..] {
                "" => count == 1,
                "?" => count <= 1,
                "+" => count >= 1,
                _ => true,
            };
            assert!(right, "{}: {count} of {particle}", self.name);
        }
        assert_eq!(left.next(), None, "in {}: {particles}", self.name);
    }
}

/// A text without entities of XML.
fn plain(text: &str) -> String {
    let signs = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&amp;", "&"),
    ];
    for part in text.split('&').skip(1) {
        assert!(
            signs.iter().any(|(name, _)| part.starts_with(&name[1..])),
            "{text}"
        );
    }
    signs.iter().fold(text.to_owned(), |text, (name, sign)| {
        text.replace(name, sign)
    })
}

/// Names with a bar between element, required attributes, optional ones, and content; `#` where there may be text.
const HTML_RULES: &str = "
    p | | class | # var/sub/sup/strong/img/textEntryInteraction*
    strong/td/th | | class scope colspan | # var/sub/sup*
    prompt | | | # strong/var/sub/sup*
    sub/sup | | | # var*
    var | | | #
    img | src alt | |
    div | | class | table
    table | | class | thead? tbody+
    thead/tbody | | | tr+
    tr | | class | td/th+
";

const MOODLE_RULES: &str = "
    quiz | | | question+
    question | type | | category? name? questiontext? defaultgrade? penalty? single? shuffleanswers? answernumbering? answer*
    category | | | text
    name | | | text
    questiontext | format | | text file*
    answer | fraction | format | text tolerance?
    file | name path encoding | | #
    text/defaultgrade/penalty/single/shuffleanswers/answernumbering/tolerance | | | #
";

const QTI_RULES: &str = "
    assessmentItem | identifier title adaptive timeDependent | label xml:lang toolName toolVersion | responseDeclaration* outcomeDeclaration* templateDeclaration* templateProcessing? stylesheet* itemBody? responseProcessing? modalFeedback*
    responseDeclaration | identifier cardinality baseType | | defaultValue? correctResponse? mapping? areaMapping?
    outcomeDeclaration | identifier cardinality baseType | view interpretation normalMaximum normalMinimum | defaultValue?
    correctResponse/defaultValue | | interpretation | value+
    value | | fieldIdentifier baseType | #
    itemBody | | class label | p/div/table/choiceInteraction*
    choiceInteraction | responseIdentifier shuffle maxChoices | minChoices orientation | prompt? simpleChoice+
    simpleChoice | identifier | fixed | # var/sub/sup*
    textEntryInteraction | responseIdentifier | base expectedLength patternMask placeholderText |
    responseProcessing | | template templateLocation | responseCondition*
    responseCondition | | | responseIf responseElseIf* responseElse?
    responseIf | | | equal setOutcomeValue*
    equal | toleranceMode | tolerance includeLowerBound includeUpperBound | variable correct
    variable/correct | identifier | |
    setOutcomeValue | identifier | | baseValue/sum
    baseValue | baseType | | #
    sum | | | testVariables
    testVariables | variableIdentifier | baseType weightIdentifier |
    assessmentTest | identifier title | toolName toolVersion | outcomeDeclaration* timeLimits? stylesheet* testPart+ outcomeProcessing? testFeedback*
    testPart | identifier navigationMode submissionMode | | assessmentSection+
    assessmentSection | identifier title visible | required fixed keepTogether | assessmentItemRef*
    assessmentItemRef | identifier href | required fixed category |
    outcomeProcessing | | | setOutcomeValue*
";

const PACKAGE_RULES: &str = "
    manifest | identifier | version | metadata? organizations resources
    metadata | | | schema? schemaversion?
    schema/schemaversion | | | #
    organizations | | default |
    resources | | | resource*
    resource | identifier type | href | file* dependency*
    file | href | |
    dependency | identifierref | |
";

fn sheet() -> (ExerciseSheet, Vec<Figures>) {
    let topics: Vec<Topic> = Topic::MIXED.into_iter().chain([Topic::NearMiss]).collect();
    let sheet = ExerciseSheet::new(&settings(&topics, 12, 3, None)).unwrap();
    let figures = (0..12).map(|_| {
        vec![sixhold::document::DocumentFigure {
            drawing: sixhold::drawing::Drawing::default(),
            caption: "drawn".into(),
        }]
    });
    let figures = figures.collect();
    (sheet, figures)
}

/// A verdict and four numbers for each problem, and every reaction that follows from equilibrium.
fn count(sheet: &ExerciseSheet) -> usize {
    let of = |problem: &sixhold::exercises::Exercise| {
        let case = &problem.study.diagnosis().cases[CaseIndex::FIRST];
        5 + case.values.iter().flatten().count()
    };
    sheet.problems.iter().map(of).sum()
}

#[test]
fn questions_for_moodle_are_as_its_format_has_them() {
    let (sheet, figures) = sheet();
    let quiz = Element::read(&Quiz::new(&sheet, &figures).moodle());
    quiz.check(MOODLE_RULES);
    let questions = quiz.all("question");
    assert_eq!(questions.len(), 1 + count(&sheet));
    for question in questions {
        let fractions = question.all("answer");
        let fractions = fractions
            .iter()
            .map(|answer| answer.attributes["fraction"].as_str());
        let fractions: Vec<&str> = fractions.collect();
        match question.attributes["type"].as_str() {
            "category" => assert!(fractions.is_empty()),
            "numerical" => assert_eq!(fractions, ["100"]),
            "multichoice" => {
                let right = fractions.iter().filter(|fraction| **fraction == "100");
                assert_eq!((fractions.len(), right.count()), (4, 1));
            }
            other => panic!("{other}"),
        }
        for words in question.all("questiontext") {
            let text = words.children.first().unwrap();
            let shown = format!(
                "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<td>{}</td>",
                text.text
            );
            let shown = Element::read(&shown);
            shown
                .children
                .iter()
                .for_each(|part| part.check(HTML_RULES));
            assert_eq!(
                shown.only("img").attributes["src"],
                "@@PLUGINFILE@@/figure.svg"
            );
        }
    }
}

/// Names and contents of a ZIP file whose sums of bits are right.
fn unzipped(bytes: &[u8]) -> BTreeMap<String, String> {
    let archive = ZipArchive::from_slice(bytes).unwrap();
    let mut files = BTreeMap::new();
    let mut entries = archive.entries();
    while let Some(entry) = entries.next_entry().unwrap() {
        let name = entry
            .file_path()
            .try_normalize()
            .unwrap()
            .as_ref()
            .to_owned();
        let own = archive.get_entry(entry.wayfinder()).unwrap();
        let mut text = String::new();
        let unpacked = flate2::bufread::DeflateDecoder::new(own.data());
        own.verifying_reader(unpacked)
            .read_to_string(&mut text)
            .unwrap();
        assert!(files.insert(name, text).is_none());
    }
    files
}

#[test]
fn the_package_of_questions_is_as_its_format_has_it() {
    let (sheet, figures) = sheet();
    let quiz = Quiz::new(&sheet, &figures);
    let bytes = quiz.qti();
    assert_eq!(bytes, quiz.qti());
    let files = unzipped(&bytes);
    let manifest = Element::read(&files["imsmanifest.xml"]);
    manifest.check(PACKAGE_RULES);
    let listed: BTreeSet<&str> = manifest
        .all("file")
        .iter()
        .map(|file| file.attributes["href"].as_str())
        .collect();
    let there: BTreeSet<&str> = files
        .keys()
        .map(String::as_str)
        .filter(|name| *name != "imsmanifest.xml")
        .collect();
    assert_eq!(listed, there);
    assert_eq!(
        listed.iter().filter(|name| name.ends_with(".svg")).count(),
        12
    );

    let rules = QTI_RULES.to_owned() + HTML_RULES;
    let test = Element::read(&files["test.xml"]);
    test.check(&rules);
    let asked: Vec<&str> = test
        .all("assessmentItemRef")
        .iter()
        .map(|item| item.attributes["href"].as_str())
        .collect();
    assert_eq!(asked.len(), count(&sheet));
    for name in asked {
        let item = Element::read(&files[name]);
        item.check(&rules);
        let stem = name.trim_end_matches(".xml");
        assert_eq!(item.attributes["identifier"], stem);
        assert!(files.contains_key(&item.only("img").attributes["src"]));
        check_response(&item);
    }
}

/// The right answer is one that can be given, and has a mark.
fn check_response(item: &Element) {
    let right = &item.only("correctResponse").only("value").text;
    match item.only("responseDeclaration").attributes["baseType"].as_str() {
        "identifier" => {
            let choices = item.all("simpleChoice");
            let right = choices
                .iter()
                .filter(|choice| choice.attributes["identifier"] == *right);
            assert_eq!((choices.len(), right.count()), (4, 1));
            let template = &item.only("responseProcessing").attributes["template"];
            assert!(template.ends_with("/match_correct"));
        }
        "float" => {
            assert!(right.parse::<f64>().unwrap().is_finite());
            item.only("textEntryInteraction");
            let tolerances = item.only("equal").attributes["tolerance"].split(' ');
            assert!(
                tolerances
                    .map(|own| own.parse::<f64>().unwrap())
                    .all(|own| own >= 0.0)
            );
        }
        other => panic!("{other}"),
    }
}
