//! The JSON that `check` prints, as a JSON Schema. Kept by hand beside [`json`](super::json); a test checks the output
//! of every scene at hand against it, so that no field is missing in either.

use serde_json::{Value, json};

use crate::scene::schema::{DIALECT, Field, defined, list, object, told};

/// The JSON Schema of what `check --format json` prints: one report, or an array of them.
pub fn schema() -> Value {
    json!({
        "$schema": DIALECT,
        "title": "Sixhold check",
        "anyOf": [defined("report"), list(defined("report"))],
        "$defs": {
            "report": report(),
            "triple": {
                "type": "array",
                "items": maybe(number()),
                "minItems": 3,
                "maxItems": 3,
                "description": "components along x, y and z; points are in the scene's length unit",
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
    let units = vec![("length", text()), ("force", text()), ("moment", text())];
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
        ("singular_values", list(maybe(number()))),
        ("tolerance", number()),
        ("characteristic_length", maybe(number())),
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
        ("other_reading", maybe(other_reading())),
        ("nearness", maybe(nearness())),
        ("one_way", maybe(one_way())),
        ("acceleration", list(acceleration())),
        ("heat", heat()),
        ("repairs", maybe(links())),
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
                "length per radian, right-handed positive; null for a translation",
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
                "whether it is real in the negative and in the positive sense; null unless it is real, as every null here",
            ),
        ),
        (
            "leaves",
            told(
                maybe(pair(defined("names"))),
                "reactions of contacts that open and cables that go slack at the start, for each sense",
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
                "reaction of the contact that closes again at each end, where that ends it",
            ),
        ),
        ("order_tested", maybe(whole())),
        ("stiffened", maybe(truth())),
        ("about", maybe(defined("triple"))),
        ("from", told(maybe(number()), GOES)),
        ("to", told(maybe(number()), GOES)),
        ("swing", told(maybe(swing), SWINGS)),
        ("ends", maybe(ends)),
        ("residual", maybe(number())),
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
        ("weights", told(list(maybe(number())), weights)),
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
            told(maybe(number()), "null where equilibrium does not decide it"),
        ),
    ])
}

fn balance() -> Value {
    let drive = whole_object(vec![("motion", whole()), ("sense", defined("sense"))]);
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
            told(list(maybe(number())), "in the order of `reactions`"),
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
        ("point", maybe(defined("triple"))),
        ("direction", maybe(defined("triple"))),
        ("pitch", maybe(number())),
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
            told(list(maybe(number())), "a state of self-stress"),
        ),
        ("shape", geometries()),
        ("known", defined("names")),
        ("words", text()),
    ])
}

fn combination() -> Value {
    whole_object(vec![
        ("reactions", defined("names")),
        ("coefficients", list(maybe(number()))),
        ("kind", words(&["force", "couple"])),
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
            told(list(maybe(number())), "in the order of `equilibrium`"),
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
                "of moments, in the scene's length unit",
            ),
        ),
    ])
}

fn other_reading() -> Value {
    whole_object(vec![
        ("supports", defined("names")),
        ("with_couples", truth()),
        ("unknowns", whole()),
        ("rank", whole()),
        ("freedom", whole()),
        ("redundancy", whole()),
    ])
}

fn nearness() -> Value {
    let movement = whole_object(vec![
        ("bound", maybe(number())),
        ("estimate", maybe(number())),
        (
            "moves",
            list(whole_object(vec![
                ("support", text()),
                ("by", defined("triple")),
            ])),
        ),
        ("freed", defined("motion")),
    ]);
    let alone = whole_object(vec![
        ("support", text()),
        (
            "bound",
            told(
                maybe(number()),
                "null where no shift of this support lets the body go, and for all of more than 60 supports, whose \
                 shifts alone are not sought",
            ),
        ),
        ("estimate", maybe(number())),
        ("by", maybe(defined("triple"))),
    ]);
    let rounding = whole_object(vec![
        ("supports", defined("names")),
        ("reach", maybe(number())),
        ("words", text()),
    ]);
    whole_object(vec![
        ("smallest_singular_value", maybe(number())),
        ("weakest", defined("motion")),
        ("movement", maybe(movement)),
        ("alone", list(alone)),
        (
            "amplification",
            whole_object(vec![("reaction", text()), ("factor", maybe(number()))]),
        ),
        ("placement_tolerance", maybe(number())),
        (
            "placement",
            maybe(words(&["held", "unclear", "near_improper"])),
        ),
        ("rounding", maybe(rounding)),
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
        ("coefficient", maybe(number())),
    ]);
    let case = whole_object(vec![
        ("case", text()),
        ("holds", truth()),
        (
            "ranges",
            told(
                list(maybe(range)),
                "null where the load is not carried, and for undecided ones of more than 40 reactions, whose ranges are \
                 not sought",
            ),
        ),
        ("idle", defined("names")),
        ("friction", list(friction)),
        ("common_friction", maybe(number())),
        ("escape", maybe(defined("escape"))),
        ("words", text()),
    ]);
    whole_object(vec![
        ("every_load", truth()),
        ("escape", maybe(defined("escape"))),
        ("words", text()),
        ("cases", list(case)),
    ])
}

fn acceleration() -> Value {
    whole_object(vec![
        ("case", text()),
        ("motion", defined("motion")),
        ("sense", defined("sense")),
        ("size", maybe(number())),
        ("loosened", defined("names")),
        ("words", text()),
    ])
}

fn heat() -> Value {
    whole_object(vec![
        ("free", truth()),
        ("fighting", defined("names")),
        ("stress", list(maybe(number()))),
        ("unique", truth()),
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
            told(maybe(text()), "name of the body point, where it has one"),
        ),
        ("at", place.clone()),
        ("ground", place),
        ("smallest_singular_value", number()),
        ("freedom", whole()),
        ("words", text()),
    ]);
    whole_object(vec![
        ("links", list(link)),
        ("rank", whole()),
        ("exact_rank", whole()),
        ("smallest_singular_value", number()),
        ("candidates", whole()),
    ])
}

fn releases() -> Value {
    let one = whole_object(vec![
        ("reaction", text()),
        (
            "smallest_singular_value",
            told(
                number(),
                "what is left, about the reference point and by the length of the whole scene",
            ),
        ),
    ]);
    whole_object(vec![
        ("alone", list(one)),
        ("count", whole()),
        ("together", defined("names")),
        ("supports", defined("names")),
    ])
}
