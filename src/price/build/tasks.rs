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
    let named = rows_by_task(sources);
    // A row that names a typical task without hours of its own, only who does it, is its row.
    let row_of = |task: &Task| {
        let found = [&task.name, &task.key].map(|name| named.get(&folded(name)));
        let by_name = found.into_iter().flatten().next();
        task.at.or_else(|| by_name.copied())
    };
    let tasks = typical(job, labour);
    let unnamed = tasks.into_iter().filter(|(_, task)| row_of(task).is_none());
    let added: Vec<(TaskId, &Task)> = unnamed.collect();
    let mut echo = Echo::new(ledger, sources, Sheet::Labour, added.len());
    let first_added = echo.rows.len();
    let name = echo.field(ledger, "Task");
    let per = echo.field(ledger, "Per");
    let mut rows: Vec<Option<usize>> = job
        .tasks
        .iter()
        .map(|t| row_of(t).and_then(|at| echo.row(at)))
        .collect();
    let mut from = vec![Value::text("yours"); ledger.rows(echo.block)];
    for (row, (id, task)) in (first_added..).zip(added) {
        if let Some(slot) = rows.get_mut(id.index()) {
            *slot = Some(row);
        }
        set(ledger, name, row, Value::text(&task.name));
    }
    for (task, row) in job.tasks.iter().zip(&rows) {
        if let (None, Some(row)) = (task.at, row) {
            set(ledger, per, *row, Value::text(&task.per_words));
            if let Some(value) = from.get_mut(*row) {
                *value = Value::text("typical, change it to your own");
            }
        }
    }
    let numbers: Vec<_> = job
        .tasks
        .iter()
        .zip(&rows)
        .filter_map(|(t, row)| Some(((*row)?, Some(t.rate.value))))
        .collect();
    let price = echo.given(
        ledger,
        ("Person-hours", "Person-hours"),
        Format::Number(4),
        numbers,
    );
    ledger.label(echo.block, "From", from);
    Priced {
        block: echo.block,
        rows: rows.into_iter().map(|r| r.map(row_u32)).collect(),
        price,
    }
}

/// The typical tasks that brought hours, in the order of the job's tasks.
fn typical<'a>(job: &'a Job, labour: &Labour) -> Vec<(TaskId, &'a Task)> {
    let used: BTreeSet<TaskId> = labour.lines.iter().filter_map(|l| l.task).collect();
    let tasks = used
        .into_iter()
        .filter_map(|id| Some((id, job.tasks.get(id.index())?)));
    tasks.filter(|(_, task)| task.at.is_none()).collect()
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
