//! The `Beds` sheet: what was typed, what the take-off says, and each bed's share of cost and price.

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, LinkRef, Term};
use super::Setting;
use super::bearing::{Base, Bearing, Ends};
use super::echo::Echo;
use super::inputs::{row_u32, set};
use super::shares::Kinds;
use super::tail::Tail;
use crate::model::bed::{Bed, BedId};
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::takeoff::TakeOff;
use crate::units::{Amount, Dimension};

/// Kinds in one sheet beyond which their sums are not given there (each sum passes over all beds).
const MOST_PLACES: usize = 500;

/// Picks a column of shares.
type Share = fn(&Bearing) -> ColRef;

impl Setting<'_> {
    /// Beds of the job in the order in which cost is shared: site, phase, bed name.
    pub(super) fn sharing_order(&self) -> Vec<BedId> {
        let mut order: Vec<BedId> = (0..self.job.beds.len()).map(BedId::of).collect();
        let key = |id: &BedId| {
            self.job.beds.get(id.index()).map(|bed| {
                (
                    self.site_words(bed.site),
                    self.phase_words(bed.phase),
                    bed.name.clone(),
                )
            })
        };
        order.sort_by_cached_key(key);
        order
    }

    /// The block of beds.
    pub(super) fn beds(
        &self,
        ledger: &mut Ledger,
        sources: &Sources,
        kinds: &Kinds,
        tail: &Tail,
    ) -> Bearing {
        let mut echo = Echo::new(ledger, sources, Sheet::Beds, 0);
        let block = echo.block;
        self.name_sites(ledger, &mut echo);
        let rows: Vec<usize> = self
            .job
            .beds
            .iter()
            .map(|b| echo.row(b.at).unwrap_or(usize::MAX))
            .collect();
        self.figure_columns(ledger, block, &rows);
        let count = self.column(
            ledger,
            block,
            &rows,
            ("Beds", Format::Number(0), Role::Fixed),
            |b, _| Value::number(Decimal::from(b.count)),
        );
        let to_kind = self.link_to_kinds(ledger, (block, kinds.block), &rows);
        let base = Base {
            block,
            rows,
            order: self.sharing_order().iter().map(|b| b.index()).collect(),
            to_kind,
            count: Term::Here(count),
            places: self.job.beds.iter().map(|b| (b.site, b.phase)).collect(),
            kinds,
            tail,
            after: Ends::none(),
        };
        let beds = self.bearing(ledger, base);
        let each = Term::Here(beds.price).ratio(Term::Here(count)).money();
        let each = ledger.live(block, "Price a bed", Format::Money, each);
        ledger.note(each, "For reading: the row's price divided by its beds.");
        beds
    }

    /// Links each bed's row to the row of its kind.
    fn link_to_kinds(
        &self,
        ledger: &mut Ledger,
        (block, kinds): (u16, u16),
        rows: &[usize],
    ) -> LinkRef {
        let mut links = vec![None; ledger.rows(block)];
        for (row, kind) in rows.iter().zip(&self.kinds.of_bed) {
            if let Some(link) = links.get_mut(*row) {
                *link = Some(kind.0);
            }
        }
        ledger.link(block, kinds, links)
    }

    /// Beds that name no site stand on one that the program made; where there are others too, the
    /// estimate says so, since `Sites` names them all there.
    fn name_sites(&self, ledger: &mut Ledger, echo: &mut Echo) {
        if self.job.sites.len() < 2 {
            return;
        }
        let column = echo.field(ledger, "Site");
        for bed in &self.job.beds {
            let Some(row) = echo.row(bed.at) else {
                continue;
            };
            let cell = ledger.get(column).and_then(|c| c.values.get(row));
            if cell == Some(&Value::Empty) {
                let site = self.job.sites.get(bed.site.index());
                let name = site.map_or(Value::Empty, |s| Value::text(&s.name));
                set(ledger, column, row, name);
            }
        }
    }

    fn column(
        &self,
        ledger: &mut Ledger,
        block: u16,
        rows: &[usize],
        (title, format, role): (&str, Format, Role),
        value: impl Fn(&Bed, &Self) -> Value,
    ) -> ColRef {
        let mut values = vec![Value::Empty; ledger.rows(block)];
        for (bed, row) in self.job.beds.iter().zip(rows) {
            if let Some(slot) = values.get_mut(*row) {
                *slot = value(bed, self);
            }
        }
        ledger.numbers(block, title, format, role, values)
    }

    /// Figures of the take-off, for one bed of the row.
    fn figure_columns(&self, ledger: &mut Ledger, block: u16, rows: &[usize]) {
        let units = self.units();
        let volume = units.unit(Dimension::Volume);
        let words = self.bed_values(ledger.rows(block), rows, |t| Value::text(&t.size));
        ledger.label(block, "Size in words", words);
        let mut number = |title: String, places, figure: &dyn Fn(&TakeOff) -> Decimal| {
            let values = self.bed_values(ledger.rows(block), rows, |t| Value::number(figure(t)));
            ledger.numbers(block, &title, Format::Number(places), Role::Label, values);
        };
        number(
            format!("Inside area ({})", units.unit(Dimension::Area)),
            2,
            &|t| units.number(Amount::Area(t.inside_area)),
        );
        number(format!("Fill to order ({volume})"), 3, &|t| {
            units.number(Amount::Volume(t.layers.iter().map(|l| l.order).sum()))
        });
        number(format!("Top-up later ({volume})"), 3, &|t| {
            units.number(Amount::Volume(t.top_up))
        });
        let weight = units.unit(Dimension::Weight);
        number(format!("Soaked fill ({weight})"), 0, &|t| {
            units.number(Amount::Weight(t.saturated_weight))
        });
    }

    fn bed_values(
        &self,
        count: usize,
        rows: &[usize],
        value: impl Fn(&TakeOff) -> Value,
    ) -> Vec<Value> {
        let mut values = vec![Value::Empty; count];
        let mut by_kind: Vec<Option<Value>> = vec![None; self.takeoffs.len()];
        for (kind, row) in self.kinds.of_bed.iter().zip(rows) {
            let (Some(takeoff), Some(known), Some(slot)) = (
                self.takeoffs.get(kind.index()),
                by_kind.get_mut(kind.index()),
                values.get_mut(*row),
            ) else {
                continue;
            };
            *slot = known.get_or_insert_with(|| value(takeoff)).clone();
        }
        values
    }

    /// Sites and phases with their beds, cost and price.
    pub(super) fn places(&self, ledger: &mut Ledger, beds: &Bearing, areas: Option<&Bearing>) {
        let places = self.place_list();
        if places.len() > MOST_PLACES {
            return;
        }
        let block = ledger.block("Price", "By site and phase", places.len());
        ledger.label(
            block,
            "Site and phase",
            places
                .iter()
                .map(|(s, p)| Value::text(&self.place_words(*s, *p)))
                .collect(),
        );
        let count = places
            .iter()
            .map(|(s, p)| Value::number(self.beds_at(*s, *p)));
        ledger.numbers(
            block,
            "Beds",
            Format::Number(0),
            Role::Label,
            count.collect(),
        );
        let sum = |number: usize, pick: Share| {
            let row = i64::from(row_u32(number)).saturating_add(1);
            let of = |b: &Bearing| Term::total_if(b.place, row, pick(b));
            Some(match areas {
                Some(areas) => (of(beds) + of(areas)).money(),
                None => of(beds),
            })
        };
        let columns: [(&str, Share); 2] = [("Cost", |b| b.cost), ("Price", |b| b.price)];
        for (title, pick) in columns {
            let terms = (0..places.len()).map(|n| sum(n, pick)).collect();
            ledger.numbers(
                block,
                title,
                Format::Money,
                Role::LiveRows(terms),
                Vec::new(),
            );
        }
    }
}
