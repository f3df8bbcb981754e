//! How categories are measured, and rates such as `18/yd3` taken apart.

use crate::model::material::Category;
use crate::units::Dimension;

/// The two sides of `a/b` or `a per b`, with a fraction such as `1/2 yd3` left alone.
pub(super) fn halves(text: &str) -> Option<(&str, &str)> {
    if let Some((left, right)) = text.split_once(" per ") {
        return Some((left.trim(), right.trim()));
    }
    let (left, right) = text.rsplit_once('/')?;
    // In `1/2 yd3` the stroke is a fraction; in `3 lb/100 ft2` the left side has its own unit.
    let digit = |c: char| c.is_ascii_digit();
    let between_digits = left.trim_end().ends_with(digit) && right.trim_start().starts_with(digit);
    (!between_digits).then(|| (left.trim(), right.trim()))
}

/// `yd3` as `1 yd3`; an amount that has a number stays as it is.
pub(super) fn one_of(unit: &str) -> String {
    let begins = unit.trim_start().chars().next();
    if begins.is_some_and(|c| c.is_numeric() || c == '.') {
        unit.trim().to_owned()
    } else {
        format!("1 {}", unit.trim())
    }
}

/// Whether amounts of a category may be given in a dimension.
pub(super) fn suits(category: Category, dimension: Dimension) -> bool {
    match category {
        category if category.is_fill() => {
            matches!(dimension, Dimension::Volume | Dimension::Weight)
        }
        Category::Amendment => matches!(
            dimension,
            Dimension::Volume | Dimension::Weight | Dimension::Count
        ),
        Category::Sheet | Category::Liner | Category::Mesh => dimension == Dimension::Area,
        Category::Panel => matches!(
            dimension,
            Dimension::Area | Dimension::Length | Dimension::Count
        ),
        Category::Lumber | Category::Trim => {
            matches!(dimension, Dimension::Length | Dimension::Count)
        }
        Category::Fastener | Category::Block | Category::ReadyMade | Category::Fitting => {
            dimension == Dimension::Count
        }
        Category::Bar | Category::Tube => dimension == Dimension::Length,
        Category::Stone => dimension != Dimension::Count,
        Category::Finish => matches!(dimension, Dimension::Volume | Dimension::Area),
        _ => true,
    }
}

/// The dimension in which a category is usually spoken of.
pub(super) fn usual(category: Category) -> Dimension {
    match category {
        category if category.is_fill() => Dimension::Volume,
        Category::Amendment | Category::Stone => Dimension::Weight,
        Category::Sheet | Category::Liner | Category::Mesh => Dimension::Area,
        Category::Lumber | Category::Bar | Category::Trim | Category::Tube => Dimension::Length,
        Category::Finish => Dimension::Volume,
        _ => Dimension::Count,
    }
}

/// What [`suits`] accepts, in words.
pub(super) fn measured_by(category: Category) -> &'static str {
    match category {
        category if category.is_fill() => "a volume or a weight, as 1 yd3, 1.5 ft3, 40 L or 1 ton",
        Category::Amendment => "a weight, a volume or a number of pieces, as 50 lb",
        Category::Sheet | Category::Liner | Category::Mesh => "an area, as 4 ft x 50 ft or 200 ft2",
        Category::Lumber | Category::Trim => "a length or each, as 12 ft",
        Category::Panel => "the size of a sheet or each, as 4 ft x 8 ft",
        Category::Fastener | Category::Fitting => "a number of pieces, as 350",
        Category::Tube => "a length, as 100 ft",
        Category::Block => "a number of pieces, as 90 for a pallet of 90",
        Category::Bar => "a length, as 20 ft",
        Category::Stone => {
            "a weight, a volume or the face that it builds, as 1 ton or 30 ft2; a length for caps"
        }
        Category::ReadyMade => "a number of units, as each",
        Category::Finish => "a volume or the area that it covers, as 1 gal or 400 ft2",
        _ => "an amount",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stroke_parts_a_rate_but_not_a_fraction() {
        assert_eq!(halves("3 lb/100 ft2"), Some(("3 lb", "100 ft2")));
        assert_eq!(halves("1/2 lb / 100 ft2"), Some(("1/2 lb", "100 ft2")));
        assert_eq!(halves("18/yd3"), Some(("18", "yd3")));
        assert_eq!(halves("1 per bed"), Some(("1", "bed")));
        assert_eq!(halves("1/2 yd3"), None);
        assert_eq!(halves("5 lb"), None);
    }

    #[test]
    fn a_unit_alone_is_one_of_it() {
        assert_eq!(one_of("yd3"), "1 yd3");
        assert_eq!(one_of(" 100 ft2 "), "100 ft2");
        assert_eq!(one_of("½ yd3"), "½ yd3");
    }
}
