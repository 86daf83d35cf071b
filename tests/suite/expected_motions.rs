//! Free motions as a test expects them, and whether a diagnosis has them.

use std::mem::discriminant;

use nalgebra::{Point3, Unit, Vector3};
use sixhold::statics::{Diagnosis, FreeMotion, Model, MotionKind};

use MotionKind::{Rotation, Translation};

/// A free motion in the scene's units, and the supports that a rotation's axis passes through.
#[derive(Debug)]
pub(crate) struct Motion {
    kind: MotionKind,
    direction: [f64; 3],
    point: [f64; 3],
    supports: &'static [&'static str],
}

/// Rotation about a line through a point.
pub(crate) const fn turn(
    direction: [f64; 3],
    point: [f64; 3],
    supports: &'static [&'static str],
) -> Motion {
    Motion {
        kind: Rotation,
        direction,
        point,
        supports,
    }
}

/// Translation along a direction.
pub(crate) const fn slide(direction: [f64; 3]) -> Motion {
    Motion {
        kind: Translation,
        direction,
        point: [0.0; 3],
        supports: &[],
    }
}

/// Rotation about a line through a point with advance along it.
pub(crate) const fn screw(direction: [f64; 3], point: [f64; 3], pitch: f64) -> Motion {
    Motion {
        kind: MotionKind::Screw { pitch },
        direction,
        point,
        supports: &[],
    }
}

pub(crate) const O: [f64; 3] = [0.0; 3];
pub(crate) const X: [f64; 3] = [1.0, 0.0, 0.0];
pub(crate) const Y: [f64; 3] = [0.0, 1.0, 0.0];
pub(crate) const Z: [f64; 3] = [0.0, 0.0, 1.0];

/// Asserts that the free motions are these, and that the shared axes are the rotations among them.
pub(crate) fn assert_motions(name: &str, model: &Model, diagnosis: &Diagnosis, motions: &[Motion]) {
    let found = &diagnosis.free_motions;
    let kinds: Vec<_> = found
        .iter()
        .map(|motion| discriminant(&motion.kind))
        .collect();
    let wanted: Vec<_> = motions
        .iter()
        .map(|motion| discriminant(&motion.kind))
        .collect();
    assert_eq!(kinds, wanted, "{name}: {found:?}");
    for motion in motions {
        let index = found.position(|found| agrees(model, found, motion));
        let index = index.unwrap_or_else(|| panic!("{name}: {motion:?} is not among {found:?}"));
        let axis = diagnosis
            .shared_axes
            .iter()
            .find(|axis| axis.motion == index);
        assert_eq!(axis.is_some(), motion.kind == Rotation, "{name}");
        if let Some(axis) = axis {
            assert!(
                on_line(model, motion, &axis.direction, &axis.point),
                "{name}"
            );
            let supports = axis
                .supports
                .iter()
                .map(|i| model.supports[*i].name.as_str());
            let supports: Vec<_> = supports.collect();
            assert_eq!(supports, motion.supports, "{name}");
        }
    }
}

/// Kind, line or direction, and pitch, to rounding.
fn agrees(model: &Model, found: &FreeMotion, motion: &Motion) -> bool {
    let pitch = motion.kind.pitch() * model.units.length.in_metres();
    let same_pitch = (found.kind.pitch() - pitch).abs() < 1e-9 * model.length;
    let direction = Vector3::from(motion.direction).normalize();
    discriminant(&found.kind) == discriminant(&motion.kind)
        && (found.kind == Translation || same_pitch)
        && found.direction.cross(&direction).norm() < 1e-9
        && (found.kind == Translation || on_line(model, motion, &found.direction, &found.point))
}

fn on_line(
    model: &Model,
    motion: &Motion,
    direction: &Unit<Vector3<f64>>,
    point: &Point3<f64>,
) -> bool {
    let through = Point3::from(motion.point) * model.units.length.in_metres();
    let parallel = direction.cross(&Vector3::from(motion.direction).normalize());
    parallel.norm() < 1e-9 && (through - point).cross(direction).norm() < 1e-9 * model.length
}
