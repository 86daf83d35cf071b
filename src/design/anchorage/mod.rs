//! What each anchor of a plate takes of what its support carries.
//!
//! The plate is rigid. Out of the wall each anchor is a spring that only pulls, and the wall under the plate a bed of springs that
//! only press; where the plate lifts off, a gap opens on one side of a straight neutral line. Along the wall equally stiff anchors
//! share force and torsion as a group of fasteners does (Barrett, *Fastener Design Manual*, NASA RP-1228, 1990); friction under the
//! plate is not counted on. Everything rests on the stiffnesses given.

mod contact;
mod region;

use nalgebra::{DMatrix, DVector, Vector3};

use super::DesignCase;
use crate::indexed::Indexed;
use crate::statics::{
    AnchorGroup, CaseIndex, Model, ReactionKind, SplitForce, SupportIndex, nearest,
};
use contact::PlateContact;
use region::{PlateSpot, moments, rectangle, shape, zeros};

/// How stiff the wall is taken to be under a plate where the scene does not say: as a whole so many times all anchors together.
pub const USUAL_BEDDING: f64 = 100.0;

/// An anchor plate under every load case.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub struct Anchorage {
    /// Whose plate it is.
    pub support: SupportIndex,
    /// Whether stiffnesses of anchors and wall are given in numbers, so that gaps are known.
    pub has_stiffness: bool,
    /// What follows under each load case, in the model's order.
    pub cases: Indexed<CaseIndex, AnchorageCase>,
}

/// An anchor plate under a load case.
#[derive(Debug, Clone)]
#[must_use]
#[non_exhaustive]
pub enum AnchorageCase {
    /// What its support carries is not known: the load is not carried, or equilibrium leaves it open.
    Unknown,
    /// No pull of the anchors and pressure of the wall balances what the support would carry.
    NotCarried,
    /// No forces were found that could be confirmed: stiffnesses lie too far apart.
    NotFound,
    /// These do.
    Solved(AnchorForces),
}

/// What the anchors of a plate take. Places are on the plate, m: x to the right, y upwards, seen from in front.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct AnchorForces {
    /// Of each anchor in the order of the pattern: its pull on the plate towards the wall as a negative normal force, and its shear, N.
    pub anchors: Vec<SplitForce>,
    /// Force with which the wall presses on the plate, N.
    pub pressing: f64,
    /// Largest pressure, N/m², and where; `None` where the plate presses nowhere.
    pub pressure: Option<(f64, [f64; 2])>,
    /// Ends of the neutral line on the edges of the plate; `None` where the plate presses everywhere or nowhere.
    pub neutral_line: Option<[[f64; 2]; 2]>,
    /// Largest gap, m, and at which corner; `None` where the plate nowhere lifts off, or stiffnesses are only relative.
    pub gap: Option<(f64, [f64; 2])>,
}

impl AnchorageCase {
    /// The forces, where they were found.
    pub fn forces(&self) -> Option<&AnchorForces> {
        match self {
            Self::Solved(forces) => Some(forces),
            Self::Unknown | Self::NotCarried | Self::NotFound => None,
        }
    }
}

/// Forces below this part of what a plate carries are rounding.
const ROUNDING: f64 = 1e-10;

impl Anchorage {
    /// Every anchor plate of a model, in scene order.
    pub(super) fn all(model: &Model, cases: &Indexed<CaseIndex, DesignCase>) -> Vec<Self> {
        let plates = model.supports.enumerate();
        let plates = plates.filter_map(|(index, support)| Some((index, support.anchors.as_ref()?)));
        plates
            .map(|(support, group)| {
                let of_case = |case| match PlateLoad::of(model, &cases[case], support, group) {
                    Some(load) => load.shared(group),
                    None => AnchorageCase::Unknown,
                };
                Self {
                    support,
                    has_stiffness: group.pull_stiffness.is_some(),
                    cases: model.cases.indices().map(of_case).collect(),
                }
            })
            .collect()
    }
}

/// What a plate has to pass on to the wall: force and moment on the body, in the axes of the plate, N and N·m.
struct PlateLoad {
    force: Vector3<f64>,
    moment: Vector3<f64>,
}

impl PlateLoad {
    fn of(
        model: &Model,
        case: &DesignCase,
        support: SupportIndex,
        group: &AnchorGroup,
    ) -> Option<Self> {
        let (mut force, mut moment) = (Vector3::zeros(), Vector3::zeros());
        for j in model.supports[support].reactions.clone() {
            let reaction = &model.reactions[j];
            let part = reaction.direction.into_inner() * case.value(j)?;
            match reaction.kind {
                ReactionKind::Force => force += part,
                ReactionKind::Couple => moment += part,
            }
        }
        let along =
            |vector: Vector3<f64>| Vector3::from_fn(|axis, _| group.axes[axis].dot(&vector));
        Some(Self {
            force: along(force),
            moment: along(moment),
        })
    }

    fn shared(&self, group: &AnchorGroup) -> AnchorageCase {
        let length = group.size[0].hypot(group.size[1]);
        let rounding = ROUNDING * (self.force.norm() + self.moment.norm() / length);
        // What the plate pushes and pulls with, and the moments of that, as loads on the gap's three numbers; see `contact`.
        let load = Vector3::new(
            -self.force.z,
            self.moment.y / length,
            -self.moment.x / length,
        );
        let load = load.map(|part| if part.abs() <= rounding { 0.0 } else { part });
        let anchors: Vec<PlateSpot> = group
            .places
            .iter()
            .map(|place| place.map(|x| x / length))
            .collect();
        let size = group.size.map(|side| side / length);
        if !is_carried(&load, &anchors, size) {
            return AnchorageCase::NotCarried;
        }
        let count = anchors.len() as f64;
        let area = size[0] * size[1];
        let bedding = match (group.bedding, group.pull_stiffness) {
            (Some(bedding), Some(pull)) => bedding * length * length / pull,
            _ => USUAL_BEDDING * count / area,
        };
        let contact = PlateContact {
            size,
            anchors,
            bedding,
        };
        let settled = match load == Vector3::zeros() {
            true => Some(load),
            false => contact.settled(&load),
        };
        match settled {
            Some(at) => AnchorageCase::Solved(self.forces(group, &contact, &at, length)),
            None => AnchorageCase::NotFound,
        }
    }

    fn forces(
        &self,
        group: &AnchorGroup,
        contact: &PlateContact,
        at: &Vector3<f64>,
        length: f64,
    ) -> AnchorForces {
        let rounding = ROUNDING * (self.force.norm() + self.moment.norm() / length);
        let gap = |spot: &PlateSpot| shape(spot).dot(at);
        let shears = self.shears(group);
        let anchors = contact.anchors.iter().zip(shears);
        let split = |(spot, shear): (&PlateSpot, f64)| {
            let pull = gap(spot).max(0.0);
            SplitForce {
                normal: if pull <= rounding { 0.0 } else { -pull },
                shear: if shear <= rounding { 0.0 } else { shear },
            }
        };
        let pressed = contact.pressed(at);
        let pressing = -contact.bedding * (moments(&pressed) * at).x;
        let corners = rectangle(contact.size);
        let by_gap = |a: &&PlateSpot, b: &&PlateSpot| gap(a).total_cmp(&gap(b));
        let on_plate = |spot: &PlateSpot| spot.map(|x| x * length);
        let deepest = corners.iter().min_by(by_gap);
        let presses = pressing > rounding;
        let widest = corners
            .iter()
            .max_by(by_gap)
            .filter(|spot| gap(spot) > rounding);
        AnchorForces {
            anchors: anchors.map(split).collect(),
            pressing: if presses { pressing } else { 0.0 },
            pressure: deepest.filter(|_| presses).map(|spot| {
                let pressure = -contact.bedding * gap(spot) / (length * length);
                (pressure, on_plate(spot))
            }),
            neutral_line: (presses && widest.is_some())
                .then(|| zeros(&corners, gap).try_into().ok())
                .flatten()
                .map(|ends: [PlateSpot; 2]| ends.map(|end| on_plate(&end))),
            gap: widest
                .zip(group.pull_stiffness)
                .map(|(spot, stiffness)| (gap(spot) / stiffness, on_plate(spot))),
        }
    }

    /// Shear of each anchor, N: equal shares of the force, and of the torsion about the middle of the anchors by distance.
    fn shears(&self, group: &AnchorGroup) -> Vec<f64> {
        let count = group.places.len() as f64;
        let middle = [0, 1].map(|axis| group.places.iter().map(|p| p[axis]).sum::<f64>() / count);
        let arms = group
            .places
            .iter()
            .map(|p| [p[0] - middle[0], p[1] - middle[1]]);
        let polar: f64 = arms.clone().map(|[x, y]| x * x + y * y).sum();
        let torsion = self.moment.z - (middle[0] * self.force.y - middle[1] * self.force.x);
        let shear = |[x, y]: [f64; 2]| {
            let turning = torsion / polar;
            let along = self.force.x / count - turning * y;
            let across = self.force.y / count + turning * x;
            along.hypot(across)
        };
        arms.map(shear).collect()
    }
}

/// Whether anchors that pull and a wall that presses balance a load at all, however stiff they are (Farkas).
fn is_carried(load: &Vector3<f64>, anchors: &[PlateSpot], size: [f64; 2]) -> bool {
    /// What is left of a load that counts as balanced, relative to it.
    const NOTHING: f64 = 1e-9;
    let pulls = anchors.iter().map(|spot| -shape(spot));
    let presses = rectangle(size).map(|corner| shape(&corner));
    let columns: Vec<DVector<f64>> = pulls
        .chain(presses)
        .map(|column| DVector::from_column_slice(column.as_slice()))
        .collect();
    let target = DVector::from_column_slice(load.as_slice());
    let left = nearest(&DMatrix::from_columns(&columns), &target).left;
    left.norm() <= NOTHING * target.norm()
}
