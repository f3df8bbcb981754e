//! Prices by a measure: which pieces they sell, and what is wrong with some.

use super::{check_errors, d, job};
use crate::model::by_measure::PriceUnit;
use crate::model::offer::Offer;
use crate::units::by_hand::feet;
use crate::units::round::tidy15;
use crate::units::{Amount, Area};

const BEDS: (&str, &str) = ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,2x10\n");

/// The offers of one row of Prices below these titles.
#[track_caller]
fn offers(titles: &str, row: &str) -> Vec<Offer> {
    let prices = format!("Supplier,Material,{titles}\nYard,{row}\n");
    job(&[BEDS, ("Prices", &prices)]).offers
}

#[track_caller]
fn check_error(titles: &str, row: &str, expected: &str) {
    let prices = format!("Supplier,Material,{titles}\nYard,{row}\n");
    check_errors(&[BEDS, ("Prices", &prices)], &[expected]);
}

#[test]
fn each_length_is_an_offer_at_the_one_price() {
    let found = offers("Pack,Holds,Price", "2x10,bf,\"8, 12 ft\",1.85");
    let holds: Vec<Amount> = found.iter().map(|o| o.holds).collect();
    assert_eq!(holds, [feet("8"), feet("12")].map(Amount::Length));
    // 2 x 10 / 12 x 8 = 13.3333 bf at 1.85 = 24.67; 20 bf at 1.85 = 37.00.
    let each: Vec<_> = found.iter().map(|o| o.unit_price().unwrap()).collect();
    assert_eq!(each[0].round_dp(4), d("24.6667"));
    assert_eq!(each[1], d("37"));
}

#[test]
fn hundreds_and_thousands_and_the_unit_behind_a_price() {
    let each = |titles, row| tidy15(offers(titles, row)[0].unit_price().unwrap());
    // 12 ft at 480 a hundred, 20 bf at 1,850 a thousand.
    assert_eq!(each("Pack,Holds,Price", "2x10,100 lf,12 ft,480"), d("57.6"));
    assert_eq!(each("Pack,Holds,Price", "2x10,MBF,12 ft,1850"), d("37"));
    assert_eq!(
        each("Pack,Holds,Price", "2x10,board,12 ft,4.80 per lf"),
        d("57.6")
    );
    // A board of 12 ft at its own price stays one.
    assert_eq!(
        each("Pack,Holds,Price", "2x10,board,12 ft,57.60"),
        d("57.6")
    );
    assert_eq!(
        offers("Pack,Holds,Price", "2x10,board,12 ft,57.60")[0].by,
        None
    );
}

#[test]
fn a_price_by_the_foot_without_lengths_sells_the_usual_ones() {
    let found = offers("Pack,Holds,Price", "2x10,lf,,4.80");
    let lengths: Vec<Amount> = found.iter().map(|o| o.holds).collect();
    let usual = ["8", "10", "12", "14", "16"].map(|n| Amount::Length(feet(n)));
    assert_eq!(lengths, usual);
    assert!(
        found
            .iter()
            .all(|o| o.by.as_ref().is_some_and(|by| by.usual_lengths))
    );
}

#[test]
fn rolls_are_sold_by_the_square() {
    // 4 ft x 50 ft = 200 ft2 = 2 squares of 11.00.
    let roll = &offers(
        "Pack,Holds,Price",
        "Landscape fabric,square,4 ft x 50 ft,11",
    )[0];
    assert_eq!(
        roll.by.as_ref().map(|by| by.unit),
        Some(PriceUnit::SquareFoot)
    );
    assert_eq!(roll.unit_price(), Some(d("22")));
    // Without a roll whole squares are cut off.
    let cut = &offers("Pack,Holds,Price", "Landscape fabric,square,,11")[0];
    assert_eq!(cut.holds, Amount::Area(Area::square_feet(d("100"))));
    assert_eq!(cut.unit_price(), Some(d("11")));
}

#[test]
fn quantities_of_a_row_by_measure_count_measures() {
    // From 200 bf on, which are 10 boards of 20 bf.
    let found = offers("Pack,Holds,Price,From quantity", "2x10,bf,12 ft,1.70,200");
    assert_eq!(found[0].from_quantity, d("10"));
    let found = offers("Pack,Holds,Price,Available", "2x10,MBF,12 ft,1700,500 bf");
    assert_eq!(found[0].available, Some(d("25")));
    check_error(
        "Pack,Holds,Price,From quantity",
        "2x10,bf,\"8, 12 ft\",1.70,200",
        "error: From quantity counts bf, and this row sells several lengths\n  at Prices.csv:2:6, which holds \"200\"\n  hint: write a row of Prices for each length",
    );
}

#[test]
fn what_cannot_be_measured_names_its_cell() {
    check_error(
        "Pack,Holds,Price",
        "2x10,bf,long,1.70",
        "error: Holds must say what is sold at a price for bf\n  at Prices.csv:2:4, which holds \"long\"\n  hint: write the lengths of sticks, as 8, 10, 12 ft",
    );
}
