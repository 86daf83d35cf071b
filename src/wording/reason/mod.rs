//! Why the count is what it is, in one sentence.

mod families;
mod pencils;
#[cfg(test)]
mod wording;

use super::geometry::line;
use super::motion::{advance, whole_phrase};
use super::name::{count, counted, listed};
use super::phrase::{Phrase, phrase};
use super::remark::are_redundant;
use crate::scene::Space;
use crate::statics::{
    Diagnosis, Line, Meeting, Model, ReactionIndex, ReactionKind, Reason, SharedAxis,
};

/// What the reactions have in common and what follows from it.
pub(super) struct Explanation {
    premise: Phrase,
    consequence: Phrase,
    /// The consequence is not what the premise makes one expect.
    surprising: bool,
}

/// How a premise and its consequence are joined.
#[derive(Clone, Copy)]
pub(super) enum Ending {
    /// By a colon.
    Colon,
    /// By "so", where a colon went before.
    So,
}

impl Explanation {
    fn new(premise: impl Into<Phrase>, consequence: impl Into<Phrase>) -> Self {
        Self {
            premise: premise.into(),
            consequence: consequence.into(),
            surprising: false,
        }
    }

    /// Both halves, without capital and full stop.
    pub(super) fn joined(&self, ending: Ending) -> Phrase {
        let link = match ending {
            _ if self.consequence.is_empty() => "",
            _ if self.surprising => ", yet ",
            Ending::Colon => ": ",
            Ending::So => ", so ",
        };
        phrase!(&self.premise, link, &self.consequence)
    }
}

/// The reason as a sentence: `All six reactions meet the line through A and B: nothing prevents rotation
/// about it.`
pub fn reason(model: &Model, diagnosis: &Diagnosis) -> Phrase {
    let words = explanation(model, diagnosis).joined(Ending::Colon);
    phrase!(words.capitalised(), ".")
}

/// What some reactions, by name, have in common: `A_x and B_x act along the line through A and B`; nothing
/// where any of them but one would hold the body.
pub(super) fn common(model: &Model, members: &[ReactionIndex], reason: &Reason) -> Option<Phrase> {
    let some = Reactions::named(model, members);
    match reason {
        Reason::Held | Reason::NoReactions | Reason::SeveralMotions => None,
        Reason::MeetLine(line) => Some(meet_line(model, &some, line, None).premise),
        Reason::LinearComplex(axis, pitch) => Some(phrase!(
            some.all_names(),
            " do no work in one screw motion, about ",
            line(model, &axis.point, &axis.direction),
            ", ",
            advance(model, *pitch)
        )),
        Reason::OnlyScrews => Some(phrase!(
            some.all_names(),
            " do no work in either of two screw motions, and no line meets them all"
        )),
        geometry => Some(families::explanation(model, &some, geometry).premise),
    }
}

pub(super) fn explanation(model: &Model, diagnosis: &Diagnosis) -> Explanation {
    let all = Reactions::all_of(model);
    match &diagnosis.reason {
        Reason::Held => held(model, diagnosis),
        Reason::NoReactions => Explanation::new(
            "there are no reactions",
            phrase!(
                "nothing prevents any of the ",
                count(model.space.motions()),
                " motions"
            ),
        ),
        Reason::MeetLine(line) => {
            let mut words = meet_line(model, &all, line, diagnosis.shared_axes.first());
            words.premise = all.after_the_count(&words.premise);
            words
        }
        Reason::SeveralMotions => several(model, diagnosis),
        geometry => {
            let mut words = families::explanation(model, &all, geometry);
            words.premise = all.after_the_count(&words.premise);
            words
        }
    }
}

fn held(model: &Model, diagnosis: &Diagnosis) -> Explanation {
    let counts = &diagnosis.counts;
    let reactions = counted(counts.unknowns, "reaction");
    let motions = count(model.space.motions());
    let prevented = phrase!(reactions, " prevent all ", motions, " motions; ");
    match counts.redundancy {
        0 => Explanation::new(
            phrase!(prevented, "each follows from equilibrium under any load"),
            "",
        ),
        surplus => Explanation::new(phrase!(prevented, redundant(surplus)), ""),
    }
}

/// `one of them is redundant (n − r = 1)`.
fn redundant(redundancy: usize) -> Phrase {
    phrase!(count(redundancy), " of them ", are_redundant(redundancy))
}

fn meet_line(
    model: &Model,
    all: &Reactions,
    shared: &Line,
    axis: Option<&SharedAxis>,
) -> Explanation {
    let name = line(model, &shared.point, &shared.direction);
    let premise = match (model.space, axis) {
        (Space::Planar, _) => phrase!(all.forces_that("pass", "passes"), " through ", name),
        (Space::Spatial, Some(axis)) => meetings(all, axis, &name),
        (Space::Spatial, None) => {
            let meet = families::meet(model, all, &[shared]);
            phrase!(meet, " ", name, all.and_couples("perpendicular to it"))
        }
    };
    Explanation::new(premise, "nothing prevents rotation about it")
}

fn meetings(all: &Reactions, axis: &SharedAxis, name: &Phrase) -> Phrase {
    if all.forces == 0 {
        return phrase!(all.couples_that("are", "is"), " perpendicular to ", name);
    }
    let has = |wanted: fn(&Meeting) -> bool| axis.meetings.iter().any(wanted);
    let crossing = has(|m| matches!(m, Meeting::At(_) | Meeting::Along));
    let parallel = has(|m| matches!(m, Meeting::Parallel));
    let mut words = match (crossing, parallel) {
        (true, false) => phrase!(all.forces_that("meet", "meets"), " ", name),
        (true, true) => phrase!(
            all.forces_that("meet", "meets"),
            " ",
            name,
            " or ",
            all.are(),
            " parallel to it"
        ),
        _ => phrase!(all.forces_that("are", "is"), " parallel to ", name),
    };
    if all.couples > 0 {
        words.push(phrase!(
            ", and ",
            all.couples_that("are", "is"),
            " perpendicular to it"
        ));
    }
    words
}

fn several(model: &Model, diagnosis: &Diagnosis) -> Explanation {
    let counts = &diagnosis.counts;
    let motions = model.space.motions();
    let independent = if counts.redundancy == 0 {
        Phrase::new()
    } else {
        phrase!("only ", count(counts.rank), " independent")
    };
    let premise = match (counts.unknowns < motions, independent.is_empty()) {
        (true, true) => too_few(counts.unknowns, motions),
        (true, false) => phrase!(too_few(counts.unknowns, motions), ", ", independent),
        _ => phrase!(
            "of ",
            counted(counts.unknowns, "reaction"),
            " only ",
            count(counts.rank),
            " ",
            if counts.rank == 1 { "is" } else { "are" },
            " independent"
        ),
    };
    let left: Vec<Phrase> = diagnosis
        .free_motions
        .iter()
        .map(|motion| whole_phrase(model, motion))
        .collect();
    let number = count(counts.freedom);
    let remain = if counts.freedom == 1 {
        "motion remains"
    } else {
        "motions remain"
    };
    let consequence = if left.len() <= 2 {
        phrase!(number, " ", remain, ", ", listed(&left))
    } else {
        phrase!(number, " ", remain)
    };
    Explanation::new(premise, consequence)
}

fn too_few(unknowns: usize, motions: usize) -> Phrase {
    phrase!(
        "only ",
        counted(unknowns, "reaction"),
        " for ",
        count(motions),
        " motions"
    )
}

/// Reactions as the subject of a sentence: all of a model, or a few by name.
pub(super) struct Reactions {
    members: Vec<ReactionIndex>,
    forces: usize,
    couples: usize,
    motions: usize,
    /// Forces and couples by name; without, they are counted.
    names: Option<[Phrase; 2]>,
}

impl Reactions {
    fn all_of(model: &Model) -> Self {
        let everything: Vec<ReactionIndex> = model.reactions.indices().collect();
        Self {
            names: None,
            ..Self::named(model, &everything)
        }
    }

    /// Some reactions, by name.
    pub(super) fn named(model: &Model, members: &[ReactionIndex]) -> Self {
        let of_kind = |kind| -> Vec<Phrase> {
            let own = members.iter().map(|i| &model.reactions[*i]);
            own.filter(|reaction| reaction.kind == kind)
                .map(|reaction| Phrase::from(&reaction.symbol))
                .collect()
        };
        let (forces, couples) = (of_kind(ReactionKind::Force), of_kind(ReactionKind::Couple));
        Self {
            members: members.to_vec(),
            forces: forces.len(),
            couples: couples.len(),
            motions: model.space.motions(),
            names: Some([listed(&forces), listed(&couples)]),
        }
    }

    /// The premise after "only five reactions for six motions" where there are too few.
    fn after_the_count(&self, premise: &Phrase) -> Phrase {
        let unknowns = self.forces + self.couples;
        if unknowns < self.motions {
            phrase!(too_few(unknowns, self.motions), "; ", premise)
        } else {
            premise.clone()
        }
    }

    /// `all six reactions meet`, or of forces alone where there are couples too.
    fn forces_that(&self, many: &str, one: &str) -> Phrase {
        let verb = if self.forces == 1 { one } else { many };
        phrase!(self.forces_as_object(), " ", verb)
    }

    fn couples_that(&self, many: &str, one: &str) -> Phrase {
        let verb = if self.couples == 1 { one } else { many };
        phrase!(self.couples_as_object(), " ", verb)
    }

    fn forces_as_object(&self) -> Phrase {
        if let Some([forces, _]) = &self.names {
            return forces.clone();
        }
        let noun = if self.couples == 0 {
            "reaction"
        } else {
            "force"
        };
        all_of(self.forces, noun)
    }

    fn all_names(&self) -> Phrase {
        let parts = [
            (self.forces, self.forces_as_object()),
            (self.couples, self.couples_as_object()),
        ];
        let named = parts.into_iter().filter(|(number, _)| *number > 0);
        listed(&named.map(|(_, names)| names).collect::<Vec<_>>())
    }

    fn couples_as_object(&self) -> Phrase {
        match &self.names {
            Some([_, couples]) => couples.clone(),
            None => all_of(self.couples, "couple"),
        }
    }

    /// `, and both couples are perpendicular to it`; nothing where there are no couples.
    fn and_couples(&self, what: impl Into<Phrase>) -> Phrase {
        if self.couples == 0 {
            return Phrase::new();
        }
        phrase!(", and ", self.couples_that("are", "is"), " ", what.into())
    }

    fn are(&self) -> &'static str {
        if self.forces == 1 { "is" } else { "are" }
    }
}

fn all_of(number: usize, noun: &str) -> Phrase {
    match number {
        1 => phrase!("the one ", noun),
        2 => phrase!("both ", noun, "s"),
        _ => phrase!("all ", count(number), " ", noun, "s"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    fn said(sample: (Model, Diagnosis)) -> String {
        reason(&sample.0, &sample.1).to_string()
    }

    #[test]
    fn a_shared_line_is_named() {
        assert_eq!(
            said(samples::two_ball_joints()),
            "All six reactions meet the line through A and B: nothing prevents rotation about it."
        );
        assert_eq!(
            said(samples::hinged_hatch()),
            "Only five reactions for six motions; all three forces meet the line through H parallel to x, \
             and both couples are perpendicular to it: nothing prevents rotation about it."
        );
    }

    /// Six links without a common line still leave a motion (Ball 1900, section 230): absence is no proof.
    #[test]
    fn a_free_screw_is_told_without_a_line() {
        let words = said(samples::free_screw());
        assert!(
            words.starts_with("No line meets all six reactions, yet the body can rotate about the z axis while advancing "),
            "{words}"
        );
        assert!(words.ends_with("-handed: a free screw motion."), "{words}");
    }

    #[test]
    fn parallel_and_concurrent_reactions_are_told() {
        assert_eq!(
            said(samples::vertical_links()),
            "All six reactions are vertical: nothing prevents horizontal translation or rotation \
             about a vertical line."
        );
        assert_eq!(
            said(samples::three_cables()),
            "Only three reactions for six motions; all three reactions pass through (0, 0, 2) m: \
             nothing prevents rotation about any line through (0, 0, 2) m."
        );
    }

    #[test]
    fn planar_scenes_speak_of_points() {
        assert_eq!(
            said(samples::swinging_beam()),
            "Only two reactions for three motions; both reactions pass through P: nothing prevents rotation about it."
        );
    }

    #[test]
    fn held_bodies_say_what_equilibrium_can_do() {
        assert_eq!(
            said(samples::simple_beam()),
            "Three reactions prevent all three motions; each follows from equilibrium under any load."
        );
        assert_eq!(
            said(samples::fixed_and_propped()),
            "Four reactions prevent all three motions; one of them is redundant (n \u{2212} r = 1)."
        );
    }
}
