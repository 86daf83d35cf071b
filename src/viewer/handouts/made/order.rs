//! A handout as a command line: what is on the wall, in words that another run of the program reads.

use std::ffi::OsString;
use std::path::Path;

use super::Handout;
use crate::address::{AddressedScene, SceneAddress};
use crate::draft::Draft;
use crate::motion::Selection;
use crate::viewer::framing::CameraPose;
use crate::viewer::state::{Look, Playback, Shading, Shown};

/// Pixels across of a picture in the clipboard.
const COPIED_WIDTH: u32 = 1920;

/// What is on the wall.
pub(super) struct Order<'a> {
    pub(super) shown: Shown<'a>,
    pub(super) look: Look,
    pub(super) playback: &'a Playback,
    /// Width of the picture over its height.
    pub(super) aspect: f32,
    pub(super) pose: Option<CameraPose>,
}

impl Order<'_> {
    /// The command line that makes a handout of the scene on standard input.
    pub(super) fn arguments(&self, handout: Handout, path: &Path) -> Vec<OsString> {
        let (command, details) = match handout {
            Handout::Picture {
                width,
                transparent,
                labels,
            } => ("picture", self.picture(width, transparent, labels)),
            Handout::Copy => ("picture", self.picture(COPIED_WIDTH, false, true)),
            Handout::Film => ("animate", [self.motion(), self.film()].concat()),
            Handout::Turn => ("animate", [vec!["--turn".to_owned()], self.film()].concat()),
            Handout::Figure => ("figure", Vec::new()),
            Handout::Report => ("report", Vec::new()),
            Handout::Slides => ("deck", Vec::new()),
        };
        let mut words: Vec<OsString> = [command, "-", "--out"].map(OsString::from).into();
        words.push(path.into());
        // A report is of all load cases.
        if handout != Handout::Report {
            words.extend(self.case().map(OsString::from));
        }
        words.extend(details.into_iter().map(OsString::from));
        words
    }

    /// What comes after the `#` of a page's address, so that the page shows what is on the wall: also what is not saved.
    pub(super) fn address(&self, draft: Option<&Draft>) -> Result<String, String> {
        let scene = match draft.filter(|draft| draft.is_unsaved()) {
            Some(draft) => AddressedScene::Text(draft.text()),
            None => self.shown.written.addressed(),
        };
        let cases = &self.shown.study.model().cases;
        let address = SceneAddress {
            case: (cases.len() > 1).then(|| cases[self.shown.case].name.clone()),
            theme: Some(self.look.theme.word().to_owned()),
            ..SceneAddress::of(scene)
        };
        address.at("").map_err(|error| error.to_string())
    }

    fn case(&self) -> impl Iterator<Item = String> {
        let cases = &self.shown.study.model().cases;
        let named = (cases.len() > 1).then(|| format!("--case={}", cases[self.shown.case].name));
        named.into_iter()
    }

    fn motion(&self) -> Vec<String> {
        let motion = match self.shown.motion {
            Selection::Free(index) => index.number().to_string(),
            Selection::Escape => "escape".to_owned(),
        };
        vec!["--motion".to_owned(), motion]
    }

    fn film(&self) -> Vec<String> {
        let theme = self.look.theme.word();
        ["--view", "3d", "--theme", theme].map(str::to_owned).into()
    }

    fn picture(&self, width: u32, transparent: bool, labels: bool) -> Vec<String> {
        let height = (width as f32 / self.aspect).round() as u32;
        let shading = match self.look.shading {
            Shading::Plain => "plain",
            Shading::Lit => "lit",
        };
        let Playback {
            position,
            amplitude,
            ..
        } = self.playback;
        let mut words = vec![
            format!("--size={width}x{height}"),
            format!("--at={position}"),
            format!("--amplitude={amplitude}"),
            format!("--theme={}", self.look.theme.word()),
            format!("--shading={shading}"),
        ];
        if self
            .shown
            .study
            .selections(self.shown.case)
            .contains(&self.shown.motion)
        {
            words.extend(self.motion());
        }
        let hidden = self.hidden(labels);
        if !hidden.is_empty() {
            words.push(format!("--hide={}", hidden.join(",")));
        }
        for (asked, word) in [
            (self.look.values, "--values"),
            (transparent, "--transparent"),
        ] {
            words.extend(asked.then(|| word.to_owned()));
        }
        if let Some(pose) = &self.pose {
            let numbers = pose.numbers().map(|number| number.to_string());
            words.push(format!("--pose={}", numbers.join(",")));
        }
        let whole = self.shown.study.whole();
        for released in self.shown.study.released() {
            let name = &whole.reactions[released.in_whole()].name;
            words.push(format!("--release={name}"));
        }
        words
    }

    fn hidden(&self, labels: bool) -> Vec<&'static str> {
        let Look {
            supports,
            reactions,
            loads,
            motion,
            floor,
            ..
        } = self.look;
        let parts = [
            (labels, "names"),
            (supports, "supports"),
            (reactions, "reactions"),
            (loads, "loads"),
            (motion, "motion"),
            (floor, "floor"),
        ];
        let hidden = parts.into_iter().filter(|(is_shown, _)| !is_shown);
        hidden.map(|(_, word)| word).collect()
    }
}

#[cfg(test)]
mod tests {
    use bevy::math::Vec3;

    use super::*;
    use crate::draft::Proposal;
    use crate::scene::{builtin, read_str};
    use crate::study::WholeReactionIndex;
    use crate::theme::ThemeName;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn a_link_brings_along_what_is_not_saved() {
        let world = TestStage::open("handrail");
        let playback = Playback {
            playing: false,
            position: 0.0,
            amplitude: 1.0,
            speed: 1.0,
        };
        let order = Order {
            shown: world.shown(),
            look: Look::new(ThemeName::Stark),
            playback: &playback,
            aspect: 1.0,
            pose: None,
        };
        let scene = |draft: Option<&Draft>| {
            let link = order.address(draft).unwrap();
            SceneAddress::read(&link).unwrap().scene
        };
        let as_written = AddressedScene::BuiltIn("handrail");
        assert_eq!(scene(None), as_written);
        let written = builtin::find("handrail").unwrap().text;
        let read = read_str("handrail", written).unwrap().scene;
        let mut draft = Draft::of_file(read.clone(), written.to_owned());
        assert_eq!(scene(Some(&draft)), as_written);
        let renamed = Proposal::new(&read, "renamed it", |scene| {
            scene.title = "Another rail".to_owned();
        });
        draft.take(renamed).unwrap();
        assert_eq!(scene(Some(&draft)), AddressedScene::Text(draft.text()));
    }

    #[test]
    fn a_picture_is_ordered_with_all_that_is_on_the_wall() {
        let mut world = TestStage::open("handrail");
        world.change(|shown| shown.release(&[WholeReactionIndex::new(1)]));
        let playback = Playback {
            playing: true,
            position: -0.25,
            amplitude: 0.5,
            speed: 1.0,
        };
        let order = Order {
            shown: world.shown(),
            look: Look {
                loads: false,
                ..Look::new(ThemeName::Stark)
            },
            playback: &playback,
            aspect: 2.0,
            pose: Some(CameraPose {
                eye: Vec3::new(1.5, -2.0, 0.1),
                target: Vec3::ZERO,
                up: Vec3::Z,
                half_height: 0.25,
                perspective: true,
            }),
        };
        let handout = Handout::Picture {
            width: 800,
            transparent: true,
            labels: false,
        };
        let words = order.arguments(handout, Path::new("a b.png"));
        let words: Vec<&str> = words.iter().filter_map(|word| word.to_str()).collect();
        assert_eq!(words[..4], ["picture", "-", "--out", "a b.png"]);
        for expected in [
            "--size=800x400",
            "--at=-0.25",
            "--amplitude=0.5",
            "--theme=stark",
            "--shading=plain",
            "--hide=names,loads",
            "--transparent",
            "--pose=1.5,-2,0.1,0,0,0,0,0,1,0.25,1",
            "--release=A_y",
        ] {
            assert!(words.contains(&expected), "{expected}: {words:?}");
        }
    }
}
