//! The window, driven as a person would drive it: a real X server, real keys and mouse, the pixels that come out.
//!
//! Needs Xvfb, xdotool and a graphics driver; where one of them is missing the test says so and does nothing, unless
//! SIXHOLD_NEED_ADAPTER=1 asks for it.

use std::fs::{self, File};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use sixhold::scene::builtin;
use sixhold::theme::{Colour, Theme, ThemeName};

/// Longest that anything may take, on a machine without a graphics card that is busy with other things.
const PATIENCE: Duration = Duration::from_secs(90);
/// Most processor time in two seconds of rest, in hundredths of a second.
const RESTING: u64 = 6;
/// A point of the scene where only the background is.
const BACKGROUND: (usize, usize) = (12, 12);
/// A point that the open ledger covers.
const LEDGER: (usize, usize) = (1130, 8);

/// Places that are looked at for the body.
const LOOKS: usize = 60;
/// How long each look at them takes, from the first round to the last.
const PAUSES: [Duration; 3] = [
    Duration::from_millis(400),
    Duration::from_millis(1200),
    Duration::from_millis(3000),
];

/// A screen's pixels.
#[derive(PartialEq, Eq)]
struct Screen {
    width: usize,
    pixels: Vec<Colour>,
}

impl Screen {
    fn at(&self, (x, y): (usize, usize)) -> Colour {
        self.pixels[y * self.width + x]
    }

    /// Where the pixels are that are asked for.
    fn places_where(&self, wanted: impl Fn((usize, usize), Colour) -> bool) -> Vec<(usize, usize)> {
        let pixels = self.pixels.iter().enumerate();
        let placed =
            pixels.map(|(index, pixel)| ((index % self.width, index / self.width), *pixel));
        placed
            .filter(|(place, pixel)| wanted(*place, *pixel))
            .map(|(place, _)| place)
            .collect()
    }

    fn count(&self, colour: Colour) -> usize {
        self.pixels.iter().filter(|pixel| **pixel == colour).count()
    }
}

/// An X server with the program's window on it.
struct Desk {
    server: Child,
    program: Option<Child>,
    display: String,
    folder: tempfile::TempDir,
}

impl Drop for Desk {
    fn drop(&mut self) {
        for child in self.program.iter_mut().chain([&mut self.server]) {
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

impl Desk {
    /// Starts an X server on a free display; `None` where there is none to start.
    fn new() -> Option<Self> {
        let folder = tempfile::tempdir().expect("a folder");
        let mut server = Command::new("Xvfb")
            .args([
                "-displayfd",
                "1",
                "-screen",
                "0",
                "1280x720x24",
                "-nolisten",
                "tcp",
                "-fbdir",
            ])
            .arg(folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .ok()?;
        let mut number = String::new();
        let stdout = server.stdout.take().expect("the server's output");
        BufReader::new(stdout)
            .read_line(&mut number)
            .expect("a display number");
        Some(Self {
            server,
            program: None,
            display: format!(":{}", number.trim()),
            folder,
        })
    }

    fn open(&mut self, scene: &Path) {
        let program = Command::new(env!("CARGO_BIN_EXE_sixhold"))
            .arg("view")
            .arg(scene)
            .env("DISPLAY", &self.display)
            .env_remove("WAYLAND_DISPLAY")
            // Unsaved work of this test is nobody else's.
            .env("XDG_DATA_HOME", self.folder.path().join("data"))
            .stdout(Stdio::null())
            .stderr(File::create(self.log()).expect("a log"))
            .spawn()
            .expect("the program");
        self.program = Some(program);
    }

    fn log(&self) -> PathBuf {
        self.folder.path().join("program.log")
    }

    /// What xdotool answers; empty where it fails.
    fn xdotool(&self, words: &[&str]) -> String {
        let output = Command::new("xdotool")
            .args(words)
            .env("DISPLAY", &self.display)
            .output()
            .expect("xdotool");
        String::from_utf8_lossy(&output.stdout).trim().to_owned()
    }

    fn window(&self) -> String {
        let found = self.xdotool(&["search", "--name", "^Sixhold"]);
        found.lines().last().unwrap_or_default().to_owned()
    }

    fn title(&self) -> String {
        self.xdotool(&["getwindowname", &self.window()])
    }

    /// The server's frame buffer, an X window dump (X.Org, XWDFile.h).
    fn screen(&self) -> Screen {
        let bytes = fs::read(self.folder.path().join("Xvfb_screen0")).expect("the frame buffer");
        let word = |index: usize| {
            let at = 4 * index;
            u32::from_be_bytes(bytes[at..at + 4].try_into().expect("four bytes")) as usize
        };
        let (header, width, height, row, colours) = (word(0), word(4), word(5), word(12), word(19));
        assert_eq!(word(11), 32, "bits of a pixel");
        let start = header + 12 * colours;
        let rows = (0..height).map(|y| &bytes[start + y * row..][..4 * width]);
        let pixels = rows.flat_map(|row| row.chunks_exact(4).map(|p| Colour(p[2], p[1], p[0])));
        Screen {
            width,
            pixels: pixels.collect(),
        }
    }

    /// Waits for something to be seen; fails with what it was if it is not.
    fn wait_for(&mut self, what: &str, seen: impl Fn(&Self) -> bool) {
        let end = Instant::now() + PATIENCE;
        while !seen(self) {
            let ended = self
                .program
                .as_mut()
                .and_then(|p| p.try_wait().ok().flatten());
            let log = fs::read_to_string(self.log()).unwrap_or_default();
            assert!(ended.is_none(), "{what}: the program ended, saying {log}");
            if Instant::now() >= end {
                panic!(
                    "{what}: not seen; the program said {log}; {}",
                    self.keep_screen()
                );
            }
            sleep(Duration::from_millis(100));
        }
    }

    /// Keeps what is on the screen for whoever looks into a failure, and says where.
    fn keep_screen(&self) -> String {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("window-that-failed.ppm");
        let screen = self.screen();
        let height = screen.pixels.len() / screen.width;
        let mut bytes = format!("P6 {} {height} 255\n", screen.width).into_bytes();
        bytes.extend(screen.pixels.iter().flat_map(|p| [p.0, p.1, p.2]));
        match fs::write(&path, bytes) {
            Ok(()) => format!("its last picture is {}", path.display()),
            Err(error) => format!("its last picture could not be kept: {error}"),
        }
    }

    /// Waits until the picture has stood still for a second.
    fn wait_for_rest(&mut self, what: &str) -> Screen {
        let end = Instant::now() + PATIENCE;
        let mut last = self.screen();
        let mut still = 0;
        while still < 5 {
            assert!(
                Instant::now() < end,
                "{what}: the picture never stood still"
            );
            sleep(Duration::from_millis(200));
            let now = self.screen();
            still = if now == last { still + 1 } else { 0 };
            last = now;
        }
        last
    }

    /// Acts, and waits until the picture is another one and stands still.
    fn change(&mut self, what: &str, act: impl Fn(&Self)) {
        let before = self.wait_for_rest(what);
        act(self);
        self.wait_for(what, |desk| desk.screen() != before);
        self.wait_for_rest(what);
    }

    /// Moves the pointer over the places until more than `least` pixels have the colour of what is on trial, and leaves it
    /// there. A busy machine may show a ring late, so whoever finds none looks again and waits longer.
    fn find_ring(&mut self, places: &[(usize, usize)], least: usize) -> Option<(usize, usize)> {
        let trial = Theme::of(ThemeName::Hall).trial;
        let sparsely = || {
            places
                .iter()
                .step_by((places.len() / LOOKS).max(1))
                .copied()
        };
        for pause in PAUSES {
            for (x, y) in sparsely() {
                self.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
                sleep(pause);
                // The ring may be that of the place before.
                if self.screen().count(trial) > least
                    && self.wait_for_rest("the pointer rests").count(trial) > least
                {
                    return Some((x, y));
                }
            }
        }
        None
    }

    /// Processor time used so far, in hundredths of a second (Linux, proc(5), fields 14 and 15).
    fn processor_time(&self) -> u64 {
        let id = self.program.as_ref().expect("the program").id();
        let stat = fs::read_to_string(format!("/proc/{id}/stat")).expect("its status");
        let after_name = stat.rsplit(')').next().expect("fields");
        let fields: Vec<&str> = after_name.split_whitespace().collect();
        [11, 12]
            .iter()
            .map(|i| fields[*i].parse::<u64>().expect("ticks"))
            .sum()
    }
}

fn is_wanted() -> bool {
    std::env::var_os("SIXHOLD_NEED_ADAPTER").is_some_and(|value| value == "1")
}

/// What is missing on this machine; `None` where nothing is.
fn missing() -> Option<&'static str> {
    let runs = |program: &str, argument: &str| {
        let mut command = Command::new(program);
        command
            .arg(argument)
            .stdout(Stdio::null())
            .stderr(Stdio::null());
        command.status().is_ok()
    };
    if !cfg!(target_os = "linux") {
        return Some("an X server");
    }
    if !runs("Xvfb", "-help") {
        return Some("Xvfb");
    }
    (!runs("xdotool", "version")).then_some("xdotool")
}

#[test]
#[expect(
    clippy::print_stderr,
    reason = "a test that does nothing should say so"
)]
fn a_person_can_use_the_window() {
    if let Some(missing) = missing() {
        assert!(!is_wanted(), "{missing} is missing");
        eprintln!("skipped: {missing} is missing");
        return;
    }
    let mut desk = Desk::new().expect("an X server");
    let scene = desk.folder.path().join("scene.ron");
    let text = builtin::find("handrail").expect("a scene").text;
    fs::write(&scene, text).expect("a scene file");
    desk.open(&scene);
    if !shows_itself(&mut desk) {
        assert!(!is_wanted(), "no graphics driver");
        eprintln!("skipped: no graphics driver");
        return;
    }
    it_rests(&mut desk);
    keys_act(&mut desk);
    the_mouse_acts(&mut desk);
    the_wheel_over_the_ledger_is_the_ledgers(&mut desk);
    a_link_is_drawn(&mut desk);
    a_scene_is_made(&mut desk, &scene, text);
    the_file_is_followed(&mut desk, &scene, text);
}

/// Waits for the first picture; `false` where there is no driver to draw it.
fn shows_itself(desk: &mut Desk) -> bool {
    let background = Theme::of(ThemeName::Hall).background;
    let end = Instant::now() + PATIENCE;
    while desk.screen().at(BACKGROUND) != background {
        let log = fs::read_to_string(desk.log()).unwrap_or_default();
        if log.contains("no graphics driver") {
            return false;
        }
        assert!(Instant::now() < end, "no picture; the program said {log}");
        sleep(Duration::from_millis(100));
    }
    let window = desk.window();
    desk.xdotool(&["windowfocus", &window]);
    desk.xdotool(&["mousemove", "500", "200"]);
    true
}

fn it_rests(desk: &mut Desk) {
    desk.wait_for_rest("the first picture");
    let theme = Theme::of(ThemeName::Hall);
    for (what, colour) in [
        ("reactions", theme.reaction),
        ("axis", theme.axis),
        ("load", theme.load),
    ] {
        assert!(
            desk.screen().count(colour) > 100,
            "{what} are not to be seen"
        );
    }
    // The last frames may look the same as those before; after them there are none.
    desk.wait_for("it rests", |desk| {
        let before = desk.processor_time();
        sleep(Duration::from_secs(2));
        desk.processor_time() - before <= RESTING
    });
}

fn keys_act(desk: &mut Desk) {
    for name in [ThemeName::Daylight, ThemeName::Stark, ThemeName::Hall] {
        desk.xdotool(&["key", "t"]);
        let background = Theme::of(name).background;
        desk.wait_for("another theme", |desk| {
            desk.screen().at(BACKGROUND) == background
        });
        desk.wait_for_rest("the theme is on");
    }
    let rest = desk.wait_for_rest("before it moves");
    desk.xdotool(&["key", "space"]);
    desk.wait_for("the body moves", |desk| desk.screen() != rest);
    let once = desk.screen();
    desk.wait_for("it goes on moving", |desk| desk.screen() != once);
    desk.xdotool(&["key", "space"]);
    let held = desk.wait_for_rest("it is held");
    sleep(Duration::from_secs(1));
    assert!(desk.screen() == held, "it moves although it is held");
    desk.change("another view", |desk| {
        desk.xdotool(&["key", "v"]);
    });
}

fn the_mouse_acts(desk: &mut Desk) {
    desk.change("a drag turns the scene", |desk| {
        desk.xdotool(&["mousemove", "500", "100", "mousedown", "1"]);
        for x in ["520", "545", "570"] {
            sleep(Duration::from_millis(60));
            desk.xdotool(&["mousemove", x, "110"]);
        }
        desk.xdotool(&["mouseup", "1"]);
    });
    desk.change("the wheel zooms", |desk| {
        desk.xdotool(&["click", "4"]);
    });
    let surface = Theme::of(ThemeName::Hall).surface;
    assert_ne!(desk.screen().at(LEDGER), surface);
    desk.xdotool(&["mousemove", "1212", "90", "click", "1"]);
    desk.wait_for("a click on the figures opens the ledger", |desk| {
        desk.screen().at(LEDGER) == surface
    });
    desk.wait_for_rest("the ledger is open");
    desk.xdotool(&["mousemove", "500", "100", "key", "Escape"]);
    desk.wait_for("a key closes it", |desk| {
        desk.screen().at(LEDGER) != surface
    });
    desk.wait_for_rest("the ledger is closed");
}

fn the_wheel_over_the_ledger_is_the_ledgers(desk: &mut Desk) {
    desk.change("the ledger opens", |desk| {
        desk.xdotool(&["key", "l"]);
    });
    let columns = 0..500;
    let left = |desk: &Desk| -> Vec<Colour> {
        let screen = desk.screen();
        columns.clone().map(|x| screen.at((x, 300))).collect()
    };
    let before = left(desk);
    desk.xdotool(&["mousemove", "1000", "300", "click", "5", "click", "5"]);
    desk.wait_for_rest("the ledger has scrolled");
    assert!(left(desk) == before, "the picture was zoomed as well");
    desk.change("the ledger closes", |desk| {
        desk.xdotool(&["mousemove", "500", "100", "key", "Escape"]);
    });
}

/// The pointer looks for the body, where a ring shows itself, and pulls a link from there.
fn a_link_is_drawn(desk: &mut Desk) {
    let trial = Theme::of(ThemeName::Hall).trial;
    desk.change("the hint is shown", |desk| {
        desk.xdotool(&["key", "n"]);
    });
    let hint = desk.screen().count(trial);
    // What is not background in the middle of the window is mostly body, which draws the pointer.
    let screen = desk.screen();
    let background = Theme::of(ThemeName::Hall).background;
    let places = screen.places_where(|(x, y), pixel| {
        (200..900).contains(&x) && (100..520).contains(&y) && pixel != background
    });
    let (x, y) = desk
        .find_ring(&places, hint + 20)
        .unwrap_or_else(|| panic!("no ring on the body; {}", desk.keep_screen()));
    let rank_five = desk.screen();
    desk.xdotool(&["mousedown", "1"]);
    for step in 1..=6 {
        sleep(Duration::from_millis(60));
        let (x, y) = (x + 20 * step, y + 12 * step);
        desk.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
    }
    desk.xdotool(&["mouseup", "1"]);
    let drawn = desk.wait_for_rest("the link is drawn");
    assert!(drawn != rank_five);
    assert!(drawn.count(trial) > hint + 100, "no link is to be seen");
    desk.change("the link is taken away", |desk| {
        desk.xdotool(&["key", "Delete", "key", "Escape"]);
    });
    assert!(desk.screen().count(trial) < hint.min(20));
}

/// A support is taken in hand, dragged, undone, taken out, undone and saved; the file is that of the edits, and in the end what it
/// was, to the letter.
fn a_scene_is_made(desk: &mut Desk, scene: &Path, text: &str) {
    let theme = Theme::of(ThemeName::Hall);
    let places = desk
        .screen()
        .places_where(|_, pixel| pixel == theme.reaction);
    let marked = |desk: &Desk, least: usize| desk.screen().count(theme.trial) > least;
    let (x, y) = desk
        .find_ring(&places, 40)
        .unwrap_or_else(|| panic!("no ring around a support; {}", desk.keep_screen()));
    desk.xdotool(&["click", "1"]);
    desk.wait_for("a support is in hand", |desk| marked(desk, 150));
    desk.wait_for_rest("it is in hand");
    let saved = |desk: &mut Desk, what: &str, is: &dyn Fn(&str) -> bool| {
        desk.xdotool(&["key", "ctrl+s"]);
        desk.wait_for(what, |_| {
            fs::read_to_string(scene).is_ok_and(|now| is(&now))
        });
        desk.wait_for_rest(what);
    };
    desk.change("it is dragged", |desk| {
        desk.xdotool(&["mousedown", "1"]);
        for step in 1..=5 {
            sleep(Duration::from_millis(80));
            let (x, y) = (x + 12 * step, y + 4 * step);
            desk.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
        }
        sleep(Duration::from_millis(300));
        desk.xdotool(&["mouseup", "1"]);
    });
    saved(desk, "the drag is saved", &|now| {
        let changed = now
            .lines()
            .zip(text.lines())
            .filter(|(now, was)| now != was);
        now.lines().count() == text.lines().count() && changed.count() == 1
    });
    desk.xdotool(&["key", "ctrl+z"]);
    saved(desk, "the drag is undone", &|now| now == text);
    desk.xdotool(&["key", "Delete"]);
    saved(desk, "the support is gone", &|now| {
        now.matches("BallJoint").count() + 1 == text.matches("BallJoint").count()
    });
    desk.xdotool(&["key", "ctrl+z"]);
    saved(desk, "the support is back", &|now| now == text);
    desk.xdotool(&["mousemove", "12", "12", "key", "Escape"]);
    desk.wait_for("nothing is in hand", |desk| !marked(desk, 20));
    desk.wait_for_rest("nothing is in hand");
}

fn the_file_is_followed(desk: &mut Desk, scene: &Path, text: &str) {
    let error = Theme::of(ThemeName::Hall).error;
    let title = desk.title();
    assert!(desk.screen().count(error) < 10);
    let broken = text.replace("supports:", "suports:");
    fs::write(scene, broken).expect("a broken edit");
    desk.wait_for("the error is shown", |desk| {
        desk.screen().count(error) > 100
    });
    assert_eq!(desk.title(), title);
    let reaction = Theme::of(ThemeName::Hall).reaction;
    assert!(
        desk.screen().count(reaction) > 100,
        "the last good picture is gone"
    );

    let held = builtin::find("mirror-cell").expect("a scene").text;
    fs::write(scene, held).expect("another scene");
    desk.wait_for("the error goes away", |desk| {
        desk.screen().count(error) < 10
    });
    desk.wait_for("the window has the new title", |desk| desk.title() != title);
}
