//! The summary as a person sees it, and the laws of its layout.

use std::path::PathBuf;

use super::*;
use crate::write::fixture::{Came, d, estimate};

fn written() -> Written {
    Written {
        folder: PathBuf::from("three-estimate"),
        names: vec!["estimate-NOT-COMPLETE.xlsx".into(), "estimate.json".into()],
        notices: Vec::new(),
    }
}

const EXPECTED: &str = "\
Three beds by the well
Estimate of 2026-11-24, number 14, for Well Lane Gardens
The price holds until 2026-12-24

PRICE NOT COMPLETE: 1 line has no price
  Steel ring 48 in: no price at any supplier

Beds: 4
   3 x Bed 10  8' x 4' outside, 18 1/2\" high (2 courses of 2x10)
   1 x Round 1 48\" ring, 24\" high, ready-made

Orders, the dearest first
  12 boards of 2x10 cedar, 12'                Mill Lane Timber            378.00
  7 yards of Topsoil blend                    Creek Yard                  294.00
  1 Steel ring 48 in                                                    no price
Loads: 7 yd3 of Topsoil blend: 1 load at 2,200 lb/yd3, after rain 2
Work: 5.8 hours, of which 3.3 rest on typical figures, not yours; low 4.5, high
  7.5

Price in USD
  Materials                          672.00  as computed
  Overhead                            80.64  as computed
  So far, not the price            1,075.00  as computed
  Not complete: lines without a price are missing above
  With the top-up after the first season: 1,075.00 + 180.00 = 1,255.00
Surface will sink about 1.5 to 2 in by autumn
On filling day the fill stands 0.75 in above the wall
Not priced: spoil, permits
Oldest price used: 2026-10-01, 54 days old
1 caution: local code and licensed practice decide
Written to three-estimate: estimate-NOT-COMPLETE.xlsx, estimate.json
";

#[test]
fn a_small_job_on_one_screen() {
    let text = summary(&estimate(Came::Workbook), Paint::Plain, Some(&written()));
    assert_eq!(text, EXPECTED);
}

#[test]
fn the_order_of_rows_changes_nothing() {
    let text = summary(&estimate(Came::Csv), Paint::Plain, Some(&written()));
    assert_eq!(text, EXPECTED);
}

#[test]
fn colour_changes_no_word() {
    let text = summary(&estimate(Came::Workbook), Paint::Coloured, Some(&written()));
    assert!(text.contains("\u{1b}[1;31mPRICE NOT COMPLETE"));
    let mut bare = text;
    for code in ["\u{1b}[1m", "\u{1b}[1;31m", "\u{1b}[0m"] {
        bare = bare.replace(code, "");
    }
    assert_eq!(bare, EXPECTED);
}

#[test]
fn a_complete_price_raises_no_alarm() {
    let mut complete = estimate(Came::Workbook);
    complete.price.missing.clear();
    let text = summary(&complete, Paint::Plain, None);
    assert!(!text.to_lowercase().contains("not complete"));
    assert!(!text.contains("Written"));
}

#[test]
fn a_large_job_with_long_names_still_fits_the_screen() {
    let mut large = estimate(Came::Workbook);
    large.job.settings.job_name = "Ü".repeat(200).into();
    large.job.beds[0].name = "a bed with a name that nobody would paint on a sign".into();
    large.job.materials[0].name = "苗床".repeat(60).into();
    for i in 0..40 {
        large.kinds.kinds.push(large.kinds.kinds[1].clone());
        large.takeoffs.push(large.takeoffs[1].clone());
        large.bought.lines.push(large.bought.lines[0].clone());
        let mut trips = large.bought.trips[0].clone();
        trips.words = format!("{i} yd3 of Thing: 1 load");
        large.bought.trips.push(trips);
        large.price.missing.push(format!("Thing {i}: no price"));
    }
    let text = summary(&large, Paint::Plain, Some(&written()));
    let longest = text.lines().map(|line| line.chars().count()).max().unwrap();
    assert!(longest <= 80, "{longest} columns:\n{text}");
    assert!(text.contains("  and 37 more kinds, on the sheet Beds"));
    assert!(text.contains("  and 38 more lines, on the sheet Orders"));
    assert!(
        text.contains("Loads: 41, after rain 82; the most for 0 yd3 of Thing"),
        "{text}"
    );
    assert!(text.contains("PRICE NOT COMPLETE: 41 lines have no price"));
    assert!(text.lines().count() < 45, "{text}");
}

#[test]
fn names_cannot_steer_the_terminal() {
    let mut evil = estimate(Came::Workbook);
    evil.job.settings.job_name = "red \u{1b}[31m\nnext".into();
    evil.job.materials[0].name = "soil\u{7}\r".into();
    let text = summary(&evil, Paint::Plain, None);
    assert!(!text.contains('\u{1b}') && !text.contains('\u{7}') && !text.contains('\r'));
    assert!(text.starts_with("red \u{fffd}[31m next\n"));
}

#[test]
fn the_price_tells_what_adds_to_it_and_its_total() {
    let mut nothing = estimate(Came::Workbook);
    nothing.price.lines[1].amount = crate::units::Money::ZERO;
    let text = summary(&nothing, Paint::Plain, None);
    assert!(!text.contains("Overhead") && text.contains("Materials  "));
    for line in &mut nothing.price.lines {
        line.amount = crate::units::Money::ZERO;
    }
    let text = summary(&nothing, Paint::Plain, None);
    assert!(
        text.contains("So far, not the price                0.00"),
        "{text}"
    );
}

#[test]
fn trips_alike_are_told_once() {
    let mut twice = estimate(Came::Workbook);
    twice.bought.trips.push(twice.bought.trips[0].clone());
    let text = summary(&twice, Paint::Plain, None);
    assert_eq!(text.matches("7 yd3 of Topsoil blend").count(), 1);
}

#[test]
fn no_amount_is_cut() {
    let mut dear = estimate(Came::Workbook);
    let amount = d("1331095425123456.78");
    for line in &mut dear.price.lines {
        line.amount = crate::units::Money::of(amount);
    }
    dear.bought.lines[0].cost = crate::units::Money::of(amount);
    let text = summary(&dear, Paint::Plain, None);
    assert_eq!(
        text.matches(" 1,331,095,425,123,456.78").count(),
        4,
        "{text}"
    );
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
}
