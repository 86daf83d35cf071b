//! Bodies of an observatory on a grid of tenths of a metre, with the points at which they can be held.

use super::random::Random;
use crate::scene::{BarSection, BentBar, Block, Coordinates, Place, Plate, Shaft, Shape, Space};

/// A grid point, in tenths of a metre.
pub(super) type GridPoint = [i32; 3];

/// The scalar product.
pub(super) fn dot(a: GridPoint, b: GridPoint) -> i32 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// The vector product.
pub(super) fn cross(a: GridPoint, b: GridPoint) -> GridPoint {
    [0, 1, 2].map(|i| {
        let (j, k) = ((i + 1) % 3, (i + 2) % 3);
        a[j] * b[k] - a[k] * b[j]
    })
}

/// A body with its points.
#[derive(Debug, Clone)]
pub(super) struct Body {
    /// What it is, for the title.
    pub(super) name: &'static str,
    /// Which template it comes from; part of the signature.
    pub(super) template: u8,
    pub(super) space: Space,
    pub(super) shapes: Vec<Shape>,
    /// Points on the body at which supports and loads can act, no two equal.
    pub(super) anchors: Vec<GridPoint>,
    /// Straight pieces between anchors along which a load can be spread; none of plates and cases.
    pub(super) legs: Vec<[GridPoint; 2]>,
}

/// The coordinate of a grid line, m.
fn metres(cell: i32) -> f64 {
    f64::from(cell) / 10.0
}

/// Coordinates of a grid point.
pub(super) fn coordinates(cell: GridPoint, space: Space) -> Coordinates {
    shifted(cell, [0; 3], space)
}

/// Coordinates of a point that lies so many hundredths of a metre off a grid point.
pub(super) fn shifted(cell: GridPoint, off: GridPoint, space: Space) -> Coordinates {
    let [x, y, z] = [0, 1, 2].map(|axis| f64::from(10 * cell[axis] + off[axis]) / 100.0);
    match space {
        Space::Spatial => Coordinates::Space([x, y, z]),
        Space::Planar => Coordinates::Plane([x, y]),
    }
}

fn place(cell: GridPoint, space: Space) -> Place {
    Place::At(coordinates(cell, space))
}

/// A body in the plane.
pub(super) fn planar(random: &mut Random) -> Body {
    match random.below(5) {
        0 => beam(random),
        1 => elbow(random),
        2 => portal(random),
        3 => flat_plate(random),
        _ => ladder(random),
    }
}

/// A body in space.
pub(super) fn spatial(random: &mut Random) -> Body {
    match random.below(5) {
        0 => tray(random),
        1 => panel(random),
        2 => bent_bar(random),
        3 => case(random),
        _ => crank(random),
    }
}

const BAR: f64 = 0.05;
const PLATE: f64 = 0.02;

fn beam(random: &mut Random) -> Body {
    let length = random.pick(&[8, 12, 16, 20, 24]);
    let shape = Shape::Block(Block {
        centre: place([length / 2, 0, 0], Space::Planar),
        size: [metres(length), 0.1, 0.1],
        lengthwise: None,
        upright: None,
    });
    Body {
        name: random.pick(&["Sill beam", "Step board", "Dome rail", "Shelf beam"]),
        template: 0,
        space: Space::Planar,
        shapes: vec![shape],
        anchors: (0..5).map(|quarter| [quarter * length / 4, 0, 0]).collect(),
        legs: legs(&[[0, 0, 0], [length, 0, 0]]),
    }
}

fn elbow(random: &mut Random) -> Body {
    let (width, height) = (random.pick(&[6, 8, 10, 12]), random.pick(&[6, 8, 12]));
    let path = [[0, 0, 0], [0, height, 0], [width, height, 0]];
    let name = random.pick(&["Lamp arm", "Flag pole", "Camera arm"]);
    bar(name, 1, Space::Planar, &path)
}

fn portal(random: &mut Random) -> Body {
    let (width, height) = (random.pick(&[8, 12, 16]), random.pick(&[6, 8, 10]));
    let path = [[0, 0, 0], [0, height, 0], [width, height, 0], [width, 0, 0]];
    bar(
        random.pick(&["Portal frame", "Gate frame"]),
        2,
        Space::Planar,
        &path,
    )
}

fn flat_plate(random: &mut Random) -> Body {
    let (width, height) = (random.pick(&[6, 8, 10, 12]), random.pick(&[4, 6, 8]));
    let corners = [[0, 0, 0], [width, 0, 0], [width, height, 0], [0, height, 0]];
    let name = random.pick(&["Notice board", "Bracket plate", "Dial plate"]);
    plate(name, 3, Space::Planar, &corners)
}

fn ladder(random: &mut Random) -> Body {
    let size = random.pick(&[2, 4, 6]);
    let path = [[0, 0, 0], [3 * size, 4 * size, 0]];
    bar(
        random.pick(&["Roof ladder", "Prop", "Stay"]),
        4,
        Space::Planar,
        &path,
    )
}

fn tray(random: &mut Random) -> Body {
    let (length, width) = (random.pick(&[8, 12, 16]), random.pick(&[6, 8, 10]));
    let corners = [[0, 0, 0], [length, 0, 0], [length, width, 0], [0, width, 0]];
    let name = random.pick(&[
        "Battery tray",
        "Eyepiece shelf",
        "Roof hatch",
        "Filter plate",
    ]);
    plate(name, 5, Space::Spatial, &corners)
}

fn panel(random: &mut Random) -> Body {
    let (length, height) = (random.pick(&[6, 8, 12]), random.pick(&[6, 8, 10]));
    let corners = [
        [0, 0, 0],
        [length, 0, 0],
        [length, 0, height],
        [0, 0, height],
    ];
    let name = random.pick(&["Dome door", "Weather shield", "Control panel"]);
    plate(name, 6, Space::Spatial, &corners)
}

fn bent_bar(random: &mut Random) -> Body {
    let legs = [(); 3].map(|()| random.pick(&[4, 6, 8, 10]));
    let turn = random.below(3);
    let mut path = vec![[0, 0, 0]];
    for (step, leg) in legs.into_iter().enumerate() {
        let mut corner = path[step];
        corner[(step + turn) % 3] += leg;
        path.push(corner);
    }
    let name = random.pick(&["Handrail", "Cable guide", "Lamp boom", "Antenna bar"]);
    bar(name, 7, Space::Spatial, &path)
}

fn case(random: &mut Random) -> Body {
    let [x, y, z] = [(); 3].map(|()| random.pick(&[4, 6, 8, 10]));
    let shape = Shape::Block(Block {
        centre: place([x / 2, y / 2, z / 2], Space::Spatial),
        size: [x, y, z].map(metres),
        lengthwise: None,
        upright: None,
    });
    let corner = |bits: i32| [x * (bits & 1), y * (bits >> 1 & 1), z * (bits >> 2)];
    Body {
        name: random.pick(&["Instrument case", "Battery box", "Counterweight"]),
        template: 8,
        space: Space::Spatial,
        shapes: vec![shape],
        anchors: (0..8).map(corner).collect(),
        legs: Vec::new(),
    }
}

fn crank(random: &mut Random) -> Body {
    let (length, arm, handle) = (
        random.pick(&[8, 12, 16]),
        random.pick(&[4, 6]),
        random.pick(&[2, 4]),
    );
    let shaft = Shape::Shaft(Shaft {
        from: place([0, 0, 0], Space::Spatial),
        to: place([length, 0, 0], Space::Spatial),
        diameter: BAR,
    });
    let path = [[length, 0, 0], [length, arm, 0], [length + handle, arm, 0]];
    let mut body = bar(
        random.pick(&["Shutter winch", "Focus shaft", "Dome crank"]),
        9,
        Space::Spatial,
        &path,
    );
    body.shapes.insert(0, shaft);
    body.anchors = vec![
        [0, 0, 0],
        [length / 4, 0, 0],
        [length / 2, 0, 0],
        [3 * length / 4, 0, 0],
        path[1],
        path[2],
    ];
    body.legs.extend(legs(&[[0, 0, 0], path[0]]));
    body
}

/// A bar through corners, held at these and in the middle of its legs.
fn bar(name: &'static str, template: u8, space: Space, path: &[GridPoint]) -> Body {
    let shape = Shape::BentBar(BentBar {
        path: path.iter().map(|cell| place(*cell, space)).collect(),
        diameter: BAR,
        bend_radius: Some(0.0),
        section: BarSection::Solid,
    });
    Body {
        name,
        template,
        space,
        shapes: vec![shape],
        anchors: with_middles(path, false),
        legs: legs(path),
    }
}

fn plate(name: &'static str, template: u8, space: Space, corners: &[GridPoint]) -> Body {
    let shape = Shape::Plate(Plate {
        corners: corners.iter().map(|cell| place(*cell, space)).collect(),
        thickness: PLATE,
        holes: Vec::new(),
    });
    Body {
        name,
        template,
        space,
        shapes: vec![shape],
        anchors: with_middles(corners, true),
        legs: Vec::new(),
    }
}

/// The pieces between the corners of a path, each whole and in halves.
fn legs(path: &[GridPoint]) -> Vec<[GridPoint; 2]> {
    let pairs = path.windows(2);
    pairs
        .flat_map(|pair| {
            let middle = [0, 1, 2].map(|axis| (pair[0][axis] + pair[1][axis]) / 2);
            [[pair[0], pair[1]], [pair[0], middle], [middle, pair[1]]]
        })
        .collect()
}

/// Points and the middles between neighbours; sizes are even, so the middles lie on the grid.
fn with_middles(points: &[GridPoint], closed: bool) -> Vec<GridPoint> {
    let mut all = points.to_vec();
    let pairs = points.windows(2).map(|pair| (pair[0], pair[1]));
    let back = closed.then(|| (points[points.len() - 1], points[0]));
    for (from, to) in pairs.chain(back) {
        all.push([0, 1, 2].map(|axis| (from[axis] + to[axis]) / 2));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn anchors_are_distinct_and_middles_lie_on_the_grid() {
        let mut random = Random::new(3);
        for _ in 0..300 {
            for body in [planar(&mut random), spatial(&mut random)] {
                for (index, anchor) in body.anchors.iter().enumerate() {
                    assert!(!body.anchors[..index].contains(anchor), "{}", body.name);
                    assert!(body.space == Space::Spatial || anchor[2] == 0);
                }
                assert!(body.anchors.len() >= 3);
                // The crank's arm and handle are anchors at their ends alone.
                let bent = body.template == 9;
                for [from, to] in &body.legs {
                    assert!(from != to);
                    let anchors = [from, to].map(|cell| body.anchors.contains(cell));
                    assert!(
                        bent || anchors == [true; 2],
                        "{}: {from:?} {to:?}",
                        body.name
                    );
                }
            }
        }
        assert_eq!(with_middles(&[[0, 0, 0], [4, 2, 0]], false)[2], [2, 1, 0]);
    }
}
