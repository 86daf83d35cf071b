//! The parts of the text report that go into depth: nearness, one-way supports, acceleration, heat, repairs.

use super::Report;
use super::layout::{hanging, wrapped};
use super::repairs;
use super::text::{Styles, section};
use crate::wording;

/// What must stand beside the verdict: placement tolerance and rounded decimals.
pub(super) fn warnings(report: &Report) -> String {
    let (model, study) = (report.model(), report.study);
    let nearness = study.nearness();
    let placement = nearness.and_then(|nearness| wording::placement(model, nearness));
    let rounding = study.rounding();
    let rounding = rounding.map(|rounding| wording::rounding(model, rounding));
    [placement, rounding]
        .into_iter()
        .flatten()
        .map(|said| wrapped(&said, ""))
        .collect()
}

/// Pushes and pulls, where some support acts one way only.
pub(super) fn one_way(report: &Report, styles: &Styles) -> String {
    let (model, Some(found)) = (report.model(), report.study.one_way()) else {
        return String::new();
    };
    let cases = report.case_indices();
    let mut body: String = cases
        .filter(|index| !model.cases[*index].loads.is_empty())
        .map(|index| {
            let sentence = wording::one_way(model, &found.cases[index]);
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
    body += &wrapped(&wording::every_load(model, found), "  ");
    section(styles, "One-way supports", &body)
}

/// Expansion, where there is redundancy for it to meet.
pub(super) fn heat(report: &Report, styles: &Styles) -> String {
    if report.diagnosis().counts.redundancy == 0 {
        return String::new();
    }
    section(
        styles,
        "Temperature",
        &wrapped(&wording::heat(report.model(), report.study.heat()), "  "),
    )
}

/// How near a held body is to improper.
pub(super) fn nearness(report: &Report, styles: &Styles) -> String {
    let Some(nearness) = report
        .study
        .nearness()
        .filter(|_| report.diagnosis().is_held())
    else {
        return String::new();
    };
    let said = wording::nearness(report.model(), nearness);
    let body: String = said
        .iter()
        .map(|sentence| hanging(sentence, "  ", "    "))
        .collect();
    section(styles, wording::NEARNESS, &body)
}

/// Links that would hold the body.
pub(super) fn repairs(report: &Report, styles: &Styles) -> String {
    let links = report.study.repair().links();
    let links = links.map(|mending| repairs::links_text(report.model(), mending));
    links.map_or_else(String::new, |body| section(styles, repairs::LINKS, &body))
}

/// Reactions and supports to do without, where there are any.
pub(super) fn releases(report: &Report, styles: &Styles) -> String {
    match repairs::releases_text(report.study) {
        body if body.is_empty() => body,
        body => section(styles, repairs::RELEASES, &body),
    }
}
