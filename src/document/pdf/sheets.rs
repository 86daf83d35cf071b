//! Sheets of paper that are filled from top to bottom.

use super::lines::{Style, width, wrapped};
use crate::drawing::{
    Content, Drawing, Element, ElementRole, Item, Items, PathOutline, PathShape, Polyline, Run,
    Stroke, Text, Weight,
};
use crate::theme::Colour;

/// The size of the sheets that a document is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 mm × 297 mm. (ISO 216.)
    #[default]
    A4,
    /// 8.5 in × 11 in. (ANSI/ASME Y14.1, size A.)
    Letter,
}

impl Paper {
    /// Width and height, points.
    fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [595.28, 841.89],
            Self::Letter => [612.0, 792.0],
        }
    }

    /// Room on the left and on the right of the text, points.
    fn side(self) -> f64 {
        (self.size()[0] - TEXT_WIDTH) / 2.0
    }
}

/// Room above and below the text, points.
const MARGIN: f64 = 54.0;
/// Height of a usual line, points.
const LINE: f64 = 13.8;
/// Room for the number of the page below the text.
const FOOT: f64 = 8.0;
/// Width of the text, points.
pub(super) const TEXT_WIDTH: f64 = 595.28 - 2.0 * MARGIN;

const RULE: Colour = Colour(0x1B, 0x1F, 0x24);
const THIN_RULE: Colour = Colour(0xC9, 0xCE, 0xD4);
const WARNING: Colour = Colour(0x8A, 0x5A, 0x00);
const SMALL: Style = Style::new(8.0, Weight::Medium).quiet();

/// The sheets so far, and how far down the last one is filled.
pub(super) struct Sheets {
    paper: Paper,
    title: String,
    pages: Vec<Drawing>,
    structure: Vec<Element>,
    /// Elements that what is written belongs to, the innermost last.
    open: Vec<Element>,
    depth: f64,
    /// How far the last sheet is filled, in lines.
    lines: f64,
    /// A sheet that is not filled as far as it could be, and how much of it stays free, points.
    short: Option<(usize, f64)>,
}

impl Sheets {
    pub(super) fn new(title: &str, paper: Paper) -> Self {
        let mut sheets = Self {
            paper,
            title: title.to_owned(),
            pages: Vec::new(),
            structure: Vec::new(),
            open: Vec::new(),
            depth: 0.0,
            lines: 0.0,
            short: None,
        };
        sheets.next();
        sheets
    }

    /// Sheets to try on what comes next: as far filled, with nothing on them.
    pub(super) fn like(&self) -> Self {
        Self {
            depth: self.depth,
            lines: self.lines,
            ..Self::new(&self.title, self.paper)
        }
    }

    /// How many there are.
    pub(super) fn count(&self) -> usize {
        self.pages.len()
    }

    /// How many lines the last one has, or would have instead of its figures.
    pub(super) fn lines_on_last(&self) -> f64 {
        self.lines
    }

    /// Leaves so much of a sheet free, which is counted from here on.
    pub(super) fn keep_free(&mut self, later: usize, height: f64) {
        self.short = Some((self.pages.len() - 1 + later, height));
    }

    /// What is written meanwhile is an element: part of the one around it, if any.
    pub(super) fn within(&mut self, role: ElementRole, write: impl FnOnce(&mut Self)) {
        self.open.push(Element::new(role));
        write(self);
        let element = self.open.pop().expect("pushed above");
        self.add(element);
    }

    /// What is written meanwhile stands on the sheet only, such as the head of a table said once more.
    pub(super) fn aside(&mut self, write: impl FnOnce(&mut Self)) {
        self.open.push(Element::new(ElementRole::Division));
        write(self);
        self.open.pop();
    }

    /// Adds an element whose items are written.
    pub(super) fn add(&mut self, element: Element) {
        match self.open.last_mut() {
            Some(around) => around.contents.push(Content::Element(element)),
            None => self.structure.push(element),
        }
    }

    /// Gives the items that were painted last to the open element; outside any they are decoration.
    fn own(&mut self, items: Items) {
        if let Some(element) = self.open.last_mut() {
            element.contents.push(Content::Items(items));
        }
    }

    /// Begins a new sheet, unless the last one is empty.
    pub(super) fn next(&mut self) {
        if !self.pages.is_empty() && self.depth <= MARGIN {
            return;
        }
        self.pages.push(Drawing {
            width: self.paper.size()[0],
            height: self.paper.size()[1],
            title: self.title.clone(),
            description: String::new(),
            items: Vec::new(),
        });
        self.depth = MARGIN;
        self.lines = 0.0;
    }

    /// Where the next line begins, from the top.
    pub(super) fn depth(&self) -> f64 {
        self.depth
    }

    /// Whether there is so much room left on the sheet.
    pub(super) fn has_room(&self, height: f64) -> bool {
        let free = self
            .short
            .filter(|(sheet, _)| *sheet + 1 == self.pages.len());
        let free = free.map_or(0.0, |(_, height)| height);
        self.depth + height <= self.paper.size()[1] - MARGIN - FOOT - free
    }

    /// Begins a new sheet where there is less room than this.
    pub(super) fn keep_together(&mut self, height: f64) {
        if !self.has_room(height) {
            self.next();
        }
    }

    /// Leaves room, though none at the top of a sheet.
    pub(super) fn skip(&mut self, height: f64) {
        if self.depth > MARGIN {
            self.depth += height;
        }
    }

    /// Takes room for a line or a thing.
    pub(super) fn advance(&mut self, height: f64) {
        self.keep_together(height);
        self.depth += height;
        // A line, or a thing as tall as so many.
        self.lines += (height / LINE).max(1.0).floor();
    }

    fn page(&mut self) -> &mut Drawing {
        self.pages.last_mut().expect("there is always a sheet")
    }

    /// Writes on the line that was taken last.
    pub(super) fn write(&mut self, runs: Vec<Run>, indent: f64, style: Style) {
        let base = self.depth - 0.32 * style.size;
        self.write_at(runs, [indent, base], style);
    }

    /// Writes anywhere: from the left of the text and the top of the sheet.
    pub(super) fn write_at(&mut self, runs: Vec<Run>, at: [f64; 2], style: Style) {
        if let Some(items) = self.paint_text(runs, at, style) {
            self.own(items);
        }
    }

    /// Writes on the line that was taken last, for an element that is added later.
    pub(super) fn write_for(
        &mut self,
        element: &mut Element,
        runs: Vec<Run>,
        indent: f64,
        style: Style,
    ) {
        let base = self.depth - 0.32 * style.size;
        let items = self.paint_text(runs, [indent, base], style);
        element.contents.extend(items.map(Content::Items));
    }

    fn paint_text(
        &mut self,
        runs: Vec<Run>,
        [left, base]: [f64; 2],
        style: Style,
    ) -> Option<Items> {
        if runs.is_empty() {
            return None;
        }
        let side = self.paper.side();
        let start = self.page().items.len();
        self.page().items.push(Item::Text(Text {
            role: "text",
            at: [side + left, base],
            runs,
            size: style.size,
            weight: style.weight,
            colour: style.colour,
        }));
        Some(self.painted_from(start))
    }

    /// The items of the last sheet from one on.
    fn painted_from(&mut self, start: usize) -> Items {
        Items {
            page: self.pages.len() - 1,
            range: start..self.page().items.len(),
        }
    }

    /// A rule as wide as the text.
    pub(super) fn rule(&mut self, width: f64) {
        self.depth += 2.0;
        let depth = self.depth;
        self.stroke([[0.0, depth], [TEXT_WIDTH, depth]], width, RULE);
    }

    /// A thin rule between columns of a table.
    pub(super) fn thin_rule(&mut self, to: f64) {
        let depth = self.depth;
        self.stroke([[0.0, depth], [to, depth]], 0.6, THIN_RULE);
    }

    /// A line to write on, on the line that was taken last.
    pub(super) fn blank(&mut self, left: f64, right: f64) {
        let depth = self.depth - 1.0;
        self.stroke([[left, depth], [right, depth]], 0.6, RULE);
    }

    /// A bar beside a caution.
    pub(super) fn bar(&mut self, top: f64, bottom: f64) {
        self.stroke([[3.0, top], [3.0, bottom]], 3.0, WARNING);
    }

    /// A frame around a number.
    pub(super) fn frame(&mut self, [left, top]: [f64; 2], [right, bottom]: [f64; 2]) {
        let corners = [[left, top], [right, top], [right, bottom], [left, bottom]];
        let corners = corners.map(|[x, y]| [self.paper.side() + x, y]);
        self.shape(Polyline::closed(corners), 1.0, RULE);
    }

    fn stroke(&mut self, ends: [[f64; 2]; 2], width: f64, colour: Colour) {
        let ends = ends.map(|[x, y]| [self.paper.side() + x, y]);
        self.shape(Polyline::open(ends), width, colour);
    }

    fn shape(&mut self, line: Polyline, width: f64, colour: Colour) {
        self.page().items.push(Item::Shape(PathShape {
            role: "rule",
            outline: PathOutline::Lines(vec![line]),
            stroke: Some(Stroke {
                width,
                colour,
                dash: &[],
            }),
            fill: None,
        }));
    }

    /// A drawing with its upper edge where the next line begins.
    pub(super) fn draw(&mut self, drawing: &Drawing, left: f64, scale: f64) {
        let at = [self.paper.side() + left, self.depth];
        let start = self.page().items.len();
        self.page().place(drawing, at, scale);
        let items = self.painted_from(start);
        self.own(items);
    }

    /// The sheets with their numbers, and what is written on them.
    pub(super) fn finished(mut self) -> (Vec<Drawing>, Vec<Element>) {
        let count = self.pages.len();
        let title = self.title.as_str().into();
        let title = wrapped(&title, SMALL, TEXT_WIDTH - 80.0).swap_remove(0);
        for (index, page) in self.pages.iter_mut().enumerate() {
            let number = Run::plain(format!("{} of {count}", index + 1));
            let [wide, tall] = self.paper.size();
            let side = self.paper.side();
            let right = wide - side - width(&number, SMALL);
            for (runs, left) in [(title.clone(), side), (number, right)] {
                page.items.push(Item::Text(Text {
                    role: "foot",
                    at: [left, tall - MARGIN + 6.0],
                    runs,
                    size: SMALL.size,
                    weight: SMALL.weight,
                    colour: SMALL.colour,
                }));
            }
        }
        (self.pages, self.structure)
    }
}
