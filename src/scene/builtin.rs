//! The scenes that come with the program, embedded as text so that it runs from any folder.

/// A scene that comes with the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BuiltIn {
    /// What users call it: the name of its file in `scenes/`, without ending.
    pub name: &'static str,
    /// The text of that file, to be read with [`read_str`](super::read_str).
    pub text: &'static str,
}

/// Name of the scene that is shown when none is asked for; the first of [`all`].
pub const DEFAULT: &str = "handrail";

/// Every built-in scene, in teaching order.
pub fn all() -> &'static [BuiltIn] {
    &SCENES
}

/// The built-in scene of that name.
pub fn find(name: &str) -> Option<&'static BuiltIn> {
    SCENES.iter().find(|scene| scene.name == name)
}

/// Names of all built-in scenes, in teaching order.
pub fn names() -> impl Iterator<Item = &'static str> {
    SCENES.iter().map(|scene| scene.name)
}

macro_rules! scenes {
    ($($name:literal)*) => {
        [$(BuiltIn {
            name: $name,
            text: include_str!(concat!("../../scenes/", $name, ".ron")),
        }),*]
    };
}

/// The question first; then held bodies, what few supports leave free, many supports that fail, pairs to
/// compare, hardware, the two free screws, the plane, and anchorages to be designed.
static SCENES: [BuiltIn; 39] = scenes![
    "handrail"
    "mirror-cell" "vee-mount" "lamp-boom" "pier-tripod"
    "weather-mast" "rail-ladder" "dome-shutter" "hoisting-tray" "ball-head"
    "battery-box" "vent-pipe" "cable-tray" "splayed-stand" "filter-plate" "finder-rings"
    "roof-hatch" "hatch-prop" "mirror-fork"
    "shutter-winch" "polar-shaft" "focus-slide" "camera-bracket"
    "spectrograph-plate" "strut-platform"
    "sill-beam" "roof-ladder" "eyepiece-shelf" "balance-arm"
    "step-rollers" "desk-struts" "portal-frame" "street-lamp"
    "bracket-anchors" "prying-shelf" "cabinet-bolts" "shutter-rail" "clamped-pipe" "balcony-rail"
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_is_listed_and_every_listed_scene_has_its_file() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/scenes");
        let mut files: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .filter(|name| name.ends_with(".ron"))
            .collect();
        files.sort();
        let mut listed: Vec<String> = names().map(|name| format!("{name}.ron")).collect();
        listed.sort();
        assert_eq!(files, listed);
    }

    #[test]
    fn the_default_leads_and_names_find_their_scene() {
        assert_eq!(all()[0].name, DEFAULT);
        for scene in all() {
            assert_eq!(find(scene.name), Some(scene));
        }
        assert_eq!(find("hand-rail"), None);
    }
}
