//! Whether files of `src` use each other in a circle, read off their paths.
//!
//! A file may use the module that it lies in, and that module its parts: they are one thing in several files. Of all others none
//! may lead back to itself. Tests do not count.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use super::{code, sources};

/// The path of a module, such as `["statics", "model"]`.
type Module = Vec<String>;

/// A path in a source, from the root of the crate.
type Absolute = Vec<String>;

/// The files with what each passes on from elsewhere under a name of its own.
struct Crate {
    files: BTreeMap<Module, String>,
    passed_on: BTreeMap<Module, BTreeMap<String, Absolute>>,
}

/// A path that a file writes, and whether a `pub use` passes it on.
struct Written {
    path: String,
    is_passed_on: bool,
}

fn module_of(file: &Path) -> Module {
    let mut parts: Module = file
        .with_extension("")
        .iter()
        .map(|part| part.to_string_lossy().into_owned())
        .collect();
    if parts
        .last()
        .is_some_and(|last| last == "mod" || last == "lib")
    {
        parts.pop();
    }
    parts
}

/// Code before the tests at the foot of a file.
fn without_tests(code: &str) -> &str {
    let is_module = |rest: &str| {
        let line = rest.trim_start().lines().next().unwrap_or_default();
        line.contains("mod ") && line.ends_with('{')
    };
    let mut marks = code.match_indices("#[cfg(test)]");
    let tests = marks.find(|(at, mark)| is_module(&code[at + mark.len()..]));
    tests.map_or(code, |(at, _)| &code[..at])
}

/// The paths of a `use` tree: `a::{b, c::d}` is `a::b` and `a::c::d`.
fn branches(tree: &str) -> Vec<String> {
    let tree = tree.trim();
    let Some((stem, rest)) = tree.split_once('{') else {
        let path = tree.split(" as ").next().unwrap_or_default();
        return vec![path.trim().to_owned()];
    };
    let list = rest.rsplit_once('}').map_or(rest, |(list, _)| list);
    let (mut depth, mut items) = (0, vec![String::new()]);
    for c in list.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        match items.last_mut() {
            Some(item) if c != ',' || depth > 0 => item.push(c),
            _ => items.push(String::new()),
        }
    }
    let items = items.iter().filter(|item| !item.trim().is_empty());
    let below = items.flat_map(|item| branches(item));
    below.map(|path| format!("{}{path}", stem.trim())).collect()
}

/// What a file writes: the trees of its `use` lines, and every other path with two names or more.
fn written(code: &str) -> Vec<Written> {
    let (mut all, mut rest) = (Vec::new(), String::new());
    for statement in code.split_inclusive(';') {
        let start = statement.rfind("use ").filter(|at| {
            let before = &statement[..*at];
            before.is_empty() || before.ends_with(['\n', ' ', ')'])
        });
        match start {
            Some(at) if !statement[at..].contains(['(', '=']) => {
                let line = statement[..at].lines().last().unwrap_or_default();
                let is_passed_on = line.contains("pub");
                let tree = statement[at + 4..].trim_end_matches(';');
                let paths = branches(tree).into_iter();
                all.extend(paths.map(|path| Written { path, is_passed_on }));
                rest.push_str(&statement[..at]);
            }
            _ => rest.push_str(statement),
        }
    }
    let words = rest.split(|c: char| !(c.is_alphanumeric() || c == '_' || c == ':'));
    let paths = words.filter(|word| word.contains("::") && !word.starts_with("::"));
    all.extend(paths.map(|path| Written {
        path: path.trim_end_matches(':').to_owned(),
        is_passed_on: false,
    }));
    all
}

impl Crate {
    fn new(sources: &[(PathBuf, String)]) -> Self {
        let files = sources
            .iter()
            .map(|(path, text)| (module_of(path), without_tests(&code(text)).to_owned()))
            .collect();
        let mut all = Self {
            files,
            passed_on: BTreeMap::new(),
        };
        for (module, code) in &all.files {
            let mut names = BTreeMap::new();
            for written in written(code).iter().filter(|written| written.is_passed_on) {
                let path = all.absolute(module, &written.path);
                if let Some((path, name)) =
                    path.and_then(|path| Some((path.clone(), path.last()?.clone())))
                {
                    names.insert(name, path);
                }
            }
            all.passed_on.insert(module.clone(), names);
        }
        all
    }

    /// A path of a module from the root; `None` of what is not of this crate.
    fn absolute(&self, module: &Module, path: &str) -> Option<Absolute> {
        let mut names = path.split("::").peekable();
        let mut absolute = match *names.peek()? {
            "crate" => Vec::new(),
            "self" | "super" => module.clone(),
            child => {
                let is_child = self
                    .files
                    .contains_key(&[module.as_slice(), &[child.to_owned()]].concat());
                return is_child.then(|| {
                    let names = names.map(str::to_owned);
                    module.iter().cloned().chain(names).collect()
                });
            }
        };
        while let Some(name) = names.next_if(|name| ["crate", "self", "super"].contains(name)) {
            if name == "super" {
                absolute.pop();
            }
        }
        absolute.extend(names.map(str::to_owned));
        Some(absolute)
    }

    /// The file in which a path ends, through whatever passes it on.
    fn home(&self, path: &[String]) -> Module {
        let mut path = path.to_vec();
        // No name is passed on more often than there are modules above it.
        for _ in 0..8 {
            let depths = (0..=path.len()).rev();
            let mut inside = depths.filter(|depth| self.files.contains_key(&path[..*depth]));
            let depth = inside.next().unwrap_or(0);
            let (module, rest) = (path[..depth].to_vec(), &path[depth..]);
            let passed_on = rest
                .first()
                .and_then(|name| self.passed_on[&module].get(name));
            match passed_on {
                Some(to) if *to != path => path = [to.as_slice(), &rest[1..]].concat(),
                _ => return module,
            }
        }
        Vec::new()
    }

    /// The files that each uses, but for the modules around it and the parts of it.
    fn uses(&self) -> BTreeMap<&Module, BTreeSet<Module>> {
        let of = |(module, code): (&'_ Module, &String)| -> BTreeSet<Module> {
            let written = written(code).into_iter();
            let paths = written.filter_map(|written| self.absolute(module, &written.path));
            let homes = paths.map(|path| self.home(&path));
            homes
                .filter(|home| !home.starts_with(module) && !module.starts_with(home))
                .collect()
        };
        self.files.iter().map(|file| (file.0, of(file))).collect()
    }

    /// Files that lead back to themselves, each with a shortest way: `a → b → a`.
    fn circles(&self) -> Vec<String> {
        let uses = self.uses();
        let mut found = Vec::new();
        let mut known: BTreeSet<Module> = BTreeSet::new();
        for start in self.files.keys() {
            let mut ways: Vec<Vec<&Module>> = vec![vec![start]];
            let mut seen: BTreeSet<&Module> = BTreeSet::new();
            let mut next = 0;
            while let Some(way) = ways.get(next).cloned() {
                next += 1;
                let Some(used) = way.last().and_then(|last| uses.get(last)) else {
                    continue;
                };
                if used.contains(start) && !known.contains(start) {
                    known.extend(way.iter().map(|module| (*module).clone()));
                    let names = way.iter().chain([&start]).map(|module| module.join("/"));
                    found.push(names.collect::<Vec<_>>().join(" → "));
                    break;
                }
                let new = used.iter().filter(|module| seen.insert(module));
                ways.extend(new.map(|module| [way.as_slice(), &[module]].concat()));
            }
        }
        found
    }
}

#[test]
fn no_files_use_each_other_in_a_circle() {
    let circles = Crate::new(&sources()).circles();
    assert!(circles.is_empty(), "{}", circles.join("\n"));
}

#[test]
fn a_circle_of_files_is_seen() {
    let circles = |files: &[(&str, &str)]| {
        let files: Vec<_> = files
            .iter()
            .map(|(path, text)| (PathBuf::from(path), (*text).to_owned()))
            .collect();
        Crate::new(&files).circles()
    };
    let both = [
        ("a/mod.rs", "mod b;\nmod c;\npub use c::Thing;"),
        ("a/b.rs", "use super::{Other, Thing};"),
        ("a/c.rs", "fn f() { super::b::g() }"),
    ];
    assert_eq!(circles(&both), ["a/b → a/c → a/b"]);
    let mut one_way = both;
    one_way[2].1 = "/// See [`super::b::g`].\npub struct Thing;";
    assert_eq!(
        circles(&one_way),
        [""; 0],
        "a part may use the module around it"
    );
    one_way[2].1 = "pub struct Thing;\n#[cfg(test)]\nmod tests {\n    use super::super::b::g;\n}";
    assert_eq!(circles(&one_way), [""; 0], "tests do not count");
    let inner = [
        ("a.rs", "pub mod d;"),
        ("a/d.rs", "pub(crate) use crate::b::e::{self, Way};"),
        ("b/mod.rs", "mod e;"),
        ("b/e.rs", "use crate::{a::{d::Way, d}, b};"),
    ];
    assert_eq!(circles(&inner), ["a/d → b/e → a/d"]);
}
