//! The `Areas` sheet: what was typed, what the take-off says, and each area's share of cost and price.

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::Term;
use super::Setting;
use super::bearing::{Base, Bearing};
use super::echo::Echo;
use super::shares::Kinds;
use super::tail::Tail;
use crate::model::ground::AreaId;
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::takeoff::TakeOff;
use crate::units::{Amount, Dimension};

impl Setting<'_> {
    /// The block of areas, whose shares go on where those of the beds end; `None` when there are none.
    pub(super) fn areas(
        &self,
        ledger: &mut Ledger,
        sources: &Sources,
        (kinds, tail): (&Kinds, &Tail),
        beds: &Bearing,
    ) -> Option<Bearing> {
        if self.job.areas.is_empty() {
            return None;
        }
        let echo = Echo::new(ledger, sources, Sheet::Areas, 0);
        let block = echo.block;
        let areas = &self.job.areas;
        let rows: Vec<usize> = areas
            .iter()
            .map(|a| echo.row(a.at).unwrap_or(usize::MAX))
            .collect();
        self.area_figures(ledger, block, &rows);
        let mut links = vec![None; ledger.rows(block)];
        for (index, row) in rows.iter().enumerate() {
            let kind = self.kinds.of_area(AreaId::of(index));
            if let Some(link) = links.get_mut(*row) {
                *link = kind.map(|k| k.0);
            }
        }
        let to_kind = ledger.link(block, kinds.block, links);
        let mut order: Vec<usize> = (0..areas.len()).collect();
        order.sort_by_cached_key(|index| {
            areas.get(*index).map(|a| {
                let (site, phase) = (self.site_words(a.site), self.phase_words(a.phase));
                (site, phase, a.name.clone())
            })
        });
        let base = Base {
            block,
            rows,
            order,
            to_kind,
            count: Term::whole(1),
            places: areas.iter().map(|a| (a.site, a.phase)).collect(),
            kinds,
            tail,
            after: beds.ends.clone(),
        };
        Some(self.bearing(ledger, base))
    }

    /// Size in words, the area that is covered, and what leaves it as spoil.
    fn area_figures(&self, ledger: &mut Ledger, block: u16, rows: &[usize]) {
        let units = self.units();
        let count = ledger.rows(block);
        let values = |value: &dyn Fn(&TakeOff) -> Value| {
            let mut values = vec![Value::Empty; count];
            for (index, row) in rows.iter().enumerate() {
                let kind = self.kinds.of_area(AreaId::of(index));
                let takeoff = kind.and_then(|k| self.takeoffs.get(k.index()));
                if let (Some(slot), Some(takeoff)) = (values.get_mut(*row), takeoff) {
                    *slot = value(takeoff);
                }
            }
            values
        };
        let words = values(&|t| Value::text(&t.size));
        ledger.label(block, "Size in words", words);
        let covered = values(&|t| Value::number(units.number(Amount::Area(t.outside_area))));
        let title = format!("Covered ({})", units.unit(Dimension::Area));
        ledger.numbers(block, &title, Format::Number(2), Role::Label, covered);
    }
}
