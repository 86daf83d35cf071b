//! The binary form of glTF: one buffer with all numbers, and what they mean.

use std::borrow::Cow;
use std::collections::BTreeMap;

use gltf::binary::{Glb, Header};
use gltf::json::accessor::{ComponentType, GenericComponentType, Type};
use gltf::json::validation::Checked::Valid;
use gltf::json::validation::USize64;
use gltf::json::{self, Index, Root};
use nalgebra::{UnitQuaternion, Vector3};

use super::{CarriedPart, ExchangeSettings, ExchangedScene, PartLook, SECONDS};
use crate::study::Study;

/// A scene as a binary glTF file.
///
/// # Errors
/// Only for a bug of ours: everything has a JSON form.
pub fn glb(study: &Study, settings: &ExchangeSettings) -> Result<Vec<u8>, gltf::Error> {
    let scene = ExchangedScene::new(study, settings);
    let mut writer = GlbWriter::default();
    writer.materials();
    let nodes: Vec<Index<json::Node>> = scene
        .parts
        .iter()
        .map(|part| writer.part(part, &scene))
        .collect();
    writer.animation(&scene, &nodes);
    writer.finished(&scene, nodes)
}

/// Colours, as linear shares of red, green and blue.
const LOOKS: [(PartLook, &str, [f32; 3]); 3] = [
    (PartLook::Body, "body", [0.55, 0.5, 0.43]),
    (PartLook::Hardware, "supports", [0.2, 0.27, 0.36]),
    (PartLook::Ground, "ground", [0.42, 0.4, 0.38]),
];

#[derive(Default)]
struct GlbWriter {
    root: Root,
    bytes: Vec<u8>,
}

impl GlbWriter {
    fn materials(&mut self) {
        for (_, name, [red, green, blue]) in LOOKS {
            self.root.push(json::Material {
                name: Some(name.into()),
                pbr_metallic_roughness: json::material::PbrMetallicRoughness {
                    base_color_factor: json::material::PbrBaseColorFactor([red, green, blue, 1.0]),
                    metallic_factor: json::material::StrengthFactor(0.0),
                    roughness_factor: json::material::StrengthFactor(0.8),
                    ..Default::default()
                },
                ..Default::default()
            });
        }
    }

    /// A node with the meshes of a part, where it is with the body as written.
    fn part(&mut self, part: &CarriedPart, scene: &ExchangedScene) -> Index<json::Node> {
        let frame = part.frame(&scene.middle);
        let mut primitives = Vec::new();
        for (which, (look, ..)) in LOOKS.iter().enumerate() {
            let (mut positions, mut normals) = (Vec::new(), Vec::new());
            let meshes = part.meshes.iter().filter(|(own, _)| own == look);
            for (point, normal) in meshes.flat_map(|(_, mesh)| mesh.shaded()).flatten() {
                positions.push(single(&(frame.turn.inverse() * (point - frame.origin))));
                normals.push(single(&(frame.turn.inverse() * normal)));
            }
            if positions.is_empty() {
                continue;
            }
            let attributes = BTreeMap::from([
                (
                    Valid(json::mesh::Semantic::Positions),
                    self.numbers(&positions, Type::Vec3),
                ),
                (
                    Valid(json::mesh::Semantic::Normals),
                    self.numbers(&normals, Type::Vec3),
                ),
            ]);
            primitives.push(json::mesh::Primitive {
                attributes,
                extensions: None,
                extras: Default::default(),
                indices: None,
                material: Some(Index::new(which as u32)),
                mode: Valid(json::mesh::Mode::Triangles),
                targets: None,
            });
        }
        let mesh = self.root.push(json::Mesh {
            extensions: None,
            extras: Default::default(),
            name: Some(part.name.clone()),
            primitives,
            weights: None,
        });
        let pose = part.pose(&nalgebra::Isometry3::identity(), &scene.middle);
        self.root.push(json::Node {
            mesh: Some(mesh),
            name: Some(part.name.clone()),
            translation: Some(single(&pose.origin)),
            rotation: Some(json::scene::UnitQuaternion(quaternion(&pose.turn))),
            ..Default::default()
        })
    }

    /// The swing as an animation of every part that moves.
    fn animation(&mut self, scene: &ExchangedScene, nodes: &[Index<json::Node>]) {
        use json::animation::{Animation, Channel, Interpolation, Property, Sampler, Target};
        let Some(steps) = scene.swing.len().checked_sub(1).filter(|steps| *steps > 0) else {
            return;
        };
        let time = |frame: usize| [(SECONDS * frame as f64 / steps as f64) as f32];
        let times: Vec<[f32; 1]> = (0..=steps).map(time).collect();
        let times = self.numbers(&times, Type::Scalar);
        let (mut channels, mut samplers) = (Vec::new(), Vec::new());
        for (part, node) in scene.parts.iter().zip(nodes) {
            if part.carrier == crate::portrayal::Carrier::Ground {
                continue;
            }
            let poses = scene
                .swing
                .iter()
                .map(|body| part.pose(body, &scene.middle));
            let poses: Vec<_> = poses.collect();
            let places: Vec<[f32; 3]> = poses.iter().map(|pose| single(&pose.origin)).collect();
            let scales: Vec<[f32; 3]> = poses
                .iter()
                .map(|pose| [1.0, 1.0, pose.stretch as f32])
                .collect();
            let mut turns: Vec<[f32; 4]> = Vec::new();
            for pose in &poses {
                let next = quaternion(&pose.turn);
                // q and −q are one rotation: what lies between two frames takes the short way.
                let along = turns.last().map_or(1.0, |last| {
                    last.iter().zip(next).map(|(a, b)| a * b).sum::<f32>()
                });
                turns.push(if along < 0.0 { next.map(|x| -x) } else { next });
            }
            let outputs = [
                (Property::Translation, self.numbers(&places, Type::Vec3)),
                (Property::Rotation, self.numbers(&turns, Type::Vec4)),
                (Property::Scale, self.numbers(&scales, Type::Vec3)),
            ];
            for (path, output) in outputs {
                let sampler = Index::push(
                    &mut samplers,
                    Sampler {
                        extensions: None,
                        extras: Default::default(),
                        input: times,
                        interpolation: Valid(Interpolation::Linear),
                        output,
                    },
                );
                channels.push(Channel {
                    sampler,
                    target: Target {
                        extensions: None,
                        extras: Default::default(),
                        node: *node,
                        path: Valid(path),
                    },
                    extensions: None,
                    extras: Default::default(),
                });
            }
        }
        self.root.push(Animation {
            extensions: None,
            extras: Default::default(),
            channels,
            name: Some("free motion".into()),
            samplers,
        });
    }

    /// An accessor of vectors of single precision.
    fn numbers<const N: usize>(&mut self, values: &[[f32; N]], of: Type) -> Index<json::Accessor> {
        let begin = self.bytes.len();
        self.bytes.extend(
            values
                .iter()
                .flatten()
                .flat_map(|value| value.to_le_bytes()),
        );
        let view = self.root.push(json::buffer::View {
            buffer: Index::new(0),
            byte_length: USize64::from(self.bytes.len() - begin),
            byte_offset: Some(USize64::from(begin)),
            byte_stride: None,
            extensions: None,
            extras: Default::default(),
            name: None,
            target: None,
        });
        let end = |keep: fn(f32, f32) -> f32| {
            let component = |k: usize| values.iter().map(|value| value[k]).reduce(keep);
            let ends: Vec<Option<f32>> = (0..N).map(component).collect();
            Some(ends.into())
        };
        self.root.push(json::Accessor {
            buffer_view: Some(view),
            byte_offset: None,
            count: USize64::from(values.len()),
            component_type: Valid(GenericComponentType(ComponentType::F32)),
            extensions: None,
            extras: Default::default(),
            type_: Valid(of),
            min: end(f32::min),
            max: end(f32::max),
            name: None,
            normalized: false,
            sparse: None,
        })
    }

    /// The file: everything below a node that turns up into up.
    fn finished(
        mut self,
        scene: &ExchangedScene,
        nodes: Vec<Index<json::Node>>,
    ) -> Result<Vec<u8>, gltf::Error> {
        let quarter = std::f32::consts::FRAC_1_SQRT_2;
        let middle = scene.middle.coords;
        let up = self.root.push(json::Node {
            children: Some(nodes),
            name: Some(match scene.title.trim() {
                "" => "scene".into(),
                title => title.to_owned(),
            }),
            // The scene's (x, y, z) is glTF's (x, z, −y).
            translation: Some(single(&Vector3::new(middle.x, middle.z, -middle.y))),
            rotation: Some(json::scene::UnitQuaternion([-quarter, 0.0, 0.0, quarter])),
            ..Default::default()
        });
        let shown = self.root.push(json::Scene {
            extensions: None,
            extras: Default::default(),
            name: None,
            nodes: vec![up],
        });
        self.root.scene = Some(shown);
        self.root.asset.generator = Some("Sixhold".into());
        self.root.push(json::Buffer {
            byte_length: USize64::from(self.bytes.len()),
            extensions: None,
            extras: Default::default(),
            name: None,
            uri: None,
        });
        let text = json::serialize::to_vec(&self.root)?;
        let file = Glb {
            header: Header {
                magic: *b"glTF",
                version: 2,
                // Counted again as it is written.
                length: 0,
            },
            json: Cow::Owned(text),
            bin: Some(Cow::Owned(self.bytes)),
        };
        file.to_vec()
    }
}

fn single(vector: &Vector3<f64>) -> [f32; 3] {
    [vector.x, vector.y, vector.z].map(|x| x as f32)
}

fn quaternion(turn: &UnitQuaternion<f64>) -> [f32; 4] {
    [turn.i, turn.j, turn.k, turn.w].map(|x| x as f32)
}
