//! How cells look: a calm palette that also reads in grey, and number formats by what is shown.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use rust_decimal::Decimal;
use rust_xlsxwriter::{Color, Format as Look, FormatAlign, FormatBorder, FormatUnderline};

use crate::price::ledger::{Column, Format, Role, Value};

/// Ink of headings.
pub(crate) const INK: u32 = 0x2F_3E36;
/// Fill of header rows.
const HEAD: u32 = 0xDF_E6DC;
/// Fill of cells that are meant for change: light, so that figures stay readable on any printer.
const MARK: u32 = 0xFB_F3DC;
/// Their border.
const MARK_EDGE: u32 = 0x8C_7B4F;
/// Scaffolding.
const QUIET: u32 = 0x6E_6E6E;
/// Fill behind scaffolding headers.
const QUIET_FILL: u32 = 0xEE_EEEE;
/// Fill of lines that must not be overlooked.
const ALERT: u32 = 0xF6_DED4;

/// What a cell is, as far as its look goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Style {
    /// A figure.
    Plain,
    /// Words, a little off the figures to their left.
    Words,
    /// Meant for change.
    Marked,
    /// Words that are meant for change.
    MarkedWords,
    /// A way to another sheet.
    Link,
    /// Words that stand in a column of figures.
    Right,
    /// Several lines in one cell.
    Wrapped,
    /// A header over words.
    Head,
    /// A header over numbers.
    HeadNumber,
    /// A header over running totals.
    HeadQuiet,
    /// The same over words.
    HeadQuietWords,
    /// A running total or a remark.
    Quiet,
    /// A remark to the right of a figure.
    Beside,
    /// Words that weigh more than others.
    Bold,
    /// The title of a sheet.
    Title,
    /// A heading of a table or section.
    Heading,
    /// A total.
    Strong,
    /// The price itself.
    Price,
    /// Something that must not be overlooked.
    Alert,
    /// The ground of such a line in its other columns.
    AlertRest,
}

/// How a number is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Digits {
    /// As many decimals as it has.
    Any,
    /// Grouped by thousands, with so many decimals.
    Fixed(u8),
    /// Grouped by thousands, with so many decimals at the least and at the most.
    Between(u8, u8),
    /// A percentage with so many decimals.
    Percent(u8),
    /// A day.
    Date,
}

impl Digits {
    /// The number format's code.
    fn code(self) -> Option<String> {
        let zeros = |n: u8| "0".repeat(usize::from(n));
        match self {
            Self::Any => None,
            Self::Fixed(0) => Some("#,##0".to_owned()),
            Self::Fixed(n) => Some(format!("#,##0.{}", zeros(n))),
            Self::Between(0, most) => Self::Fixed(most).code(),
            Self::Between(least, most) => {
                let more = "#".repeat(usize::from(most.saturating_sub(least)));
                Some(format!("#,##0.{}{more}", zeros(least)))
            }
            Self::Percent(0) => Some("0%".to_owned()),
            Self::Percent(n) => Some(format!("0.{}%", zeros(n))),
            Self::Date => Some("yyyy-mm-dd".to_owned()),
        }
    }

    /// Decimals at the most, for widths.
    pub(crate) fn decimals(self) -> usize {
        match self {
            Self::Any | Self::Date => 0,
            Self::Fixed(n) | Self::Between(_, n) | Self::Percent(n) => usize::from(n),
        }
    }
}

/// Formats made so far; equal ones are made once.
#[derive(Debug)]
pub(crate) struct Formats {
    /// Decimals of the currency.
    pub(crate) minor: u8,
    made: RefCell<BTreeMap<(Style, Digits), Rc<Look>>>,
}

impl Formats {
    /// Formats for a currency with so many decimals.
    pub(crate) fn new(minor: u32) -> Self {
        Self {
            minor: u8::try_from(minor).unwrap_or(2),
            made: RefCell::new(BTreeMap::new()),
        }
    }

    /// The format of a style and its numbers.
    pub(crate) fn get(&self, style: Style, digits: Digits) -> Rc<Look> {
        let mut made = self.made.borrow_mut();
        let format = made
            .entry((style, digits))
            .or_insert_with(|| Rc::new(look(style, digits)));
        Rc::clone(format)
    }

    /// The format of words.
    pub(crate) fn words(&self, style: Style) -> Rc<Look> {
        self.get(style, Digits::Any)
    }

    /// How sums of money are written.
    pub(crate) fn money(&self) -> Digits {
        Digits::Fixed(self.minor)
    }

    /// How numbers of a ledger format are written, given those that it must show; `changes` when
    /// later numbers may need more decimals than these.
    pub(crate) fn digits<'v>(
        &self,
        format: Format,
        changes: bool,
        values: impl Iterator<Item = &'v Decimal>,
    ) -> Digits {
        match format {
            Format::Text => Digits::Any,
            Format::Money => self.money(),
            Format::UnitPrice => Digits::Between(self.minor, self.minor.saturating_add(2)),
            Format::Number(most) => {
                let needed = needed(values, 0, most);
                Digits::Fixed(needed.max(if changes { most.min(2) } else { 0 }))
            }
            Format::Percent => {
                let needed = needed(values, 2, 4);
                Digits::Percent(if changes { needed.max(2) } else { needed })
            }
        }
    }
}

/// Decimals that the values need when shifted by so many places, at most `most`.
fn needed<'v>(values: impl Iterator<Item = &'v Decimal>, shift: u32, most: u8) -> u8 {
    let mut needed = 0;
    for value in values {
        let scale = value.normalize().scale().saturating_sub(shift);
        needed = needed.max(u8::try_from(scale).unwrap_or(u8::MAX));
        if needed >= most {
            return most;
        }
    }
    needed
}

/// The numbers of a column as the engine left them.
pub(crate) fn numbers_of<'v>(
    column: &'v Column,
    computed: Option<&'v [Decimal]>,
) -> impl Iterator<Item = &'v Decimal> {
    let stored = column.values.iter().filter_map(|value| match value {
        Value::Number(number) => Some(number),
        _ => None,
    });
    computed.unwrap_or_default().iter().chain(stored)
}

/// Whether later numbers of a column may need more decimals than today's.
pub(crate) fn changes(role: &Role) -> bool {
    !matches!(role, Role::Label | Role::Fixed)
}

fn look(style: Style, digits: Digits) -> Look {
    let base = match digits.code() {
        Some(code) => Look::new().set_num_format(code),
        None => Look::new(),
    };
    let base = base.set_align(FormatAlign::Top);
    match style {
        Style::Plain => base,
        Style::Words => base.set_align(FormatAlign::Left).set_indent(1),
        Style::Right => base.set_align(FormatAlign::Right),
        Style::Marked => marked(base),
        Style::MarkedWords => marked(base).set_align(FormatAlign::Left).set_indent(1),
        Style::Link => base
            .set_font_color(Color::RGB(INK))
            .set_underline(FormatUnderline::Single)
            .set_align(FormatAlign::Left)
            .set_indent(1),
        Style::Wrapped => base
            .set_text_wrap()
            .set_align(FormatAlign::Left)
            .set_indent(1),
        Style::Head => head(base).set_align(FormatAlign::Left).set_indent(1),
        Style::HeadNumber => head(base).set_align(FormatAlign::Right),
        Style::HeadQuiet => head_quiet(base).set_align(FormatAlign::Right),
        Style::HeadQuietWords => head_quiet(base).set_align(FormatAlign::Left).set_indent(1),
        Style::Quiet => base.set_font_color(Color::RGB(QUIET)),
        Style::Beside => base
            .set_font_color(Color::RGB(QUIET))
            .set_align(FormatAlign::Left)
            .set_indent(1),
        Style::Bold => base.set_bold().set_align(FormatAlign::Left).set_indent(1),
        Style::Title => base
            .set_bold()
            .set_font_size(16)
            .set_font_color(Color::RGB(INK)),
        Style::Heading => base
            .set_bold()
            .set_font_size(12)
            .set_font_color(Color::RGB(INK)),
        Style::Strong => base
            .set_bold()
            .set_border_top(FormatBorder::Thin)
            .set_border_top_color(Color::RGB(INK)),
        Style::Price => base
            .set_bold()
            .set_font_size(16)
            .set_border_bottom(FormatBorder::Double)
            .set_border_bottom_color(Color::RGB(INK)),
        Style::Alert => base
            .set_bold()
            .set_background_color(Color::RGB(ALERT))
            .set_border_left(FormatBorder::Thick)
            .set_border_left_color(Color::RGB(INK)),
        Style::AlertRest => base.set_background_color(Color::RGB(ALERT)),
    }
}

fn marked(base: Look) -> Look {
    base.set_background_color(Color::RGB(MARK))
        .set_border(FormatBorder::Dotted)
        .set_border_color(Color::RGB(MARK_EDGE))
        .set_unlocked()
}

fn head_quiet(base: Look) -> Look {
    base.set_background_color(Color::RGB(QUIET_FILL))
        .set_font_color(Color::RGB(QUIET))
        .set_italic()
        .set_text_wrap()
        .set_align(FormatAlign::VerticalCenter)
}

fn head(base: Look) -> Look {
    base.set_bold()
        .set_text_wrap()
        .set_font_color(Color::RGB(INK))
        .set_background_color(Color::RGB(HEAD))
        .set_border_bottom(FormatBorder::Thin)
        .set_border_bottom_color(Color::RGB(INK))
        .set_align(FormatAlign::VerticalCenter)
}
