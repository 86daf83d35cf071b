//! What a sweep found, in words.

use super::name::listed;
use super::number::{Quantity, angle, length, number};
use super::phrase::{Phrase, phrase};
use crate::scene::Units;
use crate::statics::Reaction;
use crate::sweep::{CaseTally, Chance, Distribution, Extreme, SweepPart, SweepSettings};

/// What the margins of a sweep are.
pub const SWEEP_MARGIN: &str = "The margin is the smallest singular value times the characteristic length: no movement of the \
    supports whose root of the sum of squares is below it lets the body go.";
/// What the reactions of a sweep rest on.
pub const SWEEP_BASIS: &str = "What equilibrium leaves open follows from the stiffnesses of the supports, all equal where none is given. \
    Quantiles and deviations are right to within 0.4 % of how far they are from the value as written; counts, least and greatest \
    values are exact.";

/// Confidence of the bounds of probabilities.
const CONFIDENCE: f64 = 0.95;

/// What varies in a sweep, and how.
pub fn sweep_settings(settings: &SweepSettings, part: SweepPart, units: &Units) -> Phrase {
    let tolerances = &settings.tolerances;
    let within = match settings.distribution {
        Distribution::Uniform => " within ",
        Distribution::Normal => " with a standard deviation of ",
    };
    let of = |what: &str, tolerance: Option<Quantity>| {
        tolerance.map(|tolerance| phrase!(what, within, tolerance))
    };
    let parts = [
        of(
            "supports",
            tolerances.placement.map(|far| length(far, units)),
        ),
        of("directions", tolerances.direction.map(angle)),
        of("loads", tolerances.load.map(percent)),
        of("stiffnesses", tolerances.stiffness.map(percent)),
    ];
    let parts: Vec<Phrase> = parts.into_iter().flatten().collect();
    let spread = match settings.distribution {
        Distribution::Uniform => "uniformly distributed: ",
        Distribution::Normal => "normally distributed: ",
    };
    let which = match part {
        SweepPart::WHOLE => Phrase::new(),
        part => phrase!("share ", part.to_string(), " of "),
    };
    phrase!(
        which,
        whole(settings.count),
        if settings.count == 1 {
            " placement"
        } else {
            " placements"
        },
        ", seed ",
        settings.seed.to_string(),
        ", ",
        spread,
        listed(&parts)
    )
    .sentence()
}

/// How often the body is not held.
pub fn sweep_not_held(chance: Chance) -> Phrase {
    match chance.count {
        0 => phrase!(
            "Held in all ",
            whole(chance.of),
            " placements",
            confidence(chance)
        ),
        _ => phrase!("Not held in ", often(chance)),
    }
    .sentence()
}

/// How often the body is within reach of improper constraint.
pub fn sweep_within_reach(chance: Chance, reach: f64, units: &Units) -> Phrase {
    phrase!(
        "within reach of improper constraint, with a margin of at most ",
        length(reach, units),
        ": ",
        often(chance)
    )
    .sentence()
}

/// The placement with the smallest margin.
pub fn sweep_worst(worst: Extreme) -> Phrase {
    phrase!(
        "The least margin is that of placement ",
        whole(worst.placement),
        ", counted from 0; --worst writes it as a scene."
    )
}

/// How often a load is carried, of so many placements that hold the body; nothing where it always is.
pub fn sweep_carried(tally: &CaseTally, held: u64) -> Vec<Phrase> {
    let chance = |count| Chance { count, of: held };
    let mut said = Vec::new();
    if held == 0 {
        said.push("No reactions are reported: no placement holds the body.".into());
    }
    if tally.not_carried > 0 {
        let often = often(chance(tally.not_carried));
        said.push(phrase!(
            "Not carried in ",
            often,
            ": contacts would have to pull or cables to push.",
        ));
    }
    if tally.not_found > 0 {
        let often = often(chance(tally.not_found));
        said.push(phrase!("No reactions could be confirmed in ", often).sentence());
    }
    if tally.carried > 0 && tally.carried < held {
        said.push("What follows is of the other placements.".into());
    }
    said
}

/// How often a one-way reaction carries nothing.
pub fn sweep_open(reaction: &Reaction, chance: Chance, is_cable: bool) -> Phrase {
    let state = match is_cable {
        true => " is slack in ",
        false => " is lifted off in ",
    };
    phrase!(&reaction.symbol, state, often(chance)).sentence()
}

/// `12 of 1000 placements (1.2 %); with a confidence of 95 % the probability is between 0.7 % and 2.1 %`.
fn often(chance: Chance) -> Phrase {
    let estimate = match chance.count {
        0 => Phrase::new(),
        _ => phrase!(" (", percent(chance.estimate()), ")"),
    };
    phrase!(
        whole(chance.count),
        " of ",
        whole(chance.of),
        " placements",
        estimate,
        confidence(chance)
    )
}

fn confidence(chance: Chance) -> Phrase {
    let [low, high] = chance.bounds();
    match chance.count {
        0 => phrase!(
            "; the probability is below ",
            percent(high),
            " with a confidence of ",
            percent(CONFIDENCE)
        ),
        _ => phrase!(
            "; with a confidence of ",
            percent(CONFIDENCE),
            " the probability is between ",
            percent(low),
            " and ",
            percent(high)
        ),
    }
}

fn percent(part: f64) -> Quantity {
    Quantity::new(number(part * 100.0), "%")
}

/// A whole number in groups of three digits.
fn whole(number: u64) -> String {
    let digits = number.to_string();
    let mut grouped = String::new();
    for (index, digit) in digits.chars().enumerate() {
        // Numbers of four digits are written without a gap.
        if index > 0 && (digits.len() - index).is_multiple_of(3) && digits.len() > 4 {
            grouped.push('\u{a0}');
        }
        grouped.push(digit);
    }
    grouped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_grouped() {
        let written = [7, 1234, 12_345, 1_000_000].map(whole);
        assert_eq!(written, ["7", "1234", "12\u{a0}345", "1\u{a0}000\u{a0}000"]);
    }

    #[test]
    fn what_was_never_found_has_a_bound() {
        let never = sweep_not_held(Chance { count: 0, of: 1000 }).to_string();
        assert_eq!(
            never,
            "Held in all 1000 placements; the probability is below 0.3827 % with a confidence of 95 %."
        );
    }
}
