//! What other books call the fields of a scene.
//!
//! Common usage in textbooks of mechanics, no single source.

/// What a field of another name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Meaning {
    /// A field of the item.
    Field(&'static str),
    /// Nothing that an item with this field needs.
    NothingBeside(&'static str),
}

/// Other names of a field.
#[derive(Debug)]
pub(crate) struct OtherField {
    /// The names.
    pub names: &'static [&'static str],
    /// What they mean, for items that have the field named here.
    pub meaning: Meaning,
    /// What to try.
    pub hint: &'static str,
}

const fn field(
    names: &'static [&'static str],
    meant: &'static str,
    hint: &'static str,
) -> OtherField {
    OtherField {
        names,
        meaning: Meaning::Field(meant),
        hint,
    }
}

const fn needless(
    names: &'static [&'static str],
    beside: &'static str,
    hint: &'static str,
) -> OtherField {
    OtherField {
        names,
        meaning: Meaning::NothingBeside(beside),
        hint,
    }
}

/// Other names of fields; the first entry counts whose field the item has.
const FIELDS: &[OtherField] = &[
    field(
        &["bodies", "shapes", "parts", "members", "solids", "geometry"],
        "body",
        "write `body: […]`: a scene is one rigid body, made of the shapes in that list",
    ),
    field(
        &["constraints", "restraints", "joints", "bearings", "anchors"],
        "supports",
        "write `supports: […]`",
    ),
    field(&["forces", "actions"], "loads", "write `loads: […]`"),
    field(
        &["load_cases", "loadcases"],
        "cases",
        "write `cases: [(name: \"…\", loads: […])]`",
    ),
    field(
        &["nodes", "vertices", "coordinates"],
        "points",
        "write `points: {\"A\": (…), \"B\": (…)}`",
    ),
    field(
        &["dimension", "dimensions", "dim", "plane"],
        "space",
        "write `space: planar`, or leave it out for a scene in space",
    ),
    field(&["name", "heading"], "title", "write `title: \"…\"`"),
    field(
        &["description", "comment", "text"],
        "notes",
        "write `notes: \"…\"`, or a comment after `//`",
    ),
    field(
        &["version"],
        "format",
        "write `format: 1`, before all other fields",
    ),
    field(
        &[
            "position", "location", "point", "pos", "where", "node", "place",
        ],
        "at",
        "write `at`",
    ),
    field(
        &["position", "location", "point", "pos", "at", "middle"],
        "centre",
        "write `centre`",
    ),
    field(
        &["radius", "r"],
        "diameter",
        "write `diameter`, which is twice the radius",
    ),
    field(
        &["dia", "d", "thickness", "width"],
        "diameter",
        "write `diameter`",
    ),
    field(&["t", "height", "depth"], "thickness", "write `thickness`"),
    field(
        &["dimensions", "edges", "sides"],
        "size",
        "write `size`, the three edges",
    ),
    field(
        &["points", "nodes", "through", "line"],
        "path",
        "write `path: […]`",
    ),
    field(
        &["points", "vertices", "outline", "polygon"],
        "corners",
        "write `corners: […]`",
    ),
    needless(
        &["length"],
        "to",
        "leave it out: the length follows from `from` and `to`",
    ),
    field(&["start", "begin"], "from", "write `from`"),
    field(&["end", "finish"], "to", "write `to`"),
    field(
        &["load", "intensity", "w", "q", "value", "force"],
        "start",
        "write `start`, force per length at `from`, and `end` if it differs at `to`",
    ),
    needless(
        &["density", "mass", "material"],
        "diameter",
        "leave it out: masses and densities go into the load `Weight(…)`",
    ),
    needless(
        &["density", "mass", "material"],
        "corners",
        "leave it out: masses and densities go into the load `Weight(…)`",
    ),
    needless(
        &["density", "mass", "material"],
        "size",
        "leave it out: masses and densities go into the load `Weight(…)`",
    ),
    field(
        &["mu", "coefficient", "mu_s", "friction_coefficient"],
        "friction",
        "write `friction`, the coefficient, or leave it out: friction is then as large as required, and the report gives the coefficient",
    ),
    needless(
        &["friction", "mu", "coefficient", "mu_s"],
        "normal",
        "leave it out, or write the support as a `RoughContact`, which has `friction`",
    ),
    field(
        &["direction", "dir", "angle", "axis"],
        "normal",
        "write `normal`, the direction from the surface into the body",
    ),
    field(
        &["direction", "dir", "pin"],
        "axis",
        "write `axis`, the direction of the pin or shaft",
    ),
    field(
        &["direction", "dir", "axis", "along"],
        "rod",
        "write `rod`, the direction of the rod",
    ),
    field(
        &["direction", "dir", "axis", "angle"],
        "along",
        "write `along`, the direction of the slot",
    ),
    field(
        &["to", "end", "anchor", "other", "towards"],
        "ground",
        "write `ground`, the end that the ground holds",
    ),
    field(
        &["displacement", "settles_by", "shift", "delta"],
        "moves_by",
        "write `moves_by`, how far the ground moves along the axes",
    ),
    field(
        &["alpha", "coefficient", "expansion_coefficient"],
        "expansion",
        "write `expansion`, the coefficient of linear expansion per kelvin",
    ),
    field(
        &["temperature", "delta_t", "dt"],
        "by",
        "write `by`, the change of temperature in kelvins",
    ),
    field(
        &["k", "spring", "spring_constant", "spring_rate"],
        "stiffness",
        "write `stiffness`, force per length; of couples `rotational_stiffness`",
    ),
    field(
        &["vector", "components", "value"],
        "force",
        "write `force`, its components",
    ),
    field(
        &["magnitude", "amount", "strength"],
        "size",
        "write `size`, with `direction`",
    ),
    field(
        &["torque", "couple", "value", "size", "magnitude"],
        "moment",
        "write `moment`",
    ),
    field(
        &["m", "weight"],
        "mass",
        "write `mass`, in the scene's unit of mass",
    ),
    field(&["rho"], "density", "write `density`"),
    field(&["g"], "gravity", "write `gravity`"),
];

/// The entry of a field's name, among the fields that an item has.
pub(crate) fn field_of(name: &str, has: &[&str]) -> Option<&'static OtherField> {
    let name = name.to_lowercase();
    FIELDS.iter().find(|other| {
        let (Meaning::Field(field) | Meaning::NothingBeside(field)) = other.meaning;
        other.names.contains(&name.as_str()) && has.contains(&field)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_sought_among_those_of_its_item() {
        let hint = |name, has: &[&str]| field_of(name, has).map(|other| other.meaning);
        assert_eq!(
            hint("position", &["name", "at"]),
            Some(Meaning::Field("at"))
        );
        assert_eq!(
            hint("position", &["centre"]),
            Some(Meaning::Field("centre"))
        );
        assert_eq!(hint("position", &["path"]), None);
    }
}
