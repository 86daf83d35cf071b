//! What cannot be seen, as strokes without width: loads and reactions.

use nalgebra::{Point3, Unit, Vector3};

use super::carrier::Carrier;
use super::face_rows;
use crate::statics::{AppliedLoad, CaseIndex, Model, ReactionIndex, ReactionKind, Sense};
use crate::wording::{self, Phrase, phrase};

/// How a force, a couple or a spread load is drawn.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ForceStroke {
    /// An arrow.
    Arrow {
        /// The point at which it acts, m.
        at: Point3<f64>,
        /// Its direction.
        along: Unit<Vector3<f64>>,
        /// On which side of the point it is.
        stance: ArrowSide,
    },
    /// An open ring with a head.
    Ring {
        /// Where it is, m.
        at: Point3<f64>,
        /// The direction about which it turns, right-handed.
        about: Unit<Vector3<f64>>,
    },
    /// Arrows in a row with a line over their tails.
    Row {
        /// The ends of the row, m.
        ends: [Point3<f64>; 2],
        /// Densities at the ends, relative to the larger.
        densities: [Vector3<f64>; 2],
    },
}

/// On which side of its point an arrow is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ArrowSide {
    /// Towards the point or away from it, whichever leaves it off the body.
    Free,
    /// Down from the point, as a weight from its centre.
    Hanging,
    /// Towards the point from behind the surface that pushes.
    Behind,
    /// Along the rod or cable from the point to this ground end, m.
    OnRod(Point3<f64>),
}

/// A load as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnLoad {
    /// Its index in the case.
    pub index: usize,
    /// What it moves with.
    pub carrier: Carrier,
    /// Its stroke.
    pub stroke: ForceStroke,
    /// Its values, each with the share of the row at which it stands; none of all but one row of a load in several.
    pub values: Vec<(f64, Phrase)>,
    /// Whether it is spread over a face, and so not along its row.
    pub is_over_face: bool,
}

/// A reaction as it is drawn, in its positive sense.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnReaction {
    /// Its index in the model.
    pub index: ReactionIndex,
    /// What it moves with.
    pub carrier: Carrier,
    /// Its stroke.
    pub stroke: ForceStroke,
}

/// Densities closer than this, relative to the larger, are one.
const EVEN: f64 = 1e-9;

/// The loads of a case; none where there is no such case. Loads of no size are not drawn; those along a path or over a face are
/// drawn as several rows with one value.
pub fn loads(model: &Model, case: CaseIndex) -> Vec<DrawnLoad> {
    let case = model.cases.get(case);
    let loads = case.map_or(&[][..], |case| &case.loads).iter().enumerate();
    loads
        .flat_map(|(index, load)| drawn(model, index, load))
        .collect()
}

fn drawn(model: &Model, index: usize, load: &AppliedLoad) -> Vec<DrawnLoad> {
    let units = &model.units;
    let unit = |vector: &Vector3<f64>| {
        let largest = vector.amax();
        let sound = largest > 0.0 && largest.is_finite();
        sound.then(|| Unit::new_normalize(vector / largest))
    };
    let arrow = |at: &Point3<f64>, force: &Vector3<f64>, stance, value: Phrase| {
        Some(DrawnLoad {
            index,
            carrier: Carrier::Point(*at),
            stroke: ForceStroke::Arrow {
                at: *at,
                along: unit(force)?,
                stance,
            },
            values: vec![(0.0, value)],
            is_over_face: false,
        })
    };
    let one = match load {
        AppliedLoad::Force { at, force } => arrow(
            at,
            force,
            ArrowSide::Free,
            wording::force(force.norm(), units).into(),
        ),
        AppliedLoad::Weight { at, force, .. } => {
            let value = phrase!("weight ", wording::force(force.norm(), units));
            arrow(at, force, ArrowSide::Hanging, value)
        }
        AppliedLoad::Couple { at, moment } => {
            let at = at.unwrap_or(model.reference);
            unit(moment).map(|about| DrawnLoad {
                index,
                carrier: Carrier::Point(at),
                stroke: ForceStroke::Ring { at, about },
                values: vec![(0.0, wording::couple(moment.norm(), units).into())],
                is_over_face: false,
            })
        }
        AppliedLoad::Distributed { ends, densities } => row(model, index, ends, densities),
        AppliedLoad::Line {
            path,
            density,
            mass,
        } => {
            let pieces = path.windows(2).map(|ends| [ends[0], ends[1]]).collect();
            let weight = mass.map(|_| "weight ");
            let value = phrase!(weight, wording::density(density.norm(), units));
            return alike_rows(index, pieces, density, &value, false);
        }
        AppliedLoad::Area {
            face,
            density,
            on_plan,
        } => {
            let on_plan = on_plan.then_some(" on plan");
            let value = phrase!(wording::pressure(density.norm(), units), on_plan);
            return alike_rows(index, face_rows::rows(face), density, &value, true);
        }
    };
    one.into_iter().collect()
}

/// Rows of one even density, the longest of them with its value in the middle.
fn alike_rows(
    index: usize,
    rows: Vec<[Point3<f64>; 2]>,
    density: &Vector3<f64>,
    value: &Phrase,
    is_over_face: bool,
) -> Vec<DrawnLoad> {
    let Some(along) = density.try_normalize(0.0) else {
        return Vec::new();
    };
    let length = |ends: &[Point3<f64>; 2]| (ends[1] - ends[0]).norm();
    // Of equally long ones the first.
    let longest = rows.iter().map(length).fold(0.0, f64::max) * (1.0 - EVEN);
    let bears_value = rows.iter().position(|row| length(row) >= longest);
    let rows = rows.into_iter().enumerate();
    rows.map(|(place, ends)| DrawnLoad {
        index,
        carrier: Carrier::Point(nalgebra::center(&ends[0], &ends[1])),
        stroke: ForceStroke::Row {
            ends,
            densities: [along; 2],
        },
        values: match bears_value == Some(place) {
            true => vec![(0.5, value.clone())],
            false => Vec::new(),
        },
        is_over_face,
    })
    .collect()
}

/// One value in the middle for an even load, else one at each end that is not zero.
fn row(
    model: &Model,
    index: usize,
    ends: &[Point3<f64>; 2],
    densities: &[Vector3<f64>; 2],
) -> Option<DrawnLoad> {
    let sizes = densities.each_ref().map(|density| density.norm());
    let largest = sizes[0].max(sizes[1]);
    if largest <= 0.0 || largest.is_nan() {
        return None;
    }
    let value = |size| Phrase::from(wording::density(size, &model.units));
    let even = (densities[0] - densities[1]).norm() <= EVEN * largest;
    let at_ends = [0.0, 1.0].into_iter().zip(sizes);
    let values = match even {
        true => vec![(0.5, value(sizes[0]))],
        false => at_ends
            .filter(|(_, size)| *size > 0.0)
            .map(|(share, size)| (share, value(size)))
            .collect(),
    };
    Some(DrawnLoad {
        index,
        carrier: Carrier::Point(nalgebra::center(&ends[0], &ends[1])),
        stroke: ForceStroke::Row {
            ends: *ends,
            densities: densities.map(|density| density / largest),
        },
        values,
        is_over_face: false,
    })
}

/// Every reaction, in the order of the model.
pub fn reactions(model: &Model) -> Vec<DrawnReaction> {
    let reactions = model.reactions.enumerate();
    let drawn = reactions.map(|(index, reaction)| {
        let support = &model.supports[reaction.support];
        let carrier = match support.ground {
            Some(ground) => Carrier::Rod {
                ground,
                eye: support.point,
            },
            None => Carrier::Point(support.point),
        };
        let stance = match (support.ground, reaction.sense) {
            (Some(ground), _) => ArrowSide::OnRod(ground),
            (None, Sense::Push) => ArrowSide::Behind,
            (None, _) => ArrowSide::Free,
        };
        let (at, direction) = (reaction.point, reaction.direction);
        let stroke = match reaction.kind {
            ReactionKind::Force => ForceStroke::Arrow {
                at,
                along: direction,
                stance,
            },
            ReactionKind::Couple => ForceStroke::Ring {
                at,
                about: direction,
            },
        };
        DrawnReaction {
            index,
            carrier,
            stroke,
        }
    });
    drawn.collect()
}
