//! Small pictures and verdicts of the scenes in the list, made while the list is open: on a thread of their own where there is one.

use std::collections::HashMap;
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::SystemTime;

use bevy::prelude::*;

use super::file_watch::FileWatch;
use super::platform::WakeLoop;
use super::redraw::FramesToDraw;
use super::scene_list::SceneList;
use super::small_picture::SmallPicture;
use super::state::{Source, ViewerSystems};
use crate::study::Study;
use crate::wording;

/// Makes previews.
pub(crate) struct PreviewsPlugin;

impl Plugin for PreviewsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Previews>()
            .init_resource::<FramesToDraw>()
            .add_systems(Update, (ask, hear).chain().in_set(ViewerSystems::Stage));
    }
}

/// What is shown of a scene in the list.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Preview {
    /// Its picture, where anything of it can be drawn.
    pub picture: Option<SmallPicture>,
    /// Its verdict in a word or two; why there is none, where it cannot be read.
    pub verdict: String,
}

impl Preview {
    fn of(source: &Source) -> Self {
        match Study::read(source.clone()) {
            Ok(study) => {
                let caption = wording::caption(study.model(), study.diagnosis(), study.uncarried());
                let verdict = caption.verdict.to_string();
                Self {
                    picture: SmallPicture::of(&study),
                    verdict: verdict.trim_end_matches(':').to_owned(),
                }
            }
            Err(_) => Self {
                picture: None,
                verdict: "Cannot be read".to_owned(),
            },
        }
    }
}

/// The previews, as far as they have been made.
#[derive(Resource, Default)]
pub(crate) struct Previews {
    made: HashMap<Source, MadePreview>,
    worker: Option<Worker>,
    /// Whether the list is open: nothing is made for a list that nobody sees.
    wanted: bool,
}

/// A preview, asked for or made, of a file as it was saved last.
struct MadePreview {
    saved: Option<SystemTime>,
    preview: Option<Preview>,
}

/// When a file was saved last; `None` of what is no file.
fn saved(source: &Source) -> Option<SystemTime> {
    match source {
        Source::File(path) => path.metadata().and_then(|file| file.modified()).ok(),
        _ => None,
    }
}

/// The thread that makes them.
struct Worker {
    asks: Sender<Source>,
    answers: Mutex<Receiver<(Source, Preview)>>,
}

impl Previews {
    /// The preview of a scene, as soon as there is one.
    pub(crate) fn of(&self, source: &Source) -> Option<&Preview> {
        self.made.get(source)?.preview.as_ref()
    }

    fn insert(&mut self, source: Source, preview: Option<Preview>) {
        let saved = saved(&source);
        self.made.insert(source, MadePreview { saved, preview });
    }

    /// Opens or closes the list; what has been saved since it was open last is made anew.
    pub(crate) fn show(&mut self, wanted: bool) {
        if wanted && !self.wanted {
            self.made.retain(|source, made| made.saved == saved(source));
        }
        self.wanted = wanted;
    }
}

fn ask(
    list: Option<Res<SceneList>>,
    watch: Option<Res<FileWatch>>,
    mut previews: ResMut<Previews>,
    mut frames: ResMut<FramesToDraw>,
) {
    let Some(list) = list.filter(|_| previews.wanted) else {
        return;
    };
    let missing: Vec<Source> = list
        .entries()
        .map(|entry| entry.source.clone())
        .filter(|source| !previews.made.contains_key(source))
        .collect();
    if missing.is_empty() {
        return;
    }
    if previews.worker.is_none() {
        previews.worker = start(watch.and_then(|watch| watch.wake()));
    }
    let Some(worker) = &previews.worker else {
        // Without threads, as in a browser, one in every frame.
        let source = missing[0].clone();
        let preview = Some(Preview::of(&source));
        previews.insert(source, preview);
        return frames.at_least_one();
    };
    for source in &missing {
        // A thread that is gone makes no more of them.
        let _ = worker.asks.send(source.clone());
    }
    for source in missing {
        previews.insert(source, None);
    }
}

/// Starts the thread; `None` where the system has none to give.
fn start(wake: Option<WakeLoop>) -> Option<Worker> {
    let (asks, asked) = channel::<Source>();
    let (answer, answers) = channel();
    let work = move || {
        for source in asked {
            let preview = Preview::of(&source);
            if answer.send((source, preview)).is_err() {
                return;
            }
            if let Some(wake) = &wake {
                wake();
            }
        }
    };
    let thread = thread::Builder::new().name("previews".to_owned());
    thread.spawn(work).ok()?;
    Some(Worker {
        asks,
        answers: Mutex::new(answers),
    })
}

fn hear(mut previews: ResMut<Previews>, mut frames: ResMut<FramesToDraw>) {
    let Some(worker) = &previews.worker else {
        return;
    };
    let answers = worker.answers.lock();
    let heard: Vec<(Source, Preview)> =
        answers.map_or_else(|_| Vec::new(), |answers| answers.try_iter().collect());
    if heard.is_empty() {
        return;
    }
    for (source, preview) in heard {
        if let Some(made) = previews.made.get_mut(&source) {
            made.preview = Some(preview);
        }
    }
    frames.at_least_one();
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use super::*;
    use crate::scene::builtin;

    fn app() -> App {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, PreviewsPlugin))
            .init_resource::<SceneList>();
        app
    }

    /// The verdict of a scene, for which the list is opened anew.
    fn verdict(app: &mut App, source: &Source) -> String {
        let mut previews = app.world_mut().resource_mut::<Previews>();
        previews.show(false);
        previews.show(true);
        let end = Instant::now() + Duration::from_secs(60);
        loop {
            app.update();
            let previews = app.world().resource::<Previews>();
            if let Some(preview) = previews.of(source) {
                return preview.verdict.clone();
            }
            assert!(Instant::now() < end, "no preview");
            thread::sleep(Duration::from_millis(5));
        }
    }

    #[test]
    fn they_are_made_while_the_list_is_open() {
        let mut app = app();
        app.update();
        assert!(app.world().resource::<Previews>().made.is_empty());
        let source = Source::BuiltIn("handrail");
        assert_eq!(verdict(&mut app, &source), "Not held");
    }

    /// A preview was made anew for every frame of a drag, and of what the file still said.
    #[test]
    fn what_was_saved_meanwhile_is_made_anew() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        let source = Source::File(path.clone());
        let mut app = app();
        for (name, expected) in [("handrail", "Not held"), ("mirror-cell", "Held")] {
            std::fs::write(&path, builtin::find(name).unwrap().text).unwrap();
            let scene = source.load().unwrap().scene;
            let mut list = app.world_mut().resource_mut::<SceneList>();
            list.keep(Some(&source), &scene);
            assert_eq!(verdict(&mut app, &source), expected);
        }
    }
}
