//! What every output must say to those who build.

/// The caution that every report carries.
pub const CAUTION: &str = "The body is taken as rigid. These results support teaching and checking; anchors, \
fasteners, base material and members must be designed to the local code by a licensed engineer.";
