//! Prices by a measure: boards by the foot, the board foot or the cubic metre, sheets and rolls by the square.
//!
//! The pieces that are handed over stand in `Holds`, one or several lengths or sizes; each is an offer of its
//! own at the one price, so that a cut list can choose among them.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::measure_words::{fits, measure, parts_with_units};
use super::packs::per_unit;
use super::panel_size;
use super::reading::Reading;
use crate::model::by_measure::{ByMeasure, PriceUnit, board_feet, sawn_volume};
use crate::model::material::{Category, Material};
use crate::units::parse;
use crate::units::round::tidy15;
use crate::units::{Amount, Area, Length, System};

/// A measure that a price is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Measure {
    unit: PriceUnit,
    per: Decimal,
    word: Arc<str>,
    /// The column that says it.
    said_in: &'static str,
}

/// One kind of piece that a row sells.
pub(super) struct Piece {
    /// What it is called on an order.
    pub(super) pack: Arc<str>,
    pub(super) holds: Amount,
    pub(super) sheet: Option<(Length, Length)>,
    pub(super) by: Option<ByMeasure>,
}

/// The measure by which a row is priced: the unit behind the price, as `1.85/bf`, else its pack.
pub(super) fn of_row(reading: &Reading<'_, '_>, category: Category) -> Option<Measure> {
    let by = |field: &'static str, text: &str| {
        let (unit, per) = measure(text)?;
        fits(category, unit).then(|| Measure {
            unit,
            per,
            word: Arc::from(text.trim()),
            said_in: field,
        })
    };
    let price = reading.text("Price");
    let behind = price.and_then(|price| by("Price", per_unit(&price)?));
    behind.or_else(|| by("Pack", &reading.text("Pack")?))
}

impl Measure {
    /// The pieces that a row sells at its price; nothing after a problem that says why.
    pub(super) fn pieces(
        &self,
        draft: &Draft<'_>,
        reading: &mut Reading<'_, '_>,
        material: &Material,
    ) -> Option<Vec<Piece>> {
        match material.category {
            Category::Panel => self.sheets(reading, material),
            Category::Sheet | Category::Liner | Category::Mesh => self.rolls(reading, material),
            _ => self.sticks(draft, reading, material),
        }
    }

    fn sticks(
        &self,
        draft: &Draft<'_>,
        reading: &mut Reading<'_, '_>,
        material: &Material,
    ) -> Option<Vec<Piece>> {
        let typed = self.typed_lengths(reading)?;
        let is_usual = typed.is_empty();
        let lengths = match typed {
            typed if !is_usual => typed,
            _ if material.category == Category::Lumber => {
                let stock = stock_lengths(draft);
                let said = stock_words(draft, material, &stock);
                reading.notice("Holds", said);
                stock
            }
            _ => return self.no_size(reading, "write the lengths of sticks, as 10, 20 ft"),
        };
        let one = |length: Length| {
            let in_one = self.in_stick(material, length)?;
            let mut piece = self.piece("stick", Amount::Length(length), None, in_one);
            if let Some(by) = &mut piece.by {
                by.usual_lengths = is_usual;
            }
            Some(piece)
        };
        let pieces: Option<Vec<Piece>> = lengths.into_iter().map(one).collect();
        if pieces.is_none() {
            self.no_section(reading, material);
        }
        pieces
    }

    /// Units in a stick; `None` when the section that decides it is not known.
    fn in_stick(&self, material: &Material, length: Length) -> Option<Decimal> {
        let section = material.section.as_ref().map(|known| &known.value);
        match self.unit {
            PriceUnit::BoardFoot => board_feet(section?, length),
            PriceUnit::CubicMetre => Some(sawn_volume(section?, length).in_cubic_metres()),
            _ => self.in_length(length),
        }
    }

    fn in_length(&self, length: Length) -> Option<Decimal> {
        match self.unit {
            PriceUnit::Foot => Some(length.in_feet()),
            PriceUnit::Metre => Some(length.in_metres()),
            _ => None,
        }
    }

    fn in_area(&self, area: Area) -> Option<Decimal> {
        match self.unit {
            PriceUnit::SquareFoot => Some(area.in_square_feet()),
            PriceUnit::SquareMetre => Some(area.in_square_metres()),
            _ => None,
        }
    }

    fn sheets(&self, reading: &mut Reading<'_, '_>, material: &Material) -> Option<Vec<Piece>> {
        let context = reading.row.context("Holds");
        let sizes: Option<Vec<(Length, Length)>> = if self.holds_no_size(reading) {
            panel_size::known(&material.panel).map(|size| vec![size])
        } else {
            let typed = reading.text("Holds")?;
            let parts = parts_with_units(&typed);
            let size = |part: &String| panel_size::in_words(part, &material.panel, context);
            parts.iter().map(size).collect()
        };
        let Some(sizes) = sizes else {
            return self.no_size(reading, "write the size of one sheet, as 4 ft x 8 ft");
        };
        let one = |size: (Length, Length)| {
            let area = size.0 * size.1;
            let in_one = self.in_area(area).or_else(|| self.in_length(size.0))?;
            Some(self.piece("sheet", Amount::Area(area), Some(size), in_one))
        };
        sizes.into_iter().map(one).collect()
    }

    /// Rolls of the sizes in `Holds`; without one the goods are cut off by whole measures.
    fn rolls(&self, reading: &mut Reading<'_, '_>, material: &Material) -> Option<Vec<Piece>> {
        let width = material.roll_width.as_ref().map(|known| known.value);
        if self.holds_no_size(reading) {
            let Some(area) = self.cut_off(width) else {
                return self.no_size(reading, "write the size of one roll, as 4 ft x 50 ft");
            };
            return Some(vec![Piece {
                pack: Arc::clone(&self.word),
                holds: Amount::Area(area),
                sheet: None,
                by: None,
            }]);
        }
        let area = match (reading.amount("Holds")?, width) {
            (Amount::Area(area), _) => area,
            (Amount::Length(length), Some(width)) => length * width,
            _ => return self.no_size(reading, "write the size of one roll, as 4 ft x 50 ft"),
        };
        let along = || {
            let metres = area.in_square_metres().checked_div(width?.in_metres())?;
            self.in_length(Length::metres(metres))
        };
        let Some(in_one) = self.in_area(area).or_else(along) else {
            let hint =
                "write the width of a roll in its name's row of Materials, or a price by area";
            return self.no_size(reading, hint);
        };
        Some(vec![self.piece("roll", Amount::Area(area), None, in_one)])
    }

    /// Area of what one price buys off a roll of this width.
    fn cut_off(&self, width: Option<Length>) -> Option<Area> {
        match self.unit {
            PriceUnit::SquareFoot => Some(Area::square_feet(self.per)),
            PriceUnit::SquareMetre => Some(Area::square_metres(self.per)),
            PriceUnit::Foot => Some(Length::feet(self.per) * width?),
            PriceUnit::Metre => Some(Length::metres(self.per) * width?),
            _ => None,
        }
    }

    fn piece(
        &self,
        pack: &str,
        holds: Amount,
        sheet: Option<(Length, Length)>,
        in_one: Decimal,
    ) -> Piece {
        Piece {
            pack: Arc::from(pack),
            holds,
            sheet,
            by: Some(ByMeasure {
                unit: self.unit,
                per: self.per,
                in_one: tidy15(in_one),
                word: Arc::clone(&self.word),
                usual_lengths: false,
            }),
        }
    }

    /// Whether `Holds` says only what the price is for: nothing, `1`, `1 lf`, `bf`.
    fn holds_no_size(&self, reading: &Reading<'_, '_>) -> bool {
        let Some(typed) = reading.text("Holds") else {
            return true;
        };
        typed.trim() == "1" || measure(&typed).is_some_and(|(unit, _)| unit == self.unit)
    }

    /// The lengths in `Holds`; none when it says only what the price is for.
    fn typed_lengths(&self, reading: &mut Reading<'_, '_>) -> Option<Vec<Length>> {
        if self.holds_no_size(reading) {
            return Some(Vec::new());
        }
        let typed = reading.text("Holds")?;
        let mut context = reading.row.context("Holds");
        context.bare = context.bare.or(match self.unit {
            PriceUnit::Foot => Some(parse::Unit::Foot),
            PriceUnit::Metre => Some(parse::Unit::Metre),
            _ => None,
        });
        let mut lengths = Vec::new();
        for part in parts_with_units(&typed) {
            match parse::length(&part, &context) {
                Ok(length) if length > Length::ZERO => lengths.push(length),
                _ => return self.no_size(reading, "write the lengths of sticks, as 8, 10, 12 ft"),
            }
        }
        lengths.sort_unstable();
        lengths.dedup();
        Some(lengths)
    }

    fn no_size<T>(&self, reading: &mut Reading<'_, '_>, hint: &str) -> Option<T> {
        let sentence = format!("Holds must say what is sold at a price for {}", self.word);
        reading.complain("Holds", sentence, hint);
        None
    }

    fn no_section(&self, reading: &mut Reading<'_, '_>, material: &Material) {
        let name = &material.name;
        let (size, hint) = if self.unit == PriceUnit::BoardFoot {
            let hint =
                "write its trade size in Section of Materials, as 2x10, or a price by the foot";
            ("nominal size in inches", hint)
        } else {
            let hint = "write its size in Section of Materials, as 47x225, or a price by the metre";
            ("section", hint)
        };
        let sentence = format!(
            "{name} is priced by the {}, and its {size} is not known",
            self.word
        );
        reading.complain(self.said_in, sentence, hint);
    }

    /// A number of pieces from a number of measures, as `500 bf`; only where one piece is sold.
    pub(super) fn pieces_in(
        &self,
        reading: &mut Reading<'_, '_>,
        field: &'static str,
        pieces: &[Piece],
    ) -> Option<Decimal> {
        let typed = reading.text(field)?;
        let [Piece { by: Some(by), .. }] = pieces else {
            let sentence = format!(
                "{field} counts {}, and this row sells several lengths",
                self.word
            );
            reading.complain(field, sentence, "write a row of Prices for each length");
            return None;
        };
        let commas = reading.row.context(field).decimal_comma;
        let (number, word) = match typed.trim().split_once(' ') {
            Some((number, word)) => (number, Some(word)),
            None => (typed.trim(), None),
        };
        let per = match word.map(measure) {
            None => Some(self.per),
            Some(Some((unit, per))) if unit == self.unit => Some(per),
            Some(_) => None,
        };
        let units = parse::number(number, commas).ok().zip(per);
        let Some((number, per)) =
            units.filter(|(number, _)| crate::units::limit::NUMBER.holds(*number))
        else {
            let hint = format!("write a number of {}", self.word);
            reading.complain(
                field,
                format!("{field} must be a number of {}", self.word),
                &hint,
            );
            return None;
        };
        number.checked_mul(per)?.checked_div(by.in_one).map(tidy15)
    }
}

/// Lengths in which boards are usually in stock, from the library.
fn stock_lengths(draft: &Draft<'_>) -> Vec<Length> {
    let (range, step, make): (_, _, fn(Decimal) -> Length) = match draft.system {
        System::UsCustomary => ("stock_length_ft", "stock_length_step_ft", Length::feet),
        System::Metric => ("stock_length_m", "stock_length_step_m", Length::metres),
    };
    let step = draft.library.typical(step);
    let Some(figure) = draft.library.figure(range).filter(|_| step > Decimal::ZERO) else {
        return Vec::new();
    };
    let (least, _, most) = figure.value;
    let next = |number: &Decimal| number.checked_add(step).filter(|n| *n <= most);
    std::iter::successors(Some(least), next).map(make).collect()
}

fn stock_words(draft: &Draft<'_>, material: &Material, stock: &[Length]) -> String {
    let shown: Vec<String> = stock.iter().map(|l| draft.system.length(*l)).collect();
    format!(
        "{} is priced without lengths of sticks, taken as the usual stock: {}",
        material.name,
        shown.join(", ")
    )
}
