//! What two parts of one report could say against each other, each with its own question.

use nalgebra::DVector;
use sixhold::statics::{
    CaseAnswer, CaseIndex, Escape, Listing, OneWayBalance, OneWayCase, ReactionIndex, ReactionKind,
    ReactionMatrix, Sense, SupportIndex, Twist,
};
use sixhold::study::Study;
use sixhold::wording;

/// A diagnosed scene.
pub(crate) struct Report<'a> {
    pub study: &'a Study,
}

/// Part of the largest rate, or of a load, that rounding may leave where nothing is meant to be.
const ROUNDING: f64 = 1e-6;

impl Report<'_> {
    /// All contradictions found, in words.
    pub(crate) fn contradictions(&self) -> Vec<String> {
        let mut found = Vec::new();
        let mut ask = |consistent: bool, said: &str| {
            if !consistent {
                found.push(said.to_owned());
            }
        };
        self.counts(&mut ask);
        self.self_stresses(&mut ask);
        self.ranks(&mut ask);
        for case in self.study.model().cases.indices() {
            self.equilibrium(case, &mut ask);
            self.pushes_and_pulls(case, &mut ask);
            self.start(case, &mut ask);
        }
        self.every_load(&mut ask);
        found
    }

    /// The four numbers, the motions, and the singular values.
    fn counts(&self, ask: &mut impl FnMut(bool, &str)) {
        let counts = self.study.diagnosis().counts;
        let motions = self.study.model().space.motions();
        ask(
            counts.rank + counts.freedom == motions,
            "rank and freedom do not add up",
        );
        ask(
            self.study.diagnosis().free_motions.len() == counts.freedom,
            "not as many free motions as freedom",
        );
        ask(
            self.study.diagnosis().is_held() == (counts.freedom == 0),
            "held with a free motion",
        );
        let values = &self.study.diagnosis().numeric.singular_values;
        let least = counts.rank.checked_sub(1).map(|last| values[last]);
        ask(
            self.study.nearness().map(|near| near.smallest) == least,
            "nearness measures another rank",
        );
        let matrix = ReactionMatrix::new(self.study.model());
        for motion in &self.study.diagnosis().free_motions {
            let twist = self.rows(&motion.twist);
            let rates = matrix.entries().tr_mul(&twist);
            ask(
                rates.amax() <= ROUNDING * values[0] * twist.norm(),
                "a free motion moves a support",
            );
        }
    }

    /// What is decided, what is in a group too many, what can be spared, and what heat excites.
    fn self_stresses(&self, ask: &mut impl FnMut(bool, &str)) {
        let counts = self.study.diagnosis().counts;
        let circuits = self.study.circuits();
        let releases = self.study.releases();
        let in_circuit = |j: ReactionIndex| circuits.with(j).next().is_some();
        if counts.redundancy == 0 {
            ask(
                circuits.circuits.is_empty(),
                "a group too many without redundancy",
            );
            ask(releases.alone.is_empty(), "a release without redundancy");
            ask(
                self.study.heat().free,
                "heat excites a stress that is not there",
            );
            ask(
                self.study.combinations().is_empty(),
                "a combination where all is decided",
            );
        } else {
            ask(
                !circuits.circuits.is_empty(),
                "redundancy without a group too many",
            );
        }
        let possible = self
            .study
            .diagnosis()
            .cases
            .iter()
            .find(|case| case.is_balanced());
        let decided = |j: ReactionIndex| possible.map(|case| case.values[j].is_some());
        for j in self.study.model().reactions.indices() {
            ask(
                !(in_circuit(j) && decided(j) == Some(true)),
                "a reaction is decided and in a group too many",
            );
            let spread = matches!(
                circuits.listing,
                Listing::All | Listing::BasisOf(_) | Listing::Basis
            );
            ask(
                !(spread && !in_circuit(j) && decided(j) == Some(false)),
                "a reaction is undecided and in no group too many",
            );
            ask(
                self.study.heat().stress[j] == 0.0 || decided(j) != Some(true),
                "heat stresses a reaction that is decided",
            );
        }
        for release in &releases.alone {
            ask(
                decided(release.reaction) != Some(true),
                "a release of a reaction that is decided",
            );
            ask(
                in_circuit(release.reaction),
                "a release of a reaction in no group too many",
            );
            let least = self.study.diagnosis().numeric.tolerance.relative()
                * self.study.diagnosis().numeric.singular_values[0];
            ask(
                release.smallest > least,
                "a release leaves less than counts",
            );
        }
        for sum in self.study.combinations() {
            let open = |j: &ReactionIndex| decided(*j) != Some(true);
            ask(
                sum.reactions.iter().all(open),
                "a combination of decided reactions",
            );
        }
        let heat = self.study.heat();
        ask(
            heat.free == heat.stress.iter().all(|part| *part == 0.0),
            "heat is free and stresses, or neither",
        );
        ask(
            heat.free == heat.opposed.is_empty(),
            "heat is free and supports fight, or neither",
        );
    }

    /// Where the two ranks differ it is said.
    fn ranks(&self, ask: &mut impl FnMut(bool, &str)) {
        let differ = self.study.diagnosis().exact.rank != self.study.diagnosis().counts.rank;
        let remarks = wording::remarks(self.study.model(), self.study.diagnosis());
        let said = remarks
            .iter()
            .any(|remark| remark.to_string().contains("singular values give rank"));
        ask(
            differ == said,
            "the two ranks differ without a word, or agree with one",
        );
    }

    /// Powers, values and the words of equilibrium.
    fn equilibrium(&self, case: CaseIndex, ask: &mut impl FnMut(bool, &str)) {
        let answer = &self.study.diagnosis().cases[case];
        let drives = answer.powers.iter().any(|power| *power != 0.0);
        ask(
            answer.is_balanced() != drives,
            "balanced and driving a free motion, or neither",
        );
        ask(
            !self.study.diagnosis().is_held() || answer.is_balanced(),
            "held without equilibrium",
        );
        let some = answer.values.iter().any(Option::is_some);
        ask(answer.is_balanced() || !some, "a value without equilibrium");
        if self.study.diagnosis().counts.redundancy == 0 {
            ask(
                answer.is_determinate() == answer.is_balanced(),
                "an undecided reaction without redundancy",
            );
        }
        if answer.is_determinate() {
            let matrix = ReactionMatrix::new(self.study.model());
            let scaled = answer.values.iter().zip(&self.study.model().reactions);
            let scaled = scaled.map(|(value, reaction)| match reaction.kind {
                ReactionKind::Force => value.unwrap_or(0.0),
                ReactionKind::Couple => value.unwrap_or(0.0) / self.study.model().length,
            });
            let reactions = DVector::from_iterator(answer.values.len(), scaled);
            let load = self.load(case);
            let left = matrix.entries() * &reactions + &load;
            ask(
                left.norm() <= ROUNDING * load.norm() + 1e-9 * reactions.norm(),
                "decided reactions do not balance the load",
            );
        }
    }

    /// One-way supports against equilibrium.
    fn pushes_and_pulls(&self, case: CaseIndex, ask: &mut impl FnMut(bool, &str)) {
        let Some(one_way) = self.study.one_way() else {
            return;
        };
        let (found, answer) = (&one_way.cases[case], &self.study.diagnosis().cases[case]);
        ask(
            !found.is_carried() || answer.is_balanced(),
            "carried without equilibrium",
        );
        let wrong = self.wrong_signs(answer);
        ask(
            !(found.is_carried() && wrong),
            "carried by a contact that pulls",
        );
        let slips = matches!(found, OneWayCase::Slips(_));
        ask(
            found.is_carried() || slips || wrong || !answer.is_determinate(),
            "not carried though every reaction has its sign",
        );
        match found {
            OneWayCase::Carried(balance) => self.ranges(balance, answer, ask),
            OneWayCase::Slips(_) => {}
            OneWayCase::Uncarried(escape) => {
                ask(escape.is_some(), "not carried without a way to escape");
            }
            other => panic!("an answer that this test does not know: {other:?}"),
        }
        if let Some(escape) = found.escape() {
            self.escape(escape, ask);
            ask(
                escape.power > 0.0,
                "an escape on which the load does no work",
            );
            let work = self.rows(&escape.twist).dot(&self.load(case));
            ask(work > 0.0, "an escape against the load");
            ask(
                !escape.loosened.is_empty() || !escape.sliding.is_empty() || !answer.is_balanced(),
                "an escape that loosens nothing though there is equilibrium",
            );
        }
        let words = wording::one_way(self.study.model(), found);
        let balance = wording::balance(self.study.model(), self.study.diagnosis(), answer);
        ask(
            !(words.to_string().starts_with("The load is carried")
                && balance.to_string().contains("No equilibrium")),
            "the words say carried beside no equilibrium",
        );
    }

    fn ranges(&self, found: &OneWayBalance, answer: &CaseAnswer, ask: &mut impl FnMut(bool, &str)) {
        for (j, range) in found.ranges.enumerate() {
            let Some(range) = range else { continue };
            ask(range.low <= range.high, "a range upside down");
            let one_way = self.study.model().reactions[j].sense != Sense::Both;
            ask(
                !one_way || range.low >= 0.0,
                "a range in which a contact pulls",
            );
            ask(
                answer.values[j].is_none_or(|value| range.value() == Some(value)),
                "a range of a decided reaction",
            );
            ask(
                !found.idle.contains(&j) || range.high == 0.0,
                "an idle contact that may carry",
            );
        }
    }

    /// An escape breaks no support, and says of each one-way support what it does.
    fn escape(&self, escape: &Escape, ask: &mut impl FnMut(bool, &str)) {
        let twist = self.rows(&escape.twist);
        let rates = ReactionMatrix::new(self.study.model())
            .entries()
            .tr_mul(&twist);
        // What is below the tolerance of the rank holds nothing.
        let nothing = 10.0
            * self.study.diagnosis().numeric.tolerance.relative()
            * self
                .study
                .diagnosis()
                .numeric
                .singular_values
                .first()
                .copied()
                .unwrap_or(0.0)
            * twist.norm();
        let still = (ROUNDING * rates.amax()).max(nothing);
        let reactions = &self.study.model().reactions;
        // A rough contact that is left, or that nothing presses, holds nothing along its surface.
        let left = |support: SupportIndex| {
            let mut loosened = escape.loosened.iter();
            loosened.any(|j| reactions[*j].support == support)
        };
        for (j, reaction) in reactions.enumerate() {
            let one_way = reaction.sense != Sense::Both;
            let gone = !one_way && (left(reaction.support) || escape.sliding.contains(&j));
            ask(gone || rates[j] >= -still, "an escape breaks a support");
            ask(
                gone || one_way || rates[j] <= still,
                "an escape breaks a two-way support",
            );
            let (loose, touching) = (escape.loosened.contains(&j), escape.touching.contains(&j));
            ask(
                loose != touching || !one_way,
                "a contact both leaves and stays",
            );
            ask(
                !loose || rates[j] > 0.0,
                "a contact that is pressed is said to be left",
            );
            ask(
                !touching || rates[j] <= still,
                "a contact that is left is said to stay",
            );
        }
        ask(
            !(self.study.diagnosis().is_held()
                && escape.loosened.is_empty()
                && escape.sliding.is_empty()),
            "an escape that loosens nothing of a held body",
        );
    }

    /// The motion from rest against equilibrium and escape.
    fn start(&self, case: CaseIndex, ask: &mut impl FnMut(bool, &str)) {
        let start = self.study.accelerations()[case].as_ref();
        let possible = self.study.diagnosis().cases[case].is_balanced();
        let one_way = self.study.one_way().map(|found| &found.cases[case]);
        let rests = possible && one_way.is_none_or(OneWayCase::is_carried);
        let Some(start) = start else { return };
        ask(!rests, "a load that is carried starts the body");
        let (twist, load) = (self.rows(&start.twist), self.load(case));
        ask(twist.dot(&load) > 0.0, "the body starts against the load");
        let Some(escape) = one_way.and_then(OneWayCase::escape) else {
            return;
        };
        let other = self.rows(&escape.twist);
        ask(
            twist.dot(&other) >= (1.0 - ROUNDING) * twist.norm() * other.norm(),
            "the escape is not the motion that begins",
        );
        ask(
            start.loosened == escape.loosened,
            "escape and start leave different supports",
        );
        ask(
            start.backwards == escape.backwards,
            "escape and start have opposite senses",
        );
    }

    /// Every load against each load.
    fn every_load(&self, ask: &mut impl FnMut(bool, &str)) {
        let Some(one_way) = self.study.one_way() else {
            return;
        };
        match &one_way.escape {
            None => {
                let carried = |case: &OneWayCase| !matches!(case, OneWayCase::Uncarried(_));
                ask(
                    one_way.cases.iter().all(carried),
                    "any load is carried, but not this one",
                );
                ask(
                    self.study.diagnosis().is_held(),
                    "any load is carried, but the body is not held",
                );
            }
            Some(escape) => self.escape(escape, ask),
        }
    }

    fn wrong_signs(&self, answer: &CaseAnswer) -> bool {
        let reactions = self.study.model().reactions.iter().zip(&answer.values);
        let mut one_way = reactions.filter(|(reaction, _)| reaction.sense != Sense::Both);
        one_way.any(|(_, value)| value.is_some_and(|value| value < 0.0))
    }

    fn load(&self, case: CaseIndex) -> DVector<f64> {
        let load = self.study.model().cases[case].resultant(&self.study.model().reference);
        self.rows(&Twist {
            linear: load.force,
            angular: load.moment / (self.study.model().length * self.study.model().length),
        })
    }

    /// Linear part, and angular part times the characteristic length, as rows of the reaction matrix.
    fn rows(&self, twist: &Twist) -> DVector<f64> {
        let six: Vec<f64> = twist
            .linear
            .iter()
            .copied()
            .chain(twist.angular.iter().map(|x| x * self.study.model().length))
            .collect();
        match self.study.model().space.motions() {
            3 => DVector::from_vec(vec![six[0], six[1], six[5]]),
            _ => DVector::from_vec(six),
        }
    }
}
