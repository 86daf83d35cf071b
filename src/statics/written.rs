//! Directions as they follow from written decimals, kept unnormalised so that they can be ranked exactly.

use nalgebra::{Unit, Vector3};

/// A direction built from the decimals of a scene by differences and cross products only.
///
/// Its length means nothing: the rank of a set of reactions does not depend on it.
#[derive(Debug, Clone, PartialEq)]
pub enum WrittenDirection {
    /// Components as written.
    Vector([f64; 3]),
    /// From one written position to another.
    Between {
        /// Start, in the scene's length unit.
        from: [f64; 3],
        /// End, in the scene's length unit.
        to: [f64; 3],
    },
    /// Cross product of two directions.
    Cross(Box<WrittenDirection>, Box<WrittenDirection>),
    /// Planar angle in degrees from +x; exact only at multiples of 90.
    Angle(f64),
}

impl WrittenDirection {
    /// A direction along a scene axis.
    pub fn axis(index: usize) -> Self {
        let mut components = [0.0; 3];
        components[index] = 1.0;
        Self::Vector(components)
    }

    /// `self × other`.
    #[must_use]
    pub fn cross(self, other: Self) -> Self {
        Self::Cross(Box::new(self), Box::new(other))
    }

    /// The direction rounded to numbers; `None` where it has no length.
    pub fn unit(&self) -> Option<Unit<Vector3<f64>>> {
        Unit::try_new(self.rounded(), 0.0)
    }

    /// Scaled to order one before anything is multiplied, so that no written size overflows.
    fn rounded(&self) -> Vector3<f64> {
        let components = match self {
            Self::Vector(components) => Vector3::from(*components),
            Self::Between { from, to } => Vector3::from(*to) - Vector3::from(*from),
            Self::Cross(left, right) => left.rounded().cross(&right.rounded()),
            Self::Angle(degrees) => match Self::quarter_turns(*degrees) {
                Some([x, y]) => Vector3::new(f64::from(x), f64::from(y), 0.0),
                None => {
                    let (sine, cosine) = degrees.to_radians().sin_cos();
                    Vector3::new(cosine, sine, 0.0)
                }
            },
        };
        let largest = components.amax();
        if largest > 0.0 {
            components / largest
        } else {
            components
        }
    }

    /// Whether the decimals determine the direction exactly.
    pub fn is_exact(&self) -> bool {
        match self {
            Self::Vector(_) | Self::Between { .. } => true,
            Self::Cross(left, right) => left.is_exact() && right.is_exact(),
            Self::Angle(degrees) => Self::quarter_turns(*degrees).is_some(),
        }
    }

    /// Every number that the direction is built from, in a fixed order.
    pub(super) fn visit_numbers(&self, visit: &mut impl FnMut(f64)) {
        match self {
            Self::Vector(components) => components.iter().for_each(|number| visit(*number)),
            Self::Between { from, to } => from.iter().chain(to).for_each(|number| visit(*number)),
            Self::Cross(left, right) => {
                left.visit_numbers(visit);
                right.visit_numbers(visit);
            }
            Self::Angle(degrees) if Self::quarter_turns(*degrees).is_none() => {
                let (sine, cosine) = degrees.to_radians().sin_cos();
                visit(cosine);
                visit(sine);
            }
            Self::Angle(_) => {}
        }
    }

    /// The direction with each of its written numbers changed, in a fixed order; angles that are multiples of 90
    /// degrees stay.
    pub(super) fn map_numbers(self, change: &mut impl FnMut(f64) -> f64) -> Self {
        match self {
            Self::Vector(components) => Self::Vector(components.map(change)),
            Self::Between { from, to } => Self::Between {
                from: from.map(&mut *change),
                to: to.map(change),
            },
            Self::Cross(left, right) => {
                let left = left.map_numbers(change);
                Self::Cross(Box::new(left), Box::new(right.map_numbers(change)))
            }
            Self::Angle(degrees) if Self::quarter_turns(degrees).is_none() => {
                Self::Angle(change(degrees))
            }
            angle @ Self::Angle(_) => angle,
        }
    }

    /// log₂ of a bound on the components, given that of the numbers they are built from.
    pub(super) fn bits(&self, numbers: f64) -> f64 {
        match self {
            Self::Vector(_) | Self::Angle(_) => numbers,
            Self::Between { .. } => numbers + 1.0,
            Self::Cross(left, right) => left.bits(numbers) + right.bits(numbers) + 1.0,
        }
    }

    /// Sine and cosine of an angle that is a multiple of 90 degrees, cosine first.
    pub(super) fn quarter_turns(degrees: f64) -> Option<[i8; 2]> {
        match degrees.rem_euclid(360.0) {
            0.0 => Some([1, 0]),
            90.0 => Some([0, 1]),
            180.0 => Some([-1, 0]),
            270.0 => Some([0, -1]),
            _ => None,
        }
    }
}
