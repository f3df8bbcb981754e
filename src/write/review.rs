//! The review list: rows of suppliers' lists that were not taken, those that may be materials of the job
//! first, as a CSV file that reads back in as `Supplier names` once its `Use` is filled in.

use rust_decimal::Decimal;

use super::csv_safe::CsvTable;
use crate::model::price_list::ToReview;

/// Its file name.
pub const FILE: &str = "price-list-review.csv";
/// Its columns; `Use` is for the user: a material of the job, or `no`.
pub const COLUMNS: [&str; 10] = [
    "Supplier",
    "Their name",
    "Pack",
    "Price",
    "File row",
    "Best match",
    "Likeness",
    "Also like",
    "Why not used",
    "Use",
];

/// The file's bytes; `None` when there is nothing to review.
pub fn review(rows: &[ToReview]) -> Option<Vec<u8>> {
    if rows.is_empty() {
        return None;
    }
    let mut table = CsvTable::new(&COLUMNS);
    for row in rows {
        for text in [&row.supplier, &row.their_name, &row.pack, &row.price] {
            table.text(text);
        }
        table.text(&row.place);
        if let Some(best) = &row.best {
            table.text(best);
            table.number(Decimal::from(row.likeness.div_euclid(10)) / Decimal::ONE_HUNDRED);
        } else {
            table.empty();
            table.empty();
        }
        let also: Vec<&str> = row.also.iter().map(|name| &**name).collect();
        table.text(&also.join("; "));
        table.text(&row.why);
        table.empty(); // the user's word
        table.end_row();
    }
    Some(table.into_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::price_list::Standing;

    #[test]
    fn a_row_says_what_it_may_be_and_leaves_room_for_a_word() {
        let row = ToReview {
            standing: Standing::Doubtful,
            supplier: "Mill Lane Yard".into(),
            their_name: "=TOPSOIL, FINE".into(),
            pack: "CY".into(),
            price: "38,50".into(),
            place: "yard.csv:14".to_owned(),
            best: Some("Topsoil".into()),
            likeness: 667,
            also: vec!["Garden blend".into(), "Compost".into()],
            why: "likeness is under 0.90".to_owned(),
        };
        let text = String::from_utf8(review(std::slice::from_ref(&row)).unwrap()).unwrap();
        let line = text.lines().nth(1).unwrap();
        assert_eq!(
            line,
            "Mill Lane Yard,\"'=TOPSOIL, FINE\",CY,\"38,50\",yard.csv:14,Topsoil,0.66,\
             \"Garden blend; Compost\",likeness is under 0.90,"
        );
        let other = ToReview {
            standing: Standing::Unlike,
            their_name: "Wheelbarrow".into(),
            best: None,
            likeness: 0,
            also: Vec::new(),
            why: "nothing that the job needs is like it".to_owned(),
            ..row.clone()
        };
        let text = String::from_utf8(review(&[row, other]).unwrap()).unwrap();
        assert_eq!(
            text.lines().nth(2).unwrap(),
            "Mill Lane Yard,Wheelbarrow,CY,\"38,50\",yard.csv:14,,,,nothing that the job needs is like it,"
        );
        assert_eq!(review(&[]), None);
    }
}
