//! How a scene lies on the page of its figure, for whoever points at it.

use nalgebra::{Isometry3, Point3, Vector3};

use super::settings::FigureSettings;
use super::sketch::Spot;
use super::stage::Stage;
use super::view::Viewpoint;
use super::{page_of, series};
use crate::drawing::Drawing;
use crate::study::Study;

/// How a scene lies on the page of its figure.
#[derive(Debug, Clone, Copy)]
pub struct FigureMap {
    view: Viewpoint,
    /// Points of the page for a metre.
    scale: f64,
    /// Where the origin of the projection lies.
    origin: Spot,
    /// Size of the scene, m.
    size: f64,
}

impl FigureMap {
    /// Where a point, m, lies on the page: points from its left and upper border.
    pub fn spot(&self, point: &Point3<f64>) -> [f64; 2] {
        let seen = self.view.project(point);
        [
            self.origin[0] + seen.x * self.scale,
            self.origin[1] - seen.y * self.scale,
        ]
    }

    /// How near to the viewer a point, m, is: the nearer of two hides the other.
    #[cfg(feature = "cli")]
    pub(super) fn nearness(&self, point: &Point3<f64>) -> f64 {
        self.view.project(point).z
    }

    /// The line of sight through a spot of the page: a point in front of the scene, m, and the unit direction away from the viewer;
    /// `None` in perspective.
    pub fn line(&self, spot: [f64; 2]) -> Option<(Point3<f64>, Vector3<f64>)> {
        let at = [
            (spot[0] - self.origin[0]) / self.scale,
            (self.origin[1] - spot[1]) / self.scale,
        ];
        self.view.line(at, 10.0 * self.size)
    }
}

/// The figure of a scene, and how the scene lies on it.
pub fn draw_with_map(study: &Study, settings: &FigureSettings) -> (Drawing, FigureMap) {
    let stage = Stage::new(study, settings, Isometry3::identity());
    let (view, [low, high]) = (stage.view, stage.bounds);
    let (mut drawings, frame) =
        series::Series::new(vec![stage], Vec::new(), page_of(settings)).drawn();
    let farthest = low.coords.amax().max(high.coords.amax());
    let map = FigureMap {
        view,
        scale: frame.scale,
        origin: frame.origin,
        size: (high - low).norm() + farthest,
    };
    (drawings.remove(0), map)
}
