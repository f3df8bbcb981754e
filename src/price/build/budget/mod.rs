//! The budget of a job that grants pay for: lines under the classes of a form, who pays how much of each,
//! indirect cost, match, and what nobody pays yet. All of it is live.
//!
//! No line holds overhead or profit: a recipient earns none on its own work (2 CFR 200.400(g)), and
//! indirect cost takes the place of overhead.

mod collect;
mod lines;
mod narrative;
mod notices;
mod pay;
mod sums;

pub(super) use notices::messages;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, Cond, Term};
use super::Setting;
use super::echo::Echo;
use super::inputs::Inputs;
use super::table::Table;
use super::tail::{Costs, Tail};
use crate::model::job::Job;
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::units::Decimal;
use lines::Line;

/// The sheet that the blocks stand on.
const SHEET: &str = "Budget";

/// The `Funding` sheet in the estimate.
pub(super) struct FundingCells {
    rows: Vec<Option<u32>>,
    amount: ColRef,
    match_share: ColRef,
    indirect: ColRef,
}

/// The budget's blocks, to be read once they have numbers.
pub(super) struct BudgetCells {
    lines: Vec<Line>,
    cells: LineCells,
    funders: sums::FunderCells,
    sums: sums::SumCells,
    matching: Option<sums::MatchCells>,
}

/// Columns of the block of lines.
struct LineCells {
    class: ColRef,
    cost: ColRef,
    /// The cost as the budget has it, in whole units where the job wants them.
    amount: ColRef,
    /// What is given, at its stated value.
    given: ColRef,
    /// What each funder pays, and what of that is in the base of its indirect cost.
    pays: Vec<Pays>,
    unfunded: ColRef,
}

struct Pays {
    amount: ColRef,
    base: ColRef,
}

/// The input sheet; `None` for a job without funders.
pub(super) fn inputs(ledger: &mut Ledger, job: &Job, sources: &Sources) -> Option<FundingCells> {
    let funders = &job.funding.funders;
    if funders.is_empty() {
        return None;
    }
    let mut echo = Echo::new(ledger, sources, Sheet::Funding, 0);
    let rows: Vec<Option<usize>> = funders.iter().map(|f| echo.row(f.at)).collect();
    let mut given = |title: &'static str, format, of: &dyn Fn(usize) -> Option<Decimal>| {
        let numbers = rows.iter().enumerate();
        let numbers = numbers.filter_map(|(index, row)| Some(((*row)?, of(index))));
        echo.given(ledger, (title, title), format, numbers.collect::<Vec<_>>())
    };
    let of = |index: usize| funders.get(index);
    let amount = given("Amount", Format::Money, &|i| {
        Some(of(i)?.amount.as_ref()?.value)
    });
    let match_share = given("Match %", Format::Percent, &|i| {
        Some(of(i)?.match_share.as_ref()?.value)
    });
    let indirect = given("Indirect %", Format::Percent, &|i| {
        Some(&of(i)?.indirect)
            .filter(|r| r.is_given())
            .map(|r| r.value)
    });
    Some(FundingCells {
        rows: rows
            .into_iter()
            .map(|r| r.map(super::inputs::row_u32))
            .collect(),
        amount,
        match_share,
        indirect,
    })
}

impl FundingCells {
    /// A cell of a funder's row.
    fn cell(&self, col: ColRef, funder: usize) -> Term {
        let row = self.rows.get(funder).copied().flatten();
        row.map_or(Term::whole(0), |row| {
            Term::Cell(super::super::term::CellRef { col, row })
        })
    }
}

impl Setting<'_> {
    /// The blocks of the budget.
    pub(super) fn budget(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        (costs, tail): (&Costs<'_>, &Tail),
        present: Option<ColRef>,
    ) -> Option<BudgetCells> {
        let funding = inputs.funding.as_ref()?;
        let lines = self.budget_lines(inputs, (costs, tail), present);
        let cells = self.line_block(ledger, funding, &lines);
        let funders = self.funder_block(ledger, funding, &cells);
        let sums = self.class_block(ledger, &lines, &cells, &funders);
        let matching = self.match_block(ledger, inputs, (&cells, &funders));
        Some(BudgetCells {
            lines,
            cells,
            funders,
            sums,
            matching,
        })
    }

    /// Decimals of the amounts of the budget.
    fn budget_places(&self) -> u32 {
        if self.job.funding.whole_units.value {
            0
        } else {
            self.job.settings.currency.value.minor
        }
    }

    fn to_unit(&self, term: Term) -> Term {
        Term::Round(Box::new(term), self.budget_places())
    }

    /// The number rounded down to a unit of the budget, so that no award is overdrawn.
    fn down_to_unit(&self, term: Term) -> Term {
        let places = self.budget_places();
        let exact = Term::Round(Box::new(term), 9);
        let near = Term::Round(Box::new(exact.clone()), places);
        let is_over = Cond::Greater(near.clone(), exact);
        let below = near.clone() - Term::Number(Decimal::new(1, places));
        let below = Term::Round(Box::new(below), places);
        Term::If(Box::new(is_over), Box::new(below), Box::new(near))
    }

    /// Lines with their amounts, and who pays how much of each.
    fn line_block(&self, ledger: &mut Ledger, funding: &FundingCells, lines: &[Line]) -> LineCells {
        let mut table = Table::new(ledger, SHEET, "Lines of the budget", lines.len());
        let block = table.block();
        let classes = lines
            .iter()
            .map(|l| format!("{}. {}", l.class.mark, l.class.title));
        table.words("Class", classes);
        table.words("What", lines.iter().map(|l| l.name.to_string()));
        table.words("Kind", lines.iter().map(|l| l.kind.word().to_owned()));
        let marks = sums::marks(lines);
        let number = |l: &Line| {
            let place = marks.iter().position(|m| *m == l.class.mark).unwrap_or(0);
            Decimal::from(super::inputs::row_u32(place).saturating_add(1))
        };
        let class = table.label("Class number", 0, lines.iter().map(number));
        table.behind(class);
        let sum = |l: &Line| Term::add_all(l.parts.iter().map(|p| p.cost.clone())).money();
        let money = |in_kind: bool| {
            lines.iter().map(move |l| {
                if l.kind.is_in_kind() == in_kind {
                    sum(l)
                } else {
                    Term::whole(0)
                }
            })
        };
        let cost = table.rows("Cost", Format::Money, money(false).collect::<Vec<_>>());
        let amount = table.live_money("Budget", self.to_unit(Term::Here(cost)));
        table.note(
            amount,
            "Each line is rounded by itself; totals are sums of what is printed.",
        );
        let value = table.rows(
            "Value given",
            Format::Money,
            money(true).collect::<Vec<_>>(),
        );
        table.in_order(named_first(lines));
        let mut pays: Vec<Pays> = Vec::new();
        for funder in 0..self.job.funding.funders.len() {
            let paid = pays.iter().map(|p| Term::Here(p.amount));
            let left = paid.fold(Term::Here(amount), |left, paid| left - paid);
            pays.push(self.pays(&mut table, (funding, funder), lines, left));
        }
        let given = table.live_money("Match in kind", self.to_unit(Term::Here(value)));
        let paid = pays.iter().map(|p| Term::Here(p.amount));
        let left = paid.fold(Term::Here(amount), |left, paid| left - paid);
        let unfunded = table.live_money("Not funded", self.to_unit(left));
        debug_assert_eq!(block, unfunded.block);
        LineCells {
            class,
            cost,
            amount,
            given,
            pays,
            unfunded,
        }
    }
}

/// Rows in the order in which funders pay: what names its funder first, so that nothing else takes its money.
fn named_first(lines: &[Line]) -> Vec<usize> {
    let rows = |named: bool| {
        let all = lines.iter().enumerate();
        all.filter(move |(_, l)| l.funder.is_some() == named)
            .map(|(row, _)| row)
    };
    rows(true).chain(rows(false)).collect()
}

/// A column with numbers of its own in each row that only the program sets.
fn flags(table: &mut Table<'_>, title: &str, flags: Vec<Decimal>) -> ColRef {
    let at = table.label(title, 0, flags);
    table.behind(at);
    at
}

/// Words of a block's first column.
fn words(ledger: &mut Ledger, block: u16, title: &str, all: &[String]) {
    ledger.label(block, title, all.iter().map(|w| Value::text(w)).collect());
}

/// A column of money with a term of its own in each row.
fn terms(ledger: &mut Ledger, block: u16, title: &str, terms: Vec<Term>) -> ColRef {
    let role = Role::LiveRows(terms.into_iter().map(Some).collect());
    ledger.numbers(block, title, Format::Money, role, Vec::new())
}
