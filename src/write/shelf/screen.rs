//! The library on the terminal: what tables there are, a table at a glance, rows in full.

use super::card::card;
use super::rows::{ShelfFigure, ShelfRow, ShelfTable};
use crate::model::library::TYPICAL;
use crate::units::show::grouped_plain;
use crate::write::columns::{pad, pad_left, wrap};
use crate::write::paint::Paint;

/// Least width of the column of names.
const LEAST_NAME: usize = 16;
/// Characters of the column that says where one's own figure goes.
const YOURS: usize = 25;

/// What tables there are, each line ended.
pub fn overview(tables: &[ShelfTable], paint: Paint, width: usize) -> String {
    let title = "The trade library: what a job falls back on where it says nothing";
    let mut lines = vec![paint.heading(title), String::new()];
    for table in tables {
        let start = format!("  {} {:>3}  ", pad(table.name, 10), table.rows.len());
        let indent = " ".repeat(start.chars().count());
        lines.extend(wrap(&format!("{start}{}", table.about), width, &indent));
    }
    lines.push(String::new());
    let more = [
        ("materials", "a table at a glance"),
        (
            "materials compost",
            "rows in full, with where they are from",
        ),
        ("--used job.xlsx", "what a job takes, and what it overrides"),
        (
            "--out library.xlsx",
            "all of it, to look through and change",
        ),
    ];
    for (words, does) in more {
        lines.push(format!("  loamwright defaults {}  {does}", pad(words, 18)));
    }
    ended(&lines)
}

/// A table at a glance, or its rows in full when a word was looked for.
pub fn table(table: &ShelfTable, in_full: bool, paint: Paint, width: usize) -> String {
    if in_full {
        let cards = table.rows.iter().map(|row| card(row, paint, width));
        return cards.collect::<Vec<_>>().join("\n");
    }
    let mut lines = Vec::new();
    for rows in groups(&table.rows) {
        let single = rows.iter().all(|row| row.figures.len() == 1);
        let group = rows.first().map_or("", |row| row.group);
        let title = if group.is_empty() { table.name } else { group };
        lines.push(paint.heading(&capital(title)));
        if single {
            lines.extend(list(&rows, width));
        } else {
            lines.extend(matrix(&rows, width));
        }
        lines.push(String::new());
    }
    lines.extend(feet(table, width));
    ended(&lines)
}

/// Rows with the same figures stand together, in the order of their first.
fn groups(rows: &[ShelfRow]) -> Vec<Vec<&ShelfRow>> {
    let mut groups: Vec<Vec<&ShelfRow>> = Vec::new();
    for row in rows {
        let same = groups
            .iter_mut()
            .find(|g| g.first().is_some_and(|first| first.group == row.group));
        match same {
            Some(group) => group.push(row),
            None => groups.push(vec![row]),
        }
    }
    groups
}

/// A column for each figure, with its unit under its title.
fn matrix(rows: &[&ShelfRow], width: usize) -> Vec<String> {
    let Some(first) = rows.first() else {
        return Vec::new();
    };
    let columns: Vec<usize> = (0..first.figures.len())
        .map(|place| width_of(rows, place))
        .collect();
    let taken: usize = columns.iter().sum();
    let longest = rows.iter().map(|row| row.name.chars().count()).max();
    let longest = longest.unwrap_or(0);
    let wide = longest + 2 + taken + 2 * columns.len() <= width;
    let gap = if wide { 2 } else { 1 };
    let room = width.saturating_sub(taken + gap * columns.len() + 2);
    let name = longest.min(room.max(LEAST_NAME));
    let gap = " ".repeat(gap);
    let stars: Vec<bool> = (0..columns.len()).map(|c| starred(rows, c)).collect();
    let line = |title: &str, cells: Vec<String>| {
        let cells = cells.iter().zip(&columns);
        let cells = cells.map(|(cell, width)| format!("{gap}{}", pad_left(cell, *width)));
        let line = format!("  {}{}", pad(title, name), cells.collect::<String>());
        line.trim_end().to_owned()
    };
    // Room for a star stays free where a column has one.
    let of = |show: fn(&ShelfFigure) -> String, row: &ShelfRow| {
        let cells = row.figures.iter().zip(&stars);
        let cells = cells.map(|(figure, starred)| match show(figure) {
            cell if *starred && !cell.ends_with('*') => format!("{cell} "),
            cell => cell,
        });
        cells.collect::<Vec<String>>()
    };
    let mut lines = vec![
        line("", of(|f| f.short.to_owned(), first)),
        line("", of(|f| f.unit.clone(), first)),
    ];
    lines.extend(rows.iter().map(|row| line(&row.name, of(marked, row))));
    lines
}

fn starred(rows: &[&ShelfRow], place: usize) -> bool {
    let mut figures = rows.iter().filter_map(|row| row.figures.get(place));
    figures.any(|figure| figure.is_seen)
}

fn width_of(rows: &[&ShelfRow], place: usize) -> usize {
    let star = usize::from(starred(rows, place));
    let figures = rows.iter().filter_map(|row| row.figures.get(place));
    let widths = figures.map(|f| {
        let head = f.short.len().max(f.unit.len());
        let number = marked(f).trim_end_matches('*').chars().count();
        number.max(head) + star
    });
    widths.max().unwrap_or(0)
}

/// The number, with a star when it was seen in a source.
fn marked(figure: &ShelfFigure) -> String {
    let number = figure.value.map(|value| grouped_plain(value, 4));
    star(number.unwrap_or_default(), figure)
}

fn star(number: String, figure: &ShelfFigure) -> String {
    if figure.is_seen && !number.is_empty() {
        format!("{number}*")
    } else {
        number
    }
}

/// One figure a row: name, value and range, and where one's own goes when that differs by row.
fn list(rows: &[&ShelfRow], width: usize) -> Vec<String> {
    let differs = yours_of(rows.iter().copied()).len() > 1;
    let values: Vec<String> = rows.iter().map(|row| value(row)).collect();
    let ranges: Vec<String> = rows.iter().map(|row| range(row)).collect();
    let longest = |cells: &[String]| cells.iter().map(|c| c.chars().count()).max().unwrap_or(0);
    let (value_width, range_width) = (longest(&values), longest(&ranges));
    let yours = if differs { YOURS } else { 0 };
    let gaps = 8;
    let name = width.saturating_sub(value_width + range_width + yours + gaps);
    let name = name.max(LEAST_NAME);
    let mut lines = Vec::new();
    for ((row, value), range) in rows.iter().zip(values).zip(ranges) {
        let own = row.figures.first().filter(|_| differs);
        let own = own.map_or("", |f| &f.yours);
        let names = wrap(&row.name, name, "  ");
        let owns = wrap(own, YOURS, "  ");
        for number in 0..names.len().max(owns.len()) {
            let at = |cells: &[String]| cells.get(number).cloned().unwrap_or_default();
            let once = |cell: &str| {
                if number == 0 {
                    cell.to_owned()
                } else {
                    String::new()
                }
            };
            let line = format!(
                "  {}  {}  {}  {}",
                pad(&at(&names), name),
                pad(&once(&value), value_width),
                pad(&once(&range), range_width),
                at(&owns)
            );
            lines.push(line.trim_end().to_owned());
        }
    }
    lines
}

fn value(row: &ShelfRow) -> String {
    let figure = row.figures.first();
    figure.map_or_else(String::new, |f| star(f.with_unit(), f))
}

fn range(row: &ShelfRow) -> String {
    let figure = row.figures.first();
    figure.map(ShelfFigure::range_words).unwrap_or_default()
}

/// Where one's own figures go, each place once.
fn yours_of<'a>(rows: impl Iterator<Item = &'a ShelfRow>) -> Vec<&'a str> {
    let mut places: Vec<&str> = Vec::new();
    for figure in rows.flat_map(|row| &row.figures) {
        if !places.contains(&&*figure.yours) {
            places.push(&figure.yours);
        }
    }
    places
}

/// What the stars mean, and where one's own figures go.
fn feet(table: &ShelfTable, width: usize) -> Vec<String> {
    let seen = table.rows.iter().flat_map(|row| &row.figures);
    let any = seen.clone().any(|f| f.is_seen);
    let all = seen.clone().all(|f| f.is_seen);
    let words = match (any, all) {
        (false, _) => capital(&format!(
            "{TYPICAL}: none of these was looked up in a source."
        )),
        (true, true) => "* Seen in a source.".to_owned(),
        (true, false) => format!("* Seen in a source. The others are {TYPICAL}."),
    };
    let mut lines = wrap(&words, width, "");
    let places = yours_of(table.rows.iter());
    // Tables whose rows differ in this have said it row by row.
    let is_list = table.rows.iter().all(|row| row.figures.len() == 1);
    if !is_list || places.len() == 1 {
        let words = format!("Your own figures go into {}.", places.join("; "));
        lines.extend(wrap(&words, width, ""));
    }
    let words = format!(
        "Rows in full, with sources: loamwright defaults {} WORD",
        table.name
    );
    lines.extend(wrap(&words, width, ""));
    lines
}

pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

pub(super) fn ended(lines: &[String]) -> String {
    let mut text = lines.join("\n");
    text.push('\n');
    text
}
