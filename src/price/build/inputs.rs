//! The input blocks that live formulas point at: settings, sites, prices, vehicles, workers, tasks,
//! machines, extras.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, Cond, Term};
use super::echo::Echo;
use super::settings::SettingCells;
use crate::buying::Bought;
use crate::labour::Labour;
use crate::model::job::Job;
use crate::model::known::Known;
use crate::model::labour::{Extra, Pay, Per, Task, TaskId};
use crate::model::library::folded;
use crate::model::offer::OfferId;
use crate::model::sheet::Sheet;
use crate::model::source::{RowAt, Sources};
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
}

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
}

impl Inputs {
    pub(super) fn new(
        ledger: &mut Ledger,
        job: &Job,
        sources: &Sources,
        bought: &Bought,
        labour: &Labour,
    ) -> Self {
        Self {
            settings: SettingCells::new(ledger, job, sources),
            sites: sites(ledger, job, sources),
            prices: prices(ledger, job, sources, bought),
            vehicles: vehicles(ledger, job, sources),
            workers: workers(ledger, job, sources),
            tasks: tasks(ledger, job, sources, labour),
            hire: hire(ledger, job, sources),
            extras: extras(ledger, job, sources),
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
    choice_check(ledger, job, bought, echo.block, &rows, price);
    Priced {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        price,
    }
}

/// Beside each price: from where on the choice of supplier would be another, and a live caution.
fn choice_check(
    ledger: &mut Ledger,
    job: &Job,
    bought: &Bought,
    block: u16,
    rows: &[Option<usize>],
    price: ColRef,
) {
    let count = ledger.rows(block);
    let mut above = vec![Value::Empty; count];
    let mut below = vec![Value::Empty; count];
    let mut flips: BTreeMap<OfferId, Option<Decimal>> = BTreeMap::new();
    for line in &bought.lines {
        if let Some(offer) = line.offer {
            let flip = flips.entry(offer).or_insert(line.flip_price);
            *flip = [*flip, line.flip_price].into_iter().flatten().min();
        }
    }
    for (index, offer) in job.offers.iter().enumerate() {
        let Some(row) = rows.get(index).copied().flatten() else {
            continue;
        };
        let used = job.offers.get(index).is_some()
            && bought.lines.iter().any(|l| l.material == offer.material);
        match flips.get(&OfferId::of(index)) {
            Some(Some(flip)) => put(&mut above, row, *flip),
            None if used => put(
                &mut below,
                row,
                offer.price.as_ref().map_or(Decimal::ZERO, |p| p.value),
            ),
            _ => {}
        }
    }
    let above = ledger.numbers(block, "Chosen up to", Format::UnitPrice, Role::Label, above);
    ledger.note(
        above,
        "This price was chosen. Above this figure another one becomes the cheaper.",
    );
    let below = ledger.numbers(
        block,
        "Not chosen at",
        Format::UnitPrice,
        Role::Label,
        below,
    );
    ledger.note(
        below,
        "This price was not chosen. Below this figure the choice should be made again.",
    );
    let zero = || Term::whole(0);
    let over = Cond::And(
        Box::new(Cond::Greater(Term::Here(above), zero())),
        Box::new(Cond::Greater(Term::Here(price), Term::Here(above))),
    );
    let under = Cond::And(
        Box::new(Cond::Greater(Term::Here(below), Term::Here(price))),
        Box::new(Cond::Greater(Term::Here(price), zero())),
    );
    let one = |when| {
        Term::If(
            Box::new(when),
            Box::new(Term::whole(1)),
            Box::new(Term::whole(0)),
        )
    };
    let role = Role::Flag {
        when: Cond::Greater(one(over) + one(under), zero()),
        yes: "run again: another supplier may now be cheaper",
        no: "as chosen",
    };
    ledger.numbers(block, "Choice", Format::Text, role, Vec::new());
}

fn put(values: &mut [Value], row: usize, number: Decimal) {
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
    let mut by_cost = vec![Value::Empty; ledger.rows(echo.block)];
    for (worker, row) in job.workers.iter().zip(&rows) {
        if worker.pay == Pay::Paid && worker.charge_rate.is_none() {
            if let Some(row) = row {
                put(&mut by_cost, *row, Decimal::ONE);
            }
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
    WorkerCells {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        cost,
        charge,
    }
}

fn tasks(ledger: &mut Ledger, job: &Job, sources: &Sources, labour: &Labour) -> Priced {
    let mut used: Vec<TaskId> = labour.lines.iter().filter_map(|l| l.task).collect();
    used.sort_unstable();
    used.dedup();
    let typical: Vec<TaskId> = used
        .into_iter()
        .filter(|id| job.tasks.get(id.index()).is_some_and(|t| t.at.is_none()))
        .collect();
    // A row that names a typical task without hours of its own, only who does it, is its row.
    let named = rows_by_task(sources);
    let row_of = |t: &Task| {
        let by_name = || {
            named
                .get(&folded(&t.name))
                .or_else(|| named.get(&folded(&t.key)))
        };
        t.at.or_else(|| by_name().copied())
    };
    let unnamed = |id: &&TaskId| {
        job.tasks
            .get(id.index())
            .is_some_and(|t| row_of(t).is_none())
    };
    let added: Vec<TaskId> = typical.iter().filter(unnamed).copied().collect();
    let mut echo = Echo::new(ledger, sources, Sheet::Labour, added.len());
    let first_added = echo.rows.len();
    let name = echo.field(ledger, "Task");
    let per = echo.field(ledger, "Per");
    let mut rows: Vec<Option<usize>> = job
        .tasks
        .iter()
        .map(|t| row_of(t).and_then(|at| echo.row(at)))
        .collect();
    let mut from = vec![Value::text("yours"); ledger.rows(echo.block)];
    for (offset, id) in added.iter().enumerate() {
        let row = first_added + offset;
        if let (Some(task), Some(slot)) = (job.tasks.get(id.index()), rows.get_mut(id.index())) {
            *slot = Some(row);
            set(ledger, name, row, Value::text(&task.name));
        }
    }
    for (task, row) in job.tasks.iter().zip(&rows) {
        if let (None, Some(row)) = (task.at, row) {
            set(ledger, per, *row, Value::text(&task.per_words));
            if let Some(value) = from.get_mut(*row) {
                *value = Value::text("typical, change it to your own");
            }
        }
    }
    let numbers: Vec<_> = job
        .tasks
        .iter()
        .zip(&rows)
        .filter_map(|(t, row)| Some(((*row)?, Some(t.rate.value))))
        .collect();
    let price = echo.given(
        ledger,
        ("Person-hours", "Person-hours"),
        Format::Number(4),
        numbers,
    );
    ledger.label(echo.block, "From", from);
    Priced {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        price,
    }
}

/// The rows of `Labour` by what they name.
fn rows_by_task(sources: &Sources) -> BTreeMap<String, RowAt> {
    let mut rows = BTreeMap::new();
    for (table, source) in sources.of(Sheet::Labour) {
        let column = source.columns.iter().position(|c| c.field == Some("Task"));
        for row in &source.rows {
            if let Some(task) = column.and_then(|c| row.cells.get(c)) {
                let at = RowAt {
                    table,
                    row: row.row,
                };
                rows.entry(folded(&task.text())).or_insert(at);
            }
        }
    }
    rows
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
    let quantities = numbers(job.extras.iter().zip(quantities).map(said).collect());
    ExtraCells {
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
