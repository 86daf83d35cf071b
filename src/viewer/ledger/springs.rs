//! The reactions on elastic supports, where the scene says how stiff they are.

use bevy_egui::egui::{Align, Layout, Ui};

use super::chapters::heading;
use super::{say, whisper};
use crate::theme::Theme;
use crate::viewer::state::Shown;
use crate::wording;

/// What they rest on, their values under the load case shown, and what lets go.
pub(crate) fn springs_ui(ui: &mut Ui, shown: &Shown, theme: &Theme) {
    let model = shown.study.model();
    let Some(elastic) = shown
        .study
        .elastic()
        .filter(|_| !model.reactions.is_empty())
    else {
        return;
    };
    let Some(case) = elastic.cases.get(shown.case) else {
        return;
    };
    heading(ui, wording::ELASTIC);
    whisper(ui, wording::elastic_basis(model, elastic), theme);
    let idle = wording::elastic_is_idle(shown.study.diagnosis().counts.redundancy);
    match (idle, case.reactions()) {
        (Some(idle), _) => say(ui, idle, theme),
        (None, None) => {}
        (None, Some(found)) => {
            for (index, reaction) in model.reactions.enumerate() {
                ui.horizontal(|ui| {
                    say(ui, &reaction.symbol, theme);
                    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        say(
                            ui,
                            wording::acting(model, reaction, found.values[index]),
                            theme,
                        );
                    });
                });
            }
        }
    }
    if let Some(said) = wording::elastic(model, shown.case, case) {
        say(ui, said, theme);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::study::Study;
    use crate::theme::ThemeName;
    use crate::viewer::panels::testing;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn a_shelf_on_three_springs_has_three_values() {
        let text = "(format: 1, space: planar, elastic: true, body: [Block(centre: (1, 0), size: (2, 0.1, 0.1))],
            supports: [Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (1, 0), normal: (0, 1)),
                Roller(name: \"C\", at: (2, 0), normal: (0, 1))],
            loads: [Force(at: (1, 0), force: (0, -90))])";
        let theme = Theme::of(ThemeName::Hall);
        let page = |study: Study| {
            let stage = TestStage::of(study);
            testing::text(|ui| {
                springs_ui(ui, &stage.shown(), &theme);
                Vec::new()
            })
        };
        let found = page(Study::new(read_str("shelf", text).unwrap().scene).unwrap());
        assert!(found.has(wording::ELASTIC) && found.has("30 N"));
        let found = page(Study::open("mirror-cell").unwrap());
        assert!(!found.has(wording::ELASTIC), "nothing is said of stiffness");
    }
}
