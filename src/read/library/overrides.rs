//! Where a job gives its own figures, from `templates/overrides.csv`.

use std::sync::Arc;

use super::table::{Read, TableRow};
use crate::model::overrides::Override;
use crate::model::sheet::Sheet;

/// The table's text.
pub(super) const TABLE: &str = include_str!("../../../templates/overrides.csv");

pub(super) fn entry(row: &TableRow) -> Read<Override> {
    let every = |text: Arc<str>| (&*text != "*").then_some(text);
    let sheet = row.word("sheet", |word| match word {
        "" => Some(None),
        title => {
            let found = Sheet::ALL.into_iter().find(|s| s.title() == title);
            found.map(Some)
        }
    })?;
    let place = match sheet {
        Some(sheet) => Some((sheet, row.text("field")?)),
        None => None,
    };
    Ok(Override {
        table: row.text("table")?,
        key: every(row.text("key")?),
        column: every(row.text("column")?),
        how: match place {
            Some(_) => row.words("how")?,
            None => row.text("how")?,
        },
        place,
    })
}
