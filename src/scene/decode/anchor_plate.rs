//! The fields of an anchor plate, and the patterns of anchors.

use std::fmt::Arguments;

use super::super::syntax::{SyntaxNode, Value};
use super::super::{AnchorPattern, AnchorPlate};
use super::fields::{Fields, Kind, Spaces};
use super::values::NumberRange;
use super::{Decoder, Kinds};

/// Every pattern of anchors.
pub(crate) const PATTERNS: Kinds<AnchorPattern> = Kinds {
    what: "pattern of anchors",
    list: "anchors",
    other_words: &[],
    all: &[
        pattern("Grid", |f| AnchorPattern::Grid {
            columns: f.count("columns"),
            rows: f.count("rows"),
            spacing: f.pair("spacing", NumberRange::Positive),
        }),
        pattern("Circle", |f| AnchorPattern::Circle {
            count: f.count("count"),
            diameter: f.size("diameter"),
        }),
        pattern("List", |f| AnchorPattern::List {
            places: f.pairs("places"),
        }),
    ],
};

const fn pattern(
    name: &'static str,
    read: fn(&mut Fields) -> AnchorPattern,
) -> Kind<AnchorPattern> {
    Kind {
        name,
        spaces: Spaces::Both,
        read,
    }
}

const PAIR: &str = "two numbers `(x, y)`";

impl Fields<'_, '_, '_> {
    /// All of the plate but its normal.
    pub(super) fn anchor_plate(&mut self) -> AnchorPlate {
        AnchorPlate {
            size: self.pair("size", NumberRange::Positive),
            upright: self.optional_vector("upright"),
            anchors: self.anchors(),
            pull_stiffness: self.optional_number("pull_stiffness", NumberRange::Positive),
            bedding: self.optional_number("bedding", NumberRange::Positive),
        }
    }

    fn anchors(&mut self) -> AnchorPattern {
        let form = "a pattern, such as `Grid(columns: 2, rows: 2, spacing: (0.1, 0.2))`";
        let node = self.require("anchors", form);
        let read =
            node.and_then(|node| self.read("anchors", node, |d, _, node| d.item(&PATTERNS, node)));
        match read {
            Some((pattern, places)) => {
                self.adopt(places);
                pattern
            }
            None => AnchorPattern::List { places: Vec::new() },
        }
    }

    /// A whole number of things, 1 or more.
    fn count(&mut self, key: &'static str) -> u32 {
        let node = self.require(key, "a whole number, 1 or greater");
        let read = node.and_then(|node| {
            self.read(key, node, |d, what, node| {
                let found = d.whole_number(what, node)?;
                let count = u32::try_from(found).ok().filter(|count| *count > 0);
                if count.is_none() {
                    d.wrong(what, "a whole number, 1 or greater", node);
                }
                count
            })
        });
        read.unwrap_or(1)
    }

    /// Two numbers in parentheses.
    fn pair(&mut self, key: &'static str, range: NumberRange) -> [f64; 2] {
        let node = self.require(key, PAIR);
        let read =
            node.and_then(|node| self.read(key, node, |d, what, node| d.pair(what, range, node)));
        read.unwrap_or([1.0; 2])
    }

    /// A list of pairs.
    fn pairs(&mut self, key: &'static str) -> Vec<[f64; 2]> {
        let Some(node) = self.require(key, "a list of places on the plate `[(x, y), …]`") else {
            return Vec::new();
        };
        let nodes = self.list(key, node);
        self.elements(key, nodes, |d, what, node| {
            d.pair(what, NumberRange::Any, node)
        })
    }
}

impl Decoder<'_> {
    fn pair(&mut self, what: Arguments, range: NumberRange, node: SyntaxNode) -> Option<[f64; 2]> {
        let parts = match node.value() {
            Value::Tuple(parts) if parts.len() == 2 => parts,
            _ => {
                self.wrong(what, PAIR, node);
                return None;
            }
        };
        let numbers: Vec<Option<f64>> = parts
            .into_iter()
            .map(|part| self.number(what, range, part))
            .collect();
        let numbers: Option<Vec<f64>> = numbers.into_iter().collect();
        numbers?.try_into().ok()
    }
}
