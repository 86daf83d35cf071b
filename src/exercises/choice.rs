//! What a lecturer may choose problems by: plane or space, kinds of support, number of unknowns, units.

use super::arrangement::{self, Arrangement};
use super::random::Random;
use super::{Level, Topic, units};
use crate::scene::{Scene, Space, SupportKind};

/// What problems are chosen by, besides topic and level.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ExerciseChoice {
    /// Plane or space; `None` leaves it to the level.
    pub space: Option<Space>,
    /// How many unknown reactions problems have; `None` leaves it to the topic.
    pub unknowns: Option<usize>,
    /// The kinds of support that may come, out of [`SUPPORT_WORDS`]; none allows all.
    pub supports: Vec<&'static str>,
    /// Feet and pounds instead of metres and newtons.
    pub is_us: bool,
}

/// The kinds of support of exercises, as a scene has them.
pub const SUPPORT_WORDS: [&str; 20] = [
    "BallJoint",
    "Hinge",
    "SlidingHinge",
    "ThrustBearing",
    "JournalBearing",
    "SquareJournal",
    "SmoothPin",
    "Slider",
    "UniversalJoint",
    "RailWheel",
    "Roller",
    "SmoothContact",
    "RoughContact",
    "Link",
    "Cable",
    "Fixed",
    "Pin",
    "Slot",
    "Collar",
    "Rocker",
];

/// Arrangements that are drawn until one is as chosen.
const MOST_DRAWN: usize = 400;

impl ExerciseChoice {
    /// An arrangement as chosen; `None` where none comes soon.
    pub(super) fn arrangement(
        &self,
        random: &mut Random,
        topic: Topic,
        level: Level,
    ) -> Option<Arrangement> {
        let mut draw = || match self.space {
            None => arrangement::arrangement(random, topic, level),
            Some(space) => {
                arrangement::arrangement_in(random, topic, level, space == Space::Planar)
            }
        };
        (0..MOST_DRAWN)
            .map(|_| draw())
            .find(|drawn| self.allows(drawn))
    }

    fn allows(&self, drawn: &Arrangement) -> bool {
        let space = drawn.body.space;
        let unknowns = drawn
            .supports
            .iter()
            .map(|support| support.kind.unknowns(space));
        let many = self
            .unknowns
            .is_none_or(|wanted| unknowns.sum::<usize>() == wanted);
        let mut kinds = drawn.supports.iter().map(|support| {
            let support = support.written(String::new(), space);
            word(&support.kind)
        });
        many && (self.supports.is_empty() || kinds.all(|kind| self.supports.contains(&kind)))
    }

    /// The scene of an arrangement, in the units that are chosen.
    pub(super) fn scene(&self, drawn: &Arrangement) -> Scene {
        let mut scene = drawn.scene();
        if self.is_us {
            units::in_feet_and_pounds(&mut scene);
        }
        scene
    }
}

/// The word of a kind that exercises have.
fn word(kind: &SupportKind) -> &'static str {
    match kind {
        SupportKind::BallJoint => "BallJoint",
        SupportKind::Hinge { .. } => "Hinge",
        SupportKind::SlidingHinge { .. } => "SlidingHinge",
        SupportKind::ThrustBearing { .. } => "ThrustBearing",
        SupportKind::JournalBearing { .. } => "JournalBearing",
        SupportKind::SquareJournal { .. } => "SquareJournal",
        SupportKind::SmoothPin { .. } => "SmoothPin",
        SupportKind::Slider { .. } => "Slider",
        SupportKind::UniversalJoint { .. } => "UniversalJoint",
        SupportKind::RailWheel { .. } => "RailWheel",
        SupportKind::Roller { .. } => "Roller",
        SupportKind::SmoothContact { .. } => "SmoothContact",
        SupportKind::RoughContact { .. } => "RoughContact",
        SupportKind::Link { .. } => "Link",
        SupportKind::Cable { .. } => "Cable",
        SupportKind::Fixed => "Fixed",
        SupportKind::AnchorPlate { .. } => "AnchorPlate",
        SupportKind::Pin => "Pin",
        SupportKind::Slot { .. } => "Slot",
        SupportKind::Collar { .. } => "Collar",
        SupportKind::Rocker { .. } => "Rocker",
    }
}
