//! The material of bars that bend, and their sections.

use super::super::{BarSection, Material};
use super::fields::{Fields, Kind, Spaces};
use super::values::NumberRange;
use super::{Decoder, Kinds};
use crate::scene::source_offsets::ItemPlaces;
use crate::scene::syntax::SyntaxNode;

/// Every section of a bar.
pub(crate) const SECTIONS: Kinds<BarSection> = Kinds {
    what: "section",
    list: "section",
    other_words: &[],
    all: &[
        section("Solid", |_| BarSection::Solid),
        section("Tube", |f| BarSection::Tube {
            wall: f.size("wall"),
        }),
        section("Given", |f| BarSection::Given {
            area: f.size("area"),
            second_moment: f.size("second_moment"),
            torsion_constant: f.size("torsion_constant"),
            shear_area: f.optional_number("shear_area", NumberRange::Positive),
        }),
    ],
};

const fn section(name: &'static str, read: fn(&mut Fields) -> BarSection) -> Kind<BarSection> {
    Kind {
        name,
        spaces: Spaces::Both,
        read,
    }
}

impl Fields<'_, '_, '_> {
    /// The section of a bar, solid where none is written.
    pub(super) fn section(&mut self) -> BarSection {
        let Some(node) = self.take("section") else {
            return BarSection::default();
        };
        let read = self.read("section", node, |d, _, node| d.item(&SECTIONS, node));
        read.map(|(section, _)| section).unwrap_or_default()
    }
}

impl Decoder<'_> {
    /// The material of bars that bend, and where its fields stand.
    pub(super) fn material(&mut self, node: SyntaxNode) -> Option<(Material, ItemPlaces)> {
        let mut fields = Fields::anonymous(self, "`material`", node)?;
        let material = Material {
            youngs_modulus: fields.size("youngs_modulus"),
            shear_modulus: fields.size("shear_modulus"),
            shear: fields.switch_or("shear", false),
        };
        fields.finish().map(|places| (material, places))
    }
}
