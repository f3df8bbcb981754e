//! One spelling for the many marks that keyboards, phones and word processors make.

use std::borrow::Cow;

/// `text` trimmed, with typographic primes, quotes, dashes, spaces and fractions as plain marks:
/// `7′ 10½″` becomes `7' 10 1/2"`.
pub(crate) fn plain_marks(text: &str) -> Cow<'_, str> {
    let text = text.trim();
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
            None => plain.extend(plain_mark(c)),
        }
    }
    Cow::Owned(plain.trim().to_owned())
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
    }
}
