//! Words for the geometric objects of a reason and the reactions that belong to them.

use super::geometry::{direction, line, plane, point};
use super::motion::advance;
use super::name::listed;
use super::phrase::{Phrase, phrase};
use crate::statics::{Model, Picture, ReasonShape};

/// What an object is: `the line through A and B`, `the horizontal plane through A`.
pub fn object(model: &Model, shape: &ReasonShape) -> Phrase {
    match shape {
        ReasonShape::Point(at) => phrase!("the point ", point(model, at)),
        ReasonShape::Line(at) => line(model, &at.point, &at.direction),
        ReasonShape::Screw(axis, pitch) => phrase!(
            "the screw motion about ",
            line(model, &axis.point, &axis.direction),
            ", ",
            advance(model, *pitch)
        ),
        ReasonShape::Plane(at) => plane(model, &at.point, &at.normal),
        ReasonShape::Direction(along) => phrase!("the direction ", direction(model, along)),
        ReasonShape::Couple(about) => phrase!("couples about ", direction(model, about)),
        ReasonShape::CouplesAcross(to) => {
            phrase!("couples perpendicular to ", direction(model, to))
        }
        ReasonShape::Planes(to) => phrase!("planes perpendicular to ", direction(model, to)),
        ReasonShape::Surface(_) => "lines of a ruled surface".into(),
    }
}

/// An object with its reactions: `the line through A and B: A_x, A_y and A_z`.
pub fn picture(model: &Model, picture: &Picture) -> Phrase {
    let object = object(model, &picture.shape);
    let names: Vec<Phrase> = picture
        .reactions
        .iter()
        .map(|index| Phrase::from(&model.reactions[*index].symbol))
        .collect();
    match names.as_slice() {
        [] => object,
        names => phrase!(object, ": ", listed(names)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples;
    use super::*;

    #[test]
    fn an_object_is_named_with_its_reactions() {
        let study = samples::study(samples::hinged_hatch());
        let model = study.model();
        let said = picture(model, &study.objects()[0]);
        assert!(said.to_string().starts_with("the line through"), "{said}");
        for reaction in &model.reactions {
            assert!(said.to_string().contains(&reaction.name), "{said}");
        }
    }
}
