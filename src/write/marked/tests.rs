use std::io::{Cursor, Read, Write};
use std::sync::Arc;

use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

use super::*;
use crate::model::source::{Cell, Form, RowAt, SourceColumn, SourceRow, SourceTable};

/// `Beds` with the columns A `Bed` and C `Length`, and the rows 2 and 3.
fn sources() -> Sources {
    let column = |index, title| SourceColumn {
        index,
        title: Arc::from(title),
        field: Some(title),
    };
    let row = |row| SourceRow {
        row,
        cells: vec![Cell::Text(Arc::from("A")), Cell::Text(Arc::from("8"))],
    };
    Sources {
        tables: vec![SourceTable {
            sheet: Some(crate::model::sheet::Sheet::Beds),
            file: Arc::from("job.xlsx"),
            label: Arc::from("Beds & more"),
            form: Form::Workbook,
            columns: vec![column(0, "Bed"), column(2, "Length")],
            rows: vec![row(1), row(2)],
        }],
    }
}

fn problems() -> Vec<Problem> {
    let at = |row| RowAt { table: 0, row };
    vec![
        Problem::caution("long").at(at(1), "Length"),
        Problem::error("Length needs a unit")
            .at(at(1), "Length")
            .hint("write 8 ft"),
        Problem::error("Width is missing").at(at(2), "Width"),
        Problem::notice("struck out").place("job.xlsx!Beds & more!B1"),
        Problem::notice("no beds"),
    ]
}

/// A workbook of one sheet with parts that nothing here knows.
fn workbook(change: impl Fn(&str, &str) -> String) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    let packaged = "http://schemas.openxmlformats.org/package/2006/relationships";
    for (name, text) in [
        ("[Content_Types].xml", "<Types xmlns=\"x\"></Types>".to_owned()),
        (
            "_rels/.rels",
            format!("<Relationships xmlns=\"{packaged}\"><Relationship Id=\"rId1\" Type=\"{kind}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"),
        ),
        (
            "xl/workbook.xml",
            format!("<workbook xmlns=\"{main}\" xmlns:r=\"{kind}\"><sheets><sheet name=\"Beds &amp; more\" sheetId=\"4\" r:id=\"rId1\"/></sheets><calcPr calcId=\"1\"/></workbook>"),
        ),
        (
            "xl/_rels/workbook.xml.rels",
            format!("<Relationships xmlns=\"{packaged}\"><Relationship Id=\"rId1\" Type=\"{kind}/worksheet\" Target=\"worksheets/sheet1.xml\"/><Relationship Id=\"rId2\" Type=\"{kind}/styles\" Target=\"styles.xml\"/></Relationships>"),
        ),
        (
            "xl/styles.xml",
            "<styleSheet><fonts count=\"1\"><font/></fonts><fills count=\"1\"><fill/></fills><cellXfs count=\"1\"><xf numFmtId=\"0\"/></cellXfs></styleSheet>".to_owned(),
        ),
        (
            "xl/worksheets/sheet1.xml",
            format!("<worksheet xmlns=\"{main}\"><sheetData><row r=\"2\"><c r=\"A2\"><v>1</v></c><c r=\"C2\" t=\"str\"><f>1+1</f><v>8</v></c></row></sheetData><conditionalFormatting/></worksheet>"),
        ),
        ("xl/vbaProject.bin", "\u{1}\u{2}macros".to_owned()),
    ] {
        let options = SimpleFileOptions::default();
        writer.start_file(name, options).unwrap();
        writer.write_all(change(name, &text).as_bytes()).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

fn part(bytes: &[u8], name: &str) -> String {
    let mut package = ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    package
        .by_name(name)
        .unwrap()
        .read_to_string(&mut text)
        .unwrap();
    text
}

#[test]
fn only_what_is_marked_changes() {
    let original = workbook(|_, text| text.to_owned());
    let copy = patched(&original, &problems(), &sources()).unwrap();
    assert_eq!((copy.cells, copy.elsewhere), (3, 1));
    let sheet = part(&copy.bytes, "xl/worksheets/sheet1.xml");
    // Formats: 0 was there; the entries come with errors first, by cell, so 1 is the error's.
    assert!(
        sheet.contains("<sheetData><row r=\"1\"><c r=\"B1\" s="),
        "{sheet}"
    );
    assert!(
        sheet.contains("<c r=\"A2\"><v>1</v></c><c r=\"C2\" t=\"str\" s="),
        "{sheet}"
    );
    assert!(
        sheet.contains("><f>1+1</f><v>8</v></c></row><row r=\"3\"><c r=\"A3\" s="),
        "{sheet}"
    );
    assert!(
        sheet.contains("</sheetData><conditionalFormatting/><legacyDrawing "),
        "{sheet}"
    );
    let notes = part(&copy.bytes, "xl/comments1.xml");
    assert!(
        notes.contains("<comment ref=\"C2\" authorId=\"0\"><text><r><t xml:space=\"preserve\">ERROR: Length needs a unit\nHint: write 8 ft\n\nCAUTION: long</t></r></text></comment>"),
        "{notes}"
    );
    assert!(
        notes.contains("<comment ref=\"A3\""),
        "the row's name, for want of a column"
    );
    assert_eq!(part(&copy.bytes, "xl/vbaProject.bin"), "\u{1}\u{2}macros");
    let types = part(&copy.bytes, "[Content_Types].xml");
    for kind in ["comments+xml", "worksheet+xml", "Extension=\"vml\""] {
        assert!(types.contains(kind), "{types}");
    }
    let book = part(&copy.bytes, "xl/workbook.xml");
    assert!(book.contains("name=\"Problems\" sheetId=\"5\""), "{book}");
    assert!(book.contains("</sheets><definedNames><definedName name=\"loamwright_marked\" hidden=\"1\">'Problems'!$A$1</definedName></definedNames><calcPr"), "{book}");
    let list = part(&copy.bytes, "xl/worksheets/problems1.xml");
    assert!(
        list.contains("<hyperlink ref=\"B2\" location=\"&apos;Beds &amp; more&apos;!C2\"/>"),
        "{list}"
    );
    assert!(list.contains("no beds"), "{list}");
}

#[test]
fn what_cannot_be_patched_safely_is_refused_in_words() {
    let check = |name: &str, from: &str, to: &str, words: &str| {
        let change = |part: &str, text: &str| {
            if part == name {
                text.replace(from, to)
            } else {
                text.to_owned()
            }
        };
        let refused = patched(&workbook(change), &problems(), &sources()).unwrap_err();
        assert_eq!(refused.words(), words);
    };
    check(
        "xl/worksheets/sheet1.xml",
        "</row>",
        "",
        "a part of it is no proper XML",
    );
    check(
        "xl/workbook.xml",
        "Beds &amp; more",
        "Other",
        "a sheet of it is not where it says",
    );
    check(
        "xl/styles.xml",
        "<xf numFmtId=\"0\"/>",
        "",
        "its table of formats is not complete",
    );
    check(
        "xl/workbook.xml",
        "workbook",
        "x:workbook",
        "its parts are written with names of their own",
    );
    assert!(patched(b"no package", &problems(), &sources()).is_err());
}

#[test]
fn a_copy_made_anew_has_the_same_marks() {
    let copy = anew(&problems(), &sources()).unwrap();
    assert_eq!((copy.cells, copy.elsewhere), (3, 1));
    let notes = part(&copy.bytes, "xl/comments1.xml");
    assert!(
        notes.contains("ref=\"C2\"") && notes.contains("ERROR: Length needs a unit"),
        "{notes}"
    );
    let again = anew(&problems(), &sources()).unwrap();
    assert!(again.bytes == copy.bytes, "the same bytes for the same job");
}

#[test]
fn a_sheet_that_is_cut_off_anywhere_is_refused_or_marked() {
    let whole = part(
        &workbook(|_, text| text.to_owned()),
        "xl/worksheets/sheet1.xml",
    );
    for end in (0..whole.len()).filter(|end| whole.is_char_boundary(*end)) {
        let change = |name: &str, text: &str| match name {
            "xl/worksheets/sheet1.xml" => text[..end].to_owned(),
            _ => text.to_owned(),
        };
        let cut = patched(&workbook(change), &problems(), &sources());
        assert!(cut.is_err(), "a sheet of {end} bytes");
    }
}
