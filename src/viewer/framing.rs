//! Where the camera stands: pure geometry of views, shared by the window and by pictures.
//!
//! Everything is in the viewer's world: bevy's axes (y up, right-handed), lengths in units of the scene's size as
//! [`StageFrame`](super::stage::StageFrame) gives them. Angles are degrees, because people set them.

use bevy::prelude::*;

/// What must be in view.
#[derive(Resource, Debug, Clone, PartialEq, Default)]
pub struct ViewBounds {
    /// Middle of everything that is fitted.
    pub centre: Vec3,
    /// Radius of the sphere about `centre` that holds everything, > 0 where anything is shown.
    pub radius: f32,
    /// Points to fit; with none, the sphere is fitted.
    pub points: Vec<Vec3>,
    /// Direction of the shared axis or of the selected motion, unit; `None` where nothing moves.
    pub axis: Option<Vec3>,
    /// Whether the scene is planar: seen square-on unless asked otherwise.
    pub planar: bool,
    /// Azimuth and elevation, degrees, from which the scene is seen best, without its axis and with it.
    pub best: BestViews,
}

/// Azimuths and elevations, degrees, from which a scene is seen best.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BestViews {
    /// The scene at rest.
    pub usual: (f32, f32),
    /// Its axis or the direction of its motion, and what moves.
    pub axis: (f32, f32),
}

impl Default for BestViews {
    fn default() -> Self {
        Self {
            usual: THREE_QUARTER,
            axis: THREE_QUARTER,
        }
    }
}

impl ViewBounds {
    /// Bounds of a set of points.
    pub fn of_points(points: Vec<Vec3>) -> Self {
        let (low, high) = points.iter().fold(
            (Vec3::INFINITY, Vec3::NEG_INFINITY),
            |(low, high), point| (low.min(*point), high.max(*point)),
        );
        let centre = if points.is_empty() {
            Vec3::ZERO
        } else {
            (low + high) / 2.0
        };
        let radius = points
            .iter()
            .map(|point| point.distance(centre))
            .fold(0.0, f32::max);
        Self {
            centre,
            radius: if radius > 0.0 { radius } else { 1.0 },
            points,
            axis: None,
            planar: false,
            best: BestViews::default(),
        }
    }
}

/// A way to look at the scene.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum View {
    /// Three-quarter in space, or a view from which clearly more is seen; square-on in the plane.
    #[default]
    Usual,
    /// Along +y of a spatial scene, along −z of a planar one.
    Front,
    /// From the side of +x.
    Side,
    /// From above.
    Top,
    /// Between front, side and top.
    ThreeQuarter,
    /// A view in which the shared axis is seen well: neither end-on nor so that turns about it are seen edge-on.
    Axis,
    /// From given angles.
    Angles {
        /// Degrees about the upright axis: 0 is the front view, 90 the view from +x.
        azimuth: f32,
        /// Degrees above the horizon, −90 to 90.
        elevation: f32,
    },
}

impl View {
    /// The views that have a name, in the order they are listed to users.
    pub const NAMED: [(&'static str, Self); 6] = [
        ("usual", Self::Usual),
        ("front", Self::Front),
        ("side", Self::Side),
        ("top", Self::Top),
        ("three-quarter", Self::ThreeQuarter),
        ("axis", Self::Axis),
    ];

    /// The view of that name.
    pub fn named(name: &str) -> Option<Self> {
        let found = Self::NAMED.iter().find(|(known, _)| *known == name);
        found.map(|(_, view)| *view)
    }

    /// Azimuth and elevation of the view, degrees.
    pub fn angles(self, bounds: &ViewBounds) -> (f32, f32) {
        match self {
            Self::Usual if bounds.planar => (0.0, 0.0),
            Self::Usual => bounds.best.usual,
            Self::ThreeQuarter => THREE_QUARTER,
            Self::Front => (0.0, 0.0),
            Self::Side => (90.0, 0.0),
            Self::Top => (0.0, 90.0),
            Self::Axis if bounds.axis.is_none() => Self::Usual.angles(bounds),
            Self::Axis => bounds.best.axis,
            Self::Angles { azimuth, elevation } => (azimuth, elevation),
        }
    }
}

/// Azimuth and elevation of the three-quarter view, degrees.
pub(crate) const THREE_QUARTER: (f32, f32) = (32.0, 24.0);

/// How the scene is projected.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Lens {
    /// Perspective in space, parallel in the plane.
    #[default]
    Usual,
    /// Nearer things larger.
    Perspective,
    /// Parallel lines stay parallel.
    Parallel,
}

/// Part of the picture that the scene may fill, as fractions of its width and height taken off each side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margins {
    /// Off the left, 0 to 1.
    pub left: f32,
    /// Off the right, 0 to 1.
    pub right: f32,
    /// Off the top, 0 to 1.
    pub top: f32,
    /// Off the bottom, 0 to 1.
    pub bottom: f32,
}

impl Default for Margins {
    fn default() -> Self {
        Self {
            left: 0.06,
            right: 0.06,
            top: 0.07,
            bottom: 0.07,
        }
    }
}

/// What a user asks of the camera.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CameraSettings {
    /// From where.
    pub view: View,
    /// Through which lens.
    pub lens: Lens,
    /// Enlargement about the fitted view, > 0; 1 fits.
    pub zoom: f32,
    /// Room to be left at the edges.
    pub margins: Margins,
}

impl Default for CameraSettings {
    fn default() -> Self {
        Self {
            view: View::Usual,
            lens: Lens::Usual,
            zoom: 1.0,
            margins: Margins::default(),
        }
    }
}

/// A placed camera.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CameraPose {
    /// Where the camera is.
    pub eye: Vec3,
    /// What it looks at, in the middle of the picture.
    pub target: Vec3,
    /// What is up in the picture, unit and perpendicular to the view.
    pub up: Vec3,
    /// Half the height of the picture: as a tangent in perspective, as a length at any depth when parallel.
    pub half_height: f32,
    /// Whether the projection is a perspective.
    pub perspective: bool,
}

impl CameraPose {
    /// The pose in numbers, for another run of the program: eye, target, up, half the height, and 1 for a perspective.
    pub(crate) fn numbers(&self) -> [f32; 11] {
        let [eye, target, up] = [self.eye, self.target, self.up].map(|part| part.to_array());
        let perspective = if self.perspective { 1.0 } else { 0.0 };
        let mut numbers = [0.0; 11];
        numbers[..3].copy_from_slice(&eye);
        numbers[3..6].copy_from_slice(&target);
        numbers[6..9].copy_from_slice(&up);
        numbers[9..].copy_from_slice(&[self.half_height, perspective]);
        numbers
    }

    /// The pose that [`CameraPose::numbers`] gave.
    pub(crate) fn from_numbers(numbers: [f32; 11]) -> Self {
        let [eye, target, up] = [0, 3, 6].map(|start| Vec3::from_slice(&numbers[start..]));
        Self {
            eye,
            target,
            up,
            half_height: numbers[9],
            perspective: numbers[10] == 1.0,
        }
    }
}

/// Tangent of half the vertical field of view: a mild lens of 28 degrees.
const HALF_FIELD: f32 = 0.2493;

/// Nearest and farthest depth drawn, relative to the distance of the target.
const DEPTHS: [f32; 2] = [0.02, 30.0];

/// The camera that shows `bounds` as asked, in a picture `aspect` times as wide as high.
pub fn camera_pose(bounds: &ViewBounds, settings: &CameraSettings, aspect: f32) -> CameraPose {
    let (azimuth, elevation) = settings.view.angles(bounds);
    let towards_eye = direction(azimuth, elevation);
    let right = right_of(azimuth);
    let up = towards_eye.cross(right);
    let perspective = match settings.lens {
        Lens::Usual => !bounds.planar,
        Lens::Perspective => true,
        Lens::Parallel => false,
    };
    let fit = Fit {
        rows: [right, up, towards_eye],
        aspect: if aspect.is_finite() && aspect > 0.0 {
            aspect
        } else {
            1.0
        },
        perspective,
        margins: settings.margins,
    };
    let (target, distance) = fit.solve(bounds);
    let zoom = settings.zoom.max(1e-3);
    CameraPose {
        eye: target + towards_eye * (distance / zoom),
        target,
        up,
        half_height: if perspective {
            HALF_FIELD
        } else {
            HALF_FIELD * distance / zoom
        },
        perspective,
    }
}

impl CameraPose {
    /// Placement of a camera entity.
    pub fn transform(&self) -> Transform {
        Transform::from_translation(self.eye).looking_at(self.target, self.up)
    }

    /// Projection of a camera entity.
    pub fn projection(&self) -> Projection {
        let distance = self.eye.distance(self.target);
        let [near, far] = DEPTHS.map(|depth| depth * distance);
        if self.perspective {
            return Projection::Perspective(PerspectiveProjection {
                fov: 2.0 * self.half_height.atan(),
                near,
                far,
                ..default()
            });
        }
        Projection::Orthographic(OrthographicProjection {
            scaling_mode: bevy::camera::ScalingMode::FixedVertical {
                viewport_height: 2.0 * self.half_height,
            },
            near: -far,
            far,
            ..OrthographicProjection::default_3d()
        })
    }

    /// Where a world point appears: x to the right and y downwards, in pixels of a picture of that size.
    ///
    /// `None` for a point behind the camera.
    pub fn pixel(&self, point: Vec3, width: f32, height: f32) -> Option<Vec2> {
        let away = (self.target - self.eye).normalize();
        let right = away.cross(self.up).normalize();
        let from_eye = point - self.eye;
        let depth = from_eye.dot(away);
        if self.perspective && depth <= 0.0 {
            return None;
        }
        let unit = if self.perspective { depth } else { 1.0 } * self.half_height;
        let flat = Vec2::new(from_eye.dot(right), -from_eye.dot(self.up)) / unit;
        Some(Vec2::new(width, height) / 2.0 + flat * (height / 2.0))
    }
}

/// Direction towards the eye.
fn direction(azimuth: f32, elevation: f32) -> Vec3 {
    let (sin, cos) = azimuth.to_radians().sin_cos();
    let (up, level) = elevation.to_radians().sin_cos();
    Vec3::new(sin * level, up, cos * level)
}

fn right_of(azimuth: f32) -> Vec3 {
    let (sin, cos) = azimuth.to_radians().sin_cos();
    Vec3::new(cos, 0.0, -sin)
}

/// Fitting of points into the free rectangle of the picture.
struct Fit {
    /// Right, up and towards the eye.
    rows: [Vec3; 3],
    aspect: f32,
    perspective: bool,
    margins: Margins,
}

impl Fit {
    /// Target in the middle of the picture and distance of the eye from it.
    fn solve(&self, bounds: &ViewBounds) -> (Vec3, f32) {
        let points = self.seen(bounds);
        let margins = &self.margins;
        // Free rectangle: middle and half size, in halves of the picture's height and width.
        let half = Vec2::new(
            (1.0 - margins.left - margins.right).max(0.1),
            (1.0 - margins.top - margins.bottom).max(0.1),
        );
        let middle = Vec2::new(margins.left - margins.right, margins.bottom - margins.top);
        let mut offset = Vec2::ZERO;
        let mut distance = bounds.radius / HALF_FIELD;
        for _ in 0..12 {
            let (low, high) = self.spread(&points, offset, distance);
            let grow = ((high - low) / 2.0 / half).max_element();
            let unit = Vec2::new(self.aspect, 1.0) * HALF_FIELD * distance;
            offset += ((low + high) / 2.0 - middle) * unit;
            if grow > 0.0 {
                distance *= grow;
            }
            let nearest = points.iter().map(|p| p.z).fold(f32::NEG_INFINITY, f32::max);
            if self.perspective && distance < nearest * 1.05 {
                distance = nearest * 1.05;
            }
        }
        let [right, up, _] = self.rows;
        (bounds.centre + right * offset.x + up * offset.y, distance)
    }

    /// The points relative to the centre, in the rows of the view.
    fn seen(&self, bounds: &ViewBounds) -> Vec<Vec3> {
        let rotate = |v: Vec3| Vec3::from_array(self.rows.map(|row| row.dot(v)));
        if !bounds.points.is_empty() {
            let relative = bounds.points.iter().map(|p| rotate(*p - bounds.centre));
            return relative.collect();
        }
        [Vec3::X, Vec3::Y, Vec3::NEG_X, Vec3::NEG_Y]
            .map(|side| side * bounds.radius)
            .to_vec()
    }

    /// Lowest and highest place of the points in the picture, −1 to 1 across it.
    fn spread(&self, points: &[Vec3], offset: Vec2, distance: f32) -> (Vec2, Vec2) {
        let mut low = Vec2::INFINITY;
        let mut high = Vec2::NEG_INFINITY;
        for point in points {
            let depth = if self.perspective {
                (distance - point.z).max(distance * 0.02)
            } else {
                distance
            };
            let flat = (point.truncate() - offset) / (HALF_FIELD * depth);
            let flat = flat / Vec2::new(self.aspect, 1.0);
            low = low.min(flat);
            high = high.max(flat);
        }
        (low, high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cube() -> ViewBounds {
        let corner = |i: u32| {
            let side = |bit: u32| if i & bit == 0 { -1.0 } else { 1.0 };
            Vec3::new(side(1), 3.0 + side(2), 2.0 * side(4))
        };
        ViewBounds::of_points((0..8).map(corner).collect())
    }

    const VIEWS: [View; 6] = [
        View::Usual,
        View::Front,
        View::Side,
        View::Top,
        View::Axis,
        View::Angles {
            azimuth: 200.0,
            elevation: -35.0,
        },
    ];

    #[test]
    fn fitted_points_fill_the_free_rectangle_and_no_more() {
        let margins = Margins {
            left: 0.3,
            right: 0.05,
            top: 0.02,
            bottom: 0.2,
        };
        for (view, lens) in VIEWS
            .iter()
            .flat_map(|v| [(v, Lens::Perspective), (v, Lens::Parallel)])
        {
            let settings = CameraSettings {
                view: *view,
                lens,
                margins,
                ..default()
            };
            let (width, height) = (1280.0, 720.0);
            let pose = camera_pose(&cube(), &settings, width / height);
            let pixels: Vec<Vec2> = cube()
                .points
                .iter()
                .map(|p| pose.pixel(*p, width, height).unwrap())
                .collect();
            let low = pixels.iter().copied().reduce(Vec2::min).unwrap();
            let high = pixels.iter().copied().reduce(Vec2::max).unwrap();
            let free = [
                Vec2::new(0.3 * width, 0.02 * height),
                Vec2::new(0.95 * width, 0.8 * height),
            ];
            let slack = (low - free[0]).min(free[1] - high);
            assert!(slack.min_element() > -2.0, "{view:?} {lens:?} {low} {high}");
            assert!(slack.min_element() < 3.0, "{view:?} {lens:?} {low} {high}");
        }
    }

    #[test]
    fn own_projection_agrees_with_the_camera() {
        for view in VIEWS {
            for lens in [Lens::Perspective, Lens::Parallel] {
                let settings = CameraSettings {
                    view,
                    lens,
                    ..default()
                };
                let pose = camera_pose(&cube(), &settings, 2.0);
                let mut projection = pose.projection();
                projection.update(800.0, 400.0);
                let clip_from_world =
                    projection.get_clip_from_view() * pose.transform().to_matrix().inverse();
                for point in cube().points {
                    let ndc = clip_from_world.project_point3(point);
                    let expected = Vec2::new(400.0 + 400.0 * ndc.x, 200.0 - 200.0 * ndc.y);
                    let ours = pose.pixel(point, 800.0, 400.0).unwrap();
                    assert!(ours.distance(expected) < 0.05, "{view:?} {ours} {expected}");
                }
            }
        }
    }

    #[test]
    fn names_lead_to_views() {
        assert_eq!(View::named("top"), Some(View::Top));
        assert_eq!(View::named("upside"), None);
    }
}
