//! Copies of things: moved by a step, or mirrored.

use super::super::decimal::tidy;
use super::super::place::SceneItem;
use super::{Proposal, bounds, coordinates, free_name};
use crate::scene::{
    Allowable, AnchorPattern, AnchorPlate, AreaAmount, BentBar, Block, Bracket, Coordinates,
    Direction, Disc, ForceVector, LineAmount, Load, Moment, NamedPoint, Place, Plate, Scene, Shaft,
    Shape, Support, SupportKind,
};

/// How a copy lies with respect to what it is a copy of.
#[derive(Debug, Clone, Copy)]
enum Copying {
    /// Shifted along the axes.
    Shifted([f64; 3]),
    /// Mirrored in the plane across an axis at a coordinate.
    Mirrored { axis: usize, at: f64 },
}

impl Proposal {
    /// A scene with a copy of a thing, shifted by so much along the axes.
    pub fn duplicated(scene: &Scene, thing: SceneItem, by: [f64; 3]) -> Option<Self> {
        let name = format!("duplicated {}", thing.name(scene));
        Self::copied(scene, thing, name, Copying::Shifted(by))
    }

    /// A scene with the mirror image of a thing, in the plane across an axis (0 for x) in the middle of the scene. Forces are
    /// mirrored as arrows, couples as the turns that they are.
    pub fn mirrored(scene: &Scene, thing: SceneItem, axis: usize) -> Option<Self> {
        if axis >= scene.space.axes() {
            return None;
        }
        let [low, high] = bounds(scene);
        let at = f64::midpoint(low[axis], high[axis]);
        let letter = ["x", "y", "z"][axis];
        let name = format!("mirrored {} across {letter}", thing.name(scene));
        Self::copied(scene, thing, name, Copying::Mirrored { axis, at })
    }

    fn copied(scene: &Scene, thing: SceneItem, name: String, how: Copying) -> Option<Self> {
        let copier = Copier { scene, how };
        let free = free_name(scene);
        match thing {
            SceneItem::Support(index) => {
                let support = scene.supports.get(index)?;
                let copy = Support {
                    name: free,
                    at: copier.place(&support.at)?,
                    kind: copier.kind(&support.kind)?,
                    stiffness: support.stiffness.clone(),
                    allowable: support.allowable.as_ref().map(|one| copier.allowable(one)),
                };
                Self::on(scene, name, |scene| {
                    scene.supports.push(copy);
                    Some(())
                })
            }
            SceneItem::Point(index) => {
                let at = copier.position(scene.points.get(index)?.at.components());
                let copy = NamedPoint {
                    name: free,
                    at: coordinates(scene, at),
                };
                Self::on(scene, name, |scene| {
                    scene.points.push(copy);
                    Some(())
                })
            }
            SceneItem::Shape(index) => {
                let copy = copier.shape(scene.body.get(index)?)?;
                Self::on(scene, name, |scene| {
                    scene.body.push(copy);
                    Some(())
                })
            }
            SceneItem::Load(load) => {
                let copy = copier.load(load.of(scene)?)?;
                Self::on(scene, name, |scene| {
                    load.list_mut(scene)?.push(copy);
                    Some(())
                })
            }
        }
    }
}

/// Makes copies.
struct Copier<'s> {
    scene: &'s Scene,
    how: Copying,
}

impl Copier<'_> {
    fn position(&self, at: [f64; 3]) -> [f64; 3] {
        let mut at = at;
        match self.how {
            Copying::Shifted(by) => (0..3).for_each(|i| at[i] += by[i]),
            Copying::Mirrored { axis, at: plane } => at[axis] = 2.0 * plane - at[axis],
        }
        at.map(tidy)
    }

    /// Coordinates of the copy; names of points are not copied, since the points stay where they are.
    fn place(&self, place: &Place) -> Option<Place> {
        let at = self.position(self.scene.position(place)?);
        Some(Place::At(coordinates(self.scene, at)))
    }

    fn places(&self, places: &[Place]) -> Option<Vec<Place>> {
        places.iter().map(|place| self.place(place)).collect()
    }

    /// An arrow: the component across the mirror changes its sign.
    fn arrow(&self, vector: &Coordinates) -> Coordinates {
        let mut components = vector.components();
        if let Copying::Mirrored { axis, .. } = self.how {
            components[axis] = -components[axis];
        }
        coordinates(self.scene, components)
    }

    fn allowable(&self, allowable: &Allowable) -> Allowable {
        Allowable {
            outwards: allowable.outwards.map(|vector| self.arrow(&vector)),
            ..allowable.clone()
        }
    }

    /// A turn: the components in the mirror change their signs.
    fn moment(&self, moment: Moment) -> Moment {
        let Copying::Mirrored { axis, .. } = self.how else {
            return moment;
        };
        match moment {
            Moment::Plane(about_z) => Moment::Plane(-about_z),
            Moment::Space(components) => Moment::Space(std::array::from_fn(|i| {
                let sign = if i == axis { 1.0 } else { -1.0 };
                sign * components[i] + 0.0
            })),
        }
    }

    fn direction(&self, direction: &Direction) -> Option<Direction> {
        Some(match direction {
            Direction::Along(vector) => Direction::Along(self.arrow(vector)),
            Direction::Towards(place) => Direction::Towards(self.place(place)?),
            Direction::Angle(degrees) => Direction::Angle(match self.how {
                Copying::Shifted(_) => *degrees,
                Copying::Mirrored { axis: 0, .. } => 180.0 - degrees,
                Copying::Mirrored { .. } => -degrees,
            }),
        })
    }

    fn kind(&self, kind: &SupportKind) -> Option<SupportKind> {
        let mut copy = kind.clone();
        match &mut copy {
            SupportKind::Link { ground } | SupportKind::Cable { ground } => {
                *ground = self.place(ground)?;
            }
            SupportKind::RailWheel { rail, normal } => {
                *rail = self.direction(rail)?;
                *normal = self.direction(normal)?;
            }
            SupportKind::Hinge { axis: along, .. }
            | SupportKind::SlidingHinge { axis: along, .. }
            | SupportKind::JournalBearing { axis: along, .. }
            | SupportKind::ThrustBearing { axis: along, .. }
            | SupportKind::SquareJournal { axis: along, .. }
            | SupportKind::SmoothPin { axis: along, .. }
            | SupportKind::UniversalJoint { axis: along }
            | SupportKind::Slider { rod: along, .. }
            | SupportKind::Collar { rod: along }
            | SupportKind::Slot { along }
            | SupportKind::Roller { normal: along }
            | SupportKind::SmoothContact { normal: along }
            | SupportKind::RoughContact { normal: along, .. }
            | SupportKind::Rocker { normal: along } => *along = self.direction(along)?,
            SupportKind::AnchorPlate { normal, plate } => {
                self.plate(normal, plate);
                *normal = self.direction(normal)?;
            }
            SupportKind::BallJoint | SupportKind::Fixed | SupportKind::Pin => {}
        }
        Some(copy)
    }

    /// Mirrors what is on an anchor plate; the plate itself goes with its normal.
    fn plate(&self, normal: &Direction, plate: &mut AnchorPlate) {
        let Copying::Mirrored { axis, .. } = self.how else {
            return;
        };
        let is_level =
            matches!(normal, Direction::Along(vector) if vector.components()[..2] == [0.0; 2]);
        // Where nothing is said to be up it is an axis of the scene, which stays so in the copy.
        let usual_up = if is_level { 1 } else { 2 };
        let flipped = match plate.upright {
            None if axis == usual_up => 1,
            _ => 0,
        };
        plate.upright = plate.upright.map(|upright| self.arrow(&upright));
        if let AnchorPattern::List { places } = &mut plate.anchors {
            places
                .iter_mut()
                .for_each(|place| place[flipped] = -place[flipped]);
        }
    }

    fn load(&self, load: &Load) -> Option<Load> {
        let at_copy = |at: &Option<Place>| match at {
            Some(at) => self.place(at).map(Some),
            None => Some(None),
        };
        Some(match load {
            Load::Force { at, force } => Load::Force {
                at: self.place(at)?,
                force: match force {
                    ForceVector::Components(components) => {
                        ForceVector::Components(self.arrow(components))
                    }
                    ForceVector::Directed { size, direction } => ForceVector::Directed {
                        size: *size,
                        direction: self.direction(direction)?,
                    },
                },
            },
            Load::Couple { moment, at } => Load::Couple {
                moment: self.moment(*moment),
                at: at_copy(at)?,
            },
            Load::Distributed {
                from,
                to,
                start,
                end,
            } => Load::Distributed {
                from: self.place(from)?,
                to: self.place(to)?,
                start: self.arrow(start),
                end: end.as_ref().map(|end| self.arrow(end)),
            },
            Load::Line { path, amount } => Load::Line {
                path: self.places(path)?,
                amount: match amount {
                    LineAmount::Force(force) => LineAmount::Force(self.arrow(force)),
                    mass @ LineAmount::Mass { .. } => *mass,
                },
            },
            Load::Area {
                corners,
                amount,
                on_plan,
            } => Load::Area {
                corners: self.places(corners)?,
                amount: match (amount, &self.how) {
                    (AreaAmount::Force(force), _) => AreaAmount::Force(self.arrow(force)),
                    // Mirrored corners run the other way around.
                    (AreaAmount::Pressure(pressure), Copying::Mirrored { .. }) => {
                        AreaAmount::Pressure(-pressure)
                    }
                    (AreaAmount::Pressure(pressure), _) => AreaAmount::Pressure(*pressure),
                },
                on_plan: *on_plan,
            },
            Load::Weight {
                amount,
                at,
                gravity,
            } => Load::Weight {
                amount: *amount,
                at: at_copy(at)?,
                gravity: *gravity,
            },
        })
    }

    fn shape(&self, shape: &Shape) -> Option<Shape> {
        let optional = |direction: &Option<Direction>| match direction {
            Some(direction) => self.direction(direction).map(Some),
            None => Some(None),
        };
        Some(match shape {
            Shape::BentBar(bar) => Shape::BentBar(BentBar {
                path: self.places(&bar.path)?,
                ..bar.clone()
            }),
            Shape::Plate(plate) => {
                let mut holes = plate.holes.clone();
                for hole in &mut holes {
                    hole.centre = self.place(&hole.centre)?;
                }
                Shape::Plate(Plate {
                    corners: self.places(&plate.corners)?,
                    holes,
                    ..plate.clone()
                })
            }
            Shape::Bracket(bracket) => Shape::Bracket(Bracket {
                corner: self.place(&bracket.corner)?,
                legs: [self.place(&bracket.legs[0])?, self.place(&bracket.legs[1])?],
                ..bracket.clone()
            }),
            Shape::Shaft(shaft) => Shape::Shaft(Shaft {
                from: self.place(&shaft.from)?,
                to: self.place(&shaft.to)?,
                ..shaft.clone()
            }),
            Shape::Disc(disc) => Shape::Disc(Disc {
                centre: self.place(&disc.centre)?,
                axis: optional(&disc.axis)?,
                ..disc.clone()
            }),
            Shape::Block(block) => Shape::Block(Block {
                centre: self.place(&block.centre)?,
                lengthwise: optional(&block.lengthwise)?,
                upright: optional(&block.upright)?,
                ..block.clone()
            }),
        })
    }
}
