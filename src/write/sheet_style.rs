//! Paper, print titles, headers and footers.

use rust_xlsxwriter::{Worksheet, XlsxError};

use crate::model::settings::Paper;

/// What every printed page of the workbook says.
const WARNING: &str = "OWNER COPY: shows cost and markup";
/// Most characters of a page header or footer.
const LONGEST: usize = 255;
/// Characters that fit across an upright page in a readable size.
const UPRIGHT: usize = 110;
/// The same across a page on its side; wider sheets go over several pages.
const ON_ITS_SIDE: usize = 190;

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
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Shape {
    /// Characters across all columns.
    pub(super) width: usize,
    /// Last row and column that are printed, when not all are.
    pub(super) area: Option<(u32, u16)>,
    /// Whether the sheet is out of sight until somebody unhides it.
    pub(super) is_hidden: bool,
    /// The header row that stays in view and repeats on each page.
    pub(super) head: Option<u32>,
    /// Columns that stay in view.
    pub(super) held: u16,
}

impl Stationery {
    /// Sets up paper, print titles, header and footer of a sheet.
    pub(super) fn dress(&self, sheet: &mut Worksheet, shape: Shape) -> Result<(), XlsxError> {
        sheet.set_paper_size(match self.paper {
            Paper::Letter => 1,
            Paper::A4 => 9,
        });
        if shape.width > UPRIGHT {
            sheet.set_landscape();
        }
        // As many pages wide as keep it readable, as long as it takes.
        let across = shape.width.div_ceil(ON_ITS_SIDE).clamp(1, 4);
        sheet.set_print_fit_to_pages(u16::try_from(across).unwrap_or(1), 0);
        if across > 1 {
            sheet.set_repeat_columns(0, 0)?;
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
    fn an_ampersand_in_a_job_name_is_not_a_code() {
        assert_eq!(shortened("Smith & Sons", 100), "Smith && Sons");
        assert_eq!(shortened("9 beds", 100), " 9 beds");
        assert_eq!(shortened("a&&&&", 4), "a&&");
    }
}
