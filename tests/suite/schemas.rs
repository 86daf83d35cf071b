//! The JSON Schemas against what is truly written, with a small validator of the words that they use.

use std::path::PathBuf;

use serde_json::Value;
use sixhold::scene::{builtin, read_file, read_str, to_json};

use crate::command_line::ran;
use crate::golden;

/// What of a value breaks its schema, with the path to it.
fn faults(root: &Value, schema: &Value, value: &Value, path: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (word, rule) in schema.as_object().expect("schemas are objects") {
        let fits = match word.as_str() {
            "$ref" => {
                let name = rule.as_str().unwrap().strip_prefix("#/$defs/").unwrap();
                found.extend(faults(root, &root["$defs"][name], value, path));
                true
            }
            "type" => kinds(rule).any(|kind| is_a(value, kind)),
            "const" => value == rule,
            "enum" => rule.as_array().unwrap().contains(value),
            "anyOf" => {
                let mut each = rule.as_array().unwrap().iter();
                each.any(|one| faults(root, one, value, path).is_empty())
            }
            "minimum" => value.as_f64().is_none_or(|x| x >= rule.as_f64().unwrap()),
            "maximum" => value.as_f64().is_none_or(|x| x <= rule.as_f64().unwrap()),
            "exclusiveMinimum" => value.as_f64().is_none_or(|x| x > rule.as_f64().unwrap()),
            "minItems" => value
                .as_array()
                .is_none_or(|a| a.len() as u64 >= rule.as_u64().unwrap()),
            "maxItems" => value
                .as_array()
                .is_none_or(|a| a.len() as u64 <= rule.as_u64().unwrap()),
            "minLength" => value
                .as_str()
                .is_none_or(|text| text.chars().count() as u64 >= rule.as_u64().unwrap()),
            "items" => {
                for (index, item) in value.as_array().into_iter().flatten().enumerate() {
                    found.extend(faults(root, rule, item, &format!("{path}/{index}")));
                }
                true
            }
            "required" => {
                let mut names = rule.as_array().unwrap().iter();
                names.all(|name| value.get(name.as_str().unwrap()).is_some())
            }
            "properties" | "additionalProperties" => {
                found.extend(field_faults(root, schema, value, path));
                true
            }
            "$schema" | "$defs" | "title" | "description" | "format" => true,
            other => panic!("the validator does not know `{other}`"),
        };
        if !fits {
            found.push(format!("{path}: `{word}` does not allow {value}"));
        }
    }
    found
}

/// The types that a rule allows: one, or a list of them.
fn kinds(rule: &Value) -> impl Iterator<Item = &str> {
    let list = rule.as_array().into_iter().flatten();
    rule.as_str()
        .into_iter()
        .chain(list.filter_map(Value::as_str))
}

fn is_a(value: &Value, kind: &str) -> bool {
    match kind {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "integer" => value.is_u64() || value.is_i64(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        other => panic!("unknown type {other}"),
    }
}

fn field_faults(root: &Value, schema: &Value, value: &Value, path: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (name, field) in value.as_object().into_iter().flatten() {
        let path = format!("{path}/{name}");
        match (
            schema["properties"].get(name),
            &schema["additionalProperties"],
        ) {
            (Some(own), _) => found.extend(faults(root, own, field, &path)),
            (None, Value::Bool(false)) => found.push(format!("{path} is not in the schema")),
            (None, Value::Object(_)) => {
                found.extend(faults(root, &schema["additionalProperties"], field, &path));
            }
            (None, _) => {}
        }
    }
    found
}

fn schema(of: &str) -> Value {
    let ran = ran(&["schema", of]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    serde_json::from_str(&ran.out).unwrap()
}

fn published() -> Vec<PathBuf> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published");
    let entries = std::fs::read_dir(folder).unwrap();
    entries.map(|entry| entry.unwrap().path()).collect()
}

#[test]
fn every_report_fits_the_schema_of_check() {
    let schema = schema("check");
    let mut names: Vec<String> = builtin::names().map(str::to_owned).collect();
    names.extend(published().iter().map(|path| path.display().to_string()));
    let mut arguments = vec!["check", "--format", "json"];
    arguments.extend(names.iter().map(String::as_str));
    let ran = ran(&arguments);
    let reports: Value = serde_json::from_str(&ran.out).unwrap();
    let reports = reports.as_array().unwrap();
    assert_eq!(reports.len(), names.len());
    for report in reports {
        let faults = faults(&schema, &schema["$defs"]["report"], report, "");
        assert!(
            faults.is_empty(),
            "{}: {}",
            report["source"],
            faults.join("\n")
        );
    }
    // The whole schema takes one report or many.
    assert!(faults(&schema, &schema, &reports[0], "").is_empty());
    assert!(faults(&schema, &schema, &Value::Array(reports.clone()), "").is_empty());
}

#[test]
fn every_scene_fits_the_schema_of_scenes() {
    let schema = schema("scene");
    let mut scenes: Vec<_> = builtin::all()
        .iter()
        .map(|scene| read_str(scene.name, scene.text).unwrap().scene)
        .collect();
    scenes.extend(
        published()
            .iter()
            .map(|path| read_file(path).unwrap().scene),
    );
    for scene in scenes {
        let faults = faults(&schema, &schema, &to_json(&scene), "");
        // A choice of many kinds says only that none fits; the kind is at the path.
        assert!(faults.is_empty(), "{}: {}", scene.title, faults.join("\n"));
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(200))]

    #[test]
    fn arbitrary_scenes_fit_too(scene in crate::arbitrary_scenes::scene()) {
        let schema = sixhold::scene::json_schema();
        let faults = faults(&schema, &schema, &to_json(&scene), "");
        proptest::prop_assert!(faults.is_empty(), "{}", faults.join("\n"));
    }
}

#[test]
fn what_is_wrong_does_not_fit() {
    let schema = schema("scene");
    let fits = |text: &str| {
        let value: Value = serde_json::from_str(text).unwrap();
        faults(&schema, &schema, &value, "").is_empty()
    };
    assert!(fits(r#"{"format": 1, "body": []}"#));
    for wrong in [
        r#"{"format": 2, "body": []}"#,
        r#"{"format": 1}"#,
        r#"{"format": 1, "body": [], "colour": "red"}"#,
        r#"{"format": 1, "body": [{"Shaft": {"from": "A", "to": "B", "diameter": 0}}]}"#,
        r#"{"format": 1, "body": [], "supports": [{"Hinge": {"name": "A", "at": "A"}}]}"#,
        r#"{"format": 1, "body": [], "points": {"A": [0]}}"#,
        r#"{"format": 1, "body": [], "lesson": ["Verdict"]}"#,
        r#"{"format": 1, "body": [], "lesson": [{"Rank": {"note": ""}}]}"#,
    ] {
        assert!(!fits(wrong), "{wrong}");
    }
}

/// Whether a schema allows a number, itself or as an element.
fn allows(schema: &Value, wanted: &[&str]) -> bool {
    let own = kinds(&schema["type"]).any(|kind| wanted.contains(&kind));
    let choices = schema["anyOf"].as_array().into_iter().flatten();
    own || choices
        .chain(schema.get("items"))
        .any(|one| allows(one, wanted))
}

/// Fields at which a schema leaves a unit or the meaning of `null` open, and for how many of either it does not.
fn open_fields(schema: &Value, path: &str, open: &mut Vec<String>, said: &mut usize) {
    for (name, field) in schema["properties"].as_object().into_iter().flatten() {
        let text = field["description"].as_str().unwrap_or_default();
        for (kinds, is_said) in [
            (&["null"][..], text.contains("null")),
            (&["number", "integer"][..], !text.is_empty()),
        ] {
            match allows(field, kinds) {
                true if is_said => *said += 1,
                true => open.push(format!("{path}/{name}: {kinds:?}")),
                false => {}
            }
        }
    }
    let parts = match schema {
        Value::Object(parts) => parts.values().collect(),
        Value::Array(parts) => parts.iter().collect(),
        _ => Vec::new(),
    };
    for part in parts {
        open_fields(part, path, open, said);
    }
}

/// A number without unit and a `null` with two meanings are guesses for whoever reads them.
#[test]
fn the_schema_says_what_every_number_and_every_null_means() {
    let (mut open, mut said) = (Vec::new(), 0);
    for (name, part) in schema("check")["$defs"].as_object().unwrap() {
        open_fields(part, name, &mut open, &mut said);
    }
    assert_eq!(open, [""; 0]);
    assert!(said > 60, "{said}");
}

#[test]
fn schemas_are_as_expected() {
    for of in ["check", "scene"] {
        let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
            .join(format!("tests/golden/schemas/{of}.json"));
        golden::compare(&ran(&["schema", of]).out, &path);
    }
}
