//! Suppliers side by side, as JSON.

use serde::Serialize;

use super::number::Number;
use crate::price::Estimate;
use crate::price::suppliers::{Comparison, Row, Single};
use crate::units::{Amount, Money, System};
use crate::write::names::moment_word;

#[derive(Serialize)]
struct ComparisonJson<'a> {
    schema: &'static str,
    job: &'a str,
    currency: &'a str,
    suppliers: Vec<&'a str>,
    rows: Vec<RowJson<'a>>,
    singles: Vec<SingleJson<'a>>,
    as_ruled: SingleJson<'a>,
    least: SingleJson<'a>,
    fewest: FewestJson<'a>,
    break_evens: Vec<BreakEvenJson<'a>>,
    doubts: Vec<DoubtJson<'a>>,
}

#[derive(Serialize)]
struct RowJson<'a> {
    material: &'a str,
    moment: &'static str,
    need: Number,
    unit: &'static str,
    landed: Vec<Option<Number>>,
    landed_for_one: Vec<Option<Number>>,
    chosen: Vec<&'a str>,
    chosen_landed: Option<Number>,
    price: Option<Number>,
    another_from: Option<Number>,
}

#[derive(Serialize)]
struct SingleJson<'a> {
    from: Vec<&'a str>,
    cost: Number,
    lacks: Vec<&'a str>,
}

#[derive(Serialize)]
struct FewestJson<'a> {
    within: Number,
    proven: bool,
    #[serde(flatten)]
    single: SingleJson<'a>,
}

#[derive(Serialize)]
struct BreakEvenJson<'a> {
    material: &'a str,
    unit: &'static str,
    need: Number,
    packs_at_need: Option<Number>,
    loads_at_need: Option<Number>,
    load_costs_no_more_from: Option<Number>,
    points: Vec<[Number; 3]>,
}

#[derive(Serialize)]
struct DoubtJson<'a> {
    words: &'a str,
    place: &'a str,
}

/// The comparison as JSON, money as decimals in text.
///
/// # Errors
/// Never in practice: all parts are plain text.
pub fn suppliers_json(estimate: &Estimate, of: &Comparison) -> Result<String, serde_json::Error> {
    let settings = &estimate.job.settings;
    let currency = settings.currency.value;
    let units = settings.units.value;
    let money = |money: Money| Number::money(money, currency);
    let number = |amount: Amount| Number::of(units.number(amount));
    let single = |single| single_json(single, &money);
    let row = |row| row_json(row, (&money, &number), units);
    let tree = ComparisonJson {
        schema: "loamwright suppliers 1",
        job: &settings.job_name,
        currency: currency.as_str(),
        suppliers: of.suppliers.iter().map(|name| &**name).collect(),
        rows: of.rows.iter().map(row).collect(),
        singles: of.singles.iter().map(single).collect(),
        as_ruled: single(&of.as_ruled),
        least: single(&of.least),
        fewest: FewestJson {
            within: Number::of(of.fewest.within),
            proven: of.fewest.is_proven,
            single: single(&of.fewest.single),
        },
        break_evens: of
            .break_evens
            .iter()
            .map(|even| BreakEvenJson {
                material: estimate.job.material_name(even.material),
                unit: units.unit(even.need.dimension()),
                need: number(even.need),
                packs_at_need: even.at_need.0.map(money),
                loads_at_need: even.at_need.1.map(money),
                load_costs_no_more_from: even.from.map(number),
                points: even
                    .points
                    .iter()
                    .map(|(amount, packed, loose)| [number(*amount), money(*packed), money(*loose)])
                    .collect(),
            })
            .collect(),
        doubts: of
            .doubts
            .iter()
            .map(|doubt| DoubtJson {
                words: &doubt.words,
                place: &doubt.place,
            })
            .collect(),
    };
    serde_json::to_string_pretty(&tree).map(|text| text + "\n")
}

fn single_json<'a>(of: &'a Single, money: &impl Fn(Money) -> Number) -> SingleJson<'a> {
    SingleJson {
        from: of.from.iter().map(|name| &**name).collect(),
        cost: money(of.cost),
        lacks: of.lacks.iter().map(|name| &**name).collect(),
    }
}

fn row_json<'a>(
    of: &'a Row,
    (money, number): (&impl Fn(Money) -> Number, &impl Fn(Amount) -> Number),
    units: System,
) -> RowJson<'a> {
    let need = units.number(of.need);
    let one = |landed: Money| landed.amount().checked_div(need).map(Number::of);
    RowJson {
        material: &of.name,
        moment: moment_word(of.moment),
        need: number(of.need),
        unit: units.unit(of.need.dimension()),
        landed: of.landed.iter().map(|landed| landed.map(money)).collect(),
        landed_for_one: of
            .landed
            .iter()
            .map(|landed| landed.and_then(one))
            .collect(),
        chosen: of.chosen.0.iter().map(|name| &**name).collect(),
        chosen_landed: of.chosen.1.map(money),
        price: of.flip.map(|(price, _)| Number::of(price)),
        another_from: of.flip.map(|(_, flip)| Number::of(flip)),
    }
}
