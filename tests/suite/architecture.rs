//! The plan of the house, read off the sources: who may use whom, and whether the map shows what is there.

use std::fs;
use std::path::{Path, PathBuf};

/// Modules and files of `src` from the outside in: each may use those of later rows, never its own row.
const LAYERS: &[&[&str]] = &[
    &["main"],
    &["cli"],
    &["viewer", "report", "figure", "practice"],
    &["working"],
    &["document"],
    &["words"],
    &["motion"],
    &["statics"],
    &["scene", "page"],
    &["files", "theme", "testing"],
    &["printable"],
];

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

fn layer_of(module: &str) -> Option<usize> {
    LAYERS.iter().position(|layer| layer.contains(&module))
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
fn broken_arrows(module: &str, text: &str) -> Vec<String> {
    let Some(own) = layer_of(module) else {
        return vec![format!("module `{module}` has no layer")];
    };
    let code = code(text);
    let used = ["crate::", "sixhold::"]
        .iter()
        .flat_map(|prefix| names_after(&code, prefix));
    used.filter(|name| name != module)
        .filter(|name| layer_of(name).is_some_and(|layer| layer <= own))
        .map(|name| format!("`{module}` must not use `{name}`"))
        .collect()
}

#[test]
fn arrows_point_one_way() {
    let broken: Vec<String> = sources()
        .iter()
        .filter(|(path, _)| path != Path::new("lib.rs"))
        .flat_map(|(path, text)| {
            broken_arrows(&module_of(path), text)
                .into_iter()
                .map(move |what| format!("{}: {what}", path.display()))
        })
        .collect();
    assert!(broken.is_empty(), "{}", broken.join("\n"));
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
    assert!(broken_arrows("scene", "use crate::statics::Model;").len() == 1);
    assert!(broken_arrows("report", "fn f() { crate::viewer::run() }").len() == 1);
    assert!(broken_arrows("statics", "use crate::{scene::Space, motion::pose};").len() == 1);
    assert!(broken_arrows("statics", "use crate::scene::{Space, solid};").is_empty());
    assert!(broken_arrows("scene", "/// See [`crate::statics`].\nuse super::Place;").is_empty());
    assert!(broken_arrows("unheard_of", "").len() == 1);
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
    let guide = fs::read_to_string(root().join("DEVELOPERS.md")).expect("the contributors' guide");
    let named = named_paths(&guide);
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
