//! The four numbers, the verdict, and the one sentence that says it all.

use super::phrase::{Operator, Phrase, phrase};
use super::reason::{Ending, explanation};
use super::uncarried::{CauseOfFailure, reasoned, uncarried};
use crate::scene::Space;
use crate::statics::{Diagnosis, Model, Symbol, Uncarried, Verdict};

/// One of the four numbers that lead every output.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BigNumber {
    /// What it counts: `unknowns`, `rank`, `freedom`, `redundancy`.
    pub name: &'static str,
    /// How it is written or worked out: `n`, `r`, `6 − r`, `n − r`.
    pub symbol: Phrase,
    /// The number.
    pub value: usize,
}

impl BigNumber {
    /// What it counts, in full: `degrees of freedom`.
    pub fn label(&self) -> &'static str {
        match self.name {
            "freedom" => "degrees of freedom",
            name => name,
        }
    }
}

/// n, r, freedom and redundancy, in this order.
pub fn big_numbers(space: Space, diagnosis: &Diagnosis) -> [BigNumber; 4] {
    let number = |name, symbol, value| BigNumber {
        name,
        symbol,
        value,
    };
    let [n, r] = ["n", "r"].map(Symbol::plain);
    let freedom = phrase!(space.motions(), Operator::Minus, &r);
    let redundancy = phrase!(&n, Operator::Minus, &r);
    let counts = &diagnosis.counts;
    [
        number("unknowns", n.into(), counts.unknowns),
        number("rank", r.into(), counts.rank),
        number("freedom", freedom, counts.freedom),
        number("redundancy", redundancy, counts.redundancy),
    ]
}

/// The verdict in the words of textbooks: `improperly constrained, redundant`.
pub fn verdict(diagnosis: &Diagnosis) -> Phrase {
    let counts = &diagnosis.counts;
    let word = match diagnosis.verdict() {
        Verdict::ProperlyConstrained => "properly constrained",
        Verdict::PartiallyConstrained => "partially constrained",
        Verdict::ImproperlyConstrained => "improperly constrained",
    };
    match (diagnosis.is_held(), counts.redundancy) {
        (true, 0) => phrase!(word, ", statically determinate"),
        (true, degree) => phrase!(word, ", statically indeterminate to degree ", degree),
        (false, 0) => word.into(),
        (false, _) => phrase!(word, ", redundant"),
    }
}

/// The sentence that leads: `Not held: improperly constrained, redundant.`
///
/// `cases` are the load cases in question that the supports do not carry. A body that is constrained but does not carry
/// all its loads is not headed as held: `Constrained, but this load is not carried: B would have to pull.`
pub fn headline(model: &Model, diagnosis: &Diagnosis, cases: &[Uncarried]) -> Phrase {
    let verdict = verdict(diagnosis);
    let held = || phrase!("Held: ", &verdict, ".");
    if !diagnosis.is_held() {
        return phrase!("Not held: ", verdict, ".");
    }
    not_carried(model, diagnosis, cases).unwrap_or_else(held)
}

/// Verdict and reason of a caption: together one sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VerdictAndReason {
    /// `Not held:`.
    pub verdict: Phrase,
    /// The rest, with a space in front.
    pub reason: Phrase,
}

/// The verdict and its reason in one sentence, for a caption; of a body that is constrained but does not carry all its
/// loads, which.
pub fn caption(model: &Model, diagnosis: &Diagnosis, cases: &[Uncarried]) -> VerdictAndReason {
    let reason = || explanation(model, diagnosis).joined(Ending::So);
    let (verdict, reason) = match (diagnosis.is_held(), cases.is_empty()) {
        (false, _) => (Phrase::from("Not held:"), reason()),
        (true, true) => ("Held:".into(), reason()),
        (true, false) => {
            let CauseOfFailure { which, why } = reasoned(model, diagnosis, cases);
            (phrase!("Constrained, but ", which, ":"), why)
        }
    };
    VerdictAndReason {
        verdict,
        reason: phrase!(" ", reason, "."),
    }
}

fn not_carried(model: &Model, diagnosis: &Diagnosis, cases: &[Uncarried]) -> Option<Phrase> {
    let said = || uncarried(model, diagnosis, cases);
    (!cases.is_empty()).then(|| phrase!("Constrained, but ", said(), "."))
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    #[test]
    fn redundant_is_said_wherever_there_are_more_reactions_than_the_rank() {
        let (model, joints) = samples::two_ball_joints();
        assert_eq!(
            headline(&model, &joints, &[]),
            "Not held: improperly constrained, redundant."
        );
        let (model, screw) = samples::free_screw();
        assert_eq!(
            headline(&model, &screw, &[]),
            "Not held: improperly constrained, redundant."
        );
        let (model, beam) = samples::swinging_beam();
        assert_eq!(
            headline(&model, &beam, &[]),
            "Not held: partially constrained."
        );
        let (model, fixed) = samples::fixed_and_propped();
        assert_eq!(
            headline(&model, &fixed, &[]),
            "Held: properly constrained, statically indeterminate to degree 1."
        );
        let (model, simple) = samples::simple_beam();
        assert_eq!(
            headline(&model, &simple, &[]),
            "Held: properly constrained, statically determinate."
        );
    }

    #[test]
    fn the_four_numbers_lead() {
        let (model, joints) = samples::two_ball_joints();
        let values = big_numbers(model.space, &joints).map(|n| (n.symbol.to_string(), n.value));
        assert_eq!(
            values,
            [("n", 6), ("r", 5), ("6 \u{2212} r", 1), ("n \u{2212} r", 1)]
                .map(|(symbol, value)| (symbol.to_owned(), value))
        );
    }

    fn whole(caption: VerdictAndReason) -> Phrase {
        phrase!(caption.verdict, caption.reason)
    }

    #[test]
    fn captions_are_one_sentence() {
        let (model, joints) = samples::two_ball_joints();
        assert_eq!(
            whole(caption(&model, &joints, &[])),
            "Not held: all six reactions meet the line through A and B, so nothing prevents rotation about it."
        );
        let (model, screw) = samples::free_screw();
        let words = whole(caption(&model, &screw, &[]));
        assert!(
            words
                .to_string()
                .starts_with("Not held: no line meets all six reactions, yet "),
            "{words}"
        );
    }
}
