//! The scene on its way to the page: the view, the scale, and the body as it is seen.

use nalgebra::{Isometry3, Point3, Vector3};

use super::contour::{Loop, Seen};
use super::pens::Pens;
use super::progress::DrawingProgress;
use super::seams::seams;
use super::settings::{FigurePart, FigureSettings, Projection};
use super::sketch::Spot;
use super::view::Viewpoint;
use crate::document;
use crate::drawing::{Polyline, Run};
use crate::portrayal::mesh::Mesh;
use crate::portrayal::{Layout, ViewSubject, load_places};
use crate::scene::Space;
use crate::scene::solid::{self, Edge, Finish, Solid};
use crate::statics::CaseIndex;
use crate::study::Study;
use crate::wording::Phrase;

/// A point counts as seen within a part of the body so thin on the page, points: a bar is drawn for its centre line.
const THIN: f64 = 8.0;
/// How far around a point is looked whether it is hidden, points.
const NEAR: f64 = 0.3;

/// What every part of a figure needs to draw itself.
pub(super) struct Stage<'a> {
    pub study: &'a Study,
    pub settings: &'a FigureSettings,
    pub pens: Pens,
    pub view: Viewpoint,
    /// Where the body is.
    pub pose: Isometry3<f64>,
    /// Where it is during the swing that is shown; empty for a still.
    pub swing: Vec<Isometry3<f64>>,
    /// Outlines of where it was, on the page; empty where that is not shown.
    pub ghost: Vec<Polyline>,
    /// Solids of the body as written.
    pub solids: Vec<Solid>,
    /// The body as it is seen.
    pub body: Vec<Seen>,
    /// Lowest and highest coordinates of body, supports and ground ends, m.
    pub bounds: [Point3<f64>; 2],
    /// Points of the page for a metre.
    pub scale: f64,
    /// Where the origin of the projection lies on the page.
    pub origin: Spot,
    /// Who waits for the figure.
    pub watch: Option<DrawingProgress<'a>>,
}

impl<'a> Stage<'a> {
    /// The stage of a scene, at a scale of one point to the metre.
    pub(crate) fn new(
        study: &'a Study,
        settings: &'a FigureSettings,
        pose: Isometry3<f64>,
    ) -> Self {
        Self::seen(study, settings, pose, None)
    }

    /// As [`Stage::new`], from where another scene is seen.
    pub(crate) fn seen(
        study: &'a Study,
        settings: &'a FigureSettings,
        pose: Isometry3<f64>,
        view: Option<Viewpoint>,
    ) -> Self {
        let solids = solid::of_body_with(study.scene(), Finish::SHARP);
        let bounds = bounds(study, settings.case, &solids);
        let view = view.unwrap_or_else(|| usual_view(study, settings, &solids, &bounds));
        let mut stage = Self {
            study,
            settings,
            pens: Pens::new(settings.look),
            view,
            pose,
            swing: Vec::new(),
            ghost: Vec::new(),
            solids,
            body: Vec::new(),
            bounds,
            scale: 1.0,
            origin: [0.0, 0.0],
            watch: None,
        };
        let meshes: Vec<Mesh> = stage.body_meshes().collect();
        stage.body = meshes.iter().map(|mesh| Seen::new(mesh, &view)).collect();
        let seams = seams(&meshes).into_iter();
        stage.body.push(Seen {
            lines: seams
                .map(|seam| Edge::straight(seam.map(|end| view.project(&end))))
                .collect(),
            ..Seen::default()
        });
        stage
    }

    fn body_meshes(&self) -> impl Iterator<Item = Mesh> + '_ {
        let solids = self.solids.iter();
        solids.map(|solid| Mesh::of_solid(solid, &self.pose))
    }

    /// A phrase as it is set on the page, its values rounded as is asked for.
    pub(crate) fn runs(&self, phrase: &Phrase) -> Vec<Run> {
        document::runs(&phrase.with_digits(self.settings.digits))
    }

    /// Whether the body lies in front of a point, and not only the wall of a thin part that the point is within.
    pub(crate) fn hides(&self, point: &Point3<f64>) -> bool {
        if self.is_planar() || !self.shows(FigurePart::Body) {
            return false;
        }
        let at = self.view.project(point);
        // A point on an outline is seen: all around it must be hidden.
        let near = NEAR * self.unit();
        let around = [[-near, -near], [-near, near], [near, -near], [near, near]];
        around.iter().all(|[right, up]| {
            let at = Point3::new(at.x + right, at.y + up, at.z);
            let faces = self.body.iter().flat_map(|seen| &seen.facing);
            let mut fronts = faces.filter_map(|face| depth_of(face, &at));
            fronts.any(|front| front - at.z > THIN * self.unit())
        })
    }

    /// Whether a part is wanted.
    pub(crate) fn shows(&self, part: FigurePart) -> bool {
        self.settings.parts.contains(&part)
    }

    /// Whether the scene lies in a plane.
    pub(crate) fn is_planar(&self) -> bool {
        self.study.model().space == Space::Planar
    }

    /// Whether the body is drawn where it is written, and not on its way through a swing.
    pub(crate) fn is_at_rest(&self) -> bool {
        self.swing.is_empty() && self.pose == Isometry3::identity()
    }

    /// Metres of the scene for a point of the page.
    pub(crate) fn unit(&self) -> f64 {
        1.0 / self.scale
    }

    /// Where a point of the scene lies on the page.
    pub(crate) fn at(&self, point: &Point3<f64>) -> Spot {
        self.on_page(&self.view.project(point))
    }

    /// Where a projected point lies on the page.
    pub(crate) fn on_page(&self, projected: &Point3<f64>) -> Spot {
        [
            self.origin[0] + projected.x * self.scale,
            self.origin[1] - projected.y * self.scale,
        ]
    }

    /// Where a direction of the scene leads on the page; shorter than 1 where it is foreshortened.
    pub(crate) fn direction(&self, at: &Point3<f64>, direction: &Vector3<f64>) -> Spot {
        let size = (self.bounds[1] - self.bounds[0]).norm().max(1e-9);
        let [x, y] = self.view.direction(at, direction, size);
        [x, -y]
    }

    /// Whether the body covers a spot of the page.
    pub(crate) fn covers(&self, spot: Spot) -> bool {
        let at = [
            (spot[0] - self.origin[0]) / self.scale,
            (self.origin[1] - spot[1]) / self.scale,
        ];
        self.body.iter().any(|seen| winding(&seen.area, at) != 0)
    }

    /// The share of a straight way on the page that lies over the body, 0 to 1.
    pub(crate) fn covered_share(&self, from: Spot, to: Spot) -> f64 {
        const SAMPLES: u32 = 8;
        let over = (1..=SAMPLES).filter(|i| {
            let t = f64::from(*i) / f64::from(SAMPLES);
            self.covers(super::sketch::step(from, super::sketch::way(from, to), t))
        });
        over.count() as f64 / f64::from(SAMPLES)
    }

    /// Hardware is laid out at this scale, for the swing that is shown.
    pub(crate) fn with_layout<T>(&self, draw: impl FnOnce(&Layout) -> T) -> T {
        let course = self.study.course(self.settings.motion, self.settings.case);
        draw(&Layout {
            model: self.study.model(),
            body: &self.solids,
            course: course.as_ref(),
            swing: &self.swing,
            unit: self.unit(),
            thickest: 1.0,
        })
    }
}

/// The view that is asked for, else the one from which the scene is seen best.
fn usual_view(
    study: &Study,
    settings: &FigureSettings,
    body: &[Solid],
    [low, high]: &[Point3<f64>; 2],
) -> Viewpoint {
    let projection = settings
        .projection
        .unwrap_or_else(|| best_projection(study, settings, body));
    let radius = ((high - low).norm() / 2.0).max(1e-9);
    let centre = nalgebra::center(low, high);
    Viewpoint::new(study.model().space, projection, centre, radius)
}

fn best_projection(study: &Study, settings: &FigureSettings, body: &[Solid]) -> Projection {
    if study.model().space == Space::Planar {
        return Projection::THREE_QUARTER;
    }
    let course = study.course(settings.motion, settings.case);
    let sitter = ViewSubject {
        model: study.model(),
        body,
        case: settings.case,
        axis: course.map(|course| course.motion.direction),
    };
    let [azimuth, elevation] = sitter.best_view(Projection::USUAL_ANGLES);
    Projection::Angles { azimuth, elevation }
}

/// The settings with a projection, for drawings that all have one view.
pub(super) fn with_one_view(study: &Study, settings: &FigureSettings) -> FigureSettings {
    let projection = settings.projection.unwrap_or_else(|| {
        let body = solid::of_body_with(study.scene(), Finish::SHARP);
        best_projection(study, settings, &body)
    });
    FigureSettings {
        projection: Some(projection),
        ..settings.clone()
    }
}

fn bounds(study: &Study, case: CaseIndex, solids: &[Solid]) -> [Point3<f64>; 2] {
    let supports = study.model().supports.iter();
    let loads = study.model().cases.get(case).into_iter();
    let points = solids
        .iter()
        .flat_map(Solid::bounds)
        .chain(supports.flat_map(|support| std::iter::once(support.point).chain(support.ground)))
        .chain(loads.flat_map(|case| &case.loads).flat_map(load_places));
    let mut all: Option<[Point3<f64>; 2]> = None;
    for point in points {
        let [low, high] = all.get_or_insert([point, point]);
        (*low, *high) = (low.inf(&point), high.sup(&point));
    }
    all.unwrap_or([study.model().reference; 2])
}

/// How near the viewer a triangle that faces him is where it covers a projected point.
fn depth_of([a, b, c]: &[Point3<f64>; 3], at: &Point3<f64>) -> Option<f64> {
    let side = |p: &Point3<f64>, q: &Point3<f64>, r: &Point3<f64>| {
        (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)
    };
    let shares = [side(b, c, at), side(c, a, at), side(a, b, at)];
    let whole = side(a, b, c);
    let covers = whole > 0.0 && shares.iter().all(|share| *share >= 0.0);
    covers.then(|| (shares[0] * a.z + shares[1] * b.z + shares[2] * c.z) / whole)
}

/// How often closed lines wind around a spot.
fn winding(loops: &[Loop], [x, y]: [f64; 2]) -> i32 {
    let mut turns = 0;
    for Loop { points, .. } in loops {
        let count = points.len();
        for i in 0..count {
            let (a, b) = (points[i], points[(i + 1) % count]);
            let side = (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]);
            if a[1] <= y && b[1] > y && side > 0.0 {
                turns += 1;
            } else if a[1] > y && b[1] <= y && side < 0.0 {
                turns -= 1;
            }
        }
    }
    turns
}
