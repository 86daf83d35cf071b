//! What a page asks for, as JavaScript says it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::trouble::PageTrouble;
use crate::address::{AddressedScene, SceneAddress};
use crate::figure::{
    DrawingLimit, FigureColours, FigurePart, FigureSettings, Projection, WIDTHS_MM,
};
use crate::motion::Selection;
use crate::scene::{LessonStage, ShownStages};
use crate::statics::{CaseIndex, MotionIndex};
use crate::study::Study;
use crate::theme::{Colour, Theme, ThemeName};
use crate::wording::USUAL_DIGITS;

/// Options of a figure, a report or an answer. Whatever is left out is as the program has it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "camelCase")]
pub struct PageOptions {
    /// Name of the load case.
    pub case: Option<String>,
    /// The number of a free motion, from 1, or `escape`.
    pub motion: Option<String>,
    /// `hall`, `daylight` or `stark` for a screen, `white` or `print` for paper.
    pub theme: Option<String>,
    /// Azimuth and elevation in degrees.
    pub view: Option<[f64; 2]>,
    /// Parts of the figure by their words, with commas between.
    pub parts: Option<String>,
    /// Width of the figure, mm.
    pub width: Option<f64>,
    /// Greatest height of what is drawn without names and axes, mm.
    pub tallest: Option<f64>,
    /// Significant digits, 1 to 15.
    pub digits: i32,
    /// The stage that a lesson has come to, by name.
    pub stage: Option<String>,
    /// Whether the answer is held back until it has been guessed.
    pub guess: bool,
}

impl Default for PageOptions {
    fn default() -> Self {
        Self {
            case: None,
            motion: None,
            theme: None,
            view: None,
            parts: None,
            width: None,
            tallest: None,
            digits: USUAL_DIGITS,
            stage: None,
            guess: false,
        }
    }
}

impl PageOptions {
    /// Reads options from JSON; an empty text is none.
    ///
    /// # Errors
    /// What of it is not understood.
    pub fn read(json: &str) -> Result<Self, PageTrouble> {
        if json.is_empty() {
            return Ok(Self::default());
        }
        serde_json::from_str(json).map_err(|error| PageTrouble::said(&format!("options: {error}")))
    }

    pub(super) fn case_index(&self, study: &Study) -> Result<CaseIndex, PageTrouble> {
        Ok(self.case_alone(study)?.unwrap_or(CaseIndex::FIRST))
    }

    /// The load case that is asked for, where one is.
    pub(super) fn case_alone(&self, study: &Study) -> Result<Option<CaseIndex>, PageTrouble> {
        let Some(name) = &self.case else {
            return Ok(None);
        };
        let model = study.model();
        let found = model.case_index(name).map(Some);
        found.ok_or_else(|| {
            let names: Vec<&str> = model.cases.iter().map(|case| case.name.as_str()).collect();
            let names = names.join(", ");
            PageTrouble::said(&format!(
                "there is no load case \"{name}\"; there are: {names}"
            ))
        })
    }

    pub(super) fn motion(&self, study: &Study, case: CaseIndex) -> Result<Selection, PageTrouble> {
        let there = study.selections(case);
        let Some(word) = &self.motion else {
            return Ok(there.first().copied().unwrap_or_default());
        };
        let asked = match word.as_str() {
            "escape" => Some(Selection::Escape),
            word => word
                .parse()
                .ok()
                .and_then(|number: usize| number.checked_sub(1))
                .map(|index| Selection::Free(MotionIndex::new(index))),
        };
        asked
            .filter(|motion| there.contains(motion))
            .ok_or_else(|| PageTrouble::said(&format!("there is no motion {word}")))
    }

    /// What of the lesson has been shown.
    pub(super) fn shown(&self, study: &Study) -> Result<ShownStages, PageTrouble> {
        let Some(name) = &self.stage else {
            return Ok(ShownStages::all());
        };
        let lesson = lesson(study);
        let at = lesson.iter().position(|stage| stage.name() == name);
        let at = at.ok_or_else(|| {
            let names: Vec<&str> = lesson.iter().map(|stage| stage.name()).collect();
            let names = names.join(", ");
            PageTrouble::said(&format!(
                "the lesson has no stage \"{name}\"; it has {names}"
            ))
        })?;
        Ok(ShownStages::up_to(&lesson, at))
    }

    pub(super) fn settings(
        &self,
        study: &Study,
        limit: DrawingLimit,
    ) -> Result<FigureSettings, PageTrouble> {
        if let Some(excess) = limit.excess(study) {
            return Err(PageTrouble::said(&excess));
        }
        let case = self.case_index(study)?;
        let mut settings = FigureSettings {
            case,
            motion: self.motion(study, case)?,
            look: self.colours()?,
            digits: self.digits()?,
            tallest_mm: self.tallest()?,
            projection: self.projection()?,
            ..FigureSettings::default()
        };
        if let Some(parts) = &self.parts {
            settings.parts =
                FigurePart::listed(parts).map_err(|error| PageTrouble::said(&error))?;
        }
        let shown = self.shown(study)?;
        settings.parts.retain(|part| is_shown(*part, &shown));
        if let Some(width) = self.width {
            let [least, most] = WIDTHS_MM;
            if !(least..=most).contains(&width) {
                return Err(PageTrouble::said(&format!(
                    "give a width from {least} to {most} mm"
                )));
            }
            settings.width_mm = width;
        }
        Ok(settings)
    }

    fn digits(&self) -> Result<i32, PageTrouble> {
        match self.digits {
            1..=15 => Ok(self.digits),
            other => {
                let said = format!("{other} significant digits cannot be written; give 1 to 15");
                Err(PageTrouble::said(&said))
            }
        }
    }

    fn tallest(&self) -> Result<Option<f64>, PageTrouble> {
        match self.tallest {
            Some(tallest) if !(tallest.is_finite() && tallest > 0.0) => Err(PageTrouble::said(
                "the greatest height of a figure is a number of millimetres above 0",
            )),
            tallest => Ok(tallest),
        }
    }

    fn projection(&self) -> Result<Option<Projection>, PageTrouble> {
        let Some([azimuth, elevation]) = self.view else {
            return Ok(None);
        };
        match azimuth.is_finite() && (-90.0..=90.0).contains(&elevation) {
            true => Ok(Some(Projection::Angles { azimuth, elevation })),
            false => Err(PageTrouble::said(&"an elevation is from -90 to 90 degrees")),
        }
    }

    fn colours(&self) -> Result<FigureColours, PageTrouble> {
        match self.theme.as_deref() {
            None | Some("white") => Ok(FigureColours::Colour),
            Some("print") => Ok(FigureColours::Print),
            Some(word) => {
                let found = ThemeName::ALL
                    .into_iter()
                    .find(|theme| theme.word() == word);
                found.map(FigureColours::Screen).ok_or_else(|| {
                    let words = ThemeName::ALL.map(ThemeName::word).join(", ");
                    PageTrouble::said(&format!(
                        "there is no theme \"{word}\"; there are {words}, white, print"
                    ))
                })
            }
        }
    }

    /// The address of a scene with what of the options an address can say.
    pub(super) fn address(&self, scene: AddressedScene) -> SceneAddress {
        let themes = ThemeName::ALL.map(ThemeName::word);
        let stage = self.stage.as_deref();
        SceneAddress {
            case: self.case.clone(),
            theme: self
                .theme
                .clone()
                .filter(|theme| themes.contains(&theme.as_str())),
            view: self.view,
            stage: LessonStage::ALL
                .into_iter()
                .find(|known| Some(known.name()) == stage),
            guess: self.guess,
            ..SceneAddress::of(scene)
        }
    }
}

fn theme_named(word: &str) -> Result<ThemeName, PageTrouble> {
    let found = ThemeName::ALL
        .into_iter()
        .find(|theme| theme.word() == word);
    found.ok_or_else(|| {
        let words = ThemeName::ALL.map(ThemeName::word).join(", ");
        PageTrouble::said(&format!(
            "there is no theme \"{word}\"; there are {words}, and for figures white and print"
        ))
    })
}

/// The colours of a theme that a page needs, by meaning, as `#rrggbb`.
///
/// # Errors
/// Where there is no such theme.
pub fn colours(theme: &str) -> Result<BTreeMap<&'static str, String>, PageTrouble> {
    let theme = Theme::of(theme_named(theme)?);
    let colours = [
        ("background", theme.background),
        ("surface", theme.surface),
        ("ink", theme.ink),
        ("quiet", theme.quiet_ink),
        ("reaction", theme.reaction),
        ("axis", theme.axis),
        ("motion", theme.motion),
        ("error", theme.error),
    ];
    Ok(colours
        .map(|(meaning, Colour(red, green, blue))| {
            (meaning, format!("#{red:02x}{green:02x}{blue:02x}"))
        })
        .into())
}

/// The stages of a scene's lesson.
pub(super) fn lesson(study: &Study) -> Vec<LessonStage> {
    let steps = study.scene().lesson_steps().into_iter();
    steps.map(|step| step.stage).collect()
}

/// Whether a part is drawn by then.
fn is_shown(part: FigurePart, shown: &ShownStages) -> bool {
    let reached = |stage| shown.reached(stage);
    match part {
        FigurePart::Loads => reached(LessonStage::Loads),
        FigurePart::Supports | FigurePart::Behind | FigurePart::Names => {
            reached(LessonStage::Supports)
        }
        FigurePart::Reactions => reached(LessonStage::Reactions),
        FigurePart::Axis | FigurePart::Values => {
            reached(LessonStage::Reason) || reached(LessonStage::Motion)
        }
        FigurePart::Motion => reached(LessonStage::Motion),
        FigurePart::Body
        | FigurePart::Hidden
        | FigurePart::Dimensions
        | FigurePart::Coordinates
        | FigurePart::Table
        | FigurePart::Triad => true,
    }
}
