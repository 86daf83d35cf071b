//! Problems that miss being improper by little: an improper arrangement, one support of which is set a little aside.

use super::arrangement::Arrangement;
use super::body::GridPoint;
use super::random::Random;
use super::{Topic, acceptance};
use crate::scene::Scene;
use crate::statics::{Miss, MotionIndex, MotionKind, Placement, SupportIndex, Tolerance};
use crate::study::Study;

/// A scene that a problem just misses, with how it misses it.
#[derive(Debug, Clone)]
pub struct NearMiss {
    /// How far which reaction misses the axis of the motion.
    pub miss: Miss,
    /// The improper scene, whose shared axis is the one that is missed: the same but for one support.
    pub improper: Study,
    /// Index of the support that stands elsewhere in it.
    pub support: SupportIndex,
}

/// How far each support of these problems may stand from where it is written, m.
const TOLERANCE: f64 = 0.05;
/// A miss is at most this, and never near it: an odd number of metres.
const NEAR: f64 = 0.0307;
/// How far a support is set aside, in hundredths of a metre.
const ASIDE: [i32; 3] = [3, 2, 1];
/// Misses and their arms are whole numbers of millimetres to this part of one.
const ROUND: f64 = 1e-6;

/// A near miss of an arrangement, the first of those that set one support aside; `None` where the
/// arrangement is not improper about one axis, or nothing comes near it.
pub(super) fn missed(random: &mut Random, drawn: &Arrangement) -> Option<(Study, NearMiss)> {
    let improper = acceptance::accepted(scene(drawn), Topic::Improper)?;
    let diagnosis = improper.diagnosis();
    let motions = improper.model().space.motions();
    let turns = diagnosis.counts.freedom == 1
        && diagnosis.counts.unknowns == motions
        && diagnosis.free_motions[MotionIndex::FIRST].kind == MotionKind::Rotation;
    if !turns {
        return None;
    }
    let mut ways = ways(drawn);
    while !ways.is_empty() {
        let (support, off) = ways.swap_remove(random.below(ways.len()));
        let mut aside = drawn.clone();
        aside.supports[support].off = off;
        let support = SupportIndex::new(support);
        let near = acceptance::accepted(scene(&aside), Topic::NearMiss)
            .and_then(|study| Some((near_miss(&study, support)?, study)));
        if let Some((miss, study)) = near {
            let near = NearMiss {
                miss,
                improper,
                support,
            };
            return Some((study, near));
        }
    }
    None
}

fn scene(drawn: &Arrangement) -> Scene {
    Scene {
        placement_tolerance: Some(TOLERANCE),
        ..drawn.scene()
    }
}

/// Supports of one force that can be set aside, with the way: apart from loads and other supports, and not off the end
/// of the body.
fn ways(drawn: &Arrangement) -> Vec<(usize, GridPoint)> {
    let space = drawn.body.space;
    let axes = if space.motions() == 3 { 2 } else { 3 };
    let mut ways = Vec::new();
    for (index, support) in drawn.supports.iter().enumerate() {
        let others = drawn.supports.iter().filter(|other| other.at == support.at);
        let loaded = drawn
            .loads
            .iter()
            .any(|load| load.places().contains(&support.at));
        if support.kind.unknowns(space) != 1 || others.count() > 1 || loaded {
            continue;
        }
        for axis in 0..axes {
            let along = drawn.body.anchors.iter().map(|cell| cell[axis]);
            let (least, most) = (along.clone().min(), along.max());
            for by in ASIDE.into_iter().flat_map(|by| [by, -by]) {
                let outwards = if by < 0 { least } else { most };
                if outwards != Some(support.at[axis]) {
                    let mut off = [0; 3];
                    off[axis] = by;
                    ways.push((index, off));
                }
            }
        }
    }
    ways
}

/// The miss of a support's one reaction, if it is small and round, and within the tolerance the body is not held.
fn near_miss(study: &Study, support: SupportIndex) -> Option<Miss> {
    let model = study.model();
    let reaction = model.supports[support].reactions.lowest()?;
    let miss = Miss::of(model, reaction, Tolerance::default())?;
    let is_round = |length: f64| {
        let millimetres = length * 1000.0;
        (millimetres - millimetres.round()).abs() < ROUND
    };
    if miss.distance > NEAR || !is_round(miss.distance) || !is_round(miss.arm) {
        return None;
    }
    let nearness = study.nearness()?;
    let alone = nearness.alone[support].as_ref()?.estimate?.norm();
    (alone < NEAR && nearness.placement == Some(Placement::NearImproper)).then_some(miss)
}
