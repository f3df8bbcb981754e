//! Tests of the places of sheets and blocks.

use super::*;
use crate::price::ledger::{Column, Format};
use crate::price::term::Term;
use crate::units::Currency;

fn names(layout: &Layout) -> Vec<&str> {
    layout.sheets.iter().map(|s| s.name.as_str()).collect()
}

#[test]
fn blocks_of_a_sheet_stand_below_each_other_with_two_free_rows() {
    let mut ledger = Ledger::new(Currency::USD);
    let first = ledger.block("Orders", "North Yard", 4);
    let second = ledger.block("Orders", "", 2);
    let layout = Layout::plan(&ledger, &Sources::default(), &[]);
    // Title, line, free row; heading 3, headers 4, rows 5 to 8; free 9 and 10; headers 11.
    let placed = layout.placed(first).unwrap();
    assert_eq!(
        (placed.heading, placed.header, placed.first),
        (Some(3), 4, 5)
    );
    let placed = layout.placed(second).unwrap();
    assert_eq!(
        (placed.heading, placed.header, placed.first),
        (None, 11, 12)
    );
}

#[test]
fn running_totals_stand_right_of_a_free_column() {
    let mut ledger = Ledger::new(Currency::USD);
    let block = ledger.block("Shares", "", 1);
    ledger.label(block, "Bed", Vec::new());
    ledger.running(block, "Running", Term::whole(1));
    ledger.live(block, "Share", Format::Money, Term::whole(1));
    let layout = Layout::plan(&ledger, &Sources::default(), &[]);
    assert_eq!(layout.placed(block).unwrap().columns, [0, 3, 1]);
}

#[test]
fn long_words_begin_at_one_place_and_what_only_formulas_need_stands_behind_them() {
    let mut ledger = Ledger::new(Currency::USD);
    let bought = ledger.block("Orders", "What is bought", 1);
    for (title, rank) in [
        ("Material", Rank::First),
        ("Step", Rank::Behind),
        ("Cost", Rank::First),
        ("Why", Rank::Last),
    ] {
        let mut column = Column::plain(title, Format::Text, Role::Label, Vec::new());
        column.rank = rank;
        ledger.column(bought, column);
    }
    let comes = ledger.block("Orders", "How it comes", 1);
    for (title, rank) in [("Loads", Rank::Last), ("Vehicle", Rank::First)] {
        let mut column = Column::plain(title, Format::Text, Role::Label, Vec::new());
        column.rank = rank;
        ledger.column(comes, column);
    }
    let layout = Layout::plan(&ledger, &Sources::default(), &[]);
    let (bought, comes) = (
        layout.placed(bought).unwrap(),
        layout.placed(comes).unwrap(),
    );
    // Two columns to read, then the words, then the step; three columns are printed.
    assert_eq!(bought.columns, [0, 3, 1, 2]);
    assert_eq!(comes.columns, [2, 0]);
    assert_eq!((bought.readable, comes.readable), (3, 3));
}

#[test]
fn sheets_stand_in_the_order_of_reading() {
    let mut ledger = Ledger::new(Currency::USD);
    for sheet in [
        "Price",
        "Workers",
        "Beds",
        "Job",
        "Own figures",
        "Hours",
        "Beds",
    ] {
        ledger.block(sheet, "", 1);
    }
    let own = [SUMMARY, CHECKS, BASIS];
    let layout = Layout::plan(&ledger, &Sources::default(), &own);
    let expected = [
        "Summary",
        "Beds",
        "Beds 2",
        "Hours",
        "Price",
        "Own figures",
        "Checks",
        "Job",
        "Workers",
        "Basis",
    ];
    assert_eq!(names(&layout), expected);
    // The beds read back from the first row on; their second block has a title above.
    assert_eq!(layout.placed(2).unwrap().header, 0);
    assert_eq!(layout.placed(6).unwrap().header, 3);
    for (index, block) in ledger.blocks.iter().enumerate() {
        let placed = layout.placed(u16::try_from(index).unwrap()).unwrap();
        assert!(layout.sheets[placed.sheet].name.starts_with(block.sheet));
    }
}

#[test]
fn a_full_sheet_says_so_in_its_last_row() {
    let mut ledger = Ledger::new(Currency::USD);
    let block = ledger.block("Shares", "", 1_200_000);
    let figure = Column::plain("Mix", Format::Number(2), Role::Fixed, Vec::new());
    let col = ledger.column(block, figure);
    let layout = Layout::plan(&ledger, &Sources::default(), &[]);
    let placed = layout.placed(block).unwrap();
    // Rows 4 to 1,048,574 of 1,048,576 rows counted from 0, and one row for the sentence.
    assert!(placed.cut);
    assert_eq!(placed.rows, 1_048_571);
    assert_eq!(layout.find(col, 1_048_570), Some((1_048_574, 0)));
    assert_eq!(layout.find(col, 1_048_571), None);
}

#[test]
fn names_of_sheets_are_what_spreadsheets_take() {
    assert_eq!(sheet_name("Cut/list: [all]", |_| false), "Cut-list- -all-");
    let long = "A very long name of a sheet of estimates";
    assert_eq!(
        sheet_name(long, |_| false),
        "A very long name of a sheet of"
    );
    let second = sheet_name(long, |name| !name.ends_with(" 2"));
    assert_eq!(second, "A very long name of a sheet o 2");
    assert!(second.len() <= 31);
    assert_eq!(sheet_name("'", |_| false), "Sheet");
}
