//! The input blocks that live formulas point at: settings, sites, prices, vehicles, workers, tasks,
//! machines, extras.
//!
//! Longer than most because every input sheet that formulas follow has its block here.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, Term};
use super::budget::FundingCells;
use super::echo::Echo;
use super::payments::PaymentCells;
use super::settings::SettingCells;
use crate::buying::Bought;
use crate::labour::Labour;
use crate::model::job::Job;
use crate::model::known::Known;
use crate::model::labour::{Extra, Pay, Per};
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::units::Hours;
use crate::units::parse::{self, Commas};

/// A block with one live price column and the rows of its ids.
pub(super) struct Priced {
    /// The block.
    pub block: u16,
    /// Row of each id, in the order of the job's list.
    pub rows: Vec<Option<u32>>,
    /// The live input.
    pub price: ColRef,
}

/// Workers: what an hour costs, and what is charged for it.
pub(super) struct WorkerCells {
    pub block: u16,
    pub rows: Vec<Option<u32>>,
    pub cost: ColRef,
    pub charge: ColRef,
    /// Pay an hour without burden, for jobs with a budget.
    pub wage: Option<ColRef>,
    /// Value of an hour that is given, for jobs with a budget.
    pub in_kind: Option<ColRef>,
}

/// Sites: travel and drop fee.
pub(super) struct SiteCells {
    pub block: u16,
    pub rows: Vec<Option<u32>>,
    pub travel: ColRef,
    pub drop_fee: ColRef,
    pub tax: ColRef,
}

/// Machines: rate and delivery.
pub(super) struct HireCells {
    pub block: u16,
    pub rows: Vec<Option<u32>>,
    pub rate: ColRef,
    pub delivery: ColRef,
}

/// Extras: quantity and rate.
pub(super) struct ExtraCells {
    pub block: u16,
    pub rows: Vec<Option<u32>>,
    pub quantity: ColRef,
    pub rate: ColRef,
    /// How often the quantity as typed comes for each time it applies (units of area).
    pub factors: Vec<Decimal>,
    /// The quantity of each extra as it stands in its cell.
    pub typed: Vec<Decimal>,
}

/// The block's row of an id.
macro_rules! row {
    ($($cells:ident),*) => {$(
        impl $cells {
            /// The block's row of an index of the job's list.
            pub(super) fn row(&self, index: usize) -> Option<u32> {
                self.rows.get(index).copied().flatten()
            }
        }
    )*};
}
row!(Priced, WorkerCells, SiteCells, HireCells, ExtraCells);

/// All input blocks.
pub(super) struct Inputs {
    pub settings: SettingCells,
    pub sites: SiteCells,
    pub prices: Priced,
    pub vehicles: Priced,
    pub workers: WorkerCells,
    pub tasks: Priced,
    pub hire: HireCells,
    pub extras: ExtraCells,
    pub payments: Option<PaymentCells>,
    pub funding: Option<FundingCells>,
}

impl Inputs {
    pub(super) fn new(
        ledger: &mut Ledger,
        job: &Job,
        sources: &Sources,
        bought: &Bought,
        labour: &Labour,
        date: Date,
    ) -> Self {
        Self {
            settings: SettingCells::new(ledger, job, sources, date),
            sites: sites(ledger, job, sources),
            prices: prices(ledger, job, sources, bought),
            vehicles: vehicles(ledger, job, sources),
            workers: workers(ledger, job, sources),
            tasks: super::tasks::tasks(ledger, job, sources, labour),
            hire: hire(ledger, job, sources),
            extras: extras(ledger, job, sources),
            payments: super::payments::inputs(ledger, job, sources),
            funding: super::budget::inputs(ledger, job, sources),
        }
    }
}

pub(super) fn row_u32(row: usize) -> u32 {
    u32::try_from(row).unwrap_or(u32::MAX)
}

/// The number that stands in the job; nothing where zero is assumed.
fn given(value: &Known<Decimal>) -> Option<Decimal> {
    (value.is_given() || !value.value.is_zero()).then_some(value.value)
}

fn known(value: Option<&Known<Decimal>>) -> Option<Decimal> {
    value.map(|k| k.value)
}

fn sites(ledger: &mut Ledger, job: &Job, sources: &Sources) -> SiteCells {
    let unnamed = job.sites.iter().filter(|s| s.at.is_none()).count();
    let mut echo = Echo::new(ledger, sources, Sheet::Sites, unnamed);
    let mut next = echo.rows.len();
    let mut rows = Vec::new();
    let name = echo.field(ledger, "Site");
    for site in &job.sites {
        let row = site.at.and_then(|at| echo.row(at)).unwrap_or_else(|| {
            next += 1;
            set(ledger, name, next - 1, Value::text(&site.name));
            next - 1
        });
        rows.push(row);
    }
    let by = |f: &dyn Fn(usize) -> Option<Decimal>| -> Vec<(usize, Option<Decimal>)> {
        rows.iter()
            .enumerate()
            .map(|(i, row)| (*row, f(i)))
            .collect()
    };
    let travel = by(&|i| {
        let travel = job
            .sites
            .get(i)
            .map(|s| s.travel.clone().map(Hours::in_hours));
        travel.as_ref().and_then(given)
    });
    let drop_fee = by(&|i| job.sites.get(i).and_then(|s| known(s.drop_fee.as_ref())));
    let tax = by(&|i| job.sites.get(i).and_then(|s| known(s.tax.as_ref())));
    SiteCells {
        block: echo.block,
        travel: echo.given(
            ledger,
            ("Travel time", "Travel time (h)"),
            Format::Number(2),
            travel,
        ),
        drop_fee: echo.given(ledger, ("Drop fee", "Drop fee"), Format::Money, drop_fee),
        tax: echo.given(ledger, ("Tax %", "Tax %"), Format::Percent, tax),
        rows: rows.into_iter().map(|r| Some(row_u32(r))).collect(),
    }
}

/// Sets one cell of a column that is not live.
pub(super) fn set(ledger: &mut Ledger, at: ColRef, row: usize, value: Value) {
    if let Some(cell) = ledger.column_mut(at).and_then(|c| c.values.get_mut(row)) {
        *cell = value;
    }
}

fn prices(ledger: &mut Ledger, job: &Job, sources: &Sources, bought: &Bought) -> Priced {
    let mut echo = Echo::new(ledger, sources, Sheet::Prices, 0);
    let rows: Vec<Option<usize>> = job.offers.iter().map(|o| echo.row(o.at)).collect();
    let numbers: Vec<(usize, Option<Decimal>)> = job
        .offers
        .iter()
        .zip(&rows)
        .filter_map(|(offer, row)| Some(((*row)?, known(offer.price.as_ref()))))
        .collect();
    let price = echo.given(ledger, ("Price", "Price"), Format::UnitPrice, numbers);
    ledger.note(
        price,
        "What one priced unit costs. Change it here and every total follows.",
    );
    super::choice::columns(ledger, job, bought, (echo.block, &rows), price);
    Priced {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        price,
    }
}

/// Puts a number into a row of a column's values.
pub(super) fn put(values: &mut [Value], row: usize, number: Decimal) {
    if let Some(value) = values.get_mut(row) {
        *value = Value::number(number);
    }
}

fn vehicles(ledger: &mut Ledger, job: &Job, sources: &Sources) -> Priced {
    let mut echo = Echo::new(ledger, sources, Sheet::Deliveries, 0);
    let rows: Vec<Option<usize>> = job.vehicles.iter().map(|v| echo.row(v.at)).collect();
    let numbers: Vec<_> = job
        .vehicles
        .iter()
        .zip(&rows)
        .filter_map(|(v, row)| Some(((*row)?, known(v.fee.as_ref()))))
        .collect();
    let price = echo.given(ledger, ("Fee", "Fee"), Format::Money, numbers);
    Priced {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        price,
    }
}

fn workers(ledger: &mut Ledger, job: &Job, sources: &Sources) -> WorkerCells {
    let mut echo = Echo::new(ledger, sources, Sheet::Workers, 0);
    let rows: Vec<Option<usize>> = job.workers.iter().map(|w| echo.row(w.at)).collect();
    let by = |f: &dyn Fn(&crate::model::labour::Worker) -> Option<Decimal>| -> Vec<(usize, Option<Decimal>)> {
        job.workers.iter().zip(&rows).filter_map(|(w, row)| Some(((*row)?, f(w)))).collect()
    };
    let paid = |w: &crate::model::labour::Worker, value: Option<Decimal>| {
        if w.pay == Pay::Paid { value } else { None }
    };
    let pay = by(&|w| known(w.pay_rate.as_ref()));
    // What nobody typed stays blank, which counts as nothing and is listed among the assumptions.
    let burden = by(&|w| paid(w, given(&w.burden)));
    let charge = by(&|w| known(w.charge_rate.as_ref()));
    let pay = echo.given(ledger, ("Pay rate", "Pay rate"), Format::UnitPrice, pay);
    let burden = echo.given(ledger, ("Burden %", "Burden %"), Format::Percent, burden);
    let charge = echo.given(
        ledger,
        ("Charge rate", "Charge rate"),
        Format::UnitPrice,
        charge,
    );
    let values = by(&|w| known(w.in_kind.as_ref()));
    let in_kind = (!job.funding.is_empty()).then(|| {
        let titles = ("In-kind value", "In-kind value");
        echo.given(ledger, titles, Format::UnitPrice, values)
    });
    let mut by_cost = vec![Value::Empty; ledger.rows(echo.block)];
    for (worker, row) in job.workers.iter().zip(&rows) {
        let by_wage = worker.pay == Pay::Paid && worker.charge_rate.is_none();
        if let Some(row) = row.filter(|_| by_wage) {
            put(&mut by_cost, row, Decimal::ONE);
        }
    }
    let by_cost = ledger.numbers(
        echo.block,
        "Priced by cost",
        Format::Number(0),
        Role::Label,
        by_cost,
    );
    let loaded = Term::Here(pay) * (Term::whole(1) + Term::Here(burden)) * Term::Here(by_cost);
    let cost = ledger.live(echo.block, "Cost an hour", Format::UnitPrice, loaded);
    ledger.note(
        cost,
        "Pay with burden. Workers with a charge rate are charged, not costed.",
    );
    let has_budget = !job.funding.is_empty();
    let wage = has_budget.then(|| {
        let wage = Term::Here(pay) * Term::Here(by_cost);
        ledger.live(echo.block, "Wage an hour", Format::UnitPrice, wage)
    });
    WorkerCells {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        cost,
        charge,
        wage,
        in_kind,
    }
}

/// The quantity as typed, before it is for a unit of area.
fn typed_quantity(extra: &Extra, typed: Option<&Value>) -> Decimal {
    let own = extra.quantity.value;
    let read = |text: &str| {
        let mut ways = [Commas::Thousands, Commas::Decimal].into_iter();
        ways.find_map(|commas| parse::number(text, commas).ok())
    };
    let number = match typed {
        Some(Value::Number(number)) => Some(*number),
        _ if extra.per != Per::Area => None,
        Some(Value::Text(text)) => read(text),
        _ => Some(Decimal::ONE),
    };
    number.filter(|n| !n.is_zero()).unwrap_or(own)
}

fn hire(ledger: &mut Ledger, job: &Job, sources: &Sources) -> HireCells {
    let mut echo = Echo::new(ledger, sources, Sheet::Equipment, 0);
    let rows: Vec<Option<usize>> = job.equipment.iter().map(|e| echo.row(e.at)).collect();
    let by = |f: &dyn Fn(&crate::model::labour::Equipment) -> Option<Decimal>| -> Vec<(usize, Option<Decimal>)> {
        job.equipment.iter().zip(&rows).filter_map(|(e, row)| Some(((*row)?, f(e)))).collect()
    };
    let rate = by(&|e| known(e.rate.as_ref()));
    let delivery = by(&|e| known(e.delivery.as_ref()));
    HireCells {
        block: echo.block,
        rate: echo.given(ledger, ("Rate", "Rate"), Format::Money, rate),
        delivery: echo.given(ledger, ("Delivery", "Delivery"), Format::Money, delivery),
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
    }
}

fn extras(ledger: &mut Ledger, job: &Job, sources: &Sources) -> ExtraCells {
    let mut echo = Echo::new(ledger, sources, Sheet::Extras, 0);
    let rows: Vec<Option<usize>> = job.extras.iter().map(|e| echo.row(e.at)).collect();
    let quantity = echo.field(ledger, "Quantity");
    // A quantity for each square foot is a quantity for so many square metres: what was typed stays,
    // and the factor goes into the number of times.
    let typed = |row: &Option<usize>| Some(ledger.get(quantity)?.values.get((*row)?)?.clone());
    let typed: Vec<Option<Value>> = rows.iter().map(typed).collect();
    let quantities: Vec<Decimal> = job
        .extras
        .iter()
        .zip(&typed)
        .map(|(e, t)| typed_quantity(e, t.as_ref()))
        .collect();
    let factor = |(extra, typed): (&Extra, &Decimal)| {
        extra
            .quantity
            .value
            .checked_div(*typed)
            .unwrap_or(Decimal::ONE)
    };
    let factors = job.extras.iter().zip(&quantities).map(factor).collect();
    let numbers = |values: Vec<Option<Decimal>>| {
        let with_rows = rows.iter().zip(values);
        with_rows
            .filter_map(|(row, value)| Some(((*row)?, value)))
            .collect::<Vec<_>>()
    };
    let rates = numbers(job.extras.iter().map(|e| known(e.rate.as_ref())).collect());
    let said = |(extra, quantity): (&Extra, Decimal)| {
        let costs = extra.rate.is_some() || extra.hours.is_some();
        (costs || extra.quantity.is_given()).then_some(quantity)
    };
    let typed = quantities.clone();
    let quantities = numbers(job.extras.iter().zip(quantities).map(said).collect());
    ExtraCells {
        typed,
        block: echo.block,
        quantity: echo.given(
            ledger,
            ("Quantity", "Quantity"),
            Format::Number(4),
            quantities,
        ),
        rate: echo.given(ledger, ("Rate", "Rate"), Format::UnitPrice, rates),
        factors,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
    }
}
