//! The report as text: the four numbers first, then verdict, reason, motions, reactions, ranks.

use std::fmt::Write;

use anstyle::{AnsiColor, Style};

use super::analysis_text;
use super::layout::{aligned, hanging, wrapped};
use super::{Report, circuits, clean_singular_values};
use crate::scene::Space;
use crate::statics::{CaseAnswer, PlacedSupport, Reaction, ReactionKind};
use crate::wording::{self, Phrase, phrase};

/// Colours of a report; all plain by default.
#[derive(Debug, Clone, Copy, Default)]
pub struct Styles {
    title: Style,
    number: Style,
    held: Style,
    free: Style,
    section: Style,
    quiet: Style,
}

impl Styles {
    /// For terminals that show colours.
    pub fn coloured() -> Self {
        Self {
            title: Style::new().bold(),
            number: Style::new().bold(),
            held: AnsiColor::Green.on_default().bold(),
            free: AnsiColor::Yellow.on_default().bold(),
            section: Style::new().bold(),
            quiet: Style::new().dimmed(),
        }
    }
}

/// Load cases that stand side by side in one table.
const CASES_ABREAST: usize = 3;

/// The whole report, with a line end behind its last line.
pub fn text(report: &Report, styles: &Styles) -> String {
    let parts = [
        title(report, styles),
        numbers(report, styles),
        verdict(report, styles),
        motions(report, styles),
        axes(report, styles),
        reactions(report, styles),
        equilibrium(report, styles),
        in_depth(styles, circuits::groups(report)),
        in_depth(styles, circuits::combinations(report)),
        analysis_text::one_way(report, styles),
        analysis_text::heat(report, styles),
        analysis_text::nearness(report, styles),
        analysis_text::repairs(report, styles),
        analysis_text::releases(report, styles),
        ranks(report, styles),
        styled(styles.quiet, &wrapped(&wording::CAUTION, "")),
    ];
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join("\n")
}

fn styled(style: Style, text: &str) -> String {
    // The line end stays outside, so that a style never reaches into the next line.
    match text.strip_suffix('\n') {
        Some(line) => format!("{style}{line}{style:#}\n"),
        None => format!("{style}{text}{style:#}"),
    }
}

pub(super) fn section(styles: &Styles, heading: &str, body: &str) -> String {
    format!("{}\n{body}", styled(styles.section, heading))
}

/// A section of heading and body, where there is one.
fn in_depth(styles: &Styles, part: Option<(String, String)>) -> String {
    part.map_or_else(String::new, |(heading, body)| {
        section(styles, &heading, &body)
    })
}

fn title(report: &Report, styles: &Styles) -> String {
    let units = report.model().units;
    let title = match report.model().title.trim() {
        "" => report.study.name(),
        title => title,
    };
    let below = format!(
        "{}; lengths in {}, forces in {}",
        match report.model().space {
            Space::Spatial => "In space",
            Space::Planar => "In the plane",
        },
        units.length.symbol(),
        units.force.symbol()
    );
    format!(
        "{}\n{}\n",
        styled(styles.title, title),
        styled(styles.quiet, &below)
    )
}

fn numbers(report: &Report, styles: &Styles) -> String {
    let numbers = wording::big_numbers(report.model().space, report.diagnosis());
    let rows: Vec<Vec<String>> = numbers
        .iter()
        .map(|number| {
            let name = number.name.to_owned();
            vec![
                name,
                number.symbol.to_string(),
                format!("= {}", number.value),
            ]
        })
        .collect();
    let lines = aligned(&rows, "  ");
    lines
        .iter()
        .map(|line| format!("{}\n", styled(styles.number, line)))
        .collect()
}

fn verdict(report: &Report, styles: &Styles) -> String {
    let (model, diagnosis) = (report.model(), report.diagnosis());
    let style = if diagnosis.is_held() && report.uncarried().is_empty() {
        styles.held
    } else {
        styles.free
    };
    let mut part = styled(style, &wrapped(&report.headline(), ""));
    part += &analysis_text::warnings(report);
    part += &wrapped(&wording::reason(model, diagnosis), "");
    for remark in wording::remarks(model, diagnosis) {
        part += &wrapped(&remark, "");
    }
    part
}

fn motions(report: &Report, styles: &Styles) -> String {
    let motions = &report.diagnosis().free_motions;
    let heading = match motions.len() {
        0 => return String::new(),
        1 => "Free motion",
        _ => "Free motions, alone and together",
    };
    let body: String = motions
        .iter()
        .enumerate()
        .zip(&report.study.mobilities().motions)
        .map(|((index, motion), mobility)| {
            let sentence = wording::motion(report.model(), motion);
            let how_far = wording::mobility(report.model(), motion, mobility);
            hanging(&sentence, &format!("  {}. ", index + 1), "     ") + &wrapped(&how_far, "     ")
        })
        .collect();
    let together = wording::together(report.model(), report.study.mobilities());
    let together: String = together.iter().map(|said| wrapped(said, "  ")).collect();
    section(styles, heading, &(body + &together))
}

fn axes(report: &Report, styles: &Styles) -> String {
    let axes = &report.diagnosis().shared_axes;
    let planar = report.model().space == Space::Planar;
    let heading = match (axes.len(), planar) {
        (0, _) => return String::new(),
        (1, false) => "Shared axis",
        (_, false) => "Shared axes",
        (1, true) => "Shared point",
        (_, true) => "Shared points",
    };
    let body: String = axes
        .iter()
        .map(|axis| wrapped(&wording::shared_axis(report.model(), axis), "  "))
        .collect();
    section(styles, heading, &body)
}

fn reactions(report: &Report, styles: &Styles) -> String {
    if report.model().reactions.is_empty() {
        return String::new();
    }
    let loaded: Vec<&CaseAnswer> = report.cases().iter().filter(|case| case.loaded).collect();
    let tables: Vec<String> = if loaded.is_empty() {
        vec![table(report, styles, &[])]
    } else {
        let abreast = loaded.chunks(CASES_ABREAST);
        abreast.map(|cases| table(report, styles, cases)).collect()
    };
    tables.join("\n")
}

fn table(report: &Report, styles: &Styles, cases: &[&CaseAnswer]) -> String {
    let mut rows = vec![vec![
        "Reactions".to_owned(),
        "kind".to_owned(),
        "along".to_owned(),
    ]];
    rows[0].extend(cases.iter().map(|case| case.name.clone()));
    for (index, reaction) in report.model().reactions.iter().enumerate() {
        rows.push(row(report, cases, index, reaction));
    }
    let lines = aligned(&rows, "");
    let mut part = format!("{}\n", styled(styles.section, &lines[0]));
    for support in &report.model().supports {
        let _ = writeln!(part, "  {}", styled(styles.quiet, &place(report, support)));
        for line in &lines[1..][support.reactions.clone()] {
            let _ = writeln!(part, "{line}");
        }
    }
    part
}

fn place(report: &Report, support: &PlacedSupport) -> String {
    format!(
        "{}, {} at {}",
        support.name,
        wording::support_kind(&support.kind),
        wording::coordinates(report.model(), &support.point)
    )
}

fn row(report: &Report, cases: &[&CaseAnswer], index: usize, reaction: &Reaction) -> Vec<String> {
    let kind = match reaction.kind {
        ReactionKind::Force => "force",
        ReactionKind::Couple => "couple",
    };
    let mut cells = vec![
        format!("    {}", reaction.name),
        kind.to_owned(),
        wording::signed_direction(report.model(), &reaction.direction).to_string(),
    ];
    let values = cases.iter();
    cells.extend(values.map(|case| cell(report, case, index, reaction).to_string()));
    cells
}

pub(super) fn cell(
    report: &Report,
    case: &CaseAnswer,
    index: usize,
    reaction: &Reaction,
) -> Phrase {
    if !case.is_balanced() {
        return "no equilibrium".into();
    }
    let value = case.values[index];
    let Some(known) = value else {
        return "indeterminate".into();
    };
    let text = wording::acting(report.model(), reaction, known);
    match wording::one_way_note(reaction, value) {
        Some(note) => phrase!(text, " (", note, ")"),
        None => text,
    }
}

fn equilibrium(report: &Report, styles: &Styles) -> String {
    let cases = report.cases();
    let body: String = cases
        .iter()
        .map(|case| {
            let index = report.model().case_index(&case.name);
            let start = index.and_then(|index| report.study.accelerations()[index].as_ref());
            let sentence =
                wording::balance_and_start(report.model(), report.diagnosis(), case, start);
            if report.model().cases.len() == 1 {
                wrapped(&sentence, "  ")
            } else {
                hanging(&format!("{}: {sentence}", case.name), "  ", "    ")
            }
        })
        .collect();
    let accelerations = report.study.accelerations();
    let assumed = wording::start_assumptions(report.model(), accelerations, report.case_indices());
    let assumed = assumed.map_or_else(String::new, |said| wrapped(&said, "  "));
    section(styles, "Equilibrium", &(body + &assumed))
}

fn ranks(report: &Report, styles: &Styles) -> String {
    let diagnosis = report.diagnosis();
    let values: Vec<String> = clean_singular_values(diagnosis)
        .iter()
        .map(|value| wording::number(*value).to_string())
        .collect();
    let written = wording::exactly_of(&diagnosis.exact);
    let body = wrapped(&format!("singular values {}", values.join(", ")), "  ")
        + &wrapped(
            &format!("exact rank {}, {written}", diagnosis.exact.rank),
            "  ",
        );
    section(styles, "Rank", &body)
}
