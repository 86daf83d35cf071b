//! The line over the caption: the sentence about what is in hand, whose parts are changed in it, and the few words to act by.

use bevy_egui::egui::{self, RichText, Ui};

use super::addition::Addition;
use super::editor::{SceneEditor, TypedEntry};
use super::file::Files;
use crate::draft::{
    Draft, Field, HistoryStep, NewScene, Reshaping, SceneItem, SentencePart, load_kinds,
    shape_kinds, support_kinds,
};
use crate::scene::Scene;
use crate::theme::Theme;
use crate::viewer::intent::{FilePurpose, Intent, MakingIntent};
use crate::viewer::scene_drawer::select_all;
use crate::viewer::style::{BOLD, DRAWER_FADE, colour32};

/// Size of the sentence.
const SIZE: f32 = 19.0;

fn making(intent: MakingIntent) -> Intent {
    Intent::Making(intent)
}

/// Draws the line; returns what was asked for.
pub(crate) fn form_ui(
    ui: &mut Ui,
    editor: &SceneEditor,
    files: &Files,
    theme: &Theme,
) -> Vec<Intent> {
    let mut asked = Vec::new();
    if let Some(left) = files.left_behind() {
        asked.extend(left_behind_ui(ui, &left));
    }
    if editor.draft().is_some_and(Draft::has_conflict) {
        asked.extend(conflict_ui(ui, theme));
    }
    let parts = editor.sentence();
    if !parts.is_empty() {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 0.0;
            for part in &parts {
                asked.extend(part_ui(ui, editor, part, theme));
            }
        });
    }
    if editor.kept.is_some() {
        asked.extend(acts_ui(ui, editor));
    }
    if let Some(addition) = &editor.placing {
        ui.horizontal_wrapped(|ui| {
            let text = format!("Click where {} goes.", article(&addition.word()));
            ui.label(RichText::new(text).size(SIZE).color(colour32(theme.trial)));
            if ui.button("Never mind").on_hover_text("Esc").clicked() {
                asked.push(making(MakingIntent::LetGo));
            }
        });
    }
    let refusals = editor.refusal.iter().chain(&files.trouble);
    for refusal in refusals {
        let text = format!("Not done: {refusal}.");
        ui.add(
            egui::Label::new(RichText::new(text).size(16.0).color(colour32(theme.error))).wrap(),
        );
    }
    asked.extend(path_ui(ui, files));
    asked.extend(history_ui(ui, editor, files, theme));
    asked
}

fn part_ui(ui: &mut Ui, editor: &SceneEditor, part: &SentencePart, theme: &Theme) -> Vec<Intent> {
    let ink = colour32(theme.ink);
    match part {
        SentencePart::Words(words) => {
            ui.label(RichText::new(words).size(SIZE).color(ink));
            Vec::new()
        }
        SentencePart::Field(field, says) => match &editor.entry {
            Some(entry) if entry.field == *field => entry_ui(ui, entry),
            _ => field_ui(ui, editor, *field, says, theme),
        },
    }
}

/// A part that can be changed: italic and underlined, a control on a click.
fn field_ui(
    ui: &mut Ui,
    editor: &SceneEditor,
    field: Field,
    says: &str,
    theme: &Theme,
) -> Vec<Intent> {
    let mut text = RichText::new(says)
        .size(SIZE)
        .color(colour32(theme.ink))
        .underline();
    text = match field {
        Field::Name(_) => text.family(BOLD.clone()),
        _ => text.italics(),
    };
    if editor.kept.is_none() {
        // What is only hovered is read, since the pointer is on its way.
        ui.label(text);
        return Vec::new();
    }
    let Some(scene) = editor.scene() else {
        return Vec::new();
    };
    let label = egui::Button::new(text).frame(false);
    let is_chosen = matches!(field, Field::Kind(_) | Field::Couples(_));
    if !is_chosen {
        let clicked = ui
            .add(label)
            .on_hover_cursor(egui::CursorIcon::Text)
            .clicked();
        let edit = clicked.then(|| making(MakingIntent::Edit(field)));
        return edit.into_iter().collect();
    }
    let mut asked = Vec::new();
    egui::containers::menu::MenuButton::from_button(label).ui(ui, |ui| {
        egui::ScrollArea::vertical()
            .max_height(420.0)
            .show(ui, |ui| {
                egui::Grid::new("choices")
                    .num_columns(2)
                    .spacing([20.0, 4.0])
                    .show(ui, |ui| {
                        for choice in field.choices(scene) {
                            if ui.selectable_label(choice.chosen, &choice.word).clicked() {
                                asked.push(making(MakingIntent::Take(Box::new(choice.proposal))));
                                ui.close();
                            }
                            ui.label(RichText::new(&choice.note).color(colour32(theme.quiet_ink)));
                            ui.end_row();
                        }
                    });
            });
    });
    asked
}

/// A part that is being typed.
fn entry_ui(ui: &mut Ui, entry: &TypedEntry) -> Vec<Intent> {
    let mut text = entry.text.clone();
    let width = 12.0 * (text.chars().count().max(8) as f32);
    let field = egui::TextEdit::singleline(&mut text)
        .id(ui.id().with("entry"))
        .font(egui::FontId::proportional(SIZE))
        .desired_width(width);
    let response = ui.add(field);
    let mut asked = Vec::new();
    if entry.is_new {
        response.request_focus();
        select_all(ui, response.id, &text);
        asked.push(making(MakingIntent::Type(entry.text.clone())));
    }
    if response.changed() {
        asked.push(making(MakingIntent::Type(text)));
    }
    if response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter)) {
        asked.push(making(MakingIntent::Enter));
        response.request_focus();
    }
    asked
}

/// What can be done with what is kept.
fn acts_ui(ui: &mut Ui, editor: &SceneEditor) -> Vec<Intent> {
    let mut asked = Vec::new();
    ui.horizontal_wrapped(|ui| {
        let mut word = |ui: &mut Ui, text: &str, hint: &str, intent: MakingIntent| {
            let button = ui.button(text);
            let button = match hint {
                "" => button,
                _ => button.on_hover_text(hint),
            };
            if button.clicked() {
                asked.push(making(intent));
            }
        };
        word(ui, "Take it out", "Delete", MakingIntent::Remove);
        word(
            ui,
            "One more like it",
            "a copy beside it",
            MakingIntent::Duplicate,
        );
        if let (Some(scene), Some(SceneItem::Shape(index))) = (editor.scene(), editor.kept)
            && let Some(shape) = scene.body.get(index)
        {
            for how in Reshaping::ALL {
                if let Some(text) = how.word(shape) {
                    word(ui, text, "", MakingIntent::Reshape(how));
                }
            }
        }
        let axes = editor.scene().map_or(3, |scene| scene.space.axes());
        for (axis, letter) in ["x", "y", "z"].into_iter().enumerate().take(axes) {
            let hint = format!("its mirror image, in the middle of the scene across {letter}");
            word(
                ui,
                &format!("Mirror across {letter}"),
                &hint,
                MakingIntent::Mirror(axis),
            );
        }
        word(ui, "Let go", "Esc", MakingIntent::LetGo);
    });
    asked
}

/// The last step and the next, and whether all is saved.
fn history_ui(ui: &mut Ui, editor: &SceneEditor, files: &Files, theme: &Theme) -> Vec<Intent> {
    let mut asked = Vec::new();
    let Some(draft) = editor.draft() else {
        return asked;
    };
    let (last, next) = (draft.done().last(), draft.undone().last());
    if last.is_none() && next.is_none() && files.saved.is_none() {
        return asked;
    }
    ui.horizontal_wrapped(|ui| {
        let mut step = |ui: &mut Ui,
                        word: &str,
                        step: Option<&HistoryStep>,
                        key: &str,
                        intent: MakingIntent| {
            if let Some(step) = step {
                let text = format!("{word}: {}", step.name());
                if ui.button(text).on_hover_text(key).clicked() {
                    asked.push(making(intent));
                }
            }
        };
        step(ui, "Undo", last, "Ctrl Z", MakingIntent::Undo);
        step(ui, "Redo", next, "Ctrl Y", MakingIntent::Redo);
        if draft.is_unsaved() && ui.button("Save").on_hover_text("Ctrl S").clicked() {
            asked.push(making(MakingIntent::Save));
        }
        let quiet = colour32(theme.quiet_ink);
        match (&files.saved, draft.is_unsaved()) {
            (_, true) => drop(ui.label(RichText::new("not saved").color(quiet))),
            (Some(saved), false) => drop(ui.label(RichText::new(saved).color(quiet))),
            (None, false) => {}
        }
    });
    asked
}

/// Where to save a scene that has no file yet.
fn path_ui(ui: &mut Ui, files: &Files) -> Vec<Intent> {
    let mut asked = Vec::new();
    let Some(suggested) = &files.path else {
        return asked;
    };
    ui.horizontal_wrapped(|ui| {
        let id = ui.id().with("save as");
        let mut path: String = ui
            .data_mut(|data| data.get_temp(id))
            .unwrap_or_else(|| suggested.clone());
        ui.label("Save as");
        let field = ui.add(
            egui::TextEdit::singleline(&mut path)
                .id(id.with("field"))
                .desired_width(320.0),
        );
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
        if !ui.data(|data| data.get_temp::<bool>(id.with("seen")).unwrap_or(false)) {
            field.request_focus();
            ui.data_mut(|data| data.insert_temp(id.with("seen"), true));
        }
        ui.data_mut(|data| data.insert_temp(id, path.clone()));
        let done = (entered || ui.button("Save there").clicked()) && !path.trim().is_empty();
        if done {
            asked.push(making(MakingIntent::SaveAs(path.trim().into())));
            ui.data_mut(|data| {
                data.remove::<String>(id);
                data.remove::<bool>(id.with("seen"));
            });
        }
        if ui.button("Choose a file").clicked() {
            asked.push(making(MakingIntent::AskForFile(FilePurpose::Save)));
        }
    });
    asked
}

fn left_behind_ui(ui: &mut Ui, name: &str) -> Vec<Intent> {
    let mut asked = Vec::new();
    ui.horizontal_wrapped(|ui| {
        let text = format!("Work on \"{name}\" is not saved.");
        ui.label(RichText::new(text).size(SIZE));
        if ui.button("Take it up").clicked() {
            asked.push(making(MakingIntent::TakeUp));
        }
        if ui.button("Throw it away").clicked() {
            asked.push(making(MakingIntent::ThrowAway));
        }
    });
    asked
}

fn conflict_ui(ui: &mut Ui, theme: &Theme) -> Vec<Intent> {
    let mut asked = Vec::new();
    ui.horizontal_wrapped(|ui| {
        let text = "The file was changed on disk while your edits are not saved.";
        ui.label(RichText::new(text).size(SIZE).color(colour32(theme.error)));
        if ui
            .button("Keep my edits")
            .on_hover_text("saving will change the file as it is now")
            .clicked()
        {
            asked.push(making(MakingIntent::KeepMine));
        }
        if ui
            .button("Take the file's")
            .on_hover_text("Undo brings your edits back")
            .clicked()
        {
            asked.push(making(MakingIntent::TakeTheirs));
        }
    });
    asked
}

/// What a scene can begin from.
fn files_ui(ui: &mut Ui) -> Vec<Intent> {
    let mut asked = Vec::new();
    ui.add_space(8.0);
    ui.label(RichText::new("A new scene, from").family(BOLD.clone()));
    ui.horizontal_wrapped(|ui| {
        for start in NewScene::ALL {
            if ui.button(article(start.word())).clicked() {
                asked.push(making(MakingIntent::New(start)));
            }
        }
        if ui.button("a file").clicked() {
            asked.push(making(MakingIntent::AskForFile(FilePurpose::Open)));
        }
    });
    asked
}

/// The drawer of what can be added.
pub(crate) fn add_ui(ui: &mut Ui, scene: &Scene) -> Vec<Intent> {
    let mut asked = Vec::new();
    ui.label(RichText::new("Add").heading());
    let up = std::array::from_fn(|axis| {
        if axis + 1 == scene.space.axes() {
            1.0
        } else {
            0.0
        }
    });
    let groups = [
        (
            "Supports",
            support_kinds(scene, [0.0; 3], up, None)
                .into_iter()
                .map(Addition::Support)
                .collect::<Vec<_>>(),
        ),
        (
            "Loads",
            load_kinds(scene, [0.0; 3])
                .into_iter()
                .map(Addition::Load)
                .collect(),
        ),
        (
            "Shapes of the body",
            shape_kinds(scene, [0.0; 3])
                .into_iter()
                .map(Addition::Shape)
                .collect(),
        ),
        ("Places", vec![Addition::Point]),
    ];
    egui::ScrollArea::vertical()
        .auto_shrink(false)
        .show(ui, |ui| {
            asked.extend(files_ui(ui));
            for (heading, additions) in groups {
                ui.add_space(8.0);
                ui.label(RichText::new(heading).family(BOLD.clone()));
                ui.horizontal_wrapped(|ui| {
                    for addition in additions {
                        if ui.button(addition.word()).clicked() {
                            asked.push(making(MakingIntent::Place(addition)));
                        }
                    }
                });
            }
            ui.add_space(DRAWER_FADE);
        });
    asked
}

fn article(noun: &str) -> String {
    format!("a {noun}")
}

/// Whether the line has anything to say.
pub(crate) fn is_silent(editor: &SceneEditor, files: &Files) -> bool {
    let history = editor
        .draft()
        .is_some_and(|draft| !(draft.done().is_empty() && draft.undone().is_empty()));
    let asks = files.left_behind().is_some()
        || files.path.is_some()
        || files.saved.is_some()
        || files.trouble.is_some();
    !history
        && !asks
        && editor.subject().is_none()
        && editor.placing.is_none()
        && editor.refusal.is_none()
}
