//! The `Labour` sheet in the estimate: the job's own hours, and the typical ones to be changed to them.

use std::collections::{BTreeMap, BTreeSet};

use super::super::ledger::{Format, Ledger, Value};
use super::echo::Echo;
use super::inputs::{Priced, row_u32, set};
use crate::labour::Labour;
use crate::model::job::Job;
use crate::model::labour::{Task, TaskId};
use crate::model::library::folded;
use crate::model::sheet::Sheet;
use crate::model::source::{RowAt, Sources};

/// The block of tasks: the job's own rows, and the typical ones that brought hours.
pub(super) fn tasks(ledger: &mut Ledger, job: &Job, sources: &Sources, labour: &Labour) -> Priced {
    // A row that names a typical task without hours of its own, only who does it, is its row.
    let named = rows_by_task(sources);
    let row_of = |t: &Task| {
        let by_name = named
            .get(&folded(&t.name))
            .or_else(|| named.get(&folded(&t.key)));
        t.at.or_else(|| by_name.copied())
    };
    let used: BTreeSet<TaskId> = labour.lines.iter().filter_map(|l| l.task).collect();
    let added: Vec<TaskId> = used
        .into_iter()
        .filter(|id| {
            job.tasks
                .get(id.index())
                .is_some_and(|t| row_of(t).is_none())
        })
        .collect();
    let mut echo = Echo::new(ledger, sources, Sheet::Labour, added.len());
    let first_added = echo.rows.len();
    let name = echo.field(ledger, "Task");
    let own = |t: &Task| row_of(t).and_then(|at| echo.row(at));
    let mut rows: Vec<Option<usize>> = job.tasks.iter().map(own).collect();
    for (row, id) in (first_added..).zip(&added) {
        if let (Some(task), Some(slot)) = (job.tasks.get(id.index()), rows.get_mut(id.index())) {
            *slot = Some(row);
            set(ledger, name, row, Value::text(&task.name));
        }
    }
    let from = origins(ledger, &mut echo, job, &rows);
    let hours = job.tasks.iter().zip(&rows);
    let hours: Vec<_> = hours
        .filter_map(|(t, row)| Some(((*row)?, Some(t.rate.value))))
        .collect();
    let title = ("Person-hours", "Person-hours");
    let price = echo.given(ledger, title, Format::Number(4), hours);
    for task in super::hours::rested_on(job, labour) {
        let row = rows.get(task.index()).copied().flatten();
        ledger.rested_on.extend(row.map(|row| (price, row)));
    }
    ledger.label(echo.block, "From", from);
    Priced {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        price,
    }
}

/// Where the hours of each row come from; typical ones also get what they are counted by.
fn origins(ledger: &mut Ledger, echo: &mut Echo, job: &Job, rows: &[Option<usize>]) -> Vec<Value> {
    let per = echo.field(ledger, "Per");
    let mut from = vec![Value::text("yours"); ledger.rows(echo.block)];
    for (task, row) in job.tasks.iter().zip(rows) {
        let (None, Some(row)) = (task.at, row) else {
            continue;
        };
        set(ledger, per, *row, Value::text(&task.per_words));
        if let Some(value) = from.get_mut(*row) {
            *value = Value::text("typical, change it to your own");
        }
    }
    from
}

/// The rows of `Labour` by what they name.
fn rows_by_task(sources: &Sources) -> BTreeMap<String, RowAt> {
    let mut rows = BTreeMap::new();
    for (table, source) in sources.of(Sheet::Labour) {
        let column = source.columns.iter().position(|c| c.field == Some("Task"));
        for row in &source.rows {
            if let Some(task) = column.and_then(|c| row.cells.get(c)) {
                let at = RowAt {
                    table,
                    row: row.row,
                };
                rows.entry(folded(&task.text())).or_insert(at);
            }
        }
    }
    rows
}
