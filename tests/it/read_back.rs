//! Estimates whose marked cells were changed, read back as jobs: with choices held the price is what the
//! workbook recomputes by itself; chosen anew, the estimate says which choices moved.
//!
//! Longer than most because each kind of cell meant for change is tried by typing over it.

use std::io::{Cursor, Read, Write};
use std::path::Path;

use calamine::{Data, Reader, Xlsx};
use jiff::civil::date;
use loamwright::price::{Estimate, estimate_anew, estimate_holding};
use loamwright::problem::Severity;
use loamwright::read::{Loaded, Source, library, read_job};
use loamwright::write::xlsx::workbook;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

use crate::folders::root;
use crate::pipeline::{priced, text};
use crate::sheets::{At, Sheets};
use crate::tables::Tables;

const EXAMPLES: [&str; 3] = ["clinic-gardens", "learning-garden", "terrace-allotments"];

/// The estimate of an example as a workbook, in which cells are typed over.
struct Book {
    bytes: Vec<u8>,
    total: At,
}

impl Book {
    fn of(example: &str) -> Self {
        Self::of_job(&root(&format!("examples/{example}/job")))
    }

    fn of_job(job: &Path) -> Self {
        let estimate = priced(job);
        let bytes = workbook(&estimate).unwrap();
        let label = &estimate.price.line("total").unwrap().label;
        let total = Sheets::open(&bytes).figure("Price", ("Line", label), "Amount");
        Self { bytes, total }
    }

    fn rows(&self, sheet: &str) -> Vec<Vec<Data>> {
        let mut book = Xlsx::new(Cursor::new(&self.bytes[..])).unwrap();
        let range = book.worksheet_range(sheet).unwrap();
        assert_eq!(range.start(), Some((0, 0)), "{sheet}");
        range.rows().map(<[Data]>::to_vec).collect()
    }

    /// Types `new(old)` over every number under a title, in the rows whose first cell begins so; as a
    /// program that stores no results and no formats of its own would.
    fn type_over(&mut self, sheet: &str, rows: &str, title: &str, new: fn(f64) -> f64) -> u32 {
        let cells = self.rows(sheet);
        let is_title = |held: &Data| held.to_string().split(" (").next() == Some(title);
        let column = cells[0].iter().position(is_title).unwrap();
        let mut typed = 0;
        for (number, row) in (1_usize..).zip(&cells).skip(1) {
            let Data::Float(old) = row[column] else {
                continue;
            };
            if !row[0].to_string().starts_with(rows) {
                continue;
            }
            let letter = char::from(b'A' + u8::try_from(column).unwrap());
            self.put(sheet, &format!("{letter}{number}"), new(old));
            typed += 1;
        }
        typed
    }

    /// Puts a number into a cell of the package.
    fn put(&mut self, sheet: &str, cell: &str, number: f64) {
        let names = Xlsx::new(Cursor::new(&self.bytes[..]))
            .unwrap()
            .sheet_names();
        let place = names.iter().position(|name| name == sheet).unwrap() + 1;
        let part = format!("xl/worksheets/sheet{place}.xml");
        let mut package = ZipArchive::new(Cursor::new(&self.bytes[..])).unwrap();
        let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
        for index in 0..package.len() {
            let mut file = package.by_index(index).unwrap();
            let name = file.name().unwrap().into_owned();
            let mut bytes = Vec::new();
            file.read_to_end(&mut bytes).unwrap();
            if name == part {
                let text = String::from_utf8(bytes).unwrap();
                let at = text.find(&format!("<c r=\"{cell}\"")).unwrap();
                let from = at + text[at..].find("<v>").unwrap() + 3;
                let to = from + text[from..].find("</v>").unwrap();
                bytes = format!("{}{number}{}", &text[..from], &text[to..]).into_bytes();
            }
            writer
                .start_file(name, SimpleFileOptions::default())
                .unwrap();
            writer.write_all(&bytes).unwrap();
        }
        self.bytes = writer.finish().unwrap().into_inner();
    }

    /// The total that an independent engine recomputes.
    fn recomputed(&self) -> String {
        Sheets::open(&self.bytes).money("Price", self.total)
    }

    fn is_stale(&self) -> bool {
        let sheets = Sheets::open(&self.bytes);
        let cells = sheets.formulas_with("Summary", "STALE");
        sheets.words("Summary", cells[0]).contains("STALE")
    }

    #[track_caller]
    fn read(&self) -> Loaded {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("estimate.xlsx");
        std::fs::write(&path, &self.bytes).unwrap();
        let staged = read_job(&Source::Path(path), &library::builtin());
        let errors = staged
            .problems
            .iter()
            .filter(|p| p.severity == Severity::Error);
        assert_eq!(errors.count(), 0, "{:#?}", staged.problems);
        staged.output.unwrap()
    }

    #[track_caller]
    fn held(&self) -> Estimate {
        let loaded = self.read();
        let made = loaded.choices.unwrap();
        let day = loaded
            .job
            .settings
            .date
            .as_ref()
            .map_or(date(2026, 5, 4), |d| d.value);
        let library = library::builtin();
        estimate_holding(loaded.job, loaded.sources, &library, day, &made)
            .output
            .unwrap()
    }

    #[track_caller]
    fn anew(&self) -> Estimate {
        let loaded = self.read();
        let made = loaded.choices.unwrap();
        let day = loaded
            .job
            .settings
            .date
            .as_ref()
            .map_or(date(2026, 5, 4), |d| d.value);
        let library = library::builtin();
        estimate_anew(loaded.job, loaded.sources, &library, day, &made)
            .output
            .unwrap()
    }
}

fn cents(estimate: &Estimate) -> String {
    format!("{:.2}", estimate.price.total.amount())
}

/// A number that shows at most four decimals.
#[allow(
    clippy::float_arithmetic,
    reason = "what is typed into a cell is a float there"
)]
fn short(number: f64) -> f64 {
    (number * 10_000.0).round() / 10_000.0
}

/// Sheet, beginning of the row's first cell, title, and what is typed over the number there.
type Edit = (&'static str, &'static str, &'static str, fn(f64) -> f64);

const EDITS: [Edit; 7] = [
    ("Prices", "", "Price", |n| short(n * 1.37)),
    ("Workers", "", "Pay rate", |n| short(n * 1.13)),
    ("Deliveries", "", "Fee", |n| short(n * 0.71)),
    ("Extras", "", "Rate", |n| short(n * 1.21)),
    ("Labour", "", "Person-hours", |n| short(n * 1.31)),
    ("Job", "Contingency", "Value", |n| short(n + 0.0175)),
    ("Job", "Round price", "Value", |_| 0.01),
];

#[test]
fn with_choices_held_the_price_is_what_the_changed_workbook_recomputes() {
    for example in EXAMPLES {
        let whole = Book::of(example);
        let was = whole.recomputed();
        let mut all = Book::of(example);
        for (sheet, rows, title, new) in EDITS {
            let mut book = Book {
                bytes: whole.bytes.clone(),
                total: whole.total,
            };
            let typed = book.type_over(sheet, rows, title, new);
            assert!(typed > 0, "{example} {sheet} {title}");
            all.type_over(sheet, rows, title, new);
            let now = book.recomputed();
            assert_ne!(now, was, "{example} {sheet} {title}");
            assert_eq!(now, cents(&book.held()), "{example} {sheet} {title}");
            // The fee of a vehicle that does not come could make it come, as hours of a task by hand that
            // a machine does: only a new run knows.
            if !["Deliveries", "Labour"].contains(&sheet) {
                assert!(!book.is_stale(), "{example} {sheet} {title}");
            }
        }
        assert_eq!(all.recomputed(), cents(&all.held()), "{example}");
    }
}

#[test]
fn untouched_it_is_the_same_estimate_held_or_chosen_anew() {
    for example in EXAMPLES {
        let book = Book::of(example);
        let first = priced(&root(&format!("examples/{example}/job")));
        let anew = book.anew();
        assert_eq!(anew.rechosen, None, "{example}");
        assert!(!text(&anew).contains("chosen_anew"));
        assert_eq!(cents(&anew), cents(&first), "{example}");
        assert_eq!(cents(&book.held()), cents(&first), "{example}");
    }
}

#[test]
fn chosen_anew_it_says_which_choices_moved_and_what_that_saves() {
    let mut book = Book::of("clinic-gardens");
    book.type_over("Job", "Round price", "Value", |_| 0.01);
    // One box of 250 screws at 44.00 was cheaper than boxes of 50 at 11.25. At 100.00 it is not.
    let cells = book.rows("Prices");
    let row = (1_usize..)
        .zip(&cells)
        .find(|(_, row)| row[4] == Data::Float(250.0));
    book.put("Prices", &format!("F{}", row.unwrap().0), 100.0);
    let (held, anew) = (book.held(), book.anew());
    let rechosen = anew.rechosen.as_ref().unwrap();
    assert_eq!(rechosen.kept, held.price.total);
    assert_eq!(rechosen.now, anew.price.total);
    assert!(rechosen.now < rechosen.kept);
    let names: Vec<&str> = rechosen.choices.iter().map(|c| &*c.name).collect();
    assert_eq!(names, ["3 in structural screw"]);
    let (was, now) = (&rechosen.choices[0].before, &rechosen.choices[0].after);
    assert_eq!(was.as_ref().unwrap().words, "Millrace Lumber, box");
    assert_eq!(now.as_ref().unwrap().words, "Tannery Road Supply, box");
    let tree: serde_json::Value = serde_json::from_str(&text(&anew)).unwrap();
    assert_eq!(
        tree["chosen_anew"]["choices"][0]["what"],
        "3 in structural screw"
    );
    assert_eq!(
        tree["chosen_anew"]["choices"][0]["before"]["words"],
        "Millrace Lumber, box"
    );
}

#[test]
fn more_hours_bring_more_sessions_of_volunteers_and_the_lunches_and_supervisors_for_them() {
    let mut book = Book::of("learning-garden");
    let before = Sheets::open(&book.bytes);
    book.type_over("Labour", "Level the footprint", "Person-hours", |n| {
        short(n * 3.0)
    });
    let after = Sheets::open(&book.bytes);
    // The only volunteers of this job, on its first site.
    let sessions = |sheets: &Sheets| {
        let at = sheets.figure("Hours", ("Volunteers", "Volunteers"), "Sessions");
        sheets.money("Hours", at)
    };
    assert_ne!(sessions(&after), sessions(&before));
    let held = book.held();
    let come = held.labour.volunteering[0].sessions;
    assert_eq!(format!("{come:.2}"), sessions(&after));
    assert!(!book.is_stale());
}

#[test]
fn the_first_hour_of_a_crew_brings_a_day_that_only_a_new_run_knows() {
    let mut tables = Tables::of("tests/worked/price-of-a-job/job");
    tables.put(
        "Extras",
        "Item,Quantity,Rate,Per,Kind of extra\nPermit,1,85,job,cost\n",
    );
    let mut book = Book::of_job(tables.folder().as_ref());
    assert!(!book.is_stale());
    book.type_over("Labour", "Set out a bed", "Person-hours", |_| 1.0);
    assert!(book.is_stale());
}

/// The clinic's gardens with volunteers beside two crafts, with what every session and every day brings,
/// and with a machine that only stands by.
fn crowded() -> Tables {
    let mut tables = Tables::of("examples/clinic-gardens/job");
    tables.put(
        "Workers",
        "Worker,Pay rate,Burden %,Charge rate,Paid or volunteer,Headcount,Session length (h),Briefing (h),Per supervisor\n\
         Crew,28,24%,,paid,,,,\n\
         Carpenter,,,71,paid,,,,\n\
         Friends,,,,volunteer,5,3,0.25,4\n\
         Pupils,,,,volunteer,,2,0.25,6\n",
    );
    tables.put(
        "Labour",
        "Task,Person-hours,Per,Worker\n\
         \"Carry, place and fix a board\",0.18,each,Carpenter\n\
         Level the footprint,1.9,100 ft2,Friends\n\
         Spread and rake soil,0.25,yd3,Friends\n\
         Set out a bed,0.2,each,Pupils\n",
    );
    tables.put(
        "Extras",
        "Item,Quantity,Unit,Rate,Per,Person-hours each,Worker,Site\n\
         Lunch,1,lunch,6.50,session,,,\n\
         Safety talk,1,talk,,session,0.1,Crew,\n\
         Washing hands,2,wash,,session,0.05,Friends,\n\
         Toilet,1,day,31,day,0.4,Crew,Front court\n",
    );
    tables.put(
        "Equipment",
        "Item,Rate,Per,Delivery,Does,Output per hour\n\
         Mitre saw and stand,35.00,day,,cut,40 each\n\
         Canopy,48.00,day,60,,\n",
    );
    tables.setting("Round price to", "0.01");
    tables
}

#[test]
fn markups_discount_and_stages_of_payment_follow_what_is_typed_over_them() {
    let mut tables = crowded();
    for (setting, value) in [
        ("Labour markup %", "22%"),
        ("Equipment markup %", "10%"),
        ("Overhead per hour", "3.25"),
        ("Discount", "4%"),
        ("Rounding", "nearest"),
        ("Round price to", "5"),
        ("Tax mode", "on the whole price"),
        ("New tax %", "6.5%"),
        ("New tax from", "2026-01-01"),
    ] {
        tables.setting(setting, value);
    }
    tables.put(
        "Payments",
        "Stage,Share or amount,When\nDeposit,1200,\nFrames stand,35%,\nDone,rest,\n",
    );
    let whole = Book::of_job(tables.folder().as_ref());
    let edits: [Edit; 6] = [
        ("Job", "Labour markup", "Value", |n| short(n + 0.05)),
        ("Job", "Overhead per hour", "Value", |n| short(n * 3.0)),
        ("Job", "Discount", "Value", |n| short(n + 0.031)),
        ("Job", "New tax %", "Value", |n| short(n + 0.02)),
        ("Job", "Round price", "Value", |_| 250.0),
        ("Labour", "", "Person-hours", |n| short(n * 1.7)),
    ];
    for (sheet, rows, title, new) in edits {
        let mut book = Book {
            bytes: whole.bytes.clone(),
            total: whole.total,
        };
        assert!(book.type_over(sheet, rows, title, new) > 0, "{rows}");
        let now = book.recomputed();
        assert_ne!(now, whole.recomputed(), "{rows}");
        assert_eq!(now, cents(&book.held()), "{rows}");
    }
    // Stages do not move the price, and move with it.
    let mut book = whole;
    book.type_over("Payments", "Frames", "Share or amount", |_| 0.5);
    let sheets = Sheets::open(&book.bytes);
    let held = book.held();
    for due in &held.price.payments {
        let at = sheets.figure("Price", ("Stage", &due.stage), "Amount");
        assert_eq!(
            sheets.money("Price", at),
            format!("{:.2}", due.amount.amount())
        );
    }
}

#[test]
fn sessions_days_and_hire_follow_changed_hours_as_a_new_run_counts_them() {
    let whole = Book::of_job(crowded().folder().as_ref());
    let edits: [(&str, Edit); 7] = [
        ("more", ("Labour", "", "Person-hours", |n| short(n * 1.31))),
        ("many", ("Labour", "", "Person-hours", |n| short(n * 4.3))),
        ("fewer", ("Labour", "", "Person-hours", |n| short(n * 0.4))),
        // The carpenter gets more hours than the crew, and with them set-up and travel.
        (
            "craft",
            ("Labour", "Carry, place", "Person-hours", |n| {
                short(n * 15.0)
            }),
        ),
        ("days", ("Job", "Hours per day", "Value", |n| n - 2.5)),
        ("crew", ("Job", "Crew size", "Value", |n| n + 2.0)),
        ("extras", ("Extras", "", "Quantity", |n| n + 2.0)),
    ];
    for (what, (sheet, rows, title, new)) in edits {
        let mut book = Book {
            bytes: whole.bytes.clone(),
            total: whole.total,
        };
        book.type_over(sheet, rows, title, new);
        let now = book.recomputed();
        assert_ne!(now, whole.recomputed(), "{what}");
        assert_eq!(now, cents(&book.held()), "{what}");
    }
}

#[test]
fn a_choice_that_is_gone_is_told_and_made_anew() {
    let book = Book::of("clinic-gardens");
    let mut loaded = book.read();
    let made = loaded.choices.take().unwrap();
    let seller = loaded
        .job
        .suppliers
        .iter_mut()
        .find(|s| &*s.name == "Millrace Lumber");
    seller.unwrap().name = "Millrace Timber".into();
    let library = library::builtin();
    let day = date(2026, 3, 20);
    let staged = estimate_holding(loaded.job, loaded.sources, &library, day, &made);
    let told = staged
        .problems
        .iter()
        .filter(|p| p.sentence.contains("chosen before"));
    let told: Vec<&str> = told.map(|p| &*p.sentence).collect();
    assert!(
        told.contains(&"4x4 cedar from Millrace Lumber, post was chosen before and is not in the job any more, so it was chosen anew"),
        "{told:#?}"
    );
    assert!(staged.output.is_some());
}
