//! One spelling for the many marks that keyboards, phones and word processors make.

use std::borrow::Cow;

/// `text` trimmed, with typographic primes, quotes, dashes, spaces, fractions and full-width signs as
/// plain marks, and without what keeps a spreadsheet program from changing it: `7′ 10½″` becomes
/// `7' 10 1/2"`, and `'7-6` and `="7-6"` become `7-6`.
pub(crate) fn plain_marks(text: &str) -> Cow<'_, str> {
    let text = unguarded(text.trim());
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match vulgar_fraction(c) {
            Some(fraction) => {
                // `7½` is a whole and a part, so the part needs a space before it.
                if plain.ends_with(|c: char| c.is_ascii_digit()) {
                    plain.push(' ');
                }
                plain.push_str(fraction);
            }
            None => plain.extend(plain_mark(narrow(c))),
        }
    }
    Cow::Owned(unguarded(plain.trim()).to_owned())
}

/// Text without the apostrophe or the formula around it that exports put there to keep it text.
fn unguarded(text: &str) -> &str {
    let inner = text.strip_prefix("=\"").and_then(|t| t.strip_suffix('"'));
    let text = inner.unwrap_or(text).trim();
    let begins_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | '$');
    let guarded = text.strip_prefix('\'').map(str::trim_start);
    guarded
        .filter(|rest| rest.starts_with(begins_number))
        .unwrap_or(text)
}

/// The plain sign of a full-width one, as East Asian keyboards write digits and marks.
fn narrow(c: char) -> char {
    const WIDER_BY: u32 = 0xFEE0;
    let plain = u32::from(c).checked_sub(WIDER_BY).and_then(char::from_u32);
    plain.filter(char::is_ascii_graphic).unwrap_or(c)
}

fn plain_mark(c: char) -> Option<char> {
    match c {
        '\u{200b}' | '\u{200c}' | '\u{200d}' | '\u{2060}' | '\u{feff}' => None,
        '′' | '’' | '‘' | 'ʹ' | 'ʼ' | '´' | '＇' => Some('\''),
        '″' | '”' | '“' | '„' | 'ʺ' | '＂' => Some('"'),
        '⁄' | '∕' => Some('/'),
        '×' | '✕' | '✖' | '⨯' => Some('x'),
        '−' | '–' | '—' | '‐' | '‑' | '‒' => Some('-'),
        '²' => Some('2'),
        '³' => Some('3'),
        other if other.is_whitespace() => Some(' '),
        other => Some(other),
    }
}

const fn vulgar_fraction(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅐' => "1/7",
        '⅑' => "1/9",
        '⅒' => "1/10",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_of_phones_and_word_processors_become_plain() {
        assert_eq!(plain_marks("7′ 10½″"), "7' 10 1/2\"");
        assert_eq!(plain_marks("\u{a0}1\u{202f}234\u{2009}m³ "), "1 234 m3");
        assert_eq!(plain_marks("4×8"), "4x8");
        assert_eq!(plain_marks("3⁄4"), "3/4");
        assert_eq!(plain_marks("\u{feff}½"), "1/2");
        assert_eq!(plain_marks("８．５′"), "8.5'");
        assert_eq!(plain_marks("１５％"), "15%");
    }

    #[test]
    fn what_keeps_text_from_spreadsheets_is_taken_off() {
        assert_eq!(plain_marks("'7-6"), "7-6");
        assert_eq!(plain_marks("’18 in"), "18 in");
        assert_eq!(plain_marks("=\"7-6\""), "7-6");
        assert_eq!(plain_marks("'n/a"), "'n/a");
        assert_eq!(plain_marks("7'6\""), "7'6\"");
    }
}
