//! Tables as people lay them out: title blocks, odd spaces, line breaks in titles.

use rust_xlsxwriter::{Format, Worksheet, XlsxError};

use super::workbooks::{job, open_document, read};
use super::{column, opened_text, refused};
use crate::model::sheet::Sheet;
use crate::read::{Source, rows};
use crate::units::Length;

/// The beds of a sheet with lengths in feet, read without a word being told.
#[track_caller]
fn check(fill: &dyn Fn(&mut Worksheet) -> Result<(), XlsxError>, expected: &[(&str, i64)]) {
    let job = job(&[("Beds", fill)]);
    let (opened, told) = read(&job);
    assert_eq!(told, Vec::<String>::new());
    let mut problems = Vec::new();
    let found: Vec<(String, Option<Length>)> = rows(&opened, Sheet::Beds)
        .map(|row| {
            let name = row.text("Bed").unwrap_or_default().to_string();
            (name, row.length("Length", &mut problems))
        })
        .collect();
    let feet = |n: i64| Some(Length::feet(n.into()));
    let expected: Vec<_> = expected
        .iter()
        .map(|(b, n)| ((*b).to_owned(), feet(*n)))
        .collect();
    assert_eq!(found, expected);
    assert_eq!(problems, []);
}

#[test]
fn titles_may_hold_line_breaks_and_spaces_of_every_kind() {
    for title in [
        "Length\n(ft)",
        "Length  (ft)",
        "Length\u{a0}(ft)",
        "length (FT) ",
        "LENGTH\r\nft",
        "\u{a0}Length, in feet",
    ] {
        check(
            &|sheet| {
                sheet.write_row(0, 0, [" bed\u{a0}", title])?;
                sheet.write(1, 0, "A")?.write(1, 1, 8)?;
                Ok(())
            },
            &[("A", 8)],
        );
    }
}

#[test]
fn a_title_block_of_merged_cells_and_an_empty_first_column_are_passed_over() {
    check(
        &|sheet| {
            let plain = Format::new();
            sheet.merge_range(0, 1, 1, 4, "Beds for the school yard", &plain)?;
            sheet.merge_range(2, 1, 2, 2, "as agreed in spring", &plain)?;
            sheet.write_row(4, 1, ["Bed", "Length (ft)", "Width (ft)"])?;
            sheet.write(6, 1, "A")?.write(6, 2, 8)?;
            sheet.write(9, 1, "B")?.write(9, 2, 12)?;
            Ok(())
        },
        &[("A", 8), ("B", 12)],
    );
}

#[test]
fn units_in_a_row_of_their_own_become_part_of_the_title() {
    let job = job(&[("Beds", &|sheet| {
        sheet.write_row(0, 0, ["Bed", "Length", "Width"])?;
        sheet.write_row(1, 0, ["", "[ft]", "ft"])?;
        sheet.write(2, 0, "A")?.write(2, 1, 8)?;
        Ok(())
    })]);
    let (opened, told) = read(&job);
    assert_eq!(told, Vec::<String>::new());
    let columns = opened.sources.tables[0].columns.iter();
    let titles: Vec<&str> = columns.map(|c| &*c.title).collect();
    assert_eq!(titles, ["Bed", "Length (ft)", "Width (ft)"]);
}

#[test]
fn names_lose_the_spaces_around_them_and_keep_those_within() {
    let (opened, problems) = opened_text("BED,FILL\n A 1 ,\u{a0}Deep bed \n");
    assert_eq!(problems, []);
    assert_eq!(column(&opened, Sheet::Beds, "Bed"), ["A 1"]);
    assert_eq!(column(&opened, Sheet::Beds, "Fill"), ["Deep bed"]);
}

#[test]
fn a_workbook_that_is_no_job_tells_what_was_looked_for_and_what_was_found() {
    let job = job(&[
        ("Guests", &|sheet| {
            sheet.write_row(0, 0, ["Name", "Table", "Dish"])?;
            Ok(())
        }),
        ("Seating", &|_| Ok(())),
    ]);
    let told = refused(&Source::Path(job.path.clone()));
    let last = told.last().unwrap();
    assert_eq!(
        last.sentence,
        "nothing in the input is named as a sheet of a job, or looks like a list of beds"
    );
    let hint = last.hint.as_deref().unwrap();
    assert!(hint.contains("called Job, Sites"), "{hint}");
    assert!(hint.ends_with("; found Guests, Seating"), "{hint}");
}

/// From A1 to the 90th column of the last row: 94 million cells when laid out, from two.
#[test]
fn cells_far_apart_in_an_open_document_are_refused_at_once() {
    let cell =
        "<table:table-cell office:value-type=\"string\"><text:p>Worker</text:p></table:table-cell>";
    let far = open_document(
        &format!(
            "<table:table-row>{cell}</table:table-row>\
             <table:table-row table:number-rows-repeated=\"1048574\"><table:table-cell/></table:table-row>\
             <table:table-row><table:table-cell table:number-columns-repeated=\"89\"/>{cell}</table:table-row>"
        ),
        "",
    );
    let told = refused(&Source::Path(far.path.clone()));
    assert_eq!(
        told[0].sentence,
        "job.ods has cells so far apart that the room between them is too large"
    );
}
