//! What a support may be loaded with: `allowable: (tension: 8000, shear: 5000, exponent: 2, outwards: (0, 0, 1))`.

use std::fmt::Arguments;

use super::super::Allowable;
use super::super::source_offsets::ItemPlaces;
use super::super::syntax::SyntaxNode;
use super::Decoder;
use super::fields::Fields;
use super::values::NumberRange;

/// The field of a support.
pub(crate) const ALLOWABLE: &str = "allowable";

impl Fields<'_, '_, '_> {
    /// What the support may be loaded with, where that is given.
    pub(super) fn allowable(&mut self) -> Option<Allowable> {
        let node = self.take(ALLOWABLE)?;
        let (allowable, places) =
            self.read(ALLOWABLE, node, |d, what, node| d.allowable(what, node))?;
        self.adopt(places);
        Some(allowable)
    }
}

impl Decoder<'_> {
    fn allowable(&mut self, what: Arguments, node: SyntaxNode) -> Option<(Allowable, ItemPlaces)> {
        let mut fields = Fields::anonymous(self, &what.to_string(), node)?;
        let force = NumberRange::Positive;
        let allowable = Allowable {
            tension: fields.optional_number("tension", force),
            compression: fields.optional_number("compression", force),
            shear: fields.optional_number("shear", force),
            exponent: fields.number_or(
                "exponent",
                NumberRange::AtLeastOne,
                Allowable::USUAL_EXPONENT,
            ),
            outwards: fields.optional_vector("outwards"),
        };
        Some((allowable, fields.finish()?))
    }
}
