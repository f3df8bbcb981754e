//! Whole jobs with lists: the prices that come out of them, and laws.

use proptest::prelude::*;

use super::{BEDS, FILLS, FRAMES, Folder};
use crate::model::price_list::Standing;
use crate::model::source::Cell;
use crate::problem::Severity;

/// The mapping of the yard's list.
const YARD: (&str, &str) = (
    "Price lists.csv",
    "File,Supplier,Material,Pack,Price,Taxable,Price date\n\
     price-list-yard.csv,Mill Lane Yard,Artikel,Einheit,Preis €,yes,2026-03-01\n",
);

#[test]
fn a_semicolon_list_of_another_code_page_needs_no_retyping() {
    let folder = Folder::with(&[BEDS, FILLS, FRAMES, YARD]);
    // Windows-1252: 0x80 is the euro sign, 0xfc a u with two dots.
    folder.put(
        "price-list-yard.csv",
        b"Mill Lane Yard, Fr\xfchjahr\n\n\
          Nr;Artikel;Einheit;Preis \x80\n\
          1;TOPSOIL SCREENED;CY;34,50 \x80\n\
          2;TOPSOIL UNSCREENED;CY;22,00 \x80\n\
          3;Compost, 1,5 cu ft bag;EA;6,20 \x80\n\
          4;Hdwr cloth 4' x 50';RL;1.088,00 \x80\n\
          5;K\xfcbel;St\xfcck;12,00 \x80\n\
          6;Blue stone;CY;call\n",
    );
    // 1 yd3 = 0.764555 m3; 1.5 ft3 = 1.5 x 0.0283168 = 0.042475 m3;
    // 4 ft x 50 ft = 200 ft2 = 200 x 0.09290304 = 18.580608 m2. Prices stand in the 4th column.
    assert_eq!(
        folder.offers(),
        [
            "Mill Lane Yard: Compost, bag of 0.042475, 6.2 at price-list-yard.csv:6:4",
            "Mill Lane Yard: Hardware cloth, roll of 18.580608, 1088 at price-list-yard.csv:7:4",
            "Mill Lane Yard: Topsoil, CY of 0.764555, 34.5 at price-list-yard.csv:4:4",
        ]
    );
    let notices = folder.told(Severity::Notice).join("\n");
    assert!(
        notices.contains(
            "price-list-yard.csv: 6 rows, 3 used (3 by name), 1 to review, 2 not needed\n  \
             at Price lists.csv:2:1"
        ),
        "{notices}"
    );
    // Nothing is dropped unseen; what has no price in the list is no offer.
    let others = folder.left(Standing::Unlike);
    let others: Vec<_> = others.iter().map(|row| &*row.their_name).collect();
    assert_eq!(others, ["Kübel"]);
    let (loaded, _) = folder.read();
    let topsoil = &loaded.job.offers[0];
    assert!(topsoil.taxable);
    assert_eq!(topsoil.price_date, Some(jiff::civil::date(2026, 3, 1)));
}

#[test]
fn a_workbook_below_a_title_block_is_read_by_letters_too() {
    let folder = Folder::with(&[
        BEDS,
        FILLS,
        FRAMES,
        (
            "Price lists.csv",
            "File,Sheet,Supplier,Material,Pack,Price,Rows passed over\n\
             timber.xlsx,Retail,Fern Street Lumber,B,C,D,7\n",
        ),
    ]);
    folder.put_workbook(
        "timber.xlsx",
        &[
            ("Cover", &[&["Fern Street Lumber"]]),
            (
                "Retail",
                &[
                    &["Fern Street Lumber", "", "", ""],
                    &["No", "What", "By", "USD"],
                    &["1", "2x10x8 CEDAR", "EA", "38.4"],
                    &["2", "2X10X12 CDR BOARD", "EA", "57.6"],
                    &["3", "2x10x12 PT PINE", "EA", "21.6"],
                    &["4", "2x10 cedar random", "LF", "4.8"],
                    &["5", "2x10x16 CEDAR", "EA", "1"],
                ],
            ),
        ],
    );
    // 8 ft = 2.4384 m and 12 ft = 3.6576 m; row 7 is passed over; pine is no cedar.
    assert_eq!(
        folder.offers(),
        [
            "Fern Street Lumber: 2x10 cedar, each of 2.4384, 38.4 at timber.xlsx!Retail!D3",
            "Fern Street Lumber: 2x10 cedar, each of 3.6576, 57.6 at timber.xlsx!Retail!D4",
        ]
    );
    let review = folder.left(Standing::Doubtful);
    assert_eq!(review.len(), 1);
    // 2 of 2 words and 2 of 3: 2 x 2000 / 5 = 800.
    assert_eq!(review[0].likeness, 800);
    assert_eq!(review[0].place, "timber.xlsx!Retail!6");
}

#[test]
fn titles_that_are_known_need_file_and_supplier_only() {
    let folder = Folder::with(&[
        BEDS,
        FILLS,
        FRAMES,
        (
            "Price lists.csv",
            "File,Supplier\nlist.csv,Mill Lane Yard\n",
        ),
        (
            "list.csv",
            "Description,UOM,Unit price\nCompost,CY,41.00\nSand,CY,20.00\n",
        ),
    ]);
    assert_eq!(
        folder.offers(),
        ["Mill Lane Yard: Compost, CY of 0.764555, 41 at list.csv:2:3"]
    );
}

#[test]
fn a_review_list_with_use_filled_in_reads_back_as_names() {
    let list = "Description,UOM,Unit price\nGarden dirt grade A,CY,30.00\nTopsoil brown,CY,25.00\n";
    let mapping = (
        "Price lists.csv",
        "File,Supplier\nlist.csv,Mill Lane Yard\n",
    );
    let before = Folder::with(&[BEDS, FILLS, FRAMES, mapping, ("list.csv", list)]);
    assert_eq!(before.offers(), Vec::<String>::new());
    let review = before.left(Standing::Doubtful);
    // 1 word of 1 and 1 of 2: 2 x 1000 / 3 = 666.
    assert_eq!(
        (&*review[0].their_name, review[0].likeness),
        ("Topsoil brown", 666)
    );
    let after = Folder::with(&[
        BEDS,
        FILLS,
        FRAMES,
        mapping,
        ("list.csv", list),
        (
            "price-list-review.csv",
            "Supplier,Their name,Pack,Price,File row,Best match,Likeness,Also like,Why not used,Use\n\
             Mill Lane Yard,Topsoil brown,CY,25.00,list.csv:3,Topsoil,0.66,,,no\n\
             ,garden dirt grade a,CY,30.00,list.csv:2,,,,,screened topsoil\n",
        ),
    ]);
    assert_eq!(
        after.offers(),
        ["Mill Lane Yard: Topsoil, CY of 0.764555, 30 at list.csv:2:3"]
    );
    assert_eq!(after.read().0.job.to_review, []);
}

#[test]
fn a_row_of_low_likeness_is_listed_and_can_be_claimed() {
    let mapping = (
        "Price lists.csv",
        "File,Supplier\nlist.csv,Mill Lane Yard\n",
    );
    let list = (
        "list.csv",
        "Description,UOM,Unit price\nBrown compost fine leafy stuff,CY,30.00\n2x10x8 PT PINE,EA,21.00\n",
    );
    let folder = Folder::with(&[BEDS, FILLS, FRAMES, mapping, list]);
    assert_eq!(folder.offers(), Vec::<String>::new());
    assert_eq!(folder.left(Standing::Doubtful), []);
    let left = folder.left(Standing::Unlike);
    let said: Vec<_> = left
        .iter()
        .map(|row| (&*row.their_name, row.best.as_deref(), row.likeness))
        .collect();
    // 1 word of 1 and 1 of 5: 2 x 1000 / 6 = 333. Pine is no cedar, and nothing else is like it.
    assert_eq!(
        said,
        [
            ("2x10x8 PT PINE", None, 0),
            ("Brown compost fine leafy stuff", Some("Compost"), 333),
        ]
    );
    let told = folder.told(Severity::Notice).join("\n");
    assert!(
        told.contains("list.csv: 2 rows, 0 used, 0 to review, 2 not needed")
            && told.contains("an estimate lists in price-list-review.csv what was not used"),
        "{told}"
    );
    let claimed = (
        "price-list-review.csv",
        "Supplier,Their name,Use\nMill Lane Yard,Brown compost fine leafy stuff,Compost\n",
    );
    let folder = Folder::with(&[BEDS, FILLS, FRAMES, mapping, list, claimed]);
    assert_eq!(
        folder.offers(),
        ["Mill Lane Yard: Compost, CY of 0.764555, 30 at list.csv:2:3"]
    );
}

#[test]
fn prices_themselves_may_be_called_price_lists() {
    let prices = "Supplier,Material,Pack,Price\nYard,Topsoil,yard,40\n";
    let folder = Folder::with(&[BEDS, FILLS, FRAMES, ("Price lists.csv", prices)]);
    assert_eq!(
        folder.offers(),
        ["Yard: Topsoil, yard of 0.764555, 40 at Price lists.csv:2:4"]
    );
}

#[test]
fn rows_of_a_list_say_what_it_calls_them_and_where() {
    let folder = Folder::with(&[
        BEDS,
        FILLS,
        FRAMES,
        (
            "Price lists.csv",
            "File,Supplier\nlist.csv,Mill Lane Yard\n",
        ),
        (
            "list.csv",
            "Description,UOM,Unit price\nCOMPOST BULK,CY,41.00\n",
        ),
    ]);
    let (loaded, _) = folder.read();
    let table = loaded.sources.tables.last().unwrap();
    let cell = |field: &str| {
        let place = table
            .columns
            .iter()
            .position(|c| c.field == Some(field))
            .unwrap();
        table.rows[0].cells[place].clone()
    };
    assert_eq!(cell("Material"), Cell::Text("Compost".into()));
    assert_eq!(cell("Their name"), Cell::Text("COMPOST BULK".into()));
    assert_eq!(cell("Listed at"), Cell::Text("list.csv:2:3".into()));
}

/// Rows that the job needs, and rows that it does not.
const NEEDED: [&str; 5] = [
    "TOPSOIL SCREENED,CY,34.50",
    "Compost 1 cu ft bag,EA,6.20",
    "2x10x8 CEDAR,EA,38.40",
    "2x10x12 cedar,EA,57.60",
    "Hardware cloth 4 ft x 50 ft,RL,88.00",
];
const OTHERS: [&str; 6] = [
    "Blue stone,CY,55.00",
    "2x10x8 PT PINE,EA,21.00",
    "LUMBER,,",
    "Wheelbarrow 6 cu ft,EA,129.00",
    "2x8x8 cedar,EA,24.00",
    "Delivery,EA,call",
];

/// What is bought from a list of these rows, without the places.
fn bought(rows: &[&str]) -> Vec<String> {
    let list = format!("Description,UOM,Unit price\n{}\n", rows.join("\n"));
    let folder = Folder::with(&[
        BEDS,
        FILLS,
        FRAMES,
        (
            "Price lists.csv",
            "File,Supplier\nlist.csv,Mill Lane Yard\n",
        ),
        ("list.csv", &list),
    ]);
    let offers = folder.offers();
    let mut bare: Vec<String> = offers
        .iter()
        .map(|offer| offer.split(" at ").next().unwrap().to_owned())
        .collect();
    bare.sort();
    bare
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn neither_the_order_of_a_list_nor_what_else_is_in_it_matters(
        order in Just((0..11_usize).collect::<Vec<_>>()).prop_shuffle(),
        others in 0..6_usize,
    ) {
        let all: Vec<&str> = NEEDED.iter().chain(&OTHERS).copied().collect();
        let last = NEEDED.len() + others;
        let mixed: Vec<&str> = order.iter().filter(|i| **i < last).map(|i| all[*i]).collect();
        prop_assert_eq!(bought(&mixed), bought(&NEEDED));
    }
}

#[test]
fn all_that_is_needed_of_the_law_is_really_bought() {
    assert_eq!(bought(&NEEDED).len(), NEEDED.len());
    assert_eq!(bought(&OTHERS), Vec::<String>::new());
}
