//! What a careful reader must know besides verdict and reason.

use super::name::{capitalised, listed, listed_briefly};
use super::reason::surplus;
use crate::scene::SupportKind;
use crate::statics::{Counts, Diagnosis, ExactRank, Model, OtherReading, Sense};

/// Sentences on redundancy, one-way supports, the other reading of hinges and bearings, and the two ranks; often none.
pub fn remarks(model: &Model, diagnosis: &Diagnosis) -> Vec<String> {
    let counts = &diagnosis.counts;
    let redundancy = (counts.redundancy > 0 && !diagnosis.is_held())
        .then(|| format!("{}.", capitalised(&surplus(counts.redundancy))));
    let reading = other_couples(model, diagnosis);
    let rounded = (!diagnosis.exact.as_written).then(|| {
        "Some directions are given by angles that no decimal writes exactly: the exact rank is that of \
         the angles as rounded."
            .to_owned()
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

/// The count takes contacts and cables as if they held both ways.
fn one_way(model: &Model) -> Option<String> {
    let named = |sense| -> Vec<&str> {
        let reactions = model.reactions.iter().filter(|r| r.sense == sense);
        reactions.map(|reaction| reaction.name.as_str()).collect()
    };
    let (push, pull) = (named(Sense::Push), named(Sense::Pull));
    let only = |names: &[&str], what| format!("{} can only {what}", listed_briefly(names));
    let who = match (push.is_empty(), pull.is_empty()) {
        (true, true) => return None,
        (false, true) => only(&push, "push"),
        (true, false) => only(&pull, "pull"),
        (false, false) => format!("{} and {}", only(&push, "push"), only(&pull, "pull")),
    };
    let are = if push.len() + pull.len() == 1 {
        "is"
    } else {
        "are"
    };
    Some(format!(
        "{who}, but {are} counted here as holding both ways."
    ))
}

/// What the count is with the other reading of hinges and bearings about their couples; `None` where none has a choice.
pub fn other_couples(model: &Model, diagnosis: &Diagnosis) -> Option<String> {
    let other = diagnosis.other_reading.as_ref()?;
    Some(other_reading(model, other))
}

fn other_reading(model: &Model, other: &OtherReading) -> String {
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
        "reaction couples across the shaft"
    } else {
        "reaction couples"
    };
    format!(
        "{} {is} taken {now} {their} {which}; {then} them {}.",
        listed(&other.supports),
        numbers(&other.counts)
    )
}

fn numbers(counts: &Counts) -> String {
    format!(
        "n = {}, r = {}, freedom {}, redundancy {}",
        counts.unknowns, counts.rank, counts.freedom, counts.redundancy
    )
}

fn ranks(diagnosis: &Diagnosis) -> Option<String> {
    let (exact, numeric) = (diagnosis.exact.rank, diagnosis.counts.rank);
    if exact == numeric {
        return None;
    }
    let first = format!(
        "The decimals as written have rank {exact}, but the singular values show rank {numeric}"
    );
    Some(if exact > numeric {
        format!(
            "{first}: the difference is as small as a rounded decimal, such as 0.7071 for a square root, \
             and does not hold anything."
        )
    } else {
        format!("{first}: rounding hides a dependence that is exact.")
    })
}

/// What the exact rank is the rank of: `of the decimals as written`.
pub fn exactly_of(exact: &ExactRank) -> &'static str {
    if exact.as_written {
        "of the decimals as written"
    } else {
        "of the directions as rounded"
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
                "H is taken with its reaction couples; without them n = 3, r = 3, freedom 3, redundancy 0."
            ]
        );
    }

    #[test]
    fn redundancy_is_told_on_a_free_body() {
        let (model, diagnosis) = samples::two_ball_joints();
        assert_eq!(
            remarks(&model, &diagnosis),
            ["One reaction more than equilibrium can separate (n \u{2212} r = 1)."]
        );
    }

    #[test]
    fn ranks_that_differ_are_told() {
        let (model, mut diagnosis) = samples::two_ball_joints();
        diagnosis.exact.rank = 6;
        let said = remarks(&model, &diagnosis);
        assert!(
            said[1].starts_with("The decimals as written have rank 6"),
            "{said:?}"
        );
        diagnosis.exact.as_written = false;
        let said = remarks(&model, &diagnosis);
        assert!(said[1].ends_with("the angles as rounded."), "{said:?}");
    }

    #[test]
    fn one_way_supports_are_told_and_a_pin_needs_no_remark() {
        let (model, diagnosis) = samples::simple_beam();
        assert_eq!(
            remarks(&model, &diagnosis),
            ["N_B can only push, but is counted here as holding both ways."]
        );
        let (model, diagnosis) = samples::swinging_beam();
        assert_eq!(remarks(&model, &diagnosis), Vec::<String>::new());
    }
}
