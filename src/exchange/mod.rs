//! A scene for other programs: body, supports and a free motion as glTF 2.0 (Khronos Group, *glTF 2.0 Specification*; ISO/IEC 12113),
//! in one binary file; the reactions as a table.
//!
//! In glTF lengths are metres, and the scene's z points up, which glTF's y does: a node at the root turns one into the other. What
//! moves alike is one node, named after what carries it. The free motion is an animation of these nodes.

mod glb;
mod table;

use nalgebra::{Isometry3, Point3, Rotation3, Unit, UnitQuaternion, Vector3};

use crate::figure;
use crate::motion::Selection;
use crate::portrayal::hardware_mesh::{Detail, MeshPart, ScreenDetail};
use crate::portrayal::mesh::Mesh;
use crate::portrayal::{Carrier, HardwarePiece, HardwareShape, LIT, Layout};
use crate::scene::solid::{self, Solid};
use crate::statics::CaseIndex;
use crate::study::Study;

pub use glb::glb;
pub use table::reactions_csv;

/// Which motion is exchanged.
#[derive(Debug, Clone, Copy)]
pub struct ExchangeSettings {
    /// The load case, which decides what the body does where contacts let it go.
    pub case: CaseIndex,
    /// The motion; none where the body has none.
    pub motion: Selection,
}

/// Key frames of an animation.
const FRAMES: usize = 96;
/// How long a swing takes, s.
const SECONDS: f64 = 4.0;
/// Hardware is laid out as on a page on which the scene is so many points across.
const ACROSS: f64 = 300.0;
/// Facets around what is round.
const AROUND: usize = 32;
/// Radius of a cable, in units of the layout.
const CORD: f64 = 0.9;

/// What a mesh is painted as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum PartLook {
    Body,
    Hardware,
    Ground,
}

/// Everything that one carrier carries.
struct CarriedPart {
    name: String,
    carrier: Carrier,
    meshes: Vec<(PartLook, Mesh)>,
}

/// Where a part's own axes are: its meshes are written in them.
struct PartFrame {
    origin: Point3<f64>,
    turn: UnitQuaternion<f64>,
}

/// A part's place at one moment: its axes, and how much longer it is along its own z.
struct PartPose {
    origin: Vector3<f64>,
    turn: UnitQuaternion<f64>,
    stretch: f64,
}

impl CarriedPart {
    /// A rod has its z along it, from its ground end; everything else the scene's axes.
    fn frame(&self, middle: &Point3<f64>) -> PartFrame {
        match self.carrier {
            Carrier::Ground | Carrier::Body => PartFrame {
                origin: *middle,
                turn: UnitQuaternion::identity(),
            },
            Carrier::Point(point) => PartFrame {
                origin: point,
                turn: UnitQuaternion::identity(),
            },
            Carrier::Rod { ground, eye } => {
                let along = Unit::new_normalize(eye - ground);
                let aside = Vector3::ith(along.iamin(), 1.0);
                PartFrame {
                    origin: ground,
                    turn: UnitQuaternion::from_rotation_matrix(&Rotation3::face_towards(
                        &along, &aside,
                    )),
                }
            }
        }
    }

    /// Where its axes are when the body is placed there, from the middle of the scene.
    fn pose(&self, body: &Isometry3<f64>, middle: &Point3<f64>) -> PartPose {
        let frame = self.frame(middle);
        let carried = self.carrier.carried(body);
        let origin = carried.point(&frame.origin);
        let axis = |k: usize| {
            let direction = frame.turn * Vector3::ith(k, 1.0);
            carried.point(&(frame.origin + direction)) - origin
        };
        let [x, y, z] = [0, 1, 2].map(axis);
        let turn = Rotation3::from_basis_unchecked(&[x, y, z.normalize()]);
        PartPose {
            origin: origin - middle,
            turn: UnitQuaternion::from_rotation_matrix(&turn),
            stretch: z.norm(),
        }
    }
}

/// The scene as it is exchanged.
struct ExchangedScene {
    title: String,
    /// The middle of everything, from which places are counted: numbers of single precision keep their digits there.
    middle: Point3<f64>,
    parts: Vec<CarriedPart>,
    /// Placements of the body, evenly in time, from the body as written through a whole swing; empty without a motion.
    swing: Vec<Isometry3<f64>>,
}

impl ExchangedScene {
    fn new(study: &Study, settings: &ExchangeSettings) -> Self {
        let model = study.model();
        let solids = solid::of_body_with(study.scene(), LIT);
        let course = study.course(settings.motion, settings.case);
        let swing = course.as_ref().map_or_else(Vec::new, |course| {
            let amount = figure::usual_swing(study, course);
            let mut parts = course.parts_in_time(FRAMES);
            // The last frame is the first of the next swing.
            parts.extend(parts.first().copied());
            let parts = parts.into_iter();
            parts.map(|part| course.swung(part, amount)).collect()
        });
        let [low, high] = bounds(study, &solids);
        let unit = (high - low).norm().max(f64::MIN_POSITIVE) / ACROSS;
        let layout = Layout {
            model,
            body: &solids,
            course: course.as_ref(),
            swing: &swing,
            unit,
            thickest: 1.0,
        };
        let body = solids.iter().map(|solid| {
            let mesh = Mesh::of_solid(solid, &Isometry3::identity());
            (PartLook::Body, mesh)
        });
        let mut parts = vec![CarriedPart {
            name: "body".into(),
            carrier: Carrier::Body,
            meshes: body.collect(),
        }];
        for piece in layout.solids() {
            let name = name_of(study, &piece);
            let meshes = meshes_of(&piece.shape, unit);
            let alike = |part: &&mut CarriedPart| part.carrier == piece.carrier;
            match parts.iter_mut().find(alike) {
                Some(part) => part.meshes.extend(meshes),
                None => parts.push(CarriedPart {
                    name,
                    carrier: piece.carrier,
                    meshes,
                }),
            }
        }
        parts.retain(|part| {
            part.meshes
                .iter()
                .any(|(_, mesh)| !mesh.triangles.is_empty())
        });
        Self {
            title: model.title.clone(),
            middle: nalgebra::center(&low, &high),
            parts,
            swing,
        }
    }
}

/// Lowest and highest coordinates of body, supports and ground ends, m.
fn bounds(study: &Study, solids: &[Solid]) -> [Point3<f64>; 2] {
    let corners = solids
        .iter()
        .flat_map(|solid| solid.positions.iter().copied());
    let supports = study.model().supports.iter();
    let ends = supports.flat_map(|support| std::iter::once(support.point).chain(support.ground));
    let mut all = corners.chain(ends);
    let first = all.next().unwrap_or_default();
    all.fold([first, first], |[low, high], point| {
        [low.inf(&point), high.sup(&point)]
    })
}

fn name_of(study: &Study, piece: &HardwarePiece<HardwareShape>) -> String {
    let support = &study.model().supports[piece.support].name;
    match piece.carrier {
        Carrier::Ground => "ground".into(),
        Carrier::Body => "body".into(),
        Carrier::Rod { .. } => format!("{support}, rod"),
        Carrier::Point(_) => format!("{support}, on its surface"),
    }
}

fn meshes_of(shape: &HardwareShape, unit: f64) -> Vec<(PartLook, Mesh)> {
    if let HardwareShape::Cord { ends, .. } = shape {
        let cord = Mesh::rod(&ends[0], &ends[1], CORD * unit, AROUND);
        return vec![(PartLook::Hardware, cord)];
    }
    let detail = Detail::Screen(ScreenDetail {
        unit,
        around: AROUND,
    });
    let painted = shape.meshes(detail).into_iter();
    painted
        .filter_map(|(part, mesh)| match part {
            MeshPart::Hardware => Some((PartLook::Hardware, mesh)),
            MeshPart::Ground => Some((PartLook::Ground, mesh)),
            // Strokes on the ground mean something to readers of drawings alone.
            MeshPart::Hatching => None,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::builtin;

    fn exchanged(study: &Study) -> ExchangedScene {
        let case = CaseIndex::FIRST;
        let motion = study.selections(case).first().copied().unwrap_or_default();
        ExchangedScene::new(study, &ExchangeSettings { case, motion })
    }

    /// Wherever a part is at any moment of the swing, its corners in its own axes are where its carrier takes them.
    #[test]
    fn parts_go_where_their_carriers_take_them() {
        for name in [
            "handrail",
            "cable-tray",
            "hoisting-tray",
            "strut-platform",
            "dome-shutter",
        ] {
            let study = Study::open(name).unwrap();
            let scene = exchanged(&study);
            assert!(!scene.swing.is_empty(), "{name}");
            for part in &scene.parts {
                let frame = part.frame(&scene.middle);
                for body in scene.swing.iter().step_by(7) {
                    let (pose, carried) =
                        (part.pose(body, &scene.middle), part.carrier.carried(body));
                    for corner in part
                        .meshes
                        .iter()
                        .flat_map(|(_, mesh)| &mesh.positions)
                        .step_by(5)
                    {
                        let mut own = frame.turn.inverse() * (corner - frame.origin);
                        own.z *= pose.stretch;
                        let found = scene.middle + pose.origin + pose.turn * own;
                        let off = (found - carried.point(corner)).norm();
                        assert!(
                            off < 1e-9 * scene.middle.coords.norm().max(10.0),
                            "{name}, {}: {off}",
                            part.name
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn every_scene_has_a_body_and_what_holds_it() {
        for name in builtin::names() {
            let study = Study::open(name).unwrap();
            let scene = exchanged(&study);
            assert_eq!(scene.parts[0].name, "body");
            assert!(scene.parts.len() > 1, "{name}");
            let is_free = study.diagnosis().counts.freedom > 0;
            assert!(!is_free || !scene.swing.is_empty(), "{name}");
        }
    }
}
