//! Support hardware as meshes: the solids of the portrayal, painted by what they move with.

use bevy::prelude::*;
use nalgebra::Point3;

use super::crossing::{StageFrame, vector};
use super::mesh_builder::MeshBuilder;
use super::paint::{Paint, Palette, between};
use crate::portrayal::hardware_mesh::{Detail, MeshPart, ScreenDetail};
use crate::portrayal::{Carrier, HardwarePiece, HardwareShape};
use crate::statics::Model;
use crate::viewer::state::Shading;

/// Size of hardware, in units of the stage, where the body asks for no other.
pub(crate) const SIZE: f32 = 0.042;
/// Units of a portrayal in that size.
pub(crate) const UNITS: f32 = 3.5;
/// Radius of a cable, in units.
const CORD: f32 = 0.35;

/// The straight part of a link or cable, which follows its body end.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rod {
    /// Ground end, in stage coordinates.
    pub ground: Vec3,
    /// Body end of the body as written.
    pub eye: Vec3,
    /// Radius.
    pub radius: f32,
}

impl Rod {
    /// Draws the rod from the origin along z with length 1, for [`Rod::follow`] to place.
    pub(crate) fn draw(&self, draft: &mut MeshBuilder) {
        draft.rod(Vec3::ZERO, Vec3::Z, self.radius);
    }

    fn turn(&self, eye: Vec3) -> Quat {
        Quat::from_rotation_arc(Vec3::Z, (eye - self.ground).normalize_or(Vec3::Z))
    }

    /// Placement of the drawn rod when its body end is at `eye`.
    pub(crate) fn follow(&self, eye: Vec3) -> Transform {
        Transform {
            translation: self.ground,
            rotation: self.turn(eye),
            scale: Vec3::new(1.0, 1.0, self.ground.distance(eye)),
        }
    }
}

/// What goes along with a body point without turning.
pub(crate) struct PointHardware {
    /// The body point, m.
    pub point: Point3<f64>,
    /// What is drawn.
    pub draft: MeshBuilder,
}

/// The hardware of all supports, by what it moves with.
pub(crate) struct Hardware {
    /// Stays.
    pub ground: MeshBuilder,
    /// Moves with the body.
    pub body: MeshBuilder,
    /// Goes along with body points.
    pub riders: Vec<PointHardware>,
    /// Turns between ground and body.
    pub rods: Vec<Rod>,
}

/// Draws pieces into copies of an empty draft; `unit` is that of the portrayal, in units of the stage.
pub(crate) fn draw(
    pieces: &[HardwarePiece<HardwareShape>],
    model: &Model,
    (frame, palette, shading): (&StageFrame, &Palette, Shading),
    empty: &MeshBuilder,
    unit: f32,
) -> Hardware {
    let detail = Detail::Screen(ScreenDetail {
        unit: f64::from(unit) * frame.size(),
        around: shading.facets(),
    });
    let mut hardware = Hardware {
        ground: empty.clone(),
        body: empty.clone(),
        riders: Vec::new(),
        rods: Vec::new(),
    };
    for piece in pieces {
        let of_link = model.supports[piece.support].ground.is_some();
        let (draft, colour) = match piece.carrier {
            Carrier::Rod { ground, eye } => {
                hardware.rods.push(Rod {
                    ground: frame.point(&ground),
                    eye: frame.point(&eye),
                    radius: match &piece.shape {
                        HardwareShape::Rod { radius, .. } => frame.length(*radius),
                        _ => CORD * unit,
                    },
                });
                continue;
            }
            Carrier::Ground => (&mut hardware.ground, palette.hardware),
            Carrier::Body if of_link => (&mut hardware.body, palette.hardware),
            Carrier::Body => (&mut hardware.body, palette.body),
            Carrier::Point(point) => {
                let draft = empty.clone();
                hardware.riders.push(PointHardware { point, draft });
                let last = hardware.riders.len() - 1;
                (&mut hardware.riders[last].draft, palette.hardware)
            }
        };
        for (matter, mesh) in piece.shape.meshes(detail) {
            draft.paint(Paint::solid(match matter {
                MeshPart::Hardware => colour,
                MeshPart::Ground => palette.ground,
                MeshPart::Hatching => between(palette.ground, palette.background, 0.75),
            }));
            for triangle in mesh.shaded() {
                let corners = triangle
                    .map(|(point, normal)| draft.corner(frame.point(&point), vector(&normal)));
                draft.triangle(corners);
            }
        }
    }
    hardware
}
