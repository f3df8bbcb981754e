//! What a bare number most likely means in a column, for hints: never for reading.

use rust_decimal::Decimal;

use crate::units::System;
use crate::units::parse::{self, Commas, Measures};

/// Columns of lengths that are small beside a bed.
const SMALL: [&str; 11] = [
    "Height",
    "Depth",
    "Thickness",
    "Lap",
    "Post buried",
    "Gate width",
    "Notch width",
    "Underside clear",
    "Line spacing",
    "Emitter spacing",
    "Value",
];
/// Columns of ways, which nobody measures in inches.
const FAR: [&str; 2] = ["Haul distance", "Travel distance"];
/// Ways that are driven.
const DRIVEN: &str = "Travel distance";

/// The unit that was most likely left out behind `number` in a column.
pub(super) fn likely_unit(
    field: &str,
    kind: Measures,
    system: System,
    number: Option<Decimal>,
) -> &'static str {
    let usual = kind.usual_unit(system);
    if kind != Measures::Length {
        return usual;
    }
    let small = SMALL.contains(&field);
    let below = |most: i64| number.is_some_and(|n| n < Decimal::from(most));
    match system {
        _ if FAR.contains(&field) => match (field == DRIVEN, system) {
            (false, _) => usual,
            (true, System::UsCustomary) => "mi",
            (true, System::Metric) => "km",
        },
        // A wall of 4 is one of feet, and one of 5 is none of feet; no bed is 40 ft long by mistake.
        System::UsCustomary if small => {
            let feet = below(5) && matches!(field, "Height" | "Underside clear" | "Gate width");
            if feet { "ft" } else { "in" }
        }
        System::UsCustomary => {
            if number.is_none() || below(40) {
                "ft"
            } else {
                "in"
            }
        }
        System::Metric if number.is_none() || below(10) => "m",
        System::Metric if below(if small { 100 } else { 1000 }) => "cm",
        System::Metric => "mm",
    }
}

/// `write 8 ft, or head the column "Length (ft)"`
pub(super) fn for_number(field: &str, typed: &str, kind: Measures, system: System) -> String {
    let number = parse::number(typed, Commas::Ask).ok();
    let unit = likely_unit(field, kind, system, number);
    headed(&format!("{typed} {unit}"), field, unit)
}

/// The same for a size such as `8x4x18`, each side with its own unit.
pub(super) fn for_size(field: &str, typed: &str, system: System) -> String {
    let lower = typed
        .to_lowercase()
        .replace(['×', '*'], "x")
        .replace("by", "x");
    let sides = lower.split('x').zip(["Length", "Width", "Height"]);
    let sides: Vec<(Decimal, &str)> = sides
        .filter_map(|(side, title)| Some((parse::number(side, Commas::Ask).ok()?, title)))
        .collect();
    let united = |(number, title): &(Decimal, &str)| {
        let unit = likely_unit(title, Measures::Length, system, Some(*number));
        format!("{} {unit}", number.normalize())
    };
    let united: Vec<String> = sides.iter().map(united).collect();
    let example = match (united.len(), system) {
        (2 | 3, _) => united.join(" x "),
        (_, System::UsCustomary) => "4' x 8' x 18\"".to_owned(),
        (_, System::Metric) => "1.2 x 2.4 x 0.45 m".to_owned(),
    };
    let first = sides.first().map(|(number, _)| *number);
    headed(
        &example,
        field,
        likely_unit("Length", Measures::Length, system, first),
    )
}

/// What a figure of this kind looks like in this column: `18 in`.
pub(super) fn example(field: &str, kind: Measures, system: System) -> &'static str {
    match (kind, system, field) {
        (Measures::Length, System::UsCustomary, "Length") => "8 ft",
        (Measures::Length, System::UsCustomary, "Width") => "4 ft",
        (Measures::Length, System::UsCustomary, "Height") => "18 in",
        (Measures::Length, System::Metric, "Height") => "450 mm",
        _ => kind.examples(system),
    }
}

/// The settings of a job have no column of their own that could be headed.
fn headed(example: &str, field: &str, unit: &str) -> String {
    match field {
        "Value" => format!("write {example}"),
        _ => format!("write {example}, or head the column \"{field} ({unit})\""),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(field: &str, typed: &str, system: System, expected: &str) {
        let hint = for_number(field, typed, Measures::Length, system);
        assert!(hint.starts_with(&format!("write {expected}")), "{hint}");
    }

    #[test]
    fn a_bare_number_gets_the_unit_that_its_column_and_size_suggest() {
        let (us, metric) = (System::UsCustomary, System::Metric);
        check(
            "Length",
            "8",
            us,
            "8 ft, or head the column \"Length (ft)\"",
        );
        check("Length", "96", us, "96 in");
        check("Height", "16", us, "16 in");
        check("Height", "1.5", us, "1.5 ft");
        check("Depth", "3", us, "3 in");
        check("Haul distance", "100", us, "100 ft");
        check("Length", "2.4", metric, "2.4 m");
        check("Length", "240", metric, "240 cm");
        check("Length", "2400", metric, "2400 mm");
        check("Height", "45", metric, "45 cm");
        check("Height", "450", metric, "450 mm");
        assert_eq!(
            for_size("Size", "8 x 4 x 18", us),
            "write 8 ft x 4 ft x 18 in, or head the column \"Size (ft)\""
        );
    }
}
