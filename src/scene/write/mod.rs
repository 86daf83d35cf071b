//! Writing scenes: the same format that is read, one support, shape or load on a line, defaults left out.

mod amend;
mod value;

use std::path::Path;

use ron::ser::PrettyConfig;

use super::decode::FORMAT;
use super::decode::allowable::ALLOWABLE;
use super::decode::stiffness::{COUPLES, FORCES};
use super::units::STANDARD_GRAVITY;
use super::{
    Allowable, AnchorPattern, AnchorPlate, AreaAmount, BarSection, BentBar, Block, Bracket, Case,
    CaseCombination, Direction, Disc, ForceVector, Heaviness, Hole, Imposed, LessonStep,
    LineAmount, Load, Material, Moment, NamedPoint, Plate, Scene, Shaft, Shape, Stiffness, Support,
    SupportKind, SupportStiffness, Units, Wall,
};
use crate::files::{self, WriteError};
use value::{WrittenFields, WrittenValue, position};

/// Saves a scene: the file holds the old scene or the new one, never a part; see [`files`].
///
/// # Errors
/// If the folder does not exist or cannot be written to, or the file is read-only.
pub fn save_file(scene: &Scene, path: &Path) -> Result<(), WriteError> {
    files::write(path, to_ron(scene).as_bytes())
}

/// The text of a scene file.
pub fn to_ron(scene: &Scene) -> String {
    laid_out(&written(scene), 0) + "\n"
}

/// The text of a scene file with only that changed in which the scene differs from it: comments, order, layout and the
/// digits of numbers stay. The whole scene anew where the text is not a scene.
pub fn to_ron_like(text: &str, scene: &Scene) -> String {
    amend::amended(text, scene).unwrap_or_else(|| to_ron(scene))
}

/// What the lines of an item's parts begin with.
const INDENT: &str = "    ";
/// Lists of items are within so many brackets; what lies deeper stays on one line.
const LINES_TO: usize = 2;

/// The tree that is written, with positions from the origin in all their digits.
fn written(scene: &Scene) -> WrittenValue {
    document(scene).with_positions(&|axis, coordinate| match scene.datum.is_origin() {
        true => WrittenValue::Number(coordinate),
        false => WrittenValue::Written(scene.datum.written(axis, coordinate)),
    })
}

/// A value as it is written within so many brackets.
fn laid_out(value: &WrittenValue, depth: usize) -> String {
    let layout = PrettyConfig::new()
        .depth_limit(LINES_TO.saturating_sub(depth))
        .indentor(INDENT)
        .new_line("\n");
    let text = ron::ser::to_string_pretty(value, layout);
    let text = text.expect("text is written to memory, and a scene nests only a few levels");
    match depth {
        0 => text,
        _ => text.replace('\n', &format!("\n{}", INDENT.repeat(depth))),
    }
}

/// A value on one line.
fn inline(value: &WrittenValue) -> String {
    laid_out(value, LINES_TO)
}

/// The scene as JSON, with the same kinds, fields and words; see [`json_schema`](super::json_schema). Positions are from the
/// origin, as near as an f64 holds them.
pub fn to_json(scene: &Scene) -> serde_json::Value {
    let from_origin =
        |axis, coordinate| WrittenValue::Number(scene.datum.from_origin(axis, coordinate));
    let value = serde_json::to_value(document(scene).with_positions(&from_origin));
    value.expect("names of fields are texts, and numbers of a scene are finite")
}

fn list<'a, T: 'a>(items: &'a [T], value: impl Fn(&'a T) -> WrittenValue) -> WrittenValue {
    WrittenValue::List(items.iter().map(value).collect())
}

fn document(scene: &Scene) -> WrittenValue {
    WrittenFields::default()
        .with("format", WrittenValue::Whole(FORMAT))
        .with_filled(!scene.title.is_empty(), "title", || {
            scene.title.as_str().into()
        })
        .with_filled(!scene.notes.is_empty(), "notes", || {
            scene.notes.as_str().into()
        })
        .with_filled(scene.units != Units::default(), "units", || {
            units(scene.units)
        })
        .with_filled(scene.space != Default::default(), "space", || {
            WrittenValue::Word(scene.space.word())
        })
        .with_some("placement_tolerance", scene.placement_tolerance)
        .with_filled(scene.elastic, "elastic", || {
            WrittenValue::Switch(scene.elastic)
        })
        .with_some("material", scene.material.as_ref().map(material))
        .with_filled(!scene.points.is_empty(), "points", || points(&scene.points))
        .with("body", list(&scene.body, shape))
        .with_filled(!scene.walls.is_empty(), "walls", || {
            list(&scene.walls, wall)
        })
        .with_filled(!scene.supports.is_empty(), "supports", || {
            list(&scene.supports, support)
        })
        .with_filled(!scene.loads.is_empty(), "loads", || {
            list(&scene.loads, load)
        })
        .with_filled(!scene.imposed.is_empty(), "imposed", || {
            list(&scene.imposed, imposed)
        })
        .with_filled(!scene.cases.is_empty(), "cases", || {
            list(&scene.cases, case)
        })
        .with_filled(!scene.combinations.is_empty(), "combinations", || {
            list(&scene.combinations, combination)
        })
        .with_filled(!scene.lesson.is_empty(), "lesson", || {
            list(&scene.lesson, step)
        })
        .item("")
}

fn units(units: Units) -> WrittenValue {
    let standard = Units::default();
    let word = |is_other: bool, symbol| is_other.then_some(WrittenValue::Word(symbol));
    WrittenFields::default()
        .with_some(
            "length",
            word(units.length != standard.length, units.length.symbol()),
        )
        .with_some(
            "force",
            word(units.force != standard.force, units.force.symbol()),
        )
        .with_some(
            "mass",
            word(units.mass != standard.mass, units.mass.symbol()),
        )
        .item("")
}

fn points(points: &[NamedPoint]) -> WrittenValue {
    let entry = |point: &NamedPoint| (point.name.clone(), position(&point.at));
    WrittenValue::Map(points.iter().map(entry).collect())
}

fn wall(wall: &Wall) -> WrittenValue {
    WrittenFields::default()
        .with("corners", list(&wall.corners, WrittenValue::from))
        .item("Wall")
}

fn shape(shape: &Shape) -> WrittenValue {
    match shape {
        Shape::BentBar(BentBar {
            path,
            diameter,
            bend_radius,
            section,
        }) => WrittenFields::default()
            .with("path", list(path, WrittenValue::from))
            .with("diameter", *diameter)
            .with_some("bend_radius", *bend_radius)
            .with_filled(*section != BarSection::default(), "section", || {
                bar_section(section)
            })
            .item("BentBar"),
        Shape::Plate(Plate {
            corners,
            thickness,
            holes,
        }) => WrittenFields::default()
            .with("corners", list(corners, WrittenValue::from))
            .with("thickness", *thickness)
            .with_filled(!holes.is_empty(), "holes", || list(holes, hole))
            .item("Plate"),
        Shape::Bracket(Bracket {
            corner,
            legs,
            width,
            thickness,
            gusset,
        }) => WrittenFields::default()
            .with("corner", corner)
            .with(
                "legs",
                WrittenValue::Tuple(legs.iter().map(WrittenValue::from).collect()),
            )
            .with("width", *width)
            .with("thickness", *thickness)
            .with_other_than(0.0, "gusset", *gusset)
            .item("Bracket"),
        Shape::Shaft(Shaft { from, to, diameter }) => WrittenFields::default()
            .with("from", from)
            .with("to", to)
            .with("diameter", *diameter)
            .item("Shaft"),
        Shape::Disc(Disc {
            centre,
            axis,
            diameter,
            thickness,
            bore,
            groove,
        }) => WrittenFields::default()
            .with("centre", centre)
            .with_some("axis", axis.as_ref())
            .with("diameter", *diameter)
            .with("thickness", *thickness)
            .with_other_than(0.0, "bore", *bore)
            .with_other_than(0.0, "groove", *groove)
            .item("Disc"),
        Shape::Block(Block {
            centre,
            size,
            lengthwise,
            upright,
        }) => WrittenFields::default()
            .with("centre", centre)
            .with("size", size.as_slice())
            .with_some("lengthwise", lengthwise.as_ref())
            .with_some("upright", upright.as_ref())
            .item("Block"),
    }
}

fn material(material: &Material) -> WrittenValue {
    WrittenFields::default()
        .with("youngs_modulus", material.youngs_modulus)
        .with("shear_modulus", material.shear_modulus)
        .with_filled(material.shear, "shear", || {
            WrittenValue::Switch(material.shear)
        })
        .item("")
}

fn bar_section(section: &BarSection) -> WrittenValue {
    match section {
        BarSection::Solid => WrittenValue::Word("Solid"),
        BarSection::Tube { wall } => WrittenFields::default().with("wall", *wall).item("Tube"),
        BarSection::Given {
            area,
            second_moment,
            torsion_constant,
            shear_area,
        } => WrittenFields::default()
            .with("area", *area)
            .with("second_moment", *second_moment)
            .with("torsion_constant", *torsion_constant)
            .with_some("shear_area", *shear_area)
            .item("Given"),
    }
}

fn hole(hole: &Hole) -> WrittenValue {
    WrittenFields::default()
        .with("centre", &hole.centre)
        .with("diameter", hole.diameter)
        .item("")
}

fn support(support: &Support) -> WrittenValue {
    let fields = WrittenFields::default()
        .with("name", support.name.as_str())
        .with("at", &support.at);
    let turning = |field, axis: &Direction, couples: bool| {
        let couples = (!couples).then_some(WrittenValue::Switch(couples));
        WrittenFields::default()
            .with(field, axis)
            .with_some("couples", couples)
    };
    let (name, own) = match &support.kind {
        SupportKind::BallJoint => ("BallJoint", WrittenFields::default()),
        SupportKind::Hinge { axis, couples } => ("Hinge", turning("axis", axis, *couples)),
        SupportKind::SlidingHinge { axis, couples } => {
            ("SlidingHinge", turning("axis", axis, *couples))
        }
        SupportKind::JournalBearing { axis, couples } => {
            ("JournalBearing", turning("axis", axis, *couples))
        }
        SupportKind::ThrustBearing { axis, couples } => {
            ("ThrustBearing", turning("axis", axis, *couples))
        }
        SupportKind::SquareJournal { axis, couples } => {
            ("SquareJournal", turning("axis", axis, *couples))
        }
        SupportKind::SmoothPin { axis, couples } => ("SmoothPin", turning("axis", axis, *couples)),
        SupportKind::Slider { rod, couples } => ("Slider", turning("rod", rod, *couples)),
        SupportKind::UniversalJoint { axis } => (
            "UniversalJoint",
            WrittenFields::default().with("axis", axis),
        ),
        SupportKind::RailWheel { rail, normal } => (
            "RailWheel",
            WrittenFields::default()
                .with("rail", rail)
                .with("normal", normal),
        ),
        SupportKind::Fixed => ("Fixed", WrittenFields::default()),
        SupportKind::AnchorPlate { normal, plate } => (
            "AnchorPlate",
            anchor_plate(WrittenFields::default().with("normal", normal), plate),
        ),
        SupportKind::Roller { normal } => {
            ("Roller", WrittenFields::default().with("normal", normal))
        }
        SupportKind::SmoothContact { normal } => (
            "SmoothContact",
            WrittenFields::default().with("normal", normal),
        ),
        SupportKind::RoughContact { normal, friction } => (
            "RoughContact",
            WrittenFields::default()
                .with("normal", normal)
                .with_some("friction", *friction),
        ),
        SupportKind::Link { ground } => ("Link", WrittenFields::default().with("ground", ground)),
        SupportKind::Cable { ground } => ("Cable", WrittenFields::default().with("ground", ground)),
        SupportKind::Rocker { normal } => {
            ("Rocker", WrittenFields::default().with("normal", normal))
        }
        SupportKind::Pin => ("Pin", WrittenFields::default()),
        SupportKind::Slot { along } => ("Slot", WrittenFields::default().with("along", along)),
        SupportKind::Collar { rod } => ("Collar", WrittenFields::default().with("rod", rod)),
    };
    let SupportStiffness { forces, couples } = &support.stiffness;
    let stiffness = WrittenFields::default()
        .with_some(FORCES, forces.as_ref().map(stiffness))
        .with_some(COUPLES, couples.as_ref().map(stiffness))
        .with_some(ALLOWABLE, support.allowable.as_ref().map(allowable));
    let all = fields.0.into_iter().chain(own.0).chain(stiffness.0);
    WrittenFields(all.collect()).item(name)
}

fn stiffness(stiffness: &Stiffness) -> WrittenValue {
    match stiffness {
        Stiffness::Same(number) => (*number).into(),
        Stiffness::Each(listed) => listed.as_slice().into(),
    }
}

fn anchor_plate(fields: WrittenFields, plate: &AnchorPlate) -> WrittenFields {
    fields
        .with("size", plate.size.as_slice())
        .with_some("upright", plate.upright.as_ref())
        .with("anchors", anchors(&plate.anchors))
        .with_some("pull_stiffness", plate.pull_stiffness)
        .with_some("bedding", plate.bedding)
}

fn anchors(pattern: &AnchorPattern) -> WrittenValue {
    let whole = |count: &u32| WrittenValue::Whole((*count).into());
    match pattern {
        AnchorPattern::Grid {
            columns,
            rows,
            spacing,
        } => WrittenFields::default()
            .with("columns", whole(columns))
            .with("rows", whole(rows))
            .with("spacing", spacing.as_slice())
            .item("Grid"),
        AnchorPattern::Circle { count, diameter } => WrittenFields::default()
            .with("count", whole(count))
            .with("diameter", *diameter)
            .item("Circle"),
        AnchorPattern::List { places } => WrittenFields::default()
            .with(
                "places",
                list(places, |place| WrittenValue::from(place.as_slice())),
            )
            .item("List"),
    }
}

fn allowable(allowable: &Allowable) -> WrittenValue {
    let forces = allowable.forces().into_iter();
    forces
        .fold(WrittenFields::default(), |fields, (name, force)| {
            fields.with_some(name, force)
        })
        .with_other_than(Allowable::USUAL_EXPONENT, "exponent", allowable.exponent)
        .with_some("outwards", allowable.outwards.as_ref())
        .item("")
}

fn load(load: &Load) -> WrittenValue {
    match load {
        Load::Force { at, force } => {
            force_fields(WrittenFields::default().with("at", at), force).item("Force")
        }
        Load::Couple { moment, at } => {
            let moment = match moment {
                Moment::Plane(about_z) => WrittenValue::from(*about_z),
                Moment::Space(components) => components.as_slice().into(),
            };
            WrittenFields::default()
                .with("moment", moment)
                .with_some("at", at.as_ref())
                .item("Couple")
        }
        Load::Distributed {
            from,
            to,
            start,
            end,
        } => WrittenFields::default()
            .with("from", from)
            .with("to", to)
            .with("start", start)
            .with_some("end", end.as_ref())
            .item("Distributed"),
        Load::Line { path, amount } => line_amount(
            WrittenFields::default().with("path", list(path, WrittenValue::from)),
            amount,
        )
        .item("Line"),
        Load::Area {
            corners,
            amount,
            on_plan,
        } => {
            let fields =
                WrittenFields::default().with("corners", list(corners, WrittenValue::from));
            match amount {
                AreaAmount::Force(force) => fields.with("force", force),
                AreaAmount::Pressure(pressure) => fields.with("pressure", *pressure),
            }
            .with_filled(*on_plan, "on_plan", || WrittenValue::Switch(true))
            .item("Area")
        }
        Load::Weight {
            amount,
            at,
            gravity,
        } => match amount {
            Heaviness::Mass(mass) => WrittenFields::default().with("mass", *mass),
            Heaviness::Density(density) => WrittenFields::default().with("density", *density),
        }
        .with_some("at", at.as_ref())
        .with_other_than(STANDARD_GRAVITY, "gravity", *gravity)
        .item("Weight"),
    }
}

fn line_amount(fields: WrittenFields, amount: &LineAmount) -> WrittenFields {
    match amount {
        LineAmount::Force(force) => fields.with("force", force),
        LineAmount::Mass {
            per_length,
            gravity,
        } => {
            fields
                .with("mass", *per_length)
                .with_other_than(STANDARD_GRAVITY, "gravity", *gravity)
        }
    }
}

fn force_fields(fields: WrittenFields, force: &ForceVector) -> WrittenFields {
    match force {
        ForceVector::Components(components) => fields.with("force", components),
        ForceVector::Directed { size, direction } => {
            fields.with("size", *size).with("direction", direction)
        }
    }
}

fn case(case: &Case) -> WrittenValue {
    WrittenFields::default()
        .with("name", case.name.as_str())
        .with("loads", list(&case.loads, load))
        .with_filled(!case.imposed.is_empty(), "imposed", || {
            list(&case.imposed, imposed)
        })
        .item("")
}

fn combination(combination: &CaseCombination) -> WrittenValue {
    let factors = combination.factors.iter();
    let factors = factors.map(|(case, factor)| (case.clone(), WrittenValue::Number(*factor)));
    WrittenFields::default()
        .with("name", combination.name.as_str())
        .with_other_than(1.0, "permanent", combination.permanent)
        .with("factors", WrittenValue::Map(factors.collect()))
        .item("")
}

fn imposed(imposed: &Imposed) -> WrittenValue {
    match imposed {
        Imposed::Settlement { support, moves_by } => WrittenFields::default()
            .with("support", support.as_str())
            .with("moves_by", moves_by)
            .item("Settlement"),
        Imposed::Prestress { support, force } => WrittenFields::default()
            .with("support", support.as_str())
            .with("force", *force)
            .item("Prestress"),
        Imposed::Warming { by, expansion } => WrittenFields::default()
            .with("by", *by)
            .with("expansion", *expansion)
            .item("Warming"),
    }
}

fn step(step: &LessonStep) -> WrittenValue {
    match step.note.as_str() {
        "" => WrittenValue::Word(step.stage.name()),
        note => WrittenFields::default()
            .with("note", note)
            .item(step.stage.name()),
    }
}
