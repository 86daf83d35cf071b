//! What a careful reader must know besides verdict and reason.

use super::name::{counted, listed, listed_briefly};
use super::phrase::{Operator, Phrase, phrase};
use crate::scene::SupportKind;
use crate::statics::{Counts, Diagnosis, ExactRank, Model, OtherReading, Sense, Symbol};

/// Sentences on redundancy, one-way supports, the other reading of hinges and bearings, and the two ranks; often none.
pub fn remarks(model: &Model, diagnosis: &Diagnosis) -> Vec<Phrase> {
    let counts = &diagnosis.counts;
    let redundancy =
        (counts.redundancy > 0 && !diagnosis.is_held()).then(|| surplus(counts.redundancy));
    let reading = other_couples(model, diagnosis);
    let rounded = (!diagnosis.exact.as_written).then(|| {
        "Some directions are given by angles that no finite decimal represents exactly: the exact rank is that \
         of the rounded directions."
            .into()
    });
    [
        redundancy,
        one_way(model),
        reading,
        rounded,
        ranks(diagnosis),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// `One reaction is redundant (n − r = 1).`
fn surplus(redundancy: usize) -> Phrase {
    phrase!(
        counted(redundancy, "reaction"),
        " ",
        are_redundant(redundancy)
    )
    .sentence()
}

/// `are redundant (n − r = 2)`, after so many reactions.
pub(super) fn are_redundant(redundancy: usize) -> Phrase {
    phrase!(
        if redundancy == 1 { "is" } else { "are" },
        " redundant (",
        Symbol::plain("n"),
        Operator::Minus,
        Symbol::plain("r"),
        Operator::Equals,
        redundancy,
        ")"
    )
}

/// The count takes contacts and cables as if they held both ways.
fn one_way(model: &Model) -> Option<Phrase> {
    let named = |sense| -> Vec<Phrase> {
        let reactions = model.reactions.iter().filter(|r| r.sense == sense);
        reactions
            .map(|reaction| Phrase::from(&reaction.symbol))
            .collect()
    };
    let (push, pull) = (named(Sense::Push), named(Sense::Pull));
    let only = |names: &[Phrase], what| phrase!(listed_briefly(names), " can only ", what);
    let who = match (push.is_empty(), pull.is_empty()) {
        (true, true) => return None,
        (false, true) => only(&push, "push"),
        (true, false) => only(&pull, "pull"),
        (false, false) => phrase!(only(&push, "push"), " and ", only(&pull, "pull")),
    };
    let are = if push.len() + pull.len() == 1 {
        "is"
    } else {
        "are"
    };
    Some(phrase!(
        who,
        ", but ",
        are,
        " treated here as two-way (bilateral)."
    ))
}

/// What the count is with the other reading of hinges and bearings about their couples; `None` where none has a choice.
pub fn other_couples(model: &Model, diagnosis: &Diagnosis) -> Option<Phrase> {
    let other = diagnosis.other_reading.as_ref()?;
    Some(other_reading(model, other))
}

fn other_reading(model: &Model, other: &OtherReading) -> Phrase {
    let (now, then) = if other.with_couples {
        ("without", "with")
    } else {
        ("with", "without")
    };
    let (is, their) = if other.supports.len() == 1 {
        ("is", "its")
    } else {
        ("are", "their")
    };
    let square = model.supports.iter().any(|support| {
        matches!(support.kind, SupportKind::SquareJournal { .. })
            && other.supports.contains(&support.name)
    });
    // A square shaft does not turn either way.
    let which = if square {
        "reaction couples perpendicular to the shaft"
    } else {
        "reaction couples"
    };
    let names: Vec<Phrase> = other.supports.iter().map(Phrase::name).collect();
    phrase!(
        listed(&names),
        " ",
        is,
        " modelled ",
        now,
        " ",
        their,
        " ",
        which,
        "; ",
        then,
        " them ",
        numbers(&other.counts),
        "."
    )
}

fn numbers(counts: &Counts) -> Phrase {
    phrase!(
        Symbol::plain("n"),
        Operator::Equals,
        counts.unknowns,
        ", ",
        Symbol::plain("r"),
        Operator::Equals,
        counts.rank,
        ": ",
        counted(counts.freedom, "degree"),
        " of freedom, redundancy ",
        counts.redundancy
    )
}

fn ranks(diagnosis: &Diagnosis) -> Option<Phrase> {
    let (exact, numeric) = (diagnosis.exact.rank, diagnosis.counts.rank);
    if exact == numeric {
        return None;
    }
    let first = phrase!(
        "The decimals as written have rank ",
        exact,
        ", but the singular values give rank ",
        numeric
    );
    Some(if exact > numeric {
        phrase!(
            first,
            ": the difference is as small as a rounded decimal, such as 0.7071 for a square root, and provides no real support."
        )
    } else {
        phrase!(first, ": rounding hides an exact dependence.")
    })
}

/// What the exact rank is the rank of: `computed from the values as written`.
pub fn exactly_of(exact: &ExactRank) -> &'static str {
    if exact.as_written {
        "computed from the values as written"
    } else {
        "computed from the directions as rounded"
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    #[test]
    fn the_other_reading_of_couples_is_told() {
        let (model, diagnosis) = samples::hinged_hatch();
        assert_eq!(
            remarks(&model, &diagnosis),
            [
                "H is modelled with its reaction couples; without them n = 3, r = 3: three degrees of freedom, redundancy 0."
            ]
        );
    }

    #[test]
    fn redundancy_is_told_on_a_free_body() {
        let (model, diagnosis) = samples::two_ball_joints();
        assert_eq!(
            remarks(&model, &diagnosis),
            ["One reaction is redundant (n \u{2212} r = 1)."]
        );
    }

    #[test]
    fn ranks_that_differ_are_told() {
        let (model, mut diagnosis) = samples::two_ball_joints();
        diagnosis.exact.rank = 6;
        let said = remarks(&model, &diagnosis);
        assert!(
            said[1]
                .to_string()
                .starts_with("The decimals as written have rank 6"),
            "{said:?}"
        );
        diagnosis.exact.as_written = false;
        let said = remarks(&model, &diagnosis);
        assert!(
            said[1].to_string().ends_with("of the rounded directions."),
            "{said:?}"
        );
    }

    #[test]
    fn one_way_supports_are_told_and_a_pin_needs_no_remark() {
        let (model, diagnosis) = samples::simple_beam();
        assert_eq!(
            remarks(&model, &diagnosis),
            ["N_B can only push, but is treated here as two-way (bilateral)."]
        );
        let (model, diagnosis) = samples::swinging_beam();
        assert!(remarks(&model, &diagnosis).is_empty());
    }
}
