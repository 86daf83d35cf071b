//! Handouts that this very program makes, run once more with the scene on its standard input: what the window hands out is what
//! the command line writes, and the memory that a renderer takes goes with its run.

mod clipboard;
mod drawer;
mod job;
mod order;

use std::path::{Path, PathBuf};

use bevy::prelude::*;
use bevy_panorbit_camera::PanOrbitCamera;

use super::Handout;
use crate::scene;
use crate::viewer::camera::{self, CurrentView, FreeArea, WindowCamera};
use crate::viewer::file_watch::FileWatch;
use crate::viewer::framing::{CameraPose, ViewBounds};
use crate::viewer::intent::{HandoutIntent, add_messages};
use crate::viewer::making::SceneEditor;
use crate::viewer::redraw::FramesToDraw;
use crate::viewer::shown::ShownParam;
use crate::viewer::state::{Look, Playback, Source, ViewerSystems};
use clipboard::Clipboard;
pub(crate) use drawer::handouts_ui;
use job::Job;
use order::Order;

/// Makes handouts.
pub(crate) struct HandoutsPlugin;

impl Plugin for HandoutsPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<Handouts>()
            .init_resource::<FramesToDraw>()
            .add_systems(
                Update,
                (follow_intents, hear_of_jobs)
                    .chain()
                    .in_set(ViewerSystems::Input),
            );
    }
}

/// What is being made, and what was.
#[derive(Resource, Default)]
pub(crate) struct Handouts {
    jobs: Vec<Job>,
    clipboard: Clipboard,
    /// What became of the link that was copied last.
    link: Option<Result<(), String>>,
}

/// Most that are remembered; the oldest that are done go first.
const REMEMBERED: usize = 6;

fn follow_intents(
    mut intents: MessageReader<HandoutIntent>,
    mut handouts: ResMut<Handouts>,
    shown: ShownParam,
    (look, playback): (Res<Look>, Res<Playback>),
    (watch, editor): (Option<Res<FileWatch>>, Option<Res<SceneEditor>>),
    mut frames: ResMut<FramesToDraw>,
    stand: PictureState,
) {
    for intent in intents.read() {
        frames.until_settled();
        let shown = shown.read();
        let order = Order {
            shown,
            look: *look,
            playback: &playback,
            aspect: stand.aspect(),
            pose: stand.pose(),
        };
        match intent {
            HandoutIntent::CopyLink => {
                let draft = editor.as_ref().and_then(|editor| editor.draft());
                let copied = order
                    .address(draft)
                    .and_then(|link| handouts.clipboard.take_text(link));
                handouts.link = Some(copied);
            }
            HandoutIntent::Make(handout) => {
                let wake = watch.as_ref().and_then(|watch| watch.wake());
                let path = free_path(shown.source(), shown.written.name(), *handout, &handouts);
                let scene = scene::to_ron(shown.study.scene());
                let job = match handout {
                    Handout::Copy => {
                        let clipboard = handouts.clipboard.clone();
                        Job::copy(
                            |path| order.arguments(*handout, path),
                            scene,
                            clipboard,
                            wake,
                        )
                    }
                    _ => {
                        let arguments = order.arguments(*handout, &path);
                        Job::run(*handout, arguments, scene, path, wake)
                    }
                };
                handouts.jobs.push(job);
                handouts.forget_old();
            }
            HandoutIntent::Stop(index) => {
                if let Some(job) = handouts.jobs.get(*index) {
                    job.stop();
                }
            }
        }
    }
}

impl Handouts {
    fn forget_old(&mut self) {
        while self.jobs.len() > REMEMBERED {
            let done = self.jobs.iter().position(|job| job.outcome().is_some());
            match done {
                Some(oldest) => drop(self.jobs.remove(oldest)),
                None => return,
            }
        }
    }
}

/// Jobs that go on are counted in seconds, and one that is done is said at once.
fn hear_of_jobs(
    handouts: Res<Handouts>,
    mut running: Local<usize>,
    mut frames: ResMut<FramesToDraw>,
) {
    let now = handouts.jobs.iter().filter(|job| job.outcome().is_none());
    let now = now.count();
    if now > 0 || now != *running {
        *running = now;
        frames.at_least_one();
    }
}

/// What makes the window's picture what it is.
#[derive(bevy::ecs::system::SystemParam)]
struct PictureState<'w, 's> {
    free: Res<'w, FreeArea>,
    bounds: Option<Res<'w, ViewBounds>>,
    view: Option<Res<'w, CurrentView>>,
    camera:
        Option<Single<'w, 's, (&'static Transform, &'static PanOrbitCamera), With<WindowCamera>>>,
}

impl PictureState<'_, '_> {
    fn aspect(&self) -> f32 {
        self.free.aspect()
    }

    /// The window's camera, for a picture of what the panels leave of it.
    fn pose(&self) -> Option<CameraPose> {
        let (place, orbit) = **self.camera.as_ref()?;
        let (bounds, view) = (self.bounds.as_ref()?, self.view.as_ref()?);
        let parallel = view.is_parallel(bounds.planar);
        Some(camera::pose_of(place, orbit, bounds, parallel))
    }
}

/// A name beside the scene's file, or in the folder that the program runs in, that no file has and no job writes.
fn free_path(source: Option<&Source>, name: &str, handout: Handout, made: &Handouts) -> PathBuf {
    let folder = match source {
        Some(Source::File(path)) => path.parent().map(Path::to_owned),
        _ => None,
    };
    let folder = folder.filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder
        .or_else(|| std::env::current_dir().ok())
        .unwrap_or_default();
    let stem = match source {
        Some(Source::File(path)) => path.file_stem().unwrap_or_default().to_owned(),
        _ => name.into(),
    };
    let named = |count: usize| {
        let count = match count {
            1 => String::new(),
            _ => format!("-{count}"),
        };
        let mut file = stem.clone();
        file.push(format!("-{}{count}.{}", handout.word(), handout.ending()));
        folder.join(file)
    };
    let taken = |path: &PathBuf| path.exists() || made.jobs.iter().any(|job| job.path == *path);
    let free = (1..).map(named).find(|path| !taken(path));
    free.expect("there are numbers without end")
}

#[cfg(test)]
mod tests {
    use super::job::JobOutcome;
    use super::*;

    #[test]
    fn nothing_is_written_over_and_files_lie_beside_the_scene() {
        let folder = tempfile::tempdir().unwrap();
        let scene = Source::File(folder.path().join("rail.ron"));
        let made = Handouts::default();
        let path = |handout| free_path(Some(&scene), "rail", handout, &made);
        assert_eq!(path(Handout::Report), folder.path().join("rail-report.pdf"));
        std::fs::write(folder.path().join("rail-report.pdf"), "mine").unwrap();
        assert_eq!(
            path(Handout::Report),
            folder.path().join("rail-report-2.pdf")
        );
        assert_eq!(
            path(Handout::Slides),
            folder.path().join("rail-slides.html")
        );
    }

    #[test]
    fn what_is_done_is_said_and_what_fails_says_why() {
        let job = Job::of(Handout::Report, PathBuf::from("a.pdf"));
        assert!(job.outcome().is_none());
        job.end(JobOutcome::Failed("no room".to_owned()));
        assert_eq!(
            job.outcome(),
            Some(JobOutcome::Failed("no room".to_owned()))
        );
    }
}
