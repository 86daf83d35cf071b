//! What the panels show, and what the caption says of it.

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

use crate::motion::Sides;
use crate::scene::Space;
use crate::statics::Placement;
use crate::viewer::camera::CurrentView;
use crate::viewer::caption::Caption;
use crate::viewer::handouts::Handouts;
use crate::viewer::making::{Files, SceneEditor};
use crate::viewer::practising::Practising;
use crate::viewer::previews::Previews;
use crate::viewer::scene_list::SceneList;
use crate::viewer::shown::ShownParam;
use crate::viewer::state::{FileTrouble, Look, Playback, Pointed, Shown, Source};
use crate::viewer::trial::LinkDrawing;
use crate::viewer::unveiling::Unveiling;
use crate::wording::{self, Phrase, phrase};

/// What the panels show.
#[derive(SystemParam)]
pub(super) struct Contents<'w> {
    pub(super) shown: ShownParam<'w>,
    pub(super) playback: Res<'w, Playback>,
    pub(super) look: Res<'w, Look>,
    pub(super) view: Res<'w, CurrentView>,
    pub(super) trouble: Res<'w, FileTrouble>,
    pub(super) scenes: Res<'w, SceneList>,
    pub(super) previews: Res<'w, Previews>,
    pub(super) drawing: Res<'w, LinkDrawing>,
    pub(super) editor: Option<Res<'w, SceneEditor>>,
    pub(super) files: Option<Res<'w, Files>>,
    pub(super) unveiling: Option<Res<'w, Unveiling>>,
    pub(super) practising: Option<Res<'w, Practising>>,
    pub(super) handouts: Option<Res<'w, Handouts>>,
}

/// Title of the scene, and of several load cases the one whose loads are drawn.
fn title(shown: &Shown) -> String {
    let cases = &shown.study.model().cases;
    match cases.len() {
        0 | 1 => shown.written.scene().title.clone(),
        _ => format!(
            "{}  ·  {}",
            shown.written.scene().title,
            cases[shown.case].name
        ),
    }
}

/// The verdict with its reason, and how near it is to another where the scene's tolerance makes that matter.
fn sentence(shown: &Shown) -> wording::VerdictAndReason {
    let mut said = wording::caption(
        shown.study.model(),
        shown.study.diagnosis(),
        shown.study.uncarried(),
    );
    let nearness = shown.study.nearness();
    let uncertain = nearness.filter(|nearness| nearness.placement != Some(Placement::Held));
    let placement =
        uncertain.and_then(|nearness| wording::placement(shown.study.model(), nearness));
    if let Some(placement) = placement {
        said.reason.push(phrase!(" ", placement));
    }
    said
}

impl Contents<'_> {
    /// Whether something is still to be guessed.
    pub(super) fn keeps_secrets(&self) -> bool {
        let unveiling = self.unveiling.as_deref();
        let practising = self.practising.as_deref();
        unveiling.is_some_and(|unveiling| unveiling.question().is_some())
            || practising.is_some_and(Practising::is_on)
    }

    /// What the caption says.
    pub(super) fn caption(&self) -> Caption {
        let shown = self.shown.read();
        let watched = match shown.source() {
            Some(Source::File(path)) => path.file_name(),
            _ => None,
        };
        let mut sentence = sentence(&shown);
        let unveiling = self.unveiling.as_deref();
        if let Some(question) = unveiling.and_then(Unveiling::question) {
            (sentence.verdict, sentence.reason) = (Phrase::new(), question);
        }
        let practising = self.practising.as_deref();
        let asked = practising.and_then(|practising| practising.question(shown.written));
        let is_asked = asked.is_some();
        if let Some(question) = asked {
            (sentence.verdict, sentence.reason) = (Phrase::new(), question);
        }
        let moves =
            unveiling.is_none_or(Unveiling::moves) && practising.is_none_or(Practising::moves);
        Caption {
            title: title(&shown),
            verdict: sentence.verdict,
            reason: sentence.reason,
            motions: if moves {
                shown.selections()
            } else {
                Vec::new()
            },
            motion: shown.motion,
            sides: shown.course().map_or(Sides::Both, |course| course.sides()),
            at_rest: match (moves, is_asked) {
                (_, true) => "Esc ends the questions.",
                (true, false) => wording::at_rest(shown.study.uncarried(), shown.case),
                (false, false) => unveiling.map_or("", Unveiling::hint),
            },
            view: self.view.words(shown.study.model().space == Space::Planar),
            watched: watched.map(|name| name.to_string_lossy().into_owned()),
            pointed: pointed(&shown),
            released: wording::listed(&shown.released_symbols()),
            trial: shown
                .trial
                .filter(|_| !is_asked)
                .map(|link| wording::added_link(shown.study.model(), link)),
            drawing: self.drawing.on,
        }
    }
}

/// What is pointed out, where the sentence does not say it already.
fn pointed(shown: &Shown) -> Option<Phrase> {
    let pointed = shown.pointed.filter(|thing| *thing != Pointed::Reason);
    shown.words_of(pointed?)
}
