//! Text in columns of a fixed width, for the terminal. Widths are those that a terminal gives: two
//! columns for a wide character as in Chinese, none for one that only joins the one before it.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::problem::printable;

/// Text of one line that cannot steer the terminal.
pub(super) fn clean(text: &str) -> String {
    printable(text).replace('\n', " ")
}

/// Columns that a text takes on a terminal.
pub(super) fn width(text: &str) -> usize {
    text.width()
}

/// At most `most` columns, with an ellipsis where something is left out.
pub(super) fn fit(text: &str, most: usize) -> String {
    let text = clean(text);
    if width(&text) <= most {
        return text;
    }
    let mut taken = 0;
    let mut start = String::new();
    for c in text.chars() {
        taken += c.width().unwrap_or(0);
        if taken > most.saturating_sub(1) {
            break;
        }
        start.push(c);
    }
    format!("{}…", start.trim_end())
}

/// Exactly `columns` columns, text at the left.
pub(super) fn pad(text: &str, columns: usize) -> String {
    let text = fit(text, columns);
    let gap = columns.saturating_sub(width(&text));
    format!("{text}{}", " ".repeat(gap))
}

/// Exactly `columns` columns, text at the right.
pub(super) fn pad_left(text: &str, columns: usize) -> String {
    let text = fit(text, columns);
    let gap = columns.saturating_sub(width(&text));
    format!("{}{text}", " ".repeat(gap))
}

/// Lines of at most `most` columns; a longer word stays whole, since paths are copied.
pub fn wrap(text: &str, most: usize, indent: &str) -> Vec<String> {
    let start = text.len() - text.trim_start().len();
    let mut lines = Vec::new();
    let mut line = text.get(..start).unwrap_or_default().to_owned();
    let mut is_fresh = true;
    // Runs of blanks inside the text are columns and stay.
    for word in text.trim_start().split(' ') {
        let needed = width(&line) + width(word) + usize::from(!is_fresh);
        if !is_fresh && needed > most {
            lines.push(line.trim_end().to_owned());
            indent.clone_into(&mut line);
            is_fresh = true;
        }
        if !is_fresh {
            line.push(' ');
        }
        line.push_str(word);
        is_fresh = false;
    }
    lines.push(line.trim_end().to_owned());
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_break_between_words_only() {
        assert_eq!(
            wrap("  one two three", 9, "    "),
            ["  one two", "    three"]
        );
        assert_eq!(wrap("unbreakable", 4, ""), ["unbreakable"]);
        assert_eq!(wrap("", 4, ""), [""]);
    }

    #[test]
    fn cells_are_cut_and_padded_by_columns() {
        assert_eq!(pad("Süd", 5), "Süd  ");
        assert_eq!(pad_left("9.50", 6), "  9.50");
        assert_eq!(fit("Gartenweg", 6), "Garte…");
        assert_eq!(fit("a\nb\u{7}", 6), "a b\u{fffd}");
    }

    #[test]
    fn wide_and_joining_characters_keep_columns_straight() {
        // 苗 and 床 take two columns each: 4, so two blanks fill six.
        assert_eq!(pad("苗床", 6), "苗床  ");
        // Five columns hold one of them and the ellipsis, and a half would break the next column.
        assert_eq!(pad("苗床苗床", 4), "苗… ");
        assert_eq!(fit("苗床苗床", 5), "苗床…");
        // An e with a joining accent is one column.
        assert_eq!(pad("pe\u{301}", 3), "pe\u{301} ");
        assert_eq!(wrap("苗床 苗床", 6, ""), ["苗床", "苗床"]);
    }
}
