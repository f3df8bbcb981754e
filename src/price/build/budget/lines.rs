//! What the lines of a budget are: people, goods, trips, machines, extras, and what is given.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::super::term::{CellRef, ColRef, Term};
use super::super::Setting;
use super::super::extras::Stand;
use super::super::hours::Worked;
use super::super::inputs::{Inputs, row_u32};
use super::super::tail::{Costs, Tail};
use crate::model::funding::{CLASSES, ClassRef, LineKind, Target};
use crate::model::labour::{Extra, Pay, Worker, WorkerId};
use crate::model::material::Source;
use crate::model::settings::TaxMode;
use crate::units::{Decimal, round};

/// A line of the budget before it has an amount.
pub(super) struct Line {
    pub kind: LineKind,
    pub name: Arc<str>,
    pub class: ClassRef,
    /// The only funder that may pay it, when the job names one.
    pub funder: Option<usize>,
    /// What it comes from; they add up to it.
    pub parts: Vec<Part>,
}

/// One cost in a line: a quantity of something at a rate.
pub(super) struct Part {
    pub cost: Term,
    pub quantity: Option<CellRef>,
    pub unit: String,
    pub rate: Option<CellRef>,
    /// How often that comes.
    pub times: Option<CellRef>,
    /// Where it comes from, as `Mill Lane Yard`.
    pub from: String,
}

impl Part {
    fn of(cost: Term) -> Self {
        Self {
            cost,
            quantity: None,
            unit: String::new(),
            rate: None,
            times: None,
            from: String::new(),
        }
    }
}

fn cell(col: ColRef, row: usize) -> CellRef {
    CellRef {
        col,
        row: row_u32(row),
    }
}

/// Collects parts under the names of their lines, which keep the order of their first parts.
struct Heap(Vec<(LineKind, Arc<str>, Vec<Part>)>);

impl Heap {
    fn add(&mut self, kind: LineKind, name: &str, part: Part) {
        let found = self
            .0
            .iter_mut()
            .find(|(k, n, _)| *k == kind && **n == *name);
        match found {
            Some((_, _, parts)) => parts.push(part),
            None => self.0.push((kind, name.into(), vec![part])),
        }
    }
}

impl Setting<'_> {
    /// Every line, in the order of the form, then of [`LineKind::ALL`], by name within.
    pub(super) fn budget_lines(
        &self,
        inputs: &Inputs,
        (costs, tail): (&Costs<'_>, &Tail),
        present: Option<ColRef>,
    ) -> Vec<Line> {
        let mut heap = Heap(Vec::new());
        for worked in &costs.hours {
            self.hours_in_budget(&mut heap, inputs, worked);
        }
        self.goods_in_budget(&mut heap, costs);
        self.trips_and_hire_in_budget(&mut heap, costs);
        self.shares_in_budget(&mut heap, tail);
        self.given_in_budget(&mut heap, inputs, present);
        let form = self.job.settings.budgeting.form();
        let funding = &self.job.funding;
        let heaped = heap.0.into_iter().map(|(kind, name, parts)| Line {
            class: funding.class_of(form, kind, &name),
            funder: None,
            kind,
            name,
            parts,
        });
        let mut lines: Vec<Line> = heaped.chain(self.extras_in_budget(inputs, costs)).collect();
        let place = |class: ClassRef| CLASSES.iter().position(|c| c == class);
        lines.sort_by(|a, b| {
            let key = |line: &Line| (place(line.class), line.kind, Arc::clone(&line.name));
            key(a).cmp(&key(b))
        });
        lines
    }

    /// Wages and what comes on top of them by worker; hours at a charge rate as a contractor's.
    fn hours_in_budget(&self, heap: &mut Heap, inputs: &Inputs, worked: &Worked<'_>) {
        let Some(wages) = worked.cells.wages else {
            return;
        };
        let workers = &self.job.workers;
        for (row, of) in worked.rows.iter().enumerate() {
            let id: Option<WorkerId> = of.worker;
            let who = id.and_then(|id| workers.get(id.index()));
            let is_given = who.is_some_and(|w| w.pay == Pay::Volunteer);
            if is_given || self.stands(of.moment) != Decimal::ONE {
                continue;
            }
            // Where only a formula finds who works, each of the three may hold something.
            let any = |of: fn(&Worker) -> bool| who.map_or_else(|| workers.iter().any(of), of);
            let name = who.map_or(worked.what, |w| &w.name);
            let worker_row = id.and_then(|id| inputs.workers.row(id.index()));
            let at = |col: ColRef| worker_row.map(|row| CellRef { col, row });
            let part = |cost: Term, rate: Option<CellRef>| Part {
                quantity: Some(cell(worked.cells.paid, row)),
                unit: "hours".to_owned(),
                rate,
                ..Part::of(cost)
            };
            if any(|w| w.charge_rate.is_some()) {
                let charge = Term::Cell(cell(worked.cells.charge, row));
                heap.add(
                    LineKind::Charged,
                    name,
                    part(charge, at(inputs.workers.charge)),
                );
            }
            if any(|w| w.charge_rate.is_none()) {
                let bare = Term::Cell(cell(wages, row));
                let fringe = Term::Cell(cell(worked.cells.cost, row)) - bare.clone();
                let wage = inputs.workers.wage.and_then(at);
                heap.add(LineKind::Wages, name, part(bare, wage));
                if any(|w| !w.burden.value.is_zero()) {
                    heap.add(LineKind::Fringe, name, Part::of(fringe));
                }
            }
        }
    }

    fn goods_in_budget(&self, heap: &mut Heap, costs: &Costs<'_>) {
        for (row, line) in self.bought.lines.iter().enumerate() {
            if line.free || self.stands(line.moment) != Decimal::ONE {
                continue;
            }
            let by_piece = self.priced_words(line).is_empty();
            let part = Part {
                quantity: Some(cell(costs.orders.quantity, row)),
                unit: self.pack_word(line),
                rate: by_piece.then(|| cell(costs.orders.price, row)),
                from: self.supplier_words(line),
                ..Part::of(Term::Cell(cell(costs.orders.cost, row)))
            };
            heap.add(LineKind::Goods, &self.material_words(line), part);
        }
    }

    fn trips_and_hire_in_budget(&self, heap: &mut Heap, costs: &Costs<'_>) {
        for (row, trips) in self.bought.trips.iter().enumerate() {
            if self.stands(trips.moment) != Decimal::ONE {
                continue;
            }
            let part = Part {
                quantity: Some(cell(costs.trips.charged, row)),
                unit: "trips".to_owned(),
                from: self.place_words(trips.site, trips.phase),
                ..Part::of(Term::Cell(cell(costs.trips.cost, row)))
            };
            heap.add(LineKind::Delivery, &self.carrier_words(trips), part);
        }
        for (row, hire) in self.labour.hire.iter().enumerate() {
            let part = Part {
                quantity: Some(cell(costs.hire.steps, row)),
                unit: hire.step_words.to_owned(),
                rate: Some(cell(costs.hire.rate, row)),
                from: self.site_words(hire.site),
                ..Part::of(Term::Cell(cell(costs.hire.cost, row)))
            };
            heap.add(LineKind::Hire, &self.item_words(hire), part);
        }
    }

    /// Tax that nobody gives back, and contingency where a funder pays for it.
    fn shares_in_budget(&self, heap: &mut Heap, tail: &Tail) {
        let kept = Decimal::ONE.saturating_sub(self.job.settings.budgeting.recovered());
        let is_paid = self.job.settings.tax_mode.value == TaxMode::OnPurchases;
        if is_paid && !kept.is_zero() {
            let tax = Term::Cell(tail.cell("tax_paid"));
            let tax = if kept == Decimal::ONE {
                tax
            } else {
                (tax * Term::Number(kept)).money()
            };
            heap.add(LineKind::Tax, "Tax paid on purchases", Part::of(tax));
        }
        let wanted = |target: &Target| match target {
            Target::Kind(kind) => *kind == LineKind::Contingency,
            Target::Class(class) => class.key == "contingencies",
            Target::Named(_) => false,
        };
        let mut funders = self.job.funding.funders.iter();
        if tail.has("contingency") && funders.any(|f| f.pays_for.iter().any(wanted)) {
            let part = Part::of(Term::Cell(tail.cell("contingency")));
            heap.add(LineKind::Contingency, "Contingency", part);
        }
    }

    /// Hours of volunteers and donated goods, at the values that the job states.
    fn given_in_budget(&self, heap: &mut Heap, inputs: &Inputs, present: Option<ColRef>) {
        let bands = self.labour.volunteering.iter().enumerate();
        for (row, band) in bands {
            let standing = self.stands(band.moment) == Decimal::ONE;
            let values = inputs
                .workers
                .in_kind
                .zip(inputs.workers.row(band.worker.index()));
            let (Some(present), Some((col, worker))) = (present.filter(|_| standing), values)
            else {
                continue;
            };
            let rate = CellRef { col, row: worker };
            let hours = cell(present, row);
            let part = Part {
                quantity: Some(hours),
                unit: "hours".to_owned(),
                rate: Some(rate),
                from: self.site_words(band.site),
                ..Part::of((Term::Cell(hours) * Term::Cell(rate)).money())
            };
            let name = self.job.workers.get(band.worker.index());
            heap.add(
                LineKind::Volunteers,
                name.map_or("Volunteers", |w| &w.name),
                part,
            );
        }
        let mut given: BTreeMap<Arc<str>, (Decimal, String)> = BTreeMap::new();
        for line in &self.bought.lines {
            let Some(material) = self.job.material(line.material) else {
                continue;
            };
            let value = material.value.as_ref().map_or(Decimal::ZERO, |v| v.value);
            if material.source.value == Source::Donated && self.stands(line.moment) == Decimal::ONE
            {
                let worth = round::tidy15(line.need.base().saturating_mul(value));
                let words = self.units().amount(line.need);
                let entry = given.entry(Arc::clone(&material.name)).or_default();
                entry.0 = entry.0.saturating_add(worth);
                entry.1 = if entry.1.is_empty() {
                    words
                } else {
                    format!("{}, {words}", entry.1)
                };
            }
        }
        for (name, (worth, words)) in given {
            let part = Part {
                unit: words,
                ..Part::of(Term::Number(worth).money())
            };
            heap.add(LineKind::Donated, &name, part);
        }
    }

    /// Each extra is a line of its own, with the funder and the class that its row names.
    fn extras_in_budget(&self, inputs: &Inputs, costs: &Costs<'_>) -> Vec<Line> {
        let form = self.job.settings.budgeting.form();
        let extras = self.job.extras.iter().enumerate();
        let line = |(index, extra): (usize, &Extra)| {
            let row = usize::try_from(inputs.extras.row(index)?).ok()?;
            let costs_nothing = extra.rate.as_ref().is_none_or(|rate| rate.value.is_zero());
            let kind = kind_of(extra).filter(|_| !costs_nothing)?;
            let by_name = || self.job.funding.class_of(form, kind, &extra.item);
            let part = Part {
                quantity: Some(cell(inputs.extras.quantity, row)),
                unit: extra.unit.as_deref().unwrap_or_default().to_owned(),
                rate: Some(cell(inputs.extras.rate, row)),
                times: Some(cell(costs.extras.times, row)),
                ..Part::of(Term::Cell(cell(costs.extras.cost, row)))
            };
            Some(Line {
                class: extra.budget_class.unwrap_or_else(by_name),
                funder: extra.funder,
                kind,
                name: Arc::clone(&extra.item),
                parts: vec![part],
            })
        };
        extras.filter_map(line).collect()
    }
}

fn kind_of(extra: &Extra) -> Option<LineKind> {
    match Stand::of(extra) {
        Stand::Nowhere => None,
        Stand::Allowance => Some(LineKind::Allowance),
        Stand::Cost | Stand::PassThrough => Some(LineKind::Extra),
    }
}
