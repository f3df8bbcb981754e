//! What the XML of a sheet says that the cell reader does not: hidden rows, and whether there are
//! merged cells or formulas at all, which spares further passes over big sheets.
//!
//! Only plain packages are looked into; for any other the answer is `None` and nothing is lost but
//! the notice about hidden rows.

use std::io::{Cursor, Read as _};

use zip::ZipArchive;

/// Larger parts are not unpacked for a notice.
const MOST_BYTES: u64 = 300_000_000;

/// What is said of one sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Facts {
    /// Hidden rows, from 0, in file order.
    pub(super) hidden: Vec<u32>,
    /// Hidden columns, from 0: the first and the last of each run.
    pub(super) columns: Vec<(u32, u32)>,
    /// Whether cells are merged.
    pub(super) merges: bool,
    /// Whether there are formulas.
    pub(super) formulas: bool,
}

/// Looks into the package of a workbook for the sheet called `name`.
pub(super) fn facts(bytes: &[u8], name: &str) -> Option<Facts> {
    let mut package = ZipArchive::new(Cursor::new(bytes)).ok()?;
    let workbook = part(&mut package, "xl/workbook.xml")?;
    let links = part(&mut package, "xl/_rels/workbook.xml.rels")?;
    let id = id_of(&workbook, name)?;
    let link = elements(&links, "Relationship").find(|e| attribute(e, "Id") == Some(&*id))?;
    let target = attribute(link, "Target")?;
    let path = match target.strip_prefix('/') {
        Some(absolute) => absolute.to_owned(),
        None => format!("xl/{target}"),
    };
    part(&mut package, &path).map(|xml| of_sheet(&xml))
}

/// A part of a package as text; `None` when there is none, it is no text, or it is too large.
pub(super) fn part(package: &mut ZipArchive<Cursor<&[u8]>>, name: &str) -> Option<String> {
    let part = package.by_name(name).ok()?;
    let size = part.size();
    if size > MOST_BYTES {
        return None;
    }
    let mut text = String::with_capacity(usize::try_from(size).ok()?);
    // The size is what the package claims; the limit holds whatever it is.
    part.take(MOST_BYTES).read_to_string(&mut text).ok()?;
    Some(text)
}

fn id_of(workbook: &str, name: &str) -> Option<String> {
    let mut sheets = elements(workbook, "sheet");
    let sheet = sheets.find(|e| attribute(e, "name").is_some_and(|n| unescaped(n) == name))?;
    attribute(sheet, "r:id").map(str::to_owned)
}

fn of_sheet(xml: &str) -> Facts {
    let (cells, after) = match xml.rfind("</sheetData>") {
        Some(end) => xml.split_at(end),
        None => (xml, xml),
    };
    let hidden = elements(cells, "row").filter(is_hidden);
    let head = cells.split("<sheetData").next().unwrap_or_default();
    let columns = elements(head, "col").filter(is_hidden);
    Facts {
        columns: columns.filter_map(run_of_columns).collect(),
        hidden: hidden.filter_map(row_number).collect(),
        merges: after.contains("mergeCell "),
        formulas: ["<f>", "<f ", ":f>", ":f "]
            .iter()
            .any(|mark| cells.contains(mark)),
    }
}

fn is_hidden(tag: &&str) -> bool {
    let hidden = attribute(tag, "hidden");
    hidden == Some("1") || hidden == Some("true")
}

fn run_of_columns(col: &str) -> Option<(u32, u32)> {
    let number = |name| attribute(col, name)?.parse::<u32>().ok()?.checked_sub(1);
    Some((number("min")?, number("max")?))
}

fn row_number(row: &str) -> Option<u32> {
    attribute(row, "r")?.parse::<u32>().ok()?.checked_sub(1)
}

/// The start tags called `name`, from behind the name to the closing bracket.
fn elements<'a>(xml: &'a str, name: &str) -> impl Iterator<Item = &'a str> {
    let open = format!("<{name} ");
    let mut rest = xml;
    std::iter::from_fn(move || {
        let start = rest.find(&open)?.checked_add(open.len())?;
        let tag = rest.get(start..)?;
        let end = tag.find('>')?;
        rest = tag.get(end..)?;
        tag.get(..end)
    })
}

/// The value of an attribute in a tag, as written.
fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let mut rest = tag;
    loop {
        let (key, after) = rest.split_once('=')?;
        let quote = after.chars().next().filter(|c| matches!(c, '"' | '\''))?;
        let (value, after) = after.get(1..)?.split_once(quote)?;
        if key.trim() == name {
            return Some(value);
        }
        rest = after;
    }
}

fn unescaped(text: &str) -> String {
    if !text.contains('&') {
        return text.to_owned();
    }
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&apos;", "'")
        .replace("&amp;", "&")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_merges_and_formulas_are_seen_in_the_xml() {
        let facts = of_sheet(
            "<cols><col min=\"1\" max=\"2\" width=\"9\"/><col min=\"3\" max=\"4\" hidden=\"1\"/></cols>\
             <sheetData><row r=\"1\" spans='1:2'><c r=\"A1\"/></row>\
             <row r=\"7\" hidden=\"1\" ht=\"0\"><c><f>A1</f></c></row>\
             <row hidden=\"0\" r=\"8\"/></sheetData>\
             <mergeCells count=\"1\"><mergeCell ref=\"A1:A2\"/></mergeCells>",
        );
        let expected = Facts {
            hidden: vec![6],
            columns: vec![(2, 3)],
            merges: true,
            formulas: true,
        };
        assert_eq!(facts, expected);
        let bare = of_sheet("<sheetData><row r=\"1\"/></sheetData>");
        assert_eq!(bare, Facts::default());
        let _ = of_sheet("<row r=\"1\" hidden=\"1");
    }

    #[test]
    fn sheets_are_found_by_their_name_as_typed() {
        let xml = "<sheets><sheet name=\"Beds\" sheetId=\"1\" r:id=\"rId1\"/>\
                   <sheet name=\"Paths &amp; edges\" sheetId=\"2\" r:id=\"rId2\"/></sheets>";
        assert_eq!(id_of(xml, "Paths & edges").as_deref(), Some("rId2"));
        assert_eq!(id_of(xml, "Fills"), None);
    }
}
