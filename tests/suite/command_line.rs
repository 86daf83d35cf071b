//! The program as its users run it: exit codes, flags, words of errors, and what goes to which stream.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

use crate::golden;

pub(crate) fn sixhold(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_sixhold"));
    command.args(arguments);
    // No window, whatever machine the tests run on.
    for variable in ["DISPLAY", "WAYLAND_DISPLAY", "CLICOLOR_FORCE"] {
        command.env_remove(variable);
    }
    // No fonts of the machine either: there are none in this folder.
    command.env(
        "SIXHOLD_FONTS",
        concat!(env!("CARGO_MANIFEST_DIR"), "/tests/suite"),
    );
    command
}

pub(crate) struct Ran {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

pub(crate) fn ran(arguments: &[&str]) -> Ran {
    finished(&mut sixhold(arguments))
}

/// As [`ran`], on a machine with the fonts of a folder.
pub(crate) fn ran_with_fonts(folder: &Path, arguments: &[&str]) -> Ran {
    finished(sixhold(arguments).env("SIXHOLD_FONTS", folder))
}

fn finished(command: &mut Command) -> Ran {
    let Output {
        status,
        stdout,
        stderr,
    } = command.output().unwrap();
    Ran {
        code: status.code(),
        out: String::from_utf8(stdout).unwrap(),
        err: String::from_utf8(stderr).unwrap(),
    }
}

/// A folder with scene files of its own.
struct Files(tempfile::TempDir);

impl Files {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    }
}

fn arguments<'a>(before: &[&'a str], path: &'a Path) -> Vec<&'a str> {
    let mut all = before.to_vec();
    all.push(path.to_str().unwrap());
    all
}

const BROKEN: &str = "(format: 1, body: [Block(centre: (0, 0, 0), size: (1, 1, 1))], suports: {})";

#[test]
fn reports_are_what_they_were() {
    for name in [
        "handrail",
        "strut-platform",
        "hatch-prop",
        "hoisting-tray",
        "sill-beam",
        "street-lamp",
    ] {
        for (format, ending) in [("text", "txt"), ("json", "json")] {
            let ran = ran(&["check", name, "--format", format]);
            assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{name}");
            let path = format!("tests/golden/reports/{name}.{ending}");
            golden::compare(&ran.out, Path::new(&path));
        }
    }
    for name in ["handrail", "hatch-prop"] {
        let ran = ran(&["check", name, "--details", "--digits", "6"]);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{name}");
        let path = format!("tests/golden/reports/{name}-details.txt");
        golden::compare(&ran.out, Path::new(&path));
    }
}

#[test]
fn json_has_every_key_with_its_type() {
    for name in built_in_names() {
        let ran = ran(&["check", &name, "--format", "json"]);
        assert_eq!(ran.code, Some(0), "{name}: {}", ran.err);
        check_document(&serde_json::from_str(&ran.out).unwrap());
    }
}

fn built_in_names() -> Vec<String> {
    let list = ran(&["scenes"]).out;
    let first = |line: &str| line.split_whitespace().next().unwrap().to_owned();
    list.lines().map(first).collect()
}

fn check_document(document: &Value) {
    assert!(document["title"].is_string());
    let motions = if document["space"] == "spatial" { 6 } else { 3 };
    assert!(motions == 6 || document["space"] == "planar");
    let count = |key: &str| document[key].as_u64().unwrap_or_else(|| panic!("{key}"));
    assert_eq!(count("freedom"), motions - count("rank"));
    assert_eq!(count("redundancy"), count("unknowns") - count("rank"));
    assert!(count("exact_rank") <= motions);
    let verdict = document["verdict"].as_str().unwrap();
    let held = count("freedom") == 0;
    assert_eq!(verdict == "properly_constrained", held);
    assert_eq!(
        verdict == "partially_constrained",
        !held && count("unknowns") < motions
    );
    assert_eq!(document["determinate"], held && count("redundancy") == 0);
    let values = document["singular_values"].as_array().unwrap();
    assert_eq!(values.len() as u64, motions);
    assert!(values.iter().all(Value::is_number));
    assert_eq!(
        list(document, "free_motions").len() as u64,
        count("freedom")
    );
    list(document, "free_motions").iter().for_each(check_motion);
    for axis in list(document, "shared_axes") {
        assert!(is_triple(&axis["direction"]) && is_triple(&axis["point"]));
        assert!(list(axis, "supports").iter().all(Value::is_string));
    }
    assert_eq!(list(document, "reactions").len() as u64, count("unknowns"));
    for reaction in list(document, "reactions") {
        assert!(reaction["name"].is_string() && reaction["support"].is_string());
        assert!(["force", "couple"].contains(&reaction["kind"].as_str().unwrap()));
        assert!(is_triple(&reaction["direction"]) && is_triple(&reaction["point"]));
        assert!(reaction["value"].is_null() || reaction["value"].is_number());
    }
    assert!(!list(document, "equilibrium").is_empty());
    list(document, "equilibrium").iter().for_each(check_balance);
}

fn check_motion(motion: &Value) {
    assert!(is_triple(&motion["direction"]) && is_triple(&motion["point"]));
    match motion["kind"].as_str().unwrap() {
        "rotation" => assert_eq!(motion["pitch"], 0.0),
        "translation" => assert!(motion["pitch"].is_null()),
        "screw" => assert!(motion["pitch"].as_f64().unwrap() != 0.0),
        other => panic!("{other}"),
    }
}

fn check_balance(case: &Value) {
    assert!(case["case"].is_string() && case["loaded"].is_boolean());
    let possible = case["possible"].as_bool().unwrap();
    assert!(possible || case["decided"] == false);
    assert_eq!(possible, list(case, "drives").is_empty());
    for drive in list(case, "drives") {
        assert!(drive["motion"].is_u64() && drive["sense"].is_string());
    }
}

fn list<'a>(value: &'a Value, key: &str) -> &'a Vec<Value> {
    value[key].as_array().unwrap_or_else(|| panic!("{key}"))
}

fn is_triple(value: &Value) -> bool {
    let numbers = value.as_array();
    numbers.is_some_and(|numbers| numbers.len() == 3 && numbers.iter().all(Value::is_number))
}

/// The scene's numbers: 6 unknowns, rank 5, the axis through A and B; reactions with a value only where decided.
#[test]
fn numbers_come_in_the_units_of_the_scene() {
    let ran = ran(&["check", "sill-beam", "--format", "json"]);
    let document: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(document["units"]["force"], "kN");
    let values: Vec<f64> = list(&document, "reactions")
        .iter()
        .map(|reaction| reaction["value"].as_f64().unwrap())
        .collect();
    // kN, not N: none of the beam's reactions is near a thousand.
    assert!(values.iter().all(|value| value.abs() < 100.0), "{values:?}");
}

#[test]
fn several_files_make_one_array_and_text_of_each() {
    let json = ran(&["check", "handrail", "roof-hatch", "--format", "json"]);
    let documents: Value = serde_json::from_str(&json.out).unwrap();
    let sources: Vec<&str> = documents
        .as_array()
        .unwrap()
        .iter()
        .map(|document| document["source"].as_str().unwrap())
        .collect();
    assert_eq!(sources, ["handrail", "roof-hatch"]);
    let text = ran(&["check", "handrail", "roof-hatch"]);
    assert!(text.out.contains("Handrail on two") && text.out.contains("Roof hatch on"));
}

#[test]
fn a_bad_file_does_not_hide_the_others() {
    let files = Files::new();
    let broken = files.write("broken.ron", BROKEN);
    let mut arguments = arguments(&["check", "handrail"], &broken);
    arguments.extend(["roof-hatch", "--format", "json"]);
    let ran = ran(&arguments);
    assert_eq!(ran.code, Some(2));
    let documents: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(documents.as_array().unwrap().len(), 2);
    assert!(
        ran.err.contains("broken.ron:1:") && ran.err.contains("supports"),
        "{}",
        ran.err
    );
    assert_eq!(ran.err.matches("error: ").count(), 1);
}

#[test]
fn one_bad_file_leaves_stdout_empty() {
    let files = Files::new();
    let broken = files.write("broken.ron", BROKEN);
    for format in ["text", "json"] {
        let ran = ran(&arguments(&["check", "--format", format], &broken));
        assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    }
}

#[test]
fn requirements_decide_the_exit_code() {
    let code = |arguments: &[&str]| ran(arguments).code;
    assert_eq!(code(&["check", "roof-hatch", "--require", "held"]), Some(0));
    assert_eq!(
        code(&["check", "roof-hatch", "--require", "determinate"]),
        Some(0)
    );
    assert_eq!(
        code(&["check", "street-lamp", "--require", "held"]),
        Some(0)
    );
    assert_eq!(
        code(&["check", "street-lamp", "--require", "determinate"]),
        Some(1)
    );
    let free = ran(&["check", "roof-hatch", "handrail", "--require", "held"]);
    assert_eq!(free.code, Some(1));
    assert_eq!(
        free.err,
        "not met: handrail is not held: 1 degree of freedom\n"
    );
    assert!(free.out.contains("Handrail on two"));
    let bad = code(&["check", "handrail", "no-such", "--require", "held"]);
    assert_eq!(bad, Some(2), "bad input goes before a requirement");
}

const CABINET: &str = "tests/one_way/tipping-cabinet.ron";
const ROLLER: &str = "tests/one_way/pulled-roller.ron";

/// A body that two-way supports would hold was headed as held, and met `--require held`, while its load tipped it over.
#[test]
fn a_constrained_body_that_drops_its_load_is_not_headed_as_held() {
    for (name, path) in [("tipping-cabinet", CABINET), ("pulled-roller", ROLLER)] {
        for (format, ending) in [("text", "txt"), ("json", "json")] {
            let ran = ran(&["check", path, "--format", format]);
            assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{name}");
            let path = format!("tests/golden/reports/{name}.{ending}");
            golden::compare(&ran.out, Path::new(&path));
        }
    }
}

#[test]
fn loads_that_are_not_carried_fail_requirements() {
    let required = |path, what, case: &[&str]| {
        let before = ["check", path, "--require", what];
        let ran = ran(&[&before, case].concat());
        (ran.code, ran.err)
    };
    let met = (Some(0), String::new());
    let unmet = |said: &str| (Some(1), format!("not met: {said}\n"));
    let pulled = unmet(&format!(
        "{ROLLER} is constrained, but this load is not carried: B would have to pull"
    ));
    for what in ["held", "determinate", "carried"] {
        assert_eq!(required(ROLLER, what, &[]), pulled, "{what}");
    }
    let tips = unmet(&format!(
        "{CABINET} is constrained, but the load case \u{201c}pushed\u{201d} is not carried: the body tips about the line \
         through B and C and loses contact at A and D"
    ));
    for what in ["held", "carried"] {
        assert_eq!(required(CABINET, what, &[]), tips);
        assert_eq!(required(CABINET, what, &["--case", "pushed"]), tips);
        assert_eq!(required(CABINET, what, &["--case", "at rest"]), met);
    }
    // A body that is not held may carry its load, and one that is may have none.
    assert_eq!(required("hoisting-tray", "carried", &[]), met);
    assert_eq!(required("roof-hatch", "carried", &[]), met);
    let driven = required("handrail", "carried", &["--case", "own weight"]);
    assert_eq!(
        driven,
        unmet(
            "handrail is not held, and the load case \u{201c}own weight\u{201d} is not carried: it does work in motion 1, \
             the rotation about the line through A and B"
        )
    );
}

#[test]
fn an_unknown_scene_or_case_is_told_with_the_nearest_name() {
    let scene = ran(&["check", "handrial"]);
    assert_eq!(scene.code, Some(2));
    assert_eq!(
        scene.err,
        "error: there is no file and no built-in scene named \"handrial\"\n    \
         hint: did you mean the built-in scene `handrail`?\n"
    );
    let case = ran(&["check", "handrail", "--case", "own wieght"]);
    assert_eq!((case.code, case.out.as_str()), (Some(2), ""));
    assert_eq!(
        case.err,
        "error: handrail: there is no load case named \"own wieght\"\n    hint: did you mean `own weight`?\n"
    );
    let none = ran(&["check", "roof-hatch", "--case", "storm"]);
    assert!(
        none.err.contains("hint: the scene names no load cases"),
        "{}",
        none.err
    );
    let file = ran(&["check", "missing.ron"]);
    assert_eq!(file.code, Some(2));
    assert!(
        file.err
            .starts_with("missing.ron: error: there is no such file\n"),
        "{}",
        file.err
    );
}

#[test]
fn one_case_is_reported_alone() {
    let all = ran(&["check", "handrail", "--format", "json"]).out;
    let all: Value = serde_json::from_str(&all).unwrap();
    let cases = list(&all, "equilibrium");
    assert!(cases.len() > 1);
    assert_eq!(all["case"], cases[0]["case"]);
    let last = cases.last().unwrap()["case"].as_str().unwrap();
    let one = ran(&["check", "handrail", "--format", "json", "--case", last]).out;
    let one: Value = serde_json::from_str(&one).unwrap();
    assert_eq!(one["case"], last);
    assert_eq!(list(&one, "equilibrium").len(), 1);
    assert_eq!(list(&one, "equilibrium")[0]["case"], last);
}

#[test]
fn bad_use_is_refused_with_2_and_help_is_an_answer() {
    for arguments in [
        &["check"][..],
        &["check", "handrail", "--format", "xml"],
        &["check", "handrail", "--require", "glued"],
        &["chek", "handrail"],
        &["picture", "handrail"],
        &["picture", "handrail", "--out", "x.png", "--size", "big"],
        &["picture", "handrail", "--out", "x.png", "--at", "2"],
        &[
            "picture", "handrail", "--out", "x.png", "--camera", "inside",
        ],
        &["view", "no-such-scene"],
        &["scenes", "no-such-scene"],
    ] {
        let ran = ran(arguments);
        assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(ran.err.starts_with("error: "), "{}", ran.err);
    }
    for arguments in [&["--help"][..], &["check", "--help"], &["--version"]] {
        let ran = ran(arguments);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{arguments:?}");
    }
    assert!(ran(&["--help"]).out.contains("2  invalid usage or input"));
}

#[test]
fn a_built_in_scene_can_be_printed_and_read_back() {
    let files = Files::new();
    let printed = ran(&["scenes", "dome-shutter"]);
    let path = files.write("mine.ron", &printed.out);
    let mine: Value =
        serde_json::from_str(&ran(&arguments(&["check", "--format", "json"], &path)).out).unwrap();
    let own = ran(&["check", "dome-shutter", "--format", "json"]).out;
    let own: Value = serde_json::from_str(&own).unwrap();
    assert_eq!(mine["title"], own["title"]);
    assert_eq!(mine["free_motions"], own["free_motions"]);
}

#[test]
fn without_a_display_the_diagnosis_is_printed() {
    let ran = ran(&["view", "handrail"]);
    assert_eq!(ran.code, Some(0));
    assert!(
        ran.out
            .contains("All six reactions meet the line through A and B"),
        "{}",
        ran.out
    );
    assert!(ran.err.contains("No window is opened"), "{}", ran.err);
}

#[test]
fn without_a_command_the_default_scene_is_shown() {
    let ran = ran(&[]);
    assert_eq!(ran.code, Some(0));
    assert!(
        ran.out.starts_with("Handrail on two ball joints\n"),
        "{}",
        ran.out
    );
    assert!(ran.err.contains("No window is opened"), "{}", ran.err);
}

#[test]
fn a_picture_that_cannot_be_is_refused_before_it_is_drawn() {
    let refused = |arguments: &[&str]| {
        let ran = ran(&[&["picture", "handrail"], arguments].concat());
        assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""), "{arguments:?}");
        ran.err
    };
    let jpeg = refused(&["--out", "x.jpg"]);
    assert!(
        jpeg.starts_with("error: x.jpg: pictures are PNG images\n"),
        "{jpeg}"
    );
    let folder = refused(&["--out", "no/such/folder/x.png"]);
    assert!(
        folder.starts_with("error: there is no folder no/such/folder\n"),
        "{folder}"
    );
    let motion = refused(&["--out", "x.png", "--motion", "2"]);
    assert!(
        motion.starts_with("error: handrail has one free motion; there is no motion 2\n"),
        "{motion}"
    );
    let case = refused(&["--out", "x.png", "--case", "storm"]);
    assert!(case.contains("there is no load case named"), "{case}");
    assert!(!Path::new("x.png").exists());
}

#[cfg(feature = "viewer")]
#[test]
#[expect(clippy::print_stderr, reason = "a skipped test says so")]
fn a_picture_has_the_size_asked_for() {
    let files = Files::new();
    let out = files.0.path().join("picture.png");
    let asked = ["picture", "handrail", "--size", "320x200", "--out"];
    // As on a server: no session that drivers may ask for a display.
    let ran = finished(sixhold(&arguments(&asked, &out)).env_remove("XDG_RUNTIME_DIR"));
    if ran.err.contains("no graphics driver") && std::env::var_os("SIXHOLD_NEED_ADAPTER").is_none()
    {
        eprintln!("skipped: {}", ran.err);
        return;
    }
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    // The driver has nothing to say beside it.
    assert_eq!(ran.err, format!("written: {}\n", out.display()));
    let bytes = std::fs::read(&out).unwrap();
    // Width and height stand in the header (PNG specification, section 11.2.1).
    let side = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap());
    assert_eq!((&bytes[1..4], side(16), side(20)), (&b"PNG"[..], 320, 200));
}

#[test]
fn a_scene_without_a_command_is_told_both() {
    let files = Files::new();
    let own = files.write("own.ron", "()").display().to_string();
    for scene in ["handrail", own.as_str()] {
        let ran = ran(&[scene]);
        assert_eq!(ran.code, Some(2));
        let hint = format!("`sixhold view {scene}`");
        assert!(ran.err.contains(&hint), "{}", ran.err);
    }
    #[cfg(unix)]
    {
        use std::os::unix::ffi::OsStrExt;
        let odd = std::ffi::OsStr::from_bytes(b"\xff.ron");
        assert_eq!(finished(sixhold(&[]).arg(odd)).code, Some(2), "no panic");
    }
    let unknown = ran(&["handrial"]);
    assert!(unknown.err.contains("subcommand"), "{}", unknown.err);
}

#[test]
fn colours_are_for_terminals_only() {
    let plain = ran(&["check", "handrail", "no-such"]);
    assert!(!plain.out.contains('\u{1b}') && !plain.err.contains('\u{1b}'));
    let forced = sixhold(&["check", "handrail"])
        .env("CLICOLOR_FORCE", "1")
        .env_remove("NO_COLOR")
        .output()
        .unwrap();
    assert!(String::from_utf8(forced.stdout).unwrap().contains('\u{1b}'));
}

/// As in `sixhold check … | head -1`: a closed pipe is no fault.
#[test]
fn a_closed_pipe_is_no_fault() {
    // More than a pipe holds (64 KiB, pipe(7)), so that writing meets the closed end.
    const PIPE: usize = 1 << 16;
    let many = vec!["handrail"; 60];
    for format in ["text", "json"] {
        let one = ran(&["check", "handrail", "--format", format]).out;
        assert!(one.len() * many.len() > PIPE, "{format}");
        let mut child = sixhold(&["check", "--format", format])
            .args(&many)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0));
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    }
}
