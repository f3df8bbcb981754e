//! Names that are nearly right.

use crate::units::parse::without_accents;

/// How alike two names must be, of 1, before one is offered for the other.
const ALIKE: f64 = 0.8;

/// The known name that `typed` was probably meant to be; case, spaces and marks do not count.
pub fn did_you_mean<'a>(typed: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let typed = key(typed);
    let mut best = (ALIKE, None);
    for name in known {
        let likeness = strsim::jaro_winkler(&typed, &key(name));
        if likeness > best.0 {
            best = (likeness, Some(name));
        }
    }
    best.1
}

/// A name as it is compared: letters without accents and digits, in lower case, and the percent sign.
pub(crate) fn key(name: &str) -> String {
    let kept = without_accents(name).filter(|c| c.is_alphanumeric() || *c == '%');
    kept.flat_map(char::to_lowercase).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(typed: &str, expected: Option<&str>) {
        let known = ["Length", "Width", "Notch length", "Wet-down %"];
        assert_eq!(did_you_mean(typed, known.into_iter()), expected);
    }

    #[test]
    fn slips_find_their_name() {
        check("Lenght", Some("Length"));
        check("widht", Some("Width"));
        check("notch_lenght", Some("Notch length"));
        check("wetdown", Some("Wet-down %"));
        check("Colour", None);
        check("", None);
    }
}
