//! Words of measures by which goods are priced, and cells that hold several sizes.

use rust_decimal::Decimal;

use crate::model::by_measure::PriceUnit;
use crate::model::library::folded;
use crate::model::material::Category;
use crate::units::parse::without_accents;

/// Spellings of units, folded and without dots and accents, with how many of the unit one word is.
const WORDS: [(&str, PriceUnit, u32); 10] = [
    (
        "lf lft ft foot feet linft linearft linearfoot linearfeet linealft linealfoot linealfeet runningfoot \
         runningfeet pie pies pielineal pieslineales",
        PriceUnit::Foot,
        1,
    ),
    (
        "clf hundredlinearfeet cienpieslineales",
        PriceUnit::Foot,
        100,
    ),
    (
        "m lm metre metres meter meters linearmetre linearmetres linearmeter linearmeters linealmetre \
         runningmetre runningmeter metro metros metrolineal metroslineales ml",
        PriceUnit::Metre,
        1,
    ),
    (
        "bf bft bdft fbm boardfoot boardfeet boardft pietabla piestabla pietablar piestablares",
        PriceUnit::BoardFoot,
        1,
    ),
    (
        "mbf mfbm mbdft mbft thousandboardfeet thousandbf milpiestablares millardepiestablares",
        PriceUnit::BoardFoot,
        1_000,
    ),
    (
        "m3 cbm cubicmetre cubicmetres cubicmeter cubicmeters metrocubico metroscubicos",
        PriceUnit::CubicMetre,
        1,
    ),
    (
        "ft2 sf sqft squarefoot squarefeet piecuadrado piescuadrados",
        PriceUnit::SquareFoot,
        1,
    ),
    (
        "square squares csf cuadro cuadros",
        PriceUnit::SquareFoot,
        100,
    ),
    (
        "m2 sqm squaremetre squaremetres squaremeter squaremeters metrocuadrado metroscuadrados",
        PriceUnit::SquareMetre,
        1,
    ),
    ("msf", PriceUnit::SquareFoot, 1_000),
];

/// The unit and how many of it a text speaks of: 1,000 board feet of `MBF`, 100 feet of `per 100 lf`.
pub(super) fn measure(text: &str) -> Option<(PriceUnit, Decimal)> {
    let plain: String = without_accents(text).collect();
    let plain = folded(&plain)
        .replace(['.', ',', '/'], "")
        .replace('²', "2")
        .replace('³', "3");
    let plain = ["per", "por"]
        .iter()
        .find_map(|word| plain.strip_prefix(word))
        .unwrap_or(&plain);
    let word = plain.trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = plain.strip_suffix(word)?;
    // `12 ft` is a stick of that length; only hundreds and thousands are a way of pricing.
    let number: u32 = match digits {
        "" | "1" => 1,
        "100" => 100,
        "1000" => 1_000,
        _ => return None,
    };
    let is_it = |(words, ..): &&(&str, PriceUnit, u32)| words.split(' ').any(|w| w == word);
    let (_, unit, each) = WORDS.iter().find(is_it)?;
    Some((*unit, Decimal::from(number.saturating_mul(*each))))
}

/// Whether the trade sells goods of a category by a unit.
pub(super) fn fits(category: Category, unit: PriceUnit) -> bool {
    let long = matches!(unit, PriceUnit::Foot | PriceUnit::Metre);
    let flat = matches!(unit, PriceUnit::SquareFoot | PriceUnit::SquareMetre);
    match category {
        Category::Lumber => !flat,
        Category::Trim | Category::Bar | Category::Tube => long,
        Category::Panel | Category::Sheet | Category::Liner | Category::Mesh => long || flat,
        _ => false,
    }
}

/// The parts of a cell of several sizes; a unit behind the last is that of those without: `8, 10, 12 ft`.
pub(super) fn parts_with_units(typed: &str) -> Vec<String> {
    let spaced = typed
        .replace(" and ", "; ")
        .replace(" y ", "; ")
        .replace(" or ", "; ");
    let separators = |c: char| matches!(c, ';' | '\n' | '|');
    let parts: Vec<&str> = if spaced.contains(separators) {
        spaced
            .split(separators)
            .flat_map(|part| part.split(", "))
            .collect()
    } else {
        spaced.split(", ").collect()
    };
    let parts: Vec<&str> = parts
        .into_iter()
        .map(str::trim)
        .filter(|p| !p.is_empty())
        .collect();
    let is_bare = |part: &str| part.ends_with(|c: char| c.is_ascii_digit());
    let last = parts.last().copied().unwrap_or_default();
    let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' ');
    let unit = last.trim_start_matches(number);
    let shared = unit
        .chars()
        .all(|c| c.is_alphabetic() || matches!(c, '\'' | '"' | '.'));
    let whole = |part: &str| {
        if is_bare(part) && shared && !unit.is_empty() {
            format!("{part} {unit}")
        } else {
            part.to_owned()
        }
    };
    parts.into_iter().map(whole).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::by_hand::d;

    #[track_caller]
    fn check(text: &str, expected: Option<(PriceUnit, &str)>) {
        assert_eq!(measure(text), expected.map(|(unit, per)| (unit, d(per))));
    }

    #[test]
    fn a_pack_may_be_a_measure() {
        check("lf", Some((PriceUnit::Foot, "1")));
        check("Linear ft.", Some((PriceUnit::Foot, "1")));
        check("per 100 lf", Some((PriceUnit::Foot, "100")));
        check("BF", Some((PriceUnit::BoardFoot, "1")));
        check("board foot", Some((PriceUnit::BoardFoot, "1")));
        check("1,000 bf", Some((PriceUnit::BoardFoot, "1000")));
        check("M.B.F.", Some((PriceUnit::BoardFoot, "1000")));
        check("pie tablar", Some((PriceUnit::BoardFoot, "1")));
        check("metro lineal", Some((PriceUnit::Metre, "1")));
        check("m³", Some((PriceUnit::CubicMetre, "1")));
        check("square", Some((PriceUnit::SquareFoot, "100")));
        // A stick of 12 ft, and words that are no measure.
        check("12 ft", None);
        check("board", None);
    }

    #[test]
    fn the_last_unit_serves_them_all() {
        let parts = |typed: &str| parts_with_units(typed).join("|");
        assert_eq!(parts("8, 10, 12 ft"), "8 ft|10 ft|12 ft");
        assert_eq!(parts("2,4; 3; 3,6 m"), "2,4 m|3 m|3,6 m");
        assert_eq!(parts("8' and 10'"), "8'|10'");
        assert_eq!(parts("12 ft"), "12 ft");
        assert_eq!(parts("4x8 ft; 4x10 ft"), "4x8 ft|4x10 ft");
    }
}
