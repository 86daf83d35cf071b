//! Scenes that can be read, with numbers from everyday to absurd, taken through the whole of `check` and a figure.
#![no_main]

use std::fmt::Write as _;

use arbitrary::{Arbitrary, Result, Unstructured};
use libfuzzer_sys::fuzz_target;
use sixhold::cli;

/// A number as it is written, by a small tag: everyday ones, ones that nearly agree, absurd ones.
#[derive(Debug, Clone, Copy)]
struct Number(f64);

impl<'a> Arbitrary<'a> for Number {
    fn arbitrary(u: &mut Unstructured<'a>) -> Result<Self> {
        let whole = f64::from(u.int_in_range(-5i8..=5)?);
        Ok(Self(match u.int_in_range(0u8..=9)? {
            0..=4 => whole,
            5 => whole / 4.0,
            6 => whole + 10f64.powi(-i32::from(u.int_in_range(1u8..=13)?)),
            7 => whole * 10f64.powi(i32::from(u.int_in_range(-12i8..=12)?)),
            8 => f64::from(u.arbitrary::<i32>()?) * 1e-9,
            _ => {
                let any: f64 = u.arbitrary()?;
                if any.is_finite() && any.abs() < 1e30 {
                    any
                } else {
                    whole
                }
            }
        }))
    }
}

#[derive(Debug, Arbitrary)]
struct Support {
    kind: u8,
    at: [Number; 3],
    along: [Number; 3],
    other: [Number; 3],
    couples: bool,
}

#[derive(Debug, Arbitrary)]
struct Load {
    kind: u8,
    at: [Number; 3],
    amount: [Number; 3],
}

#[derive(Debug, Arbitrary)]
struct Input {
    planar: bool,
    shape: u8,
    corners: [[Number; 3]; 2],
    supports: Vec<Support>,
    loads: Vec<Load>,
    tolerance: Option<Number>,
}

const SPATIAL: [&str; 16] = [
    "BallJoint",
    "Hinge",
    "SlidingHinge",
    "JournalBearing",
    "ThrustBearing",
    "SquareJournal",
    "SmoothPin",
    "Slider",
    "UniversalJoint",
    "RailWheel",
    "Fixed",
    "Roller",
    "SmoothContact",
    "RoughContact",
    "Link",
    "Cable",
];
const PLANAR: [&str; 10] = [
    "Pin",
    "Rocker",
    "Slot",
    "Collar",
    "Fixed",
    "Roller",
    "SmoothContact",
    "RoughContact",
    "Link",
    "Cable",
];

impl Input {
    fn vector(&self, [x, y, z]: &[Number; 3]) -> String {
        if self.planar {
            format!("({:?}, {:?})", x.0, y.0)
        } else {
            format!("({:?}, {:?}, {:?})", x.0, y.0, z.0)
        }
    }

    fn text(&self) -> String {
        let space = if self.planar { "planar" } else { "spatial" };
        let mut text = format!("(format: 1, space: {space}, ");
        if let Some(tolerance) = self.tolerance {
            let _ = write!(text, "placement_tolerance: {:?}, ", tolerance.0.abs());
        }
        let _ = write!(text, "body: [{}], supports: [", self.shape());
        for (index, support) in self.supports.iter().take(12).enumerate() {
            let _ = write!(text, "{}, ", self.support(index, support));
        }
        text += "], loads: [";
        for load in self.loads.iter().take(4) {
            let _ = write!(text, "{}, ", self.load(load));
        }
        text + "])"
    }

    fn shape(&self) -> String {
        let [a, b] = self.corners.each_ref().map(|corner| self.vector(corner));
        match self.shape % 3 {
            0 => format!("Shaft(from: {a}, to: {b}, diameter: 0.1)"),
            1 => format!("Block(centre: {a}, size: (1, 0.5, 0.25))"),
            _ => format!("BentBar(path: [{a}, {b}], diameter: 0.05)"),
        }
    }

    fn support(&self, index: usize, support: &Support) -> String {
        let kinds: &[&str] = if self.planar { &PLANAR } else { &SPATIAL };
        let kind = kinds[usize::from(support.kind) % kinds.len()];
        let (at, along) = (self.vector(&support.at), self.vector(&support.along));
        let couples = support.couples;
        let own = match kind {
            "BallJoint" | "Fixed" | "Pin" => String::new(),
            "Link" | "Cable" => format!(", ground: {}", self.vector(&support.other)),
            "Roller" | "Rocker" | "SmoothContact" | "RoughContact" => format!(", normal: {along}"),
            "RailWheel" => format!(", rail: {along}, normal: {}", self.vector(&support.other)),
            "Slot" => format!(", along: {along}"),
            "Collar" => format!(", rod: {along}"),
            "UniversalJoint" => format!(", axis: {along}"),
            "Slider" => format!(", rod: {along}, couples: {couples}"),
            _ => format!(", axis: {along}, couples: {couples}"),
        };
        format!("{kind}(name: \"S{index}\", at: {at}{own})")
    }

    fn load(&self, load: &Load) -> String {
        let (at, amount) = (self.vector(&load.at), self.vector(&load.amount));
        match load.kind % 4 {
            0 => format!("Force(at: {at}, force: {amount})"),
            1 if self.planar => format!("Couple(moment: {:?})", load.amount[0].0),
            1 => format!("Couple(moment: {amount})"),
            2 => format!(
                "Distributed(from: (0, 0{0}), to: {at}, start: {amount})",
                if self.planar { "" } else { ", 0" }
            ),
            _ => format!("Weight(mass: {:?})", load.amount[0].0.abs()),
        }
    }
}

fuzz_target!(|input: Input| {
    let folder = std::env::temp_dir().join(format!("sixhold-fuzz-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a temporary folder");
    let scene = folder.join("scene.ron");
    std::fs::write(&scene, input.text()).expect("a temporary file");
    let scene = scene.to_str().expect("a plain path");
    let figure = folder.join("figure.svg");
    let figure = figure.to_str().expect("a plain path");
    for command in [
        vec!["sixhold", "check", scene],
        vec!["sixhold", "check", scene, "--format", "json"],
        vec!["sixhold", "mend", scene],
        vec!["sixhold", "figure", scene, "--out", figure],
    ] {
        // Refused or done: anything but a panic.
        let _ = cli::run_with(command);
    }
});
