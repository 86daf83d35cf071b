//! The values of reactions as they are tabulated: of members, tension or compression.

use super::number::reaction_value;
use super::phrase::{Phrase, phrase};
use crate::scene::SupportKind;
use crate::statics::{CaseAnswer, Model, Reaction};

/// The value of a reaction: `−12 N`; the force of a link without a sign, `1266 N (C)` in compression, `1266 N (T)` in
/// tension.
pub fn acting(model: &Model, reaction: &Reaction, value: f64) -> Phrase {
    let written = |value| reaction_value(value, reaction.kind, &model.units);
    match state(model, reaction, value) {
        Some(state) => phrase!(written(value.abs()), " (", state, ")"),
        None => written(value).into(),
    }
}

/// Whether a member is in tension, `T`, or in compression, `C`; `None` of other reactions and of a member without force.
pub fn state(model: &Model, reaction: &Reaction, value: f64) -> Option<&'static str> {
    let is_member = matches!(
        model.supports[reaction.support].kind,
        SupportKind::Link { .. }
    );
    // Its reaction on the body is positive from the body towards the ground: a pull.
    (is_member && value != 0.0).then_some(if value > 0.0 { "T" } else { "C" })
}

/// What the letters behind the forces of members mean; `None` where no value of these cases has one.
pub fn key_to_members(model: &Model, cases: &[&CaseAnswer]) -> Option<&'static str> {
    let is_lettered = |case: &&CaseAnswer| {
        let mut values = model.reactions.iter().zip(&case.values);
        values.any(|(reaction, value)| value.is_some_and(|x| state(model, reaction, x).is_some()))
    };
    let any = cases.iter().any(is_lettered);
    any.then_some("(T) tension, (C) compression.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::statics::ReactionIndex;

    /// A lamp hangs from one link and stands on another.
    #[test]
    fn members_are_pulled_or_pressed() {
        let text = "(format: 1, space: planar, body: [Block(centre: (0, 0), size: (2, 0.2, 0.2))],
            supports: [Link(name: \"P\", at: (-1, 0), ground: (-1, 1)), Link(name: \"Q\", at: (1, 0), ground: (1, -1)),
                Roller(name: \"R\", at: (1, 0), normal: (-1, 0))])";
        let model = Model::new(&read_str("lamp", text).unwrap().scene).unwrap();
        let [hanging, standing, roller] =
            [0, 1, 2].map(|i| &model.reactions[ReactionIndex::new(i)]);
        // A load downwards is carried by forces upwards: a pull above, a push below.
        let sign = |reaction: &Reaction| reaction.direction.y.signum();
        assert_eq!(acting(&model, hanging, 5.0 * sign(hanging)), "5 N (T)");
        assert_eq!(acting(&model, standing, 5.0 * sign(standing)), "5 N (C)");
        assert_eq!(acting(&model, hanging, 0.0), "0 N");
        assert_eq!(acting(&model, roller, -5.0), "\u{2212}5 N");
    }
}
