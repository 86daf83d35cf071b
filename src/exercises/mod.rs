//! Exercises: different problems with round numbers, each with its proven answer, as sheets with keys.
//!
//! Arrangements of supports are drawn at random on a grid and kept where the exact rank says what is asked for. All
//! decisions come from whole numbers, exact ranks, and singular values computed with basic arithmetic and square
//! roots alone, so that a seed gives the same sheet on every machine.

mod acceptance;
mod arrangement;
mod body;
mod choice;
mod fit;
mod gathering;
mod grid_load;
mod grid_support;
mod hints;
mod masthead;
mod near_miss;
mod pages;
mod quiz;
mod random;
mod signature;
mod topic;
mod units;
mod variant;

pub use choice::{ExerciseChoice, SUPPORT_WORDS};
pub use masthead::Masthead;
pub use near_miss::NearMiss;
pub use pages::{Figures, answers, key, questions};
pub use quiz::Quiz;
pub use signature::Signature;
pub use topic::{Topic, TopicWords};

use thiserror::Error;

use crate::scene::Space;
use crate::study::Study;
use arrangement::Arrangement;
use random::Random;
use signature::Share;

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
    /// What else problems are chosen by.
    pub choice: ExerciseChoice,
}

/// The most problems of one sheet.
pub const MOST_PROBLEMS: usize = 200;

/// Problems with what is needed to write them down.
#[derive(Debug, Clone)]
pub struct ExerciseSheet {
    /// The problems, in order.
    pub problems: Vec<Exercise>,
    /// What stands above them.
    pub masthead: Masthead,
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
    /// The arrangement with them.
    drawn: Arrangement,
}

/// Why a sheet could not be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum SheetError {
    /// Out of range.
    #[error("a sheet has 1 to {MOST_PROBLEMS} problems; {0} were asked for")]
    Count(usize),
    /// A near miss is counted in centimetres.
    #[error("near misses come in metres and newtons only")]
    NearInFeet,
    /// The generator found no further problem unlike those it had.
    #[error(
        "only {found} different problems were found; ask for fewer, more topics, all levels, or a wider choice"
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
        if settings.choice.is_us && settings.topics.contains(&Topic::NearMiss) {
            return Err(SheetError::NearInFeet);
        }
        let mut random = Random::new(settings.seed);
        let mut problems: Vec<Exercise> = Vec::with_capacity(settings.count);
        let order = order(settings);
        for (index, topic) in order.into_iter().enumerate() {
            let level = settings
                .level
                .unwrap_or_else(|| rising(index, settings.count));
            let problem = problem(&mut random, topic, level, settings, &problems);
            problems.push(problem.ok_or(SheetError::TooAlike { found: index })?);
            each();
        }
        Ok(Self {
            problems,
            masthead: Masthead::default(),
        })
    }

    /// The same problems with other numbers, mirrored from left to right: as demanding, and no help to a neighbour.
    ///
    /// # Errors
    /// [`SheetError::TooAlike`] where a problem has no other numbers that are as clear.
    pub fn varied(&self, settings: &SheetSettings) -> Result<Self, SheetError> {
        let mut random = Random::new(settings.seed ^ OTHERS);
        let problems = self.problems.iter().enumerate();
        let varied = problems.map(|(index, problem)| {
            let varied = problem.varied(&mut random, &settings.choice);
            varied.ok_or(SheetError::TooAlike { found: index })
        });
        Ok(Self {
            problems: varied.collect::<Result<_, _>>()?,
            masthead: self.masthead.clone(),
        })
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

/// Tells the numbers that variants are drawn by from those of the problems.
const OTHERS: u64 = 0x6f74_6865_7273_0000;

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
    settings: &SheetSettings,
    before: &[Exercise],
) -> Option<Exercise> {
    let choice = &settings.choice;
    let is_mixed = settings.topics.len() > 1;
    (0..MOST_TRIES).find_map(|_| {
        let drawn = choice.arrangement(random, topic, level)?;
        let signature = topic.signature(&drawn);
        let share = Share::of(&drawn);
        let is_new = before.iter().all(|other| other.signature != signature);
        if !is_new || share.is_mixed != is_mixed || !topic.owns(share) {
            return None;
        }
        let (study, near) = accepted(random, &drawn, topic, choice)?;
        Some(Exercise {
            topic,
            level,
            study,
            near,
            signature,
            drawn,
        })
    })
}

/// The study of an arrangement that fits the topic, and what it just misses.
fn accepted(
    random: &mut Random,
    drawn: &Arrangement,
    topic: Topic,
    choice: &ExerciseChoice,
) -> Option<(Study, Option<NearMiss>)> {
    match topic {
        Topic::NearMiss => {
            let (study, near) = near_miss::missed(random, drawn)?;
            Some((study, Some(near)))
        }
        _ => Some((acceptance::accepted(choice.scene(drawn), topic)?, None)),
    }
}

impl Topic {
    /// What makes two problems alike: a near miss is another problem than what it is drawn from.
    fn signature(self, drawn: &Arrangement) -> Signature {
        match self {
            Self::NearMiss => Signature::of(drawn).of_a_near_miss(),
            _ => Signature::of(drawn),
        }
    }

    /// Whether arrangements of a share are this topic's: where the rank does not tell two topics apart, each arrangement
    /// belongs to one of them, so that sheets on different topics have no problem in common.
    fn owns(self, share: Share) -> bool {
        match self {
            Self::Determinate | Self::Improper => share.is_first,
            // A near miss is drawn as what it misses.
            Self::Reactions | Self::NearMiss => !share.is_first,
            Self::Partial | Self::Redundant => true,
        }
    }
}

/// Other numbers that are tried for one problem.
const MOST_VARIANTS: usize = 200;

impl Exercise {
    /// The same arrangement with other numbers; `None` where none are found that are as clear.
    fn varied(&self, random: &mut Random, choice: &ExerciseChoice) -> Option<Self> {
        (0..MOST_VARIANTS).find_map(|_| {
            let drawn = variant::other(random, &self.drawn);
            let (study, near) = accepted(random, &drawn, self.topic, choice)?;
            Some(Self {
                study,
                near,
                signature: self.topic.signature(&drawn),
                drawn,
                ..self.clone()
            })
        })
    }

    /// Whether it is in the plane.
    pub fn is_planar(&self) -> bool {
        self.study.scene().space == Space::Planar
    }
}
