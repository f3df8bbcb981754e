//! A small estimate made by hand: three beds, one soil, one board, one truck.
//!
//! Long because an estimate holds everything that a job is and needs, and each part is spelled out.

use std::sync::Arc;

use jiff::civil::{Date, date};
use rust_decimal::Decimal;

use crate::buying::{Bought, Bound, CutList, Stick, Trips};
use crate::labour::Labour;
use crate::model::bed::{Base, Bed, BedId, Measured, Shape};
use crate::model::frame::FrameId;
use crate::model::job::{HaulGround, Job, PhaseId, Site, SiteId};
use crate::model::known::Known;
use crate::model::material::{Category, Material, MaterialId, Source};
use crate::model::offer::{Handover, Offer, OfferId, Supplier, SupplierId};
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, Settings, TaxMode, TopUp};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, Form, RowAt, SourceColumn, SourceRow, SourceTable, Sources};
use crate::price::assumptions::Assumption;
use crate::price::evaluate::{Values, evaluate};
use crate::price::ledger::{Column, Format, Ledger, Role, Value};
use crate::price::term::{CellRef, ColRef, Cond, Term};
use crate::price::{BedMoney, Estimate, Group, PlaceMoney, Price, PriceLine};
use crate::problem::Problem;
use crate::takeoff::{BedKind, KindId, Kinds, LayerTakeOff, Moment, Need, Part, TakeOff};
use crate::units::{Amount, Area, Currency, Hours, Length, Money, System, Volume, Weight};

pub(super) fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn numbers(list: &[&str]) -> Vec<Value> {
    list.iter().map(|n| Value::number(d(n))).collect()
}

pub(super) fn texts(list: &[&str]) -> Vec<Value> {
    list.iter().map(|t| Value::text(t)).collect()
}

fn known<T>(value: T) -> Known<T> {
    Known::assumed(value, "set by this test")
}

/// Names of the three beds: a formula, a link and markup are only text here.
pub(super) const BEDS: [&str; 3] = ["=1+1", "North & <b>South</b>", "https://bed.example"];

pub(super) fn settings(paper: Paper) -> Settings {
    Settings {
        job_name: "Nine beds & a path".into(),
        client: Some("Example Street Garden".into()),
        estimate_number: Some("12".into()),
        revision: None,
        prepared_by: Some("A. Gardener".into()),
        date: Some(known(date(2026, 11, 24))),
        valid_days: known(30),
        units: known(System::UsCustomary),
        currency: known(Currency::USD),
        paper: known(paper),
        full_after: known(FullAfter::WetDown),
        crown: known(Length::ZERO),
        freeboard: known(Length::ZERO),
        top_up: known(TopUp::Offered),
        kerf: known(Length::ZERO),
        end_trim: known(Length::ZERO),
        culls: known(Decimal::ZERO),
        crew_size: known(2),
        hours_per_day: known(Hours::of(d("8"))),
        setup_hours: known(Hours::of(d("0.75"))),
        season_factor: known(Decimal::ONE),
        overhead: known(d("0.12")),
        contingency: known(d("0.06")),
        profit: known(d("0.15")),
        profit_as: known(ProfitAs::Margin),
        tax_mode: known(TaxMode::None),
        tax: known(Decimal::ZERO),
        taxed_categories: Vec::new(),
        exemption: None,
        round_to: known(Decimal::ZERO),
        minimum_charge: known(Decimal::ZERO),
        buying: known(Buying::LeastCost),
        stale_days: known(90),
    }
}

fn bed(name: &str, row: u32) -> Bed {
    Bed {
        at: RowAt { table: 0, row },
        name: name.into(),
        count: 1,
        shape: Shape::Rectangle {
            length: Length::feet(d("8")),
            width: Length::feet(d("4")),
        },
        measured: Measured::Outside,
        height: None,
        courses: Some(2),
        frame: FrameId(0),
        fill: None,
        crop: None,
        site: SiteId(0),
        phase: PhaseId(0),
        base: Base::OpenGround,
        closed_bottom: false,
        underside_clear: None,
        ground: None,
        slope: None,
        priority: None,
        note: None,
    }
}

fn material(name: &str, category: Category) -> Material {
    Material {
        name: name.into(),
        at: None,
        category,
        delivered: None,
        wet: None,
        wet_down: known(d("0.1")),
        first_season: known(d("0.06")),
        void: known(Decimal::ZERO),
        infill: known(Decimal::ZERO),
        waste: known(Decimal::ZERO),
        section: None,
        roll_width: None,
        lap: known(Length::ZERO),
        coverage: None,
        spec: None,
        source: known(Source::Buy),
        on_hand: None,
        value: None,
    }
}

fn offer(material: u32, pack: &str, price: &str, row: u32) -> Offer {
    Offer {
        at: RowAt { table: 1, row },
        supplier: SupplierId(0),
        material: MaterialId(material),
        spec: None,
        pack: pack.into(),
        handover: Handover::Bulk,
        holds: Amount::Volume(Volume::cubic_yards(Decimal::ONE)),
        price: Some(known(d(price))),
        from_quantity: Decimal::ZERO,
        step: d("0.5"),
        least: Decimal::ZERO,
        available: None,
        actual_length: None,
        taxable: true,
        preferred: false,
        lead_days: None,
        price_date: Some(date(2026, 10, 1)),
        note: None,
    }
}

fn job(paper: Paper) -> Job {
    let site = Site {
        at: None,
        name: "Hill Road".into(),
        address: None,
        travel: known(Hours::ZERO),
        haul: known(Length::ZERO),
        haul_ground: known(HaulGround::Firm),
        haul_slope: known(Decimal::ZERO),
        gate: None,
        tipping_place: None,
        ground: None,
        tax: None,
        drop_fee: None,
        allowed_hours: None,
        first_day: None,
    };
    let other = Site {
        name: "Mill Lane".into(),
        ..site.clone()
    };
    Job {
        settings: settings(paper),
        sites: vec![site, other],
        phases: vec!["".into()],
        beds: (1..).zip(BEDS).map(|(row, name)| bed(name, row)).collect(),
        frames: Vec::new(),
        fills: Vec::new(),
        mixes: Vec::new(),
        materials: vec![
            material("Planting mix", Category::Soil),
            material("2x10 cedar", Category::Lumber),
        ],
        suppliers: vec![Supplier {
            at: None,
            name: "North Yard".into(),
            contact: None,
            account: None,
            terms: None,
        }],
        offers: vec![
            offer(0, "yard", "42.00", 1),
            offer(1, "board 12 ft", "18.40", 2),
            offer(0, "yard", "44.10", 3),
        ],
        vehicles: Vec::new(),
        tasks: Vec::new(),
        workers: Vec::new(),
        equipment: Vec::new(),
        extras: Vec::new(),
        sheets_used: vec![Sheet::Beds, Sheet::Prices],
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

/// Where the figures of the hand-made ledger stand.
#[derive(Debug)]
pub(super) struct Places {
    pub(super) price: ColRef,
    pub(super) overhead: CellRef,
    pub(super) amount: ColRef,
    pub(super) bed_price: ColRef,
}

fn at(block: u16, column: u16) -> ColRef {
    ColRef { block, column }
}

/// Ledger of 12.1 yd3 of mix at 42.00 in half yards, and 10.2 boards at 18.40.
pub(super) fn ledger() -> (Ledger, Places) {
    let mut ledger = Ledger::new(Currency::USD);
    let job = ledger.block("Job", "", 3);
    ledger.label(
        job,
        "Setting",
        texts(&["Client", "Overhead %", "Crew size"]),
    );
    let mut values = Column::plain(
        "Value",
        Format::Text,
        Role::Given,
        vec![
            Value::text("00123"),
            Value::number(d("0.12")),
            Value::number(d("2")),
        ],
    );
    values.row_formats = vec![Format::Text, Format::Percent, Format::Number(0)];
    let setting = ledger.column(job, values);
    let beds = ledger.block("Beds", "", 3);
    ledger.label(beds, "Bed", texts(&BEDS));
    let length = numbers(&["8", "8", "12"]);
    ledger.numbers(beds, "Length (ft)", Format::Number(3), Role::Label, length);
    let prices = ledger.block("Prices", "", 3);
    ledger.label(
        prices,
        "Material",
        texts(&["Planting mix", "2x10 cedar", "Planting mix"]),
    );
    let price = ledger.numbers(
        prices,
        "Price",
        Format::UnitPrice,
        Role::Given,
        numbers(&["42", "18.4", "44.1"]),
    );
    ledger.note(price, "Price of one pack, without tax.");
    let (cost, caution) = orders(&mut ledger, prices, price);
    assert_eq!(caution.block, cost.block);
    let setting = CellRef {
        col: setting,
        row: 1,
    };
    let amount = price_lines(&mut ledger, cost, setting);
    let bed_price = shares(&mut ledger, amount);
    let places = Places {
        price,
        overhead: setting,
        amount,
        bed_price,
    };
    (ledger, places)
}

fn orders(ledger: &mut Ledger, prices: u16, price: ColRef) -> (ColRef, ColRef) {
    let orders = ledger.block("Orders", "North Yard", 2);
    ledger.label(orders, "Material", texts(&["Planting mix", "2x10 cedar"]));
    let need = ledger.numbers(
        orders,
        "Need",
        Format::Number(3),
        Role::Fixed,
        numbers(&["12.1", "10.2"]),
    );
    let step = ledger.numbers(
        orders,
        "Step",
        Format::Number(2),
        Role::Fixed,
        numbers(&["0.5", "1"]),
    );
    let step_up = Term::StepUp(Box::new(Term::Here(need)), Box::new(Term::Here(step)));
    let quantity = ledger.live(orders, "Quantity", Format::Number(2), step_up);
    let link = ledger.link(orders, prices, vec![Some(0), Some(1)]);
    let of_pack = Term::Via(link, price);
    let unit = ledger.live(orders, "Price of one", Format::UnitPrice, of_pack);
    let product = Term::Here(quantity) * Term::Here(unit);
    let cost = ledger.live(orders, "Cost", Format::Money, product.money());
    let flag = Role::Flag {
        when: Cond::Greater(Term::Here(unit), Term::whole(43)),
        yes: "run again: another supplier is now cheaper",
        no: "fine",
    };
    let flag = ledger.column(
        orders,
        Column::plain("Choice", Format::Text, flag, Vec::new()),
    );
    (cost, flag)
}

/// Materials, overhead on them, total: with one live term for each row.
fn price_lines(ledger: &mut Ledger, cost: ColRef, overhead: CellRef) -> ColRef {
    let block = ledger.block("Price", "From cost to price", 3);
    ledger.label(block, "Line", texts(&["Materials", "Overhead", "Total"]));
    let amount = at(block, 1);
    let line = |row| Term::cell(amount, row);
    let terms = vec![
        Some(Term::total(cost)),
        Some((line(0) * Term::Cell(overhead)).money()),
        Some((line(0) + line(1)).money()),
    ];
    ledger.column(
        block,
        Column::plain("Amount", Format::Money, Role::LiveRows(terms), Vec::new()),
    )
}

/// Shares of the total by running totals, in name order: the first bed stands last in the block.
fn shares(ledger: &mut Ledger, amount: ColRef) -> ColRef {
    let head = ledger.block("Shares", "Rates", 1);
    let rates = [
        ledger.numbers(head, "Mix", Format::Number(6), Role::Fixed, numbers(&["3"])),
        ledger.numbers(
            head,
            "Board",
            Format::Number(6),
            Role::Fixed,
            numbers(&["0.5"]),
        ),
    ];
    let block = ledger.block("Shares", "Shares of the beds", 3);
    ledger.label(block, "Bed", texts(&BEDS));
    let from = ledger.numbers(
        block,
        "Mix",
        Format::Number(3),
        Role::Fixed,
        numbers(&["4.05", "4.05", "4"]),
    );
    let to = ledger.numbers(
        block,
        "Boards",
        Format::Number(0),
        Role::Fixed,
        numbers(&["3", "3", "4"]),
    );
    let measure = Term::Dot {
        from,
        to,
        head: rates[0],
    };
    let measure = ledger.live(block, "Measure", Format::Number(6), measure);
    let running_at = at(block, 4);
    let part = Term::Here(measure) * Term::cell(amount, 2).ratio(Term::Sum(measure));
    let running = ledger.running(block, "Running price", Term::Before(running_at) + part);
    let share = Term::Here(running).money() - Term::Before(running).money();
    if let Some(block) = ledger.blocks.get_mut(usize::from(block)) {
        block.order = vec![0, 1, 2];
        block.before = vec![None, Some(0), Some(1)];
    }
    ledger.live(block, "Price with tax", Format::Money, share.money())
}

fn takeoff() -> TakeOff {
    let volume = Volume::cubic_yards(d("1.6594"));
    TakeOff {
        size: "8' x 4' outside, 18 1/2\" high (2 courses of 2x10)".to_owned(),
        outside_area: Area::square_feet(d("32")),
        outside_perimeter: Length::feet(d("24")),
        inside_area: Area::square_feet(d("29.0625")),
        wall_height: Length::inches(d("18.5")),
        low_side_height: Length::inches(d("18.5")),
        courses: 2,
        fill_height: Length::inches(d("18.5")),
        layers: vec![LayerTakeOff {
            name: "Planting mix".into(),
            depth: Length::inches(d("18.5")),
            volume,
            infill: Volume::ZERO,
            order: Volume::cubic_yards(d("1.8438")),
            season_loss: Volume::cubic_yards(d("0.0996")),
            sheets: 0,
        }],
        needs: vec![Need {
            material: MaterialId(0),
            part: Part::Layer(0),
            moment: Moment::Build,
            net: Amount::Volume(volume),
            order: Amount::Volume(Volume::cubic_yards(d("1.8438"))),
        }],
        pieces: Vec::new(),
        work: Vec::new(),
        hauled: Vec::new(),
        saturated_weight: Weight::ZERO,
        sink: Length::inches(d("1.11")),
        stands_above: Length::ZERO,
        top_up: Volume::ZERO,
        problems: Vec::new(),
    }
}

fn bought() -> Bought {
    Bought {
        lines: Vec::new(),
        trips: vec![Trips {
            supplier: SupplierId(0),
            vehicle: None,
            site: SiteId(0),
            phase: PhaseId(0),
            moment: Moment::Build,
            lines: Vec::new(),
            loads: Vec::new(),
            bound: Bound::Weight,
            after_rain: 4,
            fee: None,
            charged: d("3"),
            cost: Money::ZERO,
            measures: Vec::new(),
            words: "12.5 yd3: 3 loads at 2,200 lb/yd3, after rain 4".to_owned(),
        }],
        cut_lists: vec![CutList {
            material: MaterialId(1),
            sticks: vec![Stick {
                offer: Some(OfferId(1)),
                length: Length::feet(d("12")),
                count: 6,
                pieces: vec![
                    (Length::feet(d("8")), "long side".into(), 1),
                    (Length::inches(d("45")), "short side".into(), 1),
                ],
                offcut: Length::inches(d("3")),
            }],
            culls: 1,
            cost: Money::of(d("110.40")),
            lower_bound: Money::of(d("107.10")),
        }],
        problems: Vec::new(),
    }
}

fn kinds() -> Kinds {
    let kind = |first: u32, beds: &[u32]| BedKind {
        first: BedId(first),
        beds: beds.iter().map(|b| BedId(*b)).collect(),
        count: Decimal::from(beds.len()),
        site: SiteId(0),
        phase: PhaseId(0),
    };
    Kinds {
        kinds: vec![kind(0, &[0, 1]), kind(2, &[2])],
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
        job: job(Paper::Letter),
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
