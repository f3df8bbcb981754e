//! Pieces of formula text: numbers, references, quoted names.

use std::fmt::Write as _;

use rust_decimal::Decimal;

use crate::model::source::column_letters;

/// A number in full, without an exponent and without needless zeros.
pub(super) fn push_number(number: Decimal, out: &mut String) {
    let _ = write!(out, "{}", number.normalize());
}

/// `$F$12`, from a row and a column counted from 0.
pub(in crate::write) fn push_fixed(row: u32, column: u16, out: &mut String) {
    out.push('$');
    push_letters(column, out);
    let _ = write!(out, "${}", u64::from(row) + 1);
}

/// A column's letters, without an allocation for the first 26: this runs for every reference.
pub(super) fn push_letters(column: u16, out: &mut String) {
    match u8::try_from(column) {
        Ok(n) if n < 26 => out.push(char::from(b'A' + n)),
        _ => out.push_str(&column_letters(u32::from(column))),
    }
}

/// `'Cut list'!`, in quotes unless the name is a plain word.
pub(in crate::write) fn push_sheet(name: &str, out: &mut String) {
    // Three letters and fewer could be read as a column.
    let plain = name.len() > 3 && name.chars().all(|c| c.is_ascii_alphabetic());
    if plain {
        out.push_str(name);
    } else {
        out.push('\'');
        out.push_str(&name.replace('\'', "''"));
        out.push('\'');
    }
    out.push('!');
}

/// Text in double quotes, for the fixed words of flags.
pub(in crate::write) fn push_quoted(text: &str, out: &mut String) {
    out.push('"');
    out.push_str(&text.replace('"', "\"\""));
    out.push('"');
}
