//! What is given: supports and loads as tables.

use nalgebra::Vector3;

use crate::document::{DocumentBlock, DocumentTable};
use crate::scene::Space;
use crate::statics::{AppliedLoad, CaseIndex, Model, PlacedSupport};
use crate::wording::{self, Phrase, Quantity, phrase};

/// Significant digits of what is given rather than found.
const DIGITS: i32 = 6;

/// The supports with place and orientation; `named` adds the names of their reactions.
pub fn supports(model: &Model, named: bool) -> DocumentBlock {
    let mut head = vec!["Support", "kind", "at", "direction"];
    if named {
        head.push("reactions");
    }
    let rows = model.supports.iter().map(|support| {
        let mut row = vec![
            Phrase::name(&support.name),
            wording::support_kind(&support.kind).into(),
            wording::coordinates(model, &support.point).into(),
            wording::orientation(model, support),
        ];
        if named {
            row.push(reactions(model, support));
        }
        row
    });
    DocumentBlock::Table(DocumentTable {
        rows: rows.collect(),
        head: head.into_iter().map(Phrase::from).collect(),
        ..DocumentTable::default()
    })
}

fn reactions(model: &Model, support: &PlacedSupport) -> Phrase {
    let symbols = wording::symbols(model, support.reactions.clone());
    Phrase::joined(symbols, ", ")
}

/// The loads of a case, numbered as the equations take them.
pub fn loads(model: &Model, case: CaseIndex) -> DocumentBlock {
    let loads = model.cases[case].loads.iter().enumerate();
    let rows = loads.map(|(index, load)| {
        let mut row = vec![Phrase::from(index + 1)];
        row.extend(load_cells(model, load));
        row
    });
    DocumentBlock::Table(DocumentTable {
        rows: rows.collect(),
        head: ["Load", "kind", "at", "components"]
            .map(Phrase::from)
            .into(),
        ..DocumentTable::default()
    })
}

/// Kind, place and components of a load.
fn load_cells(model: &Model, load: &AppliedLoad) -> [Phrase; 3] {
    let units = &model.units;
    let (newtons, symbol) = (units.force.in_newtons(), units.force.symbol());
    match load {
        AppliedLoad::Force { at, force } => [
            "force".into(),
            place(model, at),
            components(model, force, newtons, symbol).into(),
        ],
        AppliedLoad::Weight { at, force, .. } => [
            "own weight".into(),
            place(model, at),
            components(model, force, newtons, symbol).into(),
        ],
        AppliedLoad::Couple { at, moment } => [
            "couple".into(),
            at.as_ref().map_or_else(Phrase::new, |at| place(model, at)),
            couple(model, moment),
        ],
        AppliedLoad::Distributed { ends, densities } => {
            let unit = newtons / units.length.in_metres();
            let symbol = format!("{symbol}/{}", units.length.symbol());
            let [start, end] = densities.map(|of| components(model, &of, unit, &symbol));
            let size = if start == end {
                start.into()
            } else {
                phrase!(start, " to ", end)
            };
            let ends = Phrase::joined(ends.map(|end| place(model, &end)), " to ");
            ["distributed load".into(), ends, size]
        }
        AppliedLoad::Line {
            path,
            density,
            mass,
        } => {
            let unit = newtons / units.length.in_metres();
            let symbol = format!("{symbol}/{}", units.length.symbol());
            let what = match mass {
                Some(_) => "weight along a path",
                None => "load along a path",
            };
            let points = Phrase::joined(path.iter().map(|point| place(model, point)), " to ");
            [
                what.into(),
                points,
                components(model, density, unit, &symbol).into(),
            ]
        }
        AppliedLoad::Area {
            face,
            density,
            on_plan,
        } => {
            let metres = units.length.in_metres();
            let symbol = format!("{symbol}/{}\u{b2}", units.length.symbol());
            let size = components(model, density, newtons / (metres * metres), &symbol);
            let corners: Vec<Phrase> = face.iter().map(|corner| place(model, corner)).collect();
            [
                "load over a face".into(),
                wording::listed(&corners),
                phrase!(size, on_plan.then_some(" on plan")),
            ]
        }
    }
}

fn couple(model: &Model, moment: &Vector3<f64>) -> Phrase {
    let units = &model.units;
    match model.space {
        Space::Planar => wording::couple(moment.z, units).into(),
        Space::Spatial => {
            let unit = units.moment_in_newton_metres();
            components(model, moment, unit, &units.moment_symbol()).into()
        }
    }
}

/// The name of a point with its coordinates, or these alone.
fn place(model: &Model, at: &nalgebra::Point3<f64>) -> Phrase {
    let (name, coordinates) = (wording::point(model, at), wording::coordinates(model, at));
    if name == Phrase::from(&coordinates) {
        name
    } else {
        phrase!(name, " ", coordinates)
    }
}

fn components(model: &Model, vector: &Vector3<f64>, unit: f64, symbol: &str) -> Quantity {
    let shown = match model.space {
        Space::Planar => 2,
        Space::Spatial => 3,
    };
    let numbers = vector
        .iter()
        .take(shown)
        .map(|x| wording::rounded(x / unit, DIGITS));
    Quantity::vector(numbers.collect(), symbol)
}
