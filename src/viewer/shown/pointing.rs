//! What can be pointed out: each thing of the ledger with its objects, its reactions and its words.

use super::Shown;
use crate::repair::AddedLink;
use crate::statics::{
    Acceleration, FreeMotion, Line, MotionKind, Nearness, OneWayCase, Picture, ReactionIndex,
    ReasonShape,
};
use crate::study::Repair;
use crate::wording::{self, Phrase};

/// Something of the ledger that can be pointed out in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pointed {
    /// The reason: its objects and their reactions.
    Reason,
    /// One object of the reason; index into `depth.pictures`.
    Object(usize),
    /// A dependent group; index into `depth.circuits`.
    Group(usize),
    /// A link to add; index into the links of the mending.
    Link(usize),
    /// How the load case starts the body from rest.
    Start,
    /// How the load case gets the body away from its one-way supports, or which of them carry nothing.
    Loosened,
    /// The motion that a held body is held least against.
    Weakest,
    /// The reactions that uniform expansion sets against each other.
    Heat,
    /// A reaction, by index into the model's.
    Reaction(ReactionIndex),
    /// A load, by index into those of the case shown.
    Load(usize),
    /// All loads of the case shown.
    Loads,
}

/// A motion that has a sense.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DirectedMotion<'a> {
    /// The motion.
    pub motion: &'a FreeMotion,
    /// Whether the body goes against the positive sense of `motion`.
    pub backwards: bool,
}

impl<'a> Shown<'a> {
    /// What can be pointed out, in the order of the ledger.
    pub fn pointable(&self) -> Vec<Pointed> {
        let objects = self.study.objects().len();
        let reason = (objects > 0).then_some(Pointed::Reason);
        let objects = (0..if objects > 1 { objects } else { 0 }).map(Pointed::Object);
        let groups = (0..self.study.circuits().circuits.len()).map(Pointed::Group);
        let links = (0..self.links().len()).map(Pointed::Link);
        let others = [
            Pointed::Start,
            Pointed::Loosened,
            Pointed::Weakest,
            Pointed::Heat,
        ];
        let others = others.into_iter().filter(|thing| self.is_there(*thing));
        reason
            .into_iter()
            .chain(objects)
            .chain(links)
            .chain(groups)
            .chain(others)
            .collect()
    }

    /// Links to add, as far as they have been looked for.
    pub fn links(&self) -> &'a [AddedLink] {
        let mending = self.repair().and_then(Repair::links);
        mending.map_or(&[], |mending| &mending.links)
    }

    /// The link that is pointed out.
    pub fn pointed_link(&self) -> Option<&'a AddedLink> {
        match self.lit()? {
            Pointed::Link(index) => self.links().get(index),
            _ => None,
        }
    }

    /// The motion that is pointed out with its sense.
    pub fn pointed_going(&self) -> Option<DirectedMotion<'a>> {
        let (motion, backwards) = match self.lit()? {
            Pointed::Start => {
                let start = self.start()?;
                (&start.motion, start.backwards)
            }
            Pointed::Loosened => {
                let escape = self.one_way()?.escape()?;
                (&escape.motion, escape.backwards)
            }
            _ => return None,
        };
        Some(DirectedMotion { motion, backwards })
    }

    /// How the load case shown starts the body.
    fn start(&self) -> Option<&'a Acceleration> {
        // Rigid supports let nothing begin that is infinitesimal only.
        let begins = !self.study.mobilities().all_are_infinitesimal();
        let start = self.study.accelerations().get(self.case)?.as_ref();
        start.filter(|_| begins)
    }

    /// What one-way supports make of the load case shown, if there is a load.
    fn one_way(&self) -> Option<&'a OneWayCase> {
        let case = self.study.one_way()?.cases.get(self.case)?;
        let loads = &self.study.model().cases.get(self.case)?.loads;
        (!loads.is_empty()).then_some(case)
    }

    /// How near a held body is to improper.
    fn nearness(&self) -> Option<&'a Nearness> {
        let nearness = self.study.nearness();
        nearness.filter(|_| self.study.diagnosis().is_held())
    }

    fn is_there(&self, thing: Pointed) -> bool {
        match thing {
            Pointed::Start => self.start().is_some(),
            Pointed::Loosened => self.one_way().is_some(),
            Pointed::Weakest => self.nearness().is_some(),
            Pointed::Heat => self.study.diagnosis().counts.redundancy > 0,
            _ => true,
        }
    }

    fn pointed_pictures(&self) -> &'a [Picture] {
        match self.lit() {
            Some(Pointed::Reason) => self.study.objects(),
            Some(Pointed::Object(index)) => self.study.objects().get(index..=index).unwrap_or(&[]),
            Some(Pointed::Group(index)) => {
                let circuit = self.study.circuits().circuits.get(index);
                circuit.map_or(&[], |circuit| &circuit.pictures)
            }
            _ => &[],
        }
    }

    /// The objects that are pointed out.
    pub fn pointed_shapes(&self) -> Vec<ReasonShape> {
        if let (Some(Pointed::Weakest), Some(nearness)) = (self.lit(), self.nearness()) {
            return vec![shape_of(&nearness.weakest)];
        }
        let pictures = self.pointed_pictures().iter();
        pictures.map(|picture| picture.shape.clone()).collect()
    }

    /// The reactions that are pointed out, ascending.
    pub fn pointed_reactions(&self) -> Vec<ReactionIndex> {
        let mut reactions = match self.lit() {
            Some(Pointed::Reaction(index)) => vec![index],
            Some(Pointed::Group(index)) => {
                let circuit = self.study.circuits().circuits.get(index);
                circuit.map_or(Vec::new(), |circuit| circuit.reactions.clone())
            }
            Some(Pointed::Start) => self
                .start()
                .map_or(Vec::new(), |start| start.loosened.clone()),
            Some(Pointed::Loosened) => self.one_way().map_or(Vec::new(), loosened),
            Some(Pointed::Weakest) => self
                .nearness()
                .map_or(Vec::new(), |nearness| vec![nearness.amplification.reaction]),
            Some(Pointed::Heat) => self.stressed(),
            _ => {
                let pictures = self.pointed_pictures().iter();
                pictures.flat_map(|p| p.reactions.clone()).collect()
            }
        };
        reactions.sort_unstable();
        reactions.dedup();
        reactions
    }

    /// Whether a load of the case shown is pointed out.
    pub fn is_load_pointed(&self, index: usize) -> bool {
        match self.lit() {
            Some(Pointed::Load(load)) => load == index,
            Some(Pointed::Loads) => true,
            _ => false,
        }
    }

    /// Reactions that uniform expansion sets against each other.
    fn stressed(&self) -> Vec<ReactionIndex> {
        let stress = self.study.heat().stress.enumerate();
        let stressed = stress.filter(|(_, part)| part.abs() > NO_STRESS);
        stressed.map(|(index, _)| index).collect()
    }

    /// What something that can be pointed out is, in a sentence; nothing where it is no more.
    pub fn words_of(&self, pointed: Pointed) -> Option<Phrase> {
        let model = self.study.model();
        Some(match pointed {
            Pointed::Reason => wording::reason(model, self.study.diagnosis()),
            Pointed::Object(index) => wording::picture(model, self.study.objects().get(index)?),
            Pointed::Group(index) => {
                self.study.circuits().circuits.get(index)?;
                wording::circuit(self.study, index)
            }
            Pointed::Link(index) => wording::added_link(model, self.links().get(index)?),
            Pointed::Start => wording::acceleration(model, self.start()?),
            Pointed::Loosened => wording::one_way(model, self.one_way()?),
            Pointed::Weakest => wording::nearness(model, self.nearness()?)
                .into_iter()
                .next()?,
            Pointed::Heat => wording::heat(model, self.study.heat()),
            // Their values are at their arrows.
            Pointed::Reaction(_) | Pointed::Load(_) | Pointed::Loads => return None,
        })
    }

    /// The other sentences on how near a held body is to improper.
    pub fn more_on_nearness(&self) -> Vec<Phrase> {
        self.nearness().map_or(Vec::new(), |nearness| {
            let mut sentences = wording::nearness(self.study.model(), nearness);
            sentences.drain(..1.min(sentences.len()));
            sentences
        })
    }
}

/// Parts of a self-stress below this take no part in it.
const NO_STRESS: f64 = 1e-9;

/// What lifts off or goes slack as the body gets away, or carries nothing where it is held.
fn loosened(case: &OneWayCase) -> Vec<ReactionIndex> {
    match case {
        OneWayCase::Carried(balance) => balance.idle.clone(),
        OneWayCase::Slides(_) => Vec::new(),
        OneWayCase::Slips(escape) | OneWayCase::Uncarried(escape) => escape
            .as_ref()
            .map_or(Vec::new(), |escape| escape.loosened.clone()),
    }
}

/// A motion as an object to draw.
fn shape_of(motion: &FreeMotion) -> ReasonShape {
    let axis = Line {
        point: motion.point,
        direction: motion.direction,
    };
    match motion.kind {
        MotionKind::Rotation => ReasonShape::Line(axis),
        MotionKind::Screw { pitch } => ReasonShape::Screw(axis, pitch),
        MotionKind::Translation => ReasonShape::Direction(motion.direction),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;
    use crate::viewer::scene_list::SceneList;
    use crate::viewer::shown::testing::TestStage;

    #[test]
    fn the_reason_points_at_all_reactions_that_meet_the_line() {
        let stage = TestStage::open("handrail");
        let mut shown = stage.shown();
        assert_eq!(shown.pointable()[0], Pointed::Reason);
        shown.pointed = Some(Pointed::Reason);
        let all: Vec<ReactionIndex> = shown.study.model().reactions.indices().collect();
        assert_eq!(shown.pointed_reactions(), all);
        assert!(matches!(shown.pointed_shapes()[0], ReasonShape::Line(_)));
        shown.pointed = None;
        assert!(shown.pointed_reactions().is_empty());
    }

    #[test]
    fn everything_that_can_be_pointed_out_has_words() {
        let mut kinds = Vec::new();
        for entry in SceneList::default().entries() {
            let mut stage = TestStage::of(Study::read(entry.source.clone()).unwrap());
            stage.change(|shown| shown.seek_repair());
            let shown = stage.shown();
            for pointed in shown.pointable() {
                assert!(shown.words_of(pointed).is_some(), "{pointed:?}");
                kinds.push(std::mem::discriminant(&pointed));
            }
        }
        for thing in [
            Pointed::Start,
            Pointed::Loosened,
            Pointed::Weakest,
            Pointed::Heat,
        ] {
            assert!(kinds.contains(&std::mem::discriminant(&thing)), "{thing:?}");
        }
    }

    /// The body goes the way in which the load works on it.
    #[test]
    fn a_start_goes_with_its_load() {
        let mut found = 0;
        for entry in SceneList::default().entries() {
            let stage = TestStage::of(Study::read(entry.source.clone()).unwrap());
            let mut shown = stage.shown();
            for case in shown.study.model().cases.indices() {
                shown.case = case;
                shown.pointed = Some(Pointed::Start);
                let Some(going) = shown.pointed_going() else {
                    continue;
                };
                let sense = if going.backwards { -1.0 } else { 1.0 };
                let load =
                    shown.study.model().cases[case].resultant(&shown.study.model().reference);
                assert!(sense * going.motion.twist.power(&load) > 0.0);
                found += 1;
            }
        }
        assert!(found > 0);
    }
}
