//! The window in space, as the page loads it: the same picture as the program's, and page and window at one.

use std::time::Duration;

use sixhold::scene::builtin;
use sixhold::study::Study;
use sixhold::theme::ThemeName;
use sixhold::viewer::framing::{CameraSettings, View};
use sixhold::viewer::offscreen::{PictureSettings, picture};
use sixhold::viewer::state::{Look, Shading};

use super::chromium::Picture;
use super::web::Visit;

const OPEN: &str = "!document.getElementById('space').hidden && document.getElementById('space').dataset.area !== undefined";
/// How long the module may take, which is large where it is built for tests.
const LOADING: Duration = Duration::from_secs(240);
const SOURCE: &str = "document.getElementById('source').value";

impl Visit {
    /// The part of the window that is the scene's: left, top, width and height.
    fn area(&mut self) -> [u32; 4] {
        let area = self.text_of("document.getElementById('space').dataset.area");
        let sides = area
            .split(' ')
            .map(|side| side.parse::<f64>().expect("a number"));
        let sides: Vec<u32> = sides.map(|side| side.round() as u32).collect();
        sides.try_into().expect("four numbers")
    }

    fn text_of(&mut self, expression: &str) -> String {
        let value = self.chromium.value(expression);
        value.as_str().unwrap_or_default().to_owned()
    }

    /// The picture once it does not change any more.
    fn settled(&mut self) -> Picture {
        let mut before = self.chromium.picture();
        for _ in 0..20 {
            std::thread::sleep(Duration::from_millis(300));
            let now = self.chromium.picture();
            if now == before {
                return now;
            }
            before = now;
        }
        panic!("the picture never settles");
    }
}

/// The program's picture of a built-in scene, of the size that the window leaves to it.
fn drawn(name: &str, [_, _, width, height]: [u32; 4]) -> Picture {
    let study = Study::open(name).expect("a scene");
    let settings = PictureSettings {
        width,
        height,
        camera: CameraSettings {
            view: View::Axis,
            ..CameraSettings::default()
        },
        // What a browser without a wish for dark pages begins with.
        look: Look::new(ThemeName::Daylight),
        shading: Some(Shading::Plain),
        labels: false,
        ..PictureSettings::default()
    };
    let image = picture(study, &settings).expect("a picture").image;
    Picture::of(
        width as usize,
        height as usize,
        image.pixels().map(|pixel| {
            let [red, green, blue, _] = pixel.0;
            [red, green, blue]
        }),
    )
}

/// Steps of 255 by which a pixel may differ: edges are smoothed by other hardware.
const ALIKE: u8 = 40;
/// Share of the pixels that may differ more: names and values, which the program's picture leaves out, and edges.
const OTHERS: f64 = 0.04;

#[test]
fn it_takes_over_and_shows_what_the_program_draws() {
    let Some(mut visit) = Visit::in_space([1280, 720], "#scene=handrail") else {
        return;
    };
    visit.chromium.until_within(LOADING, OPEN);
    let area = visit.area();
    let seen = visit.settled().cut(area.map(|side| side as usize));
    let drawn = drawn("handrail", area);
    let others = seen.share_unlike(&drawn, ALIKE);
    assert!(others < OTHERS, "{others} of the pixels differ");
    // An empty picture would fail.
    let blank = Picture::of(
        area[2] as usize,
        area[3] as usize,
        std::iter::repeat_n(drawn.at(0, 0), (area[2] * area[3]) as usize),
    );
    let marks = blank.share_unlike(&drawn, ALIKE);
    assert!(
        marks > 2.0 * others,
        "{marks} of the pixels are drawn, {others} differ"
    );
    visit.leave();
}

#[test]
fn what_the_page_changes_is_a_step_in_it_and_what_it_undoes_is_undone_on_the_page() {
    let Some(mut visit) = Visit::in_space([1280, 720], "#scene=sill-beam") else {
        return;
    };
    visit.chromium.until_within(LOADING, OPEN);
    let written = builtin::find("sill-beam").expect("a scene").text;
    // Back on the page, a change there is a step in the window.
    visit.chromium.click("#leave");
    visit
        .chromium
        .until("document.getElementById('space').hidden");
    visit.type_scene(&written.replace("(4, 0)", "(3, 0)"));
    visit
        .chromium
        .until("document.getElementById('undo').textContent === 'Undo: typed'");
    visit.chromium.click("#enter");
    visit
        .chromium
        .until("!document.getElementById('space').hidden");
    visit.settled();
    visit.press_with_ctrl("z");
    visit
        .chromium
        .until(&format!("{SOURCE} === {}", serde_json::json!(written)));
    // What is made again in the window and is not saved, the page keeps.
    const KEPT: &str = "(localStorage.getItem('sixhold-unsaved') ?? '').includes('(3, 0)')";
    visit.chromium.until(&format!("!{KEPT}"));
    visit.press_with_ctrl("y");
    visit.chromium.until(KEPT);
    visit.leave();
}

impl Visit {
    fn press_with_ctrl(&mut self, letter: &str) {
        let upper = letter.to_uppercase();
        let code = u32::from(upper.as_bytes()[0]);
        let mut send = |kind: &str, key: &str, code_name: &str, number: u32, modifiers: u8| {
            let event = serde_json::json!({"type": kind, "key": key, "code": code_name, "windowsVirtualKeyCode": number, "modifiers": modifiers});
            self.chromium.call("Input.dispatchKeyEvent", event);
        };
        let name = format!("Key{upper}");
        send("rawKeyDown", "Control", "ControlLeft", 17, 2);
        send("rawKeyDown", letter, &name, code, 2);
        send("keyUp", letter, &name, code, 2);
        send("keyUp", "Control", "ControlLeft", 17, 0);
    }
}
