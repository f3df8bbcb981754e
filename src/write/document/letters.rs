//! The letters that documents are set in, and what becomes of text that they cannot show.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::sync::LazyLock;

use serde_json::Value;
use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// Latin, Greek and Cyrillic in two weights, Hebrew, Arabic. Nothing of the system is used, so that the same
/// job gives the same bytes everywhere.
static FILES: [&[u8]; 4] = [
    include_bytes!("../../../templates/fonts/NotoSans-Regular.ttf"),
    include_bytes!("../../../templates/fonts/NotoSans-Bold.ttf"),
    include_bytes!("../../../templates/fonts/NotoSansHebrew-Regular.ttf"),
    include_bytes!("../../../templates/fonts/NotoSansArabic-Regular.ttf"),
];
/// A word longer than this may be broken anywhere, since it would leave its column.
const LONGEST_WORD: usize = 24;
/// Letters of such a word between two places where it may break.
const BREAK_EVERY: usize = 8;
/// Where a word may break; it shows nothing.
const BREAK: char = '\u{200b}';

/// The fonts, and what is known of them.
pub(super) static FONTS: LazyLock<(LazyHash<FontBook>, Vec<Font>)> = LazyLock::new(|| {
    let fonts = FILES.iter();
    let fonts: Vec<Font> = fonts
        .flat_map(|bytes| Font::iter(Bytes::new(*bytes)))
        .collect();
    (LazyHash::new(FontBook::from_fonts(&fonts)), fonts)
});

/// What no font can show, letter by letter.
#[derive(Debug, Default)]
pub(super) struct Missing(BTreeSet<char>);

impl Missing {
    /// The letters, in the order of their codes.
    pub(super) fn letters(&self) -> impl Iterator<Item = char> + '_ {
        self.0.iter().copied()
    }

    pub(super) fn extend(&mut self, other: Self) {
        self.0.extend(other.0);
    }

    /// The text as it can be shown: a letter that no font has stands as its code, `[U+82D7]`, and what steers
    /// a printer or a line of text as a blank.
    pub(super) fn shown(&mut self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut word = 0_usize;
        for c in text.chars() {
            if c == '\n' {
                out.push(c);
                word = 0;
                continue;
            }
            if c.is_whitespace() || c.is_control() || steers(c) {
                if !is_ignorable(c) {
                    out.push(if c == '\u{a0}' { c } else { ' ' });
                }
                word = 0;
                continue;
            }
            if is_ignorable(c) {
                continue;
            }
            word = word.saturating_add(1);
            if word > LONGEST_WORD && word.is_multiple_of(BREAK_EVERY) {
                out.push(BREAK);
            }
            if has(c) {
                out.push(c);
            } else {
                self.0.insert(c);
                let _ = write!(out, "[U+{:04X}]", u32::from(c));
            }
        }
        out
    }

    /// All texts within a value.
    pub(super) fn shown_within(&mut self, value: &mut Value) {
        match value {
            Value::String(text) => *text = self.shown(text),
            Value::Array(items) => items.iter_mut().for_each(|item| self.shown_within(item)),
            Value::Object(fields) => fields.values_mut().for_each(|item| self.shown_within(item)),
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
}

fn has(c: char) -> bool {
    let mut fonts = FONTS.1.iter();
    fonts.any(|font| font.info().coverage.contains(u32::from(c)))
}

/// Marks that turn the direction of text.
fn steers(c: char) -> bool {
    matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Marks without a shape of their own.
fn is_ignorable(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_font_has_stands_as_its_code() {
        let mut missing = Missing::default();
        assert_eq!(missing.shown("Bed 苗床 Ö"), "Bed [U+82D7][U+5E8A] Ö");
        assert_eq!(missing.shown("עברית عربي Ω Ж"), "עברית عربي Ω Ж");
        assert_eq!(missing.shown("a\u{1}b\tc\u{202e}d\u{fe0f}"), "a b c d");
        let letters: Vec<char> = missing.letters().collect();
        assert_eq!(letters, ['床', '苗']);
    }

    #[test]
    fn very_long_words_may_break() {
        let mut missing = Missing::default();
        let long = missing.shown(&"x".repeat(80));
        assert_eq!(long.chars().filter(|c| *c == 'x').count(), 80);
        // The 32nd, 40th, ... 80th letter stand after a break.
        assert_eq!(long.chars().filter(|c| *c == BREAK).count(), 7);
        assert_eq!(missing.shown("Structural screws"), "Structural screws");
    }

    #[test]
    fn texts_within_lists_and_fields_are_shown_too() {
        let mut value = serde_json::json!({"a": ["#let x = 1", {"b": "🌱"}], "n": 1});
        Missing::default().shown_within(&mut value);
        assert_eq!(
            value,
            serde_json::json!({"a": ["#let x = 1", {"b": "[U+1F331]"}], "n": 1})
        );
    }
}
