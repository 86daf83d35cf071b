//! Scenes for other programs, read back by a library that is not ours.

use std::fs;

use gltf::animation::Property;
use nalgebra::{Isometry3, Point3, Quaternion, UnitQuaternion, Vector3};

use crate::command_line::ran;

/// The numbers of an accessor, one list for each vector.
fn numbers(accessor: &gltf::Accessor, bytes: &[u8]) -> Vec<Vec<f32>> {
    let view = accessor.view().expect("a view");
    let start = view.offset() + accessor.offset();
    let size = accessor.dimensions().multiplicity();
    let all = bytes[start..][..4 * size * accessor.count()].chunks_exact(4);
    let all: Vec<f32> = all
        .map(|four| f32::from_le_bytes(four.try_into().expect("four bytes")))
        .collect();
    all.chunks_exact(size).map(<[f32]>::to_vec).collect()
}

fn placement(place: &[f32], turn: &[f32]) -> Isometry3<f64> {
    let [x, y, z] = [0, 1, 2].map(|k| f64::from(place[k]));
    let [i, j, k, w] = [0, 1, 2, 3].map(|n| f64::from(turn[n]));
    let turn = UnitQuaternion::from_quaternion(Quaternion::new(w, i, j, k));
    Isometry3::from_parts(Vector3::new(x, y, z).into(), turn)
}

#[test]
fn a_scene_is_read_back_with_its_motion() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("handrail.glb");
    let said = ran(&[
        "export",
        "handrail",
        "--out",
        path.to_str().expect("a path"),
    ]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    let file = fs::read(&path).expect("the file");
    // Reading validates: indices, types, what is required.
    let read = gltf::Gltf::from_slice(&file).expect("glTF 2.0");
    let bytes = read.blob.as_deref().expect("the numbers");
    let top: Vec<_> = read.scenes().next().expect("a scene").nodes().collect();
    let [top] = top.as_slice() else {
        panic!("one node at the root");
    };
    assert_eq!(top.name(), Some("Handrail on two ball joints"));
    let names: Vec<_> = top
        .children()
        .filter_map(|node| node.name().map(str::to_owned))
        .collect();
    assert_eq!(names, ["body", "ground"]);

    let (place, turn, _) = top.transform().decomposed();
    let upright = placement(&place, &turn);
    // The shared axis does not move, and where it is in the scene, z up, it is in the file, y up.
    let animation = read.animations().next().expect("a motion");
    let body = top.children().next().expect("the body");
    let of = |property: Property| {
        let mut channels = animation.channels();
        let channel = channels.find(|channel| {
            channel.target().property() == property
                && channel.target().node().index() == body.index()
        });
        let sampler = channel.expect("a channel").sampler();
        [sampler.input(), sampler.output()].map(|accessor| numbers(&accessor, bytes))
    };
    let [times, places] = of(Property::Translation);
    let [_, turns] = of(Property::Rotation);
    assert_eq!(times.len(), places.len());
    assert!(times.windows(2).all(|pair| pair[0] < pair[1]));
    let (place, turn, _) = body.transform().decomposed();
    let written = placement(&place, &turn);
    let mut farthest = 0.0_f64;
    for (place, turn) in places.iter().zip(&turns) {
        // How the body is moved, in the file's axes and then in the scene's.
        let moved = upright * placement(place, turn) * written.inverse() * upright.inverse();
        let up = UnitQuaternion::from_euler_angles(-std::f64::consts::FRAC_PI_2, 0.0, 0.0);
        let moved = up.inverse() * moved * up;
        for [x, y, z] in [[0.0, 0.0, 0.0], [1.7, 0.6, 0.75]] {
            let at = Point3::new(x, y, z);
            assert!((moved * at - at).norm() < 1e-5, "{at} moves");
        }
        farthest = farthest.max(moved.rotation.angle());
    }
    assert!((0.1..1.6).contains(&farthest), "{farthest}");

    // All corners lie within the lowest and highest that are written for them.
    for mesh in read.meshes() {
        for primitive in mesh.primitives() {
            let corners = primitive.get(&gltf::Semantic::Positions).expect("corners");
            assert!(corners.min().is_some() && corners.max().is_some());
            assert_eq!(corners.count() % 3, 0);
            let normals = primitive.get(&gltf::Semantic::Normals).expect("normals");
            let normals = numbers(&normals, bytes);
            assert_eq!(normals.len(), corners.count());
            for normal in normals {
                let size = normal.iter().map(|x| x * x).sum::<f32>().sqrt();
                assert!((size - 1.0).abs() < 1e-4, "{normal:?}");
            }
        }
    }
}

/// The same values as in the JSON report, in the scene's units, with what they follow from.
#[test]
fn reactions_are_a_table() {
    let folder = tempfile::tempdir().expect("a folder");
    for (scene, sources) in [
        ("mirror-cell", ["equilibrium"].as_slice()),
        ("cabinet-bolts", &["equilibrium", "springs"]),
        ("clamped-pipe", &["bars"]),
        ("handrail", &[""]),
    ] {
        let path = folder.path().join(format!("{scene}.csv"));
        let said = ran(&["export", scene, "--out", path.to_str().expect("a path")]);
        assert_eq!(said.code, Some(0), "{}", said.err);
        let mut table = csv::Reader::from_path(&path).expect("a table");
        let head = table.headers().expect("heads").clone();
        let column = |name: &str| head.iter().position(|head| head == name).expect("a column");
        let rows: Vec<_> = table.records().map(|row| row.expect("a row")).collect();
        let report = ran(&["check", scene, "--format", "json"]).out;
        let report: serde_json::Value = serde_json::from_str(&report).expect("JSON");
        let reactions = report["reactions"].as_array().expect("reactions");
        let cases = report["equilibrium"].as_array().expect("cases");
        assert_eq!(rows.len(), reactions.len() * cases.len(), "{scene}");
        let mut seen = std::collections::BTreeSet::new();
        for (index, row) in rows.iter().enumerate() {
            let (case, reaction) = (index / reactions.len(), index % reactions.len());
            assert_eq!(row[column("case")], cases[case]["case"], "{scene}");
            assert_eq!(
                row[column("reaction")],
                reactions[reaction]["name"],
                "{scene}"
            );
            let source = &row[column("follows_from")];
            let part = match source {
                "bars" => &report["bending"]["cases"][case],
                "springs" => &report["elastic"]["cases"][case],
                _ => &cases[case],
            };
            seen.insert(source.to_owned());
            let expected = &part["values"][reaction];
            match row[column("value")].parse::<f64>() {
                Ok(value) => {
                    let expected = expected.as_f64().expect("a value");
                    assert!(
                        (value - expected).abs() <= 1e-9 * expected.abs().max(1.0),
                        "{scene}"
                    );
                }
                Err(_) => assert!(
                    row[column("value")].is_empty() && source.is_empty(),
                    "{scene}"
                ),
            }
        }
        assert_eq!(seen.iter().collect::<Vec<_>>(), sources, "{scene}");
    }
    let said = ran(&["export", "handrail", "--motion", "1", "--out", "table.csv"]);
    assert!(
        said.err.contains("a table of reactions has no motion"),
        "{}",
        said.err
    );
}

#[test]
fn other_endings_are_refused() {
    let said = ran(&["export", "handrail", "--out", "handrail.stl"]);
    assert_eq!(said.code, Some(2));
    let error = said.err;
    assert!(error.contains("not exported to handrail.stl"), "{error}");
    assert!(error.contains("glTF 2.0"), "{error}");
}
