//! Workbooks, written here and read back.
//!
//! Longer than most because every quirk of a workbook is written out as a file of its own.

use std::path::PathBuf;

use jiff::civil::date;
use rust_decimal::Decimal;
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook, Worksheet, XlsxError};

use super::{column, opened_path, printed, refused};
use crate::model::sheet::Sheet;
use crate::read::{Opened, Source, rows};
use crate::units::Length;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// A workbook file that vanishes at the end of the test.
pub(super) struct Job {
    _folder: tempfile::TempDir,
    pub(super) path: PathBuf,
}

/// What fills a sheet.
pub(super) type Fill<'a> = &'a dyn Fn(&mut Worksheet) -> Result<(), XlsxError>;

/// Writes a job of named sheets.
pub(super) fn job(sheets: &[(&str, Fill<'_>)]) -> Job {
    let mut book = Workbook::new();
    for (name, fill) in sheets {
        let sheet = book.add_worksheet();
        sheet.set_name(*name).unwrap();
        fill(sheet).unwrap();
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.xlsx");
    book.save(&path).unwrap();
    Job {
        _folder: folder,
        path,
    }
}

fn beds(sheet: &mut Worksheet) -> Result<(), XlsxError> {
    sheet.write_row(0, 0, ["Bed", "Length (ft)", "Width", "Slope %"])?;
    sheet.write_row(1, 0, ["A", "", "4 ft"])?;
    sheet.write(1, 1, 8)?;
    Ok(())
}

pub(super) fn read(job: &Job) -> (Opened, Vec<String>) {
    let (opened, problems) = opened_path(&job.path);
    let told = printed(&opened, &problems);
    (opened, told)
}

fn prices(sheet: &mut Worksheet) -> Result<(), XlsxError> {
    sheet.write_row(3, 1, ["Supplier", "Price", "Price date", "Taxable", "Step"])?;
    sheet.write(4, 1, "Green Yard")?;
    // What a sum of 0.1 and 0.2 leaves in the file.
    sheet.write(4, 2, 0.300_000_000_000_000_04)?;
    let day = Format::new().set_num_format("yyyy-mm-dd");
    let when = ExcelDateTime::from_ymd(2026, 11, 24)?;
    sheet.write_with_format(4, 3, &when, &day)?;
    sheet.write(4, 4, true)?;
    sheet.write(4, 5, 45)?;
    Ok(())
}

#[test]
fn numbers_dates_and_truth_values_keep_their_meaning() {
    let job = job(&[("Beds", &beds), ("Prices", &prices)]);
    let (opened, told) = read(&job);
    assert_eq!(told, Vec::<String>::new());
    let mut problems = Vec::new();
    let price = rows(&opened, Sheet::Prices).next().unwrap();
    assert_eq!(price.money("Price", &mut problems), Some(d("0.3")));
    assert_eq!(
        price.date("Price date", &mut problems),
        Some(date(2026, 11, 24))
    );
    assert_eq!(price.yes_no("Taxable", &mut problems), Some(true));
    // 45 is a number and no day of February 1900.
    assert_eq!(price.number("Step", &mut problems), Some(d("45")));
    assert_eq!(
        opened.sources.place_of(price.at, "Price").as_deref(),
        Some("job.xlsx!Prices!C5")
    );
    assert_eq!(problems, []);
}

#[test]
fn a_format_decides_whether_a_number_is_a_percentage() {
    let job = job(&[
        ("Beds", &beds),
        ("Workers", &|sheet| {
            sheet.write_row(0, 0, ["Worker", "Burden %", "Pay rate"])?;
            let percent = Format::new().set_num_format("0%");
            sheet.write_with_format(1, 1, 1.5, &percent)?;
            sheet.write_with_format(2, 1, 1, &percent)?;
            sheet.write(3, 1, 15)?;
            sheet.write(4, 1, 0.15)?;
            sheet.write(5, 1, 1)?;
            Ok(())
        }),
    ]);
    let (opened, told) = read(&job);
    assert_eq!(told, Vec::<String>::new());
    let mut problems = Vec::new();
    let burdens: Vec<_> = rows(&opened, Sheet::Workers)
        .map(|row| {
            row.percent("Burden %", &mut problems)
                .map(|p| p.normalize())
        })
        .collect();
    let expected = ["1.5", "1", "0.15", "0.15"].map(|text| Some(d(text)));
    assert_eq!(burdens[..4], expected);
    assert_eq!(burdens[4], None);
    assert_eq!(
        printed(&opened, &problems),
        ["error: Burden % is unclear: 1 may be 1% or 100%\n  \
          at job.xlsx!Workers!B6, which holds \"1\"\n  hint: write 1% or 100%"]
    );
}

#[test]
fn a_length_that_the_spreadsheet_turned_into_a_date_is_understood() {
    let job = job(&[("Beds", &|sheet| {
        sheet.write_row(0, 0, ["Bed", "Length (ft)"])?;
        sheet.write(1, 0, "A")?;
        let day = Format::new().set_num_format("d-mmm");
        sheet.write_with_format(1, 1, &ExcelDateTime::from_ymd(2026, 7, 6)?, &day)?;
        Ok(())
    })]);
    let (opened, _) = read(&job);
    let mut problems = Vec::new();
    let bed = rows(&opened, Sheet::Beds).next().unwrap();
    assert_eq!(bed.length("Length", &mut problems), None);
    assert_eq!(
        printed(&opened, &problems),
        [
            "error: Length needs a length, but your spreadsheet turned 7-6 into a date\n  \
          at job.xlsx!Beds!B2, which holds \"2026-07-06\"\n  hint: write 7' 6\""
        ]
    );
}

#[test]
fn errors_and_formulas_without_results_name_their_cell() {
    let job = job(&[("Beds", &|sheet| {
        sheet.write_row(0, 0, ["Bed", "Length (ft)", "Width (ft)", "Colour"])?;
        sheet.write(1, 0, "A")?;
        sheet.write(1, 1, Formula::new("=A1*2").set_result("#REF!"))?;
        sheet.write(1, 2, Formula::new("=2+2").set_result("4"))?;
        sheet.write(1, 3, Formula::new("=1/0").set_result("#DIV/0!"))?;
        Ok(())
    })]);
    let (opened, told) = read(&job);
    assert_eq!(
        told,
        [
            "notice: a column of Beds is not known: it is carried along and not used\n  \
             at job.xlsx!Beds!D1, which holds \"Colour\"",
            "error: Length holds an error instead of a value\n  \
             at job.xlsx!Beds!B2, which holds \"#REF!\"\n  \
             hint: mend the formula, or type the value",
        ]
    );
    let bed = rows(&opened, Sheet::Beds).next().unwrap();
    assert!(bed.spoilt("Length") && !bed.has("Length") && !bed.spoilt("Width"));
    let width = bed.length("Width", &mut Vec::new());
    assert_eq!(width, Some(Length::feet(d("4"))));
}

/// The same workbook with one part of its package changed as text.
fn tampered(job: &Job, part: &str, change: impl Fn(String) -> String) -> Job {
    use std::io::{Read as _, Write as _};
    let bytes = std::fs::read(&job.path).unwrap();
    let mut package = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.xlsx");
    let mut out = zip::ZipWriter::new(std::fs::File::create(&path).unwrap());
    for i in 0..package.len() {
        let mut entry = package.by_index(i).unwrap();
        let name = entry.name().unwrap().to_string();
        let mut text = String::new();
        entry.read_to_string(&mut text).unwrap();
        let text = if name == part { change(text) } else { text };
        let options = zip::write::SimpleFileOptions::default();
        out.start_file(name.as_str(), options).unwrap();
        out.write_all(text.as_bytes()).unwrap();
    }
    out.finish().unwrap();
    Job {
        _folder: folder,
        path,
    }
}

#[test]
fn a_table_of_texts_that_claims_the_moon_is_refused_before_it_is_read() {
    let job = job(&[("Beds", &|sheet| beds(sheet))]);
    let vast = tampered(&job, "xl/sharedStrings.xml", |xml| {
        let (before, rest) = xml.split_once("uniqueCount=\"").unwrap();
        let (_, after) = rest.split_once('"').unwrap();
        format!("{before}uniqueCount=\"4000000000\"{after}")
    });
    // Room for four thousand million texts would be 96 GB, and the process would end without a word.
    let staged = crate::read::open(&Source::Path(vast.path.clone()));
    assert!(staged.output.is_none());
    let told = &staged.problems[0].sentence;
    assert!(told.contains("more texts than it has room for"), "{told}");
}

const FIRST_SHEET: &str = "xl/worksheets/sheet1.xml";

#[test]
fn a_formula_without_a_result_is_no_zero() {
    let job = job(&[("Beds", &|sheet| {
        beds(sheet)?;
        sheet.write(1, 1, Formula::new("=4+4").set_result("8"))?;
        Ok(())
    })]);
    let bare = tampered(&job, FIRST_SHEET, |xml| {
        assert!(xml.contains("<v>8</v>"));
        xml.replace("<v>8</v>", "")
    });
    let (opened, told) = read(&bare);
    assert_eq!(
        told,
        [
            "error: Length holds a formula without its result\n  at job.xlsx!Beds!B2\n  \
          hint: open it in a spreadsheet program, let it calculate and save"
        ]
    );
    assert!(rows(&opened, Sheet::Beds).next().unwrap().spoilt("Length"));
}

#[test]
fn a_stray_cell_in_the_last_corner_costs_nothing_and_is_told() {
    let job = job(&[("Beds", &|sheet| {
        beds(sheet)?;
        sheet.write(1_048_575, 16_383, "stray")?;
        Ok(())
    })]);
    let (opened, told) = read(&job);
    assert_eq!(
        told,
        [
            "notice: a value that stands under no column title is not read\n  \
          at job.xlsx!Beds!XFD1048576"
        ]
    );
    assert_eq!(column(&opened, Sheet::Beds, "Bed"), ["A"]);
}

#[test]
fn merged_labels_are_meant_for_all_their_rows_and_merged_amounts_are_not() {
    let job = job(&[
        ("Beds", &beds),
        ("Prices", &|sheet| {
            sheet.write_row(0, 0, ["Supplier", "Material", "Price"])?;
            sheet.write_column(1, 1, ["Compost", "Topsoil", "Gravel"])?;
            sheet.merge_range(1, 0, 2, 0, "Green Yard", &Format::new())?;
            sheet.write(3, 0, "Stone Yard")?;
            sheet.merge_range(1, 2, 2, 2, "42.00", &Format::new())?;
            Ok(())
        }),
    ]);
    let (opened, told) = read(&job);
    assert_eq!(
        column(&opened, Sheet::Prices, "Supplier"),
        ["Green Yard", "Green Yard", "Stone Yard"]
    );
    assert_eq!(column(&opened, Sheet::Prices, "Price"), ["42.00", "-", "-"]);
    assert_eq!(
        told,
        [
            "notice: cells of Price are merged, and only the first row has the value\n  \
          at job.xlsx!Prices!C2, which holds \"42.00\""
        ]
    );
}

#[test]
fn struck_out_and_hidden_rows_are_read_and_told() {
    let job = job(&[("Beds", &|sheet| {
        sheet.write_row(0, 0, ["Bed", "Length (ft)"])?;
        let struck = Format::new().set_font_strikethrough();
        sheet.write_with_format(1, 0, "A", &struck)?;
        sheet.write(2, 0, "B")?;
        sheet.write(3, 0, "C")?;
        sheet.set_row_hidden(2)?;
        sheet.set_row_hidden(3)?;
        Ok(())
    })]);
    let (opened, told) = read(&job);
    assert_eq!(column(&opened, Sheet::Beds, "Bed"), ["A", "B", "C"]);
    assert_eq!(
        told,
        [
            "notice: a row is struck out and is read all the same\n  at job.xlsx!Beds!2\n  \
             hint: delete rows that do not count",
            "notice: 2 rows are hidden and are read all the same; this is the first\n  \
             at job.xlsx!Beds!3\n  hint: delete rows that do not count",
        ]
    );
}

#[test]
fn sheets_of_other_names_are_told_and_beds_are_found_by_their_titles() {
    let job = job(&[
        ("Sheet1", &beds),
        ("Price lists", &|sheet| {
            sheet.write(0, 0, "see the binder").map(drop)
        }),
        ("Materails", &|sheet| {
            sheet.write(0, 0, "Material").map(drop)
        }),
    ]);
    let (opened, told) = read(&job);
    assert_eq!(column(&opened, Sheet::Beds, "Bed"), ["A"]);
    assert_eq!(
        told,
        [
            "notice: Price lists has no row of column titles that are known\n  \
             at job.xlsx!Price lists\n  \
             hint: head the columns with titles such as File, Sheet, Supplier, Header row, \
             Rows passed over, Material",
            "notice: this sheet is read as Beds\n  at job.xlsx!Sheet1",
            "notice: this sheet is not known and is not read\n  at job.xlsx!Materails\n  \
             hint: did you mean Materials?",
        ]
    );
}

#[test]
fn a_job_sheet_needs_no_titles() {
    let job = job(&[
        ("Job", &|sheet| {
            sheet.write_row(0, 0, ["Job name", "Nine beds"])?;
            sheet.write_row(1, 0, ["Units", "metric"])?;
            Ok(())
        }),
        ("Beds", &beds),
    ]);
    let (opened, told) = read(&job);
    assert_eq!(told, Vec::<String>::new());
    assert_eq!(
        column(&opened, Sheet::Job, "Setting"),
        ["Job name", "Units"]
    );
    assert_eq!(opened.system, crate::units::System::Metric);
}

#[test]
fn damaged_and_protected_files_are_told_apart() {
    let job = job(&[("Beds", &beds)]);
    let bytes = std::fs::read(&job.path).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let cut = folder.path().join("cut.xlsx");
    let write = |path: &PathBuf, bytes: &[u8]| {
        std::io::Write::write_all(&mut std::fs::File::create(path).unwrap(), bytes).unwrap();
    };
    write(&cut, &bytes[..bytes.len() / 2]);
    let told = refused(&Source::Path(cut));
    assert!(
        told[0]
            .sentence
            .starts_with("cut.xlsx cannot be read as a workbook")
    );
    // Nonsense behind the signature of a compound file is damage, not a panic.
    let compound = folder.path().join("old.xls");
    let mut nonsense = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1".to_vec();
    nonsense.extend(std::iter::repeat_n(7, 4000));
    write(&compound, &nonsense);
    let told = refused(&Source::Path(compound));
    assert!(
        told[0]
            .sentence
            .starts_with("old.xls cannot be read as a workbook")
    );
    // Every half of the file, with bytes changed, is refused or read, and never more than that.
    for at in (0..bytes.len()).step_by(97) {
        let mut changed = bytes.clone();
        changed[at] ^= 0x55;
        let path = folder.path().join("changed.xlsx");
        write(&path, &changed);
        let _ = crate::read::open(&Source::Path(path));
    }
}

/// Writes an OpenDocument spreadsheet of one sheet with these rows.
pub(super) fn open_document(rows: &str, sealed: &str) -> Job {
    use std::io::Write as _;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.ods");
    let mut out = zip::ZipWriter::new(std::fs::File::create(&path).unwrap());
    let kind = "application/vnd.oasis.opendocument.spreadsheet";
    let manifest = format!(
        "<manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\">\
         <manifest:file-entry manifest:full-path=\"/\" manifest:media-type=\"{kind}\"/>\
         {sealed}</manifest:manifest>"
    );
    let content = format!(
        "<office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\">\
         <office:body><office:spreadsheet><table:table table:name=\"Workers\">{rows}</table:table>\
         </office:spreadsheet></office:body></office:document-content>"
    );
    let parts = [
        ("mimetype", kind),
        ("META-INF/manifest.xml", &manifest),
        ("content.xml", &content),
    ];
    for (name, text) in parts {
        let options = zip::write::SimpleFileOptions::default();
        out.start_file(name, options).unwrap();
        out.write_all(text.as_bytes()).unwrap();
    }
    out.finish().unwrap();
    Job {
        _folder: folder,
        path,
    }
}

#[test]
fn an_open_document_keeps_places_over_repeated_rows_and_asks_about_percentages() {
    let text = |t: &str| {
        format!(
            "<table:table-cell office:value-type=\"string\"><text:p>{t}</text:p></table:table-cell>"
        )
    };
    let number = |n: &str, kind: &str| {
        format!(
            "<table:table-cell office:value-type=\"{kind}\" office:value=\"{n}\"><text:p>{n}</text:p></table:table-cell>"
        )
    };
    let row = |cells: &[String]| format!("<table:table-row>{}</table:table-row>", cells.concat());
    let gap =
        "<table:table-row table:number-rows-repeated=\"4\"><table:table-cell/></table:table-row>";
    let job = open_document(
        &[
            gap.to_owned(),
            row(&[text("Worker"), text("Burden %"), text("Pay rate")]),
            gap.to_owned(),
            row(&[
                text("Mason"),
                number("0.15", "percentage"),
                number("31.5", "float"),
            ]),
            row(&[
                text("Helper"),
                number("1.5", "percentage"),
                number("22", "float"),
            ]),
        ]
        .concat(),
        "",
    );
    let (opened, told) = read(&job);
    assert_eq!(told, Vec::<String>::new());
    let mut problems = Vec::new();
    let workers: Vec<_> = rows(&opened, Sheet::Workers)
        .map(|row| {
            (
                row.percent("Burden %", &mut problems),
                row.money("Pay rate", &mut Vec::new()),
            )
        })
        .collect();
    assert_eq!(
        workers,
        [(Some(d("0.15")), Some(d("31.5"))), (None, Some(d("22")))]
    );
    assert_eq!(
        printed(&opened, &problems),
        ["error: Burden % is unclear: 1.5 may be 1.5% or 150%\n  \
          at job.ods!Workers!B11, which holds \"1.5\"\n  \
          hint: format the cell as text and write 1.5% or 150%, or save the file as .xlsx"]
    );
}

#[test]
fn a_password_is_no_damage() {
    let sealed = "<manifest:file-entry manifest:full-path=\"content.xml\" manifest:media-type=\"text/xml\">\
                  <manifest:encryption-data/></manifest:file-entry>";
    let job = open_document("", sealed);
    let told = refused(&Source::Path(job.path));
    assert_eq!(told[0].sentence, "job.ods is protected with a password");
}
