//! What of a scene can be taken hold of: things and the places that they are at.

use nalgebra::Point3;

use crate::scene::{
    BentBar, Block, Bracket, Direction, Disc, ForceVector, Load, Place, Plate, Scene, Shaft, Shape,
    Support, SupportKind,
};

/// A load of a scene.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LoadId {
    /// The case that it belongs to; `None` for one that acts in every case.
    pub case: Option<usize>,
    /// Its index in the list that it belongs to.
    pub index: usize,
}

/// Something that can be added to a scene and taken away.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum SceneItem {
    /// A support, by index.
    Support(usize),
    /// A load.
    Load(LoadId),
    /// A shape of the body, by index.
    Shape(usize),
    /// A named point, by index.
    Point(usize),
}

/// A place of a scene that can be moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Handle {
    /// Where a support holds the body.
    Support(usize),
    /// The ground end of a link or cable.
    Ground(usize),
    /// Where a load acts, or begins.
    Load(LoadId),
    /// Where a distributed load ends.
    LoadEnd(LoadId),
    /// A place of a shape, by index into [`Shape::places`].
    Shape(usize, usize),
    /// The centre of a plate's hole.
    Hole(usize, usize),
    /// A named point.
    Point(usize),
}

impl Handle {
    /// The thing whose place it is.
    pub fn thing(self) -> SceneItem {
        match self {
            Self::Support(index) | Self::Ground(index) => SceneItem::Support(index),
            Self::Load(load) | Self::LoadEnd(load) => SceneItem::Load(load),
            Self::Shape(index, _) | Self::Hole(index, _) => SceneItem::Shape(index),
            Self::Point(index) => SceneItem::Point(index),
        }
    }

    /// The place as written; `None` where the scene has none there, and for a named point, which has coordinates only.
    pub fn place(self, scene: &Scene) -> Option<&Place> {
        match self {
            Self::Support(index) => Some(&scene.supports.get(index)?.at),
            Self::Ground(index) => scene.supports.get(index)?.kind.ground(),
            Self::Load(load) => load_places(load.of(scene)?)[0],
            Self::LoadEnd(load) => load_places(load.of(scene)?)[1],
            Self::Shape(index, place) => scene.body.get(index)?.places().get(place).copied(),
            Self::Hole(index, hole) => match scene.body.get(index)? {
                Shape::Plate(plate) => Some(&plate.holes.get(hole)?.centre),
                _ => None,
            },
            Self::Point(_) => None,
        }
    }

    pub(super) fn place_mut(self, scene: &mut Scene) -> Option<&mut Place> {
        match self {
            Self::Support(index) => Some(&mut scene.supports.get_mut(index)?.at),
            Self::Ground(index) => match &mut scene.supports.get_mut(index)?.kind {
                SupportKind::Link { ground } | SupportKind::Cable { ground } => Some(ground),
                _ => None,
            },
            Self::Load(load) => match load.of_mut(scene)? {
                Load::Force { at, .. } | Load::Distributed { from: at, .. } => Some(at),
                Load::Couple { at, .. } | Load::Weight { at, .. } => at.as_mut(),
                Load::Line { path, .. } => path.first_mut(),
                Load::Area { .. } => None,
            },
            Self::LoadEnd(load) => match load.of_mut(scene)? {
                Load::Distributed { to, .. } => Some(to),
                Load::Line { path, .. } => path.last_mut(),
                _ => None,
            },
            Self::Shape(index, place) => shape_places_mut(scene.body.get_mut(index)?)
                .into_iter()
                .nth(place),
            Self::Hole(index, hole) => match scene.body.get_mut(index)? {
                Shape::Plate(plate) => Some(&mut plate.holes.get_mut(hole)?.centre),
                _ => None,
            },
            Self::Point(_) => None,
        }
    }

    /// Where it is, m; `None` where it is nowhere.
    pub fn point(self, scene: &Scene) -> Option<Point3<f64>> {
        let at = self.position(scene)?;
        let metres = scene.units.length.in_metres();
        Some(Point3::from(at.map(|x| x * metres)))
    }

    /// Where it is in the scene's length unit, from its datum.
    pub fn position(self, scene: &Scene) -> Option<[f64; 3]> {
        match self {
            Self::Point(index) => Some(scene.points.get(index)?.at.components()),
            _ => scene.position(self.place(scene)?),
        }
    }

    /// Every place of a thing.
    pub fn of(thing: SceneItem, scene: &Scene) -> Vec<Self> {
        let all = match thing {
            SceneItem::Support(index) => vec![Self::Support(index), Self::Ground(index)],
            SceneItem::Load(load) => vec![Self::Load(load), Self::LoadEnd(load)],
            SceneItem::Point(index) => vec![Self::Point(index)],
            SceneItem::Shape(index) => {
                let count = scene
                    .body
                    .get(index)
                    .map_or(0, |shape| shape.places().len());
                let holes = match scene.body.get(index) {
                    Some(Shape::Plate(plate)) => plate.holes.len(),
                    _ => 0,
                };
                let places = (0..count).map(|place| Self::Shape(index, place));
                places
                    .chain((0..holes).map(|hole| Self::Hole(index, hole)))
                    .collect()
            }
        };
        let exists = |handle: &Self| handle.position(scene).is_some();
        all.into_iter().filter(exists).collect()
    }
}

impl LoadId {
    /// Every load of a scene: those of all cases, then those of each.
    pub fn all(scene: &Scene) -> Vec<Self> {
        let list = |case, loads: &[Load]| {
            (0..loads.len())
                .map(move |index| Self { case, index })
                .collect::<Vec<_>>()
        };
        let cases = scene.cases.iter().enumerate();
        let of_cases = cases.flat_map(|(case, own)| list(Some(case), &own.loads));
        list(None, &scene.loads)
            .into_iter()
            .chain(of_cases)
            .collect()
    }

    /// The load; `None` where the scene has none there.
    pub fn of(self, scene: &Scene) -> Option<&Load> {
        match self.case {
            None => scene.loads.get(self.index),
            Some(case) => scene.cases.get(case)?.loads.get(self.index),
        }
    }

    pub(super) fn of_mut(self, scene: &mut Scene) -> Option<&mut Load> {
        self.list_mut(scene)?.get_mut(self.index)
    }

    /// The list that it belongs to.
    pub(super) fn list_mut(self, scene: &mut Scene) -> Option<&mut Vec<Load>> {
        match self.case {
            None => Some(&mut scene.loads),
            Some(case) => Some(&mut scene.cases.get_mut(case)?.loads),
        }
    }
}

impl SceneItem {
    /// Everything in a scene.
    pub fn all(scene: &Scene) -> Vec<Self> {
        let supports = (0..scene.supports.len()).map(Self::Support);
        let loads = LoadId::all(scene).into_iter().map(Self::Load);
        let shapes = (0..scene.body.len()).map(Self::Shape);
        let points = (0..scene.points.len()).map(Self::Point);
        supports.chain(loads).chain(shapes).chain(points).collect()
    }

    /// Whether the scene has it.
    pub fn is_in(self, scene: &Scene) -> bool {
        match self {
            Self::Support(index) => index < scene.supports.len(),
            Self::Load(load) => load.of(scene).is_some(),
            Self::Shape(index) => index < scene.body.len(),
            Self::Point(index) => index < scene.points.len(),
        }
    }

    /// What it is called in a sentence: `A`, `force`, `plate`, `B`.
    pub fn name(self, scene: &Scene) -> String {
        match self {
            Self::Support(index) => scene
                .supports
                .get(index)
                .map(|support| support.name.clone()),
            Self::Load(load) => load.of(scene).map(|load| load_word(load).to_owned()),
            Self::Shape(index) => scene
                .body
                .get(index)
                .map(|shape| shape_word(shape).to_owned()),
            Self::Point(index) => scene.points.get(index).map(|point| point.name.clone()),
        }
        .unwrap_or_default()
    }
}

/// A load in a word.
pub fn load_word(load: &Load) -> &'static str {
    match load {
        Load::Force { .. } => "force",
        Load::Couple { .. } => "couple",
        Load::Distributed { .. } => "distributed load",
        Load::Line { .. } => "load along a path",
        Load::Area { .. } => "load over a face",
        Load::Weight { .. } => "weight",
    }
}

/// A shape in a word.
pub fn shape_word(shape: &Shape) -> &'static str {
    match shape {
        Shape::BentBar(_) => "bent bar",
        Shape::Plate(_) => "plate",
        Shape::Bracket(_) => "bracket",
        Shape::Shaft(_) => "shaft",
        Shape::Disc(_) => "disc",
        Shape::Block(_) => "block",
    }
}

fn load_places(load: &Load) -> [Option<&Place>; 2] {
    match load {
        Load::Force { at, .. } => [Some(at), None],
        Load::Couple { at, .. } | Load::Weight { at, .. } => [at.as_ref(), None],
        Load::Distributed { from, to, .. } => [Some(from), Some(to)],
        Load::Line { path, .. } => [path.first(), path.last()],
        Load::Area { .. } => [None, None],
    }
}

/// As [`Shape::places`].
fn shape_places_mut(shape: &mut Shape) -> Vec<&mut Place> {
    match shape {
        Shape::BentBar(BentBar { path, .. }) => path.iter_mut().collect(),
        Shape::Plate(Plate { corners, .. }) => corners.iter_mut().collect(),
        Shape::Bracket(Bracket { corner, legs, .. }) => {
            std::iter::once(corner).chain(legs).collect()
        }
        Shape::Shaft(Shaft { from, to, .. }) => vec![from, to],
        Shape::Disc(Disc { centre, .. }) | Shape::Block(Block { centre, .. }) => vec![centre],
    }
}

/// Every place that a scene writes, and every place in a direction, for renaming points and taking them away.
pub(super) fn every_place(scene: &mut Scene) -> Vec<&mut Place> {
    let mut places = Vec::new();
    for Support { at, kind, .. } in &mut scene.supports {
        places.push(at);
        match kind {
            SupportKind::Link { ground } | SupportKind::Cable { ground } => places.push(ground),
            SupportKind::RailWheel { rail, normal } => {
                places.extend(towards(rail));
                places.extend(towards(normal));
            }
            kind => places.extend(kind.orientation_mut().and_then(towards)),
        }
    }
    for shape in &mut scene.body {
        places.extend(every_place_of_shape(shape));
    }
    for wall in &mut scene.walls {
        places.extend(&mut wall.corners);
    }
    let of_cases = scene.cases.iter_mut().flat_map(|case| &mut case.loads);
    for load in scene.loads.iter_mut().chain(of_cases) {
        match load {
            Load::Force { at, force } => {
                places.push(at);
                if let ForceVector::Directed { direction, .. } = force {
                    places.extend(towards(direction));
                }
            }
            Load::Couple { at, .. } | Load::Weight { at, .. } => places.extend(at.as_mut()),
            Load::Distributed { from, to, .. } => places.extend([from, to]),
            Load::Line { path: all, .. } | Load::Area { corners: all, .. } => places.extend(all),
        }
    }
    places
}

fn every_place_of_shape(shape: &mut Shape) -> Vec<&mut Place> {
    match shape {
        Shape::Plate(Plate { corners, holes, .. }) => {
            let centres = holes.iter_mut().map(|hole| &mut hole.centre);
            corners.iter_mut().chain(centres).collect()
        }
        Shape::Disc(Disc { centre, axis, .. }) => {
            let axis = axis.as_mut().and_then(towards);
            std::iter::once(centre).chain(axis).collect()
        }
        Shape::Block(Block {
            centre,
            lengthwise,
            upright,
            ..
        }) => {
            let directions = [lengthwise, upright].into_iter().flatten();
            std::iter::once(centre)
                .chain(directions.filter_map(towards))
                .collect()
        }
        shape => shape_places_mut(shape),
    }
}

fn towards(direction: &mut Direction) -> Option<&mut Place> {
    match direction {
        Direction::Towards(place) => Some(place),
        Direction::Along(_) | Direction::Angle(_) => None,
    }
}
