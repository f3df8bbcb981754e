//! Tests of the workbook on estimates made by hand.

mod by_hand;
#[path = "../../../tests/common/recompute.rs"]
mod recompute;
mod terms;
mod whole;
