//! What may stand on the command line.
//!
//! Longer than most because every command and option stands here once, with its words of help.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum, value_parser};
use clap_complete::Shell;
use jiff::civil::Date;

use super::help::{
    CHANGES_EXAMPLES, CHECK_EXAMPLES, COMPLETIONS_EXAMPLES, DEFAULTS_EXAMPLES, ESTIMATE_EXAMPLES,
    EXAMPLES, EXPLAIN_EXAMPLES, MANUAL_EXAMPLES, RANGES_EXAMPLES, START_EXAMPLES, STRETCH_EXAMPLES,
    SUPPLIERS_EXAMPLES,
};

/// The command line.
#[derive(Debug, Parser)]
#[command(
    name = "loamwright",
    version,
    about = "From a list of raised garden beds and prices to an estimate that holds",
    after_help = EXAMPLES,
    args_conflicts_with_subcommands = true,
    max_term_width = 80
)]
pub struct Args {
    /// The command; without one, a job is estimated.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// What plain `loamwright JOB` takes.
    #[command(flatten)]
    pub plain: EstimateArgs,
}

/// One command.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a new job file with an example to type over
    #[command(after_help = START_EXAMPLES)]
    Start(StartArgs),
    /// Price a job: writes the workbook and the JSON, prints a summary
    #[command(after_help = ESTIMATE_EXAMPLES)]
    Estimate(EstimateArgs),
    /// Tell every problem and caution of a job; writes nothing, or a marked copy
    #[command(after_help = CHECK_EXAMPLES)]
    Check(CheckArgs),
    /// Tell how a figure came about, step by step, back to cells and typical figures
    #[command(after_help = EXPLAIN_EXAMPLES)]
    Explain(ExplainArgs),
    /// Tell how far cost and price may lie, and which figures to pin down first
    #[command(after_help = RANGES_EXAMPLES)]
    Ranges(RangesArgs),
    /// Compare suppliers at landed cost: who for what, how many of them, bags or bulk
    #[command(after_help = SUPPLIERS_EXAMPLES)]
    Suppliers(SuppliersArgs),
    /// Tell how many beds a sum of money builds, by Priority, and what the next one adds
    #[command(after_help = STRETCH_EXAMPLES)]
    Stretch(StretchArgs),
    /// Compare two jobs or estimates: beds, quantities, money; a change order for
    /// the client
    #[command(after_help = CHANGES_EXAMPLES)]
    Changes(ChangesArgs),
    /// Print the JSON schema of estimate.json
    Schema,
    /// Show or export the trade library: what a job falls back on
    #[command(after_help = DEFAULTS_EXAMPLES)]
    Defaults(DefaultsArgs),
    /// Print the script by which a shell completes commands and options
    #[command(after_help = COMPLETIONS_EXAMPLES)]
    Completions {
        /// The shell
        #[arg(value_enum)]
        shell: Shell,
    },
    /// Print the manual page of the program or of a command
    #[command(after_help = MANUAL_EXAMPLES)]
    Manual(ManualArgs),
}

/// Arguments of `start`.
#[derive(Debug, ClapArgs)]
pub struct StartArgs {
    /// The new workbook, ending in .xlsx; with --csv, the new folder
    #[arg(value_name = "NEW")]
    pub new: PathBuf,
    /// What the job file is for
    #[arg(long = "for", value_name = "WHAT", value_enum, default_value_t)]
    pub purpose: StartFor,
    /// Units of its sizes and packs
    #[arg(long, value_name = "UNITS", value_enum, default_value_t)]
    pub units: StartUnits,
    /// Make a folder of CSV files instead of a workbook
    #[arg(long)]
    pub csv: bool,
    /// Hide everything but errors
    #[arg(long, short)]
    pub quiet: bool,
}

/// What a new job file is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum StartFor {
    /// A price for a client
    #[default]
    Quote,
    /// A budget with volunteers and donated goods
    Grant,
    /// The prices of several suppliers for one list of beds
    Suppliers,
}

/// Units of a new job file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum StartUnits {
    /// Feet, inches, cubic yards, pounds
    #[default]
    Us,
    /// Metres, millimetres, cubic metres, kilograms
    Metric,
}

/// Arguments of `estimate`.
#[derive(Debug, ClapArgs)]
pub struct EstimateArgs {
    /// The job.
    #[command(flatten)]
    pub job: JobArgs,
    /// Folder for the outputs [default: "JOB NAME-estimate" beside the job]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Price what is good, leave out beds and prices with errors, and say so loudly
    #[arg(long, conflicts_with = "hold")]
    pub partial: bool,
    /// Replace outputs that you changed or that this program did not write
    #[arg(long)]
    pub force: bool,
    /// Write only these outputs, and leave others that are there alone
    #[arg(long, value_name = "OUTPUT", value_enum, value_delimiter = ',', num_args = 1..)]
    pub only: Vec<Output>,
    /// Folder with your logo.svg, colour.txt, terms.txt and templates for the PDFs
    #[arg(long, value_name = "DIR")]
    pub letterhead: Option<PathBuf>,
    /// Estimate again whenever the job is saved, and tell what moved
    #[arg(long, conflicts_with = "json")]
    pub watch: bool,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// An output of an estimate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Output {
    /// The priced workbook
    Workbook,
    /// The estimate as JSON
    Json,
    /// The client's summary, page of text and JSON
    Client,
    /// Sheets for the crew
    Crew,
    /// An order for each supplier, price requests, names to review
    Orders,
    /// The budget for funders
    Budget,
    /// Orders, deliveries and visits as a calendar file; when a site has a First day
    Calendar,
    /// A plan and a section of each kind of bed, as SVG; written only when asked
    Drawings,
}

/// Arguments of `check`.
#[derive(Debug, ClapArgs)]
pub struct CheckArgs {
    /// The job.
    #[command(flatten)]
    pub job: JobArgs,
    /// Write a copy of the job with each problem's cell coloured and noted
    /// [default: "JOB - marked.xlsx" beside the job]
    #[arg(long, value_name = "FILE", num_args = 0..=1, require_equals = true)]
    pub mark: Option<Option<PathBuf>>,
    /// Replace a marked copy that you changed, or a file that is not ours
    #[arg(long, requires = "mark")]
    pub force: bool,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// Arguments of `explain`.
#[derive(Debug, ClapArgs)]
pub struct ExplainArgs {
    /// Workbook or folder of CSV files
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// A line of the price, a bed, goods or a task, by its name
    #[arg(value_name = "WHAT", required = true, num_args = 1..)]
    pub what: Vec<String>,
    /// Date of the estimate; wins over the Job sheet
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = civil_date)]
    pub date: Option<Date>,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

impl ExplainArgs {
    /// The job as other commands take it.
    pub fn job(&self) -> JobArgs {
        JobArgs {
            job: Some(self.job.clone()),
            beds: None,
            prices: None,
            date: self.date,
            hold: false,
            strict: false,
        }
    }
}

/// Arguments of `ranges`.
#[derive(Debug, ClapArgs)]
pub struct RangesArgs {
    /// The job.
    #[command(flatten)]
    pub job: JobArgs,
    /// How often the job is priced with drawn figures
    #[arg(long, value_name = "N", default_value_t = 10_000, value_parser = value_parser!(u32).range(100..=1_000_000))]
    pub runs: u32,
    /// Which draws; the same seed gives the same figures
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// Arguments of `suppliers`.
#[derive(Debug, ClapArgs)]
pub struct SuppliersArgs {
    /// The job.
    #[command(flatten)]
    pub job: JobArgs,
    /// How much more than the least a purchase from fewer suppliers may cost
    #[arg(long, value_name = "PERCENT", default_value = "3%")]
    pub within: String,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// Arguments of `stretch`.
#[derive(Debug, ClapArgs)]
pub struct StretchArgs {
    /// The job.
    #[command(flatten)]
    pub job: JobArgs,
    /// The sum of money, with tax, in the currency of the job
    #[arg(long, value_name = "SUM")]
    pub budget: String,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// Arguments of `changes`.
#[derive(Debug, ClapArgs)]
pub struct ChangesArgs {
    /// The job or estimate that was agreed
    #[arg(value_name = "BEFORE")]
    pub before: PathBuf,
    /// The job or estimate that shall take its place
    #[arg(value_name = "AFTER")]
    pub after: PathBuf,
    /// Date of both; wins over the Job sheets
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = civil_date)]
    pub date: Option<Date>,
    /// Write a change order for the client, as plain text
    #[arg(long, value_name = "FILE")]
    pub order: Option<PathBuf>,
    /// Number of the change order
    #[arg(long, value_name = "NUMBER", default_value = "1", requires = "order")]
    pub number: String,
    /// Its revision [default: Revision of AFTER]
    #[arg(long, value_name = "REVISION", requires = "order")]
    pub revision: Option<String>,
    /// Replace the file of --order when it is there already
    #[arg(long, requires = "order")]
    pub force: bool,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// Arguments of `defaults`.
#[derive(Debug, ClapArgs)]
pub struct DefaultsArgs {
    /// A table of the library
    #[arg(value_enum)]
    pub table: Option<LibraryTable>,
    /// Only rows that speak of this, each in full
    pub word: Option<String>,
    /// Only what this job takes from the library, and which of its cells override it
    #[arg(long, value_name = "JOB")]
    pub used: Option<PathBuf>,
    /// Print a table as CSV
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
    /// Print JSON
    #[arg(long, conflicts_with = "out")]
    pub json: bool,
    /// Write a file instead: a table as .csv, or all of them as .xlsx
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Replace the file of --out when it is there already
    #[arg(long, requires = "out")]
    pub force: bool,
}

/// A table of the trade library.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum LibraryTable {
    /// What materials weigh, how they settle, voids, waste, widths of rolls
    Materials,
    /// Sizes of lumber by their trade names
    Sections,
    /// True sizes and weights of blocks by their trade names
    Blocks,
    /// Person-hours for a unit of work
    Tasks,
    /// Barrows, days on site, volunteers, cutting, posts
    Figures,
    /// The least depth of soil that a crop needs
    Crops,
    /// What is warned of, and from which figure on
    Cautions,
}

impl LibraryTable {
    /// The table's name in the library.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Materials => "materials",
            Self::Sections => "sections",
            Self::Blocks => "blocks",
            Self::Tasks => "tasks",
            Self::Figures => "figures",
            Self::Crops => "crops",
            Self::Cautions => "cautions",
        }
    }
}

/// Arguments of `manual`.
#[derive(Debug, ClapArgs)]
pub struct ManualArgs {
    /// A command, as check; the whole program without one
    #[arg(value_name = "COMMAND")]
    pub command: Option<String>,
    /// Write every page, or that of COMMAND, into this folder
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// Where the job is and how it is taken.
#[derive(Debug, ClapArgs)]
pub struct JobArgs {
    /// Workbook, folder of CSV files, or - for beds as CSV on standard input
    #[arg(value_name = "JOB", conflicts_with_all = ["beds", "prices"])]
    pub job: Option<PathBuf>,
    /// CSV file of beds, instead of JOB
    #[arg(long, value_name = "FILE")]
    pub beds: Option<PathBuf>,
    /// CSV file of prices, beside --beds
    #[arg(long, value_name = "FILE", requires = "beds")]
    pub prices: Option<PathBuf>,
    /// Date of the estimate; wins over the Job sheet
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = civil_date)]
    pub date: Option<Date>,
    /// Keep suppliers, packs, vehicles and cuts of the estimate that is read
    #[arg(long)]
    pub hold: bool,
    /// Count cautions (not notices) as errors
    #[arg(long)]
    pub strict: bool,
}

/// How a command talks.
#[derive(Clone, Copy, Debug, ClapArgs)]
pub struct TalkArgs {
    /// Print JSON to standard output instead of text
    #[arg(long)]
    pub json: bool,
    /// Hide everything but errors (and what --json asks for)
    #[arg(long, short)]
    pub quiet: bool,
    /// Tell every problem in full on a terminal, not only what fits on the screen
    #[arg(long)]
    pub all: bool,
    /// When to colour headings and warnings; wins over `NO_COLOR` and
    /// `CLICOLOR_FORCE`
    #[arg(
        long,
        value_name = "WHEN",
        value_enum,
        default_value_t,
        help = "When to colour headings and warnings; wins over the variables\nNO_COLOR and CLICOLOR_FORCE"
    )]
    pub color: ColorWhen,
}

/// When to colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum ColorWhen {
    /// On a terminal that knows colours; `NO_COLOR` says never, `CLICOLOR_FORCE` always
    #[value(help = "On a terminal that knows colours; NO_COLOR says never, CLICOLOR_FORCE always")]
    #[default]
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

fn civil_date(text: &str) -> Result<Date, String> {
    let is_plain = text.len() == "2026-11-24".len();
    let parsed = text.parse().ok().filter(|_| is_plain);
    parsed.ok_or_else(|| "write the date as 2026-11-24".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::Exit;
    use crate::cli::help::FIRST_STEPS;
    use clap::CommandFactory;

    #[test]
    fn the_definition_holds_together() {
        Args::command().debug_assert();
    }

    #[test]
    fn the_help_tells_every_exit_code() {
        for exit in Exit::ALL {
            let line = format!("  {:<3} {}", exit.code(), exit.meaning());
            assert!(EXAMPLES.contains(&line), "{line}");
        }
    }

    #[test]
    fn texts_fit_the_screen() {
        for text in [
            FIRST_STEPS,
            EXAMPLES,
            ESTIMATE_EXAMPLES,
            CHANGES_EXAMPLES,
            CHECK_EXAMPLES,
            DEFAULTS_EXAMPLES,
            COMPLETIONS_EXAMPLES,
            MANUAL_EXAMPLES,
            RANGES_EXAMPLES,
            START_EXAMPLES,
            STRETCH_EXAMPLES,
            EXPLAIN_EXAMPLES,
            SUPPLIERS_EXAMPLES,
        ] {
            for line in text.lines() {
                assert!(line.chars().count() <= 80, "{line}");
            }
        }
    }

    #[test]
    fn a_date_is_written_in_one_way_only() {
        assert_eq!(civil_date("2026-11-24"), Ok(Date::constant(2026, 11, 24)));
        for wrong in [
            "24.11.2026",
            "2026-11-31",
            "2026-11-24T10:00",
            "tomorrow",
            "",
        ] {
            assert!(civil_date(wrong).is_err(), "{wrong}");
        }
    }
}
