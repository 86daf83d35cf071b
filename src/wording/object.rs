//! Words for the geometric objects of a reason and the reactions that belong to them.

use super::geometry::{direction, line, plane, point};
use super::motion::advance;
use super::name::listed;
use crate::statics::{Model, Picture, Shape};

/// What an object is: `the line through A and B`, `the horizontal plane through A`.
pub fn object(model: &Model, shape: &Shape) -> String {
    match shape {
        Shape::Point(at) => format!("the point {}", point(model, at)),
        Shape::Line(at) => line(model, &at.point, &at.direction),
        Shape::Screw(axis, pitch) => format!(
            "the screw about {}, {}",
            line(model, &axis.point, &axis.direction),
            advance(model, *pitch)
        ),
        Shape::Plane(at) => plane(model, &at.point, &at.normal),
        Shape::Direction(along) => format!("the direction {}", direction(model, along)),
        Shape::Couple(about) => format!("couples about {}", direction(model, about)),
        Shape::CouplesAcross(to) => format!("couples square to {}", direction(model, to)),
        Shape::Planes(to) => format!("planes square to {}", direction(model, to)),
        Shape::Surface(_) => "lines of a ruled surface".to_owned(),
    }
}

/// An object with its reactions: `the line through A and B: A_x, A_y and A_z`.
pub fn picture(model: &Model, picture: &Picture) -> String {
    let object = object(model, &picture.shape);
    let names: Vec<&str> = picture
        .reactions
        .iter()
        .map(|index| model.reactions[*index].name.as_str())
        .collect();
    match names.as_slice() {
        [] => object,
        names => format!("{object}: {}", listed(names)),
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
        assert!(said.starts_with("the line through"), "{said}");
        for reaction in &model.reactions {
            assert!(said.contains(&reaction.name), "{said}");
        }
    }
}
