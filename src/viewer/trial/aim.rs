//! Where a link that is pulled with the pointer starts and ends.

use crate::draft::SightLine;
use crate::repair::{Drawable, LinkEnd};
use crate::scene::{Coordinates, Space};

/// A named point, or a direction of the axes, draws the pointer to it from this many pixels.
const PULL: f32 = 14.0;

/// Where on the body a link would start: a named point close by, else what is seen.
pub(super) fn eye(aim: &SightLine, body: &Drawable) -> Option<LinkEnd> {
    let near = body
        .named()
        .filter_map(|eye| Some((aim.pixels(&eye.point)?, eye)))
        .filter(|(pixels, _)| *pixels < PULL)
        .min_by(|(a, _), (b, _)| a.total_cmp(b));
    match near {
        Some((_, eye)) => Some(eye),
        None => {
            let (origin, way) = aim.line();
            body.seen(&origin, &way)
        }
    }
}

/// The ground end of a link pulled from an eye: along an axis of the scene where the pointer is close to that, else
/// in the plane through the eye that faces the viewer.
pub(super) fn ground_end(
    aim: &SightLine,
    body: &Drawable,
    eye: &LinkEnd,
    space: Space,
) -> Option<Coordinates> {
    let along = (0..space.axes()).filter_map(|axis| aim.on_axis(&eye.point, axis));
    let along = along
        .filter_map(|point| Some((aim.pixels(&point)?, point)))
        .filter(|(pixels, _)| *pixels < PULL)
        .min_by(|(a, _), (b, _)| a.total_cmp(b));
    let end = match along {
        Some((_, point)) => point,
        None => aim.facing_point(&eye.point)?,
    };
    body.ground_end(eye, &end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{Place, read_str};

    /// A plate of 2 m by 1 m.
    fn plate() -> Drawable {
        let scene = r#"(format: 1, title: "shelf", points: { "A": (0, 0, 0) },
            body: [Block(centre: (1, 0.5, -0.1), size: (2, 1, 0.2))],
            supports: [Fixed(name: "A", at: "A")])"#;
        Drawable::of(&read_str("shelf", scene).unwrap().scene).unwrap()
    }

    #[test]
    fn named_points_draw_the_pointer() {
        let named = eye(&SightLine::from_above(0.06, 0.08), &plate()).unwrap();
        assert_eq!(named.at, Place::Named("A".to_owned()));
        let beside = eye(&SightLine::from_above(0.12, 0.1), &plate()).unwrap();
        assert_eq!(beside.at, Place::At(Coordinates::Space([0.12, 0.1, 0.0])));
        assert_eq!(eye(&SightLine::from_above(3.0, 0.5), &plate()), None);
    }

    #[test]
    fn links_follow_the_axes_or_the_plane_that_faces_the_viewer() {
        let eye = eye(&SightLine::from_above(1.0, 0.5), &plate()).unwrap();
        let end = |x, y| ground_end(&SightLine::from_above(x, y), &plate(), &eye, Space::Spatial);
        assert_eq!(end(3.0, 0.58), Some(Coordinates::Space([3.0, 0.5, 0.0])));
        assert_eq!(end(1.1, -2.0), Some(Coordinates::Space([1.0, -2.0, 0.0])));
        assert_eq!(end(3.0, 1.2), Some(Coordinates::Space([3.0, 1.2, 0.0])));
        assert_eq!(end(1.001, 0.5), None, "no length");
    }
}
