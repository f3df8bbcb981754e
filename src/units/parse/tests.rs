//! Worked examples of every dialect of measure.

use rust_decimal::Decimal;

use super::*;
use crate::units::{Amount, Area, Density, Length, System, Volume, Weight};

pub(super) const US: Context = Context {
    bare: None,
    system: System::UsCustomary,
    decimal_comma: Commas::Ask,
};
pub(super) const METRIC: Context = Context {
    system: System::Metric,
    ..US
};

const fn headed(unit: Unit) -> Context {
    Context {
        bare: Some(unit),
        ..US
    }
}

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// `text` measures as many inches as `inches` says.
#[track_caller]
fn check_inches(text: &str, cx: Context, inches: &str) {
    let length = length(text, &cx).unwrap_or_else(|w| panic!("{text}: {w:?}"));
    assert_eq!(length.tidy(), Length::inches(d(inches)).tidy(), "{text}");
}

#[track_caller]
fn check_metres(text: &str, metres: &str) {
    let length = length(text, &METRIC).unwrap_or_else(|w| panic!("{text}: {w:?}"));
    assert_eq!(length, Length::metres(d(metres)), "{text}");
}

#[track_caller]
fn length_refused(text: &str, cx: Context, sentence: &str, hint: &str) {
    let wrong = length(text, &cx).expect_err(text);
    assert_eq!(
        (wrong.sentence.as_str(), wrong.hint.as_str()),
        (sentence, hint)
    );
}

#[test]
fn lengths_as_a_tape_shows_them() {
    // 7 ft = 84 in, and 10 1/2 in make 94.5
    for text in [
        "7' 10 1/2\"",
        "7'10 1/2\"",
        "7'-10 1/2\"",
        "7' - 10-1/2\"",
        "7’ 10½”",
        "7′ 10½″",
        "7ft 10.5in",
        "7ft10.5in",
        "7 ft. 10 1/2 in.",
        "7 feet, 10.5 inches",
        "7 feet and 10.5 inches",
        "7' 10.5''",
        "7' 10.5",
        "7-10 1/2",
        "94 1/2 in",
        "94-1/2\"",
        "94.5\"",
        "94½ in",
        "94,5 in",
        "7.875 ft",
        "7 7/8 ft",
    ] {
        check_inches(text, US, "94.5");
    }
    check_inches("7-6", US, "90");
    check_inches("7ft2in", US, "86");
    check_inches("7ft3\"", US, "87");
    check_inches("8 lf", US, "96");
    check_inches("2 yd", US, "72");
    check_inches(".5 in", US, "0.5");
    check_inches("1/2\"", US, "0.5");
    check_inches("-3 in", US, "-3");
}

#[test]
fn lengths_in_metres_and_their_parts() {
    check_metres("2.4 m", "2.4");
    check_metres("2,4 m", "2.4");
    check_metres("2400mm", "2.4");
    check_metres("2 400 mm", "2.4");
    check_metres("240 cm", "2.4");
    check_metres("2 m 40 cm", "2.4");
    check_metres("2 Metres", "2");
    check_metres("8'", "2.4384");
    check_metres("1.2 km", "1200");
}

#[test]
fn a_header_serves_bare_numbers_and_a_cells_own_unit_wins() {
    check_inches("8", headed(Unit::Foot), "96");
    check_inches("7-6", headed(Unit::Foot), "90");
    check_inches("96 in", headed(Unit::Foot), "96");
    check_inches("10 1/2", headed(Unit::Inch), "10.5");
    check_inches("94-1/2", headed(Unit::Inch), "94.5");
}

#[test]
fn lengths_that_are_not_clear_are_refused_with_a_way_out() {
    let dash = "needs one length, and a dash may be feet and inches or a range";
    let dash_hint = "write 7' 6\", or one number with a unit";
    length_refused(
        "8",
        US,
        "needs a unit",
        "write 8 ft, or name the unit in the column's header",
    );
    length_refused(
        "8 foot-ish",
        US,
        "needs a unit or a number",
        "write 8 ft, 8' or 96 in",
    );
    length_refused(
        "tall",
        US,
        "needs a length",
        "write 8 ft, 7' 10 1/2\" or 96 in",
    );
    length_refused("tall", METRIC, "needs a length", "write 2.4 m or 2400 mm");
    length_refused("7-6", METRIC, dash, dash_hint);
    length_refused("7-14", US, dash, dash_hint);
    length_refused("7-6", headed(Unit::Inch), dash, dash_hint);
    length_refused(
        "8 ft2",
        US,
        "needs a length, not an area",
        "write 8 ft, 7' 10 1/2\" or 96 in",
    );
    let slip =
        "does not add up: the second part must be less than one of the first, which must be whole";
    length_refused(
        "7' 14\"",
        US,
        slip,
        "write one number and one unit, as 94.5 in",
    );
    length_refused(
        "7.5' 3\"",
        US,
        slip,
        "write one number and one unit, as 94.5 in",
    );
    length_refused(
        "6 in 2 ft",
        US,
        slip,
        "write one number and one unit, as 94.5 in",
    );
    length_refused("", US, "needs a length", "write 8 ft, 7' 10 1/2\" or 96 in");
    assert!(length("4 x 8 ft", &US).is_err());
    assert!(length("1 2 3 ft", &US).is_err());
    assert!(length("7' 6\" 2", &US).is_err());
}

#[test]
fn areas_and_volumes_by_unit_or_by_product() {
    let square_feet = |text: &str| area(text, &US).unwrap();
    assert_eq!(square_feet("32 sq. ft."), Area::square_feet(d("32")));
    assert_eq!(square_feet("32 ft²"), Area::square_feet(d("32")));
    assert_eq!(square_feet("32 SF"), Area::square_feet(d("32")));
    assert_eq!(square_feet("4 ft x 8 ft"), Area::square_feet(d("32")));
    assert_eq!(square_feet("4 by 8 ft"), Area::square_feet(d("32")));
    // 36 in = 3 ft; 3 x 100 = 300 ft2
    assert_eq!(square_feet("36\" x 100'"), Area::square_feet(d("300")));
    assert_eq!(area("3 m2", &US), Ok(Area::square_metres(d("3"))));

    let yards = |text: &str| volume(text, &US).map(Volume::tidy);
    for text in [
        "2 yd3",
        "2 cu yd",
        "2 cu. yds",
        "2 cy",
        "2 yards",
        "2 cubic yards",
        "54 ft3",
    ] {
        assert_eq!(
            yards(text),
            Ok(Volume::cubic_yards(d("2")).tidy()),
            "{text}"
        );
    }
    assert_eq!(yards("1/2 yd"), Ok(Volume::cubic_yards(d("0.5")).tidy()));
    assert_eq!(volume("40 L", &METRIC), Ok(Volume::litres(d("40"))));
    assert_eq!(
        volume("1.5 m³", &METRIC),
        Ok(Volume::cubic_metres(d("1.5")))
    );
    // 3 x 3 x 3 ft = 27 ft3 = 1 yd3
    assert_eq!(
        yards("3 x 3 x 3 ft"),
        Ok(Volume::cubic_yards(d("1")).tidy())
    );
    assert_eq!(
        volume("2", &headed(Unit::Yard)),
        Ok(Volume::cubic_yards(d("2")))
    );
    assert_eq!(volume("2", &US).unwrap_err().sentence, "needs a unit");
    assert_eq!(
        volume("4 ft x 8 ft", &US).unwrap_err().sentence,
        "needs a volume"
    );
}

#[test]
fn weights_and_densities() {
    assert_eq!(weight("40 lbs", &US), Ok(Weight::pounds(d("40"))));
    assert_eq!(weight("25kg", &US), Ok(Weight::kilograms(d("25"))));
    assert_eq!(weight("6.5 tons", &US), Ok(Weight::short_tons(d("6.5"))));
    assert_eq!(weight("6.5 t", &METRIC), Ok(Weight::tonnes(d("6.5"))));
    // 2 lb 8 oz = 2.5 lb
    assert_eq!(weight("2 lb 8 oz", &US), Ok(Weight::pounds(d("2.5"))));
    assert_eq!(
        weight("1 ton", &METRIC).unwrap_err().sentence,
        "is unclear: a ton may be 2,000 lb or 1,000 kg"
    );
    assert_eq!(
        weight("1 short ton", &METRIC),
        Ok(Weight::short_tons(d("1")))
    );

    let moist = Density::pounds_per_cubic_yard(d("2200")).tidy();
    let commas = Context {
        decimal_comma: Commas::Thousands,
        ..US
    };
    for text in [
        "2,200 lb/yd3",
        "2200 lbs/cu yd",
        "2200 lb per cubic yard",
        "1.1 ton/yd3",
    ] {
        assert_eq!(
            density(text, &commas).map(Density::tidy),
            Ok(moist),
            "{text}"
        );
    }
    let heavy = Density::kilograms_per_cubic_metre(d("1300"));
    assert_eq!(density("1300 kg/m3", &METRIC), Ok(heavy));
    assert_eq!(density("1.3 t/m³", &METRIC), Ok(heavy));
    assert_eq!(
        density("1300", &METRIC).unwrap_err().sentence,
        "needs a unit"
    );
}

#[test]
fn amounts_of_any_dimension() {
    let amount = |text: &str| amount(text, &US).unwrap();
    assert_eq!(
        amount("1.5 ft3"),
        Amount::Volume(Volume::cubic_feet(d("1.5")))
    );
    assert_eq!(
        amount("1 yard"),
        Amount::Volume(Volume::cubic_yards(d("1")))
    );
    assert_eq!(amount("12 ft"), Amount::Length(Length::feet(d("12"))));
    assert_eq!(amount("7' 6\""), Amount::Length(Length::feet(d("7.5"))));
    assert_eq!(
        amount("4 ft x 50 ft"),
        Amount::Area(Area::square_feet(d("200")))
    );
    assert_eq!(amount("50"), Amount::Count(d("50")));
    assert_eq!(amount("50 each"), Amount::Count(d("50")));
    assert_eq!(amount("40 lb"), Amount::Weight(Weight::pounds(d("40"))));
    assert_eq!(amount("1 ton"), Amount::Weight(Weight::short_tons(d("1"))));
    let wrong = super::amount("3 gloops", &US).unwrap_err();
    assert_eq!(wrong.sentence, "needs a number and a unit that is known");
    assert!(super::amount("1 box", &US).is_err());
    assert_eq!(
        super::amount("8", &headed(Unit::Foot)),
        Ok(Amount::Length(Length::feet(d("8"))))
    );
}

/// `text` is read as lengths of so many inches.
#[track_caller]
fn check_size(text: &str, inches: &[&str], told: Option<&str>) {
    let read = size_read(text, &US).unwrap_or_else(|w| panic!("{text}: {w:?}"));
    let expected: Vec<Length> = inches.iter().map(|i| Length::inches(d(i)).tidy()).collect();
    let lengths: Vec<Length> = read.lengths.iter().map(|l| l.tidy()).collect();
    assert_eq!(lengths, expected, "{text}");
    assert_eq!(read.read_as.as_deref(), told, "{text}");
}

#[test]
fn sizes_in_one_cell() {
    // A bed four inches wide is none: the plan is in feet, the height in inches, and this is told.
    check_size(
        "4x8x18 in",
        &["48", "96", "18"],
        Some("4 ft x 8 ft x 18 in"),
    );
    check_size(
        "4 × 8 × 18″",
        &["48", "96", "18"],
        Some("4 ft x 8 ft x 18 in"),
    );
    check_size("48x96x18 in", &["48", "96", "18"], None);
    check_size("4' x 8' x 18\"", &["48", "96", "18"], None);
    check_size("4 x 8 ft x 18 in", &["48", "96", "18"], None);
    check_size("4 x 8 x 1.5 ft", &["48", "96", "18"], None);
    check_size("4 ft by 8 ft", &["48", "96"], None);
    check_size("4' 6\" x 8'", &["54", "96"], None);
    assert_eq!(
        size("1.2 x 2.4 x 0.45 m", &METRIC),
        Ok(["1.2", "2.4", "0.45"]
            .map(|m| Length::metres(d(m)))
            .to_vec())
    );
    assert_eq!(
        size("1.2 x 2.4 x 45 cm", &METRIC),
        Ok(["1.2", "2.4", "0.45"]
            .map(|m| Length::metres(d(m)))
            .to_vec())
    );
    assert_eq!(
        size("4x8", &headed(Unit::Foot)),
        Ok(["4", "8"].map(|f| Length::feet(d(f))).to_vec())
    );
}

#[test]
fn sizes_that_may_be_two_things_ask() {
    let wrong = size("8x24x18 in", &US).unwrap_err();
    assert_eq!(
        wrong.hint,
        "write 8 ft x 24 ft x 18 in or 8 in x 24 in x 18 in"
    );
    assert_eq!(size("4x8 in", &US).unwrap_err().hint, "write 4 ft x 8 ft");
    assert_eq!(size("4x8x18", &US).unwrap_err().sentence, "needs a unit");
    assert!(size("4x8x18x2 ft", &US).is_err());
    assert!(size("large", &US).is_err());
}

#[test]
fn the_sides_of_a_board_may_be_smaller_than_any_bed() {
    let cx = Context {
        bare: None,
        system: System::Metric,
        decimal_comma: Commas::default(),
    };
    // 1.5 in = 0.0381 m, 9.25 in = 0.23495 m
    for text in ["1.5 x 9.25 in", "38.1 x 234.95 mm"] {
        let sides = sides(text, &cx).unwrap();
        let metres: Vec<String> = sides
            .iter()
            .map(|s| s.in_metres().normalize().to_string())
            .collect();
        assert_eq!(metres, ["0.0381", "0.23495"], "{text}");
    }
    assert!(sides("38", &cx).is_err());
    assert!(sides("38 x 235", &cx).is_err());
}
