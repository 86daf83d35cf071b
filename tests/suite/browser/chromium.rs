//! A Chromium without a window, told what to do by the DevTools protocol: JSON messages with a zero byte behind each,
//! on the file descriptors 3 and 4 of the browser (`--remote-debugging-pipe`).

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};

/// Longest that one answer may take, on a machine that is busy with other things.
const PATIENCE: Duration = Duration::from_secs(60);
/// Names under which the browser is installed.
const NAMES: [&str; 2] = ["chromium", "chromium-browser"];
/// No window, no updates, nothing looked up.
const QUIET: [&str; 10] = [
    "--headless",
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-extensions",
    "--hide-scrollbars",
    "--remote-debugging-pipe",
];

/// Nothing is drawn in space.
const FLAT: [&str; 1] = ["--disable-gpu"];
/// What is drawn in space is drawn on the processor.
#[cfg(feature = "viewer")]
const SOLID: [&str; 3] = [
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
];

/// A running browser with one page open.
pub(crate) struct Chromium {
    browser: Child,
    input: ChildStdin,
    answers: Receiver<Value>,
    page: Option<String>,
    sent: u64,
    /// What the browser has told without being asked, since the page is listened to.
    heard: Vec<Value>,
    _profile: tempfile::TempDir,
}

/// What a page looks like.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Picture {
    pub width: usize,
    pub height: usize,
    pixels: Vec<[u8; 3]>,
}

impl Drop for Chromium {
    fn drop(&mut self) {
        let _ = self.browser.kill();
        let _ = self.browser.wait();
    }
}

/// The name of the browser on this machine, if it has one.
pub(crate) fn installed() -> Option<&'static str> {
    NAMES.into_iter().find(|name| {
        let mut command = Command::new(name);
        command.arg("--version");
        command.stdout(Stdio::null()).stderr(Stdio::null());
        command.status().is_ok_and(|status| status.success())
    })
}

impl Chromium {
    /// Starts the browser with an empty page of a size in pixels.
    pub(crate) fn start(name: &str, size: [u32; 2]) -> Self {
        Self::started(name, size, &FLAT)
    }

    /// The same for pages that draw in space.
    #[cfg(feature = "viewer")]
    pub(crate) fn start_drawing(name: &str, size: [u32; 2]) -> Self {
        Self::started(name, size, &SOLID)
    }

    fn started(name: &str, [width, height]: [u32; 2], drawing: &[&str]) -> Self {
        let profile = tempfile::tempdir().expect("a folder");
        // The shell lays what we write on descriptor 3 and what we read on 4.
        let mut browser = Command::new("sh")
            .args([
                "-c",
                "exec \"$@\" 3<&0 4>&1 0</dev/null 1>/dev/null",
                "sh",
                name,
            ])
            .args(QUIET)
            .args(drawing)
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .arg("about:blank")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("a shell");
        let output = BufReader::new(browser.stdout.take().expect("its output"));
        let (sender, answers) = channel();
        std::thread::spawn(move || {
            for message in output.split(0).map_while(Result::ok) {
                let message = serde_json::from_slice(&message).expect("a message in JSON");
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        let mut chromium = Self {
            input: browser.stdin.take().expect("its input"),
            browser,
            answers,
            page: None,
            sent: 0,
            heard: Vec::new(),
            _profile: profile,
        };
        let page = chromium.call("Target.createTarget", json!({"url": "about:blank"}));
        let target = json!({"targetId": page["targetId"], "flatten": true});
        let session = chromium.call("Target.attachToTarget", target);
        chromium.page = session["sessionId"].as_str().map(str::to_owned);
        let size =
            json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false});
        chromium.call("Emulation.setDeviceMetricsOverride", size);
        chromium
    }

    /// Asks for something and waits for the answer.
    pub(crate) fn call(&mut self, method: &str, parameters: Value) -> Value {
        self.sent += 1;
        let mut message = json!({"id": self.sent, "method": method, "params": parameters});
        if let Some(page) = &self.page {
            message["sessionId"] = json!(page);
        }
        write!(self.input, "{message}\0").expect("the browser listens");
        let end = Instant::now() + PATIENCE;
        loop {
            let left = end.saturating_duration_since(Instant::now());
            let answer = self.answers.recv_timeout(left);
            let answer = answer.unwrap_or_else(|why| panic!("{method}: no answer: {why}"));
            if answer["id"] == self.sent {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].clone();
            }
            if answer["method"].is_string() {
                self.heard.push(answer);
            }
        }
    }

    /// Listens to what the page asks for and what goes wrong in it.
    pub(crate) fn listen(&mut self) {
        for domain in ["Network", "Log", "Runtime", "Page"] {
            self.call(&format!("{domain}.enable"), json!({}));
        }
        self.heard.clear();
    }

    /// Errors in the page's console so far, and requests to other places than one.
    pub(crate) fn faults(&mut self, origin: &str) -> Vec<String> {
        // An answer that is asked for comes after what has happened before.
        self.value("1");
        let heard = self.heard.iter();
        heard
            .filter_map(|event| {
                let told = &event["params"];
                match event["method"].as_str()? {
                    "Runtime.exceptionThrown" => Some(told["exceptionDetails"].to_string()),
                    "Runtime.consoleAPICalled" if told["type"] == "error" => Some(told.to_string()),
                    "Log.entryAdded" if told["entry"]["level"] == "error" => Some(told.to_string()),
                    "Network.requestWillBeSent" => {
                        let url = told["request"]["url"].as_str()?;
                        let mut own = [origin, "blob:", "data:", "about:"].into_iter();
                        let is_own = own.any(|start| url.starts_with(start));
                        (!is_own).then(|| format!("asked for {url}"))
                    }
                    _ => None,
                }
            })
            .collect()
    }

    /// Opens an address.
    pub(crate) fn go(&mut self, address: &str) {
        self.call("Page.navigate", json!({"url": address}));
    }

    /// Waits until an expression of the page is true.
    pub(crate) fn until(&mut self, expression: &str) {
        self.until_within(PATIENCE, expression);
    }

    /// The same for as long as something may take.
    pub(crate) fn until_within(&mut self, patience: Duration, expression: &str) {
        let end = Instant::now() + patience;
        loop {
            let asked = json!({"expression": expression, "returnByValue": true});
            // While a page is being opened there may be nothing yet to ask.
            let answer = self.call("Runtime.evaluate", asked);
            if answer["result"]["value"] == true {
                return;
            }
            assert!(Instant::now() < end, "never true: {expression}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Sets the size of the page, as a telephone has it with fingers.
    pub(crate) fn become_telephone(&mut self, [width, height]: [u32; 2]) {
        let size =
            json!({"width": width, "height": height, "deviceScaleFactor": 2, "mobile": true});
        self.call("Emulation.setDeviceMetricsOverride", size);
        self.call(
            "Emulation.setTouchEmulationEnabled",
            json!({"enabled": true}),
        );
    }

    /// Drags from one place to another with a finger.
    pub(crate) fn swipe(&mut self, from: [f64; 2], to: [f64; 2]) {
        let touch = |[x, y]: [f64; 2]| json!([{"x": x, "y": y}]);
        let steps = (0..=6).map(|k| f64::from(k) / 6.0);
        for (index, part) in steps.enumerate() {
            let place = [0, 1].map(|k| from[k] + part * (to[k] - from[k]));
            let kind = if index == 0 {
                "touchStart"
            } else {
                "touchMove"
            };
            let event = json!({"type": kind, "touchPoints": touch(place)});
            self.call("Input.dispatchTouchEvent", event);
        }
        let event = json!({"type": "touchEnd", "touchPoints": []});
        self.call("Input.dispatchTouchEvent", event);
    }

    /// Drags from one place to another with the mouse.
    pub(crate) fn drag(&mut self, from: [f64; 2], to: [f64; 2]) {
        let mut send = |kind: &str, [x, y]: [f64; 2], buttons: u8| {
            let event = json!({"type": kind, "x": x, "y": y, "button": "left", "buttons": buttons, "clickCount": 1});
            self.call("Input.dispatchMouseEvent", event);
        };
        send("mousePressed", from, 1);
        for step in 1..=6 {
            let part = f64::from(step) / 6.0;
            send(
                "mouseMoved",
                [0, 1].map(|k| from[k] + part * (to[k] - from[k])),
                1,
            );
        }
        send("mouseReleased", to, 0);
    }

    /// The value of an expression of the page's script; waits where it is a promise.
    pub(crate) fn value(&mut self, expression: &str) -> Value {
        let asked = json!({"expression": expression, "awaitPromise": true, "returnByValue": true});
        let answer = self.call("Runtime.evaluate", asked);
        assert!(
            answer["exceptionDetails"].is_null(),
            "{expression}: {answer}"
        );
        answer["result"]["value"].clone()
    }

    /// The window that the page has opened, as a name for [`Chromium::value_in`].
    pub(crate) fn opened(&mut self) -> String {
        let end = Instant::now() + PATIENCE;
        loop {
            let found = self.call("Target.getTargets", json!({}));
            let mut targets = found["targetInfos"].as_array().into_iter().flatten();
            if let Some(target) = targets.find(|target| target["openerId"].is_string()) {
                let target = json!({"targetId": target["targetId"], "flatten": true});
                let session = self.call("Target.attachToTarget", target);
                return session["sessionId"].as_str().unwrap().to_owned();
            }
            assert!(Instant::now() < end, "no window was opened");
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// The value of an expression in another window.
    pub(crate) fn value_in(&mut self, window: &str, expression: &str) -> Value {
        let page = self.page.replace(window.to_owned());
        let value = self.value(expression);
        self.page = page;
        value
    }

    /// Opens a file at a fragment of its address, or goes there where it is open.
    pub(crate) fn open(&mut self, file: &Path, fragment: &str) {
        let address = format!("file://{}#{fragment}", file.display());
        self.call("Page.navigate", json!({"url": address}));
        let there = format!("document.readyState === 'complete' && location.href === '{address}'");
        let end = Instant::now() + PATIENCE;
        while self.value(&there) != true {
            assert!(Instant::now() < end, "{address} was never open");
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Whether pages are to move as little as they can.
    pub(crate) fn prefer_calm(&mut self, calm: bool) {
        let value = if calm { "reduce" } else { "no-preference" };
        let feature = json!({"name": "prefers-reduced-motion", "value": value});
        self.call("Emulation.setEmulatedMedia", json!({"features": [feature]}));
    }

    /// Presses a key that stands for no letter, by its name and its number in the protocol.
    pub(crate) fn press(&mut self, key: &str, number: u32) {
        for kind in ["rawKeyDown", "keyUp"] {
            self.call(
                "Input.dispatchKeyEvent",
                json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": number}),
            );
        }
    }

    /// Clicks on what a selector finds.
    pub(crate) fn click(&mut self, selector: &str) {
        let middle = self.value(&format!(
            "(() => {{ const r = document.querySelector('{selector}').getBoundingClientRect();
                return [r.x + r.width / 2, r.y + r.height / 2]; }})()"
        ));
        for kind in ["mousePressed", "mouseReleased"] {
            self.call(
                "Input.dispatchMouseEvent",
                json!({"type": kind, "x": middle[0], "y": middle[1], "button": "left", "clickCount": 1}),
            );
        }
    }

    /// What is to be seen once letters are loaded and everything is painted.
    pub(crate) fn picture(&mut self) -> Picture {
        self.value(
            "document.fonts.ready.then(() => new Promise((done) =>
                requestAnimationFrame(() => requestAnimationFrame(() => done(true)))))",
        );
        let taken = self.call(
            "Page.captureScreenshot",
            json!({"format": "png", "optimizeForSpeed": true}),
        );
        let bytes = STANDARD.decode(taken["data"].as_str().expect("an image"));
        Picture::read(&bytes.expect("base64"))
    }
}

impl Picture {
    fn read(bytes: &[u8]) -> Self {
        let decoder = png::Decoder::new(std::io::Cursor::new(bytes));
        let mut reader = decoder.read_info().expect("a PNG image");
        let mut data = vec![0; reader.output_buffer_size().expect("a size")];
        let info = reader.next_frame(&mut data).expect("a frame");
        let samples = info.color_type.samples();
        assert!(samples >= 3, "an image in colour");
        let pixels = data[..info.buffer_size()].chunks_exact(samples);
        Self {
            width: info.width as usize,
            height: info.height as usize,
            pixels: pixels.map(|p| [p[0], p[1], p[2]]).collect(),
        }
    }

    /// A picture of red, green and blue.
    #[cfg(feature = "films")]
    pub(crate) fn new(width: usize, height: usize, rgb: &[u8]) -> Self {
        let pixels: Vec<_> = rgb.chunks_exact(3).map(|p| [p[0], p[1], p[2]]).collect();
        assert_eq!(pixels.len(), width * height);
        Self {
            width,
            height,
            pixels,
        }
    }

    /// A picture of pixels, row by row.
    #[cfg(feature = "viewer")]
    pub(crate) fn of(width: usize, height: usize, pixels: impl Iterator<Item = [u8; 3]>) -> Self {
        let pixels: Vec<_> = pixels.collect();
        assert_eq!(pixels.len(), width * height);
        Self {
            width,
            height,
            pixels,
        }
    }

    /// A part of it: left, top, width and height.
    #[cfg(feature = "viewer")]
    pub(crate) fn cut(&self, [left, top, width, height]: [usize; 4]) -> Self {
        let places = (0..height).flat_map(|y| (0..width).map(move |x| [left + x, top + y]));
        Self::of(width, height, places.map(|[x, y]| self.at(x, y)))
    }

    /// Which share of the pixels differ from those of another by more than so many steps of 255 in some colour.
    #[cfg(feature = "viewer")]
    pub(crate) fn share_unlike(&self, other: &Self, steps: u8) -> f64 {
        assert_eq!([self.width, self.height], [other.width, other.height]);
        let pairs = self.pixels.iter().zip(&other.pixels);
        let unlike = pairs.filter(|(a, b)| (0..3).any(|k| a[k].abs_diff(b[k]) > steps));
        unlike.count() as f64 / self.pixels.len() as f64
    }

    pub(crate) fn at(&self, x: usize, y: usize) -> [u8; 3] {
        self.pixels[y * self.width + x]
    }

    /// How many pixels within shares of width and height, low and high, are not of the paper's colour.
    pub(crate) fn ink(&self, across: [f64; 2], down: [f64; 2]) -> usize {
        let range = |[low, high]: [f64; 2], side: usize| {
            (low * side as f64).round() as usize..(high * side as f64).round() as usize
        };
        let paper = self.at(0, 0);
        range(down, self.height)
            .flat_map(|y| range(across, self.width).map(move |x| (x, y)))
            .filter(|(x, y)| self.at(*x, *y) != paper)
            .count()
    }

    /// How many pixels differ from those of a picture of the same size.
    pub(crate) fn difference(&self, other: &Self) -> usize {
        assert_eq!([self.width, self.height], [other.width, other.height]);
        let pairs = self.pixels.iter().zip(&other.pixels);
        pairs.filter(|(a, b)| a != b).count()
    }

    /// By how many of 255 steps red, green and blue differ in the mean from a picture in the upper left corner.
    #[cfg(feature = "films")]
    pub(crate) fn mean_distance(&self, other: &Self) -> f64 {
        assert!(other.width <= self.width && other.height <= self.height);
        let rows = self
            .pixels
            .chunks(self.width)
            .map(|row| &row[..other.width]);
        let pairs = rows.flatten().zip(&other.pixels);
        let distances = pairs.flat_map(|(a, b)| [0, 1, 2].map(|k| a[k].abs_diff(b[k])));
        distances.map(f64::from).sum::<f64>() / (3 * other.pixels.len()) as f64
    }
}
