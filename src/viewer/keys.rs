//! Keys: which one asks for what. Letters are taken as typed, so they sit where the keyboard's layout has them.

use bevy::input::keyboard::{Key, KeyboardInput};
use bevy::prelude::*;
use bevy_egui::input::EguiWantsInput;

use super::intent::{
    CameraIntent, Intent, Intents, Layer, LectureIntent, LessonIntent, LinkIntent, LookIntent,
    MakingIntent, Panel, PanelIntent, PlaybackIntent, PracticeIntent, SceneIntent, StepDirection,
    StudyIntent, add_messages,
};
use super::state::{Look, ViewerSystems};

/// Turns keys into intents.
pub(crate) struct KeysPlugin;

impl Plugin for KeysPlugin {
    fn build(&self, app: &mut App) {
        add_messages(app);
        app.init_resource::<ButtonInput<KeyCode>>()
            .add_systems(Update, read_keys.in_set(ViewerSystems::Input));
    }
}

/// Degrees that one press of an arrow turns the camera by.
const TURN: f32 = 15.0;
/// How much one press makes text larger.
const ENLARGEMENT: f32 = 1.125;

/// What every key does, for the overlay that lists them.
pub(crate) const KEYS: [(&str, &str); 34] = [
    ("Space", "let the body move, or hold it"),
    ("Page Down, Page Up", "next free motion or scene, or back"),
    ("V, Shift V", "next standard view, or back"),
    ("← → ↑ ↓", "turn the camera a little"),
    ("Home", "bring everything into view"),
    ("P", "parallel or perspective picture"),
    ("L", "open the ledger: why, motions, reactions"),
    ("S", "choose a scene"),
    ("C", "next load case"),
    (
        "G, Shift G",
        "point out the next reason, group or repair, or back",
    ),
    ("H", "hold again all that was released"),
    ("N", "draw a new link from the body to the ground"),
    ("I", "add something to the scene"),
    ("E", "handouts: picture, film, figure, report, slides"),
    ("Enter", "keep the drawn link; go on with the questions"),
    ("Delete", "take out what is in hand, or the drawn link"),
    ("Ctrl Z, Ctrl Y", "undo the last step, or make it again"),
    ("Ctrl S", "save the scene"),
    (
        "U",
        "unveil the scene step by step, by Page Down and Page Up",
    ),
    (
        "0 to 6",
        "while unveiling: the class's guess of the freedom",
    ),
    ("Q", "answer questions about the scene, then see"),
    ("R", "show or hide reactions"),
    ("M", "show or hide the magnitudes of reactions"),
    ("X", "free-body picture: reactions in place of supports"),
    ("O", "show or hide loads"),
    ("A", "show or hide axis and motion"),
    ("T", "next theme: hall, daylight, stark"),
    ("Ctrl +, Ctrl −, Ctrl 0", "larger, smaller, usual text"),
    ("W", "turn the picture slowly"),
    ("D", "a large disc around the pointer"),
    ("B", "blank the wall, or come back"),
    ("F", "fill the screen"),
    ("K", "this list"),
    ("Esc", "close what is open, let go, point out nothing"),
];

/// Modifiers held while a key goes down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Modifiers {
    /// Control.
    pub ctrl: bool,
    /// Shift.
    pub shift: bool,
}

/// What a key asks for.
pub(crate) fn intent_of(key: &Key, held: Modifiers, look: &Look) -> Option<Intent> {
    match key {
        Key::Character(text) if held.ctrl => of_ctrl(&text.to_lowercase(), held),
        Key::Character(text) => of_letter(&text.to_lowercase(), held, look),
        Key::Space => Some(Intent::Playback(PlaybackIntent::PlayOrPause)),
        Key::PageDown => Some(Intent::Scene(SceneIntent::Step(StepDirection::On))),
        Key::PageUp => Some(Intent::Scene(SceneIntent::Step(StepDirection::Back))),
        Key::Home => Some(Intent::Camera(CameraIntent::Fit)),
        Key::ArrowLeft => Some(Intent::Camera(CameraIntent::Turn(-TURN, 0.0))),
        Key::ArrowRight => Some(Intent::Camera(CameraIntent::Turn(TURN, 0.0))),
        Key::ArrowUp => Some(Intent::Camera(CameraIntent::Turn(0.0, TURN))),
        Key::ArrowDown => Some(Intent::Camera(CameraIntent::Turn(0.0, -TURN))),
        Key::Escape => Some(Intent::CloseAll),
        Key::Enter => Some(Intent::Practice(PracticeIntent::GoOn)),
        Key::Delete => Some(Intent::Making(MakingIntent::Remove)),
        _ => None,
    }
}

fn of_letter(letter: &str, held: Modifiers, look: &Look) -> Option<Intent> {
    Some(match letter {
        "v" if held.shift => Intent::Camera(CameraIntent::StepView(StepDirection::Back)),
        "v" => Intent::Camera(CameraIntent::StepView(StepDirection::On)),
        "p" => Intent::Camera(CameraIntent::SwitchLens),
        "l" => Intent::Panel(PanelIntent::Toggle(Panel::Ledger)),
        "s" => Intent::Panel(PanelIntent::Toggle(Panel::Scenes)),
        "k" => Intent::Panel(PanelIntent::Toggle(Panel::Keys)),
        "c" => Intent::Scene(SceneIntent::NextCase),
        "g" if held.shift => Intent::Study(StudyIntent::StepPointed(StepDirection::Back)),
        "g" => Intent::Study(StudyIntent::StepPointed(StepDirection::On)),
        "h" => Intent::Study(StudyIntent::HoldAll),
        "n" => Intent::Link(LinkIntent::Draw),
        "u" => Intent::Lesson(LessonIntent::Unveil),
        digit if matches!(digit, "0" | "1" | "2" | "3" | "4" | "5" | "6") => {
            Intent::Lesson(LessonIntent::Guess(digit.parse().ok()?))
        }
        "e" => Intent::Panel(PanelIntent::Toggle(Panel::Handouts)),
        "i" => Intent::Panel(PanelIntent::Toggle(Panel::Add)),
        "q" => Intent::Practice(PracticeIntent::Switch),
        "w" => Intent::Lectern(LectureIntent::Turn),
        "d" => Intent::Lectern(LectureIntent::Disc),
        "b" => Intent::Lectern(LectureIntent::Blank),
        "m" => Intent::Look(LookIntent::ToggleLayer(Layer::Values)),
        "x" => Intent::Look(LookIntent::ToggleLayer(Layer::Supports)),
        "r" => Intent::Look(LookIntent::ToggleLayer(Layer::Reactions)),
        "o" => Intent::Look(LookIntent::ToggleLayer(Layer::Loads)),
        "a" => Intent::Look(LookIntent::ToggleLayer(Layer::Motion)),
        "t" => Intent::Look(LookIntent::Theme(look.theme.next())),
        "f" => Intent::Look(LookIntent::FullScreen),
        _ => return None,
    })
}

fn of_ctrl(text: &str, held: Modifiers) -> Option<Intent> {
    match text {
        "z" if held.shift => Some(Intent::Making(MakingIntent::Redo)),
        "z" => Some(Intent::Making(MakingIntent::Undo)),
        "y" => Some(Intent::Making(MakingIntent::Redo)),
        "s" => Some(Intent::Making(MakingIntent::Save)),
        "+" | "=" => Some(Intent::Look(LookIntent::Enlarge(ENLARGEMENT))),
        "-" | "\u{2212}" => Some(Intent::Look(LookIntent::Enlarge(1.0 / ENLARGEMENT))),
        "0" => Some(Intent::Look(LookIntent::UsualSize)),
        _ => None,
    }
}

/// Whether holding the key down goes on acting.
fn repeats(intent: &Intent) -> bool {
    matches!(
        intent,
        Intent::Camera(CameraIntent::Turn(..)) | Intent::Look(LookIntent::Enlarge(_))
    )
}

impl Modifiers {
    /// What is held now.
    fn of(codes: &ButtonInput<KeyCode>) -> Self {
        Self {
            ctrl: codes.any_pressed([KeyCode::ControlLeft, KeyCode::ControlRight]),
            shift: codes.any_pressed([KeyCode::ShiftLeft, KeyCode::ShiftRight]),
        }
    }

    /// What is held after a key has gone down or up.
    fn follow(&mut self, key: &KeyboardInput) {
        let down = key.state.is_pressed();
        match key.key_code {
            KeyCode::ControlLeft | KeyCode::ControlRight => self.ctrl = down,
            KeyCode::ShiftLeft | KeyCode::ShiftRight => self.shift = down,
            _ => {}
        }
    }
}

/// In the order of the keys: a modifier may go down, act and go up again within one frame.
fn read_keys(
    mut keys: MessageReader<KeyboardInput>,
    codes: Res<ButtonInput<KeyCode>>,
    egui: Option<Res<EguiWantsInput>>,
    look: Res<Look>,
    mut held: Local<Modifiers>,
    mut intents: Intents,
) {
    let typing = egui.is_some_and(|egui| egui.wants_keyboard_input());
    for key in keys.read() {
        held.follow(key);
        if !key.state.is_pressed() || (typing && key.logical_key != Key::Escape) {
            continue;
        }
        let intent = intent_of(&key.logical_key, *held, &look);
        if let Some(intent) = intent.filter(|intent| !key.repeat || repeats(intent)) {
            intents.send(intent);
        }
    }
    // A window that lost the keyboard hears of no key that goes up.
    *held = Modifiers::of(&codes);
}

#[cfg(test)]
mod tests {
    use bevy::input::ButtonState;

    use super::*;
    use crate::theme::ThemeName;

    fn look() -> Look {
        Look::new(ThemeName::Hall)
    }

    fn typed(text: &str, held: Modifiers) -> Option<Intent> {
        intent_of(&Key::Character(text.into()), held, &look())
    }

    #[test]
    fn letters_act_whether_or_not_they_are_capitals() {
        let expected = Some(Intent::Look(LookIntent::Theme(ThemeName::Daylight)));
        assert_eq!(typed("t", Modifiers::default()), expected);
        assert_eq!(typed("T", Modifiers::default()), expected);
        let shift = Modifiers {
            shift: true,
            ctrl: false,
        };
        assert_eq!(
            typed("V", shift),
            Some(Intent::Camera(CameraIntent::StepView(StepDirection::Back)))
        );
        assert_eq!(typed("%", Modifiers::default()), None);
    }

    #[test]
    fn control_takes_letters_out_of_play() {
        let ctrl = Modifiers {
            ctrl: true,
            shift: false,
        };
        assert_eq!(typed("t", ctrl), None);
        assert_eq!(typed("0", ctrl), Some(Intent::Look(LookIntent::UsualSize)));
        assert!(
            matches!(typed("+", ctrl), Some(Intent::Look(LookIntent::Enlarge(by))) if by > 1.0)
        );
        assert!(
            matches!(typed("-", ctrl), Some(Intent::Look(LookIntent::Enlarge(by))) if by < 1.0)
        );
    }

    #[test]
    fn a_modifier_that_is_up_again_in_the_same_frame_has_acted() {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, KeysPlugin))
            .add_message::<KeyboardInput>()
            .insert_resource(look());
        let v = || Key::Character("v".into());
        let strokes = [
            (KeyCode::KeyV, v(), ButtonState::Pressed),
            (KeyCode::KeyV, v(), ButtonState::Released),
            (KeyCode::ShiftLeft, Key::Shift, ButtonState::Pressed),
            (KeyCode::KeyV, v(), ButtonState::Pressed),
            (KeyCode::KeyV, v(), ButtonState::Released),
            (KeyCode::ShiftLeft, Key::Shift, ButtonState::Released),
        ];
        for (key_code, logical_key, state) in strokes {
            app.world_mut().write_message(KeyboardInput {
                key_code,
                logical_key,
                state,
                text: None,
                repeat: false,
                window: Entity::PLACEHOLDER,
            });
        }
        app.update();
        let intents = app.world().resource::<Messages<CameraIntent>>();
        let written: Vec<CameraIntent> = intents.iter_current_update_messages().copied().collect();
        let expected = [StepDirection::On, StepDirection::Back].map(CameraIntent::StepView);
        assert_eq!(written, expected);
    }

    /// Each letter that the overlay lists does something, and nothing it does not list does.
    #[test]
    fn the_list_of_keys_is_complete() {
        let listed = |letter: char| {
            KEYS.iter().any(|(keys, _)| {
                *keys == letter.to_string() || keys.starts_with(&format!("{letter},"))
            })
        };
        for letter in 'A'..='Z' {
            let acts = typed(&letter.to_string(), Modifiers::default()).is_some();
            assert_eq!(acts, listed(letter), "{letter}");
        }
    }
}
