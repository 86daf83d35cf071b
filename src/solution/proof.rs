//! The sum of moments about a shared axis: why it shows that the body is not held.

use super::summands::amount;
use super::{MomentCentre, equations_about};
use crate::scene::Space;
use crate::statics::{CaseIndex, Diagnosis, Line, Model, ReactionKind};
use crate::wording::{Phrase, phrase};

/// What the sum of moments about a shared axis, an index into the diagnosis's, proves under a load case: every reaction drops out,
/// and the load, where it has a moment, does not.
pub fn proof(model: &Model, diagnosis: &Diagnosis, case: CaseIndex, axis: usize) -> Phrase {
    phrase!(reactions(model), " ", load(model, diagnosis, case, axis))
}

fn reactions(model: &Model) -> Phrase {
    let has_couples = model
        .reactions
        .iter()
        .any(|reaction| reaction.kind == ReactionKind::Couple);
    match (model.space, has_couples) {
        _ if model.reactions.is_empty() => "There is no reaction.",
        (Space::Planar, _) => {
            "Every reaction drops out: a force through this point has no moment about it."
        }
        (Space::Spatial, false) => {
            "Every reaction drops out: a force that meets this line, or is parallel to it, has no moment about it."
        }
        (Space::Spatial, true) => {
            "Every reaction drops out: a force that meets this line or is parallel to it, and a couple perpendicular \
             to it, have no moment about it."
        }
    }
    .into()
}

fn load(model: &Model, diagnosis: &Diagnosis, case: CaseIndex, axis: usize) -> Phrase {
    let shared = &diagnosis.shared_axes[axis];
    let answer = &diagnosis.cases[case];
    if !answer.loaded {
        return "Any load that has a moment about it turns the body.".into();
    }
    if answer.powers[shared.motion] == 0.0 {
        return "This load has none either, so it leaves the body at rest; any load that has one turns it.".into();
    }
    let line = Line {
        point: shared.point,
        direction: shared.direction,
    };
    let equations = equations_about(model, case, &MomentCentre::Line(line));
    let moment = equations
        .iter()
        .map(|equation| amount(model, &equation.balance, equation.load.abs()));
    phrase!(
        "The load does not: nothing balances its moment of ",
        Phrase::joined(moment.map(Phrase::from), ""),
        ", and the body turns."
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{builtin, read_str};
    use crate::statics::Tolerance;

    fn said(name: &str, case: usize) -> String {
        let scene = read_str(name, builtin::find(name).unwrap().text);
        let model = Model::new(&scene.unwrap().scene).unwrap();
        let diagnosis = Diagnosis::new(&model, Tolerance::default());
        proof(&model, &diagnosis, CaseIndex::new(case), 0).to_string()
    }

    /// The weight of the handrail has a moment about the line through its sockets; a rope that pulls towards one of them has none.
    #[test]
    fn the_load_is_left_or_drops_out_as_well() {
        let weight = said("handrail", 0);
        assert!(weight.starts_with("Every reaction drops out: a force that meets this line"));
        assert!(
            weight.contains("The load does not: nothing balances its moment of "),
            "{weight}"
        );
        assert!(weight.ends_with(" N·m, and the body turns."), "{weight}");
        let rope = said("handrail", 2);
        assert!(rope.contains("This load has none either"), "{rope}");
    }
}
