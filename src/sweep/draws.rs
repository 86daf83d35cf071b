//! Random numbers of a placement, by its number alone: a share of a sweep draws just what the whole sweep draws there.
//!
//! ChaCha is a counter-based generator: its stream is chosen by the number of the placement, its key by the seed. Logarithm, sine
//! and cosine are those of the crate `libm`, which are the same on every machine.

use nalgebra::Vector3;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

use super::settings::Distribution;
use crate::scene::Space;

/// The random numbers of one placement after the other.
pub(super) struct Draws {
    generator: ChaCha8Rng,
    distribution: Distribution,
    space: Space,
}

impl Draws {
    pub(super) fn new(seed: u64, distribution: Distribution, space: Space) -> Self {
        Self {
            generator: ChaCha8Rng::seed_from_u64(seed),
            distribution,
            space,
        }
    }

    /// Goes to the numbers of a placement.
    pub(super) fn start(&mut self, placement: u64) {
        self.generator.set_stream(placement);
        self.generator.set_word_pos(0);
    }

    /// From 0 to 1, without 1: 53 random bits.
    fn part(&mut self) -> f64 {
        (self.generator.next_u64() >> 11) as f64 * (1.0 / (1u64 << 53) as f64)
    }

    /// Two independent normal numbers (Box & Muller 1958).
    fn normal(&mut self) -> [f64; 2] {
        let size = (-2.0 * libm::log(1.0 - self.part())).sqrt();
        let (sine, cosine) = libm::sincos(std::f64::consts::TAU * self.part());
        [size * cosine, size * sine]
    }

    /// A number: from −1 to 1, or normal of standard deviation 1.
    pub(super) fn number(&mut self) -> f64 {
        match self.distribution {
            Distribution::Uniform => 2.0 * self.part() - 1.0,
            Distribution::Normal => self.normal()[0],
        }
    }

    /// A factor that a part of what it multiplies may be off: never 0 or less where `is_positive`.
    pub(super) fn factor(&mut self, part: f64, is_positive: bool) -> f64 {
        let number = self.number();
        match (self.distribution, is_positive) {
            (Distribution::Normal, true) => libm::exp(libm::log1p(part) * number),
            _ => 1.0 + part * number,
        }
    }

    /// A point of the disc of radius 1, or two normal numbers.
    pub(super) fn in_disc(&mut self) -> [f64; 2] {
        match self.distribution {
            Distribution::Uniform => {
                let radius = self.part().sqrt();
                let (sine, cosine) = libm::sincos(std::f64::consts::TAU * self.part());
                [radius * cosine, radius * sine]
            }
            Distribution::Normal => self.normal(),
        }
    }

    /// A point of the ball of radius 1, or three normal numbers; in the plane of the disc.
    pub(super) fn in_ball(&mut self) -> Vector3<f64> {
        match (self.space, self.distribution) {
            (Space::Planar, _) => {
                let [x, y] = self.in_disc();
                Vector3::new(x, y, 0.0)
            }
            (Space::Spatial, Distribution::Uniform) => {
                let radius = libm::cbrt(self.part());
                let height = 2.0 * self.part() - 1.0;
                let (sine, cosine) = libm::sincos(std::f64::consts::TAU * self.part());
                let around = (1.0 - height * height).sqrt();
                Vector3::new(around * cosine, around * sine, height) * radius
            }
            (Space::Spatial, Distribution::Normal) => {
                let ([x, y], [z, _]) = (self.normal(), self.normal());
                Vector3::new(x, y, z)
            }
        }
    }

    /// A small turn of something that points along an axis, as a rotation vector: about whatever is square to the axis.
    pub(super) fn turn_of(&mut self, axis: &Vector3<f64>) -> Vector3<f64> {
        match self.space {
            Space::Planar => Vector3::new(0.0, 0.0, self.number()),
            Space::Spatial => {
                let first = axis.cross(&Vector3::ith(axis.iamin(), 1.0)).normalize();
                let [x, y] = self.in_disc();
                first * x + axis.cross(&first) * y
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const COUNT: u64 = 20_000;

    fn each(distribution: Distribution, mut of: impl FnMut(&mut Draws)) {
        let mut draws = Draws::new(7, distribution, Space::Spatial);
        for placement in 0..COUNT {
            draws.start(placement);
            of(&mut draws);
        }
    }

    /// The mean of the squared radius is 3/5 of that of a uniform ball, 1/2 of a disc; the variances of normal numbers are 1. Bounds are
    /// six standard errors.
    #[test]
    fn second_moments_are_those_of_the_distributions() {
        let mut sums = [0.0; 4];
        each(Distribution::Uniform, |draws| {
            let (ball, [x, y]) = (draws.in_ball(), draws.in_disc());
            assert!(ball.norm() <= 1.0 + 1e-15 && x.hypot(y) <= 1.0 + 1e-15);
            sums[0] += ball.norm_squared();
            sums[1] += x * x + y * y;
        });
        each(Distribution::Normal, |draws| {
            sums[2] += draws.in_ball().norm_squared() / 3.0;
            sums[3] += draws.number().powi(2);
        });
        let bound = 6.0 / (COUNT as f64).sqrt();
        for (sum, (mean, deviation)) in
            sums.into_iter()
                .zip([(0.6, 0.27), (0.5, 0.29), (1.0, 0.82), (1.0, 1.42)])
        {
            let found = sum / COUNT as f64;
            assert!(
                (found - mean).abs() < bound * deviation,
                "{found} is not {mean}"
            );
        }
    }

    #[test]
    fn a_turn_is_square_to_its_axis_and_a_stiffness_positive() {
        let axis = Vector3::new(1.0, 2.0, -3.0).normalize();
        each(Distribution::Normal, |draws| {
            assert!(draws.turn_of(&axis).dot(&axis).abs() < 1e-15 * 10.0);
            assert!(draws.factor(0.9, true) > 0.0);
        });
    }

    #[test]
    fn a_placement_draws_the_same_whatever_was_drawn_before() {
        let mut one = Draws::new(3, Distribution::Uniform, Space::Spatial);
        one.start(41);
        let (first, second) = (one.in_ball(), one.number());
        one.start(9);
        one.number();
        one.start(41);
        assert_eq!((one.in_ball(), one.number()), (first, second));
        one.start(42);
        assert_ne!(one.in_ball(), first);
    }
}
