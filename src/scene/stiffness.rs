//! How stiff a support is, where its author says so: for its forces, and for its couples.

/// The stiffnesses of a support as written; none are given by default.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SupportStiffness {
    /// Of its forces, in the scene's force per length; `None` where nothing is said of them.
    pub forces: Option<Stiffness>,
    /// Of its couples, in the scene's force times length per radian; `None` where nothing is said of them.
    pub couples: Option<Stiffness>,
}

/// One stiffness for several reactions, or one for each of them. All are greater than 0.
#[derive(Debug, Clone, PartialEq)]
pub enum Stiffness {
    /// The same for each.
    Same(f64),
    /// One for each, in the order in which reports list them.
    Each(Vec<f64>),
}

impl SupportStiffness {
    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.forces.is_none() && self.couples.is_none()
    }

    /// The same without lists that do not fit so many forces and couples.
    #[must_use]
    pub fn fitting(&self, [forces, couples]: [usize; 2]) -> Self {
        let fits = |given: &Option<Stiffness>, count: usize| {
            let given = given.clone();
            given.filter(|stiffness| stiffness.count().is_none_or(|listed| listed == count))
        };
        Self {
            forces: fits(&self.forces, forces),
            couples: fits(&self.couples, couples).filter(|_| couples > 0),
        }
    }
}

impl Stiffness {
    /// How many are listed; `None` where one holds for all.
    pub fn count(&self) -> Option<usize> {
        match self {
            Self::Same(_) => None,
            Self::Each(listed) => Some(listed.len()),
        }
    }

    /// That of one reaction, from 0; `None` where the list does not reach so far.
    pub fn of(&self, index: usize) -> Option<f64> {
        match self {
            Self::Same(stiffness) => Some(*stiffness),
            Self::Each(listed) => listed.get(index).copied(),
        }
    }

    /// The same in another unit, of which one of its own has so many.
    pub(crate) fn times(&self, factor: f64) -> Self {
        match self {
            Self::Same(stiffness) => Self::Same(stiffness * factor),
            Self::Each(listed) => Self::Each(listed.iter().map(|one| one * factor).collect()),
        }
    }

    /// Every number that is given.
    pub(crate) fn numbers(&self) -> &[f64] {
        match self {
            Self::Same(stiffness) => std::slice::from_ref(stiffness),
            Self::Each(listed) => listed,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_is_kept_where_it_fits() {
        let given = SupportStiffness {
            forces: Some(Stiffness::Each(vec![1.0, 2.0])),
            couples: Some(Stiffness::Same(3.0)),
        };
        assert_eq!(given.fitting([2, 1]), given);
        assert_eq!(given.fitting([3, 1]).forces, None);
        assert_eq!(given.fitting([2, 0]).couples, None);
        let listed = given.forces.unwrap();
        assert_eq!((listed.of(1), listed.of(2)), (Some(2.0), None));
    }
}
