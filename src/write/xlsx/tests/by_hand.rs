//! A small estimate made by hand: three beds, one soil, one board, one truck.

mod ledger;

use std::sync::Arc;

use jiff::civil::{Date, date};
use rust_decimal::Decimal;

use crate::buying::by_hand::trips;
use crate::buying::{Bought, CutList, Stick, Trips};
use crate::labour::Labour;
use crate::model::bed::{Bed, BedId};
use crate::model::by_hand;
use crate::model::job::{Job, PhaseId, SiteId};
use crate::model::known::Known;
use crate::model::material::{Category, Material, MaterialId};
use crate::model::offer::{Offer, OfferId, SupplierId};
use crate::model::settings::{ProfitAs, Settings};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, Form, RowAt, SourceColumn, SourceRow, SourceTable, Sources};
use crate::price::assumptions::Assumption;
use crate::price::evaluate::{Values, evaluate};
use crate::price::ledger::Ledger;
use crate::price::term::CellRef;
use crate::price::{BedMoney, Estimate, Group, PlaceMoney, Price, PriceLine};
use crate::problem::Problem;
use crate::takeoff::by_hand::{kind, layer, need, two_courses};
use crate::takeoff::{KindId, Kinds, LayerTakeOff, Need, Part, TakeOff};
use crate::units::by_hand::{d, feet, hours, inches};
use crate::units::{Amount, Length, Money, Volume};
use ledger::{Places, ledger};

fn known<T>(value: T) -> Known<T> {
    Known::assumed(value, "set by this test")
}

/// Names of the three beds: a formula, a link and markup are only text here.
pub(super) const BEDS: [&str; 3] = ["=1+1", "North & <b>South</b>", "https://bed.example"];

fn settings() -> Settings {
    Settings {
        client: Some("Example Street Garden".into()),
        estimate_number: Some("12".into()),
        prepared_by: Some("A. Gardener".into()),
        date: Some(known(date(2026, 11, 24))),
        kerf: known(Length::ZERO),
        setup_hours: known(hours("0.75")),
        overhead: known(d("0.12")),
        contingency: known(d("0.06")),
        profit: known(d("0.15")),
        profit_as: known(ProfitAs::Margin),
        ..by_hand::settings("Nine beds & a path")
    }
}

fn bed(name: &str, row: u32) -> Bed {
    Bed {
        at: by_hand::row(row),
        courses: Some(2),
        ..by_hand::bed(name)
    }
}

fn material(name: &str, category: Category) -> Material {
    Material {
        wet_down: known(d("0.1")),
        first_season: known(d("0.06")),
        ..by_hand::material(name, category)
    }
}

fn offer(material: u32, pack: &str, price: &str, row: u32) -> Offer {
    let one_yard = Amount::Volume(Volume::cubic_yards(Decimal::ONE));
    let packed = by_hand::offer(SupplierId(0), MaterialId(material), pack, one_yard);
    Offer {
        at: RowAt { table: 1, row },
        price: Some(known(d(price))),
        price_date: Some(date(2026, 10, 1)),
        ..by_hand::loose(packed)
    }
}

fn job() -> Job {
    Job {
        sites: vec![by_hand::site("Hill Road"), by_hand::site("Mill Lane")],
        beds: (1..).zip(BEDS).map(|(row, name)| bed(name, row)).collect(),
        materials: vec![
            material("Planting mix", Category::Soil),
            material("2x10 cedar", Category::Lumber),
        ],
        suppliers: vec![by_hand::supplier("North Yard")],
        offers: vec![
            offer(0, "yard", "42.00", 1),
            offer(1, "board 12 ft", "18.40", 2),
            offer(0, "yard", "44.10", 3),
        ],
        to_review: Vec::new(),
        sheets_used: vec![Sheet::Beds, Sheet::Prices],
        ..by_hand::job(settings())
    }
}

fn table(sheet: Sheet, titles: &[&str], rows: Vec<Vec<Cell>>) -> SourceTable {
    SourceTable {
        sheet: Some(sheet),
        file: "job.xlsx".into(),
        label: sheet.title().into(),
        form: Form::Workbook,
        columns: (0..)
            .zip(titles)
            .map(|(index, title)| SourceColumn {
                index,
                title: (*title).into(),
                field: None,
            })
            .collect(),
        rows: (1..)
            .zip(rows)
            .map(|(row, cells)| SourceRow { row, cells })
            .collect(),
    }
}

fn sources() -> Sources {
    let text = |t: &str| Cell::Text(t.into());
    let number = |n: &str, percent| Cell::Number {
        value: d(n),
        percent,
    };
    let fills = table(
        Sheet::Fills,
        &["Fill", "Layer", "Material", "Depth (in)", "Note"],
        vec![
            vec![
                text("Veg"),
                number("1", false),
                text("Planting mix"),
                number("10.5", false),
                Cell::Empty,
            ],
            vec![
                text("Veg"),
                number("2", false),
                text("=HYPERLINK(\"x\")"),
                number("0.25", true),
                Cell::Date(date(2026, 3, 4)),
            ],
        ],
    );
    let mut stray = table(Sheet::Job, &["Mine"], vec![vec![Cell::Bool(true)]]);
    stray.sheet = None;
    stray.label = "My notes".into();
    Sources {
        tables: vec![fills, stray],
    }
}

fn takeoff() -> TakeOff {
    let volume = Volume::cubic_yards(d("1.6594"));
    let order = Volume::cubic_yards(d("1.8438"));
    TakeOff {
        size: "8' x 4' outside, 18 1/2\" high (2 courses of 2x10)".to_owned(),
        layers: vec![LayerTakeOff {
            order,
            season_loss: Volume::cubic_yards(d("0.0996")),
            ..layer("Planting mix", inches("18.5"), volume)
        }],
        needs: vec![Need {
            net: Amount::Volume(volume),
            ..need(MaterialId(0), Part::Layer(0), Amount::Volume(order))
        }],
        sink: inches("1.11"),
        ..two_courses()
    }
}

fn bought() -> Bought {
    Bought {
        lines: Vec::new(),
        trips: vec![Trips {
            after_rain: 4,
            charged: d("3"),
            words: "12.5 yd3: 3 loads at 2,200 lb/yd3, after rain 4".to_owned(),
            ..trips(SupplierId(0))
        }],
        sheet_lists: Vec::new(),
        cut_lists: vec![CutList {
            material: MaterialId(1),
            sticks: vec![Stick {
                offer: Some(OfferId(1)),
                length: feet("12"),
                count: 6,
                pieces: vec![
                    (feet("8"), "long side".into(), 1),
                    (inches("45"), "short side".into(), 1),
                ],
                offcut: inches("3"),
            }],
            culls: 1,
            cost: Money::of(d("110.40")),
            lower_bound: Money::of(d("107.10")),
            proven: false,
            pieces: Vec::new(),
        }],
        problems: Vec::new(),
    }
}

fn kinds() -> Kinds {
    let kind = |beds: &[u32]| {
        let beds: Vec<BedId> = beds.iter().map(|b| BedId(*b)).collect();
        let count = Decimal::from(beds.len());
        kind(beds, count, SiteId(0))
    };
    Kinds {
        areas: Vec::new(),
        kinds: vec![kind(&[0, 1]), kind(&[2])],
        of_bed: vec![KindId(0), KindId(0), KindId(1)],
    }
}

/// The price lines of [`ledger`], from its numbers.
fn price(values: &Values, places: &Places) -> Price {
    let amount = |row: usize| Money::of(values.at(places.amount, row));
    let line = |key, label: &str, row: u32, is_total| PriceLine {
        key,
        label: label.into(),
        words: format!("line {row} as estimated"),
        amount: amount(usize::try_from(row).unwrap()),
        with_top_up: None,
        at_with_top_up: None,
        at: CellRef {
            col: places.amount,
            row,
        },
        is_total,
    };
    let beds = (0..3).map(|bed| {
        let mut groups = [Money::ZERO; 5];
        groups[0] = Money::of(d("241.80"));
        BedMoney {
            bed: BedId::of(bed),
            groups,
            cost: groups[0],
            price: Money::of(values.at(places.bed_price, bed)),
        }
    });
    let place = |site, price: &str| PlaceMoney {
        site: SiteId(site),
        phase: PhaseId(0),
        beds: d("2"),
        cost: Money::of(d("241.80")),
        price: Money::of(d(price)),
    };
    Price {
        owner: Vec::new(),
        extras: Vec::new(),
        payments: Vec::new(),
        budget: None,
        lines: vec![
            line("materials", "Materials", 0, false),
            line("overhead", "Overhead", 1, false),
            line("total", "Price with tax", 2, true),
        ],
        direct_cost: amount(0),
        before_tax: amount(2),
        total: amount(2),
        top_up: Some(Money::of(d("88.20"))),
        beds: beds.collect(),
        areas: Vec::new(),
        places: vec![place(0, "543.00"), place(1, "271.49")],
        kinds: Vec::new(),
        missing: vec!["Compost: no price at any supplier".to_owned()],
        oldest_price: Some((date(2026, 10, 1), 54)),
        valid_until: date(2026, 12, 24),
        hours_words: "119.2 hours, of which 84.0 rest on typical figures, not yours; \
                      low 90.1, high 160.4"
            .to_owned(),
    }
}

/// The whole estimate.
pub(super) fn estimate() -> (Estimate, Places) {
    let (ledger, places) = ledger();
    let values = evaluate(&ledger).unwrap();
    let price = price(&values, &places);
    assert_eq!(Group::ALL.len(), price.beds[0].groups.len());
    let day: Date = date(2026, 11, 24);
    let name: Arc<str> = "Planting mix: loss when wetted down".into();
    let estimate = Estimate {
        job: job(),
        sources: sources(),
        date: day,
        kinds: kinds(),
        takeoffs: vec![takeoff(), takeoff()],
        bought: bought(),
        labour: Labour::default(),
        ledger,
        values,
        price,
        assumptions: vec![Assumption {
            what: name.to_string(),
            value: "10%".to_owned(),
            basis: "typical, change it to your own".to_owned(),
            confidence: "typical-range".to_owned(),
            used_for: "Planting mix in 3 beds".to_owned(),
        }],
        not_priced: vec!["Not priced: ground, paths, spoil, permits".to_owned()],
        rechosen: None,
        alternates: Vec::new(),
        problems: vec![
            Problem::caution("Utilities may lie where posts are dug")
                .hint("call before you dig; local code and licensed practice decide"),
        ],
    };
    (estimate, places)
}

/// The same estimate over another ledger, for tests of formulas alone.
pub(super) fn with_ledger(ledger: Ledger) -> Estimate {
    let (mut estimate, _) = estimate();
    estimate.values = evaluate(&ledger).unwrap();
    estimate.ledger = ledger;
    estimate.price.lines.clear();
    estimate.price.beds.clear();
    estimate
}
