//! Tests of the workbook on estimates made by hand.

mod by_hand;
#[path = "../../../tests/common/recompute.rs"]
#[allow(
    dead_code,
    unreachable_pub,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "shared with the integration tests"
)]
mod recompute;
mod terms;
mod whole;
