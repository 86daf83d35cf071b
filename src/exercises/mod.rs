//! Exercises: different problems with round numbers, each with its proven answer, as sheets with keys.
//!
//! Arrangements of supports are drawn at random on a grid and kept where the exact rank says what is asked for. All
//! decisions come from whole numbers, exact ranks, and singular values computed with basic arithmetic and square
//! roots alone, so that a seed gives the same sheet on every machine.

mod acceptance;
mod arrangement;
mod body;
mod fit;
mod gathering;
mod grid_load;
mod grid_support;
mod near_miss;
mod pages;
mod random;
mod signature;

pub use near_miss::NearMiss;
pub use pages::{Figures, key, questions};
pub use signature::Signature;

use thiserror::Error;

use crate::scene::Space;
use crate::study::Study;
use random::Random;

/// What problems are about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Topic {
    /// Reactions enough, but so placed that the body is not held.
    Improper,
    /// Too few reactions.
    Partial,
    /// Held, with statically indeterminate reactions.
    Redundant,
    /// Held, and statically determinate.
    Determinate,
    /// The same, with every reaction to be computed.
    Reactions,
    /// Held, but by one support that just misses the axis that all others leave free.
    NearMiss,
}

impl Topic {
    /// The topics of a mixed sheet, in their order: all but [`Self::NearMiss`], which comes on request alone.
    pub const MIXED: [Self; 5] = [
        Self::Determinate,
        Self::Improper,
        Self::Partial,
        Self::Redundant,
        Self::Reactions,
    ];
}

/// How demanding a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Level {
    /// In the plane, along the axes.
    Easy,
    /// In the plane and askew, or in space along the axes.
    Middle,
    /// In space and askew, with couples.
    Hard,
}

/// What a sheet is to have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetSettings {
    /// Topics that problems take in turn; at least one.
    pub topics: Vec<Topic>,
    /// How many problems, 1 to [`MOST_PROBLEMS`].
    pub count: usize,
    /// Equal seeds give equal sheets.
    pub seed: u64,
    /// How demanding all problems are; `None` begins easily and ends hard.
    pub level: Option<Level>,
}

/// The most problems of one sheet.
pub const MOST_PROBLEMS: usize = 200;

/// Problems with what is needed to write them down.
#[derive(Debug, Clone)]
pub struct ExerciseSheet {
    /// The problems, in order.
    pub problems: Vec<Exercise>,
}

/// A problem.
#[derive(Debug, Clone)]
pub struct Exercise {
    /// What it is about.
    pub topic: Topic,
    /// How demanding it is.
    pub level: Level,
    /// The scene with its answer, proven by equal exact and numeric rank.
    pub study: Study,
    /// What it just misses; of a near miss alone.
    pub near: Option<NearMiss>,
    /// The arrangement, apart from its lengths.
    pub signature: Signature,
}

/// Why a sheet could not be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum SheetError {
    /// Out of range.
    #[error("a sheet has 1 to {MOST_PROBLEMS} problems; {0} were asked for")]
    Count(usize),
    /// The generator found no further problem unlike those it had.
    #[error(
        "only {found} different problems were found; ask for fewer, more topics, or all levels"
    )]
    TooAlike {
        /// How many it found.
        found: usize,
    },
}

/// Arrangements that are tried for one problem.
const MOST_TRIES: usize = 20_000;

impl ExerciseSheet {
    /// Makes a sheet.
    ///
    /// # Errors
    /// [`SheetError`] for a count out of range, or where not enough different problems are found.
    ///
    /// # Panics
    /// Without any topic.
    pub fn new(settings: &SheetSettings) -> Result<Self, SheetError> {
        Self::drawn(settings, || {})
    }

    /// The same, and says of every problem when it is there.
    ///
    /// # Errors
    /// As [`ExerciseSheet::new`].
    ///
    /// # Panics
    /// As [`ExerciseSheet::new`].
    pub fn drawn(settings: &SheetSettings, mut each: impl FnMut()) -> Result<Self, SheetError> {
        if !(1..=MOST_PROBLEMS).contains(&settings.count) {
            return Err(SheetError::Count(settings.count));
        }
        let mut random = Random::new(settings.seed);
        let mut problems: Vec<Exercise> = Vec::with_capacity(settings.count);
        let order = order(settings);
        for (index, topic) in order.into_iter().enumerate() {
            let level = settings
                .level
                .unwrap_or_else(|| rising(index, settings.count));
            let problem = problem(&mut random, topic, level, &problems);
            problems.push(problem.ok_or(SheetError::TooAlike { found: index })?);
            each();
        }
        Ok(Self { problems })
    }
}

/// Topics in an order that the seed determines, so that a problem's number does not give its answer away; each as often
/// as the others, give or take one.
fn order(settings: &SheetSettings) -> Vec<Topic> {
    // Numbers of its own, so that the problems of a sheet on one topic do not depend on it.
    let mut random = Random::new(settings.seed ^ ORDER);
    let topics = settings.topics.iter().cycle();
    let mut order: Vec<Topic> = topics.take(settings.count).copied().collect();
    for last in (1..order.len()).rev() {
        order.swap(last, random.below(last + 1));
    }
    order
}

/// Tells the numbers that order a sheet from those that its problems are drawn by.
const ORDER: u64 = 0x6f72_6465_7200_0000;

/// The first third is easy, the last hard.
fn rising(index: usize, count: usize) -> Level {
    [Level::Easy, Level::Middle, Level::Hard][index * 3 / count]
}

/// A problem unlike those before.
fn problem(
    random: &mut Random,
    topic: Topic,
    level: Level,
    before: &[Exercise],
) -> Option<Exercise> {
    (0..MOST_TRIES).find_map(|_| {
        let drawn = arrangement::arrangement(random, topic, level);
        let signature = Signature::of(&drawn);
        if before.iter().any(|other| other.signature == signature) {
            return None;
        }
        let (study, near) = match topic {
            Topic::NearMiss => {
                let (study, near) = near_miss::missed(random, &drawn)?;
                (study, Some(near))
            }
            _ => (acceptance::accepted(drawn.scene(), topic)?, None),
        };
        Some(Exercise {
            topic,
            level,
            study,
            near,
            signature,
        })
    })
}

impl Exercise {
    /// Whether it is in the plane.
    pub fn is_planar(&self) -> bool {
        self.study.scene().space == Space::Planar
    }
}
