//! The tables of the starters agree with each other.

use std::collections::BTreeSet;

use jiff::civil::date;

use super::content::{Table, bare, tables};
use super::lists::{defined, plan};
use super::notes::{self, Choices, ColumnNote};
use super::{Purpose, Starter};
use crate::model::sheet::Sheet;
use crate::read::library;
use crate::units::System;

fn all() -> Vec<(System, Vec<Table>)> {
    let mut all = Vec::new();
    for purpose in Purpose::ALL {
        for system in [System::UsCustomary, System::Metric] {
            let starter = Starter {
                purpose,
                system,
                job: "garden",
                today: date(2026, 5, 4),
                commands: &[],
            };
            all.push((system, tables(&starter)));
        }
    }
    all
}

/// Every cell of the example with what is said of it: of its column, or of its setting.
fn cells(table: &Table) -> impl Iterator<Item = (&str, Option<&'static ColumnNote>)> {
    table.rows.iter().flat_map(move |row| {
        let setting = notes::of(Sheet::Job, row.first().map_or("", String::as_str));
        let is_job = table.sheet == Sheet::Job;
        let noted = row.iter().zip(&table.columns);
        noted.map(move |(cell, column)| match column.title.as_str() {
            "Value" if is_job => (cell.as_str(), setting),
            _ => (cell.as_str(), column.note),
        })
    })
}

#[test]
fn rows_are_as_wide_as_their_titles() {
    for (_, tables) in all() {
        for table in tables {
            for row in &table.rows {
                assert_eq!(row.len(), table.columns.len(), "{:?} {row:?}", table.sheet);
            }
        }
    }
}

#[test]
fn every_note_is_about_something_that_a_starter_has() {
    let mut there = BTreeSet::new();
    for (_, tables) in all() {
        for table in tables {
            let titles = table.columns.iter().map(|c| bare(&c.title).to_owned());
            let settings = table.rows.iter().filter_map(|row| row.first().cloned());
            let settings = settings.filter(|_| table.sheet == Sheet::Job);
            there.extend(titles.chain(settings).map(|t| (table.sheet.title(), t)));
        }
    }
    for (sheet, column) in notes::all() {
        let is_there = there.iter().any(|(s, c)| *s == sheet && c == column);
        assert!(is_there, "{sheet} {column}");
    }
}

#[test]
fn every_example_is_among_what_its_drop_down_offers() {
    let library = library::builtin();
    let mut looked_at = 0;
    for (system, tables) in all() {
        let lists = plan(&tables, &library, system);
        for table in &tables {
            for (cell, note) in cells(table).filter(|(cell, _)| !cell.is_empty()) {
                let offered = match note.map(|n| &n.choices) {
                    Some(Choices::Words(words)) => words.iter().any(|w| w == cell),
                    Some(Choices::List(name)) => {
                        let list = lists.iter().find(|l| l.name == defined(name)).unwrap();
                        list.names().any(|n| n.eq_ignore_ascii_case(cell))
                    }
                    Some(Choices::None) | None => continue,
                };
                looked_at += 1;
                assert!(offered, "{:?} {cell}", table.sheet);
            }
        }
    }
    assert!(looked_at > 300, "{looked_at}");
}
