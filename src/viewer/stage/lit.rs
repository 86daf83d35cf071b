//! Solid things under a real lamp: lit materials, soft shadows, ambient occlusion and smooth edges, for graphics cards.
//!
//! The palette keeps its meaning: a surface that faces upwards, out of every shadow, has its own colour. So the exposure is 1,
//! nothing maps tones, and the lamp and the room together make 1 on the floor.

use std::f32::consts::PI;

use bevy::camera::Exposure;
use bevy::light::{CascadeShadowConfig, CascadeShadowConfigBuilder, DirectionalLightShadowMap};
use bevy::pbr::{ScreenSpaceAmbientOcclusion, ScreenSpaceAmbientOcclusionQualityLevel};
use bevy::prelude::*;

use super::paint::{ROOM, towards_lamp};
use crate::viewer::state::{Look, Shading};

/// Materials of what the renderer lights; colours are in the meshes.
#[derive(Resource)]
pub(crate) struct LitMaterials {
    /// Body and hardware.
    pub solid: Handle<StandardMaterial>,
    /// The floor, which fades at its rim.
    pub floor: Handle<StandardMaterial>,
}

/// The lamp.
#[derive(Component)]
pub(crate) struct Lamp;

/// How rough solid things are: cast and painted, with a broad soft highlight.
const ROUGHNESS: f32 = 0.62;
/// How much they reflect, as bevy counts it.
const REFLECTANCE: f32 = 0.28;
/// Pixels to a side of the shadow map: few enough that the filter makes soft edges.
const SHADOW_MAP: usize = 1024;
/// Share of a rough grey surface's colour that bevy's ambient light of brightness 1 gives (`EnvBRDFApprox` at roughness 1).
const AMBIENT: f32 = 0.4524;
/// Behind everything that shines through, in the order of drawing.
const BEHIND: f32 = -1000.0;

/// Mixes the materials and hangs the lamp, where they are wanted.
pub(crate) fn set_up(
    mut commands: Commands,
    look: Option<Res<Look>>,
    materials: Option<ResMut<Assets<StandardMaterial>>>,
) {
    let (Some(look), Some(mut materials)) = (look, materials) else {
        return;
    };
    if look.shading == Shading::Plain {
        return;
    }
    commands.insert_resource(LitMaterials {
        solid: materials.add(StandardMaterial {
            perceptual_roughness: ROUGHNESS,
            reflectance: REFLECTANCE,
            ..default()
        }),
        floor: materials.add(StandardMaterial {
            perceptual_roughness: 1.0,
            reflectance: 0.0,
            alpha_mode: AlphaMode::Blend,
            depth_bias: BEHIND,
            ..default()
        }),
    });
    commands.insert_resource(DirectionalLightShadowMap { size: SHADOW_MAP });
    commands.insert_resource(GlobalAmbientLight {
        brightness: ROOM / AMBIENT,
        ..default()
    });
    // Where the shading of plain pictures has it; what faces up shows its own colour.
    let towards = towards_lamp(Vec3::Y, Vec3::Z);
    commands.spawn((
        Lamp,
        DirectionalLight {
            shadow_maps_enabled: true,
            illuminance: PI * (1.0 - ROOM) / towards.y,
            ..default()
        },
        Transform::default().looking_to(-towards, Vec3::Y),
    ));
}

/// A camera that looks at lit things and has moved.
type MovedLitCamera = (With<ScreenSpaceAmbientOcclusion>, Changed<Transform>);

/// Shadows reach as far as the scene does from the camera.
pub(crate) fn reach_of_shadows(
    camera: Option<Single<&Transform, MovedLitCamera>>,
    lamp: Option<Single<&mut CascadeShadowConfig, With<Lamp>>>,
) {
    /// Farther from its middle than this no scene casts shadows, in units of the stage.
    const REACH: f32 = 2.5;
    const NEAREST: f32 = 0.05;
    let (Some(camera), Some(mut shadows)) = (camera, lamp) else {
        return;
    };
    let distance = camera.translation.length();
    **shadows = CascadeShadowConfigBuilder {
        num_cascades: 1,
        minimum_distance: (distance - REACH).max(NEAREST),
        maximum_distance: distance + REACH,
        ..default()
    }
    .into();
}

/// What a camera needs for lit things.
pub(crate) fn lit_camera() -> impl Bundle {
    (
        Exposure {
            // An exposure of 1: EV100 = log2(1 / 1.2).
            ev100: -(1.2_f32.log2()),
        },
        ScreenSpaceAmbientOcclusion {
            quality_level: ScreenSpaceAmbientOcclusionQualityLevel::High,
            constant_object_thickness: 0.1,
        },
        // Ambient occlusion excludes several samples for each pixel.
        Msaa::Off,
        smooth_edges(),
    )
}

#[cfg(feature = "viewer")]
fn smooth_edges() -> impl Bundle {
    use bevy::anti_alias::smaa::{Smaa, SmaaPreset};
    Smaa {
        preset: SmaaPreset::High,
    }
}

/// In a browser nothing is lit: it has no ambient occlusion.
#[cfg(not(feature = "viewer"))]
fn smooth_edges() -> impl Bundle {}
