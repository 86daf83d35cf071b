//! A support where it stands, with its geometry in SI units.

use nalgebra::{Point3, Unit, Vector3};

use super::allowable::AllowableForces;
use super::anchor_group::AnchorGroup;
use super::indices::ReactionIndex;
use super::resolver::{ModelError, Resolver, checked};
use super::written::WrittenDirection;
use crate::indexed::Indices;
use crate::scene::solid::Rounds;
use crate::scene::{Scene, Space, Stiffness, Support, SupportKind, SupportStiffness, Units};

/// A support with its geometry resolved.
#[derive(Debug, Clone)]
pub struct PlacedSupport {
    /// Name.
    pub name: String,
    /// Kind as written.
    pub kind: SupportKind,
    /// The body point that is held, m.
    pub point: Point3<f64>,
    /// Axis, normal, rod, rail or slot of the kind, or from body to ground for links and cables.
    pub orientation: Option<Unit<Vector3<f64>>>,
    /// Normal of a wheel on a rail, square to the rail.
    pub normal: Option<Unit<Vector3<f64>>>,
    /// Ground end of a link or cable, m.
    pub ground: Option<Point3<f64>>,
    /// The point of the body's own axis behind a smooth contact on the side of a round part, m: it keeps its height over
    /// the surface while the body rolls and slides.
    pub axle: Option<Point3<f64>>,
    /// Where its reactions stand in [`Model::reactions`](super::Model::reactions).
    pub reactions: Indices<ReactionIndex>,
    /// Stiffness of its forces and couples where the scene gives it, N/m and N·m/rad.
    pub stiffness: SupportStiffness,
    /// What it may be loaded with, where the scene says that.
    pub allowable: Option<AllowableForces>,
    /// The anchors of an anchor plate.
    pub anchors: Option<AnchorGroup>,
    pub(super) written_point: [f64; 3],
    pub(super) written_orientation: Option<WrittenDirection>,
    pub(super) written_normal: Option<WrittenDirection>,
}

pub(super) fn place(resolver: &Resolver, support: &Support) -> Result<PlacedSupport, ModelError> {
    let item = format!("support \"{}\"", support.name);
    if !support.kind.exists_in(resolver.scene.space) {
        return Err(ModelError::WrongSpace {
            item,
            space: resolver.scene.space,
        });
    }
    check_stiffness(&item, support, resolver.scene.space)?;
    let at = resolver.written(&item, &support.at)?;
    let ground = match support.kind.ground() {
        Some(ground) => Some(resolver.written(&item, ground)?),
        None => None,
    };
    let orientation = match (ground, support.kind.orientation()) {
        (Some(to), _) => Some(checked(&item, WrittenDirection::Between { from: at, to })?),
        (None, Some(direction)) => Some(resolver.direction(&item, direction, at)?),
        (None, None) => None,
    };
    let normal = match support.kind.second_orientation() {
        Some(direction) => Some(resolver.direction(&item, direction, at)?),
        None => None,
    };
    let unit = orientation.as_ref().and_then(WrittenDirection::unit);
    Ok(PlacedSupport {
        name: support.name.clone(),
        kind: support.kind.clone(),
        point: resolver.metres(&at),
        orientation: unit,
        normal: squared_normal(&item, orientation.as_ref(), normal.as_ref())?,
        ground: ground.map(|ground| resolver.metres(&ground)),
        axle: None,
        reactions: Indices::first(0),
        stiffness: in_si(&support.stiffness, &resolver.scene.units),
        allowable: AllowableForces::of(resolver, support, unit)?,
        anchors: unit
            .zip(support.kind.plate())
            .map(|(normal, plate)| AnchorGroup::of(plate, normal, &resolver.scene.units)),
        written_point: at,
        written_orientation: orientation,
        written_normal: normal,
    })
}

fn check_stiffness(item: &str, support: &Support, space: Space) -> Result<(), ModelError> {
    let given = &support.stiffness;
    let mut numbers = given.forces.iter().chain(&given.couples);
    let is_sound = |stiffness: &Stiffness| {
        let mut numbers = stiffness.numbers().iter();
        numbers.all(|number| *number > 0.0 && number.is_finite())
    };
    let fits = *given == given.fitting(support.kind.counts(space));
    match fits && numbers.all(is_sound) {
        true => Ok(()),
        false => Err(ModelError::Stiffness {
            item: item.to_owned(),
        }),
    }
}

fn in_si(written: &SupportStiffness, units: &Units) -> SupportStiffness {
    let force = units.force.in_newtons() / units.length.in_metres();
    let couple = units.moment_in_newton_metres();
    let times = |given: &Option<Stiffness>, unit| given.as_ref().map(|given| given.times(unit));
    SupportStiffness {
        forces: times(&written.forces, force),
        couples: times(&written.couples, couple),
    }
}

/// Which smooth contacts lie on the side of a round part.
pub(super) fn find_axles(scene: &Scene, supports: &mut [PlacedSupport]) {
    let mut rounds = None;
    for support in supports {
        if let (SupportKind::SmoothContact { .. }, Some(normal)) =
            (&support.kind, support.orientation)
        {
            let rounds = rounds.get_or_insert_with(|| Rounds::new(scene));
            support.axle = rounds.axis_behind(&support.point, &normal);
        }
    }
}

/// The normal turned square to the rail.
fn squared_normal(
    item: &str,
    rail: Option<&WrittenDirection>,
    normal: Option<&WrittenDirection>,
) -> Result<Option<Unit<Vector3<f64>>>, ModelError> {
    let (Some(rail), Some(normal)) = (rail, normal) else {
        return Ok(None);
    };
    let square = rail.clone().cross(normal.clone()).cross(rail.clone());
    Ok(checked(item, square)?.unit())
}
