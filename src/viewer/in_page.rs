//! The window as a part of a web page, on its canvas: what it shows it tells the page, and it does what the page asks.

use bevy::log::{Level, LogPlugin};
use bevy::picking::mesh_picking::MeshPickingPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::window::{PresentMode, PrimaryWindow};

use super::app::ViewerPlugin;
use super::camera::FreeArea;
use super::file_watch::FileWatch;
use super::intent::{LookIntent, SceneIntent};
use super::library;
use super::making::SceneEditor;
use super::platform::browser::{self, PageOrder, WindowNews};
use super::shown::{Selected, ShownMut, ShownParam, show};
use super::state::{Look, Source, ViewerSystems};
use crate::draft::Proposal;
use crate::scene::{Scene, builtin, read_str};
use crate::statics::CaseIndex;
use crate::study::{OpenError, Study};
use crate::theme::ThemeName;

/// How the window begins in a page.
#[derive(Debug, Clone)]
pub struct PageWindow {
    /// The text of the scene to show first.
    pub text: String,
    /// Selector of the canvas that it is drawn on, which fills the element around it.
    pub canvas: String,
    /// Name of the theme.
    pub theme: String,
    /// No camera flights.
    pub reduced_motion: bool,
}

/// Puts the window into a page; it runs on after this has returned. The listener hears what it says, as JSON.
///
/// # Errors
/// An [`OpenError`] where the scene cannot be opened.
pub fn begin(window: PageWindow, listener: Box<dyn Fn(&str)>) -> Result<(), OpenError> {
    browser::listen(listener);
    let study = Study::read(source_of(&window.text))?;
    let theme = theme_named(&window.theme).unwrap_or_default();
    let look = Look {
        // Samples cannot change from frame to frame in WebGL, whatever draws.
        software: false,
        reduced_motion: window.reduced_motion,
        ..Look::new(theme)
    };
    let mut app = App::new();
    app.add_plugins(bevy_plugins(study.scene(), window.canvas))
        .insert_resource(look)
        .add_plugins((ViewerPlugin, MeshPickingPlugin, PagePlugin));
    let selected = Selected::of(&study, CaseIndex::FIRST, None);
    show(app.world_mut(), study, selected);
    app.run();
    Ok(())
}

/// Shows another scene.
pub fn open(text: String) {
    browser::order(PageOrder::Open { text });
}

/// Takes up, as a step, what was made of the scene elsewhere.
pub fn change(text: String) {
    browser::order(PageOrder::Change { text });
}

/// Takes it that this text of the scene is saved.
pub fn saved(text: String) {
    browser::order(PageOrder::Saved { text });
}

/// Puts on the colours of a theme.
pub fn dress(theme: String) {
    browser::order(PageOrder::Dress { theme });
}

/// A built-in scene, where the text is that of one; else the text itself.
fn source_of(text: &str) -> Source {
    let known = builtin::all().iter().find(|scene| scene.text == text);
    known.map_or_else(
        || Source::Address(text.into()),
        |scene| Source::BuiltIn(scene.name),
    )
}

fn theme_named(word: &str) -> Option<ThemeName> {
    ThemeName::ALL
        .into_iter()
        .find(|theme| theme.word() == word)
}

fn bevy_plugins(scene: &Scene, canvas: String) -> bevy::app::PluginGroupBuilder {
    let window = Window {
        title: library::window_title(scene),
        canvas: Some(canvas),
        fit_canvas_to_parent: true,
        prevent_default_event_handling: true,
        present_mode: PresentMode::AutoVsync,
        ..default()
    };
    DefaultPlugins
        .set(WindowPlugin {
            primary_window: Some(window),
            ..default()
        })
        .set(LogPlugin {
            level: Level::ERROR,
            filter: String::new(),
            ..default()
        })
        .set(RenderPlugin {
            synchronous_pipeline_compilation: true,
            ..default()
        })
}

/// Tells the page and follows it.
struct PagePlugin;

impl Plugin for PagePlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(
            Update,
            (follow_orders, tell_scene, tell_look)
                .chain()
                .in_set(ViewerSystems::Input),
        )
        .add_systems(Last, tell_ready);
    }
}

fn follow_orders(
    mut scenes: MessageWriter<SceneIntent>,
    mut looks: MessageWriter<LookIntent>,
    mut editor: ResMut<SceneEditor>,
    mut shown: ShownMut,
    watch: Option<Res<FileWatch>>,
) {
    browser::wake_by(watch.and_then(|watch| watch.wake()));
    for order in browser::orders() {
        match order {
            PageOrder::Open { text } => {
                scenes.write(SceneIntent::Open(source_of(&text)));
            }
            PageOrder::Change { text } => match change_of(&editor, &text) {
                Some(proposal) => drop(editor.take(proposal, &mut shown)),
                None => drop(scenes.write(SceneIntent::Open(source_of(&text)))),
            },
            PageOrder::Saved { text } => {
                if let Some(draft) = editor.draft_mut() {
                    draft.saved_as(text);
                }
            }
            PageOrder::Dress { theme } => {
                if let Some(theme) = theme_named(&theme) {
                    looks.write(LookIntent::Theme(theme));
                }
            }
        }
    }
}

/// The change that makes a text's scene of the one in the making.
fn change_of(editor: &SceneEditor, text: &str) -> Option<Proposal> {
    let scene = read_str("the page's text", text).ok()?.scene;
    let work = |changed: &mut Scene| *changed = scene;
    Some(Proposal::new(
        editor.scene()?,
        "took up what the page says",
        work,
    ))
}

/// Tells the page of another scene, and of every change; not of what is still being dragged.
fn tell_scene(
    editor: Option<Res<SceneEditor>>,
    shown: ShownParam,
    mut last: Local<Option<WindowNews>>,
) {
    let Some(editor) = editor.filter(|editor| editor.drag.is_none()) else {
        return;
    };
    let Some(draft) = editor.draft() else { return };
    if !editor.is_changed() && !shown.is_changed() {
        return;
    }
    let now = shown.read();
    let name = match editor.source() {
        Some(Source::BuiltIn(name)) => Some((*name).to_owned()),
        _ => None,
    };
    let news = WindowNews::Shown {
        name,
        text: draft.text(),
        is_opened: draft.done().is_empty() && draft.undone().is_empty(),
        step: draft.done().last().map(|step| step.name().to_owned()),
        case: now.study.model().cases[now.case].name.clone(),
    };
    if last.as_ref() != Some(&news) {
        browser::tell(&news);
        *last = Some(news);
    }
}

fn tell_look(look: Res<Look>, mut last: Local<Option<ThemeName>>) {
    if last.replace(look.theme) != Some(look.theme) {
        let theme = look.theme.word();
        browser::tell(&WindowNews::Dressed { theme });
    }
}

/// Frames until everything that the first picture needs has reached the screen.
const FIRST_FRAMES: u32 = 3;

fn tell_ready(window: Query<(), With<PrimaryWindow>>, free: Res<FreeArea>, mut frames: Local<u32>) {
    if window.is_empty() || *frames > FIRST_FRAMES {
        return;
    }
    *frames += 1;
    if *frames == FIRST_FRAMES {
        let (at, size) = (free.0.min, free.0.size());
        let area = [at.x, at.y, size.x, size.y];
        browser::tell(&WindowNews::Ready { area });
    }
}
