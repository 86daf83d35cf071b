//! Disc, wheel or pulley: a cylinder with a bore and a rounded rope groove.
//!
//! The groove's section is half an ellipse: as deep as written, as wide as a half circle of that depth but no wider than
//! the share [`WIDEST_GROOVE`] of the thickness, and never deeper than the share [`DEEPEST_GROOVE`] of the web.

use std::f64::consts::{FRAC_PI_2, PI};

use nalgebra::{Matrix3, Point3, Vector3};

use super::locate::SolidPlaces;
use super::revolve::Profile;
use super::round::RoundPart;
use super::surface::{Frame, Surface};
use super::{Finish, SolidPiece, VolumeProperties};
use crate::scene::{Disc, Scene, Shape};

/// Widest groove, relative to the thickness; the rest is left as flanges.
const WIDEST_GROOVE: f64 = 0.8;

/// Deepest groove, relative to the distance from bore to rim.
const DEEPEST_GROOVE: f64 = 0.8;

/// Disc in SI units, about the frame's third axis.
pub(super) struct DiscPiece {
    frame: Frame,
    radius: f64,
    half_thickness: f64,
    bore_radius: f64,
    groove_depth: f64,
}

/// The outside of a disc, in m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rim {
    /// At half the thickness.
    pub centre: Point3<f64>,
    /// Unit vector.
    pub axis: Vector3<f64>,
    /// Outer radius.
    pub radius_m: f64,
    /// Half the thickness.
    pub half_thickness_m: f64,
}

/// The rims of the body's discs, in scene order; discs that cannot be resolved are skipped.
pub fn rims(scene: &Scene) -> Vec<Rim> {
    let places = SolidPlaces::new(scene);
    let discs = scene.body.iter().filter_map(|shape| match shape {
        Shape::Disc(disc) => DiscPiece::resolve(&places, disc),
        _ => None,
    });
    let rim = |disc: DiscPiece| Rim {
        centre: disc.frame.origin,
        axis: disc.frame.axes[2],
        radius_m: disc.radius,
        half_thickness_m: disc.half_thickness,
    };
    discs.map(rim).collect()
}

impl DiscPiece {
    /// `None` for an unknown place, a zero axis, a length that is not above 0, or a bore as wide as the disc.
    pub(super) fn resolve(places: &SolidPlaces, disc: &Disc) -> Option<Self> {
        let centre = places.point(&disc.centre)?;
        let axis = match &disc.axis {
            Some(direction) => places.direction(direction, &centre)?,
            None => Vector3::z(),
        };
        let radius = places.length(disc.diameter)? / 2.0;
        let bore_radius = places.length_or_zero(disc.bore) / 2.0;
        let web = radius - bore_radius;
        (web > 0.0).then_some(())?;
        Some(Self {
            frame: Frame::around(centre, axis),
            radius,
            half_thickness: places.length(disc.thickness)? / 2.0,
            bore_radius,
            groove_depth: places.length_or_zero(disc.groove).min(DEEPEST_GROOVE * web),
        })
    }

    fn groove_half_width(&self) -> f64 {
        self.groove_depth.min(WIDEST_GROOVE * self.half_thickness)
    }

    fn draw_groove(&self, around: usize, profile: &mut Profile) {
        let (depth, half_width) = (self.groove_depth, self.groove_half_width());
        if depth <= 0.0 {
            return;
        }
        let normal = |angle: f64| {
            let (out, along) = (angle.cos() / depth, -angle.sin() / half_width);
            let length = out.hypot(along);
            [out / length, along / length]
        };
        profile.line([self.radius, -half_width]);
        profile.rim();
        let steps = around.div_ceil(2);
        let angle = |i: usize| PI * i as f64 / steps as f64 - FRAC_PI_2;
        for i in 1..=steps {
            // The last point is the rim itself, free of the rounding of a cosine.
            let out = if i == steps { 0.0 } else { angle(i).cos() };
            let to = [self.radius - depth * out, half_width * angle(i).sin()];
            profile.smooth(normal(angle(i - 1)), to, normal(angle(i)));
        }
        profile.rim();
    }
}

impl SolidPiece for DiscPiece {
    fn draw(&self, finish: Finish, surface: &mut Surface) -> Option<()> {
        let (outer, bore, face) = (self.radius, self.bore_radius, self.half_thickness);
        let chamfer = finish.chamfer * (2.0 * face).min(outer - bore);
        let hollow = bore > 0.0;
        let inner = if hollow { bore + chamfer } else { 0.0 };
        let mut profile = Profile::from([bore, if hollow { face - chamfer } else { -face }]);
        if hollow {
            profile.rim();
            profile.line([bore, chamfer - face]);
            profile.rim();
            profile.line([inner, -face]);
        }
        profile.line([outer - chamfer, -face]);
        profile.line([outer, chamfer - face]);
        profile.rim();
        self.draw_groove(finish.around, &mut profile);
        profile.line([outer, face - chamfer]);
        profile.rim();
        profile.line([outer - chamfer, face]);
        profile.line([inner, face]);
        if hollow {
            profile.line([bore, face - chamfer]);
        }
        profile.draw(&self.frame, finish.around, surface);
        Some(())
    }

    /// Hollow cylinder less the groove, with sharp edges (exact).
    ///
    /// Source: second theorem of Pappus for the groove, with the centroid of half an ellipse 4d / 3π below its chord.
    fn mass_properties(&self) -> Option<VolumeProperties> {
        let (depth, half_width) = (self.groove_depth, self.groove_half_width());
        let ring = PI * (self.radius.powi(2) - self.bore_radius.powi(2));
        let groove_section = FRAC_PI_2 * half_width * depth;
        let groove_radius = self.radius - 4.0 * depth / (3.0 * PI);
        Some(VolumeProperties {
            volume: ring * 2.0 * self.half_thickness - 2.0 * PI * groove_radius * groove_section,
            centroid: self.frame.origin,
        })
    }

    /// Hollow cylinder, with the same source as a shaft, less the groove.
    ///
    /// Across is half the integral of the square of the distance ρ from the axis. In the groove, u depths below the rim of
    /// radius R, ρ = R − u d and half the width is w √(1 − u²): ∫ρ² dV = 4π w d ∫(R − u d)³ √(1 − u²) du and
    /// ∫z² dV = (4π/3) w³ d ∫(R − u d) (1 − u²)^{3/2} du over 0..1.
    fn spread(&self) -> Option<Matrix3<f64>> {
        let (outer, bore, half) = (self.radius, self.bore_radius, self.half_thickness);
        let ring = FRAC_PI_2 * (outer.powi(4) - bore.powi(4)) * 2.0 * half;
        let ring_along = PI * (outer.powi(2) - bore.powi(2)) * 2.0 * half.powi(3) / 3.0;
        let (depth, width) = (self.groove_depth, self.groove_half_width());
        // ∫ uᵏ √(1 − u²) du for k = 0 to 3, and ∫ uᵏ (1 − u²)^{3/2} du for k = 0 and 1.
        let roots = [PI / 4.0, 1.0 / 3.0, PI / 16.0, 2.0 / 15.0];
        let cubes = [3.0 * PI / 16.0, 1.0 / 5.0];
        let groove = outer.powi(3) * roots[0] - 3.0 * outer.powi(2) * depth * roots[1]
            + 3.0 * outer * depth.powi(2) * roots[2]
            - depth.powi(3) * roots[3];
        let groove = 4.0 * PI * width * depth * groove;
        let groove_along = outer * cubes[0] - depth * cubes[1];
        let groove_along = 4.0 * PI / 3.0 * width.powi(3) * depth * groove_along;
        let across = (ring - groove) / 2.0;
        Some(self.frame.round_matrix(across, ring_along - groove_along))
    }

    fn round_parts(&self) -> Vec<RoundPart> {
        vec![RoundPart {
            centre: self.frame.origin,
            axis: self.frame.axes[2],
            half_length: self.half_thickness,
            radius: self.radius,
        }]
    }
}

#[cfg(test)]
mod tests {
    use crate::scene::solid::of_shape;
    use crate::scene::solid::testing::{check, scene, spatial};
    use crate::scene::{Coordinates, Direction, Disc, Shape};

    fn disc(bore: f64, groove: f64) -> Shape {
        Shape::Disc(Disc {
            centre: spatial([1.0, 2.0, 3.0]),
            axis: Some(Direction::Along(Coordinates::Space([1.0, 1.0, 0.0]))),
            diameter: 2.0,
            thickness: 0.4,
            bore,
            groove,
        })
    }

    #[test]
    fn closed_with_and_without_bore_and_groove() {
        for bore in [0.0, 0.3] {
            for groove in [0.0, 0.1, 0.3, 5.0] {
                check(&scene(), &disc(bore, groove), 1e-3);
            }
        }
    }

    #[test]
    fn a_plain_disc_is_a_cylinder() {
        let bulk = check(&scene(), &disc(0.0, 0.0), 1e-3);
        assert!((bulk.volume - std::f64::consts::PI * 0.4).abs() < 1e-12);
    }

    #[test]
    fn a_bore_as_wide_as_the_disc_gives_no_solid() {
        assert!(of_shape(&scene(), &disc(2.0, 0.0)).is_none());
    }
}
