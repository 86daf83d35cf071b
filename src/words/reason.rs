//! Why the count is what it is, in one sentence.

use nalgebra::{Unit, Vector3};

use super::geometry::{direction, is_vertical, line, plane, point};
use super::motion::{advance, whole_phrase};
use super::name::{capitalised, count, counted, listed};
use crate::scene::Space;
use crate::statics::{Diagnosis, Meeting, Model, ReactionKind, Reason, SharedAxis};

/// What the reactions have in common and what follows from it.
pub(super) struct Explanation {
    premise: String,
    consequence: String,
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
    fn new(premise: impl Into<String>, consequence: impl Into<String>) -> Self {
        Self {
            premise: premise.into(),
            consequence: consequence.into(),
            surprising: false,
        }
    }

    /// Both halves, without capital and full stop.
    pub(super) fn joined(&self, ending: Ending) -> String {
        let link = match ending {
            _ if self.consequence.is_empty() => "",
            _ if self.surprising => ", yet ",
            Ending::Colon => ": ",
            Ending::So => ", so ",
        };
        format!("{}{link}{}", self.premise, self.consequence)
    }
}

/// The reason as a sentence: `All six reactions meet the line through A and B: nothing stops the rotation
/// about it.`
pub fn reason(model: &Model, diagnosis: &Diagnosis) -> String {
    let words = explanation(model, diagnosis).joined(Ending::Colon);
    format!("{}.", capitalised(&words))
}

pub(super) fn explanation(model: &Model, diagnosis: &Diagnosis) -> Explanation {
    let all = Reactions::of(model);
    match &diagnosis.reason {
        Reason::Held => held(model, diagnosis),
        Reason::NoReactions => Explanation::new(
            "there are no reactions",
            format!(
                "nothing stops any of the {} motions",
                count(model.space.motions())
            ),
        ),
        Reason::MeetLine(index) => meet_line(model, &all, &diagnosis.shared_axes[*index]),
        Reason::SquareTo(along) => square_to(model, &all, along),
        Reason::LinearComplex(index) => {
            linear_complex(model, &all, &diagnosis.free_motions[*index])
        }
        Reason::Parallel(along) => parallel(model, &all, along),
        Reason::ThroughPoint(at) => {
            let forces = all.forces_that("pass", "passes");
            let place = point(model, at);
            Explanation::new(
                all.after_the_count(&format!("{forces} through {place}")),
                format!("nothing stops the rotation about any line through {place}"),
            )
        }
        Reason::InPlane(at, normal) => {
            let forces = all.forces_that("lie", "lies");
            let plane = plane(model, at, normal);
            Explanation::new(
                all.after_the_count(&format!("{forces} in {plane}")),
                "nothing stops the rotation about any line of that plane or the translation square to it",
            )
        }
        Reason::SeveralMotions => several(model, diagnosis),
    }
}

fn held(model: &Model, diagnosis: &Diagnosis) -> Explanation {
    let counts = &diagnosis.counts;
    let stopped = format!(
        "{} stop all {} motions",
        counted(counts.unknowns, "reaction"),
        count(model.space.motions())
    );
    if counts.redundancy == 0 {
        return Explanation::new(
            format!("{stopped}, and equilibrium decides each of them under any load"),
            "",
        );
    }
    Explanation::new(format!("{stopped}; {}", surplus(counts.redundancy)), "")
}

/// `n − r = 1 reaction more than equilibrium can separate`.
pub(super) fn surplus(redundancy: usize) -> String {
    let plural = if redundancy == 1 { "" } else { "s" };
    format!("n \u{2212} r = {redundancy} reaction{plural} more than equilibrium can separate")
}

fn meet_line(model: &Model, all: &Reactions, axis: &SharedAxis) -> Explanation {
    let name = line(model, &axis.point, &axis.direction);
    let (premise, turn) = if model.space == Space::Planar {
        (
            format!("{} through {name}", all.forces_that("pass", "passes")),
            "turn",
        )
    } else {
        (meetings(all, axis, &name), "rotation")
    };
    Explanation::new(
        all.after_the_count(&premise),
        format!("nothing stops the {turn} about it"),
    )
}

fn meetings(all: &Reactions, axis: &SharedAxis, name: &str) -> String {
    if all.forces == 0 {
        return format!("{} square to {name}", all.couples_that("are", "is"));
    }
    let has = |wanted: fn(&Meeting) -> bool| axis.meetings.iter().any(wanted);
    let crossing = has(|m| matches!(m, Meeting::At(_) | Meeting::Along));
    let parallel = has(|m| matches!(m, Meeting::Parallel));
    let mut words = match (crossing, parallel) {
        (true, false) => format!("{} {name}", all.forces_that("meet", "meets")),
        (true, true) => format!(
            "{} {name} or {} parallel to it",
            all.forces_that("meet", "meets"),
            all.are()
        ),
        _ => format!("{} parallel to {name}", all.forces_that("are", "is")),
    };
    if all.couples > 0 {
        words += &format!(", and {} square to it", all.couples_that("are", "is"));
    }
    words
}

fn square_to(model: &Model, all: &Reactions, along: &Unit<Vector3<f64>>) -> Explanation {
    let name = direction(model, along);
    let premise = if all.forces == 0 {
        format!("{} couples, which stop no translation", count(all.couples))
    } else {
        let forces = all.forces_that("are", "is");
        let lie = if is_vertical(model, along) {
            "horizontal".to_owned()
        } else {
            format!("square to {name}")
        };
        let so = match (all.couples, all.forces, model.space) {
            (1.., ..) => ", and couples stop no translation",
            (_, 0 | 1, _) => "",
            (_, _, Space::Spatial) => " and so lie in parallel planes",
            (_, _, Space::Planar) => " and so are parallel",
        };
        format!("{forces} {lie}{so}")
    };
    Explanation::new(
        all.after_the_count(&premise),
        format!("nothing stops the translation along {name}"),
    )
}

fn linear_complex(
    model: &Model,
    all: &Reactions,
    motion: &crate::statics::FreeMotion,
) -> Explanation {
    let forces = all.forces_as_object();
    let premise = if all.couples > 0 {
        format!(
            "no line meets {forces} and is square to {}",
            all.couples_as_object()
        )
    } else {
        format!("no line meets {forces}")
    };
    let axis = line(model, &motion.point, &motion.direction);
    Explanation {
        premise: all.after_the_count(&premise),
        consequence: format!(
            "the body can turn about {axis} while {}: a free screw",
            advance(model, motion)
        ),
        surprising: true,
    }
}

fn parallel(model: &Model, all: &Reactions, along: &Unit<Vector3<f64>>) -> Explanation {
    let forces = all.forces_that("are", "is");
    let (how, left) = if is_vertical(model, along) {
        let left =
            "nothing stops the horizontal translations or the rotation about a vertical line";
        ("vertical".to_owned(), left.to_owned())
    } else {
        let name = direction(model, along);
        let left = format!(
            "nothing stops the translations square to {name} or the rotation about a line along {name}"
        );
        (format!("parallel to {name}"), left)
    };
    let couples = if all.couples > 0 {
        ", and no couple acts about that direction"
    } else {
        ""
    };
    Explanation::new(
        all.after_the_count(&format!("{forces} {how}{couples}")),
        left,
    )
}

fn several(model: &Model, diagnosis: &Diagnosis) -> Explanation {
    let counts = &diagnosis.counts;
    let motions = model.space.motions();
    let independent = if counts.redundancy == 0 {
        String::new()
    } else {
        format!("only {} independent", count(counts.rank))
    };
    let premise = match (counts.unknowns < motions, independent.is_empty()) {
        (true, true) => too_few(counts.unknowns, motions),
        (true, false) => format!("{}, {independent}", too_few(counts.unknowns, motions)),
        _ => format!(
            "of {} only {} {} independent",
            counted(counts.unknowns, "reaction"),
            count(counts.rank),
            if counts.rank == 1 { "is" } else { "are" }
        ),
    };
    let left: Vec<String> = diagnosis
        .free_motions
        .iter()
        .map(|motion| whole_phrase(model, motion))
        .collect();
    let number = count(counts.freedom);
    let (motion, is) = if counts.freedom == 1 {
        ("motion", "is")
    } else {
        ("motions", "are")
    };
    let consequence = if left.len() <= 2 {
        format!("{number} {motion} {is} left, {}", listed(&left))
    } else {
        format!("{number} {motion} {is} left")
    };
    Explanation::new(premise, consequence)
}

fn too_few(unknowns: usize, motions: usize) -> String {
    format!(
        "only {} for {} motions",
        counted(unknowns, "reaction"),
        count(motions)
    )
}

/// The reactions of a model as the subject of a sentence.
struct Reactions {
    forces: usize,
    couples: usize,
    motions: usize,
}

impl Reactions {
    fn of(model: &Model) -> Self {
        let forces = model
            .reactions
            .iter()
            .filter(|reaction| reaction.kind == ReactionKind::Force)
            .count();
        Self {
            forces,
            couples: model.reactions.len() - forces,
            motions: model.space.motions(),
        }
    }

    /// The premise after "only five reactions for six motions" where there are too few.
    fn after_the_count(&self, premise: &str) -> String {
        let unknowns = self.forces + self.couples;
        if unknowns < self.motions {
            format!("{}; {premise}", too_few(unknowns, self.motions))
        } else {
            premise.to_owned()
        }
    }

    /// `all six reactions meet`, or of forces alone where there are couples too.
    fn forces_that(&self, many: &str, one: &str) -> String {
        let verb = if self.forces == 1 { one } else { many };
        format!("{} {verb}", self.forces_as_object())
    }

    fn couples_that(&self, many: &str, one: &str) -> String {
        let verb = if self.couples == 1 { one } else { many };
        format!("{} {verb}", self.couples_as_object())
    }

    fn forces_as_object(&self) -> String {
        let noun = if self.couples == 0 {
            "reaction"
        } else {
            "force"
        };
        all_of(self.forces, noun)
    }

    fn couples_as_object(&self) -> String {
        all_of(self.couples, "couple")
    }

    fn are(&self) -> &'static str {
        if self.forces == 1 { "is" } else { "are" }
    }
}

fn all_of(number: usize, noun: &str) -> String {
    match number {
        1 => format!("the one {noun}"),
        2 => format!("both {noun}s"),
        _ => format!("all {} {noun}s", count(number)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    fn said(sample: (Model, Diagnosis)) -> String {
        reason(&sample.0, &sample.1)
    }

    #[test]
    fn a_shared_line_is_named() {
        assert_eq!(
            said(samples::two_ball_joints()),
            "All six reactions meet the line through A and B: nothing stops the rotation about it."
        );
        assert_eq!(
            said(samples::hinged_hatch()),
            "Only five reactions for six motions; all three forces meet the line through H along x, \
             and both couples are square to it: nothing stops the rotation about it."
        );
    }

    /// Six links without a common line still leave a motion (Ball 1900, section 230): absence is no proof.
    #[test]
    fn a_free_screw_is_told_without_a_line() {
        let words = said(samples::free_screw());
        assert!(
            words.starts_with("No line meets all six reactions, yet the body can turn about the z axis while advancing "),
            "{words}"
        );
        assert!(words.ends_with("-handed: a free screw."), "{words}");
    }

    #[test]
    fn parallel_and_concurrent_reactions_are_told() {
        assert_eq!(
            said(samples::vertical_links()),
            "All six reactions are vertical: nothing stops the horizontal translations or the rotation \
             about a vertical line."
        );
        assert_eq!(
            said(samples::three_cables()),
            "Only three reactions for six motions; all three reactions pass through (0, 0, 2) m: \
             nothing stops the rotation about any line through (0, 0, 2) m."
        );
    }

    #[test]
    fn planar_scenes_speak_of_points() {
        assert_eq!(
            said(samples::swinging_beam()),
            "Only two reactions for three motions; both reactions pass through P: nothing stops the turn about it."
        );
    }

    #[test]
    fn held_bodies_say_what_equilibrium_can_do() {
        assert_eq!(
            said(samples::simple_beam()),
            "Three reactions stop all three motions, and equilibrium decides each of them under any load."
        );
        assert_eq!(
            said(samples::fixed_and_propped()),
            "Four reactions stop all three motions; n \u{2212} r = 1 reaction more than equilibrium can separate."
        );
    }
}
