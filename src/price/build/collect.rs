//! The named figures of the price, read back from the evaluated ledger.

use jiff::ToSpan;
use jiff::civil::Date;

use super::super::estimate::{AreaMoney, BedMoney, KindMoney, PlaceMoney, Price, PriceLine};
use super::super::evaluate::Values;
use super::super::term::CellRef;
use super::bearing::Bearing;
use super::{Cells, Setting};
use crate::buying::OrderLine;
use crate::model::bed::BedId;
use crate::model::ground::AreaId;
use crate::model::labour::Pay;
use crate::takeoff::KindId;
use crate::units::Money;

impl Setting<'_> {
    pub(super) fn collect(&self, values: &Values, cells: &Cells) -> Price {
        let date = self.date;
        let lines = Self::price_lines_of(values, cells);
        let amount = |key: &str| {
            lines
                .iter()
                .find(|l| l.key == key)
                .map_or(Money::ZERO, |l| l.amount)
        };
        let with_top_up = lines
            .iter()
            .find(|l| l.key == "total")
            .and_then(|l| l.with_top_up);
        let beds = Self::bed_money(values, cells);
        let areas = Self::area_money(values, cells);
        let (places, kinds) = (self.place_money(&beds, &areas), self.kind_money(&beds));
        let oldest_price = self.oldest_price(date);
        Price {
            direct_cost: amount("direct_cost"),
            before_tax: amount("before_tax"),
            total: amount("total"),
            top_up: with_top_up.map(|with| with - amount("total")),
            missing: self.missing(),
            owner: cells.owner.figures(values),
            payments: cells
                .payments
                .as_ref()
                .map_or_else(Vec::new, |stages| stages.due(values)),
            budget: None,
            valid_until: self.valid_until(date, oldest_price.map(|(day, _)| day)),
            hours_words: self.hours_words(),
            lines,
            extras: cells.extras.costs(values),
            beds,
            areas,
            places,
            kinds,
            oldest_price,
        }
    }

    fn price_lines_of(values: &Values, cells: &Cells) -> Vec<PriceLine> {
        let tail = &cells.tail;
        let line = |(row, line): (usize, &super::tail::TailLine)| PriceLine {
            key: line.key,
            label: line.label.clone(),
            words: line.words.clone(),
            amount: Money::of(values.at(tail.base, row)),
            with_top_up: tail.with_top_up.map(|col| Money::of(values.at(col, row))),
            at: tail.cell(line.key),
            at_with_top_up: tail.with_top_up.map(|col| CellRef {
                col,
                row: super::inputs::row_u32(row),
            }),
            is_total: line.is_total,
        };
        tail.lines.iter().enumerate().map(line).collect()
    }

    fn bed_money(values: &Values, cells: &Cells) -> Vec<BedMoney> {
        let rows = cells.beds.rows.iter().enumerate();
        let of = |(index, row): (usize, &usize)| {
            let (groups, cost, price) = borne(values, &cells.beds, *row);
            BedMoney {
                bed: BedId::of(index),
                groups,
                cost,
                price,
            }
        };
        rows.map(of).collect()
    }

    fn area_money(values: &Values, cells: &Cells) -> Vec<AreaMoney> {
        let Some(areas) = &cells.areas else {
            return Vec::new();
        };
        let of = |(index, row): (usize, &usize)| {
            let (groups, cost, price) = borne(values, areas, *row);
            AreaMoney {
                area: AreaId::of(index),
                row: super::inputs::row_u32(*row),
                groups,
                cost,
                price,
            }
        };
        areas.rows.iter().enumerate().map(of).collect()
    }

    fn place_money(&self, beds: &[BedMoney], areas: &[AreaMoney]) -> Vec<PlaceMoney> {
        let mut places: Vec<PlaceMoney> = self
            .place_list()
            .into_iter()
            .map(|(site, phase)| PlaceMoney {
                site,
                phase,
                beds: self.beds_at(site, phase),
                cost: Money::ZERO,
                price: Money::ZERO,
            })
            .collect();
        let beds = beds.iter().filter_map(|m| {
            let bed = self.job.beds.get(m.bed.index())?;
            Some(((bed.site, bed.phase), m.cost, m.price))
        });
        let areas = areas.iter().filter_map(|m| {
            let area = self.job.areas.get(m.area.index())?;
            Some(((area.site, area.phase), m.cost, m.price))
        });
        for (place, cost, price) in beds.chain(areas) {
            let place = self.places_of.get(&place);
            if let Some(place) = place.and_then(|n| places.get_mut(*n)) {
                place.cost += cost;
                place.price += price;
            }
        }
        places
    }

    fn kind_money(&self, beds: &[BedMoney]) -> Vec<KindMoney> {
        let mut kinds: Vec<KindMoney> = (0..self.kinds.kinds.len())
            .map(|n| KindMoney {
                kind: KindId::of(n),
                cost: Money::ZERO,
                price: Money::ZERO,
            })
            .collect();
        for (money, kind) in beds.iter().zip(&self.kinds.of_bed) {
            if let Some(kind) = kinds.get_mut(kind.index()) {
                kind.cost += money.cost;
                kind.price += money.price;
            }
        }
        kinds
    }

    /// Everything that should cost something and has no price.
    fn missing(&self) -> Vec<String> {
        let mut missing: Vec<String> = self
            .bought
            .lines
            .iter()
            .filter(|l| self.counts(l.moment) && !l.free && l.price.is_none())
            .map(|l| self.missing_order(l))
            .collect();
        for trip in self.bought.trips.iter().filter(|t| self.counts(t.moment)) {
            if trip.vehicle.is_some() && trip.fee.is_none() {
                missing.push(format!(
                    "Delivery to {}: the vehicle has no fee",
                    self.place_words(trip.site, trip.phase)
                ));
            }
        }
        missing.extend(self.missing_wages());
        for line in self.labour.hire.iter().filter(|l| l.rate.is_none()) {
            let item = self
                .job
                .equipment
                .get(line.equipment)
                .map_or("?", |e| &e.name);
            missing.push(format!("{item}: no hire rate"));
        }
        for extra in self
            .job
            .extras
            .iter()
            .filter(|e| e.rate.is_none() && e.hours.is_none())
        {
            if super::extras::Stand::of(extra) != super::extras::Stand::Nowhere {
                missing.push(format!("{}: no rate", extra.item));
            }
        }
        missing.dedup();
        missing
    }

    fn counts(&self, moment: crate::takeoff::Moment) -> bool {
        !self.stands(moment).is_zero()
    }

    fn missing_order(&self, line: &OrderLine) -> String {
        let name = self.job.material_name(line.material);
        match line.offer {
            Some(_) => format!("{name}: the chosen offer has no price"),
            None => format!("{name}: no price at any supplier"),
        }
    }

    fn missing_wages(&self) -> Vec<String> {
        let mut missing = Vec::new();
        let lines = self
            .labour
            .lines
            .iter()
            .filter(|l| self.counts(l.moment) && !l.hours.is_zero())
            .map(|l| l.worker);
        let days = self
            .labour
            .days
            .iter()
            .filter(|d| self.counts(d.moment) && !d.overhead.is_zero())
            .map(|d| d.worker);
        for worker in lines.chain(days) {
            let person = worker.and_then(|w| self.job.workers.get(w.index()));
            let sentence = match person {
                None => "Labour: no worker is named, so hours have no rate".to_owned(),
                Some(w)
                    if w.pay == Pay::Paid && w.pay_rate.is_none() && w.charge_rate.is_none() =>
                {
                    format!("{}: no pay rate and no charge rate", w.name)
                }
                Some(_) => continue,
            };
            if !missing.contains(&sentence) {
                missing.push(sentence);
            }
        }
        missing
    }

    fn oldest_price(&self, date: Date) -> Option<(Date, i64)> {
        let used = self
            .bought
            .lines
            .iter()
            .filter(|l| self.counts(l.moment))
            .filter_map(|l| l.offer);
        let days = used.filter_map(|id| self.job.offers.get(id.index())?.price_date);
        let oldest = days.min()?;
        let age = date
            .since(oldest)
            .map_or(0, |span| i64::from(span.get_days()));
        Some((oldest, age))
    }

    /// The quote holds for the valid days, but never longer than the oldest price stays fresh.
    fn valid_until(&self, date: Date, oldest: Option<Date>) -> Date {
        let after = |day: Date, days: u32| day.checked_add(i64::from(days).days()).unwrap_or(day);
        let valid = after(date, self.job.settings.valid_days.value);
        let fresh = oldest.map(|day| after(day, self.job.settings.stale_days.value).max(date));
        fresh.map_or(valid, |fresh| valid.min(fresh))
    }

    fn hours_words(&self) -> String {
        crate::labour::hours_in_price(self.job, self.labour).words()
    }
}

/// What one row bears: by group, in all, and its share of the price.
fn borne(values: &Values, of: &Bearing, row: usize) -> ([Money; 5], Money, Money) {
    let mut groups = [Money::ZERO; 5];
    for (slot, col) in groups.iter_mut().zip(&of.groups) {
        *slot = Money::of(values.at(*col, row));
    }
    let (cost, price) = (values.at(of.cost, row), values.at(of.price, row));
    (groups, Money::of(cost), Money::of(price))
}
