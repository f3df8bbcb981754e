//! The two charts of the summary. One series each, every bar with its name and figure, so that
//! nothing hangs on colour.

use rust_xlsxwriter::{
    Chart, ChartDataLabel, ChartDataLabelPosition, ChartFont, ChartFormat, ChartLine,
    ChartPatternFill, ChartPatternFillType, ChartSolidFill, ChartType, Color,
};

use super::formats::INK;

/// Pixels of a row of the usual height.
const ROW: u32 = 20;
/// Fill of the bars of prices.
const LEAF: u32 = 0x7C_8F7A;

/// Names and figures of the bars, on one sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bars<'a> {
    /// The sheet.
    pub(super) sheet: &'a str,
    /// First and last row.
    pub(super) rows: (u32, u32),
    /// Column of the names.
    pub(super) names: u16,
    /// Column of the figures.
    pub(super) figures: u16,
}

/// How a chart is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Drawing<'a> {
    /// Its title.
    pub(super) title: &'a str,
    /// What it shows, for people who hear the page read.
    pub(super) words: &'a str,
    /// Whether the bars are hatched.
    pub(super) hatched: bool,
    /// Width in pixels.
    pub(super) width: u32,
    /// Height in rows of the usual height.
    pub(super) height: u32,
}

/// A bar chart, the first name on top.
pub(super) fn bars(bars: Bars<'_>, drawing: Drawing<'_>) -> Chart {
    let mut chart = Chart::new(ChartType::Bar);
    let (first, last) = bars.rows;
    let mut small = ChartFont::new();
    small.set_size(9).set_color(Color::RGB(INK));
    let mut label = ChartDataLabel::new();
    label
        .show_value()
        .set_position(ChartDataLabelPosition::OutsideEnd)
        .set_num_format("#,##0")
        .set_font(&small);
    chart
        .add_series()
        .set_categories((bars.sheet, first, bars.names, last, bars.names))
        .set_values((bars.sheet, first, bars.figures, last, bars.figures))
        .set_format(&mut fill(drawing.hatched))
        .set_data_label(&label)
        .set_gap(45);
    let mut title = ChartFont::new();
    title.set_size(11).set_bold().set_color(Color::RGB(INK));
    chart.title().set_name(drawing.title).set_font(&title);
    chart.legend().set_hidden();
    // Bars lie: the names stand on the upright axis.
    chart.y_axis().set_reverse().set_font(&small);
    // The figures stand at the bars; an axis would only repeat them.
    chart
        .x_axis()
        .set_hidden(true)
        .set_major_gridlines(false)
        .set_min(0);
    chart
        .set_width(drawing.width)
        .set_height(drawing.height.saturating_mul(ROW).saturating_sub(6))
        .set_alt_text(drawing.words);
    chart
}

fn fill(hatched: bool) -> ChartFormat {
    let mut format = ChartFormat::new();
    let mut edge = ChartLine::new();
    edge.set_color(Color::RGB(INK)).set_width(0.75);
    format.set_border(&edge);
    if hatched {
        let mut pattern = ChartPatternFill::new();
        pattern
            .set_pattern(ChartPatternFillType::DiagonalStripesWideUpwards)
            .set_foreground_color(Color::RGB(LEAF))
            .set_background_color(Color::White);
        format.set_pattern_fill(&pattern);
    } else {
        let mut solid = ChartSolidFill::new();
        solid.set_color(Color::RGB(LEAF));
        format.set_solid_fill(&solid);
    }
    format
}

/// Bars over days, the first row on top: each begins at the number of its first day, which an invisible part
/// of the bar holds free, and is as long as its days.
pub(super) fn days_chart(
    sheet: &str,
    (first, last): (u32, u32),
    (names, begins, days): (u16, u16, u16),
) -> Chart {
    let mut chart = Chart::new(ChartType::BarStacked);
    let mut small = ChartFont::new();
    small.set_size(9).set_color(Color::RGB(INK));
    let mut hidden = ChartFormat::new();
    hidden.set_no_fill().set_no_border();
    for (column, mut format) in [(begins, hidden), (days, fill(true))] {
        chart
            .add_series()
            .set_categories((sheet, first, names, last, names))
            .set_values((sheet, first, column, last, column))
            .set_format(&mut format)
            .set_gap(40);
    }
    let mut title = ChartFont::new();
    title.set_size(11).set_bold().set_color(Color::RGB(INK));
    chart
        .title()
        .set_name("Days, counted from the first one")
        .set_font(&title);
    chart.legend().set_hidden();
    chart.y_axis().set_reverse().set_font(&small);
    chart.x_axis().set_font(&small).set_min(0);
    let rows = last.saturating_sub(first).saturating_add(1);
    chart
        .set_width(900)
        .set_height(rows.saturating_mul(ROW).saturating_add(90))
        .set_alt_text(
            "Bars over days: orders, deliveries, visits and the day from which beds can be planted",
        );
    chart
}
