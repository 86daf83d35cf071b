//! Boxes on paper in a tree, so that a line is held against those that it passes only.

use nalgebra::Point3;

/// Boxes around things, sorted into halves over and over: as many nodes as things, however these lie on each other.
pub(super) struct PaperBoxTree {
    boxes: Vec<PaperBox>,
    nodes: Vec<PaperBoxNode>,
    /// The things, those of a node beside each other.
    order: Vec<u32>,
}

/// A box around some of the things.
struct PaperBoxNode {
    area: PaperBox,
    /// The things, as a range of `order`; a node of many has its halves at `halves`.
    own: [u32; 2],
    /// Index of the first half and of the second; none where the things are few.
    halves: Option<[u32; 2]>,
}

/// A box on paper, and how near the viewer what it holds comes.
#[derive(Debug, Clone, Copy)]
pub(super) struct PaperBox {
    low: [f64; 2],
    high: [f64; 2],
    nearest: f64,
}

/// Things of a node that is not divided.
const FEW: usize = 6;

impl PaperBox {
    /// The box around points; that of none holds nothing.
    pub(crate) fn around(points: &[Point3<f64>]) -> Self {
        let nothing = Self {
            low: [f64::INFINITY; 2],
            high: [f64::NEG_INFINITY; 2],
            nearest: f64::NEG_INFINITY,
        };
        points.iter().fold(nothing, |flat, point| Self {
            low: [0, 1].map(|k| flat.low[k].min(point[k])),
            high: [0, 1].map(|k| flat.high[k].max(point[k])),
            nearest: flat.nearest.max(point.z),
        })
    }

    fn with(self, other: &Self) -> Self {
        Self {
            low: [0, 1].map(|k| self.low[k].min(other.low[k])),
            high: [0, 1].map(|k| self.high[k].max(other.high[k])),
            nearest: self.nearest.max(other.nearest),
        }
    }

    fn middle(&self, k: usize) -> f64 {
        f64::midpoint(self.low[k], self.high[k])
    }

    /// The longer side, lowest coordinate to highest.
    pub(crate) fn size(&self) -> f64 {
        let side = |k: usize| self.high[k] - self.low[k];
        side(0).max(side(1)).max(0.0)
    }
}

/// A line that is asked about.
struct LineQuery {
    from: [f64; 2],
    along: [f64; 2],
    /// Box of the line; what does not come nearer than its farthest point hides none of it.
    flat: PaperBox,
    farthest: f64,
}

impl LineQuery {
    fn new([from, to]: &[Point3<f64>; 2]) -> Self {
        Self {
            from: [from.x, from.y],
            along: [to.x - from.x, to.y - from.y],
            flat: PaperBox::around(&[*from, *to]),
            farthest: from.z.min(to.z),
        }
    }

    /// Whether the line may pass a box and lie behind a part of it; a box that it passes closely by may count.
    fn meets(&self, area: &PaperBox) -> bool {
        let own = &self.flat;
        if area.nearest < self.farthest
            || area.high[0] < own.low[0]
            || own.high[0] < area.low[0]
            || area.high[1] < own.low[1]
            || own.high[1] < area.low[1]
        {
            return false;
        }
        // How far its middle lies beside the line, compared to how far its corners reach to that side.
        let [dx, dy] = self.along;
        let (x, y) = (area.middle(0) - self.from[0], area.middle(1) - self.from[1]);
        let (wide, tall) = (area.high[0] - area.low[0], area.high[1] - area.low[1]);
        let reach = (dx.abs() * tall + dy.abs() * wide) / 2.0;
        let rounding = ROUNDING * (dx * y).abs().max((dy * x).abs());
        (dx * y - dy * x).abs() <= reach + rounding
    }
}

/// What rounding may make of a product of two sides, relative to it, and more.
const ROUNDING: f64 = 1e-12;

impl PaperBoxTree {
    /// Sorts boxes.
    pub(crate) fn new(boxes: Vec<PaperBox>) -> Self {
        let mut tree = Self {
            nodes: Vec::with_capacity(boxes.len()),
            order: (0..boxes.len() as u32).collect(),
            boxes,
        };
        if !tree.boxes.is_empty() {
            tree.divide(0, tree.boxes.len());
        }
        tree
    }

    /// The box around everything.
    pub(crate) fn all(&self) -> PaperBox {
        let root = self.nodes.first();
        root.map_or_else(|| PaperBox::around(&[]), |root| root.area)
    }

    /// Makes a node of a stretch of the order and gives its index.
    fn divide(&mut self, from: usize, to: usize) -> u32 {
        let (own, boxes) = (&mut self.order[from..to], &self.boxes);
        let each = own.iter().map(|index| &boxes[*index as usize]);
        let area = each.fold(PaperBox::around(&[]), PaperBox::with);
        let index = self.nodes.len();
        self.nodes.push(PaperBoxNode {
            area,
            own: [from as u32, to as u32],
            halves: None,
        });
        if to - from > FEW {
            let k = usize::from(area.high[1] - area.low[1] > area.high[0] - area.low[0]);
            let middle = |index: &u32| boxes[*index as usize].middle(k);
            own.select_nth_unstable_by((to - from) / 2, |a, b| middle(a).total_cmp(&middle(b)));
            let half = from + (to - from) / 2;
            let mut halves = [self.divide(from, half), self.divide(half, to)];
            // The last is asked first.
            let nearest = |index: &u32| self.nodes[*index as usize].area.nearest;
            halves.sort_by(|a, b| nearest(a).total_cmp(&nearest(b)));
            self.nodes[index].halves = Some(halves);
        }
        index as u32
    }

    /// Everything whose box a line may pass behind, and perhaps some beside it; what comes nearest to the viewer among the first.
    pub(crate) fn along(&self, line: &[Point3<f64>; 2]) -> impl Iterator<Item = u32> + '_ {
        let asked = LineQuery::new(line);
        let mut nodes = Vec::with_capacity(64);
        nodes.extend((!self.nodes.is_empty()).then_some(0_u32));
        let mut things: &[u32] = &[];
        std::iter::from_fn(move || {
            loop {
                while let Some((thing, rest)) = things.split_first() {
                    things = rest;
                    if asked.meets(&self.boxes[*thing as usize]) {
                        return Some(*thing);
                    }
                }
                let node = &self.nodes[nodes.pop()? as usize];
                if !asked.meets(&node.area) {
                    continue;
                }
                let [from, to] = node.own.map(|at| at as usize);
                match node.halves {
                    Some(halves) => nodes.extend(halves),
                    None => things = &self.order[from..to],
                }
            }
        })
    }
}
