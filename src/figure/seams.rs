//! The lines in which solids pass through each other.

use nalgebra::Point3;

use crate::portrayal::mesh::Mesh;

type Triangle = [Point3<f64>; 3];

/// Lines in which each two meshes meet, m. Faces that lie in one plane give none.
pub(super) fn seams(meshes: &[Mesh]) -> Vec<[Point3<f64>; 2]> {
    let mut lines = Vec::new();
    for (index, one) in meshes.iter().enumerate() {
        for other in &meshes[index + 1..] {
            let (Some(a), Some(b)) = (box_of(&one.positions), box_of(&other.positions)) else {
                continue;
            };
            let shared = [a[0].sup(&b[0]), a[1].inf(&b[1])];
            if (0..3).any(|k| shared[0][k] > shared[1][k]) {
                continue;
            }
            let (near, far) = (within(one, &shared), within(other, &shared));
            for (first, bounds) in &near {
                for (second, other_bounds) in &far {
                    if touch(bounds, other_bounds) {
                        lines.extend(crossing(first, second));
                    }
                }
            }
        }
    }
    lines
}

fn box_of(points: &[Point3<f64>]) -> Option<[Point3<f64>; 2]> {
    let first = *points.first()?;
    Some(points.iter().fold([first; 2], |[low, high], point| {
        [low.inf(point), high.sup(point)]
    }))
}

fn touch(a: &[Point3<f64>; 2], b: &[Point3<f64>; 2]) -> bool {
    (0..3).all(|k| a[0][k] <= b[1][k] && b[0][k] <= a[1][k])
}

/// Triangles of a mesh that reach into a box, with their own boxes.
fn within(mesh: &Mesh, area: &[Point3<f64>; 2]) -> Vec<(Triangle, [Point3<f64>; 2])> {
    let triangles = mesh.triangles.iter();
    triangles
        .filter_map(|triangle| {
            let corners = triangle.map(|i| mesh.positions[i as usize]);
            let bounds = box_of(&corners)?;
            touch(&bounds, area).then_some((corners, bounds))
        })
        .collect()
}

/// The part of the line through two triangles' planes that lies in both.
fn crossing(a: &Triangle, b: &Triangle) -> Option<[Point3<f64>; 2]> {
    let normal = (a[1] - a[0]).cross(&(a[2] - a[0]));
    let height = b.map(|point| normal.dot(&(point - a[0])));
    // Touching without passing through is no seam.
    let above = height.map(|h| h >= 0.0);
    if above[0] == above[1] && above[1] == above[2] {
        return None;
    }
    let mut ends = [0, 1, 2].into_iter().filter_map(|i| {
        let j = (i + 1) % 3;
        let t = height[i] / (height[i] - height[j]);
        (above[i] != above[j]).then(|| b[i] + (b[j] - b[i]) * t)
    });
    let (from, to) = (ends.next()?, ends.next()?);
    let mut part = [0.0, 1.0];
    for i in 0..3 {
        let inwards = normal.cross(&(a[(i + 1) % 3] - a[i]));
        let inside = |point: Point3<f64>| inwards.dot(&(point - a[i]));
        super::hidden::clip(&mut part, inside(from), inside(to))?;
    }
    let at = |t: f64| from + (to - from) * t;
    let ends = [at(part[0]), at(part[1])];
    (ends[0] != ends[1]).then_some(ends)
}

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;

    use super::*;

    fn total(lines: &[[Point3<f64>; 2]]) -> f64 {
        lines.iter().map(|[a, b]| (b - a).norm()).sum()
    }

    /// A square bar of side 1 through a larger block: two squares of outline 4.
    #[test]
    fn a_bar_through_a_block_leaves_its_outline_on_both_faces() {
        let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
        let block = Mesh::block(&Point3::origin(), axes.map(|axis| axis * 2.0));
        let bar = Mesh::block(
            &Point3::new(0.1, 0.2, 0.0),
            [axes[0] * 0.5, axes[1] * 0.5, axes[2] * 5.0],
        );
        let lines = seams(&[block.clone(), bar]);
        assert!((total(&lines) - 8.0).abs() < 1e-9, "{}", total(&lines));
        let apart = Mesh::block(&Point3::new(9.0, 0.0, 0.0), axes);
        assert!(seams(&[block, apart]).is_empty());
    }
}
