//! A drawing as SVG 1.1: nothing in it is fetched from elsewhere, and words are text.

use std::fmt::Write as _;

use quick_xml::escape::escape;

use super::marks::{Anchor, Drawing, Line, Mark, Pattern, Spot};
use super::paper::{MM, Paper};
use crate::problem::printable;

/// Height of letters: 7 1/2 points, which a phone and a site in the rain still show.
const LETTERS: Paper = 265;
/// Families of letters, the first of which the documents carry.
const FAMILY: &str = "Noto Sans, Helvetica, Arial, sans-serif";

/// The drawing as a document of its own.
pub fn svg(drawing: &Drawing) -> String {
    let mut out = String::with_capacity(4_096);
    let Drawing { width, height, .. } = drawing;
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{}mm\" viewBox=\"0 0 {width} {height}\" font-family=\"{FAMILY}\" font-size=\"{LETTERS}\">",
        millimetres(*width),
        millimetres(*height),
    );
    let _ = write!(out, "<title>{}</title>", text(&drawing.alt));
    let used: Vec<Pattern> = Pattern::ALL
        .into_iter()
        .filter(|pattern| uses(drawing, *pattern))
        .collect();
    if !used.is_empty() {
        out.push_str("<defs>");
        for pattern in used {
            out.push_str(&defined(pattern));
        }
        out.push_str("</defs>");
    }
    let mut lines = Lines::default();
    for mark in &drawing.marks {
        match mark {
            Mark::Area {
                outlines,
                pattern,
                edge,
            } => {
                lines.draw(&mut out);
                area(&mut out, outlines, *pattern, *edge);
            }
            Mark::Path { points: of, line } => lines.add(of, *line),
            Mark::Words { .. } => {}
        }
    }
    lines.draw(&mut out);
    for mark in &drawing.marks {
        out.push_str(&words(mark));
    }
    out.push_str("</svg>\n");
    out
}

fn millimetres(paper: Paper) -> String {
    format!("{}.{:02}", paper / MM, paper % MM)
}

fn text(words: &str) -> String {
    escape(printable(words).replace('\n', " ")).into_owned()
}

fn uses(drawing: &Drawing, pattern: Pattern) -> bool {
    let mut marks = drawing.marks.iter();
    marks.any(|mark| matches!(mark, Mark::Area { pattern: Some(p), .. } if *p == pattern))
}

/// What repeats in a pattern: its tile in hundredths of a millimetre, its ground, its strokes.
fn defined(pattern: Pattern) -> String {
    let (tile, ground, strokes) = match pattern {
        Pattern::Wall => (
            160,
            "#d8d8d8",
            "<path d=\"M0 160L160 0\" stroke=\"#777\" stroke-width=\"12\"/>",
        ),
        Pattern::Ground => (
            220,
            "#efefef",
            "<path d=\"M20 200L90 130M130 90L200 20M130 200h50M30 60h50\" stroke=\"#999\" stroke-width=\"12\"/>",
        ),
        Pattern::Wood => (
            420,
            "#fff",
            "<g fill=\"none\" stroke=\"#555\" stroke-width=\"14\"><circle cx=\"120\" cy=\"120\" r=\"85\"/><circle cx=\"120\" cy=\"120\" r=\"40\"/><circle cx=\"315\" cy=\"300\" r=\"70\"/><circle cx=\"315\" cy=\"300\" r=\"30\"/></g>",
        ),
        Pattern::Soil => (
            140,
            "#f6f6f6",
            "<g fill=\"#777\"><circle cx=\"35\" cy=\"35\" r=\"11\"/><circle cx=\"105\" cy=\"100\" r=\"11\"/></g>",
        ),
        Pattern::Compost => (
            170,
            "#e6e6e6",
            "<path d=\"M20 50h50M100 120h50\" stroke=\"#444\" stroke-width=\"18\"/>",
        ),
        Pattern::Gravel => (
            200,
            "#fff",
            "<g fill=\"none\" stroke=\"#777\" stroke-width=\"12\"><circle cx=\"55\" cy=\"55\" r=\"32\"/><circle cx=\"150\" cy=\"145\" r=\"38\"/></g>",
        ),
        Pattern::Litter => (
            240,
            "#fff",
            "<path d=\"M0 80q60 -60 120 0t120 0M0 200q60 -60 120 0t120 0\" fill=\"none\" stroke=\"#777\" stroke-width=\"13\"/>",
        ),
        Pattern::Other => (
            200,
            "#fff",
            "<path d=\"M0 0L200 200\" stroke=\"#aaa\" stroke-width=\"12\"/>",
        ),
    };
    let name = pattern.name();
    format!(
        "<pattern id=\"{name}\" width=\"{tile}\" height=\"{tile}\" patternUnits=\"userSpaceOnUse\"><rect width=\"{tile}\" height=\"{tile}\" fill=\"{ground}\"/>{strokes}</pattern>"
    )
}

const fn stroke(line: Line) -> &'static str {
    match line {
        Line::Edge => "stroke=\"#222\" stroke-width=\"25\" stroke-linejoin=\"round\"",
        Line::Thin => "stroke=\"#666\" stroke-width=\"12\"",
        Line::Dashed => "stroke=\"#222\" stroke-width=\"18\" stroke-dasharray=\"90 60\"",
    }
}

fn points(of: &[Spot]) -> String {
    let mut out = String::new();
    for (index, (x, y)) in of.iter().enumerate() {
        let step = if index == 0 { 'M' } else { 'L' };
        let _ = write!(out, "{step}{x} {y}");
    }
    out
}

/// Lines that nothing lies between, drawn together by kind: a third of the size.
#[derive(Default)]
struct Lines([String; 3]);

impl Lines {
    fn add(&mut self, of: &[Spot], line: Line) {
        let [edge, thin, dashed] = &mut self.0;
        let of_kind = match line {
            Line::Edge => edge,
            Line::Thin => thin,
            Line::Dashed => dashed,
        };
        of_kind.push_str(&points(of));
    }

    fn draw(&mut self, out: &mut String) {
        let kinds = [Line::Edge, Line::Thin, Line::Dashed];
        for (path, line) in std::mem::take(&mut self.0).iter().zip(kinds) {
            if !path.is_empty() {
                let stroke = stroke(line);
                let _ = write!(out, "<path d=\"{path}\" fill=\"none\" {stroke}/>");
            }
        }
    }
}

fn area(out: &mut String, outlines: &[Vec<Spot>], pattern: Option<Pattern>, edge: Line) {
    let outlines: Vec<String> = outlines.iter().map(|o| points(o) + "Z").collect();
    let fill = pattern.map_or_else(
        || "#fff".to_owned(),
        |pattern| format!("url(#{})", pattern.name()),
    );
    let _ = write!(
        out,
        "<path d=\"{}\" fill=\"{fill}\" fill-rule=\"evenodd\" {}/>",
        outlines.concat(),
        stroke(edge)
    );
}

/// Width of a letter on average, for the plate behind words.
const LETTER: Paper = LETTERS * 58 / 100;

fn words(mark: &Mark) -> String {
    let Mark::Words {
        at: (x, y),
        text: words,
        anchor,
        upright,
        strong,
        plate,
    } = mark
    else {
        return String::new();
    };
    let wide = i64::try_from(words.chars().count()).unwrap_or(0) * LETTER;
    let (anchor, left) = match anchor {
        Anchor::Start => ("start", *x),
        Anchor::Middle => ("middle", x - wide / 2),
        Anchor::End => ("end", x - wide),
    };
    let plate = if *plate {
        let (top, high) = (y - LETTERS * 85 / 100, LETTERS * 11 / 10);
        format!(
            "<rect x=\"{}\" y=\"{top}\" width=\"{}\" height=\"{high}\" fill=\"#fff\"/>",
            left - 30,
            wide + 60
        )
    } else {
        String::new()
    };
    let turned = if *upright {
        format!(" transform=\"rotate(-90 {x} {y})\"")
    } else {
        String::new()
    };
    let weight = if *strong { " font-weight=\"bold\"" } else { "" };
    format!(
        "{plate}<text x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\"{turned}{weight} fill=\"#111\">{}</text>",
        text(words)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Scale;
    use crate::units::System;

    #[test]
    fn words_are_text_and_never_markup() {
        let drawing = Drawing {
            width: 4_050,
            height: 2_000,
            scale: Scale {
                one_to: 20,
                system: System::Metric,
            },
            alt: "Plan of <b>&\u{7}".to_owned(),
            marks: vec![
                Mark::words((10, 20), "<script>\"'&\u{1}", Anchor::Middle),
                Mark::Area {
                    outlines: vec![vec![(0, 0), (100, 0), (0, 100)]],
                    pattern: Some(Pattern::Wall),
                    edge: Line::Edge,
                },
            ],
        };
        let text = svg(&drawing);
        assert!(text.contains("width=\"40.50mm\" height=\"20.00mm\" viewBox=\"0 0 4050 2000\""));
        assert!(text.contains("&lt;script&gt;&quot;&apos;&amp;"), "{text}");
        assert!(text.contains("M0 0L100 0L0 100Z"));
        assert!(!text.contains("<script") && !text.contains('\u{1}') && !text.contains('\u{7}'));
        // Only the pattern that is used is in it.
        assert!(text.contains("id=\"wall\"") && !text.contains("id=\"soil\""));
    }
}
