//! Where a surface touches the body: scenes often give the point on a centre line, and the force passes through both.

use nalgebra::{Point3, Vector3};

use crate::scene::SupportKind;
use crate::scene::solid::{self, Solid};
use crate::statics::PlacedSupport;

/// How far beyond a face a point counts as outside, relative to the size of the body.
const BEYOND: f64 = 1e-6;
/// How far inside the body the way out of it begins, relative to the same.
const INSIDE: f64 = 1e-5;
/// A point is on a centre line, or nearer to the surface that pushes, where its way out is at most so many times as long as
/// that to the opposite side.
const MIDDLE: f64 = 1.05;
/// A bar is thin that is no thicker than this, relative to how far the body reaches from there.
const THIN: f64 = 0.15;

/// Where the surface of a roller, rocker or contact touches the body: where the line of action leaves the body towards the
/// surface, if the point that is held lies inside; of other supports that point.
pub(crate) fn touched(body: &[Solid], support: &PlacedSupport) -> Point3<f64> {
    let pushes = matches!(
        support.kind,
        SupportKind::Roller { .. }
            | SupportKind::Rocker { .. }
            | SupportKind::SmoothContact { .. }
            | SupportKind::RoughContact { .. }
    );
    let at = support.point;
    let Some(normal) = support.orientation.filter(|_| pushes) else {
        return at;
    };
    let normal = normal.into_inner();
    match [-normal, normal].map(|way| way_out(body, &at, &way)) {
        [Some(out), Some(back)] if out <= MIDDLE * back => {
            at - normal * out.max(past_corner(body, &at, &normal, out + back))
        }
        _ => at,
    }
}

/// How far a surface must lie from a point that it does not cut a corner of a thin bar, which ends there or bends; `thick` is
/// the bar across the surface.
fn past_corner(body: &[Solid], at: &Point3<f64>, normal: &Vector3<f64>, thick: f64) -> f64 {
    if thick > THIN * reach(body, at) {
        return 0.0;
    }
    let corners = body.iter().flat_map(|solid| &solid.positions);
    let depths = corners.filter_map(|corner| {
        let off = corner - at;
        let depth = -off.dot(normal);
        let beside = (off + normal * depth).norm();
        (depth <= thick && beside <= thick).then_some(depth)
    });
    depths.fold(0.0, f64::max)
}

/// Distance to the farthest point of the body.
fn reach(body: &[Solid], from: &Point3<f64>) -> f64 {
    let places = body.iter().flat_map(|solid| &solid.positions);
    places.fold(0.0_f64, |reach, place| reach.max((place - from).norm()))
}

/// How far it is from a point out of the body; `None` where it does not lead out.
///
/// A bar ends at its last point, where the way out runs within its end face: so it begins a little farther inside.
fn way_out(body: &[Solid], from: &Point3<f64>, way: &Vector3<f64>) -> Option<f64> {
    let reach = reach(body, from);
    let places = || body.iter().flat_map(|solid| &solid.positions);
    let sum = places().fold(Vector3::zeros(), |sum, place| sum + (place - from));
    let inwards = sum.try_normalize(0.0).unwrap_or_default();
    let from = &(from + inwards * (INSIDE * reach));
    let is_outside = |t: &f64| {
        let beyond = from + way * (t + BEYOND * reach);
        solid::distance(body, &beyond) > 0.0
    };
    let mut faces: Vec<f64> = body
        .iter()
        .flat_map(|solid| crossings(solid, from, way))
        .collect();
    faces.push(0.0);
    faces.sort_by(f64::total_cmp);
    faces.into_iter().find(is_outside)
}

/// Distances at which a ray passes through faces of a solid.
fn crossings<'a>(
    solid: &'a Solid,
    from: &'a Point3<f64>,
    way: &'a Vector3<f64>,
) -> impl Iterator<Item = f64> + 'a {
    let corner = |index: &u32| solid.positions[*index as usize];
    solid.triangles.iter().filter_map(move |corners| {
        let [a, b, c] = corners.each_ref().map(corner);
        let (u, v) = (b - a, c - a);
        let lean = u.cross(&v).dot(way);
        let across = (from - a).cross(way);
        let (s, t) = (-v.dot(&across) / lean, u.dot(&across) / lean);
        let meets = lean != 0.0 && s >= 0.0 && t >= 0.0 && s + t <= 1.0;
        let distance = -(from - a).dot(&u.cross(&v)) / lean;
        (meets && distance >= 0.0).then_some(distance)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::read_str;
    use crate::statics::Model;

    fn touched_at(contact: &str) -> [f64; 3] {
        let scene = format!(
            r#"(format: 1, title: "arm",
                body: [Block(centre: (0, 0, 0), size: (2, 0.2, 0.1)), Block(centre: (0, 0, 0.1), size: (2, 0.2, 0.1))],
                supports: [SmoothContact(name: "A", {contact})])"#
        );
        let scene = read_str("arm", &scene).unwrap().scene;
        let model = Model::new(&scene).unwrap();
        let body = solid::of_body(&scene);
        let at = touched(&body, model.supports.iter().next().unwrap());
        at.coords.map(|x| (x * 1e4).round() / 1e4).into()
    }

    #[test]
    fn a_contact_on_a_centre_line_is_on_the_surface() {
        let on = |at: &str, normal: &str| touched_at(&format!("at: {at}, normal: {normal}"));
        assert_eq!(on("(1, 0, 0)", "(0, 1, 0)"), [1.0, -0.1, 0.0]);
        // Through both blocks, and from where it is already.
        assert_eq!(on("(0, 0, 0.05)", "(0, 0, -1)"), [0.0, 0.0, 0.15]);
        assert_eq!(on("(0, 0, -0.05)", "(0, 0, 1)"), [0.0, 0.0, -0.05]);
        assert_eq!(on("(1, 0, 0)", "(-1, 0, 0)"), [1.0, 0.0, 0.0]);
        // At the end of the bar, whose end face the way out runs within.
        assert_eq!(on("(-1, 0, 0)", "(0, 1, 0)"), [-1.0, -0.1, 0.0]);
        // A surface that was given on the far side stays there.
        assert_eq!(on("(0, 0, 0.15)", "(0, 0, 1)"), [0.0, 0.0, 0.15]);
    }
}
