//! Outlines of shapes and letters, traced once for every painter of paths.

use ttf_parser::OutlineBuilder;

use super::items::{PathOutline, PathStep};

/// What a path is drawn with; points are of the page, y down.
pub(super) trait PathPen {
    /// Begins a new part at a point.
    fn move_to(&mut self, to: [f32; 2]);
    /// A straight piece to a point.
    fn line_to(&mut self, to: [f32; 2]);
    /// A quadratic curve with its control point.
    fn quad_to(&mut self, control: [f32; 2], to: [f32; 2]);
    /// A cubic curve with its control points.
    fn cubic_to(&mut self, controls: [[f32; 2]; 2], to: [f32; 2]);
    /// Leads back to where the part began.
    fn close(&mut self);
}

/// Draws outlines with a builder of paths whose methods are named as in `tiny_skia`.
macro_rules! path_pen {
    ($builder:ty) => {
        impl $crate::drawing::trace::PathPen for $builder {
            fn move_to(&mut self, [x, y]: [f32; 2]) {
                self.move_to(x, y);
            }

            fn line_to(&mut self, [x, y]: [f32; 2]) {
                self.line_to(x, y);
            }

            fn quad_to(&mut self, [a, b]: [f32; 2], [x, y]: [f32; 2]) {
                self.quad_to(a, b, x, y);
            }

            fn cubic_to(&mut self, [[a, b], [c, d]]: [[f32; 2]; 2], [x, y]: [f32; 2]) {
                self.cubic_to(a, b, c, d, x, y);
            }

            fn close(&mut self) {
                self.close();
            }
        }
    };
}
pub(super) use path_pen;

/// Length of the handles of a quarter circle of radius 1, for the least radial error (common knowledge: 4/3·(√2 − 1)).
const HANDLE: f64 = 0.552_284_75;

fn single(point: [f64; 2]) -> [f32; 2] {
    point.map(|x| x as f32)
}

impl PathOutline {
    /// Draws the outline with a pen.
    pub(super) fn trace(&self, pen: &mut impl PathPen) {
        match self {
            Self::Circle { centre, radius } => trace_circle(pen, *centre, *radius),
            Self::Lines(lines) => {
                for line in lines {
                    if let Some(first) = line.points.first() {
                        pen.move_to(single(*first));
                    }
                    for step in line.steps() {
                        match step {
                            PathStep::Straight(to) => pen.line_to(single(to)),
                            PathStep::Curve(a, b, to) => {
                                pen.cubic_to([a, b].map(single), single(to))
                            }
                        }
                    }
                    if line.closed {
                        pen.close();
                    }
                }
            }
        }
    }
}

fn trace_circle(pen: &mut impl PathPen, [x, y]: [f64; 2], radius: f64) {
    let at = |dx: f64, dy: f64| single([x + dx * radius, y + dy * radius]);
    pen.move_to(at(1.0, 0.0));
    let mut way = (1.0, 0.0);
    for _ in 0..4 {
        let next: (f64, f64) = (-way.1, way.0);
        let controls = [
            at(way.0 + HANDLE * next.0, way.1 + HANDLE * next.1),
            at(next.0 + HANDLE * way.0, next.1 + HANDLE * way.1),
        ];
        pen.cubic_to(controls, at(next.0, next.1));
        way = next;
    }
    pen.close();
}

/// A letter's outline, placed and scaled, for a pen.
pub(super) struct Letter<'a, P> {
    /// The pen.
    pub pen: &'a mut P,
    /// Left end of its base line.
    pub at: [f64; 2],
    /// Points of the page for a unit of the font.
    pub scale: f64,
    /// How far it leans to the right for a unit of its height.
    pub lean: f64,
}

impl<P> Letter<'_, P> {
    /// A point of the letter, whose y points up, on the page.
    fn place(&self, x: f32, y: f32) -> [f32; 2] {
        let along = self.at[0] + (f64::from(x) + f64::from(y) * self.lean) * self.scale;
        let down = self.at[1] - f64::from(y) * self.scale;
        single([along, down])
    }
}

impl<P: PathPen> OutlineBuilder for Letter<'_, P> {
    fn move_to(&mut self, x: f32, y: f32) {
        let to = self.place(x, y);
        self.pen.move_to(to);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let to = self.place(x, y);
        self.pen.line_to(to);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let (control, to) = (self.place(x1, y1), self.place(x, y));
        self.pen.quad_to(control, to);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let controls = [self.place(x1, y1), self.place(x2, y2)];
        let to = self.place(x, y);
        self.pen.cubic_to(controls, to);
    }

    fn close(&mut self) {
        self.pen.close();
    }
}
