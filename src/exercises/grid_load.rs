//! What acts on a body: forces at points, spread loads along its legs, couples.

use super::body::{Body, GridPoint, coordinates, cross};
use super::grid_support::{GridSupport, vector};
use super::random::Random;
use super::{Level, Topic};
use crate::scene::{Coordinates, ForceVector, Load, Moment, NamedPoint, Place, Scene, Space};

/// A load on the grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum GridLoad {
    /// Force, N.
    Force { at: GridPoint, force: GridPoint },
    /// Force per length along a straight leg, N/m at its two ends.
    Spread {
        ends: [GridPoint; 2],
        densities: [GridPoint; 2],
    },
    /// Couple, N·m; in the plane about z. Where it is drawn does not matter.
    Couple {
        moment: GridPoint,
        at: Option<GridPoint>,
    },
}

impl GridLoad {
    /// Whether its arrows leave no room for another load at a point.
    fn covers(&self, cell: GridPoint) -> bool {
        match self {
            Self::Force { at, .. } => *at == cell,
            Self::Spread {
                ends: [from, to], ..
            } => {
                let run = [0, 1, 2].map(|axis| to[axis] - from[axis]);
                let way = [0, 1, 2].map(|axis| cell[axis] - from[axis]);
                let within = |axis: usize| {
                    (from[axis].min(to[axis])..=from[axis].max(to[axis])).contains(&cell[axis])
                };
                cross(run, way) == [0; 3] && (0..3).all(within)
            }
            Self::Couple { .. } => false,
        }
    }

    /// The points at which it acts.
    pub(super) fn places(&self) -> Vec<GridPoint> {
        match self {
            Self::Force { at, .. } => vec![*at],
            Self::Spread { ends, .. } => ends.to_vec(),
            Self::Couple { .. } => Vec::new(),
        }
    }
}

/// The axis that points up.
fn up(space: Space) -> usize {
    if space == Space::Planar { 1 } else { 2 }
}

/// One load, or more where the reactions are asked for.
pub(super) fn loads(
    random: &mut Random,
    body: &Body,
    supports: &[GridSupport],
    topic: Topic,
    level: Level,
) -> Vec<GridLoad> {
    // A load at a support says little; where every point is held it has to.
    let is_held = |cell: &GridPoint| supports.iter().any(|support| support.at == *cell);
    let mut places: Vec<GridPoint> = body
        .anchors
        .iter()
        .copied()
        .filter(|cell| !is_held(cell))
        .collect();
    if places.is_empty() {
        places.clone_from(&body.anchors);
    }
    let up = up(body.space);
    let size = |random: &mut Random| random.pick(&[100, 150, 200, 240, 300, 360, 400, 500, 600]);
    let often = if topic == Topic::Reactions { 2 } else { 6 };
    let spread = match random.chance(1, often) {
        true => spread(random, body, level),
        false => None,
    };
    let mut loads = vec![spread.unwrap_or_else(|| {
        let mut weight = [0; 3];
        weight[up] = -size(random);
        GridLoad::Force {
            at: random.pick(&places),
            force: weight,
        }
    })];
    if topic == Topic::Reactions || random.chance(1, 3) {
        let mut force = [0; 3];
        let sideways = random.below(up);
        force[sideways] = size(random) * if random.chance(1, 2) { 1 } else { -1 };
        loads.push(GridLoad::Force {
            at: random.pick(&places),
            force,
        });
    }
    if level > Level::Easy && random.chance(1, 5) {
        let mut moment = [0; 3];
        moment[if up == 1 { 2 } else { random.below(3) }] =
            random.pick(&[20, 40, 60, 80, -30, -50]);
        places.retain(|cell| !loads.iter().any(|load| load.covers(*cell)));
        let at = (!places.is_empty()).then(|| random.pick(&places));
        loads.push(GridLoad::Couple { moment, at });
    }
    loads
}

/// A load along a leg, downwards or from the side, even or falling to zero; none where the body has no legs.
fn spread(random: &mut Random, body: &Body, level: Level) -> Option<GridLoad> {
    if body.legs.is_empty() {
        return None;
    }
    let up = up(body.space);
    let [from, to] = random.pick(&body.legs);
    let run = [0, 1, 2].map(|axis| to[axis] - from[axis]);
    // A load along its own leg is one force.
    let across = |axis: usize| (0..3).any(|other| other != axis && run[other] != 0);
    let sideways: Vec<usize> = (0..up).filter(|axis| across(*axis)).collect();
    let down = across(up) && (sideways.is_empty() || random.chance(2, 3));
    let mut density = [0; 3];
    let size = random.pick(&[100, 200, 300, 400]);
    if down {
        density[up] = -size;
    } else {
        density[random.pick(&sideways)] = size * if random.chance(1, 2) { 1 } else { -1 };
    }
    // The centroid of a triangle is to lie on the grid.
    let in_thirds = run.iter().all(|part| part % 3 == 0);
    let falls = level > Level::Easy && in_thirds && random.chance(1, 2);
    Some(match (falls, random.chance(1, 2)) {
        (false, _) => GridLoad::Spread {
            ends: [from, to],
            densities: [density; 2],
        },
        (true, turned) => GridLoad::Spread {
            ends: if turned { [to, from] } else { [from, to] },
            densities: [[0; 3], density],
        },
    })
}

/// Adds loads to a scene, and a name for each point at which they act.
pub(super) fn add_loads(loads: &[GridLoad], scene: &mut Scene) {
    let mut letters = ["P", "Q", "S"].into_iter();
    for load in loads {
        let mut place = |cell: GridPoint, scene: &mut Scene| {
            let at = coordinates(cell, scene.space);
            Place::Named(name(at, &mut letters, scene))
        };
        let space = scene.space;
        let load = match load {
            GridLoad::Force { at, force } => Load::Force {
                at: place(*at, scene),
                force: ForceVector::Components(vector(*force, space)),
            },
            GridLoad::Spread {
                ends: [from, to],
                densities: [start, end],
            } => Load::Distributed {
                from: place(*from, scene),
                to: place(*to, scene),
                start: vector(*start, space),
                end: (start != end).then(|| vector(*end, space)),
            },
            GridLoad::Couple { moment, at } => Load::Couple {
                moment: match space {
                    Space::Planar => Moment::Plane(f64::from(moment[2])),
                    Space::Spatial => Moment::Space(moment.map(f64::from)),
                },
                at: at.map(|cell| Place::At(coordinates(cell, space))),
            },
        };
        scene.loads.push(load);
    }
}

/// The name of a point, which it gets where it has none.
fn name(
    at: Coordinates,
    letters: &mut impl Iterator<Item = &'static str>,
    scene: &mut Scene,
) -> String {
    if let Some(point) = scene.points.iter().find(|point| point.at == at) {
        return point.name.clone();
    }
    let name = letters.next().unwrap_or("T").to_owned();
    scene.points.push(NamedPoint {
        name: name.clone(),
        at,
    });
    name
}

#[cfg(test)]
mod tests {
    use super::super::body;
    use super::*;
    use crate::statics::CaseIndex;
    use crate::statics::Model;

    #[test]
    fn couples_stand_clear_of_other_loads() {
        let mut random = Random::new(9);
        let mut placed = 0;
        for _ in 0..600 {
            let body = body::planar(&mut random);
            let loads = loads(&mut random, &body, &[], Topic::Reactions, Level::Middle);
            if let Some(GridLoad::Couple { at: Some(at), .. }) = loads.last() {
                assert!(loads.iter().all(|load| !load.covers(*at)), "{loads:?}");
                placed += 1;
            }
        }
        assert!(placed > 50, "{placed}");
        let row = GridLoad::Spread {
            ends: [[6, 8, 0], [0, 0, 0]],
            densities: [[0, -100, 0]; 2],
        };
        assert!(row.covers([3, 4, 0]) && row.covers([0; 3]));
        assert!(!row.covers([9, 12, 0]) && !row.covers([3, 3, 0]));
    }

    /// Whole numbers of newtons through points of the grid: nothing that a pupil would have to round.
    #[test]
    fn spread_loads_have_round_resultants_on_the_body() {
        let mut random = Random::new(8);
        let (mut even, mut falling) = (0, 0);
        for round in 0..600 {
            let body = match round % 2 {
                0 => body::planar(&mut random),
                _ => body::spatial(&mut random),
            };
            let Some(load) = spread(&mut random, &body, Level::Hard) else {
                assert!(body.legs.is_empty());
                continue;
            };
            let mut scene = Scene {
                space: body.space,
                body: body.shapes.clone(),
                ..Scene::default()
            };
            add_loads(&[load], &mut scene);
            let model = Model::new(&scene).unwrap();
            let resultants = model.cases[CaseIndex::FIRST].loads[0].resultants();
            assert_eq!(resultants.len(), 1);
            let is_whole = |x: f64| (x - x.round()).abs() < 1e-9;
            assert!(is_whole(resultants[0].force.norm()), "{load:?}");
            // Middles of legs of an odd number of tenths lie on twentieths.
            assert!(
                resultants[0].at.iter().all(|x| is_whole(x * 20.0)),
                "{load:?}"
            );
            match load {
                GridLoad::Spread {
                    densities: [a, b], ..
                } if a == b => even += 1,
                _ => falling += 1,
            }
        }
        assert!(even > 100 && falling > 10, "{even} {falling}");
    }
}
