//! One handout in the making, on a thread of its own: it can be stopped, and says how it ended.

use std::ffi::OsString;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use super::{Clipboard, Handout};
use crate::steps;
use crate::viewer::platform::WakeLoop;

/// How often a running program is looked at.
const LOOK: Duration = Duration::from_millis(100);
/// How often the window is told that seconds go by.
const TICK: Duration = Duration::from_millis(500);
/// Held while a picture is drawn: each takes a renderer, and two at once twice the memory.
static DRAWING: Mutex<()> = Mutex::new(());
/// How long a program that is asked to stop may take.
const GRACE: Duration = Duration::from_secs(5);

/// How a job ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum JobOutcome {
    /// Its file is there.
    Written,
    /// It was stopped; nothing was written.
    Stopped,
    /// It failed, for this reason; nothing was written.
    Failed(String),
}

/// A handout in the making.
pub(crate) struct Job {
    pub(super) handout: Handout,
    pub(super) path: PathBuf,
    since: Instant,
    shared: Arc<Shared>,
}

/// What the job's thread and the window both know.
#[derive(Default)]
struct Shared {
    stopped: AtomicBool,
    outcome: Mutex<Option<JobOutcome>>,
    /// How many steps are done, of how many, where they are counted.
    steps: Mutex<Option<(u64, u64)>>,
}

impl Job {
    pub(super) fn of(handout: Handout, path: PathBuf) -> Self {
        Self {
            handout,
            path,
            since: Instant::now(),
            shared: Arc::default(),
        }
    }

    /// Draws a picture for the clipboard, which keeps it as long as the program runs.
    pub(super) fn copy(
        arguments: impl FnOnce(&Path) -> Vec<OsString>,
        scene: String,
        clipboard: Clipboard,
        wake: Option<WakeLoop>,
    ) -> Self {
        let job = Self::of(Handout::Copy, PathBuf::new());
        let folder = match tempfile::tempdir() {
            Ok(folder) => folder,
            Err(error) => {
                job.shared.end(JobOutcome::Failed(error.to_string()));
                return job;
            }
        };
        let path = folder.path().join("picture.png");
        let arguments = arguments(&path);
        job.begin(wake, move |shared| {
            // Held until the picture is read.
            let _folder = folder;
            let copied = draw(&arguments, scene, shared).and_then(|outcome| match outcome {
                JobOutcome::Written => copy(&path, &clipboard),
                other => Ok(other),
            });
            copied.unwrap_or_else(JobOutcome::Failed)
        });
        job
    }

    /// Runs this program with a scene on its standard input.
    pub(super) fn run(
        handout: Handout,
        arguments: Vec<OsString>,
        scene: String,
        path: PathBuf,
        wake: Option<WakeLoop>,
    ) -> Self {
        let job = Self::of(handout, path);
        job.begin(wake, move |shared| {
            let done = match handout {
                Handout::Picture { .. } => draw(&arguments, scene, shared),
                _ => run(&arguments, scene, shared),
            };
            done.unwrap_or_else(JobOutcome::Failed)
        });
        job
    }

    fn begin(
        &self,
        wake: Option<WakeLoop>,
        work: impl FnOnce(&Shared) -> JobOutcome + Send + 'static,
    ) {
        let shared = self.shared.clone();
        let (ticking, ticks) = (self.shared.clone(), wake.clone());
        let done = move || {
            let outcome = work(&shared);
            shared.end(outcome);
            if let Some(wake) = wake {
                wake();
            }
        };
        let begun = thread::Builder::new()
            .name("handout".to_owned())
            .spawn(done);
        if let Err(error) = begun {
            return self.shared.end(JobOutcome::Failed(error.to_string()));
        }
        if let Some(tick) = ticks {
            // Without it the seconds are counted only when something else wakes the window.
            let _ = thread::Builder::new().spawn(move || {
                while ticking.outcome().is_none() {
                    tick();
                    thread::sleep(TICK);
                }
            });
        }
    }

    /// Stops it as soon as can be.
    pub(super) fn stop(&self) {
        self.shared.stopped.store(true, Ordering::Relaxed);
    }

    #[cfg(test)]
    pub(super) fn end(&self, outcome: JobOutcome) {
        self.shared.end(outcome);
    }

    /// How it ended; `None` while it goes on.
    pub(super) fn outcome(&self) -> Option<JobOutcome> {
        self.shared.outcome()
    }

    /// Whole seconds since it began.
    pub(super) fn seconds(&self) -> u64 {
        self.since.elapsed().as_secs()
    }

    /// How much of it is done, 0 to 1, and about how many seconds are left; `None` where its steps are not counted.
    pub(super) fn progress(&self) -> Option<(f32, u64)> {
        let (done, all) = self.shared.steps()?;
        let left = self.since.elapsed().as_secs_f64() * (all - done.min(all)) as f64;
        let left = left / done.max(1) as f64;
        Some((done as f32 / all as f32, left.ceil() as u64))
    }
}

impl Drop for Job {
    fn drop(&mut self) {
        self.stop();
    }
}

impl Shared {
    fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }

    fn steps(&self) -> Option<(u64, u64)> {
        *self.steps.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn end(&self, outcome: JobOutcome) {
        let mut place = self.outcome.lock().unwrap_or_else(PoisonError::into_inner);
        *place = Some(outcome);
    }

    fn outcome(&self) -> Option<JobOutcome> {
        let place = self.outcome.lock().unwrap_or_else(PoisonError::into_inner);
        place.clone()
    }
}

/// Draws a picture, after those that were asked for before it.
fn draw(arguments: &[OsString], scene: String, shared: &Shared) -> Result<JobOutcome, String> {
    let _turn = DRAWING.lock().unwrap_or_else(PoisonError::into_inner);
    match shared.is_stopped() {
        true => Ok(JobOutcome::Stopped),
        false => run(arguments, scene, shared),
    }
}

/// Puts the picture of a file into the clipboard.
fn copy(path: &Path, clipboard: &Clipboard) -> Result<JobOutcome, String> {
    let picture = image::open(path).map_err(|error| error.to_string())?;
    clipboard.take(picture.into_rgba8())?;
    Ok(JobOutcome::Written)
}

/// Runs this program until it ends or is stopped.
fn run(arguments: &[OsString], scene: String, shared: &Shared) -> Result<JobOutcome, String> {
    let program = std::env::current_exe().map_err(|error| error.to_string())?;
    let mut child = start(&program, arguments).map_err(|error| error.to_string())?;
    if let Some(mut input) = child.stdin.take() {
        // A program that has ended by then says why.
        let _ = input.write_all(scene.as_bytes());
    }
    let errors = child.stderr.take();
    thread::scope(|scope| {
        let said = scope.spawn(|| errors.map(|errors| listen(errors, shared)));
        let outcome = wait_for(&mut child, shared)?;
        // What it said is not worth a panic of its own.
        let said = said.join().ok().flatten().unwrap_or_default();
        outcome.ok_or_else(|| complaint(&said))
    })
}

/// How a running program ended; `None` where it failed.
fn wait_for(child: &mut Child, shared: &Shared) -> Result<Option<JobOutcome>, String> {
    let mut stopping = None;
    loop {
        if shared.is_stopped() {
            let since = *stopping.get_or_insert_with(|| {
                ask_to_stop(child);
                Instant::now()
            });
            if since.elapsed() > GRACE {
                // It may have ended by itself.
                let _ = child.kill();
            }
        }
        match child.try_wait().map_err(|error| error.to_string())? {
            Some(status) if status.success() => return Ok(Some(JobOutcome::Written)),
            Some(_) if stopping.is_some() => return Ok(Some(JobOutcome::Stopped)),
            Some(_) => return Ok(None),
            None => thread::sleep(LOOK),
        }
    }
}

/// Asks a program to stop and to leave nothing behind.
#[cfg(unix)]
fn ask_to_stop(child: &mut Child) {
    let id = i32::try_from(child.id()).ok();
    if let Some(id) = id.and_then(rustix::process::Pid::from_raw) {
        // It may have ended by itself.
        let _ = rustix::process::kill_process(id, rustix::process::Signal::TERM);
    }
}

#[cfg(not(unix))]
fn ask_to_stop(child: &mut Child) {
    // It may have ended by itself.
    let _ = child.kill();
}

/// Hears of a program's steps until it ends; returns what else it said.
fn listen(errors: impl Read, shared: &Shared) -> String {
    let mut said = String::new();
    for line in BufReader::new(errors).lines().map_while(Result::ok) {
        match steps::read(&line) {
            Some(steps) => {
                *shared.steps.lock().unwrap_or_else(PoisonError::into_inner) = Some(steps);
            }
            None => said = said + &line + "\n",
        }
    }
    said
}

fn start(program: &Path, arguments: &[OsString]) -> std::io::Result<Child> {
    Command::new(program)
        .args(arguments)
        .env(steps::VARIABLE, "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
}

/// The first error that a program said.
fn complaint(said: &str) -> String {
    let error = said.lines().find_map(|line| line.strip_prefix("error: "));
    error
        .unwrap_or("the program ended with an error")
        .to_owned()
}
