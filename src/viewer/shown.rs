//! What is on the stage: the scene, its model without what is released, all that is known of it, what is pointed out.

use bevy::prelude::*;
use nalgebra::Isometry3;

use super::state::Source;
use crate::motion::Mobilities;
use crate::scene::Scene;
use crate::statics::repair::{AddedLink, Mending, MendingSettings, Releases};
use crate::statics::{Depth, DepthSettings, Diagnosis, Model, Picture, Shape, Tolerance};
use crate::words;

/// What is on the stage. Replaced as a whole when another scene is shown or the file changes.
#[derive(Resource)]
pub struct Shown {
    /// The scene as written.
    pub scene: Scene,
    /// The model of the whole scene.
    pub whole: Model,
    /// The model without the reactions that are released; the same as `whole` where none is.
    pub model: Model,
    /// Diagnosis of `model`; with `depth` and `mobilities` the only source of every word and stroke.
    pub diagnosis: Diagnosis,
    /// What else is known of `model`.
    pub depth: Depth,
    /// How far each free motion of the diagnosis truly goes.
    pub mobilities: Mobilities,
    /// What would mend it; looked for when it is asked for.
    pub repairs: Option<Repairs>,
    /// Where it came from.
    pub source: Source,
    /// Load case whose loads and reaction values are shown; index into `model.cases`.
    pub case: usize,
    /// Free motion shown; index into `diagnosis.free_motions`.
    pub motion: usize,
    /// What is pointed out in the picture.
    pub pointed: Option<Pointed>,
    released: Vec<usize>,
}

/// What would hold the body, and what it can do without.
#[derive(Debug, Clone)]
pub struct Repairs {
    /// Links to add; `None` where the body is held, none were found, or reactions are released.
    pub mending: Option<Mending>,
    /// Reactions it can do without.
    pub releases: Releases,
}

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
}

/// Places of the surface that are tried for a link to add: few enough not to be waited for.
const PLACES: usize = 600;

impl Shown {
    /// Puts a scene and its model on the stage, with nothing released.
    pub fn new(scene: Scene, model: Model, source: Source) -> Self {
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        Self {
            scene,
            whole: model.clone(),
            depth: Depth::new(&model, &diagnosis, &DepthSettings::default()),
            mobilities: Mobilities::of(&model, &diagnosis),
            model,
            diagnosis,
            repairs: None,
            source,
            case: 0,
            motion: 0,
            pointed: None,
            released: Vec::new(),
        }
    }

    /// Indices of the released reactions in `whole`, ascending.
    pub fn released(&self) -> &[usize] {
        &self.released
    }

    /// Names of the released reactions.
    pub fn released_names(&self) -> Vec<&str> {
        let names = self.released.iter();
        names
            .map(|index| self.whole.reactions[*index].name.as_str())
            .collect()
    }

    /// Releases these reactions of `whole` and holds all others; everything known follows.
    pub fn release(&mut self, mut released: Vec<usize>) {
        released.retain(|index| *index < self.whole.reactions.len());
        released.sort_unstable();
        released.dedup();
        self.model = self.whole.without(&released);
        self.diagnosis = Diagnosis::new(&self.model, Tolerance::default());
        self.depth = Depth::new(&self.model, &self.diagnosis, &DepthSettings::default());
        self.mobilities = Mobilities::of(&self.model, &self.diagnosis);
        self.repairs = None;
        self.pointed = None;
        if self.motion >= self.diagnosis.free_motions.len() {
            self.motion = 0;
        }
        self.released = released;
    }

    /// Releases a reaction of `whole` that acts, or holds one again that is released.
    pub fn switch(&mut self, reaction: usize) {
        let mut released = self.released.clone();
        match released.iter().position(|index| *index == reaction) {
            Some(at) => drop(released.remove(at)),
            None => released.push(reaction),
        }
        self.release(released);
    }

    /// Looks for repairs, once.
    pub fn find_repairs(&mut self) {
        let settings = MendingSettings {
            places: PLACES,
            ..MendingSettings::default()
        };
        let mending = match self.released.is_empty() {
            true => Mending::of(&self.scene, &self.diagnosis, &settings),
            false => Ok(None),
        };
        self.repairs = Some(Repairs {
            // A scene whose model was made has no fault to report.
            mending: mending.ok().flatten(),
            releases: Releases::of(&self.model, &self.diagnosis),
        });
    }

    /// Whether the selected motion lasts only for an instant.
    pub fn is_instantaneous(&self) -> bool {
        let mobility = self.mobilities.motions.get(self.motion);
        mobility.is_some_and(|mobility| !mobility.is_real())
    }

    /// Placement of the body at a part of its swing, −1 to 1, for a swing of `amount` rad or m to each side.
    ///
    /// On the supports' geometry where the motion is real, and no farther than it goes; else within a small wobble.
    pub fn pose(&self, part: f64, amount: f64) -> Isometry3<f64> {
        let Some(mobility) = self.mobilities.motions.get(self.motion) else {
            return Isometry3::identity();
        };
        let round = mobility.path().is_some_and(|path| path.period().is_some());
        let [back, ahead] = mobility.range();
        let end = match part < 0.0 {
            _ if round => f64::INFINITY,
            true => -back,
            false => ahead,
        };
        mobility.pose_at(part * amount.min(end))
    }
}

/// Pointing out.
impl Shown {
    /// What can be pointed out, in the order of the ledger.
    pub fn pointable(&self) -> Vec<Pointed> {
        let objects = self.depth.pictures.len();
        let reason = (objects > 0).then_some(Pointed::Reason);
        let objects = (0..if objects > 1 { objects } else { 0 }).map(Pointed::Object);
        let groups = (0..self.depth.circuits.circuits.len()).map(Pointed::Group);
        let links = (0..self.links().len()).map(Pointed::Link);
        reason
            .into_iter()
            .chain(objects)
            .chain(groups)
            .chain(links)
            .collect()
    }

    /// Links to add, as far as they have been looked for.
    pub fn links(&self) -> &[AddedLink] {
        let mending = self.repairs.as_ref().and_then(|r| r.mending.as_ref());
        mending.map_or(&[], |mending| &mending.links)
    }

    /// The link that is pointed out.
    pub fn pointed_link(&self) -> Option<&AddedLink> {
        match self.pointed? {
            Pointed::Link(index) => self.links().get(index),
            _ => None,
        }
    }

    fn pointed_pictures(&self) -> &[Picture] {
        match self.pointed {
            Some(Pointed::Reason) => &self.depth.pictures,
            Some(Pointed::Object(index)) => self.depth.pictures.get(index..=index).unwrap_or(&[]),
            Some(Pointed::Group(index)) => {
                let circuit = self.depth.circuits.circuits.get(index);
                circuit.map_or(&[], |circuit| &circuit.pictures)
            }
            Some(Pointed::Link(_)) | None => &[],
        }
    }

    /// The objects that are pointed out.
    pub fn pointed_shapes(&self) -> impl Iterator<Item = &Shape> {
        self.pointed_pictures().iter().map(|picture| &picture.shape)
    }

    /// The reactions that are pointed out, ascending.
    pub fn pointed_reactions(&self) -> Vec<usize> {
        if let Some(Pointed::Group(index)) = self.pointed {
            let circuit = self.depth.circuits.circuits.get(index);
            return circuit.map_or(Vec::new(), |circuit| circuit.reactions.clone());
        }
        let pictures = self.pointed_pictures().iter();
        let mut reactions: Vec<usize> = pictures.flat_map(|p| p.reactions.clone()).collect();
        reactions.sort_unstable();
        reactions.dedup();
        reactions
    }

    /// What something that can be pointed out is, in a sentence; nothing where it is no more.
    pub fn words_of(&self, pointed: Pointed) -> Option<String> {
        let model = &self.model;
        Some(match pointed {
            Pointed::Reason => words::reason(model, &self.diagnosis),
            Pointed::Object(index) => words::picture(model, self.depth.pictures.get(index)?),
            Pointed::Group(index) => {
                self.depth.circuits.circuits.get(index)?;
                words::circuit(model, &self.depth, index)
            }
            Pointed::Link(index) => words::added_link(&model.units, self.links().get(index)?),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::viewer::library;

    fn open(name: &str) -> Shown {
        library::open(&Source::BuiltIn(name.to_owned())).unwrap()
    }

    #[test]
    fn releasing_changes_what_is_known_and_holding_again_brings_it_back() {
        let mut shown = open("mirror-cell");
        let before = shown.diagnosis.counts;
        assert_eq!(before.freedom, 0);
        shown.switch(1);
        assert_eq!(shown.model.reactions.len(), before.unknowns - 1);
        assert_eq!(shown.diagnosis.counts.unknowns, before.unknowns - 1);
        assert_eq!(shown.released(), [1]);
        assert_eq!(
            shown.released_names(),
            [shown.whole.reactions[1].name.as_str()]
        );
        assert_eq!(
            shown.mobilities.motions.len(),
            shown.diagnosis.counts.freedom
        );
        shown.switch(0);
        assert_eq!(shown.diagnosis.counts.unknowns, before.unknowns - 2);
        shown.switch(1);
        shown.switch(0);
        assert_eq!(shown.diagnosis.counts, before);
        assert!(shown.released().is_empty());
    }

    #[test]
    fn the_reason_points_at_all_reactions_that_meet_the_line() {
        let mut shown = open("handrail");
        assert_eq!(shown.pointable()[0], Pointed::Reason);
        shown.pointed = Some(Pointed::Reason);
        let all: Vec<usize> = (0..shown.model.reactions.len()).collect();
        assert_eq!(shown.pointed_reactions(), all);
        assert!(matches!(
            shown.pointed_shapes().next(),
            Some(Shape::Line(_))
        ));
        shown.pointed = None;
        assert!(shown.pointed_reactions().is_empty());
    }

    #[test]
    fn a_link_to_add_takes_freedom_away() {
        let mut shown = open("handrail");
        assert!(shown.links().is_empty());
        shown.find_repairs();
        assert_eq!(shown.links().len(), shown.diagnosis.counts.freedom);
        shown.pointed = Some(Pointed::Link(0));
        let name = shown.pointed_link().unwrap().name.clone();
        assert!(shown.words_of(Pointed::Link(0)).unwrap().contains(&name));
    }

    #[test]
    fn everything_that_can_be_pointed_out_has_words() {
        for entry in library::Shelf::default().entries() {
            let mut shown = library::open(&entry.source).unwrap();
            shown.find_repairs();
            for pointed in shown.pointable() {
                assert!(shown.words_of(pointed).is_some(), "{pointed:?}");
            }
        }
    }
}
