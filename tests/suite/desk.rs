//! A desk to work at: a real X server with the program's window on it, real keys and mouse, the pixels that come out.

use std::fs::{self, File};
use std::io::{BufRead, BufReader};
use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use sixhold::theme::{Colour, Theme, ThemeName};

/// Longest that anything may take, on a machine without a graphics card that is busy with other things.
const PATIENCE: Duration = Duration::from_secs(90);
/// A point of the scene where only the background is.
pub(crate) const BACKGROUND: (usize, usize) = (12, 12);
/// Places that are looked at for the body.
const LOOKS: usize = 60;
/// How long each look at them takes, from the first round to the last.
const PAUSES: [Duration; 3] = [
    Duration::from_millis(400),
    Duration::from_millis(1200),
    Duration::from_millis(3000),
];

/// Pixels of the ring around one place, and any number of them.
pub(crate) const ONE_RING: RangeInclusive<usize> = 40..=300;
pub(crate) const ANY_RINGS: usize = usize::MAX;

/// A screen's pixels.
#[derive(PartialEq, Eq)]
pub(crate) struct Screen {
    width: usize,
    pixels: Vec<Colour>,
}

impl Screen {
    pub(crate) fn at(&self, (x, y): (usize, usize)) -> Colour {
        self.pixels[y * self.width + x]
    }

    /// Where the pixels are that are asked for.
    pub(crate) fn places_where(
        &self,
        wanted: impl Fn((usize, usize), Colour) -> bool,
    ) -> Vec<(usize, usize)> {
        let pixels = self.pixels.iter().enumerate();
        let placed =
            pixels.map(|(index, pixel)| ((index % self.width, index / self.width), *pixel));
        placed
            .filter(|(place, pixel)| wanted(*place, *pixel))
            .map(|(place, _)| place)
            .collect()
    }

    pub(crate) fn count(&self, colour: Colour) -> usize {
        self.pixels.iter().filter(|pixel| **pixel == colour).count()
    }
}

/// An X server with the program's window on it.
pub(crate) struct Desk {
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

    /// A desk with the window on a scene of this text, in a file of its own; `None`, and a word why, where this machine cannot
    /// show it and need not.
    #[expect(
        clippy::print_stderr,
        reason = "a test that does nothing should say so"
    )]
    pub(crate) fn with_scene(text: &str) -> Option<(Self, PathBuf)> {
        let skipped = |missing: &str| {
            assert!(!is_wanted(), "{missing} is missing");
            eprintln!("skipped: {missing} is missing");
        };
        if let Some(missing) = missing() {
            skipped(missing);
            return None;
        }
        let mut desk = Self::new().expect("an X server");
        let scene = desk.folder.path().join("scene.ron");
        fs::write(&scene, text).expect("a scene file");
        desk.open(&scene);
        if !shows_itself(&mut desk) {
            skipped("a graphics driver");
            return None;
        }
        Some((desk, scene))
    }

    fn open(&mut self, scene: &Path) {
        let program = Command::new(env!("CARGO_BIN_EXE_sixhold"))
            .arg("view")
            .arg(scene)
            // Whatever is typed as a path lies here.
            .current_dir(self.folder.path())
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
    pub(crate) fn xdotool(&self, words: &[&str]) -> String {
        let output = Command::new("xdotool")
            .args(words)
            .env("DISPLAY", &self.display)
            .output()
            .expect("xdotool");
        String::from_utf8_lossy(&output.stdout).trim().to_owned()
    }

    /// What the program said.
    pub(crate) fn said(&self) -> String {
        fs::read_to_string(self.log()).unwrap_or_default()
    }

    /// Whether the program is still there.
    pub(crate) fn is_running(&mut self) -> bool {
        let program = self.program.as_mut().expect("the program");
        matches!(program.try_wait(), Ok(None))
    }

    /// Memory of the program, in MiB (Linux, proc(5): VmRSS).
    pub(crate) fn memory(&self) -> u64 {
        let id = self.program.as_ref().expect("the program").id();
        let status = fs::read_to_string(format!("/proc/{id}/status")).expect("its status");
        let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
        let number = line.and_then(|line| line.split_whitespace().next()?.parse::<u64>().ok());
        number.expect("its memory") / 1024
    }

    pub(crate) fn window(&self) -> String {
        let found = self.xdotool(&["search", "--name", "^Sixhold"]);
        found.lines().last().unwrap_or_default().to_owned()
    }

    pub(crate) fn title(&self) -> String {
        self.xdotool(&["getwindowname", &self.window()])
    }

    /// The server's frame buffer, an X window dump (X.Org, XWDFile.h).
    pub(crate) fn screen(&self) -> Screen {
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
    pub(crate) fn wait_for(&mut self, what: &str, seen: impl Fn(&Self) -> bool) {
        let end = Instant::now() + PATIENCE;
        while !seen(self) {
            let ended = self
                .program
                .as_mut()
                .and_then(|p| p.try_wait().ok().flatten());
            let log = self.said();
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
    pub(crate) fn keep_screen(&self) -> String {
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
    pub(crate) fn wait_for_rest(&mut self, what: &str) -> Screen {
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
    pub(crate) fn change(&mut self, what: &str, act: impl Fn(&Self)) {
        let before = self.wait_for_rest(what);
        act(self);
        self.wait_for(what, |desk| desk.screen() != before);
        self.wait_for_rest(what);
    }

    /// Moves the pointer over the places until so many pixels have the colour of what is on trial, and leaves it there. A busy machine may show a ring late, so whoever finds none looks again and waits longer.
    pub(crate) fn find_ring(
        &mut self,
        places: &[(usize, usize)],
        marked: RangeInclusive<usize>,
    ) -> Option<(usize, usize)> {
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
                let is_marked = |screen: &Screen| marked.contains(&screen.count(trial));
                if is_marked(&self.screen()) && is_marked(&self.wait_for_rest("the pointer rests"))
                {
                    return Some((x, y));
                }
            }
        }
        None
    }

    /// Processor time used so far, in hundredths of a second (Linux, proc(5), fields 14 and 15).
    pub(crate) fn processor_time(&self) -> u64 {
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

/// Whether a pixel has a colour under more or less light.
pub(crate) fn is_shade(pixel: Colour, of: Colour) -> bool {
    let [pixel, of] = [pixel, of].map(|c| [c.0, c.1, c.2].map(f64::from));
    let dot = |a: &[f64; 3], b: &[f64; 3]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let size = |a: &[f64; 3]| dot(a, a).sqrt();
    let light = size(&pixel) / size(&of);
    (0.5..1.2).contains(&light) && dot(&pixel, &of) > 0.999 * size(&pixel) * size(&of)
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

/// Waits for the first picture; `false` where there is no driver to draw it.
fn shows_itself(desk: &mut Desk) -> bool {
    let background = Theme::of(ThemeName::Hall).background;
    let end = Instant::now() + PATIENCE;
    while desk.screen().at(BACKGROUND) != background {
        let log = desk.said();
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
