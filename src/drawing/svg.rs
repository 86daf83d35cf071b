//! Drawings as SVG.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use base64::Engine;

use super::font::{FAMILY, Weight};
use super::items::{Drawing, Item, PathOutline, PathShape, PathStep, Run, Script, Text};
use super::subset::subset;
use crate::printable::for_xml;
use crate::theme::Colour;

/// Where the letters of an SVG come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Fonts {
    /// The letters in use are inside, so that the file stands alone.
    #[default]
    Inside,
    /// The page around it brings them ([`font_faces`]).
    FromPage,
}

/// The drawing as an SVG element, without XML declaration, so that it also stands inside HTML.
///
/// Coordinates have two decimals, so that the text is the same on every machine.
pub fn svg(drawing: &Drawing, fonts: Fonts) -> String {
    let mut out = String::new();
    let (width, height) = (number(drawing.width), number(drawing.height));
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}pt\" height=\"{height}pt\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" stroke-linecap=\"round\" stroke-linejoin=\"round\">\n\
         <title>{}</title>\n",
        escaped(&drawing.title)
    );
    if !drawing.description.is_empty() {
        let _ = writeln!(out, "<desc>{}</desc>", escaped(&drawing.description));
    }
    if fonts == Fonts::Inside {
        let faces = font_faces([drawing]);
        if !faces.is_empty() {
            let _ = writeln!(out, "<style>{faces}</style>");
        }
    }
    for item in &drawing.items {
        match item {
            Item::Shape(shape) => write_shape(&mut out, shape),
            Item::Text(text) => write_text(&mut out, text),
        }
    }
    out.push_str("</svg>\n");
    out
}

/// CSS `@font-face` rules with the letters that drawings use, for a page that holds them.
pub fn font_faces<'a>(drawings: impl IntoIterator<Item = &'a Drawing>) -> String {
    font_faces_with(drawings, &[])
}

/// As [`font_faces`], with the letters of further texts.
pub fn font_faces_with<'a>(
    drawings: impl IntoIterator<Item = &'a Drawing>,
    texts: &[(Weight, &str)],
) -> String {
    let mut all = letters(drawings.into_iter().flat_map(Drawing::texts));
    for (weight, text) in texts {
        all.entry(*weight).or_default().extend(text.chars());
    }
    let mut rules = String::new();
    for (weight, letters) in all {
        let data = base64::engine::general_purpose::STANDARD.encode(subset(weight, &letters));
        let _ = write!(
            rules,
            "@font-face{{font-family:'{FAMILY}';font-weight:{};src:url(data:font/ttf;base64,{data})}}",
            weight.css()
        );
    }
    rules
}

/// The letters of texts by weight.
fn letters<'a>(texts: impl Iterator<Item = &'a Text>) -> BTreeMap<Weight, BTreeSet<char>> {
    let mut letters: BTreeMap<Weight, BTreeSet<char>> = BTreeMap::new();
    for text in texts {
        let used = text.runs.iter().flat_map(|run| run.text.chars());
        letters.entry(text.weight).or_default().extend(used);
    }
    letters
}

fn write_shape(out: &mut String, shape: &PathShape) {
    match &shape.outline {
        PathOutline::Circle { centre, radius } => {
            let _ = write!(
                out,
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"",
                number(centre[0]),
                number(centre[1]),
                number(*radius)
            );
        }
        PathOutline::Lines(lines) => {
            out.push_str("<path d=\"");
            for line in lines {
                let at = |[x, y]: [f64; 2]| format!("{} {}", number(x), number(y));
                if let Some(first) = line.points.first() {
                    let _ = write!(out, "M{}", at(*first));
                }
                for step in line.steps() {
                    let _ = match step {
                        PathStep::Straight(to) => write!(out, "L{}", at(to)),
                        PathStep::Curve(c, d, to) => write!(out, "C{} {} {}", at(c), at(d), at(to)),
                    };
                }
                if line.closed {
                    out.push('Z');
                }
            }
            out.push('"');
        }
    }
    let _ = write!(out, " class=\"{}\"", shape.role);
    let fill = shape.fill.map_or_else(|| "none".to_owned(), hex);
    let _ = write!(out, " fill=\"{fill}\"");
    if let Some(stroke) = &shape.stroke {
        let _ = write!(
            out,
            " stroke=\"{}\" stroke-width=\"{}\"",
            hex(stroke.colour),
            number(stroke.width)
        );
        if !stroke.dash.is_empty() {
            let dashes: Vec<String> = stroke.dash.iter().map(|dash| number(*dash)).collect();
            let _ = write!(out, " stroke-dasharray=\"{}\"", dashes.join(" "));
        }
    }
    out.push_str("/>\n");
}

fn write_text(out: &mut String, text: &Text) {
    let _ = write!(
        out,
        "<text class=\"{}\" x=\"{}\" y=\"{}\" font-family=\"'{FAMILY}',sans-serif\" font-size=\"{}\" \
         font-weight=\"{}\" font-kerning=\"none\" fill=\"{}\" xml:space=\"preserve\">",
        text.role,
        number(text.at[0]),
        number(text.at[1]),
        number(text.size),
        text.weight.css(),
        hex(text.colour)
    );
    if let [only] = text.runs.as_slice()
        && only.level == Script::Line
        && !only.is_italic
    {
        out.push_str(&escaped(&only.text));
    } else {
        text.placed()
            .for_each(|(run, at)| write_run(out, text, run, at));
    }
    out.push_str("</text>\n");
}

fn write_run(out: &mut String, text: &Text, run: &Run, at: [f64; 2]) {
    let _ = write!(
        out,
        "<tspan x=\"{}\" y=\"{}\" font-size=\"{}\"{}>{}</tspan>",
        number(at[0]),
        number(at[1]),
        number(run.size(text.size)),
        if run.is_italic {
            " font-style=\"italic\""
        } else {
            ""
        },
        escaped(&run.text)
    );
}

/// A number with at most two decimals, no negative zero.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

fn hex(Colour(red, green, blue): Colour) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// Text on one line for XML and HTML, without what they forbid. Control characters become spaces.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in for_xml(&text.replace(char::is_control, " ")).chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_names_are_escaped() {
        for (value, text) in [(1.0, "1"), (-0.001, "0"), (2.345, "2.35"), (10.5, "10.5")] {
            assert_eq!(number(value), text);
        }
        assert_eq!(escaped("a<b & \"c\"\u{7}"), "a&lt;b &amp; &quot;c&quot; ");
    }

    #[test]
    fn the_letters_travel_with_the_file_unless_the_page_has_them() {
        let drawing = Drawing {
            width: 10.0,
            height: 5.0,
            title: "A".into(),
            description: "A beam & a pin".into(),
            items: vec![Item::Text(Text {
                role: "name",
                at: [1.0, 2.0],
                runs: vec![
                    Run {
                        text: "A".into(),
                        level: Script::Line,
                        is_italic: true,
                    },
                    Run {
                        text: "x".into(),
                        level: Script::Below,
                        is_italic: false,
                    },
                ],
                size: 8.0,
                weight: Weight::Bold,
                colour: Colour(0, 0, 0),
            })],
        };
        let alone = svg(&drawing, Fonts::Inside);
        assert!(alone.contains("@font-face") && alone.contains("font-weight:700"));
        let inside = svg(&drawing, Fonts::FromPage);
        assert!(!inside.contains("@font-face"));
        assert!(inside.contains("<title>A</title>\n<desc>A beam &amp; a pin</desc>\n"));
        assert!(
            inside.contains(">A</tspan>") && inside.contains(">x</tspan>"),
            "{inside}"
        );
    }
}
