//! Shares of a sweep: which placements belong to one, what it found as a file, and how shares become the whole again.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use super::Sweep;
use super::settings::SweepSettings;
use super::tally::SweepTally;
use crate::scene;

/// Version of the form of a share.
const FORMAT: u32 = 2;

/// One of several shares of a sweep, all nearly alike in size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SweepPart {
    /// Which, from 1.
    pub number: u64,
    /// Of how many.
    pub of: u64,
}

impl SweepPart {
    /// The only share of an undivided sweep.
    pub const WHOLE: Self = Self { number: 1, of: 1 };

    /// The numbers of its placements, of so many.
    pub fn placements(self, count: u64) -> Range<u64> {
        let before = |parts: u64| {
            let product = u128::from(count) * u128::from(parts) / u128::from(self.of);
            // At most the count itself.
            u64::try_from(product).unwrap_or(count)
        };
        before(self.number - 1)..before(self.number)
    }

    fn is_sound(self) -> bool {
        (1..=self.of).contains(&self.number)
    }
}

impl std::fmt::Display for SweepPart {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}/{}", self.number, self.of)
    }
}

/// What a share found, with all that has to agree among the shares of a sweep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SweepShare {
    sixhold_sweep: u32,
    /// The scene, as the program writes it.
    pub scene: String,
    /// The load case that is swept alone; `None` where all are.
    pub case: Option<String>,
    /// How the whole sweep is made.
    pub settings: SweepSettings,
    /// Which share it is.
    pub part: SweepPart,
    /// What was found.
    pub tally: SweepTally,
}

/// Shares that are not one sweep.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum JoinError {
    /// There is none.
    #[error("there is no share to join")]
    NoShare,
    /// A file that no sweep has written.
    #[error("{file}:{line}:{column}: this is no share of a sweep ({why})")]
    Unreadable {
        /// Name of the file.
        file: String,
        /// Where, from 1.
        line: usize,
        /// Where, from 1.
        column: usize,
        /// What is wrong.
        why: String,
    },
    /// Written by another version.
    #[error("{file}: a share of format {found}, and this program joins format {FORMAT}")]
    Format {
        /// Name of the file.
        file: String,
        /// Its format.
        found: u32,
    },
    /// Shares of two sweeps.
    #[error("{file} and {first} do not belong together: they differ in {what}")]
    Different {
        /// Name of the file.
        file: String,
        /// Name of the first.
        first: String,
        /// In what.
        what: &'static str,
    },
    /// One share twice.
    #[error("{file} and {first} are the same share, {part}")]
    Twice {
        /// Name of the file.
        file: String,
        /// The other.
        first: String,
        /// Which share.
        part: SweepPart,
    },
    /// A share that was stopped.
    #[error("{file}: share {part} was stopped after {done} of {all} placements")]
    Stopped {
        /// Name of the file.
        file: String,
        /// Which share.
        part: SweepPart,
        /// How many placements it has.
        done: u64,
        /// How many it should have.
        all: u64,
    },
    /// Shares that nobody gave.
    #[error("{count} of {of} shares are missing: {listed}")]
    Missing {
        /// How many.
        count: u64,
        /// Of how many.
        of: u64,
        /// The first of them.
        listed: String,
    },
}

impl JoinError {
    /// What to try.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::NoShare => {
                "name the files that `sixhold sweep --part K/N --share FILE` has written"
            }
            Self::Unreadable { .. } => {
                "name files that `sixhold sweep --share FILE` has written, whole ones"
            }
            Self::Format { .. } => {
                "make all shares with the version of the program that joins them"
            }
            Self::Different { .. } => {
                "make every share from the same scene with the same options, but for --part"
            }
            Self::Twice { .. } => "name each share once",
            Self::Stopped { .. } => "make this share again and let it come to its end",
            Self::Missing { .. } => "make the missing shares, or name their files, too",
        }
    }
}

/// Missing shares that are listed.
const LISTED: usize = 8;

impl SweepShare {
    /// What a sweep found in one share.
    pub fn new(sweep: &Sweep, part: SweepPart, tally: SweepTally) -> Self {
        let model = sweep.study.model();
        Self {
            sixhold_sweep: FORMAT,
            scene: scene::to_ron(sweep.study.scene()),
            case: sweep.case.map(|case| model.cases[case].name.clone()),
            settings: sweep.settings.clone(),
            part,
            tally,
        }
    }

    /// Its form as a file.
    ///
    /// # Errors
    /// Only for a bug of ours: every field has a JSON form.
    pub fn to_json(&self) -> serde_json::Result<String> {
        Ok(serde_json::to_string(self)? + "\n")
    }

    /// Reads such a file.
    ///
    /// # Errors
    /// A [`JoinError`] where it is none.
    pub fn read(file: &str, text: &str) -> Result<Self, JoinError> {
        let share: Self = serde_json::from_str(text).map_err(|error| JoinError::Unreadable {
            file: file.to_owned(),
            line: error.line(),
            column: error.column(),
            why: error.to_string(),
        })?;
        if share.sixhold_sweep != FORMAT {
            return Err(JoinError::Format {
                file: file.to_owned(),
                found: share.sixhold_sweep,
            });
        }
        if !share.part.is_sound() {
            return Err(JoinError::Unreadable {
                file: file.to_owned(),
                line: 1,
                column: 1,
                why: format!("there is no share {}", share.part),
            });
        }
        Ok(share)
    }

    /// How many placements it should have.
    pub fn size(&self) -> u64 {
        let placements = self.part.placements(self.settings.count);
        placements.end - placements.start
    }

    /// The whole of a sweep from all of its shares, each with the name of its file, in whatever order.
    ///
    /// # Errors
    /// A [`JoinError`] where they are not all shares of one sweep.
    pub fn joined(mut shares: Vec<(String, Self)>) -> Result<Self, JoinError> {
        shares.sort_by_key(|(_, share)| share.part);
        let Some((first, whole)) = shares.first() else {
            return Err(JoinError::NoShare);
        };
        for (file, share) in &shares {
            whole.check_alike(first, file, share)?;
            if share.tally.placements != share.size() {
                return Err(JoinError::Stopped {
                    file: file.clone(),
                    part: share.part,
                    done: share.tally.placements,
                    all: share.size(),
                });
            }
        }
        for pair in shares.windows(2) {
            if let [(first, one), (file, other)] = pair
                && one.part == other.part
            {
                return Err(JoinError::Twice {
                    file: file.clone(),
                    first: first.clone(),
                    part: one.part,
                });
            }
        }
        missing(&shares, whole.part.of)?;
        let mut joined = whole.clone();
        joined.part = SweepPart::WHOLE;
        for (_, share) in &shares[1..] {
            joined.tally.merge(&share.tally);
        }
        Ok(joined)
    }

    fn check_alike(&self, first: &str, file: &str, other: &Self) -> Result<(), JoinError> {
        let (own, others) = (&self.settings, &other.settings);
        let sizes = |share: &Self| {
            let cases = share.tally.cases.iter();
            cases.map(|case| case.reactions.len()).collect::<Vec<_>>()
        };
        let differences = [
            ("the scene", self.scene != other.scene),
            ("the load case", self.case != other.case),
            ("the count of placements", own.count != others.count),
            ("the seed", own.seed != others.seed),
            ("the distribution", own.distribution != others.distribution),
            ("the tolerances", own.tolerances != others.tolerances),
            ("the reach", own.reach != others.reach),
            ("the number of shares", self.part.of != other.part.of),
            ("the reactions", sizes(self) != sizes(other)),
        ];
        match differences.iter().find(|(_, differs)| *differs) {
            Some((what, _)) => Err(JoinError::Different {
                file: file.to_owned(),
                first: first.to_owned(),
                what,
            }),
            None => Ok(()),
        }
    }
}

/// Fails unless there are as many shares as there should be; they are sorted and none is there twice.
fn missing(shares: &[(String, SweepShare)], of: u64) -> Result<(), JoinError> {
    let count = of - shares.len() as u64;
    if count == 0 {
        return Ok(());
    }
    let mut there = shares.iter().map(|(_, share)| share.part.number).peekable();
    let absent = (1..=of).filter(|number| there.next_if_eq(number).is_none());
    let first: Vec<String> = absent
        .take(LISTED)
        .map(|number| number.to_string())
        .collect();
    let more = count - first.len() as u64;
    Err(JoinError::Missing {
        count,
        of,
        listed: match more {
            0 => first.join(", "),
            more => format!("{} and {more} more", first.join(", ")),
        },
    })
}
