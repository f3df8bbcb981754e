//! `Pieces` and sticks on hand: what is cut beside the frames, and from what is there already.

use super::{check_errors, job, told};
use crate::problem::Severity;
use crate::units::by_hand::{feet, inches};
use crate::units::{Amount, Decimal};

const PRICES: (&str, &str) = (
    "Prices",
    "Supplier,Material,Pack,Holds,Price\nYard,2x6 fir,board,8 ft,7.50\nYard,Rail,length,8 ft,4\n",
);

#[test]
fn pieces_and_prices_are_a_job() {
    let pieces =
        "Material,Length,Count,Bed,Note\n2x6 fir,3 ft 9 in,8,B1,short side\nRail,20 in,2,,\n";
    let job = job(&[("Pieces", pieces), PRICES]);
    assert_eq!((job.beds.len(), job.pieces.len()), (0, 2));
    let [side, rail] = job.pieces.as_slice() else {
        panic!("two rows")
    };
    assert_eq!((side.length, side.count), (inches("45"), 8));
    assert_eq!((&*side.mark, &*rail.mark), ("B1, short side", "piece"));
}

#[test]
fn a_piece_for_a_bed_stands_where_the_bed_stands() {
    let beds =
        "Bed,Size,Frame,Site,Phase\nA1,4x8x11 in,2x6 fir,North,1\nA2,4x8x11 in,2x6 fir,South,2\n";
    let pieces = "Material,Length,Count,Bed\n2x6 fir,3 ft,1,A2\n";
    let job = job(&[("Beds", beds), ("Pieces", pieces), PRICES]);
    let piece = &job.pieces[0];
    let bed = &job.beds[piece.bed.unwrap().index()];
    assert_eq!(&*bed.name, "A2");
    assert_eq!((piece.site, piece.phase), (bed.site, bed.phase));
}

#[test]
fn what_is_wrong_with_a_piece_names_its_cell() {
    let beds = "Bed,Size,Frame\nA1,4x8x11 in,2x6 fir\n";
    let pieces = "Material,Length,Count,Bed\nRial,3 ft,1,\n2x6 fir,,1,\n2x6 fir,3 ft,1,A9\n";
    check_errors(
        &[("Beds", beds), ("Pieces", pieces), PRICES],
        &[
            "error: Material is not known\n  at Pieces.csv:2:1, which holds \"Rial\"\n  hint: did you mean \"rail\"? Otherwise add a row for it to Prices",
            "error: Length is missing\n  at Pieces.csv:3:2\n  hint: write how long one piece is, as 3 ft 9 in",
            "error: Bed is not among Beds\n  at Pieces.csv:4:4, which holds \"A9\"\n  hint: add a row for it to Beds",
        ],
    );
}

#[test]
fn sticks_on_hand_by_number_and_length_cost_nothing() {
    let materials = "Material,On hand\n2x6 fir,\"3 x 8 ft, 2 x 10 ft\"\n";
    let pieces = "Material,Length,Count\n2x6 fir,3 ft,1\n";
    let job = job(&[("Materials", materials), ("Pieces", pieces), PRICES]);
    let free = job.offers.iter().filter(|offer| {
        let price = offer.price.as_ref();
        price.is_some_and(|price| price.value.is_zero())
    });
    let sticks: Vec<_> = free.map(|o| (o.holds, o.available)).collect();
    let three = (Amount::Length(feet("8")), Some(Decimal::from(3)));
    let two = (Amount::Length(feet("10")), Some(Decimal::from(2)));
    assert_eq!(sticks, [three, two]);
}

#[test]
fn a_length_on_hand_without_a_number_of_sticks_makes_none() {
    let materials = "Material,On hand\n2x6 fir,24 ft\n";
    let pieces = "Material,Length,Count\n2x6 fir,3 ft,\n";
    let sheets = [("Materials", materials), ("Pieces", pieces), PRICES];
    assert_eq!(job(&sheets).offers.len(), 2);
    let notices = told(&sheets, Severity::Notice);
    let said = |words: &str| notices.iter().any(|n| n.contains(words));
    assert!(
        said("Count of Pieces is not set, taken as 1"),
        "{notices:#?}"
    );
}
