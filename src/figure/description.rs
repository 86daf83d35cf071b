//! What a figure shows, in sentences, for readers who cannot see it.

use super::axis;
use super::settings::FigurePart;
use super::stage::Stage;
use crate::portrayal;
use crate::wording::{self, Phrase, phrase};

/// Sentences on the parts that are shown, and on no others: a question must not give its answer away.
pub(super) fn of(stage: &Stage) -> String {
    let sentences = [
        (FigurePart::Supports, supports(stage)),
        (FigurePart::Loads, loads(stage)),
        (FigurePart::Reactions, reactions(stage)),
        (FigurePart::Axis, shared_axis(stage)),
        (FigurePart::Motion, motion(stage)),
    ];
    let shown = sentences
        .into_iter()
        .filter(|(part, _)| stage.shows(*part))
        .filter_map(|(_, sentence)| sentence);
    let sentences: Vec<String> = shown
        .map(|sentence| sentence.with_digits(stage.settings.digits).to_string())
        .collect();
    sentences.join(" ")
}

/// `Supports: A (ball joint at (0, 0, 0) m).`
fn supports(stage: &Stage) -> Option<Phrase> {
    let model = stage.study.model();
    let held = model.supports.iter().map(|support| {
        phrase!(
            Phrase::name(&support.name),
            " (",
            wording::support_kind(&support.kind),
            " at ",
            wording::coordinates(model, &support.point),
            ")"
        )
    });
    listed("Supports: ", held.collect())
}

/// `Loads: weight 137.3 N.`
fn loads(stage: &Stage) -> Option<Phrase> {
    let loads = portrayal::loads(stage.study.model(), stage.settings.case);
    let values = loads
        .into_iter()
        .flat_map(|load| load.values.into_iter().map(|(_, value)| value));
    listed("Loads: ", values.collect())
}

/// `Reactions: A_x, A_y and A_z.`
fn reactions(stage: &Stage) -> Option<Phrase> {
    let reactions = stage.study.model().reactions.iter();
    let symbols = reactions.map(|reaction| Phrase::from(&reaction.symbol));
    listed("Reactions: ", symbols.collect())
}

fn shared_axis(stage: &Stage) -> Option<Phrase> {
    let axis = axis::of_motion(stage)?;
    let model = stage.study.model();
    let line = wording::line(model, &axis.point, &axis.direction);
    let what = if stage.is_planar() {
        "Centre of rotation: "
    } else {
        "Shared axis: "
    };
    let crossings = wording::crossings(model, axis).map(|said| phrase!(" ", said));
    Some(phrase!(what, line, ".", crossings))
}

fn motion(stage: &Stage) -> Option<Phrase> {
    let settings = stage.settings;
    let course = stage.study.course(settings.motion, settings.case)?;
    let motion = wording::motion_phrase(stage.study.model(), course.motion);
    Some(phrase!("Motion: ", motion, "."))
}

fn listed(what: &'static str, items: Vec<Phrase>) -> Option<Phrase> {
    let some = !items.is_empty();
    some.then(|| phrase!(what, wording::listed(&items), "."))
}

#[cfg(test)]
mod tests {
    use super::super::{FigureSettings, draw};
    use super::*;
    use crate::study::Study;

    fn described(parts: &[FigurePart]) -> String {
        let settings = FigureSettings {
            parts: parts.iter().copied().collect(),
            ..FigureSettings::default()
        };
        draw(&Study::open("handrail").unwrap(), &settings).description
    }

    #[test]
    fn only_what_is_shown_is_described() {
        assert_eq!(described(&[FigurePart::Body]), "");
        let question = described(&FigurePart::QUESTION);
        assert!(
            question.contains("A (ball joint at (0, 0, 0) m)"),
            "{question}"
        );
        assert!(question.contains("weight 137.3 N"), "{question}");
        assert!(!question.contains("axis") && !question.contains("A_x"));
        let answer = described(&FigurePart::USUAL);
        assert!(answer.contains("A_x, A_y, A_z"), "{answer}");
        assert!(answer.contains("Shared axis: the line through A and B."));
        assert!(!answer.contains("weight"));
    }
}
