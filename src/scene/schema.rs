//! The scene format as a JSON Schema: a scene is written as JSON with the same words, `Kind(field: value)` becoming
//! `{"Kind": {"field": value}}` and `(x, y, z)` an array.
//!
//! Kept by hand beside [`decode`](super::decode), which reads the format by hand too; a test checks every scene at
//! hand against it.

use serde_json::{Map, Value, json};

use super::LessonStage;
use super::decode::FORMAT;
use super::decode::allowable::ALLOWABLE;
use super::decode::stiffness::{COUPLES, FORCES};
use super::units::{ForceUnit, LengthUnit, MassUnit};

/// The dialect that the schemas are written in.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// A field of an object: name, schema, and whether it must be there.
type SchemaField = (&'static str, Value, bool);

/// An object with these fields and no others.
fn object(fields: &[SchemaField]) -> Value {
    let properties: Map<String, Value> = fields
        .iter()
        .map(|(name, schema, _)| ((*name).to_owned(), schema.clone()))
        .collect();
    let required: Vec<&str> = fields
        .iter()
        .filter(|(.., required)| *required)
        .map(|(name, ..)| *name)
        .collect();
    json!({
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}

/// A list of things.
fn list(of: Value) -> Value {
    json!({ "type": "array", "items": of })
}

/// A reference to a definition.
fn defined(name: &str) -> Value {
    json!({ "$ref": format!("#/$defs/{name}") })
}

/// The schema with a description.
fn described(mut schema: Value, description: &str) -> Value {
    schema["description"] = json!(description);
    schema
}

/// The JSON Schema of the scene format.
pub fn schema() -> Value {
    let mut root = object(&[
        ("format", json!({ "const": FORMAT }), true),
        ("title", text("heading"), false),
        ("notes", text("free text for the reader"), false),
        ("units", units(), false),
        ("space", json!({ "enum": ["spatial", "planar"] }), false),
        (
            "placement_tolerance",
            described(
                positive(),
                "how far each support may stand from where it is written",
            ),
            false,
        ),
        (
            "elastic",
            described(
                json!({ "type": "boolean" }),
                "whether reactions are sought as those of elastic supports, too; so they are where a support has a stiffness",
            ),
            false,
        ),
        (
            "material",
            described(
                object(&[
                    (
                        "youngs_modulus",
                        described(positive(), "in force per square of length"),
                        true,
                    ),
                    (
                        "shear_modulus",
                        described(positive(), "in force per square of length"),
                        true,
                    ),
                    (
                        "shear",
                        described(
                            json!({ "type": "boolean" }),
                            "whether bars also give way by shearing, false unless written",
                        ),
                        false,
                    ),
                ]),
                "what the bars are made of: they bend; without it the body is rigid",
            ),
            false,
        ),
        (
            "points",
            json!({
                "type": "object",
                "additionalProperties": defined("vector"),
                "description": "named points",
            }),
            false,
        ),
        ("body", list(defined("shape")), true),
        (
            "walls",
            described(
                list(item(
                    "Wall",
                    &[("corners", list(defined("position")), true)],
                )),
                "where ground ends of proposed links may lie",
            ),
            false,
        ),
        ("supports", list(defined("support")), false),
        ("loads", list(defined("load")), false),
        ("imposed", list(defined("imposed")), false),
        (
            "cases",
            list(object(&[
                ("name", json!({ "type": "string" }), true),
                ("loads", list(defined("load")), true),
                ("imposed", list(defined("imposed")), false),
            ])),
            false,
        ),
        (
            "combinations",
            list(object(&[
                ("name", text("name of a further case"), true),
                (
                    "permanent",
                    described(
                        number(),
                        "factor on what acts in every case, 1 unless written",
                    ),
                    false,
                ),
                (
                    "factors",
                    json!({
                        "type": "object",
                        "additionalProperties": number(),
                        "description": "factors by the names of cases",
                    }),
                    true,
                ),
            ])),
            false,
        ),
        (
            "lesson",
            described(
                list(defined("stage")),
                "what a class is shown in which order, each stage once; all of them where the field is left out",
            ),
            false,
        ),
    ]);
    root["$schema"] = json!(DIALECT);
    root["title"] = json!("Sixhold scene");
    root["$defs"] = json!({
        "vector": {
            "type": "array",
            "items": { "type": "number" },
            "minItems": 2,
            "maxItems": 3,
            "description": "three numbers, in a planar scene two",
        },
        "position": described(
            any(vec![json!({ "type": "string" }), defined("vector")]),
            "the name of a point, or coordinates",
        ),
        "direction": described(
            any(vec![
                defined("vector"),
                object(&[("Towards", defined("position"), true)]),
                object(&[("Angle", json!({ "type": "number" }), true)]),
            ]),
            "a vector of any length but 0, towards a position, or in the plane an angle in degrees",
        ),
        "allowable": allowable(),
        "shape": any(shapes()),
        "section": described(any(sections()), "cross-section of a bar, solid unless written"),
        "support": any(supports()),
        "load": any(loads()),
        "imposed": any(imposed()),
        "stage": any(stages()),
    });
    root
}

fn any(schemas: Vec<Value>) -> Value {
    json!({ "anyOf": schemas })
}

fn text(description: &str) -> Value {
    json!({ "type": "string", "description": description })
}

fn number() -> Value {
    json!({ "type": "number" })
}

fn positive() -> Value {
    json!({ "type": "number", "exclusiveMinimum": 0 })
}

fn not_negative() -> Value {
    json!({ "type": "number", "minimum": 0 })
}

fn units() -> Value {
    let words = |symbols: Vec<&str>| json!({ "enum": symbols });
    object(&[
        (
            "length",
            words(LengthUnit::ALL.map(LengthUnit::symbol).into()),
            false,
        ),
        (
            "force",
            words(ForceUnit::ALL.map(ForceUnit::symbol).into()),
            false,
        ),
        (
            "mass",
            words(MassUnit::ALL.map(MassUnit::symbol).into()),
            false,
        ),
    ])
}

/// `{"Kind": {…}}`.
fn item(kind: &'static str, fields: &[SchemaField]) -> Value {
    object(&[(kind, object(fields), true)])
}

fn shapes() -> Vec<Value> {
    let position = || defined("position");
    let holes = list(object(&[
        ("centre", position(), true),
        ("diameter", positive(), true),
    ]));
    let triple = json!({ "type": "array", "items": positive(), "minItems": 3, "maxItems": 3 });
    vec![
        item(
            "BentBar",
            &[
                ("path", list(position()), true),
                ("diameter", positive(), true),
                ("bend_radius", not_negative(), false),
                ("section", defined("section"), false),
            ],
        ),
        item(
            "Plate",
            &[
                ("corners", list(position()), true),
                ("thickness", positive(), true),
                ("holes", holes, false),
            ],
        ),
        item(
            "Bracket",
            &[
                ("corner", position(), true),
                (
                    "legs",
                    json!({ "type": "array", "items": position(), "minItems": 2, "maxItems": 2 }),
                    true,
                ),
                ("width", positive(), true),
                ("thickness", positive(), true),
                ("gusset", not_negative(), false),
            ],
        ),
        item(
            "Shaft",
            &[
                ("from", position(), true),
                ("to", position(), true),
                ("diameter", positive(), true),
            ],
        ),
        item(
            "Disc",
            &[
                ("centre", position(), true),
                ("axis", defined("direction"), false),
                ("diameter", positive(), true),
                ("thickness", positive(), true),
                ("bore", not_negative(), false),
                ("groove", not_negative(), false),
            ],
        ),
        item(
            "Block",
            &[
                ("centre", position(), true),
                ("size", triple, true),
                ("lengthwise", defined("direction"), false),
                ("upright", defined("direction"), false),
            ],
        ),
    ]
}

fn sections() -> Vec<Value> {
    let tube = [("wall", positive(), true)];
    let given = [
        ("area", positive(), true),
        ("second_moment", positive(), true),
        ("torsion_constant", positive(), true),
        ("shear_area", positive(), false),
    ];
    vec![
        json!({ "const": "Solid" }),
        item("Tube", &tube),
        item("Given", &given),
    ]
}

fn supports() -> Vec<Value> {
    let direction = || defined("direction");
    let turning = |field| -> Vec<SchemaField> {
        vec![
            (field, direction(), true),
            ("couples", json!({ "type": "boolean" }), false),
        ]
    };
    let normal = || -> Vec<SchemaField> { vec![("normal", direction(), true)] };
    let ground = || -> Vec<SchemaField> { vec![("ground", defined("position"), true)] };
    let kinds: Vec<(&'static str, Vec<SchemaField>)> = vec![
        ("BallJoint", vec![]),
        ("Hinge", turning("axis")),
        ("SlidingHinge", turning("axis")),
        ("JournalBearing", turning("axis")),
        ("ThrustBearing", turning("axis")),
        ("SquareJournal", turning("axis")),
        ("SmoothPin", turning("axis")),
        ("Slider", turning("rod")),
        ("UniversalJoint", vec![("axis", direction(), true)]),
        (
            "RailWheel",
            vec![("rail", direction(), true), ("normal", direction(), true)],
        ),
        ("Fixed", vec![]),
        (
            "AnchorPlate",
            vec![
                ("normal", direction(), true),
                (
                    "size",
                    described(pair(positive()), "width and height"),
                    true,
                ),
                ("upright", defined("vector"), false),
                ("anchors", any(patterns()), true),
                ("pull_stiffness", positive(), false),
                ("bedding", positive(), false),
            ],
        ),
        ("Roller", normal()),
        ("SmoothContact", normal()),
        (
            "RoughContact",
            vec![
                ("normal", direction(), true),
                ("friction", not_negative(), false),
            ],
        ),
        ("Link", ground()),
        ("Cable", ground()),
        ("Rocker", normal()),
        ("Pin", vec![]),
        ("Slot", vec![("along", direction(), true)]),
        ("Collar", vec![("rod", direction(), true)]),
    ];
    let whole = |(kind, own): (&'static str, Vec<SchemaField>)| {
        let mut fields: Vec<SchemaField> = vec![
            ("name", json!({ "type": "string" }), true),
            ("at", defined("position"), true),
        ];
        fields.extend(own);
        fields.extend([
            (
                FORCES,
                stiffness("of its forces, in force per length"),
                false,
            ),
            (
                COUPLES,
                stiffness("of its couples, in force times length per radian"),
                false,
            ),
            (ALLOWABLE, defined("allowable"), false),
        ]);
        item(kind, &fields)
    };
    kinds.into_iter().map(whole).collect()
}

/// Patterns of anchors.
fn patterns() -> Vec<Value> {
    let count = || json!({ "type": "integer", "minimum": 1 });
    vec![
        item(
            "Grid",
            &[
                ("columns", count(), true),
                ("rows", count(), true),
                ("spacing", pair(positive()), true),
            ],
        ),
        item(
            "Circle",
            &[("count", count(), true), ("diameter", positive(), true)],
        ),
        item("List", &[("places", list(pair(number())), true)]),
    ]
}

fn pair(of: Value) -> Value {
    json!({ "type": "array", "items": of, "minItems": 2, "maxItems": 2 })
}

/// One for all, or one for each.
fn stiffness(of: &str) -> Value {
    let listed = json!({ "type": "array", "items": positive(), "minItems": 1 });
    described(any(vec![positive(), listed]), of)
}

/// Forces that a support may be loaded with.
fn allowable() -> Value {
    let force = |of: &str| described(positive(), of);
    let exponent = json!({ "type": "number", "minimum": 1, "description": "p of the interaction (N/N_a)^p + (V/V_a)^p <= 1" });
    let forces = object(&[
        ("tension", force("of its pull on the body, a force"), false),
        (
            "compression",
            force("of its push on the body, a force"),
            false,
        ),
        ("shear", force("across that line, a force"), false),
        ("exponent", exponent, false),
        (
            "outwards",
            described(
                defined("vector"),
                "from the ground into the body; left out where a normal or ground end says so",
            ),
            false,
        ),
    ]);
    described(forces, "what it may be loaded with, on its author's word")
}

fn loads() -> Vec<Value> {
    let moment = any(vec![number(), defined("vector")]);
    vec![
        item(
            "Force",
            &[
                ("at", defined("position"), true),
                ("force", defined("vector"), false),
                ("size", number(), false),
                ("direction", defined("direction"), false),
            ],
        ),
        item(
            "Couple",
            &[("moment", moment, true), ("at", defined("position"), false)],
        ),
        item(
            "Distributed",
            &[
                ("from", defined("position"), true),
                ("to", defined("position"), true),
                ("start", defined("vector"), true),
                ("end", defined("vector"), false),
            ],
        ),
        item(
            "Line",
            &[
                ("path", list(defined("position")), true),
                ("force", defined("vector"), false),
                ("mass", positive(), false),
                ("gravity", not_negative(), false),
            ],
        ),
        item(
            "Area",
            &[
                ("corners", list(defined("position")), true),
                ("force", defined("vector"), false),
                ("pressure", number(), false),
                ("on_plan", json!({ "type": "boolean" }), false),
            ],
        ),
        item(
            "Weight",
            &[
                ("mass", positive(), false),
                ("density", positive(), false),
                ("at", defined("position"), false),
                ("gravity", not_negative(), false),
            ],
        ),
    ]
}

fn imposed() -> Vec<Value> {
    let support = || text("name of a support");
    vec![
        item(
            "Settlement",
            &[
                ("support", support(), true),
                ("moves_by", defined("vector"), true),
            ],
        ),
        item(
            "Prestress",
            &[("support", support(), true), ("force", number(), true)],
        ),
        item(
            "Warming",
            &[("by", number(), true), ("expansion", positive(), true)],
        ),
    ]
}

/// Each stage of a lesson alone, or with a note for the speaker.
fn stages() -> Vec<Value> {
    let names = LessonStage::ALL.map(LessonStage::name);
    let alone = json!({ "enum": names });
    let note = || json!({ "type": "string", "minLength": 1, "description": "for the speaker, never shown to the class" });
    let with_note = names.map(|name| item(name, &[("note", note(), true)]));
    std::iter::once(alone).chain(with_note).collect()
}
