//! The names of units, in the spellings that lists and shops use.

use rust_decimal::Decimal;

use super::accents::without_accents;
use super::spanish;
use super::spellings::SPELLINGS;
use crate::units::length::{
    CUBIC_METRES_PER_CUBIC_FOOT, CUBIC_METRES_PER_CUBIC_YARD, METRES_PER_FOOT, METRES_PER_INCH,
    SQUARE_METRES_PER_SQUARE_FOOT,
};
use crate::units::weight::KILOGRAMS_PER_POUND;

/// A unit as named by a cell or a header.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// in
    Inch,
    /// ft
    Foot,
    /// yd; in a column of volumes the trade means a cubic yard
    Yard,
    /// mi
    Mile,
    /// mm
    Millimetre,
    /// cm
    Centimetre,
    /// m
    Metre,
    /// km
    Kilometre,
    /// in2
    SquareInch,
    /// ft2
    SquareFoot,
    /// yd2
    SquareYard,
    /// m2
    SquareMetre,
    /// in3
    CubicInch,
    /// ft3
    CubicFoot,
    /// yd3
    CubicYard,
    /// US gallon of 231 in3
    Gallon,
    /// L
    Litre,
    /// m3
    CubicMetre,
    /// oz
    Ounce,
    /// lb
    Pound,
    /// `ton` without saying which: 2,000 lb in jobs in US units, asked about in others
    Ton,
    /// 2,000 lb
    ShortTon,
    /// g
    Gram,
    /// kg
    Kilogram,
    /// t, 1,000 kg
    Tonne,
    /// lb/ft3
    PoundPerCubicFoot,
    /// lb/yd3
    PoundPerCubicYard,
    /// kg/m3
    KilogramPerCubicMetre,
    /// kg/L, the same as t/m3
    KilogramPerLitre,
    /// gal/h
    GallonPerHour,
    /// gal/min
    GallonPerMinute,
    /// L/h
    LitrePerHour,
    /// L/min
    LitrePerMinute,
    /// lbf/in2
    Psi,
    /// kPa
    Kilopascal,
    /// bar
    Bar,
    /// pieces
    Each,
    /// 12 pieces
    Dozen,
    /// %
    Percent,
    /// h
    Hour,
    /// min
    Minute,
    /// days
    Day,
}

/// What kind of thing a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measures {
    /// Base unit m.
    Length,
    /// Base unit m2.
    Area,
    /// Base unit m3.
    Volume,
    /// Base unit kg.
    Weight,
    /// Base unit kg/m3.
    Density,
    /// Base unit L/h.
    Flow,
    /// Base unit kPa.
    Pressure,
    /// Base unit piece.
    Count,
    /// Base unit 1.
    Share,
    /// Base unit h.
    Time,
}

/// The longest spelling, so that longer words are refused unread.
const LONGEST: usize = 24;

/// The unit that a word names, in any of its usual spellings: `ft`, `feet`, `'`, `cu yd`, `yd³`.
pub fn unit(word: &str) -> Option<Unit> {
    let mut plain = String::with_capacity(LONGEST);
    for c in without_accents(word) {
        match c {
            ' ' | '.' | '^' | '-' | '\u{a0}' => {}
            'á' | 'Á' => plain.push('a'),
            'é' | 'É' => plain.push('e'),
            'í' | 'Í' => plain.push('i'),
            'ó' | 'Ó' => plain.push('o'),
            'ú' | 'Ú' => plain.push('u'),
            '²' => plain.push('2'),
            '³' => plain.push('3'),
            '′' | '’' => plain.push('\''),
            '″' | '”' => plain.push('"'),
            other => plain.extend(other.to_lowercase()),
        }
        if plain.len() > LONGEST {
            return None;
        }
    }
    if plain == "''" {
        return Some(Unit::Inch);
    }
    let mut all = SPELLINGS.iter().chain(spanish::SPELLINGS);
    let found = all.find(|(_, spellings)| spellings.contains(&plain.as_str()));
    found.map(|(unit, _)| *unit)
}

impl Unit {
    /// Its symbol in outputs and hints.
    pub fn symbol(self) -> &'static str {
        let known = SPELLINGS.iter().find(|(unit, _)| *unit == self);
        match self {
            Self::Litre => "L",
            Self::Gallon => "gal",
            Self::GallonPerHour => "gal/h",
            Self::GallonPerMinute => "gal/min",
            Self::LitrePerHour => "L/h",
            Self::LitrePerMinute => "L/min",
            Self::Kilopascal => "kPa",
            Self::ShortTon => "short ton",
            Self::KilogramPerLitre => "kg/L",
            _ => known
                .and_then(|(_, words)| words.first())
                .copied()
                .unwrap_or(""),
        }
    }

    /// The kind of thing it measures.
    pub const fn measures(self) -> Measures {
        match self {
            Self::Inch
            | Self::Foot
            | Self::Yard
            | Self::Mile
            | Self::Millimetre
            | Self::Centimetre
            | Self::Metre
            | Self::Kilometre => Measures::Length,
            Self::SquareInch | Self::SquareFoot | Self::SquareYard | Self::SquareMetre => {
                Measures::Area
            }
            Self::CubicInch
            | Self::CubicFoot
            | Self::CubicYard
            | Self::Gallon
            | Self::Litre
            | Self::CubicMetre => Measures::Volume,
            Self::Ounce
            | Self::Pound
            | Self::Ton
            | Self::ShortTon
            | Self::Gram
            | Self::Kilogram
            | Self::Tonne => Measures::Weight,
            Self::PoundPerCubicFoot
            | Self::PoundPerCubicYard
            | Self::KilogramPerCubicMetre
            | Self::KilogramPerLitre => Measures::Density,
            Self::GallonPerHour
            | Self::GallonPerMinute
            | Self::LitrePerHour
            | Self::LitrePerMinute => Measures::Flow,
            Self::Psi | Self::Kilopascal | Self::Bar => Measures::Pressure,
            Self::Each | Self::Dozen => Measures::Count,
            Self::Percent => Measures::Share,
            Self::Hour | Self::Minute | Self::Day => Measures::Time,
        }
    }

    /// Whether it belongs to the US customary system, `None` when to both or neither.
    pub const fn is_customary(self) -> Option<bool> {
        match self {
            Self::Inch
            | Self::Foot
            | Self::Yard
            | Self::Mile
            | Self::SquareInch
            | Self::SquareFoot
            | Self::SquareYard
            | Self::CubicInch
            | Self::CubicFoot
            | Self::CubicYard
            | Self::Gallon
            | Self::Ounce
            | Self::Pound
            | Self::ShortTon
            | Self::PoundPerCubicFoot
            | Self::PoundPerCubicYard
            | Self::GallonPerHour
            | Self::GallonPerMinute
            | Self::Psi => Some(true),
            Self::Ton
            | Self::Each
            | Self::Dozen
            | Self::Percent
            | Self::Hour
            | Self::Minute
            | Self::Day => None,
            _ => Some(false),
        }
    }

    /// How many base units (m, m2, m3, kg, kg/m3, L/h, kPa, piece, fraction, h) one of it is.
    ///
    /// Two units are not whole decimals of their base and are kept to 28 digits: a minute is 1/60 h,
    /// and a pound per cubic yard or foot divides two exact numbers.
    pub fn in_base(self) -> Decimal {
        let thousandth = Decimal::new(1, 3);
        let pound = KILOGRAMS_PER_POUND;
        let gallon = Decimal::new(3_785_411_784, 12);
        match self {
            Self::Inch => METRES_PER_INCH,
            Self::Foot => METRES_PER_FOOT,
            Self::Yard => Decimal::new(9144, 4),
            Self::Mile => Decimal::new(1_609_344, 3),
            Self::Millimetre | Self::Gram | Self::Litre => thousandth,
            Self::Centimetre | Self::Percent => Decimal::new(1, 2),
            Self::SquareInch => Decimal::new(64_516, 8),
            Self::SquareFoot => SQUARE_METRES_PER_SQUARE_FOOT,
            Self::SquareYard => Decimal::new(83_612_736, 8),
            Self::CubicInch => Decimal::new(16_387_064, 12),
            Self::CubicFoot => CUBIC_METRES_PER_CUBIC_FOOT,
            Self::CubicYard => CUBIC_METRES_PER_CUBIC_YARD,
            Self::Gallon => gallon,
            Self::Ounce => Decimal::new(28_349_523_125, 12),
            Self::Pound => pound,
            Self::Ton | Self::ShortTon => pound.saturating_mul(Decimal::from(2000)),
            Self::PoundPerCubicFoot => part(pound, CUBIC_METRES_PER_CUBIC_FOOT),
            Self::PoundPerCubicYard => part(pound, CUBIC_METRES_PER_CUBIC_YARD),
            Self::GallonPerHour => gallon.saturating_mul(Decimal::ONE_THOUSAND),
            Self::GallonPerMinute => gallon.saturating_mul(Decimal::from(60_000)),
            Self::LitrePerMinute => Decimal::from(60),
            Self::Psi => Decimal::new(6_894_757_293_168, 12),
            Self::Bar => Decimal::ONE_HUNDRED,
            Self::Minute => part(Decimal::ONE, Decimal::from(60)),
            Self::Day => Decimal::from(24),
            Self::Dozen => Decimal::from(12),
            Self::Kilometre | Self::Tonne | Self::KilogramPerLitre => Decimal::ONE_THOUSAND,
            Self::Metre
            | Self::SquareMetre
            | Self::CubicMetre
            | Self::Kilogram
            | Self::KilogramPerCubicMetre
            | Self::LitrePerHour
            | Self::Kilopascal
            | Self::Each
            | Self::Hour => Decimal::ONE,
        }
    }
}

fn part(whole: Decimal, of: Decimal) -> Decimal {
    whole.checked_div(of).unwrap_or_default()
}
