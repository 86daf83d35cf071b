//! Drawing an arrangement: a body, supports of random kinds at random points, and what acts on it.

use std::collections::BTreeMap;

use super::body::{self, Body, GridPoint};
use super::gathering::{AXES, GatheredSupports};
use super::grid_load::{self, GridLoad};
use super::grid_support::{GridSupport, GridSupportKind};
use super::random::Random;
use super::{Level, Topic};
use crate::scene::{NamedPoint, Scene, Space, Support};
use crate::wording::{self, Noun, Phrase};

/// A body with supports and loads on the grid.
#[derive(Debug, Clone)]
pub(super) struct Arrangement {
    pub(super) body: Body,
    pub(super) supports: Vec<GridSupport>,
    pub(super) loads: Vec<GridLoad>,
}

/// How supports are chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SupportTheme {
    /// Whatever comes.
    Free,
    /// Two hinges or bearings on one axis.
    Pair,
    /// One hinge or bearing with its couples.
    Single,
    /// Two ball joints.
    Joints,
    /// Links and contacts along few directions.
    FewDirections,
    /// Links that end at one or two points.
    Hubs,
}

/// An arrangement for a topic; whether it is what is asked for is judged afterwards.
pub(super) fn arrangement(random: &mut Random, topic: Topic, level: Level) -> Arrangement {
    let planar = level == Level::Easy || (level == Level::Middle && random.chance(1, 3));
    arrangement_in(random, topic, level, planar)
}

/// The same in the plane or in space, whatever the level.
pub(super) fn arrangement_in(
    random: &mut Random,
    topic: Topic,
    level: Level,
    planar: bool,
) -> Arrangement {
    let body = if planar {
        body::planar(random)
    } else {
        body::spatial(random)
    };
    let wanted = unknowns(random, topic, body.space);
    let supports = if planar {
        planar_holds(random, &body, level, wanted)
    } else {
        spatial_holds(random, &body, level, wanted)
    };
    let loads = grid_load::loads(random, &body, &supports, topic, level);
    Arrangement {
        body,
        supports,
        loads,
    }
}

/// How many unknown reactions there are to be.
fn unknowns(random: &mut Random, topic: Topic, space: Space) -> usize {
    let motions = space.motions();
    match topic {
        Topic::Determinate | Topic::Reactions | Topic::NearMiss => motions,
        Topic::Improper => motions + usize::from(random.chance(1, 4)),
        Topic::Redundant => motions + 1 + usize::from(random.chance(1, 4)),
        Topic::Partial => motions - 1 - random.below(if space == Space::Planar { 1 } else { 2 }),
    }
}

/// Directions off the axes with round lengths of their own where there are such.
const ASKEW: [GridPoint; 8] = [
    [1, 1, 0],
    [0, 1, 1],
    [1, 0, 1],
    [3, 4, 0],
    [0, 3, 4],
    [4, 0, 3],
    [1, 2, 2],
    [2, 1, 2],
];
const ASKEW_IN_PLANE: [GridPoint; 3] = [[1, 1, 0], [3, 4, 0], [4, 3, 0]];

fn planar_holds(random: &mut Random, body: &Body, level: Level, wanted: usize) -> Vec<GridSupport> {
    let mut gathered = GatheredSupports::new(body);
    while gathered.unknowns < wanted {
        let left = wanted - gathered.unknowns;
        let kind = match random.below(10) {
            0..=1 if left >= 2 => GridSupportKind::Pin,
            2 if left >= 2 => GridSupportKind::Collar,
            9 if left >= 2 && random.chance(1, 3) => GridSupportKind::RoughContact,
            3 if left >= 3 => GridSupportKind::Fixed,
            4 => GridSupportKind::Slot,
            5 => GridSupportKind::Cable,
            6 => GridSupportKind::Contact,
            7 => GridSupportKind::Rocker,
            8 => GridSupportKind::Link,
            _ => GridSupportKind::Roller,
        };
        let along = planar_direction(random, kind, level);
        gathered.add(random, kind, along);
        if gathered.is_full() {
            break;
        }
    }
    gathered.supports
}

fn planar_direction(random: &mut Random, kind: GridSupportKind, level: Level) -> GridPoint {
    let axis = match level > Level::Easy && random.chance(1, 2) {
        true => random.pick(&ASKEW_IN_PLANE),
        false => random.pick(&AXES[..2]),
    };
    let mirrored = if random.chance(1, 2) {
        [-axis[0], axis[1], 0]
    } else {
        axis
    };
    match kind {
        // Surfaces lie below or beside the body.
        GridSupportKind::Roller
        | GridSupportKind::Contact
        | GridSupportKind::RoughContact
        | GridSupportKind::Rocker
        | GridSupportKind::Slot
        | GridSupportKind::Collar => mirrored,
        _ if random.chance(1, 2) => mirrored.map(|x| -x),
        _ => mirrored,
    }
}

fn spatial_holds(
    random: &mut Random,
    body: &Body,
    level: Level,
    wanted: usize,
) -> Vec<GridSupport> {
    let mut gathered = GatheredSupports::new(body);
    let theme = random.pick(&[
        SupportTheme::Free,
        SupportTheme::Free,
        SupportTheme::Pair,
        SupportTheme::Pair,
        SupportTheme::Single,
        SupportTheme::Joints,
        SupportTheme::FewDirections,
        SupportTheme::Hubs,
    ]);
    match theme {
        SupportTheme::Pair => gathered.add_pair(random),
        SupportTheme::Single => {
            let kinds: &[GridSupportKind] = match level {
                Level::Hard => &[
                    GridSupportKind::Hinge,
                    GridSupportKind::Thrust,
                    GridSupportKind::Journal,
                    GridSupportKind::SquareJournal,
                    GridSupportKind::Universal,
                    GridSupportKind::SlidingHinge,
                    GridSupportKind::SmoothPin,
                    GridSupportKind::Slider,
                ],
                _ => &[GridSupportKind::Hinge, GridSupportKind::Journal],
            };
            gathered.add_one_of(random, kinds);
        }
        SupportTheme::Joints => {
            gathered.add(random, GridSupportKind::BallJoint, [0; 3]);
            if wanted >= 6 {
                gathered.add(random, GridSupportKind::BallJoint, [0; 3]);
            }
        }
        SupportTheme::Free | SupportTheme::FewDirections | SupportTheme::Hubs => {}
    }
    let few = [
        spatial_direction(random, level),
        spatial_direction(random, level),
    ];
    let hubs = [hub(random, body), hub(random, body)];
    while gathered.unknowns < wanted && !gathered.is_full() {
        let left = wanted - gathered.unknowns;
        let kind = single_kind(random, theme, left);
        match theme {
            SupportTheme::Hubs => {
                let hub = random.pick(&hubs);
                gathered.add_to_hub(random, hub);
            }
            SupportTheme::FewDirections => {
                let along = random.pick(&few);
                gathered.add(random, kind, along);
            }
            _ => {
                let along = spatial_direction(random, level);
                gathered.add(random, kind, along);
            }
        }
    }
    gathered.supports
}

fn single_kind(random: &mut Random, theme: SupportTheme, left: usize) -> GridSupportKind {
    match random.below(9) {
        0..=1 if left >= 3 && theme == SupportTheme::Free => GridSupportKind::BallJoint,
        2 if left >= 2 && theme == SupportTheme::Free => GridSupportKind::RailWheel,
        6 if left >= 3 && theme == SupportTheme::Free => GridSupportKind::RoughContact,
        3 => GridSupportKind::Cable,
        4 => GridSupportKind::Roller,
        5 => GridSupportKind::Contact,
        _ => GridSupportKind::Link,
    }
}

fn spatial_direction(random: &mut Random, level: Level) -> GridPoint {
    let mut along = match level == Level::Hard && random.chance(2, 3) {
        true => random.pick(&ASKEW),
        false => random.pick(&AXES),
    };
    for part in &mut along {
        if random.chance(1, 2) {
            *part = -*part;
        }
    }
    along
}

/// A point of the ground beside the body.
fn hub(random: &mut Random, body: &Body) -> GridPoint {
    let mut cell = random.pick(&body.anchors);
    let axis = random.below(3);
    cell[axis] += random.pick(&[-6, 8, 12]);
    cell
}

impl Arrangement {
    /// The scene, with a name for each point.
    pub(super) fn scene(&self) -> Scene {
        let space = self.body.space;
        let supports: Vec<Support> = self
            .supports
            .iter()
            .enumerate()
            .map(|(index, support)| support.written(name(index), space))
            .collect();
        let names = self.supports.iter().enumerate();
        let mut points: Vec<NamedPoint> = Vec::new();
        for (index, support) in names {
            let at = support.place(space);
            if points.iter().all(|point| point.at != at) {
                let name = name(index);
                points.push(NamedPoint { name, at });
            }
        }
        let mut scene = Scene {
            title: title(self.body.name, &supports),
            space,
            points,
            body: self.body.shapes.clone(),
            supports,
            ..Scene::default()
        };
        grid_load::add_loads(&self.loads, &mut scene);
        scene
    }
}

/// Names of supports: A, B, C, …
fn name(index: usize) -> String {
    let letters = b"ABCDEFGHIJKLMNO";
    char::from(letters[index % letters.len()]).to_string()
}

/// `Handrail on two ball joints and a cable`.
fn title(body: &str, supports: &[Support]) -> String {
    let mut counts: BTreeMap<Noun, usize> = BTreeMap::new();
    for support in supports {
        *counts
            .entry(wording::support_noun(&support.kind))
            .or_default() += 1;
    }
    let parts: Vec<Phrase> = counts
        .iter()
        .map(|(noun, number)| noun.counted(*number).into())
        .collect();
    format!("{body} on {}", wording::listed(&parts))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::Model;

    /// The table of unknowns against what the model lays out.
    #[test]
    fn unknowns_are_counted_as_the_model_does() {
        let mut random = Random::new(5);
        for _ in 0..400 {
            for topic in Topic::MIXED {
                for level in [Level::Easy, Level::Middle, Level::Hard] {
                    let drawn = arrangement(&mut random, topic, level);
                    let model = Model::new(&drawn.scene()).unwrap();
                    let counted: usize = drawn
                        .supports
                        .iter()
                        .map(|support| support.kind.unknowns(drawn.body.space))
                        .sum();
                    assert_eq!(counted, model.reactions.len(), "{:?}", drawn.supports);
                }
            }
        }
    }
}
