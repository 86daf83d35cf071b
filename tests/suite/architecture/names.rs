//! One name, one type: whoever finds a name in one file may take it for the same in another.

use std::collections::BTreeMap;

use super::sources;

/// The name of the type that a line defines; associated types of a trait are the trait's.
fn defined(line: &str) -> Option<&str> {
    let line = line.split_once("pub(").map_or(line, |(_, rest)| {
        rest.split_once(") ").map_or(rest, |(_, rest)| rest)
    });
    let line = line.trim_start().trim_start_matches("pub ");
    let kinds = ["struct ", "enum ", "trait ", "type "];
    let rest = kinds.iter().find_map(|kind| line.strip_prefix(kind))?;
    let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_');
    Some(&rest[..end.unwrap_or(rest.len())])
}

#[test]
fn the_name_of_a_type_is_found_behind_its_visibility() {
    assert_eq!(
        defined("pub(in crate::statics) struct Line<T> {"),
        Some("Line")
    );
    assert_eq!(defined("pub enum Line {"), Some("Line"));
    assert_eq!(defined("type Line = usize;"), Some("Line"));
    assert_eq!(defined("pub fn line(x: f64) {"), None);
}

#[test]
fn no_two_types_have_one_name() {
    let mut homes: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (path, text) in sources() {
        // Types inside an `impl` or a function are indented, and its own.
        let lines = text.lines().filter(|line| !line.starts_with(' '));
        for name in lines.filter_map(defined) {
            let home = path.display().to_string();
            homes.entry(name.to_owned()).or_default().push(home);
        }
    }
    assert!(homes.len() > 600, "the types were found");
    let shared = homes.iter().filter(|(_, homes)| homes.len() > 1);
    let shared: Vec<String> = shared
        .map(|(name, homes)| format!("{name}: {}", homes.join(", ")))
        .collect();
    assert!(
        shared.is_empty(),
        "defined more than once:\n{}",
        shared.join("\n")
    );
}
