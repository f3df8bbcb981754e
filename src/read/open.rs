//! Opening a job, whatever its form.

use std::collections::BTreeSet;
use std::path::PathBuf;

use super::files;
use super::gather::Gathered;
use crate::model::choices::Choice;
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::problem::Staged;
use crate::units::parse::{Commas, DateOrder, Unit};
use crate::units::{Currency, System};

/// Where a job is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// A workbook, a folder of CSV files, or one CSV file of beds.
    Path(PathBuf),
    /// Two CSV files.
    Files {
        /// The beds.
        beds: PathBuf,
        /// The prices.
        prices: Option<PathBuf>,
    },
    /// CSV text of beds, as from standard input.
    Text {
        /// What to call it in places.
        name: String,
        /// Its bytes.
        text: Vec<u8>,
    },
}

/// The tables of a job, and what is known about how they were written.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The tables.
    pub sources: Sources,
    /// What commas mean in the text numbers of the job, when all its files agree.
    pub decimal_comma: Commas,
    /// The system of units: as `Units` on the `Job` sheet says, else the one that most headers and
    /// cells use. It decides what a `ton` is and what hints look like.
    pub system: System,
    /// The currency: as `Currency` on the `Job` sheet says, else the one that the signs of most sums
    /// name; `None` when nothing says one.
    pub currency: Option<Currency>,
    /// What was chosen, when the source is an estimate of this program that keeps its choices.
    pub choices: Option<Vec<Choice>>,
    /// By table.
    pub(crate) ways: Vec<Way>,
    /// Names of beds that were left out because something is wrong in them: what points at one of them is right.
    pub(crate) beds_left_out: Vec<String>,
}

/// How one table was written.
#[derive(Clone, Debug, Default)]
pub(crate) struct Way {
    /// The unit in each column's header.
    pub(crate) units: Vec<Option<Unit>>,
    /// What commas mean here.
    pub(crate) commas: Commas,
    /// Which number of a date such as `3/4/2026` is the month here.
    pub(crate) dates: DateOrder,
    /// Rows of an estimate that the program filled in for want of a word in the job.
    pub(crate) filled_in: BTreeSet<u32>,
    /// Whether a number may show as a percentage without our knowing, as in formats whose cell
    /// formats are not read.
    pub(crate) formats_unknown: bool,
    /// Cells (row, position of the column) that were reported at reading and hold nothing usable.
    pub(crate) spoilt: BTreeSet<(u32, usize)>,
}

/// Reads all tables of a job. `None` when nothing in the source can be read as one.
pub fn open(source: &Source) -> Staged<Option<Opened>> {
    let mut gathered = Gathered::default();
    match source {
        Source::Path(path) if path.is_dir() => files::folder(path, &mut gathered),
        Source::Path(path) => files::file(path, &mut gathered),
        Source::Files { beds, prices } => {
            files::text_file(beds, Sheet::Beds, &mut gathered);
            if let Some(prices) = prices {
                files::text_file(prices, Sheet::Prices, &mut gathered);
            }
        }
        Source::Text { name, text } => files::text(name, text, Sheet::Beds, &mut gathered),
    }
    gathered.finish()
}
