//! Where everything stands in the workbook: sheets, blocks, columns.
//!
//! Longer than most because the plan of sheets, blocks and columns is one.

use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::price::ledger::{Block, Column, Ledger, Rank, Role};
use crate::price::term::ColRef;

/// Rows of a sheet.
pub const MOST_ROWS: u32 = 1_048_576;
/// Characters of a sheet's name.
const LONGEST_NAME: usize = 31;
/// Rows left free between two blocks.
pub(super) const GAP: u32 = 2;

/// The sheet that shows the price first.
pub const SUMMARY: &str = "Summary";
/// The sheet of quantities.
pub const TAKE_OFF: &str = "Take-off";
/// The sheet of sticks and pieces.
pub const CUT_LIST: &str = "Cut list";
/// The sheet of days.
pub const SCHEDULE: &str = "Schedule";
/// The sheet of what the alternates come to; `Alternates` is the input.
pub const ALTERNATES: &str = "Add or deduct";
/// The sheet of what each bed carries.
pub const SHARES: &str = "Shares";
/// The sheet of what the job did not say.
pub const ASSUMPTIONS: &str = "Assumptions";
/// The sheet of live checks and messages.
pub const CHECKS: &str = "Checks";
/// The sheet that keeps what the estimate rested on.
pub const BASIS: &str = "Basis";

/// The sheet that keeps what was chosen.
pub const CHOICES: &str = "Choices";

/// Sheets of the estimate in their order; the input sheets, [`BASIS`] and [`CHOICES`] follow.
const ORDER: [&str; 13] = [
    SUMMARY,
    "Beds",
    TAKE_OFF,
    "Orders",
    CUT_LIST,
    "Hours",
    SCHEDULE,
    "Price",
    ALTERNATES,
    "Budget",
    SHARES,
    ASSUMPTIONS,
    CHECKS,
];

/// What a sheet holds beside the blocks of the ledger.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Pages that the writer fills from the results: their own title is part of them.
    Own(&'static str),
    /// Blocks of the ledger under a title.
    Figures,
    /// An input sheet as a block of the ledger: its header stands in the first row.
    Input,
    /// An input sheet as it was read.
    Echo,
}

/// One sheet.
#[derive(Clone, Debug)]
pub struct SheetPlan {
    /// Its name, unlike any other's.
    pub name: String,
    /// What it holds.
    pub purpose: Purpose,
    /// Blocks of the ledger from the top, as indices.
    pub blocks: Vec<u16>,
    /// Tables of the input from the top, as indices.
    pub tables: Vec<usize>,
    /// First row below the blocks, with the gap.
    pub free: u32,
}

/// Where a block stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Its sheet, as an index.
    pub sheet: usize,
    /// Row of its heading.
    pub heading: Option<u32>,
    /// Row of its headers.
    pub header: u32,
    /// Its first row.
    pub first: u32,
    /// How many of its rows are on the sheet.
    pub rows: usize,
    /// Whether rows are missing because the sheet is full.
    pub cut: bool,
    /// Position of each of its columns.
    pub columns: Vec<u16>,
    /// How many positions from the left are for reading, as on the other blocks of its sheet; columns
    /// behind them are for formulas.
    pub readable: u16,
}

/// The plan of the workbook.
#[derive(Clone, Debug, Default)]
pub struct Layout {
    /// Sheets in their order.
    pub sheets: Vec<SheetPlan>,
    placed: Vec<Option<Placed>>,
}

impl Layout {
    /// Plans the sheets of a ledger, of the input tables that no block stands for, and of the pages
    /// named in `own`.
    pub fn plan(ledger: &Ledger, sources: &Sources, own: &[&'static str]) -> Self {
        let mut layout = Self {
            sheets: Vec::new(),
            placed: vec![None; ledger.blocks.len()],
        };
        let mut names: Vec<&'static str> = own.to_vec();
        names.extend(ledger.blocks.iter().map(|b| b.sheet));
        for name in in_order(&names) {
            layout.add_sheets(name, ledger, own);
        }
        layout.add_echoes(ledger, sources);
        layout.sort();
        layout
    }

    /// Where a block stands.
    pub fn placed(&self, block: u16) -> Option<&Placed> {
        self.placed.get(usize::from(block))?.as_ref()
    }

    /// Row and column of a cell of a block, when it is on its sheet.
    pub fn find(&self, col: ColRef, row: usize) -> Option<(u32, u16)> {
        let placed = self.placed(col.block)?;
        let column = *placed.columns.get(usize::from(col.column))?;
        if row >= placed.rows {
            return None;
        }
        let row = placed.first.checked_add(u32::try_from(row).ok()?)?;
        Some((row, column))
    }

    /// A page by its name.
    pub fn own(&self, page: &str) -> Option<&SheetPlan> {
        self.sheets
            .iter()
            .find(|s| matches!(s.purpose, Purpose::Own(name) if name == page))
    }

    /// Puts every block of the sheet `name` on as many sheets as it takes.
    fn add_sheets(&mut self, name: &'static str, ledger: &Ledger, own: &[&'static str]) {
        let input = is_input(name);
        let purpose = if own.contains(&name) {
            Purpose::Own(name)
        } else if input {
            Purpose::Input
        } else {
            Purpose::Figures
        };
        let mut sheet = self.open(name, purpose);
        let together = Reading::of(ledger.blocks.iter().filter(|b| b.sheet == name));
        let blocks = ledger.blocks.iter().enumerate();
        for (index, block) in blocks.filter(|(_, b)| b.sheet == name) {
            let Some(plan) = self.sheets.get(sheet) else {
                return;
            };
            // A second block below input rows would be read back as input.
            let second_input = plan.purpose == Purpose::Input && !plan.blocks.is_empty();
            let alone = matches!(plan.purpose, Purpose::Own(SUMMARY | BASIS));
            let full = u64::from(plan.free) + rows_with_heads(block) > u64::from(MOST_ROWS);
            if alone || second_input || (full && !plan.blocks.is_empty()) {
                sheet = self.open(name, Purpose::Figures);
            }
            // Input sheets hold one block each.
            let reading = if input {
                Reading::of([block])
            } else {
                together
            };
            self.place(sheet, index, block, reading);
        }
    }

    fn open(&mut self, name: &str, purpose: Purpose) -> usize {
        let taken = |name: &str| {
            self.sheets
                .iter()
                .any(|s| s.name.to_lowercase() == name.to_lowercase())
        };
        self.sheets.push(SheetPlan {
            name: sheet_name(name, taken),
            purpose,
            blocks: Vec::new(),
            tables: Vec::new(),
            // A title and the line below it, except where the header must stand first.
            free: match purpose {
                Purpose::Figures | Purpose::Own(_) => 3,
                Purpose::Input | Purpose::Echo => 0,
            },
        });
        self.sheets.len() - 1
    }

    fn place(&mut self, sheet: usize, index: usize, block: &Block, reading: Reading) {
        let Some(plan) = self.sheets.get_mut(sheet) else {
            return;
        };
        let mut row = plan.free;
        let heading = (!block.heading.is_empty() && plan.purpose != Purpose::Input).then(|| {
            row += 1;
            row - 1
        });
        let first = row + 1;
        // The last row of a full sheet says that there is more.
        let room = MOST_ROWS.saturating_sub(first);
        let room = usize::try_from(room).unwrap_or(usize::MAX);
        let cut = block.rows > room;
        let rows = if cut { room - 1 } else { block.rows };
        plan.free = u32::try_from(rows)
            .unwrap_or(MOST_ROWS)
            .saturating_add(first)
            .saturating_add(GAP);
        plan.blocks.push(u16::try_from(index).unwrap_or(u16::MAX));
        if let Some(slot) = self.placed.get_mut(index) {
            *slot = Some(Placed {
                sheet,
                heading,
                header: row,
                first,
                rows,
                cut,
                columns: positions(block, reading),
                readable: u16::try_from(reading.width()).unwrap_or(u16::MAX),
            });
        }
    }

    /// Input tables that were recognised and that no block stands for are shown as they were read.
    fn add_echoes(&mut self, ledger: &Ledger, sources: &Sources) {
        for sheet in Sheet::ALL {
            if ledger.blocks.iter().any(|b| b.sheet == sheet.title()) {
                continue;
            }
            let tables = sources.of(sheet).map(|(index, _)| usize::from(index));
            for table in tables {
                let at = self.open(sheet.title(), Purpose::Echo);
                if let Some(plan) = self.sheets.get_mut(at) {
                    plan.tables.push(table);
                }
            }
        }
    }

    /// Brings the sheets into their final order and mends the indices of the blocks.
    fn sort(&mut self) {
        let mut order: Vec<usize> = (0..self.sheets.len()).collect();
        order.sort_by_key(|i| self.sheets.get(*i).map_or(usize::MAX, |s| rank(&s.name)));
        for placed in self.placed.iter_mut().flatten() {
            placed.sheet = order
                .iter()
                .position(|old| *old == placed.sheet)
                .unwrap_or(placed.sheet);
        }
        self.sheets = order
            .iter()
            .filter_map(|old| self.sheets.get(*old).cloned())
            .collect();
    }
}

/// Whether a sheet of this name is read back as input.
pub fn is_input(name: &str) -> bool {
    Sheet::ALL.iter().any(|sheet| sheet.title() == name)
}

fn in_order(names: &[&'static str]) -> Vec<&'static str> {
    let mut list: Vec<&'static str> = Vec::new();
    for name in names {
        if !list.contains(name) {
            list.push(name);
        }
    }
    list
}

/// Estimate sheets, then ledger sheets that no order names, then input sheets, then the basis.
/// `Beds 2` stands where `Beds` does; the sort is stable.
fn rank(name: &str) -> usize {
    let stem = name
        .rsplit_once(' ')
        .filter(|(_, tail)| tail.chars().all(|c| c.is_ascii_digit()))
        .map_or(name, |(stem, _)| stem);
    if stem == BASIS {
        return 1_000;
    }
    if stem == CHOICES {
        return 1_001;
    }
    if let Some(place) = ORDER.iter().position(|o| *o == stem) {
        return place * 2;
    }
    let input = Sheet::ALL.iter().position(|s| s.title() == stem);
    // Unnamed ledger sheets come between the shares and the assumptions.
    input.map_or(15, |place| 100 + place)
}

/// How many columns are for reading on a sheet: its blocks stand below each other, so that long words
/// begin at the same place in all of them and have room there.
#[derive(Clone, Copy)]
struct Reading {
    first: usize,
    last: usize,
}

impl Reading {
    fn of<'b>(blocks: impl IntoIterator<Item = &'b Block>) -> Self {
        let mut most = Self { first: 0, last: 0 };
        for block in blocks {
            most.first = most.first.max(ranked(block, Rank::First));
            most.last = most.last.max(ranked(block, Rank::Last));
        }
        most
    }

    fn width(self) -> usize {
        self.first + self.last
    }
}

fn is_running(column: &Column) -> bool {
    matches!(column.role, Role::Running(_))
}

fn ranked(block: &Block, rank: Rank) -> usize {
    let columns = block.columns.iter();
    columns.filter(|c| c.rank == rank && !is_running(c)).count()
}

/// Columns from the left by their rank, then a free one, then running totals.
fn positions(block: &Block, reading: Reading) -> Vec<u16> {
    let behind = reading.width();
    let right = behind + ranked(block, Rank::Behind) + 1;
    let (mut first, mut last, mut behind, mut right) = (
        0..reading.first,
        reading.first..behind,
        behind..right,
        right..,
    );
    let places = block.columns.iter().map(|column| {
        let place = match column.rank {
            _ if is_running(column) => right.next(),
            Rank::First => first.next(),
            Rank::Last => last.next(),
            Rank::Behind => behind.next(),
        };
        place
            .and_then(|p| u16::try_from(p).ok())
            .unwrap_or(u16::MAX)
    });
    places.collect()
}

fn rows_with_heads(block: &Block) -> u64 {
    u64::try_from(block.rows)
        .unwrap_or(u64::MAX)
        .saturating_add(2)
}

/// A name that spreadsheet programs take: no forbidden character, at most 31, unlike the others.
pub fn sheet_name(wanted: &str, taken: impl Fn(&str) -> bool) -> String {
    let clean: String = wanted
        .chars()
        .map(|c| match c {
            '[' | ']' | ':' | '*' | '?' | '/' | '\\' => '-',
            c if c.is_control() => '-',
            c => c,
        })
        .collect();
    let clean = clean.trim_matches(|c: char| c == '\'' || c.is_whitespace());
    let clean = if clean.is_empty() { "Sheet" } else { clean };
    let first = shortened(clean, LONGEST_NAME);
    if !taken(&first) {
        return first;
    }
    let mut number: u32 = 2;
    loop {
        let tail = format!(" {number}");
        let name = shortened(clean, LONGEST_NAME - tail.len()) + &tail;
        if !taken(&name) || number == u32::MAX {
            return name;
        }
        number += 1;
    }
}

/// The first characters of `text`; spreadsheet programs count them as UTF-16 does.
fn shortened(text: &str, most: usize) -> String {
    let mut length = 0;
    let fitting = text.chars().take_while(|c| {
        length += c.len_utf16();
        length <= most
    });
    fitting.collect::<String>().trim_end().to_owned()
}

#[cfg(test)]
mod tests;
