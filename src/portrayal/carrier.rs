//! What a drawn thing moves with, and where that takes it.

use nalgebra::{Isometry3, Point3, UnitQuaternion, Vector3};

/// What a thing moves with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Carrier {
    /// The ground: it never moves.
    Ground,
    /// The body: it turns with it.
    Body,
    /// The rod between the ground and the body: it turns about its ground end and reaches to its eye on the body.
    Rod {
        /// Ground end, m.
        ground: Point3<f64>,
        /// Eye of the body as written, m.
        eye: Point3<f64>,
    },
    /// A point of the body, without turning: rollers, wheels and shoes on a surface.
    Point(Point3<f64>),
}

/// Where a carrier takes what it carries, for a placement of the body.
#[derive(Debug, Clone, Copy)]
pub struct CarrierPose {
    turn: UnitQuaternion<f64>,
    from: Point3<f64>,
    to: Point3<f64>,
    /// Direction along which lengths change, and by how much more: a motion of the first instant alters those of links.
    stretch: (Vector3<f64>, f64),
}

impl Carrier {
    /// Where it takes what it carries when the body is placed there.
    pub fn carried(&self, body: &Isometry3<f64>) -> CarrierPose {
        let mut carried = CarrierPose {
            turn: UnitQuaternion::identity(),
            from: Point3::origin(),
            to: Point3::origin(),
            stretch: (Vector3::zeros(), 0.0),
        };
        match self {
            Self::Ground => {}
            Self::Body => {
                carried.turn = body.rotation;
                carried.to += body.translation.vector;
            }
            Self::Point(point) => (carried.from, carried.to) = (*point, body * point),
            Self::Rod { ground, eye } => {
                (carried.from, carried.to) = (*ground, *ground);
                let (before, now) = (eye - ground, body * eye - ground);
                if let Some(turn) = UnitQuaternion::rotation_between(&before, &now) {
                    carried.turn = turn;
                }
                if let Some(along) = before.try_normalize(0.0) {
                    carried.stretch = (along, now.norm() / before.norm() - 1.0);
                }
            }
        }
        carried
    }
}

impl CarrierPose {
    /// Where a point is now.
    pub fn point(&self, point: &Point3<f64>) -> Point3<f64> {
        let off = point - self.from;
        let (along, more) = self.stretch;
        self.to + self.turn * (off + along * (along.dot(&off) * more))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn placement() -> Isometry3<f64> {
        Isometry3::new(Vector3::new(0.4, -0.2, 0.1), Vector3::new(0.2, 0.5, -0.3))
    }

    #[test]
    fn a_rod_keeps_its_ground_end_and_reaches_its_eye() {
        let (eye, ground) = (Point3::new(1.0, 2.0, 3.0), Point3::new(1.0, 2.0, 1.0));
        let carried = Carrier::Rod { ground, eye }.carried(&placement());
        assert_eq!(carried.point(&ground), ground);
        assert!((carried.point(&eye) - placement() * eye).norm() < 1e-12);
        // A point beside the rod keeps its distance from it.
        let beside = carried.point(&(ground + Vector3::x() * 0.1));
        let along = (placement() * eye - ground).normalize();
        assert!((beside - ground).dot(&along).abs() < 1e-12);
        assert!(((beside - ground).norm() - 0.1).abs() < 1e-12);
    }

    #[test]
    fn each_carrier_goes_its_own_way() {
        let (at, other) = (Point3::new(1.0, 0.0, 0.0), Point3::new(0.0, 3.0, 0.0));
        let body = placement();
        assert_eq!(Carrier::Ground.carried(&body).point(&other), other);
        let ridden = Carrier::Body.carried(&body).point(&other);
        assert!((ridden - body * other).norm() < 1e-12);
        let shifted = Carrier::Point(at).carried(&body).point(&other);
        assert!((shifted - other - (body * at - at)).norm() < 1e-12);
    }
}
