//! Everything that is known of one scene.
//!
//! A [`Study`] is made from a scene, or from a file or built-in scene by name, and is the only door to what is computed:
//! model and diagnosis are there from the start, everything else is computed when it is first asked for, once. Further
//! studies are made from it: without some reactions, with one more link, with an edited scene.

mod open;
mod whole;

pub use open::{OpenError, Source};
pub use whole::WholeReactionIndex;

use std::sync::{Arc, OnceLock};

use whole::{existing, in_whole};

use crate::design::Design;
use crate::elastic::{BarFrame, Elastic};
use crate::indexed::Indexed;
use crate::motion::{Course, Mobilities, Selection};
use crate::repair::{AddedLink, LinkEnd, Mending, MendingSettings, Releases, with_link};
use crate::scene::{Coordinates, Problem, Scene};
use crate::statics::{
    Acceleration, CaseIndex, CaseOutcomes, Circuits, Diagnosis, Heat, LimitsOutcome, Model,
    ModelError, Nearness, OneWay, Picture, PlacedSupport, ReactionCombination, ReactionIndex,
    Rounding, Tolerance, Uncarried, combinations, load_limits,
};

/// A scene with all that is known of it.
#[derive(Debug, Clone)]
#[must_use]
pub struct Study {
    name: String,
    source: Option<Source>,
    warnings: Arc<[Problem]>,
    scene: Arc<Scene>,
    whole: Arc<Model>,
    released: Vec<WholeReactionIndex>,
    is_elastic: bool,
    model: Arc<Model>,
    diagnosis: Diagnosis,
    answers: Answers,
}

/// What is computed when it is first asked for.
#[derive(Debug, Clone, Default)]
struct Answers {
    mobilities: OnceLock<Mobilities>,
    objects: OnceLock<Vec<Picture>>,
    circuits: OnceLock<Circuits>,
    combinations: OnceLock<Vec<ReactionCombination>>,
    nearness: OnceLock<Option<Nearness>>,
    rounding: OnceLock<Option<Rounding>>,
    carried: OnceLock<CaseOutcomes>,
    uncarried: OnceLock<Vec<Uncarried>>,
    heat: OnceLock<Heat>,
    elastic: OnceLock<Elastic>,
    design: OnceLock<Design>,
    frame: OnceLock<Option<BarFrame>>,
    load_limits: OnceLock<Indexed<CaseIndex, Option<LimitsOutcome>>>,
    releases: OnceLock<Releases>,
    repair: OnceLock<Repair>,
}

/// What would hold the body.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum Repair {
    /// It is held.
    NotNeeded,
    /// No link on its surface does any good.
    NoneFound,
    /// These links hold it.
    Links(Box<Mending>),
}

impl Repair {
    /// The links, where any were needed and found.
    pub fn links(&self) -> Option<&Mending> {
        match self {
            Self::Links(mending) => Some(mending),
            Self::NotNeeded | Self::NoneFound => None,
        }
    }
}

impl Study {
    /// Studies a scene made in memory; its name is its title.
    ///
    /// Where the scene lies far from the origin, [`Study::scene`] has its positions from a datum near its middle: the shortest
    /// decimals of the coordinates, less the datum, so that the way there costs no digits.
    ///
    /// # Errors
    /// A [`ModelError`] where the scene makes no model.
    pub fn new(scene: Scene) -> Result<Self, ModelError> {
        let scene = scene.counted_nearby().unwrap_or(scene);
        let model = Model::new(&scene)?;
        Ok(Self::of(scene, model))
    }

    /// Studies a scene whose model is known.
    pub(crate) fn of(scene: Scene, model: Model) -> Self {
        let model = Arc::new(model);
        Self {
            name: model.title.clone(),
            source: None,
            warnings: Arc::default(),
            released: Vec::new(),
            is_elastic: scene.is_elastic(),
            diagnosis: Diagnosis::new(&model, Tolerance::default()),
            whole: Arc::clone(&model),
            model,
            scene: Arc::new(scene),
            answers: Answers::default(),
        }
    }

    /// The study of a model that no scene stands for.
    #[cfg(test)]
    pub(crate) fn of_model(model: Model) -> Self {
        Self::of(Scene::default(), model)
    }

    /// The same of another scene in its place, under the same name and with nothing released.
    ///
    /// # Errors
    /// [`OpenError::Model`] where that scene makes no model.
    pub fn edited(&self, scene: Scene) -> Result<Self, OpenError> {
        let study = Self::new(scene).map_err(|error| OpenError::Model {
            name: self.name.clone(),
            error,
        })?;
        Ok(Self {
            name: self.name.clone(),
            source: self.source.clone(),
            is_elastic: self.is_elastic || study.is_elastic,
            ..study
        })
    }

    /// The same with what its reader found to be probably not meant.
    pub fn with_warnings(self, warnings: Vec<Problem>) -> Self {
        Self {
            warnings: warnings.into(),
            ..self
        }
    }

    /// The same without some reactions; all others act again.
    ///
    /// The scene stays as it is, since it cannot say that a reaction is released.
    pub fn without(&self, released: &[WholeReactionIndex]) -> Self {
        let released = existing(&self.whole, released);
        let model = match released.as_slice() {
            [] => Arc::clone(&self.whole),
            some => Arc::new(self.whole.without(&in_whole(some))),
        };
        Self {
            name: self.name.clone(),
            source: self.source.clone(),
            warnings: Arc::clone(&self.warnings),
            scene: Arc::clone(&self.scene),
            whole: Arc::clone(&self.whole),
            diagnosis: Diagnosis::new(&model, Tolerance::default()),
            is_elastic: self.is_elastic,
            model,
            released,
            answers: Answers::default(),
        }
    }

    /// The same with reactions of elastic supports, even where the scene says nothing of their stiffness.
    pub fn on_springs(self) -> Self {
        let answers = Answers {
            // Rests on which reactions are asked for.
            design: OnceLock::new(),
            ..self.answers
        };
        Self {
            is_elastic: true,
            answers,
            ..self
        }
    }

    /// The same with one more link, its last support, and what the link does; what is released stays so.
    ///
    /// # Errors
    /// [`OpenError::Model`] where the link has no length.
    pub fn with_link(
        &self,
        eye: LinkEnd,
        ground: Coordinates,
    ) -> Result<(Self, AddedLink), OpenError> {
        let (scene, name) = with_link(&self.scene, &eye, &ground);
        let study = self.edited(scene)?.released_as(self);
        let link = AddedLink::drawn(name, eye, ground, &study.diagnosis);
        Ok((study, link))
    }

    /// The study of the scene with the links that hold it, what is released still released; `None` where none are needed or
    /// were found.
    pub fn repaired(&self) -> Option<Self> {
        let mending = self.repair().links()?;
        let study = self.edited(mending.scene.clone()).ok()?;
        Some(study.released_as(self))
    }

    /// The same without what another study has released: links come behind, so that its indices hold here, too.
    fn released_as(self, other: &Self) -> Self {
        match other.released.as_slice() {
            [] => self,
            released => self.without(released),
        }
    }

    /// The name by which the scene was asked for.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where the scene was read from; `None` of one made in memory.
    pub fn source(&self) -> Option<&Source> {
        self.source.as_ref()
    }

    /// What was noted when the scene was read.
    pub fn warnings(&self) -> &[Problem] {
        &self.warnings
    }

    /// The scene as written.
    pub fn scene(&self) -> &Scene {
        &self.scene
    }

    /// The model of the whole scene.
    pub fn whole(&self) -> &Model {
        &self.whole
    }

    /// The model without the reactions that are released; all indices of reactions are into this one.
    pub fn model(&self) -> &Model {
        &self.model
    }

    /// The released reactions, ascending.
    pub fn released(&self) -> &[WholeReactionIndex] {
        &self.released
    }

    /// Counts, ranks, free motions, the reason, and equilibrium under each load case.
    pub fn diagnosis(&self) -> &Diagnosis {
        &self.diagnosis
    }

    /// How far each free motion goes along the supports' own geometry, and how the body gets away under each load case.
    pub fn mobilities(&self) -> &Mobilities {
        let found = || Mobilities::of(&self.model, &self.diagnosis, self.uncarried());
        self.answers.mobilities.get_or_init(found)
    }

    /// The motions that can be shown under a load case: the free ones, then the escape.
    pub fn selections(&self, case: CaseIndex) -> Vec<Selection> {
        self.mobilities().selections(case)
    }

    /// A motion with where it leads; `None` where there is none such.
    pub fn course(&self, motion: Selection, case: CaseIndex) -> Option<Course<'_>> {
        self.mobilities().course(&self.diagnosis, motion, case)
    }

    /// The objects of the reason (points, lines, planes, reguli), each with the reactions that belong to it.
    pub fn objects(&self) -> &[Picture] {
        let found = || {
            let everything: Vec<ReactionIndex> = self.model.reactions.indices().collect();
            self.diagnosis.reason.pictures(&self.model, &everything)
        };
        self.answers.objects.get_or_init(found)
    }

    /// Minimal dependent groups of reactions.
    pub fn circuits(&self) -> &Circuits {
        let found = || Circuits::of(&self.model, &self.diagnosis);
        self.answers.circuits.get_or_init(found)
    }

    /// Combinations of statically indeterminate reactions that follow from equilibrium.
    pub fn combinations(&self) -> &[ReactionCombination] {
        let found = || combinations(&self.model, &self.diagnosis);
        self.answers.combinations.get_or_init(found)
    }

    /// The combinations made of one circuit's reactions alone: what is still known of it. Indices into
    /// [`Study::combinations`].
    pub fn known_of(&self, circuit: usize) -> Vec<usize> {
        let Some(circuit) = self.circuits().circuits.get(circuit) else {
            return Vec::new();
        };
        let within = |combination: &ReactionCombination| {
            let mut reactions = combination.reactions.iter();
            reactions.all(|reaction| circuit.reactions.contains(reaction))
        };
        let all = self.combinations().iter().enumerate();
        all.filter(|(_, combination)| within(combination))
            .map(|(index, _)| index)
            .collect()
    }

    /// How near the rank is to dropping; `None` without any reaction.
    pub fn nearness(&self) -> Option<&Nearness> {
        let found = || Nearness::of(&self.model, &self.diagnosis);
        self.answers.nearness.get_or_init(found).as_ref()
    }

    /// Whether the rank is full only through rounded decimals; `None` where it is not.
    pub fn rounding(&self) -> Option<&Rounding> {
        let found = || Rounding::of(&self.model, &self.diagnosis);
        self.answers.rounding.get_or_init(found).as_ref()
    }

    fn carried(&self) -> &CaseOutcomes {
        let found = || CaseOutcomes::of(&self.model, &self.diagnosis);
        self.answers.carried.get_or_init(found)
    }

    /// What one-way supports make of the loads; `None` where all supports act both ways.
    pub fn one_way(&self) -> Option<&OneWay> {
        self.carried().one_way.as_ref()
    }

    /// How far the variable loads of each case can grow while one-way supports carry them, in the model's order; `None` of a case
    /// without permanent or without variable loads, or that is carried at no factor.
    pub fn load_limits(&self) -> &Indexed<CaseIndex, Option<LimitsOutcome>> {
        let found = || load_limits(&self.model, &self.diagnosis);
        self.answers.load_limits.get_or_init(found)
    }

    /// How each load case starts the body from rest, in the model's order; `None` where it does not, or the mass is not
    /// known.
    pub fn accelerations(&self) -> &Indexed<CaseIndex, Option<Acceleration>> {
        &self.carried().accelerations
    }

    /// The load cases that the supports do not carry.
    pub fn uncarried(&self) -> &[Uncarried] {
        let found = || {
            let mut found = Uncarried::of(&self.model, &self.diagnosis, self.one_way());
            let has_anchors = |support: &PlacedSupport| support.anchors.is_some();
            if self.model.supports.iter().any(has_anchors) {
                for case in self.model.cases.indices() {
                    let failing = self.design().failing_anchors(case);
                    if !failing.is_empty() && found.iter().all(|other| other.case != case) {
                        found.push(Uncarried::by_anchors(case, failing));
                    }
                }
                found.sort_by_key(|one| one.case);
            }
            found
        };
        self.answers.uncarried.get_or_init(found)
    }

    /// How the supports meet uniform expansion.
    pub fn heat(&self) -> &Heat {
        let found = || Heat::of(&self.model, &self.diagnosis);
        self.answers.heat.get_or_init(found)
    }

    /// The reactions as those of elastic supports; `None` where neither the scene nor [`Study::on_springs`] asks for them.
    pub fn elastic(&self) -> Option<&Elastic> {
        let found = || Elastic::of(&self.model, &self.diagnosis, self.one_way());
        self.is_elastic
            .then(|| self.answers.elastic.get_or_init(found))
    }

    /// The reactions that count for design: those of elastic supports where these are asked for, else those of equilibrium.
    pub fn design(&self) -> &Design {
        let found = || Design::of(&self.model, &self.diagnosis, self.one_way(), self.elastic());
        self.answers.design.get_or_init(found)
    }

    /// The body as bars that bend; `None` where the scene gives no material.
    pub fn frame(&self) -> Option<&BarFrame> {
        let found = || BarFrame::of(&self.scene, &self.model, &self.diagnosis, self.one_way());
        self.answers.frame.get_or_init(found).as_ref()
    }

    /// Reactions and supports that can go without freeing anything more.
    pub fn releases(&self) -> &Releases {
        let found = || Releases::of(&self.model, &self.diagnosis);
        self.answers.releases.get_or_init(found)
    }

    /// Links that would hold the body, looked for in the usual way.
    pub fn repair(&self) -> &Repair {
        let found = || self.repair_with(&MendingSettings::default());
        self.answers.repair.get_or_init(found)
    }

    /// Links that would hold the body, looked for as these settings say.
    pub fn repair_with(&self, settings: &MendingSettings) -> Repair {
        if self.diagnosis.is_held() {
            return Repair::NotNeeded;
        }
        let found = Mending::of(
            &self.scene,
            &in_whole(&self.released),
            &self.diagnosis,
            settings,
        );
        // A scene that has a model has no fault to report.
        let found = found.ok().flatten();
        found.map_or(Repair::NoneFound, |mending| {
            Repair::Links(Box::new(mending))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The links of a body without some reactions were shown to hold the body that has them.
    #[test]
    fn a_repaired_body_has_its_released_reactions_no_more_than_before() {
        let whole = Study::open("mirror-cell").unwrap();
        let spared = [0, 3].map(WholeReactionIndex::new);
        let released = whole.without(&spared);
        assert_eq!(released.diagnosis().counts.freedom, 2);
        let repaired = released.repaired().unwrap();
        assert_eq!(repaired.released(), spared);
        assert_eq!(
            repaired.diagnosis().counts.unknowns,
            whole.diagnosis().counts.unknowns
        );
        assert!(repaired.diagnosis().is_held());
        assert!(whole.repaired().is_none(), "it is held");
    }
}
