//! Angle bracket: an L-shaped (or V-shaped) profile, long along the shared edge, and a triangular gusset.
//!
//! The middle planes of the legs meet at the shared edge and their faces are mitred there. The gusset fills only the space
//! between the legs' inner faces, so that nothing is counted twice. Legs too short for their thickness at a sharp angle are
//! a solid wedge.

use nalgebra::Matrix3;

use super::locate::SolidPlaces;
use super::outline::{self, Corner};
use super::prism::Prism;
use super::surface::{Frame, Surface, unit};
use super::{Finish, SolidPiece, VolumeProperties};
use crate::scene::Bracket;

/// Legs this close to one line (sine of the angle) span no plane.
const ONE_LINE: f64 = 1e-9;

/// Bracket in SI units: legs and gusset.
pub(super) struct BracketPiece {
    legs: Prism,
    gusset: Option<Prism>,
}

/// The bracket seen along its shared edge: one leg along x, the other at an angle below 180°.
struct BracketProfile {
    lengths: [f64; 2],
    /// Unit vector along the second leg.
    second: Corner,
    half_thickness: f64,
}

impl BracketPiece {
    /// `None` for an unknown place, legs on one line, or a length that is not above 0.
    pub(super) fn resolve(places: &SolidPlaces, bracket: &Bracket) -> Option<Self> {
        let corner = places.point(&bracket.corner)?;
        let first = places.point(&bracket.legs[0])? - corner;
        let second = places.point(&bracket.legs[1])? - corner;
        let (x, along_second) = (unit(first)?, unit(second)?);
        let across = x.cross(&along_second);
        if across.norm() < ONE_LINE {
            return None;
        }
        let z = unit(across)?;
        let y = z.cross(&x);
        let frame = Frame {
            origin: corner,
            axes: [x, y, z],
        };
        let thickness = places.length(bracket.thickness)?;
        let width = places.length(bracket.width)?;
        let profile = BracketProfile {
            lengths: [first.norm(), second.norm()],
            second: Corner::new(along_second.dot(&x), along_second.dot(&y)),
            half_thickness: thickness / 2.0,
        };
        let reach = places.length_or_zero(bracket.gusset);
        let gusset = profile.gusset(reach).and_then(|outline| {
            // Bevels only on the free edge: the others touch the legs.
            Prism::new(frame, outline, thickness.min(width))
                .map(|prism| prism.chamfered_at(&[false, true, false]))
        });
        let legs = Prism::new(frame, profile.legs(), width)?.of_thickness(thickness);
        Some(Self { legs, gusset })
    }
}

impl SolidPiece for BracketPiece {
    fn draw(&self, finish: Finish, surface: &mut Surface) -> Option<()> {
        self.legs.draw(finish, surface)?;
        match &self.gusset {
            Some(gusset) => gusset.draw(finish, surface),
            None => Some(()),
        }
    }

    fn mass_properties(&self) -> Option<VolumeProperties> {
        let legs = self.legs.mass_properties()?;
        match &self.gusset {
            Some(gusset) => VolumeProperties::sum([legs, gusset.mass_properties()?]),
            None => Some(legs),
        }
    }

    fn spread(&self) -> Option<Matrix3<f64>> {
        let centre = self.mass_properties()?.centroid;
        let prisms = std::iter::once(&self.legs).chain(&self.gusset);
        prisms
            .map(|prism| {
                Some(
                    prism
                        .mass_properties()?
                        .spread_about(&centre, prism.spread()?),
                )
            })
            .sum()
    }
}

impl BracketProfile {
    /// Where the inner faces of the legs meet.
    fn inner_corner(&self) -> Corner {
        // Half the angle's cotangent, (1 + cos) / sin.
        let cotangent = (1.0 + self.second.x) / self.second.y;
        Corner::new(cotangent, 1.0) * self.half_thickness
    }

    /// From the middle plane of the second leg to its inner face.
    fn inwards_of_second(&self) -> Corner {
        Corner::new(self.second.y, -self.second.x) * self.half_thickness
    }

    /// Outline of both legs, counter-clockwise.
    fn legs(&self) -> Vec<Corner> {
        let half = self.half_thickness;
        let inner = self.inner_corner();
        let [first, second] = self.lengths;
        let end = self.second * second;
        let l_shape = vec![
            -inner,
            Corner::new(first, -half),
            Corner::new(first, half),
            inner,
            end + self.inwards_of_second(),
            end - self.inwards_of_second(),
        ];
        if inner.x < first.min(second) && outline::is_simple(&l_shape) {
            return l_shape;
        }
        vec![
            -inner,
            Corner::new(first, -half),
            end - self.inwards_of_second(),
        ]
    }

    /// Outline of the gusset between the inner faces, counter-clockwise from their meeting; `None` if it does not reach past it.
    fn gusset(&self, reach: f64) -> Option<Vec<Corner>> {
        let inner = self.inner_corner();
        let [first, second] = self.lengths.map(|length| reach.min(length));
        (inner.x < first.min(second)).then(|| {
            vec![
                inner,
                Corner::new(first, self.half_thickness),
                self.second * second + self.inwards_of_second(),
            ]
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::scene::solid::of_shape;
    use crate::scene::solid::testing::{check, scene, spatial};
    use crate::scene::{Bracket, Shape};

    fn bracket(legs: [[f64; 3]; 2], thickness: f64, gusset: f64) -> Shape {
        Shape::Bracket(Bracket {
            corner: spatial([0.0; 3]),
            legs: legs.map(spatial),
            width: 2.0,
            thickness,
            gusset,
        })
    }

    /// By hand: the profile is a 3.1 × 0.2 and a 0.2 × 1.9 rectangle; the gusset is half of 0.9 × 0.9, 0.2 thick.
    #[test]
    fn a_right_angle_agrees_with_its_rectangles() {
        let shape = bracket([[3.0, 0.0, 0.0], [0.0, 0.0, 2.0]], 0.2, 1.0);
        let bulk = check(&scene(), &shape, 1e-9);
        let volume = (3.1 * 0.2 + 0.2 * 1.9) * 2.0 + 0.405 * 0.2;
        assert!((bulk.volume - volume).abs() < 1e-12, "{bulk:?}");
        let moment_x = (0.62 * 1.45) * 2.0 + 0.405 * 0.2 * 0.4;
        assert!((bulk.centroid.x - moment_x / volume).abs() < 1e-12);
        assert!(bulk.centroid.y.abs() < 1e-12);
    }

    #[test]
    fn any_angle_gives_a_closed_solid() {
        for degrees in [5.0_f64, 30.0, 60.0, 120.0, 170.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            for gusset in [0.0, 0.5, 9.0] {
                let legs = [[3.0, 0.0, 0.0], [2.0 * cos, 2.0 * sin, 0.0]];
                check(&scene(), &bracket(legs, 0.2, gusset), 1e-9);
            }
        }
    }

    #[test]
    fn legs_on_one_line_give_no_solid() {
        let shape = bracket([[3.0, 0.0, 0.0], [-1.0, 0.0, 0.0]], 0.2, 0.0);
        assert!(of_shape(&scene(), &shape).is_none());
    }
}
