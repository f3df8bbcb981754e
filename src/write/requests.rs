//! Blank price requests: what has no price yet, as CSV files that suppliers can fill in.
//!
//! The columns are those of the `Prices` sheet, so that a filled file reads back in as `Prices`. The
//! pack is a proposal wherever the job says nothing; the supplier may write another one.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::csv_safe::CsvTable;
use super::file_name::distinct;
use super::names::{Names, by_name};
use crate::model::job::Job;
use crate::model::material::{Material, MaterialId};
use crate::model::offer::{Offer, SupplierId};
use crate::price::Estimate;
use crate::units::round::{step_up, tidy15};
use crate::units::{Amount, Length, System};

/// Columns of a request: those of `Prices` that a supplier fills in, and what is needed.
pub const COLUMNS: [&str; 13] = [
    "Supplier",
    "Material",
    "Spec",
    "Pack",
    "Holds",
    "Price",
    "From quantity",
    "Step",
    "Least quantity",
    "Lead days",
    "Price date",
    "Note",
    "Quantity needed",
];

/// Who is asked when the job names no supplier.
const ANYONE: &str = "any supplier";

/// One file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// File name.
    pub file: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// One request for each supplier who may have what lacks a price; none when all have one.
pub fn requests(estimate: &Estimate) -> Vec<Request> {
    let wants = wants(estimate);
    let mut rows: BTreeMap<&str, Vec<Row>> = BTreeMap::new();
    for want in &wants {
        for row in rows_of(&estimate.job, want) {
            rows.entry(row.supplier).or_default().push(row);
        }
    }
    let files = distinct(rows.keys().copied());
    let pairs = files.into_iter().zip(rows.values());
    pairs
        .map(|(name, rows)| Request {
            file: format!("price-request-{name}.csv"),
            bytes: file(rows, estimate.job.settings.units.value),
        })
        .collect()
}

/// What lacks a price, summed over the whole job.
struct Want {
    material: MaterialId,
    need: Amount,
    longest_piece: Option<Length>,
}

fn wants(estimate: &Estimate) -> Vec<Want> {
    let mut needs: BTreeMap<MaterialId, Amount> = BTreeMap::new();
    let unpriced = estimate.bought.lines.iter();
    for line in unpriced.filter(|l| l.price.is_none() && !l.free && !l.need.base().is_zero()) {
        needs
            .entry(line.material)
            .and_modify(|sum| *sum = sum.plus(line.need).unwrap_or(*sum))
            .or_insert(line.need);
    }
    let mut wants: Vec<Want> = needs
        .into_iter()
        .map(|(material, need)| Want {
            material,
            need,
            longest_piece: longest_piece(estimate, material),
        })
        .collect();
    let name = |w: &Want| estimate.job.material_name(w.material).to_owned();
    wants.sort_by(|a, b| by_name(&name(a), &name(b)));
    wants
}

fn longest_piece(estimate: &Estimate, material: MaterialId) -> Option<Length> {
    let pieces = estimate.takeoffs.iter().flat_map(|t| &t.pieces);
    let lengths = pieces.filter(|p| p.material == material).map(|p| p.length);
    lengths.max()
}

/// One row of a request.
struct Row<'a> {
    supplier: &'a str,
    material: &'a Material,
    offer: Option<&'a Offer>,
    need: Amount,
    longest_piece: Option<Length>,
}

/// The rows that ask for one material: at the offers that lack only the price, else at every supplier.
fn rows_of<'a>(job: &'a Job, want: &Want) -> Vec<Row<'a>> {
    let Some(material) = job.material(want.material) else {
        return Vec::new();
    };
    let row = |supplier, offer| Row {
        supplier,
        material,
        offer,
        need: want.need,
        longest_piece: want.longest_piece,
    };
    let names = Names(job);
    let mut open: Vec<&Offer> = job
        .offers
        .iter()
        .filter(|o| o.material == want.material && o.price.is_none())
        .collect();
    if !open.is_empty() {
        open.sort_by(|a, b| a.holds.cmp(&b.holds).then_with(|| a.spec.cmp(&b.spec)));
        let rows = open.into_iter();
        return rows
            .map(|offer| row(names.supplier(offer.supplier), Some(offer)))
            .collect();
    }
    if job.suppliers.is_empty() {
        return vec![row(ANYONE, None)];
    }
    let suppliers = (0..job.suppliers.len()).map(SupplierId::of);
    suppliers.map(|id| row(names.supplier(id), None)).collect()
}

fn file(rows: &[Row], system: System) -> Vec<u8> {
    let mut table = CsvTable::new(&COLUMNS);
    for row in rows {
        add(&mut table, row, system);
    }
    table.into_bytes()
}

fn add(table: &mut CsvTable, row: &Row, system: System) {
    let offer = row.offer;
    let spec = offer
        .and_then(|o| o.spec.as_ref())
        .or(row.material.spec.as_ref());
    let (pack, holds) = match offer {
        Some(offer) => {
            let measure = offer.by.as_ref().map(|by| &by.word);
            (measure.unwrap_or(&offer.pack).to_string(), offer.holds)
        }
        None => proposed_pack(row, system),
    };
    table.text(row.supplier);
    table.text(&row.material.name);
    table.text(spec.map_or("", |s| s));
    table.text(&pack);
    table.text(&amount_text(holds, system));
    table.empty(); // the price that is asked for
    number(table, offer.map(|o| o.from_quantity));
    number(table, offer.map(|o| o.step));
    number(table, offer.map(|o| o.least));
    number(table, offer.and_then(|o| o.lead_days.map(Decimal::from)));
    table.empty(); // the day of the price
    table.text(&note(row, system));
    table.text(&need_text(row.need, system));
    table.end_row();
}

/// A number of an offer; zero stands for nothing asked.
fn number(table: &mut CsvTable, value: Option<Decimal>) {
    match value.filter(|v| !v.is_zero()) {
        Some(value) => table.number(value),
        None => table.empty(),
    }
}

fn note(row: &Row, system: System) -> String {
    let own = row.offer.and_then(|o| o.note.clone());
    let longest = row
        .longest_piece
        .map(|l| format!("longest piece {}", system.length(l)));
    let parts: Vec<String> = own.iter().map(Arc::to_string).chain(longest).collect();
    parts.join("; ")
}

/// A pack to ask for where the job names none: the unit in which the trade sells such a thing.
fn proposed_pack(row: &Row, system: System) -> (String, Amount) {
    let unit = match row.need {
        Amount::Length(_) => {
            let stock = stock_length(row.longest_piece.unwrap_or_default(), system);
            return ("board".to_owned(), Amount::Length(stock));
        }
        Amount::Count(_) => "each",
        other => match (system, other) {
            (System::UsCustomary, Amount::Volume(_)) => "yard",
            _ => system.unit(other.dimension()),
        },
    };
    let one = row.need.dimension().of_base(Decimal::ONE);
    // One unit of the system in base units: 1 / (units that one base unit has).
    let base = Decimal::ONE.checked_div(system.number(one));
    let holds = one.with_base(tidy15(base.unwrap_or(Decimal::ONE)));
    (unit.to_owned(), holds)
}

/// The shortest usual stick that holds the longest piece: by two feet from 8 to 16, by 0.3 m from 2.4 to 4.8.
fn stock_length(longest: Length, system: System) -> Length {
    let (step, least, most) = match system {
        System::UsCustomary => (
            Length::feet(Decimal::TWO),
            Length::feet(Decimal::from(8)),
            Length::feet(Decimal::from(16)),
        ),
        System::Metric => (
            Length::metres(Decimal::new(3, 1)),
            Length::metres(Decimal::new(24, 1)),
            Length::metres(Decimal::new(48, 1)),
        ),
    };
    let stepped = step_up(longest.in_metres(), step.in_metres());
    Length::metres(stepped).clamp(least, most)
}

/// What is needed, as it is said to a supplier: two decimals, and a trace never reads as nothing.
fn need_text(need: Amount, system: System) -> String {
    let number = step_up(system.number(need).round_dp(9), Decimal::new(1, 2));
    let unit = system.unit(need.dimension());
    format!("{} {unit}", number.normalize())
        .trim_end()
        .to_owned()
}

/// An amount as the reader takes it: `1 yd3`, `1.5 ft3`, `12 ft`, `50 L`, `50`.
fn amount_text(amount: Amount, system: System) -> String {
    let text = |number: Decimal, unit: &str| {
        let number = tidy15(number.round_dp(9));
        format!("{} {unit}", number.normalize())
            .trim_end()
            .to_owned()
    };
    match (system, amount) {
        (System::UsCustomary, Amount::Volume(v)) if v.in_cubic_feet() < Decimal::from(10) => {
            text(v.in_cubic_feet(), "ft3")
        }
        (System::Metric, Amount::Volume(v)) if v.in_cubic_metres() < Decimal::new(2, 1) => text(
            v.in_cubic_metres().saturating_mul(Decimal::ONE_THOUSAND),
            "L",
        ),
        _ => text(system.number(amount), system.unit(amount.dimension())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Volume;
    use crate::write::fixture::{Came, d, estimate};

    #[track_caller]
    fn check_files(estimate: &Estimate, expected: &[(&str, &str)]) {
        let header = format!("\u{feff}{}\r\n", COLUMNS.join(","));
        let found = requests(estimate);
        let found: Vec<(String, String)> = found
            .into_iter()
            .map(|r| {
                let text = String::from_utf8(r.bytes).unwrap();
                (r.file, text.strip_prefix(&header).unwrap().to_owned())
            })
            .collect();
        let found: Vec<(&str, &str)> = found
            .iter()
            .map(|(file, text)| (file.as_str(), text.as_str()))
            .collect();
        assert_eq!(found, expected);
    }

    /// The example without any price.
    fn unpriced() -> Estimate {
        let mut unpriced = estimate(Came::Workbook);
        for line in &mut unpriced.bought.lines {
            line.price = None;
            line.offer = None;
        }
        unpriced.job.offers.clear();
        unpriced
    }

    #[test]
    fn what_no_offer_covers_is_asked_of_every_supplier() {
        // The ring has no offer; topsoil and boards are priced.
        check_files(
            &estimate(Came::Workbook),
            &[
                (
                    "price-request-Creek Yard.csv",
                    "Creek Yard,Steel ring 48 in,,each,1,,,,,,,,1\r\n",
                ),
                (
                    "price-request-Mill Lane Timber.csv",
                    "Mill Lane Timber,Steel ring 48 in,,each,1,,,,,,,,1\r\n",
                ),
            ],
        );
    }

    #[test]
    fn without_suppliers_one_request_holds_everything() {
        let mut alone = unpriced();
        alone.job.suppliers.clear();
        // The longest piece is 8 ft, so 8 ft boards are asked for: a stick used whole is never trimmed.
        check_files(
            &alone,
            &[(
                "price-request-any supplier.csv",
                "any supplier,2x10 cedar,,board,8 ft,,,,,,,longest piece 8',141 ft\r\n\
                 any supplier,Steel ring 48 in,,each,1,,,,,,,,1\r\n\
                 any supplier,Topsoil blend,,yard,1 yd3,,,,,,,,6.64 yd3\r\n",
            )],
        );
    }

    #[test]
    fn an_offer_that_lacks_only_the_price_goes_to_its_supplier_as_it_is() {
        let mut half = estimate(Came::Workbook);
        half.job.offers[0].price = None;
        half.bought.lines[0].price = None;
        half.bought.lines[2].free = true;
        check_files(
            &half,
            &[(
                "price-request-Creek Yard.csv",
                "Creek Yard,Topsoil blend,,yard,1 yd3,,,0.5,,,,,6.64 yd3\r\n",
            )],
        );
    }

    #[test]
    fn a_complete_price_asks_for_nothing() {
        let mut complete = estimate(Came::Workbook);
        complete.bought.lines.truncate(2);
        check_files(&complete, &[]);
    }

    #[test]
    fn names_that_users_typed_carry_no_formula_and_lead_nowhere() {
        let mut evil = unpriced();
        evil.bought.lines.truncate(1);
        evil.job.materials[0].name = "=cmd|'/c x'!A1".into();
        evil.job.suppliers.truncate(1);
        evil.job.suppliers[0].name = "../@Yard".into();
        check_files(
            &evil,
            &[(
                "price-request-@Yard.csv",
                "../@Yard,'=cmd|'/c x'!A1,,yard,1 yd3,,,,,,,,6.64 yd3\r\n",
            )],
        );
    }

    #[test]
    fn packs_are_told_in_units_that_people_buy() {
        let bag = Amount::Volume(Volume::cubic_feet(d("1.5")));
        assert_eq!(amount_text(bag, System::UsCustomary), "1.5 ft3");
        let bag = Amount::Volume(Volume::litres(d("50")));
        assert_eq!(amount_text(bag, System::Metric), "50 L");
        let load = Amount::Volume(Volume::cubic_metres(d("6.5")));
        assert_eq!(amount_text(load, System::Metric), "6.5 m3");
        let nine = Length::feet(d("9"));
        assert_eq!(
            stock_length(nine, System::UsCustomary),
            Length::feet(d("10"))
        );
        let splice = Length::feet(d("30"));
        assert_eq!(
            stock_length(splice, System::UsCustomary),
            Length::feet(d("16"))
        );
        let two = Length::metres(d("2.45"));
        assert_eq!(stock_length(two, System::Metric), Length::metres(d("2.7")));
    }
}
