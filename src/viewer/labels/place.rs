//! Finding room for labels: pure geometry in screen points.
//!
//! The most important label chooses first. Each tries its last place, then places around its anchor, near ones before
//! far ones; where none is free it is left out. No two placed labels overlap, and a label that has a place keeps it
//! while it can, so that nothing jumps about while the body moves. Among free places those are taken that lie on no
//! stroke and on no other point.

use bevy_egui::egui::{Pos2, Rect, Vec2, pos2};

use crate::portrayal::label_places::{self, Area, LabelPlaces};

/// A label that wants a place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LabelRequest {
    /// The point that it names.
    pub anchor: Pos2,
    /// Room that it takes.
    pub size: Vec2,
    /// Rank: lower chooses first.
    pub rank: usize,
    /// The place it had in the frame before.
    pub last: Option<LabelSpot>,
}

/// One of the places around an anchor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct LabelSpot {
    /// Eighths of a turn, counter-clockwise from the right.
    side: u32,
    /// 0 beside the anchor, then farther away.
    ring: usize,
}

/// A label's place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PlacedLabel {
    /// Where it stands.
    pub rect: Rect,
    /// Which place that is.
    pub spot: LabelSpot,
}

impl PlacedLabel {
    /// Whether it stands so far away that a line should lead to its anchor.
    pub(crate) fn needs_leader(&self) -> bool {
        self.spot.ring > 0
    }
}

/// The places on the screen: upper right first, where books put names.
const PLACES: LabelPlaces = LabelPlaces {
    rings: &[8.0, 26.0, 48.0, 76.0],
    directions: 8,
    sides: &[1, 7, 3, 5, 0, 4, 2, 6],
    pull: 1e3,
    grid: 0.0,
};
/// A new place keeps this far from others; a place once taken may be kept until it touches.
const NEW_GAP: f64 = 5.0;
/// What a label beside its point must have free around it before one that was moved away comes back.
const BACK_GAP: f64 = 14.0;
/// What a place far from its point costs, and every line and other point on which a label lies: rather across one line
/// beside its point than far away, and rather far away than across two.
const FARTHER: i64 = 3;
const COVERED: i64 = 2;
/// Half the size of the patch around a point that labels of others keep off where they can.
const ANCHOR: f64 = 7.0;

/// Places labels inside an area, off the lines where that can be; `None` for those without room.
pub(crate) fn place(
    wanted: &[LabelRequest],
    lines: &[[Pos2; 2]],
    area: Rect,
) -> Vec<Option<PlacedLabel>> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    // Those that had a place go before newcomers of their rank, so that neither pushes the other out in turn.
    order.sort_by_key(|i| (wanted[*i].rank, wanted[*i].last.is_none(), *i));
    let mut screen = LabelScreen {
        anchors: wanted.iter().map(|label| spot(label.anchor)).collect(),
        lines: lines.iter().map(|ends| ends.map(spot)).collect(),
        area: [spot(area.min), spot(area.max)],
        taken: Vec::new(),
    };
    let mut placed: Vec<Option<PlacedLabel>> = vec![None; wanted.len()];
    for i in order {
        let found = screen.place_for(i, &wanted[i]);
        screen.taken.extend(found.map(|place| place.area));
        placed[i] = found.map(|place| PlacedLabel {
            rect: rect(place.area),
            spot: LabelSpot {
                side: place.side,
                ring: place.ring,
            },
        });
    }
    placed
}

fn spot(point: Pos2) -> label_places::Spot {
    [point.x, point.y].map(f64::from)
}

fn rect(area: Area) -> Rect {
    let [min, max] = area.map(|[x, y]| pos2(x as f32, y as f32));
    Rect::from_min_max(min, max)
}

/// What is on the screen so far.
struct LabelScreen {
    anchors: Vec<label_places::Spot>,
    lines: Vec<[label_places::Spot; 2]>,
    area: Area,
    taken: Vec<Area>,
}

impl LabelScreen {
    fn place_for(&self, index: usize, label: &LabelRequest) -> Option<label_places::LabelPlace> {
        let (anchor, size) = (
            self.anchors[index],
            [label.size.x, label.size.y].map(f64::from),
        );
        let size_is_sound = size.iter().all(|side| *side > 0.0);
        if !size_is_sound || !label_places::contains(&self.area, &[anchor, anchor]) {
            return None;
        }
        let covered = |area: &Area| self.covered(index, area);
        let last = label.last.filter(|last| last.ring < PLACES.rings.len());
        let last = last.map(|last| PLACES.at(anchor, size, last.ring, last.side));
        if let Some(kept) = last.filter(|last| self.is_free(&last.area, 0.0)) {
            let covers = covered(&kept.area);
            if kept.ring == 0 && covers == 0 {
                return Some(kept);
            }
            // It moves only to where there is plenty of room: back to its point, or off what it covers.
            let better = |place: &label_places::LabelPlace| {
                let roomy = label_places::grown(place.area, NEW_GAP);
                self.is_free(&place.area, BACK_GAP) && covered(&roomy) == 0
            };
            let rings = match covers {
                0 => 1,
                _ => 2 * (kept.ring / 2 + 1),
            };
            let mut near = PLACES
                .around(anchor, size)
                .filter(|place| place.ring < rings);
            return near.find(better).or(Some(kept));
        }
        let farther = |ring: usize| FARTHER * (ring as i64 / 2);
        let cost = |place: &label_places::LabelPlace| {
            let free = self.is_free(&place.area, NEW_GAP);
            free.then(|| farther(place.ring) + COVERED * covered(&place.area))
        };
        let best = PLACES.best(anchor, size, |_| 0, cost);
        best.map(|(place, _)| place)
    }

    /// Whether a place lies on the screen and so far from every label.
    fn is_free(&self, area: &Area, gap: f64) -> bool {
        let room = label_places::grown(*area, gap);
        let inside = label_places::contains(&self.area, area);
        inside
            && !self
                .taken
                .iter()
                .any(|other| label_places::overlap(&room, other))
    }

    /// How many lines and points of others a label would lie on.
    fn covered(&self, index: usize, area: &Area) -> i64 {
        let others = self.anchors.iter().enumerate();
        let others = others.filter(|(other, _)| *other != index);
        let points = others.filter(|(_, at)| {
            let patch = label_places::grown([**at, **at], ANCHOR);
            label_places::overlap(area, &patch)
        });
        let lines = self.lines.iter();
        let crossed = lines.filter(|[from, to]| label_places::meets(*from, *to, area));
        (points.count() + crossed.count()) as i64
    }
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::vec2;
    use proptest::prelude::*;

    use super::*;

    const AREA: Rect = Rect {
        min: Pos2::ZERO,
        max: Pos2 { x: 640.0, y: 400.0 },
    };

    fn label(x: f32, y: f32, rank: usize) -> LabelRequest {
        LabelRequest {
            anchor: pos2(x, y),
            size: vec2(60.0, 20.0),
            rank,
            last: None,
        }
    }

    fn many() -> impl Strategy<Value = Vec<LabelRequest>> {
        let one = (0.0..640.0_f32, 0.0..400.0_f32, 10.0..120.0_f32, 0..4_usize);
        let one = one.prop_map(|(x, y, width, rank)| LabelRequest {
            size: vec2(width, 20.0),
            ..label(x, y, rank)
        });
        prop::collection::vec(one, 0..60)
    }

    fn crosses(rect: &Rect, [from, to]: &[Pos2; 2]) -> bool {
        let area = [spot(rect.min), spot(rect.max)];
        label_places::meets(spot(*from), spot(*to), &area)
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        #[test]
        fn no_two_overlap_and_all_lie_inside(wanted in many()) {
            let placed: Vec<PlacedLabel> = place(&wanted, &[], AREA).into_iter().flatten().collect();
            for (i, one) in placed.iter().enumerate() {
                prop_assert!(AREA.expand(1e-3).contains_rect(one.rect));
                for other in &placed[i + 1..] {
                    prop_assert!(!one.rect.shrink(1e-3).intersects(other.rect.shrink(1e-3)));
                }
            }
        }

        #[test]
        fn small_moves_keep_every_label_that_still_fits(wanted in many(), dx in -0.5..0.5_f32) {
            let before = place(&wanted, &[], AREA);
            let moved: Vec<LabelRequest> = wanted
                .iter()
                .zip(&before)
                .map(|(wanted, placed)| LabelRequest {
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
        let crowd: Vec<LabelRequest> = (0..14).map(|i| label(300.0 + i as f32, 200.0, 0)).collect();
        let placed = place(&crowd, &[], AREA);
        assert!(placed.iter().all(Option::is_some));
        assert!(placed.iter().flatten().any(PlacedLabel::needs_leader));
    }

    #[test]
    fn a_label_that_was_moved_away_comes_back_when_there_is_room() {
        let away = LabelRequest {
            last: Some(LabelSpot { side: 7, ring: 2 }),
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
        let again = LabelRequest {
            last: Some(stands.spot),
            ..label(300.0, 200.0, 0)
        };
        let moved = place(&[again], &[line], AREA)[0].unwrap();
        assert!(!crosses(&moved.rect, &line));
    }
}
