//! Text in columns of a fixed width, for the terminal.

use crate::problem::printable;

/// Text of one line that cannot steer the terminal.
pub(super) fn clean(text: &str) -> String {
    printable(text).replace('\n', " ")
}

/// At most `width` characters, with an ellipsis where something is left out.
pub(super) fn fit(text: &str, width: usize) -> String {
    let text = clean(text);
    if text.chars().count() <= width {
        return text;
    }
    let start: String = text.chars().take(width.saturating_sub(1)).collect();
    format!("{}…", start.trim_end())
}

/// Exactly `width` characters, text at the left.
pub(super) fn pad(text: &str, width: usize) -> String {
    let text = fit(text, width);
    let gap = width.saturating_sub(text.chars().count());
    format!("{text}{}", " ".repeat(gap))
}

/// Exactly `width` characters, text at the right.
pub(super) fn pad_left(text: &str, width: usize) -> String {
    let text = fit(text, width);
    let gap = width.saturating_sub(text.chars().count());
    format!("{}{text}", " ".repeat(gap))
}

/// Lines of at most `width` characters; a longer word stays whole, since paths are copied.
pub(super) fn wrap(text: &str, width: usize, indent: &str) -> Vec<String> {
    let start = text.len() - text.trim_start().len();
    let mut lines = Vec::new();
    let mut line = text.get(..start).unwrap_or_default().to_owned();
    let mut is_fresh = true;
    // Runs of blanks inside the text are columns and stay.
    for word in text.trim_start().split(' ') {
        let needed = line.chars().count() + word.chars().count() + usize::from(!is_fresh);
        if !is_fresh && needed > width {
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
    fn cells_are_cut_and_padded_by_characters() {
        assert_eq!(pad("Süd", 5), "Süd  ");
        assert_eq!(pad_left("9.50", 6), "  9.50");
        assert_eq!(fit("Gartenweg", 6), "Garte…");
        assert_eq!(fit("a\nb\u{7}", 6), "a b\u{fffd}");
    }
}
