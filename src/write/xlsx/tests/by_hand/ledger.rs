//! The ledger of the estimate made by hand: given, fixed and live columns, a link, shares, a flag.

use super::BEDS;
use crate::price::ledger::{Column, Format, Ledger, Role, Value};
use crate::price::term::{CellRef, ColRef, Cond, Term};
use crate::units::Currency;
use crate::units::by_hand::d;

fn numbers(list: &[&str]) -> Vec<Value> {
    list.iter().map(|n| Value::number(d(n))).collect()
}

fn texts(list: &[&str]) -> Vec<Value> {
    list.iter().map(|t| Value::text(t)).collect()
}

/// Where the figures of the hand-made ledger stand.
#[derive(Debug)]
pub(in crate::write::xlsx::tests) struct Places {
    pub(in crate::write::xlsx::tests) price: ColRef,
    pub(in crate::write::xlsx::tests) overhead: CellRef,
    pub(in crate::write::xlsx::tests) amount: ColRef,
    pub(in crate::write::xlsx::tests) bed_price: ColRef,
}

fn at(block: u16, column: u16) -> ColRef {
    ColRef { block, column }
}

/// Ledger of 12.1 yd3 of mix at 42.00 in half yards, and 10.2 boards at 18.40.
pub(in crate::write::xlsx::tests) fn ledger() -> (Ledger, Places) {
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
