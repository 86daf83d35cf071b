//! Everything three-dimensional: the body, the supports' hardware, strokes for what cannot be seen, and its movement.
//!
//! Drawn once in stage coordinates when [`Shown`] or [`Look`] change; after that only transforms follow [`Playback`].
//! Light is baked into the colours, so one plain coat draws every solid thing and palette colours stay exact.

mod arrows;
mod axis;
mod body;
mod coat;
mod composition;
mod crossing;
mod draft;
mod floor;
mod hardware;
mod loads;
mod object;
mod paint;
mod pose;
mod strokes;
mod sweep;
mod swing;

use bevy::prelude::*;

pub use crossing::{BodyPose, StageFrame};
pub use pose::DefaultSwing;
pub use strokes::Spines;

use super::framing::Bounds;
use super::state::{Look, Playback, Shown, ViewerSystems};
use crate::scene::Space;
use coat::{Coat, CoatPlugin};
use composition::Composition;
use draft::Draft;
use paint::Light;
use pose::{Anchor, Follows, RidingLabel};
use strokes::Group;

/// Draws [`Shown`] and moves it; needs `Shown`, `Look` and `Playback` to be there before anything appears.
pub struct StagePlugin;

impl Plugin for StagePlugin {
    fn build(&self, app: &mut App) {
        app.add_plugins(CoatPlugin)
            .init_resource::<BodyPose>()
            .init_resource::<Bounds>()
            .init_resource::<DefaultSwing>()
            .add_systems(Startup, mix_materials)
            .add_systems(
                Update,
                (
                    rebuild.run_if(needs_rebuild),
                    (
                        pose::pose_body,
                        pose::move_labels,
                        pose::hide_covered_ghosts,
                    )
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
    opaque: Handle<Coat>,
    ghost: Handle<Coat>,
    /// Strokes where something solid hides them, in space.
    through: Handle<Coat>,
    /// Strokes over solid things, in the plane.
    over: Handle<Coat>,
}

/// Opacity of a stroke seen through solid things.
const THROUGH: f32 = 0.6;

/// Bias in units of the last place of a depth: enough to pass in front of everything.
const IN_FRONT: i32 = 20_000_000;

/// Bias that lets the body win where a ghost slid or turned along it: facets of a drum lie 0.002 of the stage apart.
const BEHIND: i32 = -8192;

fn mix_materials(mut commands: Commands, mut materials: ResMut<Assets<Coat>>) {
    let blended = Coat {
        blends: true,
        ..Coat::SOLID
    };
    commands.insert_resource(Materials {
        opaque: materials.add(Coat::SOLID),
        ghost: materials.add(Coat {
            depth_bias: BEHIND,
            ..blended
        }),
        through: materials.add(Coat {
            opacity: THROUGH,
            depth_bias: IN_FRONT,
            ..blended
        }),
        over: materials.add(Coat {
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
    let hidden = match shown.study.model().space {
        Space::Spatial => &materials.through,
        Space::Planar => &materials.over,
    };
    for group in composition.groups {
        stage.strokes(group, hidden);
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
    fn mesh(&mut self, draft: Draft, material: &Handle<Coat>) -> impl Bundle {
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
        for rider in &composition.riders {
            let anchor = Anchor {
                point: rider.point,
                ground: None,
            };
            let mesh = self.mesh(rider.draft.clone(), &opaque);
            self.commands
                .spawn((mesh, Follows::Point(anchor), ChildOf(self.root)));
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
        for end in composition.ends.into_iter().filter(|end| *end != 0.0) {
            self.commands.spawn((
                Mesh3d(handle.clone()),
                MeshMaterial3d(self.materials.ghost.clone()),
                Transform::default(),
                Follows::End(end),
                ChildOf(self.root),
            ));
        }
    }

    /// Strokes are drawn twice: as they are, and through what hides them.
    fn strokes(&mut self, group: Group, hidden: &Handle<Coat>) {
        let Group {
            draft,
            anchor,
            ground,
            labels,
            ..
        } = group;
        let anchor = anchor.map(|point| Anchor { point, ground });
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
        let spines = Spines(draft.spines().to_vec());
        let handle = self.meshes.add(draft.into_mesh());
        for material in [&self.materials.opaque, hidden] {
            let mut entity = self.commands.spawn((
                Mesh3d(handle.clone()),
                MeshMaterial3d(material.clone()),
                Transform::default(),
                ChildOf(self.root),
            ));
            if material == hidden {
                entity.insert(spines.clone());
            }
            if let Some(anchor) = anchor {
                entity.insert(Follows::Point(anchor));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene;
    use crate::study::Study;
    use crate::theme::ThemeName;
    use crate::viewer::state::Label;

    const HANDRAIL: &str = r#"(
        format: 1,
        title: "rail",
        points: { "A": (0, 0, 0), "B": (2, 0, 0) },
        body: [BentBar(path: ["A", (0, 0, 1), (2, 0, 1), "B"], diameter: 0.05)],
        supports: [BallJoint(name: "A", at: "A"), Link(name: "B", at: "B", ground: (2, 0, -1))],
        loads: [Force(at: (1, 0, 1), force: (0, 0, -10))],
    )"#;

    fn shown() -> Shown {
        let scene = scene::read_str("rail", HANDRAIL).unwrap().scene;
        Shown::new(Study::new(scene).unwrap())
    }

    fn app() -> App {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, AssetPlugin::default(), StagePlugin))
            .init_asset::<Mesh>()
            .insert_resource(shown())
            .insert_resource(Look {
                theme: ThemeName::Hall,
                software: true,
                reactions: true,
                loads: true,
                motion: true,
                reduced_motion: false,
            })
            .insert_resource(Playback {
                playing: false,
                position: 0.0,
                amplitude: 1.0,
                speed: 1.0,
            });
        app.update();
        app
    }

    fn counts(app: &mut App) -> [usize; 3] {
        let world = app.world_mut();
        let drawn = world.query::<&Mesh3d>().iter(world).count();
        let labels = world.query::<&Label>().iter(world).count();
        [drawn, labels, world.resource::<Assets<Mesh>>().len()]
    }

    #[test]
    fn rebuilding_leaves_nothing_behind() {
        let mut app = app();
        let first = counts(&mut app);
        assert!(first[0] > 8 && first[1] > 6, "{first:?}");
        for _ in 0..3 {
            app.world_mut().resource_mut::<Look>().theme = ThemeName::Daylight;
            app.update();
            // Handles of dropped meshes are collected an update later.
            app.update();
        }
        assert_eq!(counts(&mut app), first);
    }

    #[test]
    fn what_the_look_hides_is_not_drawn() {
        let mut app = app();
        let all = counts(&mut app);
        let mut look = app.world_mut().resource_mut::<Look>();
        (look.reactions, look.loads, look.motion) = (false, false, false);
        app.update();
        let few = counts(&mut app);
        // Floor and ground, moving body, its shadow, and the rod of the link.
        assert_eq!((few[0], few[1]), (4, 2), "{all:?} {few:?}");
    }

    #[test]
    fn the_body_goes_where_the_motion_takes_it() {
        let mut app = app();
        app.world_mut().resource_mut::<Playback>().position = 1.0;
        app.update();
        let world = app.world_mut();
        let (shown, swing) = (world.resource::<Shown>(), world.resource::<DefaultSwing>());
        assert!(shown.study.mobilities().motions[0].is_real());
        let expected = shown.study.mobilities().motions[0].pose_at(swing.0);
        assert!(swing.0 > 0.05);
        assert_eq!(world.resource::<BodyPose>().0, expected);
        let frame = *world.resource::<StageFrame>();
        let mut rods = world.query::<(&Follows, &Transform)>();
        let tips: Vec<Vec3> = rods
            .iter(world)
            .filter(|(follows, _)| matches!(follows, Follows::Eye(_)))
            .map(|(_, transform)| transform.transform_point(Vec3::Z))
            .collect();
        let eye = frame.point(&(expected * nalgebra::Point3::new(2.0, 0.0, 0.0)));
        assert!(
            tips.len() == 1 && tips[0].distance(eye) < 1e-5,
            "{tips:?} {eye}"
        );
        let ground = frame.point(&nalgebra::Point3::new(2.0, 0.0, -1.0));
        let length = frame.length(1.0);
        assert!((tips[0].distance(ground) - length).abs() < 1e-5 * length);
    }

    #[test]
    fn what_is_pointed_out_is_drawn_and_numbered() {
        let mut app = app();
        let before = counts(&mut app);
        let mut shown = app.world_mut().resource_mut::<Shown>();
        shown.pointed = Some(crate::viewer::state::Pointed::Reason);
        let reactions = shown.pointed_reactions().len();
        let shapes = shown.pointed_shapes();
        let nameless = shapes
            .iter()
            .filter(|shape| !object::is_named(&shown, shape));
        let (nameless, shapes) = (nameless.count(), shapes.len());
        assert!(reactions > 0 && shapes > 0);
        app.update();
        let after = counts(&mut app);
        assert_eq!(after[1], before[1] + nameless, "each object has one label");
        assert_eq!(after[0], before[0] + 2 * shapes);
        let world = app.world_mut();
        let mut labels = world.query::<&Label>();
        let numbered = labels.iter(world);
        let numbered =
            numbered.filter(|label| label.role == crate::viewer::state::LabelRole::Group);
        assert_eq!(numbered.count(), reactions);
    }
}
