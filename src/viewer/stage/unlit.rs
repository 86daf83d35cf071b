//! The material of all meshes: the colours of their corners and nothing else, since light is baked into them.
//!
//! A shader of one line: on a processor that draws, bevy's own material costs many times as much even when unlit.

use bevy::asset::embedded_asset;
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::pbr::{MaterialPipeline, MaterialPipelineKey};
use bevy::prelude::*;
use bevy::render::render_resource::{
    AsBindGroup, Face, RenderPipelineDescriptor, ShaderType, SpecializedMeshPipelineError,
};
use bevy::shader::ShaderRef;

/// Makes [`UnlitMaterial`] known to the renderer.
pub(crate) struct UnlitMaterialPlugin;

impl Plugin for UnlitMaterialPlugin {
    fn build(&self, app: &mut App) {
        embedded_asset!(app, "unlit.wgsl");
        app.add_plugins(MaterialPlugin::<UnlitMaterial>::default());
    }
}

/// Colours of the corners, with their opacity scaled.
#[derive(Asset, TypePath, AsBindGroup, Debug, Clone, PartialEq)]
#[bind_group_data(DepthBias)]
#[uniform(0, ColourScale)]
pub(crate) struct UnlitMaterial {
    /// Multiplies the opacity of every corner, 0 to 1.
    pub opacity: f32,
    /// Whether what lies behind shines through.
    pub blends: bool,
    /// Bias of the depth, in units of its last place: positive passes in front.
    pub depth_bias: i32,
}

/// What the shader multiplies the colours of corners by: as long as WebGL 2 wants what a shader is given.
#[derive(Debug, Clone, ShaderType)]
struct ColourScale {
    scale: Vec4,
}

impl From<&UnlitMaterial> for ColourScale {
    fn from(material: &UnlitMaterial) -> Self {
        Self {
            scale: Vec3::ONE.extend(material.opacity),
        }
    }
}

/// What pipelines differ by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct DepthBias(i32);

impl From<&UnlitMaterial> for DepthBias {
    fn from(material: &UnlitMaterial) -> Self {
        Self(material.depth_bias)
    }
}

impl UnlitMaterial {
    /// Hides what lies behind it.
    pub(crate) const SOLID: Self = Self {
        opacity: 1.0,
        blends: false,
        depth_bias: 0,
    };
}

impl Material for UnlitMaterial {
    fn fragment_shader() -> ShaderRef {
        "embedded://sixhold/viewer/stage/unlit.wgsl".into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        match self.blends {
            true => AlphaMode::Blend,
            false => AlphaMode::Opaque,
        }
    }

    fn depth_bias(&self) -> f32 {
        self.depth_bias as f32
    }

    fn specialize(
        _: &MaterialPipeline,
        descriptor: &mut RenderPipelineDescriptor,
        _: &MeshVertexBufferLayoutRef,
        key: MaterialPipelineKey<Self>,
    ) -> Result<(), SpecializedMeshPipelineError> {
        // From below, the floor is no lid.
        descriptor.primitive.cull_mode = Some(Face::Back);
        if let Some(depth) = &mut descriptor.depth_stencil {
            depth.bias.constant = key.bind_group_data.0;
        }
        Ok(())
    }

    fn enable_prepass() -> bool {
        false
    }

    fn enable_shadows() -> bool {
        false
    }
}
