//! One cell of a good job replaced by something odd: it may be refused, never misread in silence.

use proptest::prelude::*;

use super::good::THREE_BEDS;
use super::read;
use crate::problem::Severity;

const ODD: &[&str] = &[
    "",
    "-1",
    "0",
    "1e300",
    "999999999999999999999999999999",
    "NaN",
    "=1+1",
    "½",
    "0,0",
    "%",
    "1/0",
    "8 foot-ish",
    "2x10",
    "rest",
    "100%",
    "0 yd3",
    "5 lb/0 ft2",
    "1 of bed",
    "苗床",
    "\u{202e}",
    "7-6",
    "2026-02-30",
    "x x x",
    " / ",
    "; ; ;",
    "per",
    "1 per ",
];

/// The good job with one cell of one sheet replaced.
fn with_odd_cell(
    sheet: usize,
    row: usize,
    column: usize,
    odd: &str,
) -> Vec<(&'static str, String)> {
    let mut sheets: Vec<(&str, String)> = THREE_BEDS
        .iter()
        .map(|(n, t)| (*n, (*t).to_owned()))
        .collect();
    let picked = sheet % sheets.len();
    let (_, text) = &mut sheets[picked];
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut rows: Vec<Vec<String>> = reader
        .records()
        .map(|r| r.unwrap().iter().map(str::to_owned).collect())
        .collect();
    let row = 1 + row % (rows.len() - 1);
    let column = column % rows[row].len();
    odd.clone_into(&mut rows[row][column]);
    let mut writer = csv::WriterBuilder::new()
        .flexible(true)
        .from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).unwrap();
    }
    *text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
    sheets
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn an_odd_cell_is_taken_or_told(
        sheet in 0_usize..20,
        row in 0_usize..10,
        column in 0_usize..20,
        odd in 0..ODD.len(),
    ) {
        let changed = with_odd_cell(sheet, row, column, ODD[odd]);
        let sheets: Vec<(&str, &str)> = changed.iter().map(|(n, t)| (*n, t.as_str())).collect();
        let staged = read(&sheets);
        let errors = staged.problems.iter().filter(|p| p.severity == Severity::Error).count();
        let loaded = staged.output.expect("a folder can always be read");
        for problem in &staged.problems {
            prop_assert!(!problem.in_full(&loaded.sources).is_empty());
        }
        // Without an error nothing was left out.
        if errors == 0 {
            prop_assert_eq!(loaded.job.beds.len(), 3);
            prop_assert_eq!(loaded.job.offers.len(), 6);
            let layers = loaded.job.fills.iter().flat_map(|f| &f.layers);
            prop_assert_eq!(layers.filter(|l| l.at.is_some()).count(), 3);
        }
        // Every id points into its list.
        for bed in &loaded.job.beds {
            prop_assert!(bed.frame.index() < loaded.job.frames.len());
            prop_assert!(bed.site.index() < loaded.job.sites.len());
            prop_assert!(bed.phase.index() < loaded.job.phases.len());
            prop_assert!(bed.fill.is_none_or(|f| f.index() < loaded.job.fills.len()));
        }
    }
}
