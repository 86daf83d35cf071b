//! The parts of the text report that go into depth: nearness, one-way supports, acceleration, heat, repairs.

use super::Report;
use super::layout::{hanging, wrapped};
use super::repairs;
use super::text::{Styles, section};
use crate::words;

/// What must stand beside the verdict: placement tolerance and rounded decimals.
pub(super) fn warnings(report: &Report) -> String {
    let (model, depth) = (report.model, report.depth);
    let placement = depth
        .nearness
        .as_ref()
        .and_then(|nearness| words::placement(model, nearness));
    let rounding = depth
        .rounding
        .as_ref()
        .map(|rounding| words::rounding(model, rounding));
    [placement, rounding]
        .into_iter()
        .flatten()
        .map(|said| wrapped(&said, ""))
        .collect()
}

/// Pushes and pulls, where some support acts one way only.
pub(super) fn one_way(report: &Report, styles: &Styles) -> String {
    let (model, Some(found)) = (report.model, &report.depth.one_way) else {
        return String::new();
    };
    let cases = report.case_indices();
    let mut body: String = cases
        .filter(|index| !model.cases[*index].loads.is_empty())
        .map(|index| {
            let sentence = words::one_way(model, &found.cases[index]);
            if model.cases.len() == 1 {
                wrapped(&sentence, "  ")
            } else {
                hanging(
                    &format!("{}: {sentence}", model.cases[index].name),
                    "  ",
                    "    ",
                )
            }
        })
        .collect();
    body += &wrapped(&words::every_load(model, found), "  ");
    section(styles, "Pushes and pulls", &body)
}

/// Expansion, where there is redundancy for it to meet.
pub(super) fn heat(report: &Report, styles: &Styles) -> String {
    if report.diagnosis.counts.redundancy == 0 {
        return String::new();
    }
    section(
        styles,
        "Heat",
        &wrapped(&words::heat(report.model, &report.depth.heat), "  "),
    )
}

/// How near a held body is to improper.
pub(super) fn nearness(report: &Report, styles: &Styles) -> String {
    let Some(nearness) = report
        .depth
        .nearness
        .as_ref()
        .filter(|_| report.diagnosis.is_held())
    else {
        return String::new();
    };
    let said = words::nearness(report.model, nearness);
    let body: String = said
        .iter()
        .map(|sentence| hanging(sentence, "  ", "    "))
        .collect();
    section(styles, words::NEARNESS, &body)
}

/// Links that would hold the body.
pub(super) fn repairs(report: &Report, styles: &Styles) -> String {
    let links = report
        .mending
        .map(|mending| repairs::links_text(report.model, mending));
    links.map_or_else(String::new, |body| section(styles, repairs::LINKS, &body))
}

/// Reactions and supports to do without, where there are any.
pub(super) fn releases(report: &Report, styles: &Styles) -> String {
    match repairs::releases_text(report.model, &report.depth.releases) {
        body if body.is_empty() => body,
        body => section(styles, repairs::RELEASES, &body),
    }
}
