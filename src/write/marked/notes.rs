//! Notes on the cells of a marked copy: beside those that are there already.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::Unmarkable;
use super::sheet::Marks;
use super::xml::{Edits, attribute, pieces, text};
use crate::model::source::a1;

/// Who writes our notes.
const AUTHOR: &str = "loamwright";
const EMPTY: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<comments xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><authors></authors><commentList></commentList></comments>";
const EMPTY_DRAWING: &str = "<xml xmlns:v=\"urn:schemas-microsoft-com:vml\" xmlns:o=\"urn:schemas-microsoft-com:office:office\" xmlns:x=\"urn:schemas-microsoft-com:office:excel\"></xml>";
const BOX_TYPE: &str = "<v:shapetype id=\"_x0000_t202\" coordsize=\"21600,21600\" o:spt=\"202\" path=\"m,l,21600r21600,l21600,xe\"><v:stroke joinstyle=\"miter\"/><v:path gradientshapeok=\"t\" o:connecttype=\"rect\"/></v:shapetype>";
/// The author of a note that only points to a conversation begins so; programs show the conversation.
const CONVERSATION: &str = "tc=";
/// Letters in a line of a note's box, about.
const IN_A_LINE: usize = 46;
/// The first number of our boxes, beyond those that programs give.
const FIRST_BOX: u32 = 500_000;

/// The part of notes with ours, and the cells that had none and need a box.
pub(super) fn noted(
    before: Option<String>,
    marks: &Marks,
) -> Result<(String, Vec<(u32, u32)>), Unmarkable> {
    let xml = before.unwrap_or_else(|| EMPTY.to_owned());
    let authors = authors(&xml)?;
    let by_name = |((row, column), mark): (&(u32, u32), &super::CellMark)| {
        Some((a1(*row, *column), ((*row, *column), mark.note.clone()?)))
    };
    let mut waiting: BTreeMap<String, ((u32, u32), String)> =
        marks.iter().filter_map(by_name).collect();
    let mut edits = Edits::default();
    // The note that we add to, and whether its text stands bare in it.
    let mut open: Option<String> = None;
    let mut text_depth = usize::MAX;
    for piece in pieces(&xml) {
        let piece = piece?;
        if let Some((_, true)) = piece.opens_as("authors") {
            let author = format!("<authors><author>{AUTHOR}</author></authors>");
            edits.replace(piece.at, author);
        } else if piece.closes_as("authors") {
            edits.insert(piece.at.start, format!("<author>{AUTHOR}</author>"));
        } else if let Some((tag, _)) = piece.opens_as("comment") {
            let cell = attribute(tag, "ref").unwrap_or_default();
            let author =
                attribute(tag, "authorId").and_then(|id| authors.get(id.parse::<usize>().ok()?));
            let added = waiting.remove(&cell).map(|(_, note)| note);
            open = added.filter(|_| !author.is_some_and(|name| name.starts_with(CONVERSATION)));
        } else if open.is_some() && piece.opens_as("text").is_some() {
            text_depth = piece.depth;
        } else if open.is_some() && piece.depth == text_depth.saturating_add(1) {
            // Bare text and runs do not stand side by side in one note.
            if piece.opens_as("t").is_some() {
                edits.insert(piece.at.start, "<r>".to_owned());
            } else if piece.closes_as("t") {
                edits.insert(piece.at.end, "</r>".to_owned());
            }
        } else if piece.closes_as("text")
            && let Some(note) = open.take()
        {
            edits.insert(piece.at.start, run(&format!("\n\n{note}")));
        } else if piece.closes_as("commentList") {
            let (comments, boxes) = new_comments(std::mem::take(&mut waiting), authors.len());
            edits.insert(piece.at.start, comments);
            return Ok((edits.applied(&xml)?, boxes));
        }
    }
    Err(Unmarkable("its list of notes is not complete"))
}

/// Comments by an author for cells that have none, and their cells, by row.
fn new_comments(
    notes: BTreeMap<String, ((u32, u32), String)>,
    author: usize,
) -> (String, Vec<(u32, u32)>) {
    let mut new: Vec<_> = notes.into_iter().collect();
    new.sort_by_key(|(_, (at, _))| *at);
    let mut comments = String::new();
    let mut boxes = Vec::new();
    for (cell, (at, note)) in new {
        // Writing to a string cannot fail.
        let _ = write!(
            comments,
            "<comment ref=\"{cell}\" authorId=\"{author}\"><text>{}</text></comment>",
            run(&note)
        );
        boxes.push(at);
    }
    (comments, boxes)
}

fn authors(xml: &str) -> Result<Vec<String>, Unmarkable> {
    let mut authors = Vec::new();
    let (mut inside, mut name) = (false, String::new());
    for piece in pieces(xml) {
        let piece = piece?;
        if let Some((_, empty)) = piece.opens_as("author") {
            inside = !empty;
            name.clear();
            if empty {
                authors.push(String::new());
            }
        } else if piece.closes_as("author") {
            inside = false;
            authors.push(name.clone());
        } else if inside {
            name.push_str(xml.get(piece.at).unwrap_or_default());
        }
    }
    Ok(authors)
}

fn run(note: &str) -> String {
    format!("<r><t xml:space=\"preserve\">{}</t></r>", text(note))
}

/// The drawing of notes with boxes for these cells.
pub(super) fn boxed(
    before: Option<String>,
    cells: &[(u32, u32)],
    marks: &Marks,
) -> Result<String, Unmarkable> {
    let xml = before.unwrap_or_else(|| EMPTY_DRAWING.to_owned());
    // These drawings are not always proper XML, so the end is looked for as text.
    let end = xml
        .rfind("</xml>")
        .ok_or(Unmarkable("its drawing of notes is not complete"))?;
    let mut shapes = String::new();
    if !xml.contains("_x0000_t202\"") {
        shapes.push_str(BOX_TYPE);
    }
    for (number, (row, column)) in (FIRST_BOX..).zip(cells) {
        let note = marks
            .get(&(*row, *column))
            .and_then(|mark| mark.note.as_deref());
        shapes.push_str(&shape(number, (*row, *column), note.unwrap_or_default()));
    }
    let mut edits = Edits::default();
    edits.insert(end, shapes);
    edits.applied(&xml)
}

/// A hidden box right of its cell, as high as its text is long.
fn shape(number: u32, (row, column): (u32, u32), note: &str) -> String {
    let lines = note
        .lines()
        .map(|line| line.chars().count() / IN_A_LINE + 1);
    let height = u32::try_from(lines.sum::<usize>() + 1)
        .unwrap_or(40)
        .min(40);
    let (left, right) = (column.saturating_add(1), column.saturating_add(5));
    let (top, bottom) = (
        row.saturating_sub(1),
        row.saturating_sub(1).saturating_add(height),
    );
    // The names of the drawing's namespaces are its writer's own choice, and may not be these.
    format!(
        "<v:shape xmlns:v=\"urn:schemas-microsoft-com:vml\" xmlns:o=\"urn:schemas-microsoft-com:office:office\" xmlns:x=\"urn:schemas-microsoft-com:office:excel\" id=\"_x0000_s{number}\" type=\"#_x0000_t202\" style=\"position:absolute;visibility:hidden\" fillcolor=\"#ffffe1\" o:insetmode=\"auto\"><v:fill color2=\"#ffffe1\"/><v:shadow on=\"t\" color=\"black\" obscured=\"t\"/><v:path o:connecttype=\"none\"/><v:textbox style=\"mso-direction-alt:auto\"><div style=\"text-align:left\"></div></v:textbox><x:ClientData ObjectType=\"Note\"><x:MoveWithCells/><x:SizeWithCells/><x:Anchor>{left}, 12, {top}, 8, {right}, 12, {bottom}, 8</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>{row}</x:Row><x:Column>{column}</x:Column></x:ClientData></v:shape>"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Severity;
    use crate::write::marked::CellMark;

    fn marks(cells: &[(u32, u32)]) -> Marks {
        let mark = CellMark {
            severity: Severity::Error,
            note: Some("ERROR: 8 < 9".to_owned()),
        };
        cells.iter().map(|at| (*at, mark.clone())).collect()
    }

    #[test]
    fn notes_that_are_there_are_added_to() {
        let before = "<comments><authors><author>Ann</author><author>tc={1}</author></authors><commentList>\
             <comment ref=\"A1\" authorId=\"0\"><text><t>measured twice</t></text></comment>\
             <comment ref=\"B1\" authorId=\"0\"><text><r><t>old</t></r></text></comment>\
             <comment ref=\"C1\" authorId=\"1\"><text><t>see the thread</t></text></comment>\
             </commentList></comments>";
        let cells = [(0, 0), (0, 1), (0, 2), (0, 3)];
        let (xml, boxes) = noted(Some(before.to_owned()), &marks(&cells)).unwrap();
        let ours = "<r><t xml:space=\"preserve\">\n\nERROR: 8 &lt; 9</t></r>";
        let expected = format!(
            "<comments><authors><author>Ann</author><author>tc={{1}}</author><author>loamwright</author></authors><commentList>\
             <comment ref=\"A1\" authorId=\"0\"><text><r><t>measured twice</t></r>{ours}</text></comment>\
             <comment ref=\"B1\" authorId=\"0\"><text><r><t>old</t></r>{ours}</text></comment>\
             <comment ref=\"C1\" authorId=\"1\"><text><t>see the thread</t></text></comment>\
             <comment ref=\"D1\" authorId=\"2\"><text><r><t xml:space=\"preserve\">ERROR: 8 &lt; 9</t></r></text></comment>\
             </commentList></comments>"
        );
        assert_eq!(xml, expected);
        assert_eq!(boxes, [(0, 3)]);
    }

    #[test]
    fn a_box_in_a_drawing_with_other_prefixes_declares_its_own() {
        let old = "<xml xmlns:ns1=\"urn:schemas-microsoft-com:vml\"><ns1:shape/></xml>";
        let drawn = boxed(Some(old.to_owned()), &[(0, 0)], &marks(&[(0, 0)])).unwrap();
        let (_, ours) = drawn.split_once("<v:shape ").unwrap();
        for prefix in ["v", "o", "x"] {
            let declared = format!("xmlns:{prefix}=\"urn:schemas-microsoft-com:");
            assert!(ours.contains(&declared), "{ours}");
        }
    }

    #[test]
    fn a_drawing_that_is_no_proper_xml_is_added_to_all_the_same() {
        let old = "<xml><br><v:shapetype id=\"_x0000_t202\"/></xml>";
        let drawn = boxed(Some(old.to_owned()), &[(6, 3)], &marks(&[(6, 3)])).unwrap();
        assert!(drawn.starts_with("<xml><br><v:shapetype id=\"_x0000_t202\"/><v:shape "));
        assert!(
            drawn
                .ends_with("<x:Row>6</x:Row><x:Column>3</x:Column></x:ClientData></v:shape></xml>")
        );
        assert_eq!(drawn.matches("_x0000_t202\"").count(), 2);
        assert!(boxed(Some("<xml>".to_owned()), &[], &marks(&[])).is_err());
    }
}
