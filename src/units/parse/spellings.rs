//! How lists, shops and headers spell the names of units.

use super::Unit;

/// Spellings, without spaces, dots and carets and in lower case; the order of a line has no meaning.
pub(super) const SPELLINGS: &[(Unit, &[&str])] = &[
    (Unit::Inch, &["in", "inch", "inches", "ins", "\""]),
    (
        Unit::Foot,
        &[
            "ft",
            "foot",
            "feet",
            "'",
            "lf",
            "linft",
            "linearft",
            "linearfoot",
            "linearfeet",
            "lnft",
        ],
    ),
    (Unit::Yard, &["yd", "yds", "yard", "yards"]),
    (Unit::Mile, &["mi", "mile", "miles"]),
    (
        Unit::Millimetre,
        &[
            "mm",
            "millimetre",
            "millimetres",
            "millimeter",
            "millimeters",
        ],
    ),
    (
        Unit::Centimetre,
        &[
            "cm",
            "centimetre",
            "centimetres",
            "centimeter",
            "centimeters",
        ],
    ),
    (
        Unit::Metre,
        &[
            "m", "metre", "metres", "meter", "meters", "lm", "linearm", "linm", "mtr",
        ],
    ),
    (
        Unit::Kilometre,
        &["km", "kilometre", "kilometres", "kilometer", "kilometers"],
    ),
    (
        Unit::SquareInch,
        &["in2", "sqin", "squareinch", "squareinches"],
    ),
    (
        Unit::SquareFoot,
        &["ft2", "sqft", "sf", "squarefoot", "squarefeet"],
    ),
    (
        Unit::SquareYard,
        &["yd2", "sqyd", "sqyds", "sy", "squareyard", "squareyards"],
    ),
    (
        Unit::SquareMetre,
        &[
            "m2",
            "sqm",
            "squaremetre",
            "squaremetres",
            "squaremeter",
            "squaremeters",
        ],
    ),
    (
        Unit::CubicInch,
        &["in3", "cuin", "cubicinch", "cubicinches"],
    ),
    (
        Unit::CubicFoot,
        &["ft3", "cuft", "cf", "cubicfoot", "cubicfeet", "cubicft"],
    ),
    (
        Unit::CubicYard,
        &[
            "yd3",
            "cuyd",
            "cuyds",
            "cy",
            "cubicyard",
            "cubicyards",
            "cubicyd",
            "cubicyds",
        ],
    ),
    (
        Unit::Gallon,
        &[
            "gal",
            "gals",
            "gallon",
            "gallons",
            "usgal",
            "usgallon",
            "usgallons",
        ],
    ),
    (
        Unit::Litre,
        &["l", "ltr", "litre", "litres", "liter", "liters"],
    ),
    (
        Unit::CubicMetre,
        &[
            "m3",
            "cum",
            "cbm",
            "cubicmetre",
            "cubicmetres",
            "cubicmeter",
            "cubicmeters",
        ],
    ),
    (Unit::Ounce, &["oz", "ounce", "ounces"]),
    (Unit::Pound, &["lb", "lbs", "pound", "pounds"]),
    (Unit::Ton, &["ton", "tons"]),
    (
        Unit::ShortTon,
        &["shortton", "shorttons", "uston", "ustons"],
    ),
    (Unit::Gram, &["g", "gram", "grams", "gramme", "grammes"]),
    (
        Unit::Kilogram,
        &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"],
    ),
    (
        Unit::Tonne,
        &[
            "t",
            "tonne",
            "tonnes",
            "metricton",
            "metrictons",
            "metrictonne",
            "metrictonnes",
        ],
    ),
    (
        Unit::PoundPerCubicFoot,
        &["lb/ft3", "lbs/ft3", "lb/cuft", "lbs/cuft", "lb/cf", "pcf"],
    ),
    (
        Unit::PoundPerCubicYard,
        &[
            "lb/yd3",
            "lbs/yd3",
            "lb/cuyd",
            "lbs/cuyd",
            "lb/cy",
            "lbs/cy",
            "lb/yd",
            "lbs/yd",
            "lb/yard",
            "lbs/yard",
            "lb/cubicyard",
            "lbs/cubicyard",
            "poundspercubicyard",
        ],
    ),
    (
        Unit::KilogramPerCubicMetre,
        &["kg/m3", "kg/cum", "kg/cbm", "g/l"],
    ),
    (Unit::KilogramPerLitre, &["kg/l", "t/m3", "g/cm3", "g/ml"]),
    (
        Unit::GallonPerHour,
        &["gph", "gal/h", "gal/hr", "gal/hour", "gallonsperhour"],
    ),
    (
        Unit::GallonPerMinute,
        &["gpm", "gal/min", "gal/minute", "gallonsperminute"],
    ),
    (Unit::LitrePerHour, &["l/h", "lph", "l/hr", "l/hour"]),
    (Unit::LitrePerMinute, &["l/min", "lpm", "l/minute"]),
    (Unit::Psi, &["psi", "lb/in2", "lbf/in2"]),
    (Unit::Kilopascal, &["kpa"]),
    (Unit::Bar, &["bar"]),
    (
        Unit::Each,
        &[
            "each", "ea", "pc", "pcs", "piece", "pieces", "count", "ct", "no", "nos", "pce",
        ],
    ),
    (Unit::Percent, &["%", "percent", "pct"]),
    (Unit::Hour, &["h", "hr", "hrs", "hour", "hours"]),
    (Unit::Minute, &["min", "mins", "minute", "minutes"]),
    (Unit::Day, &["d", "day", "days"]),
];
