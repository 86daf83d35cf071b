//! What is moved by hand on a page: the places of a scene on its figure, and the scene that comes of dragging one of them.

use nalgebra::Point3;
use serde::Serialize;

use super::trouble::PageTrouble;
use crate::draft::drag::{DragConstraint, PlaceDrag};
use crate::draft::{Handle, SceneItem, SightLine, SightRay, sentence, words};
use crate::figure::FigureMap;
use crate::scene::{self, Scene};

/// A place that can be dragged.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PageHandle {
    /// What is taken hold of by it: its place in the list.
    pub index: usize,
    /// The thing that it belongs to; places of one thing have the same.
    pub thing: String,
    /// What the thing is, in a sentence.
    pub sentence: String,
    /// Where it lies on the figure, points from the left and upper border.
    pub spot: [f64; 2],
}

/// What a drag has come to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PageMove {
    /// The text of the scene with the thing moved: nothing else of it is changed.
    pub text: String,
    /// What was done, to follow "undo".
    pub name: String,
}

/// A drag under way.
#[derive(Debug, Clone)]
pub struct PageDrag {
    scene: Scene,
    text: String,
    map: FigureMap,
    drag: PlaceDrag,
}

fn all(scene: &Scene) -> impl Iterator<Item = Handle> {
    let things = SceneItem::all(scene).into_iter();
    things.flat_map(|thing| Handle::of(thing, scene))
}

/// The place of this index in the list of [`handles`].
pub(super) fn place_of(scene: &Scene, index: usize) -> Option<Handle> {
    all(scene).nth(index)
}

/// The places of a scene as they lie on a figure.
pub(super) fn handles(scene: &Scene, map: &FigureMap) -> Vec<PageHandle> {
    let all = all(scene).enumerate();
    all.filter_map(|(index, handle)| {
        Some(PageHandle {
            index,
            thing: name(scene, handle.thing()),
            sentence: words(&sentence(scene, handle.thing())),
            spot: map.spot(&handle.point(scene)?),
        })
    })
    .collect()
}

fn name(scene: &Scene, thing: SceneItem) -> String {
    let kind = match thing {
        SceneItem::Support(_) => "support",
        SceneItem::Load(_) => "load",
        SceneItem::Shape(_) => "shape",
        SceneItem::Point(_) => "point",
    };
    format!("{kind} {}", thing.name(scene))
}

impl PageDrag {
    pub(super) fn begun(
        scene: &Scene,
        text: &str,
        map: FigureMap,
        index: usize,
    ) -> Result<Self, PageTrouble> {
        let handle = place_of(scene, index);
        let begun = handle.and_then(|handle| {
            let start = handle.point(scene)?;
            let drag = PlaceDrag::begun(scene, handle, DragConstraint::Any, start);
            Some(Self {
                scene: scene.clone(),
                text: text.to_owned(),
                map,
                drag,
            })
        });
        begun.ok_or_else(|| PageTrouble::said("there is nothing to take hold of"))
    }

    /// The scene with the place drawn to a spot of the figure, of which a pixel of the screen covers so many points; `free` of all that
    /// draws it elsewhere. `None` where it cannot be drawn there.
    pub fn to(&self, spot: [f64; 2], points_per_pixel: f64, free: bool) -> Option<PageMove> {
        let ray = |spot| {
            let (origin, way) = self.map.line(spot)?;
            Some(SightRay { origin, way })
        };
        let line = ray(spot)?;
        let beside = ray([spot[0] + points_per_pixel, spot[1]])?;
        let map = self.map;
        let pixels = move |point: &Point3<f64>| {
            let [x, y] = map.spot(point);
            Some(((x - spot[0]).hypot(y - spot[1]) / points_per_pixel) as f32)
        };
        let aim = SightLine::new(line, beside, line.way, Box::new(pixels));
        let proposal = self
            .drag
            .pulled(&aim, &self.scene, free)?
            .proposal(&self.scene)?;
        Some(PageMove {
            text: scene::to_ron_like(&self.text, &proposal.scene),
            name: proposal.name,
        })
    }
}
