//! Cut lists: kerf, trim, over-long boards, trading down, culls.

use super::super::{Bought, held};
use super::sample::{Sample, d, feet, inches, lines_text, sentences, total};
use crate::model::by_hand;
use crate::model::job::SiteId;
use crate::model::known::Known;
use crate::model::material::{Category, MaterialId};
use crate::model::settings::TrimmedEnds;
use crate::units::{Decimal, Length};

const SITE: SiteId = SiteId(0);
const BOARDS: MaterialId = MaterialId(0);

/// Boards from sticks of so many feet at a price, cut to pieces of so many inches.
fn boards(sticks: &[(&str, &str)], pieces: &[(&str, u32)]) -> Sample {
    let mut sample = Sample::new();
    sample.site("Site A");
    let boards = sample.material("2x10", Category::Lumber);
    for (length, price) in sticks {
        sample.offer("Lumber Yard", boards, "board", feet(length), price);
    }
    let bed = sample.beds(SITE, 1);
    for (length, count) in pieces {
        bed.cuts(boards, inches(length), *count);
    }
    sample.job.frames[0].wall = by_hand::boards(boards);
    sample
}

/// Every piece once and no stick over-filled, told as `count x length: pieces`.
fn sticks_text(bought: &Bought) -> Vec<String> {
    let list = &bought.cut_lists[0];
    let text = |stick: &super::super::Stick| {
        let pieces: Vec<String> = stick
            .pieces
            .iter()
            .map(|(length, _, number)| format!("{number} x {}", length.in_inches().normalize()))
            .collect();
        let length = stick.length.in_inches().normalize();
        format!("{} of {length}: {}", stick.count, pieces.join(" + "))
    };
    list.sticks.iter().map(text).collect()
}

#[test]
fn two_eight_foot_pieces_never_come_out_of_a_sixteen_foot_stick() {
    // 96 + 1/8 + 96 = 192.125 in.
    let mut sample = boards(&[("16", "20")], &[("96", 2)]);
    assert_eq!(sticks_text(&sample.buy()), ["2 of 192: 1 x 96"]);
    // Boards that come over-long at 192.25 in hold both.
    sample.job.offers[0].actual_length = Some(inches("192.25"));
    assert_eq!(sticks_text(&sample.buy()), ["1 of 192.25: 2 x 96"]);
    // Without a kerf so does a true 16 ft stick.
    sample.job.offers[0].actual_length = None;
    sample.job.settings.kerf = Known::assumed(Length::ZERO, "test");
    assert_eq!(sticks_text(&sample.buy()), ["1 of 192: 2 x 96"]);
}

#[test]
fn pieces_a_hair_too_long_are_told_with_what_shorter_ones_would_save() {
    // 96 + 1/8 + 96 = 192.125 in: 1/16 in less of each, and one stick of 192 in for 20 yields both.
    let mut sample = boards(&[("16", "20")], &[("96", 2)]);
    assert!(!sentences(&sample.buy()).contains("would save"));
    sample.job.settings.cut_tolerance = Known::assumed(inches("0.125"), "test");
    let said = "2x10: pieces cut up to 1/8\" shorter would save 20.00: 2 x 8' of one 16' 1/16\" shorter each (1 such)";
    let told = sentences(&sample.buy());
    assert!(told.contains(said), "{told}");
    // The list itself stays as it is: two sticks.
    assert_eq!(sticks_text(&sample.buy()), ["2 of 192: 1 x 96"]);
}

#[test]
fn the_last_piece_may_end_flush() {
    // 3 x 32 + 2 x 1/8 = 96.25 does not fit 96 in; 3 x 31.9 + 0.25 = 95.95 does.
    assert_eq!(
        sticks_text(&boards(&[("8", "9")], &[("32", 3)]).buy()),
        ["1 of 96: 2 x 32", "1 of 96: 1 x 32"]
    );
    let bought = boards(&[("8", "9")], &[("31.9", 3)]).buy();
    assert_eq!(sticks_text(&bought), ["1 of 96: 3 x 31.9"]);
    // 0.05 in remain, less than a cut: nothing is left over.
    assert_eq!(bought.cut_lists[0].sticks[0].offcut, Length::ZERO);
}

#[test]
fn one_end_or_both_are_trimmed() {
    // A trim of 1/4 in leaves 95.5 in of an 8 ft stick at both ends and 95.75 in at one, where two
    // pieces of 47.8125 in and a cut of 1/8 in are just 95.75 in.
    let with_ends = |ends: TrimmedEnds| {
        let mut sample = boards(&[("8", "9")], &[("47.8125", 4)]);
        sample.job.settings.end_trim = Known::assumed(inches("0.25"), "test");
        sample.job.settings.trimmed_ends = Known::assumed(ends, "test");
        sticks_text(&sample.buy())
    };
    assert_eq!(with_ends(TrimmedEnds::One), ["2 of 96: 2 x 47.8125"]);
    assert_eq!(with_ends(TrimmedEnds::Both), ["4 of 96: 1 x 47.8125"]);
}

#[test]
fn a_stick_used_whole_is_never_trimmed() {
    let trim = |sample: &mut Sample| {
        sample.job.settings.end_trim = Known::assumed(inches("0.25"), "test");
    };
    let mut whole = boards(&[("8", "9")], &[("96", 4)]);
    trim(&mut whole);
    assert_eq!(sticks_text(&whole.buy()), ["4 of 96: 1 x 96"]);
    // 95.75 in is cut, and a trimmed 8 ft stick yields only 95.5 in.
    let mut cut = boards(&[("8", "9")], &[("95.75", 4)]);
    trim(&mut cut);
    let bought = cut.buy();
    let spot = bought.problems[0].spot.unwrap();
    assert_eq!((spot.row.row, spot.field), (800, "Material"));
    assert_eq!(bought.lines[0].offer, None);
}

#[test]
fn a_piece_longer_than_every_stick_is_told_at_its_frame() {
    let bought = boards(&[("8", "9"), ("12", "14")], &[("150", 2), ("96", 2)]).buy();
    assert_eq!(
        sentences(&bought),
        "a piece of 12' 6\" (long side) is longer than any stick of 2x10 for sale, of which the longest is 12'"
    );
    assert_eq!(
        sticks_text(&bought),
        ["2 of 96: 1 x 96"],
        "the rest is still cut"
    );
}

#[test]
fn sticks_are_traded_down_to_the_cheapest_that_holds_their_pieces() {
    // 8 ft at 9.00, 16 ft at 16.00: three pieces of 7 ft are 2 in a long stick and 1 in a short one.
    let bought = boards(&[("8", "9"), ("16", "16")], &[("84", 3)]).buy();
    assert_eq!(
        sticks_text(&bought),
        ["1 of 192: 2 x 84", "1 of 96: 1 x 84"]
    );
    assert_eq!(lines_text(&bought), ["1 x 16 = 16.00", "1 x 9 = 9.00"]);
    assert!(bought.lines.iter().all(|line| line.fixed));
    // A search proves it: 25.00 is the least.
    assert_eq!(bought.cut_lists[0].lower_bound, bought.cut_lists[0].cost);
}

#[test]
fn filling_longest_first_is_not_the_best_that_is_done() {
    // Sticks of 10 ft; 5 4 4 3 2 2. Longest first: 5+4, 4+3+2, 2. Better: 5+3+2, 4+4+2.
    let pieces = [("60", 1), ("48", 2), ("36", 1), ("24", 2)];
    let mut sample = boards(&[("10", "12")], &pieces);
    sample.job.settings.kerf = Known::assumed(Length::ZERO, "test");
    let bought = sample.buy();
    assert_eq!(total(&bought), "24.00");
    assert_eq!(bought.lines[0].surplus.base(), Decimal::ZERO);
}

#[test]
fn culls_are_whole_extra_sticks_on_a_line_of_their_own() {
    // 5% of 22 sticks is 1.1: two more.
    let mut sample = boards(&[("8", "9")], &[("96", 22)]);
    sample.job.settings.culls = Known::assumed(d("0.05"), "test");
    let bought = sample.buy();
    assert_eq!(lines_text(&bought), ["22 x 9 = 198.00", "2 x 9 = 18.00"]);
    assert_eq!(bought.cut_lists[0].culls, 2);
    assert!(
        bought.lines[1]
            .why
            .starts_with("cull boards: 5% of 22 sticks")
    );
}

#[test]
fn boards_priced_each_need_a_length() {
    let mut sample = boards(&[], &[("96", 2)]);
    let each = crate::units::Amount::Count(d("1"));
    sample.offer("Lumber Yard", BOARDS, "each", each, "9");
    let bought = sample.buy();
    assert_eq!(bought.problems[0].spot.map(|s| s.field), Some("Holds"));
    sample.job.offers[0].actual_length = Some(inches("97"));
    assert_eq!(lines_text(&sample.buy()), ["2 x 9 = 18.00"]);
}

#[test]
fn boards_that_are_there_already_are_used_first() {
    let mut sample = boards(&[("8", "9")], &[("96", 5)]);
    let there = sample.offer("Own stock", BOARDS, "board", feet("8"), "0");
    there.available = Some(d("2"));
    // Two of the five pieces come out of the stock, three are bought at 9.00.
    let bought = sample.buy();
    assert_eq!(lines_text(&bought), ["3 x 9 = 27.00", "2 x 0 = 0.00"]);
    // The same with one name for both.
    sample.job.offers[1].supplier = sample.job.offers[0].supplier;
    assert_eq!(total(&sample.buy()), "27.00");
    // With five in stock nothing is bought.
    sample.job.offers[1].available = Some(d("5"));
    assert_eq!(total(&sample.buy()), "0.00");
}

#[test]
fn a_yard_that_runs_out_of_the_cheaper_length_is_planned_with() {
    // Three 16 ft boards with two pieces each would be 48.00, six of 8 ft are 54.00. With two of 16 ft
    // there: 2 x 16.00 + 2 x 9.00 = 50.00.
    let mut sample = boards(&[("8", "9"), ("16", "16")], &[("84", 6)]);
    assert_eq!(total(&sample.buy()), "48.00");
    sample.job.offers[1].available = Some(d("2"));
    let bought = sample.buy();
    assert_eq!(total(&bought), "50.00");
    assert_eq!(
        sticks_text(&bought),
        ["2 of 192: 2 x 84", "2 of 96: 1 x 84"]
    );
    assert!(bought.cut_lists[0].proven);
}

#[test]
fn a_yard_with_too_few_of_everything_is_told_of() {
    // Six pieces need six boards of 8 ft at 9.00, and four are there.
    let mut sample = boards(&[("8", "9")], &[("84", 6)]);
    sample.job.offers[0].available = Some(d("4"));
    let bought = sample.buy();
    assert_eq!(total(&bought), "54.00");
    let said = "are needed, and Lumber Yard has 4";
    assert!(sentences(&bought).contains(said));
}

#[test]
fn the_cheaper_yard_is_taken_for_all_pieces() {
    // Lumber Yard: 4 x 9.00 = 36.00. Mill: two 16 ft 2 in boards at 15.00 = 30.00.
    let mut sample = boards(&[("8", "9")], &[("96", 4)]);
    let long = sample.offer("Mill", BOARDS, "board", feet("16"), "15");
    long.actual_length = Some(inches("194"));
    let bought = sample.buy();
    assert_eq!(total(&bought), "30.00");
    // It stays the cheaper one up to 36 / 2 = 18.00 a board.
    assert_eq!(bought.lines[0].flip_price, Some(d("18")));
}

#[test]
fn a_held_cut_list_stays_when_a_price_changes() {
    let mut sample = boards(&[("8", "9"), ("16", "16")], &[("84", 3)]);
    let kept = held(&sample.buy());
    // At 30.00 the long stick would never be chosen; held, it costs 30 + 9.
    sample.job.offers[1].price = Some(Known::assumed(d("30"), "test"));
    assert_eq!(total(&sample.buy_again(&kept)), "39.00");
    assert_eq!(total(&sample.buy()), "27.00");
    // Another bed changes the pieces, and the list is made anew from the same boards.
    sample.kinds.kinds[0].count = d("2");
    let bought = sample.buy_again(&kept);
    let cut: u32 = bought.cut_lists[0]
        .sticks
        .iter()
        .map(|s| s.count * s.pieces[0].2)
        .sum();
    assert_eq!(cut, 6);
}

#[test]
fn a_hundred_thousand_beds_of_a_thousand_kinds_are_cut_by_pattern() {
    let mut sample = boards(&[("8", "9"), ("12", "13"), ("16", "18"), ("20", "24")], &[]);
    for kind in 0..1000_u32 {
        let bed = sample.beds(SITE, 100);
        let length = inches("60") + inches("0.1").times(Decimal::from(kind));
        bed.cuts(BOARDS, length, 4).cuts(BOARDS, inches("45"), 4);
    }
    let bought = sample.buy();
    let made: u64 = bought.cut_lists[0]
        .sticks
        .iter()
        .flat_map(|s| {
            s.pieces
                .iter()
                .map(|(_, _, n)| u64::from(*n) * u64::from(s.count))
        })
        .sum();
    assert_eq!(made, 800_000);
    assert!(
        bought.cut_lists[0].sticks.len() < 10_000,
        "patterns, not sticks"
    );
    assert!(bought.cut_lists[0].lower_bound <= bought.cut_lists[0].cost);
}
