//! A small priced job for the tests of the writers, in two forms: as a workbook in one row order, and
//! as CSV files in the opposite order. Everything that outputs show must be equal for both.
//!
//! Three rows of beds in two kinds: `Bed 2` (two of them) and `Bed 10`, 8' x 4'; `Round 1`, a ready-made
//! ring. One yard sells topsoil loose, a mill sells boards.
//!
//! Longer than other files, since it spells out every field of an estimate once so that tests need not.

use std::sync::Arc;

use jiff::civil::date;
use rust_decimal::Decimal;

use crate::buying::{Bought, Bound, CutList, Load, OrderLine, Scope, Stick, Trips};
use crate::labour::{HireLine, Labour, LabourLine, SiteDays, Volunteering};
use crate::model::bed::{Base, Bed, BedId, Measured, Shape};
use crate::model::fill::{Depth, Fill, FillId, Layer, Stuff};
use crate::model::frame::{Corner, Frame, FrameId, FrameKind};
use crate::model::job::{HaulGround, Job, PhaseId, Site, SiteId};
use crate::model::known::Known;
use crate::model::labour::{Driver, Equipment, HireStep, Pay, Task, TaskId, Worker, WorkerId};
use crate::model::material::{Category, Material, MaterialId, Source};
use crate::model::offer::{Handover, Offer, OfferId, Supplier, SupplierId, Vehicle, VehicleId};
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, Settings, TaxMode, TopUp};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, Form, RowAt, SourceColumn, SourceRow, SourceTable, Sources};
use crate::price::assumptions::Assumption;
use crate::price::evaluate::Values;
use crate::price::ledger::Ledger;
use crate::price::term::{CellRef, ColRef};
use crate::price::{BedMoney, Estimate, KindMoney, PlaceMoney, Price, PriceLine};
use crate::problem::Problem;
use crate::takeoff::{BedKind, KindId, Kinds, LayerTakeOff, Moment, Need, Part, Piece, TakeOff};
use crate::units::{Amount, Area, Currency, Density, Hours, Length, Money, System, Volume, Weight};

/// In which form the job came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Came {
    /// A workbook, rows in one order.
    Workbook,
    /// CSV files, rows in the opposite order.
    Csv,
}

pub(crate) fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn money(text: &str) -> Money {
    Money::of(d(text))
}

fn yards(text: &str) -> Amount {
    Amount::Volume(Volume::cubic_yards(d(text)))
}

/// Ids of lists of `n` in the row order of the form.
impl Came {
    fn index(self, i: usize, n: usize) -> usize {
        match self {
            Self::Workbook => i,
            Self::Csv => n - 1 - i,
        }
    }

    fn bed(self, i: usize) -> BedId {
        BedId::of(self.index(i, 3))
    }

    fn material(self, i: usize) -> MaterialId {
        MaterialId::of(self.index(i, 3))
    }

    fn seller(self, i: usize) -> SupplierId {
        SupplierId::of(self.index(i, 2))
    }

    fn offer(self, i: usize) -> OfferId {
        OfferId::of(self.index(i, 2))
    }

    fn ordered<T>(self, mut list: Vec<T>) -> Vec<T> {
        if self == Self::Csv {
            list.reverse();
        }
        list
    }
}

const TOPSOIL: usize = 0;
const BOARD: usize = 1;
const RING: usize = 2;

fn at(row: u32) -> RowAt {
    RowAt { table: 0, row }
}

/// The whole estimate.
pub(crate) fn estimate(came: Came) -> Estimate {
    let currency = Currency::USD;
    Estimate {
        job: job(came),
        sources: sources(came),
        date: date(2026, 11, 24),
        kinds: kinds(came),
        takeoffs: vec![board_bed(came), ring_bed(came)],
        bought: bought(came),
        labour: labour(),
        ledger: Ledger::new(currency),
        values: Values::default(),
        price: price(came),
        assumptions: came.ordered(vec![
            assumption("Topsoil blend: loss when wetted down", "10%"),
            assumption("Overhead", "0%"),
        ]),
        not_priced: vec!["spoil".into(), "permits".into()],
        problems: came.ordered(vec![
            Problem::caution("A wall of 18 1/2 in can need a permit; local code decides")
                .at(at(came_row(came, 1)), "Height"),
            Problem::notice("Row 9 of the sheet is hidden").place("job.xlsx!Beds!9"),
            Problem::notice("Height is taken as two courses of 2x10")
                .at(at(came_row(came, 0)), "Height"),
        ]),
    }
}

/// Row in the file of the i-th bed.
fn came_row(came: Came, i: usize) -> u32 {
    u32::try_from(came.index(i, 3)).unwrap() + 1
}

fn assumption(what: &str, value: &str) -> Assumption {
    Assumption {
        what: what.into(),
        value: value.into(),
        basis: "typical, change it to your own".into(),
        confidence: "typical-range".into(),
        used_for: "order".into(),
    }
}

fn sources(came: Came) -> Sources {
    let (file, form) = match came {
        Came::Workbook => ("job.xlsx", Form::Workbook),
        Came::Csv => ("Beds.csv", Form::Text),
    };
    let column = |index, field: &'static str| SourceColumn {
        index,
        title: field.into(),
        field: Some(field),
    };
    let row = |row, name: &str, height: &str| SourceRow {
        row,
        cells: vec![Cell::Text(name.into()), Cell::Text(height.into())],
    };
    let names = came.ordered(vec!["Bed 10", "Bed 2", "Round 1"]);
    let rows = names
        .iter()
        .zip(1..)
        .map(|(name, at)| row(at, name, "18.5 in"));
    Sources {
        tables: vec![SourceTable {
            sheet: Some(Sheet::Beds),
            file: file.into(),
            label: "Beds".into(),
            form,
            columns: vec![column(0, "Bed"), column(1, "Height")],
            rows: rows.collect(),
        }],
    }
}

fn job(came: Came) -> Job {
    Job {
        settings: settings(),
        sites: vec![site()],
        phases: vec!["spring".into()],
        beds: came.ordered(vec![
            bed(came, 0, "Bed 10", 1),
            bed(came, 1, "Bed 2", 2),
            bed(came, 2, "Round 1", 1),
        ]),
        frames: vec![
            frame(came, "two boards", FrameKind::Boards, BOARD),
            frame(came, "ring", FrameKind::ReadyMade, RING),
        ],
        fills: vec![fill(came)],
        mixes: Vec::new(),
        materials: came.ordered(vec![
            material("Topsoil blend", Category::Soil),
            material("2x10 cedar", Category::Lumber),
            material("Steel ring 48 in", Category::ReadyMade),
        ]),
        suppliers: came.ordered(vec![supplier("Creek Yard"), supplier("Mill Lane Timber")]),
        offers: came.ordered(vec![
            offer(came, TOPSOIL, 0, "yard", yards("1"), "42"),
            offer(
                came,
                BOARD,
                1,
                "board",
                Amount::Length(Length::feet(d("12"))),
                "31.5",
            ),
        ]),
        vehicles: vec![vehicle(came)],
        tasks: vec![task()],
        workers: vec![
            worker("Crew", Pay::Paid),
            worker("Volunteers", Pay::Volunteer),
        ],
        equipment: vec![equipment()],
        extras: Vec::new(),
        sheets_used: vec![Sheet::Beds, Sheet::Prices],
    }
}

fn bed(came: Came, i: usize, name: &str, count: u32) -> Bed {
    Bed {
        at: at(came_row(came, i)),
        name: name.into(),
        count,
        shape: Shape::Rectangle {
            length: Length::feet(d("8")),
            width: Length::feet(d("4")),
        },
        measured: Measured::Outside,
        height: Some(Length::inches(d("18.5"))),
        courses: None,
        frame: FrameId::of(usize::from(i == 2)),
        fill: Some(FillId::of(0)),
        crop: None,
        site: SiteId::of(0),
        phase: PhaseId::of(0),
        base: Base::OpenGround,
        closed_bottom: false,
        underside_clear: None,
        ground: None,
        slope: None,
        priority: None,
        note: None,
    }
}

fn frame(came: Came, name: &str, kind: FrameKind, of: usize) -> Frame {
    Frame {
        at: None,
        name: name.into(),
        kind,
        material: Some(came.material(of)),
        wall: Known::assumed(Length::ZERO, ""),
        posts: None,
        corner: Known::assumed(Corner::Butt, ""),
        cap: None,
        brace_every: None,
        brace: None,
        fastener: None,
        per_joint: Known::assumed(0, ""),
        liner: None,
        mesh: None,
        finish: None,
        coats: Known::assumed(0, ""),
        side_slope: Known::assumed(Decimal::ZERO, ""),
    }
}

fn fill(came: Came) -> Fill {
    Fill {
        name: "soil to the rim".into(),
        layers: vec![Layer {
            at: None,
            stuff: Stuff::Material(came.material(TOPSOIL)),
            depth: Depth::Rest,
            note: None,
        }],
        amendments: Vec::new(),
    }
}

fn material(name: &str, category: Category) -> Material {
    let share = || Known::assumed(Decimal::ZERO, "not set, taken as 0%");
    Material {
        name: name.into(),
        at: None,
        category,
        delivered: Some(Known::assumed(
            Density::pounds_per_cubic_yard(d("2200")),
            "",
        )),
        wet: None,
        wet_down: share(),
        first_season: share(),
        void: share(),
        infill: share(),
        waste: share(),
        section: None,
        roll_width: None,
        lap: Known::assumed(Length::ZERO, ""),
        coverage: None,
        spec: None,
        source: Known::assumed(Source::Buy, ""),
        on_hand: None,
        value: None,
    }
}

fn supplier(name: &str) -> Supplier {
    Supplier {
        at: None,
        name: name.into(),
        contact: None,
        account: None,
        terms: None,
    }
}

fn offer(came: Came, of: usize, seller: usize, pack: &str, holds: Amount, price: &str) -> Offer {
    let is_loose = of == TOPSOIL;
    Offer {
        at: at(1),
        supplier: came.seller(seller),
        material: came.material(of),
        spec: None,
        pack: pack.into(),
        handover: if is_loose {
            Handover::Bulk
        } else {
            Handover::Packed
        },
        holds,
        price: Some(Known::job(d(price), at(1), "Price")),
        from_quantity: Decimal::ZERO,
        step: if is_loose { d("0.5") } else { Decimal::ONE },
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

fn vehicle(came: Came) -> Vehicle {
    Vehicle {
        at: at(1),
        supplier: came.seller(0),
        name: "tipper".into(),
        volume: Some(Known::job(
            Volume::cubic_yards(d("7")),
            at(1),
            "Volume limit",
        )),
        weight: None,
        fee: Some(Known::job(d("95"), at(1), "Fee")),
        minimum_order: None,
        free_over: None,
        carries: Vec::new(),
    }
}

fn task() -> Task {
    Task {
        at: None,
        key: "spread".into(),
        name: "Spread and rake".into(),
        driver: Driver::SpreadVolume,
        rate: Known::assumed(d("0.5"), ""),
        range: None,
        per: Decimal::ONE,
        per_words: "1 yd3".into(),
        haul: false,
        worker: None,
    }
}

fn worker(name: &str, pay: Pay) -> Worker {
    Worker {
        at: at(1),
        name: name.into(),
        pay,
        pay_rate: None,
        burden: Known::assumed(Decimal::ZERO, ""),
        charge_rate: None,
        in_kind: None,
        headcount: None,
        session: Known::assumed(Hours::of(d("3")), ""),
        no_show: Known::assumed(d("0.2"), ""),
        per_supervisor: Known::assumed(9, ""),
        factor: Known::assumed(d("1.65"), ""),
        briefing: Known::assumed(Hours::ZERO, ""),
    }
}

fn equipment() -> Equipment {
    Equipment {
        at: at(1),
        name: "Auger".into(),
        step: HireStep::Day,
        rate: None,
        does: None,
        output: None,
        delivery: None,
    }
}

fn site() -> Site {
    Site {
        at: None,
        name: "the site".into(),
        address: None,
        travel: Known::assumed(Hours::of(d("0.5")), ""),
        haul: Known::assumed(Length::feet(d("100")), ""),
        haul_ground: Known::assumed(HaulGround::Firm, ""),
        haul_slope: Known::assumed(Decimal::ZERO, ""),
        gate: Some(Known::assumed(Length::inches(d("36")), "")),
        tipping_place: None,
        ground: None,
        tax: None,
        drop_fee: None,
        allowed_hours: None,
        first_day: Some(date(2027, 3, 1)),
    }
}

fn settings() -> Settings {
    fn not_set<T>(value: T) -> Known<T> {
        Known::assumed(value, "not set")
    }
    Settings {
        job_name: "Three beds by the well".into(),
        client: Some("Well Lane Gardens".into()),
        estimate_number: Some("14".into()),
        revision: None,
        prepared_by: None,
        date: None,
        valid_days: Known::job(30, at(0), "Value"),
        units: not_set(System::UsCustomary),
        currency: not_set(Currency::USD),
        paper: not_set(Paper::Letter),
        full_after: not_set(FullAfter::WetDown),
        crown: not_set(Length::inches(d("2"))),
        freeboard: not_set(Length::inches(d("1"))),
        top_up: not_set(TopUp::Offered),
        kerf: not_set(Length::inches(d("0.125"))),
        end_trim: not_set(Length::ZERO),
        culls: not_set(Decimal::ZERO),
        crew_size: not_set(2),
        hours_per_day: not_set(Hours::of(d("8"))),
        setup_hours: not_set(Hours::of(d("0.75"))),
        season_factor: not_set(Decimal::ONE),
        overhead: Known::job(d("0.12"), at(0), "Value"),
        contingency: Known::assumed(Decimal::ZERO, "not set, taken as 0%"),
        profit: Known::job(d("0.15"), at(0), "Value"),
        profit_as: not_set(ProfitAs::Margin),
        tax_mode: not_set(TaxMode::None),
        tax: not_set(Decimal::ZERO),
        taxed_categories: Vec::new(),
        exemption: None,
        round_to: not_set(d("25")),
        minimum_charge: not_set(Decimal::ZERO),
        buying: not_set(Buying::LeastCost),
        stale_days: not_set(60),
    }
}

fn kinds(came: Came) -> Kinds {
    let kind = |beds: Vec<BedId>, count| BedKind {
        first: beds[0],
        beds,
        count,
        site: SiteId::of(0),
        phase: PhaseId::of(0),
    };
    Kinds {
        kinds: vec![
            kind(vec![came.bed(0), came.bed(1)], d("3")),
            kind(vec![came.bed(2)], d("1")),
        ],
        of_bed: came.ordered(vec![KindId::of(0), KindId::of(0), KindId::of(1)]),
    }
}

fn board_bed(came: Came) -> TakeOff {
    let need = |of, part, order| Need {
        material: came.material(of),
        part,
        moment: Moment::Build,
        net: order,
        order,
    };
    let piece = |feet: &str, mark: &str| Piece {
        material: came.material(BOARD),
        length: Length::feet(d(feet)),
        count: 4,
        mark: mark.into(),
    };
    TakeOff {
        size: "8' x 4' outside, 18 1/2\" high (2 courses of 2x10)".into(),
        outside_perimeter: Length::feet(d("24")),
        pieces: came.ordered(vec![piece("8", "long side"), piece("3.75", "short side")]),
        needs: came.ordered(vec![
            need(BOARD, Part::Board, Amount::Length(Length::feet(d("47")))),
            need(TOPSOIL, Part::Layer(0), yards("1.66")),
        ]),
        ..plain_takeoff("29.0625", "1.5")
    }
}

fn ring_bed(came: Came) -> TakeOff {
    TakeOff {
        size: "48\" ring, 24\" high, ready-made".into(),
        needs: vec![Need {
            material: came.material(RING),
            part: Part::ReadyMade,
            moment: Moment::Build,
            net: Amount::Count(Decimal::ONE),
            order: Amount::Count(Decimal::ONE),
        }],
        ..plain_takeoff("12.5", "2")
    }
}

fn plain_takeoff(inside_square_feet: &str, sinks_inches: &str) -> TakeOff {
    TakeOff {
        size: String::new(),
        outside_area: Area::square_feet(d("32")),
        outside_perimeter: Length::ZERO,
        inside_area: Area::square_feet(d(inside_square_feet)),
        wall_height: Length::inches(d("18.5")),
        low_side_height: Length::inches(d("18.5")),
        courses: 2,
        fill_height: Length::inches(d("17.5")),
        layers: vec![LayerTakeOff {
            name: "Topsoil blend".into(),
            depth: Length::inches(d("17.5")),
            volume: Volume::cubic_yards(d("1.5")),
            infill: Volume::ZERO,
            order: Volume::cubic_yards(d("1.66")),
            season_loss: Volume::cubic_yards(d("0.1")),
            sheets: 0,
        }],
        needs: Vec::new(),
        pieces: Vec::new(),
        work: Vec::new(),
        hauled: Vec::new(),
        saturated_weight: Weight::pounds(d("4000")),
        sink: Length::inches(d(sinks_inches)),
        stands_above: Length::inches(d("0.75")),
        top_up: Volume::cubic_yards(d("0.1")),
        problems: Vec::new(),
    }
}

fn bought(came: Came) -> Bought {
    let line = |of: usize, offer: Option<usize>| OrderLine {
        material: came.material(of),
        scope: if of == TOPSOIL {
            Scope::Drop(SiteId::of(0), PhaseId::of(0))
        } else {
            Scope::Job
        },
        moment: Moment::Build,
        need: Amount::Count(Decimal::ONE),
        on_hand: Amount::Count(Decimal::ZERO),
        offer: offer.map(|i| came.offer(i)),
        free: false,
        need_units: Decimal::ONE,
        step: Decimal::ONE,
        quantity: Decimal::ONE,
        fixed: false,
        price: None,
        cost: Money::ZERO,
        surplus: Amount::Count(Decimal::ZERO),
        measures: Vec::new(),
        flip_price: None,
        why: String::new(),
    };
    let soil = OrderLine {
        need: yards("6.64"),
        on_hand: yards("0"),
        need_units: d("6.64"),
        step: d("0.5"),
        quantity: d("7"),
        price: Some(d("42")),
        cost: money("294"),
        surplus: yards("0.36"),
        why: "the only offer".into(),
        ..line(TOPSOIL, Some(0))
    };
    let boards = OrderLine {
        need: Amount::Length(Length::feet(d("141"))),
        on_hand: Amount::Length(Length::ZERO),
        need_units: d("11.75"),
        quantity: d("12"),
        fixed: true,
        price: Some(d("31.5")),
        cost: money("378"),
        surplus: Amount::Length(Length::feet(d("3"))),
        ..line(BOARD, Some(1))
    };
    let ring = line(RING, None);
    let lines = came.ordered(vec![soil, boards, ring]);
    Bought {
        trips: vec![trips(came)],
        cut_lists: vec![cut_list(came)],
        lines,
        problems: Vec::new(),
    }
}

fn trips(came: Came) -> Trips {
    Trips {
        supplier: came.seller(0),
        vehicle: Some(VehicleId::of(0)),
        site: SiteId::of(0),
        phase: PhaseId::of(0),
        moment: Moment::Build,
        lines: vec![came.index(0, 3)],
        loads: vec![Load {
            parts: vec![(came.index(0, 3), d("7"))],
            volume: Volume::cubic_yards(d("7")),
            weight: Weight::pounds(d("15400")),
        }],
        bound: Bound::Volume,
        after_rain: 2,
        fee: Some(d("95")),
        charged: Decimal::ONE,
        cost: money("95"),
        measures: Vec::new(),
        words: "7 yd3 of Topsoil blend: 1 load at 2,200 lb/yd3, after rain 2".into(),
    }
}

fn cut_list(came: Came) -> CutList {
    let stick = |pieces: Vec<(Length, Arc<str>, u32)>, offcut: &str| Stick {
        offer: Some(came.offer(1)),
        length: Length::feet(d("12")),
        count: 6,
        pieces,
        offcut: Length::inches(d(offcut)),
    };
    let long = (Length::feet(d("8")), Arc::from("long side"), 1);
    let short = (Length::feet(d("3.75")), Arc::from("short side"), 1);
    CutList {
        material: came.material(BOARD),
        sticks: came.ordered(vec![
            stick(vec![long.clone(), short], "2.75"),
            stick(vec![long], "2.75"),
        ]),
        culls: 0,
        cost: money("378"),
        lower_bound: money("370.13"),
    }
}

fn labour() -> Labour {
    let site = SiteId::of(0);
    Labour {
        lines: vec![LabourLine {
            kind: crate::labour::LineKind::Work,
            extra: None,
            task: Some(TaskId::of(0)),
            name: "Spread and rake".into(),
            site,
            moment: Moment::Build,
            driver: Driver::SpreadVolume,
            quantity: d("6.64"),
            unit: "1 yd3".into(),
            rate: d("0.5"),
            multiplier: d("1"),
            multiplier_words: String::new(),
            hours: Hours::of(d("3.32")),
            range: Some((Hours::of(d("2")), Hours::of(d("5")))),
            typical: true,
            worker: Some(WorkerId::of(0)),
            measures: Vec::new(),
        }],
        days: vec![SiteDays {
            site,
            moment: Moment::Build,
            work: Hours::of(d("3.32")),
            crew: 2,
            day_holds: Hours::of(d("13.5")),
            days: Decimal::ONE,
            overhead: Hours::of(d("2.5")),
            worker: Some(WorkerId::of(0)),
        }],
        volunteering: vec![Volunteering {
            moment: Moment::Build,
            site,
            worker: WorkerId::of(1),
            work: Hours::of(d("99")),
            sessions: d("38"),
            present: Hours::of(d("114")),
            invite: d("48"),
            days: d("2"),
            supervisors: d("3"),
            supervision: Hours::of(d("18")),
        }],
        hire: vec![HireLine {
            equipment: 0,
            site,
            hours: Hours::of(d("2")),
            steps: Decimal::ONE,
            step_words: "day",
            rate: Some(d("60")),
            delivery: None,
            measures: Vec::new(),
        }],
        problems: Vec::new(),
    }
}

fn price(came: Came) -> Price {
    let bed = |i, cost: &str, price: &str| BedMoney {
        bed: came.bed(i),
        groups: [
            money(cost),
            Money::ZERO,
            Money::ZERO,
            Money::ZERO,
            Money::ZERO,
        ],
        cost: money(cost),
        price: money(price),
    };
    let kind = |i, cost: &str, price: &str| KindMoney {
        kind: KindId::of(i),
        cost: money(cost),
        price: money(price),
    };
    Price {
        lines: vec![
            line("materials", "Materials", "672.00", false),
            line("overhead", "Overhead", "80.64", false),
            line("total", "Price with tax", "1075.00", true),
        ],
        direct_cost: money("672.00"),
        before_tax: money("1075.00"),
        total: money("1075.00"),
        top_up: Some(money("180.00")),
        beds: came.ordered(vec![
            bed(0, "200.00", "300.00"),
            bed(1, "400.00", "600.00"),
            bed(2, "72.00", "175.00"),
        ]),
        places: vec![PlaceMoney {
            site: SiteId::of(0),
            phase: PhaseId::of(0),
            beds: d("4"),
            cost: money("672.00"),
            price: money("1075.00"),
        }],
        kinds: vec![kind(0, "600.00", "900.00"), kind(1, "72.00", "175.00")],
        missing: vec!["Steel ring 48 in: no price at any supplier".into()],
        oldest_price: Some((date(2026, 10, 1), 54)),
        valid_until: date(2026, 12, 24),
        hours_words:
            "5.8 hours, of which 3.3 rest on typical figures, not yours; low 4.5, high 7.5".into(),
    }
}

fn line(key: &'static str, label: &str, amount: &str, is_total: bool) -> PriceLine {
    PriceLine {
        key,
        label: label.into(),
        words: "as computed".into(),
        amount: money(amount),
        with_top_up: None,
        at: CellRef {
            col: ColRef {
                block: 0,
                column: 0,
            },
            row: 0,
        },
        is_total,
    }
}
