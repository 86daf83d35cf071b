//! A plate that anchors hold on a wall: its size, the pattern of its anchors, and how stiff they and the wall are.
//!
//! Places on the plate are counted from its middle, as seen from in front of it: x to the right, y upwards.

use super::Coordinates;

/// A plate with anchors. Seen from in front, against its normal.
#[derive(Debug, Clone, PartialEq)]
pub struct AnchorPlate {
    /// Width and height, in the scene's length unit, > 0.
    pub size: [f64; 2],
    /// What is up on it, any length, made square to the normal; `None` takes the scene's z axis, or its y axis where the normal runs
    /// along z.
    pub upright: Option<Coordinates>,
    /// Where its anchors are.
    pub anchors: AnchorPattern,
    /// How stiff each anchor is against being pulled out, force per length, > 0; `None` where nothing is said of it.
    pub pull_stiffness: Option<f64>,
    /// How stiff the wall is under the plate, force per length and area, > 0; `None` where nothing is said of it.
    pub bedding: Option<f64>,
}

/// Where the anchors of a plate are.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum AnchorPattern {
    /// Rows and columns around the middle of the plate.
    Grid {
        /// How many beside each other, ≥ 1.
        columns: u32,
        /// How many above each other, ≥ 1.
        rows: u32,
        /// Distances from column to column and from row to row, > 0.
        spacing: [f64; 2],
    },
    /// On a circle around the middle of the plate, the first to the right of it.
    Circle {
        /// How many, ≥ 1.
        count: u32,
        /// Diameter of the circle, > 0.
        diameter: f64,
    },
    /// One by one.
    List {
        /// Where they are on the plate.
        places: Vec<[f64; 2]>,
    },
}

impl AnchorPattern {
    /// How many anchors there are.
    pub fn count(&self) -> usize {
        match self {
            Self::Grid { columns, rows, .. } => *columns as usize * *rows as usize,
            Self::Circle { count, .. } => *count as usize,
            Self::List { places } => places.len(),
        }
    }

    /// Where each anchor is on the plate, row by row from below, on a circle counter-clockwise.
    pub fn places(&self) -> Vec<[f64; 2]> {
        match self {
            Self::Grid {
                columns,
                rows,
                spacing,
            } => {
                let along = |index: u32, count: u32, spacing: f64| {
                    (f64::from(index) - f64::from(count - 1) / 2.0) * spacing
                };
                let row = |row| {
                    (0..*columns).map(move |column| {
                        [
                            along(column, *columns, spacing[0]),
                            along(row, *rows, spacing[1]),
                        ]
                    })
                };
                (0..*rows).flat_map(row).collect()
            }
            Self::Circle { count, diameter } => {
                let place = |index: u32| {
                    let turn = f64::from(index) / f64::from(*count);
                    let (sine, cosine) = (std::f64::consts::TAU * turn).sin_cos();
                    [cosine * diameter / 2.0, sine * diameter / 2.0]
                };
                (0..*count).map(place).collect()
            }
            Self::List { places } => places.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patterns_lie_around_the_middle() {
        let grid = AnchorPattern::Grid {
            columns: 3,
            rows: 2,
            spacing: [10.0, 4.0],
        };
        assert_eq!(grid.places()[0], [-10.0, -2.0]);
        assert_eq!(grid.places()[5], [10.0, 2.0]);
        let circle = AnchorPattern::Circle {
            count: 4,
            diameter: 2.0,
        };
        assert_eq!((grid.count(), circle.count()), (6, 4));
        assert_eq!(circle.places()[0], [1.0, 0.0]);
        let above = circle.places()[1];
        assert!(above[0].abs() < 1e-15 && above[1] == 1.0);
    }
}
