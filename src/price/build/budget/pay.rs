//! What a funder pays of each line: what is left of the line, as far as its money reaches with the indirect
//! cost that the line brings.

use super::super::super::ledger::{Format, Role};
use super::super::super::term::{Cond, Term};
use super::super::Setting;
use super::super::table::Table;
use super::lines::Line;
use super::{FundingCells, Pays, flags};
use crate::model::funding::{Funder, InBase, LineKind, Target};
use crate::model::library::folded;
use crate::units::Decimal;

impl Setting<'_> {
    /// The columns of one funder; `left` is what the funders before it leave of a line.
    pub(super) fn pays(
        &self,
        table: &mut Table<'_>,
        (funding, index): (&FundingCells, usize),
        lines: &[Line],
        left: Term,
    ) -> Pays {
        let Some(funder) = self.job.funding.funders.get(index) else {
            return Pays {
                amount: funding.amount,
                base: funding.amount,
            };
        };
        let name = &funder.name;
        let number = |yes: bool| Decimal::from(u8::from(yes));
        let may = lines.iter().map(|l| number(may_pay(funder, index, l)));
        let may = flags(table, &format!("{name} may pay (1)"), may.collect());
        let in_base = lines
            .iter()
            .map(|l| number(base_of(funder, l) != InBase::Nothing));
        let in_base = flags(
            table,
            &format!("In the base of {name} (1)"),
            in_base.collect(),
        );
        let most = lines.iter().map(|l| match base_of(funder, l) {
            InBase::First => funder.rules.first_of_subaward,
            _ => Decimal::ZERO,
        });
        let most = flags(
            table,
            &format!("Most in the base of {name}"),
            most.collect(),
        );
        let rate = funding.cell(funding.indirect, index);
        let with_indirect = Term::whole(1) + rate * Term::Here(in_base);
        let used = table.next();
        let share = if funder.amount.is_some() {
            let cap = funding.cell(funding.amount, index);
            let room = (cap - Term::Before(used)).ratio(with_indirect.clone());
            let room = self.down_to_unit(room);
            Term::Min(Box::new(left), Box::new(room)).max(Term::whole(0))
        } else {
            left
        };
        let pays_it = Cond::Equal(Term::Here(may), Term::whole(1));
        let share = Term::If(Box::new(pays_it), Box::new(share), Box::new(Term::whole(0)));
        let share = Term::Round(Box::new(share), self.budget_places());
        let running = Term::Before(used) + share.clone() * with_indirect;
        table.running(
            &format!("Used of {name}"),
            Term::Round(Box::new(running), 9),
        );
        let amount = table.live_money(name, share);
        table.note(
            amount,
            "As far as its amount reaches, with the indirect cost of the line.",
        );
        let whole = Term::Here(amount) * Term::Here(in_base);
        let first = Term::Min(Box::new(whole.clone()), Box::new(Term::Here(most)));
        let is_capped = Cond::Greater(Term::Here(most), Term::whole(0));
        let base = Term::If(Box::new(is_capped), Box::new(first), Box::new(whole));
        let base = table.column(&format!("Base of {name}"), Format::Money, Role::Live(base));
        table.behind(base);
        Pays { amount, base }
    }
}

/// Whether a funder may pay a line: the one that the line names, else each whose `Pays for` covers it.
fn may_pay(funder: &Funder, index: usize, line: &Line) -> bool {
    if line.kind.is_in_kind() {
        return false;
    }
    if let Some(only) = line.funder {
        return only == index;
    }
    // A reserve is no cost of the work: only who names it pays it.
    let names_it = |target: &Target| match target {
        Target::Class(class) => **class == *line.class || class.title == line.class.title,
        Target::Kind(kind) => *kind == line.kind,
        Target::Named(name) => folded(name) == folded(&line.name),
    };
    let is_named = funder.pays_for.iter().any(names_it);
    is_named || (funder.pays_for.is_empty() && line.kind != LineKind::Contingency)
}

/// What of a line is in the base of a funder's indirect cost.
pub(super) fn base_of(funder: &Funder, line: &Line) -> InBase {
    if funder.subaward && line.class.key == "contractual" {
        InBase::First
    } else {
        line.class.base
    }
}
