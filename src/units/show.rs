//! Printing: feet and inches, metric, grouped numbers. Shown text never feeds a calculation.

use rust_decimal::{Decimal, RoundingStrategy};

use super::{Amount, Area, Density, Dimension, Length, Volume, Weight};

/// The system of units that a job is written in and that its outputs show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum System {
    /// Feet, inches, cubic yards, pounds.
    UsCustomary,
    /// Metres, millimetres, cubic metres, kilograms.
    Metric,
}

/// A number with `places` decimals and its thousands separated by commas.
pub fn grouped(number: Decimal, places: u32) -> String {
    let rounded = number.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero);
    let text = format!("{:.*}", usize::try_from(places).unwrap_or(0), rounded.abs());
    let (whole, decimals) = text
        .split_once('.')
        .map_or((text.as_str(), None), |(w, d)| (w, Some(d)));
    let mut out = String::new();
    if rounded.is_sign_negative() && !rounded.is_zero() {
        out.push('-');
    }
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    if let Some(decimals) = decimals {
        out.push('.');
        out.push_str(decimals);
    }
    out
}

/// A number with at most `places` decimals and no trailing zeros: `12.5`, `8`.
pub fn plain(number: Decimal, places: u32) -> String {
    number
        .round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero)
        .normalize()
        .to_string()
}

/// A length as feet and inches to the nearest 1/16 in: `7' 10 1/2"`.
pub fn feet_inches(length: Length) -> String {
    let sixteenths = length.in_inches().saturating_mul(Decimal::from(16));
    let sixteenths = sixteenths.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero);
    let total: i64 = sixteenths.try_into().unwrap_or(0);
    let sign = if total < 0 { "-" } else { "" };
    let total = total.unsigned_abs();
    let (feet, rest) = (total / 192, total % 192);
    let (inches, part) = (rest / 16, rest % 16);
    let fraction = fraction_of_sixteen(part);
    let inch_text = match (inches, fraction.as_str()) {
        (0, "") => String::new(),
        (n, "") => format!("{n}\""),
        (0, f) => format!("{f}\""),
        (n, f) => format!("{n} {f}\""),
    };
    match (feet, inch_text.as_str()) {
        (0, "") => "0\"".to_owned(),
        (0, text) => format!("{sign}{text}"),
        (n, "") => format!("{sign}{n}'"),
        (n, text) => format!("{sign}{n}' {text}"),
    }
}

fn fraction_of_sixteen(part: u64) -> String {
    if part == 0 {
        return String::new();
    }
    let shift = part.trailing_zeros().min(4);
    format!("{}/{}", part >> shift, 16_u64 >> shift)
}

impl System {
    /// A length as the trade of this system writes it: `7' 10 1/2"` or `2.4 m`, `235 mm` below a metre.
    pub fn length(self, length: Length) -> String {
        match self {
            Self::UsCustomary => feet_inches(length),
            Self::Metric if length.in_metres() < Decimal::ONE => {
                format!("{} mm", plain(length.in_millimetres(), 1))
            }
            Self::Metric => format!("{} m", plain(length.in_metres(), 3)),
        }
    }

    /// A depth or thickness, in inches or millimetres.
    pub fn depth(self, length: Length) -> String {
        match self {
            Self::UsCustomary => format!("{} in", plain(length.in_inches(), 2)),
            Self::Metric => format!("{} mm", plain(length.in_millimetres(), 0)),
        }
    }

    /// An area in square feet or square metres.
    pub fn area(self, area: Area) -> String {
        format!(
            "{} {}",
            grouped_plain(self.number(Amount::Area(area)), 2),
            self.unit(Dimension::Area)
        )
    }

    /// A volume in cubic yards or cubic metres.
    pub fn volume(self, volume: Volume) -> String {
        format!(
            "{} {}",
            grouped_plain(self.number(Amount::Volume(volume)), 2),
            self.unit(Dimension::Volume)
        )
    }

    /// A weight in pounds or kilograms, whole.
    pub fn weight(self, weight: Weight) -> String {
        format!(
            "{} {}",
            grouped(self.number(Amount::Weight(weight)), 0),
            self.unit(Dimension::Weight)
        )
    }

    /// A density in lb/yd3 or kg/m3, whole.
    pub fn density(self, density: Density) -> String {
        match self {
            Self::UsCustomary => {
                format!("{} lb/yd3", grouped(density.in_pounds_per_cubic_yard(), 0))
            }
            Self::Metric => format!(
                "{} kg/m3",
                grouped(density.in_kilograms_per_cubic_metre(), 0)
            ),
        }
    }

    /// Any amount with its unit.
    pub fn amount(self, amount: Amount) -> String {
        let number = grouped_plain(self.number(amount), 2);
        match amount {
            Amount::Count(_) => number,
            other => format!("{number} {}", self.unit(other.dimension())),
        }
    }

    /// What a pack holds, in the unit that its label would show: `1.5 ft3` and `50 L`, not parts of a yard.
    pub fn pack(self, amount: Amount) -> String {
        let small = Volume::cubic_metres(Decimal::new(3, 1));
        match (self, amount) {
            (Self::UsCustomary, Amount::Volume(v)) if v < small => {
                format!("{} ft3", grouped_plain(v.in_cubic_feet(), 2))
            }
            (Self::Metric, Amount::Volume(v)) if v < small => {
                format!("{} L", grouped_plain(v.in_litres(), 1))
            }
            (_, amount) => self.amount(amount),
        }
    }

    /// The number of `amount` in this system's unit for its dimension (see [`System::unit`]).
    pub fn number(self, amount: Amount) -> Decimal {
        match (self, amount) {
            (Self::UsCustomary, Amount::Length(l)) => l.in_feet(),
            (Self::UsCustomary, Amount::Area(a)) => a.in_square_feet(),
            (Self::UsCustomary, Amount::Volume(v)) => v.in_cubic_yards(),
            (Self::UsCustomary, Amount::Weight(w)) => w.in_pounds(),
            (_, amount) => amount.base(),
        }
    }

    /// The unit in which this system's outputs show a dimension; empty for counts.
    pub fn unit(self, dimension: Dimension) -> &'static str {
        match (self, dimension) {
            (_, Dimension::Count) => "",
            (Self::UsCustomary, Dimension::Length) => "ft",
            (Self::UsCustomary, Dimension::Area) => "ft2",
            (Self::UsCustomary, Dimension::Volume) => "yd3",
            (Self::UsCustomary, Dimension::Weight) => "lb",
            (Self::Metric, Dimension::Length) => "m",
            (Self::Metric, Dimension::Area) => "m2",
            (Self::Metric, Dimension::Volume) => "m3",
            (Self::Metric, Dimension::Weight) => "kg",
        }
    }
}

/// A grouped number with at most `places` decimals and no trailing zeros.
pub fn grouped_plain(number: Decimal, places: u32) -> String {
    let text = grouped(number, places);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// So many packs, as they are said on the telephone: `2 yards`, `1.5 yards`, `3 boxes`, `4 bags of 1.5 ft3`.
/// What is sold by the piece stays a bare number.
pub fn packs(quantity: Decimal, pack: &str) -> String {
    let number = grouped_plain(quantity, 3);
    let pack = pack.trim();
    match pack.to_lowercase().as_str() {
        "" | "each" | "ea" | "ea." | "pc" | "pcs" | "piece" => number,
        _ if quantity <= Decimal::ONE => format!("{number} {pack}"),
        _ => format!("{number} {}", plural(pack)),
    }
}

/// Symbols of units, which have no plural.
const SYMBOLS: [&str; 14] = [
    "ft", "in", "yd", "m", "mm", "cm", "lb", "oz", "kg", "g", "t", "l", "gal", "cy",
];

/// The plural of what a pack is called; symbols, numbers and words of other alphabets stay as they are.
fn plural(pack: &str) -> String {
    if let Some((thing, rest)) = pack.split_once(" of ") {
        return format!("{} of {rest}", plural(thing));
    }
    // `panel 26 in x 10 ft`: the thing stands in front of its size.
    if let Some((thing, size)) = pack.split_once(' ')
        && size.starts_with(|c: char| c.is_ascii_digit())
        && thing.chars().all(char::is_alphabetic)
    {
        return format!("{} {size}", plural(thing));
    }
    let last = pack.rsplit(' ').next().unwrap_or(pack).to_lowercase();
    let is_word = last.len() > 1 && last.chars().all(|c| c.is_ascii_lowercase());
    if !is_word || last.ends_with('s') || SYMBOLS.contains(&last.as_str()) {
        return pack.to_owned();
    }
    if let Some(before) = pack.strip_suffix("foot") {
        return format!("{before}feet");
    }
    let hisses = ["x", "z", "ch", "sh"].iter().any(|end| last.ends_with(end));
    format!("{pack}{}", if hisses { "es" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_are_said_as_on_the_telephone() {
        let said = |quantity: &str, pack: &str| packs(quantity.parse().unwrap(), pack);
        assert_eq!(said("2", "yard"), "2 yards");
        assert_eq!(said("1", "yard"), "1 yard");
        assert_eq!(said("0.5", "yard"), "0.5 yard");
        assert_eq!(said("1.5", "yard"), "1.5 yards");
        assert_eq!(said("1200", "board"), "1,200 boards");
        assert_eq!(said("4", "box"), "4 boxes");
        assert_eq!(said("4", "bag of 1.5 ft3"), "4 bags of 1.5 ft3");
        assert_eq!(said("4", "m3"), "4 m3");
        assert_eq!(said("4", "cu ft"), "4 cu ft");
        assert_eq!(said("4", "pallets"), "4 pallets");
        assert_eq!(said("2", "each"), "2");
    }

    fn inches(text: &str) -> String {
        feet_inches(Length::inches(text.parse().unwrap()))
    }

    #[test]
    fn feet_and_inches_read_as_on_a_tape() {
        assert_eq!(inches("94.5"), "7' 10 1/2\"");
        assert_eq!(inches("96"), "8'");
        assert_eq!(inches("9.25"), "9 1/4\"");
        assert_eq!(inches("0.125"), "1/8\"");
        assert_eq!(inches("0"), "0\"");
        assert_eq!(inches("95.99"), "8'");
    }

    #[test]
    fn packs_are_named_as_their_labels_do() {
        let bag = Amount::Volume(Volume::cubic_feet(Decimal::new(15, 1)));
        assert_eq!(System::UsCustomary.pack(bag), "1.5 ft3");
        let yard = Amount::Volume(Volume::cubic_yards(Decimal::ONE));
        assert_eq!(System::UsCustomary.pack(yard), "1 yd3");
        let sack = Amount::Volume(Volume::litres(Decimal::from(50)));
        assert_eq!(System::Metric.pack(sack), "50 L");
    }

    #[test]
    fn numbers_group_by_thousands() {
        assert_eq!(grouped(Decimal::new(1_234_567_895, 3), 2), "1,234,567.90");
        assert_eq!(grouped(Decimal::new(-4, 1), 0), "0");
        assert_eq!(grouped_plain(Decimal::new(125, 1), 2), "12.5");
        assert_eq!(grouped_plain(Decimal::from(1000), 2), "1,000");
    }
}
