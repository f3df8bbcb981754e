//! Which sheet a name means, and which column a title means.

use std::collections::{BTreeMap, HashMap};
use std::sync::LazyLock;

use super::fields;
use super::names::key;
use crate::model::sheet::Sheet;
use crate::units::parse::{Unit, unit};

/// Other names of sheets and columns: `sheet,column,english,spanish`, where an empty column stands
/// for the sheet itself.
const ALSO_CALLED: &str = include_str!("../../templates/headers.csv");

/// The titles that are known, by sheet and comparison key.
static KNOWN: LazyLock<Known> = LazyLock::new(Known::new);

#[derive(Default)]
struct Known {
    sheets: HashMap<String, Sheet>,
    /// Names that more words may follow: `Beds north`, `Lista de precios 2026`. A single English
    /// word that is not a title itself, as `Work`, says too little for that.
    beginnings: HashMap<String, Sheet>,
    columns: HashMap<Sheet, HashMap<String, &'static str>>,
}

impl Known {
    fn new() -> Self {
        let mut known = Self::default();
        for sheet in Sheet::ALL {
            let title = key(sheet.title());
            let singular = title.trim_end_matches('s').to_owned();
            known.beginnings.insert(singular, sheet);
            known.beginnings.insert(title.clone(), sheet);
            known.sheets.insert(title, sheet);
            let columns = known.columns.entry(sheet).or_default();
            for field in fields::of(sheet) {
                columns.insert(key(field), field);
            }
        }
        let mut reader = csv::Reader::from_reader(ALSO_CALLED.as_bytes());
        for record in reader.records().filter_map(Result::ok) {
            known.learn(&record);
        }
        known.learn_short_forms();
        known
    }

    /// Takes one row of the table; a canonical title is never overruled by another's synonym.
    fn learn(&mut self, record: &csv::StringRecord) {
        let (Some(sheet), Some(column)) = (record.get(0), record.get(1)) else {
            return;
        };
        let Some(sheet) = Sheet::ALL.into_iter().find(|s| s.title() == sheet) else {
            return;
        };
        let english = record.get(2).unwrap_or_default().split(';');
        let spanish = record.get(3).unwrap_or_default().split(';');
        let names = english
            .map(|n| (n, false))
            .chain(spanish.map(|n| (n, true)));
        let names = names.filter(|(name, _)| !name.is_empty());
        let field = fields::of(sheet).iter().find(|f| **f == column);
        for (name, is_spanish) in names {
            match field {
                Some(field) => {
                    let columns = self.columns.entry(sheet).or_default();
                    columns.entry(key(name)).or_insert(field);
                }
                None => self.learn_sheet(sheet, name, is_spanish || name.contains(' ')),
            }
        }
    }

    fn learn_sheet(&mut self, sheet: Sheet, name: &str, begins: bool) {
        self.sheets.entry(key(name)).or_insert(sheet);
        if begins {
            self.beginnings.entry(key(name)).or_insert(sheet);
        }
    }

    /// `Tax` stands for `Tax %` where nothing else is called so, `Beds` for `Bed`, and back.
    fn learn_short_forms(&mut self) {
        for sheet in Sheet::ALL {
            let columns = self.columns.entry(sheet).or_default();
            // In the order of the titles, so that the first of two that share a short form has it.
            let mut short: Vec<(String, &'static str)> = Vec::new();
            for field in fields::of(sheet) {
                let full = key(field);
                let bare = full.strip_suffix('%').unwrap_or(&full);
                short.push((bare.to_owned(), field));
                short.push((format!("{bare}s"), field));
                short.push((bare.trim_end_matches('s').to_owned(), field));
            }
            let bare = |(name, field): (&String, &&'static str)| {
                let bare = name.strip_suffix('%').filter(|bare| !bare.is_empty());
                bare.map(|bare| (bare.to_owned(), *field))
            };
            short.extend(columns.iter().filter_map(bare).collect::<BTreeMap<_, _>>());
            for (name, field) in short {
                columns.entry(name).or_insert(field);
            }
        }
    }
}

/// How a sheet's name was understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SheetName {
    /// By its title.
    Known(Sheet),
    /// By another name of it, which may also be the name of something else: `Horas`, `Work`.
    Called(Sheet),
    /// By its first words: `Beds north`.
    Begins(Sheet),
    /// Not at all.
    Unknown,
}

/// The sheet that a name means.
pub(super) fn sheet(name: &str) -> SheetName {
    let whole = key(name);
    let known = &KNOWN.sheets;
    let plural = || known.get(&format!("{whole}s"));
    if let Some(sheet) = known.get(&whole).or_else(plural) {
        let title = key(sheet.title());
        return if title.trim_end_matches('s') == whole.trim_end_matches('s') {
            SheetName::Known(*sheet)
        } else {
            SheetName::Called(*sheet)
        };
    }
    let words = name.split(|c: char| !c.is_alphanumeric());
    let words = words
        .map(key)
        .filter(|word| !word.is_empty())
        .skip_while(|word| is_number(word));
    let mut begun = String::new();
    let mut longest = None;
    for word in words.take(MOST_WORDS) {
        begun.push_str(&word);
        longest = KNOWN.beginnings.get(&begun).or(longest);
    }
    longest.map_or(SheetName::Unknown, |sheet| SheetName::Begins(*sheet))
}

/// Words of the longest name of a sheet.
const MOST_WORDS: usize = 6;

fn is_number(word: &str) -> bool {
    word.bytes().all(|b| b.is_ascii_digit())
}

/// Bytes of the longest text that can be a title.
const LONGEST_TITLE: usize = 400;

/// The column that a title means on a sheet, and the unit that it names.
pub(super) fn column(title: &str, sheet: Sheet) -> Option<(&'static str, Option<Unit>)> {
    let columns = KNOWN.columns.get(&sheet)?;
    let known = |name: &str| columns.get(&title_key(name)).copied();
    let (field, unit) = with_unit(title, known)?;
    Some((field, unit.or(percent_in(field))))
}

/// What `known` says to a title, and the unit that the title names.
///
/// The whole title is tried first, then without a unit or remark at its end: `Length (ft)`,
/// `Length, ft`, `length_ft`, `Volume limit cu yd`, `Measured (inside / outside)`.
pub(super) fn with_unit<T>(
    title: &str,
    known: impl Fn(&str) -> Option<T>,
) -> Option<(T, Option<Unit>)> {
    // A whole line taken for one title, as when its delimiter is not known yet, would be tried at
    // every comma.
    if title.len() > LONGEST_TITLE {
        return None;
    }
    if let Some(found) = known(title) {
        return Some((found, None));
    }
    if let Some((base, remark)) = bracketed(title) {
        return known(base).map(|found| (found, unit_of(remark)));
    }
    for (at, _) in title.char_indices().rev() {
        let Some((base, tail)) = title.split_at_checked(at) else {
            continue;
        };
        let parts = |c: char| c.is_whitespace() || matches!(c, '_' | ',' | '/' | '-');
        let Some(tail) = tail.strip_prefix(parts) else {
            continue;
        };
        if let (Some(found), Some(unit)) = (known(base), unit_of(tail)) {
            return Some((found, Some(unit)));
        }
    }
    None
}

/// The key of a title; a percent sign may stand before it as well: `% tax`.
fn title_key(title: &str) -> String {
    let key = key(title);
    match key.strip_prefix('%') {
        Some(rest) => format!("{rest}%"),
        None => key,
    }
}

fn percent_in(field: &str) -> Option<Unit> {
    field.ends_with('%').then_some(Unit::Percent)
}

/// `Length (ft)` as `Length ` and `ft`.
fn bracketed(title: &str) -> Option<(&str, &str)> {
    let title = title.trim();
    let (open, close) = if title.ends_with(')') {
        ('(', ')')
    } else {
        ('[', ']')
    };
    title.strip_suffix(close)?.rsplit_once(open)
}

/// The unit in the end of a title: `ft`, `in feet`, `cu_yd`.
fn unit_of(words: &str) -> Option<Unit> {
    let parts = |c: char| c.is_whitespace() || c == '_';
    let words = words.to_lowercase();
    let words: Vec<&str> = words.split(parts).filter(|w| !w.is_empty()).collect();
    let words = match words.as_slice() {
        ["in" | "en", rest @ ..] if !rest.is_empty() => rest,
        all => all,
    };
    unit(&words.join(" "))
}

#[cfg(test)]
mod tests;
