//! Finding room for labels: pure geometry in screen points.
//!
//! The most important label chooses first. Each tries its last place, then places around its anchor, near ones before
//! far ones; where none is free it is left out. No two placed labels overlap, and a label that has a place keeps it
//! while it can, so that nothing jumps about while the body moves. Among free places those are taken that lie on no
//! stroke and on no other point.

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
/// What a place far from its point costs, and every line and other point on which a label lies: rather across one line
/// beside its point than far away, and rather far away than across two.
const FARTHER: usize = 3;
const COVERED: usize = 2;
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

/// Places labels inside an area, off the lines where that can be; `None` for those without room.
pub fn place(wanted: &[Wanted], lines: &[[Pos2; 2]], area: Rect) -> Vec<Option<Placed>> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    // Those that had a place go before newcomers of their rank, so that neither pushes the other out in turn.
    order.sort_by_key(|i| (wanted[*i].rank, wanted[*i].last.is_none(), *i));
    let mut placed: Vec<Option<Placed>> = vec![None; wanted.len()];
    for i in order {
        let taken: Vec<Rect> = placed.iter().flatten().map(|p| p.rect).collect();
        placed[i] = spot_for(i, wanted, (&taken, lines), area);
    }
    placed
}

fn spot_for(
    index: usize,
    wanted: &[Wanted],
    (taken, lines): (&[Rect], &[[Pos2; 2]]),
    area: Rect,
) -> Option<Placed> {
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
    let covered = |placed: &Placed| {
        let others = wanted
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index);
        let patches =
            others.map(|(_, w)| Rect::from_center_size(w.anchor, Vec2::splat(2.0 * ANCHOR)));
        let points = patches.filter(|patch| overlap(&placed.rect, patch)).count();
        let crossed = lines.iter().filter(|line| crosses(&placed.rect, line));
        points + crossed.count()
    };
    if let Some(kept) = kept {
        if !kept.needs_leader() && covered(&kept) == 0 {
            return Some(kept);
        }
        // It moves only to where there is plenty of room: back to its point, or off what it covers.
        let better = |placed: &Placed| {
            let room = Placed {
                rect: placed.rect.expand(NEW_GAP),
                ..*placed
            };
            free(placed, BACK_GAP) && covered(&room) == 0
        };
        let rings = match covered(&kept) {
            0 => 1,
            _ => 2 * (usize::from(kept.spot.ring) / 2 + 1),
        };
        let mut spots = spots().map(at).take(rings * SIDES.len());
        return spots.find(better).or(Some(kept));
    }
    let spots = spots().map(at).filter(|placed| free(placed, NEW_GAP));
    // `min_by_key` takes the first of equals, so the order of the spots decides between equally clear ones.
    spots.min_by_key(|placed| {
        FARTHER * usize::from(placed.spot.ring / 2) + COVERED * covered(placed)
    })
}

/// Whether a line passes through a rectangle: its ends are moved to the edges that it enters and leaves by.
fn crosses(rect: &Rect, [from, to]: &[Pos2; 2]) -> bool {
    let way = *to - *from;
    let (mut enters, mut leaves) = (0.0_f32, 1.0_f32);
    let sides = [
        (way.x, rect.min.x - from.x, rect.max.x - from.x),
        (way.y, rect.min.y - from.y, rect.max.y - from.y),
    ];
    for (step, low, high) in sides {
        if step.abs() < f32::EPSILON {
            if low >= 0.0 || high <= 0.0 {
                return false;
            }
            continue;
        }
        let (a, b) = (low / step, high / step);
        enters = enters.max(a.min(b));
        leaves = leaves.min(a.max(b));
    }
    enters < leaves
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
        #![proptest_config(crate::testing::cases(256))]

        #[test]
        fn no_two_overlap_and_all_lie_inside(wanted in many()) {
            let placed: Vec<Placed> = place(&wanted, &[], AREA).into_iter().flatten().collect();
            for (i, one) in placed.iter().enumerate() {
                prop_assert!(AREA.contains_rect(one.rect));
                for other in &placed[i + 1..] {
                    prop_assert!(!overlap(&one.rect, &other.rect));
                }
            }
        }

        #[test]
        fn small_moves_keep_every_label_that_still_fits(wanted in many(), dx in -0.5..0.5_f32) {
            let before = place(&wanted, &[], AREA);
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
            for ((wanted, before), after) in moved.iter().zip(&before).zip(place(&moved, &[], AREA)) {
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
        let placed = place(&[label(300.0, 200.0, 0)], &[], AREA)[0].unwrap();
        assert!(placed.rect.min.x > 300.0 && placed.rect.max.y < 200.0);
        assert!(!placed.needs_leader());
    }

    #[test]
    fn when_room_is_short_the_more_important_stays() {
        let narrow = Rect::from_min_size(pos2(290.0, 170.0), vec2(80.0, 40.0));
        let placed = place(
            &[label(300.0, 200.0, 5), label(300.0, 200.0, 1)],
            &[],
            narrow,
        );
        assert!(placed[1].is_some());
        assert!(placed[0].is_none());
    }

    #[test]
    fn crowded_labels_move_away_and_get_a_leader() {
        let crowd: Vec<Wanted> = (0..14).map(|i| label(300.0 + i as f32, 200.0, 0)).collect();
        let placed = place(&crowd, &[], AREA);
        assert!(placed.iter().all(Option::is_some));
        assert!(placed.iter().flatten().any(Placed::needs_leader));
    }

    #[test]
    fn a_label_that_was_moved_away_comes_back_when_there_is_room() {
        let away = Wanted {
            last: Some(Spot { side: 7, ring: 2 }),
            ..label(300.0, 200.0, 0)
        };
        assert!(!place(&[away], &[], AREA)[0].unwrap().needs_leader());
    }

    #[test]
    fn points_outside_the_area_have_no_label() {
        assert_eq!(place(&[label(-5.0, 200.0, 0)], &[], AREA), [None]);
    }

    #[test]
    fn a_label_keeps_off_lines() {
        let line = [pos2(250.0, 150.0), pos2(350.0, 250.0)];
        let other = [pos2(350.0, 150.0), pos2(250.0, 250.0)];
        for lines in [vec![line], vec![other], vec![line, other]] {
            let placed = place(&[label(300.0, 200.0, 0)], &lines, AREA)[0].unwrap();
            for line in &lines {
                assert!(!crosses(&placed.rect, line), "{placed:?} {line:?}");
            }
        }
    }

    #[test]
    fn a_label_moves_off_a_line_that_comes_to_lie_on_it() {
        let stands = place(&[label(300.0, 200.0, 0)], &[], AREA)[0].unwrap();
        let line = [stands.rect.left_top(), stands.rect.right_bottom()];
        let again = Wanted {
            last: Some(stands.spot),
            ..label(300.0, 200.0, 0)
        };
        let moved = place(&[again], &[line], AREA)[0].unwrap();
        assert!(!crosses(&moved.rect, &line));
    }

    #[test]
    fn lines_cross_rectangles_where_they_enter_them() {
        let rect = Rect::from_min_max(pos2(10.0, 10.0), pos2(20.0, 14.0));
        let crossing = |a: (f32, f32), b: (f32, f32)| crosses(&rect, &[a.into(), b.into()]);
        assert!(crossing((0.0, 12.0), (30.0, 12.0)));
        assert!(crossing((12.0, 11.0), (13.0, 12.0)), "inside");
        assert!(crossing((8.0, 8.0), (30.0, 20.0)));
        assert!(!crossing((0.0, 12.0), (9.0, 12.0)), "ends before it");
        assert!(!crossing((0.0, 10.0), (30.0, 10.0)), "along its edge");
        assert!(!crossing((8.0, 14.0), (14.0, 30.0)));
    }
}
