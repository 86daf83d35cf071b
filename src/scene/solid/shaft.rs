//! Straight round shaft.

use std::f64::consts::PI;

use nalgebra::Matrix3;

use super::centre_line::{CentreLine, CentreLinePiece};
use super::locate::SolidPlaces;
use super::revolve::Profile;
use super::round::RoundPart;
use super::surface::{Frame, Surface, unit};
use super::{Finish, SolidPiece, VolumeProperties};
use crate::scene::Shaft;

/// Shaft in SI units, about the frame's third axis.
pub(super) struct ShaftPiece {
    frame: Frame,
    radius: f64,
    half_length: f64,
}

impl ShaftPiece {
    /// `None` for an unknown place, ends that coincide, or a diameter that is not above 0.
    pub(super) fn resolve(places: &SolidPlaces, shaft: &Shaft) -> Option<Self> {
        let (from, to) = (places.point(&shaft.from)?, places.point(&shaft.to)?);
        let axis = unit(to - from)?;
        Some(Self {
            frame: Frame::around(nalgebra::center(&from, &to), axis),
            radius: places.length(shaft.diameter)? / 2.0,
            half_length: (to - from).norm() / 2.0,
        })
    }
}

impl ShaftPiece {
    pub(super) fn centre_line(&self) -> CentreLine {
        let end = |side: f64| self.frame.point([0.0, 0.0, side * self.half_length]);
        CentreLine {
            pieces: vec![CentreLinePiece::Straight {
                ends: [end(-1.0), end(1.0)],
            }],
            radius: self.radius,
        }
    }
}

impl SolidPiece for ShaftPiece {
    fn draw(&self, finish: Finish, surface: &mut Surface) -> Option<()> {
        let (radius, end) = (self.radius, self.half_length);
        let chamfer = finish.chamfer * 2.0 * radius.min(end);
        let mut profile = Profile::from([0.0, -end]);
        profile.line([radius - chamfer, -end]);
        profile.line([radius, chamfer - end]);
        profile.rim();
        profile.line([radius, end - chamfer]);
        profile.rim();
        profile.line([radius - chamfer, end]);
        profile.line([0.0, end]);
        profile.draw(&self.frame, finish.around, surface);
        Some(())
    }

    /// Cylinder with sharp ends (exact).
    fn mass_properties(&self) -> Option<VolumeProperties> {
        Some(VolumeProperties {
            volume: PI * self.radius * self.radius * 2.0 * self.half_length,
            centroid: self.frame.origin,
        })
    }

    /// Cylinder: V r² / 4 across, V l² / 12 along.
    ///
    /// Source: Beer & Johnston, *Vector Mechanics for Engineers: Dynamics*, table of mass moments of inertia of common
    /// shapes, of which these are the parts.
    fn spread(&self) -> Option<Matrix3<f64>> {
        let volume = self.mass_properties()?.volume;
        let (across, along) = (self.radius.powi(2) / 4.0, self.half_length.powi(2) / 3.0);
        Some(self.frame.round_matrix(volume * across, volume * along))
    }

    fn round_parts(&self) -> Vec<RoundPart> {
        vec![RoundPart {
            centre: self.frame.origin,
            axis: self.frame.axes[2],
            half_length: self.half_length,
            radius: self.radius,
        }]
    }
}

#[cfg(test)]
mod tests {
    use crate::scene::solid::of_shape;
    use crate::scene::solid::testing::{check, scene, spatial};
    use crate::scene::{Shaft, Shape};

    fn shaft(to: [f64; 3]) -> Shape {
        Shape::Shaft(Shaft {
            from: spatial([1.0, 2.0, 3.0]),
            to: spatial(to),
            diameter: 0.5,
        })
    }

    #[test]
    fn a_leaning_shaft_is_a_cylinder() {
        let bulk = check(&scene(), &shaft([4.0, 2.0, 7.0]), 1e-3);
        assert!((bulk.volume - std::f64::consts::PI * 0.0625 * 5.0).abs() < 1e-12);
        assert!((bulk.centroid - nalgebra::point![2.5, 2.0, 5.0]).norm() < 1e-12);
        check(&scene(), &shaft([1.0, 2.0, 3.01]), 1e-3);
    }

    #[test]
    fn ends_that_coincide_give_no_solid() {
        assert!(of_shape(&scene(), &shaft([1.0, 2.0, 3.0])).is_none());
    }
}
