//! The words for each geometry that leaves the body free.

use nalgebra::{Unit, Vector3};

use super::super::geometry::{SAME, coordinates, direction, is_vertical, line, point};
use super::super::motion::{advance, translation};
use super::super::name::count;
use super::super::number::length;
use super::super::phrase::{Phrase, phrase};
use super::pencils::{left, name_of_plane, one_pencil, two_pencils};
use super::{Explanation, Reactions};
use crate::scene::Space;
use crate::statics::{
    Line, Model, Plane, Quadric, QuadricKind, Reaction, ReactionKind, Reason, Regulus,
};

/// The words for a geometry, before any remark on the count.
pub(super) fn explanation(model: &Model, all: &Reactions, reason: &Reason) -> Explanation {
    match reason {
        Reason::SquareTo(along) => square_to(model, all, along),
        Reason::LinearComplex(axis, pitch) => linear_complex(model, all, axis, *pitch),
        Reason::MeetTwoLines(first, second) => meet_two_lines(model, all, first, second),
        Reason::MeetLineSquareTo(line, along) => meet_line_square_to(model, all, line, along),
        Reason::CommonNormal(line) => common_normal(model, all, line),
        Reason::PointOrPlane(plane) => point_or_plane(model, all, plane),
        Reason::AlongOrInPlane(along, plane) => along_or_in_plane(model, all, along, plane),
        Reason::ParallelWithCouples(along) => parallel_with_couples(model, all, along),
        Reason::Touching(line) => touching(model, all, line),
        Reason::TouchingAtInfinity(along) => touching_at_infinity(model, all, along),
        Reason::OnlyScrews => only_screws(all),
        Reason::ThroughPoint(at) => through_point(model, all, at),
        Reason::InPlane(plane) => in_plane(model, all, plane),
        Reason::Parallel(along) => parallel(model, all, along),
        Reason::OnlyCouples => Explanation::new(
            match all.names {
                Some(_) => all.couples_that("are couples", "is a couple"),
                None => phrase!(
                    "all ",
                    count(all.couples),
                    " reactions are couples, which prevent no translation"
                ),
            },
            "nothing prevents the three translations",
        ),
        Reason::Regulus(regulus) => on_regulus(model, all, regulus),
        Reason::TwoPencils(pencils) => two_pencils(model, all, &pencils.carriers, &pencils.axes),
        Reason::OnePencil(pencil) => one_pencil(model, all, pencil),
        Reason::TwoLines(first, second) => two_lines(model, all, first, second),
        Reason::ForceAndCouple(line, couple) => force_and_couple(model, all, line, couple),
        Reason::OneLine(line) => one_line(model, all, line),
        Reason::OneCouple(along) => one_couple(model, all, along),
        // These say more than geometry and are worded by the caller.
        Reason::Held | Reason::NoReactions | Reason::MeetLine(_) | Reason::SeveralMotions => {
            Explanation::new("", "")
        }
    }
}

fn name_of(model: &Model, at: &Line) -> Phrase {
    line(model, &at.point, &at.direction)
}

fn square_to(model: &Model, all: &Reactions, along: &Unit<Vector3<f64>>) -> Explanation {
    let name = direction(model, along);
    let forces = all.forces_that("are", "is");
    if all.names.is_some() && model.space == Space::Planar {
        let couples = all.and_couples("a couple");
        return Explanation::new(phrase!(forces, " parallel", couples), "");
    }
    let lie = if is_vertical(model, along) {
        "horizontal".into()
    } else {
        phrase!("perpendicular to ", name)
    };
    let so = match (all.couples, all.forces, model.space) {
        (1.., ..) => stopping_nothing(all),
        (_, 0 | 1, _) => Phrase::new(),
        (_, _, Space::Spatial) => " and so lie in parallel planes".into(),
        (_, _, Space::Planar) => " and so are parallel".into(),
    };
    Explanation::new(
        phrase!(forces, " ", lie, so),
        phrase!("nothing prevents ", translation(model, along)),
    )
}

/// Couples beside forces, by name where the members have names.
fn stopping_nothing(all: &Reactions) -> Phrase {
    match (all.couples, &all.names) {
        (1, Some(_)) => all.and_couples("a couple"),
        (_, Some(_)) => all.and_couples("couples"),
        (_, None) => ", and couples prevent no translation".into(),
    }
}

fn linear_complex(model: &Model, all: &Reactions, axis: &Line, pitch: f64) -> Explanation {
    Explanation {
        premise: no_line_meets(all),
        consequence: phrase!(
            "the body can rotate about ",
            name_of(model, axis),
            " while ",
            advance(model, pitch),
            ": a free screw motion"
        ),
        surprising: true,
    }
}

fn no_line_meets(all: &Reactions) -> Phrase {
    let forces = all.forces_as_object();
    if all.couples > 0 {
        let couples = all.couples_as_object();
        phrase!(
            "no line meets ",
            forces,
            " and is perpendicular to ",
            couples
        )
    } else {
        phrase!("no line meets ", forces)
    }
}

/// `meet`, with "or are parallel to" where some force is.
pub(super) fn meet(model: &Model, all: &Reactions, lines: &[&Line]) -> Phrase {
    let parallel = all.members.iter().any(|member| {
        let reaction = &model.reactions[*member];
        let along = |line: &&Line| {
            reaction.direction.cross(&line.direction).norm() <= SAME
                && line.distance(&reaction.point) > SAME * model.length
        };
        reaction.kind == ReactionKind::Force && lines.iter().any(along)
    });
    let meets = all.forces_that("meet", "meets");
    if parallel {
        phrase!(meets, " or ", all.are(), " parallel to")
    } else {
        meets
    }
}

fn meet_two_lines(model: &Model, all: &Reactions, first: &Line, second: &Line) -> Explanation {
    let meet = meet(model, all, &[first, second]);
    Explanation::new(
        phrase!(
            meet,
            " both ",
            name_of(model, first),
            " and ",
            name_of(model, second),
            all.and_couples("perpendicular to both")
        ),
        "nothing prevents rotation about either of them or screw motions that combine the two",
    )
}

fn meet_line_square_to(
    model: &Model,
    all: &Reactions,
    line: &Line,
    along: &Unit<Vector3<f64>>,
) -> Explanation {
    let (meet, name) = (meet(model, all, &[line]), direction(model, along));
    Explanation::new(
        phrase!(
            meet,
            " ",
            name_of(model, line),
            " and ",
            all.are(),
            " perpendicular to ",
            name,
            all.and_couples("perpendicular to that line")
        ),
        phrase!(
            "nothing prevents rotation about that line or ",
            translation(model, along)
        ),
    )
}

fn common_normal(model: &Model, all: &Reactions, line: &Line) -> Explanation {
    Explanation::new(
        phrase!(
            all.forces_that("meet", "meets"),
            " ",
            name_of(model, line),
            " at right angles",
            all.and_couples("perpendicular to it")
        ),
        "nothing prevents rotation about it or translation along it",
    )
}

fn point_or_plane(model: &Model, all: &Reactions, at: &Plane) -> Explanation {
    let (place, plane) = (point(model, &at.point), name_of_plane(model, at));
    let through =
        |i: &Reaction| (i.point - at.point).cross(&i.direction).norm() <= SAME * model.length;
    let mut own = all.members.iter().map(|member| &model.reactions[*member]);
    let elsewhere = own.any(|r| r.kind == ReactionKind::Force && !through(r));
    let premise = if elsewhere {
        let pass = all.forces_that("pass", "passes");
        phrase!(pass, " through ", place, " or lie in ", plane)
    } else {
        phrase!(all.forces_that("pass", "passes"), " through ", place)
    };
    Explanation::new(
        phrase!(
            premise,
            all.and_couples(phrase!("about ", direction(model, &at.normal)))
        ),
        phrase!(
            "nothing prevents rotation about any line through ",
            place,
            " in ",
            plane
        ),
    )
}

fn along_or_in_plane(
    model: &Model,
    all: &Reactions,
    along: &Unit<Vector3<f64>>,
    at: &Plane,
) -> Explanation {
    let name = direction(model, along);
    Explanation::new(
        phrase!(
            all.forces_that("are", "is"),
            " parallel to ",
            name,
            " or in ",
            name_of_plane(model, at),
            all.and_couples(phrase!("perpendicular to ", name))
        ),
        phrase!(
            "nothing prevents rotation about any line parallel to ",
            name,
            " in that plane or translation perpendicular to it"
        ),
    )
}

/// `vertical` or `parallel to x`, and the translations that forces with that direction do not stop.
fn parallel_words(model: &Model, along: &Unit<Vector3<f64>>) -> (Phrase, Phrase) {
    if is_vertical(model, along) {
        ("vertical".into(), "horizontal translation".into())
    } else {
        let name = direction(model, along);
        let left = phrase!("translation perpendicular to ", name);
        (phrase!("parallel to ", name), left)
    }
}

fn parallel_with_couples(
    model: &Model,
    all: &Reactions,
    along: &Unit<Vector3<f64>>,
) -> Explanation {
    let (how, left) = parallel_words(model, along);
    Explanation::new(
        phrase!(
            all.forces_that("are", "is"),
            " ",
            how,
            stopping_nothing(all)
        ),
        phrase!("nothing prevents ", left),
    )
}

fn parallel(model: &Model, all: &Reactions, along: &Unit<Vector3<f64>>) -> Explanation {
    let (how, left) = parallel_words(model, along);
    let turn = if is_vertical(model, along) {
        "a vertical line".into()
    } else {
        phrase!("a line parallel to ", direction(model, along))
    };
    let couples = match (all.couples, &all.names) {
        (0, _) => Phrase::new(),
        (_, Some(_)) => all.and_couples("perpendicular to that direction"),
        (_, None) => ", and no couple acts about that direction".into(),
    };
    Explanation::new(
        phrase!(all.forces_that("are", "is"), " ", how, couples),
        phrase!("nothing prevents ", left, " or rotation about ", turn),
    )
}

fn touching(model: &Model, all: &Reactions, line: &Line) -> Explanation {
    Explanation::new(
        phrase!(
            meet(model, all, &[line]),
            " ",
            name_of(model, line),
            ", and the plane through the line and each force rotates in step with the point where they meet",
            all.and_couples("perpendicular to it")
        ),
        "nothing prevents rotation about that line or a screw motion whose axis crosses it at a right angle",
    )
}

fn touching_at_infinity(model: &Model, all: &Reactions, along: &Unit<Vector3<f64>>) -> Explanation {
    let name = direction(model, along);
    let (no_line, is) = (no_line_meets(all), all.are());
    Explanation::new(
        phrase!(
            all.forces_that("are", is),
            " perpendicular to ",
            name,
            ", and ",
            no_line
        ),
        phrase!(
            "nothing prevents ",
            translation(model, along),
            " or a screw motion about an axis perpendicular to it"
        ),
    )
}

fn only_screws(all: &Reactions) -> Explanation {
    Explanation {
        premise: no_line_meets(all),
        consequence: "the body can move in two ways: only screw motions are free, no rotation"
            .into(),
        surprising: true,
    }
}

fn through_point(model: &Model, all: &Reactions, at: &nalgebra::Point3<f64>) -> Explanation {
    let place = point(model, at);
    let pass = all.forces_that("pass", "passes");
    Explanation::new(
        phrase!(pass, " through ", place),
        phrase!("nothing prevents rotation about any line through ", place),
    )
}

fn in_plane(model: &Model, all: &Reactions, at: &Plane) -> Explanation {
    Explanation::new(
        phrase!(
            all.forces_that("lie", "lies"),
            " in ",
            name_of_plane(model, at),
            all.and_couples(phrase!("about ", direction(model, &at.normal)))
        ),
        "nothing prevents rotation about any line of that plane or translation perpendicular to it",
    )
}

fn on_regulus(model: &Model, all: &Reactions, regulus: &Regulus) -> Explanation {
    let surface = regulus
        .quadric
        .as_ref()
        .map_or_else(|| "one ruled quadric".into(), |q| quadric(model, q));
    let forces = all.forces_as_object();
    let couples = all.and_couples("at infinity on it");
    Explanation::new(
        phrase!(
            forces,
            " belong to one family of straight lines on ",
            surface,
            couples
        ),
        "nothing prevents rotation about any line of its other family",
    )
}

/// A ruled quadric as a noun: `the hyperboloid about z (vertical) with centre (0, 0, 1) m and waist 2 m`.
pub(super) fn quadric(model: &Model, quadric: &Quadric) -> Phrase {
    match &quadric.kind {
        QuadricKind::Hyperboloid {
            centre,
            axis,
            waist: [wide, narrow],
            ..
        } => {
            let units = &model.units;
            let waist = if (wide - narrow).abs() <= SAME * wide {
                phrase!("waist radius ", length(*wide, units))
            } else {
                let (a, b) = (length(*wide, units), length(*narrow, units));
                phrase!("waist half-widths ", a, " and ", b)
            };
            phrase!(
                "the hyperboloid along ",
                direction(model, axis),
                " with centre ",
                coordinates(model, centre),
                " and ",
                waist
            )
        }
        QuadricKind::Saddle { normals: [a, b] } => phrase!(
            "the saddle (hyperbolic paraboloid) whose lines are perpendicular to ",
            direction(model, a),
            " and to ",
            direction(model, b)
        ),
    }
}

fn two_lines(model: &Model, all: &Reactions, first: &Line, second: &Line) -> Explanation {
    let forces = all.forces_that("act", "acts");
    Explanation::new(
        phrase!(
            forces,
            " along ",
            name_of(model, first),
            " or ",
            name_of(model, second),
            ", which do not meet"
        ),
        left(model, 2),
    )
}

fn force_and_couple(
    model: &Model,
    all: &Reactions,
    line: &Line,
    couple: &Unit<Vector3<f64>>,
) -> Explanation {
    let forces = all.forces_that("act", "acts");
    let about = all.and_couples(phrase!("about ", direction(model, couple)));
    Explanation::new(
        phrase!(forces, " along ", name_of(model, line), about),
        left(model, 2),
    )
}

fn one_line(model: &Model, all: &Reactions, line: &Line) -> Explanation {
    let forces = all.forces_that("act", "acts");
    Explanation::new(
        phrase!(forces, " along ", name_of(model, line)),
        left(model, 1),
    )
}

fn one_couple(model: &Model, all: &Reactions, along: &Unit<Vector3<f64>>) -> Explanation {
    let premise = match (model.space, all.couples) {
        (Space::Spatial, 1) => phrase!(
            all.couples_that("act", "acts"),
            " about ",
            direction(model, along)
        ),
        (Space::Spatial, _) => phrase!(
            all.couples_that("are couples", "is a couple"),
            " about ",
            direction(model, along)
        ),
        (Space::Planar, 1) => all.couples_that("are couples", "is a couple"),
        (Space::Planar, _) => phrase!(
            all.couples_that("are couples", "is a couple"),
            " in the plane"
        ),
    };
    Explanation::new(premise, left(model, 1))
}
