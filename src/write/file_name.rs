//! Names of files from names that people typed.

use std::collections::BTreeSet;

/// Characters kept of a name; longer paths fail on some systems.
const LONGEST: usize = 60;
/// Names that Windows keeps for devices, with or without an extension.
const RESERVED: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];

/// A name that every system accepts as a file or folder, near to what was typed.
///
/// # Examples
/// `Yard & Stone: North/South.` becomes `Yard & Stone- North-South`.
pub fn file_safe(name: &str) -> String {
    let mut safe = String::new();
    for c in name.trim().chars() {
        let kept = if is_allowed(c) { c } else { '-' };
        if kept != '-' || !safe.ends_with('-') {
            safe.push(kept);
        }
    }
    let short: String = safe.chars().take(LONGEST).collect();
    let bare = short
        .trim_matches(|c: char| c == '.' || c == '-' || c.is_whitespace())
        .to_owned();
    if bare.is_empty() {
        return "unnamed".to_owned();
    }
    if is_reserved(&bare) {
        return format!("{bare}-");
    }
    bare
}

/// File-safe names that differ from each other even where case does not count, in the order given.
///
/// # Examples
/// `North`, `north` become `North`, `north-2`.
pub fn distinct<'a>(names: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let mut result = Vec::new();
    for name in names {
        let safe = file_safe(name);
        let mut candidate = safe.clone();
        let mut number = 2_u32;
        while !taken.insert(candidate.to_lowercase()) {
            candidate = format!("{safe}-{number}");
            number = number.saturating_add(1);
        }
        result.push(candidate);
    }
    result
}

fn is_allowed(c: char) -> bool {
    // Bidirectional marks and other invisible characters would let a name look like another one.
    let is_invisible = matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}');
    !c.is_control()
        && !is_invisible
        && !matches!(c, '/' | '\\' | ':' | '*' | '?' | '"' | '<' | '>' | '|')
}

fn is_reserved(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or(name).trim_end();
    let lower = stem.to_lowercase();
    if RESERVED.contains(&lower.as_str()) {
        return true;
    }
    let Some(rest) = lower
        .strip_prefix("com")
        .or_else(|| lower.strip_prefix("lpt"))
    else {
        return false;
    };
    let mut digits = rest.chars();
    matches!(
        (digits.next(), digits.next()),
        (Some('0'..='9' | '¹' | '²' | '³'), None)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lose_what_some_system_refuses() {
        assert_eq!(
            file_safe("Yard & Stone: North/South."),
            "Yard & Stone- North-South"
        );
        assert_eq!(file_safe("../../etc/passwd"), "etc-passwd");
        assert_eq!(file_safe("a\u{0}b\nc"), "a-b-c");
        assert_eq!(file_safe("name. . ."), "name");
        assert_eq!(file_safe("..."), "unnamed");
        assert_eq!(file_safe(""), "unnamed");
        assert_eq!(file_safe("Gärtnerei 苗床"), "Gärtnerei 苗床");
        assert_eq!(file_safe(&"x".repeat(300)).chars().count(), 60);
    }

    #[test]
    fn names_of_devices_are_changed() {
        assert_eq!(file_safe("CON"), "CON-");
        assert_eq!(file_safe("nul.txt"), "nul.txt-");
        assert_eq!(file_safe("Com1"), "Com1-");
        assert_eq!(file_safe("lpt²"), "lpt²-");
        assert_eq!(file_safe("Com10"), "Com10");
        assert_eq!(file_safe("Compost"), "Compost");
    }

    #[test]
    fn names_that_differ_in_case_only_get_a_number() {
        let names = distinct(["North", "north", "NORTH ", "north-2", "Süd", "SÜD"]);
        assert_eq!(
            names,
            ["North", "north-2", "NORTH-3", "north-2-2", "Süd", "SÜD-2"]
        );
    }
}
