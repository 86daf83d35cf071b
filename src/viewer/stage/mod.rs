//! Everything three-dimensional: the body, the supports' hardware, strokes for what cannot be seen, and its movement.
//!
//! Drawn once in stage coordinates when [`Shown`] or [`Look`] change; after that only transforms follow [`Playback`].
//! Light is baked into the colours, so one unlit material draws every solid thing and palette colours stay exact.

mod arrows;
mod axis;
mod body;
mod composition;
mod crossing;
mod draft;
mod floor;
mod hardware;
mod loads;
mod paint;
mod pose;
mod strokes;
mod sweep;
mod swing;

use bevy::prelude::*;

pub use crossing::{BodyPose, StageFrame};
pub use pose::DefaultSwing;
pub use swing::default_swing;

use super::framing::Bounds;
use super::state::{Look, Playback, Shown, ViewerSystems};
use composition::Composition;
use draft::Draft;
use paint::Light;
use pose::{Follows, RidingLabel};
use strokes::Group;

/// Draws [`Shown`] and moves it; needs `Shown`, `Look` and `Playback` to be there before anything appears.
pub struct StagePlugin;

impl Plugin for StagePlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<BodyPose>()
            .init_resource::<Bounds>()
            .init_resource::<DefaultSwing>()
            .add_systems(Startup, mix_materials)
            .add_systems(
                Update,
                (
                    rebuild.run_if(needs_rebuild),
                    (pose::pose_body, pose::move_labels)
                        .chain()
                        .run_if(resource_exists::<StageFrame>.and_then(resource_exists::<Shown>)),
                )
                    .chain()
                    .in_set(ViewerSystems::Stage),
            );
    }
}

/// The root of everything that was drawn, turned from the scene's axes into the world's.
#[derive(Component)]
struct StageRoot;

/// The few materials that everything shares; colours are in the meshes.
#[derive(Resource)]
struct Materials {
    opaque: Handle<StandardMaterial>,
    ghost: Handle<StandardMaterial>,
    /// Strokes where something solid hides them.
    through: Handle<StandardMaterial>,
}

/// Brightness of a stroke seen through solid things.
const THROUGH: f32 = 0.5;

/// Bias in units of the last place of a depth: enough to pass in front of everything.
const IN_FRONT: f32 = 2e7;

fn mix_materials(mut commands: Commands, mut materials: ResMut<Assets<StandardMaterial>>) {
    let plain = StandardMaterial {
        unlit: true,
        fog_enabled: false,
        ..default()
    };
    let blended = StandardMaterial {
        alpha_mode: AlphaMode::Blend,
        ..plain.clone()
    };
    commands.insert_resource(Materials {
        opaque: materials.add(plain),
        ghost: materials.add(blended.clone()),
        through: materials.add(StandardMaterial {
            base_color: Color::WHITE.with_alpha(THROUGH),
            depth_bias: IN_FRONT,
            ..blended
        }),
    });
}

/// Whether what is drawn is out of date. Of the playback only the amplitude is drawn.
fn needs_rebuild(
    shown: Option<Res<Shown>>,
    look: Option<Res<Look>>,
    playback: Option<Res<Playback>>,
    materials: Option<Res<Materials>>,
    mut amplitude: Local<f32>,
) -> bool {
    let (Some(shown), Some(look), Some(playback), Some(_)) = (shown, look, playback, materials)
    else {
        return false;
    };
    let wider = playback.amplitude != *amplitude;
    *amplitude = playback.amplitude;
    shown.is_changed() || look.is_changed() || wider
}

fn rebuild(
    mut commands: Commands,
    (shown, look, playback, materials): (Res<Shown>, Res<Look>, Res<Playback>, Res<Materials>),
    mut meshes: ResMut<Assets<Mesh>>,
    old: Query<Entity, With<StageRoot>>,
) {
    for root in &old {
        commands.entity(root).despawn();
    }
    let composition = Composition::new(&shown, &look, f64::from(playback.amplitude));
    commands.insert_resource(composition.frame);
    commands.insert_resource(composition.bounds.clone());
    commands.insert_resource(DefaultSwing(composition.swing));
    let root = commands
        .spawn((
            StageRoot,
            Transform::from_rotation(composition.frame.turn()),
            Visibility::default(),
        ))
        .id();
    let mut stage = Builder {
        commands: &mut commands,
        meshes: &mut meshes,
        materials: &materials,
        root,
    };
    stage.solids(&composition);
    stage.ghosts(&composition);
    for group in composition.groups {
        stage.strokes(group);
    }
    for label in composition.labels {
        stage.commands.spawn((label, ChildOf(root)));
    }
}

/// Hands drafts to the renderer.
struct Builder<'a, 'w, 's> {
    commands: &'a mut Commands<'w, 's>,
    meshes: &'a mut Assets<Mesh>,
    materials: &'a Materials,
    root: Entity,
}

impl Builder<'_, '_, '_> {
    fn mesh(&mut self, draft: Draft, material: &Handle<StandardMaterial>) -> impl Bundle {
        (
            Mesh3d(self.meshes.add(draft.into_mesh())),
            MeshMaterial3d(material.clone()),
            Transform::default(),
        )
    }

    fn solids(&mut self, composition: &Composition) {
        let opaque = self.materials.opaque.clone();
        let parts = [(&composition.still, false), (&composition.moving, true)];
        for (draft, moves) in parts.into_iter().filter(|(draft, _)| !draft.is_empty()) {
            let mesh = self.mesh(draft.clone(), &opaque);
            let mut entity = self.commands.spawn((mesh, ChildOf(self.root)));
            if moves {
                entity.insert(Follows::Body);
            }
        }
        self.shadow(composition);
        let light = Light::from_above(composition.frame.up(), composition.frame.front());
        for rod in &composition.rods {
            let turn = rod.follow(rod.eye).rotation;
            let mut draft = Draft::new(light.before(turn));
            draft.paint(composition.rod_paint);
            rod.draw(&mut draft);
            let mesh = self.mesh(draft, &opaque);
            self.commands
                .spawn((mesh, Follows::Eye(*rod), ChildOf(self.root)));
        }
    }

    /// The body pressed flat onto the floor: a shadow that moves with it.
    fn shadow(&mut self, composition: &Composition) {
        const LIFT: f32 = 0.003;
        const FLAT: f32 = 1e-4;
        if composition.shadow.is_empty() {
            return;
        }
        let floor = Transform {
            translation: Vec3::Z * (composition.floor + LIFT),
            scale: Vec3::new(1.0, 1.0, FLAT),
            ..default()
        };
        let opaque = self.materials.opaque.clone();
        let mesh = self.mesh(composition.shadow.clone(), &opaque);
        let flat = self
            .commands
            .spawn((floor, Visibility::default(), ChildOf(self.root)))
            .id();
        self.commands.spawn((mesh, Follows::Body, ChildOf(flat)));
    }

    fn ghosts(&mut self, composition: &Composition) {
        if composition.ghost.is_empty() {
            return;
        }
        let handle = self.meshes.add(composition.ghost.clone().into_mesh());
        for end in [-1.0, 1.0] {
            self.commands.spawn((
                Mesh3d(handle.clone()),
                MeshMaterial3d(self.materials.ghost.clone()),
                Transform::default(),
                Follows::End(end),
                ChildOf(self.root),
            ));
        }
    }

    /// Strokes are drawn twice: as they are, and faintly through what hides them.
    fn strokes(&mut self, group: Group) {
        let Group {
            draft,
            anchor,
            labels,
            ..
        } = group;
        for label in labels {
            let at = label.at;
            let mut entity = self.commands.spawn((label, ChildOf(self.root)));
            if let Some(anchor) = anchor {
                entity.insert(RidingLabel { anchor, at });
            }
        }
        if draft.is_empty() {
            return;
        }
        let handle = self.meshes.add(draft.into_mesh());
        for material in [&self.materials.opaque, &self.materials.through] {
            let mut entity = self.commands.spawn((
                Mesh3d(handle.clone()),
                MeshMaterial3d(material.clone()),
                Transform::default(),
                ChildOf(self.root),
            ));
            if let Some(anchor) = anchor {
                entity.insert(Follows::Point(anchor));
            }
        }
    }
}
