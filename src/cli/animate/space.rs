//! Frames of the 3D view.

#[cfg(feature = "viewer")]
pub(crate) use drawing::takes;

#[cfg(not(feature = "viewer"))]
use crate::cli::{args::AnimateArgs, output::Failure, picture};
#[cfg(not(feature = "viewer"))]
use crate::drawing::Pixels;
#[cfg(not(feature = "viewer"))]
use crate::figure::FigureSettings;
#[cfg(not(feature = "viewer"))]
use crate::study::Study;

/// What would take a frame.
#[cfg(not(feature = "viewer"))]
type DrawFrame = fn(f64) -> Result<Pixels, Failure>;

#[cfg(not(feature = "viewer"))]
pub(crate) fn takes(
    _study: Study,
    _: &FigureSettings,
    _: &AnimateArgs,
) -> Result<DrawFrame, Failure> {
    Err(picture::no_viewer())
}

#[cfg(feature = "viewer")]
mod drawing {
    use crate::cli::args::AnimateArgs;
    use crate::cli::output::Failure;
    use crate::drawing::Pixels;
    use crate::figure::FigureSettings;
    use crate::study::Study;
    use crate::viewer::framing::CameraSettings;
    use crate::viewer::offscreen::{PictureError, PictureSettings, SpaceFilm};
    use crate::viewer::state::Look;

    /// What takes a frame at a part of the swing or of a turn; the scene is set up once.
    pub(crate) fn takes(
        study: Study,
        drawn: &FigureSettings,
        args: &AnimateArgs,
    ) -> Result<impl FnMut(f64) -> Result<Pixels, Failure>, Failure> {
        let settings = PictureSettings {
            width: args.pixels,
            // As wide to its height as the pictures that `picture` draws.
            height: args.pixels * 5 / 8,
            case: drawn.case,
            motion: drawn.motion,
            camera: CameraSettings {
                view: args.camera.map(Into::into).unwrap_or_default(),
                ..CameraSettings::default()
            },
            look: Look::new(args.theme.unwrap_or_default().into()),
            ..PictureSettings::default()
        };
        let mut reel = SpaceFilm::new(study, &settings).map_err(refused)?;
        let turns = args.turn;
        Ok(move |part| {
            let image = match turns {
                true => reel.turned(part as f32),
                false => reel.at(part as f32),
            };
            let image = image.map_err(refused)?;
            let (width, height) = image.dimensions();
            let rgb = image.pixels().flat_map(|pixel| {
                let [red, green, blue, _] = pixel.0;
                [red, green, blue]
            });
            Ok(Pixels {
                width,
                height,
                rgb: rgb.collect(),
            })
        })
    }

    fn refused(error: PictureError) -> Failure {
        match error {
            PictureError::NoAdapter => Failure::new(
                error.to_string(),
                "without --view 3d the motion is drawn in lines, which needs no graphics driver",
            ),
            _ => Failure::plain(error.to_string()),
        }
    }
}
