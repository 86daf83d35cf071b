//! The report of `sixhold mend`: links to add and removable reactions, as a document and as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::blocks::{heading, listed};
use super::values::{pretty, tidy};
use super::{Report, details, paper};
use crate::document::{self, DocumentBlock, Tone};
use crate::repair::{Mending, Releases};
use crate::scene::Place;
use crate::statics::{Model, ReactionIndex};
use crate::study::{Repair, Study};
use crate::wording::{self, Phrase};

/// What a report of repairs is about.
#[derive(Debug, Clone, Copy)]
pub struct Repairs<'a> {
    /// What is known of the body as it is.
    pub study: &'a Study,
    /// What would hold it.
    pub repair: &'a Repair,
    /// Names of what was released beforehand.
    pub released: &'a [String],
}

/// The repairs as a document.
pub fn document(repairs: &Repairs) -> document::Document {
    let study = repairs.study;
    let (model, diagnosis) = (study.model(), study.diagnosis());
    let report = Report { study, case: None };
    let mut blocks = Vec::new();
    if !repairs.released.is_empty() {
        let said = wording::without(study.whole(), repairs.released);
        blocks.push(DocumentBlock::Paragraph(said));
    }
    let is_good = diagnosis.is_held() && study.uncarried().is_empty();
    let tone = if is_good { Tone::Good } else { Tone::Bad };
    blocks.push(DocumentBlock::Lead(tone, report.headline()));
    let other = wording::other_couples(model, diagnosis);
    blocks.extend(other.map(DocumentBlock::Paragraph));
    heading(&mut blocks, paper::LINKS);
    match repairs.repair {
        Repair::Links(mending) => {
            let links = mending.links.iter();
            let links = links.map(|link| wording::added_link(model, link));
            blocks.push(DocumentBlock::List(links.collect()));
            blocks.push(DocumentBlock::Paragraph(wording::mending(mending)));
        }
        Repair::NotNeeded => blocks.push(DocumentBlock::Paragraph(
            "No link is needed to prevent free motions.".into(),
        )),
        Repair::NoneFound => {
            let said = "No link was found that would hold the body.";
            blocks.push(DocumentBlock::Paragraph(said.into()));
        }
    }
    let one_way = study.one_way().filter(|_| diagnosis.is_held());
    let uncounted = one_way.and_then(|found| wording::uncounted(model, found));
    blocks.extend(uncounted.map(DocumentBlock::Paragraph));
    listed(&mut blocks, details::RELEASES, wording::releases(study));
    document::Document {
        title: paper::title(&report),
        subtitle: Phrase::new(),
        blocks,
    }
}

#[derive(Debug, Serialize)]
struct JsonRepairs<'a> {
    source: &'a str,
    title: &'a str,
    /// Whether every motion is prevented, contacts and cables treated as two-way.
    held: bool,
    /// Whether pushes and pulls alone carry the loads of every case.
    carried: bool,
    /// What was released beforehand.
    released: &'a [String],
    freedom: usize,
    redundancy: usize,
    repairs: Option<Links<'a>>,
    releases: JsonReleases<'a>,
}

/// Links that would hold the body.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "links")]
pub(super) struct Links<'a> {
    /// empty where none were found
    links: Vec<Link<'a>>,
    /// with the links; null where none were found
    rank: Option<usize>,
    /// with the links; null where none were found
    exact_rank: Option<usize>,
    /// with the links, without unit; null where none were found
    smallest_singular_value: Option<f64>,
    /// how many places for links were tried, each with its best direction; null where none were found
    candidates: Option<usize>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "link")]
struct Link<'a> {
    name: &'a str,
    /// name of the body point; null where it is none of the scene's points
    point: Option<&'a str>,
    /// position of the end on the body
    at: [f64; 3],
    /// position of the end on the ground
    ground: [f64; 3],
    /// with this link and those before it; without unit
    #[schemars(with = "f64")]
    smallest_singular_value: Option<f64>,
    /// motions left with this link and those before it
    freedom: usize,
    words: String,
}

/// What the body can do without.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "releases")]
pub(super) struct JsonReleases<'a> {
    alone: Vec<JsonRelease<'a>>,
    /// how many stand in `alone`
    count: usize,
    together: Vec<&'a str>,
    supports: Vec<&'a str>,
}

#[derive(Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(rename = "release")]
struct JsonRelease<'a> {
    reaction: &'a str,
    /// what is left, about the reference point and by the length of the whole scene; without unit
    #[schemars(with = "f64")]
    smallest_singular_value: Option<f64>,
}

/// The repairs as a JSON object, in the scene's units.
///
/// # Errors
/// Only for a bug of ours: every field has a JSON form.
pub fn json(repairs: &Repairs) -> serde_json::Result<String> {
    let study = repairs.study;
    let (model, diagnosis) = (study.model(), study.diagnosis());
    pretty(&JsonRepairs {
        source: study.name(),
        title: &model.title,
        held: diagnosis.is_held(),
        carried: study.uncarried().is_empty(),
        released: repairs.released,
        freedom: diagnosis.counts.freedom,
        redundancy: diagnosis.counts.redundancy,
        repairs: links(model, repairs.repair),
        releases: released(model, study.releases()),
    })
}

/// `None` of a body that is held.
pub(super) fn links<'a>(model: &Model, repair: &'a Repair) -> Option<Links<'a>> {
    let none_found = || Links {
        links: Vec::new(),
        rank: None,
        exact_rank: None,
        smallest_singular_value: None,
        candidates: None,
    };
    match repair {
        Repair::NotNeeded => None,
        Repair::NoneFound => Some(none_found()),
        Repair::Links(mending) => Some(found(model, mending)),
    }
}

fn found<'a>(model: &Model, mending: &'a Mending) -> Links<'a> {
    let from_origin =
        |at: [f64; 3]| std::array::from_fn(|axis| model.datum.from_origin(axis, at[axis]));
    let link = |link: &'a crate::repair::AddedLink| Link {
        name: &link.name,
        point: match &link.at {
            Place::Named(name) => Some(name),
            Place::At(_) => None,
        },
        at: from_origin(mending.scene.position(&link.at).unwrap_or_default()),
        ground: from_origin(link.ground.components()),
        smallest_singular_value: tidy(link.smallest),
        freedom: link.freedom,
        words: wording::added_link(model, link).to_string(),
    };
    Links {
        links: mending.links.iter().map(link).collect(),
        rank: Some(mending.counts.rank),
        exact_rank: Some(mending.exact.rank),
        smallest_singular_value: tidy(mending.smallest()),
        candidates: Some(mending.tried),
    }
}

pub(super) fn released<'a>(model: &'a Model, releases: &Releases) -> JsonReleases<'a> {
    let reaction = |index: &ReactionIndex| model.reactions[*index].name.as_str();
    JsonReleases {
        alone: releases
            .alone
            .iter()
            .map(|release| JsonRelease {
                reaction: reaction(&release.reaction),
                smallest_singular_value: tidy(release.smallest),
            })
            .collect(),
        count: releases.alone.len(),
        together: releases.together.iter().map(reaction).collect(),
        supports: releases
            .supports
            .iter()
            .map(|support| model.supports[*support].name.as_str())
            .collect(),
    }
}
