//! The summary as a person sees it, and the laws of its layout.

use std::path::PathBuf;

use super::*;
use crate::write::fixture::{Came, d, estimate};
use crate::write::paint::Paint;

/// An ordinary terminal.
const PLAIN: Screen = Screen {
    paint: Paint::Plain,
    width: 80,
    height: 24,
};
const COLOURED: Screen = Screen {
    paint: Paint::Coloured,
    ..PLAIN
};

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
PRICE NOT COMPLETE: 1 line has no price
  Steel ring 48 in: no price at any supplier
Beds: 4
   3 x Bed 10  8' x 4' outside, 18 1/2\" high (2 courses of 2x10)
   1 x Round 1 48\" ring, 24\" high, ready-made
To buy: 3 lines; 1 load, after rain 2; the dearest 2 of sheet Orders
  12 boards of 2x10 cedar, 12'                  Mill Lane Timber          378.00
  7 yards of Topsoil blend                      Creek Yard                294.00
Work: 3.3 hours (2 to 5); 3.3 rest on typical figures, not yours

Price in USD
  Materials                                            672.00
  Overhead 12% of direct cost                           80.64
  So far, not the price                              1,075.00
  Not complete: lines without a price are missing above
  With the top-up after the first season: 1,075.00 + 180.00 = 1,255.00
The price holds until 2026-12-24
Surface will sink about 1.5 to 2 in by autumn, from 0.75 in above the wall
Not priced: spoil, permits
1 caution: local code and licensed practice decide; oldest price 54 days old
Written to three-estimate: estimate-NOT-COMPLETE.xlsx, estimate.json
";

#[test]
fn a_small_job_on_one_screen() {
    let text = summary(&estimate(Came::Workbook), PLAIN, Some(&written()));
    assert_eq!(text, EXPECTED);
}

#[test]
fn the_order_of_rows_changes_nothing() {
    let text = summary(&estimate(Came::Csv), PLAIN, Some(&written()));
    assert_eq!(text, EXPECTED);
}

#[test]
fn colour_changes_no_word() {
    let text = summary(&estimate(Came::Workbook), COLOURED, Some(&written()));
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
    let text = summary(&complete, PLAIN, None);
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
    let text = summary(&large, PLAIN, Some(&written()));
    let longest = text.lines().map(width).max().unwrap();
    assert!(longest <= 80, "{longest} columns:\n{text}");
    assert!(text.contains("kinds; 2 here, all on sheet Beds"), "{text}");
    assert!(
        text.contains("To buy: 43 lines; 41 loads, after rain 82; the dearest 2 of sheet Orders"),
        "{text}"
    );
    assert!(text.contains("PRICE NOT COMPLETE: 41 lines have no price"));
    assert!(text.lines().count() < 30, "{text}");
}

#[test]
fn names_cannot_steer_the_terminal() {
    let mut evil = estimate(Came::Workbook);
    evil.job.settings.job_name = "red \u{1b}[31m\nnext".into();
    evil.job.materials[0].name = "soil\u{7}\r".into();
    let text = summary(&evil, PLAIN, None);
    assert!(!text.contains('\u{1b}') && !text.contains('\u{7}') && !text.contains('\r'));
    assert!(text.starts_with("red \u{fffd}[31m next\n"));
}

#[test]
fn the_price_tells_what_adds_to_it_and_its_total() {
    let mut nothing = estimate(Came::Workbook);
    nothing.price.lines[1].amount = crate::units::Money::ZERO;
    let text = summary(&nothing, PLAIN, None);
    assert!(!text.contains("Overhead") && text.contains("Materials  "));
    for line in &mut nothing.price.lines {
        line.amount = crate::units::Money::ZERO;
    }
    let text = summary(&nothing, PLAIN, None);
    assert!(
        text.contains("So far, not the price                 "),
        "{text}"
    );
}

#[test]
fn loads_are_counted_over_all_trips() {
    let mut twice = estimate(Came::Workbook);
    // Two trips of one load each, which after rain would take two each.
    twice.bought.trips.push(twice.bought.trips[0].clone());
    let text = summary(&twice, PLAIN, None);
    assert!(
        text.contains("To buy: 3 lines; 2 loads, after rain 4\n"),
        "{text}"
    );
}

#[test]
fn a_larger_screen_shows_more() {
    let mut large = estimate(Came::Workbook);
    for _ in 0..40 {
        large.bought.lines.push(large.bought.lines[0].clone());
    }
    let shown = |height| {
        let screen = Screen { height, ..PLAIN };
        let text = summary(&large, screen, None);
        (text.matches("Creek Yard").count(), text.lines().count())
    };
    // The line of the next command stays free.
    assert_eq!(shown(30).1, 29);
    assert_eq!(shown(34).1, 33);
    assert!(shown(34).0 > shown(30).0);
}

#[test]
fn lines_of_the_screen_go_to_beds_orders_and_air() {
    // 10 lines: 2 and 2, a blank one, one more each, three blank ones.
    assert_eq!(shared_out(10, 9, 9), (3, 3, 4));
    assert_eq!(shared_out(16, 9, 9), (6, 6, 4));
    // Nothing is taken that nobody needs.
    assert_eq!(shared_out(16, 1, 2), (1, 2, 4));
    // A full screen still shows a few.
    assert_eq!(shared_out(0, 9, 9), (2, 2, 0));
}

#[test]
fn no_amount_is_cut() {
    let mut dear = estimate(Came::Workbook);
    let amount = d("1331095425123456.78");
    for line in &mut dear.price.lines {
        line.amount = crate::units::Money::of(amount);
    }
    dear.bought.lines[0].cost = crate::units::Money::of(amount);
    let text = summary(&dear, PLAIN, None);
    assert_eq!(
        text.matches(" 1,331,095,425,123,456.78").count(),
        4,
        "{text}"
    );
    assert!(text.lines().all(|line| width(line) <= 80), "{text}");
}
