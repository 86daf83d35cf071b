//! Solids of revolution: a profile turned about the third axis of a frame.

use nalgebra::Point3;

use super::surface::{Frame, Surface, Vertex};

/// Point of a profile: distance from the axis and position along it.
pub(super) type ProfilePoint = [f64; 2];

/// Stretch of a profile, with the unit normals (away from the axis, along it) at both ends.
struct ProfileStretch {
    ends: [ProfilePoint; 2],
    normals: [[f64; 2]; 2],
}

/// Profile of a solid of revolution, drawn so that the material lies to the left: upwards along its outside.
pub(super) struct Profile {
    at: ProfilePoint,
    stretches: Vec<ProfileStretch>,
    rims: Vec<ProfilePoint>,
}

impl Profile {
    pub(super) fn from(at: ProfilePoint) -> Self {
        Self {
            at,
            stretches: Vec::new(),
            rims: Vec::new(),
        }
    }

    /// Straight on to a point, flat or conical.
    pub(super) fn line(&mut self, to: ProfilePoint) {
        let (out, along) = (to[0] - self.at[0], to[1] - self.at[1]);
        let length = out.hypot(along);
        if length > 0.0 {
            let normal = [along / length, -out / length];
            self.smooth(normal, to, normal);
        }
    }

    /// On to a point with the surface curved between two normals.
    pub(super) fn smooth(&mut self, leaving: [f64; 2], to: ProfilePoint, arriving: [f64; 2]) {
        self.stretches.push(ProfileStretch {
            ends: [self.at, to],
            normals: [leaving, arriving],
        });
        self.at = to;
    }

    /// Marks the circle through the present point as an edge to draw.
    pub(super) fn rim(&mut self) {
        self.rims.push(self.at);
    }

    /// Adds the surface of the profile turned about the frame's third axis.
    pub(super) fn draw(&self, frame: &Frame, around: usize, surface: &mut Surface) {
        for stretch in &self.stretches {
            let [near, far] =
                [0, 1].map(|i| ring(frame, around, stretch.ends[i], stretch.normals[i]));
            surface.band(&near, &far);
        }
        for &rim in &self.rims {
            let points: Vec<Point3<f64>> = ring(frame, around, rim, [1.0, 0.0])
                .into_iter()
                .map(|(point, _)| point)
                .collect();
            surface.rim(&points);
        }
    }
}

/// Circle of vertices about the frame's third axis, right-handed.
fn ring(frame: &Frame, around: usize, at: ProfilePoint, normal: [f64; 2]) -> Vec<Vertex> {
    (0..around)
        .map(|i| {
            let (sin, cos) = (std::f64::consts::TAU * i as f64 / around as f64).sin_cos();
            let point = frame.point([at[0] * cos, at[0] * sin, at[1]]);
            let normal = frame.vector([normal[0] * cos, normal[0] * sin, normal[1]]);
            (point, normal)
        })
        .collect()
}
