//! What the owner wants to know of the price: what is left of it, where nothing is left, what it comes to
//! for a bed, an area and a volume.

use super::super::estimate::{Figure, FigureKind};
use super::super::evaluate::Values;
use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, Term};
use super::Setting;
use super::tail::{Costs, Tail};
use crate::model::labour::Pay;
use crate::takeoff::TakeOff;
use crate::units::{Amount, Decimal, Dimension, Volume};

/// The block of the owner's figures.
pub(super) struct Owner {
    lines: Vec<Line>,
    column: ColRef,
}

struct Line {
    key: &'static str,
    label: String,
    words: &'static str,
    kind: FigureKind,
    term: Term,
}

impl Owner {
    /// The figures as computed.
    pub(super) fn figures(&self, values: &Values) -> Vec<Figure> {
        let lines = self.lines.iter().enumerate();
        let figure = |(row, line): (usize, &Line)| Figure {
            key: line.key,
            label: line.label.as_str().into(),
            words: line.words,
            kind: line.kind,
            value: values.at(self.column, row),
        };
        lines.map(figure).collect()
    }
}

impl Setting<'_> {
    /// The block, below the price.
    pub(super) fn owner(&self, ledger: &mut Ledger, costs: &Costs<'_>, tail: &Tail) -> Owner {
        let mut lines = self.left_of_it(costs, tail);
        lines.extend(self.for_one(tail));
        let block = ledger.block("Price", "For the owner", lines.len());
        let labels = lines.iter().map(|l| Value::text(&l.label));
        ledger.label(block, "Figure", labels.collect());
        let words = lines.iter().map(|l| Value::text(l.words));
        ledger.label(block, "Worked out from", words.collect());
        let terms = lines.iter().map(|l| Some(l.term.clone()));
        let role = Role::LiveRows(terms.collect());
        let column = ledger.numbers(block, "Value", Format::Money, role, Vec::new());
        if let Some(found) = ledger.column_mut(column) {
            found.row_formats = lines.iter().map(|l| l.kind.format()).collect();
        }
        Owner { lines, column }
    }

    /// What is left of the price, and the prices at which nothing is.
    fn left_of_it(&self, costs: &Costs<'_>, tail: &Tail) -> Vec<Line> {
        let cell = |key: &str| {
            let line = tail.has(key).then(|| Term::Cell(tail.cell(key)));
            line.unwrap_or(Term::whole(0))
        };
        let profit = cell("before_tax") - cell("direct_cost") - cell("pass_through");
        let profit = profit.money();
        let overhead = cell("overhead") + cell("overhead_hours");
        let outside = cell("labour_charged") + cell("pass_through");
        let even = cell("direct_cost") + overhead.clone() + outside;
        let charged = self.charged_without_wage();
        let mut lines = vec![
            line(
                ("gross_profit", "Gross profit", FigureKind::Money),
                if charged {
                    "price before tax - direct cost - passed on at cost; hours at a charge rate are in it whole"
                } else {
                    "price before tax - direct cost - passed on at cost"
                },
                profit.clone(),
            ),
            line(
                ("gross_margin", "Gross margin", FigureKind::Share),
                "gross profit / price before tax",
                profit.ratio(cell("before_tax")),
            ),
            line(
                (
                    "break_even",
                    "Break-even price before tax",
                    FigureKind::Money,
                ),
                "cost + overhead + passed on: no contingency, no profit",
                even.money(),
            ),
            line(
                ("labour_share", "Labour in direct cost", FigureKind::Share),
                "labour / direct cost",
                cell("labour").ratio(cell("direct_cost")),
            ),
        ];
        if !charged {
            lines.push(line(
                (
                    "break_even_hour",
                    "Break-even rate an hour",
                    FigureKind::Rate,
                ),
                "(labour + overhead) / paid person-hours",
                (cell("labour") + overhead).ratio(costs.hours_in_price()),
            ));
        }
        lines
    }

    /// Whether hours in the price are charged by a rate, so that their wages are no cost of it.
    fn charged_without_wage(&self) -> bool {
        let workers = &self.job.workers;
        let lines = self.labour.lines.iter().filter_map(|l| l.worker);
        let mut workers = lines.filter_map(|id| workers.get(id.index()));
        workers.any(|w| w.pay == Pay::Paid && w.charge_rate.is_some())
    }

    /// The price with tax for one bed, for a unit of their area and of their fill.
    fn for_one(&self, tail: &Tail) -> Vec<Line> {
        let total = Term::Cell(tail.cell("total"));
        let units = self.units();
        let sum = |of: &dyn Fn(&TakeOff) -> Amount| {
            let kinds = self.kinds.kinds.iter().zip(self.takeoffs);
            let each = kinds.map(|(kind, t)| units.number(of(t)).saturating_mul(kind.count));
            crate::units::round::tidy15(each.fold(Decimal::ZERO, Decimal::saturating_add))
        };
        let beds = self.kinds.kinds.iter().map(|k| k.count);
        let beds = beds.fold(Decimal::ZERO, Decimal::saturating_add);
        let area = sum(&|t| Amount::Area(t.inside_area));
        let filled = |t: &TakeOff| {
            let layers = t.layers.iter().map(|layer| layer.volume);
            Amount::Volume(layers.fold(Volume::ZERO, |sum, v| sum + v))
        };
        let volume = sum(&filled);
        let of_area = format!("Price for a {} of bed", units.unit(Dimension::Area));
        let of_fill = format!("Price for a {} of fill", units.unit(Dimension::Volume));
        let all = [
            (
                "price_a_bed",
                "Price for a bed".to_owned(),
                beds,
                "price with tax / beds",
            ),
            (
                "price_an_area",
                of_area,
                area,
                "price with tax / inside area of the beds",
            ),
            (
                "price_a_volume",
                of_fill,
                volume,
                "price with tax / fill in the beds",
            ),
        ];
        let some = all
            .into_iter()
            .filter(|(_, _, number, _)| !number.is_zero());
        some.map(|(key, label, number, words)| {
            let term = total.clone().ratio(Term::Number(number));
            line((key, &label, FigureKind::Rate), words, term)
        })
        .collect()
    }
}

fn line(
    (key, label, kind): (&'static str, &str, FigureKind),
    words: &'static str,
    term: Term,
) -> Line {
    let term = match kind {
        FigureKind::Money | FigureKind::Rate => term.money(),
        FigureKind::Share => Term::Round(Box::new(term), 4),
    };
    Line {
        key,
        label: label.to_owned(),
        words,
        kind,
        term,
    }
}
