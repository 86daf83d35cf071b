//! Values of arguments: sizes, views, motions and numbers in range.

use clap::ValueEnum;

use super::{CameraArg, NamedView, PoseArg, Size};
pub(super) use crate::address::angles;
use crate::exercises::MOST_PROBLEMS;
use crate::motion::Selection;
use crate::printable::is_printable;
use crate::scene::LessonStage;
use crate::statics::MotionIndex;
use crate::sweep::SweepPart;

/// Largest side of a picture, in pixels: what graphics drivers agree on.
const LARGEST_SIDE: u32 = 8192;

pub(super) fn size(text: &str) -> Result<Size, String> {
    let side = |text: &str| {
        let side = text.trim().parse().ok();
        side.filter(|side| (16..=LARGEST_SIDE).contains(side))
    };
    text.split_once(['x', 'X', '×'])
        .and_then(|(width, height)| {
            Some(Size {
                width: side(width)?,
                height: side(height)?,
            })
        })
        .ok_or_else(|| {
            format!("write WIDTHxHEIGHT in pixels, such as 1600x1000, each 16 to {LARGEST_SIDE}")
        })
}

/// Text for one line of a document.
pub(super) fn one_line(text: &str) -> Result<String, String> {
    let text = text.trim();
    match text.is_empty() || !text.chars().all(is_printable) {
        true => Err("give one line of text without control characters".to_owned()),
        false => Ok(text.to_owned()),
    }
}

pub(super) fn motion(text: &str) -> Result<Selection, String> {
    if text == "escape" {
        return Ok(Selection::Escape);
    }
    let number = text.parse().ok().and_then(|n: usize| n.checked_sub(1));
    number
        .map(|position| Selection::Free(MotionIndex::new(position)))
        .ok_or_else(|| "give the number of a free motion, from 1, or `escape`".to_owned())
}

pub(super) fn phase(text: &str) -> Result<f32, String> {
    let phase = text.replace('\u{2212}', "-").parse().ok();
    phase
        .filter(|phase| (-1.0..=1.0).contains(phase))
        .ok_or_else(|| "give a number from -1 to 1".to_owned())
}

pub(super) fn amplitude(text: &str) -> Result<f32, String> {
    let amplitude = text.parse().ok();
    amplitude
        .filter(|amplitude: &f32| amplitude.is_finite() && *amplitude > 0.0)
        .ok_or_else(|| "give a number above 0".to_owned())
}

pub(super) fn pose(text: &str) -> Result<PoseArg, String> {
    let numbers: Result<Vec<f32>, _> = text.split(',').map(str::parse).collect();
    let numbers = numbers.ok().and_then(|numbers| numbers.try_into().ok());
    numbers
        .filter(|numbers: &[f32; 11]| numbers.iter().all(|number| number.is_finite()))
        .map(PoseArg)
        .ok_or_else(|| {
            "give eleven numbers: eye, target, upwards, half the height, and 1 for a perspective"
                .to_owned()
        })
}

pub(super) fn seen_from(text: &str) -> Result<[f64; 2], String> {
    angles(text).ok_or_else(|| {
        "give azimuth and elevation in degrees, such as 30,20; an elevation is from -90 to 90"
            .to_owned()
    })
}

pub(super) fn stage(text: &str) -> Result<LessonStage, String> {
    let mut stages = LessonStage::ALL.into_iter();
    let found = stages.find(|stage| stage.name().eq_ignore_ascii_case(text));
    found.ok_or_else(|| {
        let names = LessonStage::ALL.map(LessonStage::name);
        format!("the stages of a lesson are {}", names.join(", "))
    })
}

/// The address of a page, to which a scene can be added.
pub(super) fn page_address(text: &str) -> Result<String, String> {
    let is_page = ["https://", "http://", "file://"]
        .iter()
        .any(|start| text.starts_with(start));
    let is_plain = text.chars().all(|c| c.is_ascii_graphic());
    match is_page && is_plain {
        true => Ok(text.to_owned()),
        false => Err("give the address of a page, such as https://example.org/sixhold/".to_owned()),
    }
}

pub(super) fn camera(text: &str) -> Result<CameraArg, String> {
    if let Ok(view) = NamedView::from_str(text, true) {
        return Ok(CameraArg::Named(view));
    }
    let angles = angles(text).map(|angles| angles.map(|angle| angle as f32));
    let angles = angles
        .filter(|[azimuth, _]| azimuth.is_finite())
        .map(|[azimuth, elevation]| CameraArg::Angles { azimuth, elevation });
    angles.ok_or_else(|| {
        let names: Vec<String> = NamedView::value_variants()
            .iter()
            .filter_map(ValueEnum::to_possible_value)
            .map(|value| value.get_name().to_owned())
            .collect();
        format!(
            "name a view ({}) or give azimuth and elevation in degrees, such as 30,20; \
             an elevation is from -90 to 90",
            names.join(", ")
        )
    })
}

pub(super) fn problems(text: &str) -> Result<usize, String> {
    let count = text.parse().ok();
    count
        .filter(|count| (1..=MOST_PROBLEMS).contains(count))
        .ok_or_else(|| format!("a sheet has 1 to {MOST_PROBLEMS} problems"))
}

pub(super) fn seed(text: &str) -> Result<u64, String> {
    let seed = text.parse();
    seed.map_err(|_| format!("give a whole number from 0 to {}", u64::MAX))
}

/// How far something may be off.
pub(super) fn tolerance(text: &str) -> Result<f64, String> {
    let number = text.parse().ok();
    let number = number.filter(|number: &f64| number.is_finite() && *number > 0.0);
    number.ok_or_else(|| match text.contains(',') {
        true => "give a number above 0, with a decimal point".to_owned(),
        false => "give a number above 0; leave the option out for what is as written".to_owned(),
    })
}

/// More placements than any machine works through.
const MOST_PLACEMENTS: u64 = 1_000_000_000_000_000;

pub(super) fn placements(text: &str) -> Result<u64, String> {
    let count = text.parse().ok();
    count
        .filter(|count| (1..=MOST_PLACEMENTS).contains(count))
        .ok_or_else(|| format!("a sweep has 1 to {MOST_PLACEMENTS} placements"))
}

pub(super) fn part(text: &str) -> Result<SweepPart, String> {
    let numbers = text.split_once('/');
    let numbers = numbers.and_then(|(number, of)| {
        Some(SweepPart {
            number: number.trim().parse().ok()?,
            of: of.trim().parse().ok()?,
        })
    });
    numbers
        .filter(|part| (1..=part.of).contains(&part.number))
        .ok_or_else(|| "give a share as K/N, from 1/N to N/N, such as 3/8".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::MotionIndex;

    #[test]
    fn sizes_phases_and_views_are_parsed() {
        let wide = Size {
            width: 640,
            height: 480,
        };
        assert_eq!(size("640x480"), Ok(wide));
        for wrong in [
            "640",
            "640x",
            "x480",
            "0x0",
            "9000x10",
            "-640x480",
            "640x480x3",
        ] {
            assert!(size(wrong).is_err(), "{wrong}");
        }
        assert_eq!(motion("2"), Ok(Selection::Free(MotionIndex::new(1))));
        assert_eq!(motion("escape"), Ok(Selection::Escape));
        for wrong in ["0", "-1", "tipping", ""] {
            assert!(motion(wrong).is_err(), "{wrong}");
        }
        assert_eq!(phase("-0.5"), Ok(-0.5));
        for wrong in ["1.5", "NaN", "half"] {
            assert!(phase(wrong).is_err(), "{wrong}");
        }
        assert_eq!(camera("Top"), Ok(CameraArg::Named(NamedView::Top)));
        assert_eq!(
            camera("-30,20"),
            Ok(CameraArg::Angles {
                azimuth: -30.0,
                elevation: 20.0
            })
        );
        for wrong in ["above", "30", "30,100", "inf,0", "1e300,0"] {
            assert!(camera(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn tolerances_and_shares_are_parsed() {
        assert_eq!(tolerance("0.5"), Ok(0.5));
        for wrong in ["0", "-1", "0,5", "inf", "NaN", ""] {
            assert!(tolerance(wrong).is_err(), "{wrong}");
        }
        assert_eq!(part("3/8"), Ok(SweepPart { number: 3, of: 8 }));
        for wrong in ["0/8", "9/8", "3", "3/0", "/", "1/-1"] {
            assert!(part(wrong).is_err(), "{wrong}");
        }
        assert_eq!(placements("1"), Ok(1));
        for wrong in ["0", "-1", "1e6", "1000000000000001"] {
            assert!(placements(wrong).is_err(), "{wrong}");
        }
    }
}
