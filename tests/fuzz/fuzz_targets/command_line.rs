//! Command lines of real and odd words. They run in an empty folder and name no file outside it.
#![no_main]

use std::sync::Once;

use arbitrary::{Arbitrary, Result, Unstructured};
use libfuzzer_sys::fuzz_target;
use sixhold::cli;

/// What command lines are made of; words with a folder in them would leave the one that the target runs in.
const WORDS: [&str; 80] = [
    "check",
    "mend",
    "report",
    "sheet",
    "figure",
    "animate",
    "deck",
    "scenes",
    "schema",
    "help",
    "picture",
    "view",
    "link",
    "--base",
    "http://localhost/",
    "#scene=handrail",
    "https://dome.example/#text=C86syMjPSQEA",
    "#scene=handrail&case=own+weight&stage=Rank",
    "--out",
    "--format",
    "--case",
    "--require",
    "--release",
    "--named",
    "--show",
    "--projection",
    "--look",
    "--width",
    "--count",
    "--about",
    "--level",
    "--seed",
    "--motion",
    "--help",
    "--version",
    "-h",
    "-V",
    "--",
    "-",
    "",
    "text",
    "json",
    "held",
    "determinate",
    "carried",
    "handrail",
    "roof-hatch",
    "cable-tray",
    "mirror-cell",
    "simple-beam",
    "scene.ron",
    "broken.ron",
    "missing.ron",
    "a.svg",
    "a.pdf",
    "a.png",
    "a.html",
    "a.md",
    "a.gif",
    "folder",
    "question",
    "answer",
    "all",
    "names,values",
    "isometric",
    "30,20",
    "print",
    "84",
    "-1",
    "0",
    "1",
    "3",
    "1e9",
    "NaN",
    "easy",
    "improper",
    "near-miss",
    "A",
    "own weight",
    "\u{202e}\u{7}é",
];

#[derive(Debug)]
struct Line(Vec<String>);

impl<'a> Arbitrary<'a> for Line {
    fn arbitrary(u: &mut Unstructured<'a>) -> Result<Self> {
        let mut words = vec!["sixhold".to_owned()];
        while words.len() < 10 && !u.is_empty() {
            words.push(if u.ratio(9u8, 10u8)? {
                (*u.choose(&WORDS)?).to_owned()
            } else {
                u.arbitrary::<&str>()?
                    .replace(['/', '\\'], "")
                    .chars()
                    .take(20)
                    .collect()
            });
        }
        Ok(Self(words))
    }
}

static FOLDER: Once = Once::new();

/// An empty folder of this process's own, with a scene that is read and one that is not.
fn settle() {
    let folder = std::env::temp_dir().join(format!("sixhold-fuzz-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a temporary folder");
    std::env::set_current_dir(&folder).expect("the folder just made");
}

/// Written anew each time: some command may have written over them.
fn scenes() {
    let handrail = "(format: 1, body: [Shaft(from: (0, 0, 0), to: (1, 0, 0), diameter: 0.1)], \
                    supports: [BallJoint(name: \"A\", at: (0, 0, 0))], loads: [Weight(mass: 3)])";
    let _ = std::fs::write("scene.ron", handrail);
    let _ = std::fs::write("broken.ron", "(format: 1, body: [Shaf(), supports: {");
}

fuzz_target!(|line: Line| {
    FOLDER.call_once(settle);
    scenes();
    let _ = cli::run_with(line.0);
});
