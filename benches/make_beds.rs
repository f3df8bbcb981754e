//! Writes a job workbook with as many beds as asked, for the benchmark.
//!
//! `cargo run --release --example make_beds -- 10000 beds.xlsx`

#![allow(
    clippy::float_arithmetic,
    clippy::print_stdout,
    reason = "a program of the benchmark: no money is reckoned here"
)]

use std::error::Error;

use rust_xlsxwriter::{Workbook, Worksheet};

const SITES: [&str; 4] = ["North field", "South field", "School yard", "Mill lot"];

/// Rows of a sheet: the first is its header.
type Rows = &'static [&'static [&'static str]];

const FRAMES: Rows = &[
    &[
        "Frame",
        "Frame kind",
        "Material",
        "Post material",
        "Post spacing (ft)",
        "Corner",
        "Fastener",
        "Fasteners per joint",
    ],
    &[
        "Ten",
        "boards",
        "2x10 fir",
        "4x4 fir",
        "4",
        "butt",
        "Structural screws",
        "4",
    ],
    &[
        "Eight",
        "boards",
        "2x8 fir",
        "4x4 fir",
        "4",
        "mitre",
        "Structural screws",
        "3",
    ],
];
const FILLS: Rows = &[
    &["Fill", "Layer", "Material", "Depth"],
    &["Plain", "1", "Cardboard", "1 sheet"],
    &["Plain", "2", "Garden blend 70/30", "rest"],
    &["Woody", "1", "Wood chips", "30%"],
    &["Woody", "2", "Garden blend 70/30", "rest"],
];
const PRICES: Rows = &[
    &[
        "Supplier",
        "Material",
        "Pack",
        "Holds",
        "Price",
        "Step",
        "Price date",
    ],
    &[
        "Yard",
        "Garden blend 70/30",
        "yard",
        "1 yd3",
        "44",
        "0.5 yd3",
        "2026-03-02",
    ],
    &[
        "Yard",
        "Wood chips",
        "yard",
        "1 yd3",
        "21",
        "0.5 yd3",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "2x10 fir",
        "board",
        "8 ft",
        "22.10",
        "",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "2x10 fir",
        "board",
        "12 ft",
        "32.80",
        "",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "2x10 fir",
        "board",
        "16 ft",
        "44.90",
        "",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "2x8 fir",
        "board",
        "8 ft",
        "16.40",
        "",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "2x8 fir",
        "board",
        "16 ft",
        "33.10",
        "",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "4x4 fir",
        "post",
        "8 ft",
        "18.75",
        "",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "Structural screws",
        "box",
        "250",
        "39",
        "",
        "2026-03-02",
    ],
    &[
        "Sheds",
        "Cardboard",
        "roll",
        "4 ft x 250 ft",
        "96",
        "",
        "2026-03-02",
    ],
];
const DELIVERIES: Rows = &[
    &[
        "Supplier",
        "Vehicle",
        "Volume limit (yd3)",
        "Weight limit (lb)",
        "Fee",
    ],
    &["Yard", "tri-axle tipper", "17", "40000", "140"],
];
const WORKERS: Rows = &[
    &["Worker", "Pay rate", "Burden %", "Paid or volunteer"],
    &["Crew", "23", "30%", "paid"],
];
const JOB: Rows = &[
    &["Setting", "Value"],
    &["Job name", "Many beds"],
    &["Date", "2026-03-20"],
    &["Units", "US"],
    &["Overhead %", "10%"],
    &["Profit %", "12%"],
    &["Top-up", "none"],
];

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let beds: u32 = arguments.next().ok_or("how many beds?")?.parse()?;
    let path = arguments.next().ok_or("which file?")?;
    let mut book = Workbook::new();
    let sheets = [
        ("Job", JOB),
        ("Frames", FRAMES),
        ("Fills", FILLS),
        ("Prices", PRICES),
        ("Deliveries", DELIVERIES),
        ("Workers", WORKERS),
    ];
    beds_sheet(book.add_worksheet().set_name("Beds")?, beds)?;
    for (name, rows) in sheets {
        let sheet = book.add_worksheet().set_name(name)?;
        for (row, cells) in (0_u32..).zip(rows) {
            for (column, cell) in (0_u16..).zip(*cells) {
                match cell.parse::<f64>() {
                    Ok(number) => sheet.write_number(row, column, number)?,
                    Err(_) => sheet.write_string(row, column, *cell)?,
                };
            }
        }
    }
    let sites = book.add_worksheet().set_name("Sites")?;
    for (column, title) in (0_u16..).zip(["Site", "Travel time (h)", "Haul distance (ft)"]) {
        sites.write_string(0, column, title)?;
    }
    for (row, name) in (1_u32..).zip(SITES) {
        sites
            .write_string(row, 0, name)?
            .write_number(row, 1, 0.5)?
            .write_number(row, 2, f64::from(40 * row))?;
    }
    book.save(path)?;
    Ok(())
}

/// Twelve columns; sizes vary over a few thousand kinds, as in a programme of many gardens.
fn beds_sheet(sheet: &mut Worksheet, beds: u32) -> Result<(), Box<dyn Error>> {
    let titles = [
        "Bed",
        "Count",
        "Shape",
        "Length (ft)",
        "Width (ft)",
        "Courses",
        "Frame",
        "Fill",
        "Site",
        "Phase",
        "Slope %",
        "Note",
    ];
    for (column, title) in (0_u16..).zip(titles) {
        sheet.write_string(0, column, title)?;
    }
    for bed in 0..beds {
        let row = bed + 1;
        let site = SITES
            .get(usize::try_from(bed % 4)?)
            .copied()
            .unwrap_or("Mill lot");
        sheet.write_string(row, 0, format!("Bed {row:07}"))?;
        sheet.write_number(row, 1, f64::from(1 + bed % 2))?;
        sheet.write_string(row, 2, "rectangle")?;
        sheet.write_number(row, 3, 6.0 + 0.5 * f64::from(bed / 7 % 20))?;
        sheet.write_number(row, 4, 3.0 + 0.5 * f64::from(bed / 3 % 3))?;
        sheet.write_number(row, 5, f64::from(1 + bed % 3))?;
        sheet.write_string(row, 6, if bed % 5 < 3 { "Ten" } else { "Eight" })?;
        sheet.write_string(row, 7, if bed % 2 == 0 { "Plain" } else { "Woody" })?;
        sheet.write_string(row, 8, site)?;
        sheet.write_string(row, 9, if bed % 8 < 4 { "spring" } else { "autumn" })?;
        sheet.write_number(row, 10, 0.0)?;
        sheet.write_string(row, 11, "as drawn")?;
    }
    Ok(())
}
