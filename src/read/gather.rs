//! Tables on their way into one job, and what they show together.

use std::collections::BTreeMap;

use super::assemble::{self, Assembled, Votes};
use super::fields;
use super::header;
use super::open::{Opened, Way};
use super::raw::RawSheet;
use crate::model::choices::Choice;
use crate::model::setting_titles::title_of;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, SourceColumn, SourceTable, Sources};
use crate::problem::{Problem, Severity, Staged};
use crate::units::parse::{Commas, DateOrder, currencies, currency_named, unit_in};
use crate::units::{Currency, System};

/// Tables that one job may have.
const MOST_TABLES: usize = 500;
/// Unknown names that are told when nothing else is there.
const MOST_NAMED: usize = 12;
/// Cells that are looked at to find the system of units when nothing else tells it.
const LOOKED_AT: usize = 500;

/// What has been read so far.
#[derive(Default)]
pub(super) struct Gathered {
    tables: Vec<SourceTable>,
    ways: Vec<Way>,
    /// By table: which file it came from.
    file_of: Vec<usize>,
    /// By file: what its texts show, and whether semicolons part its cells.
    files: Vec<(Votes, bool)>,
    /// Sheets and files whose name means nothing here.
    pub(super) unknown: Vec<String>,
    /// What an estimate among the files chose.
    pub(super) choices: Option<Vec<Choice>>,
    /// What to tell.
    pub(super) problems: Vec<Problem>,
}

impl Gathered {
    /// Begins a file; its tables are those added until the next one begins.
    pub(super) fn begin_file(&mut self, semicolons: bool) {
        self.files.push((Votes::default(), semicolons));
    }

    /// Whether a table of this sheet is there.
    pub(super) fn has(&self, sheet: Sheet) -> bool {
        self.tables.iter().any(|t| t.sheet == Some(sheet))
    }

    /// The texts of a column of a sheet.
    pub(super) fn texts(
        &self,
        sheet: Sheet,
        field: &'static str,
    ) -> impl Iterator<Item = String> + '_ {
        let tables = self.tables.iter().filter(move |t| t.sheet == Some(sheet));
        tables.flat_map(move |table| {
            let place = table.columns.iter().position(|c| c.field == Some(field));
            let cells = table.rows.iter().filter_map(move |r| r.cells.get(place?));
            cells.map(Cell::text)
        })
    }

    /// Adds a raw sheet as `sheet`; whether it had a header. A sheet without rows is nothing.
    pub(super) fn add(&mut self, raw: RawSheet, sheet: Sheet) -> bool {
        if raw.rows.is_empty() {
            return true;
        }
        let sheet = told_apart(&raw, sheet);
        let index = self.tables.len();
        let index = u16::try_from(index).ok().filter(|_| index < MOST_TABLES);
        let Some(index) = index else {
            self.problems.push(Problem::error(format!(
                "a job may have at most {MOST_TABLES} tables"
            )));
            return true;
        };
        let Some(assembled) = assemble::table(raw, sheet, index, &mut self.problems) else {
            return false;
        };
        let Assembled { table, way, votes } = assembled;
        if let Some(file) = self.files.last_mut() {
            file.0 += votes;
        }
        self.file_of.push(self.files.len().saturating_sub(1));
        self.tables.push(table);
        self.ways.push(way);
        true
    }

    /// Adds a raw sheet that must have a header, and says so when it has none.
    pub(super) fn add_known(&mut self, raw: RawSheet, sheet: Sheet) {
        let place = place_of(&raw);
        if !self.add(raw, sheet) {
            let mut problem = no_header(sheet).place(place);
            // What is written of lists in free words is no mistake; it is only not read.
            if sheet == Sheet::PriceLists {
                problem.severity = Severity::Notice;
            }
            self.problems.push(problem);
        }
    }

    /// The job's tables. Commas mean in each file what most of its own numbers show, else what
    /// those of the other files show.
    pub(super) fn finish(mut self) -> Staged<Option<Opened>> {
        if self.tables.is_empty() {
            if self
                .problems
                .iter()
                .all(|p| p.severity != crate::problem::Severity::Error)
            {
                self.problems.push(nothing_read(&self.unknown));
            }
            return Staged {
                output: None,
                problems: self.problems,
            };
        }
        let stated = stated_mark(&self.tables);
        let decided = self
            .files
            .iter()
            .map(|file| match stated.unwrap_or(decide(*file)) {
                Commas::Decimal if file.0.points > 0 => Commas::Mostly,
                commas => commas,
            });
        let decided: Vec<Commas> = decided.collect();
        let overall = agreed(&decided);
        let mut all = Votes::default();
        self.files.iter().for_each(|(votes, _)| all += *votes);
        for (way, file) in self.ways.iter_mut().zip(&self.file_of) {
            way.commas = match decided.get(*file) {
                Some(Commas::Ask) | None => overall,
                Some(commas) => *commas,
            };
            let own = self.files.get(*file).map(|(votes, _)| date_order(votes));
            way.dates = match own {
                Some(DateOrder::Ask) | None => date_order(&all),
                Some(order) => order,
            };
        }
        let system = system(&self.tables, &self.ways);
        let currency = currency(&self.tables, system);
        let opened = Opened {
            sources: Sources {
                tables: self.tables,
            },
            decimal_comma: overall,
            system,
            currency,
            choices: self.choices,
            ways: self.ways,
            beds_left_out: Vec::new(),
        };
        Staged {
            output: Some(opened),
            problems: self.problems,
        }
    }
}

/// A sheet called `Price lists` that names no files holds the prices themselves, and one called
/// `Price list` that does names lists: the two are a letter apart.
fn told_apart(raw: &RawSheet, sheet: Sheet) -> Sheet {
    let is_near = sheet == Sheet::PriceLists
        || (sheet == Sheet::Prices && super::names::key(&raw.label) == "pricelist");
    if !is_near {
        return sheet;
    }
    let header = header::find(raw, Sheet::PriceLists);
    if header.is_some_and(|h| h.columns.iter().any(|c| c.field == Some("File"))) {
        Sheet::PriceLists
    } else {
        Sheet::Prices
    }
}

fn place_of(raw: &RawSheet) -> String {
    match raw.form {
        crate::model::source::Form::Workbook => format!("{}!{}", raw.file, raw.label),
        crate::model::source::Form::Text => raw.file.to_string(),
    }
}

fn no_header(sheet: Sheet) -> Problem {
    let titles = fields::of(sheet).iter().take(6).copied();
    let titles: Vec<&str> = titles.collect();
    Problem::error(format!(
        "{} has no row of column titles that are known",
        sheet.title()
    ))
    .hint(format!(
        "head the columns with titles such as {}",
        titles.join(", ")
    ))
}

fn is_workbook(name: &str) -> bool {
    let name = name.to_lowercase();
    let endings = [".xlsx", ".xlsm", ".xlsb", ".xls", ".ods"];
    endings.iter().any(|ending| name.ends_with(ending))
}

fn nothing_read(unknown: &[String]) -> Problem {
    let problem = Problem::file(
        "nothing in the input is named as a sheet of a job, or looks like a list of beds",
    );
    // A folder is read for its CSV files alone: who points at it may mean the workbook in it.
    if let Some(book) = unknown.iter().find(|name| is_workbook(name)) {
        return problem.hint(format!(
            "a folder is read for its CSV files: to read {book} in it, give the path of the workbook itself"
        ));
    }
    let sheets: Vec<&str> = Sheet::ALL.into_iter().map(Sheet::title).collect();
    let columns: Vec<&str> = fields::of(Sheet::Beds).iter().take(7).copied().collect();
    let mut hint = format!(
        "looked for sheets or CSV files called {}, and for columns of beds such as {}",
        sheets.join(", "),
        columns.join(", ")
    );
    if !unknown.is_empty() {
        let more = if unknown.len() > MOST_NAMED {
            " …"
        } else {
            ""
        };
        let names: Vec<&str> = unknown.iter().take(MOST_NAMED).map(|n| &**n).collect();
        hint = format!("{hint}; found {}{more}", names.join(", "));
    }
    problem.hint(hint)
}

/// The order that all dates agree on which show one.
fn date_order(votes: &Votes) -> DateOrder {
    match (votes.days_first, votes.months_first) {
        (1.., 0) => DateOrder::DayFirst,
        (0, 1..) => DateOrder::MonthFirst,
        _ => DateOrder::Ask,
    }
}

/// What commas mean in a file: as most of its numbers show, else by how its cells are parted.
pub(super) fn decide((votes, semicolons): (Votes, bool)) -> Commas {
    let Votes { points, commas, .. } = votes;
    match points.cmp(&commas) {
        std::cmp::Ordering::Greater => Commas::Thousands,
        std::cmp::Ordering::Less => Commas::Decimal,
        std::cmp::Ordering::Equal if points > 0 => Commas::Thousands,
        std::cmp::Ordering::Equal if semicolons => Commas::Decimal,
        std::cmp::Ordering::Equal => Commas::Ask,
    }
}

fn agreed(decided: &[Commas]) -> Commas {
    let holds = |commas| decided.contains(&commas);
    let is_decimal = decided.iter().any(|commas| commas.is_decimal());
    match (holds(Commas::Thousands), is_decimal) {
        (true, false) => Commas::Thousands,
        (false, true) if holds(Commas::Mostly) => Commas::Mostly,
        (false, true) => Commas::Decimal,
        _ => Commas::Ask,
    }
}

/// The job's own word, else the system that most of its units belong to, else US customary.
fn system(tables: &[SourceTable], ways: &[Way]) -> System {
    stated_system(tables).unwrap_or_else(|| {
        let headers = ways
            .iter()
            .flat_map(|way| way.units.iter().flatten().copied());
        let rows = tables.iter().flat_map(|table| &table.rows);
        let cells = rows
            .flat_map(|row| &row.cells)
            .filter_map(|cell| match cell {
                Cell::Text(text) => Some(text),
                _ => None,
            });
        let cells = cells.take(LOOKED_AT).filter_map(|text| unit_in(text));
        let (mut customary, mut metric) = (0, 0);
        for unit in headers.chain(cells) {
            match unit.is_customary() {
                Some(true) => customary += 1,
                Some(false) => metric += 1,
                None => {}
            }
        }
        if metric > customary {
            System::Metric
        } else {
            System::UsCustomary
        }
    })
}

/// The currency that the job states, else the one that most of its sums name. A plain `$` speaks for
/// US dollars where lengths are in feet, and for nothing elsewhere.
fn currency(tables: &[SourceTable], system: System) -> Option<Currency> {
    let stated = stated(tables, "Currency").and_then(|typed| Currency::from_code(&typed));
    if let Some(stated) = stated.filter(|c| *c != Currency::NONE) {
        return Some(stated);
    }
    let mut votes: BTreeMap<[u8; 3], usize> = BTreeMap::new();
    for table in tables {
        let is_money = |c: &SourceColumn| c.field.is_some_and(fields::holds_money);
        let columns: Vec<usize> = (0_usize..)
            .zip(&table.columns)
            .filter_map(|(i, c)| is_money(c).then_some(i))
            .collect();
        let cells = table.rows.iter().flat_map(|row| {
            let cells = columns.iter().filter_map(|i| row.cells.get(*i));
            cells.filter_map(|cell| match cell {
                Cell::Text(text) => Some(&**text),
                _ => None,
            })
        });
        for text in cells {
            let dollar = || {
                let plain = system == System::UsCustomary && currencies(text).contains(&"USD");
                plain.then_some(Currency::USD)
            };
            if let Some(named) = currency_named(text).or_else(dollar) {
                *votes.entry(named.code).or_default() += 1;
            }
        }
    }
    let most = votes.iter().max_by_key(|(_, number)| **number)?;
    std::str::from_utf8(most.0)
        .ok()
        .and_then(Currency::from_code)
}

fn stated_system(tables: &[SourceTable]) -> Option<System> {
    super::job::system_of(&stated(tables, "Units")?)
}

fn stated_mark(tables: &[SourceTable]) -> Option<Commas> {
    super::job::decimal_mark(&stated(tables, "Decimal mark")?)
}

/// What the `Job` sheet says for a setting, before any cell is understood.
fn stated(tables: &[SourceTable], title: &str) -> Option<String> {
    let jobs = tables.iter().filter(|t| t.sheet == Some(Sheet::Job));
    let mut stated = jobs.flat_map(|table| {
        let position = |field| table.columns.iter().position(|c| c.field == Some(field));
        let columns = position("Setting").zip(position("Value"));
        table.rows.iter().filter_map(move |row| {
            let (setting, value) = columns?;
            let setting = row.cells.get(setting)?.text();
            (title_of(&setting) == Some(title)).then(|| row.cells.get(value).map(Cell::text))?
        })
    });
    stated.find(|value| !value.is_empty())
}
