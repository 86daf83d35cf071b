//! The shapes of a body, each with its fields.

use super::super::syntax::SyntaxNode;
use super::super::{BentBar, Block, Bracket, Disc, Hole, Plate, Shaft, Shape, Space, other_words};
use super::fields::{Fields, Kind, Spaces};
use super::values::NumberRange;
use super::{Decoder, Kinds};

/// Every shape.
pub(crate) const SHAPES: Kinds<Shape> = Kinds {
    what: "shape",
    list: "body",
    other_words: other_words::SHAPES,
    all: &[
        shape("BentBar", |f| {
            Shape::BentBar(BentBar {
                path: f.places("path"),
                diameter: f.size("diameter"),
                bend_radius: f.optional_number("bend_radius", NumberRange::NotNegative),
                section: f.section(),
            })
        }),
        shape("Plate", |f| {
            Shape::Plate(Plate {
                corners: f.places("corners"),
                thickness: f.size("thickness"),
                holes: holes(f),
            })
        }),
        shape("Bracket", |f| {
            Shape::Bracket(Bracket {
                corner: f.place("corner"),
                legs: f.two_places("legs"),
                width: f.size("width"),
                thickness: f.size("thickness"),
                gusset: f.number_or("gusset", NumberRange::NotNegative, 0.0),
            })
        }),
        shape("Shaft", |f| {
            Shape::Shaft(Shaft {
                from: f.place("from"),
                to: f.place("to"),
                diameter: f.size("diameter"),
            })
        }),
        shape("Disc", |f| {
            Shape::Disc(Disc {
                centre: f.place("centre"),
                axis: match f.decoder.space {
                    Space::Spatial => Some(f.direction("axis")),
                    Space::Planar => None,
                },
                diameter: f.size("diameter"),
                thickness: f.size("thickness"),
                bore: f.number_or("bore", NumberRange::NotNegative, 0.0),
                groove: f.number_or("groove", NumberRange::NotNegative, 0.0),
            })
        }),
        shape("Block", |f| {
            Shape::Block(Block {
                centre: f.place("centre"),
                size: f.sizes("size"),
                lengthwise: f.optional_direction("lengthwise"),
                upright: f.optional_direction("upright"),
            })
        }),
    ],
};

const fn shape(name: &'static str, read: fn(&mut Fields) -> Shape) -> Kind<Shape> {
    Kind {
        name,
        spaces: Spaces::Both,
        read,
    }
}

fn holes(fields: &mut Fields) -> Vec<Hole> {
    let Some(node) = fields.take("holes") else {
        return Vec::new();
    };
    let nodes = fields.list("holes", node);
    fields.elements("holes", nodes, |decoder, _, node| hole(decoder, node))
}

fn hole(decoder: &mut Decoder, node: SyntaxNode) -> Option<Hole> {
    let mut fields = Fields::anonymous(decoder, "a hole", node)?;
    let hole = Hole {
        centre: fields.place("centre"),
        diameter: fields.size("diameter"),
    };
    fields.finish().map(|_| hole)
}
