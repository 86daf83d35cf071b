//! The anchors of a plate in SI units, with the axes of the plate.

use nalgebra::{Point3, Unit, Vector3};

use crate::scene::{AnchorPlate, Units};

/// The anchors of a placed plate.
///
/// Places on the plate are counted from the support's point, seen from in front of the plate: x to the right, y upwards.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct AnchorGroup {
    /// To the right, upwards, and out of the ground; right-handed.
    pub axes: [Unit<Vector3<f64>>; 3],
    /// Width and height of the plate, m.
    pub size: [f64; 2],
    /// Where the anchors are on the plate, m.
    pub places: Vec<[f64; 2]>,
    /// Stiffness of each anchor against being pulled out, N/m; `None` where the scene gives none.
    pub pull_stiffness: Option<f64>,
    /// Stiffness of the wall under the plate, N/m³; `None` where the scene gives none.
    pub bedding: Option<f64>,
}

/// Sine of the angle off the z axis below which a normal runs along it.
const ALONG: f64 = 1e-9;

impl AnchorGroup {
    pub(super) fn of(plate: &AnchorPlate, normal: Unit<Vector3<f64>>, units: &Units) -> Self {
        let metres = units.length.in_metres();
        let per_metre = units.force.in_newtons() / metres;
        let usual = match normal.cross(&Vector3::z()).norm() > ALONG {
            true => Vector3::z(),
            false => Vector3::y(),
        };
        let written = plate.upright.map(|vector| vector.components().into());
        let square = |vector: Vector3<f64>| {
            let across = vector - normal.into_inner() * normal.dot(&vector);
            Unit::try_new(across, 0.0)
        };
        let up = written.and_then(square).or_else(|| square(usual));
        let up = up.unwrap_or_else(Vector3::y_axis);
        let right = Unit::new_normalize(up.cross(&normal));
        Self {
            axes: [right, up, normal],
            size: plate.size.map(|side| side * metres),
            places: plate
                .anchors
                .places()
                .into_iter()
                .map(|place| place.map(|x| x * metres))
                .collect(),
            pull_stiffness: plate.pull_stiffness.map(|k| k * per_metre),
            bedding: plate.bedding.map(|k| k * per_metre / (metres * metres)),
        }
    }

    /// Where a spot on the plate is, whose middle is at a point.
    pub fn point(&self, middle: &Point3<f64>, [x, y]: &[f64; 2]) -> Point3<f64> {
        middle + self.axes[0].into_inner() * *x + self.axes[1].into_inner() * *y
    }
}
