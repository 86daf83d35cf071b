//! More bends, corners and holes of a shape, or fewer.

use nalgebra::Vector3;

use super::super::decimal::tidy;
use super::super::place::shape_word;
use super::{Proposal, coordinates, tenth};
use crate::scene::{Hole, Place, Scene, Shape};

/// What can be done to the outline of a shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Reshaping {
    /// One more bend of a bar or corner of a plate, in the middle of its longest straight piece.
    Bend,
    /// One bend or corner less: the one that turns least.
    Straighten,
    /// One more hole in the middle of a plate.
    Drill,
    /// The last hole of a plate away.
    Fill,
}

/// How far a new bend or corner stands off the piece that it is made in, relative to the length of that.
const OFFSET: f64 = 0.25;
/// A piece along the upright axis, up to this sine, is bent to the side.
const UPRIGHT: f64 = 0.2;

impl Reshaping {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Bend, Self::Straighten, Self::Drill, Self::Fill];

    /// What it is called of a shape; `None` where it cannot be done to that.
    pub fn word(self, shape: &Shape) -> Option<&'static str> {
        match (self, shape) {
            (Self::Bend, Shape::BentBar(_)) => Some("One more bend"),
            (Self::Bend, Shape::Plate(_)) => Some("One more corner"),
            (Self::Straighten, Shape::BentBar(bar)) if bar.path.len() > 2 => Some("One bend less"),
            (Self::Straighten, Shape::Plate(plate)) if plate.corners.len() > 3 => {
                Some("One corner less")
            }
            (Self::Drill, Shape::Plate(_)) => Some("One more hole"),
            (Self::Fill, Shape::Plate(plate)) if !plate.holes.is_empty() => Some("One hole less"),
            _ => None,
        }
    }
}

impl Proposal {
    /// A scene with a shape that has one bend, corner or hole more or less; `None` where that cannot be.
    pub fn reshaped(scene: &Scene, shape: usize, how: Reshaping) -> Option<Self> {
        let body = scene.body.get(shape)?;
        how.word(body)?;
        let word = shape_word(body);
        let name = match (how, body) {
            (Reshaping::Bend, Shape::Plate(_)) => format!("gave the {word} one more corner"),
            (Reshaping::Bend, _) => format!("gave the {word} one more bend"),
            (Reshaping::Straighten, Shape::Plate(_)) => format!("took a corner off the {word}"),
            (Reshaping::Straighten, _) => format!("took a bend out of the {word}"),
            (Reshaping::Drill, _) => format!("made a hole in the {word}"),
            (Reshaping::Fill, _) => format!("closed a hole of the {word}"),
        };
        let outline = ShapeOutline::of(scene, body)?;
        let size = tenth(scene) / 2.0;
        Self::on(scene, name, |changed| {
            let places = match changed.body.get_mut(shape)? {
                Shape::BentBar(bar) => &mut bar.path,
                Shape::Plate(plate) => match how {
                    Reshaping::Drill => {
                        plate.holes.push(Hole {
                            centre: Place::At(coordinates(scene, outline.middle())),
                            diameter: size,
                        });
                        return Some(());
                    }
                    Reshaping::Fill => return plate.holes.pop().map(drop),
                    _ => &mut plate.corners,
                },
                _ => return None,
            };
            match how {
                Reshaping::Bend => {
                    let (before, at) = outline.new_point()?;
                    places.insert(before, Place::At(coordinates(scene, at)));
                }
                Reshaping::Straighten => drop(places.remove(outline.least_turn()?)),
                Reshaping::Drill | Reshaping::Fill => return None,
            }
            Some(())
        })
    }
}

/// The points of a bar, or of a plate all around.
struct ShapeOutline {
    points: Vec<Vector3<f64>>,
    is_closed: bool,
    upright: Vector3<f64>,
}

impl ShapeOutline {
    fn of(scene: &Scene, shape: &Shape) -> Option<Self> {
        let (places, is_closed) = match shape {
            Shape::BentBar(bar) => (&bar.path, false),
            Shape::Plate(plate) => (&plate.corners, true),
            _ => return None,
        };
        let points = places.iter().map(|place| scene.position(place));
        let mut upright = Vector3::zeros();
        upright[scene.space.axes() - 1] = 1.0;
        Some(Self {
            points: points
                .map(|point| point.map(Vector3::from))
                .collect::<Option<_>>()?,
            is_closed,
            upright,
        })
    }

    fn mean(&self) -> Vector3<f64> {
        self.points.iter().sum::<Vector3<f64>>() / self.points.len() as f64
    }

    fn middle(&self) -> [f64; 3] {
        self.mean().data.0[0].map(tidy)
    }

    /// Where a new point goes in the list, and where it is: beside the middle of the longest piece.
    fn new_point(&self) -> Option<(usize, [f64; 3])> {
        let count = self.points.len();
        let pieces = if self.is_closed { count } else { count - 1 };
        let ends = |piece: usize| [self.points[piece], self.points[(piece + 1) % count]];
        let length = |piece: &usize| {
            let [from, to] = ends(*piece);
            (to - from).norm()
        };
        // Of pieces alike the first.
        let longest = (0..pieces)
            .rev()
            .max_by(|a, b| length(a).total_cmp(&length(b)))?;
        let [from, to] = ends(longest);
        let along = (to - from).try_normalize(0.0)?;
        let middle = (from + to) / 2.0;
        let off = OFFSET * (to - from).norm() * self.aside(&along, &middle)?;
        Some((longest + 1, (middle + off).data.0[0].map(tidy)))
    }

    /// Direction in which a piece is bent: a bar up, or to the side where it is upright, a plate away from its middle.
    fn aside(&self, along: &Vector3<f64>, middle: &Vector3<f64>) -> Option<Vector3<f64>> {
        let across = |way: Vector3<f64>| way - along * along.dot(&way);
        if self.is_closed {
            return across(middle - self.mean()).try_normalize(0.0);
        }
        let up = across(self.upright);
        match up.norm() > UPRIGHT {
            true => Some(up.normalize()),
            false => across(Vector3::x()).try_normalize(0.0),
        }
    }

    /// The point at which the outline turns least; the ends of a bar are no turns.
    fn least_turn(&self) -> Option<usize> {
        let count = self.points.len();
        let inner = if self.is_closed {
            0..count
        } else {
            1..count - 1
        };
        let straightness = |at: &usize| {
            let [before, here, after] =
                [at + count - 1, *at, at + 1].map(|index| self.points[index % count]);
            let ways = [here - before, after - here].map(|way| way.try_normalize(0.0));
            match ways {
                [Some(into), Some(out)] => into.dot(&out),
                _ => 1.0,
            }
        };
        inner.max_by(|a, b| straightness(a).total_cmp(&straightness(b)))
    }
}
