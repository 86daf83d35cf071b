//! How a body gets away from contacts and cables under a load that they do not carry: tipping, lifting off, going slack.

use nalgebra::Isometry3;

use super::constraints::Constraints;
use super::mobility::{Mobility, WOBBLE};
use super::path::Path;
use crate::indexed::Indexed;
use crate::statics::{
    CaseIndex, Diagnosis, Escape, FreeMotion, Model, NumericRank, PlacedSupport, ReactionIndex,
    ReactionMatrix, Sense, SupportIndex, Uncarried,
};

/// A motion away from one-way supports, followed along those that stay in touch.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct EscapeRoute {
    /// Index of the load case.
    pub case: CaseIndex,
    /// The first instant.
    pub escape: Escape,
    /// Its axis or direction; the positive sense leads away.
    pub motion: FreeMotion,
    /// Where the supports that stay in touch let it lead. Only amounts from 0 to `farthest` belong to the route.
    pub mobility: Mobility,
    /// Amount at which a support that was left would be met again, or the path ends, rad or m.
    pub farthest: f64,
}

/// How deep a body may seem to be in a contact that it touches, relative to the characteristic length: rounding.
const TOUCHING: f64 = 1e-8;
/// Places on a path at which the contacts that were left are looked at.
const LOOKS: usize = 128;
/// Halvings that find the place between two of those where one is met again.
const HALVINGS: usize = 40;

/// The route of each load case; `None` where the supports carry it, or the load drives nothing but free motions.
pub(super) fn routes(
    model: &Model,
    diagnosis: &Diagnosis,
    uncarried: &[Uncarried],
) -> Indexed<CaseIndex, Option<EscapeRoute>> {
    let mut routes = model.cases.map(|_| None);
    for case in uncarried {
        let route = |escape| EscapeRoute::new(model, diagnosis, case.case, escape);
        routes[case.case] = case.escape.clone().map(route);
    }
    routes
}

impl EscapeRoute {
    /// Follows an escape of a diagnosed model.
    ///
    /// At first every contact and cable that the escape does not loosen stays in touch. Where the body cannot go on so,
    /// it may leave those, too, but enters none. What leads nowhere even then is shown at its first instant.
    fn new(model: &Model, diagnosis: &Diagnosis, case: CaseIndex, escape: Escape) -> Self {
        let motion = away(&escape);
        let twist = motion.twist.scaled(model.length).relative(model.length);
        let one_way: Vec<ReactionIndex> = model
            .reactions
            .indices()
            .filter(|j| model.reactions[*j].sense != Sense::Both)
            .collect();
        let all = Constraints::new(model);
        let enters = |pose: &Isometry3<f64>| {
            let gaps = all.residuals(pose);
            one_way.iter().any(|j| gaps[*j] < -TOUCHING)
        };
        let least = WOBBLE / twist.norm();
        let followed = [&escape.loosened, &one_way].into_iter().find_map(|left| {
            let mut left = of_supports(model, left);
            // Where the body slides, only the push is left of a rough contact.
            left.extend(
                escape
                    .sliding
                    .iter()
                    .filter(|j| !left.contains(j))
                    .collect::<Vec<_>>(),
            );
            let rest = model.without(&left);
            let rank = NumericRank::new(&ReactionMatrix::new(&rest), diagnosis.numeric.tolerance);
            let path = Path::follow(&Constraints::new(&rest), &twist, rank.rank)?;
            let farthest = farthest(&path, enters);
            (farthest > least).then_some((path, farthest))
        });
        let (mobility, farthest) = match followed {
            Some((path, farthest)) => {
                let real = Mobility::Real {
                    tested: diagnosis.counts.redundancy > 0,
                    about: None,
                    instead: Vec::new(),
                    path: Box::new(path),
                };
                (real, farthest)
            }
            None => (instant(&motion, least), least),
        };
        Self {
            case,
            escape,
            motion,
            mobility,
            farthest,
        }
    }
}

impl EscapeRoute {
    /// Whether the body leaves a support, or lets it go slack.
    pub fn leaves(&self, support: &PlacedSupport) -> bool {
        let mut loosened = self.escape.loosened.iter();
        loosened.any(|reaction| support.reactions.contains(reaction))
    }
}

/// All reactions of the supports of some: a contact that is left does not hold by friction either.
fn of_supports(model: &Model, reactions: &[ReactionIndex]) -> Vec<ReactionIndex> {
    let mut supports: Vec<SupportIndex> = reactions
        .iter()
        .map(|j| model.reactions[*j].support)
        .collect();
    supports.sort_unstable();
    supports.dedup();
    let left = supports.into_iter();
    left.flat_map(|support| model.supports[support].reactions.clone())
        .collect()
}

/// The motion of an escape with its positive sense leading away.
fn away(escape: &Escape) -> FreeMotion {
    let mut motion = escape.motion.clone();
    if escape.backwards {
        motion.direction = -motion.direction;
        motion.twist.linear = -motion.twist.linear;
        motion.twist.angular = -motion.twist.angular;
    }
    motion
}

fn instant(motion: &FreeMotion, wobble: f64) -> Mobility {
    Mobility::InstantaneousOnly {
        motion: motion.clone(),
        wobble,
        stiffened: false,
        by_second_order: false,
    }
}

/// How far ahead a path leads before the body enters a support.
fn farthest(path: &Path, enters: impl Fn(&Isometry3<f64>) -> bool) -> f64 {
    let end = path.end_ahead.amount;
    let at = |look: usize| end * look as f64 / LOOKS as f64;
    let Some(look) = (1..=LOOKS).find(|look| enters(&path.pose_at(at(*look)))) else {
        return end;
    };
    let (mut free, mut entered) = (at(look - 1), at(look));
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(free, entered);
        if enters(&path.pose_at(middle)) {
            entered = middle;
        } else {
            free = middle;
        }
    }
    free
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::statics::{CaseOutcomes, Tolerance};

    fn escapes(text: &str) -> (Model, Indexed<CaseIndex, Option<EscapeRoute>>) {
        let model = Model::new(&read_str("test", text).unwrap().scene).unwrap();
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        let carried = CaseOutcomes::of(&model, &diagnosis);
        let uncarried = Uncarried::of(&model, &diagnosis, carried.one_way.as_ref());
        let found = routes(&model, &diagnosis, &uncarried);
        (model, found)
    }

    fn route(text: &str) -> (Model, EscapeRoute) {
        let (model, found) = escapes(text);
        let first = found.into_iter().next().flatten();
        (model, first.expect("the load is not carried"))
    }

    /// Whatever the route, the body gets off what it loosens, keeps the two-way supports, and enters nothing.
    fn check(model: &Model, route: &EscapeRoute) {
        let constraints = Constraints::new(model);
        let loosened = route.escape.loosened.iter();
        let off: Vec<SupportIndex> = loosened.map(|j| model.reactions[*j].support).collect();
        for step in 1..=20 {
            let pose = route
                .mobility
                .pose_at(route.farthest * f64::from(step) / 20.0);
            let gaps = constraints.residuals(&pose);
            for (reaction, gap) in model.reactions.iter().zip(gaps.iter()) {
                match reaction.sense {
                    Sense::Both if off.contains(&reaction.support) => {}
                    Sense::Both => assert!(gap.abs() < TOUCHING, "{} {gap}", reaction.name),
                    _ => assert!(*gap > -TOUCHING, "{} {gap}", reaction.name),
                }
            }
        }
        let soon = route.mobility.pose_at(route.farthest / 10.0);
        let gaps = constraints.residuals(&soon);
        assert!(
            route
                .escape
                .loosened
                .iter()
                .all(|j| gaps[*j] > 100.0 * TOUCHING)
        );
    }

    /// A beam turns about its pin away from the roller until it comes round to it from the other side: half a turn.
    #[test]
    fn a_beam_turns_away_from_a_roller_that_cannot_pull() {
        let (model, route) = route(
            "(format: 1, space: planar, body: [BentBar(path: [(0, 0), (1.6, 0)], diameter: 0.04)],
            supports: [Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (1.2, 0), normal: (0, -1))],
            loads: [Force(at: (0.8, 0), force: (0, -300))])",
        );
        check(&model, &route);
        assert!(route.mobility.is_real());
        assert!(route.motion.direction.z < 0.0, "it falls clockwise");
        assert!((route.farthest - std::f64::consts::PI).abs() < 1e-6);
    }

    /// A plate on a hinge is lifted off its stop, which it would enter from behind after 360° less the angle to it.
    #[test]
    fn cables_go_slack_and_two_way_supports_hold() {
        let (model, route) = route(
            "(format: 1, body: [Block(centre: (0.3, 0.4, 0), size: (0.6, 0.8, 0.02))],
            supports: [Hinge(name: \"A\", at: (0, 0.1, 0), axis: (0, 1, 0)),
                Cable(name: \"C\", at: (0.6, 0.4, 0), ground: (0, 0.4, 0.5))],
            loads: [Force(at: (0.3, 0.4, 0), force: (0, 0, 50))])",
        );
        check(&model, &route);
        assert!(route.mobility.is_real());
        // The cable is taut again where the eye has turned to the other side of the plane through hinge and winch.
        assert!(route.farthest > 1.0 && route.farthest < std::f64::consts::TAU);
    }

    /// Rough contacts that were lifted off held the plate by friction across their surfaces all the same.
    #[test]
    fn a_plate_that_is_lifted_off_rough_contacts_is_free_of_their_friction() {
        let (model, route) = route(
            "(format: 1, body: [Block(centre: (0, 0, 0.1), size: (1, 1, 0.2))],
            supports: [RoughContact(name: \"A\", at: (-0.5, -0.5, 0), normal: (0, 0, 1)),
                RoughContact(name: \"B\", at: (0.5, -0.5, 0), normal: (0, 0, 1)),
                RoughContact(name: \"C\", at: (0, 0.5, 0), normal: (0, 0, 1))],
            loads: [Force(at: (0.1, 0, 0.2), force: (0, 0, 40))])",
        );
        check(&model, &route);
        assert!(route.mobility.is_real());
    }

    #[test]
    fn what_is_carried_has_no_route() {
        let (_, found) = escapes(
            "(format: 1, space: planar, body: [BentBar(path: [(0, 0), (1.6, 0)], diameter: 0.04)],
            supports: [Pin(name: \"A\", at: (0, 0)), Roller(name: \"B\", at: (1.2, 0), normal: (0, 1))],
            loads: [Force(at: (0.8, 0), force: (0, -300))])",
        );
        assert!(found[CaseIndex::FIRST].is_none());
    }
}
