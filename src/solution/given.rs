//! What is given: supports and loads as tables.

use nalgebra::Vector3;

use crate::document::{Block, Table};
use crate::scene::Space;
use crate::statics::{AppliedLoad, Model, PlacedSupport};
use crate::wording;

/// The supports with place and orientation; `named` adds the names of their reactions.
pub fn supports(model: &Model, named: bool) -> Block {
    let mut head = vec!["Support", "kind", "at", "direction"];
    if named {
        head.push("reactions");
    }
    let rows = model.supports.iter().map(|support| {
        let mut row = vec![
            support.name.clone(),
            wording::support_kind(&support.kind).to_owned(),
            wording::coordinates(model, &support.point),
            wording::orientation(model, support),
        ];
        if named {
            row.push(reactions(model, support));
        }
        row
    });
    Block::Table(Table {
        rows: rows.collect(),
        head: head.into_iter().map(str::to_owned).collect(),
        values: Vec::new(),
    })
}

fn reactions(model: &Model, support: &PlacedSupport) -> String {
    let own = model.reactions[support.reactions.clone()].iter();
    let names: Vec<&str> = own.map(|reaction| reaction.name.as_str()).collect();
    names.join(", ")
}

/// The loads of a case, numbered as the equations take them.
pub fn loads(model: &Model, case: usize) -> Block {
    let loads = model.cases[case].loads.iter().enumerate();
    let rows = loads.map(|(index, load)| {
        let mut row = vec![(index + 1).to_string()];
        row.extend(load_cells(model, load));
        row
    });
    Block::Table(Table {
        rows: rows.collect(),
        head: ["Load", "kind", "at", "components"]
            .map(str::to_owned)
            .into(),
        values: Vec::new(),
    })
}

/// Kind, place and components of a load.
fn load_cells(model: &Model, load: &AppliedLoad) -> [String; 3] {
    let units = &model.units;
    let (newtons, symbol) = (units.force.in_newtons(), units.force.symbol());
    match load {
        AppliedLoad::Force { at, force } => [
            "force".to_owned(),
            place(model, at),
            components(model, force, newtons, symbol),
        ],
        AppliedLoad::Weight { at, force, .. } => [
            "own weight".to_owned(),
            place(model, at),
            components(model, force, newtons, symbol),
        ],
        AppliedLoad::Couple { at, moment } => [
            "couple".to_owned(),
            at.as_ref().map_or_else(String::new, |at| place(model, at)),
            couple(model, moment),
        ],
        AppliedLoad::Distributed { ends, densities } => {
            let unit = newtons / units.length.in_metres();
            let symbol = format!("{symbol}/{}", units.length.symbol());
            let [start, end] = densities.map(|of| components(model, &of, unit, &symbol));
            let size = if start == end {
                start
            } else {
                format!("{start} to {end}")
            };
            let ends = ends.map(|end| place(model, &end)).join(" to ");
            ["spread force".to_owned(), ends, size]
        }
    }
}

fn couple(model: &Model, moment: &Vector3<f64>) -> String {
    let units = &model.units;
    match model.space {
        Space::Planar => wording::couple(moment.z, units),
        Space::Spatial => {
            let unit = units.moment_in_newton_metres();
            components(model, moment, unit, &units.moment_symbol())
        }
    }
}

/// The name of a point with its coordinates, or these alone.
fn place(model: &Model, at: &nalgebra::Point3<f64>) -> String {
    let (name, coordinates) = (wording::point(model, at), wording::coordinates(model, at));
    if name == coordinates {
        name
    } else {
        format!("{name} {coordinates}")
    }
}

fn components(model: &Model, vector: &Vector3<f64>, unit: f64, symbol: &str) -> String {
    let shown = match model.space {
        Space::Planar => 2,
        Space::Spatial => 3,
    };
    let numbers: Vec<String> = vector
        .iter()
        .take(shown)
        .map(|x| wording::number(x / unit))
        .collect();
    format!("({}) {symbol}", numbers.join(", "))
}
