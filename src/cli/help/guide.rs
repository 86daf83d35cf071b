//! The reference of the scene format, `scenes/README.md`, as plain text: whole, or what it says of one kind or section.

use crate::document::layout::{hanging, wrapped};

/// The page that the program carries with it.
const PAGE: &str = include_str!("../../../scenes/README.md");

/// A part of the page.
#[derive(Debug, PartialEq)]
enum GuideBlock {
    /// Level and text.
    Heading(usize, String),
    Paragraph(String),
    /// Lines of an example.
    Example(Vec<String>),
    Table(GuideTable),
}

/// Cells by column, under their headers.
#[derive(Debug, PartialEq)]
struct GuideTable {
    headers: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// The reference, in parts.
pub(crate) struct Guide {
    blocks: Vec<GuideBlock>,
}

impl Guide {
    /// Reads the page.
    pub(crate) fn new() -> Self {
        let mut blocks = Vec::new();
        let mut lines = PAGE.lines().peekable();
        while let Some(line) = lines.next() {
            let mut following = |belongs: fn(&str) -> bool| {
                let mut taken = vec![line.to_owned()];
                while let Some(next) = lines.next_if(|next| belongs(next)) {
                    taken.push(next.to_owned());
                }
                taken
            };
            if line.starts_with("```") {
                let example = following(|next| !next.starts_with("```"));
                lines.next();
                blocks.push(GuideBlock::Example(example[1..].to_vec()));
            } else if line.starts_with('|') {
                blocks.push(GuideBlock::Table(table(&following(|next| {
                    next.starts_with('|')
                }))));
            } else if let Some(text) = line.strip_prefix('#') {
                let level = 1 + text.len() - text.trim_start_matches('#').len();
                let text = text.trim_start_matches('#').trim().to_owned();
                blocks.push(GuideBlock::Heading(level, text));
            } else if !line.is_empty() {
                let text = following(|next| !next.is_empty() && !next.starts_with(['|', '`', '#']));
                blocks.push(GuideBlock::Paragraph(text.join(" ")));
            }
        }
        Self { blocks }
    }

    /// The whole reference.
    pub(crate) fn whole(&self) -> String {
        plain(&self.blocks)
    }

    /// What is said of a kind, a section or a field of the scene, upper and lower case alike.
    pub(crate) fn about(&self, topic: &str) -> Option<String> {
        self.kind(topic)
            .or_else(|| self.section(topic))
            .or_else(|| self.field(topic))
    }

    /// Names of the kinds, of the sections, and of the fields of a scene.
    pub(crate) fn topics(&self) -> [Vec<String>; 3] {
        let kinds = self
            .tables()
            .filter(|table| KINDS.contains(&table.headers[0].as_str()));
        let kinds = kinds.flat_map(|table| table.rows.iter().map(|row| bare(&row[0])));
        let kinds = kinds.filter(|name| !name.is_empty()).collect();
        let sections = self.blocks.iter().filter_map(section_name).collect();
        let fields = self.tables().find(|table| table.headers[0] == "field");
        let fields = fields.map(|table| table.rows.iter().map(|row| bare(&row[0])).collect());
        [kinds, sections, fields.unwrap_or_default()]
    }

    fn tables(&self) -> impl Iterator<Item = &GuideTable> {
        self.blocks.iter().filter_map(|block| match block {
            GuideBlock::Table(table) => Some(table),
            _ => None,
        })
    }

    /// The rows of a kind, with its own fields and an example.
    fn kind(&self, name: &str) -> Option<String> {
        let tables = self
            .tables()
            .filter(|table| KINDS.contains(&table.headers[0].as_str()));
        let (table, start) = tables
            .filter_map(|table| {
                let is_it = |row: &Vec<String>| bare(&row[0]).eq_ignore_ascii_case(name);
                Some((table, table.rows.iter().position(is_it)?))
            })
            .next()?;
        let family = &table.headers[0];
        let name = bare(&table.rows[start][0]);
        if family == "kind" {
            return Some(self.support(&name, &table.rows[start]));
        }
        let more = table.rows[start + 1..].iter();
        let more = more.take_while(|row| row[0].is_empty());
        let fields: Vec<Vec<String>> = std::iter::once(&table.rows[start])
            .chain(more)
            .map(|row| row[1..].to_vec())
            .collect();
        let headers = &table.headers[1..];
        let text: String = fields.iter().map(|row| entry(headers, row)).collect();
        let example = example(&name, &[], &fields);
        let article = if family == "action" {
            "an imposed"
        } else {
            "a"
        };
        Some(format!(
            "{name}, {article} {family}\n\n{text}\n  {example}\n"
        ))
    }

    fn support(&self, name: &str, row: &[String]) -> String {
        let planar = row[1] == "plane";
        let place = match row[1].as_str() {
            "space" => ", in space",
            "plane" => ", in the plane",
            _ => "",
        };
        let common = self.blocks.iter().find_map(|block| match block {
            GuideBlock::Paragraph(text) => text.starts_with("Every support has").then_some(text),
            _ => None,
        });
        let about = [(3, "What it stops"), (4, "Reactions")];
        let mut text = format!("{name}, a support{place}\n\n");
        for (column, what) in about {
            text += &hanging(&format!("{what}: {}", row[column]), "  ", "    ");
        }
        text += "\n";
        text += &wrapped(&common.map_or("", String::as_str), "  ");
        let own = self.tables().find(|table| table.headers[0] == "own field");
        let mut fields = Vec::new();
        if let Some(own) = own {
            for field in row[2].split(", ").filter(|field| field.starts_with('`')) {
                let described = own.rows.iter().find(|row| row[0] == field);
                fields.extend(described.map(|row| in_space(row, planar)));
            }
            text += "\n";
            text += &fields
                .iter()
                .map(|row| entry(&own.headers, row))
                .collect::<String>();
        }
        let always = ["name: \"A\"".to_owned(), "at: \"A\"".to_owned()];
        format!(
            "{}\n  {}\n",
            text.trim_end_matches('\n').to_owned() + "\n",
            example(name, &always, &fields)
        )
    }

    /// A section by a word of its heading, with the sections within it.
    fn section(&self, topic: &str) -> Option<String> {
        let is_it = |block: &GuideBlock| {
            section_name(block).is_some_and(|name| name.eq_ignore_ascii_case(topic))
        };
        let start = self.blocks.iter().position(is_it)?;
        let GuideBlock::Heading(level, _) = &self.blocks[start] else {
            return None;
        };
        let ends =
            |block: &GuideBlock| matches!(block, GuideBlock::Heading(other, _) if other <= level);
        let rest = &self.blocks[start + 1..];
        let end = rest
            .iter()
            .position(ends)
            .map_or(self.blocks.len(), |end| start + 1 + end);
        Some(plain(&self.blocks[start..end]))
    }

    /// A field of the scene.
    fn field(&self, topic: &str) -> Option<String> {
        let table = self.tables().find(|table| table.headers[0] == "field")?;
        let row = table
            .rows
            .iter()
            .find(|row| bare(&row[0]).eq_ignore_ascii_case(topic))?;
        Some(format!(
            "{}, a field of the scene\n\n{}",
            bare(&row[0]),
            entry(&table.headers, row)
        ))
    }
}

/// First headers of the tables that list kinds.
const KINDS: [&str; 4] = ["shape", "kind", "load", "action"];

/// The word by which a section is asked for: `supports` for "The supports".
fn section_name(block: &GuideBlock) -> Option<String> {
    let GuideBlock::Heading(level, text) = block else {
        return None;
    };
    let words = text
        .split_whitespace()
        .filter(|word| !matches!(*word, "The" | "the"));
    let name = match text.as_str() {
        "How things are written" => "values".to_owned(),
        "The words of other books" => "words".to_owned(),
        _ => words.collect::<Vec<_>>().join("-").to_lowercase(),
    };
    (*level > 1).then_some(name)
}

/// A row of a field, its example with as many numbers as the space has axes.
fn in_space(row: &[String], planar: bool) -> Vec<String> {
    let cell = |cell: &String| match planar {
        true => cell.replace("(1, 0, 0)", "(1, 0)"),
        false => cell.clone(),
    };
    row.iter().map(cell).collect()
}

/// An item with the fields that must be given, and the first of those that stand in for each other.
fn example(name: &str, always: &[String], fields: &[Vec<String>]) -> String {
    let needed = |row: &&Vec<String>| {
        let default = row[row.len() - 2].as_str();
        default.starts_with("required")
    };
    let mut parts = always.to_vec();
    parts.extend(
        fields
            .iter()
            .filter(needed)
            .filter_map(|row| row.last())
            .map(|part| bare(part)),
    );
    if parts.is_empty() {
        parts.extend(
            fields
                .first()
                .and_then(|row| row.last())
                .map(|part| bare(part)),
        );
    }
    format!("{name}({})", parts.join(", "))
}

fn table(lines: &[String]) -> GuideTable {
    let cells = |line: &String| -> Vec<String> {
        let inside = line.trim().trim_start_matches('|').trim_end_matches('|');
        inside
            .split('|')
            .map(|cell| cell.trim().to_owned())
            .collect()
    };
    GuideTable {
        headers: cells(&lines[0]),
        rows: lines.iter().skip(2).map(cells).collect(),
    }
}

fn plain(blocks: &[GuideBlock]) -> String {
    let texts: Vec<String> = blocks.iter().map(block_text).collect();
    texts.join("\n")
}

fn block_text(block: &GuideBlock) -> String {
    match block {
        GuideBlock::Heading(level, text) => {
            let mark = if *level <= 2 { "=" } else { "-" };
            format!("{text}\n{}\n", mark.repeat(text.chars().count()))
        }
        GuideBlock::Paragraph(text) => wrapped(text, ""),
        GuideBlock::Example(lines) => lines.iter().map(|line| format!("    {line}\n")).collect(),
        GuideBlock::Table(table) => table_text(table),
    }
}

/// A row below the other: tables as wide as these fit on no terminal.
fn table_text(table: &GuideTable) -> String {
    let mut text = String::new();
    for row in &table.rows {
        // The items of a kind with several fields follow in rows without its name.
        let grouped = table.rows.iter().any(|row| row[0].is_empty());
        if !grouped {
            text += &entry(&table.headers, row);
            continue;
        }
        if !row[0].is_empty() {
            let gap = if text.is_empty() { "" } else { "\n" };
            text += &format!("{gap}  {}\n", bare(&row[0]));
        }
        text += &entry_behind(&table.headers[1..], &row[1..], "    ");
    }
    text
}

/// A row: its first cell, then the others with their headers.
fn entry(headers: &[String], row: &[String]) -> String {
    entry_behind(headers, row, "  ")
}

fn entry_behind(headers: &[String], row: &[String], indent: &str) -> String {
    // What is the same in space and in the plane is said once.
    let is_same = matches!(row, [_, one, other] if one == other);
    let row = if is_same { &row[..2] } else { row };
    let said = headers
        .iter()
        .zip(row)
        .skip(1)
        .filter_map(|(header, cell)| {
            let speaks = header.starts_with("meaning") || header == "how" || header == "words";
            match cell.as_str() {
                "" | "–" => None,
                cell if cell.starts_with("required") => Some(cell.to_owned()),
                cell if speaks || is_same => Some(cell.to_owned()),
                cell => Some(format!("{header}: {cell}")),
            }
        });
    let said: Vec<String> = said.collect();
    let head = wrapped(&bare(&row[0]), indent);
    let below = format!("{indent}    ");
    format!("{head}{}", wrapped(&said.join("; "), &below))
}

/// A cell without its backquotes.
fn bare(cell: &str) -> String {
    cell.replace('`', "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;

    /// A reference that lists a kind must be able to show it: the example of each is a scene that can be read.
    #[test]
    fn the_example_of_every_kind_can_be_read() {
        let guide = Guide::new();
        let [kinds, _, _] = guide.topics();
        assert_eq!(kinds.len(), 36);
        for kind in kinds {
            let text = guide.about(&kind).unwrap();
            let example = text.lines().last().unwrap().trim();
            let planar = text.lines().next().unwrap().contains("in the plane");
            let (space, points, bar) = match planar {
                true => (
                    "planar",
                    "\"A\": (0, 0), \"B\": (1, 1), \"C\": (2, 1)",
                    "[\"A\", \"B\"]",
                ),
                false => (
                    "spatial",
                    "\"A\": (0, 0, 0), \"B\": (1, 1, 0), \"C\": (2, 1, 0)",
                    "[\"A\", \"B\"]",
                ),
            };
            let head = format!("(format: 1, space: {space}, points: {{{points}}},");
            let body = format!("body: [BentBar(path: {bar}, diameter: 0.1)],");
            let scene = match text.lines().next().unwrap() {
                first if first.ends_with("a shape") => format!("{head} body: [{example}])"),
                first if first.ends_with("a load") => format!("{head} {body} loads: [{example}])"),
                first if first.ends_with("an imposed action") => format!(
                    "{head} {body} supports: [Link(name: \"B\", at: \"B\", ground: \"A\")], imposed: [{example}])"
                ),
                _ => format!("{head} {body} supports: [{example}])"),
            };
            read_str("example", &scene).unwrap_or_else(|error| panic!("{error}\n{scene}"));
        }
    }

    #[test]
    fn nothing_of_the_page_is_left_out() {
        let whole = Guide::new().whole();
        let words = |text: &str| -> Vec<String> {
            let words = text.split(|c: char| !c.is_alphanumeric());
            words
                .filter(|word| !word.is_empty() && *word != "ron")
                .map(str::to_owned)
                .collect()
        };
        let shown = words(&whole);
        // First headers go, since what stands below them is the head of an entry.
        let heads = [
            "shape", "kind", "load", "field", "called", "what", "own", "a", "meaning", "action",
        ];
        let missing: Vec<String> = words(PAGE)
            .into_iter()
            .filter(|word| !shown.contains(word) && !heads.contains(&word.as_str()))
            .collect();
        assert_eq!(missing, [""; 0]);
    }

    #[test]
    fn lines_fit_on_a_terminal() {
        let guide = Guide::new();
        let long = |line: &&str| {
            line.chars().count() > 80 && !line.contains(": [") && !line.contains("Force(")
        };
        assert_eq!(
            guide.whole().lines().filter(long).collect::<Vec<_>>(),
            [""; 0]
        );
    }
}
