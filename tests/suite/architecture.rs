//! The plan of the house, read off the sources: who may use whom, and whether the map shows what is there.

mod circles;
mod names;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// What each module of `src` may use, by the table of the contributors' guide.
type Plan = BTreeMap<String, Vec<String>>;

fn guide() -> String {
    fs::read_to_string(root().join("DEVELOPERS.md")).expect("the contributors' guide")
}

/// The rows `| `src/module/` | what it owns | what it may use |`.
fn plan_of(guide: &str) -> Plan {
    let row = |line: &str| {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [place, _, uses] = cells.as_slice() else {
            return None;
        };
        let place = place.strip_prefix("`src/")?.trim_end_matches(['`', '/']);
        let uses = uses.split(", ").filter(|name| !name.is_empty());
        Some((
            place.trim_end_matches(".rs").to_owned(),
            uses.map(str::to_owned).collect(),
        ))
    };
    guide.lines().filter_map(row).collect()
}

/// The crates that only the viewer sees.
const VIEWER_CRATES: [&str; 4] = ["bevy", "bevy_egui", "bevy_panorbit_camera", "notify"];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a readable folder") {
        let path = entry.expect("a readable entry").path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

fn sources() -> Vec<(PathBuf, String)> {
    let mut files = Vec::new();
    rust_files(&root().join("src"), &mut files);
    files
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).expect("UTF-8 source");
            let inside = path
                .strip_prefix(root().join("src"))
                .expect("a file of src")
                .to_owned();
            (inside, text)
        })
        .collect()
}

/// The module of `src` that a file belongs to: `statics` for `statics/model.rs`, `theme` for `theme.rs`.
fn module_of(path: &Path) -> String {
    let first = path.components().next().expect("a path");
    first
        .as_os_str()
        .to_string_lossy()
        .trim_end_matches(".rs")
        .to_owned()
}

/// Code without comments, so that links in docs do not count.
fn code(text: &str) -> String {
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n")
}

/// Names that follow a prefix such as `crate::`, also those in a list `crate::{a::b, c}`.
fn names_after(code: &str, prefix: &str) -> Vec<String> {
    let mut names = Vec::new();
    for (start, _) in code.match_indices(prefix) {
        let preceded = code[..start]
            .chars()
            .next_back()
            .is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':');
        if preceded {
            continue;
        }
        let rest = &code[start + prefix.len()..];
        match rest.strip_prefix('{') {
            Some(list) => names.extend(top_level_names(list)),
            None => names.push(leading_name(rest)),
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

fn leading_name(text: &str) -> String {
    text.chars()
        .take_while(|c| c.is_alphanumeric() || *c == '_')
        .collect()
}

/// First name of each item of a `use` list whose opening brace has been read.
fn top_level_names(list: &str) -> Vec<String> {
    let (mut depth, mut item, mut names) = (0, String::new(), Vec::new());
    for c in list.chars() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => names.push(leading_name(std::mem::take(&mut item).trim_start())),
            _ => {}
        }
        if depth == 0 && c != ',' {
            item.push(c);
        }
    }
    names.push(leading_name(item.trim_start()));
    names
}

/// What breaks the arrows in one file.
fn broken_arrows(plan: &Plan, module: &str, text: &str) -> Vec<String> {
    let Some(allowed) = plan.get(module) else {
        return vec![format!("module `{module}` is not on the map")];
    };
    let code = code(text);
    let used = ["crate::", "sixhold::"]
        .iter()
        .flat_map(|prefix| names_after(&code, prefix));
    used.filter(|name| name != module && plan.contains_key(name) && !allowed.contains(name))
        .map(|name| format!("`{module}` must not use `{name}`"))
        .collect()
}

#[test]
fn modules_use_what_the_map_allows_them() {
    let plan = plan_of(&guide());
    let broken: Vec<String> = sources()
        .iter()
        .filter(|(path, _)| path != Path::new("lib.rs"))
        .flat_map(|(path, text)| {
            broken_arrows(&plan, &module_of(path), text)
                .into_iter()
                .map(move |what| format!("{}: {what}", path.display()))
        })
        .collect();
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

/// Modules that a module leads to, itself included where it does so in a circle.
fn reached(plan: &Plan, from: &str) -> Vec<String> {
    let mut found: Vec<String> = plan[from].clone();
    let mut next = 0;
    while let Some(module) = found.get(next) {
        let further = plan.get(module).into_iter().flatten().cloned();
        let new: Vec<String> = further.filter(|name| !found.contains(name)).collect();
        found.extend(new);
        next += 1;
    }
    found
}

#[test]
fn the_map_has_no_circles_and_allows_nothing_that_is_not_used() {
    let plan = plan_of(&guide());
    let sources = sources();
    for (module, allowed) in &plan {
        assert!(
            !reached(&plan, module).contains(module),
            "{module} leads back to itself"
        );
        for name in allowed {
            assert!(
                plan.contains_key(name),
                "{name}, which {module} may use, is not on the map"
            );
            let used = sources
                .iter()
                .filter(|(path, _)| module_of(path) == *module);
            let mut used = used.flat_map(|(_, text)| names_after(&code(text), "crate::"));
            let by_main = module == "main";
            assert!(
                by_main || used.any(|other| other == *name),
                "{module} does not use {name}"
            );
        }
    }
}

#[test]
fn only_the_viewer_sees_its_crates() {
    for (path, text) in sources() {
        if module_of(&path) == "viewer" {
            continue;
        }
        for name in VIEWER_CRATES {
            let uses = code(&text).contains(&format!("{name}::"));
            assert!(!uses, "{} uses {name}", path.display());
        }
    }
}

#[test]
fn only_the_command_line_sees_clap_and_prints() {
    for (path, text) in sources() {
        if ["cli", "main"].contains(&module_of(&path).as_str()) {
            continue;
        }
        let code = code(&text);
        for word in [
            "clap::",
            "println!",
            "eprintln!",
            "print!(",
            "stdout()",
            "stderr()",
        ] {
            assert!(!code.contains(word), "{} has {word}", path.display());
        }
    }
}

#[test]
fn a_broken_arrow_is_seen() {
    let plan = plan_of(
        "| `src/scene/` | text | printable |\n| `src/statics/` | rank | scene |\n| `src/motion/` | paths | scene, statics |\n\
         | `src/printable.rs` | letters |  |",
    );
    let broken = |module, text| broken_arrows(&plan, module, text).len();
    assert_eq!(broken("scene", "use crate::statics::Model;"), 1);
    assert_eq!(
        broken("statics", "use crate::{scene::Space, motion::pose};"),
        1
    );
    assert_eq!(broken("statics", "fn f() { crate::motion::pose() }"), 1);
    assert_eq!(broken("statics", "use crate::scene::{Space, solid};"), 0);
    assert_eq!(
        broken("motion", "use crate::{scene::Space, statics::Model};"),
        0
    );
    assert_eq!(
        broken("scene", "/// See [`crate::statics`].\nuse super::Place;"),
        0
    );
    assert_eq!(broken("unheard_of", ""), 1);
    assert_eq!(reached(&plan, "motion"), ["scene", "statics", "printable"]);
}

/// Paths such as `src/scene/` that the contributors' guide names in backquotes.
fn named_paths(guide: &str) -> Vec<String> {
    guide
        .split('`')
        .skip(1)
        .step_by(2)
        .filter(|word| {
            ["src/", "tests/", "scenes/", "assets/", "benches/", ".ci/"]
                .iter()
                .any(|start| word.starts_with(start))
        })
        .filter(|word| !word.contains([' ', '*', '<']))
        .map(str::to_owned)
        .collect()
}

#[test]
fn the_map_names_only_what_is_there_and_every_module() {
    let named = named_paths(&guide());
    for path in &named {
        assert!(
            root().join(path).exists(),
            "DEVELOPERS.md names {path}, which is not there"
        );
    }
    for entry in fs::read_dir(root().join("src")).expect("src") {
        let path = entry.expect("a readable entry").path();
        let name = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        let written = if path.is_dir() {
            format!("src/{name}/")
        } else {
            format!("src/{name}")
        };
        assert!(
            named.contains(&written),
            "DEVELOPERS.md does not name {written}"
        );
    }
}
