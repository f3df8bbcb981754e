//! How much room the tables of an OpenDocument spreadsheet would take: the library lays them out
//! dense, from their first cell to their last, so that one stray cell far off can fill the memory.

/// Cells that the tables of one file may take when laid out.
pub(super) const MOST_LAID_OUT: u64 = 10_000_000;

/// The cells that the greatest table takes, by its XML; every row that is listed counts as wide as it
/// is, and all together as one block.
pub(super) fn laid_out(xml: &str) -> u64 {
    let mut walk = Walk::default();
    for tag in xml.split('<').skip(1) {
        walk.take(tag);
        if walk.greatest > MOST_LAID_OUT {
            break;
        }
    }
    walk.greatest
}

/// One table being walked through.
#[derive(Default)]
struct Walk {
    /// Rows above, with repeats.
    rows: u64,
    /// Repeats of this row.
    repeats: u64,
    /// Columns before the next cell of this row.
    column: u64,
    /// Columns of this row up to its last cell with something in it.
    filled: u64,
    /// First row with something in it, and the widest so far.
    first: Option<u64>,
    widest: u64,
    /// Cells of the rows as listed.
    listed: u64,
    greatest: u64,
}

impl Walk {
    fn take(&mut self, tag: &str) {
        let name = tag.split([' ', '>', '/', '\t', '\r', '\n']).next();
        match name {
            Some("table:table") => {
                *self = Self {
                    greatest: self.greatest,
                    ..Self::default()
                }
            }
            Some("table:table-row") => {
                self.end_row();
                self.repeats = repeated(tag, "table:number-rows-repeated=");
            }
            Some("table:table-cell" | "table:covered-table-cell") => {
                let repeats = repeated(tag, "table:number-columns-repeated=");
                self.column = self.column.saturating_add(repeats);
                let inside = tag.split_once('>').map_or(tag, |(inside, _)| inside);
                if !inside.ends_with('/') || inside.contains("office:value") {
                    self.filled = self.column;
                }
            }
            _ if tag.starts_with("/table:table>") => self.end_row(),
            _ => {}
        }
    }

    fn end_row(&mut self) {
        if self.filled > 0 {
            let first = *self.first.get_or_insert(self.rows);
            self.widest = self.widest.max(self.filled);
            self.listed = self.listed.saturating_add(self.filled);
            let last = self.rows.saturating_add(self.repeats);
            let block = last.saturating_sub(first).saturating_mul(self.widest);
            self.greatest = self.greatest.max(block).max(self.listed);
        }
        self.rows = self.rows.saturating_add(self.repeats);
        (self.repeats, self.column, self.filled) = (0, 0, 0);
    }
}

fn repeated(tag: &str, attribute: &str) -> u64 {
    let written = tag.split_once(attribute).map(|(_, rest)| rest);
    let digits = written.and_then(|rest| rest.get(1..)?.split(['"', '\'']).next());
    digits.and_then(|digits| digits.parse().ok()).unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(rows: &str, expected: u64) {
        let xml = format!("<table:table table:name=\"Beds\">{rows}</table:table>");
        assert_eq!(laid_out(&xml), expected);
    }

    const CELL: &str =
        "<table:table-cell office:value-type=\"string\"><text:p>A</text:p></table:table-cell>";

    #[test]
    fn a_table_is_as_large_as_the_block_of_its_filled_cells() {
        check(
            &format!("<table:table-row>{CELL}{CELL}</table:table-row>"),
            2,
        );
        // Rows that are empty to the end of the sheet count for nothing.
        check(
            &format!(
                "<table:table-row table:number-rows-repeated=\"3\"><table:table-cell/></table:table-row>\
                 <table:table-row>{CELL}</table:table-row>\
                 <table:table-row table:number-rows-repeated=\"1048572\">\
                 <table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>"
            ),
            1,
        );
        // From row 1 to row 1,000, three columns wide.
        check(
            &format!(
                "<table:table-row>{CELL}</table:table-row>\
                 <table:table-row table:number-rows-repeated='998'><table:table-cell/></table:table-row>\
                 <table:table-row><table:table-cell table:number-columns-repeated='2'/>{CELL}</table:table-row>"
            ),
            3_000,
        );
    }
}
