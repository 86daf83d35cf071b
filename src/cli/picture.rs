//! `sixhold picture`: the 3D view as an image file.

use std::path::Path;

use super::Outcome;
use super::args::PictureArgs;
use super::open;
use super::output::{self, Failure};
use crate::motion::Selection;
use crate::printable::shown;
use crate::statics::CaseIndex;
use crate::study::Study;

/// A scene with what of it is to be drawn.
#[cfg_attr(
    not(feature = "viewer"),
    expect(dead_code, reason = "only the viewer draws")
)]
struct Subject {
    study: Study,
    case: CaseIndex,
    motion: Selection,
}

/// Writes the picture.
pub(crate) fn run(args: &PictureArgs) -> Result<Outcome, Failure> {
    check_path(&args.out)?;
    let whole = open::open(&args.file)?;
    let study = whole.without(&open::released(&whole, &args.release)?);
    let case = match &args.case {
        Some(name) => open::case(&study, name)?,
        None => CaseIndex::FIRST,
    };
    let motion = open::motion(&study, case, args.motion)?;
    let subject = Subject {
        study,
        case,
        motion,
    };
    draw(subject, args)?;
    Ok(Outcome::Done)
}

fn check_path(path: &Path) -> Result<(), Failure> {
    let ending = path.extension().unwrap_or_default();
    if !ending.eq_ignore_ascii_case("png") {
        return Err(Failure::new(
            format!("{}: pictures are PNG images", shown(path)),
            "let the name end in .png",
        ));
    }
    output::check_target(path)
}

#[cfg(not(feature = "viewer"))]
pub(super) fn no_viewer() -> Failure {
    Failure::new(
        "this sixhold was built without its viewer and cannot draw",
        "build it with its default features",
    )
}

#[cfg(not(feature = "viewer"))]
fn draw(_subject: Subject, _args: &PictureArgs) -> Result<(), Failure> {
    Err(no_viewer())
}

#[cfg(not(feature = "viewer"))]
pub(super) fn usual(_study: Study, _path: &Path) -> Result<(), Failure> {
    Err(no_viewer())
}

#[cfg(feature = "viewer")]
pub(super) use drawing::usual;

#[cfg(feature = "viewer")]
use drawing::draw;

#[cfg(feature = "viewer")]
mod drawing {
    use std::io::Cursor;
    use std::path::Path;

    use super::super::args::{HiddenPart, PictureArgs};
    use super::super::output::{self, Failure};
    use super::Subject;
    use crate::study::Study;
    use crate::viewer::framing::{CameraPose, CameraSettings};
    use crate::viewer::offscreen::{self, PictureSettings};
    use crate::viewer::state::Look;

    /// Draws the subject and writes the image.
    pub(crate) fn draw(subject: Subject, args: &PictureArgs) -> Result<(), Failure> {
        let settings = PictureSettings {
            width: args.size.width,
            height: args.size.height,
            case: subject.case,
            motion: subject.motion,
            phase: args.at,
            amplitude: args.amplitude,
            pose: args.pose.map(|pose| CameraPose::from_numbers(pose.0)),
            camera: CameraSettings {
                view: args.camera.into(),
                ..CameraSettings::default()
            },
            look: look(args),
            shading: args.shading.map(Into::into),
            transparent: args.transparent,
            labels: !args.hide.contains(&HiddenPart::Names),
        };
        write(subject.study, &settings, &args.out)?;
        output::written(&args.out);
        Ok(())
    }

    fn look(args: &PictureArgs) -> Look {
        let shows = |part| !args.hide.contains(&part);
        Look {
            supports: shows(HiddenPart::Supports),
            reactions: shows(HiddenPart::Reactions),
            loads: shows(HiddenPart::Loads),
            motion: shows(HiddenPart::Motion),
            floor: shows(HiddenPart::Floor),
            values: args.values,
            ..Look::new(args.theme.into())
        }
    }

    /// The usual picture of a scene.
    pub(crate) fn usual(study: Study, path: &Path) -> Result<(), Failure> {
        write(study, &PictureSettings::default(), path)
    }

    fn write(study: Study, settings: &PictureSettings, path: &Path) -> Result<(), Failure> {
        let picture = offscreen::picture(study, settings)
            .map_err(|error| Failure::plain(error.to_string()))?;
        let mut bytes = Cursor::new(Vec::new());
        picture
            .image
            .write_to(&mut bytes, image::ImageFormat::Png)
            .map_err(|error| Failure::plain(format!("the picture has no PNG form: {error}")))?;
        output::save(path, &bytes.into_inner())
    }
}
