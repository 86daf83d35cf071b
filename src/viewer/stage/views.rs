//! From where the scene is seen best.

use bevy::prelude::*;

use super::setting::StageBody;
use crate::motion::Selection;
use crate::portrayal::ViewSubject;
use crate::scene::Space;
use crate::statics::CaseIndex;
use crate::viewer::framing::{BestViews, THREE_QUARTER};
use crate::viewer::shown::{SceneCount, Shown, ShownParam};

/// What views have been found for.
type ViewKey = (SceneCount, CaseIndex, Selection);

/// Finds the views anew for another scene, case or motion; an edited scene keeps those that it has.
pub(crate) fn find_views(
    shown: ShownParam,
    scenes: Res<SceneCount>,
    body: Res<StageBody>,
    mut views: ResMut<FoundViews>,
    mut found: Local<Option<ViewKey>>,
) {
    let shown = shown.read();
    let wanted = Some((*scenes, shown.case, shown.motion));
    if *found == wanted {
        return;
    }
    *found = wanted;
    views.set_if_neq(FoundViews(best_views(&shown, &body)));
}

/// The views of the scene shown.
#[derive(Resource, Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct FoundViews(pub BestViews);

fn best_views(shown: &Shown, body: &StageBody) -> BestViews {
    if shown.study.model().space == Space::Planar {
        return BestViews::default();
    }
    let seen = |axis| {
        let sitter = ViewSubject {
            model: shown.study.model(),
            body: &body.solids,
            case: shown.case,
            axis,
        };
        let usual = [THREE_QUARTER.0, THREE_QUARTER.1].map(f64::from);
        let [azimuth, elevation] = sitter.best_view(usual);
        (azimuth as f32, elevation as f32)
    };
    let course = shown.course();
    BestViews {
        usual: seen(None),
        axis: seen(course.map(|course| course.motion.direction)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::portrayal::towards;
    use crate::scene::solid;
    use crate::study::Study;
    use crate::viewer::scene_list::SceneList;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn no_axis_is_looked_along() {
        for entry in SceneList::default().entries() {
            let stage = TestStage::of(Study::read(entry.source.clone()).unwrap());
            let shown = stage.shown();
            let Some(course) = shown.course() else {
                continue;
            };
            let solids = solid::of_body(shown.written.scene());
            let body = StageBody {
                solids,
                ..StageBody::default()
            };
            if shown.study.model().space == Space::Planar {
                continue;
            }
            let (azimuth, elevation) = best_views(&shown, &body).axis;
            let sight = towards([azimuth, elevation].map(f64::from));
            let along = sight.dot(&course.motion.direction).abs();
            assert!(along < 0.9, "{}: {along}", entry.title);
        }
    }
}
