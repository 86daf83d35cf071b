//! What problems are about, with the words for it.

/// What problems are about; [`TopicWords::about`] says what each is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
#[expect(missing_docs, reason = "`words` says it of each, for every output")]
pub enum Topic {
    Improper,
    Partial,
    Redundant,
    Determinate,
    Reactions,
    NearMiss,
}

/// The words for a topic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TopicWords {
    /// To ask for it by: `near-miss`.
    pub name: &'static str,
    /// What bodies on it have in common.
    pub about: &'static str,
    /// The title of a sheet on it.
    pub title: &'static str,
}

impl Topic {
    /// All topics.
    pub const ALL: [Self; 6] = [
        Self::Improper,
        Self::Partial,
        Self::Redundant,
        Self::Determinate,
        Self::Reactions,
        Self::NearMiss,
    ];

    /// The topics of a mixed sheet, in their order: all but [`Self::NearMiss`], which comes on request alone.
    pub const MIXED: [Self; 5] = [
        Self::Determinate,
        Self::Improper,
        Self::Partial,
        Self::Redundant,
        Self::Reactions,
    ];

    /// The words for it.
    pub const fn words(self) -> TopicWords {
        let (name, about, title) = match self {
            Self::Improper => (
                "improper",
                "Reactions enough, but so placed that the body is not held",
                "Improper constraints",
            ),
            Self::Partial => ("partial", "Too few reactions", "Partial constraints"),
            Self::Redundant => (
                "redundant",
                "Held, with statically indeterminate reactions",
                "Statically indeterminate supports",
            ),
            Self::Determinate => (
                "determinate",
                "Held, and statically determinate",
                "Statically determinate supports",
            ),
            Self::Reactions => (
                "reactions",
                "Held, and every reaction to be computed",
                "Support reactions",
            ),
            Self::NearMiss => (
                "near-miss",
                "Held, but by one support that misses a shared axis by three centimetres at most; never in a mixed sheet",
                "Nearly improper constraints",
            ),
        };
        TopicWords { name, about, title }
    }
}
