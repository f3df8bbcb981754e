//! Estimates read back as jobs: the same job comes out, whatever was changed in its input cells.
//!
//! Longer than most because each kind of table goes there and back.

use std::path::{Path, PathBuf};

use jiff::civil::date;
use rust_xlsxwriter::{Formula, Workbook, Worksheet, XlsxError};

use super::{column, opened_path, printed};
use crate::model::sheet::Sheet;
use crate::price::Estimate;
use crate::price::build::estimate;
use crate::price::ledger::{Role, Value};
use crate::problem::Severity;
use crate::read::{Source, library, ours, read_job};
use crate::write::xlsx::{MARK, workbook};

fn clinic() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/clinic-gardens/job")
}

/// Reads and prices a job that has no errors; what reading told is told too.
#[track_caller]
fn priced(path: &Path) -> (Estimate, Vec<String>) {
    let library = library::builtin();
    let staged = read_job(&Source::Path(path.to_owned()), &library);
    let loaded = staged.output.expect("the job is read");
    let sources = loaded.sources.clone();
    let told: Vec<String> = staged
        .problems
        .iter()
        .map(|p| p.in_full(&sources))
        .collect();
    let none = staged
        .problems
        .iter()
        .all(|p| p.severity != Severity::Error);
    assert!(none, "{told:#?}");
    let day = date(2026, 3, 20);
    let staged = estimate(loaded.job, loaded.sources, &library, day, None);
    let problems = staged.problems;
    let estimate = staged.output.unwrap_or_else(|| panic!("{problems:#?}"));
    (estimate, told)
}

/// Estimate, workbook, job, estimate: gives the first and the second, and what reading told.
#[track_caller]
fn there_and_back(path: &Path) -> (Estimate, Estimate, Vec<String>) {
    let (first, _) = priced(path);
    let folder = tempfile::tempdir().unwrap();
    let written = folder.path().join("estimate.xlsx");
    std::io::Write::write_all(
        &mut std::fs::File::create(&written).unwrap(),
        &workbook(&first).unwrap(),
    )
    .unwrap();
    let (second, told) = priced(&written);
    (first, second, told)
}

/// A folder of CSV files.
fn folder_of(sheets: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (sheet, text) in sheets {
        let path = folder.path().join(format!("{sheet}.csv"));
        std::io::Write::write_all(&mut std::fs::File::create(path).unwrap(), text.as_bytes())
            .unwrap();
    }
    folder
}

/// The whole result is the same again. Only what cautions point at may be another cell: a site that
/// nobody listed has a row in the estimate.
#[track_caller]
fn check_same(path: &Path) -> Vec<String> {
    let (first, second, told) = there_and_back(path);
    assert_eq!(first.price.total, second.price.total);
    let (before, after) = (json(&first), json(&second));
    assert_eq!(before.lines().count(), after.lines().count());
    let is_pointer = |line: &str| {
        let pointers = ["\"sheet\":", "\"row\":", "\"column\":"];
        pointers.iter().any(|p| line.trim_start().starts_with(p))
    };
    for (line, (a, b)) in before.lines().zip(after.lines()).enumerate() {
        assert!(a == b || is_pointer(a), "line {}: {a} became {b}", line + 1);
    }
    told
}

fn json(estimate: &Estimate) -> String {
    crate::write::json::json(estimate).unwrap()
}

#[test]
fn the_clinic_gardens_come_back_as_they_were() {
    let told = check_same(&clinic());
    let unknown: Vec<&String> = told.iter().filter(|t| t.contains("not known")).collect();
    assert_eq!(unknown, Vec::<&String>::new());
}

#[test]
fn an_estimate_of_an_estimate_is_the_same_again() {
    let (first, second, _) = there_and_back(&clinic());
    let folder = tempfile::tempdir().unwrap();
    let written = folder.path().join("job.xlsx");
    let bytes = workbook(&second).unwrap();
    std::io::Write::write_all(&mut std::fs::File::create(&written).unwrap(), &bytes).unwrap();
    let (third, _) = priced(&written);
    assert_eq!(json(&first), json(&third));
}

/// Every way of writing that stood in the way once: settings by their other names, a comma that only
/// the other numbers explain, a task that names its worker only, a bed on an unnamed site beside one
/// on a named site, an extra for each square foot, names that look like numbers,
/// units in a row of their own, and tables of one sheet in different units.
#[test]
fn a_job_of_many_ways_of_writing_comes_back_as_it_was() {
    let folder = folder_of(&[
        (
            "Job",
            "Setting,Value\nProject,North lane\nSales tax,7%\nTax mode,whole price\nCulls,10%\n\
             Saw kerf,3 mm\nProfit,12.5%\nUnits,US\nCategories,none\n",
        ),
        (
            "Beds",
            "Bed,Count,Length,Width,Height,Frame,Fill,Site\n,,ft,ft,in,,,\n\
             1.1,1,8,4,18.5,Walls,Soil fill,\n1.10,2,8,4,18.5,Walls,Soil fill,Lane\n",
        ),
        (
            "Beds south",
            "Bed,Length (m),Width (m),Height (mm),Frame,Fill,Slope\n\
             S,2.4,1.20,470,Walls,Soil fill,2%\n",
        ),
        (
            "Frames",
            "Frame,Frame kind,Material\nWalls,boards,2x10 cedar\n",
        ),
        (
            "Fills",
            "Fill,Layer,Material,Depth\nSoil fill,1,Garden blend,rest\n",
        ),
        (
            "Materials",
            "Material,Category,Delivered density\nGarden blend,soil,\"1,900 lb/yd3\"\n",
        ),
        (
            "Prices",
            "Supplier,Material,Pack,Holds,Price,Taxable\n\
             Hill Yard,Garden blend,yard,1 yd3,46.50,yes\nMill,2x10 cedar,board,8 ft,38.40,yes\n",
        ),
        (
            "Labour",
            "Task,Person-hours,Worker\nMeasure and cut a board,,Joiner\n\
             Spread and rake soil,0.3,\n",
        ),
        (
            "Workers",
            "Worker,Pay rate,Paid or volunteer\nHand,20,paid\nJoiner,30,paid\n",
        ),
        (
            "Extras",
            "Item,Quantity,Rate,Per,Taxable\nMulch mat,1,0.45,area,yes\n\
             Twine,1/2,3,100 ft2,yes\nStakes,4,1.25,bed,yes\n",
        ),
    ]);
    let (first, _) = priced(folder.path());
    // 10% of culls, half a twine for 100 ft2, the joiner at 30: all of it must count at all.
    assert!(first.price.total.amount() > rust_decimal::Decimal::from(700));
    check_same(folder.path());
}

#[test]
fn a_job_of_beds_only_comes_back_as_it_was() {
    let folder = folder_of(&[(
        "Beds",
        "Bed,Length (m),Width (m),Height (mm),Frame,Fill\nA,2.4,1.2,470,2x10,Topsoil\n",
    )]);
    check_same(folder.path());
}

/// Mats for 2 beds of 8' x 4' less their walls of 1.5 in: 2 x 7.75 x 3.75 = 58.125 ft2, at 0.40 is
/// 23.25. A quantity that nobody typed shows as 1 for each square foot, not as the 10.76 square feet of a
/// square metre, which the next run would take for square feet again.
#[test]
fn an_extra_for_an_area_costs_the_same_again() {
    let folder = folder_of(&[
        (
            "Beds",
            "Bed,Count,Length (ft),Width (ft),Height (in),Frame,Fill\nA,2,8,4,9.25,2x10,Topsoil\n",
        ),
        ("Extras", "Item,Quantity,Rate,Per\nMulch mat,,0.40,area\n"),
    ]);
    let (first, second, _) = there_and_back(folder.path());
    assert_eq!(first.price.total.amount().to_string(), "23.25");
    assert_eq!(second.price.total, first.price.total);
    let block = first.ledger.blocks.iter().find(|b| b.sheet == "Extras");
    let columns = &block.unwrap().columns;
    let quantity = columns.iter().find(|c| &*c.title == "Quantity").unwrap();
    assert_eq!(quantity.values, [Value::number(1.into())]);
}

/// The estimate after another program saved it: formulas have lost their results or become errors.
fn saved_elsewhere(sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let titles = [
        "Bed",
        "Place",
        "Length (ft)",
        "Size in words",
        "Cost",
        "Place",
        "",
        "Running cost",
    ];
    sheet.write_row(0, 0, titles)?;
    sheet.write_row(1, 0, ["A", "Lane"])?;
    sheet.write(1, 2, 8)?;
    sheet.write(1, 3, "8' long")?;
    sheet.write(1, 4, Formula::new("=H2").set_result("#REF!"))?;
    sheet.write(1, 5, 2)?;
    sheet.write(1, 7, Formula::new("=H1+E2").set_result(" "))?;
    // A column that the user added at the far right is input.
    sheet.write(0, 8, "Phase")?;
    sheet.write(1, 8, "Spring")?;
    Ok(())
}

fn labour(sheet: &mut Worksheet) -> Result<(), XlsxError> {
    sheet.write_row(0, 0, ["Task", "Person-hours", "From"])?;
    sheet.write_row(
        1,
        0,
        [
            "Measure and cut a board",
            "",
            "typical, change it to your own",
        ],
    )?;
    sheet.write_row(
        2,
        0,
        ["Spread and rake soil", "", "typical, change it to your own"],
    )?;
    sheet.write_row(3, 0, ["Hang gates", "", "yours"])?;
    Ok(())
}

fn opened_estimate() -> (crate::read::Opened, Vec<String>) {
    let mut book = Workbook::new();
    let price = book.add_worksheet();
    price.set_name("Price").unwrap();
    price.write_row(0, 0, ["Price", "Supplier"]).unwrap();
    price.write(1, 0, "from cost to price").unwrap();
    let orders = book.add_worksheet();
    orders.set_name("Orders 2").unwrap();
    orders.write(0, 0, "what is bought").unwrap();
    saved_elsewhere(book.add_worksheet().set_name("Beds").unwrap()).unwrap();
    labour(book.add_worksheet().set_name("Labour").unwrap()).unwrap();
    book.define_name(MARK, "=Price!$A$1").unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("estimate.xlsx");
    book.save(&path).unwrap();
    let (opened, problems) = opened_path(&path);
    let told = printed(&opened, &problems);
    (opened, told)
}

#[test]
fn computed_sheets_and_columns_are_passed_over_without_a_word() {
    let (opened, told) = opened_estimate();
    assert_eq!(told, Vec::<String>::new());
    assert_eq!(opened.sources.tables.len(), 2);
    let titles: Vec<&str> = opened.sources.tables[0]
        .columns
        .iter()
        .map(|c| &*c.title)
        .collect();
    assert_eq!(titles, ["Bed", "Place", "Length (ft)", "Phase"]);
    assert_eq!(column(&opened, Sheet::Beds, "Site"), ["Lane"]);
    assert_eq!(column(&opened, Sheet::Beds, "Phase"), ["Spring"]);
}

#[test]
fn rows_that_the_program_filled_in_are_known() {
    let (opened, _) = opened_estimate();
    let filled: Vec<bool> = crate::read::rows(&opened, Sheet::Labour)
        .map(|row| row.is_filled_in())
        .collect();
    assert_eq!(filled, [true, true, false]);
}

#[test]
fn the_mark_is_the_one_that_estimates_bear() {
    assert_eq!(ours::MARK, MARK);
}

/// A bed and a price with columns that nobody here knows.
const OWN_COLUMNS: [(&str, &str); 3] = [
    (
        "Beds",
        "Plot ref,Bed,Length,Width,Height,Frame,Fill,=cmd\n\
         00042,A,8 ft,4 ft,18 in,2x10,Topsoil,=1+1\nA-17,B,8 ft,4 ft,18 in,2x10,Topsoil,\n",
    ),
    (
        "Prices",
        "Supplier,Shelf,Material,Pack,Price\nYard,B3,2x10x8,each,14.50\nYard,,Topsoil,yd3,38\n",
    ),
    ("Workers", "Worker,Pay rate\nAna,28\n"),
];

#[test]
fn columns_that_are_not_known_are_carried_there_and_back() {
    let folder = folder_of(&OWN_COLUMNS);
    let told = check_same(folder.path());
    let carried = told.iter().filter(|t| t.contains("carried along"));
    assert_eq!(carried.count(), 3, "{told:#?}");
    let (first, second, _) = there_and_back(folder.path());
    for estimate in [&first, &second] {
        let tree: serde_json::Value = serde_json::from_str(&json(estimate)).unwrap();
        let cells = tree["carried"].as_array().unwrap().iter();
        let cells: Vec<String> = cells
            .map(|c| format!("{} {} {}: {}", c["sheet"], c["row"], c["column"], c["text"]))
            .map(|line| line.replace('"', ""))
            .collect();
        assert_eq!(
            cells,
            [
                "Beds A =cmd: =1+1",
                "Beds A Plot ref: 00042",
                "Beds B Plot ref: A-17",
                "Prices 2x10x8 Shelf: B3",
            ]
        );
    }
}

#[test]
fn carried_columns_stand_right_of_those_that_are_read_and_are_text() {
    let (first, _) = priced(folder_of(&OWN_COLUMNS).path());
    let block = first.ledger.blocks.iter().find(|b| b.sheet == "Beds");
    let columns = &block.unwrap().columns;
    let titles: Vec<&str> = columns.iter().map(|c| &*c.title).collect();
    let typed = [
        "Bed", "Length", "Width", "Height", "Frame", "Fill", "Plot ref", "=cmd",
    ];
    assert_eq!(titles[..typed.len()], typed);
    let own = &columns[6..8];
    assert!(own.iter().all(|c| matches!(c.role, Role::Label)));
    assert_eq!(own[0].values[0], Value::Text("00042".into()));
    assert_eq!(own[1].values[0], Value::Text("=1+1".into()));
}

#[test]
fn a_job_without_columns_of_its_own_carries_nothing() {
    let (estimate, _) = priced(&clinic());
    assert!(!json(&estimate).contains("\"carried\""));
}

#[test]
fn prices_of_a_list_read_back_without_the_list() {
    let job = folder_of(&[
        (
            "Beds",
            "Bed,Size,Frame,Fill,Courses\nA,1.2x2.4 m,Larch,Deep,2\n",
        ),
        (
            "Frames",
            "Frame,Frame kind,Material\nLarch,boards,47x150 larch\n",
        ),
        (
            "Fills",
            "Fill,Layer,Material,Depth\nDeep,1,Topsoil,rest\nDeep,2,Compost,50 mm\n",
        ),
        (
            "Deliveries",
            "Supplier,Vehicle,Volume limit,Fee\nYard,Tipper,6 m3,40\n",
        ),
        (
            "Job",
            "Setting,Value\nUnits,metric\nCurrency,EUR\nDate,2026-03-20\n",
        ),
        (
            "Price lists",
            "File,Supplier,Material,Pack,Price\nyard.csv,Yard,Artikel,Einheit,Preis\n",
        ),
        (
            "yard",
            "Artikel;Einheit;Preis\nTopsoil;m3;38,50\nCompost 40,5 L bag;EA;4,95\n\
             47x150x4,8 LARCH;EA;21,40\n",
        ),
    ]);
    let told = check_same(job.path());
    let told = told.join("\n");
    assert!(
        told.contains("what was used of them stands on Prices"),
        "{told}"
    );
    let (first, second, _) = there_and_back(job.path());
    assert_eq!(first.job.offers.len(), 3);
    let prices = |e: &Estimate| -> Vec<String> {
        let priced = e.job.offers.iter();
        priced
            .map(|o| {
                format!(
                    "{} {:?}",
                    o.price.as_ref().unwrap().value.normalize(),
                    o.holds
                )
            })
            .collect()
    };
    assert_eq!(prices(&first), prices(&second));
}
