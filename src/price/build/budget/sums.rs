//! Sums of the budget: what each funder pays with its indirect cost, each class, and the match.

use super::super::super::ledger::{Format, Ledger, Role, Value};
use super::super::super::term::{CellRef, ColRef, Term};
use super::super::Setting;
use super::super::inputs::{Inputs, row_u32};
use super::lines::Line;
use super::{FundingCells, LineCells, SHEET, terms, words};
use crate::model::funding::{CLASSES, CountsAs, Funder, MatchBase};
use crate::model::labour::Pay;
use crate::units::Decimal;

/// Columns of the block of funders, one row a funder.
pub(super) struct FunderCells {
    pub(super) direct: ColRef,
    pub(super) base: ColRef,
    pub(super) rate: ColRef,
    pub(super) indirect: ColRef,
    pub(super) total: ColRef,
    pub(super) asked: ColRef,
}

/// Columns of the block of classes: funders, in kind, not funded, total.
pub(super) struct SumCells {
    /// Mark and title of each row; sums have an empty mark.
    pub(super) rows: Vec<(&'static str, &'static str)>,
    pub(super) funders: Vec<ColRef>,
    pub(super) given: ColRef,
    pub(super) unfunded: ColRef,
    pub(super) total: ColRef,
}

/// Column of the block of the match, and which rows it has.
pub(super) struct MatchCells {
    pub(super) amount: ColRef,
    pub(super) has_hours: bool,
}

/// Rows of the match.
pub(super) const ASKED: usize = 0;
pub(super) const CASH: usize = 1;
pub(super) const KIND: usize = 2;
pub(super) const SHORT: usize = 3;
pub(super) const HOURS: usize = 4;

/// Marks of the classes that lines stand under, in the order of the form.
pub(super) fn marks(lines: &[Line]) -> Vec<&'static str> {
    let form = lines.first().map(|l| l.class.form);
    let mut marks: Vec<&'static str> = Vec::new();
    for class in CLASSES.iter().filter(|c| Some(c.form) == form) {
        let is_used = lines.iter().any(|l| l.class.mark == class.mark);
        if is_used && !marks.contains(&class.mark) {
            marks.push(class.mark);
        }
    }
    marks
}

impl Setting<'_> {
    pub(super) fn funder_block(
        &self,
        ledger: &mut Ledger,
        funding: &FundingCells,
        cells: &LineCells,
    ) -> FunderCells {
        let funders = &self.job.funding.funders;
        let block = ledger.block(SHEET, "Who pays", funders.len());
        let names: Vec<String> = funders.iter().map(|f| f.name.to_string()).collect();
        words(ledger, block, "Funder", &names);
        let counts: Vec<String> = funders
            .iter()
            .map(|f| f.counts_as.value.word().to_owned())
            .collect();
        words(ledger, block, "Counts as", &counts);
        let rules: Vec<String> = funders.iter().map(rules_words).collect();
        words(ledger, block, "Rules", &rules);
        let of = |f: &dyn Fn(usize) -> Term| (0..funders.len()).map(f).collect::<Vec<_>>();
        let column = |index: usize, of: fn(&super::Pays) -> ColRef| {
            cells
                .pays
                .get(index)
                .map_or(Term::whole(0), |p| Term::total(of(p)))
        };
        let direct = terms(
            ledger,
            block,
            "Direct cost",
            of(&|i| column(i, |p| p.amount)),
        );
        let base = terms(
            ledger,
            block,
            "Base of indirect",
            of(&|i| column(i, |p| p.base)),
        );
        ledger.note(base, "Modified total direct cost of what this funder pays.");
        let rates = of(&|i| funding.cell(funding.indirect, i));
        let role = Role::LiveRows(rates.into_iter().map(Some).collect());
        let rate = ledger.numbers(block, "Indirect %", Format::Percent, role, Vec::new());
        let indirect = self.down_to_unit(Term::Here(base) * Term::Here(rate));
        let indirect = ledger.live(block, "Indirect cost", Format::Money, indirect);
        ledger.note(indirect, "Rate x base, rounded down.");
        let total = (Term::Here(direct) + Term::Here(indirect)).money();
        let total = ledger.live(block, "Total", Format::Money, total);
        let asked = of(&|i| self.match_asked(funding, i, total));
        let asked = terms(ledger, block, "Match asked", asked);
        ledger.note(
            asked,
            "Of the total project: award x m / (1 - m); of the award: award x m. Rounded up.",
        );
        FunderCells {
            direct,
            base,
            rate,
            indirect,
            total,
            asked,
        }
    }

    /// Match that a funder asks for, rounded up to a unit of the budget.
    fn match_asked(&self, funding: &FundingCells, index: usize, total: ColRef) -> Term {
        let Some(funder) = self.job.funding.funders.get(index) else {
            return Term::whole(0);
        };
        if funder.match_share.is_none() || funder.counts_as.value != CountsAs::Award {
            return Term::whole(0);
        }
        let share = funding.cell(funding.match_share, index);
        let asked = match funder.match_base.value {
            MatchBase::Total => (Term::Here(total) * share.clone()).ratio(Term::whole(1) - share),
            MatchBase::Award => Term::Here(total) * share,
        };
        let unit = Term::Number(Decimal::new(1, self.budget_places()));
        Term::StepUp(Box::new(Term::Round(Box::new(asked), 9)), Box::new(unit))
    }

    /// One row a class, then direct cost, indirect cost and the total.
    pub(super) fn class_block(
        &self,
        ledger: &mut Ledger,
        lines: &[Line],
        cells: &LineCells,
        funders: &FunderCells,
    ) -> SumCells {
        let marks = marks(lines);
        let title = |mark: &str| {
            let class = lines.iter().find(|l| l.class.mark == mark);
            class.map_or("", |l| l.class.title)
        };
        let mut rows: Vec<(&str, &str)> = marks.iter().map(|m| (*m, title(m))).collect();
        rows.extend([
            ("", "Total direct cost"),
            ("", "Indirect cost"),
            ("", "Total"),
        ]);
        let block = ledger.block(SHEET, "By class", rows.len());
        let marked: Vec<String> = rows.iter().map(|(mark, _)| (*mark).to_owned()).collect();
        words(ledger, block, "Line", &marked);
        let titles: Vec<String> = rows.iter().map(|(_, title)| (*title).to_owned()).collect();
        words(ledger, block, "Class", &titles);
        let column = |ledger: &mut Ledger, title: &str, of: ColRef, indirect: Term| {
            let at = next(ledger, block);
            let class = |place: usize| Term::total_if(cells.class, whole(place), of);
            let mut all: Vec<Term> = (0..marks.len()).map(class).collect();
            let each = (0..marks.len()).map(|row| Term::cell(at, row));
            all.push(Term::add_all(each).money());
            all.push(indirect);
            let above = Term::cell(at, marks.len()) + Term::cell(at, marks.len() + 1);
            all.push(above.money());
            terms(ledger, block, title, all)
        };
        let mut paid = Vec::new();
        for (index, funder) in self.job.funding.funders.iter().enumerate() {
            if let Some(pays) = cells.pays.get(index) {
                let indirect = Term::cell(funders.indirect, index);
                paid.push(column(ledger, &funder.name, pays.amount, indirect));
            }
        }
        let given = column(ledger, "Match in kind", cells.given, Term::whole(0));
        let unfunded = column(ledger, "Not funded", cells.unfunded, Term::whole(0));
        let all = paid.iter().chain([&given, &unfunded]);
        let sum = Term::add_all(all.map(|col| Term::Here(*col)));
        let total = ledger.live(block, "Total", Format::Money, sum.money());
        SumCells {
            rows,
            funders: paid,
            given,
            unfunded,
            total,
        }
    }

    /// What is asked as match, what there is, and what it is short by, in money and in hours of volunteers.
    pub(super) fn match_block(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        (cells, funders): (&LineCells, &FunderCells),
    ) -> Option<MatchCells> {
        let all = &self.job.funding.funders;
        if all.iter().all(|f| f.match_share.is_none()) {
            return None;
        }
        let rate = self.hour_given(inputs);
        let has_hours = rate.is_some();
        let block = ledger.block(SHEET, "Match", if has_hours { 5 } else { 4 });
        let labels = [
            "Asked for",
            "In cash",
            "In kind",
            "Short by",
            "Short by, in hours of volunteers",
        ];
        let labels = labels.iter().take(ledger.rows(block));
        ledger.label(block, "Match", labels.map(|l| Value::text(l)).collect());
        let at = next(ledger, block);
        let of = |counts: CountsAs| {
            let them = all
                .iter()
                .enumerate()
                .filter(move |(_, f)| f.counts_as.value == counts);
            Term::add_all(them.map(|(row, _)| Term::cell(funders.total, row)))
        };
        let there = Term::cell(at, CASH) + Term::cell(at, KIND);
        let short = (Term::cell(at, ASKED) - there).max(Term::whole(0));
        let mut rows = vec![
            Term::total(funders.asked),
            of(CountsAs::CashMatch).money(),
            (Term::total(cells.given) + of(CountsAs::InKind)).money(),
            short.money(),
        ];
        rows.extend(rate.map(|rate| {
            let hours = Term::cell(at, SHORT).ratio(rate);
            Term::StepUp(Box::new(hours), Box::new(Term::Number(Decimal::new(5, 1))))
        }));
        let formats = (0..rows.len()).map(|row| match row {
            HOURS => Format::Number(1),
            _ => Format::Money,
        });
        let formats = formats.collect();
        let amount = terms(ledger, block, "Amount", rows);
        if let Some(column) = ledger.column_mut(amount) {
            column.row_formats = formats;
        }
        Some(MatchCells { amount, has_hours })
    }

    /// The value of an hour of the first volunteers by name.
    fn hour_given(&self, inputs: &Inputs) -> Option<Term> {
        let col = inputs.workers.in_kind?;
        let workers = self.job.workers.iter().enumerate();
        let mut given = workers.filter(|(_, w)| w.pay == Pay::Volunteer && w.in_kind.is_some());
        let (index, _) = given.next()?;
        let row = inputs.workers.row(index)?;
        Some(Term::Cell(CellRef { col, row }))
    }
}

/// The rules of an award, in words.
fn rules_words(funder: &Funder) -> String {
    if funder.counts_as.value != CountsAs::Award {
        return String::new();
    }
    match &funder.award_date {
        Some(_) => funder.rules.words.to_owned(),
        None => format!("{}: no Award date is set", funder.rules.words),
    }
}

fn whole(place: usize) -> i64 {
    i64::from(row_u32(place)).saturating_add(1)
}

/// The place of the column that is added next.
fn next(ledger: &Ledger, block: u16) -> ColRef {
    let columns = ledger
        .blocks
        .get(usize::from(block))
        .map_or(0, |b| b.columns.len());
    ColRef {
        block,
        column: u16::try_from(columns).unwrap_or(u16::MAX),
    }
}
