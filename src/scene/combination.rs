//! Combinations of load cases: further cases, made of the others with factors.

/// A load case made of others: what acts in every case and what cases have of their own, each times a factor.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseCombination {
    /// Name, unique among cases and combinations.
    pub name: String,
    /// Factor on what acts and is imposed in every case; 1 unless written.
    pub permanent: f64,
    /// Cases by name, each with the factor on what it has of its own.
    pub factors: Vec<(String, f64)>,
}
