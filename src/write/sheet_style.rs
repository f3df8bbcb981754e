//! Paper, print titles, headers and footers.

use rust_xlsxwriter::{Worksheet, XlsxError};

use crate::model::settings::Paper;

/// What every printed page of the workbook says.
const WARNING: &str = "OWNER COPY: shows cost and markup";
/// Most characters of a page header or footer.
const LONGEST: usize = 255;
/// Characters that fit across an upright page in the usual size.
const UPRIGHT: usize = 110;
/// The same in a small size that still reads well.
const UPRIGHT_SMALL: usize = 190;
/// The same across a page on its side; wider sheets go over several pages.
const ON_ITS_SIDE: usize = 300;
/// The same for sheets that are looked up and not read.
const ASIDE: usize = 340;
/// Characters and rows of a page on its side in the usual size.
const LYING: (usize, usize) = (137, 34);
/// Rows of a sheet of sections that go on one upright page, made a little smaller for it.
const ONE_PAGE: usize = 84;
/// Rows of the pages of a longer sheet of sections.
const SECTION_ROWS: usize = 60;

/// What is the same on all sheets.
#[derive(Clone, Debug)]
pub(super) struct Stationery {
    /// Paper.
    pub(super) paper: Paper,
    /// Name of the job.
    pub(super) job: String,
    /// `Estimate 12, 2026-11-24`.
    pub(super) estimate: String,
}

/// What differs.
#[derive(Clone, Debug, Default)]
pub(super) struct Shape {
    /// Characters across all columns.
    pub(super) width: usize,
    /// Rows of the usual height.
    pub(super) height: usize,
    /// Last row and column that are printed, when not all are.
    pub(super) area: Option<(u32, u16)>,
    /// Whether the sheet is out of sight until somebody unhides it.
    pub(super) is_hidden: bool,
    /// Whether it is looked up rather than read, so that it may be small.
    pub(super) is_aside: bool,
    /// The header row that stays in view and repeats on each page.
    pub(super) head: Option<u32>,
    /// Columns that stay in view.
    pub(super) held: u16,
    /// Rows at which the sections of an upright sheet start; empty for a table.
    pub(super) sections: Vec<u32>,
}

impl Shape {
    /// Whether the page lies on its side: for what is wide, unless it is long and an upright page holds
    /// more of it in a size that reads well.
    fn lies(&self) -> bool {
        let rows = LYING.1.saturating_mul(self.width.max(LYING.0)) / LYING.0;
        let is_long = self.height > rows;
        self.width > UPRIGHT && !(is_long && self.width <= UPRIGHT_SMALL)
    }

    /// Rows before which a new page starts, so that no section is torn that fits on one.
    fn breaks(&self) -> Vec<u32> {
        let (mut breaks, mut top) = (Vec::new(), 0);
        let rows = u32::try_from(SECTION_ROWS).unwrap_or(u32::MAX);
        let end = u32::try_from(self.height).unwrap_or(u32::MAX);
        let ends = self.sections.iter().skip(1).copied().chain([end]);
        for (start, end) in self.sections.iter().copied().zip(ends) {
            if end.saturating_sub(top) > rows && start > top {
                breaks.push(start);
                top = start;
            }
        }
        breaks
    }
}

impl Stationery {
    /// Sets up paper, print titles, header and footer of a sheet.
    pub(super) fn dress(&self, sheet: &mut Worksheet, shape: &Shape) -> Result<(), XlsxError> {
        sheet.set_paper_size(match self.paper {
            Paper::Letter => 1,
            Paper::A4 => 9,
        });
        if shape.sections.is_empty() {
            Self::fit(sheet, shape)?;
        } else if shape.height <= ONE_PAGE {
            sheet.set_print_fit_to_pages(1, 1);
        } else {
            // As wide as the page; some programs pass over breaks then, and break where a page is full.
            sheet.set_print_fit_to_pages(1, 0);
            sheet.set_page_breaks(&shape.breaks())?;
        }
        if let Some((row, column)) = shape.area {
            sheet.set_print_area(0, 0, row, column)?;
        }
        sheet.set_hidden(shape.is_hidden);
        sheet.set_margins(0.5, 0.5, 0.75, 0.7, 0.3, 0.3);
        let name = shortened(&self.job, LONGEST - WARNING.len() - 20);
        sheet.set_header(format!("&L{WARNING}&R{name}"));
        let estimate = shortened(&self.estimate, LONGEST - 40);
        sheet.set_footer(format!("&L{estimate}&C&A&RPage &P of &N"));
        if let Some(row) = shape.head {
            sheet.set_freeze_panes(row.saturating_add(1), shape.held)?;
            sheet.set_repeat_rows(row, row)?;
        }
        Ok(())
    }

    /// As many pages wide as keep it readable, as long as it takes.
    fn fit(sheet: &mut Worksheet, shape: &Shape) -> Result<(), XlsxError> {
        if shape.lies() {
            sheet.set_landscape();
        }
        let most = if shape.is_aside { ASIDE } else { ON_ITS_SIDE };
        let across = shape.width.div_ceil(most).clamp(1, 4);
        sheet.set_print_fit_to_pages(u16::try_from(across).unwrap_or(1), 0);
        if across > 1 {
            sheet.set_repeat_columns(0, 0)?;
        }
        Ok(())
    }
}

/// Text for a header or footer: `&` starts a code there and is doubled, and a code that a digit
/// follows would be read as a font size, so a space stands in front.
fn shortened(text: &str, most: usize) -> String {
    let mut out = String::from(if text.starts_with(|c: char| c.is_ascii_digit()) {
        " "
    } else {
        ""
    });
    for c in text.chars().filter(|c| !c.is_control()) {
        let more = if c == '&' { 2 } else { c.len_utf16() };
        if out.encode_utf16().count() + more > most {
            break;
        }
        out.push(c);
        if c == '&' {
            out.push('&');
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_sheet_stands_upright_where_that_still_reads_well() {
        let lies = |width, height| {
            let shape = Shape {
                width,
                height,
                ..Shape::default()
            };
            shape.lies()
        };
        assert!(!lies(110, 5) && lies(111, 5));
        // 34 rows of 137 characters: a page that is 180 wide is 34 x 180 / 137 = 44 rows tall.
        assert!(lies(180, 44) && !lies(180, 45));
        assert!(lies(200, 400), "too small to read upright");
    }

    #[test]
    fn no_section_is_torn_that_fits_on_a_page() {
        let shape = Shape {
            height: 200,
            sections: vec![0, 30, 50, 70, 180],
            ..Shape::default()
        };
        // 60 rows a page: 50 to 70 would end past row 60; 70 to 180 is longer than a page and starts
        // one; from there on 180 to 200 is past its end.
        assert_eq!(shape.breaks(), [50, 70, 180]);
    }

    #[test]
    fn an_ampersand_in_a_job_name_is_not_a_code() {
        assert_eq!(shortened("Smith & Sons", 100), "Smith && Sons");
        assert_eq!(shortened("9 beds", 100), " 9 beds");
        assert_eq!(shortened("a&&&&", 4), "a&&");
    }
}
