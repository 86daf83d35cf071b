//! Pictures drawn without a window: pixels lie where the mathematics puts them.
//!
//! Projection is redone here from the camera's pose. Without a graphics driver the tests pass over with a message;
//! with SIXHOLD_NEED_ADAPTER=1 in the environment that is a failure.

use std::ffi::OsStr;
use std::io::Write;

use bevy::math::Vec3;
use image::{Rgba, RgbaImage};
use nalgebra::Point3;
use sixhold::motion::default_swing;
use sixhold::scene::{self, Space};
use sixhold::statics::MotionIndex;
use sixhold::study::{Study, WholeReactionIndex};
use sixhold::theme::{Colour, Theme, ThemeName};
use sixhold::viewer::framing::{CameraPose, CameraSettings, Lens, View};
use sixhold::viewer::offscreen::{
    PictureError, PictureSettings, RenderedPicture, SpaceFilm, picture,
};
use sixhold::viewer::stage::StageFrame;
use sixhold::viewer::state::{Look, Shading};

/// A portal of thick round bar on two ball joints: it can only turn about the line through them.
const PORTAL: &str = r#"(
    format: 1,
    title: "portal",
    points: { "A": (1, 2, 0), "B": (5, 2, 0) },
    body: [BentBar(path: ["A", (1, 2, 3), (5, 2, 3), "B"], diameter: 0.3, bend_radius: 0.3)],
    supports: [BallJoint(name: "A", at: "A"), BallJoint(name: "B", at: "B")],
)"#;

fn portal() -> Study {
    let scene = scene::read_str("portal", PORTAL).unwrap().scene;
    let study = Study::new(scene).unwrap();
    assert_eq!(study.diagnosis().counts.freedom, 1);
    study
}

/// The picture, or `None` where there is nothing to draw with and that is allowed.
fn draw(settings: &PictureSettings) -> Option<RenderedPicture> {
    possible(picture(portal(), settings))
}

fn possible<T>(drawn: Result<T, PictureError>) -> Option<T> {
    match drawn {
        Ok(drawn) => Some(drawn),
        Err(PictureError::NoAdapter) if std::env::var_os("SIXHOLD_NEED_ADAPTER").is_none() => {
            let mut stderr = std::io::stderr();
            writeln!(stderr, "passed over: no graphics driver to draw with").unwrap();
            None
        }
        Err(error) => panic!("{error}"),
    }
}

/// Stage frame of the portal, from its known extent: bar and ends between these corners.
fn frame() -> StageFrame {
    let body = scene::solid::of_body(portal().scene());
    let points: Vec<Point3<f64>> = body
        .iter()
        .flat_map(|solid| solid.positions.clone())
        .collect();
    let supports = [Point3::new(1.0, 2.0, 0.0), Point3::new(5.0, 2.0, 0.0)];
    StageFrame::around(points.iter().chain(&supports), Space::Spatial)
}

/// Pixel of a point of the scene, by a pinhole or parallel camera written out anew.
fn pixel(camera: &CameraPose, image: &RgbaImage, point: &Point3<f64>) -> [f32; 2] {
    let world = frame().world(point);
    let towards = (camera.target - camera.eye).normalize();
    let right = towards.cross(camera.up).normalize();
    let offset: Vec3 = world - camera.eye;
    let scale = match camera.perspective {
        true => camera.half_height * offset.dot(towards),
        false => camera.half_height,
    };
    let [w, h] = [image.width() as f32, image.height() as f32];
    [
        w / 2.0 + offset.dot(right) / scale * h / 2.0,
        h / 2.0 - offset.dot(camera.up) / scale * h / 2.0,
    ]
}

/// Fraction of points along a segment of the scene at which some pixel within reach has the wanted look.
fn share(
    picture: &RenderedPicture,
    ends: [Point3<f64>; 2],
    reach: i32,
    wanted: impl Fn(&Rgba<u8>) -> bool,
) -> f64 {
    let count = 60;
    let hit = |i: usize| {
        let point = ends[0] + (ends[1] - ends[0]) * (i as f64 / count as f64);
        let [x, y] = pixel(&picture.camera, &picture.image, &point);
        let near = |dx: i32, dy: i32| {
            let at = [x.floor() as i32 + dx, y.floor() as i32 + dy].map(u32::try_from);
            let [Ok(x), Ok(y)] = at else { return false };
            picture.image.get_pixel_checked(x, y).is_some_and(&wanted)
        };
        (-reach..=reach).any(|dx| (-reach..=reach).any(|dy| near(dx, dy)))
    };
    (0..=count).filter(|i| hit(*i)).count() as f64 / (count + 1) as f64
}

fn is(colour: Colour, tolerance: u8) -> impl Fn(&Rgba<u8>) -> bool {
    let Colour(r, g, b) = colour;
    move |pixel| {
        let [red, green, blue, _] = pixel.0;
        [(red, r), (green, g), (blue, b)]
            .iter()
            .all(|(found, wanted)| found.abs_diff(*wanted) <= tolerance)
    }
}

/// Any shade of the body: its hue, between deep shadow and full light.
fn shade_of_body(theme: &Theme) -> impl Fn(&Rgba<u8>) -> bool {
    let body = theme.body;
    let Colour(red, green, blue) = body;
    let ratio = |a: u8, b: u8| f32::from(a) / f32::from(b.max(1));
    let wanted = [ratio(green, red), ratio(blue, red)];
    move |pixel| {
        let [r, g, b, _] = pixel.0;
        let bright = f32::from(r) / f32::from(body.0);
        let hue = [ratio(g, r) - wanted[0], ratio(b, r) - wanted[1]];
        (0.55..1.25).contains(&bright) && hue.iter().all(|x| x.abs() < 0.07)
    }
}

fn settings(view: View, lens: Lens, theme: ThemeName) -> PictureSettings {
    PictureSettings {
        width: 640,
        height: 400,
        look: Look::new(theme),
        camera: CameraSettings {
            view,
            lens,
            ..CameraSettings::default()
        },
        // Letters would stand in front of what is measured.
        labels: false,
        ..PictureSettings::default()
    }
}

const CAMERAS: [(View, Lens, ThemeName); 3] = [
    (View::Usual, Lens::Usual, ThemeName::Hall),
    (View::Front, Lens::Parallel, ThemeName::Daylight),
    (
        View::Angles {
            azimuth: -140.0,
            elevation: 35.0,
        },
        Lens::Perspective,
        ThemeName::Hall,
    ),
];

/// The axis between the joints, clear of their hardware.
fn axis() -> [Point3<f64>; 2] {
    [Point3::new(1.8, 2.0, 0.0), Point3::new(4.2, 2.0, 0.0)]
}

/// The beam of the portal, clear of its bends.
fn beam() -> [Point3<f64>; 2] {
    [Point3::new(1.6, 2.0, 3.0), Point3::new(4.4, 2.0, 3.0)]
}

#[test]
fn axis_and_body_are_where_projection_puts_them() {
    for (view, lens, name) in CAMERAS {
        let Some(picture) = draw(&settings(view, lens, name)) else {
            return;
        };
        let theme = Theme::of(name);
        // Dash-dot: 128 of 192 parts are stroke; a ghost may cover a little of it.
        let on_axis = share(&picture, axis(), 0, is(theme.axis, 12));
        assert!((0.5..0.92).contains(&on_axis), "{view:?}: axis {on_axis}");
        let on_body = share(&picture, beam(), 0, shade_of_body(&theme));
        assert!(on_body > 0.6, "{view:?}: body {on_body}");
        // In the opening of the portal there is neither.
        let between = [Point3::new(1.8, 2.0, 0.5), Point3::new(4.2, 2.0, 0.5)];
        let stray = share(&picture, between, 0, is(theme.axis, 40));
        assert_eq!(stray, 0.0, "{view:?}");
        assert!(
            is(theme.background, 2)(picture.image.get_pixel(1, 1)),
            "{view:?}"
        );
        assert!(
            is(theme.background, 2)(picture.image.get_pixel(638, 1)),
            "{view:?}"
        );
    }
}

#[test]
fn at_the_end_of_the_swing_the_body_is_where_the_motion_takes_it() {
    let study = portal();
    let motion = &study.diagnosis().free_motions[MotionIndex::FIRST];
    let size = frame().size();
    // The outermost points of the bar: 3 m of leg and half its diameter from the axis.
    let reach = scene::solid::of_body(study.scene())
        .iter()
        .flat_map(|solid| solid.positions.clone())
        .map(|p| (p - motion.point).cross(&motion.direction).norm())
        .fold(0.0, f64::max);
    let swing = default_swing(motion, reach, size);
    for (phase, sign) in [(1.0, 1.0), (-1.0, -1.0)] {
        // From above, where the resting beam lies over the axis: it swings across the view, and nothing of the
        // moved body passes in front of where it was.
        let view = View::Angles {
            azimuth: 80.0,
            elevation: 88.0,
        };
        let Some(picture) = draw(&PictureSettings {
            phase,
            ..settings(view, Lens::Usual, ThemeName::Hall)
        }) else {
            return;
        };
        let theme = Theme::of(ThemeName::Hall);
        let moved = beam().map(|p| sixhold::motion::pose(motion, sign * swing) * p);
        let there = share(&picture, moved, 0, shade_of_body(&theme));
        assert!(there > 0.6, "phase {phase}: body {there}");
        let still = share(&picture, beam(), 0, shade_of_body(&theme));
        assert!(still < 0.2, "phase {phase}: {still} of the body has stayed");
    }
}

#[test]
fn the_same_picture_comes_out_twice() {
    let wanted = PictureSettings {
        labels: true,
        ..settings(View::Usual, Lens::Usual, ThemeName::Stark)
    };
    let (Some(first), Some(second)) = (draw(&wanted), draw(&wanted)) else {
        return;
    };
    assert!(first.image == second.image);
    // The names of the supports are written in the theme's ink, which nothing else in the picture has.
    let ink = is(Theme::of(ThemeName::Stark).ink, 0);
    assert!(first.image.pixels().filter(|pixel| ink(pixel)).count() > 20);
}

/// What the window has on the wall can be said to the program: camera, phase, parts left out and reactions released.
#[test]
fn the_program_draws_what_the_library_draws() {
    let whole = portal();
    let released = [WholeReactionIndex::new(1)];
    let study = whole.without(&released);
    let view = settings(View::Usual, Lens::Perspective, ThemeName::Daylight);
    let wanted = PictureSettings {
        width: 320,
        height: 200,
        phase: -0.5,
        amplitude: 0.4,
        transparent: true,
        shading: Some(Shading::Plain),
        look: Look {
            floor: false,
            values: true,
            ..Look::new(ThemeName::Daylight)
        },
        camera: CameraSettings {
            zoom: 1.3,
            ..view.camera
        },
        ..PictureSettings::default()
    };
    let Some(drawn) = possible(picture(study, &wanted)) else {
        return;
    };
    let CameraPose {
        eye,
        target,
        up,
        half_height,
        ..
    } = drawn.camera;
    let numbers = [eye, target, up].map(|part| format!("{},{},{}", part.x, part.y, part.z));
    let pose = format!("--pose={},{half_height},1", numbers.join(","));
    let folder = tempfile::tempdir().unwrap();
    let (scene, out) = (
        folder.path().join("portal.ron"),
        folder.path().join("a.png"),
    );
    std::fs::write(&scene, PORTAL).unwrap();
    let done = std::process::Command::new(env!("CARGO_BIN_EXE_sixhold"))
        .args([
            OsStr::new("picture"),
            scene.as_os_str(),
            OsStr::new("--out"),
            out.as_os_str(),
        ])
        .args([
            "--size=320x200",
            "--at=-0.5",
            "--amplitude=0.4",
            "--theme=daylight",
        ])
        .args([
            "--shading=plain",
            "--hide=floor",
            "--values",
            "--transparent",
        ])
        .args(["--release=A_y", &pose])
        .output()
        .unwrap();
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    assert!(image::open(&out).unwrap().into_rgba8() == drawn.image);
}

/// Share of the pixels that differ by more than a shade.
fn changed(one: &RgbaImage, other: &RgbaImage) -> f64 {
    let differ = |(a, b): &(&Rgba<u8>, &Rgba<u8>)| (0..3).any(|k| a.0[k].abs_diff(b.0[k]) > 16);
    let count = one.pixels().zip(other.pixels()).filter(differ).count();
    count as f64 / f64::from(one.width() * one.height())
}

/// Each frame of a reel is the picture of its phase, whatever was drawn before it.
///
/// All but a few pixels: things that shine through each other in one place may change their order.
#[test]
fn a_reel_draws_the_pictures_of_its_phases() {
    let wanted = settings(View::Usual, Lens::Usual, ThemeName::Daylight);
    let Some(mut reel) = possible(SpaceFilm::new(portal(), &wanted)) else {
        return;
    };
    for phase in [1.0, -0.5, 0.0] {
        let still = draw(&PictureSettings { phase, ..wanted }).unwrap();
        let off = changed(&reel.at(phase).unwrap(), &still.image);
        assert!(off < 2e-3, "{phase}: {off}");
    }
    let moved = changed(&reel.at(0.0).unwrap(), &reel.at(1.0).unwrap());
    assert!(moved > 0.02, "{moved}");
    assert!(reel.at(1.5).unwrap_err().to_string().contains("phase"));
}

/// Under a lamp the palette keeps its meaning: strokes have their very colours, and so has what faces upwards out of shadow;
/// in shadow the floor shows at most what the room alone lights, 0.42 of it in linear light.
#[test]
fn lit_things_keep_their_colours_and_cast_shadows() {
    for name in [ThemeName::Hall, ThemeName::Daylight] {
        let theme = Theme::of(name);
        let Some(lit) = draw(&PictureSettings {
            shading: Some(Shading::Lit),
            ..settings(View::Usual, Lens::Usual, name)
        }) else {
            return;
        };
        let on_axis = share(&lit, axis(), 0, is(theme.axis, 12));
        assert!((0.5..0.92).contains(&on_axis), "{name:?}: axis {on_axis}");
        let on_body = share(&lit, beam(), 0, shade_of_body(&theme));
        assert!(on_body > 0.6, "{name:?}: body {on_body}");
        for x in [1, 638] {
            let corner = lit.image.get_pixel(x, 1);
            assert!(is(theme.background, 2)(corner), "{name:?}: {corner:?}");
        }
        let Colour(red, green, blue) = theme.surface;
        let shade = Colour(shaded(red), shaded(green), shaded(blue));
        let of_all = f64::from(lit.image.width() * lit.image.height());
        let count =
            |colour| lit.image.pixels().filter(|p| is(colour, 5)(p)).count() as f64 / of_all;
        assert!(
            count(theme.surface) > 0.02,
            "{name:?}: {}",
            count(theme.surface)
        );
        assert!(count(shade) > 0.003, "{name:?}: {}", count(shade));
    }
}

/// A part of a colour in the light of the room alone, by the curve of sRGB (IEC 61966-2-1).
fn shaded(part: u8) -> u8 {
    let x = f64::from(part) / 255.0;
    let linear = match x <= 0.04045 {
        true => x / 12.92,
        false => ((x + 0.055) / 1.055).powf(2.4),
    };
    let left = linear * 0.42;
    let y = match left <= 0.0031308 {
        true => left * 12.92,
        false => 1.055 * left.powf(1.0 / 2.4) - 0.055,
    };
    (y * 255.0).round() as u8
}

#[test]
fn impossible_settings_are_refused() {
    let usual = settings(View::Usual, Lens::Usual, ThemeName::Hall);
    for (wrong, word) in [
        (PictureSettings { width: 0, ..usual }, "0 × 400"),
        (
            PictureSettings {
                height: 100_000,
                ..usual
            },
            "100000",
        ),
        (
            PictureSettings {
                phase: f32::NAN,
                ..usual
            },
            "phase",
        ),
        (
            PictureSettings {
                phase: 1.5,
                ..usual
            },
            "phase",
        ),
        (
            PictureSettings {
                amplitude: 0.0,
                ..usual
            },
            "amplitude",
        ),
    ] {
        let error = picture(portal(), &wrong).unwrap_err();
        assert!(error.to_string().contains(word), "{error}");
    }
}
