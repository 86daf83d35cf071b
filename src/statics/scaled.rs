//! Six-vectors whose halves have one unit, so that they have a length: each type says how the characteristic length L is in it.
//!
//! Rows of a matrix are read as one of these where they leave it; numbers alone do not say how they are scaled.

use std::ops::{Add, Deref, Div, Mul, Neg, Sub};

use nalgebra::Vector6;

macro_rules! six_vector {
    ($(#[$of:meta])* $name:ident) => {
        $(#[$of])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub(crate) struct $name(Vector6<f64>);

        impl $name {
            /// Numbers that are scaled in this way.
            pub(crate) fn of(numbers: Vector6<f64>) -> Self {
                Self(numbers)
            }
        }

        impl Deref for $name {
            type Target = Vector6<f64>;

            fn deref(&self) -> &Vector6<f64> {
                &self.0
            }
        }

        impl From<Vector6<f64>> for $name {
            fn from(numbers: Vector6<f64>) -> Self {
                Self(numbers)
            }
        }

        impl Add for $name {
            type Output = Self;

            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;

            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;

            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;

            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;

            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
    };
}

six_vector!(
    /// `(v; L w)`: both halves have the unit of a velocity.
    ScaledTwist
);

six_vector!(
    /// `(f; m / L)`: both halves have the unit of a force. Its dot product with a [`ScaledTwist`] is a power.
    ScaledWrench
);

six_vector!(
    /// `(v / L; w)`: both halves are rates of turning.
    RelativeTwist
);

impl ScaledTwist {
    /// The same at size one.
    pub(crate) fn unit(self) -> Self {
        Self(self.0.normalize())
    }

    /// The same motion in characteristic lengths.
    pub(crate) fn relative(self, length: f64) -> RelativeTwist {
        RelativeTwist(self.0 / length)
    }
}

impl RelativeTwist {
    /// The same at size one.
    pub(crate) fn unit(self) -> Self {
        Self(self.0.normalize())
    }

    /// The same motion in metres.
    pub(crate) fn scaled(self, length: f64) -> ScaledTwist {
        ScaledTwist(self.0 * length)
    }
}
