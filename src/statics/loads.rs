//! Loads in SI units, each with its wrench about the scene's origin.

use std::sync::Arc;

use nalgebra::{Point3, Vector3};

use super::indices::{CaseIndex, SupportIndex};
use super::resolver::{ModelError, Resolver};
use super::resultants::{Resultant, area_vector, of_face, of_segment};
use super::wrench::Wrench;
use crate::indexed::Indexed;
use crate::scene::{
    AreaAmount, Case, ForceVector, Heaviness, Imposed, LineAmount, Load, Moment, Place, Space,
    solid,
};

/// Name of the one case of a scene that names none.
pub const UNNAMED_CASE: &str = "loads";

/// The loads that act together.
#[derive(Debug, Clone)]
pub struct LoadCase {
    /// Name.
    pub name: String,
    /// Everything that acts, the scene's own loads first.
    pub loads: Vec<AppliedLoad>,
    /// What is imposed besides, the scene's own first.
    pub imposed: Vec<ImposedAction>,
    /// How many of the loads act in every case; `None` in a scene without cases.
    pub(super) common: Option<usize>,
}

/// What is imposed besides loads, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum ImposedAction {
    /// The ground of a support moves.
    Settlement {
        /// Of which.
        support: SupportIndex,
        /// By so much, m.
        by: Vector3<f64>,
    },
    /// A support of one force is tightened, with the body still where it is written.
    Prestress {
        /// Which.
        support: SupportIndex,
        /// To this force, N.
        force: f64,
    },
    /// The body expands evenly, the ground does not.
    Expansion {
        /// Change of length over length; negative where it shrinks.
        strain: f64,
    },
}

/// One load in SI units.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum AppliedLoad {
    /// Force at a point.
    Force {
        /// Point, m.
        at: Point3<f64>,
        /// Force, N.
        force: Vector3<f64>,
    },
    /// Own weight at the body's centre of volume, or where it is said to act.
    Weight {
        /// Point, m.
        at: Point3<f64>,
        /// Force, N.
        force: Vector3<f64>,
        /// Mass, kg.
        mass: f64,
        /// Whether it is spread over the body, whose centre of volume it acts at; else it hangs at the point.
        is_spread: bool,
    },
    /// Couple.
    Couple {
        /// Where it is drawn, m.
        at: Option<Point3<f64>>,
        /// Moment, N·m.
        moment: Vector3<f64>,
    },
    /// Force spread along a segment, linear between the ends.
    Distributed {
        /// Ends of the segment, m.
        ends: [Point3<f64>; 2],
        /// Force per length at the ends, N/m.
        densities: [Vector3<f64>; 2],
    },
    /// Force or weight spread evenly along a path.
    Line {
        /// Points of the path, two or more, m.
        path: Arc<[Point3<f64>]>,
        /// Force per length, N/m.
        density: Vector3<f64>,
        /// Mass per length of a weight, kg/m.
        mass: Option<f64>,
    },
    /// Force spread evenly over a flat face.
    Area {
        /// Its corners, in order around the edge, m.
        face: Arc<[Point3<f64>]>,
        /// Force per area, N/m².
        density: Vector3<f64>,
        /// Whether the area is that of the plan, the face seen from above.
        on_plan: bool,
    },
}

impl LoadCase {
    /// Whether it is the one of a scene without cases.
    pub fn is_unnamed(&self) -> bool {
        self.common.is_none()
    }

    /// Whether a load, by its index, is permanent: it acts in every case, or in a scene without cases it is a weight.
    pub fn is_permanent(&self, load: usize) -> bool {
        match self.common {
            Some(common) => load < common,
            None => self.loads.get(load).is_some_and(AppliedLoad::is_weight),
        }
    }

    /// Sum of all loads about a reference point.
    pub fn resultant(&self, reference: &Point3<f64>) -> Wrench {
        self.loads
            .iter()
            .map(|load| load.wrench(reference))
            .fold(Wrench::default(), |sum, wrench| sum + wrench)
    }
}

impl AppliedLoad {
    /// So many times the load; a weight keeps its mass, which is what the load would set in motion.
    fn times(&self, factor: f64) -> Self {
        let mut load = self.clone();
        match &mut load {
            Self::Force { force, .. } | Self::Weight { force, .. } => *force *= factor,
            Self::Couple { moment, .. } => *moment *= factor,
            Self::Distributed { densities, .. } => {
                densities.iter_mut().for_each(|density| *density *= factor);
            }
            Self::Line { density, .. } | Self::Area { density, .. } => *density *= factor,
        }
        load
    }

    /// Whether it is the weight of something.
    pub fn is_weight(&self) -> bool {
        matches!(self, Self::Weight { .. } | Self::Line { mass: Some(_), .. })
    }

    /// Wrench about a reference point.
    pub fn wrench(&self, reference: &Point3<f64>) -> Wrench {
        match self {
            Self::Force { at, force } | Self::Weight { at, force, .. } => {
                Wrench::of_force(*force, at, reference)
            }
            Self::Couple { moment, .. } => Wrench::of_couple(*moment),
            Self::Distributed { .. } => {
                let (force, moment) = self.distributed_sums(reference);
                Wrench { force, moment }
            }
            Self::Line { .. } | Self::Area { .. } => {
                let parts = self.resultants().into_iter();
                parts
                    .map(|part| Wrench::of_force(part.force, &part.at, reference))
                    .fold(Wrench::default(), |sum, wrench| sum + wrench)
            }
        }
    }

    /// Total force and moment of a linear load: exact integrals of density and arm × density over the segment.
    fn distributed_sums(&self, reference: &Point3<f64>) -> (Vector3<f64>, Vector3<f64>) {
        let Self::Distributed {
            ends: [from, to],
            densities: [start, end],
        } = self
        else {
            return Default::default();
        };
        let length = (to - from).norm();
        let force = (start + end) * (length / 2.0);
        // ∫ s (start (1 − s) + end s) ds over 0..1
        let first_moment = (start + end * 2.0) * (length / 6.0);
        let moment = (from - reference).cross(&force) + (to - from).cross(&first_moment);
        (force, moment)
    }

    /// The forces that a spread load counts as, each at a point of its segment: one where its density keeps its
    /// direction, else one for each of the two triangular loads that it is the sum of; one for each straight piece of a path,
    /// and one at the centroid of a face.
    ///
    /// Empty for all other loads, and for a spread load of no size.
    pub fn resultants(&self) -> Vec<Resultant> {
        match self {
            Self::Distributed { ends, densities } => of_segment(ends, densities),
            Self::Line { path, density, .. } => path
                .windows(2)
                .flat_map(|ends| of_segment(&[ends[0], ends[1]], &[*density; 2]))
                .collect(),
            Self::Area {
                face,
                density,
                on_plan,
            } => of_face(face, density, *on_plan).into_iter().collect(),
            Self::Force { .. } | Self::Weight { .. } | Self::Couple { .. } => Vec::new(),
        }
    }
}

pub(super) fn cases(resolver: &Resolver) -> Result<Indexed<CaseIndex, LoadCase>, ModelError> {
    let common = all(resolver, "load", &resolver.scene.loads)?;
    let everywhere = all_imposed(resolver, &resolver.scene.imposed)?;
    if resolver.scene.cases.is_empty() {
        let alone = LoadCase {
            name: UNNAMED_CASE.to_owned(),
            loads: common,
            imposed: everywhere,
            common: None,
        };
        return Ok(Indexed::from(vec![alone]));
    }
    let own = |case: &Case| {
        let item = format!("case \"{}\", load", case.name);
        Ok(OwnActions {
            loads: all(resolver, &item, &case.loads)?,
            imposed: all_imposed(resolver, &case.imposed)?,
        })
    };
    let cases: Vec<OwnActions> = resolver
        .scene
        .cases
        .iter()
        .map(own)
        .collect::<Result<_, ModelError>>()?;
    let common = OwnActions {
        loads: common,
        imposed: everywhere,
    };
    let alone = resolver.scene.cases.iter().zip(&cases);
    let mut found: Indexed<CaseIndex, LoadCase> = alone
        .map(|(case, own)| common.with(&case.name, 1.0, [(own, 1.0)]))
        .collect();
    for combination in &resolver.scene.combinations {
        let factored = |(name, factor): &(String, f64)| {
            let index = resolver
                .scene
                .cases
                .iter()
                .position(|case| case.name == *name);
            let index = index.ok_or_else(|| ModelError::UnknownCase { name: name.clone() })?;
            Ok((&cases[index], *factor))
        };
        let parts = combination.factors.iter().map(factored);
        let parts: Vec<(&OwnActions, f64)> = parts.collect::<Result<_, ModelError>>()?;
        found.push(common.with(&combination.name, combination.permanent, parts));
    }
    Ok(found)
}

/// What acts in every case, or what a case has of its own.
struct OwnActions {
    loads: Vec<AppliedLoad>,
    imposed: Vec<ImposedAction>,
}

impl OwnActions {
    /// The case of these, permanent ones, and of others, each times a factor.
    fn with<'a>(
        &'a self,
        name: &str,
        permanent: f64,
        own: impl IntoIterator<Item = (&'a Self, f64)>,
    ) -> LoadCase {
        let mut case = LoadCase {
            name: name.to_owned(),
            loads: Vec::new(),
            imposed: Vec::new(),
            common: Some(if permanent == 0.0 {
                0
            } else {
                self.loads.len()
            }),
        };
        let all = std::iter::once((self, permanent)).chain(own);
        for (actions, factor) in all.filter(|(_, factor)| *factor != 0.0) {
            let loads = actions.loads.iter();
            case.loads.extend(loads.map(|load| load.times(factor)));
            let imposed = actions.imposed.iter();
            case.imposed
                .extend(imposed.map(|action| action.times(factor)));
        }
        case
    }
}

impl ImposedAction {
    /// So many times as much.
    fn times(&self, factor: f64) -> Self {
        match *self {
            Self::Settlement { support, by } => Self::Settlement {
                support,
                by: by * factor,
            },
            Self::Prestress { support, force } => Self::Prestress {
                support,
                force: force * factor,
            },
            Self::Expansion { strain } => Self::Expansion {
                strain: strain * factor,
            },
        }
    }
}

fn all_imposed(resolver: &Resolver, imposed: &[Imposed]) -> Result<Vec<ImposedAction>, ModelError> {
    let support = |name: &str| {
        let supports = &resolver.scene.supports;
        let index = supports.iter().position(|support| support.name == name);
        index
            .map(SupportIndex::new)
            .ok_or_else(|| ModelError::UnknownSupport {
                name: name.to_owned(),
            })
    };
    let action = |imposed: &Imposed| {
        Ok(match imposed {
            Imposed::Settlement {
                support: name,
                moves_by,
            } => ImposedAction::Settlement {
                support: support(name)?,
                by: Vector3::from(moves_by.components()) * resolver.metres,
            },
            Imposed::Prestress {
                support: name,
                force,
            } => ImposedAction::Prestress {
                support: support(name)?,
                force: force * resolver.scene.units.force.in_newtons(),
            },
            Imposed::Warming { by, expansion } => ImposedAction::Expansion {
                strain: by * expansion,
            },
        })
    };
    imposed.iter().map(action).collect()
}

fn all(resolver: &Resolver, word: &str, loads: &[Load]) -> Result<Vec<AppliedLoad>, ModelError> {
    loads
        .iter()
        .enumerate()
        .map(|(index, load)| applied(resolver, &format!("{word} {}", index + 1), load))
        .collect()
}

fn applied(resolver: &Resolver, item: &str, load: &Load) -> Result<AppliedLoad, ModelError> {
    let units = resolver.scene.units;
    let newtons = units.force.in_newtons();
    let per_metre = newtons / units.length.in_metres();
    Ok(match load {
        Load::Force { at, force } => {
            let written = resolver.written(item, at)?;
            let vector = match force {
                ForceVector::Components(components) => Vector3::from(components.components()),
                ForceVector::Directed { size, direction } => {
                    let direction = resolver.direction(item, direction, written)?;
                    direction
                        .unit()
                        .map_or_else(Vector3::zeros, |unit| unit.into_inner() * *size)
                }
            };
            AppliedLoad::Force {
                at: resolver.metres(&written),
                force: vector * newtons,
            }
        }
        Load::Couple { moment, at } => AppliedLoad::Couple {
            at: match at {
                Some(place) => Some(resolver.point(item, place)?),
                None => None,
            },
            moment: units.moment_in_newton_metres()
                * match moment {
                    Moment::Plane(about_z) => Vector3::new(0.0, 0.0, *about_z),
                    Moment::Space(components) => Vector3::from(*components),
                },
        },
        Load::Distributed {
            from,
            to,
            start,
            end,
        } => {
            let density = |c: &crate::scene::Coordinates| Vector3::from(c.components()) * per_metre;
            AppliedLoad::Distributed {
                ends: [resolver.point(item, from)?, resolver.point(item, to)?],
                densities: [density(start), density(end.as_ref().unwrap_or(start))],
            }
        }
        Load::Line { path, amount } => {
            let (density, mass) = match amount {
                LineAmount::Force(force) => (Vector3::from(force.components()) * per_metre, None),
                LineAmount::Mass {
                    per_length,
                    gravity,
                } => {
                    let mass = per_length * units.mass.linear_density_in_si();
                    (down(resolver.scene.space) * (mass * gravity), Some(mass))
                }
            };
            AppliedLoad::Line {
                path: points(resolver, item, path)?,
                density,
                mass,
            }
        }
        Load::Area {
            corners,
            amount,
            on_plan,
        } => {
            let face = points(resolver, item, corners)?;
            let per_area = per_metre / units.length.in_metres();
            let density = match amount {
                AreaAmount::Force(force) => Vector3::from(force.components()),
                AreaAmount::Pressure(pressure) => {
                    let normal = area_vector(&face).try_normalize(0.0);
                    -normal.unwrap_or_default() * *pressure
                }
            };
            AppliedLoad::Area {
                face,
                density: density * per_area,
                on_plan: *on_plan,
            }
        }
        Load::Weight {
            amount,
            at,
            gravity,
        } => {
            let place = match at {
                Some(place) => Some(resolver.point(item, place)?),
                None => None,
            };
            let (mass, at) = mass_and_centre(resolver, item, *amount, place)?;
            AppliedLoad::Weight {
                at,
                force: down(resolver.scene.space) * (mass * gravity),
                mass,
                is_spread: place.is_none(),
            }
        }
    })
}

fn points(
    resolver: &Resolver,
    item: &str,
    places: &[Place],
) -> Result<Arc<[Point3<f64>]>, ModelError> {
    let points = places.iter().map(|place| resolver.point(item, place));
    points.collect()
}

fn mass_and_centre(
    resolver: &Resolver,
    item: &str,
    amount: Heaviness,
    place: Option<Point3<f64>>,
) -> Result<(f64, Point3<f64>), ModelError> {
    let unit = resolver.scene.units.mass;
    match (amount, place) {
        (Heaviness::Mass(mass), Some(at)) => Ok((mass * unit.in_kilograms(), at)),
        (amount, place) => {
            let (volume, centre) =
                solid::centre_of_volume(resolver.scene).ok_or_else(|| ModelError::NoVolume {
                    item: item.to_owned(),
                })?;
            let mass = match amount {
                Heaviness::Mass(mass) => mass * unit.in_kilograms(),
                Heaviness::Density(density) => density * unit.density_in_si() * volume,
            };
            Ok((mass, place.unwrap_or(centre)))
        }
    }
}

fn down(space: Space) -> Vector3<f64> {
    match space {
        Space::Spatial => -Vector3::z(),
        Space::Planar => -Vector3::y(),
    }
}
