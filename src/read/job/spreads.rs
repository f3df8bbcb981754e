//! `Low` and `High` beside a figure: how far it may turn out to lie from what is typed.

use rust_decimal::Decimal;

use super::draft::Draft;
use super::reading::Reading;
use crate::model::known::Known;
use crate::model::spread::Spread;

/// Keeps what a row says of the figure in its column `field`, which is `likely`.
pub(super) fn note(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    likely: Option<&Known<Decimal>>,
) {
    let likely = likely.map(|known| known.value);
    if let Some(spread) = spread(reading, field, likely) {
        draft.spreads.insert(reading.at(), spread);
    }
}

/// What a row says; an empty end is the likely figure itself. `None` where it says nothing, or
/// something wrong, which is told.
pub(super) fn spread(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    likely: Option<Decimal>,
) -> Option<Spread> {
    let said = ["Low", "High"].into_iter().find(|end| reading.has(end))?;
    let low = end(reading, "Low", field);
    let high = end(reading, "High", field);
    let Some(likely) = likely else {
        if !reading.has(field) {
            let hint = format!("write the likely figure in {field}");
            reading.complain(said, format!("{said} is set and {field} is empty"), &hint);
        }
        return None;
    };
    let spread = Spread {
        low: low.unwrap_or(likely),
        high: high.unwrap_or(likely),
    };
    let hint = format!("Low, {field} and High go upwards");
    if spread.low > likely {
        reading.complain("Low", format!("Low is more than {field}"), &hint);
        return None;
    }
    if spread.high < likely {
        reading.complain("High", format!("High is less than {field}"), &hint);
        return None;
    }
    Some(spread)
}

/// One end, read as the figure itself is.
fn end(reading: &mut Reading<'_, '_>, end: &'static str, field: &'static str) -> Option<Decimal> {
    match field {
        "Person-hours" => reading.number(end),
        "Pay rate" => reading.known_hourly(end).map(|known| known.value),
        _ => {
            let typed = reading.text(end)?;
            // `1.70/bf` is meant for the measure of the price beside it.
            match typed.split_once('/') {
                Some((money, _)) => reading.known_money_of(end, money).map(|known| known.value),
                None => reading.money(end),
            }
        }
    }
}
