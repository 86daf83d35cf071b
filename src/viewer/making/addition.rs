//! What can be added to a scene, and how it is put there.

use crate::draft::snap::PlaceAtRest;
use crate::draft::{
    LoadId, Proposal, SceneItem, load_kinds, load_word, shape_kinds, shape_word, support_kinds,
};
use crate::scene::{Load, Scene, Shape, SupportKind};
use crate::wording;

/// Something that can be added to a scene.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Addition {
    /// A support.
    Support(SupportKind),
    /// A load.
    Load(Load),
    /// A shape.
    Shape(Shape),
    /// A named point.
    Point,
}

impl Addition {
    /// What it is called.
    pub(super) fn word(&self) -> String {
        match self {
            Self::Support(kind) => wording::support_kind(kind).to_owned(),
            Self::Load(load) => load_word(load).to_owned(),
            Self::Shape(shape) => shape_word(shape).to_owned(),
            Self::Point => "named point".to_owned(),
        }
    }

    /// A scene with the addition at a place.
    pub(super) fn placed(self, scene: &Scene, at: PlaceAtRest, inward: [f64; 3]) -> Proposal {
        let same = std::mem::discriminant::<SupportKind>;
        match self {
            Self::Support(kind) => {
                let kinds = support_kinds(scene, at.position, inward, None);
                let here = kinds.into_iter().find(|other| same(other) == same(&kind));
                Proposal::with_support(scene, here.unwrap_or(kind), at.place)
            }
            Self::Load(load) => {
                let kinds = load_kinds(scene, at.position);
                let alike =
                    |other: &Load| std::mem::discriminant(other) == std::mem::discriminant(&load);
                let here = kinds.into_iter().find(alike);
                Proposal::with_load(scene, here.unwrap_or(load))
            }
            Self::Shape(shape) => {
                let kinds = shape_kinds(scene, at.position);
                let alike =
                    |other: &Shape| std::mem::discriminant(other) == std::mem::discriminant(&shape);
                let here = kinds.into_iter().find(alike);
                Proposal::with_shape(scene, here.unwrap_or(shape))
            }
            Self::Point => Proposal::with_point(scene, at.position),
        }
    }

    /// What was added: the last of its list.
    pub(super) fn added(&self, scene: &Scene) -> Option<SceneItem> {
        let last = |length: usize| length.checked_sub(1);
        Some(match self {
            Self::Support(_) => SceneItem::Support(last(scene.supports.len())?),
            Self::Shape(_) => SceneItem::Shape(last(scene.body.len())?),
            Self::Point => SceneItem::Point(last(scene.points.len())?),
            Self::Load(_) => SceneItem::Load(LoadId {
                case: None,
                index: last(scene.loads.len())?,
            }),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::{NewScene, snap};

    /// What was just put somewhere is in hand, whatever it is.
    #[test]
    fn what_is_added_is_the_thing_that_is_taken_in_hand() {
        let scene = NewScene::Bar.scene();
        let position = [0.5, 0.0, 0.0];
        let up = [0.0, 0.0, 1.0];
        let supports = support_kinds(&scene, position, up, None);
        let additions = supports.into_iter().map(Addition::Support);
        let loads = load_kinds(&scene, position).into_iter().map(Addition::Load);
        let shapes = shape_kinds(&scene, position)
            .into_iter()
            .map(Addition::Shape);
        for addition in additions
            .chain(loads)
            .chain(shapes)
            .chain([Addition::Point])
        {
            let at = snap::fixed(&scene, position, 0.1);
            let after = addition.clone().placed(&scene, at, up).scene;
            let thing = addition.added(&after).expect("something was added");
            assert!(thing.is_in(&after) && !thing.is_in(&scene), "{addition:?}");
        }
    }
}
