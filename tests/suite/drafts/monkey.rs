//! Random edits, sensible and senseless, through the history: undo and redo lead back to the very states there were, every
//! state can be read, and saving keeps the comments of the file.

use std::cell::RefCell;
use std::sync::Arc;

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

use sixhold::draft::{
    Draft, Handle, LoadId, Proposal, Reshaping, SceneItem, TurnableDirection, load_kinds,
    shape_kinds, support_kinds,
};
use sixhold::scene::{Coordinates, Direction, Place, Scene, builtin, read_str, to_ron};

use super::draft;

/// Random numbers that a failing case repeats (a linear congruential generator; Knuth, The Art of Computer Programming 2,
/// section 3.3.4, line 26).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let high = usize::try_from(self.0 >> 33).expect("31 bits");
        high % count.max(1)
    }

    fn one<'a, T>(&mut self, items: &'a [T]) -> Option<&'a T> {
        items.get(self.below(items.len()))
    }

    /// A coordinate of two decimals, now and then of a size that nobody means.
    fn coordinate(&mut self) -> f64 {
        let hundredths = self.below(400) as f64 - 200.0;
        match self.below(40) {
            0 => hundredths * 1e9,
            1 => hundredths * 1e31,
            _ => hundredths / 100.0,
        }
    }

    fn position(&mut self) -> [f64; 3] {
        std::array::from_fn(|_| self.coordinate())
    }

    fn direction(&mut self, scene: &Scene) -> Direction {
        match self.below(4) {
            0 => Direction::Angle(self.below(360) as f64),
            1 => Direction::Towards(self.place(scene)),
            _ => Direction::Along(Coordinates::new(scene.space, self.position())),
        }
    }

    fn place(&mut self, scene: &Scene) -> Place {
        match self.below(3) {
            0 => Place::Named(
                scene
                    .points
                    .first()
                    .map_or("nowhere", |point| &point.name)
                    .to_owned(),
            ),
            _ => Place::At(Coordinates::new(scene.space, self.position())),
        }
    }

    fn name(&mut self, scene: &Scene) -> String {
        match self.below(5) {
            0 => String::new(),
            1 => "two\nlines".to_owned(),
            2 => scene
                .supports
                .first()
                .map_or("A", |support| &support.name)
                .to_owned(),
            _ => format!("name \"{}\" // no comment", self.below(50)),
        }
    }

    fn thing(&mut self, scene: &Scene) -> Option<SceneItem> {
        self.one(&SceneItem::all(scene)).copied()
    }

    /// A change of the scene that someone could ask for.
    fn proposal(&mut self, scene: &Scene) -> Option<Proposal> {
        let thing = self.thing(scene)?;
        let place = self.position();
        match self.below(14) {
            0 => Proposal::removed(scene, thing),
            1 => Proposal::duplicated(scene, thing, self.position()),
            2 => Proposal::mirrored(scene, thing, self.below(4)),
            3 => Proposal::renamed(scene, thing, &self.name(scene)),
            4 => {
                let handle = *self.one(&Handle::of(thing, scene))?;
                Proposal::placed(scene, handle, self.place(scene))
            }
            5 => {
                let load = LoadId::all(scene).first().copied();
                let aims = [
                    TurnableDirection::Support(0),
                    TurnableDirection::Normal(0),
                    TurnableDirection::Support(1),
                ];
                let aim = load
                    .map(TurnableDirection::Load)
                    .filter(|_| self.below(2) == 0);
                let aim = aim.or_else(|| self.one(&aims).copied())?;
                Proposal::turned(scene, aim, self.direction(scene))
            }
            6 => {
                let support = self.below(scene.supports.len());
                let like = &scene.supports.get(support)?.kind;
                let kinds = support_kinds(scene, place, [0.0, 1.0, 0.0], Some(like));
                Proposal::made(scene, support, self.one(&kinds)?.clone())
            }
            7 => {
                let kinds = support_kinds(scene, place, [0.0, 1.0, 0.0], None);
                let kind = self.one(&kinds)?.clone();
                Some(Proposal::with_support(scene, kind, self.place(scene)))
            }
            8 => Some(Proposal::with_load(
                scene,
                self.one(&load_kinds(scene, place))?.clone(),
            )),
            9 => Some(Proposal::with_shape(
                scene,
                self.one(&shape_kinds(scene, place))?.clone(),
            )),
            10 => Some(Proposal::with_point(scene, place)),
            11 => {
                let title = self.name(scene);
                Some(Proposal::new(scene, "retitled", |scene| {
                    scene.title = title
                }))
            }
            12 => {
                let shape = self.below(scene.body.len());
                Proposal::reshaped(scene, shape, *self.one(&Reshaping::ALL)?)
            }
            _ => {
                let handle = *self.one(&Handle::of(thing, scene))?;
                Proposal::moved(scene, handle, place)
            }
        }
    }
}

/// A scene stays small enough to be edited a thousand times.
const MOST_THINGS: usize = 40;

/// What the monkey did.
#[derive(Default)]
struct Tally {
    taken: usize,
    refused: usize,
}

/// Edits a draft so many times and checks the history against the states that it went through.
fn edit(draft: &mut Draft, numbers: &mut Numbers, times: usize, tally: &mut Tally) {
    let mut states: Vec<Arc<Scene>> = vec![draft.scene().clone()];
    for _ in 0..times {
        let scene = draft.scene().clone();
        let proposal = match SceneItem::all(&scene).len() {
            0..MOST_THINGS => numbers.proposal(&scene),
            _ => numbers
                .thing(&scene)
                .and_then(|thing| Proposal::removed(&scene, thing)),
        };
        let Some(proposal) = proposal else {
            continue;
        };
        let steps = draft.done().len();
        match draft.take(proposal) {
            Ok(()) if draft.done().len() > steps => {
                tally.taken += 1;
                states.truncate(steps + 1);
                states.push(draft.scene().clone());
            }
            Ok(()) => {}
            Err(refusal) => {
                tally.refused += 1;
                assert!(!refusal.problems.is_empty());
                assert_eq!(draft.scene(), &scene);
            }
        }
        // Now and then some way back, and some way on again.
        if numbers.below(20) == 0 {
            let back = numbers.below(8);
            for _ in 0..back {
                draft.undo();
            }
            assert_eq!(draft.scene(), &states[draft.done().len()]);
            for _ in 0..numbers.below(8) {
                draft.redo();
            }
            assert_eq!(draft.scene(), &states[draft.done().len()]);
        }
    }
    while draft.redo().is_some() {}
    for state in states.iter().rev() {
        assert_eq!(draft.scene(), state);
        draft.undo();
    }
    while draft.redo().is_some() {}
    assert_eq!(draft.scene(), states.last().expect("the first state"));
}

#[test]
fn twenty_thousand_edits_can_all_be_taken_back() {
    let names: Vec<&str> = builtin::names().collect();
    let tally = RefCell::new(Tally::default());
    let mut runner = TestRunner::new(Config::with_cases(20));
    runner
        .run(&any::<u64>(), |seed| {
            let mut numbers = Numbers(seed);
            let name = *numbers.one(&names).expect("built-in scenes");
            edit(
                &mut draft(name),
                &mut numbers,
                1000,
                &mut tally.borrow_mut(),
            );
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
    let tally = tally.into_inner();
    // Neither a monkey that does nothing nor one that is refused everything tests anything.
    assert!(
        tally.taken > 4_000 && tally.refused > 1_000,
        "{} {}",
        tally.taken,
        tally.refused
    );
}

/// The comments of a text, in order.
fn comments(text: &str) -> Vec<&str> {
    text.lines()
        .filter_map(|line| line.trim_start().strip_prefix("//"))
        .map(str::trim)
        .collect()
}

#[test]
fn saving_changes_no_comment_and_no_line_that_was_not_edited() {
    let mut runner = TestRunner::new(Config::with_cases(300));
    let names: Vec<&str> = builtin::names().collect();
    runner
        .run(&any::<u64>(), |seed| {
            let mut numbers = Numbers(seed);
            let name = *numbers.one(&names).expect("built-in scenes");
            let mut draft = draft(name);
            let before = draft.text();
            for _ in 0..=numbers.below(3) {
                if let Some(proposal) = numbers.proposal(draft.scene()) {
                    let _ = draft.take(proposal);
                }
            }
            let after = draft.text();
            let read = read_str(name, &after).expect("a scene");
            prop_assert_eq!(to_ron(&read.scene), to_ron(draft.scene()));
            prop_assert_eq!(comments(&before), comments(&after));
            let untouched = before
                .lines()
                .filter(|line| after.lines().any(|other| other == *line))
                .count();
            let steps = draft.done().len();
            // A step touches a few lines: the items of a list that names a point, at most.
            prop_assert!(
                untouched + 12 * steps >= before.lines().count(),
                "{}",
                after
            );
            while draft.undo().is_some() {}
            prop_assert_eq!(draft.text(), before);
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
}
