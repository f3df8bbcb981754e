//! Orders and trips: quantity x price, tax paid, fees.

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger};
use super::super::term::{ColRef, Cond, Term};
use super::Setting;
use super::inputs::Inputs;
use super::table::Table;
use crate::buying::{OrderLine, Scope, Trips};
use crate::model::by_measure::ByMeasure;
use crate::model::job::SiteId;
use crate::model::offer::Offer;
use crate::model::settings::TaxMode;
use crate::takeoff::Moment;
use crate::units::{Amount, System};

/// The columns that the price reads from the orders.
pub(super) struct OrderCells {
    /// 1 for lines of the price, 2 for lines of a top-up offered beside it, 0 for neither.
    pub stands: ColRef,
    pub quantity: ColRef,
    pub price: ColRef,
    pub cost: ColRef,
    pub tax: ColRef,
}

/// The columns that the price reads from the trips.
pub(super) struct TripCells {
    pub stands: ColRef,
    pub charged: ColRef,
    pub cost: ColRef,
}

/// What the column that tells price from top-up holds.
pub(super) const STANDS_NOTE: &str =
    "1: in the price; 2: in the top-up offered beside it; 0: in neither.";

/// Title of that column.
pub(super) const STANDS: &str = "1 price, 2 top-up";

/// What the column of measures in a piece holds.
const MEASURE_NOTE: &str = "How often one piece holds what its price is for: 16.6667 in a 2x10 of 10 ft \
                            priced by the board foot. Cost is quantity x this x price, rounded once.";

/// Words for a moment.
pub(super) fn moment_words(moment: Moment) -> &'static str {
    match moment {
        Moment::Build => "build",
        Moment::TopUp => "top-up",
    }
}

impl Setting<'_> {
    fn offer(&self, line: &OrderLine) -> Option<&Offer> {
        self.job.offers.get(line.offer?.index())
    }

    fn scope_words(&self, scope: Scope) -> String {
        match scope {
            Scope::Job => "collected for the job".to_owned(),
            Scope::Drop(site, phase) => self.place_words(site, phase),
        }
    }

    pub(super) fn supplier_words(&self, line: &OrderLine) -> String {
        let supplier = self.offer(line).map(|o| o.supplier);
        let supplier = supplier.and_then(|id| self.job.suppliers.get(id.index()));
        let without = if line.free { "on site" } else { "no offer" };
        supplier.map_or(without.to_owned(), |s| s.name.to_string())
    }

    fn pack_words(&self, line: &OrderLine) -> String {
        let pack = |o: &Offer| format!("{} of {}", o.pack, self.units().pack(o.holds));
        self.offer(line).map_or_else(String::new, pack)
    }

    /// The pack in the seller's word.
    pub(super) fn pack_word(&self, line: &OrderLine) -> String {
        self.offer(line)
            .map_or_else(String::new, |o| o.pack.to_string())
    }

    /// How often one piece holds what its price is for; 1 for a price by the piece.
    fn times(&self, line: &OrderLine) -> Decimal {
        let by = self.offer(line).and_then(|o| o.by.as_ref());
        by.map_or(Decimal::ONE, ByMeasure::times)
    }

    pub(super) fn priced_words(&self, line: &OrderLine) -> String {
        let by = self.offer(line).and_then(|o| o.by.as_ref());
        by.map_or_else(String::new, ByMeasure::priced)
    }

    fn spec_words(&self, line: &OrderLine) -> String {
        let spec = self.offer(line).and_then(|o| o.spec.as_ref());
        spec.map_or_else(String::new, ToString::to_string)
    }

    pub(super) fn material_words(&self, line: &OrderLine) -> String {
        self.job.material_name(line.material).to_owned()
    }

    /// The block of order lines.
    pub(super) fn orders(&self, ledger: &mut Ledger, inputs: &Inputs) -> OrderCells {
        let lines = &self.bought.lines;
        let mut table = Table::new(ledger, "Orders", "What is bought", lines.len());
        table.words("Supplier", lines.iter().map(|l| self.supplier_words(l)));
        table.words("For", lines.iter().map(|l| self.scope_words(l.scope)));
        table.words(
            "When",
            lines.iter().map(|l| moment_words(l.moment).to_owned()),
        );
        table.words("Material", lines.iter().map(|l| self.material_words(l)));
        if lines.iter().any(|l| !self.spec_words(l).is_empty()) {
            table.words("Spec", lines.iter().map(|l| self.spec_words(l)));
        }
        self.need_columns(&mut table);
        let quantity = self.quantity_column(&mut table);
        table.words("Pack", lines.iter().map(|l| self.pack_words(l)));
        let price = self.price_column(&mut table, inputs);
        let each = match self.measure_columns(&mut table) {
            Some(times) => Term::Here(times) * Term::Here(price),
            None => Term::Here(price),
        };
        let cost = table.money("Cost", Term::Here(quantity) * each);
        let tax = self.tax_column(&mut table, inputs, cost);
        let units = self.units();
        table.words(
            "Left over",
            lines.iter().map(|l| left_words(units, l.surplus)),
        );
        let why = table.words("How chosen", lines.iter().map(|l| l.why.clone()));
        table.last(why);
        let stands = table.label(STANDS, 0, lines.iter().map(|l| self.stands(l.moment)));
        table.note(stands, STANDS_NOTE);
        table.behind(stands);
        OrderCells {
            stands,
            quantity,
            price,
            cost,
            tax,
        }
    }

    fn need_columns(&self, table: &mut Table<'_>) {
        let lines = &self.bought.lines;
        let units = self.units();
        let need = table.label("Need", 2, lines.iter().map(|l| units.number(l.need)));
        let note = "Take-off of all beds for which it is rounded up, stock on hand taken off.";
        table.note(need, note);
        table.behind(need);
        let unit = |l: &OrderLine| unit_words(units.unit(l.need.dimension()));
        let unit = table.words("Unit", lines.iter().map(unit));
        table.behind(unit);
        if lines.iter().any(|l| !l.on_hand.base().is_zero()) {
            let on_hand = lines.iter().map(|l| left_words(units, l.on_hand));
            let on_hand = table.words("On hand", on_hand);
            table.behind(on_hand);
        }
    }

    /// Quantity: the need rounded up to the step, unless only the program can redo it.
    fn quantity_column(&self, table: &mut Table<'_>) -> ColRef {
        let lines = &self.bought.lines;
        let need = table.fixed("Need in packs", 3, lines.iter().map(|l| l.need_units));
        let step = table.fixed("Step", 4, lines.iter().map(|l| l.step));
        let by_program = |l: &OrderLine| l.fixed.then_some(l.quantity);
        let set = table.some("Set by the program", 4, lines.iter().map(by_program));
        for column in [need, step, set] {
            table.behind(column);
        }
        let note = "A quantity that a cut list, a least order or a price break decided: run again \
                    to redo it.";
        table.note(set, note);
        let step_up = Term::StepUp(Box::new(Term::Here(need)), Box::new(Term::Here(step)));
        let is_set = Cond::Greater(Term::Here(set), Term::whole(0));
        let term = Term::If(
            Box::new(is_set),
            Box::new(Term::Here(set)),
            Box::new(step_up),
        );
        let quantity = table.live("Quantity", places(lines), term);
        table.note(
            quantity,
            "Priced units to buy: the need rounded up to the step.",
        );
        quantity
    }

    /// What prices by a measure are for, and how often a piece holds it; nothing where all are by the piece.
    fn measure_columns(&self, table: &mut Table<'_>) -> Option<ColRef> {
        let lines = &self.bought.lines;
        if lines.iter().all(|l| self.priced_words(l).is_empty()) {
            return None;
        }
        table.words("Price is for", lines.iter().map(|l| self.priced_words(l)));
        let times = table.fixed("In one piece", 4, lines.iter().map(|l| self.times(l)));
        table.note(times, MEASURE_NOTE);
        Some(times)
    }

    fn price_column(&self, table: &mut Table<'_>, inputs: &Inputs) -> ColRef {
        let row = |l: &OrderLine| inputs.prices.row(l.offer?.index());
        let link = table.link(inputs.prices.block, self.bought.lines.iter().map(row));
        let price = table.unit_price("Unit price", Term::Via(link, inputs.prices.price));
        table.note(price, "From the Prices sheet: change it there.");
        price
    }

    /// Tax paid on the purchase, at the rate of the site where the goods go to one, else of the job.
    fn tax_column(&self, table: &mut Table<'_>, inputs: &Inputs, cost: ColRef) -> ColRef {
        let lines = &self.bought.lines;
        let paid = self.job.settings.tax_mode.value == TaxMode::OnPurchases;
        let is_taxed = |l: &OrderLine| paid && self.offer(l).is_some_and(|o| o.taxable);
        let taxed = lines.iter().map(|l| Decimal::from(u8::from(is_taxed(l))));
        let taxed = table.label("Taxed (1)", 0, taxed);
        table.behind(taxed);
        let tax = |l: &OrderLine| {
            let rate = self.tax_rate(inputs, site_of(l.scope));
            (Term::Here(cost) * Term::Here(taxed) * rate).money()
        };
        table.rows("Tax paid", Format::Money, lines.iter().map(tax))
    }

    /// The cell with the tax rate that applies at a site: its own where it has one.
    fn tax_rate(&self, inputs: &Inputs, site: Option<SiteId>) -> Term {
        let has_own = |id: &SiteId| {
            self.job
                .sites
                .get(id.index())
                .is_some_and(|s| s.tax.is_some())
        };
        let row = site
            .filter(has_own)
            .and_then(|id| inputs.sites.row(id.index()));
        let Some(row) = row else {
            return inputs.settings.tax.clone();
        };
        Term::cell(inputs.sites.tax, usize::try_from(row).unwrap_or(0))
    }

    /// The block of trips.
    pub(super) fn trips(&self, ledger: &mut Ledger, inputs: &Inputs) -> TripCells {
        let trips = &self.bought.trips;
        let mut table = Table::new(ledger, "Orders", "How it comes", trips.len());
        table.words("Supplier", trips.iter().map(|t| self.carrier_words(t)));
        table.words(
            "For",
            trips.iter().map(|t| self.place_words(t.site, t.phase)),
        );
        table.words(
            "When",
            trips.iter().map(|t| moment_words(t.moment).to_owned()),
        );
        table.words("Vehicle", trips.iter().map(|t| self.vehicle_words(t)));
        let loads = table.words("Loads", trips.iter().map(|t| t.words.clone()));
        table.last(loads);
        let charged = table.fixed("Charged trips", 0, trips.iter().map(|t| t.charged));
        let vehicle = |t: &Trips| inputs.vehicles.row(t.vehicle?.index());
        let to_vehicle = table.link(inputs.vehicles.block, trips.iter().map(vehicle));
        let site = |t: &Trips| inputs.sites.row(t.site.index());
        let to_site = table.link(inputs.sites.block, trips.iter().map(site));
        let waived = table.label("Fee waived (1)", 0, trips.iter().map(|t| self.is_free(t)));
        table.behind(waived);
        table.note(
            waived,
            "1: the goods of this drop are worth so much that the supplier asks no fee.",
        );
        let asked = Term::whole(1) - Term::Here(waived);
        let fee = Term::Via(to_vehicle, inputs.vehicles.price) * asked;
        let fee = table.unit_price("Fee a trip", fee);
        let drop_fee = Term::Via(to_site, inputs.sites.drop_fee);
        let drop_fee = table.unit_price("Site fee a trip", drop_fee);
        let each = Term::Here(fee) + Term::Here(drop_fee);
        let cost = table.money("Cost", Term::Here(charged) * each);
        let stands = table.label(STANDS, 0, trips.iter().map(|t| self.stands(t.moment)));
        table.note(stands, STANDS_NOTE);
        table.behind(stands);
        TripCells {
            stands,
            charged,
            cost,
        }
    }

    pub(super) fn carrier_words(&self, trips: &Trips) -> String {
        let supplier = self.job.suppliers.get(trips.supplier.index());
        supplier.map_or_else(String::new, |s| s.name.to_string())
    }

    fn vehicle_words(&self, trips: &Trips) -> String {
        let vehicle = trips.vehicle.and_then(|v| self.job.vehicles.get(v.index()));
        vehicle.map_or_else(String::new, |v| v.name.to_string())
    }

    /// 1 when the supplier asks no fee: what is charged is then the site's fee alone, or nothing.
    fn is_free(&self, trips: &Trips) -> Decimal {
        let vehicle = trips.vehicle.and_then(|v| self.job.vehicles.get(v.index()));
        let asked = vehicle
            .and_then(|v| v.fee.as_ref())
            .map_or(Decimal::ZERO, |f| f.value);
        let site = self.job.sites.get(trips.site.index());
        let drop = site
            .and_then(|s| s.drop_fee.as_ref())
            .map_or(Decimal::ZERO, |f| f.value);
        let both = trips.charged.saturating_mul(asked.saturating_add(drop));
        let is_free = self.job.settings.currency.value.round_line(both) != trips.cost;
        Decimal::from(u8::from(is_free))
    }
}

fn site_of(scope: Scope) -> Option<SiteId> {
    if let Scope::Drop(site, _) = scope {
        Some(site)
    } else {
        None
    }
}

/// Decimals of quantities: two, unless what is bought comes in finer steps. What is found on the
/// site is nobody's order.
fn places(lines: &[OrderLine]) -> u8 {
    let bought = lines.iter().filter(|l| !l.free);
    let is_finer = |l: &OrderLine| l.quantity.normalize().scale() > 2;
    if bought.into_iter().any(is_finer) {
        4
    } else {
        2
    }
}

fn unit_words(unit: &str) -> String {
    if unit.is_empty() { "pieces" } else { unit }.to_owned()
}

/// An amount in words, nothing for none.
fn left_words(units: System, amount: Amount) -> String {
    if amount.base().is_zero() {
        String::new()
    } else {
        units.amount(amount)
    }
}
