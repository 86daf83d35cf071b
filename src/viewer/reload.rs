//! What of a scene's state outlives a change of its file.

use super::state::{Playback, Shown};
use crate::scene::Scene;

/// Keeps the link on trial, releases, case, motion and playback as far as the changed scene still has them.
pub(crate) fn replace(shown: &mut Shown, mut changed: Shown, playback: &mut Playback) {
    keep_trial(shown, &mut changed);
    keep_released(shown, &mut changed);
    if shown.case < changed.study.model().cases.len() {
        changed.select_case(shown.case);
    }
    if changed.selections().contains(&shown.motion) {
        changed.motion = shown.motion;
    }
    if changed.course().is_none() {
        playback.playing = false;
        playback.position = 0.0;
    }
    *shown = changed;
}

/// Reactions go by their names, those of the link on trial by being the last.
fn keep_released(shown: &Shown, changed: &mut Shown) {
    let of_scene = |shown: &Shown| {
        let trial = shown
            .study
            .whole()
            .supports
            .last()
            .filter(|_| shown.trial().is_some());
        trial.map_or(shown.study.whole().reactions.len(), |trial| {
            trial.reactions.start
        })
    };
    let (before, now) = (of_scene(shown), of_scene(changed));
    let (own, of_trial): (Vec<usize>, Vec<usize>) =
        shown.released().iter().partition(|index| **index < before);
    let named = |index: &usize| {
        let name = &shown.study.whole().reactions[*index].name;
        let reactions = &changed.study.whole().reactions[..now];
        reactions.iter().position(|reaction| reaction.name == *name)
    };
    let trials = now..changed.study.whole().reactions.len();
    let mut kept: Vec<usize> = own.iter().filter_map(named).collect();
    kept.extend(
        of_trial
            .iter()
            .map(|index| index - before + now)
            .filter(|index| trials.contains(index)),
    );
    if !kept.is_empty() {
        changed.release(&kept);
    }
}

fn keep_trial(shown: &Shown, changed: &mut Shown) {
    let measured = |scene: &Scene| (scene.units, scene.space, scene.datum);
    let measured_alike = measured(shown.written.scene()) == measured(changed.written.scene());
    let link = shown.trial().filter(|_| measured_alike);
    if let Some((link, eye)) =
        link.and_then(|link| Some((link, link.eye_in(changed.written.scene())?)))
    {
        changed.try_link(eye, link.ground);
    }
}
