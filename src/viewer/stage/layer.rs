//! Layers of the picture: each is drawn on its own root and drawn anew only when something that it depends on changes.

use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

use super::Materials;
use super::crossing::StageFrame;
use super::hardware::Rod;
use super::lit::LitMaterials;
use super::mesh_builder::MeshBuilder;
use super::paint::Palette;
use super::pose::{Anchor, Follows, RidingLabel};
use super::strokes::{Arrows, MiddleLines, StrokeGroup};
use crate::scene::Space;
use crate::viewer::state::{Label, Look};

/// What is drawn together.
#[derive(Component, Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StageLayer {
    /// The body, the supports' hardware and their names.
    Solids,
    /// The floor below everything, and the body's shadow on it.
    Floor,
    /// Reactions.
    Reactions,
    /// Loads.
    Loads,
    /// The axis, the paths and the ghosts of the motion shown.
    Motion,
    /// The link on trial.
    Trial,
    /// What is pointed out.
    PointedOut,
}

impl StageLayer {
    pub(crate) const ALL: [Self; 7] = [
        Self::Solids,
        Self::Floor,
        Self::Reactions,
        Self::Loads,
        Self::Motion,
        Self::Trial,
        Self::PointedOut,
    ];
}

/// Outermost points of a layer, in stage coordinates.
#[derive(Component, Debug, Clone, Default)]
pub(crate) struct Extent {
    /// Of what stays.
    pub still: Vec<Vec3>,
    /// Of what goes along with the body.
    pub moving: Vec<Vec3>,
}

/// Where layers are drawn.
#[derive(SystemParam)]
pub(crate) struct LayerCanvas<'w, 's> {
    commands: Commands<'w, 's>,
    meshes: ResMut<'w, Assets<Mesh>>,
    materials: Res<'w, Materials>,
    lit: Option<Res<'w, LitMaterials>>,
    pub frame: Res<'w, StageFrame>,
    look: Res<'w, Look>,
    layers: Query<'w, 's, (Entity, &'static StageLayer, &'static mut Extent)>,
}

impl<'w, 's> LayerCanvas<'w, 's> {
    /// Wipes a layer, to be drawn anew.
    pub(crate) fn wipe(&mut self, wiped: StageLayer) -> LayerPainter<'_, 'w, 's> {
        let mut layers = self.layers.iter_mut();
        let (root, _, mut extent) = layers
            .find(|(_, layer, _)| **layer == wiped)
            .expect("every layer has been spawned at the start");
        *extent = Extent::default();
        self.commands
            .entity(root)
            .despawn_related::<Children>()
            .insert(Transform::from_rotation(self.frame.turn()));
        LayerPainter {
            commands: &mut self.commands,
            meshes: &mut self.meshes,
            materials: &self.materials,
            lit: self.lit.as_deref(),
            frame: &self.frame,
            edge: Palette::named(self.look.theme).background,
            extent: extent.into_inner(),
            root,
        }
    }

    /// Whether any of these layers has been drawn anew since the system ran last.
    pub(crate) fn is_changed(&mut self, asked: &[StageLayer]) -> bool {
        let mut layers = self.layers.iter_mut();
        layers.any(|(_, layer, extent)| asked.contains(layer) && extent.is_changed())
    }

    /// Outermost points of layers, of what stays and of what moves alike.
    pub(crate) fn extent_of(&self, wanted: &[StageLayer]) -> Vec<Vec3> {
        let layers = self.layers.iter();
        let layers = layers.filter(|(_, layer, _)| wanted.contains(layer));
        let points = layers.flat_map(|(_, _, extent)| extent.still.iter().chain(&extent.moving));
        points.copied().collect()
    }
}

/// Hands drafts of one layer to the renderer.
pub(crate) struct LayerPainter<'a, 'w, 's> {
    commands: &'a mut Commands<'w, 's>,
    meshes: &'a mut Assets<Mesh>,
    materials: &'a Materials,
    /// Where the renderer lights solid things.
    lit: Option<&'a LitMaterials>,
    pub frame: &'a StageFrame,
    pub extent: &'a mut Extent,
    /// Colour of outlines: whatever lies over anything else is cut out of it.
    edge: LinearRgba,
    root: Entity,
}

/// Width of outlines, in units of the stage.
const OUTLINE: f32 = 0.0042;

impl LayerPainter<'_, '_, '_> {
    fn mesh<M: Material>(
        &mut self,
        draft: MeshBuilder,
        material: &Handle<M>,
    ) -> impl Bundle + use<M> {
        (
            Mesh3d(self.meshes.add(draft.into_mesh())),
            MeshMaterial3d(material.clone()),
            Transform::default(),
        )
    }

    fn spawn<M: Material>(
        &mut self,
        draft: MeshBuilder,
        material: &Handle<M>,
        follows: Option<Follows>,
    ) {
        if draft.is_empty() {
            return;
        }
        let mesh = self.mesh(draft, material);
        let mut entity = self.commands.spawn((mesh, ChildOf(self.root)));
        if let Some(follows) = follows {
            entity.insert(follows);
        }
    }

    /// Something solid, which follows what it is told to.
    pub(crate) fn solid(&mut self, draft: MeshBuilder, follows: Option<Follows>) {
        let plain = self.materials;
        match self.lit {
            Some(lit) => self.spawn(draft, &lit.solid, follows),
            None => self.spawn(draft, &plain.opaque, follows),
        }
    }

    /// The floor, which shadows fall on where it is lit.
    pub(crate) fn floor(&mut self, draft: MeshBuilder) {
        let plain = self.materials;
        match self.lit {
            Some(lit) => self.spawn(draft, &lit.floor, None),
            None => self.spawn(draft, &plain.opaque, None),
        }
    }

    /// Whether the renderer lights solid things and casts their shadows.
    pub(crate) fn is_lit(&self) -> bool {
        self.lit.is_some()
    }

    /// Hardware with an outline, which follows what it is told to.
    pub(crate) fn outlined(&mut self, draft: MeshBuilder, follows: Option<Follows>) {
        self.outline(&draft, follows);
        self.solid(draft, follows);
    }

    /// The outline of something.
    pub(crate) fn outline(&mut self, draft: &MeshBuilder, follows: Option<Follows>) {
        let outline = draft.outline(self.edge, OUTLINE);
        let plain = self.materials;
        self.spawn(outline, &plain.opaque, follows);
    }

    /// A rod, drawn along z with length 1.
    pub(crate) fn rod(&mut self, draft: MeshBuilder, rod: Rod) {
        self.outlined(draft, Some(Follows::Eye(rod)));
    }

    /// The body pressed flat onto the floor: a shadow that moves with it.
    pub(crate) fn shadow(&mut self, draft: MeshBuilder, floor: f32) {
        const LIFT: f32 = 0.003;
        const FLAT: f32 = 1e-4;
        let place = Transform {
            translation: Vec3::Z * (floor + LIFT),
            scale: Vec3::new(1.0, 1.0, FLAT),
            ..default()
        };
        let opaque = self.materials.opaque.clone();
        let mesh = self.mesh(draft, &opaque);
        let flat = (place, Visibility::default(), ChildOf(self.root));
        let flat = self.commands.spawn(flat).id();
        self.commands.spawn((mesh, Follows::Body, ChildOf(flat)));
    }

    /// The body as a ghost at ends of its swing.
    pub(crate) fn ghosts(&mut self, draft: MeshBuilder, ends: &[f64]) {
        if draft.is_empty() {
            return;
        }
        let handle = self.meshes.add(draft.into_mesh());
        for end in ends.iter().filter(|end| **end != 0.0) {
            self.commands.spawn((
                Mesh3d(handle.clone()),
                MeshMaterial3d(self.materials.ghost.clone()),
                Transform::default(),
                Follows::End(*end),
                ChildOf(self.root),
            ));
        }
    }

    /// A name that belongs to no stroke.
    pub(crate) fn label(&mut self, label: Label) {
        self.extent.still.push(self.frame.point(&label.at));
        self.commands
            .spawn((label, Visibility::default(), ChildOf(self.root)));
    }

    /// Strokes with their labels; each part is marked with `mark`.
    ///
    /// In space they are drawn as they are, with an outline, and once more through what hides them; in the plane over
    /// everything.
    pub(crate) fn strokes(&mut self, group: StrokeGroup, mark: impl Bundle + Clone) {
        let points = extremes(group.draft.positions());
        let labelled = group.labels.iter().map(|label| self.frame.point(&label.at));
        let kept = match group.anchor {
            Some(_) => &mut self.extent.moving,
            None => &mut self.extent.still,
        };
        kept.extend(points.into_iter().chain(labelled));
        let ground = group.ground;
        let anchor = group.anchor.map(|point| Anchor { point, ground });
        for label in group.labels {
            let at = label.at;
            let label = (label, Visibility::default(), ChildOf(self.root));
            let mut entity = self.commands.spawn((label, mark.clone()));
            if let Some(anchor) = anchor {
                entity.insert(RidingLabel { anchor, at });
            }
        }
        if group.draft.is_empty() {
            return;
        }
        let arrows = Arrows(group.arrows);
        let spines = MiddleLines(group.draft.spines().to_vec());
        let outline = group.draft.outline(self.edge, OUTLINE);
        let outline = self.meshes.add(outline.into_mesh());
        let strokes = self.meshes.add(group.draft.into_mesh());
        let materials = self.materials;
        let drawn = match self.frame.space() {
            Space::Spatial => vec![
                (outline, &materials.opaque),
                (strokes.clone(), &materials.opaque),
                (strokes, &materials.through),
            ],
            Space::Planar => vec![
                (outline, &materials.outline_over),
                (strokes, &materials.over),
            ],
        };
        for (index, (mesh, material)) in drawn.into_iter().enumerate() {
            let mesh = (Mesh3d(mesh), MeshMaterial3d(material.clone()));
            let place = (Transform::default(), ChildOf(self.root));
            let mut entity = self.commands.spawn((mesh, place, mark.clone()));
            if index == 0 {
                entity.insert((spines.clone(), arrows.clone()));
            }
            if let Some(anchor) = anchor {
                entity.insert(Follows::Point(anchor));
            }
        }
    }
}

/// The outermost points in many directions: enough to fit and measure by.
pub(crate) fn extremes(points: &[Vec3]) -> Vec<Vec3> {
    let steps = [-1.0, 0.0, 1.0];
    let directions = steps.iter().flat_map(|x| {
        steps
            .iter()
            .flat_map(move |y| steps.map(move |z| Vec3::new(*x, *y, z)))
    });
    directions
        .filter_map(|direction| {
            points
                .iter()
                .max_by(|a, b| a.dot(direction).total_cmp(&b.dot(direction)))
                .copied()
        })
        .collect()
}
