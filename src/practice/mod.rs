//! Questions that a student answers about a scene before the answer is shown, each marked with its reason.
//!
//! Whoever asks them shows the scene without what gives the answers away; nothing here draws or keeps anything but results.

mod record;

use nalgebra::{Point3, Vector3};

pub use record::{Record, RecordError, Score};

use crate::motion::Mobility;
use crate::repair::AddedLink;
use crate::scene::Space;
use crate::statics::{FreeMotion, MotionKind, Symbol};
use crate::study::Study;
use crate::wording::{self, Operator, Phrase, phrase};

/// One question about a scene.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Question {
    /// How many unknown reactions there are.
    Unknowns,
    /// The rank of the equations of equilibrium.
    Rank,
    /// How many independent motions remain.
    Freedom,
    /// Whether equilibrium determines every reaction of a body that is held.
    Determinate,
    /// Whether the one motion that remains is a rotation, a translation or a screw.
    Kind,
    /// Where its axis is.
    Axis,
    /// Whether it goes on or is infinitesimal only.
    Finite,
    /// A link that prevents it.
    Stop,
}

/// What a student answers.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Answer {
    /// A number.
    Number(usize),
    /// One of [`Question::choices`], by index.
    Choice(usize),
    /// Two lines of sight to places of the axis; in the plane the same one twice.
    Sights([Sight; 2]),
    /// A link from the body to the ground, as it was measured in the scene that has it.
    Link(AddedLink),
}

/// A line of sight to a place that was pointed at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sight {
    /// A point of it, m.
    pub origin: Point3<f64>,
    /// Its direction, of any length.
    pub way: Vector3<f64>,
    /// How far from it what is meant may be, m.
    pub reach: f64,
}

/// An answer marked.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedAnswer {
    /// Whether it is right.
    pub is_right: bool,
    /// What is right, and why.
    pub reason: Phrase,
}

/// The questions that a scene poses, in the order in which a solution goes.
pub fn questions(study: &Study) -> Vec<Question> {
    let mut questions = vec![Question::Unknowns, Question::Rank, Question::Freedom];
    match (study.diagnosis().counts.freedom, the_motion(study)) {
        (0, _) => questions.push(Question::Determinate),
        (_, Some(motion)) => {
            questions.push(Question::Kind);
            if motion.kind != MotionKind::Translation {
                questions.push(Question::Axis);
            }
            // What no test decides is not asked.
            if study.mobilities().motions.first().is_some_and(is_decided) {
                questions.push(Question::Finite);
            }
            questions.push(Question::Stop);
        }
        (_, None) => questions.push(Question::Stop),
    }
    questions
}

/// Whether a motion is known to go on, or to be stopped at second order.
fn is_decided(mobility: &Mobility) -> bool {
    match mobility {
        Mobility::Real { .. } => true,
        Mobility::InstantaneousOnly {
            by_second_order, ..
        } => *by_second_order,
    }
}

/// The motion of a body that has just one.
fn the_motion(study: &Study) -> Option<&FreeMotion> {
    match study.diagnosis().free_motions.as_slice() {
        [motion] => Some(motion),
        _ => None,
    }
}

impl Question {
    /// What is asked.
    pub fn words(self, study: &Study) -> Phrase {
        let [n, r] = ["n", "r"].map(Symbol::plain);
        match self {
            Self::Unknowns => phrase!("How many unknowns ", &n, " do these supports supply?"),
            Self::Rank => phrase!("What is the rank ", &r, " of the equations of equilibrium?"),
            Self::Freedom => "How many independent motions remain?".into(),
            Self::Determinate => "Do all reactions follow from equilibrium?".into(),
            Self::Kind => "What kind of motion remains?".into(),
            Self::Axis => match study.model().space {
                Space::Spatial => "Where is its axis? Point at two places of it.".into(),
                Space::Planar => "Where is its centre of rotation? Point at it.".into(),
            },
            Self::Finite => "Is the motion finite, or infinitesimal only?".into(),
            Self::Stop => match study.diagnosis().counts.freedom {
                1 => "Prevent it: pull one link from the body to the ground.".into(),
                _ => "Prevent one motion: pull one link from the body to the ground.".into(),
            },
        }
    }

    /// What can be chosen; empty where the answer is of another sort.
    pub fn choices(self, study: &Study) -> &'static [&'static str] {
        match (self, study.model().space) {
            (Self::Determinate, _) => &[
                "yes: statically determinate",
                "no: statically indeterminate",
            ],
            (Self::Kind, Space::Spatial) => &["rotation", "translation", "screw motion"],
            (Self::Kind, Space::Planar) => &["rotation", "translation"],
            (Self::Finite, _) => &["finite", "infinitesimal only"],
            _ => &[],
        }
    }

    /// How many places have to be pointed at.
    pub fn places(self, study: &Study) -> usize {
        match (self, study.model().space) {
            (Self::Axis, Space::Spatial) => 2,
            (Self::Axis, Space::Planar) => 1,
            _ => 0,
        }
    }

    /// Marks an answer; one of another sort than the question asks for is wrong.
    pub fn mark(self, study: &Study, answer: &Answer) -> MarkedAnswer {
        MarkedAnswer {
            is_right: self.is_right(study, answer),
            reason: self.reason(study, answer),
        }
    }

    fn is_right(self, study: &Study, answer: &Answer) -> bool {
        let counts = &study.diagnosis().counts;
        match (self, answer) {
            (Self::Unknowns, Answer::Number(number)) => *number == counts.unknowns,
            (Self::Rank, Answer::Number(number)) => *number == counts.rank,
            (Self::Freedom, Answer::Number(number)) => *number == counts.freedom,
            (Self::Determinate, Answer::Choice(choice)) => {
                (*choice == 0) == (counts.redundancy == 0)
            }
            (Self::Kind, Answer::Choice(choice)) => the_motion(study).is_some_and(|motion| {
                *choice
                    == match motion.kind {
                        MotionKind::Rotation => 0,
                        MotionKind::Translation => 1,
                        MotionKind::Screw { .. } => 2,
                    }
            }),
            (Self::Axis, Answer::Sights(sights)) => {
                the_motion(study).is_some_and(|motion| meets_axis(study, motion, sights))
            }
            (Self::Finite, Answer::Choice(choice)) => {
                let found = study.mobilities().motions.first();
                found.is_some_and(|mobility| (*choice == 0) == mobility.is_real())
            }
            (Self::Stop, Answer::Link(link)) => link.freedom < counts.freedom,
            _ => false,
        }
    }

    /// What is right, and why.
    fn reason(self, study: &Study, answer: &Answer) -> Phrase {
        let (model, diagnosis) = (study.model(), study.diagnosis());
        let counts = &diagnosis.counts;
        let [n, r] = ["n", "r"].map(Symbol::plain);
        let motion = the_motion(study).map(|motion| wording::motion_phrase(model, motion));
        match self {
            Self::Unknowns => supplies(study),
            // Why it is so would answer the questions to come.
            Self::Rank => match counts.redundancy {
                0 => phrase!(
                    &r,
                    " = ",
                    &n,
                    " = ",
                    counts.rank,
                    ": all reactions are independent."
                ),
                _ => phrase!(
                    &r,
                    " = ",
                    counts.rank,
                    ": only ",
                    counts.rank,
                    " of the ",
                    counts.unknowns,
                    " reactions are independent."
                ),
            },
            Self::Freedom => phrase!(
                model.space.motions(),
                Operator::Minus,
                &r,
                " = ",
                model.space.motions(),
                Operator::Minus,
                counts.rank,
                " = ",
                counts.freedom,
                "."
            ),
            Self::Determinate => {
                let difference = phrase!(&n, Operator::Minus, &r, " = ", counts.redundancy);
                let meaning = match counts.redundancy {
                    0 => ": there are as many independent equations as unknowns.",
                    _ => ": there are more unknowns than independent equations.",
                };
                phrase!(difference, meaning)
            }
            Self::Kind => {
                let right = (0..self.choices(study).len())
                    .find(|choice| self.is_right(study, &Answer::Choice(*choice)));
                right.map_or(Phrase::new(), |right| {
                    phrase!("It is a ", self.choices(study)[right], ".")
                })
            }
            Self::Axis => motion.map_or(Phrase::new(), |motion| {
                let motion = phrase!(motion, ".").capitalised();
                phrase!(motion, " ", wording::reason(model, diagnosis))
            }),
            Self::Finite => {
                let found = diagnosis
                    .free_motions
                    .iter()
                    .zip(&study.mobilities().motions);
                let words = |(motion, mobility): (&FreeMotion, &Mobility)| {
                    wording::mobility(model, motion, mobility)
                };
                found.map(words).next().unwrap_or_default()
            }
            Self::Stop => stopped(study, answer),
        }
    }
}

/// What each support supplies, and the sum: `A, a ball joint, supplies 3; B, a link, supplies 1: n = 3 + 1 = 4.`
fn supplies(study: &Study) -> Phrase {
    let model = study.model();
    let parts = model.supports.enumerate().map(|(index, support)| {
        let noun = wording::support_noun(&support.kind).counted(1);
        phrase!(
            wording::support(model, index),
            ", ",
            noun,
            ", supplies ",
            support.reactions.len()
        )
    });
    let counted = study.diagnosis().counts.unknowns;
    let sum = match model.supports.len() {
        0 | 1 => phrase!(counted),
        _ => {
            let supplied = model.supports.iter().map(|each| each.reactions.len());
            let summands = supplied.map(|number| phrase!(number));
            phrase!(Phrase::joined(summands, " + "), " = ", counted)
        }
    };
    let parts = Phrase::joined(parts, "; ");
    phrase!(parts, ": ", Symbol::plain("n"), " = ", sum, ".")
}

/// What a link does to the motions.
fn stopped(study: &Study, answer: &Answer) -> Phrase {
    let counts = &study.diagnosis().counts;
    let Answer::Link(link) = answer else {
        return Phrase::new();
    };
    if link.freedom < counts.freedom {
        return phrase!(
            "Its force does work in the motion: the rank goes from ",
            counts.rank,
            " to ",
            counts.rank + 1,
            "."
        );
    }
    let kind = the_motion(study).map(|motion| motion.kind);
    let why = match kind {
        Some(MotionKind::Rotation) => {
            "Its line of action meets the axis or is parallel to it, so it has no moment about the axis"
        }
        Some(MotionKind::Translation) => {
            "It is perpendicular to the translation, so it does no work in it"
        }
        Some(MotionKind::Screw { .. }) | None => "Its force does no work in any free motion",
    };
    phrase!(why, ": the rank stays ", counts.rank, ".")
}

/// Two places of the axis have to be this far apart at least, relative to the characteristic length.
const APART: f64 = 0.2;

/// Whether both lines of sight pass the axis of a motion within their reach, at places that are apart.
fn meets_axis(study: &Study, motion: &FreeMotion, sights: &[Sight; 2]) -> bool {
    // In the plane the axis is a point, and pointing at it twice is pointing at it.
    let apart = match study.model().space {
        Space::Spatial => APART * study.model().length,
        Space::Planar => 0.0,
    };
    let feet = sights.map(|sight| foot(motion, &sight));
    let near = feet
        .iter()
        .zip(sights)
        .all(|((_, distance), sight)| *distance <= sight.reach);
    near && (feet[0].0 - feet[1].0).abs() >= apart
}

/// Where along an axis a line of sight comes nearest to it, m from the point of the axis, and how near.
fn foot(motion: &FreeMotion, sight: &Sight) -> (f64, f64) {
    let (along, way) = (motion.direction.into_inner(), sight.way.normalize());
    let gap = sight.origin - motion.point;
    let lean = along.dot(&way);
    let square = 1.0 - lean * lean;
    // Along the axis the whole of it is one place.
    if square < f64::EPSILON {
        return (0.0, (gap - way * gap.dot(&way)).norm());
    }
    let place = (gap.dot(&along) - lean * gap.dot(&way)) / square;
    let beside = motion.point + along * place - sight.origin;
    (place, (beside - way * beside.dot(&way)).norm())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::MotionIndex;

    fn asked(name: &str) -> (Study, Vec<Question>) {
        let study = Study::open(name).unwrap();
        let questions = questions(&study);
        (study, questions)
    }

    #[test]
    fn a_body_with_one_motion_poses_all_of_it_and_a_held_one_asks_for_determinacy() {
        use Question::{Axis, Determinate, Finite, Freedom, Kind, Rank, Stop, Unknowns};
        let (_, of_handrail) = asked("handrail");
        assert_eq!(
            of_handrail,
            [Unknowns, Rank, Freedom, Kind, Axis, Finite, Stop]
        );
        let (_, of_cell) = asked("mirror-cell");
        assert_eq!(of_cell, [Unknowns, Rank, Freedom, Determinate]);
        let (_, of_head) = asked("ball-head");
        assert_eq!(of_head, [Unknowns, Rank, Freedom, Stop]);
    }

    #[test]
    fn each_number_is_marked_with_its_reason() {
        let (study, _) = asked("handrail");
        for (question, right, words) in [
            (
                Question::Unknowns,
                6,
                "supplies 3; B, a ball joint, supplies 3: n = 3 + 3 = 6.",
            ),
            (
                Question::Rank,
                5,
                "r = 5: only 5 of the 6 reactions are independent.",
            ),
            (Question::Freedom, 1, "6 \u{2212} r = 6 \u{2212} 5 = 1."),
        ] {
            for number in 0..8 {
                let marked = question.mark(&study, &Answer::Number(number));
                assert_eq!(marked.is_right, number == right);
                let reason = marked.reason.to_string();
                assert!(reason.contains(words), "{reason}");
            }
        }
        assert!(!Question::Rank.mark(&study, &Answer::Choice(5)).is_right);
    }

    /// The axis of the handrail is the line through its two ball joints, at z = 0.
    #[test]
    fn the_axis_is_found_by_two_places_of_it_and_by_no_others() {
        let (study, _) = asked("handrail");
        let motion = &study.diagnosis().free_motions[MotionIndex::FIRST];
        let sight = |place: f64, beside: f64| {
            let across = motion.direction.cross(&Vector3::z());
            let at = motion.point + motion.direction.into_inner() * place + across * beside;
            Sight {
                origin: at + Vector3::z() * 5.0,
                way: -Vector3::z() * 2.0,
                reach: 0.02,
            }
        };
        let mark = |sights| {
            Question::Axis
                .mark(&study, &Answer::Sights(sights))
                .is_right
        };
        assert!(mark([sight(0.0, 0.01), sight(1.0, -0.01)]));
        assert!(!mark([sight(0.0, 0.01), sight(1.0, 0.05)]), "beside it");
        assert!(!mark([sight(0.5, 0.0), sight(0.501, 0.0)]), "one place");
    }

    #[test]
    fn choices_are_marked_by_what_the_body_does() {
        let (study, _) = asked("handrail");
        let right = |question: Question| {
            let choices = 0..question.choices(&study).len();
            let marks = choices.map(|choice| question.mark(&study, &Answer::Choice(choice)));
            let marks: Vec<bool> = marks.map(|marked| marked.is_right).collect();
            marks
        };
        assert_eq!(right(Question::Kind), [true, false, false]);
        assert_eq!(right(Question::Finite), [true, false]);
    }

    #[test]
    fn a_link_is_marked_by_the_rank_of_the_scene_that_has_it() {
        let (study, _) = asked("handrail");
        let best = study.repair().links().unwrap().links[0].clone();
        let marked = Question::Stop.mark(&study, &Answer::Link(best.clone()));
        assert!(marked.is_right);
        assert!(marked.reason.to_string().contains("from 5 to 6"));
        let idle = AddedLink { freedom: 1, ..best };
        let marked = Question::Stop.mark(&study, &Answer::Link(idle));
        assert!(!marked.is_right);
        assert!(marked.reason.to_string().contains("meets the axis"));
    }
}
