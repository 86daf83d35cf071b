//! A rank that is full only through rounded decimals.

use super::{deep, scene};

fn three_rollers(direction: &str, x: &str) -> Option<sixhold::statics::Rounding> {
    let study = deep(&scene(&format!(
        r#"space: planar, body: [Block(centre: (1, 1), size: (2, 2, 0.1))],
        supports: [
            Roller(name: "A", at: (0, 0), normal: {direction}),
            Roller(name: "B", at: ({x}, 0), normal: (0, 1)),
            Roller(name: "C", at: (0, 1), normal: (1, 0))]"#
    )));
    let (diagnosis, depth) = (study.diagnosis(), &study);
    assert!(diagnosis.is_held());
    depth.rounding().cloned()
}

/// Lines at 30 degrees, x = √3 and y = 1 meet in one point; written with (0.866, 0.5) they just miss each other.
#[test]
fn a_rounded_direction_is_found_out() {
    let found = three_rollers("(0.866, 0.5)", "1.7320508").unwrap();
    assert!(found.smallest < 1e-4 && found.reach >= found.smallest);
    assert_eq!(found.supports[0].get(), 0);
    assert!(found.by_direction);
}

/// A rounded place does it, too.
#[test]
fn a_rounded_place_is_found_out() {
    let found = three_rollers("Angle(30)", "1.732").unwrap();
    assert_eq!(found.supports[0].get(), 1);
    assert!(!found.by_direction);
}

#[test]
fn lines_that_clearly_miss_each_other_are_left_alone() {
    assert_eq!(three_rollers("(0.866, 0.5)", "1.8"), None);
    assert_eq!(three_rollers("(0.866, 0.5)", "1.725"), None);
    assert_eq!(three_rollers("(3, 4)", "1.5"), None);
}
