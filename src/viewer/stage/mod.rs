//! Everything three-dimensional: the body, the supports' hardware, strokes for what cannot be seen, and its movement.
//!
//! Drawn in layers in stage coordinates. A layer is drawn anew when a resource that it depends on changes; after that only
//! transforms follow [`Playback`]. In plain shading, light is baked into the colours, so one
//! unlit material draws every solid thing and palette colours stay exact.

mod arrows;
mod axis;
mod body;
mod crossing;
mod drawn_over;
mod floor;
mod hardware;
mod layer;
mod lit;
mod loads;
mod mesh_builder;
mod motion;
mod paint;
mod point_path;
mod pointed;
mod pose;
mod setting;
mod solids;
mod strokes;
mod unlit;
mod views;

use bevy::prelude::*;

pub(crate) use arrows::ArrowSpots;
pub use crossing::{BodyPose, StageFrame};
pub(crate) use lit::lit_camera;
pub use setting::Swing;
pub use strokes::{ArrowLine, Arrows, MiddleLines};

use super::framing::ViewBounds;
use super::shown::ShownStudy;
use super::state::{Look, Playback, ViewerSystems};
use drawn_over::hide_pointed;
use layer::{Extent, StageLayer};
use setting::StageBody;
use unlit::{UnlitMaterial, UnlitMaterialPlugin};

/// Draws the scene shown and moves it; needs it, `Look` and `Playback` to be there before anything appears.
pub struct StagePlugin;

impl Plugin for StagePlugin {
    fn build(&self, app: &mut App) {
        app.add_plugins(UnlitMaterialPlugin)
            .init_resource::<BodyPose>()
            .init_resource::<ViewBounds>()
            .init_resource::<StageBody>()
            .init_resource::<Swing>()
            .init_resource::<ArrowSpots>()
            .init_resource::<views::FoundViews>()
            .add_systems(Startup, (mix_materials, lit::set_up, spawn_layers))
            .add_systems(Update, lit::reach_of_shadows.after(ViewerSystems::Stage))
            .add_systems(
                Update,
                (
                    (setting::set_stage, setting::set_swing, views::find_views).chain(),
                    (
                        solids::draw_solids,
                        arrows::draw_reactions,
                        loads::draw_loads,
                        solids::draw_floor,
                        motion::draw_motion,
                        pointed::draw_trial,
                        pointed::draw_pointed,
                    )
                        .chain(),
                    (
                        hide_pointed::<arrows::OfReaction>,
                        hide_pointed::<loads::OfLoad>,
                        solids::fit,
                    ),
                    (
                        pose::pose_body,
                        pose::move_labels,
                        pose::hide_covered_ghosts,
                    )
                        .chain(),
                )
                    .chain()
                    .run_if(everything_is_there)
                    .in_set(ViewerSystems::Stage),
            );
    }
}

fn everything_is_there(
    studied: Option<Res<ShownStudy>>,
    look: Option<Res<Look>>,
    playback: Option<Res<Playback>>,
    materials: Option<Res<Materials>>,
) -> bool {
    studied.is_some() && look.is_some() && playback.is_some() && materials.is_some()
}

fn spawn_layers(mut commands: Commands) {
    for layer in StageLayer::ALL {
        commands.spawn((
            layer,
            Extent::default(),
            Transform::default(),
            Visibility::default(),
        ));
    }
}

/// The few materials that everything shares; colours are in the meshes.
#[derive(Resource)]
struct Materials {
    opaque: Handle<UnlitMaterial>,
    ghost: Handle<UnlitMaterial>,
    /// Strokes where something solid hides them, in space.
    through: Handle<UnlitMaterial>,
    /// Strokes over solid things, in the plane.
    over: Handle<UnlitMaterial>,
    /// Their outlines.
    outline_over: Handle<UnlitMaterial>,
}

/// Opacity of a stroke seen through solid things.
const THROUGH: f32 = 0.7;

/// Bias in units of the last place of a depth: enough to pass in front of everything.
const IN_FRONT: i32 = 20_000_000;

/// Bias that lets the body win where a ghost slid or turned along it: facets of a drum lie 0.002 of the stage apart.
const BEHIND: i32 = -8192;

fn mix_materials(mut commands: Commands, mut materials: ResMut<Assets<UnlitMaterial>>) {
    let blended = UnlitMaterial {
        blends: true,
        ..UnlitMaterial::SOLID
    };
    commands.insert_resource(Materials {
        opaque: materials.add(UnlitMaterial::SOLID),
        ghost: materials.add(UnlitMaterial {
            depth_bias: BEHIND,
            ..blended
        }),
        through: materials.add(UnlitMaterial {
            opacity: THROUGH,
            depth_bias: IN_FRONT,
            ..blended
        }),
        over: materials.add(UnlitMaterial {
            depth_bias: IN_FRONT,
            ..blended
        }),
        // Painted before what it is the outline of.
        outline_over: materials.add(UnlitMaterial {
            depth_bias: IN_FRONT / 2,
            ..blended
        }),
    });
}

#[cfg(test)]
mod tests {
    use super::pose::Follows;
    use super::*;
    use crate::scene;
    use crate::statics::CaseIndex;
    use crate::statics::MotionIndex;
    use crate::study::Study;
    use crate::theme::ThemeName;
    use crate::viewer::shown::testing::{change, shown};
    use crate::viewer::shown::{PointedOut, Selected, show};
    use crate::viewer::state::{Label, LabelRole, Pointed};

    const HANDRAIL: &str = r#"(
        format: 1,
        title: "rail",
        points: { "A": (0, 0, 0), "B": (2, 0, 0) },
        body: [BentBar(path: ["A", (0, 0, 1), (2, 0, 1), "B"], diameter: 0.05)],
        supports: [BallJoint(name: "A", at: "A"), Link(name: "B", at: "B", ground: (2, 0, -1))],
        loads: [Force(at: (1, 0, 1), force: (0, 0, -10))],
    )"#;

    fn app() -> App {
        let scene = scene::read_str("rail", HANDRAIL).unwrap().scene;
        let study = Study::new(scene).unwrap();
        let selected = Selected::of(&study, CaseIndex::FIRST, None);
        let mut app = App::new();
        show(app.world_mut(), study, selected);
        app.add_plugins((MinimalPlugins, AssetPlugin::default(), StagePlugin))
            .init_asset::<Mesh>()
            .insert_resource(Look {
                software: true,
                ..Look::new(ThemeName::Hall)
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
        // Floor, ground, moving body, its shadow, and the rod of the link; outlines of all hardware.
        assert_eq!((few[0], few[1]), (8, 2), "{all:?} {few:?}");
    }

    #[test]
    fn the_body_goes_where_the_motion_takes_it() {
        let mut app = app();
        app.world_mut().resource_mut::<Playback>().position = 1.0;
        app.update();
        let world = app.world_mut();
        let (shown, swing) = (shown(world), *world.resource::<Swing>());
        assert!(shown.study.mobilities().motions[MotionIndex::FIRST].is_real());
        let expected = shown.study.mobilities().motions[MotionIndex::FIRST].pose_at(swing.default);
        assert!(swing.default > 0.05);
        assert_eq!(world.resource::<BodyPose>().0, expected);
        let frame = *world.resource::<StageFrame>();
        let mut rods = world.query::<(&Follows, &Transform)>();
        let tips: Vec<Vec3> = rods
            .iter(world)
            .filter(|(follows, _)| matches!(follows, Follows::Eye(_)))
            .map(|(_, transform)| transform.transform_point(Vec3::Z))
            .collect();
        let eye = frame.point(&(expected * nalgebra::Point3::new(2.0, 0.0, 0.0)));
        // The rod and its outline.
        assert_eq!(tips.len(), 2);
        assert!(
            tips.iter().all(|tip| tip.distance(eye) < 1e-5),
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
        change(app.world_mut(), |shown| {
            shown.point_out(Some(Pointed::Reason))
        });
        let (reactions, nameless, shapes) = {
            let shown = shown(app.world());
            let shapes = shown.pointed_shapes();
            let nameless = shapes
                .iter()
                .filter(|shape| !pointed::is_named(&shown, shape));
            (
                shown.pointed_reactions().len(),
                nameless.count(),
                shapes.len(),
            )
        };
        assert!(reactions > 0 && shapes > 0);
        app.update();
        let after = counts(&mut app);
        let added = reactions + nameless;
        assert_eq!(after[1], before[1] + added, "each has one label");
        // The strokes, what is seen of them through solids, and their outline.
        assert_eq!(after[0], before[0] + 3 * (shapes + reactions));
        let world = app.world_mut();
        let mut labels = world.query::<&Label>();
        let numbered = labels.iter(world);
        let numbered = numbered.filter(|label| label.role == LabelRole::Group);
        assert_eq!(numbered.count(), reactions);
        let mut labels = world.query::<(&Label, &Visibility)>();
        let plain = labels.iter(world);
        let mut plain = plain.filter(|(label, _)| label.role == LabelRole::Reaction);
        assert!(plain.all(|(_, visibility)| *visibility == Visibility::Hidden));
    }

    #[test]
    fn pointing_draws_nothing_else_anew() {
        let mut app = app();
        let drawn = |app: &mut App| {
            let world = app.world_mut();
            let mut layers = world.query::<(&StageLayer, Option<&Children>)>();
            let others = layers
                .iter(world)
                .filter(|(layer, _)| **layer != StageLayer::PointedOut);
            let parts = others.flat_map(|(_, parts)| parts.map(|parts| parts.to_vec()));
            parts.flatten().collect::<Vec<Entity>>()
        };
        let before = drawn(&mut app);
        for pointed in [Some(Pointed::Reason), None] {
            app.world_mut().resource_mut::<PointedOut>().0 = pointed;
            app.update();
            assert_eq!(drawn(&mut app), before);
        }
    }
}
