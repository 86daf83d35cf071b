//! The sizes of shapes besides their places.

use crate::scene::{BentBar, Block, Bracket, Disc, Plate, Shaft, Shape};

/// Each size with its word, in the scene's length unit.
pub(super) fn of(shape: &Shape) -> Vec<(&'static str, f64)> {
    // One list says which sizes there are; reading goes by way of writing.
    let mut shape = shape.clone();
    all_mut(&mut shape)
        .into_iter()
        .map(|(word, size)| (word, *size))
        .collect()
}

/// Each size to be written over.
pub(in crate::draft) fn all_mut(shape: &mut Shape) -> Vec<(&'static str, &mut f64)> {
    match shape {
        Shape::BentBar(BentBar {
            diameter,
            bend_radius,
            ..
        }) => {
            let radius = bend_radius.as_mut().map(|radius| ("bend radius", radius));
            std::iter::once(("diameter", diameter))
                .chain(radius)
                .collect()
        }
        Shape::Plate(Plate {
            thickness, holes, ..
        }) => {
            let holes = holes
                .iter_mut()
                .map(|hole| ("hole of diameter", &mut hole.diameter));
            std::iter::once(("thickness", thickness))
                .chain(holes)
                .collect()
        }
        Shape::Bracket(Bracket {
            width,
            thickness,
            gusset,
            ..
        }) => vec![
            ("width", width),
            ("thickness", thickness),
            ("gusset", gusset),
        ],
        Shape::Shaft(Shaft { diameter, .. }) => vec![("diameter", diameter)],
        Shape::Disc(Disc {
            diameter,
            thickness,
            bore,
            groove,
            ..
        }) => vec![
            ("diameter", diameter),
            ("thickness", thickness),
            ("bore", bore),
            ("groove", groove),
        ],
        Shape::Block(Block {
            size: [length, depth, height],
            ..
        }) => vec![("length", length), ("depth", depth), ("height", height)],
    }
}
