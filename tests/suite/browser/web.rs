//! The web page as its visitors use it: opened by links good and bad, typed in, turned by mouse and finger, taken home.
//!
//! `bash assets/web/build --quick` builds it first. Without SIXHOLD_NEED_ADAPTER=1 these say that they do nothing, and so they do with
//! SIXHOLD_NO_PAGE=1, where it cannot be built.

use std::io::{BufRead, BufReader, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::chromium::{self, Chromium};
use crate::command_line::ran;

/// A browser at the page, which is served on this machine.
pub(super) struct Visit {
    pub(super) chromium: Chromium,
    origin: String,
    /// What comes after the address of the page, before the fragment.
    asks: &'static str,
}

/// Where the page is built.
fn built() -> Option<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or(root.join("target"), PathBuf::from);
    let page = root.join(target).join("web");
    page.join("index.html").exists().then_some(page)
}

/// Serves the files of a folder, and nothing outside it; returns where.
fn served(folder: PathBuf) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let origin = format!("http://{}/", listener.local_addr().expect("an address"));
    std::thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            let folder = folder.clone();
            std::thread::spawn(move || answer(stream, &folder));
        }
    });
    origin
}

fn answer(mut stream: TcpStream, folder: &Path) {
    let mut lines = BufReader::new(&stream).lines().map_while(Result::ok);
    let first = lines.next().unwrap_or_default();
    let _ = lines.by_ref().take_while(|line| !line.is_empty()).count();
    let path = first.split(' ').nth(1).unwrap_or("/");
    let path = path
        .split(['?', '#'])
        .next()
        .unwrap_or("/")
        .trim_start_matches('/');
    let name = if path.is_empty() { "index.html" } else { path };
    let kind = match name.rsplit('.').next() {
        Some("html") => "text/html",
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        Some("svg") => "image/svg+xml",
        Some("wasm") => "application/wasm",
        _ => "application/octet-stream",
    };
    let found = (!name.contains("..")).then(|| std::fs::read(folder.join(name)));
    let (status, body) = match found {
        Some(Ok(body)) => ("200 OK", body),
        _ => ("404 Not Found", Vec::new()),
    };
    let head = format!(
        "HTTP/1.1 {status}\r\ncontent-type: {kind}\r\ncontent-length: {}\r\nconnection: close\r\n\r\n",
        body.len()
    );
    // The browser may have gone.
    let _ = stream
        .write_all(head.as_bytes())
        .and_then(|()| stream.write_all(&body));
}

const ANSWERED: &str = "!document.body.classList.contains('waiting') && document.querySelectorAll('#list li').length > 0";

impl Visit {
    /// `None` where the browser is not asked for, or the page is not built and need not be.
    fn new(size: [u32; 2], fragment: &str) -> Option<Self> {
        // The page by itself, also where the browser could draw in space.
        Self::begun(size, "?plain", fragment, Chromium::start)
    }

    /// The same in a browser that draws in space.
    #[cfg(feature = "viewer")]
    pub(super) fn in_space(size: [u32; 2], fragment: &str) -> Option<Self> {
        Self::begun(size, "", fragment, Chromium::start_drawing)
    }

    #[expect(
        clippy::print_stderr,
        reason = "a test that does nothing should say so"
    )]
    fn begun(
        size: [u32; 2],
        asks: &'static str,
        fragment: &str,
        start: impl FnOnce(&str, [u32; 2]) -> Chromium,
    ) -> Option<Self> {
        if std::env::var_os("SIXHOLD_NEED_ADAPTER").is_none_or(|value| value != "1") {
            eprintln!("skipped: the web page is tried with SIXHOLD_NEED_ADAPTER=1 only");
            return None;
        }
        if std::env::var_os("SIXHOLD_NO_PAGE").is_some() {
            eprintln!("skipped: the web page could not be built on this machine");
            return None;
        }
        let page = built().expect("the web page is not built: bash assets/web/build --quick");
        let name = chromium::installed().expect("Chromium is missing");
        let mut visit = Self {
            chromium: start(name, size),
            origin: served(page),
            asks,
        };
        visit.chromium.listen();
        visit.go(fragment);
        Some(visit)
    }

    fn go(&mut self, fragment: &str) {
        let asks = if fragment.starts_with('?') {
            ""
        } else {
            self.asks
        };
        let address = format!("{}{asks}{fragment}", self.origin);
        self.chromium.go("about:blank");
        self.chromium.until("location.href === 'about:blank'");
        self.chromium.go(&address);
        self.chromium.until(ANSWERED);
    }

    fn text(&mut self, selector: &str) -> String {
        let text = self
            .chromium
            .value(&format!("document.querySelector('{selector}').textContent"));
        text.as_str().unwrap_or_default().to_owned()
    }

    fn numbers(&mut self) -> String {
        let numbers =
            "[...document.querySelectorAll('#numbers dd')].map((e) => e.textContent).join(' ')";
        self.chromium
            .value(numbers)
            .as_str()
            .unwrap_or_default()
            .to_owned()
    }

    /// Waits for a figure other than the one that is shown, and returns what is shown now.
    fn figure_after(&mut self, before: &Value) -> Value {
        let before = before.as_str().unwrap_or_default();
        self.chromium.until(&format!("document.getElementById('figure').src.startsWith('blob:') && document.getElementById('figure').src !== '{before}'"));
        self.chromium.value("document.getElementById('figure').src")
    }

    pub(super) fn type_scene(&mut self, text: &str) {
        let text = json!(text);
        self.chromium.value(&format!(
            "(() => {{ const source = document.getElementById('source'); source.value = {text};
                source.dispatchEvent(new Event('input')); }})()"
        ));
    }

    /// No error in the console, and nothing asked for elsewhere.
    pub(super) fn leave(mut self) {
        let faults = self.chromium.faults(&self.origin.clone());
        assert!(faults.is_empty(), "{}", faults.join("\n"));
    }
}

/// What `sixhold check` says first, as the page says it.
fn headline(scene: &str) -> Value {
    let ran = ran(&["check", scene, "--format", "json"]);
    serde_json::from_str(&ran.out).expect("a report")
}

#[test]
fn a_built_in_scene_is_answered_as_the_program_answers_it() {
    let Some(mut visit) = Visit::new([1280, 720], "") else {
        return;
    };
    let report = headline("handrail");
    let numbers =
        ["unknowns", "rank", "freedom", "redundancy"].map(|name| report[name].to_string());
    assert_eq!(visit.numbers(), numbers.join(" "));
    assert!(visit.text("#sentence").starts_with("Not held:"));
    visit.figure_after(&Value::Null);
    let described = visit
        .chromium
        .value("document.getElementById('figure').alt");
    assert!(
        described
            .as_str()
            .is_some_and(|words| words.contains("ball joint")),
        "{described}"
    );
    visit.chromium.click("#open-scenes");
    visit
        .chromium
        .click("#list button[data-scene=\"mirror-cell\"]");
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Held')");
    assert_eq!(visit.chromium.value("location.hash"), "#scene=mirror-cell");
    visit.leave();
}

#[test]
fn the_motion_is_shown_and_the_scene_turned_by_mouse_keys_and_fingers() {
    let Some(mut visit) = Visit::new([1280, 720], "#scene=handrail") else {
        return;
    };
    let first = visit.figure_after(&Value::Null);
    visit.chromium.drag([400.0, 300.0], [520.0, 330.0]);
    let turned = visit.figure_after(&first);
    visit
        .chromium
        .value("document.getElementById('picture').focus()");
    visit.chromium.press("ArrowLeft", 37);
    let again = visit.figure_after(&turned);
    visit.chromium.click("#play");
    visit
        .chromium
        .until("document.getElementById('phase').value > 3");
    visit.chromium.click("#play");
    let still = visit.figure_after(&again);
    visit.chromium.become_telephone([390, 844]);
    visit.go("#scene=handrail");
    let before = visit.figure_after(&still);
    visit.chromium.swipe([200.0, 300.0], [120.0, 340.0]);
    visit.figure_after(&before);
    let wider = visit
        .chromium
        .value("document.documentElement.scrollWidth > innerWidth");
    assert_eq!(wider, false);
    visit.leave();
}

#[test]
fn a_scene_is_changed_undone_shared_and_opened_again() {
    let Some(mut visit) = Visit::new([1280, 720], "#scene=sill-beam") else {
        return;
    };
    let text = sixhold::scene::builtin::find("sill-beam")
        .expect("a scene")
        .text;
    let numbers = visit.numbers();
    visit.chromium.click("#open-text");
    let changed = text.replacen("Pin(", "Roller(normal: (0, 1), ", 1);
    assert_ne!(changed, text);
    visit.type_scene(&changed);
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Not held')");
    visit.chromium.click("#undo");
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Held')");
    assert_eq!(visit.numbers(), numbers);
    visit.chromium.click("#redo");
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Not held')");
    visit.chromium.click("#open-share");
    visit.chromium.click("#copy-link");
    visit
        .chromium
        .until("document.getElementById('link-said').textContent.includes('#text=')");
    let link = visit
        .text("#link-said")
        .trim_start_matches("Copied: ")
        .to_owned();
    let address = sixhold::address::SceneAddress::read(&link).expect("an address");
    assert_eq!(
        address.scene,
        sixhold::address::AddressedScene::Text(changed.clone())
    );
    let checked = ran(&["check", &link]);
    assert!(
        checked.out.contains("Not held"),
        "{}{}",
        checked.out,
        checked.err
    );
    let fragment = link
        .split_once('#')
        .map(|(_, after)| format!("#{after}"))
        .unwrap_or_default();
    visit.go(&fragment);
    assert!(visit.text("#sentence").starts_with("Not held"));
    let kept = visit
        .chromium
        .value("document.getElementById('source').value");
    assert_eq!(kept, json!(changed));
    // What was typed and not saved is offered again.
    assert!(visit.text("#notice").contains("Not saved"));
    visit.leave();
}

/// The middle of the ring on a thing in hand.
const RING: &str = "(() => { const r = document.querySelector('#picture .mark').getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()";

impl Visit {
    fn place(&mut self, expression: &str) -> [f64; 2] {
        let place = self.chromium.value(expression);
        [0, 1].map(|k| {
            place[k]
                .as_f64()
                .unwrap_or_else(|| panic!("no place: {expression}"))
        })
    }

    fn place_of_b(&mut self) -> String {
        let text = self
            .chromium
            .value("document.getElementById('source').value");
        let text = text.as_str().unwrap_or_default();
        let b = text
            .lines()
            .find(|line| line.contains("\"B\""))
            .unwrap_or_default();
        b.to_owned()
    }

    /// Clicks from the right end of the beam leftwards until B is in hand.
    fn take_b(&mut self, tap: impl Fn(&mut Chromium, [f64; 2])) {
        let box_of_figure = "(() => { const r = document.getElementById('figure').getBoundingClientRect(); return [r.right, r.y + r.height / 2]; })()";
        let [right, middle] = self.place(box_of_figure);
        for step in 0..40 {
            tap(&mut self.chromium, [right - 12.0 * f64::from(step), middle]);
            if self.text("#notice").starts_with("B is a rocker") {
                return;
            }
        }
        panic!("B cannot be taken in hand: {}", self.text("#notice"));
    }
}

#[test]
fn a_support_is_moved_by_mouse_and_by_finger_and_put_back() {
    let Some(mut visit) = Visit::new([1280, 720], "#scene=sill-beam") else {
        return;
    };
    visit.figure_after(&Value::Null);
    let before = visit.place_of_b();
    visit.take_b(|chromium, at| chromium.drag(at, at));
    let [x, y] = visit.place(RING);
    visit.chromium.drag([x, y], [x - 220.0, y + 3.0]);
    visit
        .chromium
        .until("document.getElementById('undo').textContent.startsWith('Undo: moved point B')");
    let moved = visit.place_of_b();
    assert_ne!(moved, before);
    assert!(visit.text("#sentence").starts_with("Held"));
    visit.chromium.click("#undo");
    visit
        .chromium
        .until("document.getElementById('undo').hidden");
    assert_eq!(visit.place_of_b(), before);
    visit.take_b(|chromium, at| chromium.drag(at, at));
    visit
        .chromium
        .until("document.querySelector('#notice select')?.options.length > 5");
    visit.chromium.click("#notice button:last-of-type");
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Not held')");
    visit.chromium.click("#undo");
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Held')");
    visit.chromium.become_telephone([390, 844]);
    visit.go("#scene=sill-beam");
    visit.figure_after(&Value::Null);
    visit.take_b(|chromium, at| chromium.swipe(at, at));
    let [x, y] = visit.place(RING);
    visit.chromium.swipe([x, y], [x - 90.0, y]);
    visit
        .chromium
        .until("document.getElementById('undo').textContent.startsWith('Undo: moved point B')");
    assert_ne!(visit.place_of_b(), before);
    visit.leave();
}

/// Share of the pixels in which two figures differ by more than a shade.
const DIFFERENCE: &str = r#"
    window.pixels = async (svg) => {
        const image = new Image();
        image.src = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
        await image.decode();
        const canvas = new OffscreenCanvas(2 * image.naturalWidth, 2 * image.naturalHeight);
        const context = canvas.getContext("2d");
        context.drawImage(image, 0, 0, canvas.width, canvas.height);
        return context.getImageData(0, 0, canvas.width, canvas.height);
    };
    window.difference = async (one, other) => {
        const [a, b] = await Promise.all([one, other].map(window.pixels));
        if (a.width !== b.width || a.height !== b.height) return 1;
        const apart = a.data.filter((value, at) => Math.abs(value - b.data[at]) > 24).length;
        return apart / a.data.length;
    };
    true"#;

/// The page says of every built-in scene what the program says, and draws it alike: the mathematics of a browser may round a
/// coordinate to the next hundredth of a point, and cut a curve into other pieces.
#[test]
fn the_page_says_and_draws_what_the_program_does() {
    let Some(mut visit) = Visit::new([640, 480], "") else {
        return;
    };
    visit.chromium.value(DIFFERENCE);
    for scene in sixhold::scene::builtin::all() {
        let native = sixhold::page::PageScene::built_in(scene.name).expect("a scene");
        let options = sixhold::page::PageOptions::default();
        let figure = json!(native.figure(&options).expect("a figure"));
        let said = visit.chromium.value(&format!(
            "import('./package/index.js').then(async (sixhold) => {{
                const text = await sixhold.builtIn('{}');
                const figure = await sixhold.figure(text);
                return [await sixhold.answer(text), await window.difference(figure, {figure})]; }})",
            scene.name
        ));
        let answer = native.answer(&options).expect("an answer");
        let expected = serde_json::to_value(&answer).expect("JSON");
        for part in ["verdict", "reason", "numbers", "motions", "cases"] {
            assert_eq!(said[0][part], expected[part], "{}: {part}", scene.name);
        }
        let apart = said[1].as_f64().expect("a share");
        assert!(apart < 1e-3, "{}: {apart}", scene.name);
    }
    visit.leave();
}

/// A motion or load case that was chosen, and is gone when the scene has been changed, was taken for a scene that cannot be read.
#[test]
fn what_was_chosen_may_be_gone_when_the_scene_is_changed() {
    let Some(mut visit) = Visit::new([1280, 720], "#scene=ball-head") else {
        return;
    };
    visit.figure_after(&Value::Null);
    visit.chromium.value(
        "(() => { const motion = document.getElementById('motion'); motion.value = '2'; motion.dispatchEvent(new Event('change')); })()",
    );
    visit
        .chromium
        .until("document.getElementById('motion').value === '2'");
    let before = visit
        .chromium
        .value("document.getElementById('figure').src");
    let held = sixhold::scene::builtin::find("sill-beam").expect("a scene");
    visit.type_scene(held.text);
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Held')");
    visit.figure_after(&before);
    assert!(
        visit.text("#sentence").starts_with("Held"),
        "{}",
        visit.text("#sentence")
    );
    visit.leave();
}

#[test]
fn a_link_can_ask_first() {
    let link = ran(&["link", "handrail", "--guess", "--theme", "daylight"]);
    assert_eq!(link.code, Some(0), "{}", link.err);
    let Some(mut visit) = Visit::new([1280, 720], link.out.trim()) else {
        return;
    };
    assert_eq!(visit.text("#sentence"), "Is it held?");
    assert!(visit.numbers().ends_with("– – –"), "{}", visit.numbers());
    visit
        .chromium
        .value("document.getElementById('guessed').value = 1");
    visit.chromium.click("#guess button");
    visit
        .chromium
        .until("document.getElementById('sentence').textContent.startsWith('Right. Not held')");
    visit.chromium.click("#lesson");
    visit
        .chromium
        .until("document.getElementById('numbers').textContent.startsWith('–')");
    assert!(visit.text("#sentence").ends_with('?'));
    visit.leave();
}

#[test]
fn bad_links_and_bad_scenes_say_why_and_do_nothing_else() {
    let Some(mut visit) = Visit::new([1280, 720], "#scene=handrial") else {
        return;
    };
    assert!(
        visit
            .text("#sentence")
            .contains("did you mean \"handrail\"?")
    );
    let bomb = {
        let spaces = " ".repeat(1 << 20);
        let text = sixhold::address::AddressedScene::Text(spaces + "x");
        sixhold::address::SceneAddress::of(text)
            .fragment()
            .expect("short when packed")
    };
    let long = format!("text={}", "A".repeat(70_000));
    for (fragment, expected) in [
        ("<script>document.title='owned'</script>", "no place for"),
        ("text=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E", "damaged"),
        ("text=%00%01%02", "damaged"),
        (bomb.as_str(), "larger than a megabyte"),
        (long.as_str(), "too long"),
    ] {
        visit.go(&format!("#{fragment}"));
        let said = visit.text("#sentence");
        assert!(
            said.starts_with("No scene:") && said.contains(expected),
            "{said}"
        );
        assert!(said.len() < 400, "{said}");
    }
    visit.go("#scene=handrail");
    visit.chromium.click("#open-text");
    let hostile =
        r#"(format: 1, title: "<img src=x onerror=document.title='owned'>", body: [Blok()])"#;
    visit.type_scene(hostile);
    visit
        .chromium
        .until("document.getElementById('problems').textContent.includes('Blok')");
    let whole = hostile.replace("Blok()", "Block(centre: (0, 0, 0), size: (1, 1, 1))");
    visit.type_scene(&whole);
    visit
        .chromium
        .until("document.getElementById('title').textContent.startsWith('<img')");
    visit.chromium.click("#open-report");
    visit
        .chromium
        .until("document.getElementById('paper').shadowRoot?.textContent.includes('<img')");
    assert_eq!(
        visit
            .chromium
            .value("document.querySelectorAll('#paper img').length"),
        0
    );
    let title = visit.chromium.value("document.title");
    assert!(
        title
            .as_str()
            .is_some_and(|title| title.ends_with("Sixhold")),
        "{title}"
    );
    visit.leave();
}

#[test]
fn the_page_works_without_a_network_after_the_first_visit() {
    let Some(mut visit) = Visit::new([1280, 720], "") else {
        return;
    };
    visit
        .chromium
        .value("navigator.serviceWorker.ready.then(() => true)");
    visit
        .chromium
        .until("navigator.serviceWorker.controller !== null");
    let offline =
        json!({"offline": true, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0});
    visit
        .chromium
        .call("Network.emulateNetworkConditions", offline);
    visit.go("#scene=mirror-cell");
    assert!(visit.text("#sentence").starts_with("Held"));
    visit.leave();
}

#[test]
fn another_page_can_show_a_lesson_and_draw_by_the_package() {
    let Some(mut visit) = Visit::new([1000, 900], "") else {
        return;
    };
    let example = format!("{}example.html", visit.origin);
    visit.chromium.go(&example);
    visit.chromium.until("document.getElementById('drawn')?.complete && document.getElementById('drawn').naturalWidth > 0");
    assert!(visit.text("#verdict").starts_with("Held"));
    visit.chromium.until("document.querySelector('iframe').contentDocument.getElementById('sentence')?.textContent === 'Is it held?'");
    let frame = "document.querySelector('iframe').contentDocument.body.className";
    assert!(
        visit
            .chromium
            .value(frame)
            .as_str()
            .is_some_and(|name| name.contains("embed"))
    );
    visit.leave();
}
