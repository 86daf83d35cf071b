//! The JSON that `check` prints, as a JSON Schema. Kept by hand beside [`json`](super::json); a test checks the output
//! of every scene at hand against it, so that no field is missing in either.

use serde_json::{Value, json};

use crate::scene::schema::{DIALECT, Field, defined, list, object, told};

/// What holds for every number.
const UNITS: &str = "Lengths and positions are in `units.length`, forces in `units.force`, couples in `units.moment`, unless a \
                     field says otherwise. Axes are right-handed. `null` stands only where the field says what it means.";

/// The JSON Schema of what `check --format json` prints: one report, or an array of them.
pub fn schema() -> Value {
    json!({
        "$schema": DIALECT,
        "title": "Sixhold check",
        "description": UNITS,
        "anyOf": [defined("report"), list(defined("report"))],
        "$defs": {
            "report": report(),
            "triple": {
                "type": "array",
                "items": number(),
                "minItems": 3,
                "maxItems": 3,
                "description": "components along x, y and z: of points, from the origin, in units.length; of directions, \
                                unit vectors without unit",
            },
            "names": list(text()),
            "sense": { "enum": ["positive", "negative"] },
            "motion": object(&motion()),
            "escape": escape(),
            "reason": reason(),
        },
    })
}

fn text() -> Value {
    json!({ "type": "string" })
}

fn number() -> Value {
    json!({ "type": "number" })
}

fn whole() -> Value {
    json!({ "type": "integer", "minimum": 0 })
}

fn truth() -> Value {
    json!({ "type": "boolean" })
}

fn words(of: &[&str]) -> Value {
    json!({ "enum": of })
}

/// The thing or `null`.
fn maybe(schema: Value) -> Value {
    json!({ "anyOf": [schema, { "type": "null" }] })
}

/// Fields that are always there.
fn all(fields: Vec<(&'static str, Value)>) -> Vec<Field> {
    let fields = fields.into_iter();
    fields.map(|(name, schema)| (name, schema, true)).collect()
}

fn whole_object(fields: Vec<(&'static str, Value)>) -> Value {
    object(&all(fields))
}

fn report() -> Value {
    let verdicts = [
        "properly_constrained",
        "partially_constrained",
        "improperly_constrained",
    ];
    let units = ["length", "force", "moment"]
        .map(|of| (of, told(text(), "symbol")))
        .to_vec();
    whole_object(vec![
        ("source", told(text(), "as the scene was asked for")),
        ("title", text()),
        ("space", words(&["spatial", "planar"])),
        ("units", whole_object(units)),
        ("unknowns", told(whole(), "n")),
        ("rank", told(whole(), "r")),
        ("exact_rank", told(whole(), "of the decimals as written")),
        ("exact_rank_as_written", truth()),
        ("freedom", told(whole(), "6 - r, in the plane 3 - r")),
        ("redundancy", told(whole(), "n - r")),
        ("verdict", words(&verdicts)),
        (
            "held",
            told(
                truth(),
                "every motion is stopped, contacts and cables counted as holding both ways",
            ),
        ),
        ("determinate", truth()),
        (
            "carried",
            told(
                truth(),
                "equilibrium with contacts that push and cables that pull, in every case under `equilibrium`",
            ),
        ),
        ("headline", text()),
        ("reason", text()),
        ("reasons", list(defined("reason"))),
        ("remarks", defined("names")),
        (
            "singular_values",
            told(
                list(number()),
                "of the reactions as unit columns, moments about `reference_point` over `characteristic_length`, largest \
                 first; without unit",
            ),
        ),
        (
            "tolerance",
            told(
                number(),
                "singular values above this part of the largest count for `rank`; without unit",
            ),
        ),
        ("characteristic_length", told(number(), "a length, above 0")),
        ("reference_point", defined("triple")),
        ("free_motions", list(free_motion())),
        (
            "combinations",
            told(
                maybe(combinations()),
                "of free motions; null where all pass the test of second order or none does, and where supports act one way",
            ),
        ),
        ("shared_axes", list(shared_axis())),
        (
            "case",
            told(text(), "the load case whose values stand in `reactions`"),
        ),
        ("reactions", list(reaction())),
        ("equilibrium", list(balance())),
        ("circuits", list(circuit())),
        ("circuits_listed", words(&["all", "basis", "part_of_basis"])),
        (
            "circuits_count",
            told(
                maybe(whole()),
                "how many there are in all; null where more than those listed were not counted, while `redundancy` says \
                 how many of them are independent",
            ),
        ),
        ("decided_combinations", list(combination())),
        (
            "other_reading",
            told(
                maybe(other_reading()),
                "the numbers with the couples of hinges and bearings read the other way; null where no support has such a \
                 choice",
            ),
        ),
        (
            "nearness",
            told(
                maybe(nearness()),
                "how near a body that is held is to not being held; null where it is not held",
            ),
        ),
        (
            "one_way",
            told(maybe(one_way()), "null where every support acts both ways"),
        ),
        (
            "acceleration",
            told(
                list(acceleration()),
                "of the cases that start the body from rest, where it has mass: of a homogeneous body with the mass of its \
                 weights; other loads are forces without mass",
            ),
        ),
        ("heat", heat()),
        (
            "repairs",
            told(
                maybe(links()),
                "links to add; null where the body is held and needs none",
            ),
        ),
        ("releases", releases()),
        ("caution", text()),
    ])
}

fn motion() -> Vec<Field> {
    all(vec![
        ("kind", words(&["rotation", "translation", "screw"])),
        ("direction", defined("triple")),
        ("point", defined("triple")),
        (
            "pitch",
            told(
                maybe(number()),
                "length per radian, right-handed positive, 0 for a rotation; null for a translation",
            ),
        ),
        ("words", text()),
    ])
}

/// What the ends of a motion are given in.
const GOES: &str =
    "degrees turned, or the length of the way of a translation; null unless real and ended there";
const SWINGS: &str =
    "smallest and largest angle ever turned by, degrees; null unless real and ended on both sides";

fn mobility() -> Value {
    let stops = [
        "closed", "turned", "goes_on", "branch", "limit", "meets", "blocked",
    ];
    let pair = |of| json!({ "type": "array", "items": of, "minItems": 2, "maxItems": 2 });
    let (ends, swing) = (pair(words(&stops)), pair(maybe(number())));
    whole_object(vec![
        (
            "real",
            told(truth(), "beyond the first instant, to one side at least"),
        ),
        (
            "senses",
            told(
                maybe(pair(truth())),
                "whether it is real in the negative and in the positive sense; null unless it is real",
            ),
        ),
        (
            "leaves",
            told(
                maybe(pair(defined("names"))),
                "reactions of contacts that open and cables that go slack at the start, for each sense; null unless it is real",
            ),
        ),
        (
            "could_leave",
            told(
                list(defined("names")),
                "sets that could open instead of those",
            ),
        ),
        (
            "meets",
            told(
                maybe(pair(maybe(text()))),
                "reaction of the contact that closes again at each end, null at an end of another kind; null as a whole unless it is \
                 real",
            ),
        ),
        (
            "order_tested",
            told(
                maybe(whole()),
                "order of the motion up to which the self-stresses were asked; null where there are none",
            ),
        ),
        (
            "stiffened",
            told(
                maybe(truth()),
                "whether prestress can stiffen it; null for a real motion",
            ),
        ),
        (
            "about",
            told(
                maybe(defined("triple")),
                "a point of the line that the body truly turns about, where that is another than the motion's, parallel to \
                 it; null where there is no other",
            ),
        ),
        ("from", told(maybe(number()), GOES)),
        ("to", told(maybe(number()), GOES)),
        ("swing", told(maybe(swing), SWINGS)),
        (
            "ends",
            told(
                maybe(ends),
                "how it ends behind and ahead; null unless it is real",
            ),
        ),
        (
            "residual",
            told(
                maybe(number()),
                "largest distance off the supports' geometry on the way, over the size, without unit; null unless it is real",
            ),
        ),
        ("words", text()),
    ])
}

fn free_motion() -> Value {
    let mut fields = motion();
    fields.push(("mobility", mobility(), true));
    object(&fields)
}

fn combinations() -> Value {
    let weights = "of the free motions, in their order: radians or lengths for each radian or length of its own";
    let mut fields = motion();
    fields.extend(all(vec![
        ("weights", told(list(number()), weights)),
        (
            "family",
            told(truth(), "whether it is one of a continuous family"),
        ),
        (
            "proven",
            told(truth(), "whether the second order proves that it goes on"),
        ),
        ("mobility", mobility()),
    ]));
    let complete =
        "whether no other goes on, but for free motions alone and members of families listed";
    whole_object(vec![
        ("list", list(object(&fields))),
        ("complete", told(truth(), complete)),
    ])
}

fn shared_axis() -> Value {
    whole_object(vec![
        ("direction", defined("triple")),
        ("point", defined("triple")),
        ("supports", defined("names")),
        ("motion", told(whole(), "index into `free_motions`, from 0")),
    ])
}

fn reaction() -> Value {
    whole_object(vec![
        ("name", text()),
        ("support", text()),
        ("kind", words(&["force", "couple"])),
        ("direction", defined("triple")),
        ("point", defined("triple")),
        (
            "value",
            told(
                maybe(number()),
                "force or couple; null where equilibrium does not decide it, or there is none",
            ),
        ),
    ])
}

fn balance() -> Value {
    let drive = whole_object(vec![
        ("motion", told(whole(), "index into `free_motions`, from 0")),
        ("sense", defined("sense")),
    ]);
    whole_object(vec![
        ("case", text()),
        ("loaded", truth()),
        ("possible", told(truth(), "whether there is equilibrium")),
        (
            "decided",
            told(truth(), "whether it decides every reaction"),
        ),
        ("drives", list(drive)),
        (
            "values",
            told(
                list(maybe(number())),
                "forces and couples in the order of `reactions`; null where equilibrium does not decide one, or there is none",
            ),
        ),
        ("words", text()),
    ])
}

/// Names of geometries, as reasons and shapes of circuits use them.
const GEOMETRIES: [&str; 28] = [
    "general",
    "no_reactions",
    "meet_line",
    "square_to_direction",
    "linear_complex",
    "meet_two_lines",
    "meet_line_square_to_direction",
    "common_normal",
    "point_or_plane",
    "parallel_or_in_plane",
    "parallel_with_couples",
    "meet_double_line",
    "meet_double_line_at_infinity",
    "only_screws",
    "through_point",
    "in_plane",
    "parallel",
    "only_couples",
    "regulus",
    "two_pencils",
    "flat_pencil",
    "parallel_in_plane",
    "couples_square_to_direction",
    "two_lines",
    "line_and_couple",
    "one_line",
    "one_couple",
    "several_motions",
];

fn geometries() -> Value {
    words(&GEOMETRIES)
}

fn reason() -> Value {
    let shapes = [
        "point",
        "line",
        "screw",
        "plane",
        "parallel_lines",
        "couples_about",
        "couples_square_to",
        "parallel_planes",
        "ruled_surface",
    ];
    let line = json!({
        "type": "array",
        "items": defined("triple"),
        "minItems": 2,
        "maxItems": 2,
        "description": "a point and a direction",
    });
    let object = whole_object(vec![
        ("shape", words(&shapes)),
        (
            "point",
            told(maybe(defined("triple")), "null for a shape without a place"),
        ),
        (
            "direction",
            told(
                maybe(defined("triple")),
                "of a line, of parallel lines, of a screw; of planes their normal; null for a shape without one",
            ),
        ),
        (
            "pitch",
            told(
                maybe(number()),
                "of a screw, length per radian, right-handed positive; null for every other shape",
            ),
        ),
        ("lines", list(line)),
        ("reactions", defined("names")),
    ]);
    whole_object(vec![
        ("kind", geometries()),
        ("words", text()),
        ("objects", list(object)),
    ])
}

fn circuit() -> Value {
    whole_object(vec![
        ("reactions", defined("names")),
        (
            "coefficients",
            told(
                list(number()),
                "a state of self-stress: forces in one unit of any size, couples in that unit times units.length",
            ),
        ),
        ("shape", geometries()),
        ("known", defined("names")),
        ("words", text()),
    ])
}

fn combination() -> Value {
    whole_object(vec![
        ("reactions", defined("names")),
        (
            "coefficients",
            told(
                list(number()),
                "without unit; of forces beside couples, arms: lengths",
            ),
        ),
        (
            "kind",
            told(words(&["force", "couple"]), "what its values are"),
        ),
        (
            "equation",
            told(
                maybe(equation()),
                "the usual equation of equilibrium that it is a multiple of, without the reactions that are decided \
                 anyway; null for any other combination",
            ),
        ),
        (
            "values",
            told(
                list(maybe(number())),
                "in the order of `equilibrium`; null where there is no equilibrium",
            ),
        ),
        ("words", text()),
    ])
}

fn equation() -> Value {
    whole_object(vec![
        ("kind", words(&["forces", "moments"])),
        ("axis", words(&["x", "y", "z"])),
        (
            "point",
            told(
                maybe(defined("triple")),
                "that the moments are about; null for forces",
            ),
        ),
    ])
}

fn other_reading() -> Value {
    whole_object(vec![
        ("supports", defined("names")),
        ("with_couples", truth()),
        ("unknowns", told(whole(), "n")),
        ("rank", told(whole(), "r")),
        ("freedom", told(whole(), "6 - r, in the plane 3 - r")),
        ("redundancy", told(whole(), "n - r")),
    ])
}

fn nearness() -> Value {
    let movement = whole_object(vec![
        (
            "bound",
            told(
                number(),
                "length: root of the sum of squares of shifts below which none lets the body go",
            ),
        ),
        (
            "estimate",
            told(
                number(),
                "length: the same of the least shifts found that let it go",
            ),
        ),
        (
            "moves",
            told(
                list(whole_object(vec![
                    ("support", text()),
                    ("by", told(defined("triple"), "a length along each axis")),
                ])),
                "those shifts",
            ),
        ),
        ("freed", defined("motion")),
    ]);
    let alone = whole_object(vec![
        ("support", text()),
        (
            "bound",
            told(
                number(),
                "length: no shorter shift of this support alone lets the body go",
            ),
        ),
        (
            "estimate",
            told(
                maybe(number()),
                "length of the least shift found that lets it go; null where none was found",
            ),
        ),
        (
            "by",
            told(
                maybe(defined("triple")),
                "that shift, a length along each axis; null where none was found",
            ),
        ),
    ]);
    let rounding = whole_object(vec![
        ("supports", defined("names")),
        (
            "reach",
            told(
                number(),
                "how far rounding of the decimals can move the smallest singular value; without unit",
            ),
        ),
        ("words", text()),
    ]);
    let factor = told(
        number(),
        "largest reaction per unit of load, couples over `characteristic_length`; without unit",
    );
    whole_object(vec![
        (
            "smallest_singular_value",
            told(number(), "without unit, as `singular_values`"),
        ),
        ("weakest", defined("motion")),
        (
            "movement",
            told(
                maybe(movement),
                "supports shifted together; null where no shift lets the body go",
            ),
        ),
        (
            "alone",
            told(
                maybe(list(alone)),
                "the supports of which a shift alone lets the body go; null of more than 60 supports, where none is sought",
            ),
        ),
        (
            "amplification",
            whole_object(vec![("reaction", text()), ("factor", factor)]),
        ),
        (
            "placement_tolerance",
            told(maybe(number()), "length; null where the scene states none"),
        ),
        (
            "placement",
            told(
                maybe(words(&["held", "unclear", "near_improper"])),
                "what that tolerance means for the verdict; null where the scene states none",
            ),
        ),
        (
            "rounding",
            told(
                maybe(rounding),
                "null where the body is held by more than rounded decimals",
            ),
        ),
        ("words", defined("names")),
    ])
}

fn escape() -> Value {
    whole_object(vec![
        ("motion", defined("motion")),
        ("sense", defined("sense")),
        ("loosened", defined("names")),
        ("touching", defined("names")),
    ])
}

fn one_way() -> Value {
    let range = json!({ "type": "array", "items": maybe(number()), "minItems": 2, "maxItems": 2 });
    let friction = whole_object(vec![
        ("support", text()),
        ("decided", truth()),
        (
            "coefficient",
            told(
                maybe(number()),
                "least coefficient of friction that will do, without unit; null where none would, which is so where \
                 `decided`, or where equilibrium does not decide it",
            ),
        ),
    ]);
    let case = whole_object(vec![
        ("case", text()),
        ("holds", truth()),
        (
            "ranges",
            told(
                list(maybe(range)),
                "smallest and largest force or couple that signs and equilibrium allow, in the order of `reactions`, null for \
                 a side without limit; null for a reaction whose range is not known, since the load is not carried or \
                 there are more than 40 reactions and equilibrium does not decide it",
            ),
        ),
        ("idle", defined("names")),
        ("friction", list(friction)),
        (
            "common_friction",
            told(
                maybe(number()),
                "least coefficient of friction, the same at every rough contact, for which there is equilibrium, without \
                 unit; null where there is none that will do, or no rough contact",
            ),
        ),
        (
            "escape",
            told(
                maybe(defined("escape")),
                "how the body gets away; null where the load is carried",
            ),
        ),
        ("words", text()),
    ]);
    whole_object(vec![
        ("every_load", truth()),
        (
            "escape",
            told(
                maybe(defined("escape")),
                "a motion that some load would start; null where every load would be held",
            ),
        ),
        ("words", text()),
        ("cases", list(case)),
    ])
}

fn acceleration() -> Value {
    whole_object(vec![
        ("case", text()),
        ("motion", defined("motion")),
        ("sense", defined("sense")),
        (
            "size",
            told(number(), "rad/s²; of a translation units.length/s²"),
        ),
        ("loosened", defined("names")),
        ("words", text()),
    ])
}

fn heat() -> Value {
    whole_object(vec![
        ("free", truth()),
        ("fighting", defined("names")),
        (
            "stress",
            told(
                list(number()),
                "of a state of self-stress, in the order of `reactions`: forces in one unit of any size, couples in that \
                 unit times units.length",
            ),
        ),
        (
            "unique",
            told(truth(), "whether expansion alone decides that state"),
        ),
        ("loosened", defined("names")),
        ("words", text()),
    ])
}

fn links() -> Value {
    let place = json!({ "type": "array", "items": number(), "minItems": 3, "maxItems": 3 });
    let link = whole_object(vec![
        ("name", text()),
        (
            "point",
            told(
                maybe(text()),
                "name of the body point; null where it is none of the scene's points",
            ),
        ),
        ("at", told(place.clone(), "position of the end on the body")),
        ("ground", told(place, "position of the end on the ground")),
        (
            "smallest_singular_value",
            told(number(), "with this link and those before it; without unit"),
        ),
        (
            "freedom",
            told(whole(), "motions left with this link and those before it"),
        ),
        ("words", text()),
    ]);
    whole_object(vec![
        ("links", told(list(link), "empty where none were found")),
        (
            "rank",
            told(maybe(whole()), "with the links; null where none were found"),
        ),
        (
            "exact_rank",
            told(maybe(whole()), "with the links; null where none were found"),
        ),
        (
            "smallest_singular_value",
            told(
                maybe(number()),
                "with the links, without unit; null where none were found",
            ),
        ),
        (
            "candidates",
            told(
                maybe(whole()),
                "how many links were tried; null where none were found",
            ),
        ),
    ])
}

fn releases() -> Value {
    let one = whole_object(vec![
        ("reaction", text()),
        (
            "smallest_singular_value",
            told(
                number(),
                "what is left, about the reference point and by the length of the whole scene; without unit",
            ),
        ),
    ]);
    whole_object(vec![
        ("alone", list(one)),
        ("count", told(whole(), "how many stand in `alone`")),
        ("together", defined("names")),
        ("supports", defined("names")),
    ])
}
