//! Orders and trips: quantity x price, tax paid, fees.

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, Cond, LinkRef, Term};
use super::Setting;
use super::inputs::Inputs;
use crate::buying::{OrderLine, Scope, Trips};
use crate::model::job::SiteId;
use crate::model::settings::TaxMode;
use crate::takeoff::Moment;
use crate::units::Amount;

/// The columns that the price reads from the orders.
pub(super) struct OrderCells {
    /// 1 for lines of the price, 2 for lines of a top-up offered beside it, 0 for neither.
    pub stands: ColRef,
    pub cost: ColRef,
    pub tax: ColRef,
}

/// The columns that the price reads from the trips.
pub(super) struct TripCells {
    pub stands: ColRef,
    pub cost: ColRef,
}

fn words(values: impl Iterator<Item = String>) -> Vec<Value> {
    values.map(|v| Value::text(&v)).collect()
}

fn numbers(values: impl Iterator<Item = Decimal>) -> Vec<Value> {
    values.map(Value::number).collect()
}

/// Words for a moment.
pub(super) fn moment_words(moment: Moment) -> &'static str {
    match moment {
        Moment::Build => "build",
        Moment::TopUp => "top-up",
    }
}

impl Setting<'_> {
    fn scope_words(&self, scope: Scope) -> String {
        match scope {
            Scope::Job => "collected for the job".to_owned(),
            Scope::Drop(site, phase) => self.place_words(site, phase),
        }
    }

    fn supplier_words(&self, line: &OrderLine) -> String {
        let offer = line.offer.and_then(|id| self.job.offers.get(id.index()));
        let supplier = offer.and_then(|o| self.job.suppliers.get(o.supplier.index()));
        supplier.map_or_else(
            || {
                if line.free {
                    "on site".into()
                } else {
                    "no offer".into()
                }
            },
            |s| s.name.to_string(),
        )
    }

    fn pack_words(&self, line: &OrderLine) -> String {
        let offer = line.offer.and_then(|id| self.job.offers.get(id.index()));
        offer.map_or_else(String::new, |o| {
            format!("{} of {}", o.pack, self.units().pack(o.holds))
        })
    }

    fn spec_words(&self, line: &OrderLine) -> String {
        let offer = line.offer.and_then(|id| self.job.offers.get(id.index()));
        offer
            .and_then(|o| o.spec.as_ref())
            .map_or_else(String::new, ToString::to_string)
    }

    fn site_of(scope: Scope) -> Option<SiteId> {
        if let Scope::Drop(site, _) = scope {
            Some(site)
        } else {
            None
        }
    }

    /// The block of order lines.
    pub(super) fn orders(&self, ledger: &mut Ledger, inputs: &Inputs) -> OrderCells {
        let lines = &self.bought.lines;
        let block = ledger.block("Orders", "What is bought", lines.len());
        ledger.label(
            block,
            "Supplier",
            words(lines.iter().map(|l| self.supplier_words(l))),
        );
        ledger.label(
            block,
            "For",
            words(lines.iter().map(|l| self.scope_words(l.scope))),
        );
        ledger.label(
            block,
            "When",
            words(lines.iter().map(|l| moment_words(l.moment).to_owned())),
        );
        ledger.label(
            block,
            "Material",
            words(
                lines
                    .iter()
                    .map(|l| self.job.material_name(l.material).to_owned()),
            ),
        );
        ledger.label(
            block,
            "Spec",
            words(lines.iter().map(|l| self.spec_words(l))),
        );
        self.need_columns(ledger, block);
        let quantity = self.quantity_column(ledger, block);
        ledger.label(
            block,
            "Pack",
            words(lines.iter().map(|l| self.pack_words(l))),
        );
        let (price, _) = self.price_column(ledger, inputs, block);
        let cost = ledger.live(
            block,
            "Cost",
            Format::Money,
            (Term::Here(quantity) * Term::Here(price)).money(),
        );
        let tax = self.tax_column(ledger, inputs, block, cost);
        let surplus = lines.iter().map(|l| self.units().amount(l.surplus));
        ledger.label(block, "Left over", words(surplus));
        ledger.label(
            block,
            "How chosen",
            words(lines.iter().map(|l| l.why.clone())),
        );
        let stands = ledger.numbers(
            block,
            "In price",
            Format::Number(0),
            Role::Label,
            numbers(lines.iter().map(|l| self.stands(l.moment))),
        );
        ledger.note(
            stands,
            "1: in the price; 2: in the top-up offered beside it; 0: in neither.",
        );
        OrderCells { stands, cost, tax }
    }

    fn need_columns(&self, ledger: &mut Ledger, block: u16) {
        let lines = &self.bought.lines;
        let units = self.units();
        let need = ledger.numbers(
            block,
            "Need",
            Format::Number(3),
            Role::Label,
            numbers(lines.iter().map(|l| units.number(l.need))),
        );
        ledger.note(
            need,
            "Take-off of all beds for which it is rounded up, stock on hand taken off.",
        );
        ledger.label(
            block,
            "Unit",
            words(
                lines
                    .iter()
                    .map(|l| unit_words(units.unit(l.need.dimension()))),
            ),
        );
        ledger.label(
            block,
            "On hand",
            words(lines.iter().map(|l| on_hand_words(units, l.on_hand))),
        );
    }

    /// Quantity: the need rounded up to the step, unless only the program can redo it.
    fn quantity_column(&self, ledger: &mut Ledger, block: u16) -> ColRef {
        let lines = &self.bought.lines;
        let column = |ledger: &mut Ledger, title: &str, values| {
            ledger.numbers(block, title, Format::Number(4), Role::Fixed, values)
        };
        let need = column(
            ledger,
            "Need in priced units",
            numbers(lines.iter().map(|l| l.need_units)),
        );
        let step = column(ledger, "Step", numbers(lines.iter().map(|l| l.step)));
        let set = column(
            ledger,
            "Set by the program",
            lines.iter().map(set_quantity).collect(),
        );
        ledger.note(set, "A quantity that a cut list, several loads, a least order or a price break decided: run again to redo it.");
        let step_up = Term::StepUp(Box::new(Term::Here(need)), Box::new(Term::Here(step)));
        let is_set = Cond::Greater(Term::Here(set), Term::whole(0));
        let term = Term::If(
            Box::new(is_set),
            Box::new(Term::Here(set)),
            Box::new(step_up),
        );
        let quantity = ledger.live(block, "Quantity", Format::Number(3), term);
        ledger.note(
            quantity,
            "Priced units to buy: the need rounded up to the step.",
        );
        quantity
    }

    fn price_column(&self, ledger: &mut Ledger, inputs: &Inputs, block: u16) -> (ColRef, LinkRef) {
        let rows = self.bought.lines.iter().map(|l| {
            l.offer
                .and_then(|id| inputs.prices.rows.get(id.index()).copied().flatten())
        });
        let link = ledger.link(block, inputs.prices.block, rows.collect());
        let price = ledger.live(
            block,
            "Unit price",
            Format::UnitPrice,
            Term::Via(link, inputs.prices.price),
        );
        ledger.note(price, "From the Prices sheet: change it there.");
        (price, link)
    }

    /// Tax paid on the purchase, at the rate of the site where the goods go to one, else of the job.
    fn tax_column(&self, ledger: &mut Ledger, inputs: &Inputs, block: u16, cost: ColRef) -> ColRef {
        let lines = &self.bought.lines;
        let paid = self.job.settings.tax_mode.value == TaxMode::OnPurchases;
        let taxed = lines.iter().map(|l| {
            let offer = l.offer.and_then(|id| self.job.offers.get(id.index()));
            Decimal::from(u8::from(paid && offer.is_some_and(|o| o.taxable)))
        });
        let taxed = ledger.numbers(
            block,
            "Taxed",
            Format::Number(0),
            Role::Label,
            numbers(taxed),
        );
        let terms = lines.iter().map(|l| {
            let rate = self.tax_rate(inputs, Self::site_of(l.scope));
            Some((Term::Here(cost) * Term::Here(taxed) * rate).money())
        });
        let role = Role::LiveRows(terms.collect());
        ledger.numbers(block, "Tax paid", Format::Money, role, Vec::new())
    }

    /// The cell with the tax rate that applies at a site: its own where it has one.
    pub(super) fn tax_rate(&self, inputs: &Inputs, site: Option<SiteId>) -> Term {
        let own = site.filter(|s| {
            self.job
                .sites
                .get(s.index())
                .is_some_and(|s| s.tax.is_some())
        });
        let row = own.and_then(|s| inputs.sites.rows.get(s.index()).copied().flatten());
        row.map_or_else(
            || inputs.settings.tax.clone(),
            |row| Term::cell(inputs.sites.tax, usize::try_from(row).unwrap_or(0)),
        )
    }

    /// The block of trips.
    pub(super) fn trips(&self, ledger: &mut Ledger, inputs: &Inputs) -> TripCells {
        let trips = &self.bought.trips;
        let block = ledger.block("Orders", "How it comes", trips.len());
        let supplier = |t: &Trips| {
            self.job
                .suppliers
                .get(t.supplier.index())
                .map_or_else(String::new, |s| s.name.to_string())
        };
        ledger.label(block, "Supplier", words(trips.iter().map(supplier)));
        ledger.label(
            block,
            "For",
            words(trips.iter().map(|t| self.place_words(t.site, t.phase))),
        );
        ledger.label(
            block,
            "When",
            words(trips.iter().map(|t| moment_words(t.moment).to_owned())),
        );
        let vehicle = |t: &Trips| {
            t.vehicle
                .and_then(|v| self.job.vehicles.get(v.index()))
                .map_or_else(String::new, |v| v.name.to_string())
        };
        ledger.label(block, "Vehicle", words(trips.iter().map(vehicle)));
        ledger.label(block, "Loads", words(trips.iter().map(|t| t.words.clone())));
        let loads = trips
            .iter()
            .map(|t| Decimal::from(u64::try_from(t.loads.len()).unwrap_or(0)));
        let loads = ledger.numbers(
            block,
            "Trips",
            Format::Number(0),
            Role::Fixed,
            numbers(loads),
        );
        let charged = ledger.numbers(
            block,
            "Charged trips",
            Format::Number(0),
            Role::Fixed,
            numbers(trips.iter().map(|t| t.charged)),
        );
        let vehicles = trips.iter().map(|t| {
            t.vehicle
                .and_then(|v| inputs.vehicles.rows.get(v.index()).copied().flatten())
        });
        let to_vehicle = ledger.link(block, inputs.vehicles.block, vehicles.collect());
        let sites = trips
            .iter()
            .map(|t| inputs.sites.rows.get(t.site.index()).copied().flatten());
        let to_site = ledger.link(block, inputs.sites.block, sites.collect());
        let fee = ledger.live(
            block,
            "Fee a trip",
            Format::Money,
            Term::Via(to_vehicle, inputs.vehicles.price),
        );
        let drop_fee = ledger.live(
            block,
            "Site fee a trip",
            Format::Money,
            Term::Via(to_site, inputs.sites.drop_fee),
        );
        let total =
            Term::Here(charged) * Term::Here(fee) + Term::Here(loads) * Term::Here(drop_fee);
        let cost = ledger.live(block, "Cost", Format::Money, total.money());
        let stands = ledger.numbers(
            block,
            "In price",
            Format::Number(0),
            Role::Label,
            numbers(trips.iter().map(|t| self.stands(t.moment))),
        );
        TripCells { stands, cost }
    }
}

fn set_quantity(line: &OrderLine) -> Value {
    if line.fixed {
        Value::number(line.quantity)
    } else {
        Value::Empty
    }
}

fn unit_words(unit: &str) -> String {
    if unit.is_empty() {
        "pieces".to_owned()
    } else {
        unit.to_owned()
    }
}

fn on_hand_words(units: crate::units::System, amount: Amount) -> String {
    if amount.base().is_zero() {
        String::new()
    } else {
        units.amount(amount)
    }
}
