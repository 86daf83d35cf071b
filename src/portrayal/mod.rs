//! What is drawn of a scene, once for every output: a neutral list in scene axes, metres and double precision.
//!
//! Figures, films, decks and the window draw this list, each in its medium. It holds no colours and no strokes, and knows
//! neither page nor screen. Everything in it is where it is with the body as written, and says what it moves with
//! ([`Carrier`]): the ground, the body, or what links the two. An output that moves the body asks each thing where its
//! carrier takes it, so that the ground cannot move and a rod turns between its two ends.
//!
//! | on the list | shape | moves with |
//! |---|---|---|
//! | foundations, sockets, housings, rails, fixed rods | solids ([`HardwareShape`]) | the ground |
//! | eyes, knuckles, collars and sleeves on the body | solids | the body |
//! | the bar of a link, a cable | a rod or cord between two points | the rod between its ends |
//! | rollers, wheels, shoes | solids | the body point that they carry, without turning |
//! | forces and couples of loads and supports | strokes ([`ForceStroke`]) | the body point at which they act, or the rod |
//! | axes with their beads, ways of points | a line ([`DrawnAxis`]), a path ([`PointPath`]) | the ground |
//! | names of supports and points | a place ([`Name`]) | the body, or the ground below a support |
//! | textbook symbols of the plane | flat outlines, rings, hatched lines ([`SymbolPart`]) | as the solids they stand for |
//!
//! Hardware keeps its size on paper, so it is laid out for a length in the scene, [`Layout::unit`]. What slides is given
//! ground as far as the swing takes it ([`Layout::swing`]). Which hardware stands for which kind of support is written in
//! one table, `kinds`.

mod axes;
mod axis;
mod best_view;
mod carrier;
mod face_rows;
mod hardware_builder;
pub(crate) mod hardware_mesh;
mod kinds;
pub mod label_places;
pub(crate) mod mesh;
mod names;
mod point_path;
mod shape;
mod solids;
mod strokes;
mod surface;
mod symbols;

pub use axes::across;
pub use axis::{Bead, DrawnAxis};
pub use best_view::{ViewSubject, towards};
pub use carrier::{Carrier, CarrierPose};
pub use names::{Name, load_names, names_below, places as load_places, support_names};
pub use point_path::{PointPath, distance_from_axis, lifted, swept_points};
pub use shape::{HardwarePiece, HardwareShape, Station, SymbolPart};
pub use strokes::{ArrowSide, DrawnLoad, DrawnReaction, ForceStroke, loads, reactions};
pub(crate) use surface::touched;

use nalgebra::{Isometry3, Point3};

use crate::motion::Course;
use crate::scene::Space;
use crate::scene::solid::{Finish, Solid};
use crate::statics::{Model, SupportIndex};
use hardware_builder::HardwareBuilder;

/// How the body's surfaces are finished in pictures lit from one side: their edges catch the light.
pub const LIT: Finish = Finish {
    chamfer: 0.06,
    around: 48,
};

/// What a portrayal is made from.
#[derive(Debug, Clone, Copy)]
pub struct Layout<'a> {
    /// The model.
    pub model: &'a Model,
    /// The body as written.
    pub body: &'a [Solid],
    /// The motion that is shown, if any: contacts that the body leaves stay on the ground.
    pub course: Option<&'a Course<'a>>,
    /// Placements of the body during its swing; none for a body at rest.
    pub swing: &'a [Isometry3<f64>],
    /// The unit in which hardware is laid out, m: a point of the page.
    pub unit: f64,
    /// How many times larger hardware may become around a body that would hide it; 1 on paper, where what is hidden is dashed.
    pub thickest: f64,
}

impl Layout<'_> {
    /// The hardware of every support as simple solids, in model order of the supports.
    pub fn solids(&self) -> Vec<HardwarePiece<HardwareShape>> {
        let supports = self
            .model
            .supports
            .indices()
            .flat_map(|index| self.solid(index).pieces);
        supports.collect()
    }

    /// The textbook symbol of every support of a planar scene, in model order of the supports and in painting order.
    pub fn symbols(&self) -> Vec<HardwarePiece<SymbolPart>> {
        let supports = self
            .model
            .supports
            .indices()
            .flat_map(|index| self.symbol(index).pieces);
        supports.collect()
    }

    /// Where the ground of each support is: a place to name it by that never moves.
    pub fn feet(&self) -> Vec<Point3<f64>> {
        let supports = self.model.supports.enumerate();
        let foot = supports.map(|(index, support)| {
            let foot = match self.model.space {
                Space::Spatial => self.solid(index).foot,
                Space::Planar => self.symbol(index).foot,
            };
            support.ground.or(foot).unwrap_or(support.point)
        });
        foot.collect()
    }

    fn solid(&self, index: SupportIndex) -> HardwareBuilder<'_, HardwareShape> {
        let mut bench = HardwareBuilder::new(self, index);
        (kinds::portrayal_of(&bench.support.kind).solid)(&mut bench);
        bench
    }

    fn symbol(&self, index: SupportIndex) -> HardwareBuilder<'_, SymbolPart> {
        let mut bench = HardwareBuilder::new(self, index);
        (kinds::portrayal_of(&bench.support.kind).symbol)(&mut bench);
        bench
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{read_str, solid};

    const BEAM: &str = r#"(format: 1, space: planar,
        body: [Block(centre: (0, 0), size: (2, 0.1, 0.1))],
        supports: [Roller(name: "A", at: (-1, 0), normal: (0, 1)), Roller(name: "B", at: (1, 0), normal: (0, 1))])"#;

    /// Hatches, and the way that the ground of A reaches to each side, in units.
    fn floor(swing: &[Isometry3<f64>]) -> (usize, [f64; 2]) {
        let scene = read_str("beam", BEAM).unwrap().scene;
        let model = Model::new(&scene).unwrap();
        let body = solid::of_body(&scene);
        let layout = Layout {
            model: &model,
            body: &body,
            course: None,
            swing,
            unit: 0.01,
            thickest: 1.0,
        };
        let of_a = layout
            .symbols()
            .into_iter()
            .filter(|p| p.support.get() == 0);
        let (mut hatches, mut reach) = (0, [0.0; 2]);
        for piece in of_a.filter(|piece| piece.carrier == Carrier::Ground) {
            match piece.shape {
                SymbolPart::Hatching(lines) => hatches = lines.len(),
                SymbolPart::Line(ends) => reach = [0, 1].map(|i: usize| (ends[i].x + 1.0) * 100.0),
                _ => {}
            }
        }
        (hatches, reach)
    }

    #[test]
    fn a_floor_reaches_as_far_as_what_rolls_on_it() {
        let (_, still) = floor(&[]);
        let (_, rolled) = floor(&[Isometry3::translation(0.5, 0.0, 0.0)]);
        assert!((still[0] + 13.0).abs() < 1e-9 && (still[1] - 13.0).abs() < 1e-9);
        assert_eq!(rolled[0], still[0]);
        assert!((50.0..60.0).contains(&rolled[1]), "{rolled:?}");
    }

    /// A body a quadrillion of its sizes from the origin swings by its rounding: a floor as long was hatched without end.
    #[test]
    fn a_floor_of_an_endless_way_ends() {
        let (hatches, _) = floor(&[Isometry3::translation(1e24, 0.0, 0.0)]);
        assert!(hatches < 1000, "{hatches}");
        let (hatches, _) = floor(&[Isometry3::translation(f64::NAN, 0.0, 0.0)]);
        assert!(hatches < 1000, "{hatches}");
    }
}
