//! What the program does to files that it writes, and to what only looks like one.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;

use crate::command_line::{Ran, ran};

fn mended(out: &Path) -> Ran {
    ran(&["mend", "handrail", "--out", out.to_str().unwrap()])
}

fn is_mended_scene(text: &str) -> bool {
    text.starts_with("(\n    format: 1,") && text.contains("\"L1\"")
}

/// Names in a folder, hidden ones included.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// Makes a pipe with a name, and starts to read what comes through.
#[cfg(unix)]
fn pipe(path: &Path) -> thread::JoinHandle<String> {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    let path = path.to_owned();
    thread::spawn(move || fs::read_to_string(path).unwrap())
}

/// Pipes, and links to them, were replaced by a regular file, and whoever read from them waited forever.
#[cfg(unix)]
#[test]
fn a_pipe_is_written_through() {
    use std::os::unix::fs::{FileTypeExt, symlink};
    let folder = tempfile::tempdir().unwrap();
    let fifo = folder.path().join("pipe");
    let link = folder.path().join("link");
    symlink("pipe", &link).unwrap();
    let reader = pipe(&fifo);
    let ran = mended(&link);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(is_mended_scene(&reader.join().unwrap()));
    assert!(fs::metadata(&fifo).unwrap().file_type().is_fifo());
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(names(folder.path()), ["link", "pipe"]);
}

/// `--out /dev/null` as root put a regular file in the place of the device.
#[cfg(target_os = "linux")]
#[expect(clippy::print_stderr, reason = "a test that is skipped says why")]
#[test]
fn a_device_is_written_through() {
    use std::os::unix::fs::FileTypeExt;
    let folder = tempfile::tempdir().unwrap();
    let null = folder.path().join("null");
    let made = Command::new("mknod")
        .arg(&null)
        .args(["c", "1", "3"])
        .stderr(Stdio::null())
        .status();
    if !made.is_ok_and(|status| status.success()) {
        eprintln!("skipped: only root may make a device");
        return;
    }
    // Some containers let devices be made but not opened.
    if let Err(error) = fs::OpenOptions::new().write(true).open(&null) {
        eprintln!("skipped: the device cannot be opened: {error}");
        return;
    }
    let ran = mended(&null);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(fs::metadata(&null).unwrap().file_type().is_char_device());
    assert_eq!(names(folder.path()), ["null"]);
}

/// Standard output sent to a file was replaced by another file, which lost what was printed before.
#[cfg(target_os = "linux")]
#[test]
fn a_stream_that_is_open_gets_the_scene_behind_what_was_printed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("answer");
    let status = Command::new(env!("CARGO_BIN_EXE_sixhold"))
        .args(["mend", "handrail", "--out", "/dev/stdout"])
        .stdout(fs::File::create(&path).unwrap())
        .stderr(Stdio::null())
        .status();
    assert!(status.unwrap().success());
    let text = fs::read_to_string(path).unwrap();
    let (answer, scene) = text.split_at(text.find("(\n    format").unwrap());
    assert!(
        answer.starts_with("Handrail on two ball joints"),
        "{answer}"
    );
    assert!(is_mended_scene(scene));
}

/// A link to a file yet to be made was replaced by that file.
#[cfg(unix)]
#[test]
fn a_link_that_leads_nowhere_yet_is_followed() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("scenes")).unwrap();
    let links = [("first", "second"), ("second", "scenes/mended.ron")];
    for (link, target) in links {
        symlink(target, folder.path().join(link)).unwrap();
    }
    let ran = mended(&folder.path().join("first"));
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let target = folder.path().join("scenes/mended.ron");
    assert!(is_mended_scene(&fs::read_to_string(target).unwrap()));
    for (link, _) in links {
        let link = folder.path().join(link);
        assert!(fs::symlink_metadata(link).unwrap().is_symlink());
    }
    symlink("loop", folder.path().join("loop")).unwrap();
    let looped = mended(&folder.path().join("loop"));
    assert_eq!(looped.code, Some(2));
    assert!(looped.err.contains("too many links"), "{}", looped.err);
}

/// Files that their owner had protected were replaced all the same, since that takes a writable folder only.
#[test]
fn a_read_only_file_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kept.ron");
    fs::write(&path, "kept").unwrap();
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    let ran = mended(&path);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    let told = format!(
        "error: the file is read-only: {}\n    hint: make it writable, or write to another file\n",
        path.display()
    );
    assert_eq!(ran.err, told);
    assert_eq!(fs::read_to_string(&path).unwrap(), "kept");
}

/// Files changed their owner to whoever wrote them last.
#[cfg(unix)]
#[test]
fn owner_and_permissions_are_kept() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shared.ron");
    fs::write(&path, "old").unwrap();
    // Only root may give files away; for others the owner is the same before and after.
    let given = chown(&path, Some(12_345), Some(23_456)).is_ok();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    assert_eq!(mended(&path).code, Some(0));
    let new = fs::metadata(&path).unwrap();
    assert_eq!(new.mode() & 0o7777, 0o640);
    if given {
        assert_eq!((new.uid(), new.gid()), (12_345, 23_456));
    }
    assert!(is_mended_scene(&fs::read_to_string(&path).unwrap()));
}

/// The error named a temporary file, which the user has never heard of.
#[test]
fn a_missing_folder_is_named_as_it_was_given() {
    let folder = tempfile::tempdir().unwrap();
    let ran = mended(&folder.path().join("nowhere/mended.ron"));
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    assert!(
        ran.err.starts_with("error: there is no folder "),
        "{}",
        ran.err
    );
    assert!(
        ran.err
            .ends_with("/nowhere\n    hint: make it first, or write somewhere else\n")
    );
    let taken = mended(folder.path());
    assert_eq!(taken.code, Some(2));
    assert!(taken.err.contains("this is a folder"), "{}", taken.err);
}

fn sheet(folder: &Path, more: &[&str]) -> Ran {
    let folder = folder.to_str().unwrap();
    let usual = [
        "sheet", "--about", "partial", "--count", "2", "--out", folder,
    ];
    ran(&[&usual, more].concat())
}

/// A sheet wrote over whatever had the names of its files, and left a set of two sheets where one could not be replaced.
#[test]
fn a_sheet_replaces_nothing_unless_told_to() {
    let folder = tempfile::tempdir().unwrap();
    let within = |name: &str| folder.path().join(name);
    fs::create_dir(within("scenes")).unwrap();
    fs::write(within("key.html"), "my own key").unwrap();
    fs::write(within("scenes/problem-02.ron"), "my own scene").unwrap();
    let refused = sheet(folder.path(), &[]);
    assert_eq!(refused.code, Some(2));
    let names_all = refused
        .err
        .contains("key.html, scenes/problem-02.ron; nothing was written");
    assert!(
        names_all && refused.err.contains("--force"),
        "{}",
        refused.err
    );
    assert_eq!(names(folder.path()), ["key.html", "scenes"]);
    assert_eq!(names(&within("scenes")), ["problem-02.ron"]);
    assert_eq!(sheet(folder.path(), &["--force"]).code, Some(0));
    let whole = [
        "answers.html",
        "answers.pdf",
        "key.html",
        "key.pdf",
        "moodle.xml",
        "qti.zip",
        "scenes",
        "sheet.html",
        "sheet.pdf",
    ];
    assert_eq!(names(folder.path()), whole);
    assert_ne!(
        fs::read_to_string(within("key.html")).unwrap(),
        "my own key"
    );
    // The very same sheet again changes nothing.
    assert_eq!(sheet(folder.path(), &[]).code, Some(0));
    assert_eq!(sheet(folder.path(), &["--seed", "2"]).code, Some(2));
}

#[test]
fn a_sheet_is_whole_or_not_written_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let within = |name: &str| folder.path().join(name);
    assert_eq!(sheet(folder.path(), &[]).code, Some(0));
    let before: Vec<_> = [within("sheet.html"), within("scenes/problem-01.ron")]
        .map(|path| fs::read(path).unwrap())
        .into();
    let last = within("scenes/problem-02.ron");
    fs::remove_file(&last).unwrap();
    fs::create_dir(&last).unwrap();
    let failed = sheet(folder.path(), &["--seed", "7", "--force"]);
    assert_eq!(failed.code, Some(2));
    assert!(failed.err.contains("this is a folder"), "{}", failed.err);
    let after: Vec<_> = [within("sheet.html"), within("scenes/problem-01.ron")]
        .map(|path: PathBuf| fs::read(path).unwrap())
        .into();
    assert!(before == after);
    assert_eq!(names(folder.path()).len(), 9);
}

/// Starts the program, waits until there is something to see, and stops it as Ctrl+C does.
#[cfg(unix)]
fn stopped(arguments: &[&str], signal: &str, is_under_way: impl Fn() -> bool) -> Option<i32> {
    use std::os::unix::process::ExitStatusExt;
    use std::time::Duration;
    let mut child = Command::new(env!("CARGO_BIN_EXE_sixhold"))
        .args(arguments)
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    while !is_under_way() {
        assert!(child.try_wait().unwrap().is_none(), "it ended by itself");
        thread::sleep(Duration::from_millis(5));
    }
    let id = child.id().to_string();
    let sent = Command::new("kill").args(["-s", signal, &id]).status();
    assert!(sent.unwrap().success());
    child.wait().unwrap().signal()
}

/// Files under temporary names stayed behind.
#[cfg(unix)]
#[test]
fn a_set_that_is_interrupted_leaves_nothing_behind() {
    const SIGINT: i32 = 2;
    const SIGTERM: i32 = 15;
    for (name, number) in [("INT", SIGINT), ("TERM", SIGTERM)] {
        let folder = tempfile::tempdir().unwrap();
        // Nobody reads from it, so that the program waits in the middle of the set.
        let pipe = folder.path().join("key.pdf");
        assert!(
            Command::new("mkfifo")
                .arg(&pipe)
                .status()
                .unwrap()
                .success()
        );
        let path = folder.path().to_str().unwrap();
        let arguments = ["sheet", "--about", "partial", "--count", "1", "--out", path];
        let has_temporaries = || {
            names(folder.path())
                .iter()
                .any(|name| name.starts_with(".tmp"))
        };
        assert_eq!(stopped(&arguments, name, has_temporaries), Some(number));
        assert_eq!(names(folder.path()), ["key.pdf", "scenes"]);
    }
}
