//! Work that is not saved survives a program that is killed at any moment.

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use sixhold::draft::{Journal, NewScene, Unsaved};
use sixhold::scene::read_str;

/// The folder that the program to be killed writes to.
const FOLDER: &str = "SIXHOLD_TEST_JOURNAL";
/// How often a program is killed.
const TIMES: u64 = 200;

/// The scene after so many steps: long enough for a write to be caught half-way.
fn text(step: usize) -> String {
    let notes = format!("step {step}. {}", "Seen from the dome. ".repeat(5_000));
    let title = format!("notes: \"{notes}\",\n    title:");
    NewScene::Plate.text().replacen("title:", &title, 1)
}

/// Not a test: what is run to be killed.
#[test]
#[ignore = "runs until it is killed"]
fn a_program_that_keeps_its_work() {
    let folder = std::env::var_os(FOLDER).expect("a folder");
    let journal = Journal::begin(Path::new(&folder)).expect("a journal");
    for step in 0.. {
        let unsaved = Unsaved {
            name: "plate".to_owned(),
            file: Some(PathBuf::from("plate.ron")),
            on_disk: None,
            text: text(step),
        };
        journal
            .keep(&unsaved)
            .expect("a journal that can be written");
    }
}

fn started(folder: &Path) -> Child {
    Command::new(std::env::current_exe().expect("the tests"))
        .args([
            "--exact",
            "--ignored",
            "drafts::killed::a_program_that_keeps_its_work",
        ])
        .env(FOLDER, folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the tests run again")
}

fn has_work(folder: &Path) -> bool {
    let entries = folder.read_dir().expect("a folder").flatten();
    entries
        .map(|entry| entry.path())
        .any(|path| path.extension().is_some_and(|ending| ending == "json"))
}

#[test]
fn work_survives_a_kill_at_any_moment() {
    let folder = tempfile::tempdir().expect("a folder");
    for time in 0..TIMES {
        let mut program = started(folder.path());
        let end = Instant::now() + Duration::from_secs(60);
        while !has_work(folder.path()) {
            assert!(Instant::now() < end, "nothing is kept");
            sleep(Duration::from_millis(1));
        }
        assert!(
            Journal::left_behind(folder.path()).is_empty(),
            "it is still running"
        );
        // Moments spread over some twenty writes.
        sleep(Duration::from_micros(time * 7_919 % 12_000));
        program.kill().expect("a kill");
        program.wait().expect("an end");
        let mut left = Journal::left_behind(folder.path());
        assert_eq!(left.len(), 1, "after kill {time}");
        let left = left.remove(0);
        let read = read_str("plate", &left.unsaved.text).expect("a whole scene");
        assert!(read.scene.notes.starts_with("step "));
        left.remove();
    }
}
