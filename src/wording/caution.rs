//! What every output must say to those who build.

use crate::study::Study;

/// The caution that every output carries about bodies that are taken as rigid.
pub const CAUTION: &str = "The body is taken as rigid. These results support teaching and checking; anchors, \
fasteners, base material and members must be designed to the local code by a licensed engineer.";

/// The same about bodies of bars that bend.
const OF_BARS_THAT_BEND: &str = "The body is taken as rigid except where its bars are called flexible. These results \
support teaching and checking; anchors, fasteners, base material and members must be designed to the local code by a licensed \
engineer.";

/// The caution that the report of a scene carries.
pub fn caution(study: &Study) -> &'static str {
    match study.frame() {
        Some(_) => OF_BARS_THAT_BEND,
        None => CAUTION,
    }
}
