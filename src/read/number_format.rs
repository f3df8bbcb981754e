//! What a number format of a workbook says about the numbers that it shows.

/// Whether a number format has a percent sign that is not quoted or escaped.
pub(super) fn shows_percent(format: &str) -> bool {
    let (mut quoted, mut escaped) = (false, false);
    for c in format.chars() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => quoted = !quoted,
            '%' if !quoted => return true,
            _ => {}
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percent_signs_count_where_they_show() {
        assert!(shows_percent("0.00%"));
        assert!(shows_percent("0%;[Red]-0%"));
        assert!(!shows_percent("0 \"% of all\""));
        assert!(!shows_percent("0\\%"));
        assert!(!shows_percent("General"));
    }
}
