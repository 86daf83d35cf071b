//! Finding room for labels: pure geometry in screen points.
//!
//! The most important label chooses first. Each tries its last place, then places around its anchor, near ones before
//! far ones; where none is free it is left out. No two placed labels overlap, and a label that has a place keeps it
//! while it can, so that nothing jumps about while the body moves.

use bevy_egui::egui::{Pos2, Rect, Vec2, vec2};

/// A label that wants a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The point that it names.
    pub anchor: Pos2,
    /// Room that it takes.
    pub size: Vec2,
    /// Rank: lower chooses first.
    pub rank: usize,
    /// The place it had in the frame before.
    pub last: Option<Spot>,
}

/// One of the places around an anchor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// Eighths of a turn, counter-clockwise from the right.
    side: u8,
    /// 0 beside the anchor, then farther away.
    ring: u8,
}

/// A label's place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// Where it stands.
    pub rect: Rect,
    /// Which place that is.
    pub spot: Spot,
}

impl Placed {
    /// Whether it stands so far away that a line should lead to its anchor.
    pub fn needs_leader(&self) -> bool {
        self.spot.ring > 0
    }
}

/// Sides in the order they are tried: upper right first, where books put names.
const SIDES: [u8; 8] = [1, 7, 3, 5, 0, 4, 2, 6];
/// Distances of the label's near edge from its anchor, for each ring.
const RINGS: [f32; 4] = [8.0, 26.0, 48.0, 76.0];
/// A new place keeps this far from others; a place once taken may be kept until it touches.
const NEW_GAP: f32 = 5.0;
/// What a label beside its point must have free around it before one that was moved away comes back.
const BACK_GAP: f32 = 14.0;
/// Half the size of the patch around a point that labels of others keep off where they can.
const ANCHOR: f32 = 7.0;

impl Spot {
    fn rect(self, anchor: Pos2, size: Vec2) -> Rect {
        let angle = f32::from(self.side) * std::f32::consts::FRAC_PI_4;
        let (sin, cos) = angle.sin_cos();
        let distance = RINGS[usize::from(self.ring).min(RINGS.len() - 1)];
        let pull = |x: f32| {
            if x.abs() < 1e-3 { 0.0 } else { x.signum() }
        };
        let half = size / 2.0;
        let centre =
            anchor + vec2(cos, -sin) * distance + vec2(pull(cos) * half.x, -pull(sin) * half.y);
        Rect::from_center_size(centre, size)
    }
}

/// Places labels inside an area; `None` for those without room.
pub fn place(wanted: &[Wanted], area: Rect) -> Vec<Option<Placed>> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    // Those that had a place go before newcomers of their rank, so that neither pushes the other out in turn.
    order.sort_by_key(|i| (wanted[*i].rank, wanted[*i].last.is_none(), *i));
    let mut placed: Vec<Option<Placed>> = vec![None; wanted.len()];
    for i in order {
        let taken: Vec<Rect> = placed.iter().flatten().map(|p| p.rect).collect();
        placed[i] = spot_for(i, wanted, &taken, area);
    }
    placed
}

fn spot_for(index: usize, wanted: &[Wanted], taken: &[Rect], area: Rect) -> Option<Placed> {
    let label = &wanted[index];
    let size_is_sound = label.size.x > 0.0 && label.size.y > 0.0;
    if !size_is_sound || !area.contains(label.anchor) {
        return None;
    }
    let at = |spot: Spot| Placed {
        rect: spot.rect(label.anchor, label.size),
        spot,
    };
    let free = |placed: &Placed, gap: f32| {
        let room = placed.rect.expand(gap);
        area.contains_rect(placed.rect) && !taken.iter().any(|other| overlap(&room, other))
    };
    let kept = label.last.map(at).filter(|last| free(last, 0.0));
    let clear = |placed: &Placed| {
        let others = wanted
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index);
        let patches =
            others.map(|(_, w)| Rect::from_center_size(w.anchor, Vec2::splat(2.0 * ANCHOR)));
        patches.filter(|patch| overlap(&placed.rect, patch)).count()
    };
    if let Some(kept) = kept {
        // It comes back to its point when there is plenty of room again.
        let back = |placed: &Placed| free(placed, BACK_GAP) && clear(placed) == 0;
        let near = kept
            .needs_leader()
            .then(|| spots().map(at).take(SIDES.len()).find(back));
        return near.flatten().or(Some(kept));
    }
    let spots = spots().map(at).filter(|placed| free(placed, NEW_GAP));
    // `min_by_key` takes the first of equals, so the order of the spots decides between equally clear ones.
    spots.min_by_key(|placed| (placed.spot.ring / 2, clear(placed)))
}

fn spots() -> impl Iterator<Item = Spot> {
    (0..RINGS.len() as u8).flat_map(|ring| SIDES.map(|side| Spot { side, ring }))
}

/// Whether two rectangles share more than an edge.
pub fn overlap(a: &Rect, b: &Rect) -> bool {
    a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::pos2;
    use proptest::prelude::*;

    use super::*;

    const AREA: Rect = Rect {
        min: Pos2::ZERO,
        max: Pos2 { x: 640.0, y: 400.0 },
    };

    fn label(x: f32, y: f32, rank: usize) -> Wanted {
        Wanted {
            anchor: pos2(x, y),
            size: vec2(60.0, 20.0),
            rank,
            last: None,
        }
    }

    fn many() -> impl Strategy<Value = Vec<Wanted>> {
        let one = (0.0..640.0_f32, 0.0..400.0_f32, 10.0..120.0_f32, 0..4_usize);
        let one = one.prop_map(|(x, y, width, rank)| Wanted {
            size: vec2(width, 20.0),
            ..label(x, y, rank)
        });
        prop::collection::vec(one, 0..60)
    }

    proptest! {
        #[test]
        fn no_two_overlap_and_all_lie_inside(wanted in many()) {
            let placed: Vec<Placed> = place(&wanted, AREA).into_iter().flatten().collect();
            for (i, one) in placed.iter().enumerate() {
                prop_assert!(AREA.contains_rect(one.rect));
                for other in &placed[i + 1..] {
                    prop_assert!(!overlap(&one.rect, &other.rect));
                }
            }
        }

        #[test]
        fn small_moves_keep_every_label_that_still_fits(wanted in many(), dx in -0.5..0.5_f32) {
            let before = place(&wanted, AREA);
            let moved: Vec<Wanted> = wanted
                .iter()
                .zip(&before)
                .map(|(wanted, placed)| Wanted {
                    anchor: wanted.anchor + vec2(dx, 0.0),
                    last: placed.map(|placed| placed.spot),
                    ..wanted.clone()
                })
                .collect();
            // All move alike, so every place inside the area remains free.
            for ((wanted, before), after) in moved.iter().zip(&before).zip(place(&moved, AREA)) {
                let Some(before) = before else { continue };
                let still_fits = AREA.contains_rect(before.rect.translate(vec2(dx, 0.0)))
                    && AREA.contains(wanted.anchor);
                if still_fits && moved.iter().all(|m| AREA.shrink(150.0).contains(m.anchor)) {
                    prop_assert_eq!(after.map(|after| after.spot), Some(before.spot));
                }
            }
        }
    }

    #[test]
    fn a_lone_label_stands_right_above_its_point() {
        let placed = place(&[label(300.0, 200.0, 0)], AREA)[0].unwrap();
        assert!(placed.rect.min.x > 300.0 && placed.rect.max.y < 200.0);
        assert!(!placed.needs_leader());
    }

    #[test]
    fn when_room_is_short_the_more_important_stays() {
        let narrow = Rect::from_min_size(pos2(290.0, 170.0), vec2(80.0, 40.0));
        let placed = place(&[label(300.0, 200.0, 5), label(300.0, 200.0, 1)], narrow);
        assert!(placed[1].is_some());
        assert!(placed[0].is_none());
    }

    #[test]
    fn crowded_labels_move_away_and_get_a_leader() {
        let crowd: Vec<Wanted> = (0..14).map(|i| label(300.0 + i as f32, 200.0, 0)).collect();
        let placed = place(&crowd, AREA);
        assert!(placed.iter().all(Option::is_some));
        assert!(placed.iter().flatten().any(Placed::needs_leader));
    }

    #[test]
    fn a_label_that_was_moved_away_comes_back_when_there_is_room() {
        let away = Wanted {
            last: Some(Spot { side: 7, ring: 2 }),
            ..label(300.0, 200.0, 0)
        };
        assert!(!place(&[away], AREA)[0].unwrap().needs_leader());
    }

    #[test]
    fn points_outside_the_area_have_no_label() {
        assert_eq!(place(&[label(-5.0, 200.0, 0)], AREA), [None]);
    }
}
