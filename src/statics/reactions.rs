//! Which reactions each kind of support supplies: the one table, and the components it lays out.
//!
//! Sources of the rows: Baker & Haynes, *Engineering Statics: Open and Interactive*, chapter 5, figures
//! "Reactions-2D" and "Reactions-3D"; Hibbeler, *Engineering Mechanics: Statics*, tables 5-1 and 5-2, and
//! Beer & Johnston, *Vector Mechanics for Engineers: Statics*, figures 4.1 and 4.10 (these two from memory).

use std::ops::Range;

use super::exact::WholeColumn;
use super::indices::{ReactionIndex, SupportIndex};
use super::placed_support::PlacedSupport;
use super::reaction::{Reaction, ReactionKind, Sense};
use super::symbol::Symbol;
use super::written::WrittenDirection;
use crate::indexed::{Indexed, Indices};
use crate::scene::{Space, SupportKind};

/// Directions in which a support reacts, relative to its orientation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Directions {
    /// None.
    None,
    /// Along the orientation: axis, normal, rod or link.
    Along,
    /// Square to the orientation: two in space, one in the plane.
    Across,
    /// All of them.
    All,
}

/// What a kind of support supplies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Supply {
    /// Reaction forces.
    pub forces: Directions,
    /// Reaction couples.
    pub couples: Directions,
    /// Couples when the support's switch for couples is off; `None` where it has no such switch.
    pub couples_when_off: Option<Directions>,
    /// Which way the force along the orientation can act.
    pub sense: Sense,
}

/// The table: reactions by kind of support, with the count in space and its source.
pub fn supply(kind: &SupportKind) -> Supply {
    use Directions::{Across, All, Along, None};
    let row = |forces, couples| Supply {
        forces,
        couples,
        couples_when_off: Option::None,
        sense: Sense::Both,
    };
    let switched = |forces, couples, off| Supply {
        couples_when_off: Some(off),
        ..row(forces, couples)
    };
    let one_way = |forces, sense| Supply {
        sense,
        ..row(forces, None)
    };
    match kind {
        // 3F. Baker & Haynes; Hibbeler 5-2; Beer & Johnston 4.10.
        SupportKind::BallJoint => row(All, None),
        // 3F + 2C. Baker & Haynes; Hibbeler 5-2 (single hinge).
        SupportKind::Hinge { .. } => switched(All, Across, None),
        // 2F + 2C. Beer & Johnston 4.10 (hinge supporting radial load only).
        SupportKind::SlidingHinge { .. } => switched(Across, Across, None),
        // 2F + 2C. Baker & Haynes; Hibbeler 5-2 (single journal bearing).
        SupportKind::JournalBearing { .. } => switched(Across, Across, None),
        // 3F + 2C. Baker & Haynes; Hibbeler 5-2 (single thrust bearing).
        SupportKind::ThrustBearing { .. } => switched(All, Across, None),
        // 2F + 3C. Baker & Haynes; Hibbeler 5-2 (journal bearing, square shaft).
        SupportKind::SquareJournal { .. } => switched(Across, All, Along),
        // 3F + 2C. Baker & Haynes; Hibbeler 5-2 (single smooth pin).
        SupportKind::SmoothPin { .. } => switched(All, Across, None),
        // 2F + 2C. As a journal bearing on a fixed rod; common practice, no source.
        SupportKind::Slider { .. } => switched(Across, Across, None),
        // 3F + 1C. Beer & Johnston 4.10 (universal joint).
        SupportKind::UniversalJoint { .. } => row(All, Along),
        // 2F. Beer & Johnston 4.10 (wheel on rail).
        SupportKind::RailWheel { .. } => row(Across, None),
        // 3F + 3C; 2F + 1C in the plane. Every table.
        SupportKind::Fixed => row(All, All),
        // As built in, as long as its anchors hold; what they take is another analysis.
        SupportKind::AnchorPlate { .. } => row(All, All),
        // 1F. Every table; a surface only pushes.
        SupportKind::Roller { .. }
        | SupportKind::SmoothContact { .. }
        | SupportKind::Rocker { .. } => one_way(Along, Sense::Push),
        // 3F; 2F in the plane. Beer & Johnston 4.1, 4.10 (rough surface).
        SupportKind::RoughContact { .. } => one_way(All, Sense::Push),
        // 1F. Every table; a link acts both ways, a cable only pulls.
        SupportKind::Link { .. } => row(Along, None),
        SupportKind::Cable { .. } => one_way(Along, Sense::Pull),
        // 2F. Baker & Haynes; Hibbeler 5-1 (smooth pin or hinge).
        SupportKind::Pin => row(All, None),
        // 1F across the slot. Baker & Haynes; Hibbeler 5-1 (pin in a smooth slot).
        SupportKind::Slot { .. } => row(Across, None),
        // 1F + 1C. Baker & Haynes; Hibbeler 5-1 (member fixed to a collar on a smooth rod).
        SupportKind::Collar { .. } => row(Across, All),
    }
}

/// The same kind of support with its switch for couples in the given position.
pub(super) fn with_couples(kind: &SupportKind, on: bool) -> SupportKind {
    let mut kind = kind.clone();
    if let Some(couples) = kind.couples_mut() {
        *couples = on;
    }
    kind
}

/// Appends the reactions of a support; returns where they stand.
pub(super) fn lay_out(
    support: &PlacedSupport,
    index: SupportIndex,
    space: Space,
    reactions: &mut Indexed<ReactionIndex, Reaction>,
) -> Indices<ReactionIndex> {
    let start = reactions.len();
    let supply = supply(&support.kind);
    let couples = match (supply.couples_when_off, support.kind.couples()) {
        (Some(off), Some(false)) => off,
        _ => supply.couples,
    };
    let frame = SupportAxes::new(support, space);
    let mut forces = frame.forces(supply.forces);
    if supply.sense == Sense::Both {
        // A surface's own force leads; all others follow the scene's axes.
        forces.sort_by_key(Component::place);
    }
    let mut turns = frame.couples(couples);
    turns.sort_by_key(Component::place);
    let stiffness = &support.stiffness;
    let all = [
        (ReactionKind::Force, forces, &stiffness.forces),
        (ReactionKind::Couple, turns, &stiffness.couples),
    ];
    for (kind, components, stiffness) in all {
        let laid = components
            .into_iter()
            .enumerate()
            .map(|(place, component)| Reaction {
                stiffness: stiffness.as_ref().and_then(|given| given.of(place)),
                ..reaction(support, index, kind, component, &supply)
            });
        reactions.extend(laid);
    }
    Indices::between(start, reactions.len())
}

fn reaction(
    support: &PlacedSupport,
    index: SupportIndex,
    kind: ReactionKind,
    component: Component,
    supply: &Supply,
) -> Reaction {
    let one_way = kind == ReactionKind::Force && component.along;
    let letter = letter_alone(support, kind, &component);
    let symbol = match (kind, letter) {
        (ReactionKind::Couple, _) => Symbol {
            letter: "M".to_owned(),
            label: support.name.clone(),
            axis: component.suffix,
        },
        (ReactionKind::Force, Some(letter)) => Symbol {
            letter: letter.to_string(),
            label: support.name.clone(),
            axis: "",
        },
        (ReactionKind::Force, None) => Symbol {
            letter: support.name.clone(),
            label: String::new(),
            axis: component.suffix,
        },
    };
    // What is named after an axis of the scene counts along it, whichever way its support is written.
    let axis = AXES.iter().position(|axis| *axis == component.suffix);
    let direction = match axis.filter(|_| letter.is_none()) {
        Some(axis) => WrittenDirection::axis(axis),
        None => component.direction,
    };
    Reaction {
        name: symbol.to_string(),
        symbol,
        support: index,
        kind,
        point: support.point,
        // Directions of a placed support have length: placing refuses the others.
        direction: direction
            .unit()
            .expect("components of a placed support have length"),
        stiffness: None,
        sense: if one_way { supply.sense } else { Sense::Both },
        whole: match kind {
            ReactionKind::Force => WholeColumn::force(&direction, &support.written_point),
            ReactionKind::Couple => WholeColumn::couple(&direction),
        },
        written_point: support.written_point,
        written_direction: direction,
    }
}

/// The letter of a force that is named without its direction, which its support gives.
fn letter_alone(
    support: &PlacedSupport,
    kind: ReactionKind,
    component: &Component,
) -> Option<char> {
    match (kind, &support.kind) {
        (ReactionKind::Couple, _) => None,
        (_, SupportKind::Cable { .. }) => Some('T'),
        (_, SupportKind::Link { .. }) => Some('F'),
        (_, kind) if component.along && supply(kind).sense == Sense::Push => Some('N'),
        _ => None,
    }
}

struct Component {
    direction: WrittenDirection,
    suffix: &'static str,
    along: bool,
}

/// The directions that a support's components follow: scene axes where its orientation allows, else its own.
struct SupportAxes {
    space: Space,
    along: Option<Component>,
    across: Vec<Component>,
}

impl SupportAxes {
    fn new(support: &PlacedSupport, space: Space) -> Self {
        let component = |direction, suffix| Component {
            direction,
            suffix,
            along: false,
        };
        let Some(orientation) = &support.written_orientation else {
            return Self {
                space,
                along: None,
                across: Vec::new(),
            };
        };
        let on_axis = scene_axis(orientation);
        let across = match (space, &support.written_normal) {
            (Space::Planar, _) => vec![component(
                WrittenDirection::axis(2).cross(orientation.clone()),
                on_axis.map_or("s", |axis| AXES[1 - axis.min(1)]),
            )],
            (Space::Spatial, Some(normal)) => rail_components(orientation, normal),
            (Space::Spatial, None) => match on_axis {
                Some(axis) => (0..3)
                    .filter(|other| *other != axis)
                    .map(|other| component(WrittenDirection::axis(other), AXES[other]))
                    .collect(),
                None => {
                    let first = orientation
                        .clone()
                        .cross(WrittenDirection::axis(least_aligned(orientation)));
                    let second = orientation.clone().cross(first.clone());
                    vec![component(first, "s"), component(second, "t")]
                }
            },
        };
        Self {
            space,
            along: Some(Component {
                direction: orientation.clone(),
                suffix: on_axis.map_or("a", |axis| AXES[axis]),
                along: true,
            }),
            across,
        }
    }

    fn forces(&self, directions: Directions) -> Vec<Component> {
        match directions {
            Directions::None => Vec::new(),
            Directions::Along => self.along().into_iter().collect(),
            Directions::Across => self.across(),
            Directions::All if self.along.is_some() => {
                self.along().into_iter().chain(self.across()).collect()
            }
            Directions::All => self.scene_axes(0..if self.space == Space::Planar { 2 } else { 3 }),
        }
    }

    fn couples(&self, directions: Directions) -> Vec<Component> {
        match (self.space, directions) {
            (_, Directions::None) => Vec::new(),
            // The only couple of the plane is about its normal.
            (Space::Planar, _) => vec![Component {
                suffix: "",
                ..self.scene_axes(2..3).remove(0)
            }],
            (Space::Spatial, directions) => self.forces(directions),
        }
    }

    fn along(&self) -> Option<Component> {
        self.along.as_ref().map(Component::copy)
    }

    fn across(&self) -> Vec<Component> {
        self.across.iter().map(Component::copy).collect()
    }

    fn scene_axes(&self, axes: Range<usize>) -> Vec<Component> {
        axes.map(|axis| Component {
            direction: WrittenDirection::axis(axis),
            suffix: AXES[axis],
            along: false,
        })
        .collect()
    }
}

impl Component {
    /// Where it stands among its support's: x, y, z; those off the axes as they come, behind.
    fn place(&self) -> usize {
        AXES.iter()
            .position(|axis| *axis == self.suffix)
            .unwrap_or(AXES.len())
    }

    fn copy(&self) -> Self {
        Self {
            direction: self.direction.clone(),
            suffix: self.suffix,
            along: self.along,
        }
    }
}

const AXES: [&str; 3] = ["x", "y", "z"];

/// Side and normal of a wheel on a rail, the normal turned square to the rail.
fn rail_components(rail: &WrittenDirection, normal: &WrittenDirection) -> Vec<Component> {
    let side = rail.clone().cross(normal.clone());
    let up = side.clone().cross(rail.clone());
    [side, up]
        .into_iter()
        .zip(["s", "n"])
        .map(|(direction, own)| Component {
            suffix: scene_axis(&direction).map_or(own, |axis| AXES[axis]),
            direction,
            along: false,
        })
        .collect()
}

fn scene_axis(direction: &WrittenDirection) -> Option<usize> {
    let unit = direction.unit()?;
    (0..3).find(|axis| unit[*axis].abs() == 1.0)
}

fn least_aligned(direction: &WrittenDirection) -> usize {
    direction.unit().map_or(2, |unit| unit.iamin())
}
