//! The words for pencils: lines through a point in a plane, along a direction in a plane, or at infinity.

use nalgebra::{Unit, Vector3};

use super::super::geometry::{SAME, direction, is_vertical, plane, point};
use super::super::name::count;
use super::super::phrase::{Phrase, phrase};
use super::{Explanation, Reactions};
use crate::statics::{Model, Pencil, Plane, ReactionKind};

/// The lines of a pencil as what follows "any line" or "every force passes": `through A in the plane ...`.
fn pencil(model: &Model, pencil: &Pencil) -> Phrase {
    match pencil {
        Pencil::Through(at) => {
            let plane = match is_vertical(model, &at.normal) {
                true => "horizontal plane".into(),
                false => phrase!("plane perpendicular to ", direction(model, &at.normal)),
            };
            phrase!("through ", point(model, &at.point), " in the ", plane)
        }
        Pencil::Along(along, at) => {
            let how = match is_vertical(model, along) {
                true => "vertically".into(),
                false => phrase!("along ", direction(model, along)),
            };
            phrase!(how, " in ", name_of_plane(model, at))
        }
        Pencil::SquareTo(along) => {
            phrase!("at infinity, perpendicular to ", direction(model, along))
        }
    }
}

fn free_about(model: &Model, axes: &Pencil) -> Phrase {
    match axes {
        Pencil::SquareTo(along) => {
            phrase!("any translation perpendicular to ", direction(model, along))
        }
        Pencil::Along(along, at) => {
            let (how, plane) = (direction(model, along), name_of_plane(model, at));
            phrase!("rotation about any line parallel to ", how, " in ", plane)
        }
        through => phrase!("rotation about any line ", pencil(model, through)),
    }
}

pub(super) fn two_pencils(
    model: &Model,
    all: &Reactions,
    carriers: &[Pencil; 2],
    axes: &[Pencil; 2],
) -> Explanation {
    let forces: Vec<Phrase> = carriers
        .iter()
        .filter(|carrier| !matches!(carrier, Pencil::SquareTo(_)))
        .map(|carrier| pencil(model, carrier))
        .collect();
    let couples = match carriers.iter().find_map(at_infinity) {
        Some(along) if are_square_to(model, all, along) => {
            all.and_couples(phrase!("perpendicular to ", direction(model, along)))
        }
        Some(along) => all.and_couples(phrase!(
            "perpendicular to ",
            direction(model, along),
            " or in that pencil, at infinity"
        )),
        None => all.and_couples("in one of these two pencils, at infinity"),
    };
    Explanation::new(
        phrase!(
            all.forces_that("run", "runs"),
            " ",
            Phrase::joined(forces, " or "),
            couples
        ),
        phrase!(
            "nothing prevents ",
            free_about(model, &axes[0]),
            " or ",
            free_about(model, &axes[1])
        ),
    )
}

/// The direction that a pencil of couples is perpendicular to; `None` of a pencil of lines.
fn at_infinity(pencil: &Pencil) -> Option<&Unit<Vector3<f64>>> {
    match pencil {
        Pencil::SquareTo(along) => Some(along),
        Pencil::Through(_) | Pencil::Along(..) => None,
    }
}

/// Whether every couple among some reactions is perpendicular to a direction.
fn are_square_to(model: &Model, all: &Reactions, along: &Unit<Vector3<f64>>) -> bool {
    let members = all.members.iter().map(|member| &model.reactions[*member]);
    let mut couples = members.filter(|reaction| reaction.kind == ReactionKind::Couple);
    couples.all(|couple| couple.direction.dot(along).abs() <= SAME)
}

pub(super) fn one_pencil(model: &Model, all: &Reactions, own: &Pencil) -> Explanation {
    let premise = match own {
        Pencil::SquareTo(along) => {
            let couples = all.couples_that("are", "is");
            phrase!(couples, " perpendicular to ", direction(model, along))
        }
        Pencil::Through(_) => phrase!(all.forces_that("pass", "passes"), " ", pencil(model, own)),
        Pencil::Along(_, at) => phrase!(
            all.forces_that("act", "acts"),
            " ",
            pencil(model, own),
            all.and_couples(phrase!("about ", direction(model, &at.normal)))
        ),
    };
    Explanation::new(premise, left(model, 2))
}

pub(super) fn name_of_plane(model: &Model, at: &Plane) -> Phrase {
    plane(model, &at.point, &at.normal)
}

/// `four motions remain`: what two reactions or one do not stop.
pub(super) fn left(model: &Model, rank: usize) -> Phrase {
    phrase!(count(model.space.motions() - rank), " motions remain")
}
