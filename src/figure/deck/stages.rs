//! The stages of a lesson: what each slide says and shows.

use nalgebra::{Unit, Vector3};

use super::super::FigureSettings;
use super::scenery::{Scenery, Still, carries};
use super::slide::{Deck, Show, Slide};
use crate::motion::Selection;
use crate::scene::{LessonStage, LessonStep, Space};
use crate::statics::{AppliedLoad, MotionIndex, PlacedSupport, Uncarried};
use crate::study::{Repair, Study};
use crate::wording::{self, BigNumber, Noun, Phrase, phrase};

/// Names of the slides of motions.
const MOTIONS: [&str; 6] = [
    "motion", "motion-2", "motion-3", "motion-4", "motion-5", "motion-6",
];

/// The deck of a scene: the stages of its lesson, with a slide for each of the motions asked for.
pub(super) fn deck(
    study: &Study,
    settings: &FigureSettings,
    motions: &[Selection],
    step: &mut dyn FnMut(),
) -> Deck {
    let lesson = study.scene().lesson_steps();
    let stages: Vec<LessonStage> = lesson.iter().map(|step| step.stage).collect();
    let shows_motions = stages.contains(&LessonStage::Motion);
    let motions = if shows_motions { motions } else { &[] };
    let maker = Maker {
        study,
        settings,
        motions,
        scenery: Scenery::new(study, settings, motions, &stages, step),
        lesson,
    };
    Deck {
        title: study.model().title.clone(),
        notes: study.scene().notes.trim().to_owned(),
        slides: maker.slides(),
    }
}

struct Maker<'a> {
    study: &'a Study,
    settings: &'a FigureSettings,
    motions: &'a [Selection],
    scenery: Scenery,
    lesson: Vec<LessonStep>,
}

impl Maker<'_> {
    fn slides(&self) -> Vec<Slide> {
        let with_note = |step: &LessonStep, slide| Slide {
            note: step.note.trim().to_owned(),
            ..slide
        };
        let slides = self.lesson.iter().flat_map(|step| {
            let slides = self.slides_of(step.stage).into_iter();
            slides.map(move |slide| with_note(step, slide))
        });
        slides.collect()
    }

    fn slides_of(&self, stage: LessonStage) -> Vec<Slide> {
        match stage {
            LessonStage::Body => vec![self.body()],
            LessonStage::Loads => vec![self.loads()],
            LessonStage::Supports => vec![self.supports()],
            LessonStage::Reactions => vec![self.reactions()],
            LessonStage::Count => vec![self.count()],
            LessonStage::Rank => vec![self.rank()],
            LessonStage::Reason => vec![self.reason()],
            LessonStage::Motion => self.motions(),
            LessonStage::Mend => vec![self.mend()],
        }
    }

    /// What the supports carry, where they hold the body; then the motions asked for.
    fn motions(&self) -> Vec<Slide> {
        let carried = self.is_held().then(|| self.carried());
        let motions = self.motions.iter().enumerate();
        let motions = motions.map(|(at, motion)| match motion {
            Selection::Free(index) => self.motion(at, *index),
            Selection::Escape => self.escape(at),
        });
        carried.into_iter().chain(motions).collect()
    }

    /// Whether a stage before this one has said whether the body is held.
    fn is_answered_before(&self, stage: LessonStage) -> bool {
        let before = self.lesson.iter().take_while(|step| step.stage != stage);
        before.into_iter().any(|step| step.stage.answers())
    }

    fn still(&self, still: Still) -> Show {
        self.scenery.still(still)
    }

    fn slide(
        &self,
        name: &'static str,
        heading: impl Into<Phrase>,
        sentences: Vec<Phrase>,
        show: Show,
    ) -> Slide {
        Slide {
            name,
            heading: heading.into(),
            sentences,
            numbers: Vec::new(),
            show,
            note: String::new(),
        }
    }

    fn is_held(&self) -> bool {
        self.study.diagnosis().is_held()
    }

    /// The load case of the deck, where the supports do not carry it.
    fn uncarried(&self) -> Vec<Uncarried> {
        let mut all = self.study.uncarried().to_vec();
        all.retain(|found| found.case == self.settings.case);
        all
    }

    fn body(&self) -> Slide {
        let motions = self.study.model().space.motions();
        let said = phrase!(
            "A rigid body in ",
            if motions == 6 { "space" } else { "the plane" },
            " has ",
            wording::count(motions),
            " degrees of freedom to remove."
        );
        self.slide("body", "The body", vec![said], self.still(Still::Body))
    }

    fn loads(&self) -> Slide {
        let model = self.study.model();
        let case = model.cases.get(self.settings.case);
        let loads = case.map_or(&[][..], |case| &case.loads);
        let mut sentences = Vec::new();
        if let Some(case) = case.filter(|_| model.cases.len() > 1) {
            sentences.push(phrase!("Load case: ", Phrase::name(&case.name), "."));
        }
        if loads.is_empty() {
            sentences.push("No load is given: the question is about the supports alone.".into());
        }
        sentences.extend(loads.iter().map(|load| self.load(load)));
        self.slide("loads", "Loads", sentences, self.still(Still::Loads))
    }

    fn load(&self, load: &AppliedLoad) -> Phrase {
        let model = self.study.model();
        let at = |point| wording::coordinates(model, point);
        let directed = |word: &str, vector: &Vector3<f64>| {
            let direction = Unit::try_new(*vector, 0.0);
            direction.map(|to| phrase!(" ", word, " ", wording::signed_direction(model, &to)))
        };
        let along = |force| directed("along", force);
        match load {
            AppliedLoad::Force { at: point, force } => phrase!(
                "A force of ",
                wording::force(force.norm(), &model.units),
                along(force),
                " at ",
                at(point),
                "."
            ),
            AppliedLoad::Weight {
                at: point, force, ..
            } => phrase!(
                "Its weight, ",
                wording::force(force.norm(), &model.units),
                ", at ",
                at(point),
                "."
            ),
            AppliedLoad::Couple { moment, .. } => {
                phrase!(
                    "A couple of ",
                    wording::couple(moment.norm(), &model.units),
                    match model.space {
                        Space::Spatial => directed("about", moment),
                        Space::Planar => None,
                    },
                    "."
                )
            }
            AppliedLoad::Line {
                path,
                density,
                mass,
            } => {
                let points: Vec<Phrase> = path.iter().map(|point| at(point).into()).collect();
                phrase!(
                    if mass.is_some() { "A weight" } else { "A load" },
                    " along the path through ",
                    wording::listed_briefly(&points),
                    ": ",
                    wording::density(density.norm(), &model.units),
                    along(density),
                    "."
                )
            }
            AppliedLoad::Area {
                face,
                density,
                on_plan,
            } => {
                let corners: Vec<Phrase> = face.iter().map(|corner| at(corner).into()).collect();
                phrase!(
                    "A load over the face with the corners ",
                    wording::listed_briefly(&corners),
                    ": ",
                    wording::pressure(density.norm(), &model.units),
                    on_plan.then_some(" on plan"),
                    along(density),
                    "."
                )
            }
            AppliedLoad::Distributed {
                ends: [from, to],
                densities,
            } => {
                let [first, last] = densities.each_ref().map(|density| {
                    let size = wording::density(density.norm(), &model.units);
                    phrase!(size, along(density))
                });
                let sizes = if densities[0] == densities[1] {
                    first
                } else {
                    phrase!(first, " to ", last)
                };
                phrase!(
                    "A load distributed from ",
                    at(from),
                    " to ",
                    at(to),
                    ": ",
                    sizes,
                    "."
                )
            }
        }
    }

    fn supports(&self) -> Slide {
        const MOST: usize = 8;
        let supports = &self.study.model().supports;
        let mut sentences: Vec<Phrase> = supports
            .iter()
            .take(MOST)
            .map(|support| {
                phrase!(
                    Phrase::name(&support.name),
                    ": ",
                    wording::support_kind(&support.kind)
                )
            })
            .collect();
        if supports.len() > MOST {
            sentences.push(phrase!("and ", more_supports(&supports.as_slice()[MOST..])));
        }
        self.slide(
            "supports",
            "Supports",
            sentences,
            self.still(Still::Supports),
        )
    }

    fn reactions(&self) -> Slide {
        let model = self.study.model();
        let names = wording::symbols(model, model.reactions.indices());
        let said = match names.len() {
            0 => "The supports supply no reaction.".into(),
            count => phrase!(
                Phrase::from(wording::count(count)).capitalised(),
                " unknown reactions: ",
                wording::listed(&names),
                "."
            ),
        };
        self.slide(
            "reactions",
            "Reactions",
            vec![said],
            self.still(Still::Reactions),
        )
    }

    fn count(&self) -> Slide {
        let (unknowns, motions) = (
            self.study.diagnosis().counts.unknowns,
            self.study.model().space.motions(),
        );
        let compared = match unknowns.cmp(&motions) {
            std::cmp::Ordering::Less => "Too few to prevent every motion.",
            std::cmp::Ordering::Equal => "Just enough, if they are all independent.",
            std::cmp::Ordering::Greater => "More than enough, if enough of them are independent.",
        };
        let said = phrase!(
            Phrase::from(wording::count(unknowns)).capitalised(),
            " unknowns, ",
            wording::count(motions),
            " equations of equilibrium."
        );
        let mut sentences = vec![said, compared.into()];
        if !self.is_answered_before(LessonStage::Count) {
            sentences.push("Is it held? Decide before you go on.".into());
        }
        let slide = self.slide(
            "count",
            "Number of unknowns",
            sentences,
            self.still(Still::Reactions),
        );
        let [unknowns, ..] = self.numbers();
        Slide {
            numbers: vec![unknowns],
            ..slide
        }
    }

    fn numbers(&self) -> [BigNumber; 4] {
        wording::big_numbers(self.study.model().space, self.study.diagnosis())
    }

    fn rank(&self) -> Slide {
        let (model, diagnosis) = (self.study.model(), self.study.diagnosis());
        let sentences = vec![wording::headline(model, diagnosis, &self.uncarried())];
        let slide = self.slide("rank", "The rank", sentences, self.still(Still::Reactions));
        Slide {
            numbers: self.numbers().to_vec(),
            ..slide
        }
    }

    fn reason(&self) -> Slide {
        let (model, diagnosis) = (self.study.model(), self.study.diagnosis());
        let mut sentences = vec![wording::reason(model, diagnosis)];
        sentences.extend(
            diagnosis
                .shared_axes
                .iter()
                .map(|axis| wording::shared_axis(model, axis)),
        );
        let nearness = self.study.nearness();
        sentences.extend(nearness.and_then(|nearness| wording::placement(model, nearness)));
        let heading = match (self.is_held(), self.uncarried().is_empty()) {
            (true, true) => "Why it is held",
            (true, false) => "Why it is constrained",
            (false, _) => "Why it is not held",
        };
        self.slide("reason", heading, sentences, self.still(Still::Reason))
    }

    /// How many of the motions asked for are free ones.
    fn free(&self) -> usize {
        let free = |motion: &&Selection| matches!(motion, Selection::Free(_));
        self.motions.iter().filter(free).count()
    }

    /// The slide of a free motion, which is shown in such a place among those asked for.
    fn motion(&self, at: usize, index: MotionIndex) -> Slide {
        let (model, all) = (self.study.model(), &self.study.diagnosis().free_motions);
        let (motion, mobilities) = (&all[index], self.study.mobilities());
        let mut sentences = vec![wording::motion(model, motion)];
        let mobility = mobilities.motions.get(index);
        sentences.extend(mobility.map(|mobility| wording::mobility(model, motion, mobility)));
        if all.len() > self.free() {
            sentences.push(phrase!(
                "One of ",
                wording::count(all.len()),
                " motions that remain."
            ));
        } else if at + 1 == self.free() {
            sentences.extend(wording::together(model, mobilities));
        }
        let heading = if self.free() > 1 {
            phrase!("How it can move: ", at + 1, " of ", self.free())
        } else {
            "How it can move".into()
        };
        self.slide(MOTIONS[at], heading, sentences, self.scenery.swing(at))
    }

    /// The slide of the escape, which is shown in such a place among the motions asked for.
    fn escape(&self, at: usize) -> Slide {
        let (model, case) = (self.study.model(), self.settings.case);
        let course = self.study.course(Selection::Escape, case);
        let said = course.map(|course| wording::escape(model, &course));
        let show = self.scenery.swing(at);
        self.slide(
            "escape",
            "How the body escapes",
            said.into_iter().collect(),
            show,
        )
    }

    /// In place of a motion: how the reactions of a body that is held balance its load.
    fn carried(&self) -> Slide {
        let (model, diagnosis) = (self.study.model(), self.study.diagnosis());
        let mut sentences = vec!["No motion remains.".into()];
        if !carries(self.study.diagnosis(), self.settings) {
            let show = self.still(Still::Supports);
            return self.slide("motion", "How it can move", sentences, show);
        }
        let case = &diagnosis.cases[self.settings.case];
        sentences.push(wording::balance(model, diagnosis, case));
        let mut heading = "What it carries";
        if let Some(one_way) = self.study.one_way() {
            let answer = &one_way.cases[self.settings.case];
            if !answer.is_carried() {
                sentences[0] = "With its supports treated as two-way, no motion remains.".into();
                heading = "What it does not carry";
            }
            sentences.push(wording::one_way(model, answer));
        }
        self.slide("motion", heading, sentences, self.still(Still::Carried))
    }

    /// In place of links to add: what a body that is held can do without.
    fn spared(&self) -> Slide {
        let sentences = wording::spared(self.study);
        let show = self.still(Still::Reactions);
        self.slide("mend", "Removable reactions", sentences, show)
    }

    fn mend(&self) -> Slide {
        let mending = match self.study.repair() {
            Repair::NotNeeded => return self.spared(),
            Repair::NoneFound => {
                let said = vec!["No set of links was found that would hold the body.".into()];
                let show = self.still(Still::Supports);
                return self.slide("mend", "What would hold it", said, show);
            }
            Repair::Links(mending) => mending,
        };
        let model = self.study.model();
        let links = mending
            .links
            .iter()
            .map(|link| wording::added_link(model, link));
        let sentences = links.chain([wording::mending(mending)]).collect();
        let show = self.still(Still::Mended);
        self.slide("mend", "What would hold it", sentences, show)
    }
}

/// How many supports of each kind, in the order in which they come: `two ball joints and a cable more`.
fn more_supports(supports: &[PlacedSupport]) -> Phrase {
    let mut kinds: Vec<(Noun, usize)> = Vec::new();
    for support in supports {
        let noun = wording::support_noun(&support.kind);
        match kinds.iter_mut().find(|(other, _)| *other == noun) {
            Some((_, number)) => *number += 1,
            None => kinds.push((noun, 1)),
        }
    }
    let counted: Vec<Phrase> = kinds
        .iter()
        .map(|(noun, number)| noun.counted(*number).into())
        .collect();
    phrase!(wording::listed(&counted), " more")
}
