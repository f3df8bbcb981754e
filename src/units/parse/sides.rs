//! Words and letters that say which side a length is: `8 ft long`, `4' W x 8' L x 18" H`.

use super::Wrong;

/// A side of a bed, in the order of sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Along.
    Length,
    /// Across.
    Width,
    /// Up.
    Height,
    /// Down, or through.
    Depth,
}

/// Words behind a length in a cell of its own, where a letter would be too little.
const WORDS: [(&str, Side); 10] = [
    ("long", Side::Length),
    ("in length", Side::Length),
    ("wide", Side::Width),
    ("in width", Side::Width),
    ("across", Side::Width),
    ("high", Side::Height),
    ("tall", Side::Height),
    ("in height", Side::Height),
    ("deep", Side::Depth),
    ("thick", Side::Depth),
];
/// Letters and words beside the parts of a size.
const LETTERS: [(&str, Side); 6] = [
    ("length", Side::Length),
    ("width", Side::Width),
    ("height", Side::Height),
    ("l", Side::Length),
    ("w", Side::Width),
    ("h", Side::Height),
];

impl Side {
    /// The column that holds it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Length => "Length",
            Self::Width => "Width",
            Self::Height => "Height",
            Self::Depth => "Depth",
        }
    }
}

/// A length without the word behind it, and which side the word says: `8 ft long`.
pub fn side_said(text: &str) -> (&str, Option<(Side, &'static str)>) {
    let text = text.trim();
    for (word, side) in WORDS {
        let front = text.len().checked_sub(word.len());
        let parts = front.and_then(|at| text.split_at_checked(at));
        if let Some((front, behind)) = parts.filter(|(_, b)| b.eq_ignore_ascii_case(word))
            && front.ends_with([' ', '"', '\'', '″', '′'])
            && behind.len() == word.len()
        {
            return (front.trim_end(), Some((side, word)));
        }
    }
    (text, None)
}

/// The parts of a size in the order length, width, height, without the letters that say so; as typed
/// when there are none.
pub(super) fn in_order(parts: Vec<&str>) -> Result<Vec<&str>, Wrong> {
    let named: Vec<(Option<Side>, &str)> = parts.iter().copied().map(lettered).collect();
    let mut sided: Vec<(Side, &str)> = named
        .iter()
        .filter_map(|(side, part)| Some(((*side)?, *part)))
        .collect();
    if sided.is_empty() {
        return Ok(parts);
    }
    sided.sort_by_key(|(side, _)| *side);
    let twice = sided.windows(2).any(|w| matches!(w, [a, b] if a.0 == b.0));
    let lacking = (Side::Length, Side::Width);
    let first_two = matches!(sided.as_slice(), [a, b, ..] if (a.0, b.0) == lacking);
    if twice || sided.len() < parts.len() || !first_two {
        let sentence = if twice {
            "names a side twice"
        } else {
            "names some of its sides"
        };
        return Err(Wrong::new(
            sentence,
            "write all of them, as 8' L x 4' W x 18\" H, or none",
        ));
    }
    Ok(sided.into_iter().map(|(_, part)| part).collect())
}

/// One part of a size in lower case, and which side it says to be.
fn lettered(part: &str) -> (Option<Side>, &str) {
    let joins =
        |c: char| c.is_ascii_digit() || matches!(c, ' ' | '\'' | '"' | ':' | '=' | '.' | ')');
    for (word, side) in LETTERS {
        let behind = part.strip_suffix(word).filter(|rest| rest.ends_with(joins));
        let front = part
            .strip_prefix(word)
            .filter(|rest| rest.starts_with(joins));
        if let Some(rest) = behind.or(front) {
            return (Some(side), rest.trim_matches([' ', ':', '=']));
        }
    }
    for (word, side) in WORDS {
        if let Some(rest) = part.strip_suffix(word).filter(|rest| rest.ends_with(joins)) {
            return (Some(side), rest.trim_end());
        }
    }
    (None, part)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_behind_a_length_are_taken_off() {
        assert_eq!(
            side_said("8 ft Long"),
            ("8 ft", Some((Side::Length, "long")))
        );
        assert_eq!(
            side_said("18\"tall"),
            ("18\"", Some((Side::Height, "tall")))
        );
        assert_eq!(side_said("8 ft"), ("8 ft", None));
        assert_eq!(side_said("oblong"), ("oblong", None));
    }

    #[test]
    fn lettered_sides_come_in_order() {
        let ordered = |text: &'static str| in_order(text.split('x').map(str::trim).collect());
        assert_eq!(ordered("4'w x 8'l x 18\" h"), Ok(vec!["8'", "4'", "18\""]));
        assert_eq!(ordered("l: 8 ft x w: 4 ft"), Ok(vec!["8 ft", "4 ft"]));
        assert_eq!(ordered("8 ft x 4 ft"), Ok(vec!["8 ft", "4 ft"]));
        assert!(ordered("8 ft l x 4 ft").is_err());
        assert!(ordered("8 ft l x 18 in h").is_err());
        assert!(ordered("8 ft l x 8 ft l").is_err());
    }
}
