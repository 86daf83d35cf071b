//! A motion that is shown: which one, to which sides it goes, and where the body is at each part of a calm swing.

use nalgebra::Isometry3;

use super::escape::EscapeRoute;
use super::mobilities::Mobilities;
use super::mobility::Mobility;
use crate::statics::{CaseIndex, Diagnosis, FreeMotion, MotionIndex, MotionKind, PlacedSupport};

/// Largest turn to each side, rad.
const WIDEST: f64 = 0.7;
/// Travel of the outermost point to each side, relative to the scene's size.
const TRAVEL: f64 = 0.4;
/// Travel of a sliding body to each side, relative to the scene's size.
const SLIDE: f64 = 0.25;

/// Which motion of a body is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[must_use]
#[non_exhaustive]
pub enum Selection {
    /// The free motion of this index.
    Free(MotionIndex),
    /// How the body gets away under the load case that is shown.
    Escape,
}

impl Default for Selection {
    fn default() -> Self {
        Self::Free(MotionIndex::FIRST)
    }
}

/// A motion with where it leads.
#[derive(Debug, Clone, Copy)]
pub struct Course<'a> {
    /// Its axis or direction.
    pub motion: &'a FreeMotion,
    /// Where the supports let it lead.
    pub mobility: &'a Mobility,
    /// The escape that it is; `None` for a free motion.
    pub route: Option<&'a EscapeRoute>,
    /// Smallest and largest amount of it, rad or m.
    range: [f64; 2],
}

/// The sides to which a motion goes from where the body was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// To both.
    Both,
    /// In its positive sense only.
    Ahead,
    /// Against it only.
    Back,
}

impl Sides {
    /// The parts of a swing at its ends: −1 and 1, or 0, where the body was written, and one of them.
    pub fn ends(self) -> [f64; 2] {
        match self {
            Self::Both => [-1.0, 1.0],
            Self::Ahead => [0.0, 1.0],
            Self::Back => [0.0, -1.0],
        }
    }

    /// The part of a swing at a phase of its period, rad: 0 at first, slow at the ends.
    pub fn part(self, phase: f64) -> f64 {
        match self {
            Self::Both => phase.sin(),
            Self::Ahead => (1.0 - phase.cos()) / 2.0,
            Self::Back => (phase.cos() - 1.0) / 2.0,
        }
    }

    /// A phase at which the swing is at a part, −1 to 1: the inverse of [`Sides::part`] on the way out.
    pub fn phase(self, part: f64) -> f64 {
        match self {
            Self::Both => part.asin(),
            Self::Ahead => (1.0 - 2.0 * part.max(0.0)).acos(),
            Self::Back => (1.0 + 2.0 * part.min(0.0)).acos(),
        }
    }
}

impl Mobilities {
    /// The selected motion; `None` where the body has none of that index, or does not get away under that load case.
    pub fn course<'a>(
        &'a self,
        diagnosis: &'a Diagnosis,
        selection: Selection,
        case: CaseIndex,
    ) -> Option<Course<'a>> {
        match selection {
            Selection::Free(index) => {
                let mobility = self.motions.get(index)?;
                Some(Course {
                    motion: diagnosis.free_motions.get(index)?,
                    mobility,
                    route: None,
                    range: mobility.range(),
                })
            }
            Selection::Escape => {
                let route = self.escapes.get(case)?.as_ref()?;
                Some(Course {
                    motion: &route.motion,
                    mobility: &route.mobility,
                    route: Some(route),
                    range: [0.0, route.farthest],
                })
            }
        }
    }

    /// Every motion that can be shown under a load case: the free ones, then the escape.
    pub fn selections(&self, case: CaseIndex) -> Vec<Selection> {
        let free = self.motions.indices().map(Selection::Free);
        let escapes = self.escapes.get(case).is_some_and(Option::is_some);
        free.chain(escapes.then_some(Selection::Escape)).collect()
    }
}

impl Course<'_> {
    /// Whether the body truly moves this way, and not only for an instant.
    pub fn is_real(&self) -> bool {
        self.mobility.is_real()
    }

    /// Smallest and largest amount, rad or m; both sides of 0, or one of them is 0.
    pub fn range(&self) -> [f64; 2] {
        self.range
    }

    /// The sides to which it goes.
    pub fn sides(&self) -> Sides {
        let [back, ahead] = self.range;
        match (back < 0.0, ahead > 0.0) {
            (true, false) => Sides::Back,
            (false, true) => Sides::Ahead,
            _ => Sides::Both,
        }
    }

    /// Whether the body leaves a support, or lets it go slack.
    pub fn leaves(&self, support: &PlacedSupport) -> bool {
        let on_path = || {
            let path = self.mobility.path();
            let reactions = path.map_or_else(Vec::new, |path| path.leaves().concat());
            reactions.iter().any(|j| support.reactions.contains(j))
        };
        self.route
            .map_or_else(on_path, |route| route.leaves(support))
    }

    /// Parts of the swing for equal steps of time, from the body as written over the ends of the swing and back.
    pub fn parts_in_time(&self, frames: usize) -> Vec<f64> {
        let phase = |frame: usize| std::f64::consts::TAU * frame as f64 / frames as f64;
        let sides = self.sides();
        (0..frames).map(|frame| sides.part(phase(frame))).collect()
    }

    /// Placement of the body at a part of a swing of `amount` to each side: on its path, as far as that leads.
    pub fn swung(&self, part: f64, amount: f64) -> Isometry3<f64> {
        let path = self.mobility.path().and_then(|path| path.period());
        let round = path.is_some() && self.sides() == Sides::Both;
        let [back, ahead] = self.range;
        let end = match part < 0.0 {
            _ if round => f64::INFINITY,
            true => -back,
            false => ahead,
        };
        self.mobility.pose_at(part * amount.min(end))
    }
}

/// Default swing to each side: radians, or metres for a translation.
///
/// `reach` is the largest distance of a body point from the motion's axis, `size` the scene's, both m.
pub fn default_swing(motion: &FreeMotion, reach: f64, size: f64) -> f64 {
    match motion.kind {
        MotionKind::Translation => SLIDE * size,
        _ => {
            let turn = (TRAVEL * size / reach.max(f64::MIN_POSITIVE)).min(WIDEST);
            let advance = SLIDE * size / motion.kind.pitch().abs().max(f64::MIN_POSITIVE);
            turn.min(advance)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statics::testing::upright_motion as motion;

    #[test]
    fn the_swing_stays_in_view() {
        let turn = default_swing(&motion(MotionKind::Rotation), 1.0, 1.0);
        assert!((turn * 1.0 - TRAVEL).abs() < 1e-12);
        let far = default_swing(&motion(MotionKind::Rotation), 50.0, 1.0);
        assert!((far * 50.0 - TRAVEL).abs() < 1e-12);
        assert_eq!(
            default_swing(&motion(MotionKind::Rotation), 0.0, 1.0),
            WIDEST
        );
        let steep = default_swing(&motion(MotionKind::Screw { pitch: -20.0 }), 1.0, 1.0);
        assert!((steep * 20.0 - SLIDE).abs() < 1e-12);
    }

    #[test]
    fn a_swing_to_one_side_begins_at_rest_and_turns_at_its_end() {
        use std::f64::consts::{FRAC_PI_2, PI};
        assert_eq!(Sides::Both.part(FRAC_PI_2), 1.0);
        for sides in [Sides::Ahead, Sides::Back] {
            assert_eq!(sides.part(0.0), 0.0);
            assert_eq!(sides.part(PI), sides.ends()[1]);
            assert!((sides.part(FRAC_PI_2) - sides.ends()[1] / 2.0).abs() < 1e-15);
        }
        for sides in [Sides::Both, Sides::Ahead, Sides::Back] {
            for share in [0.0, 0.3, 1.0] {
                let part = share * sides.ends()[1];
                assert!((sides.part(sides.phase(part)) - part).abs() < 1e-15);
            }
        }
    }
}
