//! Scenes in web addresses: a built-in one by its name, or a whole scene, packed into the part after `#`, which browsers keep to
//! themselves: no server is told of it.
//!
//! The fragment is a list of `key=value` in the form encoding of the URL standard (WHATWG, URL, section 5); a scene is compressed
//! by DEFLATE (RFC 1951) and written in base64url without padding (RFC 4648, section 5).

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use miniz_oxide::{deflate, inflate};
use thiserror::Error;

use crate::scene::{self, LessonStage, builtin};

/// A scene as an address gives it, and how it is to be shown.
#[derive(Debug, Clone, PartialEq)]
pub struct SceneAddress {
    /// The scene.
    pub scene: AddressedScene,
    /// Name of the load case that is shown.
    pub case: Option<String>,
    /// Name of the theme.
    pub theme: Option<String>,
    /// Azimuth and elevation that the scene is seen from, degrees.
    pub view: Option<[f64; 2]>,
    /// What of the lesson has been shown.
    pub stage: Option<LessonStage>,
    /// Whether the answer is held back until it has been guessed.
    pub guess: bool,
}

/// The scene of an address.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AddressedScene {
    /// A built-in one, by name.
    BuiltIn(&'static str),
    /// One by its text.
    Text(String),
}

/// Most characters of a fragment: what mail programs and learning platforms pass on (common practice, no source).
pub const LONGEST: usize = 60_000;
/// Most bytes of a scene's text in an address.
const LARGEST: usize = 1 << 20;
/// How hard DEFLATE tries, 0 to 10.
const EFFORT: u8 = 10;
/// Themes that an address can name.
pub(crate) const THEMES: [&str; 3] = ["hall", "daylight", "stark"];
/// Keys of a fragment.
const KEYS: [&str; 7] = ["scene", "text", "case", "theme", "view", "stage", "guess"];

/// Why an address gives no scene.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum AddressError {
    /// It names none.
    #[error("the address has no scene: after its # comes scene=NAME or text=SCENE")]
    NoScene,
    /// It names two.
    #[error("the address gives `{0}` twice")]
    Twice(&'static str),
    /// A key that there is not.
    #[error("the address has no place for `{key}`; after its # are allowed: {allowed}", allowed = KEYS.join(", "))]
    Key {
        /// The key.
        key: String,
    },
    /// A built-in scene that there is not.
    #[error("the address names the scene \"{name}\", which is not built in{}", hint(.nearest))]
    Unknown {
        /// The name.
        name: String,
        /// The one nearest to it.
        nearest: Option<&'static str>,
    },
    /// More characters than are read.
    #[error(
        "the address is too long: {0} characters after its #, at most {LONGEST}; send the file of the scene instead"
    )]
    TooLong(usize),
    /// A text that is no packed scene.
    #[error("the scene in the address is damaged ({0}); copy the whole address again")]
    Damaged(&'static str),
    /// A value that is not allowed.
    #[error("the address gives {key}={value}; allowed: {allowed}")]
    Value {
        /// Its key.
        key: &'static str,
        /// What it gives.
        value: String,
        /// What is allowed.
        allowed: String,
    },
}

fn hint(nearest: &Option<&str>) -> String {
    nearest.map_or_else(String::new, |near| format!("; did you mean \"{near}\"?"))
}

impl SceneAddress {
    /// The address of a scene, with nothing said on how it is shown.
    pub fn of(scene: AddressedScene) -> Self {
        Self {
            scene,
            case: None,
            theme: None,
            view: None,
            stage: None,
            guess: false,
        }
    }

    /// What comes after the `#`.
    ///
    /// # Errors
    /// [`AddressError::TooLong`] for a scene that is too large to be sent this way.
    pub fn fragment(&self) -> Result<String, AddressError> {
        let mut parts = form_urlencoded::Serializer::new(String::new());
        match &self.scene {
            AddressedScene::BuiltIn(name) => parts.append_pair("scene", name),
            AddressedScene::Text(text) => parts.append_pair("text", &packed(text)),
        };
        if let Some(case) = &self.case {
            parts.append_pair("case", case);
        }
        if let Some(theme) = &self.theme {
            parts.append_pair("theme", theme);
        }
        if let Some([azimuth, elevation]) = self.view {
            parts.append_pair("view", &format!("{azimuth},{elevation}"));
        }
        if let Some(stage) = self.stage {
            parts.append_pair("stage", stage.name());
        }
        if self.guess {
            parts.append_pair("guess", "yes");
        }
        let fragment = parts.finish();
        match fragment.len() > LONGEST {
            true => Err(AddressError::TooLong(fragment.len())),
            false => Ok(fragment),
        }
    }

    /// The whole address, at a page that shows scenes.
    ///
    /// # Errors
    /// As [`SceneAddress::fragment`].
    pub fn at(&self, page: &str) -> Result<String, AddressError> {
        let page = page.split_once('#').map_or(page, |(page, _)| page);
        Ok(format!("{page}#{}", self.fragment()?))
    }

    /// Whether a word is an address with a scene, rather than the name of a file or scene.
    pub fn is_address(word: &str) -> bool {
        let page = word.split_once('#').map(|(page, _)| page);
        page.is_some_and(|page| page.is_empty() || page.contains("://"))
    }

    /// Reads an address, or what comes after its `#`.
    ///
    /// # Errors
    /// An [`AddressError`] where it gives no scene, or something that is not understood.
    pub fn read(address: &str) -> Result<Self, AddressError> {
        let fragment = address.split_once('#').map_or(address, |(_, after)| after);
        let characters = fragment.chars().count();
        if characters > LONGEST {
            return Err(AddressError::TooLong(characters));
        }
        let mut values = Values::default();
        for (key, value) in form_urlencoded::parse(fragment.as_bytes()) {
            values.keep(&key, value.into_owned())?;
        }
        values.address()
    }
}

/// The values of a fragment, in the order of [`KEYS`].
#[derive(Default)]
struct Values([Option<String>; KEYS.len()]);

impl Values {
    fn keep(&mut self, key: &str, value: String) -> Result<(), AddressError> {
        let place = KEYS.iter().position(|known| *known == key);
        let place = place.ok_or_else(|| AddressError::Key {
            key: key.chars().take(40).collect(),
        })?;
        match self.0[place].replace(value) {
            Some(_) => Err(AddressError::Twice(KEYS[place])),
            None => Ok(()),
        }
    }

    fn address(self) -> Result<SceneAddress, AddressError> {
        let [name, text, case, theme, view, stage, guess] = self.0;
        let scene = match (name, text) {
            (Some(_), Some(_)) => return Err(AddressError::Twice("scene")),
            (None, None) => return Err(AddressError::NoScene),
            (Some(name), None) => built_in(name)?,
            (None, Some(text)) => AddressedScene::Text(unpacked(&text)?),
        };
        let stage_named = |word: &str| {
            let mut stages = LessonStage::ALL.into_iter();
            stages.find(|stage| stage.name().eq_ignore_ascii_case(word))
        };
        let stages = || LessonStage::ALL.map(LessonStage::name).join(", ");
        let yes = |word: &str| (word == "yes").then_some(true);
        let theme_named = |word: &str| THEMES.contains(&word).then(|| word.to_owned());
        Ok(SceneAddress {
            scene,
            case,
            theme: value("theme", theme, theme_named, || THEMES.join(", "))?,
            view: value("view", view, angles, || {
                "AZIMUTH,ELEVATION in degrees, the elevation from -90 to 90".to_owned()
            })?,
            stage: value("stage", stage, stage_named, stages)?,
            guess: value("guess", guess, yes, || "yes".to_owned())?.is_some(),
        })
    }
}

fn built_in(name: String) -> Result<AddressedScene, AddressError> {
    match builtin::find(&name) {
        Some(found) => Ok(AddressedScene::BuiltIn(found.name)),
        None => Err(AddressError::Unknown {
            nearest: scene::nearest(&name, builtin::names()),
            name,
        }),
    }
}

/// A value read by `read`, or what is allowed.
fn value<T>(
    key: &'static str,
    word: Option<String>,
    read: impl FnOnce(&str) -> Option<T>,
    allowed: impl FnOnce() -> String,
) -> Result<Option<T>, AddressError> {
    let Some(word) = word else {
        return Ok(None);
    };
    match read(&word) {
        Some(value) => Ok(Some(value)),
        None => Err(AddressError::Value {
            key,
            value: word.chars().take(40).collect(),
            allowed: allowed(),
        }),
    }
}

/// Azimuth and elevation in degrees, the latter −90 to 90.
pub(crate) fn angles(word: &str) -> Option<[f64; 2]> {
    let (azimuth, elevation) = word.split_once(',')?;
    let angle = |word: &str| {
        word.trim()
            .parse()
            .ok()
            .filter(|angle: &f64| angle.is_finite())
    };
    let elevation = angle(elevation).filter(|angle| (-90.0..=90.0).contains(angle))?;
    Some([angle(azimuth)?, elevation])
}

fn packed(text: &str) -> String {
    URL_SAFE_NO_PAD.encode(deflate::compress_to_vec(text.as_bytes(), EFFORT))
}

fn unpacked(packed: &str) -> Result<String, AddressError> {
    let bytes = URL_SAFE_NO_PAD.decode(packed);
    let bytes = bytes.map_err(|_| AddressError::Damaged("it is not base64url"))?;
    let text = inflate::decompress_to_vec_with_limit(&bytes, LARGEST);
    let text = text.map_err(|error| match error.status {
        inflate::TINFLStatus::HasMoreOutput => {
            AddressError::Damaged("unpacked it would be larger than a megabyte")
        }
        _ => AddressError::Damaged("it does not unpack"),
    })?;
    String::from_utf8(text).map_err(|_| AddressError::Damaged("it is not text"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(length: usize) -> SceneAddress {
        let mut state = 1_u64;
        let noise = std::iter::repeat_with(|| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            char::from(b' ' + (state >> 58) as u8)
        });
        SceneAddress::of(AddressedScene::Text(noise.take(length).collect()))
    }

    #[test]
    fn every_built_in_scene_goes_through_an_address() {
        for scene in builtin::all() {
            let sent = SceneAddress {
                case: Some("wind & snow = 1".to_owned()),
                theme: Some("stark".to_owned()),
                view: Some([-30.5, 20.0]),
                stage: Some(LessonStage::Count),
                guess: true,
                ..SceneAddress::of(AddressedScene::Text(scene.text.to_owned()))
            };
            let address = sent.at("https://dome.example/sixhold/#old").unwrap();
            assert!(address.starts_with("https://dome.example/sixhold/#text="));
            assert!(address.is_ascii() && !address.contains([' ', '"', '<']));
            assert_eq!(SceneAddress::read(&address), Ok(sent));
            let named = SceneAddress::of(AddressedScene::BuiltIn(scene.name));
            assert_eq!(named.fragment().unwrap(), format!("scene={}", scene.name));
            assert_eq!(SceneAddress::read(&named.fragment().unwrap()), Ok(named));
        }
    }

    /// The text "Sixhold" packed by another implementation: Python 3.11, zlib.compressobj(9, zlib.DEFLATED, -15), urlsafe_b64encode.
    #[test]
    fn other_programs_can_pack_scenes() {
        let read = SceneAddress::read("#text=C86syMjPSQEA").unwrap();
        assert_eq!(read.scene, AddressedScene::Text("Sixhold".to_owned()));
    }

    #[test]
    fn what_is_no_address_says_why() {
        let bomb = packed(&" ".repeat(LARGEST + 1));
        let cases = [
            ("", "no scene"),
            ("scene=", "not built in"),
            ("scene=handrial", "did you mean \"handrail\"?"),
            ("scene=handrail&text=AA", "`scene` twice"),
            ("scene=handrail&scene=handrail", "`scene` twice"),
            ("scene=handrail&colour=red", "no place for `colour`"),
            ("<script>alert(1)</script>", "no place for"),
            ("text=***", "not base64url"),
            ("text=AAAA", "damaged"),
            (&format!("text={bomb}"), "larger than a megabyte"),
            ("text=C_8DAA", "damaged"),
            (
                "scene=handrail&theme=neon",
                "allowed: hall, daylight, stark",
            ),
            ("scene=handrail&view=1,100", "allowed: AZIMUTH"),
            ("scene=handrail&stage=End", "allowed: Body, Loads"),
            ("scene=handrail&guess=no", "allowed: yes"),
        ];
        for (fragment, expected) in cases {
            let error = SceneAddress::read(fragment).unwrap_err().to_string();
            assert!(error.contains(expected), "{fragment}: {error}");
            assert!(error.len() < 300, "{error}");
        }
    }

    #[test]
    fn what_is_too_long_is_refused_both_ways() {
        assert!(text(20_000).fragment().is_ok());
        assert!(matches!(
            text(LARGEST).fragment(),
            Err(AddressError::TooLong(_))
        ));
        let long = format!("text={}", "A".repeat(LONGEST));
        assert_eq!(
            SceneAddress::read(&long),
            Err(AddressError::TooLong(LONGEST + 5))
        );
    }

    #[test]
    fn addresses_are_told_from_names() {
        for word in [
            "#scene=handrail",
            "https://dome.example/#scene=handrail",
            "http://localhost:8000/#x",
        ] {
            assert!(SceneAddress::is_address(word), "{word}");
        }
        for word in [
            "handrail",
            "a#b.ron",
            "folder/#1.ron",
            "https://dome.example/",
        ] {
            assert!(!SceneAddress::is_address(word), "{word}");
        }
    }
}
