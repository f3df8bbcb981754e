//! Which sheet a name means, and which column a title means.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::fields;
use super::names::key;
use crate::model::sheet::Sheet;
use crate::units::parse::{Unit, unit};

/// Other names of sheets and columns: `sheet,column,also_called`, where an empty column stands for
/// the sheet itself.
const ALSO_CALLED: &str = include_str!("../../templates/headers.csv");

/// The titles that are known, by sheet and comparison key.
static KNOWN: LazyLock<Known> = LazyLock::new(Known::new);

#[derive(Default)]
struct Known {
    sheets: HashMap<String, Sheet>,
    columns: HashMap<Sheet, HashMap<String, &'static str>>,
}

impl Known {
    fn new() -> Self {
        let mut known = Self::default();
        for sheet in Sheet::ALL {
            known.sheets.insert(key(sheet.title()), sheet);
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
        let mut cells = record.iter();
        let (Some(sheet), Some(column), Some(names)) = (cells.next(), cells.next(), cells.next())
        else {
            return;
        };
        let Some(sheet) = Sheet::ALL.into_iter().find(|s| s.title() == sheet) else {
            return;
        };
        let field = fields::of(sheet).iter().find(|f| **f == column);
        let columns = self.columns.entry(sheet).or_default();
        for name in names.split(';') {
            match field {
                Some(field) => {
                    columns.entry(key(name)).or_insert(field);
                }
                None => {
                    self.sheets.entry(key(name)).or_insert(sheet);
                }
            }
        }
    }

    /// `Tax` stands for `Tax %` where nothing else is called so, `Beds` for `Bed`, and back.
    fn learn_short_forms(&mut self) {
        for sheet in Sheet::ALL {
            let columns = self.columns.entry(sheet).or_default();
            let mut short: Vec<(String, &'static str)> = Vec::new();
            for field in fields::of(sheet) {
                let full = key(field);
                let bare = full.strip_suffix('%').unwrap_or(&full);
                short.push((bare.to_owned(), field));
                short.push((format!("{bare}s"), field));
                short.push((bare.trim_end_matches('s').to_owned(), field));
            }
            for (name, field) in short {
                columns.entry(name).or_insert(field);
            }
        }
    }
}

/// How a sheet's name was understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SheetName {
    /// By its title or another name of it.
    Known(Sheet),
    /// By its first word: `Beds north`.
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
        return SheetName::Known(*sheet);
    }
    let words = name.split(|c: char| !c.is_alphanumeric());
    let first = words
        .map(key)
        .find(|word| !word.is_empty() && !is_number(word));
    let by_title = |word: String| {
        let titles = Sheet::ALL.into_iter().map(|s| (key(s.title()), s));
        let mut found =
            titles.filter(|(title, _)| *title == word || title.strip_suffix('s') == Some(&word));
        found.next().map(|(_, sheet)| sheet)
    };
    first
        .and_then(by_title)
        .map_or(SheetName::Unknown, SheetName::Begins)
}

fn is_number(word: &str) -> bool {
    word.bytes().all(|b| b.is_ascii_digit())
}

/// Bytes of the longest text that can be a title.
const LONGEST_TITLE: usize = 400;

/// The column that a title means on a sheet, and the unit that it names.
///
/// The whole title is tried first, then without a unit or remark at its end: `Length (ft)`,
/// `Length, ft`, `length_ft`, `Volume limit cu yd`, `Measured (inside / outside)`.
pub(super) fn column(title: &str, sheet: Sheet) -> Option<(&'static str, Option<Unit>)> {
    // A whole line taken for one title, as when its delimiter is not known yet, would be tried at
    // every comma.
    if title.len() > LONGEST_TITLE {
        return None;
    }
    let columns = KNOWN.columns.get(&sheet)?;
    let known = |name: &str| columns.get(&key(name)).copied();
    if let Some(field) = known(title) {
        return Some((field, percent_in(field)));
    }
    if let Some((base, remark)) = bracketed(title) {
        return known(base).map(|field| (field, unit_of(remark).or(percent_in(field))));
    }
    for (at, _) in title.char_indices().rev() {
        let Some((base, tail)) = title.split_at_checked(at) else {
            continue;
        };
        let parts = |c: char| c.is_whitespace() || matches!(c, '_' | ',' | '/' | '-');
        let Some(tail) = tail.strip_prefix(parts) else {
            continue;
        };
        if let (Some(field), Some(unit)) = (known(base), unit_of(tail)) {
            return Some((field, Some(unit)));
        }
    }
    None
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
    let words: Vec<&str> = words.split(parts).filter(|w| !w.is_empty()).collect();
    let words = match words.as_slice() {
        ["in", rest @ ..] if !rest.is_empty() => rest,
        all => all,
    };
    unit(&words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_many_titles_is_no_title() {
        let line = format!("Length{}, ft", ",c".repeat(200));
        assert_eq!(line.len(), 6 + 400 + 4);
        assert_eq!(column(&line, Sheet::Beds), None);
        let spaced = format!("Length{}ft", " ".repeat(300));
        assert_eq!(
            column(&spaced, Sheet::Beds),
            Some(known_field(("Length", Some(Unit::Foot))))
        );
    }

    #[track_caller]
    fn check(title: &str, sheet: Sheet, field: &str, unit: Option<Unit>) {
        assert_eq!(
            column(title, sheet),
            Some(known_field((field, unit))),
            "{title}"
        );
    }

    fn known_field((field, unit): (&str, Option<Unit>)) -> (&'static str, Option<Unit>) {
        let fields = Sheet::ALL.into_iter().flat_map(|s| fields::of(s).iter());
        let found = fields.copied().find(|f| *f == field);
        (found.unwrap(), unit)
    }

    #[test]
    fn titles_match_without_regard_to_case_spaces_and_units() {
        for title in [
            "Length (ft)",
            "length_ft",
            "Length, ft",
            "LENGTH [FT]",
            "Length in feet",
            "length-ft",
            "Length\n(ft)",
            "Length\r\nft",
            " Length\u{a0} (ft) ",
            "Length  in\u{a0}feet",
        ] {
            check(title, Sheet::Beds, "Length", Some(Unit::Foot));
        }
        check("LENGTH", Sheet::Beds, "Length", None);
        check(
            "notch_length_in",
            Sheet::Beds,
            "Notch length",
            Some(Unit::Inch),
        );
        check("Length (in)", Sheet::Beds, "Length", Some(Unit::Inch));
        check(
            "Volume limit (cu yd)",
            Sheet::Deliveries,
            "Volume limit",
            Some(Unit::CubicYard),
        );
        check(
            "volume_limit_cu_yd",
            Sheet::Deliveries,
            "Volume limit",
            Some(Unit::CubicYard),
        );
        check(
            "Weight limit tons",
            Sheet::Deliveries,
            "Weight limit",
            Some(Unit::Ton),
        );
        check(
            "Delivered density (lb/yd3)",
            Sheet::Materials,
            "Delivered density",
            Some(Unit::PoundPerCubicYard),
        );
        check("Measured (inside / outside)", Sheet::Beds, "Measured", None);
        check("Person hours", Sheet::Labour, "Person-hours", None);
        check("In kind value", Sheet::Workers, "In-kind value", None);
    }

    #[test]
    fn percent_columns_go_by_their_bare_name_too() {
        for title in [
            "Burden %",
            "Burden",
            "burden_pct",
            "Burden (%)",
            "Burden percent",
        ] {
            check(title, Sheet::Workers, "Burden %", Some(Unit::Percent));
        }
        check("Match base", Sheet::Funding, "Match base", None);
        check("Match", Sheet::Funding, "Match %", Some(Unit::Percent));
    }

    #[test]
    fn other_names_of_the_trade_are_known() {
        check("Qty", Sheet::Beds, "Count", None);
        check("Vendor", Sheet::Prices, "Supplier", None);
        check("Beds", Sheet::Irrigation, "Bed", None);
        assert_eq!(column("Colour", Sheet::Beds), None);
        assert_eq!(column("Lenght (ft)", Sheet::Beds), None);
        assert_eq!(column("", Sheet::Beds), None);
    }

    #[test]
    fn every_row_of_the_table_teaches_something_and_no_two_clash() {
        let mut reader = csv::Reader::from_reader(ALSO_CALLED.as_bytes());
        let mut seen = HashMap::new();
        for record in reader.records() {
            let record = record.unwrap();
            let sheet = Sheet::ALL.into_iter().find(|s| s.title() == &record[0]);
            let sheet = sheet.unwrap_or_else(|| panic!("{record:?}"));
            let column = &record[1];
            assert!(
                column.is_empty() || fields::of(sheet).contains(&column),
                "{record:?}"
            );
            for name in record[2].split(';') {
                let place = if column.is_empty() { None } else { Some(sheet) };
                let canonical = fields::of(sheet).iter().any(|f| key(f) == key(name));
                assert!(column.is_empty() || !canonical, "{name} is a title itself");
                let before = seen.insert((place, key(name)), column.to_owned());
                assert_eq!(before, None, "{name} twice on {sheet:?}");
            }
        }
    }

    #[test]
    fn sheets_go_by_title_by_other_names_and_by_first_word() {
        assert_eq!(sheet("BEDS"), SheetName::Known(Sheet::Beds));
        assert_eq!(sheet("bed"), SheetName::Known(Sheet::Beds));
        assert_eq!(sheet("Price list"), SheetName::Known(Sheet::Prices));
        assert_eq!(sheet("Labor"), SheetName::Known(Sheet::Labour));
        assert_eq!(sheet("Beds north"), SheetName::Begins(Sheet::Beds));
        assert_eq!(sheet("beds_south"), SheetName::Begins(Sheet::Beds));
        assert_eq!(sheet("02 Prices 2026"), SheetName::Begins(Sheet::Prices));
        assert_eq!(sheet("Sheet1"), SheetName::Unknown);
        assert_eq!(sheet("Old beds"), SheetName::Unknown);
    }
}
