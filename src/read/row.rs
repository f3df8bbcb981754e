//! One row of a recognised table, read by column title.
//!
//! Longer than most files because every kind of quantity has its accessor here.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::open::{Opened, Way};
use super::{fields, hints};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt, SourceTable};
use crate::problem::Problem;
use crate::units::limit::{self, Limit};
use crate::units::parse::{self, Context, Measures, Side, Unit, Wrong};
use crate::units::{
    Amount, Area, Currency, Density, Flow, Hours, Length, Pressure, System, Volume, Weight,
};

/// A row with typed access by canonical column title.
///
/// An accessor returns `None` for an empty cell and for one that it could not read; in the second
/// case it has told a problem that names the cell.
#[derive(Clone, Copy, Debug)]
pub struct Row<'a> {
    /// The table it stands in.
    pub table: &'a SourceTable,
    /// Where it stands.
    pub at: RowAt,
    /// Its cells, in the order of the table's columns.
    pub cells: &'a [Cell],
    way: &'a Way,
    system: System,
    currency: Option<Currency>,
}

/// The rows of every table that was recognised as `sheet`, in the order read.
pub fn rows(opened: &Opened, sheet: Sheet) -> impl Iterator<Item = Row<'_>> {
    let tables = opened.sources.of(sheet).filter_map(|(index, table)| {
        let way = opened.ways.get(usize::from(index))?;
        Some((index, table, way))
    });
    tables.flat_map(move |(index, table, way)| {
        table.rows.iter().map(move |row| Row {
            table,
            at: RowAt {
                table: index,
                row: row.row,
            },
            cells: &row.cells,
            way,
            system: opened.system,
            currency: opened.currency,
        })
    })
}

impl<'a> Row<'a> {
    fn position(&self, field: &'static str) -> Option<usize> {
        let mut columns = self.table.columns.iter();
        columns.position(|c| c.field.is_some_and(|f| f == field))
    }

    /// The cell, `Empty` when there is no such column, or when it says in words that it is empty (`-`,
    /// `n/a`); a row's name and a yes or no are taken as typed.
    pub fn raw(&self, field: &'static str) -> &'a Cell {
        let position = self.position(field);
        let cell = position.and_then(|i| self.cells.get(i));
        let key = self
            .table
            .sheet
            .and_then(|s| fields::of(s).first().copied());
        let as_typed = key == Some(field) || fields::holds_truth(field);
        match cell {
            Some(Cell::Text(text)) if !as_typed && parse::is_nothing(text) => &Cell::Empty,
            Some(cell) => cell,
            None => &Cell::Empty,
        }
    }

    /// Whether the cell holds anything.
    pub fn has(&self, field: &'static str) -> bool {
        !self.raw(field).is_empty()
    }

    /// Whether the cell was already reported (an error value, a formula without a result), so
    /// that a second problem about its emptiness would only confuse.
    pub fn spoilt(&self, field: &'static str) -> bool {
        let position = self.position(field);
        position.is_some_and(|i| self.way.spoilt.contains(&(self.at.row, i)))
    }

    /// Whether the program filled this row in when it wrote the estimate that is read back: what
    /// stands in it is a word of the user only where it was changed.
    pub fn is_filled_in(&self) -> bool {
        self.way.filled_in.contains(&self.at.row)
    }

    /// Whether the cell is formatted as a percentage.
    pub fn is_percent(&self, field: &'static str) -> bool {
        matches!(self.raw(field), Cell::Number { percent: true, .. })
    }

    /// The unit in the column's header.
    pub fn header_unit(&self, field: &'static str) -> Option<Unit> {
        let position = self.position(field)?;
        self.way.units.get(position).copied().flatten()
    }

    /// What surrounds a text of this column, for reading parts of it.
    pub fn context(&self, field: &'static str) -> Context {
        Context {
            bare: self.header_unit(field),
            system: self.system,
            decimal_comma: self.way.commas,
        }
    }

    /// The cell as text; numbers, dates and truth values as a person would read them.
    pub fn text(&self, field: &'static str) -> Option<Arc<str>> {
        match self.raw(field) {
            Cell::Empty => None,
            Cell::Text(text) => Some(Arc::clone(text)),
            other => Some(Arc::from(other.text())),
        }
    }

    /// A length within [`limit::LENGTH`].
    pub fn length(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Length> {
        let metres = self.measured(field, Measures::Length, &limit::LENGTH, problems);
        metres.map(Length::metres)
    }

    /// A distance within [`limit::DISTANCE`].
    pub fn distance(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Length> {
        let metres = self.measured(field, Measures::Length, &limit::DISTANCE, problems);
        metres.map(Length::metres)
    }

    /// A flow of water.
    pub fn flow(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Flow> {
        let litres = self.measured(field, Measures::Flow, &limit::FLOW, problems);
        litres.map(Flow::litres_per_hour)
    }

    /// A pressure of water.
    pub fn pressure(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Pressure> {
        let kilopascals = self.measured(field, Measures::Pressure, &limit::PRESSURE, problems);
        kilopascals.map(Pressure::kilopascals)
    }

    /// An area.
    pub fn area(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Area> {
        let square_metres = self.measured(field, Measures::Area, &limit::AREA, problems);
        square_metres.map(Area::square_metres)
    }

    /// A volume.
    pub fn volume(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Volume> {
        let cubic_metres = self.measured(field, Measures::Volume, &limit::VOLUME, problems);
        cubic_metres.map(Volume::cubic_metres)
    }

    /// A weight.
    pub fn weight(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Weight> {
        let kilograms = self.measured(field, Measures::Weight, &limit::WEIGHT, problems);
        kilograms.map(Weight::kilograms)
    }

    /// A density.
    pub fn density(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Density> {
        let density = self.measured(field, Measures::Density, &limit::DENSITY, problems);
        density.map(Density::kilograms_per_cubic_metre)
    }

    /// Hours. A bare number is hours under a title that says hours, and asks elsewhere.
    pub fn hours(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Hours> {
        let hours = self.measured(field, Measures::Time, &limit::HOURS, problems);
        hours.map(Hours::of)
    }

    /// An amount of any dimension; a bare number under a bare header is a count.
    pub fn amount(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Amount> {
        let cx = self.context(field);
        let read = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Text(text) => parse::amount(text, &cx),
            Cell::Number {
                value,
                percent: false,
            } => parse::amount_of_number(*value, cx.bare, cx.system),
            other => Err(self.unfit(other, "an amount")),
        };
        let amount = self.told(field, read, problems)?;
        let limit = match amount {
            Amount::Count(_) => &limit::NUMBER,
            Amount::Length(_) => &limit::DISTANCE,
            Amount::Area(_) => &limit::AREA,
            Amount::Volume(_) => &limit::VOLUME,
            Amount::Weight(_) => &limit::WEIGHT,
        };
        self.within(field, amount.base(), limit, problems)
            .map(|_| amount)
    }

    /// A percentage, as a fraction.
    pub fn percent(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Decimal> {
        let read = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Text(text) => parse::percent(text, self.way.commas),
            Cell::Number {
                value,
                percent: true,
            } => Ok(*value),
            Cell::Number { value, .. } => self.percent_of_number(*value),
            other => Err(self.unfit(other, "a percentage")),
        };
        let share = self.told(field, read, problems)?;
        let percentage = share.saturating_mul(Decimal::ONE_HUNDRED);
        self.within(field, percentage, &limit::PERCENT, problems)
            .map(|_| share)
    }

    /// In files whose cell formats are not read, a stored 1.5 may show as 150%.
    fn percent_of_number(&self, value: Decimal) -> Result<Decimal, Wrong> {
        const HIGHEST: Decimal = Decimal::from_parts(3, 0, 0, false, 0);
        if self.way.formats_unknown && value > Decimal::ONE && value <= HIGHEST {
            let (shown, times) = (
                value.normalize(),
                value.saturating_mul(Decimal::ONE_HUNDRED),
            );
            let times = times.normalize();
            return Err(Wrong {
                sentence: format!("is unclear: {shown} may be {shown}% or {times}%"),
                hint: format!(
                    "format the cell as text and write {shown}% or {times}%, or save the file as .xlsx"
                ),
            });
        }
        parse::percent_of_number(value)
    }

    /// Money, as typed; it is not rounded here.
    pub fn money(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Decimal> {
        let read = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Text(text) => return self.money_of(field, text, problems),
            Cell::Number {
                value,
                percent: false,
            } => Ok(*value),
            other => Err(self.unfit(other, "an amount of money")),
        };
        let money = self.told(field, read, problems)?;
        self.within(field, money, &limit::PRICE, problems)
    }

    /// Money from a part of the cell, as `4.50` of `4.50/bag`. A sign of another currency than the job's
    /// is a problem, since nothing here converts money.
    pub fn money_of(
        &self,
        field: &'static str,
        text: &str,
        problems: &mut Vec<Problem>,
    ) -> Option<Decimal> {
        let money = self.told(field, parse::money(text, self.way.commas), problems)?;
        let meant = parse::currencies(text);
        let ours = self.currency.as_ref().map(Currency::as_str);
        if let (Some(ours), [first, ..]) = (ours, meant)
            && !meant.contains(&ours)
        {
            let foreign = Wrong {
                sentence: format!("is in {first}, but the job is in {ours}"),
                hint: format!("write it in {ours}, or set Currency of the job to {first}"),
            };
            return self.told(field, Err(foreign), problems);
        }
        self.within(field, money, &limit::PRICE, problems)
    }

    /// A plain number.
    pub fn number(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Decimal> {
        let number = self.plain(field, problems)?;
        self.within(field, number, &limit::NUMBER, problems)
    }

    /// A whole number within [`limit::COUNT`].
    pub fn whole(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<u32> {
        let number = self.plain(field, problems)?;
        let number = self.within(field, number, &limit::COUNT, problems)?;
        self.told(field, parse::whole_of_number(number), problems)
    }

    fn plain(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Decimal> {
        let read = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Text(text) => parse::count(text, self.way.commas, field),
            Cell::Number {
                value,
                percent: false,
            } => Ok(*value),
            other => Err(self.unfit(other, "a number")),
        };
        self.told(field, read, problems)
    }

    /// A date.
    pub fn date(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Date> {
        let read = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Date(date) => Ok(*date),
            Cell::Text(text) => parse::date(text, self.way.dates),
            Cell::Number { value, .. } => Err(i32::try_from(*value)
                .ok()
                .and_then(parse::serial)
                .map_or_else(no_date, parse::serial_wrong)),
            Cell::Bool(_) => Err(no_date()),
        };
        self.told(field, read, problems)
    }

    /// Yes or no.
    pub fn yes_no(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<bool> {
        let known = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Bool(yes) => Some(*yes),
            Cell::Text(text) => parse::yes_no(text),
            Cell::Number { value, .. } => parse::yes_no(&value.normalize().to_string()),
            Cell::Date(_) => None,
        };
        let read = known.ok_or_else(|| Wrong {
            sentence: "needs yes or no".to_owned(),
            hint: "write yes or no".to_owned(),
        });
        self.told(field, read, problems)
    }

    /// Two or three lengths in one cell; a notice says how a mixed one was read.
    pub fn size(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<Vec<Length>> {
        let read = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Text(text) => parse::size_read(text, &self.context(field)),
            other => Err(self.unfit(other, "two or three lengths with an x between them")),
        };
        let size = self.told(field, read, problems)?;
        let lengths = size.lengths.iter();
        for length in lengths {
            self.within(field, length.in_metres(), &limit::LENGTH, problems)?;
        }
        if let Some(read_as) = size.read_as {
            let notice = Problem::notice(format!("{field} was read as {read_as}"));
            problems.push(notice.at(self.at, field));
        }
        Some(size.lengths)
    }

    /// The base units of a measured cell, when it is of `kind` and within `limit`.
    fn measured(
        &self,
        field: &'static str,
        kind: Measures,
        limit: &Limit,
        problems: &mut Vec<Problem>,
    ) -> Option<Decimal> {
        let mut cx = self.context(field);
        if kind == Measures::Time && says_hours(field) {
            cx.bare = cx.bare.or(Some(Unit::Hour));
        }
        let read = match self.raw(field) {
            Cell::Empty => return None,
            Cell::Text(text) => of_text(text, cx, kind, field),
            Cell::Number {
                value,
                percent: false,
            } => parse::of_number(*value, cx, kind),
            Cell::Date(date) if kind == Measures::Length => Err(parse::turned_into_date(
                date.month(),
                date.day(),
                true,
                self.system,
            )),
            other => Err(self.unfit(other, kind.words())),
        };
        let base = self.told_of(field, Some(kind), read, problems)?;
        self.within(field, base, limit, problems)
    }

    fn within(
        &self,
        field: &'static str,
        number: Decimal,
        limit: &Limit,
        problems: &mut Vec<Problem>,
    ) -> Option<Decimal> {
        if limit.holds(number) {
            return Some(number);
        }
        let sentence = format!("{field} is out of range: {}", limit.words());
        problems.push(Problem::error(sentence).at(self.at, field));
        None
    }

    fn told<T>(
        &self,
        field: &'static str,
        read: Result<T, Wrong>,
        problems: &mut Vec<Problem>,
    ) -> Option<T> {
        self.told_of(field, None, read, problems)
    }

    fn told_of<T>(
        &self,
        field: &'static str,
        kind: Option<Measures>,
        read: Result<T, Wrong>,
        problems: &mut Vec<Problem>,
    ) -> Option<T> {
        let wrong = match read {
            Ok(value) => return Some(value),
            Err(wrong) => wrong,
        };
        let typed = self.raw(field).text();
        let wrong = if wrong.sentence == parse::NEEDS_UNIT {
            let hint = match kind {
                Some(kind) => hints::for_number(field, &typed, kind, self.system),
                None => hints::for_size(field, &typed, self.system),
            };
            Wrong { hint, ..wrong }
        } else {
            self.explained(field, kind, wrong)
        };
        let problem = Problem::error(format!("{field} {}", wrong.sentence));
        problems.push(problem.at(self.at, field).hint(wrong.hint));
        None
    }

    /// Why a text could not be read, when what else it says tells that better.
    fn explained(&self, field: &'static str, kind: Option<Measures>, wrong: Wrong) -> Wrong {
        let Cell::Text(text) = self.raw(field) else {
            return wrong;
        };
        if parse::is_open(text) {
            let hint = match kind {
                Some(kind) => {
                    let example = hints::example(field, kind, self.system);
                    format!("write {}, as {example}", kind.words())
                }
                None => "write the figure, or leave the cell empty".to_owned(),
            };
            let sentence = "is not decided yet".to_owned();
            return Wrong { sentence, hint };
        }
        let is_figure = wrong.sentence.starts_with("needs") && !wrong.sentence.contains("date");
        if !is_figure {
            return wrong;
        }
        let length = kind == Some(Measures::Length);
        parse::remark(text, length, &self.context(field)).unwrap_or(wrong)
    }

    fn unfit(&self, cell: &Cell, needed: &str) -> Wrong {
        let held = match cell {
            Cell::Date(date) => {
                return parse::turned_into_date(date.month(), date.day(), false, self.system);
            }
            Cell::Bool(_) => "a truth value",
            Cell::Number { percent: true, .. } => "a percentage",
            _ => "a bare number",
        };
        Wrong {
            sentence: format!("needs {needed}, not {held}"),
            hint: format!("write {needed} in the cell, and format it as text"),
        }
    }
}

/// Whether a title says hours by itself. The settings of the `Job` sheet that are times all say hours
/// in their names, and their cells stand under `Value`.
fn says_hours(field: &str) -> bool {
    field == "Value" || field.to_lowercase().contains("hour")
}

fn of_text(text: &str, cx: Context, kind: Measures, field: &str) -> Result<Decimal, Wrong> {
    match kind {
        Measures::Area => parse::area(text, &cx).map(Area::in_square_metres),
        Measures::Volume => parse::volume(text, &cx).map(Volume::in_cubic_metres),
        Measures::Time => parse::hours(text, &cx).map(Hours::in_hours),
        Measures::Length => parse::measured(own_side(text, field)?, cx, kind),
        other => parse::measured(text, cx, other),
    }
}

/// `8 ft` of `8 ft long`, unless the word belongs to another of the columns of sides.
fn own_side<'t>(text: &'t str, field: &str) -> Result<&'t str, Wrong> {
    let (length, said) = parse::side_said(text);
    let sides = [Side::Length, Side::Width, Side::Height].map(Side::title);
    match said {
        Some((side, word)) if sides.contains(&field) && side.title() != field => Err(Wrong {
            sentence: format!("says \"{word}\""),
            hint: format!("write {length} in {}, or {length} here", side.title()),
        }),
        _ => Ok(length),
    }
}

fn no_date() -> Wrong {
    Wrong {
        sentence: "needs a date, not a bare number or a truth value".to_owned(),
        hint: "format the cell as a date, or write 24 Nov 2026".to_owned(),
    }
}
