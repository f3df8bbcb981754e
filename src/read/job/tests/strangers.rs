//! Goods for sale that nothing uses.

use super::told;
use crate::problem::Severity;

#[test]
fn goods_that_nothing_uses_are_said_with_a_near_name() {
    let notices = told(
        &[
            ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,Wall\n"),
            ("Materials", "Material,Category\nRed gravel fines,soil\n"),
            (
                "Frames",
                "Frame,Frame kind,Material,Fastener\nWall,boards,2x10,Wall hooks\n",
            ),
            (
                "Prices",
                "Supplier,Material,Pack,Price\nShop,Wall hooks,each,2\nShop,Wall hoks,each,2\nShop,Gnome,each,9\n",
            ),
        ],
        Severity::Notice,
    );
    let said = |words: &str| notices.iter().any(|n| n.contains(words));
    assert!(
        said("\"Wall hooks\" is taken as a fastener from its column"),
        "{notices:#?}"
    );
    assert!(said(
        "Material is sold here but nothing uses it\n  at Prices.csv:3:2, which holds \"Wall hoks\"\n  hint: did you mean \"Wall hooks\"?"
    ));
    assert!(said(
        "Material is sold here but nothing uses it\n  at Prices.csv:4:2, which holds \"Gnome\""
    ));
}

#[test]
fn a_slip_in_the_name_of_a_board_is_said_and_another_wood_is_not() {
    let notices = told(
        &[
            ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,Wall\n"),
            (
                "Frames",
                "Frame,Frame kind,Material\nWall,boards,2x10 cedar\n",
            ),
            (
                "Prices",
                "Supplier,Material,Pack,Holds,Price\nYard,2x10 ceder,board,8 ft,30\nYard,2x10 pine,board,8 ft,20\nYard,2x8 cedar,board,8 ft,25\n",
            ),
        ],
        Severity::Notice,
    );
    let unused: Vec<&String> = notices
        .iter()
        .filter(|n| n.contains("nothing uses it"))
        .collect();
    assert_eq!(unused.len(), 1, "{notices:#?}");
    assert!(
        unused[0].ends_with(
            "at Prices.csv:2:2, which holds \"2x10 ceder\"\n  hint: did you mean \"2x10 cedar\"?"
        ),
        "{notices:#?}"
    );
}
