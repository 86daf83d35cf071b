//! Small pictures and verdicts of the scenes in the list, made on a thread of their own while the list is open.

use std::collections::HashMap;
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use bevy::prelude::*;

use super::redraw::FramesToDraw;
use super::scene_list::SceneList;
use super::shown::Written;
use super::small_picture::SmallPicture;
use super::state::{Source, ViewerSystems};
use super::watch::{Wake, Watch};
use crate::study::Study;
use crate::wording;

/// Makes previews.
pub(crate) struct PreviewsPlugin;

impl Plugin for PreviewsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Previews>()
            .init_resource::<FramesToDraw>()
            .add_systems(
                Update,
                (forget_edited, ask, hear)
                    .chain()
                    .in_set(ViewerSystems::Stage),
            );
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
    made: HashMap<Source, Option<Preview>>,
    worker: Option<Worker>,
    /// Whether the list is open: nothing is made for a list that nobody sees.
    pub(crate) wanted: bool,
}

/// The thread that makes them.
struct Worker {
    asks: Sender<Source>,
    answers: Mutex<Receiver<(Source, Preview)>>,
}

impl Previews {
    /// The preview of a scene, as soon as there is one.
    pub(crate) fn of(&self, source: &Source) -> Option<&Preview> {
        self.made.get(source)?.as_ref()
    }
}

/// The scene on the stage may have another verdict now.
fn forget_edited(written: Option<Res<Written>>, mut previews: ResMut<Previews>) {
    if let Some(written) = written.filter(|written| written.is_changed())
        && let Some(source) = written.0.source()
        && previews.made.contains_key(source)
    {
        let preview = Preview::of(source);
        previews.made.insert(source.clone(), Some(preview));
    }
}

fn ask(list: Option<Res<SceneList>>, watch: Option<Res<Watch>>, mut previews: ResMut<Previews>) {
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
    for source in missing {
        if let Some(worker) = &previews.worker {
            // A thread that is gone makes no more of them.
            let _ = worker.asks.send(source.clone());
        }
        previews.made.insert(source, None);
    }
}

/// Starts the thread; `None` where the system has none to give.
fn start(wake: Option<Wake>) -> Option<Worker> {
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
        previews.made.insert(source, Some(preview));
    }
    frames.at_least_one();
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use super::*;

    #[test]
    fn they_are_made_while_the_list_is_open() {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, PreviewsPlugin))
            .init_resource::<SceneList>();
        let source = Source::BuiltIn("handrail");
        let verdict = |app: &App| {
            let previews = app.world().resource::<Previews>();
            previews.of(&source).map(|preview| preview.verdict.clone())
        };
        app.update();
        assert!(app.world().resource::<Previews>().made.is_empty());
        app.world_mut().resource_mut::<Previews>().wanted = true;
        let end = Instant::now() + Duration::from_secs(60);
        while verdict(&app).is_none() && Instant::now() < end {
            app.update();
            thread::sleep(Duration::from_millis(5));
        }
        assert_eq!(verdict(&app).as_deref(), Some("Not held"));
    }
}
