//! Singular values as they are told.

use crate::statics::Diagnosis;

/// Singular values below this fraction of the largest are the rounding of the arithmetic, and shown as 0.
pub(crate) const ROUNDING: f64 = 1e-14;

/// Singular values with rounding noise made an exact zero, the largest first.
pub fn clean_singular_values(diagnosis: &Diagnosis) -> Vec<f64> {
    let values = &diagnosis.numeric.singular_values;
    let largest = values.first().copied().unwrap_or(0.0);
    let clean = |value: &f64| {
        if *value <= ROUNDING * largest {
            0.0
        } else {
            *value
        }
    };
    values.iter().map(clean).collect()
}
