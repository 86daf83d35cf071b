//! An edit: what differs between two scenes, with what was there before, so that it can be taken back.

use crate::scene::{
    Case, CaseCombination, Datum, Imposed, LessonStep, Load, Material, NamedPoint, Scene, Shape,
    Space, Support, Units, Wall,
};

/// What differs between two scenes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Edit {
    parts: Vec<ChangedPart>,
}

/// One part of a scene before and after.
#[derive(Debug, Clone, PartialEq)]
enum ChangedPart {
    Title(Swap<String>),
    Notes(Swap<String>),
    Units(Swap<Units>),
    Space(Swap<Space>),
    Datum(Swap<Datum>),
    PlacementTolerance(Swap<Option<f64>>),
    Elastic(Swap<bool>),
    Material(Swap<Option<Material>>),
    Points(Splice<NamedPoint>),
    Body(Splice<Shape>),
    Walls(Splice<Wall>),
    Supports(Splice<Support>),
    Loads(Splice<Load>),
    Imposed(Splice<Imposed>),
    Cases(Splice<Case>),
    Combinations(Splice<CaseCombination>),
    Lesson(Splice<LessonStep>),
}

/// One value for another.
#[derive(Debug, Clone, PartialEq)]
struct Swap<T> {
    old: T,
    new: T,
}

/// Items for others, from an index on.
#[derive(Debug, Clone, PartialEq)]
struct Splice<T> {
    at: usize,
    old: Vec<T>,
    new: Vec<T>,
}

/// An edit of another scene.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the edit belongs to another scene: what it replaces is not there")]
pub struct EditError;

impl Edit {
    /// What turns one scene into another.
    pub fn between(before: &Scene, after: &Scene) -> Self {
        // Every field by its name: one that is forgotten here could be neither edited nor taken back.
        let Scene {
            title,
            notes,
            units,
            space,
            datum,
            placement_tolerance,
            elastic,
            material,
            points,
            body,
            walls,
            supports,
            loads,
            imposed,
            cases,
            combinations,
            lesson,
        } = before;
        let parts = [
            Swap::of(title, &after.title).map(ChangedPart::Title),
            Swap::of(notes, &after.notes).map(ChangedPart::Notes),
            Swap::of(units, &after.units).map(ChangedPart::Units),
            Swap::of(space, &after.space).map(ChangedPart::Space),
            Swap::of(datum, &after.datum).map(ChangedPart::Datum),
            Swap::of(placement_tolerance, &after.placement_tolerance)
                .map(ChangedPart::PlacementTolerance),
            Swap::of(elastic, &after.elastic).map(ChangedPart::Elastic),
            Swap::of(material, &after.material).map(ChangedPart::Material),
            Splice::of(points, &after.points).map(ChangedPart::Points),
            Splice::of(body, &after.body).map(ChangedPart::Body),
            Splice::of(walls, &after.walls).map(ChangedPart::Walls),
            Splice::of(supports, &after.supports).map(ChangedPart::Supports),
            Splice::of(loads, &after.loads).map(ChangedPart::Loads),
            Splice::of(imposed, &after.imposed).map(ChangedPart::Imposed),
            Splice::of(cases, &after.cases).map(ChangedPart::Cases),
            Splice::of(combinations, &after.combinations).map(ChangedPart::Combinations),
            Splice::of(lesson, &after.lesson).map(ChangedPart::Lesson),
        ];
        Self {
            parts: parts.into_iter().flatten().collect(),
        }
    }

    /// Whether nothing differs.
    pub fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }

    /// The edit that takes this one back.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self {
            parts: self.parts.iter().map(ChangedPart::reversed).collect(),
        }
    }

    /// The scene with the edit made.
    ///
    /// # Errors
    /// If the scene is not the one that the edit was made for.
    pub fn applied(&self, scene: &Scene) -> Result<Scene, EditError> {
        let mut edited = scene.clone();
        self.parts
            .iter()
            .try_for_each(|part| part.apply(&mut edited))?;
        Ok(edited)
    }
}

impl ChangedPart {
    fn reversed(&self) -> Self {
        match self {
            Self::Title(swap) => Self::Title(swap.reversed()),
            Self::Notes(swap) => Self::Notes(swap.reversed()),
            Self::Units(swap) => Self::Units(swap.reversed()),
            Self::Space(swap) => Self::Space(swap.reversed()),
            Self::Datum(swap) => Self::Datum(swap.reversed()),
            Self::PlacementTolerance(swap) => Self::PlacementTolerance(swap.reversed()),
            Self::Elastic(swap) => Self::Elastic(swap.reversed()),
            Self::Material(swap) => Self::Material(swap.reversed()),
            Self::Points(splice) => Self::Points(splice.reversed()),
            Self::Body(splice) => Self::Body(splice.reversed()),
            Self::Walls(splice) => Self::Walls(splice.reversed()),
            Self::Supports(splice) => Self::Supports(splice.reversed()),
            Self::Loads(splice) => Self::Loads(splice.reversed()),
            Self::Imposed(splice) => Self::Imposed(splice.reversed()),
            Self::Cases(splice) => Self::Cases(splice.reversed()),
            Self::Combinations(splice) => Self::Combinations(splice.reversed()),
            Self::Lesson(splice) => Self::Lesson(splice.reversed()),
        }
    }

    fn apply(&self, scene: &mut Scene) -> Result<(), EditError> {
        match self {
            Self::Title(swap) => swap.apply(&mut scene.title),
            Self::Notes(swap) => swap.apply(&mut scene.notes),
            Self::Units(swap) => swap.apply(&mut scene.units),
            Self::Space(swap) => swap.apply(&mut scene.space),
            Self::Datum(swap) => swap.apply(&mut scene.datum),
            Self::PlacementTolerance(swap) => swap.apply(&mut scene.placement_tolerance),
            Self::Elastic(swap) => swap.apply(&mut scene.elastic),
            Self::Material(swap) => swap.apply(&mut scene.material),
            Self::Points(splice) => splice.apply(&mut scene.points),
            Self::Body(splice) => splice.apply(&mut scene.body),
            Self::Walls(splice) => splice.apply(&mut scene.walls),
            Self::Supports(splice) => splice.apply(&mut scene.supports),
            Self::Loads(splice) => splice.apply(&mut scene.loads),
            Self::Imposed(splice) => splice.apply(&mut scene.imposed),
            Self::Cases(splice) => splice.apply(&mut scene.cases),
            Self::Combinations(splice) => splice.apply(&mut scene.combinations),
            Self::Lesson(splice) => splice.apply(&mut scene.lesson),
        }
    }
}

impl<T: Clone + PartialEq> Swap<T> {
    fn of(old: &T, new: &T) -> Option<Self> {
        (old != new).then(|| Self {
            old: old.clone(),
            new: new.clone(),
        })
    }

    fn reversed(&self) -> Self {
        Self {
            old: self.new.clone(),
            new: self.old.clone(),
        }
    }

    fn apply(&self, value: &mut T) -> Result<(), EditError> {
        if *value != self.old {
            return Err(EditError);
        }
        *value = self.new.clone();
        Ok(())
    }
}

impl<T: Clone + PartialEq> Splice<T> {
    /// The shortest stretch outside which two lists agree.
    fn of(old: &[T], new: &[T]) -> Option<Self> {
        if old == new {
            return None;
        }
        let both = old.len().min(new.len());
        let head = (0..both).take_while(|i| old[*i] == new[*i]).count();
        let from_end = |i: &usize| old[old.len() - 1 - i] == new[new.len() - 1 - i];
        let tail = (0..both - head).take_while(from_end).count();
        Some(Self {
            at: head,
            old: old[head..old.len() - tail].to_vec(),
            new: new[head..new.len() - tail].to_vec(),
        })
    }

    fn reversed(&self) -> Self {
        Self {
            at: self.at,
            old: self.new.clone(),
            new: self.old.clone(),
        }
    }

    fn apply(&self, list: &mut Vec<T>) -> Result<(), EditError> {
        let range = self.at..self.at + self.old.len();
        if list.get(range.clone()) != Some(self.old.as_slice()) {
            return Err(EditError);
        }
        list.splice(range, self.new.iter().cloned());
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{builtin, read_str};

    fn scene(name: &str) -> Scene {
        read_str(name, builtin::find(name).unwrap().text)
            .unwrap()
            .scene
    }

    #[test]
    fn an_edit_and_its_reverse_lead_there_and_back_between_any_two_scenes() {
        let scenes: Vec<Scene> = builtin::names().map(scene).collect();
        for before in &scenes {
            for after in &scenes {
                let edit = Edit::between(before, after);
                assert_eq!(edit.is_empty(), before == after);
                assert_eq!(edit.applied(before).as_ref(), Ok(after));
                assert_eq!(edit.reversed().applied(after).as_ref(), Ok(before));
            }
        }
    }

    /// What is imposed on a support goes with it, and comes back with it.
    #[test]
    fn an_edit_of_what_is_imposed_can_be_taken_back() {
        let before = scene("handrail");
        let mut after = before.clone();
        after.elastic = true;
        let (by, expansion) = (20.0, 1.2e-5);
        after.imposed = vec![Imposed::Warming { by, expansion }];
        let edit = Edit::between(&before, &after);
        assert_eq!(edit.applied(&before).as_ref(), Ok(&after));
        assert_eq!(edit.reversed().applied(&after).as_ref(), Ok(&before));
    }

    #[test]
    fn an_edit_keeps_only_what_differs() {
        let before = scene("handrail");
        let mut after = before.clone();
        after.supports.remove(1);
        let edit = Edit::between(&before, &after);
        assert_eq!(
            edit.parts,
            [ChangedPart::Supports(Splice {
                at: 1,
                old: vec![before.supports[1].clone()],
                new: Vec::new()
            })]
        );
    }

    #[test]
    fn an_edit_of_another_scene_is_refused() {
        let (handrail, hatch) = (scene("handrail"), scene("roof-hatch"));
        let mut after = handrail.clone();
        after.supports.remove(1);
        let edit = Edit::between(&handrail, &after);
        assert_eq!(edit.applied(&hatch), Err(EditError));
    }
}
