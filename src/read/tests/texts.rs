//! Text tables and folders of them.

use std::path::PathBuf;

use super::{column, opened, opened_path, opened_text, printed, refused};
use crate::model::sheet::Sheet;
use crate::read::{Source, rows};
use crate::units::parse::{Commas, Unit};
use crate::units::{Area, Density, Hours, Length, System, Volume};
use rust_decimal::Decimal;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// Reads one length of one bed, and what was told.
#[track_caller]
fn check_length(title: &str, cell: &str, expected: Result<&str, &str>) {
    let (opened, mut problems) = opened_text(&format!("Bed,Width,{title}\nA,4 ft,\"{cell}\"\n"));
    let row = rows(&opened, Sheet::Beds).next().unwrap();
    let length = row.length("Length", &mut problems);
    let told = printed(&opened, &problems).join("\n");
    match expected {
        Ok(feet) => assert_eq!((length, told.as_str()), (Some(Length::feet(d(feet))), "")),
        Err(message) => assert_eq!((length, told.as_str()), (None, message)),
    }
}

#[test]
fn a_bare_number_under_a_bare_header_asks_and_a_unit_anywhere_answers() {
    check_length("Length (ft)", "8", Ok("8"));
    check_length("length_in", "96", Ok("8"));
    check_length("Length", "8 ft", Ok("8"));
    check_length("Length (ft)", "96 in", Ok("8"));
    check_length(
        "Length",
        "8",
        Err(
            "error: Length needs a unit\n  at beds.csv:2:3, which holds \"8\"\n  \
             hint: write 8 ft, or head the column \"Length (ft)\"",
        ),
    );
    check_length(
        "Length",
        "8 foot-ish",
        Err(
            "error: Length needs a unit or a number\n  at beds.csv:2:3, which holds \"8 foot-ish\"\n  \
             hint: write 8 ft, 8' or 96 in",
        ),
    );
    check_length(
        "Length (ft)",
        "20000",
        Err(
            "error: Length is out of range: a length must be from 0 to 1,000 m\n  \
             at beds.csv:2:3, which holds \"20000\"",
        ),
    );
    check_length(
        "Length (ft)",
        "-8",
        Err(
            "error: Length is out of range: a length must be from 0 to 1,000 m\n  \
             at beds.csv:2:3, which holds \"-8\"",
        ),
    );
}

#[test]
fn the_header_may_stand_below_a_title_block_and_above_a_row_of_units() {
    let (opened, problems) = opened_text(
        "Nine beds for the school\n\nPrepared by,R. Moss\n\n\
         Bed,Length,Width,Height\n,ft,ft,(in)\nA,8,4,18\n\nB,10,4,18\n",
    );
    assert_eq!(printed(&opened, &problems), Vec::<String>::new());
    let mut problems = Vec::new();
    let heights: Vec<_> = rows(&opened, Sheet::Beds)
        .map(|row| (row.at.row, row.length("Height", &mut problems)))
        .collect();
    let height = Some(Length::inches(d("18")));
    assert_eq!(heights, [(6, height), (8, height)]);
    assert_eq!(problems, []);
}

#[test]
fn unknown_and_doubled_columns_are_told_with_their_place() {
    let (opened, problems) =
        opened_text("Bed,Lenght,Length (ft),Length (in),Colour\nA,1,8,6,red\n");
    assert_eq!(
        printed(&opened, &problems),
        [
            "notice: a column of Beds is not known: it is carried along and not used\n  \
             at beds.csv:1:2, which holds \"Lenght\"\n  hint: did you mean Length?",
            "error: two columns of this table mean Length\n  \
             at beds.csv:1:4, which holds \"Length (in)\"\n  \
             hint: keep one; feet and inches go into one cell, as 7' 6\"",
            "notice: a column of Beds is not known: it is carried along and not used\n  \
             at beds.csv:1:5, which holds \"Colour\"",
        ]
    );
    let row = rows(&opened, Sheet::Beds).next().unwrap();
    let length = row.length("Length", &mut Vec::new());
    assert_eq!(length, Some(Length::feet(d("8"))));
}

#[test]
fn totals_and_repeated_headers_are_no_beds() {
    let (opened, problems) =
        opened_text("Bed,Count,Length (ft)\nA,2,8\nBed,Count,Length (ft)\nB,1,8\nTotal,3,16\n,,\n");
    assert_eq!(column(&opened, Sheet::Beds, "Bed"), ["A", "B"]);
    assert_eq!(
        printed(&opened, &problems),
        ["notice: a row that adds up others is passed over\n  \
          at beds.csv:5:1, which holds \"Total\""]
    );
}

#[test]
fn a_line_with_a_cell_too_many_is_told() {
    let (opened, problems) = opened_text("Bed,Length,Width\nA,2,4 m,1,2 m\n");
    assert_eq!(
        printed(&opened, &problems),
        [
            "error: this line has more cells than the header\n  at beds.csv:2:4\n  \
          hint: put quotation marks around a cell that holds the delimiter",
            "error: this line has more cells than the header\n  at beds.csv:2:5\n  \
          hint: put quotation marks around a cell that holds the delimiter"
        ]
    );
}

#[test]
fn commas_mean_what_the_other_numbers_of_the_file_show() {
    let read = |text: &str| {
        let (opened, mut problems) = opened_text(text);
        let counts: Vec<_> = rows(&opened, Sheet::Beds)
            .map(|row| {
                row.length("Length", &mut problems)
                    .map(|l| l.in_metres().normalize())
            })
            .collect();
        (opened.decimal_comma, counts, printed(&opened, &problems))
    };
    let (commas, lengths, told) = read("Bed;Length (m)\nA;2,4\nB;1,234\n");
    assert_eq!(commas, Commas::Decimal);
    assert_eq!(
        (lengths, told),
        (vec![Some(d("2.4")), Some(d("1.234"))], vec![])
    );
    let (commas, lengths, _) = read("Bed,Length (mm)\nA,2400.5\nB,\"1,234\"\n");
    assert_eq!(commas, Commas::Thousands);
    assert_eq!(lengths, [Some(d("2.4005")), Some(d("1.234"))]);
    let (commas, lengths, told) = read("Bed,Length (mm)\nA,2400\nB,\"1,234\"\n");
    assert_eq!((commas, lengths), (Commas::Ask, vec![Some(d("2.4")), None]));
    assert_eq!(
        told,
        [
            "error: Length is unclear: \"1,234\" may be 1234 or 1.234\n  \
          at beds.csv:3:2, which holds \"1,234\"\n  hint: write 1234 or 1.234"
        ]
    );
    // Most numbers have a point, so the odd comma is the slip and is named.
    let (_, lengths, told) = read("Bed,Length (m)\nA,2.4\nB,2.5\nC,\"2,6\"\n");
    assert_eq!(lengths, [Some(d("2.4")), Some(d("2.5")), None]);
    assert!(told[0].contains("beds.csv:4:2"), "{told:?}");
}

#[test]
fn one_cell_may_hold_the_whole_size() {
    let (opened, mut problems) = opened_text("Bed,Size\nA,4x8x18 in\nB,4x8\nC,big\n");
    let sizes: Vec<_> = rows(&opened, Sheet::Beds)
        .map(|row| row.size("Size", &mut problems))
        .collect();
    let inches = |n| Length::inches(Decimal::from(n));
    assert_eq!(
        sizes,
        [Some(vec![inches(48), inches(96), inches(18)]), None, None]
    );
    assert_eq!(
        printed(&opened, &problems),
        [
            "notice: Size was read as 4 ft x 8 ft x 18 in\n  \
             at beds.csv:2:2, which holds \"4x8x18 in\"",
            "error: Size needs a unit\n  at beds.csv:3:2, which holds \"4x8\"\n  \
             hint: write 4 ft x 8 ft, or head the column \"Size (ft)\"",
            "error: Size needs two or three lengths with an x between them\n  \
             at beds.csv:4:2, which holds \"big\"\n  \
             hint: write 4' x 8' x 18\" or 4 ft x 8 ft",
        ]
    );
}

/// A folder with these files.
fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let path = folder.path().join(name);
        std::io::Write::write_all(&mut std::fs::File::create(path).unwrap(), text.as_bytes())
            .unwrap();
    }
    folder
}

#[test]
fn a_folder_is_read_by_the_names_of_its_files() {
    let folder = folder(&[
        ("Beds north.csv", "Bed,Length (ft)\nA,8\n"),
        ("Beds south.csv", "Bed,Length (ft)\nB,8\n"),
        (
            "labor.csv",
            "Task,Person-hours,Per,Session\nFill,0.9,yd3,\n",
        ),
        ("Prises.csv", "Supplier,Material\n"),
        ("Job.tsv", "Setting\tValue\nUnits\tmetric\n"),
        ("~$Beds.csv", "Bed\n"),
    ]);
    std::fs::create_dir(folder.path().join("Nine beds-estimate")).unwrap();
    let (opened, mut problems) = opened_path(folder.path());
    assert_eq!(column(&opened, Sheet::Beds, "Bed"), ["A", "B"]);
    assert_eq!(opened.system, System::Metric);
    let task = rows(&opened, Sheet::Labour).next().unwrap();
    assert_eq!(
        task.hours("Person-hours", &mut problems),
        Some(Hours::of(d("0.9")))
    );
    assert_eq!(
        printed(&opened, &problems),
        [
            "notice: Prises.csv is not named as a sheet of a job and is not read\n  \
             hint: did you mean Prices.csv?",
            "notice: a column of Labour is not known: it is carried along and not used\n  \
             at labor.csv:1:4, which holds \"Session\"",
        ]
    );
    let places: Vec<_> = rows(&opened, Sheet::Beds)
        .filter_map(|row| opened.sources.place_of(row.at, "Length"))
        .collect();
    assert_eq!(places, ["Beds north.csv:2:2", "Beds south.csv:2:2"]);
}

#[test]
fn beds_and_prices_may_be_two_files_of_any_name() {
    let folder = folder(&[
        ("nine.csv", "Bed,Length (ft)\nA,8\n"),
        (
            "yard.csv",
            "Supplier,Material,Holds,Price,Taxable\nGreen Yard,Compost,1 yard,$42.00,yes\n",
        ),
    ]);
    let source = Source::Files {
        beds: folder.path().join("nine.csv"),
        prices: Some(folder.path().join("yard.csv")),
    };
    let (opened, mut problems) = opened(&source);
    let price = rows(&opened, Sheet::Prices).next().unwrap();
    assert_eq!(price.money("Price", &mut problems), Some(d("42.00")));
    assert_eq!(price.yes_no("Taxable", &mut problems), Some(true));
    let holds = price.amount("Holds", &mut problems);
    let yard = Volume::cubic_yards(Decimal::ONE);
    assert_eq!(holds, Some(crate::units::Amount::Volume(yard)));
    assert_eq!(problems, []);
    assert_eq!(column(&opened, Sheet::Beds, "Bed"), ["A"]);
}

#[test]
fn headers_carry_units_for_every_kind_of_quantity() {
    let folder = folder(&[
        ("Beds.csv", "Bed,Length (ft)\nA,8\n"),
        (
            "Materials.csv",
            "Material,Delivered density (lb/yd3),Waste %,On hand\nCompost,1000,5,2 yd\n",
        ),
        ("Areas.csv", "Area,Length (ft),Depth (in)\nPath,20,3\n"),
    ]);
    let (opened, mut problems) = opened_path(folder.path());
    let compost = rows(&opened, Sheet::Materials).next().unwrap();
    let density = compost.density("Delivered density", &mut problems);
    let expected = Density::pounds_per_cubic_yard(d("1000"));
    assert_eq!(density.map(Density::tidy), Some(expected.tidy()));
    assert_eq!(
        compost.header_unit("Delivered density"),
        Some(Unit::PoundPerCubicYard)
    );
    assert_eq!(compost.percent("Waste %", &mut problems), Some(d("0.05")));
    assert_eq!(compost.area("On hand", &mut problems), None);
    assert_eq!(compost.area("Section", &mut problems), None::<Area>);
    assert_eq!(
        printed(&opened, &problems),
        ["error: On hand needs an area, not a length\n  \
          at Materials.csv:2:4, which holds \"2 yd\"\n  hint: write 32 ft2 or 4 ft x 8 ft"]
    );
}

#[test]
fn what_cannot_be_read_at_all_says_so() {
    let missing = Source::Path(PathBuf::from("/no/such/job.xlsx"));
    let told = refused(&missing);
    assert_eq!(
        told[0].sentence,
        "cannot read /no/such/job.xlsx: there is no such file or folder"
    );
    let empty = folder(&[("Readme.md", "hello")]);
    let told = refused(&Source::Path(empty.path().to_path_buf()));
    assert_eq!(told.len(), 2, "{told:?}");
    assert_eq!(
        told[1].sentence,
        "nothing in the input is named as a sheet of a job, or looks like a list of beds"
    );
    let hint = told[1].hint.as_deref().unwrap_or_default();
    assert!(
        hint.contains("called Job, Sites, Suppliers, Beds"),
        "{hint}"
    );
    assert!(hint.contains("such as Bed, Count, Size"), "{hint}");
    assert!(hint.ends_with("; found Readme.md"), "{hint}");
    let with_book = folder(&[("garden.xlsx", "a workbook is not looked into")]);
    let told = refused(&Source::Path(with_book.path().to_path_buf()));
    assert_eq!(
        told.last().unwrap().hint.as_deref(),
        Some(
            "a folder is read for its CSV files: to read garden.xlsx in it, give the path of the workbook itself"
        )
    );
    let text = |bytes: &[u8]| Source::Text {
        name: "-".to_owned(),
        text: bytes.to_vec(),
    };
    assert_eq!(
        refused(&text(b"red,green\n1,2\n"))[0].sentence,
        "Beds has no row of column titles that are known"
    );
    let page = folder(&[(
        "job.xls",
        "<html><table><tr><td>Bed</td></tr></table></html>",
    )]);
    let told = refused(&Source::Path(page.path().join("job.xls")));
    assert_eq!(
        told[0].sentence,
        "job.xls is a web page or bare XML, not a workbook"
    );
}
