use std::collections::BTreeMap;

use proptest::prelude::*;

use super::super::{Labour, hours_summary};
use super::yard::{Yard, d, given, yards};
use crate::model::job::SiteId;
use crate::model::labour::{Driver, Pay};
use crate::model::material::Category;
use crate::units::{Decimal, Hours};

/// One kind of bed: site 0 or 1, count, tenths of boards, hundredths of a yard of soil.
type Bed = (u32, u32, u32, u32);

fn beds() -> impl Strategy<Value = Vec<Bed>> {
    prop::collection::vec((0..2_u32, 1..40_u32, 1..200_u32, 0..400_u32), 1..8)
}

fn yard(beds: &[Bed]) -> Yard {
    let mut yard = Yard::new();
    yard.site("Barn");
    yard.worker("Crew", Pay::Paid);
    let soil = yard.material("topsoil", Category::Soil, Some("2200"));
    for (site, count, boards, soil_hundredths) in beds {
        let boards = Decimal::new(i64::from(*boards), 1).to_string();
        let kind = yard.beds(
            SiteId(*site),
            *count,
            &[(Driver::Bed, "1"), (Driver::Board, &boards)],
        );
        let volume = yards(&Decimal::new(i64::from(*soil_hundredths), 2).to_string());
        yard.take_off(kind).hauled = vec![(soil, volume)];
    }
    yard.task("Set out", Driver::Bed, "0.21");
    yard.typical_task("Fix", Driver::Board, ["0.1", "0.15", "0.25"]);
    yard.task("Set out the site", Driver::Site, "1");
    yard.job.settings.setup_hours = given(Hours::of(d("0.75")), "Value");
    yard
}

/// Hours by site and name, to nine decimals.
fn ledger(labour: &Labour) -> BTreeMap<(SiteId, String), Decimal> {
    let lines = labour.lines.iter();
    lines
        .map(|l| ((l.site, l.name.to_string()), l.hours.in_hours().round_dp(9)))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn twice_the_beds_take_twice_the_hours(beds in beds()) {
        let once = yard(&beds);
        let mut twice = once.clone();
        for kind in &mut twice.kinds.kinds {
            kind.count *= d("2");
        }
        let (once, twice) = (once.work(), twice.work());
        for line in once.lines.iter().filter(|l| !l.measures.is_empty()) {
            let other = twice.lines.iter().find(|o| o.site == line.site && o.name == line.name);
            let doubled = other.unwrap().hours.in_hours();
            let expected = line.hours.in_hours() * d("2");
            prop_assert!((doubled - expected).abs() < d("0.000000001"), "{} {doubled}", line.name);
        }
    }

    #[test]
    fn no_order_of_beds_or_tasks_changes_an_hour(beds in beds(), turn in 0..8_usize) {
        let mut turned = beds.clone();
        turned.rotate_left(turn % beds.len());
        let mut other = yard(&turned);
        other.job.tasks.reverse();
        prop_assert_eq!(ledger(&yard(&beds).work()), ledger(&other.work()));
    }

    #[test]
    fn beds_share_a_line_completely_and_a_sheet_gets_the_same_hours(beds in beds()) {
        let yard = yard(&beds);
        let labour = yard.work();
        for line in &labour.lines {
            let product = line.quantity * line.rate * line.multiplier;
            prop_assert_eq!(crate::units::round::tidy15(product), line.hours.in_hours());
            if line.measures.is_empty() {
                continue;
            }
            let shared = line.measures.iter().fold(Decimal::ZERO, |sum, (kind, hours)| {
                sum + *hours * yard.kinds.kinds[kind.index()].count
            });
            prop_assert!((shared - line.hours.in_hours()).abs() < d("0.000000001"));
        }
    }

    #[test]
    fn days_hold_the_work_and_one_day_fewer_would_not(beds in beds()) {
        for days in yard(&beds).work().days {
            let dust = Hours::of(d("0.00000001"));
            prop_assert!(days.day_holds.times(days.days) + dust >= days.work);
            prop_assert!(days.day_holds.times(days.days - d("1")) < days.work);
        }
    }

    #[test]
    fn the_summary_stands_between_its_ends(beds in beds()) {
        let sum = hours_summary(&yard(&beds).work());
        prop_assert!(sum.low <= sum.total && sum.total <= sum.high && sum.typical <= sum.total);
    }
}

#[test]
fn limits_of_input_do_not_panic() {
    let huge = "1000000000";
    let mut yard = Yard::new();
    yard.beds(
        SiteId(0),
        1_000_000,
        &[(Driver::Bed, huge), (Driver::Board, huge)],
    );
    let build = yard.task("Build", Driver::Bed, huge);
    yard.job.tasks[build.index()].per = d("0");
    yard.task("Fix", Driver::Board, huge);
    yard.job.settings.season_factor = given(d(huge), "Value");
    let labour = yard.work();
    assert!(labour.lines.iter().any(|l| &*l.name == "Fix"));
}

#[test]
fn many_kinds_on_many_sites_keep_their_lines() {
    // 2,000 kinds of 50 beds on 500 sites: every site has its five lines, and none has another's.
    let beds: Vec<Bed> = (0..2000).map(|n| (0, 50, n % 90 + 1, n % 300)).collect();
    let mut yard = yard(&beds);
    for n in 2..500 {
        yard.site(&format!("Site {n}"));
    }
    for (n, kind) in (0_u32..).zip(yard.kinds.kinds.iter_mut()) {
        kind.site = SiteId(n % 500);
    }
    let lines = yard.work().lines;
    assert_eq!(lines.len(), 500 * 5, "set out, fix, site, barrow, set-up");
}
