//! What every layer is drawn in: how the scene maps onto the stage, its body, and how far the motion shown swings.

use bevy::prelude::*;
use nalgebra::Point3;

use super::body::BodySurface;
use super::crossing::StageFrame;
use super::hardware;
use crate::motion::{Sides, default_swing};
use crate::portrayal::{LIT, distance_from_axis, load_places};
use crate::scene::solid::{self, Finish, Solid};
use crate::statics::{FreeMotion, Model};
use crate::viewer::shown::{Selected, ShownStudy, Written};
use crate::viewer::state::{Look, Playback};

/// The body of the scene as written.
#[derive(Resource, Default)]
pub(crate) struct StageBody {
    /// Its solids.
    pub solids: Vec<Solid>,
    /// Corners of its surface, m.
    pub points: Vec<Point3<f64>>,
    /// Its surface on the stage.
    pub surface: BodySurface,
}

impl StageBody {
    /// Size of a unit of the portrayal, in units of the stage: smaller on a body that is small beside its links.
    pub(crate) fn unit(&self) -> f32 {
        let positions = self.surface.positions().iter();
        let (low, high) = positions
            .fold((Vec3::INFINITY, Vec3::NEG_INFINITY), |(low, high), at| {
                (low.min(*at), high.max(*at))
            });
        let size = if low.x > high.x {
            hardware::SIZE
        } else {
            hardware::SIZE.min((0.09 * low.distance(high)).max(0.4 * hardware::SIZE))
        };
        size / hardware::UNITS
    }
}

/// How far the motion shown swings.
#[derive(Resource, Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    /// To each side by default, rad or m; 0 where nothing moves.
    pub default: f64,
    /// Of this, what is asked for.
    pub amplitude: f64,
    /// Parts of the swing at its ends, of which one is 0 where it goes to one side.
    pub ends: [f64; 2],
}

impl Default for Swing {
    fn default() -> Self {
        Self {
            default: 0.0,
            amplitude: 1.0,
            ends: Sides::Both.ends(),
        }
    }
}

impl Swing {
    /// To each side, rad or m.
    pub fn amount(&self) -> f64 {
        self.default * self.amplitude
    }
}

/// Lays the scene out on the stage when it is another one, or has been edited.
pub(crate) fn set_stage(
    mut commands: Commands,
    written: Res<Written>,
    frame: Option<Res<StageFrame>>,
    mut body: ResMut<StageBody>,
    look: Res<Look>,
) {
    if !written.is_changed() && frame.is_some() {
        return;
    }
    let finish = Finish {
        around: LIT.around.max(look.shading.facets()),
        ..LIT
    };
    let solids = solid::of_body_with(written.0.scene(), finish);
    let points: Vec<Point3<f64>> = solids.iter().flat_map(|s| s.positions.clone()).collect();
    let model = written.0.whole();
    let around = StageFrame::around(&extent(model, &points), model.space);
    *body = StageBody {
        surface: BodySurface::new(&solids, &around),
        solids,
        points,
    };
    if frame.is_none_or(|frame| *frame != around) {
        commands.insert_resource(around);
    }
}

/// What the stage is scaled by: the body, its supports with their ground ends, all its loads.
fn extent(model: &Model, body: &[Point3<f64>]) -> Vec<Point3<f64>> {
    let mut points = body.to_vec();
    for support in &model.supports {
        points.push(support.point);
        points.extend(support.ground);
    }
    let loads = model.cases.iter().flat_map(|case| &case.loads);
    points.extend(loads.flat_map(load_places));
    points
}

/// How far the body swings follows what is studied, the motion shown, and the amplitude.
pub(crate) fn set_swing(
    (studied, selected): (Res<ShownStudy>, Res<Selected>),
    (frame, body): (Res<StageFrame>, Res<StageBody>),
    playback: Res<Playback>,
    mut swing: ResMut<Swing>,
) {
    let amplitude = f64::from(playback.amplitude);
    let same = !studied.is_changed() && !selected.is_changed() && !body.is_changed();
    if same && amplitude == swing.amplitude {
        return;
    }
    let course = studied.0.course(selected.motion, selected.case);
    let found = course.map_or_else(Swing::default, |course| {
        let [back, ahead] = course.range();
        let reach = reach(course.motion, &body.points);
        let swing = default_swing(course.motion, reach, frame.size());
        Swing {
            default: swing.min(ahead.max(-back)),
            ends: course.sides().ends(),
            ..Swing::default()
        }
    });
    swing.set_if_neq(Swing { amplitude, ..found });
}

fn reach(motion: &FreeMotion, body: &[Point3<f64>]) -> f64 {
    body.iter()
        .map(|point| distance_from_axis(motion, point))
        .fold(0.0, f64::max)
}
